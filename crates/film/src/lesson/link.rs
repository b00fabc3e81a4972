//! A lesson as it stands inside a link: the text after the `#`.
//!
//! The text is `learn=1`, a dot, the lesson's word, a dot, and its handles by name, with the lens if one was chosen and the
//! kit if it was asked for. What is absent is as it usually is, and names that this program does not know are left alone.

use std::fmt;

use language::say;

use super::fields::{Fields, Written, field, short};
use super::packed::{KIT, packed, unpacked};
use super::{Handle, Lesson};
use crate::kit::Kit;
use crate::kit_file::{RecordError, within_range};

/// Where a lesson stands: plain values, without the kit that it is seen on.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonState {
    /// Which.
    pub lesson: Lesson,
    /// Where its handles are, in their order.
    pub values: Vec<f64>,
    /// The lens, by its name in the kit; the main one if none was chosen.
    pub lens: Option<String>,
}

/// What a link holds.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonLink {
    /// Where the lesson stands.
    pub state: LessonState,
    /// The kit that it is to be seen on; that of whoever opens it if none was put in.
    pub kit: Option<Kit>,
}

/// Why nothing can be made of a link to a lesson or a task, or of an answer.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LessonLinkError {
    /// There is none in it.
    NoLink {
        /// What it would begin with.
        key: &'static str,
    },
    /// A newer program made it.
    Newer {
        /// The version that it says.
        version: u64,
    },
    /// There is no lesson of that word.
    NoSuchLesson {
        /// The word.
        word: String,
    },
    /// A field cannot be used.
    Field(RecordError),
}

/// What a lesson's link begins with.
const KEY: &str = "learn";
/// The longest name of a lens that is read, characters: as kits have it.
const LONGEST_NAME: usize = 100;

impl fmt::Display for LessonLinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoLink { key } => f.write_str(&say!(
                "there is nothing of a lesson in it: {key}= and a version are missing; copy all of it"
            )),
            Self::Newer { version } => f.write_str(&say!(
                "it is of version {version}, newer than this program: update the program and open it again"
            )),
            Self::NoSuchLesson { word } => {
                let known: Vec<&str> = Lesson::ALL.into_iter().map(Lesson::word).collect();
                f.write_str(&say!("there is no lesson called `{word}`: {}", known.join(", ")))
            }
            Self::Field(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for LessonLinkError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Field(error) => Some(error),
            Self::NoLink { .. } | Self::Newer { .. } | Self::NoSuchLesson { .. } => None,
        }
    }
}

impl LessonState {
    /// A lesson as it is at first.
    pub fn usual(lesson: Lesson) -> Self {
        Self { lesson, values: lesson.usual_values(), lens: None }
    }

    /// Its handles, each with its value.
    pub fn handles(&self) -> impl Iterator<Item = (&'static Handle, f64)> {
        let handles = self.lesson.handles().iter().enumerate();
        handles.map(|(place, handle)| (handle, self.values.get(place).copied().unwrap_or(handle.usual)))
    }

    /// Adds what differs from what is usual.
    pub(super) fn write(&self, written: &mut Written) {
        for (handle, value) in self.handles() {
            written.add_number(handle.word, rounded(handle, value));
        }
        if let Some(lens) = &self.lens {
            written.add("lens", lens);
        }
    }

    /// Reads it, refusing values beyond a handle's range.
    pub(super) fn read(fields: &Fields) -> Result<Self, LessonLinkError> {
        let lesson = fields.lesson;
        let values = lesson.handles().iter().map(|handle| {
            let Some(value) = fields.number(handle.word)? else { return Ok(handle.usual) };
            within_range(handle.word, value, handle.min, handle.max, handle.unit)
                .map_err(LessonLinkError::Field)
        });
        let values = values.collect::<Result<_, _>>()?;
        let lens = fields.text("lens").map(str::to_owned);
        if let Some(name) = lens.as_ref().filter(|name| name.chars().count() > LONGEST_NAME) {
            return Err(field("lens", say!("`{}…` is longer than any lens is called", short(name))));
        }
        Ok(Self { lesson, values, lens })
    }
}

/// A value without the digits that only its making left: a ten-thousandth is finer than any handle's step.
fn rounded(handle: &Handle, value: f64) -> f64 {
    libm::round(handle.held(value) * 1e4) / 1e4
}

/// What stands after the `#` of a link that opens exactly that state; on that kit if it is put in, else on that of whoever
/// opens it.
pub fn lesson_link(state: &LessonState, kit: Option<&Kit>) -> String {
    let mut written = Written::new(KEY, state.lesson);
    state.write(&mut written);
    if let Some(kit) = kit {
        written.add(KIT, &packed(kit));
    }
    written.into_text()
}

