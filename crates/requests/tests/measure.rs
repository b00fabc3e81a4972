//! The contract of `measure`: frames in, an angle with its uncertainty out; refusals name field, value, range and unit.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "generated/any_json.rs"]
mod any_json;

use any_json::any_json;
use proptest::prelude::*;
use requests::{MEASURE_FIELDS, MeasureAnswer, MeasureRequest, SeverityAnswer, Takes, measure, read, setup};
use serde_json::{Value, json};

/// The contract's example.
fn example() -> Value {
    json!({
        "known_width_m": 0.90, "known_width_sd_m": 0.002, "distance_m": 2.40, "distance_sd_m": 0.01,
        "ends_px": [812.0, 3015.0], "end_sd_px": 2.0, "image_width_px": 3840
    })
}

/// Two frames of one door and one of a sheet, with a photo and a circle.
fn several() -> Value {
    let door = |distance: f64, ends: [f64; 2]| {
        json!({"known_width_m": 0.90, "known_width_sd_m": 0.002, "distance_m": distance, "ends_px": ends,
               "image_width_px": 3840, "thing": "door"})
    };
    json!({
        "frames": [
            door(2.40, [812.0, 3015.0]),
            {"known_width_m": 0.297, "distance_m": 0.80, "ends_px": [900.0, 3081.0], "image_width_px": 3840},
            door(1.50, [200.0, 3720.0])
        ],
        "focal_length_mm": 6.86, "photo_horizontal_fov_deg": 76.0, "photo_horizontal_fov_sd_deg": 0.4,
        "circle": {"left_px": 500.0, "right_px": 800.0, "top_px": 100.0, "bottom_px": 499.0}
    })
}

fn answered(request: &Value) -> Result<MeasureAnswer, String> {
    let request: Result<MeasureRequest, _> = read(request);
    request.and_then(|request| measure(&request)).map_err(|error| error.to_string())
}

/// A request with a field set to another value; `null` takes it away.
fn with(mut request: Value, pointer: &str, value: Value) -> Value {
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer");
    let parent = request.pointer_mut(parent).expect("an object").as_object_mut().expect("an object");
    if value.is_null() {
        parent.remove(name);
    } else {
        parent.insert(name.to_owned(), value);
    }
    request
}

fn refused(request: Value, pointer: &str, value: Value) -> String {
    answered(&with(request, pointer, value)).expect_err(pointer)
}

fn near(ours: Option<f64>, expected: f64, tolerance: f64) {
    let ours = ours.expect("a figure");
    assert!((ours - expected).abs() <= tolerance, "{ours} is not {expected} within {tolerance}");
}

#[test]
fn the_example_is_answered_as_worked_out_by_hand() {
    let answer = answered(&example()).expect("an answer");
    let t = 1920.0 / (2.40 * 2203.0 / 0.90);
    near(answer.horizontal_fov_deg, 2.0 * f64::atan(t).to_degrees(), 1e-9);
    let relative =
        ((0.002_f64 / 0.9).powi(2) + (0.01_f64 / 2.4).powi(2) + 2.0 * (2.0_f64 / 2203.0).powi(2)).sqrt();
    near(answer.horizontal_fov_sd_deg, (2.0 * t / (1.0 + t * t) * relative).to_degrees(), 1e-9);
    near(answer.at_m, 2.4, 1e-12);
    near(answer.birge_ratio, 1.0, 0.0);
    assert_eq!((answer.crop_over_photo, answer.squeeze, answer.findings.len()), (None, None, 0));
}

#[test]
fn one_frame_in_a_list_is_the_same_as_without_one_and_ends_may_be_swapped() {
    let plain = answered(&example());
    assert_eq!(answered(&json!({"frames": [example()]})), plain);
    assert_eq!(answered(&with(example(), "/ends_px", json!([3015.0, 812.0]))), plain);
}

