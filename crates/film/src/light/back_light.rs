//! Light on a face that the sun is behind: nothing but sky and ground light what is seen of it.

use language::say;
use optics::{ExposureValue, Illuminance};
use staging::ShotSize;
use units::Stops;

use super::usual::usual_shade;
use super::{LightOnScene, LightSource};
use crate::findings::{LOST_STOPS, Severity};
use crate::scene::SceneFacts;
use crate::shot::{Shot, SunWish};

/// A face with the sun behind it, for which a shot is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BackLit {
    /// The light on the face.
    pub face: ExposureValue,
    /// The light where the sun falls.
    pub sun: ExposureValue,
    /// How much brighter than the meter's grey what the sun falls on comes out.
    pub above_meter: Stops,
}

impl LightOnScene {
    /// The same on a shot of somebody whom the sun lights from behind, in that shade: it is set for what is seen of their face, as
    /// common practice has it unless a silhouette is wanted. Unchanged where no sun falls, or where no face is seen.
    ///
    /// No sun falls on a plane that is turned to the phone if the sun is more than 90° round from behind the phone, and back
    /// light starts at 120°. An upright face sees half of the sky, and the sunlit ground makes up for the other half: with a fifth
    /// of the light thrown back, a sun at 38° gives it 13 klx, as the whole sky does ([`optics::light_in_shade`]).
    #[must_use]
    pub(crate) fn on_back_lit(self, shot: &Shot, shade: Illuminance) -> Self {
        self.set_for_face(shot, shade.exposure_value())
    }

    /// The same on a shot that wants the sun behind somebody, where a table tells the light and no hour is known.
    #[must_use]
    pub(super) fn with_wish(self, shot: &Shot, facts: &SceneFacts) -> Self {
        let is_told = matches!(self.from, LightSource::Table { .. });
        if is_told && shot.sun == SunWish::Back { self.set_for_face(shot, usual_shade(facts)) } else { self }
    }

    fn set_for_face(self, shot: &Shot, face: ExposureValue) -> Self {
        if self.in_sun() == Some(true) && self.sun_behind.is_none() && shows_a_face(shot) && face < self.value
        {
            Self { value: face, sun_behind: Some(self.value), ..self }
        } else {
            self
        }
    }
}

/// Whether a shot is set for a face: of somebody who is larger in it than a fifth of its height, where a figure is a shape and the
/// place counts. Common practice.
fn shows_a_face(shot: &Shot) -> bool {
    shot.of.subject().is_some() && !shot.is_insert() && shot.size > ShotSize::ExtremeWide
}

impl BackLit {
    /// A face in that light, if the sun is behind it; `above_meter` is how much brighter than the meter's grey the face comes out.
    pub(super) fn of(light: &LightOnScene, above_meter: Stops) -> Option<Self> {
        let (face, sun) = (light.value, light.sun_behind?);
        Some(Self { face, sun, above_meter: above_meter + Stops::new(sun.to_f64() - face.to_f64()) })
    }

    /// How much brighter the sun is than the face.
    pub fn brighter(&self) -> Stops {
        Stops::new(self.sun.to_f64() - self.face.to_f64())
    }

    /// Whether what the sun falls on is lost.
    fn is_lost(&self) -> bool {
        self.above_meter.to_f64() > LOST_STOPS
    }

    pub(super) fn severity(&self) -> Severity {
        if self.is_lost() { Severity::Warns } else { Severity::Notes }
    }