/// Opens what stands after the `#` of a link; a whole link and the `#` itself do as well.
///
/// # Errors
/// Says what is wrong, naming the field. What is absent is as it usually is.
pub fn open_lesson_link(link: &str) -> Result<LessonLink, LessonLinkError> {
    let fields = Fields::read(KEY, link)?;
    let state = LessonState::read(&fields)?;
    let kit = fields.text(KIT).map(unpacked).transpose()?;
    Ok(LessonLink { state, kit })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::kits;
    use proptest::prelude::*;

    fn state() -> LessonState {
        LessonState { values: vec![0.75, 12.0], ..LessonState::usual(Lesson::SoftBackground) }
    }

    #[test]
    fn a_link_is_short_and_readable() {
        assert_eq!(lesson_link(&state(), None), "learn=1.soft.distance=0.75&behind=12");
        let long = LessonState { lens: Some("long & far".to_owned()), ..state() };
        let link = lesson_link(&long, None);
        assert_eq!(link, "learn=1.soft.distance=0.75&behind=12&lens=long%20%26%20far");
        assert_eq!(open_lesson_link(&link).expect("as written").state, long);
    }

    #[test]
    fn a_link_opens_however_it_was_pasted_and_without_what_is_usual() {
        let link = lesson_link(&state(), None);
        let (start, rest) = link.split_at(12);
        for pasted in [
            format!("#{link}"),
            format!("https://films.example/learn/#{link}"),
            format!("  {start}\r\n {rest}\n"),
            format!("<https://films.example/#{link}>."),
            link.replace('=', "%3D").replace('&', "%26"),
            format!("{link}&theme=dark"),
        ] {
            assert_eq!(open_lesson_link(&pasted).expect("a link").state, state(), "{pasted}");
        }
        for short in ["learn=1.soft", "learn=1.soft.", "learn=1.soft.lens="] {
            assert_eq!(
                open_lesson_link(short).expect("a link").state,
                LessonState::usual(Lesson::SoftBackground),
                "{short}"
            );
        }
    }

    #[test]
    fn the_kit_goes_along_only_where_it_is_asked_for() {
        for kit in kits().iter().filter_map(|kit| kit.to_kit().ok()) {
            let link = lesson_link(&state(), Some(&kit));
            assert!(link.len() < 2000, "{} characters", link.len());
            assert_eq!(open_lesson_link(&link).expect("as written").kit, Some(kit));
        }
        assert_eq!(open_lesson_link(&lesson_link(&state(), None)).expect("as written").kit, None);
    }

    #[test]
    fn what_is_wrong_with_a_link_is_said() {
        let told = |link: &str| open_lesson_link(link).expect_err("refused").to_string();
        assert!(told("").starts_with("there is nothing of a lesson in it: learn="));
        assert!(told("film=1.AAAA").starts_with("there is nothing of a lesson in it"));
        assert!(told("learn=7.soft").starts_with("it is of version 7, newer than this program"));
        assert!(told("learn=1.bokeh").starts_with("there is no lesson called `bokeh`: soft, larger, "));
        assert_eq!(told("learn=1.soft.distance=99"), "distance: 99 m is not allowed: 0.3 to 5 m");
        assert!(told("learn=1.soft.kit=AAAA").starts_with("kit: was changed or cut off"));
        assert!(told(&format!("learn=1.soft.lens={}", "x".repeat(200))).starts_with("lens: `xxx"));
    }

    #[test]
    fn a_kit_cut_off_anywhere_says_so() {
        let kit = kits()[0].to_kit().expect("a kit");
        let link = lesson_link(&state(), Some(&kit));
        let from = link.find("kit=").expect("a kit") + 5;
        for end in (from..link.len()).step_by(13) {
            let told = open_lesson_link(&link[..end]).expect_err("cut off").to_string();
            assert!(told.starts_with("kit: was changed or cut off"), "{end}: {told}");
        }
    }

    proptest! {
        #[test]
        fn every_state_comes_back(which in 0..Lesson::ALL.len(), shares in [0.0..=1.0_f64, 0.0..=1.0], lens in proptest::option::of("[a-zé&=%# ]{1,20}")) {
            let lesson = Lesson::ALL[which];
            let values = lesson.handles().iter().zip(shares).map(|(handle, share)| {
                // On one of the handle's steps, as the page has it.
                handle.min + ((handle.max - handle.min) * share / handle.step).floor() * handle.step
            });
            let state = LessonState { lesson, values: values.collect(), lens };
            let back = open_lesson_link(&lesson_link(&state, None)).expect("as written").state;
            prop_assert_eq!(back.lesson, state.lesson);
            prop_assert_eq!(&back.lens, &state.lens);
            for (ours, theirs) in state.values.iter().zip(&back.values) {
                prop_assert!((ours - theirs).abs() < 1e-4, "{ours} {theirs}");
            }
            // Once it was in a link it is the same for ever.
            prop_assert_eq!(open_lesson_link(&lesson_link(&back, None)).expect("as written").state, back);
        }
    }
}
