//! Findings on an exposure: too bright with every filter on, too dark, lamps that flicker.

use language::{Number, say};

#[cfg(test)]
mod offered;
mod other_ways;

use optics::{
    ExposureTime, ExposureValue, Iso, MainsFrequency, Stacking, half_periods, is_locked, is_steady,
    locked_rate, steady_exposure, stronger_filters,
};
use units::{FrameRate, Stops};

use super::{Finding, Severity};
use crate::exposure::Exposure;
use crate::light::RIGHT_STOPS;
pub use other_ways::{OtherTime, Stronger};
pub(crate) use other_ways::{angle_told, steady_time_told};
use other_ways::{steady_told, whole};

/// A finding on one exposure, with its numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ExposureFinding {
    /// There is too much light, with the best filters on.
    TooBright {
        /// How much brighter it comes out than it is wanted.
        residual: Stops,
        /// How much brighter it comes out than the meter's grey: the same, with what was wanted in it.
        above_meter: Stops,
        /// Which filters are on.
        filters: FiltersOn,
        /// Filters at hand that take more, and the ISO that makes up for it; none where there are none or it brings noise.
        stronger: Option<Stronger>,
        /// What one filter in place of all would have to take.
        needed: Stops,
        /// The light at which these filters would do.
        would_do: ExposureValue,
        /// The lower ISO that would do, if cameras have it.
        iso: Option<Iso>,
        /// The shorter exposure that would do, if there is one.
        shorter: Option<OtherTime>,
    },
    /// There is too little light, with the best filters on.
    TooDark {
        /// How much too little.
        lacking: Stops,
        /// What one filter in place of those on would have to take; none if none is on.
        weaker: Option<Stops>,
        /// The ISO that would do, if there is one.
        iso: Option<Iso>,
        /// The longer exposure that would do, if a frame has room for it.
        longer: Option<OtherTime>,
        /// What an exposure over the whole frame gives of what lacks, where that is not enough.
        whole_frame: Option<Stops>,
    },
    /// Lamps on the mains are seen to swell.
    Flicker {
        /// The exposure.
        time: ExposureTime,
        /// The mains.
        mains: MainsFrequency,
        /// Whether the mains lock the frame rate: then frames are alike and bands stand still.
        locked: bool,
        /// The nearest shorter exposure of whole half periods, and how many.
        below: Option<(u32, OtherTime)>,
        /// The nearest longer one that a frame has room for.
        above: Option<(u32, OtherTime)>,
        /// A frame rate that the mains lock, with the exposure of about half a frame that is steady there.
        rate: Option<(FrameRate, u32, OtherTime)>,
    },
    /// The mains lock the frame rate.
    FrameRateLocked {
        /// The frame rate.
        rate: FrameRate,
        /// The mains.
        mains: MainsFrequency,
        /// Whether the exposure is of whole half periods too.
        steady: bool,
    },
}

/// Which of the filters at hand are on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FiltersOn {
    /// There are none.
    NoneAtHand,
    /// All of them, on top of each other.
    All,
    /// None: every one of them takes more than is too much, so that without them it comes nearest.
    NoneHelps,
    /// One, because they do not go on top of each other.
    TheBestOne,
    /// Those that come nearest.
    TheBest,
}

/// What comes out brighter than the meter's grey by more than this loses highlights that matter. Chosen because a picture keeps
/// about a stop above what a face needs.
pub(crate) const LOST_STOPS: f64 = 1.0;

/// Below it no ISO is offered. Chosen because the floors of phones' lenses are typically ISO 20 to 50.
const LEAST_ISO: f64 = 20.0;

/// Checks one exposure. Allocates only when it finds something.
pub fn check_exposure(exposure: &Exposure) -> Vec<ExposureFinding> {
    let mut findings = Vec::new();
    findings.extend(too_bright(exposure));
    findings.extend(too_dark(exposure));
    findings.extend(flicker(exposure));
    if let (Some(rate), Some(mains)) = (exposure.exposing.rate, exposure.exposing.mains)
        && is_locked(rate, mains)
    {
        let steady = is_steady(exposure.exposing.time, mains);
        findings.push(ExposureFinding::FrameRateLocked { rate, mains, steady });
    }
    findings
}

