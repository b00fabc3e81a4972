//! Findings on a take: can it be walked, can its turns be looked at, what does steadying it cost?

use language::say;
use optics::{ExposureTime, ViewTangents};
use staging::{
    Accompanies, Blocking, Movement, Posture, Setup, Shot, Stance, Take, fastest_turn, turn_smear_px,
};
use units::{Angle, FrameRate, Length, LengthUnit};

use super::{Finding, Severity};
use crate::comparison::ShotResult;

/// How a shot is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taking<'a> {
    /// Who stands where, and where the phone is.
    pub blocking: &'a Blocking,
    /// What moves.
    pub take: &'a Take,
    /// Frames a second at capture.
    pub rate: FrameRate,
    /// How long each is exposed.
    pub exposure: ExposureTime,
}

/// A finding on one take, with its numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TakeFinding {
    /// Whoever holds the phone walks backwards.
    WalksBackwards {
        /// How far in a second.
        per_second: Length,
    },
    /// The phone turns faster than its picture can be looked at, and holds nothing that moves.
    TurnTooFast {
        /// The turn in a second that was asked for.
        asked: Angle,
        /// The fastest that can be looked at.
        fastest: Angle,
        /// Over how many delivered pixels it smears what stands still.
        smear_px: f64,
    },
    /// On the way focus would have to come nearer than the lens can.
    TooNearOnTheWay {
        /// The nearest focus of the take.
        focus: Length,
        /// The nearest that the lens can.
        closest: Length,
    },
    /// The phone moves, and electronic stabilisation takes part of the frame.
    SteadyingTakes {
        /// What it takes from both sides, as a factor.
        crop: f64,
        /// What the frame sees across.
        seen: Angle,
        /// What it would see without.
        without: Angle,
    },
    /// The phone moves, and electronic stabilisation is off.
    Unsteadied {
        /// What the frame sees across.
        seen: Angle,
        /// What it would see with a typical stabiliser on.
        with: Angle,
    },
}

/// What electronic stabilisation takes from both sides: typical, the middle of the kits in `presets/phones`.
const TYPICAL_STABILISER_CROP: f64 = 1.12;

/// Checks one take of a resolved shot. Allocates only when it finds something.
pub fn check_take(result: &ShotResult, taking: &Taking<'_>) -> Vec<TakeFinding> {
    let mut findings = Vec::new();
    if let Some(Movement::Follow { per_second }) = taking.take.movement
        && per_second > Length::ZERO
        && Accompanies::of(taking.blocking.facing, taking.blocking.phone_bearing) == Accompanies::Backwards
    {
        findings.push(TakeFinding::WalksBackwards { per_second });
    }
    let Ok(setup) = &result.outcome else { return findings };
    findings.extend(turn_too_fast(&result.shot, setup, taking));
    findings.extend(too_near_on_the_way(&result.shot, setup, taking));
    findings.extend(steadying(&result.shot, setup, taking.take));
    findings
}

/// A pan or a tilt that is too fast, unless it holds a subject that walks.
fn turn_too_fast(shot: &Shot, setup: &Setup, taking: &Taking<'_>) -> Option<TakeFinding> {
    let Some(Movement::Pan { per_second } | Movement::Tilt { per_second }) = taking.take.movement else {
        return None;
    };
    let fastest = fastest_turn(&setup.view, taking.rate);
    let walks = shot.subject.body().is_some_and(|body| body.posture == Posture::Standing)
        && matches!(taking.blocking.stances[0], Stance::Walking(_));
    (per_second.abs() > fastest && !walks).then(|| TakeFinding::TurnTooFast {
        asked: per_second.abs(),
        fastest,
        smear_px: turn_smear_px(setup, per_second, taking.exposure),
    })
}

/// A take that brings focus nearer than the lens can, from a setup that does not.
fn too_near_on_the_way(shot: &Shot, setup: &Setup, taking: &Taking<'_>) -> Option<TakeFinding> {
    let Taking { blocking, take, .. } = taking;
    let at = |seconds: f64| take.focus_at(shot, setup, blocking, seconds);
    let focus = at(0.0).min(at(take.duration_s));
    let closest = shot.closest_focus(focus)?;
    (shot.closest_focus(setup.focus).is_none()).then_some(TakeFinding::TooNearOnTheWay { focus, closest })
}

