//! The module's functions on JavaScript's own objects, in a browser.
#![cfg(target_arch = "wasm32")]
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

use js_sys::{Error, JSON, Object, Reflect};
use tapemark_core::{blur, compare, exposure, setup};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

const REQUEST: &str = r#"{
    "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3,
             "closest_focus_m": 0.2},
    "recording": {"width_px": 3840, "height_px": 2160, "stabiliser_crop": 1.0},
    "adapter": {"squeeze": 1.33, "focusing": false}, "delivery": {"aspect": 2.39}, "subject": {"stature_m": 1.70},
    "shot_size": "medium", "camera_height_m": 1.2, "background_behind_subject_m": 10.0}"#;

const KIT: &str = r#"{
    "lenses": [
        {"name": "wide", "focal_length_mm": 2.2, "focal_length_35mm_equivalent_mm": 13, "f_number": 2.2},
        {"name": "main", "focal_length_mm": 6.8, "focal_length_35mm_equivalent_mm": 24, "f_number": 1.8}
    ],
    "recordings": [{"name": "4K", "width_px": 3840, "height_px": 2160}],
    "adapters": [{"name": "clip-on", "squeeze": 1.33}]}"#;

/// A JavaScript object, made by JavaScript.
fn object(json: &str) -> JsValue {
    JSON::parse(json).expect("JSON")
}

fn get(object: &JsValue, name: &str) -> JsValue {
    assert!(Reflect::has(object, &name.into()).expect("an object"), "{name} is not there");
    Reflect::get(object, &name.into()).expect("an object")
}

fn set(object: &JsValue, name: &str, value: impl Into<JsValue>) {
    Reflect::set(object, &name.into(), &value.into()).expect("an object");
}

/// What `setup` throws for a request.
fn thrown(request: JsValue) -> String {
    let error = JsValue::from(setup(request.unchecked_into()).expect_err("a refusal"));
    String::from(error.unchecked_into::<Error>().message())
}

#[wasm_bindgen_test]
fn setup_answers_with_plain_numbers_and_nulls() {
    let answer: JsValue = setup(object(REQUEST).unchecked_into()).expect("an answer").into();
    assert_eq!(get(&answer, "delivered_width_px").as_f64(), Some(5107.0));
    assert_eq!(get(&answer, "delivered_height_px").as_f64(), Some(2136.0));
    let distance = get(&answer, "distance_m").as_f64().expect("a number");
    // The same figure as natively, to the last bit, which is what `libm` is for.
    let native = requests::setup(
        &requests::read(&mut serde_json::Deserializer::from_str(REQUEST)).expect("a request"),
    )
    .expect("an answer");
    assert_eq!(Some(distance), native.distance_m);
    assert!(Object::get_prototype_of(&answer) == Object::get_prototype_of(&Object::new()), "a plain object");
    let request = object(REQUEST);
    set(&request, "camera_height_m", 30.0);
    let nowhere: JsValue = setup(request.unchecked_into()).expect("an answer").into();
    assert!(get(&nowhere, "distance_m").is_null(), "null, not undefined");
    let finding = Reflect::get_u32(&get(&nowhere, "findings"), 0).expect("a finding");
    assert_eq!(get(&finding, "rule").as_string().as_deref(), Some("no_framing_from_height"));
}

#[wasm_bindgen_test]
fn compare_shows_every_lens_and_sorts() {
    let request = object(REQUEST);
    set(&request, "adapter", JsValue::UNDEFINED);
    let sort_by = JsValue::from("least_distance").unchecked_into();
    let answer: JsValue = compare(object(KIT).unchecked_into(), request.unchecked_into(), Some(sort_by))
        .expect("an answer")
        .into();
    let lenses = js_sys::Array::from(&get(&answer, "lenses"));
    let distances: Vec<_> =
        lenses.iter().map(|row| get(&get(&row, "setup"), "distance_m").as_f64().expect("a number")).collect();
    assert!(distances.len() == 4 && distances.is_sorted(), "{distances:?}");
}

