//! The long help: the contract that other people's scripts rely on.

use requests::{Field, SETUP_FIELDS};

/// An example request; a test sends it.
const EXAMPLE: &str = r#"{"lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3,
          "closest_focus_m": 0.2},
 "recording": {"width_px": 3840, "height_px": 2160, "stabiliser_crop": 1.0},
 "adapter": {"squeeze": 1.33, "focusing": false},
 "delivery": {"aspect": 2.39},
 "subject": {"stature_m": 1.70},
 "shot_size": "medium", "camera_height_m": 1.2, "background_behind_subject_m": 10.0}"#;

/// What `setup --json` prints, field by field.
const ANSWER: &str = "\
  distance_m, distance_sd_m            from the phone to the subject along the floor, and its standard uncertainty
  camera_height_m                      the lens above the floor
  tilt_deg, tilt_sd_deg                the lens's tilt, up positive
  subject_right_deg                    how far the subject stands to the right of straight ahead
  focus_m                              axial focus distance: as asked, else of the subject
  subject_depth_m                      axial distance of the eyes where they are in the frame, else of the subject at its centre
  horizontal_fov_deg, vertical_fov_deg full angles of view of the delivered frame, focused there; each with ..._fov_sd_deg
  delivered_width_px, delivered_height_px   whole pixels, rounded down
  pixels                               captured, stretched_in_width or stretched_in_height
  crop_lost_share                      the share of the desqueezed image that the crop gives up
  focal_length_35mm_equivalent_mm      from the diagonal of the recorded area, before crop and adapter
  circle_of_confusion_mm               what counts as sharp on the sensor: the recorded diagonal over 1500
  near_m, near_sd_m, far_m             axial limits of what is sharp; far_m is null for infinity
  hyperfocal_m                         the nearest focus that keeps infinity sharp
  background_blur_px, background_blur_width_px   height and width of a background point's disc, in delivered pixels
  background_blur_share                its height over the delivered frame's
  subject_blur_px, subject_blur_width_px   height and width of a point of the subject, in delivered pixels
  subject_sideways_softness_px         how soft the adapter leaves what is in focus sideways; 0 without one
  adapter_useful_from_m                the focus from which that is sharp enough
  airy_diameter_um                     diameter of the diffraction disc on the sensor
  face_stretch_share                   how much larger the nose's plane is drawn than the ears', less one
  place_width_m                        how wide a strip of the background is seen
  cut_height_m, headroom_share         what the frame's lower edge and its top hold
  findings                             a list of {rule, severity (notes, warns or fails), message, hint}";

/// What `compare` reads and prints.
pub(crate) const COMPARE: &str = "\
The kit's JSON Schema is printed by `tapemark schema kit`; kits to start from by `tapemark kit presets --json`.
The request is that of `tapemark setup`. Its lens is not used; without a recording the kit's first is; its adapter
stands in where the kit has none.

With --json: {recording, lenses: [{lens, in_sensor_zoom, adapter, will_do, reason, setup}]}, where setup is what
`tapemark setup --json` prints. Bad input is told as there; a field of the kit is named kit.FIELD.";

/// What `picture` reads and writes.
pub(crate) const PICTURE: &str = "\
The request is that of `tapemark setup`: its blocking says who and what else is there and where the light is, its take \
what moves, its shutter how long the frame is exposed. Without blocking, the subject stands on a floor with a line every \
metre, before posts 0.1 m wide that stand every 0.5 m across the frame at the background's distance.

The picture is sharp where setup says so, and soft by the discs that it tells, in both axes with an adapter, and smeared \
by what moves. Where f-number or focal length are not known all of it is sharp. Samples are taken four at a time. The \
same request gives the same file, byte by byte, with any number of threads; so does the same film and shot.

With --shot the file is a film, whose JSON Schema is printed by `tapemark schema film`. The shot is drawn as it is \
rehearsed: everybody where their ways have them then, on the lens that `tapemark shots` names, in the scene's light. --at \
counts seconds of the shot as it plays, up to its planned length. A file that is no film, from a newer version, or damaged \
is refused as by `tapemark check`; --anyway goes on with what can be saved, and tells the rest on standard error, a line each.

Where the framing cannot be had, the film lacks what the shot needs or has no such shot, or the size has another shape than \
the frame, the exit is 2 with one line on standard error, and nothing is written.";

