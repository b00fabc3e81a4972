//! Whether another way to take a shot betters what was found on it.

use super::{BEHIND_SHOULDER, SetupFinding};
use crate::findings::Severity;

/// What warns is bettered if it is no more than so much of what it was; what fails must be gone: chosen.
const MUCH_BETTER: f64 = 0.5;
/// What was there before is as bad as it was up to so much more of it: chosen, as a change moves most figures a little.
const AS_BAD: f64 = 1.1;

impl SetupFinding {
    /// Whether a shot on which `after` is found betters this, which is one of those that were found `before`: it is gone, or,
    /// where it only warned, no more than half of what it was; nothing else is worse, and nothing comes that is as bad.
    ///
    /// Says how many warnings come that were not there before; none if it does not better it. As what may come is always less
    /// bad, ways that better one finding after another never lead back.
    pub fn bettered(&self, before: &[Self], after: &[Self]) -> Option<usize> {
        let mut new = 0;
        for found in after {
            if found.rule() == self.rule() {
                let is_much_better = self.severity() == Severity::Warns
                    && self.amount() > 0.0
                    && found.amount() <= self.amount() * MUCH_BETTER;
                if !is_much_better {
                    return None;
                }
            } else if found.severity() >= Severity::Warns {
                match before.iter().find(|one| one.rule() == found.rule()) {
                    Some(one) if found.amount() > one.amount() * AS_BAD => return None,
                    Some(_) => {}
                    None if found.severity() >= self.severity() => return None,
                    None => new += 1,
                }
            }
        }
        Some(new)
    }

    /// How much there is of it, where that can be told, in whatever it is measured in; what is of no amount is or is not.
    fn amount(&self) -> f64 {
        match self {
            Self::TooNearToFocus { focus, closest } => (*closest - *focus).to_m(),
            Self::NoRoom { distance, room } => (*distance - *room).to_m(),
            Self::InFrontOfShoulder { ahead, apart } => (*apart + BEHIND_SHOULDER - *ahead).to_m(),
            // Where nobody looked all of it may be dark.
            Self::AdapterVignettes { darkened_share } => darkened_share.unwrap_or(1.0),
            Self::SoftSideways { softness_px, .. } => *softness_px,
            Self::NoFramingFromHeight { .. }
            | Self::LookMisses { .. }
            | Self::AdapterDoesNotFit
            | Self::SubjectOutOfFocus { .. }
            | Self::NeedsFocalLength
            | Self::NeedsFNumber
            | Self::LookMovesHeadroom { .. }
            | Self::WidthBinds
            | Self::OutsideProtected { .. } => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use optics::Aspect;
    use units::Length;

    fn soft(softness_px: f64) -> SetupFinding {
        SetupFinding::SoftSideways { softness_px, useful_from: Length::from_m(5.7) }
    }

    fn no_room(distance: f64) -> SetupFinding {
        SetupFinding::NoRoom { distance: Length::from_m(distance), room: Length::from_m(3.0) }
    }

    #[test]
    fn what_is_gone_is_bettered_and_what_is_hardly_less_is_not() {
        assert_eq!(soft(7.7).bettered(&[soft(7.7)], &[]), Some(0));
        assert_eq!(soft(7.7).bettered(&[soft(7.7)], &[soft(3.8)]), Some(0));
        for still in [9.4, 7.7, 7.6, 3.9] {
            assert_eq!(soft(7.7).bettered(&[soft(7.7)], &[soft(still)]), None, "{still}");
        }
        let second = SetupFinding::OutsideProtected { shape: Aspect::new(1.0).expect("a shape") };
        assert_eq!(second.bettered(&[second], &[second]), None, "it is there or not");
    }

    #[test]
    fn what_fails_must_be_gone() {
        assert_eq!(no_room(6.0).bettered(&[no_room(6.0)], &[no_room(3.1)]), None);
        assert_eq!(no_room(6.0).bettered(&[no_room(6.0)], &[]), Some(0));
    }

    #[test]
    fn what_comes_must_be_less_bad_and_warnings_are_counted() {
        let near = SetupFinding::TooNearToFocus { focus: Length::from_m(0.1), closest: Length::from_m(0.2) };
        assert_eq!(no_room(6.0).bettered(&[no_room(6.0)], &[near]), None);
        assert_eq!(no_room(6.0).bettered(&[no_room(6.0)], &[soft(5.0)]), Some(1));
        let dark = SetupFinding::AdapterVignettes { darkened_share: None };
        assert_eq!(soft(7.7).bettered(&[soft(7.7)], &[dark]), None);
        assert_eq!(
            soft(7.7).bettered(&[soft(7.7)], &[SetupFinding::WidthBinds]),
            Some(0),
            "a note is no harm"
        );
    }

    #[test]
    fn what_was_there_before_may_stay_and_not_grow() {
        let before = [no_room(6.0), soft(5.0)];
        assert_eq!(before[0].bettered(&before, &[soft(5.4)]), Some(0));
        assert_eq!(before[0].bettered(&before, &[soft(5.6)]), None);
    }
}
