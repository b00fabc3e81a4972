//! Clips in MOV and MP4: what their index, the `moov` box, says.
//!
//! # Source
//! ISO/IEC 14496-12:2022, 8.3.2 (track header), 8.4.2 (media header), 8.4.3 (handler), 8.5.2 (sample description),
//! 8.6.1.2 (time to sample); the `QuickTime` file format for metadata by key.

use mp4_atom::{Atom as _, Ilst, IlstDataValue, Keys, Matrix, Mdhd, Stts, Tkhd};

use super::boxes::{boxes, find, find_path, inside_meta, versioned};
use super::{FileKind, PhotoError, PhotoFacts, Turn};

/// The key of the 35 mm-equivalent, after the name of whoever defined it.
const EQUIVALENT_KEY: &str = ".camera.focal_length.35mm_equivalent";
/// The key of the lens in words, which end like "6.86mm f/1.78".
const LENS_KEY: &str = ".camera.lens_model";
/// The key of the rate that a slow-motion clip was captured at.
const CAPTURE_RATE_KEY: &str = ".capture.fps";

/// Reads the facts of a clip whose `moov` box holds `moov`.
pub(super) fn read_clip(kind: FileKind, moov: &[u8]) -> Result<PhotoFacts, PhotoError> {
    let mut facts = PhotoFacts::unknown(kind);
    let tracks = || boxes(moov).filter(|(kind, _)| kind == b"trak").map(|(_, track)| track);
    let picture = tracks().find(|track| is_moving_picture(track)).ok_or(PhotoError::NoPicture { kind })?;
    add_picture(picture, &mut facts);

    // The track's own metadata first: a phone that films with two lenses at once has two tracks.
    let holders = [Some(picture), Some(moov), find(moov, *b"udta")];
    for meta in holders.into_iter().flatten().filter_map(|holder| find(holder, *b"meta")) {
        add_metadata(inside_meta(meta), &mut facts);
    }
    Ok(facts)
}

fn is_moving_picture(track: &[u8]) -> bool {
    let handler = find_path(track, &[*b"mdia", *b"hdlr"]);
    handler.and_then(|body| body.get(8..12)) == Some(b"vide")
}

fn add_picture(track: &[u8], facts: &mut PhotoFacts) {
    let header = find(track, *b"tkhd").and_then(|mut body| Tkhd::decode_body(&mut body).ok());
    let samples = find_path(track, &[*b"mdia", *b"minf", *b"stbl"]).unwrap_or_default();
    // The description has the stored pixels; the header has the shown size, which differs where pixels are not square.
    let shown = header.as_ref().map(|header| (header.width.integer(), header.height.integer()));
    let size = stored_size(samples).or(shown).filter(|(width, height)| *width > 0 && *height > 0);
    facts.width_px = size.map(|(width, _)| u32::from(width));
    facts.height_px = size.map(|(_, height)| u32::from(height));
    facts.turn = header.map(|header| turn(&header.matrix));

    let media =
        find_path(track, &[*b"mdia", *b"mdhd"]).and_then(|mut body| Mdhd::decode_body(&mut body).ok());
    if let Some(media) = media.filter(|media| media.timescale > 0) {
        // A duration of all ones says "unknown".
        let known = media.duration > 0 && media.duration != u64::MAX && media.duration != u64::from(u32::MAX);
        facts.duration_s = known.then(|| counted(media.duration) / f64::from(media.timescale));
        let times = find(samples, *b"stts").and_then(|mut body| Stts::decode_body(&mut body).ok());
        facts.frame_rate_fps = times.and_then(|times| average_rate(&times, media.timescale));
    }
}

/// Width and height in the first sample description: after the box's version and count, an entry's 8 bytes of header,
/// 8 of reference and 16 that are not used.
fn stored_size(samples: &[u8]) -> Option<(u16, u16)> {
    let (_, description) = versioned(find(samples, *b"stsd")?)?;
    let [width0, width1, height0, height1] = *description.get(36..)?.first_chunk()?;
    let size = (u16::from_be_bytes([width0, width1]), u16::from_be_bytes([height0, height1]));
    (size.0 > 0 && size.1 > 0).then_some(size)
}

/// What the matrix does to a picture whose y runs down.
///
/// ```text
/// x' = a x + c y          y' = b x + d y
/// ```
/// A clockwise quarter takes the x axis to y: `b > 0`.
fn turn(matrix: &Matrix) -> Turn {
    if matrix.b.unsigned_abs() > matrix.a.unsigned_abs() {
        if matrix.b > 0 { Turn::Clockwise } else { Turn::CounterClockwise }
    } else if matrix.a < 0 {
        Turn::Half
    } else {
        Turn::None
    }
}

/// Frames over the time that they take.
fn average_rate(times: &Stts, timescale: u32) -> Option<f64> {
    let frames: u64 = times.entries.iter().map(|entry| u64::from(entry.sample_count)).sum();
    let lasting =
        times.entries.iter().map(|entry| u64::from(entry.sample_count) * u64::from(entry.sample_delta));
    let ticks = lasting.fold(0, u64::saturating_add);
    (frames > 0 && ticks > 0).then(|| counted(frames) * f64::from(timescale) / counted(ticks))
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts of ticks and frames stay far below 2^53 in any real clip"
)]
const fn counted(count: u64) -> f64 {
    count as f64
}

