//! The contract that other people's programs rely on: fields in, figures and findings out.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

use requests::{
    BadRequest, CareRequest, FindingAnswer, PixelsAnswer, SETUP_FIELDS, SetupAnswer, SetupRequest,
    SeverityAnswer, Takes, compare, read, setup,
};
use serde_json::{Value, json};

/// The contract's example.
fn example() -> Value {
    json!({
        "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3,
                 "closest_focus_m": 0.2},
        "recording": {"width_px": 3840, "height_px": 2160, "stabiliser_crop": 1.0},
        "adapter": {"squeeze": 1.33, "focusing": false},
        "delivery": {"aspect": 2.39},
        "subject": {"stature_m": 1.70},
        "shot_size": "medium", "camera_height_m": 1.2, "background_behind_subject_m": 10.0
    })
}

/// The example with one field set to another value; `null` takes it away.
fn with(path: &str, value: Value) -> Value {
    let mut request = example();
    set(&mut request, path, value);
    request
}

/// Sets the field at `path`, making the objects on the way.
/// A name before `[0]` is a list's, of which the first object is meant.
fn set(request: &mut Value, path: &str, value: Value) {
    let mut at = request;
    for name in path.split('.') {
        at = match name.strip_suffix("[0]") {
            Some(list) if at[list].is_null() => {
                at[list] = json!([{}]);
                &mut at[list][0]
            }
            Some(list) => &mut at[list][0],
            None => &mut at[name],
        };
    }
    *at = value;
}

/// The path as it is told, where a list's first object is meant.
fn first_in_lists(path: &str) -> String {
    let path = path.replace(".people.", ".people[0].").replace(".pieces.", ".pieces[0].");
    path.replace(".clear_views.", ".clear_views[0].")
}

fn answer(request: &Value) -> Result<SetupAnswer, BadRequest> {
    setup(&read::<SetupRequest, _>(request)?)
}

fn answered(request: &Value) -> SetupAnswer {
    answer(request).expect("an answer")
}

fn refused(request: &Value) -> String {
    answer(request).expect_err("a refusal").to_string()
}

fn rules(answer: &SetupAnswer) -> Vec<(&str, SeverityAnswer)> {
    answer.findings.iter().map(|finding| (finding.rule.as_str(), finding.severity)).collect()
}

fn known(figure: Option<f64>) -> f64 {
    figure.expect("a figure")
}

fn assert_near(left: f64, right: f64, tolerance: f64) {
    assert!((left - right).abs() <= tolerance, "{left} is not {right} within {tolerance}");
}

/// Every figure of an answer, by name; a new one breaks this.
fn figures(answer: &SetupAnswer) -> Vec<(&'static str, Option<f64>)> {
    let SetupAnswer {
        distance_m,
        distance_sd_m,
        camera_height_m,
        tilt_deg,
        tilt_sd_deg,
        subject_right_deg,
        focus_m,
        subject_depth_m,
        horizontal_fov_deg,
        horizontal_fov_sd_deg,
        vertical_fov_deg,
        vertical_fov_sd_deg,
        delivered_width_px,
        delivered_height_px,
        pixels: _,
        crop_lost_share,
        focal_length_35mm_equivalent_mm,
        circle_of_confusion_mm,
        near_m,
        near_sd_m,
        far_m,
        hyperfocal_m,
        background_blur_px,
        background_blur_width_px,
        background_blur_share,
        subject_blur_px,
        subject_blur_width_px,
        subject_sideways_softness_px,
        adapter_useful_from_m,
        airy_diameter_um,
        face_stretch_share,
        place_width_m,
        cut_height_m,
        headroom_share,
        findings: _,
    } = *answer;
    vec![
        ("distance_m", distance_m),
        ("distance_sd_m", distance_sd_m),
        ("camera_height_m", Some(camera_height_m)),
        ("tilt_deg", tilt_deg),
        ("tilt_sd_deg", tilt_sd_deg),
        ("subject_right_deg", subject_right_deg),
        ("focus_m", focus_m),
        ("subject_depth_m", subject_depth_m),
        ("horizontal_fov_deg", horizontal_fov_deg),
        ("horizontal_fov_sd_deg", horizontal_fov_sd_deg),
        ("vertical_fov_deg", vertical_fov_deg),
        ("vertical_fov_sd_deg", vertical_fov_sd_deg),
        ("delivered_width_px", Some(f64::from(delivered_width_px))),
        ("delivered_height_px", Some(f64::from(delivered_height_px))),
        ("crop_lost_share", Some(crop_lost_share)),
        ("focal_length_35mm_equivalent_mm", Some(focal_length_35mm_equivalent_mm)),
        ("circle_of_confusion_mm", circle_of_confusion_mm),
        ("near_m", near_m),
        ("near_sd_m", near_sd_m),
        ("far_m", far_m),
        ("hyperfocal_m", hyperfocal_m),
        ("background_blur_px", background_blur_px),
        ("background_blur_width_px", background_blur_width_px),
        ("background_blur_share", background_blur_share),
        ("subject_blur_px", subject_blur_px),
        ("subject_blur_width_px", subject_blur_width_px),
        ("subject_sideways_softness_px", subject_sideways_softness_px),
        ("adapter_useful_from_m", adapter_useful_from_m),
        ("airy_diameter_um", airy_diameter_um),
        ("face_stretch_share", face_stretch_share),
        ("place_width_m", place_width_m),
        ("cut_height_m", cut_height_m),
        ("headroom_share", headroom_share),
    ]
}

