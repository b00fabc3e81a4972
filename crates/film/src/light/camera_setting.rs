//! What the camera is set to: f-number, shutter and ISO.

use optics::{ExposureTime, FNumber, Iso, ShutterAngle};
use units::{FrameRate, Stops};

use super::RIGHT_STOPS;
use crate::kit::{Kit, KitLens, KitRecording};

/// The f-number of a shot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aperture {
    /// The lens's own, as far open as it is.
    pub open: FNumber,
    /// The one to set; another than the open one only if the lens closes and filters were not enough.
    pub set: FNumber,
    /// Whether the lens says none, and a typical one was taken.
    pub is_typical: bool,
}

/// How long each frame of a shot is exposed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShutterSetting {
    /// What the film's shutter angle asks for at the rate of capture.
    pub asked: ExposureTime,
    /// The nearest that the camera app offers.
    pub time: ExposureTime,
    /// The angle that it is at that rate; none where a frame has no room for it.
    pub angle: Option<ShutterAngle>,
    /// Frames a second at capture.
    pub rate: FrameRate,
}

/// The sensitivity of a shot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IsoSetting {
    /// The least that lens and mode offer.
    pub floor: Iso,
    /// The one to set: the floor, or more where light lacks.
    pub set: Iso,
    /// Whether neither lens nor mode says its least, and a typical one was taken.
    pub is_typical: bool,
}

/// What a camera app that decides by itself is likely to do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AppGuess {
    /// How long it exposes.
    pub time: ExposureTime,
    /// The angle that it is; none where a frame has no room for it.
    pub angle: Option<ShutterAngle>,
    /// The sensitivity.
    pub iso: Iso,
    /// How far it smears movement, as a share of what was asked for.
    pub smear_share: f64,
}

/// The f-number of a lens that says none: f/2, chosen as the middle of the kits in `presets/phones`.
const TYPICAL_F_NUMBER: f64 = 2.0;
/// The least ISO where neither lens nor mode says one: chosen, as phones' floors are typically ISO 20 to 50.
const TYPICAL_ISO_FLOOR: f64 = 50.0;
/// No ISO is raised above this: chosen because a phone's small sensor holds hardly a picture there.
const HIGHEST_ISO: f64 = 3200.0;
/// Lenses close in steps of a third of a stop.
const STEPS_A_STOP: f64 = 3.0;
/// A frame has room for a time that is a rounding longer than it.
const FRAME_ROUNDING: f64 = 1e-9;

impl Aperture {
    /// A lens as far open as it is.
    pub(crate) fn open(lens: &KitLens) -> Option<Self> {
        let (open, is_typical) = match lens.lens.f_number {
            Some(known) => (known.value, false),
            None => (FNumber::new(TYPICAL_F_NUMBER).ok()?, true),
        };
        Some(Self { open, set: open, is_typical })
    }

    /// The same lens closed for what filters left, as far as it closes.
    ///
    /// ```text
    /// N' = N 2^(k/6),   k = round(3 residual)
    /// ```
    /// `N` open f-number; `k` thirds of a stop, no more than bring it to the f-number that the lens closes to; `residual` stops
    /// too much, and nothing is closed for a third or less.
    ///
    /// # Source
    /// The definition: light goes with 1/N².
    #[must_use]
    pub(crate) fn closed_for(self, residual: Stops, closes_to: Option<FNumber>) -> Self {
        let Some(most) = closes_to.filter(|most| most.to_f64() > self.open.to_f64()) else { return self };
        if residual.to_f64() <= RIGHT_STOPS {
            return self;
        }
        let (open, most) = (self.open.to_f64(), most.to_f64());
        let wanted = open * libm::exp2(libm::round(residual.to_f64() * STEPS_A_STOP) / (2.0 * STEPS_A_STOP));
        FNumber::new(wanted.min(most)).map_or(self, |set| Self { set, ..self })
    }

    /// What closing it takes.
    pub fn takes(&self) -> Stops {
        narrower_by(self.open, self.set)
    }

    /// Whether it is closed at all.
    pub fn is_closed(&self) -> bool {
        self.set > self.open
    }
}

