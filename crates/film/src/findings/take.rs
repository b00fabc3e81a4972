//! Findings on a take: can it be walked, can the pan be looked at, what does steadying it cost?

use optics::{ExposureTime, ViewTangents};
use staging::{
    Accompanies, Blocking, Movement, Posture, Setup, Shot, Stance, Take, fastest_pan, turn_smear_px,
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
    PanTooFast {
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
    findings.extend(pan_too_fast(&result.shot, setup, taking));
    findings.extend(too_near_on_the_way(&result.shot, setup, taking));
    findings.extend(steadying(&result.shot, setup, taking.take));
    findings
}

/// A pan that is too fast, unless it holds a subject that walks.
fn pan_too_fast(shot: &Shot, setup: &Setup, taking: &Taking<'_>) -> Option<TakeFinding> {
    let Some(Movement::Pan { per_second }) = taking.take.movement else { return None };
    let fastest = fastest_pan(&setup.view, taking.rate);
    let walks = shot.subject.body().is_some_and(|body| body.posture == Posture::Standing)
        && matches!(taking.blocking.stances[0], Stance::Walking(_));
    (per_second.abs() > fastest && !walks).then(|| TakeFinding::PanTooFast {
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
            Self::PanTooFast { .. } => "pan_too_fast",
            Self::TooNearOnTheWay { .. } => "too_near_on_the_way",
            Self::SteadyingTakes { .. } => "steadying_takes",
            Self::Unsteadied { .. } => "unsteadied",
        }
    }

    /// How bad it is.
    pub const fn severity(&self) -> Severity {
        match self {
            Self::TooNearOnTheWay { .. } => Severity::Fails,
            Self::WalksBackwards { .. } | Self::PanTooFast { .. } => Severity::Warns,
            Self::SteadyingTakes { .. } | Self::Unsteadied { .. } => Severity::Notes,
        }
    }

    /// The finding in words, lengths in `unit`.
    pub fn to_finding(&self, unit: LengthUnit) -> Finding {
        let (message, hint) = self.words(unit);
        Finding { rule: self.rule(), severity: self.severity(), message, hint }
    }

    fn words(&self, unit: LengthUnit) -> (String, String) {
        let say = |length: Length| format!("{:.2} {}", length.to(unit), unit.sign());
        match self {
            Self::WalksBackwards { per_second } => (
                format!("whoever holds the phone walks backwards, {} a second", say(*per_second)),
                "have a spotter with a hand on their back, clear the way and try it slowly first; local rules and \
                 whoever is responsible there decide whether it may be done"
                    .to_owned(),
            ),
            Self::PanTooFast { asked, fastest, smear_px } => (
                format!(
                    "the pan turns {:.1}° a second; up to {:.1}° it can be looked at, and what stands still smears \
                     over {smear_px:.0} px",
                    asked.to_deg(),
                    fastest.to_deg()
                ),
                format!(
                    "turn no faster than {:.1}° a second, use a wider lens, or pan with somebody who walks",
                    fastest.to_deg()
                ),
            ),
            Self::TooNearOnTheWay { focus, closest } => (
                format!(
                    "on the way it would have to focus at {}; this lens focuses from {} on",
                    say(*focus),
                    say(*closest)
                ),
                "end the move or the pull farther away, or use another lens".to_owned(),
            ),
            Self::SteadyingTakes { crop, seen, without } => (
                format!(
                    "electronic stabilisation takes {:.0} % of the frame's width and height: {:.0}° across instead \
                     of {:.0}°",
                    (1.0 - 1.0 / crop) * 100.0,
                    seen.to_deg(),
                    without.to_deg()
                ),
                "on a gimbal switch it off, and plan with a recording mode whose stabiliser crop is 1".to_owned(),
            ),
            Self::Unsteadied { seen, with } => (
                format!(
                    "the phone moves with electronic stabilisation off; switched on it costs crop, typically {:.0} % \
                     of the frame's width and height: {:.0}° across instead of {:.0}°",
                    (1.0 - 1.0 / TYPICAL_STABILISER_CROP) * 100.0,
                    with.to_deg(),
                    seen.to_deg()
                ),
                "steady it with a gimbal or soft knees, or plan with the mode's stabiliser crop".to_owned(),
            ),
        }
    }
}
