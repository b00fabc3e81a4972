//! Which photos of places the films here still name, so that the pixels of all others can go.

use serde_json::Value;

use super::{Desk, Place};
use crate::films::indexed_db::IndexedDb;
use crate::films::store::{Store as _, StoreError};
use crate::recce::keep_only;

impl Desk {
    /// Throws away the pixels of photos that no film names any more, neither as it is nor in a step that can be undone.
    pub(super) async fn forget_photos(self) -> Result<(), StoreError> {
        let store = Place::here().store().await?;
        let mut named = Vec::new();
        for film in self.cards().await? {
            let Some(stored) = store.read(film.id).await? else { continue };
            for value in stored.snapshot.iter().chain(&stored.steps) {
                photos_in(&IndexedDb::record(value)?, &mut named);
            }
        }
        keep_only(named).await.map_err(|error| StoreError::Other(error.to_string()))
    }
}

/// The numbers of all photos in a record, wherever in it they are: what a newer program wrote has them too.
fn photos_in(value: &Value, found: &mut Vec<u64>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| photos_in(item, found)),
        Value::Object(fields) => {
            if let Some(Value::Array(photos)) = fields.get("photos") {
                // A number that came through the browser's storage may be a float.
                let number = |photo: &Value| {
                    let id = photo.get("id")?;
                    #[expect(
                        clippy::cast_possible_truncation,
                        clippy::cast_sign_loss,
                        reason = "an id is whole"
                    )]
                    id.as_u64().or_else(|| id.as_f64().map(|id| id as u64))
                };
                found.extend(photos.iter().filter_map(number));
            }
            fields.values().for_each(|field| photos_in(field, found));
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn photos_are_found_in_films_and_in_changes() {
        let record = serde_json::json!({
            "record": { "places": [{ "id": 4, "photos": [{ "id": 11 }, { "id": 12.0 }] }], "cast": [{ "id": 9 }] },
            "inverse": { "all": [{ "set_places": [{ "photos": [{ "id": 13 }, {}] }] }] },
        });
        let mut found = Vec::new();
        photos_in(&record, &mut found);
        found.sort_unstable();
        assert_eq!(found, [11, 12, 13]);
    }
}
