//! The desk that films are worked on: one film is open, everything that is done to it can be undone and is kept.

#[cfg(test)]
#[cfg(target_arch = "wasm32")]
mod browser_tests;
mod holding_on;
mod keeping;
mod photos;
mod place;
mod rescue;

use std::sync::Arc;
use std::time::Duration;

use film::{
    Command, DayPlan, Daylights, EditError, EntryView, Film, FreshId, FreshIds, NoRehearsal, Rehearsal,
    Rehearsals, Scene, ShootingDay, Shot,
};
use language::say;
use leptos::leptos_dom::helpers::set_timeout_with_handle;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::history::{Changed, History};
use super::keeper::Occasion;
use super::open_film::{OpenFilm, Saving};
use super::store::StoreError;
use crate::lasting::Lasting;
use crate::waiting::wait;
use place::{Place, random_number};

/// A film's own number in this browser.
pub(crate) type FilmId = u64;

/// A handle on the one desk of this module, which outlives the rooms that use it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Desk {
    /// The film that is open.
    pub(crate) film: Lasting<RwSignal<Option<Film>>>,
    /// The films that are kept here, the last one changed first; as they were when last asked for by [`Desk::list`].
    pub(crate) kept: Lasting<RwSignal<Vec<FilmCard>>>,
    /// What was the matter with what was last opened, read or removed, in sentences.
    pub(crate) problems: Lasting<RwSignal<Vec<String>>>,
    /// Whether what was done is kept.
    pub(crate) saving: Lasting<RwSignal<Saving>>,
    /// Which film is open.
    open_id: Lasting<RwSignal<Option<FilmId>>>,
    /// What would be undone, and what done again.
    names: Lasting<RwSignal<(Option<String>, Option<String>)>>,
}

/// A kept film, as a list shows it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FilmCard {
    /// The film.
    pub(crate) id: FilmId,
    /// What it is called.
    pub(crate) title: String,
    /// How many shots it has.
    pub(crate) shots: usize,
    /// How long its cut is, seconds.
    pub(crate) seconds: f64,
    /// When it was last changed, milliseconds since 1970.
    pub(crate) changed_ms: f64,
}

/// Hands rest when nothing was done for so long: chosen; there is time for a snapshot then.
const REST: Duration = Duration::from_secs(2);

#[expect(clippy::unused_self, reason = "the handle stands for the one desk of the module")]
impl Desk {
    /// The desk, with the film that was open last.
    pub(crate) fn here() -> Self {
        let place = Place::here();
        let desk = place.desk;
        if place.is_set_up.replace(true) {
            return desk;
        }
        // Phones end pages that nobody looks at without another word.
        for event in ["pagehide", "visibilitychange", "freeze"] {
            drop(window_event_listener_untyped(event, move |_| desk.write(Occasion::Leaving)));
        }
        for event in ["visibilitychange", "focus"] {
            drop(window_event_listener_untyped(event, move |_| spawn_local(desk.follow_other())));
        }
        drop(window_event_listener_untyped("panicked", |_| Self::rescue()));
        spawn_local(desk.open_last());
        desk
    }

    /// Changes the film; `name` is what undo calls it, in plain words, and `target` tells apart what it is done to.
    ///
    /// Changes of one name and target that follow each other closely are one step, if each replaces the one before. Without
    /// a film that is open nothing happens.
    pub(crate) fn change(self, name: &str, target: Option<u64>, command: Command) -> Result<(), EditError> {
        let now_ms = js_sys::Date::now();
        // Beside the desk, so that a command that ends the program leaves what lies there as it was.
        let Some(mut film) = Place::with_open(|open| open.history.film().clone()) else { return Ok(()) };
        let inverse = film.apply(command.clone())?;
        Place::with_open(|open| {
            let changed = Changed { film, change: command, inverse };
            let step = open.history.take_on(name, target, changed, now_ms);
            open.keeper.note_change(step, now_ms);
            open.note_own();
        });
        self.follow();
        Ok(())
    }

    /// From here on changes of one name and target are one step, however slowly they come, until the gesture ends.
    pub(crate) fn begin_gesture(self) {
        Place::with_open(|open| open.history.begin_gesture());
    }

    /// The next change is a step of its own.
    pub(crate) fn end_gesture(self) {
        Place::with_open(|open| open.history.end_gesture());
    }

    /// Takes the last step back.
    pub(crate) fn undo(self) {
        self.go(History::undo);
    }

    /// Does what was undone last again.
    pub(crate) fn redo(self) {
        self.go(History::redo);
    }

    /// What would be undone.
    pub(crate) fn undo_name(self) -> Option<String> {
        self.names.with(|(undo, _)| undo.clone())
    }

    /// What would be done again.
    pub(crate) fn redo_name(self) -> Option<String> {
        self.names.with(|(_, redo)| redo.clone())
    }

    /// Whether that film is the one that is open.
    pub(crate) fn is_open(self, film: FilmId) -> bool {
        self.open_id.get() == Some(film)
    }

    /// The film that is open.
    pub(crate) fn open_film(self) -> Option<FilmId> {
        self.open_id.get_untracked()
    }

    /// A number for something new.
    pub(crate) fn fresh<Id: From<FreshId>>(self) -> Id {
        Place::here().ids.borrow_mut().fresh()
    }

    /// Numbers for several new things.
    pub(crate) fn fresh_ids(self) -> FreshIds {
        FreshIds::starting_at(random_number())
    }