#[test]
fn several_frames_a_photo_and_a_circle_are_answered_together() {
    let answer = answered(&several()).expect("an answer");
    assert_eq!(answer.frames.len(), 3);
    let fovs: Vec<_> = answer.frames.iter().map(|frame| frame.horizontal_fov_deg).collect();
    let by_hand = |w: f64, d: f64, u: f64| 2.0 * f64::atan(3840.0 * w / (2.0 * d * u)).to_degrees();
    for (ours, expected) in
        fovs.iter().zip([by_hand(0.9, 2.4, 2203.0), by_hand(0.297, 0.8, 2181.0), by_hand(0.9, 1.5, 3520.0)])
    {
        near(Some(*ours), expected, 1e-9);
    }
    let seen = answer.horizontal_fov_deg.expect("an angle");
    let tan = |degrees: f64| f64::tan(degrees.to_radians() / 2.0);
    near(answer.crop_over_photo, tan(76.0) / tan(seen), 1e-9);
    assert!(answer.crop_over_photo_sd.is_some_and(|sd| sd > 0.0), "{answer:?}");
    near(answer.squeeze, 1.33, 1e-12);
    near(answer.squeeze_sd, 1.33 * 2.0 * (2.0 / 90_000.0 + 2.0 / 159_201.0_f64).sqrt(), 1e-12);
}

#[test]
fn frames_of_one_thing_share_its_width_and_those_of_others_do_not() {
    let frames = |names: [Option<&str>; 2]| {
        let frames = names.map(|name| with(example(), "/thing", json!(name)));
        answered(&json!({"frames": frames})).expect("an answer").horizontal_fov_sd_deg.expect("an sd")
    };
    let shared = frames([Some("door"), Some("door")]);
    let apart = frames([Some("door"), Some("other door")]);
    assert!(shared > apart * 1.05, "{shared} {apart}");
    assert!((frames([None, None]) - apart).abs() < 1e-12, "without a name each is its own");
}

#[test]
fn frames_that_disagree_are_a_finding_and_widen_the_answer() {
    let frames = |second: f64| {
        let other = with(example(), "/ends_px", json!([812.0, second]));
        answered(&json!({"frames": [example(), other]})).expect("an answer")
    };
    assert!(frames(3016.0).findings.is_empty(), "{:?}", frames(3016.0));
    let off = frames(3200.0);
    let [finding] = off.findings.as_slice() else { panic!("{off:?}") };
    assert_eq!((finding.rule.as_str(), finding.severity), ("frames_disagree", SeverityAnswer::Warns));
    assert!(off.birge_ratio > Some(2.0) && off.horizontal_fov_sd_deg > frames(3016.0).horizontal_fov_sd_deg);
}

#[test]
fn more_than_the_photo_is_doubted() {
    let answer = answered(&with(example(), "/photo_horizontal_fov_deg", json!(30.0))).expect("an answer");
    assert_eq!(answer.findings.first().map(|finding| finding.rule.as_str()), Some("wider_than_photo"));
}

#[test]
fn what_is_wrong_is_told_in_words() {
    let flat = |pointer, value| refused(example(), pointer, value);
    assert_eq!(
        flat("/ends_px", json!([812.0, 812.0])),
        "ends_px: both ends are at 812 px: put one on each end"
    );
    assert_eq!(flat("/ends_px", json!([812.0, 3841.0])), "ends_px[1]: 3841 px is not allowed: 0 to 3840 px");
    assert_eq!(flat("/ends_px", json!([812.0])), "ends_px: 1 ends are not allowed: 2 ends");
    assert_eq!(flat("/ends_px", json!([812.0, "NaN"])), "ends_px[1]: \"NaN\" is not allowed: 0 to 20000 px");
    assert_eq!(flat("/ends_px", json!(812.0)), "ends_px: 812 is not allowed: a list");
    assert_eq!(flat("/distance_m", json!(-1.0)), "distance_m: -1 m is not allowed: 0.05 to 1000 m");
    assert_eq!(flat("/distance_m", Value::Null), "distance_m: is missing: 0.05 to 1000 m");
    assert_eq!(flat("/distance_sd_m", json!(3.0)), "distance_sd_m: 3 m is not allowed: 0 to 2.4 m");
    assert_eq!(flat("/known_width_sd_m", json!(-0.1)), "known_width_sd_m: -0.1 m is not allowed: 0 to 0.9 m");
    assert_eq!(
        flat("/known_width_m", json!("wide")),
        "known_width_m: \"wide\" is not allowed: 0.01 to 100 m"
    );
    assert_eq!(
        flat("/image_width_px", json!(3.5)),
        "image_width_px: 3.5 is not allowed: 16 to 20000 px, whole"
    );
    assert_eq!(
        flat("/frames", json!([example()])),
        "frames: stands beside known_width_m; give one of the two"
    );
    assert!(flat("/width_m", json!(1.0)).starts_with("width_m: is not a field here: known_width_m, "));
    assert_eq!(
        answered(&json!({})).expect_err("refused"),
        "known_width_m: is missing: 0.01 to 100 m, or a list of frames, or a circle"
    );
    let told = flat("/distance_m", json!(900.0));
    assert!(told.starts_with("horizontal_fov_deg: 0.09"), "{told}");
    assert!(told.ends_with("deg is not allowed: 1 to 170 deg"), "{told}");

    let listed = |pointer, value| refused(several(), pointer, value);
    assert_eq!(
        listed("/frames/1/ends_px", json!([5.0, 4000.0])),
        "frames[1].ends_px[1]: 4000 px is not allowed: 0 to 3840 px"
    );
    assert_eq!(
        listed("/frames/1/distance_m", Value::Null),
        "frames[1].distance_m: is missing: 0.05 to 1000 m"
    );
    assert_eq!(
        listed("/frames/2/known_width_m", json!(0.91)),
        "frames[2].known_width_m: is another than in frames[0]: frames of one thing share its width, or give it another name"
    );
    assert_eq!(
        listed("/photo_horizontal_fov_deg", Value::Null),
        "photo_horizontal_fov_deg: is missing beside photo_horizontal_fov_sd_deg"
    );
    let told = listed("/circle/squeezed_axis", json!("height"));
    assert!(told.starts_with("circle.squeezed_axis: gives a squeeze of 0.75"), "{told}");
    let many = json!({"frames": vec![example(); 65]});
    assert_eq!(answered(&many).expect_err("refused"), "frames: 65 frames are not allowed: 1 to 64 frames");
}

