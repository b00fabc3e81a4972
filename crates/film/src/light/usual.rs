//! The light that is usual for a scene, where neither a meter nor a place and a date say more.

use language::{key, text};
use optics::{ExposureValue, Illuminance, Weather, light_in_sun, skylight};
use units::{Angle, Stops};

use super::{LightOnScene, LightSource};
use crate::preset::scenes_in_light;
use crate::scene::{Lamps, SceneFacts, SceneLight, Setting, TimeOfDay};

/// Rows of the table, by its words.
const SNOW: &str = key!("snow or pale sand in bright sun");
const BRIGHT_SUN: &str = key!("bright sun, hard shadows");
const HAZY_SUN: &str = key!("hazy sun, soft shadows");
const BRIGHT_CLOUD: &str = key!("bright cloud, no shadows");
const OVERCAST: &str = key!("heavy overcast, or open shade on a sunny day");
const AFTER_SUNSET: &str = key!("just after sunset");
const BRIGHT_ROOM: &str = key!("room by day, bright shop or office");
const ROOM_AT_NIGHT: &str = key!("room with lamps at night");
const STREET_AT_NIGHT: &str = key!("street with lamps at night");
const CANDLE: &str = key!("face by candle light");
const MOON: &str = key!("open land under a full moon");

/// All of them.
const ROWS: [&str; 11] = [
    SNOW,
    BRIGHT_SUN,
    HAZY_SUN,
    BRIGHT_CLOUD,
    OVERCAST,
    AFTER_SUNSET,
    BRIGHT_ROOM,
    ROOM_AT_NIGHT,
    STREET_AT_NIGHT,
    CANDLE,
    MOON,
];

/// What a window lets in, beside it, of the light of open shade: four stops less, chosen because it sees a part of the sky
/// and glass takes some of it.
const WINDOW_STOPS: f64 = 4.0;
/// A low sun gives about a stop less than the hazy sun of the table: common practice, EV 12 to 14.
const LOW_SUN_STOPS: f64 = 1.0;
/// The table's view just after sunset has the bright sky in it; the light on a person is less: two stops,
/// chosen because [`optics::skylight`] gives EV 7.5 there, over two stops below the table's 10.
const PERSON_AT_DUSK_STOPS: f64 = 2.0;
/// Rain takes a stop of the overcast: common practice.
const RAIN_STOPS: f64 = 1.0;
/// Where the sun stands in golden hour: chosen, its middle.
const GOLDEN_HOUR_SUN: Angle = Angle::from_deg(5.0);
/// Where a moon stands that lights a scene: chosen because it is a third of the way up, neither low nor overhead.
const MOON_ELEVATION: Angle = Angle::from_deg(30.0);

/// The name of one of [`scenes_in_light`] as people are told it.
pub fn scene_in_light_told(name: &str) -> &str {
    ROWS.into_iter().find(|row| *row == name).map_or(name, |row| text(row))
}

/// A row of the table, and what is taken off it.
struct Row {
    name: &'static str,
    less: f64,
    in_sun: bool,
}

impl Row {
    fn light(&self, weather: Weather) -> LightOnScene {
        let less = Stops::new(self.less);
        let value = of_table(self.name).raised(-less);
        let from = LightSource::Table { name: self.name.to_owned(), less, weather, in_sun: self.in_sun };
        LightOnScene { value, from, sun_behind: None }
    }
}

/// The light that is usual for a scene in that weather, from the table of everyday light; what was read, where it was.
///
/// Where the table has no row for a weather, as for dusk under cloud, its row for a clear sky is lowered by what the weather
/// takes there by [`optics::light_in_sun`] and [`optics::skylight`].
///
/// # Source
/// Common practice: the rows of `presets/light.toml`. A meter is better than any table.
pub fn usual_light(facts: &SceneFacts, weather: Weather) -> LightOnScene {
    if let SceneLight::Read(value) = facts.light {
        return LightOnScene::read(value);
    }
    let row = match facts.setting {
        Setting::Outside => outside(facts, weather),
        Setting::Inside => inside(facts, weather),
    };
    row.light(weather)
}

/// The light of lamps alone, which is usual for a scene at night.
///
/// # Source
/// As [`usual_lamps`].
pub(crate) fn lit_by_lamps(facts: &SceneFacts, weather: Weather) -> LightOnScene {
    Row { name: lamps_row(facts), less: 0.0, in_sun: false }.light(weather)
}

/// The light that is usual in the shade while the sun of a scene's hour shines.
///
/// # Source
/// Common practice: the row of `presets/light.toml` for open shade; [`optics::skylight`] for a low sun.
pub(super) fn usual_shade(facts: &SceneFacts) -> ExposureValue {
    match facts.time {
        TimeOfDay::GoldenHour => skylight(GOLDEN_HOUR_SUN, Weather::Clear).exposure_value(),
        TimeOfDay::Dawn
        | TimeOfDay::Morning
        | TimeOfDay::Day
        | TimeOfDay::Afternoon
        | TimeOfDay::Dusk
        | TimeOfDay::Night => of_table(OVERCAST),
    }
}

