//! Finding, in the bytes of a file, the part that describes it.

use std::io::Cursor;
use std::ops::Range;

use super::boxes::{BoxHeader, HEADER_BYTES};
use super::partial_file::{PartialFile, Stop};
use super::{FileKind, PhotoError, PhotoFacts, clip, exif_tags, heif};

/// How much of a JPEG is looked at. Its tags come first, in at most 64 KB, and its size stands before the picture's own
/// data, behind a preview and a colour profile at most.
const JPEG_HEAD: u64 = 1 << 19;

/// The longest index that is read. Ten hours at 60 fps take some 40 MB.
const MOST_INDEX_BYTES: u64 = 1 << 26;

/// How many boxes are passed over in search of the index.
const MOST_BOXES: usize = 4096;

/// How far reading has come.
#[derive(Debug, Clone, PartialEq)]
pub enum Progress {
    /// To its end.
    Done(PhotoFacts),
    /// To where the bytes of this range are needed: fill them in and try again.
    Wants(Range<u64>),
}

/// Reads the facts of a file that is in memory.
///
/// # Errors
/// If it is no JPEG, HEIC, MOV or MP4, or lacks the part that describes it.
/// A readable file without tags is no error: see [`PhotoFacts::missing`].
pub fn read_photo(bytes: &[u8]) -> Result<PhotoFacts, PhotoError> {
    match read_photo_in_parts(&PartialFile::whole(bytes))? {
        Progress::Done(facts) => Ok(facts),
        // A file that is in memory as a whole wants nothing.
        Progress::Wants(_) => Err(PhotoError::Empty),
    }
}

/// Reads the facts of a file of which only some parts are in memory, or says which part it needs next.
///
/// # Errors
/// As [`read_photo`].
///
/// # Examples
/// ```
/// use film::{PartialFile, PhotoError, Progress, read_photo_in_parts};
///
/// // Stands for a file that can be read anywhere.
/// let stored = b"\0\0\0\x08wide\0\0\0\x08mdat";
/// let mut file = PartialFile::new(stored.len() as u64);
/// let outcome = loop {
///     match read_photo_in_parts(&file) {
///         Ok(Progress::Wants(range)) => {
///             let bytes = &stored[range.start as usize..range.end as usize];
///             file.fill(range, bytes);
///         }
///         outcome => break outcome,
///     }
/// };
/// assert!(matches!(outcome, Err(PhotoError::NoIndex { .. })));
/// ```
pub fn read_photo_in_parts(file: &PartialFile<'_>) -> Result<Progress, PhotoError> {
    match read(file) {
        Ok(facts) => Ok(Progress::Done(facts)),
        Err(Stop::Wants(range)) => Ok(Progress::Wants(range)),
        Err(Stop::Error(error)) => Err(error),
    }
}

fn read(file: &PartialFile<'_>) -> Result<PhotoFacts, Stop> {
    let head = file.get(0..HEADER_BYTES)?;
    if head.is_empty() {
        Err(PhotoError::Empty.into())
    } else if head.starts_with(b"\xff\xd8\xff") {
        Ok(read_jpeg(file.get(0..JPEG_HEAD)?))
    } else if begins_boxes(head) {
        read_boxes(file)
    } else {
        Err(PhotoError::UnknownForm.into())
    }
}

fn read_jpeg(head: &[u8]) -> PhotoFacts {
    let mut facts = PhotoFacts::unknown(FileKind::Jpeg);
    exif_tags::read_jpeg_exif(head, &mut facts);
    // Exif first: where someone has cropped or shrunk the photo since, its tags speak of what the camera took.
    if facts.width_px.is_none() || facts.height_px.is_none() {
        let size = imagesize::ImageType::Jpeg.reader_size(&mut Cursor::new(head)).ok();
        let side = |pixels: usize| u32::try_from(pixels).ok().filter(|&pixels| pixels > 0);
        facts.width_px = size.and_then(|size| side(size.width));
        facts.height_px = size.and_then(|size| side(size.height));
    }
    facts
}