/// The figures that stand whether or not there is a place to stand.
const WITHOUT_PLACE: [&str; 8] = [
    "camera_height_m",
    "delivered_width_px",
    "delivered_height_px",
    "crop_lost_share",
    "focal_length_35mm_equivalent_mm",
    "circle_of_confusion_mm",
    "hyperfocal_m",
    "airy_diameter_um",
];

#[test]
fn the_example_is_answered_as_worked_out_by_hand() {
    let answer = answered(&example());
    assert_eq!((answer.delivered_width_px, answer.delivered_height_px), (5107, 2136));
    assert_eq!(answer.pixels, PixelsAnswer::StretchedInWidth);
    // The recorded area is 9.8 x 5.5125 mm: diagonal 11.2441 mm, over 1500, and f · 43.2666 / 11.2441.
    assert_near(known(answer.circle_of_confusion_mm), 0.007_496, 1e-6);
    assert_near(answer.focal_length_35mm_equivalent_mm, 26.3970, 1e-3);
    // H = 6.86² / (1.78 · 0.0074960) + 6.86 mm.
    assert_near(known(answer.hyperfocal_m), 3.5338, 1e-3);
    assert_near(known(answer.airy_diameter_um), 2.388_76, 1e-5);
    // tan of the half angles, at v = f s / (s − f): 9.8 · 1.33 / 2v and 9.8 · 1.33 / 2.39 / 2v.
    let s = known(answer.focus_m) * 1000.0;
    let v = 6.86 * s / (s - 6.86);
    let half = |fov: Option<f64>| (known(fov) / 2.0).to_radians().tan();
    assert_near(half(answer.horizontal_fov_deg), 9.8 * 1.33 / 2.0 / v, 1e-12);
    assert_near(half(answer.vertical_fov_deg), 9.8 * 1.33 / 2.39 / 2.0 / v, 1e-12);
    assert_near(known(answer.headroom_share), 0.12, 1e-9);
    assert_near(known(answer.cut_height_m), 0.6015 * 1.70, 1e-9);
    let softness = known(answer.subject_sideways_softness_px);
    let expected = 1.33 * 6.86 * 6.86 / 1.78 * (1.33_f64.powi(2) - 1.0) / (1.33_f64.powi(2) * (s - 6.86))
        * 2160.0
        / 5.5125;
    assert_near(softness, expected, 1e-9);
    assert_eq!(rules(&answer), [("soft_sideways", SeverityAnswer::Warns)]);
}

#[test]
fn a_null_adapter_is_no_adapter() {
    let bare = answered(&with("adapter", Value::Null));
    let mut absent = example();
    absent.as_object_mut().expect("an object").remove("adapter");
    assert_eq!(bare, answered(&absent));
    assert_eq!((bare.delivered_width_px, bare.delivered_height_px), (3840, 1606));
    assert_eq!((bare.pixels, bare.subject_sideways_softness_px), (PixelsAnswer::Captured, Some(0.0)));
    assert!(bare.findings.is_empty(), "{:?}", bare.findings);
}

