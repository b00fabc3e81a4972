//! `tapemark sun`: where the sun is, and when it rises and sets.

use jiff::tz::TimeZoneDatabase;
use requests::{SUN_FIELDS, SunAnswer, SunAtRequest};

use crate::failure::Failure;
use crate::figures::{self, Line};
use crate::help::field_lines;
use crate::{input, output};

/// What to work out.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A JSON file that says the place with a moment or a day, or - for standard input
    #[arg(value_name = "REQUEST.json")]
    request: String,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    json: bool,
}

/// An example request of each kind; a test sends them.
const EXAMPLES: [&str; 2] = [
    r#"{"latitude_deg": 52.1, "longitude_deg": 4.3, "elevation_m": 0, "time": "2026-06-21T19:30:00+02:00"}"#,
    r#"{"latitude_deg": 52.1, "longitude_deg": 4.3, "date": "2026-06-21", "time_zone": "Europe/Amsterdam"}"#,
];

/// What `sun --json` prints, field by field.
const ANSWER: &str = "\
for a moment
  azimuth_deg              the sun's direction, clockwise from north
  true_elevation_deg       how high its centre is, without the air
  apparent_elevation_deg   how high it is seen through standard air; the same once its upper edge is below the horizon
for a day
  sunrise, sunset          when its centre is 0.8333° below the horizon, its upper edge on it
  noon                     when it is due south or due north, at its highest
  civil_dawn, civil_dusk   when its centre is 6° below the horizon";

/// The answer, as text to print.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let request: SunAtRequest = input::read_json(&options.request)?;
    let answer = answer(&request)?;
    if options.json { output::json(&answer) } else { Ok(told(&answer)) }
}

fn answer(request: &SunAtRequest) -> Result<SunAnswer, Failure> {
    Ok(requests::sun(request, |name| TimeZoneDatabase::bundled().get(name).ok())?)
}

/// The answer for people.
fn told(answer: &SunAnswer) -> String {
    let lines = match answer {
        SunAnswer::At(sun) => vec![
            Line::new("direction, clockwise from north", format!("{:.2}", sun.azimuth_deg), "°"),
            Line::new("height, without the air", format!("{:.2}", sun.true_elevation_deg), "°"),
            Line::new("height as it is seen", format!("{:.2}", sun.apparent_elevation_deg), "°"),
        ],
        SunAnswer::Day(day) => {
            let line = |label, time: &Option<String>| {
                Line::new(label, time.clone().unwrap_or_else(|| "none".to_owned()), "")
            };
            vec![
                line("civil dawn", &day.civil_dawn),
                line("sunrise", &day.sunrise),
                line("noon", &day.noon),
                line("sunset", &day.sunset),
                line("civil dusk", &day.civil_dusk),
            ]
        }
    };
    figures::aligned(&lines)
}

/// What `sun` reads and prints.
pub(crate) fn help() -> String {
    format!(
        "REQUEST.json, for a moment or for a day:\n{}\n\n\
         Its fields, what they take and what is assumed where they are absent. Unknown fields are refused.\n{}\n\n\
         With --json, one object:\n{ANSWER}\n\n\
         Times are RFC 3339 with the zone's offset, and all on the day that was asked for by the zone's clocks, whatever \
         those do on it; what does not happen on that day is null. Where the sun sets after midnight, a day's sunset may \
         come before its sunrise. Hills and houses are left out.\n\
         Bad input exits 2 with one line on standard error.",
        EXAMPLES.join("\n"),
        field_lines(SUN_FIELDS)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_examples_are_answered_and_every_field_of_the_answers_is_described() {
        for example in EXAMPLES {
            let request: SunAtRequest = serde_json::from_str(example).expect("a request");
            let answer = serde_json::to_value(answer(&request).expect("an answer")).expect("an object");
            for name in answer.as_object().expect("an object").keys() {
                assert!(ANSWER.contains(name.as_str()), "{name} is not described");
            }
        }
    }
}
