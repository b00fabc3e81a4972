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
 * How high the lower edge of an insert's object is above the floor, 0 to 50 m: 0 on the ground, more in a hand or on
 * a piece of the set; on a table of its own, 0.75 m high, if absent.
 */
insert_above_floor_m?: number | null, 
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
room_m?: number | null, 
/**
 * Where focus is, axially from the lens, 0.02 to 100000 m; on the subject if absent.
 */
focus_at_m?: number | null, 
/**
 * How long each frame is exposed.
 */
shutter?: ShutterRequest | null, 
/**
 * What moves while the shot is taken; nothing if absent.
 */
take?: TakeRequest | null, 
/**
 * What surrounds the shot; a bare floor if absent.
 */
blocking?: BlockingRequest | null, };

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
apart_m?: number | null, 
/**
 * How much nearer to the phone than the first they stand, -50 to 50 m, negative farther; 0 if absent. Only beside.
 */
nearer_m?: number | null, };

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
 * How long each frame is exposed.
 */
export type ShutterRequest = { 
/**
 * Frames a second at capture, 23.976 to 240; 24 if absent.
 */
frame_rate_fps?: number | null, 
/**
 * The share of a frame's time that it is exposed, as the angle of a turning shutter, 1 to 360 degrees; 180 if absent.
 */
angle_deg?: number | null, };

/**
 * How a take goes: at most one of the four moves, and a focus pull.
 */
export type TakeRequest = { 
/**
 * How long it lasts, 0.1 to 600 s; 5 if absent.
 */
duration_s?: number | null, 
/**
 * The phone goes that far towards the subject in a second, -10 to 10 m; away from it if negative.
 */
push_m_per_s?: number | null, 
/**
 * The subject walks that far in a second, 0 to 10 m, the way it faces, and the phone goes along.
 */
follow_m_per_s?: number | null, 
/**
 * The phone turns that far to the right in a second, -360 to 360 degrees; to the left if negative.
 */
pan_deg_per_s?: number | null, 
/**
 * The phone turns that far up in a second, -360 to 360 degrees; down if negative.
 */
tilt_deg_per_s?: number | null, 
/**
 * Focus goes from one distance to another.
 */
pull?: PullRequest | null, };

/**
 * Focus going from one distance to another.
 */
export type PullRequest = { 
/**
 * Axial focus distance at first, 0.02 to 100000 m.
 */
from_m: number, 
/**
 * Axial focus distance at last, 0.02 to 100000 m.
 */
to_m: number, 
/**
 * When it starts, 0 to 600 s into the take; 0 if absent.
 */
starts_s?: number | null, 
/**
 * How long it takes, 0 to 600 s; 1 if absent.
 */
lasts_s?: number | null, };

/**
 * What surrounds a shot. The subject stands at the origin of the floor, x east and y north of it.
 */
export type BlockingRequest = { 
/**
 * The direction from the subject to the phone, clockwise from north, -360 to 360 degrees; 180 if absent.
 */
phone_bearing_deg?: number | null, 
/**
 * The direction that the subject faces, clockwise from north, -360 to 360 degrees; if absent the phone, or half
 * turned to a second person.
 */
facing_deg?: number | null, 
/**
 * Whether the subject walks, the way they face; false if absent.
 */
walking?: boolean | null, 
/**
 * How much of a double step the subject has done when the take starts, 0 to 1; 0 if absent. Only beside `walking`.
 */
step_share?: number | null, 
/**
 * Whether the second person walks, the way they face; false if absent.
 */
second_walking?: boolean | null, 
/**
 * How far those of the shot get in a second if they walk, 0.05 to 10 m; 1.4 if absent.
 */
pace_m_per_s?: number | null, 
/**
 * Where the second person stands, seen from the first; as the shot arranges them if absent.
 */
second?: SecondMarkRequest | null, 
/**
 * The colour of the subject's clothes, such as `#2f6f8f`.
 */
clothes?: string | null, 
/**
 * The colour of the second person's clothes.
 */
second_clothes?: string | null, 
/**
 * Other people, 20 at the most.
 */
people?: Array<PersonRequest>, 
/**
 * What the place is made of, 60 pieces at the most; posts across the frame at the background's distance if absent.
 */
pieces?: Array<PieceRequest>, 
/**
 * A piece near the lens at an edge of the frame.
 */
foreground?: ForegroundRequest | null, 
/**
 * Where the light comes from; a sun in the south-west if absent.
 */
light?: LightRequest | null, };

/**
 * Where the second person of a shot of two stands.
 */
export type SecondMarkRequest = { 
/**
 * How far east of the first they are, -1000 to 1000 m.
 */
x_m: number, 
/**
 * How far north of the first they are, -1000 to 1000 m.
 */
y_m: number, 
/**
 * The direction that they face, clockwise from north, -360 to 360 degrees.
 */
facing_deg: number, };