#[test]
fn an_adapter_cannot_focus_unless_it_says_so() {
    assert_eq!(answered(&with("adapter", json!({"squeeze": 1.33}))), answered(&example()));
    let focusing = answered(&with("adapter.focusing", json!(true)));
    assert_eq!(focusing.subject_sideways_softness_px, Some(0.0));
    assert_near(known(focusing.background_blur_px), known(focusing.background_blur_width_px) * 1.33, 1e-9);
}

#[test]
fn a_shape_may_be_text() {
    let text = answered(&with("delivery.aspect", json!("16:9")));
    let number = answered(&with("delivery.aspect", json!(16.0 / 9.0)));
    assert_eq!(text, number);
}

#[test]
fn without_a_height_the_size_gives_one() {
    let answer = answered(&with("camera_height_m", Value::Null));
    assert_near(answer.camera_height_m, 0.727 * 1.70, 1e-12);
}

#[test]
fn a_height_in_words_is_the_landmarks() {
    let mut request = with("camera_height_m", Value::Null);
    set(&mut request, "camera_height", json!("eyes"));
    assert_near(answered(&request).camera_height_m, 0.934 * 1.70, 1e-12);
    set(&mut request, "camera_height_m", json!(1.2));
    assert_eq!(refused(&request), "camera_height: stands beside camera_height_m; give one of the two");
}

#[test]
fn zoom_and_stabiliser_narrow_the_view() {
    let whole = answered(&example());
    for field in ["recording.in_sensor_zoom", "recording.stabiliser_crop"] {
        let narrowed = answered(&with(field, json!(2.0)));
        assert!(known(narrowed.distance_m) > 1.9 * known(whole.distance_m), "{field}: {narrowed:?}");
        let ratio = narrowed.focal_length_35mm_equivalent_mm / whole.focal_length_35mm_equivalent_mm;
        assert_near(ratio, 2.0, 1e-12);
    }
}

#[test]
fn a_measured_view_replaces_what_follows_from_the_sensor() {
    let mut request = with("adapter", Value::Null);
    set(&mut request, "recording.measured_horizontal_fov_deg", json!(60.0));
    let answer = answered(&request);
    // Measured far away, the image distance was f; focused nearer it grows to v = f s / (s − f).
    let s = known(answer.focus_m) * 1000.0;
    let expected = 2.0 * (30.0_f64.to_radians().tan() * (s - 6.86) / s).atan().to_degrees();
    assert_near(known(answer.horizontal_fov_deg), expected, 1e-9);
}

#[test]
fn a_seated_person_is_framed_lower_and_a_second_one_wider() {
    let mut seated = with("subject.posture", json!("seated"));
    set(&mut seated, "camera_height_m", Value::Null);
    let standing = answered(&with("camera_height_m", Value::Null));
    assert!(answered(&seated).camera_height_m < standing.camera_height_m - 0.3);
    let pair = answered(&with("subject.second_person", json!({"stature_m": 1.9, "apart_m": 4.0})));
    assert!(known(pair.distance_m) > known(standing.distance_m), "{pair:?}");
    assert!(rules(&pair).contains(&("width_binds", SeverityAnswer::Notes)), "{pair:?}");
    let over = json!({"arrangement": "over_shoulder", "apart_m": 5.0});
    let past = answered(&with("subject.second_person", over));
    assert!(rules(&past).contains(&("in_front_of_shoulder", SeverityAnswer::Fails)), "{past:?}");
}

#[test]
fn headroom_is_as_asked() {
    let answer = answered(&with("delivery.headroom_share", json!(-0.1)));
    assert_near(known(answer.headroom_share), -0.1, 1e-9);
}

#[test]
fn a_fixed_look_keeps_its_tilt() {
    let answer = answered(&with("look_tilt_deg", json!(-3.0)));
    assert_near(known(answer.tilt_deg), -3.0, 1e-12);
    assert_eq!(answer.tilt_sd_deg, Some(0.0));
}

#[test]
fn a_fixed_place_keeps_its_distance() {
    let answer = answered(&with("stand_at_m", json!(4.0)));
    assert_near(known(answer.distance_m), 4.0, 1e-12);
    assert!(known(answer.cut_height_m) < 0.5, "{answer:?}");
}

