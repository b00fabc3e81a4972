//! Pictures that stay on this device: a database of its own for each kind, with one store of files by key.

use std::cell::RefCell;

use idb::{Database, DatabaseEvent as _, Factory, ObjectStoreParams, Query, TransactionMode};
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Blob, IdbDatabase};

/// A database with one store of files.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Blobs {
    /// The database's name.
    pub(crate) database: &'static str,
}

const VERSION: u32 = 1;
const STORE: &str = "photos";

thread_local! {
    /// The databases that are open: opening one leaks what listens to it, so that each is opened once.
    static OPENED: RefCell<Vec<(&'static str, IdbDatabase)>> = const { RefCell::new(Vec::new()) };
}

impl Blobs {
    /// The file of that key, if it is there and can be had.
    pub(crate) async fn get(self, key: JsValue) -> Option<Blob> {
        let found = async {
            let transaction = self.open().await?.transaction(&[STORE], TransactionMode::ReadOnly)?;
            transaction.object_store(STORE)?.get(key)?.await
        };
        found.await.ok().flatten()?.dyn_into().ok()
    }

    /// Keeps a file, in the place of the one that had its key.
    pub(crate) async fn put(self, key: &JsValue, file: &Blob) -> Result<(), idb::Error> {
        let transaction = self.open().await?.transaction(&[STORE], TransactionMode::ReadWrite)?;
        transaction.object_store(STORE)?.put(file, Some(key))?.await?;
        transaction.commit()?.await.map(drop)
    }

    /// Throws files away.
    pub(crate) async fn delete(self, what: Query) -> Result<(), idb::Error> {
        let transaction = self.open().await?.transaction(&[STORE], TransactionMode::ReadWrite)?;
        transaction.object_store(STORE)?.delete(what)?.await?;
        transaction.commit()?.await.map(drop)
    }

    /// Throws all files away whose key is not one to keep.
    pub(crate) async fn keep_only(self, is_kept: impl Fn(&JsValue) -> bool) -> Result<(), idb::Error> {
        let transaction = self.open().await?.transaction(&[STORE], TransactionMode::ReadWrite)?;
        let store = transaction.object_store(STORE)?;
        for found in store.get_all_keys(None, None)?.await? {
            if !is_kept(&found) {
                store.delete(Query::Key(found))?.await?;
            }
        }
        transaction.commit()?.await.map(drop)
    }

    async fn open(self) -> Result<Database, idb::Error> {
        if let Some(opened) = self.opened() {
            return Ok(opened.into());
        }
        let mut request = Factory::new()?.open(self.database, Some(VERSION))?;
        request.on_upgrade_needed(|event| {
            // One that fails makes the opening fail.
            let made = event
                .database()
                .and_then(|database| database.create_object_store(STORE, ObjectStoreParams::new()).map(drop));
            drop(made);
        });
        let database = IdbDatabase::from(request.await?);
        let mut listener = Database::from(database.clone());
        let closing = database.clone();
        // Whoever wants the database gone or newer shall not wait for this page, which opens it anew when it needs it.
        listener.on_version_change(move |_| {
            closing.close();
            self.forget();
        });
        listener.on_close(move |_| self.forget());
        listener.forget_callbacks();
        OPENED.with_borrow_mut(|opened| opened.push((self.database, database.clone())));
        Ok(database.into())
    }

    fn opened(self) -> Option<IdbDatabase> {
        OPENED.with_borrow(|opened| {
            let found = opened.iter().find(|(name, _)| *name == self.database);
            found.map(|(_, database)| database.clone())
        })
    }

    fn forget(self) {
        OPENED.with_borrow_mut(|opened| opened.retain(|(name, _)| *name != self.database));
    }
}
