//! Pictures that stay on this device: a database of its own for each kind, with one store of files by key.

use idb::{Database, DatabaseEvent as _, Factory, ObjectStoreParams, Query, TransactionMode};
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::Blob;

/// A database with one store of files.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Blobs {
    /// The database's name.
    pub(crate) database: &'static str,
}

const VERSION: u32 = 1;
const STORE: &str = "photos";

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
        let mut request = Factory::new()?.open(self.database, Some(VERSION))?;
        request.on_upgrade_needed(|event| {
            // One that fails makes the opening fail.
            let made = event
                .database()
                .and_then(|database| database.create_object_store(STORE, ObjectStoreParams::new()).map(drop));
            drop(made);
        });
        request.await
    }
}
