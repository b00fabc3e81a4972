//! Works out the light of a day in the browser: a wasm module of its own, so that only who asks for the sun loads it.
//!
//! The zones' clocks come with it, so nothing is asked of the browser or of another host.
//!
//! What goes in is `requests::DaylightRequest` and what comes back `requests::DaylightAnswer`, as plain objects: every field
//! is there, and `undefined` for what does not happen on the day. A refusal is an `Error` whose message a person can read.

use jiff::tz::TimeZoneDatabase;
use requests::{DaylightAnswer, DaylightRequest};
use serde::Serialize as _;
use wasm_bindgen::prelude::*;

/// The light of a day at a place.
///
/// # Errors
/// Names the field that is missing, out of range or no day.
#[wasm_bindgen]
pub fn daylight(request: JsValue) -> Result<JsValue, JsError> {
    let request: DaylightRequest = serde_wasm_bindgen::from_value(request)?;
    let answer = answered(&request).map_err(|message| JsError::new(&message))?;
    Ok(answer.serialize(&serde_wasm_bindgen::Serializer::new())?)
}

/// The IANA names of all time zones, in order.
#[wasm_bindgen]
pub fn time_zones() -> Vec<String> {
    let database = TimeZoneDatabase::bundled();
    let mut names: Vec<String> = database.available().map(|name| name.as_str().to_owned()).collect();
    names.sort_unstable();
    names
}

/// The answer without a browser's types.
fn answered(request: &DaylightRequest) -> Result<DaylightAnswer, String> {
    requests::daylight(request, |name| TimeZoneDatabase::bundled().get(name).ok())
        .map_err(|error| error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn answer_to(value: Value) -> Result<DaylightAnswer, String> {
        let request = serde_json::from_value(value).map_err(|error| error.to_string())?;
        answered(&request)
    }

    #[test]
    fn a_day_with_a_change_of_the_clock_is_told_by_the_clock() {
        let day = json!({
            "latitude_deg": 52.37, "longitude_deg": 4.9, "date": "2026-03-29", "time_zone": "Europe/Amsterdam",
        });
        let answer = answer_to(day).expect("a day");
        let change = answer.clock_change.expect("a change");
        assert_eq!(
            [change.before_min, change.after_min].map(f64::to_bits),
            [120.0_f64, 180.0].map(f64::to_bits)
        );
        let light = answer.to_daylight().expect("a day");
        let noon = light.times().noon_min.expect("a noon");
        assert!((820.0..830.0).contains(&noon), "{noon}");
        assert!((light.sun_at(noon).azimuth.to_deg() - 180.0).abs() < 0.01, "{:?}", light.sun_at(noon));
    }

    #[test]
    fn every_zone_that_is_listed_is_known() {
        let names = time_zones();
        assert!(names.len() > 400 && names.is_sorted(), "{}", names.len());
        for name in ["Europe/Amsterdam", "America/New_York", "Asia/Kathmandu", "Australia/Lord_Howe"] {
            assert!(names.iter().any(|known| known == name), "{name}");
        }
        for name in &names {
            assert!(TimeZoneDatabase::bundled().get(name).is_ok(), "{name}");
        }
    }

    #[test]
    fn an_unknown_zone_is_refused_in_words() {
        let day =
            json!({"latitude_deg": 0, "longitude_deg": 0, "date": "2026-03-29", "time_zone": "Mars/Olympus"});
        let told = answer_to(day).expect_err("no zone");
        assert!(told.starts_with("time_zone: \"Mars/Olympus\" is not a time zone"), "{told}");
    }
}