/// Adds what keyed metadata says about the lens, where nothing was said before.
fn add_metadata(meta: &[u8], facts: &mut PhotoFacts) {
    let keys = find(meta, *b"keys").and_then(|mut body| Keys::decode_body(&mut body).ok());
    let items = find(meta, *b"ilst").and_then(|mut body| Ilst::decode_body(&mut body).ok());
    let (Some(keys), Some(items)) = (keys, items) else { return };
    for (number_of_key, data) in items.mdta {
        // Counted from one.
        let index = usize::try_from(number_of_key).ok().and_then(|number| number.checked_sub(1));
        let Some(key) = index.and_then(|index| keys.entries.get(index)) else { continue };
        let key = key.key_value.as_str();
        if key.ends_with(EQUIVALENT_KEY) {
            facts.equivalent_35mm_mm = facts.equivalent_35mm_mm.or_else(|| number(&data.value));
        } else if key.ends_with(CAPTURE_RATE_KEY) {
            facts.capture_rate_fps = facts.capture_rate_fps.or_else(|| number(&data.value));
        } else if key.ends_with(LENS_KEY) {
            let lens = text(&data.value).and_then(lens_in_words);
            facts.focal_length_mm = facts.focal_length_mm.or(lens.map(|(focal_length, _)| focal_length));
            facts.f_number = facts.f_number.or(lens.map(|(_, f_number)| f_number));
        }
    }
}

/// A value as a number above zero.
#[expect(clippy::cast_precision_loss, reason = "millimetres and frame rates are small")]
fn number(value: &IlstDataValue) -> Option<f64> {
    let number = match value {
        IlstDataValue::Utf8(text) | IlstDataValue::Utf16(text) => text.trim().parse().ok()?,
        IlstDataValue::BeSignedInt(whole) => *whole as f64,
        IlstDataValue::BeUnsignedInt(whole) => *whole as f64,
        IlstDataValue::BeFloat32(number) => f64::from(*number),
        IlstDataValue::BeFloat64(number) => *number,
        IlstDataValue::Reserved(_)
        | IlstDataValue::Jpeg(_)
        | IlstDataValue::Png(_)
        | IlstDataValue::Bmp(_)
        | IlstDataValue::Unknown(..) => return None,
    };
    positive(number)
}

const fn text(value: &IlstDataValue) -> Option<&str> {
    if let IlstDataValue::Utf8(text) = value { Some(text.as_str()) } else { None }
}

/// Focal length and f-number at the end of words such as "back camera 6.86mm f/1.78".
fn lens_in_words(words: &str) -> Option<(f64, f64)> {
    let (before, f_number) = words.trim().rsplit_once("mm f/")?;
    let focal_length = before.rsplit(' ').next()?;
    Some((positive(focal_length.parse().ok()?)?, positive(f_number.parse().ok()?)?))
}

fn positive(number: f64) -> Option<f64> {
    (number > 0.0 && number.is_finite()).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::super::read_photo;
    use super::super::samples::{self, Clip};
    use super::*;

    fn read(clip: &Clip<'_>) -> PhotoFacts {
        read_photo(&clip.bytes()).expect("a clip")
    }

    #[test]
    fn size_rate_and_duration_come_from_the_picture_track() {
        let facts = read(&Clip { runs: &[(10, 1000), (20, 1001)], timescale: 30_000, ..Clip::default() });
        assert_eq!((facts.width_px, facts.height_px), (Some(3840), Some(2160)));
        // 30 frames in 30 020 ticks of 1/30 000 s.
        assert_eq!(facts.frame_rate_fps, Some(30.0 * 30_000.0 / 30_020.0));
        assert_eq!(facts.duration_s, Some(30_020.0 / 30_000.0));
    }

    #[test]
    fn the_matrix_turns_the_picture() {
        let turned = [
            ([1, 0, 0, 1], Turn::None),
            ([0, 1, -1, 0], Turn::Clockwise),
            ([-1, 0, 0, -1], Turn::Half),
            ([0, -1, 1, 0], Turn::CounterClockwise),
        ];
        for (matrix, turn) in turned {
            assert_eq!(read(&Clip { matrix, ..Clip::default() }).turn, Some(turn), "{matrix:?}");
        }
    }

    #[test]
    fn keyed_metadata_tells_the_lens_whichever_way_the_box_begins() {
        let words = samples::data(1, b"back camera 6.86mm f/1.78");
        let equivalent = samples::data(21, &[0, 0, 0, 24]);
        let rate = samples::data(23, &120.0_f32.to_be_bytes());
        let metadata = [
            ("org.example.camera.lens_model", words),
            ("org.example.camera.focal_length.35mm_equivalent", equivalent),
            ("org.example.capture.fps", rate),
        ];
        for full_meta in [false, true] {
            let facts = read(&Clip { metadata: &metadata, full_meta, ..Clip::default() });
            assert_eq!(facts.focal_length_mm, Some(6.86));
            assert_eq!(facts.f_number, Some(1.78));
            assert_eq!(facts.equivalent_35mm_mm, Some(24.0));
            assert_eq!(facts.capture_rate_fps, Some(120.0));
            assert_eq!(facts.missing(), []);
        }
    }

    #[test]
    fn the_brand_tells_mov_from_mp4() {
        assert_eq!(read(&Clip { brand: *b"qt  ", ..Clip::default() }).kind, FileKind::Mov);
        assert_eq!(read(&Clip { brand: *b"isom", ..Clip::default() }).kind, FileKind::Mp4);
    }

    #[test]
    fn sound_alone_is_no_clip() {
        let error =
            read_photo(&Clip { handler: *b"soun", ..Clip::default() }.bytes()).expect_err("no picture");
        assert_eq!(error.to_string(), "the MP4 holds no moving picture, only sound or data");
    }

    #[test]
    fn words_without_numbers_tell_no_lens() {
        assert_eq!(lens_in_words("back camera"), None);
        assert_eq!(lens_in_words("mm f/"), None);
        assert_eq!(lens_in_words("0mm f/1.8"), None);
        assert_eq!(lens_in_words("5.7mm f/1.5"), Some((5.7, 1.5)));
    }
}