    /// A shot walked through, anew only if something that it depends on is another.
    pub(crate) fn rehearsal(
        self,
        film: &Film,
        scene: &Scene,
        shot: &Arc<Shot>,
    ) -> Arc<Result<Rehearsal, NoRehearsal>> {
        Place::here().rehearsals.borrow_mut().of(film, scene, shot)
    }

    /// What every entry of a scene's cut shows.
    pub(crate) fn views(self, film: &Film, scene: &Scene) -> Vec<EntryView> {
        EntryView::of_cut(film, scene, &mut Place::here().rehearsals.borrow_mut())
    }

    /// Something that walks through shots, with those that have been walked through.
    pub(crate) fn walk<Out>(self, walk: impl FnOnce(&mut Rehearsals) -> Out) -> Out {
        walk(&mut Place::here().rehearsals.borrow_mut())
    }

    /// A day planned.
    pub(crate) fn day_plan(self, film: &Film, day: &ShootingDay, daylights: &Daylights) -> DayPlan {
        DayPlan::of(film, day, daylights, &mut Place::here().rehearsals.borrow_mut())
    }

    /// Puts the film away; it stays kept.
    pub(crate) fn close(self) {
        self.write(Occasion::Leaving);
        Place::here().next_turn();
        self.lay(None);
    }

    /// Lays a film on the desk, or clears it.
    fn lay(self, film: Option<OpenFilm>) {
        let place = Place::here();
        let id = film.as_ref().map(|open| open.keeper.film());
        place.open.replace(film);
        place.rehearsals.replace(Rehearsals::default());
        self.open_id.set(id);
        self.show();
    }

    /// Begins to write what is not kept yet.
    fn write(self, occasion: Occasion) {
        let place = Place::here();
        let now_ms = js_sys::Date::now();
        let waits_ms = Place::with_open(|open| open.waits_ms(now_ms)).unwrap_or_default();
        if occasion == Occasion::Change && waits_ms > 0.0 {
            if !place.waits.replace(true) {
                let write = move || {
                    Place::here().waits.set(false);
                    self.write(occasion);
                };
                set_timeout(write, Duration::from_secs_f64(waits_ms / 1000.0));
            }
            return;
        }
        if let Some((film, writing)) = place.begin(occasion) {
            spawn_local(async move { self.end(film, &writing.await) });
        }
        self.show_saving();
    }

    /// Waits until everything that was done to the open film is kept.
    async fn settle(self) -> Result<(), StoreError> {
        while !Place::with_open(|open| open.is_settled()).unwrap_or(true) {
            let begun = Place::here().begin(Occasion::Leaving);
            if let Some((film, writing)) = begun {
                let outcome = writing.await;
                self.end(film, &outcome);
                outcome?;
            } else {
                // Something has begun, and ends by itself.
                wait(Duration::from_millis(10)).await;
            }
        }
        Ok(())
    }

    /// Waits until everything that was done is kept; else says why it is not. Opens no film.
    pub(crate) async fn keep_all() -> Result<(), String> {
        let outcome = Place::here().desk.settle().await;
        outcome.map_err(|error| say!("Not kept: {error}."))?;
        match Place::with_open(|open| open.saving()) {
            Some(Saving::NotKept(why)) => Err(why),
            Some(Saving::Saved | Saving::Saving) | None => Ok(()),
        }
    }

    /// Takes note of how a writing ended.
    fn end(self, film: FilmId, outcome: &Result<(), StoreError>) {
        let ended = Place::with_open(|open| {
            (open.keeper.film() == film).then(|| {
                open.end(outcome);
                open.keeper.lacks_any()
            })
        });
        match (ended.flatten(), outcome) {
            (Some(true), Ok(())) => self.write(Occasion::Change),
            (Some(true), Err(error)) => self.try_again(error),
            (None, Err(error)) => self.tell(say!("The last change of a film was not kept: {error}.")),
            (Some(false), _) | (None, Ok(())) => {}
        }
        self.show_saving();
    }

    /// Tells what was the matter beside what was told before.
    fn tell(self, problem: String) {
        self.problems.update(|problems| problems.push(problem));
    }

    fn go(self, go: fn(&mut History<Film>) -> Result<bool, EditError>) {
        let now_ms = js_sys::Date::now();
        let gone = Place::with_open(|open| {
            let gone = go(&mut open.history);
            if gone == Ok(true) {
                open.keeper.note_move(now_ms);
                open.note_own();
            }
            gone
        });
        match gone {
            Some(Ok(true)) => self.follow(),
            Some(Err(error)) => self.tell(say!("This cannot be undone or done again: {error}.")),
            Some(Ok(false)) | None => {}
        }
    }

    /// Shows and keeps what was just done.
    fn follow(self) {
        // Before it is shown: what shows it may fail.
        self.write(Occasion::Change);
        self.show();
        let place = Place::here();
        let rest = set_timeout_with_handle(move || self.write(Occasion::Rest), REST).ok();
        if let Some(before) = place.rest.replace(rest) {
            before.clear();
        }
    }

    fn show(self) {
        let (film, names) = Place::with_open(|open| {
            let named = |name: Option<&str>| name.map(str::to_owned);
            let names = (named(open.history.undo_name()), named(open.history.redo_name()));
            (Some(open.history.film().clone()), names)
        })
        .unwrap_or_default();
        self.film.set(film);
        if self.names.with_untracked(|before| *before != names) {
            self.names.set(names);
        }
        self.show_saving();
    }

    fn show_saving(self) {
        let saving = Place::with_open(|open| open.saving()).unwrap_or(Saving::Saved);
        if self.saving.with_untracked(|before| *before != saving) {
            self.saving.set(saving);
        }
    }
}
