//! Whether the setups of a scene look as if they were of one moment.

use language::say;
use units::Stops;

use super::{RIGHT_STOPS, ShotLight};
use crate::film::Film;
use crate::findings::{Finding, Severity};
use crate::id::ShotId;
use crate::kit::CameraApp;

/// Two setups of a scene that will not look alike, or an app that holds none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Disagreement {
    /// One comes out brighter.
    Brightness {
        /// The brighter one.
        brighter: ShotId,
        /// The darker one.
        darker: ShotId,
        /// By how much.
        by: Stops,
    },
    /// One has more noise.
    Noise {
        /// The noisier one.
        noisier: ShotId,
        /// The cleaner one.
        cleaner: ShotId,
        /// By how much.
        by: Stops,
    },
    /// One smears movement more.
    Shutter {
        /// The one that is open for longer.
        longer: ShotId,
        /// The other one.
        shorter: ShotId,
        /// By how much.
        by: Stops,
    },
    /// The app holds no exposure, so that any take may come out otherwise.
    NothingHolds,
}

/// Noise that differs by less than this is not seen in a cut: two stops, chosen as the step from a phone's main lens to its
/// others, which people accept.
const NOISE_STOPS: f64 = 2.0;
/// A third of a stop may be a rounding more.
const ROUNDING: f64 = 1e-9;

/// What differs most between the setups of a scene.
///
/// ```text
/// noise = log2(S / A),   open = log2(t r)
/// ```
/// `S` ISO; `A` recorded area on the sensor: the light of a picture is what falls on that area, and its noise goes by it; `t`
/// exposure and `r` rate of capture: the share of a frame's time. Brightness is what is too much in the end. An app that
/// chooses shutter and ISO makes up for brightness by itself.
///
/// # Source
/// The definitions of stops; photon noise goes with the light gathered: common practice. From a third of a stop brightness is
/// seen to jump: common practice.
pub(crate) fn disagreements(lights: &[ShotLight]) -> Vec<Disagreement> {
    let mut found = Vec::new();
    if lights.iter().any(|light| light.app == CameraApp::Nothing) {
        found.push(Disagreement::NothingHolds);
    }
    let brightness = |light: &ShotLight| if light.guess.is_some() { 0.0 } else { light.residual.to_f64() };
    if let Some((more, less, by)) = widest(lights, brightness, RIGHT_STOPS) {
        found.push(Disagreement::Brightness { brighter: more, darker: less, by });
    }
    let noise = |light: &ShotLight| {
        let iso = light.guess.map_or(light.iso.set, |guess| guess.iso);
        libm::log2(iso.to_f64() / light.recorded_mm2)
    };
    if let Some((more, less, by)) = widest(lights, noise, NOISE_STOPS) {
        found.push(Disagreement::Noise { noisier: more, cleaner: less, by });
    }
    let open = |light: &ShotLight| {
        let time = light.guess.map_or(light.shutter.time, |guess| guess.time);
        libm::log2(time.to_s() * light.shutter.rate.to_fps())
    };
    if let Some((more, less, by)) = widest(lights, open, RIGHT_STOPS) {
        found.push(Disagreement::Shutter { longer: more, shorter: less, by });
    }
    found
}

/// The shots with the most and the least of something that is counted in stops, if they are farther apart than that.
fn widest(
    lights: &[ShotLight],
    of: impl Fn(&ShotLight) -> f64,
    apart: f64,
) -> Option<(ShotId, ShotId, Stops)> {
    let by_amount = |one: &&ShotLight, other: &&ShotLight| of(one).total_cmp(&of(other));
    let (most, least) = (lights.iter().max_by(by_amount)?, lights.iter().min_by(by_amount)?);
    let by = of(most) - of(least);
    (by.is_finite() && by > apart + ROUNDING).then(|| (most.shot, least.shot, Stops::new(by)))
}

/// A shot's number as a shot list has it, or words for one that is gone.
pub(super) fn number(film: &Film, shot: ShotId) -> String {
    film.numbered(shot).unwrap_or_else(|| say!("a shot").to_owned())
}

impl Disagreement {
    /// The rule's name, for programs.
    pub const fn rule(&self) -> &'static str {
        match self {
            Self::Brightness { .. } => "brightness_jumps",
            Self::Noise { .. } => "noise_differs",
            Self::Shutter { .. } => "shutter_differs",
            Self::NothingHolds => "nothing_holds",
        }
    }

    /// How bad it is.
    pub const fn severity(&self) -> Severity {
        match self {
            Self::Brightness { .. } | Self::Shutter { .. } | Self::NothingHolds => Severity::Warns,
            Self::Noise { .. } => Severity::Notes,
        }
    }

    /// In words, with the shots' numbers.
    pub fn to_finding(&self, film: &Film) -> Finding {
        let (message, hint) = match self {
            Self::Brightness { brighter, darker, by } => (
                say!(
                    "{} comes out {by:.1} brighter than {}",
                    number(film, *brighter),
                    number(film, *darker)
                ),
                say!("use the same ND and shutter for both, or bring them together when the cut is graded"),
            ),
            Self::Noise { noisier, cleaner, by } => (
                say!("{} has {by:.1} more noise than {}", number(film, *noisier), number(film, *cleaner)),
                say!("bring light to the noisier one, or use the lens with the larger sensor"),
            ),
            Self::Shutter { longer, shorter, by } => (
                say!(
                    "the shutter of {} is open {by:.1} longer than that of {}: movement looks another way",
                    number(film, *longer),
                    number(film, *shorter)
                ),
                say!("bring them together with ND or light"),
            ),
            Self::NothingHolds => (
                say!("this app holds no exposure: brightness and colour may jump within a take and between takes")
                    .to_owned(),
                say!("keep the light even and tap before each take, or use an app that locks"),
            ),
        };
        Finding { rule: self.rule(), severity: self.severity(), message, hint: hint.to_owned() }
    }
}
