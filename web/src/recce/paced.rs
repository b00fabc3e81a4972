//! What somebody paced out, in words and as corners of a floor plan.

use film::{PacedOutline, PacedPlace, PacedSide, RecordError, SpreadEllipse, StepLength, WalkedOutline};
use glam::DVec2;
use language::{key, say};
use units::{Angle, Length, LengthUnit};

/// A corner of a floor plan with how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Corner {
    /// Where, on the place's floor.
    pub(crate) at: DVec2,
    /// Half of what is uncertain, one standard uncertainty.
    pub(crate) spread: SpreadEllipse,
}

/// A turn that can be chosen: its name and the degrees to the right.
pub(super) const TURNS: [(&str, f64); 7] = [
    (key!("right angle to the right"), 90.0),
    (key!("right angle to the left"), -90.0),
    (key!("half of that to the right"), 45.0),
    (key!("half of that to the left"), -45.0),
    (key!("a third of that to the right"), 30.0),
    (key!("a third of that to the left"), -30.0),
    (key!("straight on"), 0.0),
];

/// A step that nobody has learned is known to this share of it: chosen, as a person's step differs by so much from day to day.
const UNLEARNED_SHARE: f64 = 0.05;
/// A phone's compass is good to this beside a building: chosen.
pub(super) const COMPASS_SD: Angle = Angle::from_deg(5.0);
/// A side that has just been added, steps.
const FIRST_STEPS: f64 = 10.0;

/// The step as the page knows it, if nobody has learned it here.
pub(super) fn unlearned(step: Length) -> StepLength {
    StepLength { length: step, sd: step * UNLEARNED_SHARE }
}

/// One more side.
pub(super) const fn new_side() -> PacedSide {
    PacedSide::new(film::Paced::Steps(FIRST_STEPS))
}

/// A walk of one side to the north, from the middle of the floor.
pub(super) fn begun(step: StepLength) -> PacedPlace {
    let sides = vec![new_side()];
    let outline = PacedOutline { step, first: Angle::ZERO, first_sd: COMPASS_SD, sides, is_closed: false };
    PacedPlace { start: DVec2::ZERO, outline }
}

/// The corners: as walked or, of a walk that closes, as they are once it does.
pub(crate) fn corners(place: &PacedPlace) -> Vec<Corner> {
    let Ok(WalkedOutline { corners, closing }) = place.outline.walk() else { return Vec::new() };
    let closed = closing.and_then(|closing| closing.corners);
    let corners = closed.unwrap_or(corners);
    corners.iter().map(|corner| Corner { at: place.start + corner.at, spread: corner.ellipse() }).collect()
}

/// What the walk says: how large it is and how well that is known, and what is to be doubted.
pub(super) fn told(place: &PacedPlace, unit: LengthUnit) -> Result<Vec<String>, RecordError> {
    let walked = place.outline.walk()?;
    let metres = |length: f64| Length::from_m(length).told(unit, 1);
    let corners =
        walked.closing.as_ref().and_then(|closing| closing.corners.as_ref()).unwrap_or(&walked.corners);
    let bounds = corners.iter().fold((DVec2::ZERO, DVec2::ZERO), |(least, most), corner| {
        (least.min(corner.at), most.max(corner.at))
    });
    let size = bounds.1 - bounds.0;
    let widest = corners.iter().map(|corner| corner.ellipse().long.to_m()).fold(0.0, f64::max);
    let mut lines = vec![say!(
        "{} from west to east and {} from south to north; corners are known to {} or better.",
        metres(size.x),
        metres(size.y),
        metres(widest)
    )];
    if let Some(closing) = &walked.closing {
        lines.push(say!("The walk ended {} from where it began.", metres(closing.gap.length())));
        lines.extend(closing.doubt());
    }
    Ok(lines)
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::Paced;

    fn yard(steps: [f64; 4]) -> PacedPlace {
        let begun = begun(unlearned(Length::from_m(0.8)));
        let sides = steps.map(|steps| PacedSide::new(Paced::Steps(steps))).to_vec();
        PacedPlace {
            outline: PacedOutline { sides, is_closed: true, ..begun.outline },
            start: DVec2::new(1.0, 2.0),
        }
    }

    #[test]
    fn a_yard_that_closes_is_told_by_its_sides() {
        let lines = told(&yard([10.0, 5.0, 10.0, 5.0]), LengthUnit::Metres).expect("a walk");
        assert!(lines[0].starts_with("4.0 m from west to east and 8.0 m from south to north"), "{lines:?}");
        assert_eq!(lines[1], "The walk ended 0.0 m from where it began.");
        assert_eq!(lines.len(), 2);
        assert!(corners(&yard([10.0, 5.0, 10.0, 5.0]))[2].at.distance(DVec2::new(5.0, 10.0)) < 1e-6);
    }

    #[test]
    fn a_side_that_was_miscounted_is_doubted() {
        let lines = told(&yard([10.0, 5.0, 20.0, 5.0]), LengthUnit::Metres).expect("a walk");
        assert_eq!(lines.len(), 3, "{lines:?}");
    }

    #[test]
    fn what_cannot_be_walked_has_no_corners() {
        let nowhere = yard([0.0; 4]);
        assert!(told(&nowhere, LengthUnit::Metres).is_err());
        assert_eq!(corners(&nowhere), []);
    }
}
