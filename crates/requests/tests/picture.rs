//! What surrounds a shot and what moves in it: fields in, a stage and findings out.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

use requests::{BadRequest, Pictured, SetupRequest, SeverityAnswer, StageRecord, picture, read, setup};
use serde_json::{Value, json};
use staging::{Colour, Light, PieceKind, Stance};

/// A medium shot on a phone's main lens, with these fields beside.
fn with(fields: &Value) -> Value {
    let mut request = json!({
        "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3,
                 "closest_focus_m": 0.2},
        "recording": {"width_px": 3840, "height_px": 2160},
        "delivery": {"aspect": 2.39},
        "subject": {"stature_m": 1.70},
        "shot_size": "medium", "camera_height_m": 1.2, "background_behind_subject_m": 10.0
    });
    let beside = fields.as_object().expect("an object").clone();
    request.as_object_mut().expect("an object").extend(beside);
    request
}

fn pictured(fields: &Value, at_s: f64) -> Result<Pictured, BadRequest> {
    picture(&read::<SetupRequest, _>(with(fields))?, at_s)
}

fn refused(fields: &Value) -> String {
    pictured(fields, 0.0).expect_err("a refusal").to_string()
}

/// The findings, each as its rule, severity, message and hint.
fn found(fields: &Value) -> Vec<(String, SeverityAnswer, String, String)> {
    let request: SetupRequest = read(with(fields)).expect("a request");
    let findings = setup(&request).expect("an answer").findings;
    findings.into_iter().map(|it| (it.rule, it.severity, it.message, it.hint)).collect()
}

fn rules(fields: &Value) -> Vec<String> {
    found(fields).into_iter().map(|(rule, ..)| rule).collect()
}

#[test]
fn without_blocking_there_is_the_subject_before_posts() {
    let Pictured { result, stage } = pictured(&json!({}), 0.0).expect("a picture");
    let tilt = result.outcome.expect("a framing").tilt;
    let stage = stage.expect("a framing");
    assert_eq!((stage.people.len(), stage.pieces.len(), stage.object), (1, 0, None));
    let posts = stage.posts.expect("a bare floor");
    // 10 m behind the subject along the axis, which is tilted.
    assert!((posts.middle.y - 10.0 / tilt.cos()).abs() < 1e-9 && posts.middle.x.abs() < 1e-9, "{posts:?}");
    assert!((stage.exposure_s - 1.0 / 48.0).abs() < 1e-15);
    assert_eq!(stage.opens, stage.closes);
}

#[test]
fn blocking_puts_everything_where_it_says() {
    let blocking = json!({
        "phone_bearing_deg": 90, "facing_deg": 120, "walking": true, "step_share": 0.25, "clothes": "#ffffff",
        "people": [{"x_m": -2, "y_m": 3.5, "posture": "seated", "age": "child", "stature_m": 1.2}],
        "pieces": [{"kind": "lamp_post", "x_m": -4, "y_m": 1, "height_m": 5, "facing_deg": 0}],
        "foreground": {"kind": "plant", "ahead_m": 0.5, "right_m": 0.3},
        "light": {"sun": {"azimuth_deg": 200, "elevation_deg": 12}}
    });
    let stage = pictured(&json!({ "blocking": blocking }), 0.0).expect("a picture").stage.expect("a framing");
    assert_eq!(StageRecord::from(&stage).to_stage().as_ref(), Ok(&stage));
    assert!(stage.opens.position().x > 0.5 && stage.opens.position().y.abs() < 1e-9, "{:?}", stage.opens);
    let [subject, child] = stage.people.as_slice() else { panic!("{:?}", stage.people) };
    assert_eq!((subject.stance, subject.clothes), (Stance::Walking(0.25), Colour([1.0; 3])));
    assert!((subject.facing.to_deg() - 120.0).abs() < 1e-9);
    assert!((child.place.x + 2.0).abs() < 1e-12 && (child.place.y - 3.5).abs() < 1e-12);
    // Nobody said how they face: the phone's way.
    assert!((child.facing.to_deg() - 90.0).abs() < 1e-9);
    let [lamp, plant] = stage.pieces.as_slice() else { panic!("{:?}", stage.pieces) };
    let usual = PieceKind::LampPost.usual_size();
    assert_eq!(
        (lamp.kind, lamp.size.width, plant.kind),
        (PieceKind::LampPost, usual.width, PieceKind::Plant)
    );
    assert!((lamp.size.height.to_m() - 5.0).abs() < 1e-12);
    assert!(plant.place.x > 0.2, "between phone and subject: {plant:?}");
    let Light::Sun { azimuth, elevation } = stage.light else { panic!("{:?}", stage.light) };
    assert!((azimuth.to_deg() - 200.0).abs() < 1e-9 && (elevation.to_deg() - 12.0).abs() < 1e-9);
}

