//! What an entry of two people shows of the second of them.

use std::sync::Arc;

use crate::cut_view::EntryView;
use crate::film::Film;
use crate::scene::{Entry, Scene, Stretch};
use crate::shot::{Shot, ShotOf};

/// The same entry seen for the second of its two, from where the phone is for both.
pub(super) fn second_of_two(film: &Film, scene: &Scene, view: &EntryView) -> Option<EntryView> {
    let ShotOf::Two(_, second) = view.shot.of else { return None };
    let (from_s, to_s) = view.stretch_s;
    let entry = Entry { stretch: Stretch::new(from_s, to_s), ..Entry::whole(view.entry, view.shot.id) };
    let shot = Arc::new(Shot { of: ShotOf::One(second), ..Shot::clone(&view.shot) });
    Some(EntryView::of(film, scene, &entry, &shot, Arc::clone(&view.rehearsal), view.line))
}