fn too_bright(exposure: &Exposure) -> Option<ExposureFinding> {
    let (exposing, chosen) = (&exposure.exposing, &exposure.chosen);
    let residual = chosen.residual;
    if residual.to_f64() <= RIGHT_STOPS {
        return None;
    }
    let filters = match (exposing.filters.len(), exposing.stacking) {
        (0, _) => FiltersOn::NoneAtHand,
        _ if chosen.places.is_empty() => FiltersOn::NoneHelps,
        (count, _) if chosen.places.len() == count => FiltersOn::All,
        (_, Stacking::One) => FiltersOn::TheBestOne,
        (_, Stacking::Any) => FiltersOn::TheBest,
    };
    let takes = stronger_filters(exposure.over, &exposing.filters, exposing.stacking).ok().flatten();
    Some(ExposureFinding::TooBright {
        residual,
        above_meter: residual + exposing.bias,
        filters,
        stronger: takes.and_then(|takes| Stronger::of(takes, exposure)),
        needed: exposure.over,
        would_do: exposing.scene.raised(-residual),
        iso: exposing.iso.raised(-residual).filter(|iso| iso.to_f64() >= LEAST_ISO),
        shorter: exposing.time.with_light(-residual).and_then(|time| OtherTime::of(time, exposure)),
    })
}

fn too_dark(exposure: &Exposure) -> Option<ExposureFinding> {
    let (exposing, chosen) = (&exposure.exposing, &exposure.chosen);
    let lacking = -chosen.residual;
    if lacking.to_f64() <= RIGHT_STOPS {
        return None;
    }
    let longer = exposing.time.with_light(lacking).and_then(|time| OtherTime::of(time, exposure));
    let room = exposing
        .rate
        .map(|rate| Stops::from_light_ratio(1.0 / (rate.to_fps() * exposing.time.to_s())))
        .filter(|room| room.to_f64() >= RIGHT_STOPS);
    Some(ExposureFinding::TooDark {
        lacking,
        weaker: (!chosen.places.is_empty()).then_some(exposure.over),
        iso: exposing.iso.raised(lacking),
        longer,
        whole_frame: room.filter(|_| longer.is_none()),
    })
}

fn flicker(exposure: &Exposure) -> Option<ExposureFinding> {
    let (time, rate) = (exposure.exposing.time, exposure.exposing.rate);
    let mains = exposure.exposing.mains.filter(|_| exposure.steady == Some(false))?;
    let locked = rate.is_some_and(|rate| is_locked(rate, mains));
    let steady = |count: u32| {
        let other = steady_exposure(count, mains).and_then(|time| OtherTime::of(time, exposure));
        other.map(|other| (count, other))
    };
    let below = whole(libm::floor(half_periods(time, mains)));
    Some(ExposureFinding::Flicker {
        time,
        mains,
        locked,
        below: steady(below),
        above: steady(below + 1),
        rate: if locked { None } else { locked_alternative(rate.unwrap_or(FrameRate::FILM), mains) },
    })
}

/// A frame rate that the mains lock, near `rate`, with the exposure of about half a frame that is steady there.
fn locked_alternative(rate: FrameRate, mains: MainsFrequency) -> Option<(FrameRate, u32, OtherTime)> {
    let locked = locked_rate(rate, mains)?;
    let each = libm::round(mains.swells() / locked.to_fps());
    let count = whole(libm::floor(each / 2.0)).max(1);
    let time = steady_exposure(count, mains)?;
    let angle = time.shutter_angle(locked);
    Some((locked, count, OtherTime { time, angle, smear_share: 1.0, flickers_at: None }))
}

/// A list of ways in one sentence.
fn ways(ways: &[Option<String>]) -> String {
    ways.iter().flatten().map(String::as_str).collect::<Vec<_>>().join(say!("; or "))
}