#[test]
fn lists_that_are_too_long_are_refused_with_the_limit() {
    let people = vec![json!({"x_m": 1, "y_m": 1}); 21];
    assert_eq!(
        refused(&json!({"blocking": {"people": people}})),
        "blocking.people: a list of 21 is not allowed: a list of at most 20"
    );
    let pieces = vec![json!({"kind": "tree", "x_m": 1, "y_m": 1}); 61];
    assert_eq!(
        refused(&json!({"blocking": {"pieces": pieces}})),
        "blocking.pieces: a list of 61 is not allowed: a list of at most 60"
    );
}

#[test]
fn what_is_wrong_in_a_list_is_told_with_its_place() {
    let second =
        |piece: Value| json!({"blocking": {"pieces": [{"kind": "tree", "x_m": 1, "y_m": 1}, piece]}});
    assert_eq!(
        refused(&second(json!({"kind": "tree", "x_m": 1, "y_m": 5000}))),
        "blocking.pieces[1].y_m: 5000 m is not allowed: -1000 to 1000 m"
    );
    assert_eq!(
        refused(&second(json!({"kind": "tree", "x_m": 1}))),
        "blocking.pieces[1].y_m: is missing: -1000 to 1000 m"
    );
    assert_eq!(
        refused(&second(json!({"kind": "tree", "x_m": 1, "y_m": 2, "colour": 3}))),
        "blocking.pieces[1].colour: is not a field here: kind, x_m, y_m, facing_deg, width_m, depth_m, height_m"
    );
    assert!(
        refused(&second(json!({"kind": "castle", "x_m": 1, "y_m": 2})))
            .starts_with("blocking.pieces[1].kind: \"castle\" is not allowed: wall, window, doorway, ")
    );
    assert_eq!(
        refused(&json!({"blocking": {"clothes": "blue"}})),
        "blocking.clothes: \"blue\" is not allowed: text such as \"#2f6f8f\""
    );
    assert_eq!(
        refused(&json!({"blocking": {"light": "noon"}})),
        "blocking.light: \"noon\" is not allowed: overcast, dusk, or an object with sun"
    );
}

#[test]
fn one_move_at_a_time() {
    assert_eq!(
        refused(&json!({"take": {"pan_deg_per_s": 1, "push_m_per_s": 1}})),
        "take.pan_deg_per_s: stands beside take.push_m_per_s; give one of the two"
    );
}

#[test]
fn a_moment_outside_the_take_is_refused() {
    let take = json!({"take": {"duration_s": 2, "push_m_per_s": 0.1}});
    assert!(pictured(&take, 2.0).is_ok());
    let told = pictured(&take, 2.5).expect_err("beyond").to_string();
    assert_eq!(told, "at_s: 2.5 s is not allowed: 0 to 2 s, the take's length");
    assert_eq!(
        pictured(&json!({}), 1.0).expect_err("no take").to_string(),
        "at_s: 1 s is not allowed: 0 to 0 s, the take's length"
    );
}

#[test]
fn a_framing_that_cannot_be_had_has_no_stage_but_its_finding() {
    let pictured = pictured(&json!({"camera_height_m": 30}), 0.0).expect("no error");
    assert_eq!(pictured.stage, None);
    assert_eq!(pictured.result.findings[0].rule(), "no_framing_from_height");
}

#[test]
fn focus_elsewhere_is_told_with_how_soft_the_subject_gets() {
    let [(rule, severity, message, _)] = found(&json!({"focus_at_m": 0.3})).try_into().expect("one finding");
    assert_eq!((rule.as_str(), severity), ("subject_out_of_focus", SeverityAnswer::Notes));
    assert!(message.starts_with("focus is at 0.30 m and the subject at 1."), "{message}");
    let request: SetupRequest = read(with(&json!({"focus_at_m": 0.3}))).expect("a request");
    let answer = setup(&request).expect("an answer");
    // (f²/N) |d − s| / (d (s − f)) on 2160 px over 5.5125 mm.
    let d = answer.subject_depth_m.expect("a depth");
    let disc = 6.86e-3_f64.powi(2) / 1.78 * (d - 0.3) / (d * (0.3 - 6.86e-3)) * 2160.0 / 5.5125e-3;
    assert!((answer.subject_blur_px.expect("known") - disc).abs() < 1e-9, "{disc} {answer:?}");
    assert_eq!(answer.focus_m, Some(0.3));
    // What is still sharp enough is no finding.
    let d = format!("{d:.2}");
    assert!(rules(&json!({"focus_at_m": d.parse::<f64>().expect("a number")})).is_empty());
}

