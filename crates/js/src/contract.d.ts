// The contract of the module, made from the Rust structs by `cargo xtask bless`: read it, do not edit it.

/**
 * One shot on one lens.
 */
export type SetupRequest = { 
/**
 * The lens; a comparison takes it from the kit instead.
 */
lens?: LensRecord | null, 
/**
 * The recording mode; a comparison takes the kit's first if absent.
 */
recording?: RecordingRecord | null, 
/**
 * The adapter, if it is on.
 */
adapter?: AdapterRecord | null, 
/**
 * The frame that is delivered.
 */
delivery: DeliveryRequest, 
/**
 * Who the shot is of; needed for every size but an insert.
 */
subject?: SubjectRequest | null, 
/**
 * How much of them.
 */
shot_size: ShotSizeRequest, 
/**
 * The size of the object of an insert, 0.005 to 20 m.
 */
insert_size_m?: number | null, 
/**
 * The lens's height above the floor, 0 to 50 m; by the shot size if absent.
 */
camera_height_m?: number | null, 
/**
 * The lens's height in words, instead of `camera_height_m`.
 */
camera_height?: PhoneHeightRequest | null, 
/**
 * A fixed tilt, up positive, -89 to 89 degrees; aimed for the framing if absent.
 */
look_tilt_deg?: number | null, 
/**
 * A fixed distance along the floor, 0.02 to 10000 m; by the shot size if absent.
 */
stand_at_m?: number | null, 
/**
 * Where the subject stands across the frame, 0.05 to 0.95 from its left edge; 0.5 if absent.
 */
across_share?: number | null, 
/**
 * How far behind the subject the background is, 0 to 100000 m.
 */
background_behind_subject_m: number, 
/**
 * How far from the subject the phone can go, 0.1 to 100000 m.
 */
room_m?: number | null, };

/**
 * The frame that is delivered.
 */
export type DeliveryRequest = { 
/**
 * Its shape.
 */
aspect: number | string, 
/**
 * The share of its height above the crown, -2 to 0.8; negative crops hair; by the shot size if absent.
 */
headroom_share?: number | null, 
/**
 * A second shape that must hold the people too.
 */
protect_aspect?: number | string | null, 
/**
 * How far the crop is moved up, as a share of its room, -1 to 1; 0 if absent.
 */
crop_up_share?: number | null, 
/**
 * How far the crop is moved to the right, as a share of its room, -1 to 1; 0 if absent.
 */
crop_right_share?: number | null, };

/**
 * Who a shot is of.
 */
export type SubjectRequest = { 
/**
 * Height when standing, 0.4 to 2.8 m.
 */
stature_m: number, 
/**
 * How they hold themselves; standing if absent.
 */
posture?: PostureRequest | null, 
/**
 * Whose proportions they have; an adult's if absent.
 */
age?: AgeRequest | null, 
/**
 * Somebody else in the shot.
 */
second_person?: SecondPersonRequest | null, };

/**
 * Somebody else in the shot.
 */
export type SecondPersonRequest = { 
/**
 * Height when standing, 0.4 to 2.8 m; the first one's if absent.
 */
stature_m?: number | null, 
/**
 * How they hold themselves; standing if absent.
 */
posture?: PostureRequest | null, 
/**
 * Whose proportions they have; an adult's if absent.
 */
age?: AgeRequest | null, 
/**
 * Where they are; beside if absent.
 */
arrangement?: ArrangementRequest | null, 
/**
 * From the one to the other, 0.1 to 50 m; 0.7 m beside and 1.0 m over the shoulder if absent.
 */
apart_m?: number | null, };

/**
 * Where a second person is.
 */
export type ArrangementRequest = "beside" | "over_shoulder";

/**
 * How people hold themselves.
 */
export type PostureRequest = "standing" | "seated";

/**
 * Whose proportions people have.
 */
export type AgeRequest = "adult" | "child";

/**
 * Shot sizes, from far to near.
 */
export type ShotSizeRequest = "extreme_wide" | "wide" | "mid_thigh" | "medium" | "chest_up" | "tight" | "extreme_tight" | "insert";

/**
 * The lens's height in words.
 */
export type PhoneHeightRequest = "eyes" | "chest" | "waist" | "knee" | "ground" | "overhead";

/**
 * Where the phone stands and what follows. `null` where it cannot be told.
 */
