//! Outlines that were paced out, against `SciPy`'s least squares and against two traverses worked by a teacher of
//! surveying.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

use film::{Paced, PacedOutline, PacedSide, StepLength, WalkedOutline};
use glam::DVec2;
use serde::Deserialize;
use units::{Angle, Length};

#[derive(Deserialize)]
struct Reference {
    source: String,
    tolerance_m: f64,
    tolerance_relative: f64,
    published_tolerance_m: f64,
    chi_squared_95: f64,
    case: Vec<Outline>,
}

#[derive(Deserialize)]
struct Outline {
    case: String,
    step_m: (f64, f64),
    first_deg: (f64, f64),
    sides: Vec<Side>,
    walked_m: Vec<Row>,
    closed_m: Option<Vec<Row>>,
    /// East, east by north, north.
    covariance_m2: Option<Vec<(f64, f64, f64)>>,
    squares: Option<f64>,
    published_m: Option<Vec<Row>>,
    compass_rule_m: Option<Vec<Row>>,
}

/// East and north.
type Row = (f64, f64);

#[derive(Deserialize)]
struct Side {
    steps: Option<f64>,
    taped_m: Option<(f64, f64)>,
    turn_deg: (f64, f64),
}

impl Side {
    fn paced(&self) -> PacedSide {
        let distance = match (self.steps, self.taped_m) {
            (Some(steps), _) => Paced::Steps(steps),
            (None, taped) => {
                let (length, sd) = taped.expect("steps or metres");
                Paced::Taped { length: Length::from_m(length), sd: Length::from_m(sd) }
            }
        };
        let (turn, turn_sd) = self.turn_deg;
        PacedSide { distance, turn: Angle::from_deg(turn), turn_sd: Angle::from_deg(turn_sd) }
    }
}

impl Outline {
    fn walk(&self) -> WalkedOutline {
        let outline = PacedOutline {
            step: StepLength { length: Length::from_m(self.step_m.0), sd: Length::from_m(self.step_m.1) },
            first: Angle::from_deg(self.first_deg.0),
            first_sd: Angle::from_deg(self.first_deg.1),
            sides: self.sides.iter().map(Side::paced).collect(),
            is_closed: true,
        };
        outline.walk().expect("a walk")
    }
}

fn reference() -> Reference {
    toml::from_str(include_str!("reference/pacing.toml")).expect("the reference")
}

fn assert_near(case: &str, ours: DVec2, (x, y): Row, tolerance_m: f64) {
    assert!(ours.distance(DVec2::new(x, y)) < tolerance_m, "{case}: {ours} is not ({x}, {y})");
}

#[test]
fn closed_outlines_are_those_of_the_library() {
    let reference = reference();
    let mut count = 0;
    for case in &reference.case {
        let (Some(closed), Some(covariance), Some(squares)) =
            (&case.closed_m, &case.covariance_m2, case.squares)
        else {
            continue;
        };
        let closing = case.walk().closing.expect("closed");
        let corners = closing.corners.expect("closes");
        assert_eq!(corners.len(), closed.len(), "{}", case.case);
        for ((corner, closed), (east, mixed, north)) in corners.iter().zip(closed).zip(covariance) {
            assert_near(&case.case, corner.at, *closed, reference.tolerance_m);
            let slack = reference.tolerance_relative * (east + north) + 1e-12;
            let ours = [corner.covariance.x_axis.x, corner.covariance.x_axis.y, corner.covariance.y_axis.y];
            for (ours, theirs) in ours.into_iter().zip([east, mixed, north]) {
                assert!((ours - theirs).abs() < slack, "{}: {ours} is not {theirs}", case.case);
            }
        }
        let off = (closing.squares - squares).abs();
        assert!(off < reference.tolerance_relative * squares, "{}: {}", case.case, closing.squares);
        count += 1;
    }
    assert!(count >= 5, "{}", reference.source);
}

#[test]
fn a_walk_is_in_doubt_from_the_librarys_limit_on() {
    let reference = reference();
    let doubtful = |case: &Outline| case.walk().closing.expect("closed").is_doubtful();
    for case in &reference.case {
        // A floor's outline does not cross itself, as one of the traverses does.
        let expected = case.squares.is_none_or(|squares| squares > reference.chi_squared_95);
        assert_eq!(doubtful(case), expected, "{}", case.case);
    }
    assert!(reference.case.iter().any(doubtful) && !reference.case.iter().all(doubtful));
}

#[test]
fn corners_as_walked_are_the_sums_of_latitudes_and_departures() {
    let reference = reference();
    let mut count = 0;
    for case in &reference.case {
        let walked = case.walk();
        for (corner, expected) in walked.corners.iter().zip(&case.walked_m) {
            assert_near(&case.case, corner.at, *expected, 1e-9);
        }
        for (corner, published) in walked.corners[1..].iter().zip(case.published_m.iter().flatten()) {
            assert_near(&case.case, corner.at, *published, reference.published_tolerance_m);
            count += 1;
        }
    }
    assert_eq!(count, 8, "{}", reference.source);
}

/// DIFFERENCE: the compass rule spreads the gap by lengths alone, ours by what each side and turn may be off by; both
/// move a corner by about as much as they close.
#[test]
fn a_worked_traverse_closes_about_as_the_compass_rule_closes_it() {
    let reference = reference();
    let mut count = 0;
    for case in reference.case.iter().filter(|case| case.closed_m.is_some()) {
        let closing = case.walk().closing.expect("closed");
        let corners = closing.corners.expect("closes");
        for (corner, (x, y)) in corners[1..].iter().zip(case.compass_rule_m.iter().flatten()) {
            let apart = corner.at.distance(DVec2::new(*x, *y));
            assert!(apart < 0.5 * closing.gap.length(), "{}: {corner:?} is not about {x}, {y}", case.case);
            count += 1;
        }
    }
    assert_eq!(count, 3, "{}", reference.source);
}
