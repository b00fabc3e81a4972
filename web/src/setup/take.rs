//! What happens while a shot is taken: how the phone moves, where focus goes, how long each frame is exposed, and how that
//! plays.

mod focus;
mod mend;
mod player;
mod pull;
mod sheet;
mod shutter;
mod way;

pub(crate) use focus::{focus_at_depth, focus_on_place};
pub(crate) use mend::take_mends;
pub(crate) use player::{PlayBar, Player};
pub(crate) use sheet::MoveSheet;

use film::{ShotResult, TakeFinding, Taking, check_take};
use language::say;
use requests::{TakeRequest, USUAL_DURATION_S};
use units::LengthUnit;

use leptos::prelude::With as _;

use crate::session::{Plan, Session};
use crate::setup::words;
use crate::widgets::Way;

/// A take in which nothing happens.
const NOTHING: TakeRequest = TakeRequest {
    duration_s: None,
    push_m_per_s: None,
    follow_m_per_s: None,
    pan_deg_per_s: None,
    tilt_deg_per_s: None,
    pull: None,
};

impl Plan {
    /// What is the matter with the take of a shot.
    pub(crate) fn take_findings(&self, result: &ShotResult) -> Vec<TakeFinding> {
        let (Ok(rate), Ok(exposure), Ok(setup)) =
            (self.shot.frame_rate(), self.shot.exposure(), result.outcome)
        else {
            return Vec::new();
        };
        let (blocking, take) = (self.blocking(&result.shot), self.take(&setup));
        check_take(result, &Taking { blocking: &blocking, take: &take, rate, exposure })
    }

    /// How long the take lasts, seconds.
    pub(crate) fn duration_s(&self) -> f64 {
        self.shot.take.and_then(|take| take.duration_s).unwrap_or(USUAL_DURATION_S)
    }

    /// Whether anything changes while the shot is taken.
    pub(crate) fn plays(&self) -> bool {
        self.shot.take.is_some_and(|take| take.pull.is_some()) || Way::of_plan(self) != Way::Still
    }

    /// Changes the take, which goes when nothing is left of it.
    pub(crate) fn change_take(&mut self, change: impl FnOnce(&mut TakeRequest)) {
        let mut take = self.shot.take.unwrap_or(NOTHING);
        change(&mut take);
        self.shot.take = Some(take).filter(|take| TakeRequest { duration_s: None, ..*take } != NOTHING);
    }
}

/// What the take does, as its chip says it.
pub(crate) fn take_words(plan: &Plan, unit: LengthUnit) -> String {
    let way = Way::of_plan(plan);
    let pull = plan.shot.take.and_then(|take| take.pull);
    match (way, pull) {
        (Way::Still, None) => say!("No move").to_owned(),
        (Way::Still, Some(pull)) => say!("Focus pulled to {}", words::length(pull.to_m, unit)),
        (way, pull) => {
            let focus = if pull.is_some() { say!(", focus pulled") } else { "" };
            say!("{}, {:.1} s{focus}", way.title(), plan.duration_s())
        }
    }
}

/// What the take does, as a sentence after others; nothing where nothing happens.
pub(crate) fn take_twin(session: Session) -> String {
    let unit = session.unit();
    session
        .plan
        .with(|plan| if plan.plays() { format!(" {}.", take_words(plan, unit)) } else { String::new() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_take_of_which_nothing_is_left_is_none() {
        let mut plan = Plan::first();
        plan.change_take(|take| take.push_m_per_s = Some(0.4));
        plan.change_take(|take| take.duration_s = Some(3.0));
        assert_eq!(take_words(&plan, LengthUnit::Metres), "Push in, 3.0 s");
        plan.change_take(|take| take.push_m_per_s = None);
        assert_eq!(plan.shot.take, None);
        assert_eq!(take_words(&plan, LengthUnit::Metres), "No move");
    }
}
