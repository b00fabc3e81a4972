//! A store in memory, which can be made to fail like a browser does: for tests.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::future::{Future, ready};
use std::pin::pin;
use std::rc::Rc;
use std::task::{Context, Poll, Waker};

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::store::{Pen, Store, StoreError, Stored, Writing};

/// A store in memory. Copies are of the same place.
#[derive(Debug, Clone, Default)]
pub(super) struct Memory(Rc<Place>);

#[derive(Debug, Default)]
struct Place {
    films: RefCell<BTreeMap<u64, Lying>>,
    pens: RefCell<BTreeMap<u64, Pen>>,
    /// After how many more writings it fails, and how.
    fails_after: RefCell<Option<(u32, StoreError)>>,
    writings: Cell<u32>,
}

#[derive(Debug, Clone, Default)]
struct Lying {
    head: Value,
    snapshot: Option<Value>,
    steps: BTreeMap<u64, Value>,
    asides: Vec<Value>,
}

impl Memory {
    /// From so many writings on every one fails.
    pub(super) fn fail_after(&self, writings: u32, error: StoreError) {
        self.0.fails_after.replace(Some((writings, error)));
    }

    /// Nothing fails any more.
    pub(super) fn recover(&self) {
        self.0.fails_after.replace(None);
    }

    /// How many writings there were.
    pub(super) fn writings(&self) -> u32 {
        self.0.writings.get()
    }

    /// How many times something of a film was set aside.
    pub(super) fn asides(&self, film: u64) -> usize {
        self.0.films.borrow().get(&film).map_or(0, |lying| lying.asides.len())
    }

    /// The numbers of the steps that lie there.
    pub(super) fn step_numbers(&self, film: u64) -> Vec<u64> {
        self.0
            .films
            .borrow()
            .get(&film)
            .map(|lying| lying.steps.keys().copied().collect())
            .unwrap_or_default()
    }

    /// Spoils a step as no program of ours would.
    pub(super) fn spoil(&self, film: u64, step: u64, spoil: impl FnOnce(&mut Value)) {
        if let Some(value) =
            self.0.films.borrow_mut().get_mut(&film).and_then(|lying| lying.steps.get_mut(&step))
        {
            spoil(value);
        }
    }

    fn write_now(&self, writing: Writing<Value>) -> Result<(), StoreError> {
        if let Some((left, error)) = self.0.fails_after.borrow_mut().as_mut() {
            *left = left.checked_sub(1).ok_or_else(|| error.clone())?;
        }
        let Writing { pen, head, steps, snapshot, forgets_to } = writing;
        let mut pens = self.0.pens.borrow_mut();
        if pens.get(&pen.film).is_some_and(|other| other.holder != pen.holder) {
            return Err(StoreError::Elsewhere);
        }
        pens.insert(pen.film, pen);
        self.0.writings.update(|count| count + 1);
        let mut films = self.0.films.borrow_mut();
        let lying = films.entry(pen.film).or_default();
        lying.head = head;
        if let Some((from, steps)) = steps {
            lying.steps.split_off(&from);
            lying.steps.extend((from..).zip(steps));
        }
        if let Some(to) = forgets_to {
            lying.steps = lying.steps.split_off(&(to + 1));
        }
        lying.snapshot = snapshot.or_else(|| lying.snapshot.take());
        Ok(())
    }
}

impl Store for Memory {
    type Value = Value;

    fn value(record: &impl Serialize) -> Result<Value, StoreError> {
        serde_json::to_value(record).map_err(|error| StoreError::Unreadable(error.to_string()))
    }

    fn record<Record: DeserializeOwned>(value: &Value) -> Result<Record, StoreError> {
        Record::deserialize(value).map_err(|error| StoreError::Unreadable(error.to_string()))
    }

    async fn heads(&self) -> Result<Vec<Value>, StoreError> {
        Ok(self.0.films.borrow().values().map(|lying| lying.head.clone()).collect())
    }

    async fn pens(&self) -> Result<Vec<Pen>, StoreError> {
        Ok(self.0.pens.borrow().values().copied().collect())
    }

    async fn take_pen(&self, pen: Pen) -> Result<(), StoreError> {
        if !self.0.films.borrow().contains_key(&pen.film) {
            return Err(StoreError::Gone);
        }
        self.0.pens.borrow_mut().insert(pen.film, pen);
        Ok(())
    }

    async fn read(&self, film: u64) -> Result<Option<Stored<Value>>, StoreError> {
        Ok(self.0.films.borrow().get(&film).map(|lying| Stored {
            head: lying.head.clone(),
            snapshot: lying.snapshot.clone(),
            steps: lying.steps.values().cloned().collect(),
        }))
    }

    async fn set_aside(&self, pen: Pen) -> Result<(), StoreError> {
        if let Some(lying) = self.0.films.borrow_mut().get_mut(&pen.film) {
            let steps: Vec<&Value> = lying.steps.values().collect();
            let aside = serde_json::json!({ "head": lying.head, "snapshot": lying.snapshot, "steps": steps });
            lying.asides.push(aside);
        }
        Ok(())
    }

    fn write(&self, writing: Writing<Value>) -> impl Future<Output = Result<(), StoreError>> + use<> {
        ready(self.write_now(writing))
    }

    async fn remove(&self, pen: Pen) -> Result<(), StoreError> {
        self.0.pens.borrow_mut().insert(pen.film, pen);
        self.0.films.borrow_mut().remove(&pen.film);
        Ok(())
    }
}

/// The outcome of what waits for nothing but a store in memory.
pub(super) fn at_once<T>(future: impl Future<Output = T>) -> T {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(outcome) => outcome,
        Poll::Pending => panic!("memory does not make anybody wait"),
    }
}
