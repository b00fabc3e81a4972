//! What lies on the desk, and no signal tells of.

use std::cell::{Cell, RefCell};
use std::future::Future;
use std::rc::Rc;

use film::{FreshIds, LARGEST_ID, Rehearsals};
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;

use super::{Desk, FilmId};
use crate::films::indexed_db::IndexedDb;
use crate::films::keeper::Occasion;
use crate::films::open_film::{OpenFilm, Saving};
use crate::films::store::StoreError;
use crate::lasting::lasting;

/// What lies on the desk.
pub(super) struct Place {
    pub(super) desk: Desk,
    /// Keeps the desk's signals alive.
    _owner: Owner,
    /// Whether the desk has been asked for before.
    pub(super) is_set_up: Cell<bool>,
    store: RefCell<Option<IndexedDb>>,
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

impl Place {
    /// The one place of this module.
    pub(super) fn here() -> Rc<Self> {
        PLACE.with(Rc::clone)
    }

    fn new() -> Self {
        let (desk, owner) = lasting(|| Desk {
            film: RwSignal::new(None),
            kept: RwSignal::new(Vec::new()),
            problems: RwSignal::new(Vec::new()),
            saving: RwSignal::new(Saving::Saved),
            open_id: RwSignal::new(None),
            names: RwSignal::new((None, None)),
        });
        Self {
            desk,
            _owner: owner,
            is_set_up: Cell::new(false),
            store: RefCell::new(None),
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

    /// The browser's database.
    pub(super) async fn store(&self) -> Result<IndexedDb, StoreError> {
        let known = self.store.borrow().clone();
        if let Some(store) = known {
            return Ok(store);
        }
        let store = IndexedDb::open(DATABASE).await?;
        self.store.replace(Some(store.clone()));
        Ok(store)
    }

    /// Begins to write what is not kept of the open film; none if there is nothing, or if what has begun should end first.
    pub(super) fn begin(
        &self,
        occasion: Occasion,
    ) -> Option<(FilmId, impl Future<Output = Result<(), StoreError>> + use<>)> {
        let store = self.store.borrow();
        let mut open = self.open.borrow_mut();
        let open = open.as_mut()?;
        let writing = open.begin(store.as_ref(), occasion, js_sys::Date::now())?;
        Some((open.keeper.film(), writing))
    }
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
