//! The tapes: a colour for each person, of their clothes and of their mark on the floor.

/// Each tape's name, and its colour in the picture: sRGB. The floor plan shows the theme's own shade of it.
pub(crate) const TAPES: [(&str, [u8; 3]); 6] = [
    ("blue", [0x2f, 0x6f, 0x8f]),
    ("rust", [0xb5, 0x53, 0x3c]),
    ("green", [0x4f, 0x7a, 0x4c]),
    ("plum", [0x7c, 0x4d, 0x78]),
    ("sand", [0xc4, 0xb0, 0x8a]),
    ("grey", [0x6f, 0x6a, 0x60]),
];

/// The style that shows each of the tapes.
pub(crate) const TAPE_CLASSES: [&str; TAPES.len()] =
    ["tape tape-1", "tape tape-2", "tape tape-3", "tape tape-4", "tape tape-5", "tape tape-6"];

/// Which of the tapes a colour is.
pub(crate) fn tape_of(srgb: [u8; 3]) -> Option<usize> {
    TAPES.iter().position(|(_, bytes)| *bytes == srgb)
}

#[cfg(test)]
mod tests {
    use requests::BlockingRequest;
    use staging::Subject;

    use super::*;
    use crate::session::{Plan, first_kit};

    #[test]
    fn whoever_is_not_dressed_wears_a_tape() {
        let kit = first_kit().to_kit().expect("a preset");
        let plan = Plan::first();
        let shot = plan.compare(&kit).first().expect("a row").result.shot;
        assert!(matches!(shot.subject, Subject::Person(_)), "{shot:?}");
        let blocking = BlockingRequest::default().to_blocking(&shot).expect("nothing is said");
        assert_eq!(blocking.clothes.map(|colour| tape_of(colour.to_srgb8())), [Some(0), Some(1)]);
    }
}
