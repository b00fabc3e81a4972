//! `tapemark exposure`: how much light is too much, and which filters take it.

use film::scenes_in_light;
use requests::{EXPOSURE_FIELDS, ExposureAnswer, ExposureRequest};

use crate::failure::Failure;
use crate::figures::{self, Line};
use crate::help::field_lines;
use crate::{input, output};

/// What to work out.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A JSON file that says the exposure, or - for standard input
    #[arg(value_name = "REQUEST.json")]
    request: String,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    json: bool,
}

/// An example request; a test sends it.
const EXAMPLE: &str = r#"{"f_number": 1.78, "frame_rate_fps": 24, "shutter_angle_deg": 180, "iso": 50,
 "scene_ev100": 15, "filters_stops": [2, 3, 6, 10], "stack": true, "bias_stops": -0.67,
 "mains_hz": 50}"#;

/// What `exposure --json` prints, field by field.
const ANSWER: &str = "  shutter_s           how long each frame is exposed
  shutter_angle_deg   the shutter's angle at the frame rate; null without a frame rate
  exposure_value      log2(N² / t), of f-number N and exposure t in seconds
  ev100               exposure_value - log2(ISO / 100): the scene that comes out right as it is
  stops_over          scene_ev100 - ev100 - bias_stops - light_loss_stops: too much if positive
  filter_stops        the filters that leave the least too much or too little; then the fewest
  residual_stops      stops_over less their sum: what is too much with them on
  flicker_safe        whether shutter_s is whole half periods of the mains; null without mains
  findings            a list of {rule, severity (notes, warns or fails), message, hint}";

/// The answer, as text to print.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let request: ExposureRequest = input::read_json(&options.request)?;
    let answer = requests::exposure(&request)?;
    if options.json {
        return output::json(&answer);
    }
    Ok(told(&answer) + &figures::findings(&answer.findings))
}

/// The answer for people.
fn told(answer: &ExposureAnswer) -> String {
    let mut lines = vec![Line::new("each frame is exposed for", format!("{:.5}", answer.shutter_s), "s")];
    let mut add = |label, figure: String, unit| lines.push(Line::new(label, figure, unit));
    if let Some(degrees) = answer.shutter_angle_deg {
        add("shutter angle", format!("{degrees:.1}"), "°");
    }
    add("exposure value of f-number and time", format!("{:.2}", answer.exposure_value), "EV");
    add("at ISO 100", format!("{:.2}", answer.ev100), "EV");
    let much = |stops: f64| if stops < 0.0 { "stops too little" } else { "stops too much" };
    add("light without filters", format!("{:.2}", answer.stops_over.abs()), much(answer.stops_over));
    let filters: Vec<_> = answer.filter_stops.iter().map(f64::to_string).collect();
    if filters.is_empty() {
        add("filters to take", "none".to_owned(), "");
    } else {
        add("filters to take", filters.join(" + "), "stops");
    }
    add("light with them", format!("{:.2}", answer.residual_stops.abs()), much(answer.residual_stops));
    if let Some(safe) = answer.flicker_safe {
        add("steady under lamps", if safe { "yes" } else { "no" }.to_owned(), "");
    }
    figures::aligned(&lines)
}

/// What `exposure` reads and prints.
pub(crate) fn help() -> String {
    let scenes = scenes_in_light();
    let scenes: Vec<_> =
        scenes.iter().map(|(name, value)| format!("  {:>3}  {name}", value.to_f64())).collect();
    format!(
        "REQUEST.json, for example:\n{EXAMPLE}\n\n\
         Its fields, what they take, what they mean and what is assumed where they are absent. Unknown fields are \
         refused.\n{}\n\n\
         Scenes as scene_ev100, by common practice; a meter is better than any table:\n{}\n\n\
         With --json, one object:\n{ANSWER}\n\n\
         Too much or too little light and lamps that flicker are findings, and the exit is 0. Bad input exits 2 with one \
         line on standard error.",
        field_lines(EXPOSURE_FIELDS),
        scenes.join("\n")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_example_is_answered_and_every_field_of_the_answer_is_described() {
        let request: ExposureRequest = serde_json::from_str(EXAMPLE).expect("a request");
        let answer =
            serde_json::to_value(requests::exposure(&request).expect("an answer")).expect("an object");
        for name in answer.as_object().expect("an object").keys() {
            assert!(ANSWER.contains(&format!("  {name} ")), "{name} is not described");
        }
    }

    #[test]
    fn the_help_names_fields_with_their_ranges_and_scenes_with_their_light() {
        let help = help();
        assert!(help.contains("f_number           0.5 to 64 (f-number): "), "{help}");
        assert!(help.contains("   15  bright sun"), "{help}");
    }
}
