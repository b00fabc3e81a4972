//! What becomes of the open film when its store fails, goes or is another tab's: nothing of it is lost that could be kept.

use std::collections::BTreeSet;
use std::time::Duration;

use language::{key, say, text};
use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use super::place::Place;
use super::{Desk, FilmId};
use crate::films::indexed_db::Going;
use crate::films::keeper::Occasion;
use crate::films::lock::wait_for;
use crate::films::store::StoreError;

/// When to try again what failed: chosen so that room that was made is found soon.
const RETRY: Duration = Duration::from_secs(5);
/// When where nothing is answered: chosen longer, as what was asked before may wait there still.
const RETRY_SILENT: Duration = Duration::from_secs(30);

impl Desk {
    /// The database goes: what is not written yet is, or all of the film is written again.
    pub(super) fn lose_store(self, going: Going) {
        if going == Going::Asked {
            self.write(Occasion::Leaving);
        }
        // Whether anything still lies there is seen when it is opened again.
        Place::with_open(|open| open.keeper.note_lost());
        Place::here().let_go();
        spawn_local(self.recover());
    }

    /// Tries again later to keep what could not be kept.
    pub(super) fn try_again(self, error: &StoreError) {
        let place = Place::here();
        // Of these the database knows by itself when they are over.
        if !matches!(error, StoreError::Full | StoreError::Elsewhere) {
            place.is_doubted.set(true);
        }
        if place.tries_again.replace(true) {
            return;
        }
        let again = move || {
            let place = Place::here();
            place.tries_again.set(false);
            if place.is_doubted.replace(false) {
                Place::with_open(|open| open.keeper.note_lost());
                place.let_go();
            }
            spawn_local(self.recover());
        };
        set_timeout(again, if *error == StoreError::Silent { RETRY_SILENT } else { RETRY });
    }

    /// Opens the database anew if it has to be, writes what it lacks, and tells which films have gone from it.
    async fn recover(self) {
        let known: BTreeSet<FilmId> =
            self.kept.with_untracked(|kept| kept.iter().map(|card| card.id).collect());
        let there = self.cards().await.map(|cards| cards.iter().map(|card| card.id).collect::<BTreeSet<_>>());
        if let Ok(there) = there
            && !known.is_subset(&there)
        {
            self.tell(text(GONE).to_owned());
        }
        self.write(Occasion::Change);
        // Looked up after what was just begun to be written. That it cannot be is told beside the film, and not at each try.
        if let Ok(cards) = self.cards().await {
            self.kept.set(cards);
        }
    }

    /// Shows the film of another tab as it is there by now, if it was not changed here.
    pub(super) async fn follow_other(self) {
        let Some(film) = Self::looked_on() else { return };
        if let Err(error) = self.lay_out(film, false).await {
            self.tell(say!("What the other tab has done cannot be shown: {error}."));
        }
    }

    /// Takes the film over once the other tab lets go of it.
    pub(super) async fn await_other(self, name: String) {
        let freed = wait_for(&name).await;
        if freed.is_some() {
            drop(freed);
            self.follow_other().await;
        }
    }

    /// The film that another tab keeps and that is here as it was opened.
    fn looked_on() -> Option<FilmId> {
        Place::with_open(|open| open.only_looks_on().then(|| open.keeper.film())).flatten()
    }
}

/// What is said when films are not there any more that were.
const GONE: &str = key!(
    "This browser has cleared what it kept for this page. The film that is open has been kept anew; others that were kept \
     here, and photos, are gone unless you saved them as files. Save this film as a file too."
);
