//! The light of a setup: what the camera is set to, which filters are on, what smears, what is held over a scene, and what
//! changes when the weather turns.
//!
//! How much light there is comes from outside, as a [`LightOnScene`]: from a meter, from the sky of a day, or from a table.

mod agreement;
mod back_light;
mod camera_setting;
mod crew_shadow;
mod dark;
mod figures;
mod filters_on;
mod finding;
mod how_to_set;
mod lamp_share;
mod lamp_shutters;
mod lock_list;
mod mains_of_scene;
mod moving;
mod shot_light;
mod usual;
mod weather_change;
mod white_balance;
mod window_in_frame;
mod within_app;

use language::{say, text};
use optics::{ExposureValue, Weather};
use units::Stops;

use crate::clock::clock;
use crate::daylight::{DAY_MIN, LightAt};

pub use agreement::Disagreement;
pub use back_light::BackLit;
pub use camera_setting::{Aperture, AppGuess, IsoSetting, ShutterSetting};
pub use crew_shadow::CrewShadow;
pub use dark::{DarkOptions, LongerShutter};
pub use figures::LightFigure;
pub use filters_on::{FilterChoice, FilterOn, StrongerFilters};
pub use finding::LightFinding;
pub(crate) use finding::{CHOPPY_SHARE, NOISY_ISO};
pub use how_to_set::HowToSet;
pub use lamp_shutters::SafeShutter;
pub use lock_list::{LockItem, LockList, LockWhat};
pub use moving::{FollowPath, Moving, PanPace, PassingSmear, WalkSmear};
pub use shot_light::ShotLight;
pub(crate) use usual::lit_by_lamps;
pub use usual::{scene_in_light_told, usual_light};
pub use weather_change::{StillGoes, WeatherNote, weather_change};
pub use white_balance::{WhiteBalanceChoice, white_balance};
pub use window_in_frame::BrightWindow;

/// How much light a scene has, and how that is known.
#[derive(Debug, Clone, PartialEq)]
pub struct LightOnScene {
    /// The light that a shot is set for, at ISO 100.
    pub value: ExposureValue,
    /// How it is known.
    pub from: LightSource,
    /// The light where the sun falls, if it is behind whoever is filmed: `value` is then the light on their face.
    pub sun_behind: Option<ExposureValue>,
}

/// How the light of a scene is known.
#[derive(Debug, Clone, PartialEq)]
pub enum LightSource {
    /// It was read from a meter or a camera.
    Read,
    /// It follows from where the sun is.
    Sky {
        /// Minutes from the day's midnight, past 1440 on the day after.
        minute: u16,
        /// The weather that is counted on.
        weather: Weather,
        /// Whether the sun itself falls on whoever is filmed.
        in_sun: bool,
    },
    /// It is what a table gives for a place like it.
    Table {
        /// The table's words.
        name: String,
        /// What is taken off them, for the hour, the weather or a window.
        less: Stops,
        /// The weather that is counted on.
        weather: Weather,
        /// Whether the sun itself falls on whoever is filmed.
        in_sun: bool,
    },
}

impl LightOnScene {
    /// What was read.
    pub const fn read(value: ExposureValue) -> Self {
        Self { value, from: LightSource::Read, sun_behind: None }
    }

    /// What the sky gives at that minute from midnight: the sun's light if it falls there, else the shade's. The minute is told to
    /// the nearest one, as every clock has it.
    pub fn of_sky(minute: f64, weather: Weather, light: LightAt) -> Self {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "0 to 2880, or 0 for what is none"
        )]
        let minute = libm::round(minute).clamp(0.0, 2.0 * DAY_MIN) as u16;
        Self {
            value: light.exposure_value(),
            from: LightSource::Sky { minute, weather, in_sun: light.in_sun.is_some() },
            sun_behind: None,
        }
    }

    /// The weather that is counted on; none where the light was read.
    pub const fn weather(&self) -> Option<Weather> {
        match self.from {
            LightSource::Read => None,
            LightSource::Sky { weather, .. } | LightSource::Table { weather, .. } => Some(weather),
        }
    }

    /// Whether it falls from the sun itself and makes hard shadows; none where it was read, as a meter does not say.
    pub const fn in_sun(&self) -> Option<bool> {
        match self.from {
            LightSource::Read => None,
            LightSource::Sky { in_sun, .. } | LightSource::Table { in_sun, .. } => Some(in_sun),
        }
    }

    /// In plain words: `EV 15.0, as usual for bright sun, hard shadows`.
    pub fn words(&self) -> String {
        say!("{:.1}, {}", self.value, self.source_words())
    }

    /// How it is known, in plain words.
    pub fn source_words(&self) -> String {
        let from = self.from.words();
        match self.sun_behind {
            Some(sun) => say!("on a face with the sun behind it: {sun:.1} where it falls, {from}"),
            None => from,
        }
    }
}

impl LightSource {
    /// In plain words.
    pub fn words(&self) -> String {
        match self {
            Self::Read => say!("as it was read").to_owned(),
            Self::Sky { minute, weather, in_sun } => {
                let light = match weather {
                    Weather::Clear if *in_sun => say!("in the sun"),
                    Weather::Clear => say!("in the shade"),
                    Weather::Overcast | Weather::Fog | Weather::Rain => text(weather.name()),
                };
                let time = clock(f64::from(*minute));
                // As it is spoken: nine o'clock and not nought nine.
                let time = time.strip_prefix('0').unwrap_or(&time);
                say!("from the sky at {time}, {light}")
            }
            Self::Table { name, less, .. } if less.to_f64() > 0.0 => {
                say!("{less:.1} below what is usual for {}", scene_in_light_told(name))
            }
            Self::Table { name, .. } => say!("as usual for {}", scene_in_light_told(name)),
        }
    }
}

/// What is off by no more than this counts as right: the step in which cameras are set, a third of a stop.
pub const RIGHT_STOPS: f64 = 1.0 / 3.0;

#[cfg(test)]
mod tests {
    use super::*;
    use optics::Illuminance;

    #[test]
    fn where_light_comes_from_is_told() {
        let value = ExposureValue::of_scene(12.34).expect("in range");
        let sky = |weather, in_sun| LightOnScene {
            value,
            from: LightSource::Sky { minute: 545, weather, in_sun },
            sun_behind: None,
        };
        assert_eq!(sky(Weather::Clear, false).words(), "EV 12.3, from the sky at 9:05, in the shade");
        assert_eq!(sky(Weather::Rain, false).words(), "EV 12.3, from the sky at 9:05, rain");
        assert_eq!(LightOnScene::read(value).words(), "EV 12.3, as it was read");
        assert_eq!(LightOnScene::read(value).in_sun(), None, "a meter does not say");
        assert_eq!(sky(Weather::Clear, true).weather(), Some(Weather::Clear));
    }

    #[test]
    fn the_sun_counts_where_it_falls_and_the_shade_where_it_does_not() {
        let lx = |lux| Illuminance::from_lx(lux).expect("in range");
        let told = |in_sun| {
            let light = LightAt { in_sun, in_shade: lx(2560.0) };
            LightOnScene::of_sky(600.9, Weather::Clear, light).words()
        };
        assert_eq!(told(None), "EV 10.0, from the sky at 10:01, in the shade");
        assert_eq!(told(Some(lx(81920.0))), "EV 15.0, from the sky at 10:01, in the sun");
    }
}
