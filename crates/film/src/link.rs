//! A film inside a link: the text after the `#`, which browsers keep to themselves, so that no server sees the film.
//!
//! The text is `film=1`, a letter for each thing that was chosen (`n` names of the cast, `c` where on earth places are), a
//! dot, and the film: its record as JSON without spaces, compressed as a zlib stream, in the base64 of links
//! (RFC 4648, section 5, without padding). zlib (RFC 1950) ends with a checksum, which tells a damaged link from a whole one.

mod stand_in;

use std::fmt;

use base64::engine::general_purpose::{GeneralPurpose, NO_PAD};
use base64::{DecodeError, Engine as _, alphabet};
use language::say;
use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_zlib_with_limit};

use crate::film::Film;
use crate::film_file::{CastRecord, FilmRecord, LARGEST_FILE, OpenFilmError, OpenedFilm, open_film};
pub(crate) use crate::link::stand_in::{is_said, stand_in};

/// What a link says of people and places. What is not chosen is left out.
///
/// Notes, actions, titles and what places are called go as they are written: nothing searches them for names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LinkContents {
    /// What the cast is called; everybody is "Person 1", "Person 2" and so on without.
    pub names: bool,
    /// Where on earth the places are, with their time zones and what hides the sun there.
    pub coordinates: bool,
}

/// A film from a link.
#[derive(Debug, Clone, PartialEq)]
pub struct LinkedFilm {
    /// The film, and what of it could not be used.
    pub opened: OpenedFilm,
    /// What was chosen to be in the link.
    pub contents: LinkContents,
}

/// A film does not fit into a link.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LinkTooLong {
    /// The characters that it would have after the `#`.
    pub characters: usize,
}

/// Why nothing can be made of a link.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OpenLinkError {
    /// There is no film in it.
    NotAFilmLink,
    /// A newer program made it.
    Newer {
        /// The version that it says.
        version: u64,
    },
    /// Its end is missing.
    CutOff,
    /// Something in it was changed on its way.
    Damaged,
    /// It unfolds to more bytes than any film has.
    TooLarge,
    /// What was in it is no film that can be opened.
    Film(OpenFilmError),
}

/// The most characters of a link after the `#`: 30000, chosen because a widely used browser engine is reported to hand on at most
/// 32768 characters of an address; this leaves room for the page's own.
///
/// Some messengers take less: 2000 to 65536 characters a message, from memory. A file is for what they cut.
pub const LONGEST_LINK: usize = 30_000;

/// The version that this program writes.
const VERSION: u64 = 1;
/// What a film's link begins with.
const KEY: &str = "film=";
/// The thorough end of the compressor's scale of 0 to 10: chosen because a film takes it some milliseconds.
pub(crate) const EFFORT: u8 = 9;
/// A link that was cut off may end with half of a byte, which is no fault of its letters.
pub(crate) const LINK_BASE64: GeneralPurpose =
    GeneralPurpose::new(&alphabet::URL_SAFE, NO_PAD.with_decode_allow_trailing_bits(true));

impl fmt::Display for LinkTooLong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&say!(
            "the link would have {} characters, and at most {LONGEST_LINK} are allowed: \
             pass the film as a file, which has no such limit",
            self.characters
        ))
    }
}

impl std::error::Error for LinkTooLong {}

impl fmt::Display for OpenLinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotAFilmLink => {
                f.write_str(say!("this link has no film in it: film= and a version are missing after the #"))
            }
            Self::Newer { version } => f.write_str(&say!(
                "the link is of version {version}, newer than this program, which reads up to {VERSION}; update the \
                 program and open the link again"
            )),
            Self::CutOff => f.write_str(say!(
                "the end of the link is missing: it was cut off on its way; ask for it again, or for the film as a file"
            )),
            Self::Damaged => {
                f.write_str(say!("the link was changed on its way; ask for it again, or for the film as a file"))
            }
            Self::TooLarge => {
                f.write_str(&say!("the link unfolds to more than the {LARGEST_FILE} bytes that a film has at most"))
            }
            Self::Film(error) => f.write_str(&say!("what is in the link cannot be opened: {error}")),
        }
    }
}

impl std::error::Error for OpenLinkError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Film(error) => Some(error),
            Self::NotAFilmLink | Self::Newer { .. } | Self::CutOff | Self::Damaged | Self::TooLarge => None,
        }
    }
}

/// What stands after the `#` of a link that holds the film; the same film and contents always give the same text.
///
/// # Errors
/// Says how long it would be if that is more than [`LONGEST_LINK`].
pub fn film_link(film: &Film, contents: LinkContents) -> Result<String, LinkTooLong> {
    let text = written(film, contents);
    if text.len() <= LONGEST_LINK { Ok(text) } else { Err(LinkTooLong { characters: text.len() }) }
}

