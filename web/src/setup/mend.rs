//! Ways to mend a finding, each one tap.

use film::{Comparison, Kit, SetupFinding};

use crate::session::{Plan, lens_name};
use crate::setup::take::Way;

/// A change to the plan that would mend a finding.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Mend {
    /// Put the phone at that height, metres.
    Height(f64),
    /// Let the aim follow from the framing.
    Aim,
    /// Take the adapter off.
    AdapterOff,
    /// Put focus on the subject.
    FocusOnSubject,
    /// Put the subject in the middle of the frame.
    Centre,
    /// Have the phone move that way.
    Go(Way),
    /// Turn that fast, degrees a second.
    Turn(f64),
    /// End the focus pull at that distance, metres.
    PullTo(f64),
    /// Let the take last that long, seconds.
    Lasts(f64),
    /// Record in that mode.
    Record(String),
    /// Use the lens of that name with that zoom; what both are called together.
    Lens { lens: String, zoom: f64, called: String },
}

/// The ways to mend a finding that are known to do.
pub(crate) fn mends(finding: &SetupFinding, plan: &Plan, kit: &Kit, rows: &[Comparison]) -> Vec<Mend> {
    let other_lens = || {
        let adapter = plan.adapter_index(kit);
        let row = rows.iter().find(|row| {
            row.adapter == adapter && row.result.will_do() && !row.result.findings.contains(finding)
        })?;
        let lens = kit.lenses.get(row.lens)?.name.clone();
        Some(Mend::Lens { lens, zoom: row.in_sensor_zoom, called: lens_name(kit, row) })
    };
    match finding {
        SetupFinding::NoFramingFromHeight { phone_height, could } => {
            // A centimetre within the limit, so that the framing is there and not just at its edge.
            let (from, to) = (could.height_from.to_m() + 0.01, could.height_to.to_m() - 0.01);
            let height = phone_height.to_m().clamp(from.min(to), to.max(from));
            std::iter::once(Mend::Height(height)).chain(other_lens()).collect()
        }
        SetupFinding::LookMisses { .. } | SetupFinding::LookMovesHeadroom { .. } => vec![Mend::Aim],
        SetupFinding::TooNearToFocus { .. }
        | SetupFinding::NoRoom { .. }
        | SetupFinding::InFrontOfShoulder { .. } => other_lens().into_iter().collect(),
        SetupFinding::AdapterDoesNotFit
        | SetupFinding::AdapterVignettes { .. }
        | SetupFinding::SoftSideways { .. } => {
            std::iter::once(Mend::AdapterOff).chain(other_lens()).collect()
        }
        SetupFinding::SubjectOutOfFocus { .. } => vec![Mend::FocusOnSubject],
        SetupFinding::OutsideProtected { .. } => {
            plan.shot.across_share.map(|_| Mend::Centre).into_iter().collect()
        }
        SetupFinding::NeedsFocalLength | SetupFinding::NeedsFNumber | SetupFinding::WidthBinds => Vec::new(),
    }
}

impl Mend {
    /// Makes the change.
    pub(crate) fn apply(&self, plan: &mut Plan) {
        match self {
            Self::Height(metres) => {
                plan.shot.camera_height_m = Some(*metres);
                plan.shot.camera_height = None;
            }
            Self::Aim => plan.shot.look_tilt_deg = None,
            Self::AdapterOff => plan.adapter = None,
            Self::FocusOnSubject => plan.shot.focus_at_m = None,
            Self::Centre => plan.shot.across_share = None,
            Self::Go(way) => way.choose(plan, 0.0),
            Self::Turn(degrees) => Way::of(plan).set_speed(plan, *degrees),
            Self::PullTo(metres) => plan.change_take(|take| {
                if let Some(pull) = &mut take.pull {
                    pull.to_m = *metres;
                }
            }),
            Self::Lasts(seconds) => plan.change_take(|take| take.duration_s = Some(*seconds)),
            Self::Record(mode) => plan.recording.clone_from(mode),
            Self::Lens { lens, zoom, called: _ } => {
                plan.lens.clone_from(lens);
                plan.zoom = *zoom;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::first_kit;
    use requests::PhoneHeightRequest;

    /// The findings of a plan's chosen row.
    fn found(plan: &Plan, kit: &Kit) -> Vec<SetupFinding> {
        let rows = plan.compare(kit);
        plan.choose(kit, &rows).map(|row| row.result.findings.clone()).unwrap_or_default()
    }

    #[test]
    fn every_mend_of_a_height_that_cannot_be_had_mends_it() {
        let kit = first_kit().to_kit().expect("a preset");
        let mut plan = Plan::first();
        plan.lens = "ultra-wide".to_owned();
        plan.shot.shot_size = requests::ShotSizeRequest::Tight;
        plan.shot.camera_height = Some(PhoneHeightRequest::Ground);
        let findings = found(&plan, &kit);
        let finding = findings
            .iter()
            .find(|finding| matches!(finding, SetupFinding::NoFramingFromHeight { .. }))
            .expect("no framing from the ground");
        let ways = mends(finding, &plan, &kit, &plan.compare(&kit));
        assert!(!ways.is_empty(), "no way to mend {finding:?}");
        for way in ways {
            let mut mended = plan.clone();
            way.apply(&mut mended);
            let left = found(&mended, &kit);
            let still =
                left.iter().any(|finding| matches!(finding, SetupFinding::NoFramingFromHeight { .. }));
            assert!(!still, "{way:?} leaves {left:?}");
        }
    }

    #[test]
    fn an_adapter_that_does_not_fit_comes_off() {
        let kit = first_kit().to_kit().expect("a preset");
        let mut plan = Plan::first();
        plan.lens = "ultra-wide".to_owned();
        plan.adapter = Some("1.33x clip-on".to_owned());
        let finding = SetupFinding::AdapterDoesNotFit;
        assert!(found(&plan, &kit).contains(&finding), "{:?}", found(&plan, &kit));
        let ways = mends(&finding, &plan, &kit, &plan.compare(&kit));
        assert!(ways.contains(&Mend::AdapterOff), "{ways:?}");
    }
}
