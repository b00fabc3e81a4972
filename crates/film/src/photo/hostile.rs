//! Files from strangers: cut off anywhere or changed anywhere, they are read to an end, without a panic, and give numbers.

use proptest::prelude::*;

use super::samples::{self, Clip, Exif};
use super::{
    PartialFile, PhotoError, PhotoFacts, Progress, lens_from_photo, read_photo, read_photo_in_parts,
};

/// One file of each shape that the readers know.
fn files() -> Vec<Vec<u8>> {
    let metadata = [
        ("org.example.camera.lens_model", samples::data(1, b"back camera 6.86mm f/1.78")),
        ("org.example.camera.focal_length.35mm_equivalent", samples::data(21, &[0, 24])),
    ];
    vec![
        samples::jpeg(&Exif::default()),
        samples::jpeg(&Exif { little_endian: false, ..Exif::default() }),
        samples::heic(&samples::exif_item(b"Exif\0\0", 6), 1),
        Clip { metadata: &metadata, ..Clip::default() }.bytes(),
        Clip { metadata: &metadata, full_meta: false, brand: *b"qt  ", ..Clip::default() }.bytes(),
    ]
}

/// Whether every number is one: above zero and finite.
fn numbers_are_numbers(facts: &PhotoFacts) -> bool {
    let numbers = [
        facts.focal_length_mm,
        facts.f_number,
        facts.equivalent_35mm_mm,
        facts.digital_zoom,
        facts.subject_distance_m,
        facts.frame_rate_fps,
        facts.capture_rate_fps,
        facts.duration_s,
    ];
    let pixels = [facts.width_px, facts.height_px];
    let lens = lens_from_photo(facts).ok();
    let sensor = lens.and_then(|lens| lens.sensor);
    numbers.into_iter().flatten().all(|number| number > 0.0 && number.is_finite())
        && pixels.into_iter().flatten().all(|pixels| pixels > 0)
        && lens.is_none_or(|lens| lens.equivalent_35mm_mm > 0.0 && lens.equivalent_35mm_sd_mm.is_finite())
        && sensor.is_none_or(|sensor| sensor.width_mm >= sensor.height_mm && sensor.height_mm > 0.0)
}

/// Reads a file through parts, as a page does; nothing if a hundred were not enough.
fn read_through_parts(bytes: &[u8]) -> Option<Result<PhotoFacts, PhotoError>> {
    let place = |at: u64| usize::try_from(at).expect("short");
    let mut file = PartialFile::new(u64::try_from(bytes.len()).expect("short"));
    for _ in 0..100 {
        match read_photo_in_parts(&file) {
            Ok(Progress::Done(facts)) => return Some(Ok(facts)),
            Ok(Progress::Wants(range)) => {
                file.fill(range.clone(), bytes.get(place(range.start)..place(range.end))?);
            }
            Err(error) => return Some(Err(error)),
        }
    }
    None
}

#[test]
fn a_file_cut_off_anywhere_is_read_to_an_end() {
    for file in files() {
        for end in 0..=file.len() {
            if let Ok(facts) = read_photo(&file[..end]) {
                assert!(numbers_are_numbers(&facts), "cut at {end}: {facts:?}");
            }
        }
    }
}

#[test]
fn every_byte_at_its_extremes_is_read_to_an_end() {
    for file in files() {
        for at in 0..file.len() {
            for value in [0x00, 0x01, 0x7f, 0x80, 0xff] {
                let mut changed = file.clone();
                changed[at] = value;
                if let Ok(facts) = read_photo(&changed) {
                    assert!(numbers_are_numbers(&facts), "{value} at {at}: {facts:?}");
                }
            }
        }
    }
}

proptest! {
    #[test]
    fn changed_files_are_read_to_an_end_and_the_same_through_parts(
        which in 0..5_usize,
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..12),
        end in any::<prop::sample::Index>(),
        cut in any::<bool>(),
    ) {
        let mut file = files().swap_remove(which);
        for (at, value) in changes {
            let at = at.index(file.len());
            file[at] = value;
        }
        if cut {
            file.truncate(end.index(file.len()));
        }
        let facts = read_photo(&file);
        prop_assert_eq!(Some(facts), read_through_parts(&file));
        if let Ok(facts) = facts {
            prop_assert!(numbers_are_numbers(&facts), "{:?}", facts);
        }
    }

    #[test]
    fn noise_behind_a_true_beginning_is_read_to_an_end(
        start in prop::sample::select(vec![
            b"\xff\xd8\xff\xe1".as_slice(),
            b"\0\0\0\x14ftypheic\0\0\0\0mif1\0\0\x10\0meta\0\0\0\0",
            b"\0\0\0\x14ftypqt  \0\0\0\0qt  \0\0\x10\0moov",
        ]),
        noise in prop::collection::vec(any::<u8>(), 0..4096),
    ) {
        if let Ok(facts) = read_photo(&[start, &noise].concat()) {
            prop_assert!(numbers_are_numbers(&facts), "{:?}", facts);
        }
    }
}
