//! Whatever is asked within the ranges that are told, the answer has numbers in it and nothing panics.

#[path = "generated/any_json.rs"]
mod any_json;

use any_json::any_json;
use proptest::prelude::*;
use requests::{SETUP_FIELDS, SetupRequest, StageRecord, Takes, picture, read, setup};
use serde_json::{Map, Value, json};

/// A value that the field takes: ends of its range as often as what lies between.
fn value_for(path: &'static str, takes: Takes) -> BoxedStrategy<Value> {
    match takes {
        // At most the value that it belongs to, which is drawn on its own.
        Takes::Number { .. } if path.ends_with("_sd_mm") => Just(json!(0.01)).boxed(),
        Takes::Number { min, max, .. } => prop_oneof![
            Just(min),
            Just(max),
            min..=max,
            // Small values are the ones that people give, and ranges are wide.
            min..=(min + (max - min) * 1e-3),
        ]
        .prop_map(|number| json!(number))
        .boxed(),
        Takes::Whole { min, max, .. } => {
            prop_oneof![Just(min), Just(max), min..=max].prop_map(|number| json!(number)).boxed()
        }
        Takes::Words(words) => proptest::sample::select(words).prop_map(|word| json!(word)).boxed(),
        Takes::Flag => any::<bool>().prop_map(|flag| json!(flag)).boxed(),
        Takes::Text => Just(json!("name")).boxed(),
        Takes::Aspect => {
            prop_oneof![Just(0.2), Just(5.0), 0.2..=5.0_f64].prop_map(|shape| json!(shape)).boxed()
        }
        Takes::Colour => Just(json!("#2f6f8f")).boxed(),
        Takes::Light => prop_oneof![Just(json!("dusk")), Just(json!({"sun": {}}))].boxed(),
        // One object, whose own fields follow.
        Takes::Objects(_) => Just(json!([{}])).boxed(),
        Takes::List if path.starts_with("adapter.") => Just(json!(["name"])).boxed(),
        Takes::List => Just(json!([2.0])).boxed(),
        Takes::Object => Just(json!({})).boxed(),
    }
}

/// Fields without which a request is refused; each other one is absent as often as not.
const NEEDED: [&str; 33] = [
    "lens",
    "lens.focal_length_mm",
    "lens.sensor_width_mm",
    "lens.sensor_height_mm",
    "recording",
    "recording.width_px",
    "recording.height_px",
    "adapter.squeeze",
    "adapter.clear_views.lens",
    "adapter.clear_views.recording",
    "adapter.clear_views.clear_share",
    "delivery",
    "delivery.aspect",
    "subject",
    "subject.stature_m",
    "shot_size",
    "insert_size_m",
    "background_behind_subject_m",
    "take.pull.from_m",
    "take.pull.to_m",
    "blocking.second.x_m",
    "blocking.second.y_m",
    "blocking.second.facing_deg",
    "blocking.people.x_m",
    "blocking.people.y_m",
    "blocking.pieces.kind",
    "blocking.pieces.x_m",
    "blocking.pieces.y_m",
    "blocking.foreground.kind",
    "blocking.foreground.ahead_m",
    "blocking.foreground.right_m",
    "blocking.light.sun.azimuth_deg",
    "blocking.light.sun.elevation_deg",
];

/// The object at that path, or the first one of the list there, if it was not left out.
fn object_at<'request>(request: &'request mut Value, path: &str) -> Option<&'request mut Map<String, Value>> {
    let mut at = request;
    for name in path.split('.') {
        at = at.get_mut(name)?;
        if at.is_array() {
            at = at.get_mut(0)?;
        }
    }
    at.as_object_mut()
}

fn requests_of_any_kind() -> impl Strategy<Value = Value> {
    let fields: Vec<_> = SETUP_FIELDS
        .iter()
        .map(|field| {
            let value = value_for(field.path, field.takes);
            if NEEDED.contains(&field.path) {
                value.prop_map(Some).boxed()
            } else {
                prop::option::of(value).boxed()
            }
        })
        .collect();
    fields.prop_map(|values| {
        let mut request = json!({});
        for (field, value) in SETUP_FIELDS.iter().zip(values) {
            let Some(value) = value else { continue };
            match field.path.rsplit_once('.') {
                None => request[field.path] = value,
                // A field of an object that was left out is left out with it.
                Some((object, name)) => {
                    if let Some(object) = object_at(&mut request, object) {
                        object.insert(name.to_owned(), value);
                    }
                }
            }
        }
        // Of the moves there may be one.
        if let Some(take) = object_at(&mut request, "take") {
            let moves = ["push_m_per_s", "follow_m_per_s", "pan_deg_per_s", "tilt_deg_per_s"];
            let given: Vec<_> = moves.into_iter().filter(|name| take.contains_key(*name)).collect();
            for name in given.iter().skip(1) {
                take.remove(*name);
            }
        }
        // The two stand for each other.
        if request.get("camera_height").is_some()
            && let Some(object) = request.as_object_mut()
        {
            object.remove("camera_height_m");
        }
        request
    })
}

/// Every number of an answer, with its name. JSON would write NaN as null, so Rust's own form is read instead.
fn numbers_are_finite(answer: &str) -> bool {
    !answer.contains("NaN") && !answer.contains("inf")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    #[test]
    fn any_request_within_the_told_ranges_is_answered_in_finite_numbers(request in requests_of_any_kind()) {
        let read: SetupRequest = read(&request).expect("as told");
        let answer = setup(&read);
        prop_assert!(answer.is_ok(), "{request}: {answer:?}");
        let mut answer = answer.expect("checked above");
        let last_s = read.take.map_or(0.0, |take| take.duration_s.unwrap_or(5.0));
        for at_s in [0.0, last_s] {
            let stage = picture(&read, at_s).expect("as the setup").stage;
            prop_assert_eq!(stage.is_some(), answer.distance_m.is_some());
            let told = format!("{stage:?}");
            prop_assert!(numbers_are_finite(&told), "{request}: {told}");
            // Whoever draws it is sent it as it is, or told why not: lenses such as no phone has see next to nothing.
            if let Some(stage) = stage
                && let Ok(sent) = StageRecord::from(&stage).to_stage()
            {
                prop_assert_eq!(sent, stage, "{}", request);
            }
        }
        if let (Some(near), Some(focus)) = (answer.near_m, answer.focus_m) {
            prop_assert!(0.0 < near && near <= focus, "{request}: {answer:?}");
            prop_assert!(answer.far_m.is_none_or(|far| far >= focus), "{request}: {answer:?}");
        }
        // Their words may hold any letters.
        answer.findings.clear();
        let told = format!("{answer:?}");
        prop_assert!(numbers_are_finite(&told), "{request}: {told}");
    }

    #[test]
    fn any_tree_of_values_is_answered_or_refused_on_one_line(request in any_json(SETUP_FIELDS)) {
        if let Err(refusal) = read::<SetupRequest, _>(&request).and_then(|request| setup(&request)) {
            let line = refusal.to_string();
            prop_assert!(line.len() > 8 && !line.contains(char::is_control), "{request}: {line}");
        }
    }
}