/**
 * Somebody else on the floor.
 */
export type PersonRequest = { 
/**
 * How far east of the subject they are, -1000 to 1000 m.
 */
x_m: number, 
/**
 * How far north of the subject they are, -1000 to 1000 m.
 */
y_m: number, 
/**
 * The direction that they face, clockwise from north, -360 to 360 degrees; that in which the phone is if absent.
 */
facing_deg?: number | null, 
/**
 * Height when standing, 0.4 to 2.8 m; 1.7 if absent.
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
 * Whether they walk, the way they face; false if absent.
 */
walking?: boolean | null, 
/**
 * How much of a double step they have done when the take starts, 0 to 1; 0 if absent. Only beside `walking`.
 */
step_share?: number | null, 
/**
 * The colour of their clothes, such as `#6f6a60`.
 */
clothes?: string | null, };

/**
 * A generic piece of a set.
 */
export type PieceRequest = { 
/**
 * What it is.
 */
kind: PieceWord, 
/**
 * How far east of the subject the middle of its foot is, -1000 to 1000 m.
 */
x_m: number, 
/**
 * How far north of the subject the middle of its foot is, -1000 to 1000 m.
 */
y_m: number, 
/**
 * The direction of its front, clockwise from north, -360 to 360 degrees; that in which the phone is if absent.
 */
facing_deg?: number | null, 
/**
 * Its size across its front, 0.02 to 200 m; the usual one of its kind if absent.
 */
width_m?: number | null, 
/**
 * Its size from front to back, 0.02 to 200 m; the usual one of its kind if absent.
 */
depth_m?: number | null, 
/**
 * Its height, 0.02 to 200 m; the usual one of its kind if absent.
 */
height_m?: number | null, };

/**
 * A piece near the lens.
 */
export type ForegroundRequest = { 
/**
 * What it is.
 */
kind: PieceWord, 
/**
 * How far ahead of the phone it stands, along the floor, 0.05 to 1000 m.
 */
ahead_m: number, 
/**
 * How far to the right of straight ahead, -1000 to 1000 m.
 */
right_m: number, };

/**
 * What a piece of a set is.
 */
export type PieceWord = "wall" | "window" | "doorway" | "table" | "bench" | "tree" | "hedge" | "car" | "lamp_post" | "lights" | "plant";

/**
 * Where the light comes from: `"overcast"`, `"dusk"` or `{"sun": {…}}`.
 */
export type LightRequest = "overcast" | "dusk" | { "sun": SunRequest };

/**
 * Where the sun is.
 */
export type SunRequest = { 
/**
 * Its direction, clockwise from north, -360 to 360 degrees.
 */
azimuth_deg: number, 
/**
 * How high it is, 0 to 90 degrees.
 */
elevation_deg: number, };

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
 * Axial focus distance: where it was asked for; else of the eyes where they are in the frame, else of the subject at
 * the frame's centre.
 */
focus_m: number | null, 
/**
 * Axial distance of the subject: of the eyes where they are in the frame, else at the frame's centre.
 */
subject_depth_m: number | null, 
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
 * Height of the disc in which a point of the subject is drawn, in delivered pixels; 0 where focus is on it.
 */
subject_blur_px: number | null, 
/**
 * Width of that disc, in delivered pixels.
 */
subject_blur_width_px: number | null, 
/**
 * How soft what is in focus stays along the adapter's axis, in delivered pixels; 0 without an adapter.
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
 * One lens, focused somewhere, and a point somewhere else.
 */
export type BlurRequest = { 
/**
 * The lens, as in a setup request; one of a kit's lenses does as it is.
 */
lens: LensRecord, 
/**
 * The recording mode: its width is that of the image that pixels are counted in.
 */
recording: RecordingRecord, 
/**
 * The adapter, if it is on.
 */
adapter?: AdapterRecord | null, 
/**
 * Where focus is, axially from the lens, 0.02 to 100000 m.
 */
focus_m: number, 
/**
 * Where the point is, axially from the lens, 0.001 to 100000 m.
 */
background_m: number, 
/**
 * What counts as sharp on the sensor, 0.0001 to 1 mm; the recorded diagonal over 1500 if absent.
 */
circle_of_confusion_mm?: number | null, };

/**
 * What follows from it. `null` where it cannot be told: without an f-number or the sensor's true size.
 */
