//! The bodies that come with the program against the survey's means, within its standard deviations.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

use serde::Deserialize;
use staging::{Age, Body, Landmark, Posture};
use units::Length;

#[derive(Deserialize)]
struct Survey {
    source: String,
    eye_height: Ratio,
    collar_height: Ratio,
    shoulder_height: Ratio,
    chest_height: Ratio,
    navel_height: Ratio,
    crotch_height: Ratio,
    knee_height: Ratio,
    sitting_knee_height: Ratio,
    sitting_height: Ratio,
    sitting_eye_height: Ratio,
    head_length: Ratio,
    head_breadth: Ratio,
    shoulder_breadth: Ratio,
}

/// A mean ratio to stature, and its standard deviation between people.
#[derive(Deserialize, Clone, Copy)]
struct Ratio {
    men: f64,
    men_sd: f64,
    women: f64,
    women_sd: f64,
}

impl Ratio {
    /// One body serves both, so it must be within one standard deviation of each.
    fn assert_holds(self, ours: Length, stature: Length, what: &str) {
        let ours = ours / stature;
        for (whose, mean, sd) in [("men", self.men, self.men_sd), ("women", self.women, self.women_sd)] {
            assert!((ours - mean).abs() <= sd, "{what}: {ours} is not {mean} ± {sd} of {whose}");
        }
    }
}

/// The seat that the core sits people on: heights above it are what the survey has.
const SEAT: Length = Length::from_m(0.45);

fn survey() -> Survey {
    let survey: Survey = toml::from_str(include_str!("reference/bodies.toml")).expect("the reference");
    assert!(survey.source.starts_with("Gordon2014"), "{}", survey.source);
    survey
}

#[test]
fn a_standing_adults_landmarks_are_the_surveys() {
    let survey = survey();
    for stature in [1.5, 1.7, 1.95].map(Length::from_m) {
        let body = Body::standing(stature);
        for (landmark, ratio) in [
            (Landmark::Eyes, survey.eye_height),
            (Landmark::Collar, survey.collar_height),
            (Landmark::Shoulder, survey.shoulder_height),
            (Landmark::Chest, survey.chest_height),
            (Landmark::Waist, survey.navel_height),
            (Landmark::Knee, survey.knee_height),
        ] {
            ratio.assert_holds(body.height_of(landmark), stature, landmark.name());
        }
        survey.head_breadth.assert_holds(body.head_breadth(), stature, "head breadth");
        survey.head_length.assert_holds(body.head_length(), stature, "head length");
        survey.shoulder_breadth.assert_holds(body.shoulder_breadth(), stature, "shoulder breadth");
    }
}

#[test]
fn the_middle_of_the_thigh_is_halfway_from_crotch_to_knee() {
    let survey = survey();
    let middle = |crotch: f64, knee: f64| f64::midpoint(crotch, knee);
    let ratio = Ratio {
        men: middle(survey.crotch_height.men, survey.knee_height.men),
        men_sd: middle(survey.crotch_height.men_sd, survey.knee_height.men_sd),
        women: middle(survey.crotch_height.women, survey.knee_height.women),
        women_sd: middle(survey.crotch_height.women_sd, survey.knee_height.women_sd),
    };
    let body = Body::standing(Length::from_m(1.7));
    ratio.assert_holds(body.height_of(Landmark::MidThigh), body.stature, "mid-thigh");
}

#[test]
fn a_seated_adult_is_as_high_above_the_seat_as_the_surveys() {
    let survey = survey();
    let stature = Length::from_m(1.7);
    let body = Body { stature, posture: Posture::Seated, age: Age::Adult };
    let above_seat = |landmark| body.height_of(landmark) - SEAT;
    survey.sitting_height.assert_holds(above_seat(Landmark::Crown), stature, "sitting height");
    survey.sitting_eye_height.assert_holds(above_seat(Landmark::Eyes), stature, "sitting eye height");
    survey.sitting_knee_height.assert_holds(body.height_of(Landmark::Knee), stature, "sitting knee height");
}
