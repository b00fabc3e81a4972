//! `tapemark setup`: one shot on one lens.

use film::{Telling, USUAL_STEP, sentence};
use requests::{SETUP_FIELDS, SetupAnswer, SetupRequest, resolve, take_findings};
use units::LengthUnit;

use crate::failure::Failure;
use crate::help::field_lines;
use crate::{figures, input, output};

/// What to resolve.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A JSON file that says the shot, or - for standard input
    #[arg(value_name = "REQUEST.json")]
    request: String,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    json: bool,
}

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

/// The answer, as text to print.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let request: SetupRequest = input::read_json(&options.request)?;
    let result = resolve(&request)?;
    let answer = SetupAnswer::of(&result).with_take(&take_findings(&request, &result)?);
    if options.json {
        return output::json(&answer);
    }
    let adapter = request
        .adapter
        .as_ref()
        .map(|adapter| adapter.name.clone().unwrap_or_else(|| format!("{}x", adapter.squeeze)));
    let telling = Telling {
        lens: request.lens.as_ref().and_then(|lens| lens.name.as_deref()).unwrap_or("this"),
        adapter: adapter.as_deref(),
        step: USUAL_STEP,
        unit: LengthUnit::Metres,
    };
    let mut text = sentence(&telling, &result);
    text.push_str("\n\n");
    text.push_str(&figures::block(&answer));
    text.push_str(&figures::findings(&answer.findings));
    Ok(text)
}

/// What `setup` reads and prints.
pub(crate) fn help() -> String {
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

#[cfg(test)]
mod tests {
    use super::*;

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
        let help = help();
        assert!(help.contains("subject.stature_m"), "{help}");
        assert!(help.contains("0.4 to 2.8 m: height when standing"), "{help}");
    }
}
