//! How much light sun and sky give, by how high the sun stands and by the weather.
//!
//! Throughout, `h` is the true elevation of the sun's centre, without the air's bending (-90° to 90°), on a level horizon.
//! These are means over many days: a real sky of the same name differs by a stop, and a meter is better than any formula.

use std::f64::consts::PI;
use std::fmt;

use units::{Angle, QuantityError, checked};

use crate::exposure_value::ExposureValue;
use crate::weather::Weather;

/// Light on a surface, in lux: 0 to 200000. Finite.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Illuminance(f64);

/// The light that a meter's constant makes EV 0 at ISO 100: C / S with C = 250 lx s.
///
/// # Source
/// `Iso2720`: C may be 240 to 400 for a flat receptor, commonly 250 (from memory).
const LX_AT_EV_0: f64 = 2.5;

/// The light of the sun above the air, at its mean distance, which over the year makes 0.05 stops either way.
///
/// # Source
/// `Gillette1984`: 127.5 klx.
const ABOVE_THE_AIR_LX: f64 = 127_500.0;

/// What clear air takes of it, for one air mass.
///
/// # Source
/// `Gillette1984`: c = 0.21 for a clear sky.
const CLEAR_EXTINCTION: f64 = 0.21;

/// Half the width of the sun's disc as it is seen. It varies by 1.7 % over the year.
///
/// # Source
/// `Reda2008`, section A.2: 0.26667°.
pub const SUN_HALF_DISC_DEG: f64 = 0.26667;

impl Illuminance {
    /// No light.
    pub const DARK: Self = Self(0.0);

    /// Light from outside.
    ///
    /// # Errors
    /// Refuses what is not 0 to 200000 lx, half as much again as the sun gives above the air.
    pub fn from_lx(lux: f64) -> Result<Self, QuantityError> {
        checked(lux, 0.0, 200_000.0, "lx").map(Self)
    }

    /// In lux.
    pub const fn to_lx(self) -> f64 {
        self.0
    }

    /// The exposure value at ISO 100 of whoever stands in this light, as an incident meter reads it.
    ///
    /// ```text
    /// EV100 = log2(E / 2.5)
    /// ```
    /// `E` this light (lx); 2.5 is C / S with C = 250 lx s and S = 100. No less than -10, the darkest that scenes are told for,
    /// which is 0.0024 lx.
    ///
    /// # Source
    /// `Iso2720`: N² / t = E S / C.
    ///
    /// # Examples
    /// 2560 lx are EV 10:
    /// ```
    /// let value = optics::Illuminance::from_lx(2560.0)?.exposure_value();
    /// assert!((value.to_f64() - 10.0).abs() < 1e-12);
    /// # Ok::<(), units::QuantityError>(())
    /// ```
    pub fn exposure_value(self) -> ExposureValue {
        ExposureValue::no_darker(libm::log2(self.0 / LX_AT_EV_0))
    }
}

/// The sun's own light on a surface that faces it. None from behind cloud, fog or rain.
///
/// ```text
/// E = 127.5 klx · exp(−c m) · a
/// ```
/// `c` 0.21, what clear air takes; `m` the [air mass](air_mass) at the elevation as it is seen, the air's lift included; `a` the
/// share of the disc above a level horizon (0 to 1).
///
/// # Source
/// `Gillette1984`. The share of a disc is plane geometry.
///
/// # Examples
/// Overhead 103 klx, at 30° 84 klx:
/// ```
/// use optics::{Weather, direct_sunlight};
/// use units::Angle;
/// let at = |degrees| direct_sunlight(Angle::from_deg(degrees), Weather::Clear).to_lx();
/// assert!((at(90.0) - 103_350.0).abs() < 100.0, "{}", at(90.0));
/// assert!((at(30.0) - 83_900.0).abs() < 300.0, "{}", at(30.0));
/// ```
pub fn direct_sunlight(sun_elevation: Angle, weather: Weather) -> Illuminance {
    match weather {
        Weather::Clear => {
            let seen_deg = lifted(sun_elevation.to_deg());
            let share = disc_share(seen_deg);
            if share <= 0.0 {
                return Illuminance::DARK;
            }
            Illuminance(ABOVE_THE_AIR_LX * libm::exp(-CLEAR_EXTINCTION * air_mass(seen_deg)) * share)
        }
        Weather::Overcast | Weather::Fog | Weather::Rain => Illuminance::DARK,
    }
}

