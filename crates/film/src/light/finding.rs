//! What is found on the light of a setup.

use language::say;
use optics::{ExposureTime, Iso, MainsFrequency, ShutterAngle};
use units::{Angle, FrameRate, Stops};

use super::mains_of_scene::assumed_told;
use super::{AppGuess, BackLit, BrightWindow, CrewShadow, DarkOptions, RIGHT_STOPS, StrongerFilters};
use crate::findings::{ExposureFinding, Finding, Severity, angle_told};

/// A finding on the light of one setup, with its numbers.
#[derive(Debug, Clone, PartialEq)]
pub enum LightFinding {
    /// There is too much light.
    TooBright {
        /// How much.
        found: ExposureFinding,
        /// Filters of the kit that would do with more ISO.
        stronger: Option<StrongerFilters>,
    },
    /// Lamps on the mains are seen to swell, or lock the frame rate.
    Lamps {
        /// Which of them.
        found: ExposureFinding,
        /// Whether how often the mains swing is assumed.
        is_assumed: bool,
    },
    /// The sun is behind whoever is filmed.
    BackLight(BackLit),
    /// The sun is behind the phone, and the shadow of whoever holds it is in the frame.
    CrewShadow(CrewShadow),
    /// A window is in the frame, and outside it is much brighter.
    Window(BrightWindow),
    /// There is too little light at the least ISO.
    TooDark {
        /// How much.
        lacking: Stops,
        /// The ISO that is set for it.
        iso: Iso,
        /// What still lacks at that.
        left: Stops,
        /// What else can be done.
        options: DarkOptions,
    },
    /// Filters of the kit would take light, but do not go before this lens or adapter.
    FiltersDoNotFit {
        /// Their names.
        names: Vec<String>,
        /// What stands foremost.
        foremost: String,
    },
    /// A filter that is turned shows a dark cross in a wide view.
    FilterCross {
        /// Its name.
        name: String,
        /// What it takes.
        takes: Stops,
        /// How wide it is looked through.
        view: Angle,
        /// The most that is even over such a view; none is if nothing is said.
        even_to: Option<Stops>,
    },
    /// The app does not offer the shutter that the film's angle asks for.
    ShutterNotOffered {
        /// What is asked for.
        asked: ExposureTime,
        /// The nearest that it offers.
        nearest: ExposureTime,
        /// The angle that this is.
        angle: Option<ShutterAngle>,
    },
    /// The app chooses the shutter by itself, and lamps on the mains may be seen to swell.
    LampsByApp {
        /// What the app is likely to take.
        time: ExposureTime,
        /// The mains.
        mains: MainsFrequency,
        /// A frame rate near the shot's that the mains lock.
        locked: Option<FrameRate>,
        /// Whether how often the mains swing is assumed.
        is_assumed: bool,
    },
    /// The app chooses the shutter by itself.
    ShutterByApp {
        /// What the film's angle asks for.
        asked: ExposureTime,
        /// What the app is likely to do.
        guess: AppGuess,
    },
}

/// From here on an ISO brings noise that is seen: chosen, as tests of phones' small sensors put it there; typical.
pub(crate) const NOISY_ISO: f64 = 800.0;
/// Below this share of the smear that was asked for, movement looks choppy: half of 180°, common practice.
pub(crate) const CHOPPY_SHARE: f64 = 0.5;

/// Wider than this a turned filter is never even: a full frame's 20 mm, 84°. Common practice; the figure is chosen.
const NEVER_EVEN_DEG: f64 = 84.0;
/// Wider than this it is not even beyond [`EVEN_TO_STOPS`]: a full frame's 28 mm, 65°. Common practice; the figure is chosen.
const NOT_ALWAYS_EVEN_DEG: f64 = 65.0;
/// The most that a turned filter takes evenly from a wide view: six stops. Common practice; the figure is chosen.
const EVEN_TO_STOPS: f64 = 6.0;