export type BlurAnswer = { 
/**
 * The desqueezed image's width in whole pixels, in which the discs are counted.
 */
image_width_px: number, 
/**
 * Height of the point's disc.
 */
background_blur_px: number | null, 
/**
 * Width of the point's disc; another than its height with an adapter on.
 */
background_blur_width_px: number | null, 
/**
 * The disc's width over the image's.
 */
background_blur_width_share: number | null, 
/**
 * Whether the point is within what counts as sharp.
 */
background_is_sharp: boolean | null, 
/**
 * What counts as sharp, on the sensor.
 */
circle_of_confusion_mm: number | null, 
/**
 * The nearest focus distance that keeps infinity sharp.
 */
hyperfocal_m: number | null, 
/**
 * The nearest axial distance that is sharp.
 */
near_m: number | null, 
/**
 * The farthest axial distance that is sharp; null is infinity (where `near_m` is told).
 */
far_m: number | null, 
/**
 * Whether the lens can focus so near, where its closest focus is known.
 */
can_focus: boolean | null, };

/**
 * What a camera is set to, and before which light.
 */
export type ExposureRequest = { 
/**
 * The lens's f-number, 0.5 to 64.
 */
f_number: number, 
/**
 * Frames a second at capture, 1 to 1000; needed with `shutter_angle_deg`.
 */
frame_rate_fps?: number | null, 
/**
 * The share of a frame's time that it is exposed, as the angle of a turning shutter, 1 to 360 degrees.
 */
shutter_angle_deg?: number | null, 
/**
 * How long each frame is exposed, 0.00001 to 60 s, instead of the angle.
 */
shutter_s?: number | null, 
/**
 * The sensitivity, 1 to 1000000.
 */
iso: number, 
/**
 * The light as an exposure value at ISO 100, -10 to 25.
 */
scene_ev100: number, 
/**
 * The filters at hand, at most twelve, each 0 to 20 stops; none if absent.
 */
filters_stops?: Array<number>, 
/**
 * Whether they go on top of each other; true if absent.
 */
stack?: boolean | null, 
/**
 * How much brighter than the meter's grey the picture is wanted, -10 to 10 stops; 0 if absent.
 */
bias_stops?: number | null, 
/**
 * What an adapter in front takes, 0 to 5 stops; 0 if absent.
 */
light_loss_stops?: number | null, 
/**
 * The mains that lamps in the scene hang on, 15 to 500 Hz; no lamps if absent.
 */
mains_hz?: number | null, };

/**
 * What follows from it.
 */
export type ExposureAnswer = { 
/**
 * How long each frame is exposed.
 */
shutter_s: number, 
/**
 * The shutter's angle at the frame rate; null without one.
 */
shutter_angle_deg: number | null, 
/**
 * The exposure value of f-number and time.
 */
exposure_value: number, 
/**
 * The same with the ISO in it.
 */
ev100: number, 
/**
 * How much light is too much without filters; too little if negative.
 */
stops_over: number, 
/**
 * The filters to take, in the order of the request.
 */
filter_stops: Array<number>, 
/**
 * How much is too much with them on.
 */
residual_stops: number, 
/**
 * Whether the exposure is a whole number of half periods of the mains; null without mains.
 */
flicker_safe: boolean | null, 
/**
 * What is the matter, and what would mend it.
 */
findings: Array<FindingAnswer>, };

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
views?: Array<ViewRecord>, 
/**
 * The exposure times that the camera app offers, 0.00001 to 60 s; any if absent.
 */
exposure_times_s?: Array<number>, };

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
 * The f-number that it can close to, `f_number` to 64; it cannot be closed if absent.
 */
closes_to_f_number?: number | null, 
/**
 * The least ISO that its sensor offers, 1 to 1000000; not known if absent.
 */
iso_floor?: number | null, 
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
measured_at_m?: number | null, 
/**
 * The least ISO that the mode offers, 1 to 1000000, where it is above the lens's.
 */
iso_floor?: number | null, };

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
 * The squeeze that was measured on it, 1 to 3, which counts wherever it is used.
 */
measured_squeeze?: number | null, 
/**
 * Its standard uncertainty, at most 1; 1 % of it if absent.
 */
measured_squeeze_sd?: number | null, 
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
vignettes?: Array<string>, 
/**
 * How far out lenses were seen to be clear through it, which counts before `vignettes`.
 */
clear_views?: Array<ClearViewRecord>, };

/**
 * The image axis that an adapter squeezes.
 */
export type AxisRecord = "width" | "height";

/**
 * How far out one lens in one mode was seen to be clear through an adapter.
 */
export type ClearViewRecord = { 
/**
 * The lens, by name.
 */
lens: string, 
/**
 * The recording mode, by name.
 */
recording: string, 
/**
 * The share of the recorded frame's half-diagonal up to which all is clear, 0 to 1: nowhere less than half as light as
 * in the middle.
 */
clear_share: number, };

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
stops_most?: number | null, 
/**
 * The lenses and adapters that it goes in front of, by name; all of them if absent.
 */
fits?: Array<string> | null, 
/**
 * Whether it goes on top of others; if absent it does, unless it can be turned.
 */
stacks?: boolean | null, };

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
