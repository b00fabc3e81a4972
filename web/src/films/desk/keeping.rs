//! What the desk does with the films that are kept: it lists, opens, makes and removes them, and reads and writes files.

use film::Film;
use language::{say, text};

use super::place::{Place, random_number};
use super::{Desk, FilmCard, FilmId};
use crate::continuity;
use crate::films::film_kept;
use crate::films::history::History;
use crate::films::indexed_db::IndexedDb;
use crate::films::keeper::{Keeper, Occasion};
use crate::films::lock::{Claim, claim};
use crate::films::open_film::{OPEN_ELSEWHERE, OpenFilm};
use crate::films::opening::{self, Opening};
use crate::films::store::{Head, Pen, Store as _, StoreError};
use crate::offline::Offline;
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

impl Desk {
    /// Looks which films are kept here.
    pub(crate) async fn list(self) {
        match self.cards().await {
            Ok(cards) => self.kept.set(cards),
            Err(error) => self.tell(say!("The films that are kept here cannot be listed: {error}.")),
        }
    }

    /// Opens the film that was open last, if none is.
    pub(crate) async fn open_last(self) {
        let place = Place::here();
        let turn = place.turn();
        let last = async {
            let store = place.store().await?;
            let cards = self.cards().await?;
            let pens = store.pens().await?;
            let opened_ms = |card: &FilmCard| {
                pens.iter().find(|pen| pen.film == card.id).map_or(f64::NEG_INFINITY, |pen| pen.opened_ms)
            };
            let last = cards.iter().max_by(|one, other| opened_ms(one).total_cmp(&opened_ms(other)));
            let last = last.map(|card| card.id);
            self.kept.set(cards);
            Ok::<_, StoreError>(last)
        };
        match last.await {
            // Whoever began something else meanwhile shall not be interrupted.
            Ok(Some(film)) if self.open_id.get_untracked().is_none() && place.is_turn(turn) => {
                self.open(film).await;
            }
            Ok(_) => {}
            Err(error) => self.tell(say!("Films cannot be kept here: {error}. Save each as a file.")),
        }
    }

    /// Opens a film. Where that fails, or something of it is lost, `problems` says so.
    pub(crate) async fn open(self, film: FilmId) {
        // One that another tab had may be had here by now.
        if self.open_id.get_untracked() == Some(film)
            && Place::with_open(|open| open.is_apart()) == Some(false)
        {
            return;
        }
        if let Err(error) = self.lay_out(film, true).await {
            self.problems.set(vec![say!("That film could not be opened: {error}.")]);
        }
    }

    /// Keeps a film as a new one, and opens it.
    pub(crate) async fn create(self, film: Film) {
        if let Err(error) = self.try_create(film).await {
            self.problems
                .set(vec![say!("The film that is open is not kept, so no other was begun: {error}.")]);
        }
    }

    /// Keeps what is open as another film, and opens that: for a film that another tab has.
    pub(crate) async fn create_copy(self) {
        let Some(film) = self.film.get_untracked() else { return };
        self.create(film).await;
    }

    /// Removes a film for good, with all that was ever done to it.
    pub(crate) async fn remove(self, film: FilmId) {
        match self.try_remove(film).await {
            Ok(()) => {
                continuity::forget(film).await;
                // Pixels that could not be looked through take room and are never shown.
                drop(self.forget_photos().await);
                self.list().await;
            }
            Err(error) => self.problems.set(vec![say!("That film could not be removed: {error}.")]),
        }
    }

    /// Opens a film from a file, as a new one: what is kept here stays as it is. `problems` says what in the file was not as
    /// it should be.
    ///
    /// # Errors
    /// Says why the file is none of a film.
    pub(crate) async fn import(self, file: &[u8]) -> Result<(), String> {
        let (film, problems) = film_kept::read_file(file)?;
        self.create(film).await;
        for problem in problems {
            self.tell(problem);
        }
        Ok(())
    }

    /// The open film as a file's text.
    pub(crate) fn export(self) -> Option<String> {
        self.film.with_untracked(|film| film.as_ref().map(film::write_film))
    }