/// The light of the whole sky, without the sun, on level ground.
///
/// ```text
/// h ≥ 0:  E = A + B sin^C h
///         clear 0.8 + 15.5 √(sin h)    overcast 0.3 + 21 sin h    fog 0.3 + 33 sin h    rain (0.3 + 21 sin h) / 2    (klx)
/// h < 0:  E = A / 0.8 klx · T(h)
/// ```
/// `T` the light of a clear twilight, by the published polynomials (lx). Clouds take as much of it as they do of the light at the
/// horizon. Continuous and growing with `h`.
///
/// Fog lies halfway between the published partly cloudy sky (0.3 + 45 sin h) and the overcast: chosen because fog is thinner
/// than the clouds of a closed sky, and lets no direct light through. Rain takes a stop of the overcast: common practice.
///
/// # Source
/// `Gillette1984` by day, `Seidelmann1992` below the horizon.
///
/// # Examples
/// ```
/// use optics::{Weather, skylight};
/// use units::Angle;
/// let overcast = skylight(Angle::from_deg(30.0), Weather::Overcast).to_lx();
/// assert!((overcast - 10_800.0).abs() < 1e-6, "{overcast}");
/// ```
pub fn skylight(sun_elevation: Angle, weather: Weather) -> Illuminance {
    let sine = sun_elevation.sin();
    if sine < 0.0 {
        let dimmed = of_sky(weather, 0.0) / of_sky(Weather::Clear, 0.0);
        return Illuminance(dimmed * twilight_lx(sun_elevation.to_deg()));
    }
    Illuminance(of_sky(weather, sine))
}

/// The light on somebody who stands in the sun and whose face is turned to it: the sun's own and the sky's.
///
/// What the ground throws back is left out: a few tenths of a stop over grass or earth, up to one over snow or pale sand.
///
/// # Differences
/// `presets/light.toml` has EV 15 for bright sun, from f/16 at one over the ISO; this gives 15.4 to 15.5 from 40° up.
pub fn light_in_sun(sun_elevation: Angle, weather: Weather) -> Illuminance {
    Illuminance(direct_sunlight(sun_elevation, weather).0 + skylight(sun_elevation, weather).0)
}

/// The light on somebody who stands in open shade, under the whole sky without the sun; in cloud, fog and rain everybody does.
///
/// # Differences
/// `presets/light.toml` has EV 10 "just after sunset", for what tables mean by it: a view with the bright sky in it. The light
/// on a person is over two stops less: 454 lx or EV 7.5 when the sun's edge has just gone.
pub fn light_in_shade(sun_elevation: Angle, weather: Weather) -> Illuminance {
    skylight(sun_elevation, weather)
}

/// The light of a sky, in lx, for the sine of the sun's elevation, 0 to 1.
fn of_sky(weather: Weather, sine: f64) -> f64 {
    match weather {
        Weather::Clear => 800.0 + 15_500.0 * libm::sqrt(sine),
        Weather::Overcast => 300.0 + 21_000.0 * sine,
        Weather::Fog => 300.0 + 33_000.0 * sine,
        Weather::Rain => 150.0 + 10_500.0 * sine,
    }
}

/// The light of a clear sky on level ground while the sun is below the horizon, in lx.
///
/// ```text
/// log10 T = l0 + l1 x + l2 x² + l3 x³        x = h / 90°
/// ```
/// Each piece for its range of `h`, -18° to -0.8°. The published pieces miss each other by up to 1 % where they meet, so one
/// passes into the other over a degree; from -0.8° to the horizon log10 T goes straight to the clear sky's 800 lx there.
/// Below -18° it is that of -18°, 0.0007 lx: a night without moon.
///
/// # Source
/// `Seidelmann1992`.
fn twilight_lx(elevation_deg: f64) -> f64 {
    const ENDS_DEG: f64 = -0.8;
    let piece = |[l0, l1, l2, l3]: [f64; 4], x: f64| l0 + x * (l1 + x * (l2 + x * l3));
    let log = |degrees: f64| {
        let x = degrees / 90.0;
        let civil = piece([2.88, 21.81, -258.11, -858.36], x);
        let nautical = piece([2.70, 12.17, -431.69, -1899.83], x);
        let astronomical = piece([13.84, 262.72, 1447.42, 2797.93], x);
        let later = passes(nautical, astronomical, degrees, -12.0);
        passes(civil, later, degrees, -5.0)
    };
    if elevation_deg < ENDS_DEG {
        return libm::exp10(log(elevation_deg.max(-18.0)));
    }
    let (dark, bright) = (log(ENDS_DEG), libm::log10(of_sky(Weather::Clear, 0.0)));
    let share = 1.0 - (elevation_deg / ENDS_DEG).clamp(0.0, 1.0);
    libm::exp10(dark + share * (bright - dark))
}

