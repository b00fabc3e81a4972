//! Photos and clips.

use film::{
    PartialFile, PhotoError, PhotoFacts, Progress, lens_from_photo, lens_record, read_photo,
    read_photo_in_parts,
};

use crate::has_words;

/// The most parts that a file is read in: every step asks for what it has not seen.
const MOST_PARTS: usize = 10_000;

/// A photo or a clip, in memory and part by part.
pub(crate) fn photo(bytes: &[u8]) {
    let read = read_photo(bytes);
    assert_eq!(in_parts(bytes), read, "read in parts it says something else");
    let facts = match read {
        Ok(facts) => facts,
        Err(refusal) => return has_words(refusal),
    };
    let text = serde_json::to_string(&facts).expect("plain values");
    assert!(!format!("{facts:?}").contains("NaN"), "{text}");
    assert_eq!(serde_json::from_str::<PhotoFacts>(&text).expect("facts that were written"), facts);
    if let Some(notice) = facts.missing_notice() {
        has_words(notice);
    }
    if let Err(refusal) = lens_from_photo(&facts) {
        has_words(refusal);
    }
    if let Err(refusal) = lens_record(&facts).to_lens() {
        has_words(refusal);
    }
}

#[expect(clippy::panic_in_result_fn, reason = "what it hands back is what the reader said")]
fn in_parts(bytes: &[u8]) -> Result<PhotoFacts, PhotoError> {
    let mut file = PartialFile::new(bytes.len() as u64);
    for _ in 0..MOST_PARTS {
        match read_photo_in_parts(&file)? {
            Progress::Done(facts) => return Ok(facts),
            Progress::Wants(range) => {
                let place = |at: u64| usize::try_from(at).expect("within the file");
                let part = &bytes[place(range.start)..place(range.end)];
                assert!(!part.is_empty(), "nothing is asked for");
                file.fill(range, part);
            }
        }
    }
    panic!("it is still not read after {MOST_PARTS} parts");
}