/// Whether a filter that is turned shows a cross in a view of that full horizontal angle, and up to what it would not.
///
/// Two polarisers that are crossed let light through by how it comes in, so that a wide view darkens in a cross before its
/// middle does.
pub(crate) fn cross(name: &str, takes: Stops, view: Angle) -> Option<LightFinding> {
    let even_to = if view.to_deg() > NEVER_EVEN_DEG {
        None
    } else if view.to_deg() > NOT_ALWAYS_EVEN_DEG && takes.to_f64() > EVEN_TO_STOPS {
        Some(Stops::new(EVEN_TO_STOPS))
    } else {
        return None;
    };
    Some(LightFinding::FilterCross { name: name.to_owned(), takes, view, even_to })
}

impl LightFinding {
    /// The rule's name, for programs.
    pub const fn rule(&self) -> &'static str {
        match self {
            Self::TooBright { found, .. } | Self::Lamps { found, .. } => found.rule(),
            Self::BackLight(_) => "back_light",
            Self::CrewShadow(_) => "crew_shadow",
            Self::Window(_) => "bright_window",
            Self::TooDark { .. } => "too_dark",
            Self::FiltersDoNotFit { .. } => "filters_do_not_fit",
            Self::FilterCross { .. } => "filter_cross",
            Self::ShutterNotOffered { .. } => "shutter_not_offered",
            Self::LampsByApp { .. } => "lamps_by_app",
            Self::ShutterByApp { .. } => "shutter_by_app",
        }
    }

    /// How bad it is.
    pub fn severity(&self) -> Severity {
        match self {
            Self::TooBright { found, .. } | Self::Lamps { found, .. } => found.severity(),
            Self::BackLight(lit) => lit.severity(),
            Self::CrewShadow(shadow) => shadow.severity(),
            Self::TooDark { left, .. } if left.to_f64() > RIGHT_STOPS => Severity::Fails,
            Self::TooDark { iso, .. } if iso.to_f64() <= NOISY_ISO => Severity::Notes,
            Self::ShutterByApp { guess, .. } if guess.smear_share >= CHOPPY_SHARE => Severity::Notes,
            Self::TooDark { .. }
            | Self::Window(_)
            | Self::LampsByApp { .. }
            | Self::FiltersDoNotFit { .. }
            | Self::FilterCross { .. }
            | Self::ShutterNotOffered { .. }
            | Self::ShutterByApp { .. } => Severity::Warns,
        }
    }

    /// The finding in words.
    pub fn to_finding(&self) -> Finding {
        let (message, hint) = match self {
            Self::TooBright { found, stronger } => too_bright_words(found, stronger.as_ref()),
            Self::Lamps { found, is_assumed } => lamps_words(found, *is_assumed),
            Self::BackLight(lit) => lit.words(),
            Self::CrewShadow(shadow) => shadow.words(),
            Self::Window(window) => window.words(),
            Self::TooDark { lacking, iso, left, options } => (
                too_dark_message(*lacking, *iso, *left, options.weaker.is_some()),
                match options.iso.filter(|_| left.to_f64() > RIGHT_STOPS) {
                    Some(needed) => say!("{}; {needed} would be needed", options.words()),
                    None => options.words(),
                },
            ),
            Self::FiltersDoNotFit { names, foremost } => (
                say!("{} cannot go before the {foremost}", names.join(say!(" and "))),
                say!("use an ND that fits it, or a lens that these fit").to_owned(),
            ),
            Self::FilterCross { name, takes, view, even_to } => cross_words(name, *takes, *view, *even_to),
            Self::ShutterNotOffered { asked, nearest, angle } => (
                say!("the app has no {asked}; the nearest is {nearest}{}", angle_told(*angle)),
                say!("change the frame rate or the film's shutter angle, so that all shots have one angle")
                    .to_owned(),
            ),
            Self::LampsByApp { time, mains, locked, is_assumed } => {
                let (message, hint) = lamps_by_app_words(*time, *mains, *locked);
                (message, hint + &assumed_told(*mains, *is_assumed))
            }
            Self::ShutterByApp { asked, guess } => by_app_words(*asked, guess),
        };
        Finding { rule: self.rule(), severity: self.severity(), message, hint }
    }
}

/// What is too bright, with the kit's own way first: it is at hand and leaves nothing too much.
fn too_bright_words(found: &ExposureFinding, stronger: Option<&StrongerFilters>) -> (String, String) {
    let Finding { message, hint, .. } = found.to_finding();
    let own = stronger.map(|own| say!("use {} at {}", own.filters.words(), own.iso));
    let ways: Vec<String> = own.into_iter().chain([hint]).collect();
    (message, ways.join(say!("; or ")))
}