/// Opens what stands after the `#` of a link; a whole link and the `#` itself do as well.
///
/// # Errors
/// Says why nothing can be made of it. What can be made up for is a problem of the opened film.
pub fn open_link(link: &str) -> Result<LinkedFilm, OpenLinkError> {
    let link = link.rsplit('#').next().unwrap_or(link);
    // Mail breaks long lines, and some programs write the sign after the key in their own way.
    let link: String = link.split_whitespace().collect::<String>().replacen("%3D", "=", 1);
    let (tag, data) =
        link.strip_prefix(KEY).and_then(|link| link.split_once('.')).ok_or(OpenLinkError::NotAFilmLink)?;
    let digits = tag.bytes().take_while(u8::is_ascii_digit).count();
    let (version, letters) = tag.split_at_checked(digits).ok_or(OpenLinkError::NotAFilmLink)?;
    match version.parse() {
        Ok(VERSION) => {}
        Ok(version) if version > VERSION => return Err(OpenLinkError::Newer { version }),
        Ok(_) | Err(_) => return Err(OpenLinkError::NotAFilmLink),
    }
    let contents = LinkContents { names: letters.contains('n'), coordinates: letters.contains('c') };
    // A bracket or a full stop that a text has after a link is not of the link.
    let is_of_link = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '-' | '_');
    let data = data.trim_end_matches(|letter| !is_of_link(letter));
    let opened = open_film(&unfolded(data)?).map_err(OpenLinkError::Film)?;
    Ok(LinkedFilm { opened, contents })
}

/// The text, however long it is.
fn written(film: &Film, contents: LinkContents) -> String {
    let mut record = FilmRecord::from(film);
    if !contents.names {
        for (at, person) in record.cast.iter_mut().enumerate() {
            // What a newer program wrote of somebody may be a name.
            *person =
                CastRecord { name: stand_in(at + 1), unknown: serde_json::Map::new(), ..person.clone() };
        }
    }
    if !contents.coordinates {
        for place in &mut record.places {
            place.spot = None;
            place.unknown.clear();
        }
    }
    // Records hold text, numbers and names of fields, all of which can be written.
    let json = serde_json::to_string(&record).unwrap_or_default();
    let names = if contents.names { "n" } else { "" };
    let coordinates = if contents.coordinates { "c" } else { "" };
    let mut text = format!("{KEY}{VERSION}{names}{coordinates}.");
    LINK_BASE64.encode_string(compress_to_vec_zlib(json.as_bytes(), EFFORT), &mut text);
    text
}

/// The film's file as it was before it was made short.
pub(crate) fn unfolded(data: &str) -> Result<Vec<u8>, OpenLinkError> {
    // One character alone is less than a byte: a link that was cut off there says so when it is inflated.
    let whole = if data.len() % 4 == 1 { data.get(..data.len() - 1).unwrap_or_default() } else { data };
    let bytes = LINK_BASE64.decode(whole).map_err(|_damaged: DecodeError| OpenLinkError::Damaged)?;
    inflated(&bytes)
}

