//! Ways to mend a finding, each one tap.

use film::{Comparison, Kit, SetupFinding};

use crate::session::{Plan, lens_name};
use crate::widgets::Way;

/// A change to the plan that would mend a finding.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Mend {
    /// Put the phone at that height, metres.
    Height(f64),
    /// Let the aim follow from the framing.
    Aim,
    /// Take the adapter off.
    AdapterOff,
    /// Use the adapter of that name.
    Adapter(String),
    /// Stand that far away, metres.
    Stand(f64),
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

/// How much is seen where nothing can be framed: next to nothing, as only a lens that sees less would help.
const NEXT_TO_NOTHING: f64 = 1.0e-9;

/// The ways to mend a finding of the chosen row that are known to do: what is put in the place of lens or adapter is offered
/// only if its own row shows that it betters the finding.
pub(crate) fn mends(finding: &SetupFinding, plan: &Plan, kit: &Kit, rows: &[Comparison]) -> Vec<Mend> {
    let Some(now) = plan.choose(kit, rows) else { return Vec::new() };
    let bettered = |row: &Comparison| {
        row.result.outcome.as_ref().ok()?;
        finding.bettered(&now.result.findings, &row.result.findings)
    };
    let seen = |row: &Comparison| row.result.outcome.as_ref().ok().map(|setup| setup.view.width());
    let seen_now = seen(now).unwrap_or(NEXT_TO_NOTHING);
    // Of those that do, the one that sees nearest to as much: of wider lenses the longest, of longer ones the widest.
    let best = |is_meant: &dyn Fn(&Comparison) -> bool| {
        let rows = rows.iter().filter(|row| is_meant(row));
        let does = rows.filter_map(|row| {
            let width = seen(row)?;
            let off = if width > seen_now { width / seen_now } else { seen_now / width };
            Some((bettered(row)?, off, row))
        });
        let best = does.min_by(|one, other| one.0.cmp(&other.0).then(one.1.total_cmp(&other.1)));
        best.map(|(_, _, row)| row)
    };
    let is_same_lens = |row: &Comparison| {
        row.lens == now.lens && row.in_sensor_zoom.to_bits() == now.in_sensor_zoom.to_bits()
    };
    let other_lens = || {
        let row = best(&|row| row.adapter == now.adapter)?;
        let lens = kit.lenses.get(row.lens)?.name.clone();
        Some(Mend::Lens { lens, zoom: row.in_sensor_zoom, called: lens_name(kit, row) })
    };
    let adapter_off = || best(&|row| is_same_lens(row) && row.adapter.is_none()).map(|_| Mend::AdapterOff);
    let other_adapter = || {
        let row = best(&|row| is_same_lens(row) && row.adapter.is_some())?;
        Some(Mend::Adapter(kit.adapters.get(row.adapter?)?.name.clone()))
    };
    match finding {
        SetupFinding::NoFramingFromHeight { phone_height, could } => {
            // A centimetre within the limit, so that the framing is there and not just at its edge.
            let (from, to) = (could.height_from.to_m() + 0.01, could.height_to.to_m() - 0.01);
            let height = phone_height.to_m().clamp(from.min(to), to.max(from));
            std::iter::once(Mend::Height(height)).chain(other_lens()).collect()
        }
        SetupFinding::LookMisses { .. } | SetupFinding::LookMovesHeadroom { .. } => vec![Mend::Aim],
        SetupFinding::TooNearToFocus { .. } | SetupFinding::InFrontOfShoulder { .. } => {
            other_lens().into_iter().collect()
        }
        SetupFinding::NoRoom { .. } => [other_lens(), other_adapter()].into_iter().flatten().collect(),
        SetupFinding::AdapterDoesNotFit | SetupFinding::AdapterVignettes { .. } => {
            [adapter_off(), other_lens(), other_adapter()].into_iter().flatten().collect()
        }
        SetupFinding::SoftSideways { useful_from, .. } => {
            let back = || {
                // Up to a tenth of a metre, so that it is far enough.
                let stand = Mend::Stand(libm::ceil(useful_from.to_m() * 10.0) / 10.0);
                let mut there = plan.clone();
                stand.apply(&mut there);
                let rows = there.compare(kit);
                bettered(there.choose(kit, &rows)?).map(|_| stand)
            };
            let farther = other_lens().or_else(back);
            [adapter_off(), farther, other_adapter()].into_iter().flatten().collect()
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
            Self::Adapter(name) => plan.adapter = Some(name.clone()),
            Self::Stand(metres) => plan.shot.stand_at_m = Some(*metres),
            Self::FocusOnSubject => plan.shot.focus_at_m = None,
            Self::Centre => plan.shot.across_share = None,
            Self::Go(way) => way.choose(plan, 0.0),
            Self::Turn(degrees) => Way::of_plan(plan).set_speed(plan, *degrees),
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
    use requests::{PhoneHeightRequest, ShotSizeRequest};

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
        plan.shot.shot_size = ShotSizeRequest::Tight;
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

    /// The finding by that rule on a plan's chosen row, and the ways to mend it.
    fn found_by(rule: &str, plan: &Plan, kit: &Kit) -> Option<(SetupFinding, Vec<Mend>)> {
        let finding = found(plan, kit).into_iter().find(|finding| finding.rule() == rule)?;
        let ways = mends(&finding, plan, kit, &plan.compare(kit));
        Some((finding, ways))
    }

    #[test]
    fn what_is_offered_for_a_soft_subject_betters_it() {
        let kit = first_kit().to_kit().expect("a preset");
        let sizes = [ShotSizeRequest::Wide, ShotSizeRequest::Medium, ShotSizeRequest::ChestUp];
        for (size, lens) in sizes.into_iter().flat_map(|size| ["main", "long"].map(|lens| (size, lens))) {
            let mut plan = Plan { lens: lens.to_owned(), ..Plan::first() };
            plan.shot.shot_size = size;
            plan.adapter = Some("1.33x clip-on".to_owned());
            let Some((finding, ways)) = found_by("soft_sideways", &plan, &kit) else { continue };
            assert!(!ways.is_empty(), "no way to mend {finding:?}");
            for way in ways {
                let mut mended = plan.clone();
                way.apply(&mut mended);
                let (before, after) = (found(&plan, &kit), found(&mended, &kit));
                assert!(finding.bettered(&before, &after).is_some(), "{way:?}: {before:?} {after:?}");
            }
        }
    }

    #[test]
    fn a_room_is_mended_by_the_longest_lens_that_fits_and_by_no_adapter_that_is_not_there() {
        let mut kit = first_kit().to_kit().expect("a preset");
        kit.adapters.clear();
        let mut plan = Plan { lens: "long".to_owned(), ..Plan::first() };
        plan.shot.room_m = Some(3.0);
        let (_, ways) = found_by("no_room", &plan, &kit).expect("a long lens needs more room");
        let rows = plan.compare(&kit);
        let distance = |row: &Comparison| row.result.outcome.map_or(0.0, |setup| setup.distance.to_m());
        let fits = rows.iter().filter(|row| row.result.will_do());
        let longest = fits.max_by(|one, other| distance(one).total_cmp(&distance(other))).expect("one fits");
        let called = lens_name(&kit, longest);
        assert!(called.starts_with("main"), "{called}");
        assert!(matches!(&ways[..], [Mend::Lens { called: offered, .. }] if *offered == called), "{ways:?}");
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