#[test]
fn every_field_is_held_to_the_range_that_is_told() {
    let mut checked = 0;
    for field in MEASURE_FIELDS {
        let (min, max, unit) = match field.takes {
            // Their bounds are other fields' values, and the tests above look at them.
            Takes::Number { .. } if field.path.contains("_sd") || field.path.ends_with("[]") => continue,
            // No pair of edges can be at both ends of their range, so only what is beyond is looked at.
            Takes::Number { min, max, unit } => (min, max, unit),
            Takes::Whole { min, max, unit } => (f64::from(min), f64::from(max), unit),
            Takes::Words(words) => {
                let told = refused(several(), &pointer(field.path), json!("nonsense"));
                assert_eq!(told, format!("{}: \"nonsense\" is not allowed: {}", field.path, field.takes));
                assert_eq!(words, ["width", "height"]);
                continue;
            }
            Takes::Flag
            | Takes::Text
            | Takes::Aspect
            | Takes::Colour
            | Takes::Light
            | Takes::List
            | Takes::Objects(_)
            | Takes::Object => continue,
        };
        let flat = !field.path.starts_with("frames.") && with_flat(field.path);
        let request = || if flat { example() } else { several() };
        let path = field.path.replace("frames.", "frames[1].");
        let step = if matches!(field.takes, Takes::Whole { .. }) { 1.0 } else { (max - min) * 1e-6 };
        for outside in [min - step, max + step] {
            let told = refused(request(), &pointer(field.path), json!(outside));
            assert_eq!(told, format!("{path}: {outside} {unit} is not allowed: {min} to {max} {unit}"));
        }
        checked += 1;
    }
    assert!(checked >= 13, "{checked} ranges");
}

/// Whether a field is of the form without a list.
fn with_flat(path: &str) -> bool {
    example().as_object().is_some_and(|fields| fields.contains_key(path))
}

/// Where a field is in a request; of a list the second entry is meant.
fn pointer(path: &str) -> String {
    format!("/{}", path.replace("frames.", "frames.1.").replace('.', "/"))
}