fn inflated(bytes: &[u8]) -> Result<Vec<u8>, OpenLinkError> {
    decompress_to_vec_zlib_with_limit(bytes, LARGEST_FILE).map_err(|error| {
        let ran_out =
            [TINFLStatus::FailedCannotMakeProgress, TINFLStatus::NeedsMoreInput].contains(&error.status);
        match ran_out {
            true => OpenLinkError::CutOff,
            false if error.status == TINFLStatus::HasMoreOutput => OpenLinkError::TooLarge,
            false => OpenLinkError::Damaged,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Film, demo_film};

    const ALL: LinkContents = LinkContents { names: true, coordinates: true };

    fn link(contents: LinkContents) -> String {
        film_link(&demo_film(), contents).expect("the demo film is short")
    }

    fn opened(link: &str) -> Film {
        let linked = open_link(link).expect("as written");
        assert_eq!(linked.opened.problems, []);
        linked.opened.film
    }

    /// A link of any version that holds those bytes.
    fn link_of(version: &str, bytes: &[u8]) -> String {
        format!("film={version}.{}", LINK_BASE64.encode(compress_to_vec_zlib(bytes, EFFORT)))
    }

    #[test]
    fn the_demo_film_comes_through_unchanged() {
        assert_eq!(opened(&link(ALL)), demo_film());
        assert_eq!(open_link(&link(ALL)).expect("as written").contents, ALL);
    }

    #[test]
    fn a_link_opens_however_it_was_pasted() {
        let link = link(ALL);
        let (start, rest) = link.split_at(100);
        for pasted in [
            format!("#{link}"),
            format!("https://films.example/plan/#{link}"),
            format!("  {start}\r\n {rest}\n"),
            format!("<https://films.example/#{link}>."),
            link.replacen('=', "%3D", 1),
        ] {
            assert_eq!(opened(&pasted), demo_film(), "{pasted}");
        }
    }

    #[test]
    fn names_and_coordinates_are_left_out_unless_chosen() {
        let mut film = demo_film();
        let spot = crate::Spot {
            coordinates: crate::Coordinates::new(38.7, -9.1, 0.0).expect("on earth"),
            time_zone: "Europe/Lisbon".to_owned(),
            horizon: crate::HorizonProfile::LEVEL,
        };
        film.places = film
            .places
            .iter()
            .map(|place| crate::Place { spot: Some(spot.clone()), ..place.clone() })
            .collect();
        let text = film_link(&film, LinkContents::default()).expect("short");
        assert!(text.starts_with("film=1."), "{text}");
        let film = opened(&text);
        for (at, person) in film.cast.iter().enumerate() {
            assert_eq!(person.name, format!("Person {}", at + 1));
            assert_eq!(person.id, demo_film().cast[at].id, "whoever it is stays known");
        }
        assert!(film.places.iter().all(|place| place.spot.is_none()));
        let json = String::from_utf8(unfolded(&text["film=1.".len()..]).expect("as written")).expect("UTF-8");
        assert!(!json.contains("Europe/") && !json.contains("latitude"), "{json}");
        assert!(link(LinkContents { names: false, coordinates: true }).starts_with("film=1c."));
    }

    #[test]
    fn a_link_that_was_cut_off_anywhere_says_so() {
        let link = link(ALL);
        let from = link.find('.').expect("a dot") + 1;
        for end in (from..link.len()).step_by(17).chain(link.len() - 12..link.len()) {
            assert_eq!(open_link(&link[..end]), Err(OpenLinkError::CutOff), "{end} of {}", link.len());
        }
    }

    #[test]
    fn a_link_with_a_letter_changed_is_never_taken_for_whole() {
        let link = link(ALL);
        let from = link.find('.').expect("a dot") + 1;
        for at in (from..link.len() - 1).step_by(7) {
            let other = if &link[at..=at] == "A" { "B" } else { "A" };
            let changed = format!("{}{other}{}", &link[..at], &link[at + 1..]);
            let error = open_link(&changed).expect_err("it was changed");
            assert!(matches!(error, OpenLinkError::Damaged | OpenLinkError::CutOff), "{at}: {error}");
        }
        let middle = link.len() / 2;
        let changed = format!("{}!{}", &link[..middle], &link[middle..]);
        assert_eq!(open_link(&changed), Err(OpenLinkError::Damaged));
    }

    #[test]
    fn what_is_no_film_link_says_so() {
        for link in
            ["", "#", "film", "film=", "film=1", "film=.AAAA", "film=x.AAAA", "film=0.AAAA", "#/story"]
        {
            assert_eq!(open_link(link), Err(OpenLinkError::NotAFilmLink), "{link}");
        }
    }

    #[test]
    fn a_link_or_a_film_of_a_newer_program_says_so() {
        assert_eq!(open_link("film=2.AAAA"), Err(OpenLinkError::Newer { version: 2 }));
        let newer = link_of("1nc", br#"{"format_version": 9, "title": "Later"}"#);
        assert_eq!(open_link(&newer), Err(OpenLinkError::Film(OpenFilmError::Newer { version: 9 })));
        let none = link_of("1nc", b"a letter");
        assert_eq!(open_link(&none), Err(OpenLinkError::Film(OpenFilmError::NotJson)));
    }

    #[test]
    fn a_link_that_unfolds_to_more_than_any_film_is_refused() {
        let bomb = link_of("1nc", &vec![b' '; LARGEST_FILE + 1]);
        assert!(bomb.len() < 100_000, "{}", bomb.len());
        assert_eq!(open_link(&bomb), Err(OpenLinkError::TooLarge));
    }

    #[test]
    fn a_film_beyond_the_limit_says_how_long_its_link_would_be() {
        let mut film = demo_film();
        let facts = std::sync::Arc::make_mut(&mut film.facts);
        // Numbers one after the other hardly compress.
        facts.line = (0_u32..20_000).map(|at| at.wrapping_mul(2_654_435_761).to_string()).collect();
        let error = film_link(&film, ALL).expect_err("it is long");
        assert!(error.characters > LONGEST_LINK, "{error:?}");
        assert!(
            error.to_string().contains("at most 30000") && error.to_string().contains("as a file"),
            "{error}"
        );
    }
}
