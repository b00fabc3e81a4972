//! A text with places for values, and the key that it has in catalogues.
//!
//! `xtask` reads this file too, so that it looks for the keys that the macro looks up.

use std::fmt;

/// A part of a text.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Piece<'text> {
    /// Text as it is read, where it stands for itself.
    Text(String),
    /// The place of a value, and how it is written there, as `std::fmt` has it.
    Value { name: Name, spec: &'text str },
}

/// What a value is called: as it is captured, or its place among those that are given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Name {
    Word(String),
    Number(usize),
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Word(word) => f.write_str(word),
            Self::Number(number) => write!(f, "{number}"),
        }
    }
}

/// Between what a text is about and the text, as in gettext's own files.
pub(crate) const ABOUT: &str = "\u{4}";

/// What a text is called in catalogues: itself, without the ways in which its values are written.
pub(crate) fn key_of(about: Option<&str>, english: &str) -> Result<String, &'static str> {
    let pieces = pieces(english)?;
    let has_values = pieces.iter().any(|piece| matches!(piece, Piece::Value { .. }));
    let mut key = about.map_or_else(String::new, |about| format!("{about}{ABOUT}"));
    for piece in pieces {
        match piece {
            Piece::Text(text) if has_values => key.push_str(&text.replace('{', "{{").replace('}', "}}")),
            Piece::Text(text) => key.push_str(&text),
            Piece::Value { name, .. } => key.extend(["{", &name.to_string(), "}"]),
        }
    }
    Ok(key)
}

/// The pieces of a text, in which `{{` and `}}` stand for themselves.
pub(crate) fn pieces(text: &str) -> Result<Vec<Piece<'_>>, &'static str> {
    let mut pieces = Vec::new();
    let mut plain = String::new();
    let mut next = 0;
    let mut rest = text;
    while let Some(at) = rest.find(['{', '}']) {
        plain.push_str(&rest[..at]);
        let from = &rest[at..];
        if from.starts_with("{{") || from.starts_with("}}") {
            plain.push_str(&from[..1]);
            rest = &from[2..];
            continue;
        }
        let end = from.find('}').filter(|end| *end > 0).ok_or("a brace stands alone; write it twice")?;
        if !plain.is_empty() {
            pieces.push(Piece::Text(std::mem::take(&mut plain)));
        }
        let (name, spec) = from[1..end].split_once(':').unwrap_or((&from[1..end], ""));
        let name = if name.is_empty() {
            next += 1;
            Name::Number(next - 1)
        } else {
            name.parse().map_or_else(|_| Name::Word(name.to_owned()), Name::Number)
        };
        pieces.push(Piece::Value { name, spec });
        rest = &from[end + 1..];
    }
    plain.push_str(rest);
    if !plain.is_empty() {
        pieces.push(Piece::Text(plain));
    }
    Ok(pieces)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_taken_apart() {
        let word = |word: &str, spec| Piece::Value { name: Name::Word(word.to_owned()), spec };
        let number = |number, spec| Piece::Value { name: Name::Number(number), spec };
        let plain = |text: &str| Piece::Text(text.to_owned());
        let found = pieces("{{so}} {far:.1} of {} and {:02}").unwrap();
        let expected = [
            plain("{so} "),
            word("far", ".1"),
            plain(" of "),
            number(0, ""),
            plain(" and "),
            number(1, "02"),
        ];
        assert_eq!(found, expected);
        assert_eq!(pieces("").unwrap(), []);
    }

    #[test]
    fn a_key_does_not_say_how_values_are_written() {
        assert_eq!(key_of(None, "{so:.1} {} {{m}}").unwrap(), "{so} {0} {{m}}");
        assert_eq!(key_of(None, "{{m}}").unwrap(), "{m}");
        assert_eq!(key_of(Some("a lens"), "wide").unwrap(), "a lens\u{4}wide");
    }

    #[test]
    fn a_lone_brace_is_refused() {
        for text in ["{", "a } b", "{open"] {
            assert!(pieces(text).is_err(), "{text}");
        }
    }
}
