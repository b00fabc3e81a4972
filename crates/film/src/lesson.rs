//! Lessons: short explanations to play with, on the learner's own phone and the same core as everything else.
//!
//! A lesson has one or two handles. What is to be seen, its figures and its three sentences are a pure function of a kit, a
//! choice of lens and where the handles are. Nothing here has a formula of its own: every figure is asked of the core.

use language::say;
use units::LengthUnit;

mod answer;
#[cfg(feature = "export")]
mod class_csv;
mod class_table;
mod depth;
mod fields;
mod handle;
mod larger;
mod line;
mod link;
mod on_kit;
mod packed;
mod scenery;
mod seen;
mod shutter;
mod sizes;
mod soft;
mod stand;
mod task;
mod told;
mod widescreen;

#[cfg(test)]
mod tests;

use crate::kit::Kit;

pub use answer::{LessonAnswer, answer_text, open_answer};
#[cfg(feature = "export")]
pub use class_csv::class_csv;
pub use class_table::{ClassTable, RefusedAnswer, class_table};
pub use handle::Handle;
pub use link::{LessonLink, LessonLinkError, LessonState, lesson_link, open_lesson_link};
pub use on_kit::NoLesson;
pub use seen::{FigureUnit, LessonFigure, LessonSeen, LessonView};
pub use task::{Goal, GoalWish, Judged, LessonTask, open_task, task_link};

/// A lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Lesson {
    /// Why the background will not blur, and what each thing that helps buys.
    SoftBackground,
    /// The same picture on a phone and on a larger camera, and the f-number that the phone would need.
    LargerCamera,
    /// The same size of face from another place: stand and lens, not zoom.
    WhereToStand,
    /// Shot sizes on a real body.
    ShotSizes,
    /// What the widescreen crop throws away, and what an adapter keeps and costs.
    Widescreen,
    /// Shutter angle, and why ND.
    Shutter,
    /// The line.
    TheLine,
    /// Depth without blur: something near the lens, and where the sun stands.
    DepthWithoutBlur,
}

impl Lesson {
    /// All of them, in the order in which they build on each other.
    pub const ALL: [Self; 8] = [
        Self::SoftBackground,
        Self::LargerCamera,
        Self::WhereToStand,
        Self::ShotSizes,
        Self::Widescreen,
        Self::Shutter,
        Self::TheLine,
        Self::DepthWithoutBlur,
    ];

    /// What it is known by in links.
    pub const fn word(self) -> &'static str {
        match self {
            Self::SoftBackground => "soft",
            Self::LargerCamera => "larger",
            Self::WhereToStand => "stand",
            Self::ShotSizes => "sizes",
            Self::Widescreen => "widescreen",
            Self::Shutter => "shutter",
            Self::TheLine => "line",
            Self::DepthWithoutBlur => "depth",
        }
    }

    /// The lesson of that word.
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|lesson| lesson.word() == word)
    }

    /// What it is called.
    pub fn title(self) -> &'static str {
        match self {
            Self::SoftBackground => say!("Why the background stays sharp"),
            Self::LargerCamera => say!("The same picture on a larger camera"),
            Self::WhereToStand => say!("Walk, don't zoom"),
            Self::ShotSizes => say!("How much of a person"),
            Self::Widescreen => say!("What widescreen costs"),
            Self::Shutter => say!("How long the shutter is open"),
            Self::TheLine => say!("Two people and the line"),
            Self::DepthWithoutBlur => say!("Depth without blur"),
        }
    }

    /// What can be moved in it: one or two.
    pub const fn handles(self) -> &'static [Handle] {
        match self {
            Self::SoftBackground => &soft::HANDLES,
            Self::LargerCamera => &larger::HANDLES,
            Self::WhereToStand => &stand::HANDLES,
            Self::ShotSizes => &sizes::HANDLES,
            Self::Widescreen => &widescreen::HANDLES,
            Self::Shutter => &shutter::HANDLES,
            Self::TheLine => &line::HANDLES,
            Self::DepthWithoutBlur => &depth::HANDLES,
        }
    }

    /// The words that its figures are known by, in the order in which [`Self::seen`] gives them.
    pub const fn figure_words(self) -> &'static [&'static str] {
        match self {
            Self::SoftBackground => &soft::FIGURES,
            Self::LargerCamera => &larger::FIGURES,
            Self::WhereToStand => &stand::FIGURES,
            Self::ShotSizes => &sizes::FIGURES,
            Self::Widescreen => &widescreen::FIGURES,
            Self::Shutter => &shutter::FIGURES,
            Self::TheLine => &line::FIGURES,
            Self::DepthWithoutBlur => &depth::FIGURES,
        }
    }

    /// Where its handles are at first.
    pub fn usual_values(self) -> Vec<f64> {
        self.handles().iter().map(|handle| handle.usual).collect()
    }

    /// What is to be seen on `kit` with the lens of that name, or its main lens, and the handles at `values`, by somebody who
    /// is told lengths in `unit`.
    ///
    /// A handle without a value is where it usually is, and one beyond its range is at its end.
    ///
    /// # Errors
    /// Says what the kit lacks, or that the framing cannot be had.
    pub fn seen(
        self,
        kit: &Kit,
        lens: Option<&str>,
        values: &[f64],
        unit: LengthUnit,
    ) -> Result<LessonSeen, NoLesson> {
        let on = on_kit::OnKit::of(kit, lens, unit)?;
        let at = |place: usize| {
            self.handles()
                .get(place)
                .map_or(0.0, |handle| values.get(place).map_or(handle.usual, |value| handle.held(*value)))
        };
        match self {
            Self::SoftBackground => soft::seen(&on, at(0), at(1)),
            Self::LargerCamera => larger::seen(&on, at(0), at(1)),
            Self::WhereToStand => stand::seen(&on, lens.is_some(), at(0), at(1)),
            Self::ShotSizes => sizes::seen(&on, at(0), at(1)),
            Self::Widescreen => widescreen::seen(&on, at(0), at(1)),
            Self::Shutter => shutter::seen(&on, at(0), at(1)),
            Self::TheLine => line::seen(&on, at(0)),
            Self::DepthWithoutBlur => depth::seen(&on, at(0), at(1)),
        }
    }
}