#[test]
fn an_upright_recording_swaps_the_sensors_sides() {
    let mut request = with("recording", json!({"width_px": 2160, "height_px": 3840}));
    set(&mut request, "adapter", Value::Null);
    set(&mut request, "delivery.aspect", json!("9:16"));
    let answer = answered(&request);
    assert_eq!((answer.delivered_width_px, answer.delivered_height_px), (2160, 3840));
    let s = known(answer.focus_m) * 1000.0;
    let v = 6.86 * s / (s - 6.86);
    assert_near((known(answer.vertical_fov_deg) / 2.0).to_radians().tan(), 9.8 / 2.0 / v, 1e-12);
}

#[test]
fn an_insert_is_framed_by_its_objects_size() {
    let mut request = with("shot_size", json!("insert"));
    set(&mut request, "camera_height_m", Value::Null);
    set(&mut request, "adapter", Value::Null);
    assert_eq!(
        refused(&request),
        "insert_size_m: is missing: an insert needs the size of its object, 0.005 to 20 m"
    );
    set(&mut request, "insert_size_m", json!(0.3));
    request.as_object_mut().expect("an object").remove("subject");
    let answer = answered(&request);
    // 0.12 of the frame is free above and below.
    let held = known(answer.focus_m) * 2.0 * (known(answer.vertical_fov_deg) / 2.0).to_radians().tan();
    assert_near(held * 0.76, 0.3, 1e-6);
    assert_eq!(answer.face_stretch_share, None);
}

#[test]
fn an_insert_is_as_high_as_its_object_is_said_to_be() {
    let asked = |above_floor_m: Option<f64>| {
        let mut request = with("shot_size", json!("insert"));
        set(&mut request, "camera_height_m", Value::Null);
        set(&mut request, "adapter", Value::Null);
        set(&mut request, "insert_size_m", json!(0.3));
        set(&mut request, "insert_above_floor_m", json!(above_floor_m));
        answered(&request)
    };
    // A phone by the size is level with the object's middle; a table is 0.75 m high: common practice.
    for (above_floor_m, expected_m) in [(None, 0.9), (Some(0.0), 0.15), (Some(1.1), 1.25)] {
        let answer = asked(above_floor_m);
        assert_near(answer.camera_height_m, expected_m, 1e-12);
        assert_near(known(answer.distance_m), known(asked(None).distance_m), 1e-9);
    }
}

#[test]
fn a_framing_that_cannot_be_had_has_null_figures_and_a_finding() {
    let answer = answered(&with("camera_height_m", json!(30.0)));
    for (name, figure) in figures(&answer) {
        assert_eq!(figure.is_some(), WITHOUT_PLACE.contains(&name), "{name}: {figure:?}");
    }
    let [FindingAnswer { rule, severity: SeverityAnswer::Fails, message, hint }] = answer.findings.as_slice()
    else {
        panic!("{:?}", answer.findings)
    };
    assert_eq!(rule, "no_framing_from_height");
    assert!(message.starts_with("no distance gives this size from 30.00 m high"), "{message}");
    assert!(hint.contains("put the phone between"), "{hint}");
}

#[test]
fn what_only_stands_in_the_way_keeps_the_figures() {
    let near = answered(&with("lens.closest_focus_m", json!(50.0)));
    assert!(rules(&near).contains(&("too_near_to_focus", SeverityAnswer::Fails)), "{near:?}");
    let cramped = answered(&with("room_m", json!(0.3)));
    assert!(rules(&cramped).contains(&("no_room", SeverityAnswer::Fails)), "{cramped:?}");
    let mut misfit = with("lens.name", json!("long"));
    set(&mut misfit, "adapter.fits", json!(["main"]));
    let misfit = answered(&misfit);
    assert!(rules(&misfit).contains(&("adapter_does_not_fit", SeverityAnswer::Fails)), "{misfit:?}");
    let plain = answered(&example());
    for answer in [near, cramped, misfit] {
        assert_eq!(figures(&answer), figures(&plain));
    }
}

#[test]
fn nothing_is_told_about_the_sharpness_of_a_subject_within_the_focal_length() {
    let mut request = with("lens.focal_length_mm", json!(600.0));
    set(&mut request, "stand_at_m", json!(0.3));
    let answer = answered(&request);
    assert!(rules(&answer).contains(&("too_near_to_focus", SeverityAnswer::Fails)), "{answer:?}");
    assert!(answer.distance_m.is_some() && answer.near_m.is_none() && answer.background_blur_px.is_none());
}

