//! What is to be seen in a lesson.

use staging::Stage;
use units::{Length, LengthUnit};

/// What is to be seen in a lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonSeen {
    /// The pictures: one, or two to compare.
    pub views: Vec<LessonView>,
    /// The figures, in the order of [`Lesson::figure_words`](crate::Lesson::figure_words).
    pub figures: Vec<LessonFigure>,
    /// What there is to see, with the figures in it.
    pub sentences: [String; 3],
    /// What to know beside them: a lens that cannot focus so near, the sun in the frame.
    pub note: Option<String>,
    /// The lens that it was seen on, by its name in the kit.
    pub lens: String,
}

/// One picture.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonView {
    /// Whose picture it is, where there are two; else empty.
    pub caption: String,
    /// What to draw.
    pub stage: Stage,
    /// Its width over its height.
    pub aspect: f64,
}

/// One figure.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonFigure {
    /// What it is known by in links.
    pub word: &'static str,
    /// What it is called.
    pub name: String,
    /// How much it is; none where that cannot be told.
    pub value: Option<f64>,
    /// What the value is in.
    pub unit: FigureUnit,
    /// The value in words, or why it cannot be told.
    pub told: String,
}

/// What the values of a figure are in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FigureUnit {
    /// Metres, here and in links; told in the unit that whoever reads it has for lengths.
    Metres,
    /// A unit that all readers share, by its sign; empty where the figure has none.
    Shared(&'static str),
}

impl LessonSeen {
    /// The figure of that word.
    pub fn figure(&self, word: &str) -> Option<&LessonFigure> {
        self.figures.iter().find(|figure| figure.word == word)
    }
}

impl LessonFigure {
    /// A figure, told by `told`; without a value, by `why_not`.
    pub(super) fn of(
        (word, name, unit): (&'static str, &str, impl Into<FigureUnit>),
        value: Option<f64>,
        told: impl FnOnce(f64) -> String,
        why_not: &str,
    ) -> Self {
        let value = value.filter(|value| value.is_finite());
        Self {
            word,
            name: name.to_owned(),
            value,
            unit: unit.into(),
            told: value.map_or_else(|| why_not.to_owned(), told),
        }
    }
}

impl FigureUnit {
    /// The sign of the unit in which a value is read by whoever has that unit for lengths.
    pub const fn sign(self, lengths: LengthUnit) -> &'static str {
        match self {
            Self::Metres => lengths.sign(),
            Self::Shared(sign) => sign,
        }
    }

    /// A value in the unit of [`Self::sign`].
    pub const fn read_in(self, value: f64, lengths: LengthUnit) -> f64 {
        match self {
            Self::Metres => Length::from_m(value).to(lengths),
            Self::Shared(_) => value,
        }
    }
}

impl From<&'static str> for FigureUnit {
    fn from(sign: &'static str) -> Self {
        Self::Shared(sign)
    }
}
