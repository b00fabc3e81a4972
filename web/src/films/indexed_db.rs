//! Films in the browser's own database.

use std::future::Future;
use std::rc::Rc;
use std::time::Duration;

use idb::{
    Database, DatabaseEvent as _, Error, Factory, IndexParams, KeyPath, KeyRange, ObjectStoreParams, Query,
    Transaction, TransactionMode,
};
use js_sys::{Array, Function, Object, Promise, Reflect};
use language::say;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{DomException, IdbDatabase};

use super::store::{Pen, Store, StoreError, Stored, Writing};
use crate::waiting::within;

/// The browser's database of films.
#[derive(Debug, Clone)]
pub(crate) struct IndexedDb(IdbDatabase);

/// Why a database is about to be of no use, or is of none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Going {
    /// Another page wants it: it closes when what has begun by now is written.
    Asked,
    /// The browser has closed it, which may have cleared it.
    Closed,
}

/// Another form of the stores than the code below makes would be another version.
const DATABASE_VERSION: u32 = 1;
const FILMS: &str = "films";
const SNAPSHOTS: &str = "snapshots";
const STEPS: &str = "steps";
const ASIDES: &str = "asides";
/// Pens by holder. No two may be of one film: so a writing of somebody who has lost the pen fails as a whole, without its
/// having to wait for an answer first.
const PENS: &str = "pens";
const PEN_OF_FILM: &str = "pen_of_film";
const ALL: [&str; 5] = [FILMS, SNAPSHOTS, STEPS, ASIDES, PENS];

/// What takes longer is taken for unanswered: chosen, as the slowest phones take a tenth of it.
const LONGEST_ANSWER: Duration = Duration::from_secs(10);

/// What is set aside of a film.
#[derive(Serialize, Deserialize)]
struct AsideKey {
    film: u64,
    opened_ms: f64,
}

impl IndexedDb {
    /// Opens the database of that name, and makes it if there is none; `goes` is called when it closes by itself.
    pub(crate) async fn open(name: &str, goes: impl Fn(Going) + 'static) -> Result<Self, StoreError> {
        let factory = Factory::new().map_err(|error| denied(&error))?;
        let mut request = factory.open(name, Some(DATABASE_VERSION)).map_err(|error| denied(&error))?;
        request.on_upgrade_needed(|event| {
            // One that fails makes the opening fail, which says so.
            drop(event.database().and_then(|database| make_stores(&database)));
        });
        let database = request.await.map_err(|error| denied(&error))?;
        let database = IdbDatabase::from(database);
        let mut listener = Database::from(database.clone());
        let closing = database.clone();
        let goes = Rc::new(goes);
        let asked = Rc::clone(&goes);
        // A newer page that waits for this one to let go shall not wait.
        listener.on_version_change(move |_| {
            asked(Going::Asked);
            closing.close();
        });
        listener.on_close(move |_| goes(Going::Closed));
        listener.forget_callbacks();
        Ok(Self(database))
    }

    /// Lets go of the database, once what has begun is written.
    pub(crate) fn close(&self) {
        self.0.close();
    }

    fn reads(&self) -> Result<Transaction, Error> {
        Database::from(self.0.clone()).transaction(&ALL, TransactionMode::ReadOnly)
    }

    /// Everything that is in one of the stores.
    async fn all_in(&self, store: &'static str) -> Result<Vec<JsValue>, StoreError> {
        let own = self.clone();
        let all = async move { own.reads()?.object_store(store)?.get_all(None, None)?.await };
        answered(async move { all.await.map_err(|error| other(&error)) }).await
    }

    /// Begins to write, asking that what was written outlives a phone whose battery ends.
    fn writes(&self) -> Result<Transaction, StoreError> {
        let begin = || {
            let options = Object::new();
            Reflect::set(&options, &"durability".into(), &"strict".into())?;
            let stores: Array = ALL.into_iter().map(JsValue::from_str).collect();
            let begin: Function = Reflect::get(&self.0, &"transaction".into())?.dyn_into()?;
            begin.call3(&self.0, &stores, &"readwrite".into(), &options)
        };
        let transaction = begin().map_err(|error| of_exception(&error))?;
        Transaction::try_from(transaction).map_err(|error| other(&error))
    }

    fn begin_writing(&self, writing: Writing<JsValue>) -> Result<Ending, StoreError> {
        let Writing { pen, head, steps, snapshot, forgets_to } = writing;
        let transaction = self.writes()?;
        let put = |store: &str, value: &JsValue| {
            transaction.object_store(store).and_then(|store| store.put(value, None)).map(drop)
        };
        let puts = || {
            put(PENS, &number(&pen)?)?;
            put(FILMS, &head)?;
            let kept_steps = transaction.object_store(STEPS)?;
            if let Some((from, values)) = &steps {
                kept_steps.delete(steps_between(pen.film, Some(*from), None)?)?;
                for value in values {
                    put(STEPS, value)?;
                }
            }
            if let Some(to) = forgets_to {
                kept_steps.delete(steps_between(pen.film, None, Some(to))?)?;
            }
            snapshot.as_ref().map_or(Ok(()), |snapshot| put(SNAPSHOTS, snapshot))
        };
        match puts() {
            Ok(()) => Ok(Ending::of(transaction)),
            Err(error) => {
                // What was put before is not to stay without the rest.
                drop(transaction.abort());
                Err(other(&error))
            }
        }
    }