    pub(super) async fn cards(self) -> Result<Vec<FilmCard>, StoreError> {
        let heads = Place::here().store().await?.heads().await?;
        // A head that a newer program wrote may have what a list needs all the same; one that has not is no film to open here.
        let heads = heads.iter().filter_map(|head| IndexedDb::record::<Head>(head).ok());
        let mut cards: Vec<FilmCard> = heads
            .map(|Head { film: id, title, shots, seconds, changed_ms, .. }| FilmCard {
                id,
                title,
                shots,
                seconds,
                changed_ms,
            })
            .collect();
        cards.sort_by(|one, other| other.changed_ms.total_cmp(&one.changed_ms));
        Ok(cards)
    }

    /// Lays a film on the desk as it lies in the store, and if wanted tells what is the matter.
    pub(super) async fn lay_out(self, film: FilmId, tells: bool) -> Result<(), StoreError> {
        let place = Place::here();
        let turn = place.next_turn();
        self.settle().await?;
        let store = place.store().await?;
        let name = lock_name(film);
        let claim = claim(&name).await;
        let is_elsewhere = matches!(claim, Claim::Elsewhere);
        let pen = new_pen(film, &store.pens().await?);
        if !is_elsewhere {
            store.take_pen(pen).await?;
        }
        let mut opening: Opening<Film> = opening::open(&store, film).await?;
        if !opening.problems.is_empty() && !is_elsewhere {
            store.set_aside(pen).await?;
        }
        if !place.is_turn(turn) {
            return Ok(());
        }
        let keeper = Keeper::of_opened(pen, &opening);
        let mut problems = std::mem::take(&mut opening.problems);
        let open = match claim {
            Claim::Here(lock) => OpenFilm::new(opening.history, keeper, Some(lock)),
            Claim::Unknown => OpenFilm::new(opening.history, keeper, None),
            Claim::Elsewhere => {
                problems.push(text(OPEN_ELSEWHERE).to_owned());
                if tells {
                    spawn_local(self.await_other(name));
                }
                OpenFilm::elsewhere(opening.history, keeper)
            }
        };
        self.put_on(open, if tells || !is_elsewhere { problems } else { self.problems.get_untracked() });
        Ok(())
    }

    async fn try_create(self, film: Film) -> Result<(), StoreError> {
        let place = Place::here();
        let turn = place.next_turn();
        self.settle().await?;
        let id = random_number();
        let lock = match claim(&lock_name(id)).await {
            Claim::Here(lock) => Some(lock),
            Claim::Elsewhere | Claim::Unknown => None,
        };
        // Without a store the film is worked on all the same, and `saving` says that it is not kept.
        let pens = match place.store().await {
            Ok(store) => store.pens().await.unwrap_or_default(),
            Err(_) => Vec::new(),
        };
        if !place.is_turn(turn) {
            return Ok(());
        }
        let pen = new_pen(id, &pens);
        let open = OpenFilm::new(History::of(film), Keeper::of_new(pen, pen.opened_ms), lock);
        self.put_on(open, Vec::new());
        if self.settle().await.is_ok() {
            self.list().await;
        }
        Ok(())
    }

    async fn try_remove(self, film: FilmId) -> Result<(), StoreError> {
        let place = Place::here();
        let store = place.store().await?;
        let is_open = self.open_id.get_untracked() == Some(film);
        // What is had of it here is held until the film is gone, so that no other tab opens it meanwhile.
        let held = if is_open {
            place.next_turn();
            let open = place.open.take();
            self.lay(None);
            open
        } else {
            None
        };
        let _lock = if held.as_ref().is_some_and(|open| !open.is_apart()) {
            None
        } else {
            match claim(&lock_name(film)).await {
                Claim::Here(lock) => Some(lock),
                Claim::Unknown => None,
                Claim::Elsewhere => return Err(StoreError::Elsewhere),
            }
        };
        store.remove(new_pen(film, &[])).await
    }

    /// Lays a film on the desk in the place of the one that was there.
    fn put_on(self, open: OpenFilm, problems: Vec<String>) {
        self.write(Occasion::Leaving);
        self.problems.set(problems);
        self.lay(Some(open));
        self.write(Occasion::Change);
        Offline::here().ask_to_keep();
    }
}

/// A pen that is later than all others, whatever became of the clock: the film that was opened last is known by it.
fn new_pen(film: FilmId, others: &[Pen]) -> Pen {
    let last_ms = others.iter().map(|pen| pen.opened_ms).fold(f64::NEG_INFINITY, f64::max);
    Pen { film, holder: random_number(), opened_ms: js_sys::Date::now().max(last_ms + 1.0) }
}

fn lock_name(film: FilmId) -> String {
    format!("tapemark.film.{film}")
}
