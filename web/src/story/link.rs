//! A shot of a film opened in Set-up: the plan that Set-up works on is made from the film, and what is changed of the plan
//! goes back into the film.
//!
//! **Invariant:** only what differs between a plan as the film gives it and the plan as somebody left it is carried, so that
//! what the film decides by itself, such as the lens of a shot, stays the film's to decide.
//! **Invariant:** a plan that was carried is what the film then gives; where it is not, the film's is put in its place, so
//! that one round after any change both sides are at rest.

mod alike;
mod bar;
mod carry;
mod follow;
mod onto_floor;
mod onto_people;
mod onto_shot;
mod plan_of;
#[cfg(test)]
mod tests;
mod walking;

pub(crate) use bar::OfShotBar;
pub(crate) use follow::{keep_in_step, keep_kit_in_step, open_in_setup};

use film::{Film, Rehearsal, Scene, Shot};
use glam::DVec2;
use requests::{FARTHEST_PLACE_M, MOST_PEOPLE, MOST_PIECES};
use staging::Person;

/// A shot of a film with everything that it depends on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Linked<'film> {
    pub(super) film: &'film Film,
    pub(super) scene: &'film Scene,
    pub(super) shot: &'film Shot,
    pub(super) rehearsal: &'film Rehearsal,
}

impl<'film> Linked<'film> {
    /// The others of the scene whom a plan can show, by their places among the rehearsal's others.
    fn shown_people(self) -> impl Iterator<Item = (film::PersonId, &'film Person)> {
        let Rehearsal { others, blocking, .. } = self.rehearsal;
        let near = others.iter().copied().zip(&blocking.people).filter(|(_, person)| is_near(person.place));
        near.take(MOST_PEOPLE)
    }

    /// The pieces of the scene that a plan can show, by their places in the scene's list.
    fn shown_pieces(self) -> impl Iterator<Item = usize> {
        let pieces = self.rehearsal.blocking.pieces.iter().enumerate();
        pieces.filter(|(_, piece)| is_near(piece.place)).map(|(at, _)| at).take(MOST_PIECES)
    }
}

/// Whether a plan can have something there, seen from its subject.
fn is_near(place: DVec2) -> bool {
    place.abs().max_element() <= FARTHEST_PLACE_M
}