    /// What is the matter, and what can be done.
    pub(super) fn words(&self) -> (String, String) {
        let Self { face, .. } = self;
        let by = self.brighter();
        let lost = if self.is_lost() { say!(", and highlights are lost there") } else { "" };
        let message = say!(
            "the sun is behind them, and this is set for their face, at {face:.1}: where the sun falls it is {by:.1} \
             brighter{lost}"
        );
        let hint = say!(
            "bounce light onto the face with something white, and set it darker by what that gives; or set it {by:.1} darker for \
             a silhouette on purpose; or turn the shot so that the sun comes from the side"
        );
        (message, hint)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::light::usual_light;
    use crate::scene::TimeOfDay;
    use optics::Weather;

    fn lx(lux: f64) -> Illuminance {
        Illuminance::from_lx(lux).expect("in range")
    }

    /// At noon, in the sun: EV 15.
    fn sunlit() -> LightOnScene {
        let light = crate::daylight::LightAt { in_sun: Some(lx(81_920.0)), in_shade: lx(13_000.0) };
        LightOnScene::of_sky(720.0, Weather::Clear, light)
    }

    /// The demo film's first shot in the garden, from the chest up.
    fn chest_up() -> Shot {
        Shot { size: ShotSize::ChestUp, ..Shot::clone(&crate::demo_film().scenes[1].shots[0]) }
    }

    #[test]
    fn a_face_has_the_shade_s_light_and_the_sun_s_is_told_beside_it() {
        let lit = sunlit().on_back_lit(&chest_up(), lx(13_000.0));
        // log2(13000 / 2.5), with C = 250 lx s of ISO 2720.
        assert!((lit.value.to_f64() - 12.344).abs() < 1e-3, "{:?}", lit.value);
        assert_eq!(lit.sun_behind, Some(sunlit().value));
        assert_eq!(
            lit.words(),
            "EV 12.3, on a face with the sun behind it: EV 15.0 where it falls, from the sky at 12:00, in the sun"
        );
        assert_eq!(lit.in_sun(), Some(true), "there are hard shadows all the same");
    }

    #[test]
    fn a_thing_and_a_far_figure_are_set_for_the_place() {
        let far = Shot { size: ShotSize::ExtremeWide, ..chest_up() };
        assert_eq!(sunlit().on_back_lit(&far, lx(13_000.0)), sunlit());
        let thing = Shot::clone(&crate::demo_film().scenes[1].shots[2]);
        assert_eq!(sunlit().on_back_lit(&thing, lx(13_000.0)), sunlit());
    }

    #[test]
    fn without_an_hour_only_a_wish_puts_the_sun_behind_and_the_table_tells_the_shade() {
        let facts = SceneFacts { time: TimeOfDay::Day, ..SceneFacts::default() };
        let wished = Shot { sun: SunWish::Back, ..chest_up() };
        let lit = |weather, shot: &Shot| usual_light(&facts, weather).with_wish(shot, &facts).value.to_f64();
        // Open shade on a sunny day is three stops below bright sun: common practice.
        assert!((lit(Weather::Clear, &wished) - 12.0).abs() < 1e-9);
        assert!((lit(Weather::Clear, &Shot { sun: SunWish::Front, ..chest_up() }) - 15.0).abs() < 1e-9);
        assert!((lit(Weather::Overcast, &wished) - 12.0).abs() < 1e-9, "the cloud's own");
    }

    #[test]
    fn what_the_sun_falls_on_is_lost_from_a_stop_above_the_meter() {
        let lit = |face_lx: f64, above_meter: f64| {
            let light = sunlit().on_back_lit(&chest_up(), lx(face_lx));
            BackLit::of(&light, Stops::new(above_meter)).expect("the sun is behind")
        };
        // 81920 lx over 13000 lx are 2.66 stops.
        let usual = lit(13_000.0, -2.0 / 3.0);
        assert_eq!(usual.severity(), Severity::Warns);
        assert_eq!(
            usual.words().0,
            "the sun is behind them, and this is set for their face, at EV 12.3: where the sun falls it is 2.7 stops \
             brighter, and highlights are lost there"
        );
        // A stop above the meter on either side: 1.66 stops of difference with 2/3 less than the meter.
        assert_eq!(lit(81_920.0 / 3.15, -2.0 / 3.0).severity(), Severity::Notes);
        assert_eq!(lit(81_920.0 / 3.2, -2.0 / 3.0).severity(), Severity::Warns);
        assert_eq!(BackLit::of(&sunlit(), Stops::ZERO), None);
    }
}