    /// What lies under a key of one of the stores.
    async fn value_in(
        transaction: &Transaction,
        store: &str,
        key: JsValue,
    ) -> Result<Option<JsValue>, Error> {
        transaction.object_store(store)?.get(key)?.await
    }

    async fn read_values(&self, film: u64) -> Result<Option<Stored<JsValue>>, Error> {
        let transaction = self.reads()?;
        let key = number(&film)?;
        let Some(head) = Self::value_in(&transaction, FILMS, key.clone()).await? else {
            return Ok(None);
        };
        let snapshot = Self::value_in(&transaction, SNAPSHOTS, key).await?;
        let range = Query::KeyRange(steps_between(film, None, None)?);
        let steps = transaction.object_store(STEPS)?.get_all(Some(range), None)?.await?;
        Ok(Some(Stored { head, snapshot, steps }))
    }

    /// Puts another pen in the place of the film's.
    async fn put_pen(transaction: &Transaction, pen: &Pen) -> Result<(), Error> {
        let pens = transaction.object_store(PENS)?;
        if let Some(before) = pens.index(PEN_OF_FILM)?.get_key(number(&pen.film)?)?.await? {
            pens.delete(before)?.await?;
        }
        pens.put(&number(pen)?, None)?.await.map(drop)
    }

    /// The same, if the film is there, which it says.
    async fn put_pen_of_known(transaction: &Transaction, pen: &Pen) -> Result<bool, Error> {
        if Self::value_in(transaction, FILMS, number(&pen.film)?).await?.is_none() {
            return Ok(false);
        }
        Self::put_pen(transaction, pen).await.map(|()| true)
    }

    async fn remove_values(transaction: &Transaction, pen: &Pen) -> Result<(), Error> {
        Self::put_pen(transaction, pen).await?;
        for store in [FILMS, SNAPSHOTS] {
            transaction.object_store(store)?.delete(number(&pen.film)?)?.await?;
        }
        for store in [STEPS, ASIDES] {
            transaction.object_store(store)?.delete(steps_between(pen.film, None, None)?)?.await?;
        }
        Ok(())
    }
}

impl Store for IndexedDb {
    type Value = JsValue;

    fn value(record: &impl Serialize) -> Result<JsValue, StoreError> {
        let serializer = serde_wasm_bindgen::Serializer::json_compatible();
        record.serialize(&serializer).map_err(|error| StoreError::Unreadable(error.to_string()))
    }

    fn record<Record: DeserializeOwned>(value: &JsValue) -> Result<Record, StoreError> {
        serde_wasm_bindgen::from_value(value.clone())
            .map_err(|error| StoreError::Unreadable(error.to_string()))
    }

    async fn heads(&self) -> Result<Vec<JsValue>, StoreError> {
        self.all_in(FILMS).await
    }

    async fn pens(&self) -> Result<Vec<Pen>, StoreError> {
        let values = self.all_in(PENS).await?;
        Ok(values.iter().filter_map(|value| Self::record(value).ok()).collect())
    }

    async fn take_pen(&self, pen: Pen) -> Result<(), StoreError> {
        let own = self.clone();
        answered(async move {
            let transaction = own.writes()?;
            let is_there = Self::put_pen_of_known(&transaction, &pen).await.map_err(|error| other(&error))?;
            Ending::of(transaction).wait().await?;
            if is_there { Ok(()) } else { Err(StoreError::Gone) }
        })
        .await
    }

    async fn read(&self, film: u64) -> Result<Option<Stored<JsValue>>, StoreError> {
        let own = self.clone();
        answered(async move { own.read_values(film).await.map_err(|error| other(&error)) }).await
    }

    async fn set_aside(&self, pen: Pen) -> Result<(), StoreError> {
        let Some(Stored { head, snapshot, steps }) = self.read(pen.film).await? else { return Ok(()) };
        let aside = Self::value(&AsideKey { film: pen.film, opened_ms: pen.opened_ms })?;
        let steps: Array = steps.into_iter().collect();
        let parts = [("head", head), ("snapshot", snapshot.unwrap_or_default()), ("steps", steps.into())];
        for (name, part) in parts {
            Reflect::set(&aside, &name.into(), &part).map_err(|error| of_exception(&error))?;
        }
        let transaction = self.writes()?;
        let asides = transaction.object_store(ASIDES).map_err(|error| other(&error))?;
        asides.put(&aside, None).map_err(|error| other(&error))?;
        answered(Ending::of(transaction).wait()).await
    }

