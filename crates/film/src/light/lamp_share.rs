//! How much of a scene's light lamps give: by day outside next to nothing, at night all of it.

use super::LightOnScene;
use super::usual::usual_lamps;
use crate::scene::{SceneFacts, Setting, TimeOfDay};

/// Lamps that give less than this share of the light are not seen to flicker. Chosen because lamps that go out between two swells
/// then change a frame's light by less than a hundredth, about the least that an eye tells apart (Weber's fraction for light,
/// 1 to 2 %: common knowledge).
const FLICKERS_FROM: f64 = 0.01;

/// What share of the light on a scene lamps on the mains give: 0 to 1.
///
/// ```text
/// s = min(1, 2^(L − V))
/// ```
/// `L` what lamps usually give there, and `V` all the light, both as exposure values at ISO 100. Inside, and at night, they count
/// as all of it: what is usual there is told of rooms and streets with their lamps on.
///
/// # Source
/// The definition: each step of an exposure value doubles the light. What lamps usually give: `presets/light.toml`.
pub(super) fn lamp_share(facts: &SceneFacts, light: &LightOnScene) -> f64 {
    if !facts.has_lamps() {
        return 0.0;
    }
    match (facts.setting, facts.time) {
        (Setting::Inside, _) | (Setting::Outside, TimeOfDay::Night) => 1.0,
        (Setting::Outside, _) => libm::exp2(usual_lamps(facts).to_f64() - light.value.to_f64()).min(1.0),
    }
}

/// Whether lamps on the mains give so much of the light that their swelling may be seen.
pub(super) fn lamps_may_flicker(facts: &SceneFacts, light: &LightOnScene) -> bool {
    lamp_share(facts, light) >= FLICKERS_FROM
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::light::usual_light;
    use crate::scene::Lamps;
    use optics::{ExposureValue, Weather};

    fn facts(setting: Setting, time: TimeOfDay, lamps: Lamps) -> SceneFacts {
        SceneFacts { setting, time, lamps, ..SceneFacts::default() }
    }

    fn share(time: TimeOfDay, ev: f64) -> f64 {
        let light = LightOnScene::read(ExposureValue::of_scene(ev).expect("in range"));
        lamp_share(&facts(Setting::Outside, time, Lamps::On), &light)
    }

    /// Lamps of a street give EV 5 (tables: 4 to 6), and bright sun EV 15.5.
    #[test]
    fn in_the_sun_lamps_give_a_fourteen_hundredth() {
        assert!((1.0 / share(TimeOfDay::Day, 15.5) - 1448.0).abs() < 1.0, "{}", share(TimeOfDay::Day, 15.5));
    }

    #[test]
    fn at_night_and_inside_they_give_all_of_it_and_where_there_are_none_nothing() {
        assert!((share(TimeOfDay::Night, 7.0) - 1.0).abs() < 1e-12);
        assert!((share(TimeOfDay::Dusk, 4.0) - 1.0).abs() < 1e-12, "no more than all");
        let usual = |facts: &SceneFacts| lamp_share(facts, &usual_light(facts, Weather::Clear));
        assert!((usual(&facts(Setting::Inside, TimeOfDay::Day, Lamps::BySetting)) - 1.0).abs() < 1e-12);
        assert!(usual(&facts(Setting::Outside, TimeOfDay::Day, Lamps::BySetting)).abs() < 1e-12);
        assert!(usual(&facts(Setting::Outside, TimeOfDay::Night, Lamps::Off)).abs() < 1e-12);
    }

    /// A hundredth of the light is 6.644 stops below it.
    #[test]
    fn flicker_counts_from_a_hundredth_of_the_light() {
        let may = |ev: f64| {
            let light = LightOnScene::read(ExposureValue::of_scene(ev).expect("in range"));
            lamps_may_flicker(&facts(Setting::Outside, TimeOfDay::Day, Lamps::On), &light)
        };
        assert!(may(11.64) && !may(11.65));
    }
}
