//! What was ever found, and what is kept to begin with, knocks at each door again: whole, cut off, and with bits turned.
#![expect(clippy::expect_used, reason = "a test that cannot read its files must fail")]

use std::fs;
use std::panic::{self, AssertUnwindSafe};
use std::path::{Path, PathBuf};

use doors::{DOORS, Door};

/// How often each file is cut off, and how often a bit of it is turned: chosen so that all of it takes seconds.
const CUTS: usize = 6;
const TURNS: usize = 6;

/// The files of a door in the order of their names.
fn corpus(door: &Door) -> Vec<(PathBuf, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus").join(door.name);
    let files = fs::read_dir(&folder).expect("each door has a folder");
    let mut files: Vec<PathBuf> = files.map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    files.into_iter().map(|path| (path.clone(), fs::read(path).expect("bytes"))).collect()
}

/// A file as it is, and as it may arrive; the same file always in the same ways.
fn variants(bytes: &[u8]) -> impl Iterator<Item = Vec<u8>> {
    let cuts = (1..=CUTS).map(|part| bytes[..bytes.len() * part / (CUTS + 1)].to_vec());
    let turns = (0..TURNS).filter(|_| !bytes.is_empty()).map(|number| {
        let mut turned = bytes.to_vec();
        // Steps of a golden section fall between all those before them.
        let at = (number + 1) * 618_034 % 1_000_003 * bytes.len() / 1_000_003;
        turned[at] ^= 1 << (number % 8);
        turned
    });
    std::iter::once(bytes.to_vec()).chain(cuts).chain(turns)
}

/// What the door says of bytes that it does not stand up to.
fn complaint(door: &Door, bytes: &[u8]) -> Option<String> {
    let panicked = panic::catch_unwind(AssertUnwindSafe(|| (door.knock)(bytes))).err()?;
    let told = panicked.downcast_ref::<String>().cloned();
    Some(told.or_else(|| panicked.downcast_ref::<&str>().map(ToString::to_string)).unwrap_or_default())
}

#[test]
fn every_door_stands_up_to_its_corpus() {
    let mut complaints = Vec::new();
    for door in &DOORS {
        let files = corpus(door);
        assert!(!files.is_empty(), "{} has no corpus", door.name);
        for (path, bytes) in files {
            for (variant, bytes) in variants(&bytes).enumerate() {
                if let Some(told) = complaint(door, &bytes) {
                    complaints.push(format!("{}, variant {variant}: {told}", path.display()));
                }
            }
        }
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

#[test]
fn every_corpus_is_of_a_door_and_small() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus");
    for entry in fs::read_dir(folder).expect("a folder") {
        let name = entry.expect("a folder").file_name();
        assert!(DOORS.iter().any(|door| Some(door.name) == name.to_str()), "{name:?} is no door");
    }
    let bytes: usize = DOORS.iter().flat_map(corpus).map(|(_, bytes)| bytes.len()).sum();
    assert!(bytes < 600_000, "{bytes} bytes: fewer and smaller files find as much");
}