/// How much less light the second f-number lets in than the first; more if negative.
///
/// ```text
/// 2 log2(N2 / N1)
/// ```
/// `N1` and `N2` the f-numbers.
///
/// # Source
/// The definition: light goes with 1/N².
pub(super) fn narrower_by(one: FNumber, other: FNumber) -> Stops {
    let narrower = Stops::from_light_ratio(other.to_f64() / one.to_f64());
    narrower + narrower
}

impl ShutterSetting {
    /// The nearest to what is asked for among the times that the app offers and a frame has room for; what is asked for where
    /// it offers none of them or nothing is known of it.
    pub(crate) fn nearest(asked: ExposureTime, rate: FrameRate, kit: &Kit) -> Self {
        let frame_s = (1.0 + FRAME_ROUNDING) / rate.to_fps();
        let fits: Vec<ExposureTime> =
            kit.exposure_times.iter().copied().filter(|time| time.to_s() <= frame_s).collect();
        let time = asked.nearest_offered(&fits).unwrap_or(asked);
        Self { asked, time, angle: time.shutter_angle(rate), rate }
    }

    /// How much more light it lets in than what was asked for; less if negative.
    pub fn off_by(&self) -> Stops {
        Stops::from_light_ratio(self.time.to_s() / self.asked.to_s())
    }
}

impl IsoSetting {
    /// The least that a lens and a mode offer: where both say one, the higher; a typical one where neither says any.
    pub fn floor(lens: &KitLens, mode: Option<&KitRecording>) -> Option<Self> {
        let of_lens = lens.iso_floor.map(Iso::to_f64);
        let of_mode = mode.and_then(|mode| mode.iso_floor).map(Iso::to_f64);
        let known = of_lens.into_iter().chain(of_mode).reduce(f64::max);
        let floor = Iso::new(known.unwrap_or(TYPICAL_ISO_FLOOR)).ok()?;
        Some(Self { floor, set: floor, is_typical: known.is_none() })
    }

    /// Raised by the light that lacks, as far as there is a picture; nothing is raised for a third of a stop or less.
    #[must_use]
    pub(crate) fn raised_for(self, residual: Stops) -> Self {
        let lacking = -residual;
        if lacking.to_f64() <= RIGHT_STOPS {
            return self;
        }
        let wanted = self.floor.to_f64() * lacking.to_light_ratio();
        let set = wanted.min(HIGHEST_ISO).max(self.floor.to_f64());
        Iso::new(set).map_or(self, |set| Self { set, ..self })
    }

    /// How many stops it is above its floor.
    pub fn raised(&self) -> Stops {
        Stops::from_light_ratio(self.set.to_f64() / self.floor.to_f64())
    }
}

