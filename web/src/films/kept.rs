//! What is kept, as history and store see it: a film in the page, something smaller in their tests.

use std::fmt;

use serde::Serialize;
use serde::de::DeserializeOwned;

/// A value that is edited by changes, each of which says what takes it back.
pub(crate) trait Kept: fmt::Debug + Clone {
    /// A change.
    type Change: fmt::Debug + Clone;
    /// Why a change cannot be made.
    type Refusal: fmt::Display;
    /// The value as it is written.
    type Record: Serialize + DeserializeOwned;
    /// A change as it is written.
    type ChangeRecord: Serialize + DeserializeOwned;

    /// Makes a change, and says what takes it back; a refused one leaves everything as it was.
    fn apply(&mut self, change: Self::Change) -> Result<Self::Change, Self::Refusal>;
    /// Whether `later` alone leaves what `earlier` and `later` leave, and what takes `earlier` back takes both back.
    fn replaces(later: &Self::Change, earlier: &Self::Change) -> bool;
    /// What a list of films says of it.
    fn about(&self) -> About;
    /// As it is written.
    fn record(&self) -> Self::Record;
    /// As it was written, and what was wrong with it, in words.
    fn of_record(record: &Self::Record) -> (Self, Vec<String>);
    /// A change as it is written.
    fn change_record(change: &Self::Change) -> Self::ChangeRecord;
    /// A change as it was written; in words why it is none.
    fn of_change_record(record: &Self::ChangeRecord) -> Result<Self::Change, String>;
}

/// What a list of films says of one.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct About {
    /// What it is called.
    pub(crate) title: String,
    /// How many shots it has.
    pub(crate) shots: usize,
    /// How long it is, seconds.
    pub(crate) seconds: f64,
}
