//! Real photos, and clips from another program, say through the reader what they are known to say.
//!
//! `cargo xtask test` fetches the files and names their folder in `TAPEMARK_FIXTURES`; then each must be there. Without
//! it, the checks run if an earlier fetch left the files in `target/fixtures`, and else say that they were skipped.

#![expect(clippy::expect_used, clippy::panic, reason = "a check that cannot read what it needs has failed")]

use std::collections::BTreeSet;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use film::{FileKind, PartialFile, PhotoFacts, Progress, lens_from_photo, read_photo, read_photo_in_parts};
use serde::Deserialize;

#[derive(Debug, Deserialize)]
struct Photos {
    photo: Vec<Expected>,
}

#[derive(Debug, Deserialize)]
struct Clips {
    clip: Vec<Expected>,
}

/// What a file is known to say; what is not there, it does not say.
#[derive(Debug, Deserialize)]
struct Expected {
    file: PathBuf,
    /// Told by the file's name where it is absent.
    kind: Option<FileKind>,
    focal_length_mm: Option<f64>,
    f_number: Option<f64>,
    equivalent_35mm_mm: Option<f64>,
    digital_zoom: Option<Zoom>,
    width_px: Option<u32>,
    height_px: Option<u32>,
    frame_rate_fps: Option<f64>,
    capture_rate_fps: Option<f64>,
    duration_s: Option<f64>,
}

/// Digital zoom as files put it.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(untagged)]
enum Zoom {
    Ratio(f64),
    Undefined(Undefined),
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Undefined {
    Undefined,
}

fn photos() -> Vec<Expected> {
    toml::from_str::<Photos>(include_str!("reference/photo_files.toml")).expect("a list of photos").photo
}

fn clips() -> Vec<Expected> {
    toml::from_str::<Clips>(include_str!("reference/clip_files.toml")).expect("a list of clips").clip
}

/// The folder of the files, or nothing where nobody fetched them and nobody asked for them.
fn fixtures() -> Option<PathBuf> {
    if let Some(folder) = env::var_os("TAPEMARK_FIXTURES") {
        return Some(folder.into());
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/fixtures");
    if folder.join("fetched.txt").exists() {
        return Some(folder);
    }
    // Not by the macro, whose output a passing test keeps to itself.
    let said = writeln!(io::stderr(), "SKIPPED, no files to check against: `cargo xtask test` fetches them");
    assert!(said.is_ok(), "standard error is closed");
    None
}

fn bytes(folder: &Path, expected: &Expected) -> Vec<u8> {
    fs::read(folder.join(&expected.file))
        .unwrap_or_else(|error| panic!("{} was not fetched: {error}", expected.file.display()))
}

impl Zoom {
    /// A numerator of zero says that digital zoom was not used.
    fn used(self) -> f64 {
        match self {
            Self::Ratio(ratio) if ratio > 0.0 => ratio,
            Self::Ratio(_) | Self::Undefined(Undefined::Undefined) => 1.0,
        }
    }
}

impl Expected {
    fn kind(&self) -> FileKind {
        let by_name = || match self.file.extension().and_then(|extension| extension.to_str()) {
            Some("jpg" | "JPG") => FileKind::Jpeg,
            _ => FileKind::Heic,
        };
        self.kind.unwrap_or_else(by_name)
    }

    fn check(&self, facts: &PhotoFacts) {
        let numbers = [
            ("focal length", facts.focal_length_mm, self.focal_length_mm),
            ("f-number", facts.f_number, self.f_number),
            ("35 mm-equivalent", facts.equivalent_35mm_mm, self.equivalent_35mm_mm),
            ("digital zoom", facts.digital_zoom, self.digital_zoom.map(Zoom::used)),
            ("frame rate", facts.frame_rate_fps, self.frame_rate_fps),
            ("capture rate", facts.capture_rate_fps, self.capture_rate_fps),
            ("duration", facts.duration_s, self.duration_s),
        ];
        for (name, found, wanted) in numbers {
            // The list has ten digits of each fraction.
            let same = match (found, wanted) {
                (Some(found), Some(wanted)) => (found - wanted).abs() <= 1e-9 * wanted,
                (found, wanted) => found == wanted,
            };
            assert!(same, "{}: {name} is {found:?}, expected {wanted:?}", self.file.display());
        }
        assert_eq!(facts.kind, self.kind(), "{}", self.file.display());
        // A photo without the tags still has a size, which the list does not know.
        if let Some(width) = self.width_px {
            let size = (facts.width_px, facts.height_px);
            assert_eq!(size, (Some(width), self.height_px), "{}", self.file.display());
        }
    }
}

#[test]
fn every_photo_says_what_its_list_says() {
    let Some(folder) = fixtures() else { return };
    let photos = photos();
    assert_eq!(photos.len(), 22, "the list of photos has shrunk or grown");
    for expected in &photos {
        expected.check(&read_photo(&bytes(&folder, expected)).expect("a photo"));
    }
}

#[test]
fn every_clip_says_what_it_was_told() {
    let Some(folder) = fixtures() else { return };
    for expected in clips() {
        expected.check(&read_photo(&bytes(&folder, &expected)).expect("a clip"));
    }
}

#[test]
fn photos_that_fill_36_by_24_mm_give_that_area() {
    let Some(folder) = fixtures() else { return };
    let mut checked = BTreeSet::new();
    for expected in photos() {
        if expected.focal_length_mm.is_some() && expected.focal_length_mm == expected.equivalent_35mm_mm {
            let facts = read_photo(&bytes(&folder, &expected)).expect("a photo");
            let sensor = lens_from_photo(&facts).expect("a lens").sensor.expect("a photo's sensor");
            // The pixels of such cameras are not quite 3 to 2.
            let near = (sensor.width_mm - 36.0).abs() < 0.05 && (sensor.height_mm - 24.0).abs() < 0.05;
            assert!(near, "{}: {sensor:?}", expected.file.display());
            checked.insert(expected.file);
        }
    }
    assert_eq!(checked.len(), 3, "{checked:?}");
}

#[test]
fn files_read_in_parts_say_the_same_and_are_hardly_read() {
    let Some(folder) = fixtures() else { return };
    for expected in photos().iter().chain(&clips()) {
        let bytes = bytes(&folder, expected);
        let mut file = PartialFile::new(bytes.len() as u64);
        let mut read = 0;
        let facts = loop {
            match read_photo_in_parts(&file).expect("readable") {
                Progress::Done(facts) => break facts,
                Progress::Wants(range) => {
                    read += range.end - range.start;
                    let place = |at| usize::try_from(at).expect("in memory");
                    let part = &bytes[place(range.start)..place(range.end)];
                    file.fill(range, part);
                }
            }
        };
        assert_eq!(Ok(facts), read_photo(&bytes), "{}", expected.file.display());
        // The first half MiB of a JPEG, after a look at its beginning; of the others the index and little beside it.
        assert!(read <= (1 << 19) + (1 << 16), "{}: {read} bytes", expected.file.display());
    }
}
