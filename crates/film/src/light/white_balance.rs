//! The one white balance of a scene.

use language::{key, say, text};
use optics::Weather;
use staging::Light;

use super::LightOnScene;
use super::lamp_share::lamp_share;
use crate::scene::{Lamps, Scene, Setting, TimeOfDay};

/// The white balance of a scene, and why that one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WhiteBalanceChoice {
    /// The kelvins that all shots of the scene share.
    pub kelvin: f64,
    /// Why, in plain words.
    pub why: &'static str,
    /// Whether the film says it.
    pub is_typed: bool,
}

/// Kelvins and the light that they are usual for.
///
/// # Source
/// Common practice: the marks on cameras. Half way for window and lamps together, because neither then looks far off; a dusk
/// at daylight's value, because it then stays blue, and the moon's light a little below it.
const SUN: (f64, &str) = (5600.0, key!("sunlight; a low sun stays golden"));
const CLOUD: (f64, &str) = (6500.0, key!("the light of clouds is bluer than the sun's"));
const SHADE: (f64, &str) = (7000.0, key!("open shade is lit by blue sky"));
const DUSK: (f64, &str) = (5600.0, key!("daylight's value lets dusk and dawn stay blue"));
const MOON: (f64, &str) = (4800.0, key!("a little below daylight lets moonlight stay cool"));
const LAMPS: (f64, &str) = (3200.0, key!("warm lamps; look at what the lamp says"));
const WINDOW_AND_LAMPS: (f64, &str) =
    (4300.0, key!("half way between window and lamps; switch one of them off if it can be done"));
const DAYLIGHT_AND_LAMPS: (f64, &str) =
    (4300.0, key!("half way between daylight and lamps; switch the lamps off if it can be done"));
const WINDOW: (f64, &str) = (6500.0, key!("a window gives the sky's light and not the sun's"));

/// Lamps or daylight that give less than this share of the light are not what is made white. Lamps of 3200 K are 133 mireds from
/// daylight of 5600 K, and light moves between them by the share; the weakest filter that is sold to correct it, an eighth, moves
/// it by 26: a fifth of the way. Common practice.
const LITTLE_SHARE: f64 = 0.2;

/// The white balance of a scene: the film's own, or the usual one for its light.
pub fn white_balance(scene: &Scene, light: &LightOnScene) -> WhiteBalanceChoice {
    if let Some(value) = scene.facts.white_balance {
        return WhiteBalanceChoice {
            kelvin: value.to_kelvin(),
            why: say!("the film says so"),
            is_typed: true,
        };
    }
    let (kelvin, why) = usual(scene, light);
    WhiteBalanceChoice { kelvin, why: text(why), is_typed: false }
}

fn usual(scene: &Scene, light: &LightOnScene) -> (f64, &'static str) {
    let facts = &scene.facts;
    let is_dark = facts.time == TimeOfDay::Night;
    let is_low = matches!(facts.time, TimeOfDay::Dawn | TimeOfDay::Dusk);
    match (facts.setting, facts.lamps) {
        (Setting::Inside, Lamps::Off) if !is_dark => WINDOW,
        (Setting::Inside, Lamps::BySetting) if !is_dark && !is_low => WINDOW_AND_LAMPS,
        // Without lamps at night there are flames, which stay warm.
        (Setting::Inside, _) => LAMPS,
        (Setting::Outside, _) => match lamp_share(facts, light) {
            share if share > 1.0 - LITTLE_SHARE => LAMPS,
            share if share >= LITTLE_SHARE => DAYLIGHT_AND_LAMPS,
            _ if is_dark => MOON,
            _ if is_low => DUSK,
            _ => by_sky(scene.blocking.light, light),
        },
    }
}