/// From `above` to `below` over a degree about where they meet.
fn passes(above: f64, below: f64, degrees: f64, meet_deg: f64) -> f64 {
    let share = (meet_deg + 0.5 - degrees).clamp(0.0, 1.0);
    above + share * (below - above)
}

/// What the air lifts the sun by, in degrees, where the sun is seen or nearly so.
///
/// ```text
/// Δh = k · 1.02° / (60 tan(h + 10.3/(h + 5.11)))
/// ```
/// `h` true elevation (°, -1 to 90); `k` how much the air bends light over air of 1010 hPa and 10 °C.
///
/// # Source
/// `Reda2008`, equation 42.
pub fn air_lift_deg(elevation_deg: f64, air: f64) -> f64 {
    air * 1.02 / (60.0 * Angle::from_deg(elevation_deg + 10.3 / (elevation_deg + 5.11)).tan())
}

/// How high the sun is seen, in degrees, through common air: 1010 hPa and 10 °C.
///
/// Below -1°, where nothing of the sun is seen, it is lifted as much as there: so it never jumps.
fn lifted(elevation_deg: f64) -> f64 {
    elevation_deg + air_lift_deg(elevation_deg.max(-1.0), 1.0)
}

/// How many times the air overhead the light of a sun goes through.
///
/// ```text
/// m = 1 / (sin h' + 0.50572 (h' + 6.07995°)^−1.6364)
/// ```
/// `h'` the sun's elevation as it is seen (°, -1 to 90); `m` 1 overhead, 38 on the horizon.
///
/// # Source
/// `Kasten1989`, equation 3.
///
/// # Examples
/// ```
/// let mass = optics::air_mass(30.0);
/// assert!((mass - 1.9939).abs() < 1e-3, "{mass}");
/// ```
pub fn air_mass(seen_deg: f64) -> f64 {
    1.0 / (Angle::from_deg(seen_deg).sin() + 0.50572 * libm::pow(seen_deg + 6.07995, -1.6364))
}

/// The share of the sun's disc above a level horizon.
///
/// ```text
/// a = ½ + (asin u + u √(1 − u²)) / π        u = h' / 0.26667°, -1 to 1
/// ```
/// `h'` the elevation of its centre as it is seen (°).
///
/// # Source
/// Plane geometry: the area of a circle on one side of a straight line.
fn disc_share(seen_deg: f64) -> f64 {
    let u = (seen_deg / SUN_HALF_DISC_DEG).clamp(-1.0, 1.0);
    0.5 + (libm::asin(u) + u * libm::sqrt(1.0 - u * u)) / PI
}

