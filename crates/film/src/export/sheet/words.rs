//! Words and small pieces of markup that all sheets use.

use language::say;
use maud::{Markup, html};
use staging::Movement;
use units::{Angle, Length, LengthUnit};

use super::paper::{Paper, PaperShot};
use crate::film::{Film, Place};
use crate::light::{RIGHT_STOPS, ShotLight};
use crate::scene::Scene;
use crate::sentence::steps;
use crate::sun_on_shot::SunOnSetup;
use crate::wording::titled;

/// A length with so many digits after its point, and its unit.
pub(super) fn length(length: Length, unit: LengthUnit, digits: usize) -> String {
    length.told(unit, digits)
}

/// A distance in steps and in the unit beside them.
pub(super) fn paced(paper: &Paper<'_>, distance: Length) -> String {
    format!("{} ({})", steps(distance, paper.of.step), length(distance, paper.of.unit, 1))
}

/// A box to tick, or one that is ticked; a reader hears which.
pub(super) fn tick(is_ticked: bool) -> Markup {
    html! {
        @if is_ticked {
            span class="paper-box" role="img" aria-label=(say!("ticked")) { "☒" }
        } @else {
            span class="paper-box" role="img" aria-label=(say!("to tick")) { "☐" }
        }
    }
}

/// A scene's number and title.
pub(super) fn scene_title(number: usize, scene: &Scene) -> String {
    titled(say!("Scene"), number, &scene.facts.title)
}

/// Where and when a scene plays: `kitchen, inside, morning`.
pub(super) fn scene_where(film: &Film, scene: &Scene) -> String {
    let place = film.place_of(scene).map(Place::called);
    let parts = place.into_iter().chain([scene.facts.setting.name(), scene.facts.time.name()]);
    parts.collect::<Vec<_>>().join(", ")
}

/// A shot's picture; an empty frame where there is none.
pub(super) fn picture(paper: &Paper<'_>, one: &PaperShot<'_>) -> Markup {
    let number = one.listed.number();
    html! {
        @match (paper.picture)(one.shot().id) {
            Some(address) => img class="paper-picture" src=(address) alt=(say!("Frame of {number}"));,
            None => span class="paper-picture paper-none" {},
        }
    }
}

/// How the phone moves.
pub(super) fn movement(movement: Movement, unit: LengthUnit) -> String {
    let pace = |per_second: Length| say!("{} a second", per_second.abs().in_decimals(unit, 1));
    let turn = |per_second: Angle| say!("{:.0}° a second", per_second.to_deg().abs());
    match movement {
        Movement::Push { per_second } if per_second.to_m() < 0.0 => {
            say!("pulls back, {}", pace(per_second))
        }
        Movement::Push { per_second } => say!("moves in, {}", pace(per_second)),
        Movement::Follow { per_second } => say!("goes along, {}", pace(per_second)),
        Movement::Pan { per_second } if per_second.to_deg() < 0.0 => {
            say!("turns left, {}", turn(per_second))
        }
        Movement::Pan { per_second } => say!("turns right, {}", turn(per_second)),
        Movement::Tilt { per_second } if per_second.to_deg() < 0.0 => {
            say!("turns down, {}", turn(per_second))
        }
        Movement::Tilt { per_second } => say!("turns up, {}", turn(per_second)),
    }
}

/// What light is left over in the end; what an app decides by itself, it makes up for.
pub(super) fn left_over(light: &ShotLight) -> String {
    let off = light.residual.to_f64();
    if light.guess.is_some() {
        return say!("the app makes up for what is left").to_owned();
    }
    if off.abs() <= RIGHT_STOPS {
        return say!("as it should be").to_owned();
    }
    if off > 0.0 { say!("{off:.1} stops too bright") } else { say!("{:.1} stops too dark", -off) }
}

/// From which side the sun comes, how high it is, and how long shadows are.
pub(super) fn sun(sun: &SunOnSetup) -> String {
    let shadows = sun.on.shadow_times;
    let shadows = shadows.map_or_else(String::new, |times| say!(", shadows {times:.1} times as long"));
    say!("{}, {:.0}° high{shadows}", sun.on.words(), sun.elevation.to_deg())
}