fn by_sky(drawn: Light, light: &LightOnScene) -> (f64, &'static str) {
    match (light.weather(), light.in_sun(), drawn) {
        (Some(Weather::Clear), Some(true), _) | (None, _, Light::Sun { .. }) => SUN,
        (Some(Weather::Clear), _, _) => SHADE,
        (Some(Weather::Overcast | Weather::Fog | Weather::Rain), _, _) | (None, _, Light::Overcast) => CLOUD,
        (None, _, Light::Dusk) => DUSK,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::light::usual_light;
    use crate::scene::{SceneFacts, SceneLight, WhiteBalance};
    use optics::ExposureValue;
    use std::sync::Arc;

    fn kelvin(facts: &SceneFacts, weather: Weather) -> f64 {
        let scene = Scene { facts: Arc::new(facts.clone()), ..Scene::clone(&crate::demo_film().scenes[0]) };
        white_balance(&scene, &usual_light(facts, weather)).kelvin
    }

    fn assert_kelvin(facts: &SceneFacts, weather: Weather, expected: f64) {
        let found = kelvin(facts, weather);
        assert!((found - expected).abs() < 1e-9, "{found} K is not {expected} K for {facts:?}");
    }

    #[test]
    fn what_is_usual_follows_the_light() {
        let day = SceneFacts::default();
        assert_kelvin(&day, Weather::Clear, 5600.0);
        assert_kelvin(&day, Weather::Rain, 6500.0);
        let night = SceneFacts { time: TimeOfDay::Night, ..day.clone() };
        assert_kelvin(&night, Weather::Clear, 3200.0);
        assert_kelvin(&SceneFacts { lamps: Lamps::Off, ..night }, Weather::Clear, 4800.0);
        let kitchen = SceneFacts { setting: Setting::Inside, time: TimeOfDay::Morning, ..day };
        assert_kelvin(&kitchen, Weather::Clear, 4300.0);
        assert_kelvin(&SceneFacts { lamps: Lamps::On, ..kitchen.clone() }, Weather::Clear, 3200.0);
        assert_kelvin(&SceneFacts { lamps: Lamps::Off, ..kitchen }, Weather::Clear, 6500.0);
    }

    /// Lamps of a street give EV 5 (tables: 4 to 6): in the sun that is nothing, and a fifth of EV 7.32, four fifths of EV 5.32.
    #[test]
    fn lamps_outside_count_by_what_they_give() {
        let day = SceneFacts { lamps: Lamps::On, ..SceneFacts::default() };
        assert_kelvin(&day, Weather::Clear, 5600.0);
        assert_kelvin(&day, Weather::Overcast, 6500.0);
        assert_kelvin(&SceneFacts { time: TimeOfDay::Night, ..day.clone() }, Weather::Clear, 3200.0);
        let dusk = |ev: f64| SceneFacts {
            time: TimeOfDay::Dusk,
            light: SceneLight::Read(ExposureValue::of_scene(ev).expect("in range")),
            ..day.clone()
        };
        assert_kelvin(&dusk(7.4), Weather::Clear, 5600.0);
        assert_kelvin(&dusk(7.3), Weather::Clear, 4300.0);
        assert_kelvin(&dusk(5.4), Weather::Clear, 4300.0);
        assert_kelvin(&dusk(5.3), Weather::Clear, 3200.0);
    }

    #[test]
    fn the_film_s_own_value_wins() {
        let typed = WhiteBalance::from_kelvin(4200.0).ok();
        assert_kelvin(&SceneFacts { white_balance: typed, ..SceneFacts::default() }, Weather::Clear, 4200.0);
    }

    #[test]
    fn where_light_was_read_the_blocking_says_which_it_is() {
        let mut scene = Scene::clone(&crate::demo_film().scenes[0]);
        scene.facts = Arc::default();
        let light = LightOnScene::read(ExposureValue::of_scene(12.0).expect("in range"));
        for (drawn, kelvin) in [(Light::Overcast, 6500.0), (Light::USUAL, 5600.0)] {
            scene.blocking = Arc::new(crate::SceneBlocking { light: drawn, ..Default::default() });
            let found = white_balance(&scene, &light).kelvin;
            assert!((found - kelvin).abs() < 1e-9, "{found} for {drawn:?}");
        }
    }
}