impl fmt::Display for Illuminance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(digits) = f.precision() {
            write!(f, "{:.digits$} lx", self.0)
        } else {
            write!(f, "{} lx", self.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn assert_within(value: f64, low: f64, high: f64, of: &str) {
        assert!((low..=high).contains(&value), "{of}: {value} is not {low} to {high}");
    }

    fn ev(light: fn(Angle, Weather) -> Illuminance, degrees: f64, weather: Weather) -> f64 {
        light(Angle::from_deg(degrees), weather).exposure_value().to_f64()
    }

    fn clear_lx(degrees: f64) -> f64 {
        skylight(Angle::from_deg(degrees), Weather::Clear).to_lx()
    }

    #[test]
    fn bright_sun_is_ev_15_and_open_shade_three_stops_below() {
        for degrees in [40.0, 50.0, 60.0] {
            let (sun, shade) =
                (ev(light_in_sun, degrees, Weather::Clear), ev(light_in_shade, degrees, Weather::Clear));
            assert_within(sun, 14.5, 15.5, "bright sun");
            assert_within(sun - shade, 2.7, 3.3, "stops to the shade");
        }
    }

    #[test]
    fn a_heavy_overcast_is_ev_12_to_13_and_rain_a_stop_below() {
        for degrees in [35.0, 45.0, 60.0] {
            let overcast = ev(light_in_sun, degrees, Weather::Overcast);
            assert_within(overcast, 12.0, 13.0, "overcast");
            assert_within(overcast - ev(light_in_sun, degrees, Weather::Rain), 0.999, 1.001, "rain");
        }
    }

    #[test]
    fn on_the_horizon_there_are_some_hundred_lux_and_at_civil_dusk_three() {
        assert_within(clear_lx(0.0), 700.0, 1000.0, "the sun's centre on the horizon");
        // Published for a clear evening: 400 lx as the upper edge goes, 3.4 at the end of civil twilight, 0.008 at the
        // end of the nautical, 0.0007 at the end of the astronomical.
        assert_within(clear_lx(-0.8333), 350.0, 500.0, "sunset");
        assert_within(clear_lx(-6.0), 3.2, 3.6, "civil dusk");
        assert_within(clear_lx(-12.0), 0.0075, 0.0085, "nautical dusk");
        assert_within(clear_lx(-18.0), 0.0006, 0.0007, "night");
    }

    #[test]
    fn the_published_air_masses_come_out() {
        // Rows of the published table: 10.32 at 5°, 5.59 at 10°, 1.99 at 30°; 38 on the horizon.
        for (seen, published) in [(90.0, 1.0), (30.0, 1.9939), (10.0, 5.5855), (5.0, 10.316), (0.0, 37.92)] {
            let mass = air_mass(seen);
            assert!((mass - published).abs() < 0.002 * published, "{mass} is not {published} at {seen}");
        }
    }

    #[test]
    fn a_sun_on_the_horizon_is_lifted_by_its_own_width() {
        assert_within(lifted(-0.8333), -0.27, -0.2, "the upper edge on the horizon");
        assert_within(lifted(10.0) - 10.0, 0.085, 0.092, "at ten degrees");
    }

    #[test]
    fn only_a_clear_sky_casts_shadows() {
        for weather in [Weather::Overcast, Weather::Fog, Weather::Rain] {
            assert_eq!(direct_sunlight(Angle::from_deg(50.0), weather), Illuminance::DARK, "{weather:?}");
        }
        assert_eq!(direct_sunlight(Angle::from_deg(-1.2), Weather::Clear), Illuminance::DARK);
    }

    #[test]
    fn the_darkest_night_is_still_a_scene() {
        let told = Illuminance::DARK.exposure_value().to_f64();
        assert!(ExposureValue::of_scene(told).is_ok(), "{told}");
        assert!(ExposureValue::of_scene(ev(light_in_shade, -90.0, Weather::Rain)).is_ok());
        assert!(Illuminance::from_lx(f64::NAN).is_err());
        assert_eq!(
            Illuminance::from_lx(-1.0).expect_err("none").to_string(),
            "-1 lx is not allowed: 0 to 200000 lx"
        );
    }

    proptest! {
        #[test]
        fn a_higher_sun_gives_more_light_and_never_by_a_jump(degrees in -20.0_f64..=89.99, kind in 0_usize..4) {
            let weather = Weather::ALL[kind];
            let step = 0.001;
            for light in [direct_sunlight, light_in_sun, light_in_shade] {
                let (here, higher) =
                    (light(Angle::from_deg(degrees), weather).to_lx(), light(Angle::from_deg(degrees + step), weather).to_lx());
                prop_assert!(here.is_finite() && higher >= here * (1.0 - 1e-9), "{here} {higher}");
                // The steepest: √(sin h) as the sun's centre comes over the horizon.
                prop_assert!(higher - here <= 0.002 * here + 70.0, "{here} {higher}");
            }
        }

        #[test]
        fn better_weather_gives_more_light(degrees in -18.0_f64..=90.0) {
            let lights = Weather::ALL.map(|weather| light_in_sun(Angle::from_deg(degrees), weather).to_lx());
            prop_assert!(lights.is_sorted_by(|one, other| one >= other), "{lights:?}");
        }
    }

    #[test]
    fn where_formulas_meet_they_meet() {
        for weather in Weather::ALL {
            for degrees in [0.0, -0.8, -4.5, -5.0, -5.5, -11.5, -12.0, -12.5, -18.0] {
                let at = |off: f64| skylight(Angle::from_deg(degrees + off), weather).to_lx();
                let (below, above) = (at(-1e-9), at(1e-9));
                assert!((above / below - 1.0).abs() < 1e-3, "{below} and {above} at {degrees}");
            }
        }
    }
}
