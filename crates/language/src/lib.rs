//! What the program says to people: in the language and the manner that they chose.
//!
//! English stands in the code, where it is read; [`say!`] marks it, and is for people what `format!` is for machines. The
//! other languages are catalogues in `presets/words`, one text for each that is marked; `cargo xtask tidy` sees to it that
//! none is missing or left over.
//!
//! What is spoken is settled once, before anything is said, by [`speak`]; from then on it is a constant of the process.

mod catalogue;
mod manner;
mod tongue;

use std::cell::Cell;
use std::fmt::Display;
use std::sync::OnceLock;

pub use catalogue::Catalogue;
/// Marks a text that people read, and says it in the language that is spoken: a `&'static str`, or with values in their
/// places a `String`.
///
/// Values are written as by `format!`; those with a precision have the decimal mark of whoever reads them. Where one English
/// word has two meanings, what the text is about comes first.
///
/// # Examples
/// ```
/// use language::say;
/// let (name, far) = ("Ana", 1.25);
/// assert_eq!(say!("Try again"), "Try again");
/// assert_eq!(say!("{name} is {far:.1} m away"), "Ana is 1.2 m away");
/// assert_eq!(say!("{} of {}", 1, 2), "1 of 2");
/// assert_eq!(say!(in "a lens", "wide"), "wide");
/// ```
///
/// Every value has its place:
/// ```compile_fail
/// language::say!("{} of all", 1, 2);
/// ```
pub use language_macros::say;
pub use manner::{ClockFace, DecimalMark, Manner, Number, Rounded};
pub use tongue::Tongue;

/// What is spoken, and how numbers are written.
#[derive(Debug, Default)]
pub struct Spoken {
    /// The language.
    pub tongue: Tongue,
    /// Its texts; none for English.
    pub catalogue: Catalogue,
    /// How numbers and times are written.
    pub manner: Manner,
}

/// Between what a text is about and the text, as in gettext's own files.
const ABOUT: char = '\u{4}';

static SPOKEN: OnceLock<Spoken> = OnceLock::new();

thread_local! {
    static FOR_FILES: Cell<bool> = const { Cell::new(false) };
}

impl Spoken {
    /// What another module of the program has settled: the language's tag, its texts as its catalogue has them, each after the
    /// English one, the decimal mark, and how many hours clocks have.
    pub fn handed_on(tag: &str, words: Vec<String>, mark: char, hours: u8) -> Self {
        let mut words = words.into_iter();
        let pairs = std::iter::from_fn(|| Some((words.next()?, words.next()?)));
        Self {
            tongue: Tongue::of(tag).unwrap_or_default(),
            catalogue: Catalogue::new(pairs),
            manner: Manner {
                mark: if mark == DecimalMark::Comma.sign() { DecimalMark::Comma } else { DecimalMark::Point },
                face: if hours == ClockFace::Twelve.hours() {
                    ClockFace::Twelve
                } else {
                    ClockFace::TwentyFour
                },
            },
        }
    }
}

/// Settles what is spoken from now on. Whatever was settled before stays.
pub fn speak(spoken: Spoken) {
    SPOKEN.get_or_init(|| spoken);
}

/// Writes what files have, whoever reads them: in English, with points, and by clocks of twenty-four hours.
pub fn for_files<Written>(write: impl FnOnce() -> Written) -> Written {
    let before = FOR_FILES.replace(true);
    let written = write();
    FOR_FILES.set(before);
    written
}

fn spoken() -> Option<&'static Spoken> {
    SPOKEN.get().filter(|_| !FOR_FILES.get())
}

/// The language that is spoken.
pub fn tongue() -> Tongue {
    spoken().map_or(Tongue::English, |spoken| spoken.tongue)
}

/// How numbers and times are written.
pub fn manner() -> Manner {
    spoken().map_or_else(Manner::default, |spoken| spoken.manner)
}

/// A text that [`key!`] marks, in the language that is spoken.
pub fn text(english: &'static str) -> &'static str {
    translated(english).copied().unwrap_or_else(|| english.rsplit(ABOUT).next().unwrap_or(english))
}

/// The text of the catalogue, if there is one.
fn translated(key: &str) -> Option<&'static &'static str> {
    spoken()?.catalogue.get(key)
}

/// Marks a text that is said elsewhere by [`text`], because it stands in a constant.
///
/// # Examples
/// ```
/// const SIDES: [&str; 2] = [language::key!("left"), language::key!("right")];
/// assert_eq!(language::text(SIDES[0]), "left");
/// ```
#[macro_export]
macro_rules! key {
    ($english:literal) => {
        $english
    };
    (in $about:literal, $english:literal) => {
        ::core::concat!($about, "\u{4}", $english)
    };
}

/// What [`say!`] makes of a text: by reference, as a reference to one is half as large to pass and to hand back, and there
/// are thousands of them.
#[doc(hidden)]
#[inline(never)]
pub fn said(english: &'static &'static str) -> &'static &'static str {
    translated(english).unwrap_or(english)
}

/// The same for one that is known by what it is about too.
#[doc(hidden)]
#[inline(never)]
pub fn said_about(key: &str, english: &'static &'static str) -> &'static &'static str {
    translated(key).unwrap_or(english)
}

/// What [`say!`] makes of a text with values in their places.
#[doc(hidden)]
#[inline(never)]
pub fn fill(english: &'static &'static str, values: &[&dyn Display]) -> String {
    filled(said(english), english, values)
}

/// The same for one that is known by what it is about too.
#[doc(hidden)]
#[inline(never)]
pub fn fill_about(key: &str, english: &'static &'static str, values: &[&dyn Display]) -> String {
    filled(said_about(key, english), english, values)
}

fn filled(said: &str, english: &str, values: &[&dyn Display]) -> String {
    let mut filled = String::with_capacity(said.len() + 16);
    for piece in pieces(said) {
        match piece {
            Piece::Text(text) => filled.push_str(text),
            Piece::Value(name) => {
                if let Some(value) = names(english).position(|one| one == name).and_then(|at| values.get(at))
                {
                    filled.push_str(&value.to_string());
                }
            }
        }
    }
    filled
}

/// A part of a text.
enum Piece<'text> {
    Text(&'text str),
    Value(&'text str),
}

/// The parts of a text, in which braces written twice stand for themselves.
fn pieces(text: &str) -> impl Iterator<Item = Piece<'_>> {
    let mut rest = text;
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        let at = rest.find(['{', '}']).unwrap_or(rest.len());
        if at > 0 {
            let (plain, after) = rest.split_at(at);
            rest = after;
            return Some(Piece::Text(plain));
        }
        let brace = &rest[..1];
        if rest[1..].starts_with(brace) {
            rest = &rest[2..];
            return Some(Piece::Text(brace));
        }
        let end = rest.find('}').unwrap_or(rest.len());
        let name = rest.get(1..end).unwrap_or_default();
        rest = rest.get(end + 1..).unwrap_or_default();
        Some(Piece::Value(name))
    })
}

/// What a text's values are called, each once, in the order in which they first stand there.
fn names(text: &str) -> impl Iterator<Item = &str> {
    let mut known: Vec<&str> = Vec::new();
    pieces(text).filter_map(move |piece| match piece {
        Piece::Value(name) if !known.contains(&name) => {
            known.push(name);
            Some(name)
        }
        Piece::Value(_) | Piece::Text(_) => None,
    })
}
