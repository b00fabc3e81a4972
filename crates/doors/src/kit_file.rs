//! Kits and adapters from files.

use film::{AdapterRecord, KitRecord};

use crate::{has_words, json};

/// A kit's file, as the page and the terminal read it.
pub(crate) fn kit(bytes: &[u8]) {
    if let Some(record) = json::read(bytes) {
        usable(&record);
    }
}

/// A kit that can be used is written and read as the same.
pub(crate) fn usable(record: &KitRecord) {
    let kit = match record.to_kit() {
        Ok(kit) => kit,
        Err(refusal) => return has_words(refusal),
    };
    let written = KitRecord::from(&kit);
    let text = serde_json::to_string(&written).expect("records can be written");
    let again: KitRecord = serde_json::from_str(&text).expect("a kit that was written");
    assert_eq!(again, written);
    let again = again.to_kit().expect("a kit that was written");
    assert_eq!(KitRecord::from(&again), written);
}

/// An adapter's file.
pub(crate) fn adapter(bytes: &[u8]) {
    if let Some(record) = json::read(bytes) {
        usable_adapter(&record);
    }
}

/// An adapter that can be used is written and read as the same.
pub(crate) fn usable_adapter(record: &AdapterRecord) {
    let adapter = match record.to_kit_adapter("adapter".to_owned()) {
        Ok(adapter) => adapter,
        Err(refusal) => return has_words(refusal),
    };
    let written = AdapterRecord::from(&adapter);
    let again = written.to_kit_adapter(adapter.name).expect("an adapter that was written");
    assert_eq!(AdapterRecord::from(&again), written);
}
