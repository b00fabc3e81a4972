//! What a file does not say, why, and what to do about it.

use std::fmt;

use language::say;

use super::{FileKind, PhotoFacts};
use crate::wording::listed;

/// A fact that a lens needs and a file lacks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MissingFact {
    /// Focal length.
    FocalLength,
    /// f-number.
    FNumber,
    /// 35 mm-equivalent.
    Equivalent35mm,
    /// Width and height in pixels.
    PixelSize,
}

impl MissingFact {
    /// What it is called, in words.
    pub fn name(self) -> &'static str {
        match self {
            Self::FocalLength => say!("focal length"),
            Self::FNumber => say!("f-number"),
            Self::Equivalent35mm => say!("35 mm-equivalent"),
            Self::PixelSize => say!("size in pixels"),
        }
    }
}

impl fmt::Display for MissingFact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl PhotoFacts {
    /// The facts that a lens needs and this file lacks.
    pub fn missing(&self) -> Vec<MissingFact> {
        let sized = self.width_px.is_some() && self.height_px.is_some();
        let facts = [
            (self.focal_length_mm.is_some(), MissingFact::FocalLength),
            (self.f_number.is_some(), MissingFact::FNumber),
            (self.equivalent_35mm_mm.is_some(), MissingFact::Equivalent35mm),
            (sized, MissingFact::PixelSize),
        ];
        facts.into_iter().filter(|(known, _)| !known).map(|(_, fact)| fact).collect()
    }

    /// What is missing, why that happens and what to do, for a person to read; nothing if nothing is missing.
    pub fn missing_notice(&self) -> Option<String> {
        let missing = self.missing();
        if missing.is_empty() {
            return None;
        }
        let what = listed(&missing.iter().map(|fact| fact.name()).collect::<Vec<_>>());
        let it = match missing.len() {
            1 => say!(in "what a photo does not say", "it"),
            _ => say!(in "what a photo does not say", "them"),
        };
        Some(match self.kind {
            FileKind::Jpeg | FileKind::Heic => say!(
                "This photo does not say its {what}. Messengers and social apps strip such data from photos, editors \
                 may drop it, and screenshots never have it. Use the original from the phone that took it, sent as a \
                 file rather than as a photo, or type {it} in."
            ),
            FileKind::Mov | FileKind::Mp4 => say!(
                "This clip does not say its {what}. Most phones write no lens data into clips, and messengers strip \
                 what there is. Use a still photo taken with the same lens at the same zoom, or type {it} in."
            ),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complete(kind: FileKind) -> PhotoFacts {
        PhotoFacts {
            focal_length_mm: Some(5.1),
            f_number: Some(1.8),
            equivalent_35mm_mm: Some(26.0),
            width_px: Some(4000),
            height_px: Some(3000),
            ..PhotoFacts::unknown(kind)
        }
    }

    #[test]
    fn a_complete_file_needs_no_notice() {
        assert_eq!(complete(FileKind::Jpeg).missing(), []);
        assert_eq!(complete(FileKind::Jpeg).missing_notice(), None);
    }

    #[test]
    fn a_size_needs_both_sides() {
        let facts = PhotoFacts { height_px: None, ..complete(FileKind::Heic) };
        assert_eq!(facts.missing(), [MissingFact::PixelSize]);
    }

    #[test]
    fn the_notice_says_what_why_and_what_to_do() {
        let stripped = PhotoFacts { focal_length_mm: None, f_number: None, ..complete(FileKind::Jpeg) };
        assert_eq!(
            stripped.missing_notice().as_deref(),
            Some(
                "This photo does not say its focal length and f-number. Messengers and social apps strip such data \
                 from photos, editors may drop it, and screenshots never have it. Use the original from the phone \
                 that took it, sent as a file rather than as a photo, or type them in."
            )
        );
    }

    #[test]
    fn a_clip_is_told_to_bring_a_still() {
        let clip = PhotoFacts { equivalent_35mm_mm: None, ..complete(FileKind::Mov) };
        assert_eq!(
            clip.missing_notice().as_deref(),
            Some(
                "This clip does not say its 35 mm-equivalent. Most phones write no lens data into clips, and \
                 messengers strip what there is. Use a still photo taken with the same lens at the same zoom, or \
                 type it in."
            )
        );
    }
}
