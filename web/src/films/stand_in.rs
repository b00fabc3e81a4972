//! A small thing to keep, in place of a film, for tests of what is the same for everything.

use serde::{Deserialize, Serialize};

use super::kept::{About, Kept};

/// A title and a row of numbers.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub(super) struct Row {
    pub(super) title: String,
    pub(super) numbers: Vec<u32>,
}

/// A change of it: one of each kind that films have.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) enum RowChange {
    Title(String),
    Insert(usize, u32),
    Remove(usize),
}

impl Kept for Row {
    type Change = RowChange;
    type Refusal = String;
    type Record = Self;
    type ChangeRecord = RowChange;

    fn apply(&mut self, change: RowChange) -> Result<RowChange, String> {
        match change {
            RowChange::Title(title) => Ok(RowChange::Title(std::mem::replace(&mut self.title, title))),
            RowChange::Insert(at, number) if at <= self.numbers.len() => {
                self.numbers.insert(at, number);
                Ok(RowChange::Remove(at))
            }
            RowChange::Remove(at) if at < self.numbers.len() => {
                Ok(RowChange::Insert(at, self.numbers.remove(at)))
            }
            RowChange::Insert(at, _) | RowChange::Remove(at) => Err(format!("there is no place {at}")),
        }
    }

    fn replaces(later: &RowChange, earlier: &RowChange) -> bool {
        matches!((later, earlier), (RowChange::Title(_), RowChange::Title(_)))
    }

    fn about(&self) -> About {
        About { title: self.title.clone(), shots: self.numbers.len(), seconds: 0.0 }
    }

    fn record(&self) -> Self {
        self.clone()
    }

    fn of_record(record: &Self) -> (Self, Vec<String>) {
        (record.clone(), Vec::new())
    }

    fn change_record(change: &RowChange) -> RowChange {
        change.clone()
    }

    fn of_change_record(record: &RowChange) -> Result<RowChange, String> {
        Ok(record.clone())
    }
}

/// A title.
pub(super) fn title(title: &str) -> RowChange {
    RowChange::Title(title.to_owned())
}