/// What a setup finds of dark corners, and the tangent that it sees to a side, through an adapter of which more is known.
fn through(adapter: &Value, aspect: f64) -> (Option<String>, f64) {
    let mut clip_on = json!({"squeeze": 1.33, "focusing": true, "vignettes": ["main"]});
    for (name, value) in adapter.as_object().expect("an object") {
        clip_on[name] = value.clone();
    }
    let request = json!({
        "lens": {"name": "main", "focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3},
        "recording": {"name": "4K", "width_px": 3840, "height_px": 2160}, "adapter": clip_on,
        "delivery": {"aspect": aspect}, "subject": {"stature_m": 1.7}, "shot_size": "medium", "stand_at_m": 3.0,
        "focus_at_m": 3.0, "background_behind_subject_m": 10.0
    });
    let answer = setup(&read(&request).expect("a request")).expect("an answer");
    let dark = answer.findings.iter().find(|finding| finding.rule == "adapter_vignettes");
    let half = answer.horizontal_fov_deg.expect("an angle").to_radians() / 2.0;
    (dark.map(|finding| finding.message.clone()), half.tan())
}

#[test]
fn a_measured_squeeze_is_what_a_setup_counts_with() {
    let (_, sold) = through(&json!({}), 2.0);
    let (_, measured) = through(&json!({"measured_squeeze": 1.25}), 16.0 / 9.0 * 1.25);
    let (_, whole) = through(&json!({}), 16.0 / 9.0 * 1.33);
    assert!(sold < whole, "{sold} {whole}");
    near(Some(measured / whole), 1.25 / 1.33, 1e-9);
}

#[test]
fn measured_corners_say_how_much_of_the_crop_is_dark_or_that_none_is() {
    let clear =
        |share: f64| json!({"clear_views": [{"lens": "main", "recording": "4K", "clear_share": share}]});
    assert_eq!(through(&json!({}), 2.39).0.as_deref(), Some("the adapter darkens the corners on this lens"));
    let dark = through(&clear(0.8), 2.39).0.expect("dark corners");
    assert_eq!(
        dark,
        "the adapter darkens the corners on this lens: up to 14 % of the frame by a stop or more"
    );
    assert!(through(&clear(0.96), 2.39).0.is_some_and(|dark| dark.contains("less than 1 %")));
    // Cut to three times as wide as high, the frame ends 0.953 of the way to the corners.
    assert_eq!(through(&clear(0.96), 3.0).0, None);
    assert_eq!(through(&clear(1.0), 2.39).0, None, "what was seen counts before the name in the list");
}

/// Requests whose numbers are within what is told.
fn within_the_ranges() -> impl Strategy<Value = Value> {
    let frame = (
        (0.01..100.0_f64, 0.0..=1.0_f64, 0.05..1000.0_f64, 0.0..=1.0_f64),
        (0.0..=1.0_f64, 0.0..=1.0_f64, 0.0..50.0_f64, 16..=20_000_u32),
        prop::option::of(0..3_u8),
    )
        .prop_map(|((width, width_sd, distance, distance_sd), (one, other, sd, image), thing)| {
            // A thing's frames have one width, so names go with widths.
            let width = thing.map_or(width, |thing| f64::from(thing) + 0.5);
            let mut frame = json!({
                "known_width_m": width, "distance_m": distance, "distance_sd_m": distance * distance_sd,
                "ends_px": [one * f64::from(image), other * f64::from(image)], "end_sd_px": sd, "image_width_px": image
            });
            match thing {
                Some(thing) => frame["thing"] = json!(format!("thing {thing}")),
                None => frame["known_width_sd_m"] = json!(width * width_sd),
            }
            frame
        });
    let frames = prop::collection::vec(frame, 1..6);
    let photo = prop::option::of((1.0..=170.0_f64, 0.0..=1.0_f64));
    (frames, photo, prop::option::of(0.1..2000.0_f64)).prop_map(|(frames, photo, focal)| {
        let mut request = json!({ "frames": frames });
        if let Some((degrees, share)) = photo {
            request["photo_horizontal_fov_deg"] = json!(degrees);
            request["photo_horizontal_fov_sd_deg"] = json!(degrees * share);
        }
        if let Some(focal) = focal {
            request["focal_length_mm"] = json!(focal);
        }
        request
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1024))]

    #[test]
    fn any_frames_within_the_told_ranges_are_answered_in_finite_numbers_or_refused_by_name(
        request in within_the_ranges(),
    ) {
        match answered(&request) {
            Ok(mut answer) => {
                answer.findings.clear();
                let told = format!("{answer:?}");
                prop_assert!(!told.contains("NaN") && !told.contains("inf"), "{request}: {told}");
                prop_assert!(answer.birge_ratio >= Some(1.0) && answer.horizontal_fov_sd_deg >= Some(0.0));
            }
            // Ends that are all but one place, and angles that no phone has.
            Err(told) => prop_assert!(
                told.starts_with("horizontal_fov_deg: ") || told.contains("].ends_px: ") || told.contains("].end_sd_px: "),
                "{request}: {told}"
            ),
        }
    }

    #[test]
    fn any_tree_of_values_is_answered_or_refused_on_one_line(request in any_json(MEASURE_FIELDS)) {
        if let Err(line) = answered(&request) {
            prop_assert!(line.len() > 8 && !line.contains(char::is_control), "{request}: {line}");
        }
    }
}
