//! Where films are kept: what is written of them, and what a place must promise so that no crash leaves half a change.
//!
//! A film lies there as its head, one snapshot of it, and its steps by number. The film as it was left is the snapshot with
//! the steps from there to the head's cursor made again, or taken back where the snapshot is of a later step.
//!
//! **Invariant:** everything that one [`Writing`] says becomes so at once or not at all, and writings become so in the order in
//! which they were begun. A writing that changes a step at or before the snapshot's brings another snapshot with it.

use std::fmt;
use std::future::Future;

use language::say;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

/// The form in which films lie in a store. A newer one is left alone.
pub(crate) const STORE_VERSION: u32 = 1;

/// What is known of a film without opening it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Head {
    /// The film's own number.
    pub(crate) film: u64,
    /// The form in which it lies here: [`STORE_VERSION`].
    pub(crate) version: u32,
    /// What it is called.
    pub(crate) title: String,
    /// How many shots it has.
    pub(crate) shots: usize,
    /// How long it is, seconds.
    pub(crate) seconds: f64,
    /// When it was last changed, milliseconds since 1970.
    pub(crate) changed_ms: f64,
    /// The number of the last step that is done.
    pub(crate) cursor: u64,
    /// The number of the last step.
    pub(crate) last: u64,
}

/// Who may write a film: whoever opened it last. A store refuses what anybody else would write.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(crate) struct Pen {
    /// The film.
    pub(crate) film: u64,
    /// A number that nobody else has.
    pub(crate) holder: u64,
    /// When it was opened, milliseconds since 1970.
    pub(crate) opened_ms: f64,
}

/// A film as it was when a step had been done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct SnapshotRecord<Record> {
    pub(crate) film: u64,
    /// The number of that step; 0 before the first.
    pub(crate) step: u64,
    pub(crate) record: Record,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct StepRecord<ChangeRecord> {
    pub(crate) film: u64,
    /// Its number.
    pub(crate) step: u64,
    pub(crate) name: String,
    pub(crate) target: Option<u64>,
    pub(crate) change: ChangeRecord,
    pub(crate) inverse: ChangeRecord,
}

/// A film's values as they lie in a store.
#[derive(Debug, Clone)]
pub(crate) struct Stored<Value> {
    /// A [`Head`].
    pub(crate) head: Value,
    /// A [`SnapshotRecord`].
    pub(crate) snapshot: Option<Value>,
    /// [`StepRecord`]s in the order of their numbers.
    pub(crate) steps: Vec<Value>,
}

/// What is written of one film at once.
#[derive(Debug)]
pub(crate) struct Writing<Value> {
    /// By whom, of what.
    pub(crate) pen: Pen,
    /// A [`Head`].
    pub(crate) head: Value,
    /// All steps from a number on; whatever steps were there from it on are gone.
    pub(crate) steps: Option<(u64, Vec<Value>)>,
    /// A [`SnapshotRecord`] in place of the one before.
    pub(crate) snapshot: Option<Value>,
    /// Steps up to this number are forgotten.
    pub(crate) forgets_to: Option<u64>,
}

/// Why a store did not do what it was asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum StoreError {
    /// There is no store, or this page may not use it; in the browser's own words.
    Denied(String),
    /// It is full.
    Full,
    /// Somebody else opened the film since.
    Elsewhere,
    /// The film is not there.
    Gone,
    /// A newer program wrote it.
    Newer,
    /// Something of another tab stands in the way of opening it.
    Held,
    /// It neither does it nor says why not.
    Silent,
    /// What lies there cannot be read, or what was to lie there cannot be written.
    Unreadable(String),
    /// Something else, in the store's own words.
    Other(String),
}

impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Denied(why) => f.write_str(&say!("this browser lets the page keep nothing ({why})")),
            Self::Full => f.write_str(say!("this browser has no more room for this page")),
            Self::Elsewhere => f.write_str(say!("the film was opened in another tab since")),
            Self::Gone => f.write_str(say!("the film is not here any more")),
            Self::Held => f.write_str(say!(
                "another tab of this page stands in the way; close the others, and this one goes on by itself"
            )),
            Self::Silent => f.write_str(say!("the browser's storage does not answer")),
            Self::Newer => {
                f.write_str(say!("the film was kept by a newer version of this page: reload the page"))
            }
            Self::Unreadable(why) => f.write_str(&say!("what is kept cannot be read ({why})")),
            Self::Other(why) => f.write_str(&say!("the browser's storage says: {why}")),
        }
    }
}

impl std::error::Error for StoreError {}

/// A place that keeps films.
pub(crate) trait Store {
    /// A value as it lies there.
    type Value;

    /// A value of a record.
    fn value(record: &impl Serialize) -> Result<Self::Value, StoreError>;
    /// The record of a value.
    fn record<Record: DeserializeOwned>(value: &Self::Value) -> Result<Record, StoreError>;

    /// All heads.
    async fn heads(&self) -> Result<Vec<Self::Value>, StoreError>;
    /// When each film was opened last.
    async fn pens(&self) -> Result<Vec<Pen>, StoreError>;
    /// Makes somebody the one who may write a film, if it is there.
    async fn take_pen(&self, pen: Pen) -> Result<(), StoreError>;
    /// A film's values; none if it is not there.
    async fn read(&self, film: u64) -> Result<Option<Stored<Self::Value>>, StoreError>;
    /// Keeps another copy of all values of a film, as they are, where no writing reaches them.
    async fn set_aside(&self, pen: Pen) -> Result<(), StoreError>;
    /// Writes, if the pen is still the film's. It has begun when this returns, so that a page that ends then has written.
    fn write(
        &self,
        writing: Writing<Self::Value>,
    ) -> impl Future<Output = Result<(), StoreError>> + use<Self>;
    /// Removes a film and everything of it. Its pen stays with whoever removed it, so that nobody writes it again.
    async fn remove(&self, pen: Pen) -> Result<(), StoreError>;
}