#[test]
fn a_view_said_to_be_measured_from_within_the_lens_counts_as_measured_far_away() {
    let mut request = with("recording.measured_horizontal_fov_deg", json!(60.0));
    set(&mut request, "lens.focal_length_mm", json!(60.0));
    let far = answered(&request);
    set(&mut request, "recording.measured_at_m", json!(0.06));
    assert_eq!(answered(&request), far);
}

#[test]
fn a_second_shape_warns_of_who_falls_outside() {
    let mut request = with("delivery.protect_aspect", json!("9:16"));
    set(&mut request, "across_share", json!(0.1));
    assert!(rules(&answered(&request)).contains(&("outside_protected", SeverityAnswer::Warns)));
    set(&mut request, "across_share", json!(0.5));
    assert!(!rules(&answered(&request)).iter().any(|(rule, _)| *rule == "outside_protected"));
}

#[test]
fn a_lens_known_by_its_equivalent_alone_frames_but_tells_no_sharpness() {
    let answer = answered(&with("lens", json!({"focal_length_35mm_equivalent_mm": 24.0})));
    assert!(answer.distance_m.is_some() && answer.near_m.is_none() && answer.background_blur_px.is_none());
    assert!(rules(&answer).contains(&("needs_focal_length", SeverityAnswer::Notes)), "{answer:?}");
}

#[test]
fn unknown_fields_are_refused_by_name_at_every_level() {
    for path in
        ["colour", "lens.colour", "recording.colour", "adapter.colour", "delivery.colour", "subject.colour"]
    {
        let told = refused(&with(path, json!(1)));
        assert!(told.starts_with(&format!("{path}: is not a field here: ")), "{told}");
    }
}

#[test]
fn every_field_is_held_to_the_range_that_is_told() {
    // What has to stand beside a field for its check to be reached.
    let beside = |path: &str| match path {
        "insert_size_m" => vec![("shot_size", json!("insert"))],
        "insert_above_floor_m" => vec![("shot_size", json!("insert")), ("insert_size_m", json!(0.3))],
        "camera_height" => vec![("camera_height_m", Value::Null)],
        _ if path.starts_with("recording.measured_") => {
            vec![("recording.measured_horizontal_fov_deg", json!(60.0))]
        }
        "adapter.measured_squeeze_sd" => vec![("adapter.measured_squeeze", json!(1.3))],
        _ if path.starts_with("adapter.clear_views[0].") => {
            vec![("adapter.clear_views[0]", json!({"lens": "main", "recording": "4K", "clear_share": 0.9}))]
        }
        _ if path.starts_with("take.pull.") => vec![("take.pull", json!({"from_m": 1.0, "to_m": 2.0}))],
        _ if path.starts_with("blocking.second.") => {
            vec![("blocking.second", json!({"x_m": 1.0, "y_m": 2.0, "facing_deg": 270.0}))]
        }
        _ if path.starts_with("blocking.people[0].") => {
            vec![("blocking.people[0]", json!({"x_m": 1.0, "y_m": 2.0}))]
        }
        _ if path.starts_with("blocking.pieces[0].") => {
            vec![("blocking.pieces[0]", json!({"kind": "tree", "x_m": 1.0, "y_m": 2.0}))]
        }
        _ if path.starts_with("blocking.foreground.") => {
            vec![("blocking.foreground", json!({"kind": "plant", "ahead_m": 0.5, "right_m": 0.2}))]
        }
        _ if path.starts_with("blocking.light.sun.") => {
            vec![("blocking.light", json!({"sun": {"azimuth_deg": 90.0, "elevation_deg": 20.0}}))]
        }
        "blocking.light.sun" => vec![("blocking.light", json!({}))],
        _ => Vec::new(),
    };
    let check = |path: &str, value: Value| {
        let mut request = example();
        for (other, value) in beside(path) {
            set(&mut request, other, value);
        }
        set(&mut request, path, value);
        answer(&request)
    };
    let mut checked = 0;
    for field in SETUP_FIELDS {
        let path = first_in_lists(field.path);
        let path = path.as_str();
        let (min, max, unit) = match field.takes {
            // Their bounds are other fields' values.
            Takes::Number { .. } if path.ends_with("_sd_mm") => continue,
            Takes::Number { min, max, unit } => (min, max, unit),
            Takes::Whole { min, max, unit } => (f64::from(min), f64::from(max), unit),
            Takes::Words(words) => {
                for word in words.iter().filter(|word| **word != "insert") {
                    assert!(check(path, json!(word)).is_ok(), "{path}: {word}");
                }
                let told = check(path, json!("nonsense")).expect_err(path).to_string();
                assert_eq!(told, format!("{path}: \"nonsense\" is not allowed: {}", field.takes));
                continue;
            }
            Takes::Flag
            | Takes::Text
            | Takes::Aspect
            | Takes::Colour
            | Takes::Light
            | Takes::List
            | Takes::Objects(_)
            | Takes::Object => {
                let told =
                    check(path, json!(if field.takes == Takes::Text { json!(5) } else { json!([[]]) }));
                assert!(told.expect_err(path).to_string().starts_with(path), "{path}");
                continue;
            }
        };
        for inside in [min, max] {
            if let Err(error) = check(path, json!(inside)) {
                panic!("{path}: {inside} is told to be allowed: {error}");
            }
        }
        // Whole numbers have to stay whole to reach the check of their range.
        let step = if matches!(field.takes, Takes::Whole { .. }) { 1.0 } else { (max - min) * 1e-6 };
        for outside in [min - step, max + step] {
            let told = check(path, json!(outside)).expect_err(path).to_string();
            assert!(told.contains(&format!(" is not allowed: {min} to {max} {unit}")), "{path}: {told}");
            assert!(told.starts_with(&format!("{path}: {outside} ")), "{path}: {told}");
        }
        checked += 1;
    }
    assert!(checked > 50, "{checked} ranges");
}

