//! A scene's floor while the sun stands somewhere: the shadows that people throw, and how long they are.

use std::sync::Arc;

use film::{Film, Scene, ShotId, SunOnShot};
use glam::DVec2;
use language::say;
use staging::{Landmark, Light, along};
use units::Length;

use super::draw::draw_floor;
use super::north::north_in_words;
use super::shown::Shown;
use crate::canvas::Surface;
use crate::draw::{Floor, Palette, PlanView};
use crate::films::Desk;

/// The floor of a scene in the beat of one of its shots, with the sun where it stands then, if it throws shadows.
#[derive(Debug, Clone)]
pub(crate) struct FloorInSun {
    shown: Shown,
    sun: Option<SunOnShot>,
}

/// A shadow's width on the floor, metres: chosen, as broad as shoulders.
const WIDTH_M: f64 = 0.45;
/// Between two strokes of a shadow's hatching, units.
const HATCH_PX: f64 = 5.0;

impl FloorInSun {
    /// The floor of a scene as it is when that shot starts. Without a sun that throws shadows nothing says where light is from.
    pub(crate) fn of(
        desk: Desk,
        film: &Film,
        scene: &Arc<Scene>,
        shot: ShotId,
        sun: Option<SunOnShot>,
    ) -> Self {
        let beat = scene.shot(shot).and_then(|shot| shot.beat);
        let rehearse = |shot: &_| desk.rehearsal(film, scene, shot);
        let mut shown = Shown::of(film, scene, beat, Some(shot), &rehearse);
        // The sky's own sun takes the place of the one that the set is dressed with.
        let light = match sun {
            Some(SunOnShot { azimuth_on_floor, .. }) => {
                Light::Sun { azimuth: azimuth_on_floor, elevation: units::Angle::ZERO }
            }
            None => Light::Overcast,
        };
        let mut there = Scene::clone(scene);
        Arc::make_mut(&mut there.blocking).light = light;
        shown.scene = Arc::new(there);
        shown.phones.retain(|phone| phone.is_chosen);
        Self { shown, sun }
    }

    /// Draws it.
    pub(crate) fn draw(&self, surface: &Surface, palette: &Palette) {
        let view = self.shown.fit((surface.width, surface.height));
        draw_floor(surface, palette, &self.shown, view, None);
        let floor = Floor::new(surface, palette, view);
        for (place, tip, _) in self.shadows() {
            floor.shadow(place, tip, view);
        }
    }

    /// What it shows, for those who do not see it.
    pub(crate) fn words(&self) -> String {
        let north = north_in_words(self.shown.scene.blocking.north);
        let mut words = vec![say!("Floor plan with the phone and the sun. {north}.")];
        match self.sun {
            Some(sun) => {
                let from = sun.azimuth_on_floor.to_deg().rem_euclid(360.0);
                words.push(say!("The sun is {from:.0}° clockwise from the plan's top: {}.", sun.side.name()));
            }
            None => words.push(say!("Nobody throws a shadow.").to_owned()),
        }
        let names = self.shown.people.iter().map(|one| self.shown.film.name_of(one.who));
        for (name, (_, _, length)) in names.zip(self.shadows()) {
            words.push(say!("{name}'s shadow is {:.1} m long.", length.to_m()));
        }
        words.join(" ")
    }

    /// Everybody's shadow: from their feet to the tip of it, and its length on a level floor.
    fn shadows(&self) -> impl Iterator<Item = (DVec2, DVec2, Length)> + '_ {
        let sun = self.sun.and_then(|sun| Some((-along(sun.azimuth_on_floor), sun.shadow_times?)));
        sun.into_iter().flat_map(move |(away, times)| {
            self.shown.people.iter().map(move |one| {
                let height = one.person.body.height_of(Landmark::Crown);
                let length = Length::from_m(height.to_m() * times);
                (one.person.place, one.person.place + away * length.to_m(), length)
            })
        })
    }
}

impl Floor<'_> {
    /// A shadow: a strip of chalk strokes across its way, that ends where the plan does.
    fn shadow(&self, from: DVec2, to: DVec2, view: PlanView) {
        let way = (to - from).normalize_or_zero();
        let across = way.perp() * (WIDTH_M / 2.0);
        let farthest = (view.size.0 + view.size.1) / view.scale;
        let length = from.distance(to).min(farthest);
        self.pen(&self.palette.chalk_quiet, 1.5);
        let step = HATCH_PX / view.scale;
        let mut along = step;
        while along <= length {
            let middle = from + way * along;
            self.trace(&[(middle - across).extend(0.0), (middle + across).extend(0.0)]);
            along += step;
        }
        let end = from + way * length;
        self.pen(&self.palette.chalk, 1.5);
        self.trace(&[
            (from + across).extend(0.0),
            (end + across).extend(0.0),
            (end - across).extend(0.0),
            (from - across).extend(0.0),
        ]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::story::floor::blocking_edit::tests::two;
    use crate::story::floor::shown::tests::shown;
    use film::{SunInFrame, SunSide};
    use units::Angle;

    fn in_sun(azimuth_deg: f64, shadow_times: Option<f64>) -> FloorInSun {
        let (film, scene) = two();
        let sun = SunOnShot {
            side: SunSide::Front,
            round: Angle::ZERO,
            in_frame: SunInFrame::Away,
            azimuth_on_floor: Angle::from_deg(azimuth_deg),
            shadow_times,
        };
        FloorInSun { shown: shown(&film, &scene, 1), sun: Some(sun) }
    }

    #[test]
    fn a_shadow_falls_away_from_the_sun_and_is_as_long_as_it_is_low() {
        let floor = in_sun(90.0, Some(2.0));
        let (feet, tip, length) = floor.shadows().next().expect("somebody");
        let body = &floor.shown.people[0].person.body;
        assert!((length.to_m() - 2.0 * body.height_of(Landmark::Crown).to_m()).abs() < 1e-9, "{length:?}");
        assert!(tip.x < feet.x - 1.0 && (tip.y - feet.y).abs() < 1e-9, "from {feet} to {tip}");
        assert!(floor.words().contains("90° clockwise"), "{}", floor.words());
    }

    #[test]
    fn a_sun_that_is_not_up_throws_no_shadows() {
        assert_eq!(in_sun(90.0, None).shadows().count(), 0);
    }
}