export type SetupAnswer = { 
/**
 * From the phone to the subject along the floor.
 */
distance_m: number | null, 
/**
 * Its standard uncertainty, from the lens's and the body's.
 */
distance_sd_m: number | null, 
/**
 * The lens's height above the floor.
 */
camera_height_m: number, 
/**
 * The lens's tilt, up positive.
 */
tilt_deg: number | null, 
/**
 * Its standard uncertainty.
 */
tilt_sd_deg: number | null, 
/**
 * How far the subject stands to the right of straight ahead.
 */
subject_right_deg: number | null, 
/**
 * Axial focus distance: of the eyes where they are in the frame, else of the subject at the frame's centre.
 */
focus_m: number | null, 
/**
 * The delivered frame's full horizontal angle of view, focused there.
 */
horizontal_fov_deg: number | null, 
/**
 * Its standard uncertainty.
 */
horizontal_fov_sd_deg: number | null, 
/**
 * The delivered frame's full vertical angle of view, focused there.
 */
vertical_fov_deg: number | null, 
/**
 * Its standard uncertainty.
 */
vertical_fov_sd_deg: number | null, 
/**
 * The delivered frame's width in whole pixels.
 */
delivered_width_px: number, 
/**
 * The delivered frame's height in whole pixels.
 */
delivered_height_px: number, 
/**
 * Whether the delivered pixels were captured.
 */
pixels: PixelsAnswer, 
/**
 * The share of the desqueezed image that the crop gives up.
 */
crop_lost_share: number, 
/**
 * The 35 mm-equivalent of the recording: of its area's diagonal, before crop and adapter.
 */
focal_length_35mm_equivalent_mm: number, 
/**
 * What counts as sharp, on the sensor.
 */
circle_of_confusion_mm: number | null, 
/**
 * The nearest axial distance that is sharp.
 */
near_m: number | null, 
/**
 * Its standard uncertainty.
 */
near_sd_m: number | null, 
/**
 * The farthest axial distance that is sharp; null is infinity (where `near_m` is told).
 */
far_m: number | null, 
/**
 * The nearest focus distance that keeps infinity sharp.
 */
hyperfocal_m: number | null, 
/**
 * Height of the blur disc of a background point, in delivered pixels.
 */
background_blur_px: number | null, 
/**
 * Width of that disc, in delivered pixels.
 */
background_blur_width_px: number | null, 
/**
 * Its height over the delivered frame's.
 */
background_blur_share: number | null, 
/**
 * How soft the subject in focus stays along the adapter's axis, in delivered pixels; 0 without an adapter.
 */
subject_sideways_softness_px: number | null, 
/**
 * The focus distance from which the adapter leaves the subject sharp enough sideways.
 */
adapter_useful_from_m: number | null, 
/**
 * Diameter of the Airy disc on the sensor.
 */
airy_diameter_um: number | null, 
/**
 * How many times larger the nose's plane is drawn than the ears', less one.
 */
face_stretch_share: number | null, 
/**
 * How wide a strip of the background is seen.
 */
place_width_m: number | null, 
/**
 * How high above the floor the frame's lower edge meets the subject.
 */
cut_height_m: number | null, 
/**
 * The share of the frame's height above the crown; negative crops it.
 */
headroom_share: number | null, 
/**
 * What is the matter, and what would mend it.
 */
findings: Array<FindingAnswer>, };

/**
 * Whether delivered pixels were captured.
 */
export type PixelsAnswer = "captured" | "stretched_in_width" | "stretched_in_height";

/**
 * One finding.
 */
export type FindingAnswer = { 
/**
 * The rule's name.
 */
rule: string, 
/**
 * How bad it is.
 */
severity: SeverityAnswer, 
/**
 * What is the matter, with its numbers.
 */
message: string, 
/**
 * What would mend it.
 */
hint: string, };

/**
 * How bad a finding is.
 */
export type SeverityAnswer = "notes" | "warns" | "fails";

/**
 * What to sort a comparison by.
 */
export type CareRequest = "natural_face" | "soft_background" | "most_place" | "least_distance";

/**
 * One shot on every lens of a kit.
 */
export type CompareAnswer = { 
/**
 * The recording mode that they were compared in.
 */
recording: string, 
/**
 * The lenses: bare ones first and then each adapter, or as sorted.
 */
lenses: Array<ComparedLens>, };

/**
 * The shot on one lens.
 */
export type ComparedLens = { 
/**
 * The lens, by name.
 */
lens: string, 
/**
 * The zoom that reads only the middle of its sensor; 1 reads all of it.
 */
in_sensor_zoom: number, 
/**
 * The adapter, by name, if one is on.
 */
adapter: string | null, 
/**
 * Whether nothing stands in the way.
 */
will_do: boolean, 
/**
 * What stands in the way most, in a few words.
 */
reason: string | null, 
/**
 * Where the phone stands and what follows.
 */
setup: SetupAnswer, };

/**
 * A kit: lenses, recording modes, adapters and filters.
 */
export type KitRecord = { 
/**
 * The version of this file's format; 1.
 */
format_version?: number, 
/**
 * What the crew calls it.
 */
name?: string | null, 
/**
 * Where its values come from, in words.
 */
source?: string | null, 
/**
 * What the camera app lets them set.
 */
camera_app?: CameraAppRecord | null, 
/**
 * The phone's lenses.
 */
lenses: Array<LensRecord>, 
/**
 * The recording modes; the first is the one they mean to shoot.
 */
recordings?: Array<RecordingRecord>, 
/**
 * Clip-on adapters.
 */
adapters?: Array<AdapterRecord>, 
/**
 * Filters.
 */
filters?: Array<FilterRecord>, 
/**
 * What lenses were seen to hold in which mode.
 */
views?: Array<ViewRecord>, };