#[test]
fn a_comparison_shows_every_lens_zoom_and_adapter_and_sorts() {
    let kit = json!({
        "lenses": [
            {"name": "wide", "focal_length_mm": 2.2, "focal_length_35mm_equivalent_mm": 13.0, "f_number": 2.2},
            {"name": "main", "focal_length_mm": 6.8, "focal_length_35mm_equivalent_mm": 24.0, "f_number": 1.8,
             "in_sensor_zooms": [2.0]}
        ],
        "recordings": [{"name": "4K", "width_px": 3840, "height_px": 2160}],
        "adapters": [{"name": "clip-on", "squeeze": 1.33, "fits": ["main"]}]
    });
    let kit = read(&kit).expect("a kit");
    let mut request = with("lens", Value::Null);
    set(&mut request, "recording", Value::Null);
    let request: SetupRequest = read(&request).expect("a request");
    let compared = compare(&kit, &request, None).expect("an answer");
    let rows: Vec<_> = compared
        .lenses
        .iter()
        .map(|row| (row.lens.as_str(), row.in_sensor_zoom, row.adapter.as_deref(), row.will_do))
        .collect();
    let on = Some("clip-on");
    assert_eq!(
        rows,
        [
            ("wide", 1.0, None, true),
            ("main", 1.0, None, true),
            ("main", 2.0, None, true),
            ("wide", 1.0, on, false),
            ("main", 1.0, on, true),
            ("main", 2.0, on, true)
        ]
    );
    assert_eq!(compared.recording, "4K");
    let sorted = compare(&kit, &request, Some(CareRequest::NaturalFace)).expect("an answer");
    let stretch: Vec<_> = sorted
        .lenses
        .iter()
        .filter(|row| row.will_do)
        .map(|row| known(row.setup.face_stretch_share))
        .collect();
    assert!(stretch.is_sorted(), "{stretch:?}");
    assert!(!sorted.lenses.last().expect("rows").will_do);
}

#[test]
fn an_error_in_a_kit_says_so() {
    let kit = read(json!({"lenses": [{"focal_length_mm": 6.8}]})).expect("a kit");
    let request: SetupRequest = read(example()).expect("a request");
    let told = compare(&kit, &request, None).expect_err("no sensor").to_string();
    assert!(told.starts_with("kit.lenses[0].sensor_width_mm: is missing: "), "{told}");
}