impl AppGuess {
    /// What an app does that keeps its ISO at the floor and shortens the shutter in much light, and in little opens it over the
    /// whole frame before it raises the ISO: common practice of camera apps, and each has its own.
    ///
    /// ```text
    /// t = min(t_asked / 2^residual, 1 / r),   S = S_floor 2^lack
    /// ```
    /// `residual` stops too much at `t_asked` and the floor, with the filters on; `r` rate of capture; `lack` what then still
    /// lacks.
    ///
    /// # Source
    /// The definition of a stop; how the app shares them out is common practice.
    pub(crate) fn of(shutter: &ShutterSetting, floor: IsoSetting, residual: Stops) -> Self {
        let wanted_s = shutter.time.to_s() / residual.to_light_ratio();
        let shortest_s = ExposureTime::SHORTEST_S;
        let time_s = wanted_s.clamp(shortest_s, (1.0 / shutter.rate.to_fps()).max(shortest_s));
        let time = ExposureTime::from_s(time_s).unwrap_or(shutter.time);
        let left = Stops::from_light_ratio(time.to_s() / wanted_s);
        Self {
            time,
            angle: time.shutter_angle(shutter.rate),
            iso: floor.raised_for(left).set,
            smear_share: time.to_s() / shutter.asked.to_s(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn main_lens() -> KitLens {
        let kit = &crate::demo_film().kit;
        let main = kit.lenses.iter().find(|lens| lens.name == "main").expect("a main lens").clone();
        KitLens { iso_floor: None, closes_to: None, ..main }
    }

    fn time(seconds: f64) -> ExposureTime {
        ExposureTime::from_s(seconds).expect("in range")
    }

    fn f_number(number: f64) -> FNumber {
        FNumber::new(number).expect("in range")
    }

    #[test]
    fn the_nearest_offered_time_that_a_frame_has_room_for_is_set() {
        let offered = [24.0, 50.0, 60.0, 120.0].map(|per_second| time(1.0 / per_second)).to_vec();
        let kit = Kit { exposure_times: offered, ..Kit::clone(&crate::demo_film().kit) };
        let film = ShutterSetting::nearest(time(1.0 / 48.0), FrameRate::FILM, &kit);
        assert_eq!(film.time, time(1.0 / 50.0));
        assert!((film.angle.expect("it fits").to_deg() - 172.8).abs() < 1e-9);
        let rate = FrameRate::checked_from_fps(120.0).expect("in range");
        assert_eq!(ShutterSetting::nearest(time(1.0 / 240.0), rate, &kit).time, time(1.0 / 120.0));
        let faster = FrameRate::checked_from_fps(240.0).expect("in range");
        assert_eq!(
            ShutterSetting::nearest(time(1.0 / 480.0), faster, &kit).time,
            time(1.0 / 480.0),
            "none fits"
        );
    }

    #[test]
    fn a_lens_closes_in_thirds_for_what_is_left_and_no_farther_than_it_can() {
        let open = Aperture::open(&main_lens()).expect("an f-number");
        assert_eq!(open.closed_for(Stops::new(2.0), None), open, "most phones cannot");
        let closed = open.closed_for(Stops::new(0.9), Some(f_number(4.0)));
        // 0.9 is nearest to three thirds: 1.8 √2.
        assert!((closed.set.to_f64() - 1.8 * std::f64::consts::SQRT_2).abs() < 1e-12, "{closed:?}");
        assert!((closed.takes().to_f64() - 1.0).abs() < 1e-12);
        assert_eq!(open.closed_for(Stops::new(9.0), Some(f_number(4.0))).set, f_number(4.0));
        assert!(!open.closed_for(Stops::new(0.3), Some(f_number(4.0))).is_closed(), "near enough");
    }

    #[test]
    fn the_higher_of_two_floors_counts_and_a_typical_one_is_marked() {
        let lens = KitLens { iso_floor: Iso::new(32.0).ok(), ..main_lens() };
        let mode =
            KitRecording { iso_floor: Iso::new(100.0).ok(), ..crate::demo_film().kit.recordings[0].clone() };
        let iso = IsoSetting::floor(&lens, Some(&mode)).expect("a floor");
        assert_eq!((iso.floor, iso.is_typical), (Iso::HUNDRED, false));
        let typical = IsoSetting::floor(&main_lens(), None).expect("a floor");
        assert_eq!((typical.floor.to_string().as_str(), typical.is_typical), ("ISO 50", true));
        let night = typical.raised_for(Stops::new(-9.0));
        assert_eq!(night.set.to_string(), "ISO 3200");
        assert!((night.raised().to_f64() - 6.0).abs() < 1e-12);
    }

    #[test]
    fn an_app_shortens_first_and_in_the_dark_opens_the_whole_frame_before_it_raises_the_iso() {
        let kit = Kit { exposure_times: Vec::new(), ..Kit::clone(&crate::demo_film().kit) };
        let shutter = ShutterSetting::nearest(time(1.0 / 48.0), FrameRate::FILM, &kit);
        let iso = IsoSetting::floor(&main_lens(), None).expect("a floor");
        let sun = AppGuess::of(&shutter, iso, Stops::new(6.0));
        assert!((sun.time.to_s() - 1.0 / 3072.0).abs() < 1e-12 && sun.iso == iso.floor, "{sun:?}");
        assert!((sun.smear_share - 1.0 / 64.0).abs() < 1e-12);
        let lamps = AppGuess::of(&shutter, iso, Stops::new(-3.0));
        assert!((lamps.time.to_s() - 1.0 / 24.0).abs() < 1e-12, "{lamps:?}");
        assert_eq!(lamps.iso.to_string(), "ISO 200");
    }
}
