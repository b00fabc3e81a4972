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
        /// Whether other filters are on.
        filters_differ: bool,
        /// Whether another shutter is set.
        shutters_differ: bool,
    },
    /// One has more noise.
    Noise {
        /// The noisier one.
        noisier: ShotId,
        /// The cleaner one.
        cleaner: ShotId,
        /// By how much.
        by: Stops,
        /// Whether it records on less of a sensor.
        has_less_sensor: bool,
    },
    /// One smears movement more.
    Shutter {
        /// The one that is open for longer.
        longer: ShotId,
        /// The other one.
        shorter: ShotId,
        /// By how much.
        by: Stops,
        /// Whether the app chooses it.
        is_by_app: bool,
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
        found.push(Disagreement::Brightness {
            brighter: more.shot,
            darker: less.shot,
            by,
            filters_differ: more.filters.on != less.filters.on,
            shutters_differ: (more.shutter.time.to_s() / less.shutter.time.to_s() - 1.0).abs() > ROUNDING,
        });
    }
    let noise = |light: &ShotLight| {
        let iso = light.guess.map_or(light.iso.set, |guess| guess.iso);
        libm::log2(iso.to_f64() / light.recorded_mm2)
    };
    if let Some((more, less, by)) = widest(lights, noise, NOISE_STOPS) {
        let has_less_sensor = more.recorded_mm2 < less.recorded_mm2 * (1.0 - ROUNDING);
        found.push(Disagreement::Noise { noisier: more.shot, cleaner: less.shot, by, has_less_sensor });
    }
    let open = |light: &ShotLight| {
        let time = light.guess.map_or(light.shutter.time, |guess| guess.time);
        libm::log2(time.to_s() * light.shutter.rate.to_fps())
    };
    if let Some((more, less, by)) = widest(lights, open, RIGHT_STOPS) {
        let is_by_app = more.guess.is_some() || less.guess.is_some();
        found.push(Disagreement::Shutter { longer: more.shot, shorter: less.shot, by, is_by_app });
    }
    found
}

/// The setups with the most and the least of something that is counted in stops, if they are farther apart than that.
fn widest(
    lights: &[ShotLight],
    of: impl Fn(&ShotLight) -> f64,
    apart: f64,
) -> Option<(&ShotLight, &ShotLight, Stops)> {
    let by_amount = |one: &&ShotLight, other: &&ShotLight| of(one).total_cmp(&of(other));
    let (most, least) = (lights.iter().max_by(by_amount)?, lights.iter().min_by(by_amount)?);
    let by = of(most) - of(least);
    (by.is_finite() && by > apart + ROUNDING).then(|| (most, least, Stops::new(by)))
}

/// A shot's number as a shot list has it, or words for one that is gone.
pub(super) fn number(film: &Film, shot: ShotId) -> String {
    film.shot_called(shot)
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
        let message = match self {
            Self::Brightness { brighter, darker, by, .. } => {
                say!("{} comes out {by:.1} brighter than {}", number(film, *brighter), number(film, *darker))
            }
            Self::Noise { noisier, cleaner, by, .. } => {
                say!("{} has {by:.1} more noise than {}", number(film, *noisier), number(film, *cleaner))
            }
            Self::Shutter { longer, shorter, by, .. } => say!(
                "the shutter of {} is open {by:.1} longer than that of {}: movement looks another way",
                number(film, *longer),
                number(film, *shorter)
            ),
            Self::NothingHolds => say!(
                "this app holds no exposure: brightness and colour may jump within a take and between takes"
            )
            .to_owned(),
        };
        Finding { rule: self.rule(), severity: self.severity(), message, hint: self.hint().to_owned() }
    }

    /// What to do about it; nothing that is done already.
    fn hint(&self) -> &'static str {
        match self {
            Self::Brightness { filters_differ: true, shutters_differ: true, .. } => {
                say!("use the same ND and shutter for both, or bring them together when the cut is graded")
            }
            Self::Brightness { filters_differ: true, shutters_differ: false, .. } => {
                say!("use the same ND for both, or bring them together when the cut is graded")
            }
            Self::Brightness { filters_differ: false, shutters_differ: true, .. } => {
                say!("use the same shutter for both, or bring them together when the cut is graded")
            }
            Self::Brightness { filters_differ: false, shutters_differ: false, .. } => {
                say!("bring them together with light, or when the cut is graded")
            }
            Self::Noise { has_less_sensor: true, .. } => {
                say!("bring light to the noisier one, or use the lens with the larger sensor")
            }
            Self::Noise { has_less_sensor: false, .. } => say!("bring light to the noisier one"),
            Self::Shutter { is_by_app: true, .. } => say!("bring them together with ND or light"),
            Self::Shutter { is_by_app: false, .. } => {
                say!("change the frame rate or the film's shutter angle, so that all shots have one angle")
            }
            Self::NothingHolds => {
                say!("keep the light even and tap before each take, or use an app that locks")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use optics::ExposureTime;

    use super::*;
    use crate::day::ShootingDay;
    use crate::day_plan::{DayPlan, Daylights};
    use crate::id::DayId;
    use crate::light::FilterOn;
    use crate::rehearsal::Rehearsals;

    /// Two setups that are lit alike, and the advice on them once the second is changed.
    fn advice(change: impl FnOnce(&mut ShotLight)) -> Vec<String> {
        let film = crate::demo_film();
        let day = ShootingDay::usual(DayId::new(1).expect("small"));
        let plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        let light = plan.setups[0].light_at(&film, &day, &Daylights::new(), 600.0).expect("a light");
        let mut other = ShotLight { shot: plan.setups[1].shot.id, ..light.clone() };
        change(&mut other);
        disagreements(&[light, other]).iter().map(|found| found.to_finding(&film).hint).collect()
    }

    /// Half a stop darker.
    fn darken(light: &mut ShotLight) {
        light.residual = light.residual - Stops::new(0.5);
    }

    #[test]
    fn what_is_alike_already_is_not_advised() {
        assert_eq!(advice(|_| {}), [""; 0]);
        assert_eq!(advice(darken), ["bring them together with light, or when the cut is graded"]);
        let filters = advice(|light| {
            darken(light);
            light.filters.on.push(FilterOn {
                name: "ND2".to_owned(),
                takes: Stops::new(1.0),
                is_variable: false,
            });
        });
        assert_eq!(filters, ["use the same ND for both, or bring them together when the cut is graded"]);
        let shutter = advice(|light| {
            darken(light);
            light.shutter.time = ExposureTime::from_s(light.shutter.time.to_s() / 1.2).expect("in range");
        });
        assert_eq!(shutter, ["use the same shutter for both, or bring them together when the cut is graded"]);
    }

    #[test]
    fn another_sensor_is_advised_only_where_it_is_larger() {
        let larger = "bring light to the noisier one, or use the lens with the larger sensor";
        assert_eq!(advice(|light| light.recorded_mm2 /= 5.0), [larger]);
        let raised = |light: &mut ShotLight| {
            light.iso.set = light.iso.set.raised(Stops::new(3.0)).expect("in range");
        };
        assert_eq!(advice(raised), ["bring light to the noisier one"]);
    }
}
