//! The short text of lessons, tasks and answers: a key, a version, a lesson's word, and fields by name.
//!
//! ```text
//! learn=1.soft.distance=1.5&behind=4
//! ```
//! A field's value is written with the percent signs of links (RFC 3986, section 2.1) for all but letters, digits, `-`, `.`
//! and `_`, so that a text goes through mail and messengers as it is.

use std::fmt::Write as _;

use language::say;

use super::Lesson;
use super::link::LessonLinkError;
use crate::kit_file::RecordError;

/// The version that this program writes.
const VERSION: u64 = 1;
/// The longest text that is read, characters: chosen because a kit takes a few thousand.
const LONGEST: usize = 30_000;

/// A text being written.
pub(super) struct Written(String);

/// What was read of a text.
#[derive(Debug)]
pub(super) struct Fields {
    pub(super) lesson: Lesson,
    pairs: Vec<(String, String)>,
}

impl Written {
    pub(super) fn new(key: &str, lesson: Lesson) -> Self {
        Self(format!("{key}={VERSION}.{}", lesson.word()))
    }

    pub(super) fn add(&mut self, name: &str, value: &str) {
        // The first dot after the lesson's word and the signs between fields never stand in a value's place.
        self.0.push(if self.0.matches('=').count() == 1 { '.' } else { '&' });
        self.0.push_str(name);
        self.0.push('=');
        for (at, byte) in value.bytes().enumerate() {
            // A full stop at the end would be taken for that of the sentence that a link stands in.
            let is_plain = matches!(byte, b'-' | b'_') || byte == b'.' && at + 1 < value.len();
            if byte.is_ascii_alphanumeric() || is_plain {
                self.0.push(char::from(byte));
            } else {
                // Writing to a String cannot fail.
                write!(self.0, "%{byte:02X}").unwrap_or_default();
            }
        }
    }

    pub(super) fn add_number(&mut self, name: &str, value: f64) {
        self.add(name, &value.to_string());
    }

    pub(super) fn into_text(self) -> String {
        self.0
    }
}

impl Fields {
    /// Reads a text that begins with that key; a whole link and the `#` itself do as well.
    pub(super) fn read(key: &'static str, link: &str) -> Result<Self, LessonLinkError> {
        let link = link.rsplit('#').next().unwrap_or(link);
        // Mail breaks long lines and puts brackets and full stops after links.
        let link: String = link.split_whitespace().collect();
        let link = link.trim_end_matches(|letter: char| {
            !(letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_'))
        });
        if link.len() > LONGEST {
            let told = say!("has {} characters, and at most {LONGEST} are read", link.len());
            return Err(field("text", told));
        }
        // Some programs write the signs between fields in their own way, and then percent signs too.
        let link = if link.contains('=') { link.to_owned() } else { decoded(link) };
        let none = LessonLinkError::NoLink { key };
        let rest = link.strip_prefix(key).and_then(|rest| rest.strip_prefix('='));
        let (version, rest) = rest.and_then(|rest| rest.split_once('.')).ok_or_else(|| none.clone())?;
        match version.parse() {
            Ok(VERSION) => {}
            Ok(version) if version > VERSION => return Err(LessonLinkError::Newer { version }),
            Ok(_) | Err(_) => return Err(none),
        }
        let (word, rest) = rest.split_once('.').unwrap_or((rest, ""));
        let lesson =
            Lesson::of_word(word).ok_or_else(|| LessonLinkError::NoSuchLesson { word: short(word) })?;
        let mut pairs: Vec<(String, String)> = Vec::new();
        for part in rest.split('&').filter(|part| !part.is_empty()) {
            let (name, value) = part.split_once('=').unwrap_or((part, ""));
            let name = decoded(name);
            if pairs.iter().any(|(known, _)| *known == name) {
                return Err(field(&short(&name), say!("is given twice: ask for the link again")));
            }
            pairs.push((name, decoded(value)));
        }
        Ok(Self { lesson, pairs })
    }

    /// The value of that field, if it is there and not empty.
    pub(super) fn text(&self, name: &str) -> Option<&str> {
        self.pairs
            .iter()
            .find(|(known, value)| known == name && !value.is_empty())
            .map(|(_, value)| value.as_str())
    }

    /// The number of that field; none if it is not there.
    pub(super) fn number(&self, name: &str) -> Result<Option<f64>, LessonLinkError> {
        let Some(text) = self.text(name) else { return Ok(None) };
        // Some people write a decimal comma.
        let number = text.replace(',', ".").parse::<f64>().ok().filter(|value| value.is_finite());
        number.map(Some).ok_or_else(|| field(name, say!("`{}` is not a number", short(text))))
    }
}

/// An error of one field.
pub(super) fn field(name: &str, message: impl std::fmt::Display) -> LessonLinkError {
    LessonLinkError::Field(RecordError::at(name, message))
}

/// A text from outside on one line and short enough for it.
pub(super) fn short(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).take(40).collect()
}

/// A text with its percent signs resolved; what is no such sign, or no text afterwards, is left as it is.
fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let [first, after @ ..] = rest {
        let escaped = match (first, after) {
            (b'%', [high, low, after @ ..]) => {
                hex(*high).zip(hex(*low)).map(|(high, low)| (high * 16 + low, after))
            }
            (_, _) => None,
        };
        let (byte, after) = escaped.unwrap_or((*first, after));
        bytes.push(byte);
        rest = after;
    }
    String::from_utf8(bytes).unwrap_or_else(|_not_text| text.to_owned())
}

fn hex(digit: u8) -> Option<u8> {
    let value = char::from(digit).to_digit(16)?;
    u8::try_from(value).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn any_value_comes_back(value in "\\PC{0,30}", other in -1e6..1e6_f64) {
            let mut written = Written::new("learn", Lesson::TheLine);
            written.add("who", &value);
            written.add_number("other", other);
            let text = written.into_text();
            prop_assert!(text.is_ascii() && !text.contains(' '), "{text}");
            let fields = Fields::read("learn", &text).expect("as written");
            prop_assert_eq!(fields.text("who").unwrap_or_default(), value);
            prop_assert_eq!(fields.number("other").expect("a number"), Some(other));
        }

        #[test]
        fn any_text_is_read_or_refused(text in "(learn=1\\.soft\\.)?\\PC{0,60}") {
            let _read = Fields::read("learn", &text);
        }
    }

    #[test]
    fn a_field_given_twice_and_one_that_is_no_number_are_named() {
        let twice = Fields::read("learn", "learn=1.soft.behind=4&behind=5").expect_err("twice");
        assert_eq!(twice.to_string(), "behind: is given twice: ask for the link again");
        let fields = Fields::read("learn", "learn=1.soft.behind=far").expect("read");
        assert_eq!(fields.number("behind").expect_err("a word").to_string(), "behind: `far` is not a number");
        let comma = Fields::read("learn", "learn=1.soft.behind=4,5").expect("read");
        assert_eq!(comma.number("behind").expect("a number"), Some(4.5));
    }
}
