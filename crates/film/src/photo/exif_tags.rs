//! From Exif tags to facts.
//!
//! # Source
//! `Cipa2019`: what each tag means and how it says "unknown".

use exif::{Context, Exif, In, Reader, Tag, Value};
use jiff::civil::{Date, DateTime, Time};

use super::{PhotoFacts, Turn};

/// A block that points to more tables than this is made to exhaust memory: the reader follows every one, and they may
/// overlap. A photo has a handful.
const MOST_TABLES: usize = 64;

/// Reads the Exif block of a JPEG whose first bytes these are.
pub(super) fn read_jpeg_exif(head: &[u8], facts: &mut PhotoFacts) {
    // The reader finds the segment, but only its whole answer is at hand, so the guard looks at all the bytes.
    if table_pointers(head) <= MOST_TABLES {
        let mut reader = Reader::new();
        let read = reader.continue_on_error(true).read_from_container(&mut std::io::Cursor::new(head));
        add_facts(read, facts);
    }
}

/// Reads an Exif block that begins with its TIFF header.
pub(super) fn read_exif_block(block: &[u8], facts: &mut PhotoFacts) {
    if table_pointers(block) <= MOST_TABLES {
        add_facts(Reader::new().continue_on_error(true).read_raw(block.to_vec()), facts);
    }
}

/// How many entries of the block, at most, point to a further table.
fn table_pointers(block: &[u8]) -> usize {
    const TAGS: [u16; 3] = [0x8769, 0x8825, 0xa005];
    // BYTE, SHORT and LONG: the types that the reader takes for a pointer.
    const TYPES: [u16; 3] = [1, 3, 4];
    let is_pointer = |entry: &[u8], word: fn([u8; 2]) -> u16| {
        let [tag0, tag1, type0, type1] = *entry else { return false };
        TAGS.contains(&word([tag0, tag1])) && TYPES.contains(&word([type0, type1]))
    };
    let either_order =
        |entry: &&[u8]| is_pointer(entry, u16::from_be_bytes) || is_pointer(entry, u16::from_le_bytes);
    block.windows(4).filter(either_order).count()
}

/// Adds what the tags say; a block that cannot be read says nothing.
fn add_facts(read: Result<Exif, exif::Error>, facts: &mut PhotoFacts) {
    let Ok(exif) = read.or_else(|error| error.distill_partial_result(drop)) else { return };
    let tags = Tags(&exif);
    facts.focal_length_mm = tags.positive(Tag::FocalLength);
    facts.f_number = tags.positive(Tag::FNumber).or_else(|| tags.f_number_from_aperture());
    facts.equivalent_35mm_mm = tags.positive(Tag::FocalLengthIn35mmFilm);
    facts.digital_zoom = tags.digital_zoom();
    facts.subject_distance_m = tags.positive(Tag::SubjectDistance);
    facts.width_px = tags.count(Tag::PixelXDimension).or_else(|| tags.count(Tag::ImageWidth));
    facts.height_px = tags.count(Tag::PixelYDimension).or_else(|| tags.count(Tag::ImageLength));
    facts.turn = tags.turn();
    facts.azimuth_deg = tags.azimuth_deg();
    facts.azimuth_is_magnetic = tags.text(Tag::GPSImgDirectionRef).is_some_and(|north| north == b"M");
    facts.taken = tags.taken();
}

/// The tags of the photo itself, not of its thumbnail.
struct Tags<'a>(&'a Exif);

impl Tags<'_> {
    /// Some phones write a part of the photo's tags into the table that belongs to TIFF.
    fn value(&self, tag: Tag) -> Option<&Value> {
        let misplaced = Tag(Context::Tiff, tag.number());
        let field = self.0.get_field(tag, In::PRIMARY).or_else(|| self.0.get_field(misplaced, In::PRIMARY));
        field.map(|field| &field.value)
    }

    /// A fraction, or a whole number over 1.
    fn fraction(&self, tag: Tag) -> Option<(f64, f64)> {
        let value = self.value(tag)?;
        if let Value::Rational(fractions) = value {
            let first = fractions.first()?;
            return Some((f64::from(first.num), f64::from(first.denom)));
        }
        value.get_uint(0).map(|whole| (f64::from(whole), 1.0))
    }

    /// A value above zero: zero over anything and anything over zero are ways to say "unknown", and so, for
    /// distances, is the largest numerator, which says "infinite".
    fn positive(&self, tag: Tag) -> Option<f64> {
        let (numerator, denominator) = self.fraction(tag)?;
        let known = numerator > 0.0 && numerator < f64::from(u32::MAX) && denominator > 0.0;
        known.then(|| numerator / denominator)
    }

    fn count(&self, tag: Tag) -> Option<u32> {
        self.value(tag)?.get_uint(0).filter(|&pixels| pixels > 0)
    }

    /// A numerator of zero says that digital zoom was not used, whatever the denominator.
    fn digital_zoom(&self) -> Option<f64> {
        match self.fraction(Tag::DigitalZoomRatio)? {
            (numerator, _) if numerator <= 0.0 => Some(1.0),
            (numerator, denominator) => (denominator > 0.0).then(|| numerator / denominator),
        }
    }

    /// Some cameras write the APEX value alone: `N = 2^(A / 2)`.
    fn f_number_from_aperture(&self) -> Option<f64> {
        self.positive(Tag::ApertureValue).map(|aperture| libm::exp2(aperture / 2.0)).filter(|n| n.is_finite())
    }

    /// The direction of the look; true north is 0 over something.
    fn azimuth_deg(&self) -> Option<f64> {
        let (numerator, denominator) = self.fraction(Tag::GPSImgDirection)?;
        let degrees = (denominator > 0.0).then(|| numerator / denominator)?;
        (0.0..=360.0).contains(&degrees).then_some(degrees)
    }

    /// The letters of a tag that holds text.
    fn text(&self, tag: Tag) -> Option<&[u8]> {
        if let Value::Ascii(lines) = self.value(tag)? { lines.first().map(Vec::as_slice) } else { None }
    }

    /// A camera whose clock was never set writes spaces or zeros.
    fn taken(&self) -> Option<DateTime> {
        let taken = exif::DateTime::from_ascii(self.text(Tag::DateTimeOriginal)?).ok()?;
        let small = |number: u8| i8::try_from(number).ok();
        let date = Date::new(taken.year.try_into().ok()?, small(taken.month)?, small(taken.day)?).ok()?;
        let time = Time::new(small(taken.hour)?, small(taken.minute)?, small(taken.second)?, 0).ok()?;
        Some(date.to_datetime(time))
    }

    fn turn(&self) -> Option<Turn> {
        // The eight values are four turns, each plain and mirrored.
        match self.value(Tag::Orientation)?.get_uint(0)? {
            1 | 2 => Some(Turn::None),
            3 | 4 => Some(Turn::Half),
            5 | 8 => Some(Turn::CounterClockwise),
            6 | 7 => Some(Turn::Clockwise),
            _ => None,
        }
    }
}