/// What `check` reads and prints.
pub(crate) const CHECK: &str = "\
The film's JSON Schema is printed by `tapemark schema film`. Findings come from what the entries of each scene's cut show; \
a shot in no cut is not checked. Each says whether it is physics or common practice; one that is to stay is kept in the \
film with its reason (kept), and is not told here.

With --json: {title, scenes: [{scene, title, findings: [{rule, severity, place, message, reason, hint}]}], story_lacks}.
Exit 0 if nothing fails or warns, 1 if something does; notes and what the story lacks do not count. A file that is no \
film, from a newer version, or damaged exits 2 with one line on standard error; --anyway goes on with what can be saved, \
and tells the rest on standard error, a line each.";

/// What `shots` reads and prints.
pub(crate) const SHOTS: &str = "\
With --json a list of {scene, shot, size, of, action, lens, in_sensor_zoom, adapter, distance_m, camera_height_m, \
tilt_deg, side_deg, planned_s, must_have}; what cannot be had is null. Scenes and shots count from 1; distance_m is along \
the floor from whom or what it is of to the phone, and side_deg that direction, clockwise from north. Exits are those of \
`tapemark check`; shots in no cut do not count.";

/// Fields, one a line.
pub(crate) fn field_lines(fields: &[Field]) -> String {
    let width = fields.iter().map(|field| field.path.len()).max().unwrap_or(0);
    let lines =
        fields.iter().map(|field| format!("  {:width$}  {}: {}", field.path, field.takes, field.meaning));
    lines.collect::<Vec<_>>().join("\n")
}

/// The contract of `setup`.
pub(crate) fn setup() -> String {
    format!(
        "REQUEST.json, for example:\n{EXAMPLE}\n\n\
         Its fields, what they take, what they mean and what is assumed where they are absent. Unknown fields are refused.\n\
         sensor_* is the whole still photo; a recording uses its largest centred rectangle, divided by the stabiliser crop.\n\
         {}\n\n\
         With --json, one object. A figure that cannot be told is null, and a finding says why:\n{ANSWER}\n\n\
         Where the framing cannot be had, distance_m and all that depends on it are null, a finding says why and what would do,\n\
         and the exit is 0. Too close to focus, no room, or an adapter that does not fit adds a finding and keeps the figures.\n\
         Bad input exits 2 with one line on standard error that names the field, the value, the allowed range and the unit,\n\
         and prints nothing on standard output.",
        field_lines(SETUP_FIELDS)
    )
}

/// The fields of an answer, however deep, that a description does not name.
#[cfg(test)]
pub(crate) fn undescribed(answer: &serde_json::Value, description: &str) -> Vec<String> {
    let is_letter = |letter: char| letter.is_alphanumeric() || letter == '_';
    let is_named = |name: &str| description.split(|letter: char| !is_letter(letter)).any(|word| word == name);
    match answer {
        serde_json::Value::Array(items) => {
            items.iter().flat_map(|item| undescribed(item, description)).collect()
        }
        serde_json::Value::Object(fields) => fields
            .iter()
            .flat_map(|(name, value)| {
                let own = (!is_named(name)).then(|| name.clone());
                own.into_iter().chain(undescribed(value, description)).collect::<Vec<_>>()
            })
            .collect(),
        serde_json::Value::Null
        | serde_json::Value::Bool(_)
        | serde_json::Value::Number(_)
        | serde_json::Value::String(_) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use requests::{SetupAnswer, SetupRequest};

    #[test]
    fn the_example_is_answered_and_every_field_of_the_answer_is_described() {
        let request: SetupRequest = serde_json::from_str(EXAMPLE).expect("a request");
        let answer: SetupAnswer = requests::setup(&request).expect("an answer");
        let answer = serde_json::to_value(answer).expect("an object");
        for name in answer.as_object().expect("an object").keys() {
            let described = ANSWER.contains(name.as_str()) || name.ends_with("_fov_sd_deg");
            assert!(described, "{name} is not described");
        }
    }

    #[test]
    fn the_help_names_every_field_with_its_range() {
        let help = setup();
        assert!(help.contains("subject.stature_m"), "{help}");
        assert!(help.contains("0.4 to 2.8 m: height when standing"), "{help}");
    }
}
