//! The film that is open: its history, what of it is kept, and what stands against keeping it.

use std::future::Future;

use film::Film;
use language::{key, say, text};

use super::history::History;
use super::indexed_db::IndexedDb;
use super::keeper::{Keeper, Occasion};
use super::lock::Lock;
use super::store::{Store as _, StoreError};

/// Whether what was done is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
#[expect(clippy::enum_variant_names, reason = "as a screen says it")]
pub(crate) enum Saving {
    /// All of it.
    Saved,
    /// In a moment.
    Saving,
    /// It is not, and why, in sentences; it goes on in memory.
    NotKept(String),
}

impl Saving {
    /// Whether it is kept, or will be in a moment.
    pub(crate) const fn is_kept(&self) -> bool {
        matches!(self, Self::Saved | Self::Saving)
    }

    /// As a screen says it.
    pub(crate) fn words(self) -> String {
        match self {
            Self::Saved => say!("Saved on this device").to_owned(),
            Self::Saving => say!("Saving").to_owned(),
            Self::NotKept(why) => why,
        }
    }
}

/// The film that is open.
#[derive(Debug)]
pub(super) struct OpenFilm {
    pub(super) history: History<Film>,
    pub(super) keeper: Keeper,
    /// Why nothing of it is kept here any more: another tab has it.
    apart: Option<&'static str>,
    /// Whether anything was changed since, which is nowhere but here.
    has_own: bool,
    /// Why the last writing failed.
    failed: Option<StoreError>,
    /// When the last writing began.
    begun_ms: f64,
    /// Had as long as this is.
    _lock: Option<Lock>,
}

/// Writings begin so far apart, milliseconds: chosen so that a drag, which changes the film at every frame, is not slowed
/// down, and far below the second after which nothing may be lost.
const BETWEEN_WRITINGS_MS: f64 = 150.0;

/// What is said where another tab had the film before.
pub(super) const OPEN_ELSEWHERE: &str = key!(
    "This film is open in another tab. What is changed here is not kept: save it as a copy, or close \
     the other tab and open the film again."
);
/// What is said where another tab has it now.
const TAKEN_ELSEWHERE: &str = key!(
    "This film has been opened in another tab. What is changed here from now on is not kept: save it as a \
     copy, or open the film again."
);

/// What is said where a newer page has taken the films over.
const TAKEN_BY_NEWER: &str = key!(
    "A newer version of this page is open in another tab and has the films now. What was done here until then is \
     kept; what is changed here from now on is not: reload this page."
);

impl OpenFilm {
    /// A film that is kept as it is changed; without `lock` where the browser has none.
    pub(super) const fn new(history: History<Film>, keeper: Keeper, lock: Option<Lock>) -> Self {
        Self {
            history,
            keeper,
            apart: None,
            has_own: false,
            failed: None,
            begun_ms: f64::NEG_INFINITY,
            _lock: lock,
        }
    }

    /// A film that another tab keeps.
    pub(super) fn elsewhere(history: History<Film>, keeper: Keeper) -> Self {
        Self { apart: Some(OPEN_ELSEWHERE), ..Self::new(history, keeper, None) }
    }

    /// Whether what was done is kept.
    pub(super) fn saving(&self) -> Saving {
        match (self.apart, &self.failed) {
            (Some(why), _) => Saving::NotKept(text(why).to_owned()),
            (None, Some(error)) => Saving::NotKept(say!(
                "Not kept: {error}. Your work goes on until the page is closed; save the film as a file to keep it."
            )),
            (None, None) if self.is_settled() => Saving::Saved,
            (None, None) => Saving::Saving,
        }
    }

    /// Whether another tab keeps it.
    pub(super) const fn is_apart(&self) -> bool {
        self.apart.is_some()
    }

    /// Whether another tab keeps it, and it is here as it was opened.
    pub(super) const fn only_looks_on(&self) -> bool {
        self.apart.is_some() && !self.has_own
    }

    /// Takes note that the film was changed here.
    pub(super) const fn note_own(&mut self) {
        self.has_own = self.apart.is_some();
    }

    /// Whether nothing is left to be written that could be.
    pub(super) const fn is_settled(&self) -> bool {
        self.apart.is_some() || !(self.keeper.lacks_any() || self.keeper.is_writing())
    }

    /// How long to wait before the next writing, milliseconds.
    pub(super) fn waits_ms(&self, now_ms: f64) -> f64 {
        // A clock that is put back shall not hold anything up.
        (self.begun_ms + BETWEEN_WRITINGS_MS - now_ms).min(BETWEEN_WRITINGS_MS)
    }

    /// Begins to write what is not kept; none if there is nothing, or if what has begun should end first.
    pub(super) fn begin(
        &mut self,
        store: Result<&IndexedDb, StoreError>,
        occasion: Occasion,
        now_ms: f64,
    ) -> Option<impl Future<Output = Result<(), StoreError>> + use<>> {
        if self.apart.is_some() || (self.keeper.is_writing() && occasion != Occasion::Leaving) {
            return None;
        }
        let writing = self.keeper.begin::<IndexedDb, Film>(&mut self.history, occasion)?;
        self.begun_ms = now_ms;
        // It begins here, not when somebody waits for it: there may be no time for that.
        let begun = writing.and_then(|writing| Ok(store?.write(writing)));
        Some(async move { begun?.await })
    }

    /// Takes note of how a writing ended.
    pub(super) fn end(&mut self, outcome: &Result<(), StoreError>) {
        self.keeper.end(outcome.is_ok());
        self.failed = outcome.as_ref().err().cloned();
        match self.failed {
            // What could not be written is here and nowhere else.
            Some(StoreError::Elsewhere) => (self.apart, self.has_own) = (Some(TAKEN_ELSEWHERE), true),
            Some(StoreError::Newer) => self.apart = Some(TAKEN_BY_NEWER),
            _ => {}
        }
    }
}