#[wasm_bindgen_test]
fn a_wrong_object_throws_an_error_that_names_the_field() {
    let request = object(REQUEST);
    set(&get(&request, "lens"), "focal_length_mm", "six");
    assert_eq!(thrown(request), "lens.focal_length_mm: \"six\" is not allowed: 0.1 to 2000 mm");
    let request = object(REQUEST);
    set(&get(&request, "subject"), "height_m", 1.7);
    assert!(thrown(request).starts_with("subject.height_m: is not a field here: "));
    let request = object(REQUEST);
    set(&request, "camera_height_m", f64::NAN);
    assert_eq!(thrown(request), "camera_height_m: NaN m is not allowed: 0 to 50 m");
    let request = object(REQUEST);
    set(&get(&request, "recording"), "width_px", 3840.5);
    assert!(thrown(request).starts_with("recording.width_px: 3840.5 is not allowed: "));
    assert_eq!(thrown(JsValue::UNDEFINED), "null is not allowed: an object");
}

#[wasm_bindgen_test]
fn an_error_in_a_kit_names_the_kit() {
    let kit = object(r#"{"lenses": [{"focal_length_mm": 6.8}]}"#);
    let request = object(REQUEST);
    let error = compare(kit.unchecked_into(), request.unchecked_into(), None).expect_err("a refusal");
    let message = String::from(JsValue::from(error).unchecked_into::<Error>().message());
    assert!(message.starts_with("kit.lenses[0].sensor_width_mm: is missing: "), "{message}");
}

const BLUR: &str = r#"{
    "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3},
    "recording": {"width_px": 3840, "height_px": 2160}, "focus_m": 1000, "background_m": 2.0}"#;

const EXPOSURE: &str = r#"{"f_number": 1.78, "frame_rate_fps": 24, "shutter_angle_deg": 180, "iso": 50,
    "scene_ev100": 15, "filters_stops": [2, 3, 6, 10]}"#;

#[wasm_bindgen_test]
fn blur_answers_with_the_native_figures() {
    let answer: JsValue = blur(object(BLUR).unchecked_into()).expect("an answer").into();
    let native =
        requests::blur(&requests::read(&mut serde_json::Deserializer::from_str(BLUR)).expect("a request"))
            .expect("an answer");
    assert_eq!(get(&answer, "background_blur_px").as_f64(), native.background_blur_px);
    assert_eq!(get(&answer, "hyperfocal_m").as_f64(), native.hyperfocal_m);
    assert!(get(&answer, "near_m").as_f64().is_some() && get(&answer, "far_m").is_null(), "infinity is null");
    let request = object(BLUR);
    set(&request, "focus_m", "far");
    let error = JsValue::from(blur(request.unchecked_into()).expect_err("a refusal"));
    let message = String::from(error.unchecked_into::<Error>().message());
    assert_eq!(message, "focus_m: \"far\" is not allowed: 0.02 to 100000 m");
}

#[wasm_bindgen_test]
fn exposure_answers_with_filters_and_names_a_wrong_field() {
    let answer: JsValue = exposure(object(EXPOSURE).unchecked_into()).expect("an answer").into();
    let native = requests::exposure(
        &requests::read(&mut serde_json::Deserializer::from_str(EXPOSURE)).expect("a request"),
    )
    .expect("an answer");
    assert_eq!(get(&answer, "stops_over").as_f64(), Some(native.stops_over));
    let filters = js_sys::Array::from(&get(&answer, "filter_stops"));
    let filters: Vec<_> = filters.iter().filter_map(|stops| stops.as_f64()).collect();
    assert_eq!(filters, native.filter_stops);
    assert!(get(&answer, "flicker_safe").is_null(), "no mains");
    let request = object(EXPOSURE);
    set(&request, "filters_stops", js_sys::Array::of2(&2.into(), &"dark".into()));
    let error = JsValue::from(exposure(request.unchecked_into()).expect_err("a refusal"));
    let message = String::from(error.unchecked_into::<Error>().message());
    assert_eq!(message, "filters_stops[1]: \"dark\" is not allowed: 0 to 20 stops");
}
