//! Ways to mend what is the matter with a take, each one tap.

use film::{Kit, ShotResult, TakeFinding};
use optics::Recording;

use crate::session::Plan;
use crate::setup::mend::Mend;
use crate::widgets::Way;

/// The ways to mend a finding on a take that are known to do.
pub(crate) fn take_mends(finding: &TakeFinding, plan: &Plan, kit: &Kit, result: &ShotResult) -> Vec<Mend> {
    match finding {
        TakeFinding::WalksBackwards { .. } => vec![Mend::Go(Way::Alongside), Mend::Go(Way::FromBehind)],
        TakeFinding::TurnTooFast { fastest, .. } => {
            // Down to a hundredth, so that it is never too fast by a rounding.
            vec![Mend::Turn(libm::floor(fastest.to_deg() * 100.0) / 100.0)]
        }
        TakeFinding::TooNearOnTheWay { closest, .. } => {
            let pulls = plan.shot.take.is_some_and(|take| take.pull.is_some());
            let pull = pulls.then_some(Mend::PullTo(closest.to_m()));
            pull.or_else(|| in_time(plan, result).map(Mend::Lasts)).into_iter().collect()
        }
        TakeFinding::SteadyingTakes { .. } => mode(plan, kit, |mode| mode.stabiliser_crop() <= 1.0),
        TakeFinding::Unsteadied { .. } => mode(plan, kit, |mode| mode.stabiliser_crop() > 1.0),
    }
}

/// Another recording mode of the same pixels, if the kit has one that suits.
fn mode(plan: &Plan, kit: &Kit, suits: impl Fn(&Recording) -> bool) -> Vec<Mend> {
    let now = kit.recordings.iter().find(|mode| mode.name == plan.recording).or(kit.recordings.first());
    let sides = |mode: &Recording| (mode.width_px(), mode.height_px());
    let other = kit.recordings.iter().find(|mode| {
        suits(&mode.recording) && now.is_some_and(|now| sides(&now.recording) == sides(&mode.recording))
    });
    other.map(|mode| Mend::Record(mode.name.clone())).into_iter().collect()
}

/// For how long the take can go on before focus would have to come nearer than the lens can, in tenths of a second.
fn in_time(plan: &Plan, result: &ShotResult) -> Option<f64> {
    let setup = result.outcome.ok()?;
    let (take, blocking) = (plan.take(&setup), plan.blocking(&result.shot));
    let tenths = (5..=600).map(|tenth| f64::from(tenth) / 10.0).take_while(|seconds| {
        let focus = take.focus_at(&result.shot, &setup, &blocking, *seconds);
        *seconds < take.duration_s && result.shot.closest_focus(focus).is_none()
    });
    tenths.last()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::first_kit;

    /// What is the matter with a plan's take, and the ways to mend each.
    fn found(plan: &Plan, kit: &Kit) -> Vec<(TakeFinding, Vec<Mend>)> {
        let rows = plan.compare(kit);
        let result = &plan.choose(kit, &rows).expect("a row").result;
        let findings = plan.take_findings(result).into_iter();
        findings.map(|finding| (finding, take_mends(&finding, plan, kit, result))).collect()
    }

    /// Checks that there are ways to mend the finding by that rule, and that each does.
    fn assert_mended(plan: &Plan, rule: &str) {
        let kit = first_kit().to_kit().expect("a preset");
        let (finding, ways) =
            found(plan, &kit).into_iter().find(|(finding, _)| finding.rule() == rule).expect(rule);
        assert!(!ways.is_empty(), "no way to mend {finding:?}");
        for way in ways {
            let mut mended = plan.clone();
            way.apply(&mut mended);
            let left = found(&mended, &kit);
            assert!(left.iter().all(|(finding, _)| finding.rule() != rule), "{way:?} leaves {left:?}");
        }
    }

    #[test]
    fn every_mend_of_a_take_mends_it() {
        let mut pan = Plan::first();
        Way::PanLeft.choose(&mut pan, 40.0);
        assert_mended(&pan, "pan_too_fast");
        let mut backwards = Plan::first();
        Way::Backwards.choose(&mut backwards, 9.0);
        assert_mended(&backwards, "walks_backwards");
        let mut push = Plan { lens: "long".to_owned(), ..Plan::first() };
        Way::PushIn.choose(&mut push, 9.0);
        Way::PushIn.set_speed(&mut push, 1.0);
        push.change_take(|take| take.duration_s = Some(30.0));
        assert_mended(&push, "too_near_on_the_way");
    }
}
