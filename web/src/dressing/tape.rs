//! The tapes: a colour for each person, of their clothes and of their mark on the floor.

use language::key;
use requests::ColourRequest;

use super::Item;
use crate::session::Plan;

/// Each tape's name, and its colour in the picture: sRGB. The floor plan shows the theme's own shade of it.
pub(crate) const TAPES: [(&str, [u8; 3]); 6] = [
    (key!("blue"), [0x2f, 0x6f, 0x8f]),
    (key!("rust"), [0xb5, 0x53, 0x3c]),
    (key!("green"), [0x4f, 0x7a, 0x4c]),
    (key!("plum"), [0x7c, 0x4d, 0x78]),
    (key!("sand"), [0xc4, 0xb0, 0x8a]),
    (key!("grey"), [0x6f, 0x6a, 0x60]),
];

/// The style that shows each of the tapes.
pub(crate) const TAPE_CLASSES: [&str; TAPES.len()] =
    ["tape tape-1", "tape tape-2", "tape tape-3", "tape tape-4", "tape tape-5", "tape tape-6"];

/// Which of the tapes a colour is.
pub(crate) fn tape_of(srgb: [u8; 3]) -> Option<usize> {
    TAPES.iter().position(|(_, bytes)| *bytes == srgb)
}

impl Plan {
    /// Which of the tapes somebody's clothes are; none if they are another colour, or a thing.
    pub(crate) fn tape(&self, item: Item) -> Option<usize> {
        let set = self.set();
        let (colour, usual) = match item {
            Item::Subject => (set.and_then(|set| set.clothes), 0),
            Item::Second => (set.and_then(|set| set.second_clothes), 1),
            Item::Person(at) => (self.person(at)?.clothes, TAPES.len() - 1),
            Item::Piece(_) => return None,
        };
        colour.map_or(Some(usual), |colour| tape_of(colour.0))
    }

    /// Dresses somebody in one of the tapes' colours.
    pub(crate) fn set_tape(&mut self, item: Item, tape: usize) {
        let Some((_, bytes)) = TAPES.get(tape) else { return };
        let clothes = Some(ColourRequest(*bytes));
        match item {
            Item::Subject => self.set_mut().clothes = clothes,
            Item::Second => self.set_mut().second_clothes = clothes,
            Item::Person(at) => {
                if let Some(person) = self.person_mut(at) {
                    person.clothes = clothes;
                }
            }
            Item::Piece(_) => {}
        }
    }

    /// A colour that nobody has yet, or that of whom nobody looks at.
    pub(super) fn free_tape(&self) -> usize {
        let items = self.items();
        let is_free = |tape: &usize| !items.iter().any(|(item, _)| self.tape(*item) == Some(*tape));
        (1..TAPES.len()).find(is_free).unwrap_or(TAPES.len() - 1)
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec3;
    use requests::{AgeRequest, BlockingRequest};
    use staging::Subject;

    use super::*;
    use crate::dressing::{Pose, somebody};
    use crate::scene::tests::result_of;

    #[test]
    fn whoever_is_not_dressed_wears_a_tape() {
        let shot = result_of(&Plan::first()).shot;
        assert!(matches!(shot.subject, Subject::Person(_)), "{shot:?}");
        let blocking = BlockingRequest::default().to_blocking(&shot).expect("nothing is said");
        assert_eq!(blocking.clothes.map(|colour| tape_of(colour.to_srgb8())), [Some(0), Some(1)]);
    }

    #[test]
    fn a_newcomer_wears_what_nobody_wears_yet() {
        let mut plan = Plan::first();
        for expected in [1, 2, 3, 4, 5, 5] {
            let tape = plan.free_tape();
            assert_eq!(tape, expected);
            plan.set_mut().people.push(somebody(DVec3::Y, 0.0, AgeRequest::Adult, Pose::Standing, tape));
        }
    }
}
