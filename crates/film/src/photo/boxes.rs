//! The boxes of an ISO base media file: a length, a name of four letters, and a body that may hold boxes.
//!
//! What is inside single boxes is read by the crate `mp4-atom`. The walk from box to box is done here because that
//! crate counts in `usize`, which in the page is 32 bits and wraps round in a clip of more than 4 GB; because it gives up on
//! a whole index for one odd box; and because the walk must work on a file of which only parts are in memory.
//!
//! # Source
//! ISO/IEC 14496-12:2022, 4.2, "Object structure".

use std::ops::Range;

/// Where a box lies in its file, and what it is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct BoxHeader {
    /// Its name.
    pub(super) kind: [u8; 4],
    /// Its body, without the header; it ends with what encloses it even if it claims more.
    pub(super) body: Range<u64>,
}

/// The longest header: length, name and long length.
pub(super) const HEADER_BYTES: u64 = 16;

impl BoxHeader {
    /// Reads the header that stands at `start` and whose bytes `header` begins with; what encloses it ends at `end`.
    ///
    /// Nothing if the bytes are too few, or give a length that does not even hold the header.
    pub(super) fn read(header: &[u8], start: u64, end: u64) -> Option<Self> {
        let length = u32::from_be_bytes(*header.first_chunk()?);
        let kind = *header.get(4..)?.first_chunk()?;
        let (header_bytes, length) = match length {
            0 => (8, end.checked_sub(start)?),
            1 => (16, u64::from_be_bytes(*header.get(8..)?.first_chunk()?)),
            length => (8, u64::from(length)),
        };
        let body_start = start.checked_add(header_bytes)?;
        let body_end = start.saturating_add(length).min(end);
        (body_start <= body_end && length >= header_bytes)
            .then_some(Self { kind, body: body_start..body_end })
    }
}

/// The boxes inside a body, as far as they can be read.
pub(super) fn boxes(body: &[u8]) -> impl Iterator<Item = ([u8; 4], &[u8])> {
    let mut rest = body;
    std::iter::from_fn(move || {
        let end = u64::try_from(rest.len()).ok()?;
        let header = BoxHeader::read(rest, 0, end)?;
        let inside =
            rest.get(usize::try_from(header.body.start).ok()?..usize::try_from(header.body.end).ok()?)?;
        // The header alone is eight bytes, so every step shortens what is left.
        rest = rest.get(usize::try_from(header.body.end).ok()?..)?;
        Some((header.kind, inside))
    })
}

/// The body of the first box of that name inside a body.
pub(super) fn find(body: &[u8], kind: [u8; 4]) -> Option<&[u8]> {
    boxes(body).find(|(found, _)| *found == kind).map(|(_, inside)| inside)
}

/// The body of the first box at the end of a path of names.
pub(super) fn find_path<'a>(body: &'a [u8], path: &[[u8; 4]]) -> Option<&'a [u8]> {
    path.iter().try_fold(body, |inside, kind| find(inside, *kind))
}

/// A body without the version and flags that some boxes begin with, and that version.
pub(super) fn versioned(body: &[u8]) -> Option<(u8, &[u8])> {
    Some((*body.first()?, body.get(4..)?))
}

/// The boxes inside a `meta` box, which begins with version and flags in ISO files and without them in older MOV files.
pub(super) fn inside_meta(body: &[u8]) -> &[u8] {
    if body.get(4..8) == Some(b"hdlr") { body } else { body.get(4..).unwrap_or_default() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_a_long_and_an_open_length_are_read() {
        assert_eq!(
            BoxHeader::read(b"\0\0\0\x18moov", 100, 1000),
            Some(BoxHeader { kind: *b"moov", body: 108..124 })
        );
        let long = b"\0\0\0\x01mdat\0\0\0\x02\0\0\0\0";
        assert_eq!(
            BoxHeader::read(long, 32, 1 << 40),
            Some(BoxHeader { kind: *b"mdat", body: 48..(1 << 33) + 32 })
        );
        assert_eq!(BoxHeader::read(b"\0\0\0\0mdat", 8, 20), Some(BoxHeader { kind: *b"mdat", body: 16..20 }));
    }

    #[test]
    fn a_length_shorter_than_its_own_header_is_no_box() {
        assert_eq!(BoxHeader::read(b"\0\0\0\x07moov", 0, 100), None);
        assert_eq!(BoxHeader::read(b"\0\0\0\x01moov\0\0\0\0\0\0\0\x0f", 0, 100), None);
    }

    #[test]
    fn a_length_beyond_the_end_is_cut_there() {
        assert_eq!(
            BoxHeader::read(b"\xff\xff\xff\xffmoov", 0, 50),
            Some(BoxHeader { kind: *b"moov", body: 8..50 })
        );
    }

    #[test]
    fn boxes_are_walked_until_the_bytes_make_no_sense() {
        let body = b"\0\0\0\x09abcd!\0\0\0\x08efgh\0\0\0\x03ijkl";
        let found: Vec<_> = boxes(body).collect();
        assert_eq!(found, [(*b"abcd", b"!".as_slice()), (*b"efgh", b"".as_slice())]);
    }
}
