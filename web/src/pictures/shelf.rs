//! Finished pictures, kept by what they show: going back to a setup shows it at once.

use crate::pictures::lab::Wanted;

/// Finished pictures, the one that was shown last at the end.
#[derive(Debug)]
pub(super) struct Shelf<Pixels> {
    kept: Vec<(Wanted, Vec<Pixels>)>,
}

/// The most bytes of pixels that are kept: chosen to hold twenty large frames of a phone's screen, and little beside what
/// a browser gives a page.
const MOST_BYTES: usize = 24 << 20;

impl<Pixels> Default for Shelf<Pixels> {
    fn default() -> Self {
        Self { kept: Vec::new() }
    }
}

impl<Pixels: Clone> Shelf<Pixels> {
    /// The parts of the picture that is wanted, if it is kept.
    pub(super) fn take_down(&mut self, wanted: &Wanted) -> Option<Vec<Pixels>> {
        let at = self.kept.iter().position(|(one, _)| one == wanted)?;
        let found = self.kept.remove(at);
        let parts = found.1.clone();
        self.kept.push(found);
        Some(parts)
    }

    /// Keeps a finished picture, and as many others beside it as there is room for.
    pub(super) fn put(&mut self, wanted: Wanted, parts: Vec<Pixels>) {
        self.kept.retain(|(one, _)| *one != wanted);
        self.kept.push((wanted, parts));
        let mut bytes: usize = self.kept.iter().map(|(one, _)| one.bytes()).sum();
        while bytes > MOST_BYTES && self.kept.len() > 1 {
            let (oldest, _) = self.kept.remove(0);
            bytes -= oldest.bytes();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pictures::lab::tests::wanted;

    /// A picture of a mebibyte and an eighth, told from others by its width.
    fn large(width: u32) -> Wanted {
        wanted(width, 512)
    }

    #[test]
    fn what_was_finished_is_there_again() {
        let mut shelf = Shelf::default();
        shelf.put(large(600), vec!["left", "right"]);
        assert_eq!(shelf.take_down(&large(600)), Some(vec!["left", "right"]));
        assert_eq!(shelf.take_down(&large(601)), None);
    }

    #[test]
    fn what_was_shown_longest_ago_makes_room() {
        let mut shelf = Shelf::default();
        // 24 MiB hold 20 of them.
        for width in 600..620 {
            shelf.put(large(width), vec![width]);
        }
        assert_eq!(shelf.take_down(&large(600)), Some(vec![600]));
        shelf.put(large(700), vec![700]);
        assert_eq!(shelf.take_down(&large(601)), None);
        assert_eq!(shelf.take_down(&large(600)), Some(vec![600]));
    }
}
