//! What lies on the desk, and no signal tells of.

use std::cell::{Cell, RefCell};
use std::future::Future;
use std::rc::Rc;
use std::time::Duration;

use film::{FreshIds, LARGEST_ID, Rehearsals};
use js_sys::{Array, Promise};
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::{JsFuture, future_to_promise};

use super::{Desk, FilmId};
use crate::failure::has_failed;
use crate::films::indexed_db::IndexedDb;
use crate::films::keeper::Occasion;
use crate::films::open_film::{OpenFilm, Saving};
use crate::films::store::StoreError;
use crate::lasting::{Lasting, lasting};
use crate::waiting::passed;

/// What lies on the desk.
pub(super) struct Place {
    pub(super) desk: Desk,
    /// Keeps the desk's signals alive.
    _owner: Owner,
    /// Whether the desk has been asked for before.
    pub(super) is_set_up: Cell<bool>,
    store: RefCell<Option<IndexedDb>>,
    /// Kept when the database that is being opened is open, or refused.
    opening: RefCell<Option<Promise>>,
    /// Why it could not be opened last.
    refused: RefCell<Option<StoreError>>,
    /// Whether a writing failed in a way that a database opened anew may mend.
    pub(super) is_doubted: Cell<bool>,
    /// Whether what failed will be tried again.
    pub(super) tries_again: Cell<bool>,
    pub(super) open: RefCell<Option<OpenFilm>>,
    pub(super) ids: RefCell<FreshIds>,
    pub(super) rehearsals: RefCell<Rehearsals>,
    /// What is done when the hands rest.
    pub(super) rest: Cell<Option<TimeoutHandle>>,
    /// Whether a writing waits for its time.
    pub(super) waits: Cell<bool>,
    /// Counts what was asked to be opened, so that only the last of it is.
    turn: Cell<u32>,
}

thread_local! {
    static PLACE: Rc<Place> = Rc::new(Place::new());
}

/// What the database is called.
const DATABASE: &str = "tapemark";
/// Whoever waits for it longer than this is told: chosen as far longer than opening takes on an old phone.
const LONGEST_OPENING: Duration = Duration::from_secs(3);

impl Place {
    /// The one place of this module.
    pub(super) fn here() -> Rc<Self> {
        PLACE.with(Rc::clone)
    }

    fn new() -> Self {
        let (desk, owner) = lasting(|| Desk {
            film: Lasting::signal(None),
            kept: Lasting::signal(Vec::new()),
            problems: Lasting::signal(Vec::new()),
            saving: Lasting::signal(Saving::Saved),
            open_id: Lasting::signal(None),
            names: Lasting::signal((None, None)),
        });
        Self {
            desk,
            _owner: owner,
            is_set_up: Cell::new(false),
            store: RefCell::new(None),
            opening: RefCell::new(None),
            refused: RefCell::new(None),
            is_doubted: Cell::new(false),
            tries_again: Cell::new(false),
            open: RefCell::new(None),
            ids: RefCell::new(FreshIds::starting_at(random_number())),
            rehearsals: RefCell::new(Rehearsals::default()),
            rest: Cell::new(None),
            waits: Cell::new(false),
            turn: Cell::new(0),
        }
    }

    /// Does something with the film that is open.
    pub(super) fn with_open<Out>(act: impl FnOnce(&mut OpenFilm) -> Out) -> Option<Out> {
        Self::here().open.borrow_mut().as_mut().map(act)
    }

    /// Whatever was begun to be opened before this is not laid on the desk any more.
    pub(super) fn next_turn(&self) -> u32 {
        self.turn.set(self.turn.get().wrapping_add(1));
        self.turn.get()
    }

    /// What was asked to be opened last.
    pub(super) fn turn(&self) -> u32 {
        self.turn.get()
    }

    /// Whether nothing else was asked to be opened since.
    pub(super) fn is_turn(&self, turn: u32) -> bool {
        self.turn.get() == turn
    }

    /// The browser's database. One that takes long goes on being opened.
    pub(super) async fn store(&self) -> Result<IndexedDb, StoreError> {
        if self.store.borrow().is_none() {
            let opened = self.opening.borrow_mut().get_or_insert_with(begin_opening).clone();
            let first = Promise::race(&Array::of2(&opened, &passed(LONGEST_OPENING)));
            // Neither is ever rejected.
            drop(JsFuture::from(first).await);
        }
        self.opened()
    }

    /// The database, if it is open.
    fn opened(&self) -> Result<IndexedDb, StoreError> {
        let refused = || self.refused.borrow().clone().unwrap_or(StoreError::Held);
        self.store.borrow().clone().ok_or_else(refused)
    }

    /// Lets go of the database, so that it is opened anew.
    pub(super) fn let_go(&self) {
        if let Some(store) = self.store.take() {
            store.close();
        }
    }

    /// Begins to write what is not kept of the open film; none if there is nothing, or if what has begun should end first.
    pub(super) fn begin(
        &self,
        occasion: Occasion,
    ) -> Option<(FilmId, impl Future<Output = Result<(), StoreError>> + use<>)> {
        if has_failed() {
            return None;
        }
        let store = self.opened();
        let mut open = self.open.borrow_mut();
        let open = open.as_mut()?;
        let writing = open.begin(store.as_ref().map_err(Clone::clone), occasion, js_sys::Date::now())?;
        Some((open.keeper.film(), writing))
    }
}

/// Begins to open the database; the promise is kept when that has ended.
fn begin_opening() -> Promise {
    future_to_promise(async {
        let outcome = IndexedDb::open(DATABASE, |going| Place::here().desk.lose_store(going)).await;
        let place = Place::here();
        place.opening.replace(None);
        let (store, refused) = match outcome {
            Ok(store) => (Some(store), None),
            Err(error) => (None, Some(error)),
        };
        place.store.replace(store);
        place.refused.replace(refused);
        Ok(JsValue::UNDEFINED)
    })
}

/// A number that nobody else has.
pub(super) fn random_number() -> u64 {
    let mut bytes = [0; 8];
    let crypto = window().crypto();
    if crypto.is_ok_and(|crypto| crypto.get_random_values_with_u8_array(&mut bytes).is_ok()) {
        u64::from_le_bytes(bytes) & LARGEST_ID
    } else {
        // The last bits of a fraction change with every one.
        js_sys::Math::random().to_bits() & LARGEST_ID
    }
}