/// What lamps alone usually give a scene.
///
/// # Source
/// Common practice: the rows of `presets/light.toml` for lamps at night.
pub(super) fn usual_lamps(facts: &SceneFacts) -> ExposureValue {
    of_table(lamps_row(facts))
}

const fn lamps_row(facts: &SceneFacts) -> &'static str {
    match facts.setting {
        Setting::Outside => STREET_AT_NIGHT,
        Setting::Inside => ROOM_AT_NIGHT,
    }
}

/// The value of a row. A test finds every row that is named here, so nothing comes out dark for want of one.
fn of_table(row: &str) -> ExposureValue {
    let found = scenes_in_light().into_iter().find(|(name, _)| name == row);
    found.map_or(Illuminance::DARK.exposure_value(), |(_, value)| value)
}

fn outside(facts: &SceneFacts, weather: Weather) -> Row {
    let is_clear = weather == Weather::Clear;
    let row = |name, less| Row { name, less, in_sun: false };
    match facts.time {
        TimeOfDay::Morning | TimeOfDay::Day | TimeOfDay::Afternoon => by_day(weather),
        TimeOfDay::GoldenHour => {
            let taken = taken_by(light_in_sun, GOLDEN_HOUR_SUN, weather);
            Row { name: HAZY_SUN, less: LOW_SUN_STOPS + taken, in_sun: is_clear }
        }
        TimeOfDay::Dawn | TimeOfDay::Dusk => {
            row(AFTER_SUNSET, PERSON_AT_DUSK_STOPS + taken_by(skylight, Angle::ZERO, weather))
        }
        TimeOfDay::Night if facts.has_lamps() => row(STREET_AT_NIGHT, 0.0),
        // Cloud takes of the moon's light what it takes of the sun's.
        TimeOfDay::Night => row(MOON, taken_by(light_in_sun, MOON_ELEVATION, weather)),
    }
}

fn by_day(weather: Weather) -> Row {
    let row = |name, less| Row { name, less, in_sun: false };
    match weather {
        Weather::Clear => Row { in_sun: true, ..row(BRIGHT_SUN, 0.0) },
        Weather::Fog => row(BRIGHT_CLOUD, 0.0),
        Weather::Overcast => row(OVERCAST, 0.0),
        Weather::Rain => row(OVERCAST, RAIN_STOPS),
    }
}

fn inside(facts: &SceneFacts, weather: Weather) -> Row {
    let row = |name, less| Row { name, less, in_sun: false };
    match (facts.time, facts.has_lamps()) {
        (TimeOfDay::Night | TimeOfDay::Dawn | TimeOfDay::Dusk, true) => row(ROOM_AT_NIGHT, 0.0),
        (TimeOfDay::Night, false) => row(CANDLE, 0.0),
        (TimeOfDay::Dawn | TimeOfDay::Dusk, false) => {
            let sky = outside(&SceneFacts { lamps: Lamps::Off, ..facts.clone() }, weather);
            row(sky.name, sky.less + WINDOW_STOPS)
        }
        (TimeOfDay::Morning | TimeOfDay::Day | TimeOfDay::Afternoon | TimeOfDay::GoldenHour, true) => {
            // The window gives it more than its lamps do, and both together about as much as a shop has.
            row(BRIGHT_ROOM, 0.0)
        }
        (TimeOfDay::Morning | TimeOfDay::Day | TimeOfDay::Afternoon | TimeOfDay::GoldenHour, false) => {
            let rain = if weather == Weather::Rain { RAIN_STOPS } else { 0.0 };
            row(OVERCAST, WINDOW_STOPS + rain)
        }
    }
}

