//! The module as a page meets it: a plain object in, a plain object or a readable error out.

#![cfg(target_arch = "wasm32")]
#![expect(clippy::expect_used, reason = "a check without its day has failed")]

use requests::{DaylightAnswer, DaylightRequest};
use serde::Serialize as _;
use sun_almanac::{daylight, time_zones};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

fn request(time_zone: &str) -> JsValue {
    let request = DaylightRequest {
        latitude_deg: 52.1,
        longitude_deg: 4.3,
        elevation_m: None,
        horizon: Vec::new(),
        date: "2026-06-21".to_owned(),
        time_zone: time_zone.to_owned(),
        next_day: None,
    };
    request.serialize(&serde_wasm_bindgen::Serializer::new()).expect("an object")
}

#[wasm_bindgen_test]
fn a_day_is_answered_with_plain_numbers() {
    let object = daylight(request("Europe/Amsterdam")).expect("a day");
    let answer: DaylightAnswer = serde_wasm_bindgen::from_value(object).expect("an answer");
    let sunset = answer.sunset_min.expect("a sunset");
    assert!((1320.0..1330.0).contains(&sunset), "{sunset}");
    assert!(answer.to_daylight().is_ok());
}

#[wasm_bindgen_test]
fn an_unknown_zone_is_an_error_in_words() {
    let error = daylight(request("Mars/Olympus")).expect_err("no zone");
    let told = format!("{:?}", JsValue::from(error));
    assert!(told.contains("is not a time zone"), "{told}");
}

#[wasm_bindgen_test]
fn zones_are_listed() {
    assert!(time_zones().iter().any(|name| name == "Europe/Amsterdam"));
}