    fn write(&self, writing: Writing<JsValue>) -> impl Future<Output = Result<(), StoreError>> + use<> {
        let begun = self.begin_writing(writing);
        answered(async move { begun?.wait().await })
    }

    async fn remove(&self, pen: Pen) -> Result<(), StoreError> {
        let own = self.clone();
        answered(async move {
            let transaction = own.writes()?;
            Self::remove_values(&transaction, &pen).await.map_err(|error| other(&error))?;
            Ending::of(transaction).wait().await
        })
        .await
    }
}

/// What the database answers. One that does not for too long may do what it was asked all the same, before anything that it is
/// asked afterwards.
async fn answered<Answer: 'static>(
    asked: impl Future<Output = Result<Answer, StoreError>> + 'static,
) -> Result<Answer, StoreError> {
    within(LONGEST_ANSWER, asked).await.unwrap_or(Err(StoreError::Silent))
}

/// The end of a transaction to which everything has been said.
struct Ending {
    /// Kept for its listeners.
    _transaction: Transaction,
    ended: Promise,
}

impl Ending {
    fn of(mut transaction: Transaction) -> Self {
        // A page that ends now has said that it is all, and need not be there when it is done. Browsers without the word do it
        // by themselves when nothing more comes.
        if let Ok(store) = transaction.object_store(FILMS) {
            drop(store.transaction().commit());
        }
        let ended = Promise::new(&mut |resolve, reject| {
            transaction.on_complete(move |_| drop(resolve.call0(&JsValue::NULL)));
            transaction.on_abort(move |event| {
                let failed = event.target().and_then(|target| Transaction::try_from(target).ok());
                let error = failed.and_then(|transaction| transaction.error());
                drop(reject.call1(&JsValue::NULL, &error.into()));
            });
        });
        Self { _transaction: transaction, ended }
    }

    async fn wait(self) -> Result<(), StoreError> {
        JsFuture::from(self.ended).await.map(drop).map_err(|error| of_exception(&error))
    }
}

fn make_stores(database: &Database) -> Result<(), Error> {
    let make = |name: &str, path: KeyPath| {
        let mut params = ObjectStoreParams::new();
        params.key_path(Some(path));
        database.create_object_store(name, params)
    };
    make(FILMS, KeyPath::new_single("film"))?;
    make(SNAPSHOTS, KeyPath::new_single("film"))?;
    make(STEPS, KeyPath::new_array(["film", "step"]))?;
    make(ASIDES, KeyPath::new_array(["film", "opened_ms"]))?;
    let mut unique = IndexParams::new();
    unique.unique(true);
    let pens = make(PENS, KeyPath::new_single("holder"))?;
    pens.create_index(PEN_OF_FILM, KeyPath::new_single("film"), Some(unique)).map(drop)
}

/// The steps of a film between two numbers, both included.
fn steps_between(film: u64, from: Option<u64>, to: Option<u64>) -> Result<KeyRange, Error> {
    let film = number(&film)?;
    let end = |step: Option<u64>, otherwise: f64| {
        let step = step.map_or(Ok(JsValue::from_f64(otherwise)), |step| number(&step))?;
        Ok::<JsValue, Error>(Array::of2(&film, &step).into())
    };
    KeyRange::bound(&end(from, 0.0)?, &end(to, f64::INFINITY)?, None, None)
}

/// A plain number, or a record of some, as the database has it.
fn number(record: &impl Serialize) -> Result<JsValue, Error> {
    record
        .serialize(&serde_wasm_bindgen::Serializer::json_compatible())
        .map_err(|error| Error::UnexpectedJsType("value", error.into()))
}

/// Why the database cannot be opened.
fn denied(error: &Error) -> StoreError {
    if let Error::DomException(exception) = error
        && exception.name() == "VersionError"
    {
        return StoreError::Newer;
    }
    StoreError::Denied(error.to_string())
}

#[expect(clippy::wildcard_enum_match_arm, reason = "all others are told as the library tells them")]
fn other(error: &Error) -> StoreError {
    match error {
        Error::DomException(exception) => of_exception(exception),
        Error::UpdateFailed(exception) | Error::TransactionOpenFailed(exception) => of_exception(exception),
        error => StoreError::Other(error.to_string()),
    }
}

/// Why a transaction failed.
fn of_exception(error: &JsValue) -> StoreError {
    let Some(exception) = error.dyn_ref::<DomException>() else {
        return StoreError::Other(say!("it was broken off").to_owned());
    };
    match exception.name().as_str() {
        "QuotaExceededError" => StoreError::Full,
        // The only thing that may not be there twice is the pen of a film.
        "ConstraintError" => StoreError::Elsewhere,
        _ => StoreError::Other(exception.message()),
    }
}