impl ExposureFinding {
    /// The rule's name, for programs.
    pub const fn rule(&self) -> &'static str {
        match self {
            Self::TooBright { .. } => "too_bright",
            Self::TooDark { .. } => "too_dark",
            Self::Flicker { .. } => "flicker",
            Self::FrameRateLocked { .. } => "frame_rate_locked",
        }
    }

    /// How bad it is.
    pub fn severity(&self) -> Severity {
        match self {
            Self::TooBright { above_meter, .. } if above_meter.to_f64() > LOST_STOPS => Severity::Fails,
            Self::TooBright { .. } | Self::TooDark { .. } | Self::Flicker { locked: false, .. } => {
                Severity::Warns
            }
            Self::Flicker { locked: true, .. } | Self::FrameRateLocked { .. } => Severity::Notes,
        }
    }

    /// The finding in words.
    pub fn to_finding(&self) -> Finding {
        let (message, hint) = match self {
            Self::TooBright { .. } => self.too_bright_words(),
            Self::TooDark { .. } => self.too_dark_words(),
            Self::Flicker { .. } => self.flicker_words(),
            Self::FrameRateLocked { .. } => self.locked_words(),
        }
        .unwrap_or_default();
        Finding { rule: self.rule(), severity: self.severity(), message, hint }
    }

    fn too_bright_words(&self) -> Option<(String, String)> {
        let Self::TooBright { residual, above_meter, filters, stronger, needed, would_do, iso, shorter } =
            self
        else {
            return None;
        };
        let on = match filters {
            FiltersOn::NoneAtHand => say!(", and there is no filter"),
            FiltersOn::NoneHelps => say!(", and every filter takes more than that"),
            FiltersOn::All => say!(" even with all filters on"),
            FiltersOn::TheBestOne => say!(" even with the best of the filters, one at a time"),
            FiltersOn::TheBest => say!(" with the filters that come nearest"),
        };
        let shorter = shorter.map(|other| {
            say!(
                "expose {}, which smears movement only {:.2} times as far{}{}",
                other.told(),
                other.smear_share,
                other.choppy_told(),
                other.flicker_told()
            )
        });
        let hint = ways(&[
            stronger.map(|Stronger { takes, iso }| say!("use filters of {takes:.1} in all at {iso}")),
            Some(say!("use an ND of {needed:.1} in all (density {:.1})", needed.to_density())),
            iso.map(|iso| say!("go down to {iso}")),
            Some(say!("find shade, or wait until the light has fallen to {would_do:.1}")),
            shorter,
        ]);
        let message = if above_meter.to_f64() > LOST_STOPS {
            say!("{residual:.1} too bright{on}: highlights are lost")
        } else {
            say!("{residual:.1} brighter than wanted{on}; highlights still hold")
        };
        Some((message, hint))
    }

    fn too_dark_words(&self) -> Option<(String, String)> {
        let Self::TooDark { lacking, weaker, iso, longer, whole_frame } = self else { return None };
        let on = if weaker.is_some() { say!(" with the filters that come nearest") } else { "" };
        let longer = longer.map(|other| {
            say!(
                "expose {}, which smears movement {:.1} times as far{}",
                other.told(),
                other.smear_share,
                other.flicker_told()
            )
        });
        let whole_frame = whole_frame.map(|gained| {
            say!("open the shutter over the whole frame (360°), which gives {gained:.1} and smears movement")
        });
        let hint = ways(&[
            weaker.map(|stops| say!("use an ND of {stops:.1} in all (density {:.1})", stops.to_density())),
            iso.map(|iso| say!("raise it to {iso}, which brings noise")),
            longer,
            whole_frame,
            Some(say!("bring light").to_owned()),
        ]);
        Some((say!("{lacking:.1} too dark{on}"), hint))
    }

    fn flicker_words(&self) -> Option<(String, String)> {
        let Self::Flicker { time, mains, locked, below, above, rate } = self else { return None };
        let seen = if *locked {
            say!("lamps may leave bands that stand still")
        } else {
            say!("lamps may flicker from frame to frame and bands may roll")
        };
        let steady = |other: &Option<(u32, OtherTime)>| {
            other.map(|(count, other)| say!("expose {}", steady_told(count, *mains, other.angle)))
        };
        let rate = rate.map(|(rate, count, other)| {
            let time = steady_told(count, *mains, other.angle);
            say!("shoot {rate} at {time}, which the mains lock", rate = Number(rate))
        });
        let message = say!(
            "{time} is {:.2} half periods of {mains} mains: {seen}",
            half_periods(*time, *mains),
            time = Number(time),
            mains = Number(mains)
        );
        Some((message, ways(&[steady(below), steady(above), rate])))
    }

    fn locked_words(&self) -> Option<(String, String)> {
        let Self::FrameRateLocked { rate, mains, steady } = self else { return None };
        let hint = if *steady {
            say!("nothing to do: the exposure is of whole half periods too, so there are no bands either")
        } else {
            say!("frames do not flicker; bands within the frame go at an exposure of whole half periods")
        };
        let (rate, mains) = (Number(rate), Number(mains));
        let message =
            say!("{rate} is locked to {mains} mains: every frame sees the same light at any shutter angle");
        Some((message, hint.to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exposure::Exposing;
    use optics::{FNumber, ShutterAngle, exposure_time};

    pub(super) fn rate(fps: f64) -> FrameRate {
        FrameRate::checked_from_fps(fps).expect("in range")
    }

    /// A phone in the sun: f/1.78, 1/48 s, ISO 50.
    pub(super) fn exposing(scene: f64, filters: &[f64]) -> Exposing {
        Exposing {
            f_number: FNumber::new(1.78).expect("in range"),
            time: exposure_time(ShutterAngle::HALF, FrameRate::FILM),
            rate: Some(FrameRate::FILM),
            iso: Iso::new(50.0).expect("in range"),
            scene: ExposureValue::of_scene(scene).expect("in range"),
            light_loss: Stops::ZERO,
            bias: Stops::ZERO,
            filters: filters.iter().copied().map(Stops::new).collect(),
            stacking: Stacking::Any,
            mains: None,
        }
    }

    fn told(exposing: Exposing) -> Vec<(&'static str, Severity, String, String)> {
        let exposure = Exposure::of(exposing).expect("few filters");
        let findings = check_exposure(&exposure);
        let words = findings.iter().map(ExposureFinding::to_finding);
        words.map(|finding| (finding.rule, finding.severity, finding.message, finding.hint)).collect()
    }

    #[test]
    fn the_right_filter_leaves_nothing_to_find() {
        assert_eq!(told(exposing(15.0, &[2.0, 3.0, 6.5])), []);
    }

    #[test]
    fn too_bright_says_what_remains_and_what_then() {
        let findings = told(exposing(15.0, &[2.0, 3.0]));
        let [(rule, severity, message, hint)] = &findings[..] else { panic!("{findings:?}") };
        assert_eq!((*rule, *severity), ("too_bright", Severity::Fails));
        assert_eq!(message, "1.8 stops too bright even with all filters on: highlights are lost");
        assert_eq!(
            hint,
            "use an ND of 6.8 stops in all (density 2.0); or find shade, or wait until the light has fallen to EV 13.2; \
             or expose 1/162 s (53.5°), which smears movement only 0.30 times as far, so that movement looks choppy"
        );
    }

    #[test]
    fn a_high_iso_is_lowered_first() {
        let exposing = Exposing { iso: Iso::new(400.0).expect("in range"), ..exposing(9.0, &[]) };
        let findings = told(exposing);
        assert!(
            findings[0].2.ends_with("too bright, and there is no filter: highlights are lost"),
            "{findings:?}"
        );
        assert!(findings[0].3.contains("; or go down to ISO 30; or "), "{findings:?}");
    }

    #[test]
    fn too_dark_says_which_iso_and_which_time_would_do() {
        let findings = told(exposing(7.5, &[]));
        let [(rule, severity, message, hint)] = &findings[..] else { panic!("{findings:?}") };
        assert_eq!((*rule, *severity), ("too_dark", Severity::Warns));
        assert_eq!(message, "0.7 stops too dark");
        assert_eq!(
            hint,
            "raise it to ISO 84, which brings noise; or expose 1/29 s (302.5°), which smears movement 1.7 times as \
             far; or bring light"
        );
    }

    #[test]
    fn a_frame_has_no_room_for_more_than_itself() {
        let findings = told(exposing(4.0, &[]));
        assert_eq!(findings[0].2, "4.2 stops too dark");
        assert!(findings[0].3.contains("(360°), which gives 1.0 stops"), "{findings:?}");
    }

    #[test]
    fn at_50_hz_film_speed_flickers_and_is_offered_what_does_not() {
        let mains = Some(MainsFrequency::FIFTY);
        let findings = told(Exposing { mains, ..exposing(8.2, &[]) });
        let [(rule, severity, message, hint)] = &findings[..] else { panic!("{findings:?}") };
        assert_eq!((*rule, *severity), ("flicker", Severity::Warns));
        assert_eq!(
            message,
            "1/48 s is 2.08 half periods of 50 Hz mains: lamps may flicker from frame to frame and bands may roll"
        );
        assert_eq!(
            hint,
            "expose 1/50 s (172.8°); or expose 3/100 s (259.2°); or shoot 25 fps at 1/50 s (180.0°), which the mains lock"
        );
    }

    #[test]
    fn at_60_hz_film_speed_is_locked_and_only_bands_remain() {
        let mains = Some(MainsFrequency::SIXTY);
        let findings = told(Exposing { mains, ..exposing(8.2, &[]) });
        let rules: Vec<_> = findings.iter().map(|finding| (finding.0, finding.1)).collect();
        assert_eq!(rules, [("flicker", Severity::Notes), ("frame_rate_locked", Severity::Notes)]);
        assert!(findings[1].2.starts_with("24 fps is locked to 60 Hz mains"), "{findings:?}");
    }

    #[test]
    fn a_short_exposure_is_offered_half_a_period_and_nothing_shorter() {
        let time = ExposureTime::from_s(1.0 / 1000.0).expect("in range");
        let (mains, rate) = (Some(MainsFrequency::FIFTY), Some(rate(60.0)));
        let findings = told(Exposing { time, rate, mains, ..exposing(12.5, &[]) });
        let hint = &findings.iter().find(|finding| finding.0 == "flicker").expect("it flickers").3;
        assert_eq!(
            hint,
            "expose 1/100 s (216.0°); or shoot 50 fps at 1/100 s (180.0°), which the mains lock"
        );
    }

    #[test]
    fn which_filters_are_on_is_said() {
        let on = |filters: &[f64], stacking| {
            told(Exposing { stacking, ..exposing(15.0, filters) }).swap_remove(0).2
        };
        // 6.8 stops too much: 5 is nearer than 9 or both.
        let nearest = on(&[5.0, 9.0], Stacking::Any);
        assert_eq!(nearest, "1.8 stops too bright with the filters that come nearest: highlights are lost");
        // 0.4 stops too much: nothing is nearer than a filter of one.
        let weak = told(exposing(8.65, &[1.0])).swap_remove(0);
        assert_eq!(
            weak.2,
            "0.4 stops brighter than wanted, and every filter takes more than that; highlights still hold"
        );
        let best = on(&[3.0, 5.0], Stacking::One);
        assert!(
            best.starts_with("1.8 stops too bright even with the best of the filters, one at a time"),
            "{best}"
        );
        assert!(on(&[5.0], Stacking::One).contains("even with all filters on"), "one is all");
    }

    #[test]
    fn with_too_strong_a_filter_a_weaker_one_would_do() {
        let findings = told(exposing(15.0, &[8.0]));
        let [(rule, _, message, hint)] = &findings[..] else { panic!("{findings:?}") };
        assert_eq!(
            (*rule, message.as_str()),
            ("too_dark", "1.2 stops too dark with the filters that come nearest")
        );
        assert!(hint.starts_with("use an ND of 6.8 stops in all (density 2.0); or "), "{hint}");
    }

    #[test]
    fn a_stop_too_bright_warns_and_more_is_lost() {
        let severity = |stops: f64| {
            let finding = ExposureFinding::TooBright {
                residual: Stops::new(stops),
                above_meter: Stops::new(stops),
                filters: FiltersOn::NoneAtHand,
                stronger: None,
                needed: Stops::new(stops),
                would_do: ExposureValue::of_scene(8.0).expect("in range"),
                iso: None,
                shorter: None,
            };
            finding.severity()
        };
        assert_eq!((severity(1.0), severity(1.01)), (Severity::Warns, Severity::Fails));
    }

    /// The chosen stop above the meter's grey: an exposure that meets the meter keeps what the meter keeps, whatever darker picture
    /// was wanted.
    #[test]
    fn highlights_are_lost_from_a_stop_above_the_meter_and_not_from_what_was_wanted() {
        let bias = Stops::new(-2.0 / 3.0);
        // f/1.78, 1/48 s and ISO 50 meet a meter that reads EV 8.249.
        let at = |ev: f64| told(Exposing { bias, ..exposing(ev, &[]) }).swap_remove(0);
        let (rule, severity, message, _) = at(8.249);
        assert_eq!((rule, severity), ("too_bright", Severity::Warns));
        assert_eq!(message, "0.7 stops brighter than wanted, and there is no filter; highlights still hold");
        assert_eq!(at(9.24).1, Severity::Warns, "0.99 stops above the meter");
        let (_, severity, message, _) = at(9.26);
        assert_eq!(severity, Severity::Fails, "1.01 stops above the meter");
        assert_eq!(message, "1.7 stops too bright, and there is no filter: highlights are lost");
        let brighter = Exposing { bias: Stops::new(0.7), ..exposing(9.4, &[]) };
        assert_eq!(told(brighter)[0].1, Severity::Fails, "0.45 stops over what is a bright wish already");
    }

    /// Half of what is asked for is where movement looks choppy: a shutter of 90° in place of 180°, common practice.
    #[test]
    fn a_shorter_shutter_is_choppy_below_half_of_what_is_asked_and_not_above() {
        let hint = |ev: f64| told(exposing(ev, &[])).swap_remove(0).3;
        // EV 9.2 and 9.3 are 0.951 and 1.051 stops too much: shares of 0.517 and 0.483.
        assert!(hint(9.2).ends_with("which smears movement only 0.52 times as far"), "{}", hint(9.2));
        assert!(
            hint(9.3)
                .ends_with("which smears movement only 0.48 times as far, so that movement looks choppy"),
            "{}",
            hint(9.3)
        );
    }

    /// By the definition of a stop: 6.75 stops too much with an ND of 10 stops at ISO 50 · 2^3.249 = 475.
    #[test]
    fn a_stronger_filter_with_more_iso_comes_first_and_is_not_offered_where_it_brings_noise() {
        let hint = |filters: &[f64]| told(exposing(15.0, filters)).swap_remove(0).3;
        assert!(hint(&[5.0, 10.0]).starts_with("use filters of 10.0 stops in all at ISO 475; or "));
        assert!(hint(&[5.0, 10.8]).starts_with("use an ND of 6.8 stops"), "ISO 827 brings noise");
    }

    #[test]
    fn another_time_says_if_lamps_flicker_at_it() {
        // 1/50 s is two half periods at 50 Hz; a stop and a half less light is none.
        let time = ExposureTime::from_s(0.02).expect("in range");
        let mains = Some(MainsFrequency::FIFTY);
        let lit = |scene: f64| told(Exposing { time, rate: Some(rate(25.0)), mains, ..exposing(scene, &[]) });
        let bright = &lit(9.5)[0];
        assert!(
            bright.0 == "too_bright" && bright.3.contains(" and flickers under lamps on 50 Hz"),
            "{bright:?}"
        );
        let dark = &lit(7.4)[0];
        assert!(dark.0 == "too_dark" && dark.3.contains(" and flickers under lamps on 50 Hz"), "{dark:?}");
        let steady = told(Exposing { mains: None, ..exposing(9.5, &[]) });
        assert!(!steady[0].3.contains("flickers"), "{steady:?}");
    }

    #[test]
    fn a_locked_rate_is_steady_where_its_exposure_is_of_whole_half_periods() {
        let mains = Some(MainsFrequency::FIFTY);
        let locked = |seconds: f64| {
            let time = ExposureTime::from_s(seconds).expect("in range");
            let findings = told(Exposing { time, rate: Some(rate(25.0)), mains, ..exposing(8.2, &[]) });
            findings.into_iter().find(|one| one.0 == "frame_rate_locked").expect("it is locked").3
        };
        assert!(locked(0.02).starts_with("nothing to do"), "{}", locked(0.02));
        assert!(locked(0.019).starts_with("frames do not flicker"), "{}", locked(0.019));
    }
}
