//! A file of which only some parts are in memory.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::Range;

use super::PhotoError;

/// The least that is asked for at once: a few hundred bytes cost a reader as much as this.
const LEAST_PART: u64 = 1 << 16;

/// A file of which only some parts are in memory. A clip of gigabytes is described by a few kilobytes, at its end more
/// often than at its beginning.
#[derive(Debug, Clone, Default)]
pub struct PartialFile<'a> {
    length: u64,
    parts: BTreeMap<u64, Cow<'a, [u8]>>,
}

/// Why reading stopped before its end.
#[derive(Debug)]
pub(super) enum Stop {
    /// These bytes are not in memory.
    Wants(Range<u64>),
    /// There is nothing to be read.
    Error(PhotoError),
}

impl From<PhotoError> for Stop {
    fn from(error: PhotoError) -> Self {
        Self::Error(error)
    }
}

impl<'a> PartialFile<'a> {
    /// A file of `length` bytes, none of them in memory.
    pub const fn new(length: u64) -> Self {
        Self { length, parts: BTreeMap::new() }
    }

    /// A file that is in memory as a whole.
    pub fn whole(bytes: &'a [u8]) -> Self {
        let length = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        Self { length, parts: BTreeMap::from([(0, Cow::Borrowed(bytes))]) }
    }

    /// Takes in the bytes of `range`. If they are fewer than that, the file ends after them.
    pub fn fill(&mut self, range: Range<u64>, bytes: impl Into<Cow<'a, [u8]>>) {
        let bytes = bytes.into();
        let end = range.start.saturating_add(u64::try_from(bytes.len()).unwrap_or(u64::MAX));
        // A file that shrank since its length was taken would be asked for the same bytes for ever.
        if end < range.end {
            self.length = self.length.min(end);
        }
        self.parts.insert(range.start, bytes);
    }

    pub(super) const fn length(&self) -> u64 {
        self.length
    }

    /// The bytes of `range`, as far as the file goes.
    pub(super) fn get(&self, range: Range<u64>) -> Result<&[u8], Stop> {
        let end = range.end.min(self.length);
        if range.start >= end {
            return Ok(&[]);
        }
        let before = self.parts.range(..=range.start).rev();
        let mut holding = before.filter_map(|(&start, part)| within(part, start, range.start..end));
        if let Some(bytes) = holding.next() {
            return Ok(bytes);
        }
        Err(Stop::Wants(range.start..end.max(range.start.saturating_add(LEAST_PART)).min(self.length)))
    }
}

/// The bytes of `range` in a part that begins at `start`, if it holds them all.
fn within(part: &[u8], start: u64, range: Range<u64>) -> Option<&[u8]> {
    let from = usize::try_from(range.start.checked_sub(start)?).ok()?;
    let to = usize::try_from(range.end.checked_sub(start)?).ok()?;
    part.get(from..to)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wanted(file: &PartialFile<'_>, range: Range<u64>) -> Option<Range<u64>> {
        match file.get(range) {
            Err(Stop::Wants(range)) => Some(range),
            Ok(_) | Err(Stop::Error(_)) => None,
        }
    }

    #[test]
    fn what_is_not_in_memory_is_asked_for_in_decent_parts() {
        let file = PartialFile::new(1 << 32);
        assert_eq!(wanted(&file, 0..16), Some(0..LEAST_PART));
        assert_eq!(wanted(&file, (1 << 32) - 10..(1 << 32) + 6), Some((1 << 32) - 10..1 << 32));
    }

    #[test]
    fn a_range_is_found_in_any_part_that_holds_it() {
        let mut file = PartialFile::new(100);
        file.fill(0..50, (0..50).collect::<Vec<u8>>());
        file.fill(10..12, vec![10, 11]);
        assert_eq!(file.get(10..14).expect("held by the first part"), [10, 11, 12, 13]);
        assert_eq!(wanted(&file, 40..60), Some(40..100));
    }

    #[test]
    fn a_file_ends_where_it_ends() {
        let file = PartialFile::whole(&[1, 2, 3]);
        assert_eq!(file.get(1..10).expect("in memory"), [2, 3]);
        assert_eq!(file.get(7..10).expect("behind the end"), [0_u8; 0]);
    }

    #[test]
    fn a_file_that_shrank_is_not_asked_for_again() {
        let mut file = PartialFile::new(1000);
        file.fill(0..1000, vec![0; 10]);
        assert_eq!(file.get(0..1000).expect("all there is"), [0; 10]);
    }
}