/// What steadying a phone that moves costs. A view that was measured has it in it, unseen.
fn steadying(shot: &Shot, setup: &Setup, take: &Take) -> Option<TakeFinding> {
    if !take.movement.is_some_and(|movement| movement.moves()) || shot.recording.measured().is_some() {
        return None;
    }
    let crop = shot.recording.stabiliser_crop();
    let seen = setup.view.horizontal_fov();
    Some(if crop > 1.0 {
        TakeFinding::SteadyingTakes { crop, seen, without: enlarged_fov(&setup.view, crop) }
    } else {
        TakeFinding::Unsteadied { seen, with: enlarged_fov(&setup.view, 1.0 / TYPICAL_STABILISER_CROP) }
    })
}

/// The full horizontal angle of a view whose tangents are that many times as large.
fn enlarged_fov(view: &ViewTangents, times: f64) -> Angle {
    ViewTangents { left: view.left * times, right: view.right * times, ..*view }.horizontal_fov()
}

impl TakeFinding {
    /// The rule's name, for programs.
    pub const fn rule(&self) -> &'static str {
        match self {
            Self::WalksBackwards { .. } => "walks_backwards",
            // Films that keep the finding have it by the name it had when it was of pans alone.
            Self::TurnTooFast { .. } => "pan_too_fast",
            Self::TooNearOnTheWay { .. } => "too_near_on_the_way",
            Self::SteadyingTakes { .. } => "steadying_takes",
            Self::Unsteadied { .. } => "unsteadied",
        }
    }

    /// How bad it is.
    pub const fn severity(&self) -> Severity {
        match self {
            Self::TooNearOnTheWay { .. } => Severity::Fails,
            Self::WalksBackwards { .. } | Self::TurnTooFast { .. } => Severity::Warns,
            Self::SteadyingTakes { .. } | Self::Unsteadied { .. } => Severity::Notes,
        }
    }

    /// The reason in two to five words, for a small picture's mark.
    pub fn brief(&self) -> &'static str {
        match self {
            Self::WalksBackwards { .. } => say!("phone goes backwards"),
            Self::TurnTooFast { .. } => say!("turns too fast"),
            Self::TooNearOnTheWay { .. } => say!("too near on the way"),
            Self::SteadyingTakes { .. } => say!("steadying crops"),
            Self::Unsteadied { .. } => say!("not steadied"),
        }
    }

    /// Why it is a rule.
    pub fn reason(&self) -> &'static str {
        match self {
            Self::WalksBackwards { .. } => {
                say!(
                    "Common practice: who walks backwards does not see where to, so somebody goes along who does. Local \
                     rules, and whoever is licensed or responsible there, come first."
                )
            }
            Self::TurnTooFast { .. } => {
                say!(
                    "Common practice: a turn goes past a frame's width in no less than seven seconds at 24 frames a second. \
                     Faster, what stands still cannot be looked at."
                )
            }
            Self::TooNearOnTheWay { .. } => say!("Physics: no lens focuses nearer than its closest focus."),
            Self::SteadyingTakes { .. } | Self::Unsteadied { .. } => {
                say!("Physics: what steadies a picture electronically takes it from the frame's edges.")
            }
        }
    }

    /// The finding in words, lengths in `unit`.
    pub fn to_finding(&self, unit: LengthUnit) -> Finding {
        let (message, hint) = self.words(unit);
        Finding { rule: self.rule(), severity: self.severity(), message, hint }
    }

    fn words(&self, unit: LengthUnit) -> (String, String) {
        let told = |length: Length| length.told(unit, 2);
        match self {
            Self::WalksBackwards { per_second } => (
                say!("whoever holds the phone walks backwards, {} a second", per_second.in_decimals(unit, 2)),
                say!(
                    "have a spotter with a hand on their back, clear the way and try it slowly first; local rules and \
                     whoever is responsible there decide whether it may be done"
                )
                .to_owned(),
            ),
            Self::TurnTooFast { asked, fastest, smear_px } => (
                say!(
                    "the phone turns {:.1}° a second; up to {:.1}° it can be looked at, and what stands still smears \
                     over {smear_px:.0} px",
                    asked.to_deg(),
                    fastest.to_deg()
                ),
                say!(
                    "turn no faster than {:.1}° a second, use a wider lens, or turn with somebody who walks",
                    fastest.to_deg()
                ),
            ),
            Self::TooNearOnTheWay { focus, closest } => (
                say!(
                    "on the way it would have to focus at {}; this lens focuses from {} on",
                    told(*focus),
                    told(*closest)
                ),
                say!("end the move or the pull farther away, or use another lens").to_owned(),
            ),
            Self::SteadyingTakes { crop, seen, without } => (
                say!(
                    "electronic stabilisation takes {:.0} % of the frame's width and height: {:.0}° across instead \
                     of {:.0}°",
                    (1.0 - 1.0 / crop) * 100.0,
                    seen.to_deg(),
                    without.to_deg()
                ),
                say!("on a gimbal switch it off, and plan with a recording mode whose stabiliser crop is 1").to_owned(),
            ),
            Self::Unsteadied { seen, with } => (
                say!(
                    "the phone moves with electronic stabilisation off; switched on it costs crop, typically {:.0} % \
                     of the frame's width and height: {:.0}° across instead of {:.0}°",
                    (1.0 - 1.0 / TYPICAL_STABILISER_CROP) * 100.0,
                    with.to_deg(),
                    seen.to_deg()
                ),
                say!("steady it with a gimbal or soft knees, or plan with the mode's stabiliser crop").to_owned(),
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::Circumstances;
    use optics::{
        Aspect, FNumber, FocalLength, Known, Lens, MeasuredView, Origin, Recording, Scale, SensorSize,
        exposure_time,
    };
    use staging::{
        Body, FocusOn, FocusPull, Look, PhoneHeight, Sharpness, ShotSize, Stand, Subject, USUAL_PACE,
    };
    use std::collections::BTreeSet;

    /// A medium shot of somebody on a phone's main lens, in a mode of that stabiliser crop.
    fn shot(crop: f64) -> Shot {
        let origin = Origin::Typed;
        let recording = Recording::new(3840, 2160).and_then(|mode| mode.with_stabiliser_crop(crop));
        Shot {
            lens: Lens {
                focal_length: Known::new(FocalLength::from_mm(6.86).expect("in range"), origin),
                f_number: Some(Known::new(FNumber::new(1.78).expect("in range"), origin)),
                sensor: Known::new(SensorSize::from_mm(9.8, 7.3).expect("in range"), origin),
                closest_focus: Some(Length::from_m(0.2)),
                scale: Scale::True,
            },
            recording: recording.expect("a mode"),
            adapter: None,
            aspect: Aspect::new(16.0 / 9.0).expect("a shape"),
            crop_shift: None,
            subject: Subject::Person(Body::standing(Length::from_m(1.70))),
            size: ShotSize::Medium,
            headroom: None,
            phone_height: PhoneHeight::BySize,
            look: Look::Aimed,
            stand: Stand::ForSize,
            across: 0.5,
            background_behind: Length::from_m(10.0),
            focus: FocusOn::Subject,
            sharpness: Sharpness::Usual,
        }
    }

    /// What is found on a take of the shot, of somebody who faces that way, for a phone north of them.
    fn found(shot: &Shot, take: &Take, facing_deg: f64, stance: Stance) -> Vec<TakeFinding> {
        let mut blocking = Blocking::bare(shot, Angle::ZERO);
        blocking.facing = Angle::from_deg(facing_deg);
        blocking.stances[0] = stance;
        let rate = FrameRate::FILM;
        let exposure = exposure_time(optics::ShutterAngle::HALF, rate);
        let result = ShotResult::of(*shot, &Circumstances::default());
        check_take(&result, &Taking { blocking: &blocking, take, rate, exposure })
    }

    fn moving(movement: Movement) -> Take {
        Take { movement: Some(movement), pull: None, duration_s: 3.0 }
    }

    fn rules(shot: &Shot, take: &Take) -> Vec<&'static str> {
        found(shot, take, 0.0, Stance::Still).iter().map(TakeFinding::rule).collect()
    }

    #[test]
    fn whoever_goes_before_a_walker_walks_backwards() {
        let follows = |metres: f64, facing_deg: f64| {
            let take = moving(Movement::Follow { per_second: Length::from_m(metres) });
            let found = found(&shot(1.1), &take, facing_deg, Stance::Walking(0.0));
            found.iter().any(|one| matches!(one, TakeFinding::WalksBackwards { .. }))
        };
        // The phone is in the north: who faces north comes towards it.
        assert!(follows(1.4, 0.0) && !follows(1.4, 180.0) && !follows(1.4, 90.0));
        assert!(!follows(0.0, 0.0), "nobody walks");
        assert!(!follows(-1.4, 0.0), "they walk backwards themselves");
        let pushes = moving(Movement::Push { per_second: Length::from_m(0.3) });
        assert_eq!(rules(&shot(1.1), &pushes), ["steadying_takes"]);
    }

    #[test]
    fn a_pan_may_be_as_fast_as_a_frame_in_seven_seconds() {
        let shot = shot(1.1);
        let setup = ShotResult::of(shot, &Circumstances::default()).outcome.expect("a setup");
        let fastest = setup.view.horizontal_fov() / 7.0;
        let pans = |per_second: Angle, stance: Stance| {
            let found = found(&shot, &moving(Movement::Pan { per_second }), 0.0, stance);
            found.into_iter().find(|one| matches!(one, TakeFinding::TurnTooFast { .. }))
        };
        assert_eq!(pans(fastest, Stance::Still), None);
        assert_eq!(pans(fastest * 0.5, Stance::Still), None);
        for way in [1.01, -1.01] {
            let Some(TakeFinding::TurnTooFast { asked, fastest: limit, smear_px }) =
                pans(fastest * way, Stance::Still)
            else {
                panic!("not found");
            };
            let times = |angle: Angle| angle.to_rad() / fastest.to_rad();
            assert!((times(asked) - 1.01).abs() < 1e-12 && (times(limit) - 1.0).abs() < 1e-12);
            // 1/48 s of it, at so many pixels per tangent.
            let expected = fastest.to_rad() * 1.01 / 48.0 * 3840.0 / setup.view.width();
            assert!((smear_px - expected).abs() < 1e-6, "{smear_px} is not {expected}");
        }
        assert_eq!(pans(fastest * 3.0, Stance::Walking(0.0)), None, "it holds a walker");
        let tilt = moving(Movement::Tilt { per_second: fastest * 1.01 });
        assert!(rules(&shot, &tilt).contains(&"pan_too_fast"), "a tilt is no other turn");
    }

    #[test]
    fn a_pan_that_holds_somebody_on_a_chair_holds_nothing_that_walks() {
        let body = Body { posture: Posture::Seated, ..Body::standing(Length::from_m(1.7)) };
        let seated = Shot { subject: Subject::Person(body), ..shot(1.1) };
        let fast = moving(Movement::Pan { per_second: Angle::from_deg(60.0) });
        let found = found(&seated, &fast, 0.0, Stance::Walking(0.0));
        assert!(found.iter().any(|one| matches!(one, TakeFinding::TurnTooFast { .. })), "{found:?}");
    }

    #[test]
    fn a_pull_may_end_at_the_closest_focus_and_no_nearer() {
        let pulls = |to_m: f64| {
            let pull = FocusPull {
                from: Length::from_m(1.5),
                to: Length::from_m(to_m),
                starts_s: 0.0,
                lasts_s: 2.0,
            };
            let take = Take { movement: None, pull: Some(pull), duration_s: 3.0 };
            found(&shot(1.1), &take, 0.0, Stance::Still)
        };
        assert_eq!(pulls(0.21), []);
        let found = pulls(0.15);
        let [TakeFinding::TooNearOnTheWay { focus, closest }] = found[..] else { panic!("{found:?}") };
        assert!((focus.to_m() - 0.15).abs() < 1e-9, "{focus:?}");
        assert_eq!(closest, Length::from_m(0.2));
    }

    #[test]
    fn a_setup_that_is_too_near_already_is_not_found_again_on_the_way() {
        let near = Shot { stand: Stand::At(Length::from_m(0.15)), ..shot(1.1) };
        let push = moving(Movement::Push { per_second: Length::from_m(0.01) });
        assert!(!rules(&near, &push).contains(&"too_near_on_the_way"));
    }

    #[test]
    fn only_a_phone_that_moves_is_steadied() {
        let still = moving(Movement::Push { per_second: Length::ZERO });
        for take in [Take::default(), still] {
            assert_eq!(rules(&shot(1.1), &take), [""; 0]);
            assert_eq!(rules(&shot(1.0), &take), [""; 0]);
        }
        let tilt = moving(Movement::Tilt { per_second: Angle::from_deg(2.0) });
        assert_eq!(rules(&shot(1.1), &tilt), ["steadying_takes"]);
        assert_eq!(rules(&shot(1.0), &tilt), ["unsteadied"]);
        let view = MeasuredView { horizontal_fov: Angle::from_deg(60.0), at: None, relative_sd: 0.01 };
        let mut seen = shot(1.1);
        seen.recording = seen.recording.with_measured(view).expect("in range");
        assert_eq!(rules(&seen, &tilt), [""; 0], "what was seen has it in it");
    }

    #[test]
    fn steadying_narrows_tangents_by_its_crop() {
        // Tangents of 0.5 and 0.25 are 1 and 0.5 without a crop of 2: 45° and 26.565°.
        let view = ViewTangents { left: 0.5, right: 0.25, up: 0.3, down: 0.3 };
        assert!((enlarged_fov(&view, 2.0).to_deg() - 71.565_051).abs() < 1e-6);
        let tilt = moving(Movement::Tilt { per_second: Angle::from_deg(2.0) });
        let shown = |crop: f64| found(&shot(crop), &tilt, 0.0, Stance::Still);
        let half_tangent = |angle: Angle| (angle / 2.0).tan();
        let taken = shown(1.25);
        let [TakeFinding::SteadyingTakes { crop, seen, without }] = taken[..] else { panic!("{taken:?}") };
        assert!((crop - 1.25).abs() < 1e-12, "{taken:?}");
        assert!((half_tangent(without) / half_tangent(seen) - 1.25).abs() < 1e-9, "{taken:?}");
        let off = shown(1.0);
        let [TakeFinding::Unsteadied { seen, with }] = off[..] else { panic!("{off:?}") };
        assert!((half_tangent(seen) / half_tangent(with) - 1.12).abs() < 1e-9, "{off:?}");
    }

    #[test]
    fn a_shot_that_cannot_be_had_is_walked_all_the_same() {
        let ground = Shot { phone_height: PhoneHeight::Ground, ..shot(1.1) };
        let take = moving(Movement::Follow { per_second: USUAL_PACE });
        assert_eq!(rules(&ground, &take), ["walks_backwards"]);
    }

    #[test]
    fn every_finding_has_a_rule_and_words_of_its_own() {
        let (m, deg) = (Length::from_m, Angle::from_deg);
        let all = [
            TakeFinding::TooNearOnTheWay { focus: m(0.1), closest: m(0.2) },
            TakeFinding::WalksBackwards { per_second: m(1.4) },
            TakeFinding::TurnTooFast { asked: deg(20.0), fastest: deg(9.0), smear_px: 33.0 },
            TakeFinding::SteadyingTakes { crop: 1.25, seen: deg(60.0), without: deg(70.0) },
            TakeFinding::Unsteadied { seen: deg(70.0), with: deg(64.0) },
        ];
        let told = all.map(|found| found.to_finding(LengthUnit::Metres));
        assert_eq!(told.iter().map(|one| one.rule).collect::<BTreeSet<_>>().len(), told.len());
        assert_eq!(told.iter().map(|one| &one.message).collect::<BTreeSet<_>>().len(), told.len());
        for one in &told {
            assert!(one.message.contains(' ') && one.hint.contains(' '), "{one:?}");
            assert!(!one.message.ends_with('.') && !one.hint.ends_with('.'), "{one:?}");
        }
        for found in &all {
            assert!((2..=5).contains(&found.brief().split(' ').count()), "{}", found.brief());
            assert!(found.reason().ends_with('.'), "{}", found.reason());
        }
        let [fails, warns, notes] = [Severity::Fails, Severity::Warns, Severity::Notes]
            .map(|severity| told.iter().filter(|one| one.severity == severity).count());
        assert_eq!((fails, warns, notes), (1, 2, 2));
        assert!(told[3].message.contains("takes 20 % of the frame's width"), "{:?}", told[3]);
    }
}
