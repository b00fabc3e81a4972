//! What the set keeps of a setup on this device and nowhere else: a continuity photo, scaled down, and what was ticked before
//! the first take.

use std::collections::BTreeMap;

use idb::{KeyRange, Query};
use language::say;
use wasm_bindgen::JsValue;
use web_sys::{Blob, File};

use crate::blobs::Blobs;
use crate::films::FilmId;
use crate::storage::{BrowserStorage, load, save};
use crate::taking_in::{NotTaken, take_in};

const PHOTOS: Blobs = Blobs { database: "tapemark-continuity" };
/// The longer side of a kept photo, pixels: chosen, as it fills a phone's screen.
const LONGEST_PX: f64 = 1280.0;

/// Where ticks are kept: they are no part of the film, but a page that is reloaded on the set has them.
const TICKS: &str = "tapemark.before-the-take";

/// The keys of what was ticked, by film and shot.
type Ticks = BTreeMap<String, Vec<String>>;

/// What is the matter with a photo, in words for whoever took it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Trouble {
    /// The file is no picture to the browser.
    Picture(NotTaken),
    /// The browser keeps nothing, or has no room left.
    NotKept,
    /// The browser does not let go of it.
    NotRemoved,
}

impl Trouble {
    /// What happened, and what to do.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Picture(why) => why.words(),
            Self::NotKept => {
                say!(
                    "The photo could not be kept: storage is full or not allowed here. Make room, and choose it again; it is still \
                 where the phone keeps its photos."
                )
            }
            Self::NotRemoved => {
                say!("The photo could not be removed: it is still on this device. Try again.")
            }
        }
    }
}

/// Scales a photo down and keeps it in the place of the setup's former one.
pub(crate) async fn keep(film: FilmId, shot: u64, file: &File) -> Result<Blob, Trouble> {
    let picture = take_in(file, LONGEST_PX).await.map_err(Trouble::Picture)?;
    let photo = picture.jpeg().await.ok_or(Trouble::Picture(NotTaken::Unreadable))?;
    PHOTOS.put(&key(film, shot), &photo).await.map_err(|_error| Trouble::NotKept)?;
    Ok(photo)
}

/// The photo of a setup, if there is one.
pub(crate) async fn photo(film: FilmId, shot: u64) -> Option<Blob> {
    PHOTOS.get(key(film, shot)).await
}

/// Throws the photo of a setup away.
pub(crate) async fn remove(film: FilmId, shot: u64) -> Result<(), Trouble> {
    PHOTOS.delete(Query::Key(key(film, shot))).await.map_err(|_error| Trouble::NotRemoved)
}

/// What was ticked of a setup.
pub(crate) fn ticked(film: FilmId, shot: u64) -> Vec<String> {
    ticks().remove(&name(film, shot)).unwrap_or_default()
}

/// Keeps what is ticked of a setup.
pub(crate) fn keep_ticked(film: FilmId, shot: u64, ticked: Vec<String>) {
    let mut ticks = ticks();
    ticks.insert(name(film, shot), ticked);
    // A full or forbidden storage costs the ticks at the next reload, and nothing else.
    save(&BrowserStorage, TICKS, &ticks);
}

/// Throws all photos and ticks of a film away, which has gone from this device.
pub(crate) async fn forget(film: FilmId) {
    let mut ticks = ticks();
    untick(&mut ticks, film);
    save(&BrowserStorage, TICKS, &ticks);
    let all = KeyRange::bound(&key(film, 0), &key(film, film::LARGEST_ID), None, None);
    if let Ok(all) = all {
        // What cannot be removed takes room and is never shown.
        drop(PHOTOS.delete(Query::KeyRange(all)).await);
    }
}

/// Films and shots are known by numbers that a float holds, so pairs of them are keys in order.
#[expect(clippy::cast_precision_loss, reason = "ids are below 2⁵³")]
fn key(film: FilmId, shot: u64) -> JsValue {
    js_sys::Array::of2(&(film as f64).into(), &(shot as f64).into()).into()
}

fn ticks() -> Ticks {
    load(&BrowserStorage, TICKS).unwrap_or_default()
}

fn untick(ticks: &mut Ticks, film: FilmId) {
    let of_film = format!("{film}.");
    ticks.retain(|name, _| !name.starts_with(&of_film));
}

/// Film and shot as text, which is what JSON has names as.
fn name(film: FilmId, shot: u64) -> String {
    format!("{film}.{shot}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_film_that_goes_takes_its_own_ticks_along() {
        let mut ticks: Ticks =
            [(1, 7), (1, 8), (11, 7)].map(|(film, shot)| (name(film, shot), Vec::new())).into();
        untick(&mut ticks, 1);
        assert_eq!(ticks.into_keys().collect::<Vec<_>>(), [name(11, 7)]);
    }
}