fn lamps_words(found: &ExposureFinding, is_assumed: bool) -> (String, String) {
    let Finding { message, hint, .. } = found.to_finding();
    let mains = match found {
        ExposureFinding::Flicker { mains, .. } | ExposureFinding::FrameRateLocked { mains, .. } => {
            Some(*mains)
        }
        ExposureFinding::TooBright { .. } | ExposureFinding::TooDark { .. } => None,
    };
    let assumed = mains.map_or_else(String::new, |mains| assumed_told(mains, is_assumed));
    (message, hint + &assumed)
}

fn too_dark_message(lacking: Stops, iso: Iso, left: Stops, has_filters: bool) -> String {
    let on = if has_filters { say!(" with the filters that come nearest") } else { "" };
    let base = say!("{lacking:.1} too dark at the least ISO{on}: it takes {iso}");
    if left.to_f64() > RIGHT_STOPS {
        say!("{base}, and {left:.1} still lack")
    } else if iso.to_f64() > NOISY_ISO {
        say!("{base}, which brings noise")
    } else {
        base
    }
}

fn cross_words(name: &str, takes: Stops, view: Angle, even_to: Option<Stops>) -> (String, String) {
    let hint = even_to.map_or_else(
        || say!("use a fixed ND on a view as wide as this").to_owned(),
        |even_to| say!("turn it to no more than {even_to:.0}, and take the rest with a fixed ND"),
    );
    let message = say!(
        "{name} at {takes:.1} may show a dark cross: it is turned polarisers, and {:.0}° across are looked through it",
        view.to_deg()
    );
    (message, hint)
}

fn lamps_by_app_words(
    time: ExposureTime,
    mains: MainsFrequency,
    locked: Option<FrameRate>,
) -> (String, String) {
    let message = say!("lamps on {mains} may flicker: this app chooses the shutter, likely {time}");
    let rate = locked.map_or_else(String::new, |rate| say!("; {rate} keeps frames alike there"));
    (message, say!("look at a test take before the light is settled{rate}"))
}

fn by_app_words(asked: ExposureTime, guess: &AppGuess) -> (String, String) {
    let (time, share) = (guess.time, guess.smear_share);
    let looks = if share < CHOPPY_SHARE { say!(", so that movement looks choppy") } else { "" };
    let message = say!(
        "this app chooses the shutter: it is likely to take {time}{} at {} in place of {asked}, which smears movement \
         {share:.2} times as far{looks}",
        angle_told(guess.angle),
        guess.iso
    );
    let hint = if share < CHOPPY_SHARE {
        say!("put on more ND, find shade, or use a camera app with manual shutter")
    } else {
        say!("put the ND on before the exposure is locked")
    };
    (message, hint.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hint(deg: f64, stops: f64) -> Option<String> {
        let found = cross("variable", Stops::new(stops), Angle::from_deg(deg))?;
        Some(found.to_finding().hint)
    }

    #[test]
    fn a_turned_filter_is_even_in_narrow_views_and_weakly_in_wide_ones() {
        let fixed = "use a fixed ND on a view as wide as this";
        assert_eq!(hint(84.1, 1.0).as_deref(), Some(fixed), "an ultra-wide");
        assert_eq!(hint(83.9, 6.0), None);
        let less = "turn it to no more than 6 stops, and take the rest with a fixed ND";
        assert_eq!(hint(65.1, 6.5).as_deref(), Some(less));
        assert_eq!(hint(64.9, 9.0), None);
    }

    #[test]
    fn a_cross_says_how_far_the_filter_may_be_turned() {
        let finding = cross("VND", Stops::new(7.0), Angle::from_deg(70.0)).expect("too wide").to_finding();
        assert_eq!(finding.rule, "filter_cross");
        assert_eq!(
            finding.message,
            "VND at 7.0 stops may show a dark cross: it is turned polarisers, and 70° across are looked through it"
        );
        assert_eq!(finding.hint, "turn it to no more than 6 stops, and take the rest with a fixed ND");
    }
}