/// Whether the first box is one that such files begin with.
fn begins_boxes(head: &[u8]) -> bool {
    let first: [&[u8]; 6] = [b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip"];
    head.get(4..8).is_some_and(|kind| first.contains(&kind))
}

/// Walks over the outermost boxes to the one that is the index: `meta` in a photo, `moov` in a clip.
fn read_boxes(file: &PartialFile<'_>) -> Result<PhotoFacts, Stop> {
    // Files from before there were brands are MOV.
    let mut kind = FileKind::Mov;
    let mut start = 0;
    for _ in 0..MOST_BOXES {
        let header = file.get(start..start.saturating_add(HEADER_BYTES))?;
        let Some(found) = BoxHeader::read(header, start, file.length()) else { break };
        match (&found.kind, kind) {
            (b"ftyp", _) => kind = kind_of_brands(index(file, kind, found.body.clone())?),
            (b"meta", FileKind::Heic) => return heif::read_heif(file, index(file, kind, found.body)?),
            (b"moov", FileKind::Mov | FileKind::Mp4) => {
                return Ok(clip::read_clip(kind, index(file, kind, found.body)?)?);
            }
            _ => {}
        }
        start = found.body.end;
    }
    Err(PhotoError::NoIndex { kind }.into())
}

fn index<'a>(file: &'a PartialFile<'_>, kind: FileKind, body: Range<u64>) -> Result<&'a [u8], Stop> {
    let bytes = body.end - body.start;
    if bytes > MOST_INDEX_BYTES {
        return Err(PhotoError::IndexTooLong { kind, bytes, most: MOST_INDEX_BYTES }.into());
    }
    file.get(body)
}

/// What a file claims to be: its main brand, a version, and the brands that it is compatible with.
///
/// # Source
/// ISO/IEC 14496-12:2022, 4.3; ISO/IEC 23008-12:2022, annex B for the brands of photos.
fn kind_of_brands(body: &[u8]) -> FileKind {
    const PHOTOS: [&[u8]; 7] = [b"mif1", b"msf1", b"heic", b"heix", b"hevc", b"hevx", b"avif"];
    let (main, compatible) = (body.get(..4).unwrap_or_default(), body.get(8..).unwrap_or_default());
    if main == b"qt  " {
        FileKind::Mov
    } else if PHOTOS.contains(&main) || compatible.chunks(4).any(|brand| PHOTOS.contains(&brand)) {
        FileKind::Heic
    } else {
        FileKind::Mp4
    }
}

#[cfg(test)]
mod tests {
    use super::super::samples::{self, Clip, Exif};
    use super::super::{MissingFact, Turn};
    use super::*;

    #[test]
    fn a_photo_says_what_its_tags_say() {
        let facts = read_photo(&samples::jpeg(&Exif::default())).expect("a photo");
        let expected = PhotoFacts {
            focal_length_mm: Some(Exif::FOCAL_LENGTH_MM),
            f_number: Some(1.8),
            equivalent_35mm_mm: Some(52.0),
            digital_zoom: Some(2.0),
            subject_distance_m: Some(1.5),
            width_px: Some(4032),
            height_px: Some(3024),
            turn: Some(Turn::Clockwise),
            ..PhotoFacts::unknown(FileKind::Jpeg)
        };
        assert_eq!(facts, expected);
    }

    #[test]
    fn both_byte_orders_say_the_same() {
        let big = Exif { little_endian: false, ..Exif::default() };
        let (little, big) = (samples::jpeg(&Exif::default()), samples::jpeg(&big));
        assert_ne!(little, big);
        assert_eq!(read_photo(&little), read_photo(&big));
    }

    #[test]
    fn a_tag_in_the_wrong_table_is_found() {
        let misplaced = samples::jpeg(&Exif { misplaced: true, ..Exif::default() });
        assert_ne!(misplaced, samples::jpeg(&Exif::default()));
        assert_eq!(read_photo(&misplaced), read_photo(&samples::jpeg(&Exif::default())));
    }

    #[test]
    fn where_a_photo_looks_and_when_it_was_taken_are_read() {
        let read = |direction, taken| {
            let exif = Exif { direction, taken, ..Exif::default() };
            let facts = read_photo(&samples::jpeg(&exif)).expect("a photo");
            (facts.azimuth_deg, facts.azimuth_is_magnetic, facts.taken.map(|taken| taken.to_string()))
        };
        let told = read(Some(((12_345, 100), b"T\0")), Some(b"2026:09:12 17:05:09\0"));
        assert_eq!(told, (Some(123.45), false, Some("2026-09-12T17:05:09".to_owned())));
        let north = read(Some(((0, 1), b"M\0")), Some(b"0000:00:00 00:00:00\0"));
        assert_eq!(
            north,
            (Some(0.0), true, None),
            "north is a direction, and a clock that was never set no time"
        );
        let nonsense = read(Some(((720, 1), b"T\0")), Some(b"2026:02:31 25:00:00\0"));
        assert_eq!(nonsense, (None, false, None));
    }

    #[test]
    fn ways_to_say_unknown_count_as_absent() {
        let unknown = Exif {
            focal_length: (0, 1),
            f_number: (18, 0),
            equivalent: 0,
            zoom: (0, 0),
            subject_distance: (u32::MAX, 1),
            ..Exif::default()
        };
        let facts = read_photo(&samples::jpeg(&unknown)).expect("a photo");
        // The f-number comes from the APEX value beside it: 2^(1.7 / 2).
        assert!(facts.f_number.is_some_and(|n| (n - 1.802_5).abs() < 1e-4), "{facts:?}");
        assert_eq!(facts.digital_zoom, Some(1.0), "a numerator of zero says that it was not used");
        assert_eq!(facts.subject_distance_m, None);
        assert_eq!(facts.missing(), [MissingFact::FocalLength, MissingFact::Equivalent35mm]);
    }

    #[test]
    fn a_stripped_photo_still_has_its_size() {
        let facts = read_photo(&samples::stripped_jpeg()).expect("a photo");
        assert_eq!((facts.width_px, facts.height_px), (Some(640), Some(480)));
        assert_eq!(
            facts.missing(),
            [MissingFact::FocalLength, MissingFact::FNumber, MissingFact::Equivalent35mm]
        );
    }

    #[test]
    fn a_block_of_many_tables_is_not_followed() {
        let bomb = samples::jpeg(&Exif { pointers: 65, ..Exif::default() });
        assert_eq!(read_photo(&bomb).expect("a photo").focal_length_mm, None);
        let plain = samples::jpeg(&Exif { pointers: 3, ..Exif::default() });
        assert_eq!(read_photo(&plain).expect("a photo").focal_length_mm, Some(Exif::FOCAL_LENGTH_MM));
    }

    #[test]
    fn other_forms_are_refused_in_words() {
        assert_eq!(read_photo(b""), Err(PhotoError::Empty));
        assert_eq!(read_photo(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"), Err(PhotoError::UnknownForm));
        assert_eq!(
            read_photo(b"\0\0\0\x14ftypheic\0\0\0\0mif1"),
            Err(PhotoError::NoIndex { kind: FileKind::Heic })
        );
        let endless = read_photo(b"\0\0\0\x08wide\0\0\0\x08mdat").expect_err("no index");
        assert_eq!(
            endless.to_string(),
            "the MOV has no index: it was cut off while recording or copying; copy it again, or use another"
        );
    }

    #[test]
    fn an_index_past_four_gigabytes_is_reached_in_a_few_short_reads() {
        let clip = Clip { data_bytes: 5 << 30, ..Clip::default() };
        let (head, moov) = clip.head_and_moov();
        let moov_at = u64::try_from(head.len()).expect("short") + clip.data_bytes;
        let length = moov_at + u64::try_from(moov.len()).expect("short");
        let mut file = PartialFile::new(length);
        let mut asked = 0;
        let facts = loop {
            match read_photo_in_parts(&file).expect("a clip") {
                Progress::Done(facts) => break facts,
                Progress::Wants(range) => {
                    asked += range.end - range.start;
                    let byte = |at: u64| {
                        let (of, from) = if at < moov_at { (&head, 0) } else { (&moov, moov_at) };
                        usize::try_from(at - from).ok().and_then(|at| of.get(at)).copied().unwrap_or(0)
                    };
                    let bytes: Vec<u8> = range.clone().map(byte).collect();
                    file.fill(range, bytes);
                }
            }
        };
        assert_eq!(facts.width_px, Some(3840));
        assert!(asked < 200_000, "{asked} bytes were read");
    }

    #[test]
    fn an_index_of_absurd_length_is_refused() {
        let bytes = b"\0\0\0\x08wide\0\0\0\x01moov\0\0\0\x01\0\0\0\0".to_vec();
        let mut file = PartialFile::new(1 << 40);
        file.fill(0..u64::try_from(bytes.len()).expect("short"), bytes);
        let error = read_photo_in_parts(&file).expect_err("too long");
        assert!(matches!(error, PhotoError::IndexTooLong { kind: FileKind::Mov, .. }), "{error:?}");
    }
}
