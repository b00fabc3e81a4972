//! What can be done where light lacks.

use language::say;
use optics::{ExposureTime, Iso, ShutterAngle};
use units::Stops;

use super::camera_setting::narrower_by;
use super::{Moving, RIGHT_STOPS, ShutterSetting};
use crate::film::Film;
use crate::kit::{AdapterFit, KitAdapter, KitLens};

/// What can be done where light lacks.
#[derive(Debug, Clone, PartialEq)]
pub struct DarkOptions {
    /// The ISO that would do all of it; none where there is no such ISO.
    pub iso: Option<Iso>,
    /// What a weaker filter would have to take in place of those that are on; none if none is on.
    pub weaker: Option<Stops>,
    /// The kit's fastest lens, if it is faster by more than a third of a stop, and by how much.
    pub faster: Option<(String, Stops)>,
    /// What the adapter takes, if one is on.
    pub without_adapter: Option<Stops>,
    /// A longer exposure, if a frame has room for one.
    pub longer: Option<LongerShutter>,
}

/// A longer exposure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LongerShutter {
    /// The time: what would do, or all of a frame's time.
    pub time: ExposureTime,
    /// The angle that it is.
    pub angle: ShutterAngle,
    /// What it gives.
    pub gains: Stops,
    /// Over how many delivered pixels whoever smears most then does; none where nobody does.
    pub smear_px: Option<f64>,
}

/// What the shot is made with.
pub(crate) struct MadeWith<'film> {
    pub(crate) film: &'film Film,
    pub(crate) lens: &'film KitLens,
    pub(crate) adapter: Option<&'film KitAdapter>,
    pub(crate) shutter: &'film ShutterSetting,
    pub(crate) floor: Iso,
    pub(crate) moving: Option<&'film Moving>,
}

impl DarkOptions {
    /// What can be done for light that lacks by that much, with filters that may be too strong.
    pub(crate) fn of(with: &MadeWith<'_>, lacking: Stops, weaker: Option<Stops>) -> Self {
        Self {
            weaker,
            iso: with.floor.raised(lacking),
            faster: faster(with),
            without_adapter: with
                .adapter
                .map(|adapter| adapter.adapter.light_loss)
                .filter(|loss| loss.to_f64() > RIGHT_STOPS),
            longer: LongerShutter::of(with, lacking),
        }
    }

    /// In plain words, the cheapest first.
    pub(crate) fn words(&self) -> String {
        let ways = [
            self.weaker
                .map(|stops| say!("use an ND of {stops:.1} in all (density {:.1})", stops.to_density())),
            Some(say!("bring light, or go nearer to it").to_owned()),
            self.faster.as_ref().map(|(name, gains)| say!("use the {name}, {gains:.1} faster")),
            self.without_adapter.map(|gains| say!("take the adapter off, which gives {gains:.1}")),
            self.longer.map(LongerShutter::words),
        ];
        ways.into_iter().flatten().collect::<Vec<_>>().join(say!("; or "))
    }
}

impl LongerShutter {
    /// As long as would do, or all of a frame's time; the nearest to it that the app offers.
    ///
    /// ```text
    /// t' = min(t 2^lacking, 1 / r)
    /// ```
    /// `t` exposure (s); `r` rate of capture. Smear grows with it.
    ///
    /// # Source
    /// The definition of a stop: light goes with the exposure time.
    fn of(with: &MadeWith<'_>, lacking: Stops) -> Option<Self> {
        let (now_s, rate) = (with.shutter.time.to_s(), with.shutter.rate);
        let wanted_s = (now_s * lacking.to_light_ratio()).min(1.0 / rate.to_fps());
        let wanted = ExposureTime::from_s(wanted_s).ok()?;
        let time = ShutterSetting::nearest(wanted, rate, &with.film.kit).time;
        let gains = Stops::from_light_ratio(time.to_s() / now_s);
        let smear = with.moving.and_then(|moving| moving.smear);
        (gains.to_f64() >= RIGHT_STOPS).then_some(())?;
        let smear_px = smear.map(|smear| smear.px * (time.to_s() / now_s));
        Some(Self { time, angle: time.shutter_angle(rate)?, gains, smear_px })
    }

    fn words(self) -> String {
        let Self { time, angle, gains, smear_px } = self;
        let smear = smear_px.map_or_else(
            || say!(", which smears what moves").to_owned(),
            |px| say!(", which smears over {px:.0} px whoever moves most"),
        );
        say!("expose {time} ({:.0}°), which gives {gains:.1}{smear}", angle.to_deg())
    }
}

/// The kit's fastest lens, of those that the adapter goes before.
fn faster(with: &MadeWith<'_>) -> Option<(String, Stops)> {
    let own = with.lens.lens.f_number?.value;
    let takes_adapter = |lens: &KitLens| {
        with.adapter.is_none_or(|adapter| adapter.fit_before(&lens.name) != AdapterFit::DoesNotFit)
    };
    let others =
        with.film.kit.lenses.iter().filter(|lens| lens.name != with.lens.name && takes_adapter(lens));
    let gains = others.filter_map(|lens| Some((lens, narrower_by(lens.lens.f_number?.value, own))));
    let (lens, gains) = gains.max_by(|(_, one), (_, other)| one.to_f64().total_cmp(&other.to_f64()))?;
    (gains.to_f64() > RIGHT_STOPS).then(|| (lens.name.clone(), gains))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::Kit;
    use optics::exposure_time;
    use std::sync::Arc;
    use units::FrameRate;

    fn options(lens: &str, lacking: f64) -> DarkOptions {
        let mut film = crate::demo_film();
        film.kit = Arc::new(Kit { exposure_times: Vec::new(), ..Kit::clone(&film.kit) });
        let lens = film.kit.lenses.iter().find(|one| one.name == lens).expect("a lens");
        let shutter = ShutterSetting::nearest(
            exposure_time(ShutterAngle::HALF, FrameRate::FILM),
            FrameRate::FILM,
            &film.kit,
        );
        let floor = Iso::HUNDRED;
        let with = MadeWith { film: &film, lens, adapter: None, shutter: &shutter, floor, moving: None };
        DarkOptions::of(&with, Stops::new(lacking), None)
    }

    #[test]
    fn a_faster_lens_of_the_kit_is_named_with_what_it_gives() {
        let (name, gains) = options("long", 3.0).faster.expect("the main lens");
        // f/2.8 to f/1.8: 2 log2(2.8 / 1.8).
        assert!(name == "main" && (gains.to_f64() - 1.274_866).abs() < 1e-5, "{name} {gains}");
        assert_eq!(options("main", 3.0).faster, None, "nothing is faster");
    }

    #[test]
    fn a_longer_shutter_ends_with_the_frame() {
        let longer = options("main", 3.0).longer.expect("half a frame more");
        assert!((longer.gains.to_f64() - 1.0).abs() < 1e-9 && (longer.angle.to_deg() - 360.0).abs() < 1e-9);
        let enough = options("main", 0.5).longer.expect("room for it");
        assert!((enough.gains.to_f64() - 0.5).abs() < 1e-9, "{enough:?}");
    }

    #[test]
    fn the_iso_that_would_do_is_told_even_if_it_is_no_picture() {
        assert_eq!(options("main", 3.0).iso, Iso::new(800.0).ok());
        assert_eq!(options("main", 20.0).iso, None, "ISO 104857600 is none");
    }
}
