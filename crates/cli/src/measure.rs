//! `tapemark measure`: what a lens really sees in the mode it will shoot.

use requests::{MEASURE_FIELDS, MeasureAnswer, MeasureRequest};

use crate::failure::Failure;
use crate::figures::{self, Line};
use crate::help::field_lines;
use crate::{input, output};

/// What to work out.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A JSON file that says what was seen, or - for standard input
    #[arg(value_name = "REQUEST.json")]
    request: String,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    json: bool,
}

/// An example request of one frame; a test sends it.
const EXAMPLE: &str = r#"{"known_width_m": 0.90, "known_width_sd_m": 0.002, "distance_m": 2.40, "distance_sd_m": 0.01,
 "ends_px": [812.0, 3015.0], "end_sd_px": 2.0, "image_width_px": 3840}"#;

/// An example of several; a test sends it.
const SEVERAL: &str = r#"{"frames": [
  {"thing": "door", "known_width_m": 0.90, "distance_m": 2.40,
   "ends_px": [812, 3015], "image_width_px": 3840},
  {"thing": "door", "known_width_m": 0.90, "distance_m": 1.50,
   "ends_px": [160, 3690], "image_width_px": 3840}],
 "focal_length_mm": 6.86, "photo_horizontal_fov_deg": 73.7, "photo_horizontal_fov_sd_deg": 0.3,
 "circle": {"left_px": 1400, "right_px": 2300, "top_px": 480, "bottom_px": 1677}}"#;

/// What `measure --json` prints, field by field.
const ANSWER: &str =
    "  horizontal_fov_deg     2 atan(W w / 2d|u1 - u0|): image W, ends u, width w, distance d
  horizontal_fov_sd_deg  its standard uncertainty; null without frames, as the three below
  at_m                   the distance that it is told for: the mean of the frames' distances
  birge_ratio            how many times further apart frames are than their uncertainties say,
                         at least 1; the uncertainty is widened by it
  frames                 a list of {horizontal_fov_deg, horizontal_fov_sd_deg}: each by itself
  crop_over_photo        how many times tighter than the photo: its tan(half angle) over the
                         frame's; null without photo_horizontal_fov_deg
  crop_over_photo_sd     its standard uncertainty
  squeeze                how many times more the adapter sees along its axis; null without circle
  squeeze_sd             its standard uncertainty
  findings               a list of {rule, severity (notes, warns or fails), message, hint}";

/// The answer, as text to print.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let request: MeasureRequest = input::read_json(&options.request)?;
    let answer = requests::measure(&request)?;
    if options.json {
        return output::json(&answer);
    }
    Ok(told(&answer) + &figures::findings(&answer.findings))
}

/// The answer for people.
fn told(answer: &MeasureAnswer) -> String {
    let mut lines = Vec::new();
    let mut add = |label, value: Option<f64>, sd: Option<f64>, digits: usize, unit| {
        if let Some((value, sd)) = value.zip(sd) {
            lines.push(Line::new(label, format!("{value:.digits$} ± {sd:.digits$}"), unit));
        }
    };
    add("sees across", answer.horizontal_fov_deg, answer.horizontal_fov_sd_deg, 2, "°");
    add("tighter than the photo", answer.crop_over_photo, answer.crop_over_photo_sd, 3, "times");
    add("squeeze", answer.squeeze, answer.squeeze_sd, 3, "times");
    if answer.frames.len() > 1 {
        for frame in &answer.frames {
            let (value, sd) = (Some(frame.horizontal_fov_deg), Some(frame.horizontal_fov_sd_deg));
            add("a frame by itself", value, sd, 2, "°");
        }
    }
    if let Some(at) = answer.at_m {
        lines.push(Line::new("focused at", format!("{at:.2}"), "m"));
    }
    figures::aligned(&lines)
}

/// What `measure` reads and prints.
pub(crate) fn help() -> String {
    format!(
        "In the mode you will shoot, film something of known width, flat and square to the look, from a taped distance, and \
         take a frame of the clip: the stabiliser's crop is in it, and a photo has another view. It need not be in the \
         middle. Without an adapter, except for circle.\n\n\
         REQUEST.json, for example:\n{EXAMPLE}\n\n\
         or several frames, with what else can be told:\n{SEVERAL}\n\n\
         Its fields, what they take, what they mean and what is assumed where they are absent. Unknown fields are \
         refused.\n{}\n\n\
         Frames are combined by generalised least squares: those of one thing share the error of its width, and what only \
         one frame has, its distance and its ends, is weighed by itself.\n\n\
         With --json, one object:\n{ANSWER}\n\n\
         Frames that disagree, and a mode that sees more than the photo, are findings, and the exit is 0. Bad input exits 2 \
         with one line on standard error.",
        field_lines(MEASURE_FIELDS)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::help::undescribed;

    fn answer(text: &str) -> MeasureAnswer {
        let request: MeasureRequest = serde_json::from_str(text).expect("a request");
        requests::measure(&request).expect("an answer")
    }

    #[test]
    fn the_examples_are_answered_and_every_field_of_the_answer_is_described() {
        for text in [EXAMPLE, SEVERAL] {
            let answer = serde_json::to_value(answer(text)).expect("an object");
            assert_eq!(undescribed(&answer, ANSWER), Vec::<String>::new());
        }
        assert!(answer(SEVERAL).findings.is_empty(), "{:?}", answer(SEVERAL).findings);
    }

    #[test]
    fn the_help_names_fields_with_their_ranges() {
        let help = help();
        assert!(
            help.contains("known_width_m") && help.contains("0.05 to 1000 m: from the lens to it"),
            "{help}"
        );
    }

    #[test]
    fn figures_are_told_with_their_uncertainty() {
        let told = told(&answer(EXAMPLE));
        assert!(told.contains("36.20 ± 0.17°"), "{told}");
    }
}