/// What a weather takes of a clear sky's light there, in stops.
fn taken_by(light: fn(Angle, Weather) -> Illuminance, elevation: Angle, weather: Weather) -> f64 {
    let of = |weather| light(elevation, weather).exposure_value().to_f64();
    of(Weather::Clear) - of(weather)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn facts(setting: Setting, time: TimeOfDay, lamps: Lamps) -> SceneFacts {
        SceneFacts { setting, time, lamps, ..SceneFacts::default() }
    }

    fn ev(setting: Setting, time: TimeOfDay, lamps: Lamps, weather: Weather) -> f64 {
        usual_light(&facts(setting, time, lamps), weather).value.to_f64()
    }

    fn assert_near(value: f64, expected: f64) {
        assert!((value - expected).abs() < 1e-9, "{value} is not {expected}");
    }

    #[test]
    fn every_row_that_is_named_is_in_the_table() {
        let table = scenes_in_light();
        for name in ROWS {
            assert!(table.iter().any(|(row, _)| row == name), "{name:?} is not in the table");
        }
    }

    #[test]
    fn the_table_s_own_rows_come_out_by_day_and_at_night() {
        let outside = |time, weather| ev(Setting::Outside, time, Lamps::BySetting, weather);
        assert_near(outside(TimeOfDay::Day, Weather::Clear), 15.0);
        assert_near(outside(TimeOfDay::Afternoon, Weather::Overcast), 12.0);
        assert_near(outside(TimeOfDay::Morning, Weather::Rain), 11.0);
        assert_near(outside(TimeOfDay::GoldenHour, Weather::Clear), 13.0);
        assert_near(outside(TimeOfDay::Dusk, Weather::Clear), 8.0);
        assert_near(outside(TimeOfDay::Night, Weather::Rain), 5.0);
        assert_near(ev(Setting::Inside, TimeOfDay::Night, Lamps::BySetting, Weather::Clear), 6.0);
        assert_near(ev(Setting::Inside, TimeOfDay::Day, Lamps::Off, Weather::Clear), 8.0);
        assert_near(ev(Setting::Inside, TimeOfDay::Dusk, Lamps::Off, Weather::Clear), 4.0);
    }

    /// EV 8 beside a window and EV 6 from the lamps of a home are 8.3 together: light adds up.
    #[test]
    fn by_day_a_room_has_its_window_s_light_and_that_of_its_lamps() {
        let inside = |time, lamps| ev(Setting::Inside, time, lamps, Weather::Clear);
        let (window, lamps) = (inside(TimeOfDay::Day, Lamps::Off), inside(TimeOfDay::Night, Lamps::On));
        let both = libm::log2(libm::exp2(window) + libm::exp2(lamps));
        let usual = inside(TimeOfDay::Morning, Lamps::On);
        assert!(
            (both - usual).abs() < 0.5 && lamps < window,
            "{window} and {lamps} make {both}, not {usual}"
        );
    }

    #[test]
    fn cloud_takes_some_stops_of_a_low_sun_and_less_of_a_dusk() {
        let taken = |time| {
            ev(Setting::Outside, time, Lamps::Off, Weather::Clear)
                - ev(Setting::Outside, time, Lamps::Off, Weather::Overcast)
        };
        assert!((2.5..4.0).contains(&taken(TimeOfDay::GoldenHour)), "{}", taken(TimeOfDay::GoldenHour));
        // 800 lx against 300 lx on the horizon: 1.415 stops.
        assert!((taken(TimeOfDay::Dusk) - 1.415).abs() < 1e-3, "{}", taken(TimeOfDay::Dusk));
    }

    /// Open shade on a sunny day is three stops below bright sun, and a low sun's about two below the sun's own: common practice.
    #[test]
    fn shade_is_some_stops_below_the_sun_of_its_hour() {
        let shade = |time| usual_shade(&facts(Setting::Outside, time, Lamps::Off)).to_f64();
        assert_near(shade(TimeOfDay::Day), 12.0);
        // 800 + 15500 √(sin 5°) are 5376 lx.
        assert!((shade(TimeOfDay::GoldenHour) - 11.07).abs() < 0.01, "{}", shade(TimeOfDay::GoldenHour));
    }

    #[test]
    fn what_was_read_always_wins() {
        let value = ExposureValue::of_scene(-3.0).expect("in range");
        let facts = SceneFacts { light: SceneLight::Read(value), ..SceneFacts::default() };
        for weather in Weather::ALL {
            assert_eq!(usual_light(&facts, weather), LightOnScene::read(value));
        }
    }

    #[test]
    fn worse_weather_never_gives_more_light() {
        for setting in [Setting::Inside, Setting::Outside] {
            for time in TimeOfDay::ALL {
                for lamps in [Lamps::On, Lamps::Off, Lamps::BySetting] {
                    let lights = Weather::ALL.map(|weather| ev(setting, time, lamps, weather));
                    assert!(
                        lights.is_sorted_by(|one, other| one >= other),
                        "{setting:?} {time:?} {lights:?}"
                    );
                    assert!(lights.iter().all(|ev| (-10.0..=16.0).contains(ev)), "{lights:?}");
                }
            }
        }
    }

    #[test]
    fn only_the_sun_of_a_clear_sky_makes_hard_shadows() {
        let in_sun =
            |time, weather| usual_light(&facts(Setting::Outside, time, Lamps::Off), weather).in_sun();
        assert_eq!(in_sun(TimeOfDay::Day, Weather::Clear), Some(true));
        assert_eq!(in_sun(TimeOfDay::Day, Weather::Overcast), Some(false));
        assert_eq!(in_sun(TimeOfDay::Dusk, Weather::Clear), Some(false));
    }
}