/**
 * What a camera app lets people set.
 */
export type CameraAppRecord = "nothing" | "lock_only" | "full_manual";

/**
 * One of the phone's lenses: focal length with sensor size, or with the 35 mm-equivalent, or that equivalent alone.
 */
export type LensRecord = { 
/**
 * What the crew calls it.
 */
name?: string | null, 
/**
 * Focal length, 0.1 to 2000 mm.
 */
focal_length_mm?: number | null, 
/**
 * Its standard uncertainty.
 */
focal_length_sd_mm?: number | null, 
/**
 * The 35 mm-equivalent of the whole still photo, digital zoom divided out.
 */
focal_length_35mm_equivalent_mm?: number | null, 
/**
 * f-number, 0.5 to 64.
 */
f_number?: number | null, 
/**
 * Width of the whole still photo on the sensor, phone held sideways; 0.2 to 100 mm.
 */
sensor_width_mm?: number | null, 
/**
 * Height of the whole still photo on the sensor, phone held sideways; 0.2 to 100 mm.
 */
sensor_height_mm?: number | null, 
/**
 * Standard uncertainty of the width.
 */
sensor_width_sd_mm?: number | null, 
/**
 * Width over height of the still photo, where only the equivalent is given; 4:3 if absent.
 */
sensor_aspect?: number | null, 
/**
 * The least distance at which it focuses.
 */
closest_focus_m?: number | null, 
/**
 * Zooms that read only the middle of the sensor, as factors above 1.
 */
in_sensor_zooms?: Array<number>, 
/**
 * Where the values come from; "typed" if absent.
 */
origin?: OriginRecord | null, };

/**
 * Where a value comes from.
 */
export type OriginRecord = "typical" | "file" | "typed" | "measured";

/**
 * One recording mode.
 */
export type RecordingRecord = { 
/**
 * What the crew calls it.
 */
name?: string | null, 
/**
 * Pixels along the rows, 16 to 20000; fewer than `height_px` is a phone held upright.
 */
width_px: number, 
/**
 * Pixels along the columns, 16 to 20000.
 */
height_px: number, 
/**
 * The frame rates that it offers, 1 to 1000 fps.
 */
frame_rates_fps?: Array<number>, 
/**
 * What the stabiliser takes from both sides, as a factor of 1 to 4; 1 if absent.
 */
stabiliser_crop?: number | null, 
/**
 * How many times smaller the middle of the sensor is that is read, 1 to 20; 1 if absent.
 */
in_sensor_zoom?: number | null, 
/**
 * The horizontal angle of view that this mode was seen to hold, without an adapter; 1 to 170 degrees.
 */
measured_horizontal_fov_deg?: number | null, 
/**
 * Its standard uncertainty.
 */
measured_horizontal_fov_sd_deg?: number | null, 
/**
 * The distance it was measured from.
 */
measured_at_m?: number | null, };

/**
 * One clip-on anamorphic adapter.
 */
export type AdapterRecord = { 
/**
 * What the crew calls it.
 */
name?: string | null, 
/**
 * Where its values come from, in words.
 */
source?: string | null, 
/**
 * How many times more it sees along its axis, 1 to 3.
 */
squeeze: number, 
/**
 * Whether it can be focused; false if absent.
 */
focusing?: boolean | null, 
/**
 * The light that it takes; 0 if absent.
 */
light_loss_stops?: number | null, 
/**
 * The image axis that it squeezes when the phone is upright; "width" if absent.
 */
axis_when_upright?: AxisRecord | null, 
/**
 * How the image is brought back to shape; "stretch" if absent.
 */
desqueeze?: DesqueezeRecord | null, 
/**
 * The lenses that it can be clipped before, by name; every lens if absent.
 */
fits?: Array<string> | null, 
/**
 * The lenses whose corners it darkens, by name.
 */
vignettes?: Array<string>, };

/**
 * The image axis that an adapter squeezes.
 */
export type AxisRecord = "width" | "height";

/**
 * How a squeezed image is brought back to shape.
 */
export type DesqueezeRecord = "stretch" | "shrink";

/**
 * One neutral density filter.
 */
export type FilterRecord = { 
/**
 * What the crew calls it.
 */
name?: string | null, 
/**
 * The light that it takes; the least of it, if it can be turned.
 */
stops: number, 
/**
 * The most light that it takes, if it can be turned.
 */
stops_most?: number | null, };

/**
 * What one lens was seen to hold in one mode, without an adapter.
 */
export type ViewRecord = { 
/**
 * The lens, by name.
 */
lens: string, 
/**
 * The recording mode, by name.
 */
recording: string, 
/**
 * The horizontal angle of view, 1 to 170 degrees.
 */
horizontal_fov_deg: number, 
/**
 * Its standard uncertainty.
 */
horizontal_fov_sd_deg?: number | null, 
/**
 * The distance it was measured from.
 */
at_m?: number | null, };