#[test]
fn walking_backwards_asks_for_a_spotter_and_defers() {
    let follow = |facing: f64| {
        json!({
            "take": {"follow_m_per_s": 1.2}, "blocking": {"facing_deg": facing},
            "recording": {"width_px": 3840, "height_px": 2160, "stabiliser_crop": 1.12}
        })
    };
    let findings = found(&follow(180.0));
    let (rule, severity, message, hint) = &findings[0];
    assert_eq!((rule.as_str(), *severity), ("walks_backwards", SeverityAnswer::Warns));
    assert!(message.contains("1.20 m a second") && hint.contains("spotter"), "{message}; {hint}");
    assert!(hint.contains("local rules") && hint.contains("responsible"), "{hint}");
    for facing in [90.0, 0.0, -90.0] {
        assert_eq!(rules(&follow(facing)), ["steadying_takes"], "{facing}");
    }
}

#[test]
fn a_pan_is_held_to_a_frame_width_in_seven_seconds_unless_it_holds_a_walker() {
    let pan = |rate: f64, speed: f64, walking: bool| {
        let asked = json!({
            "take": {"pan_deg_per_s": speed, "duration_s": 1.0}, "shutter": {"frame_rate_fps": rate},
            "blocking": {"walking": walking, "facing_deg": 90}
        });
        rules(&asked).contains(&"pan_too_fast".to_owned())
    };
    let request: SetupRequest = read(with(&json!({}))).expect("a request");
    let fastest = setup(&request).expect("an answer").horizontal_fov_deg.expect("a view") / 7.0;
    assert!(!pan(24.0, fastest * 0.999, false) && pan(24.0, -fastest * 1.001, false));
    assert!(!pan(48.0, fastest * 1.999, false) && pan(48.0, fastest * 2.001, false));
    assert!(!pan(24.0, 60.0, true));
    let (_, _, message, hint) = found(&json!({"take": {"pan_deg_per_s": 30}})).swap_remove(0);
    // 30° in 1/48 s at the axis: 0.010908 of tangent, on 3840 px across 2 tan(φ/2).
    let smear = 30.0_f64.to_radians() / 48.0 * 3840.0 / (2.0 * (fastest * 3.5).to_radians().tan());
    assert!(
        message.contains("30.0° a second") && message.contains(&format!("over {smear:.0} px")),
        "{message}"
    );
    assert!(hint.contains(&format!("no faster than {fastest:.1}°")), "{hint}");
}

#[test]
fn steadying_a_moving_phone_costs_crop() {
    let told = |crop: f64| {
        let moves = json!({
            "take": {"push_m_per_s": 0.3},
            "recording": {"width_px": 3840, "height_px": 2160, "stabiliser_crop": crop}
        });
        found(&moves).swap_remove(0)
    };
    let (rule, severity, message, _) = told(1.25);
    assert_eq!((rule.as_str(), severity), ("steadying_takes", SeverityAnswer::Notes));
    assert!(message.starts_with("electronic stabilisation takes 20 % of the frame's"), "{message}");
    let (rule, _, message, _) = told(1.0);
    assert_eq!(rule, "unsteadied");
    assert!(message.contains("switched on it costs crop, typically 11 %"), "{message}");
    // A phone that stays has nothing to steady.
    assert!(rules(&json!({"take": {"duration_s": 3, "push_m_per_s": 0}})).is_empty());
    assert!(rules(&json!({"take": {"pull": {"from_m": 1, "to_m": 2}}})).is_empty());
}

#[test]
fn a_move_or_pull_nearer_than_the_lens_can_focus_fails() {
    let fails = |take: Value| {
        let findings = found(&json!({ "take": take }));
        findings
            .iter()
            .any(|(rule, severity, ..)| rule == "too_near_on_the_way" && *severity == SeverityAnswer::Fails)
    };
    assert!(fails(json!({"pull": {"from_m": 1, "to_m": 0.1}})));
    assert!(!fails(json!({"pull": {"from_m": 1, "to_m": 0.5}})));
    // The pull has not begun when the take ends.
    assert!(!fails(json!({"duration_s": 2, "pull": {"from_m": 1, "to_m": 0.1, "starts_s": 3}})));
    assert!(!fails(json!({"push_m_per_s": 0.1})));
}
