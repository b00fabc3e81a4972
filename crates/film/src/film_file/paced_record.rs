//! A place that was paced out as a film's file writes it, and back.

use language::{key, say};
use serde::{Deserialize, Serialize};
use units::{Angle, Length};

use crate::film::PacedPlace;
use crate::film_file::blocking_reading::read_point;
use crate::film_file::problem::{At, Done, Range};
use crate::pacing::{Paced, PacedOutline, PacedSide, StepLength, TURN_SD};
use crate::record::{within_a_turn, written_deg};
use crate::view_check::TAPED_SD;

/// A place that was paced out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PacedPlaceRecord {
    /// Where the walk began on the place's floor: metres east of its origin, -1000 to 1000 m.
    pub x_m: f64,
    /// Metres north of its origin, -1000 to 1000 m.
    pub y_m: f64,
    /// The step of whoever paced it out, 0.2 to 2 m.
    pub step_m: f64,
    /// Its standard uncertainty, 0 to 1 m; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_sd_m: Option<f64>,
    /// The direction of the first side, clockwise from the earth's north, -360 to 360 degrees; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_deg: Option<f64>,
    /// Its standard uncertainty, 0 to 90 degrees; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_sd_deg: Option<f64>,
    /// Whether the walk ended where it began; it did not if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub closed: Option<bool>,
    /// The sides in the order of the walk; 64 at the most.
    #[serde(default)]
    pub sides: Vec<PacedSideRecord>,
}

/// A side that was paced out or taped, and the turn at its end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PacedSideRecord {
    /// How many steps it is, 0.1 to 10000; it was taped if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<f64>,
    /// How long it is by tape, 0.01 to 10000 m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_m: Option<f64>,
    /// The standard uncertainty of that, 0 to 1000 m; 0.01 m if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_sd_m: Option<f64>,
    /// The turn to the next side, to the right positive, -180 to 180 degrees; 90 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn_deg: Option<f64>,
    /// Its standard uncertainty, 0 to 90 degrees; 3 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn_sd_deg: Option<f64>,
}

/// The most sides, as an outline has them.
const MOST_SIDES: usize = 64;
/// A turn is a right angle to the right unless something is said.
const USUAL_TURN_DEG: f64 = 90.0;

const STEP: Range = Range { field: "step_m", min: 0.2, max: 2.0, unit: "m" };
const STEP_SD: Range = Range { field: "step_sd_m", min: 0.0, max: 1.0, unit: "m" };
const FIRST: Range = Range { field: "first_deg", min: -360.0, max: 360.0, unit: key!("deg") };
const FIRST_SD: Range = Range { field: "first_sd_deg", min: 0.0, max: 90.0, unit: key!("deg") };
const STEPS: Range = Range { field: "steps", min: 0.1, max: 10_000.0, unit: key!("steps") };
const LENGTH: Range = Range { field: "length_m", min: 0.01, max: 10_000.0, unit: "m" };
const LENGTH_SD: Range = Range { field: "length_sd_m", min: 0.0, max: 1000.0, unit: "m" };
const TURN: Range = Range { field: "turn_deg", min: -180.0, max: 180.0, unit: key!("deg") };
const TURN_SD_DEG: Range = Range { field: "turn_sd_deg", min: 0.0, max: 90.0, unit: key!("deg") };

impl From<&PacedPlace> for PacedPlaceRecord {
    fn from(PacedPlace { start, outline }: &PacedPlace) -> Self {
        let PacedOutline { step, first, first_sd, sides, is_closed } = outline;
        Self {
            x_m: start.x,
            y_m: start.y,
            step_m: step.length.to_m(),
            step_sd_m: (step.sd > Length::ZERO).then(|| step.sd.to_m()),
            first_deg: (*first != Angle::ZERO).then(|| written_deg(within_a_turn(*first))),
            first_sd_deg: (*first_sd > Angle::ZERO).then(|| written_deg(*first_sd)),
            closed: is_closed.then_some(true),
            sides: sides.iter().map(PacedSideRecord::from).collect(),
        }
    }
}

impl From<&PacedSide> for PacedSideRecord {
    fn from(PacedSide { distance, turn, turn_sd }: &PacedSide) -> Self {
        let (steps, length_m, length_sd_m) = match *distance {
            Paced::Steps(steps) => (Some(steps), None, None),
            Paced::Taped { length, sd } => (None, Some(length.to_m()), (sd != TAPED_SD).then(|| sd.to_m())),
        };
        Self {
            steps,
            length_m,
            length_sd_m,
            turn_deg: (*turn != Angle::from_deg(USUAL_TURN_DEG)).then(|| written_deg(*turn)),
            turn_sd_deg: (*turn_sd != TURN_SD).then(|| written_deg(*turn_sd)),
        }
    }
}

impl PacedPlaceRecord {
    /// The place; none without a step or a side. Sides end with the first that cannot be walked: what follows it has no place.
    pub(super) fn read(&self, at: &At<'_>) -> Option<PacedPlace> {
        const LEFT_OUT: &str = key!("what was paced out was");
        let step = StepLength {
            length: Length::from_m(at.or_left_out(STEP.check(self.step_m), LEFT_OUT)?),
            sd: Length::from_m(at.or_usual(&STEP_SD, self.step_sd_m, 0.0)),
        };
        let start = read_point(at, self.x_m, self.y_m, LEFT_OUT)?;
        let sides = at.few("sides", &self.sides, MOST_SIDES).iter().enumerate();
        let sides: Vec<PacedSide> =
            sides.map_while(|(index, side)| side.read(&at.item("sides", index))).collect();
        let is_closed = self.closed.unwrap_or(false) && sides.len() >= 3;
        if sides.is_empty() {
            at.field("sides").report(say!("has no side to begin with"), Done::LeftOut(LEFT_OUT));
            return None;
        }
        let first = Angle::from_deg(at.or_usual(&FIRST, self.first_deg, 0.0));
        let first_sd = Angle::from_deg(at.or_usual(&FIRST_SD, self.first_sd_deg, 0.0));
        Some(PacedPlace { start, outline: PacedOutline { step, first, first_sd, sides, is_closed } })
    }
}

impl PacedSideRecord {
    fn read(&self, at: &At<'_>) -> Option<PacedSide> {
        const LEFT_OUT: &str = key!("it and the sides after it were");
        let distance = match (self.steps, self.length_m) {
            (Some(steps), _) => Paced::Steps(at.or_left_out(STEPS.check(steps), LEFT_OUT)?),
            (None, Some(length)) => Paced::Taped {
                length: Length::from_m(at.or_left_out(LENGTH.check(length), LEFT_OUT)?),
                sd: at.within(&LENGTH_SD, self.length_sd_m).map_or(TAPED_SD, Length::from_m),
            },
            (None, None) => {
                at.report(say!("has neither steps nor a length"), Done::LeftOut(LEFT_OUT));
                return None;
            }
        };
        Some(PacedSide {
            distance,
            turn: Angle::from_deg(at.or_usual(&TURN, self.turn_deg, USUAL_TURN_DEG)),
            turn_sd: at.within(&TURN_SD_DEG, self.turn_sd_deg).map_or(TURN_SD, Angle::from_deg),
        })
    }
}
