//! A figure's label that opens on what stands behind the figure: what it means, how it is computed, and its source.
//!
//! It is the browser's own popover: a tap or Enter opens it, Escape or a tap beside it closes it, and nothing here listens.
//! The texts of a screen are in its `explanations.rs`, each once.

use std::cell::Cell;

use language::{key, say};
use leptos::prelude::*;

use super::live;

/// What stands behind a figure.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Explanation {
    /// What it means for the shot.
    pub(crate) means: &'static str,
    /// How it is computed.
    pub(crate) computed: Computed,
    /// Where that is from: titles as in `crates/optics/REFERENCES.md`, or one of the words below.
    pub(crate) sources: &'static [&'static str],
}

/// How a figure is computed, in words.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Computed {
    /// A text that [`key!`] marks.
    As(&'static str),
    /// A text that takes its constants from where the figure is computed.
    With(fn() -> String),
}

/// A rule of the trade.
pub(crate) const COMMON_PRACTICE: &str = key!("common practice");
/// Nothing but what the words mean.
pub(crate) const DEFINITION: &str = key!("its definition");
/// Nothing but lengths and angles.
pub(crate) const GEOMETRY: &str = key!("plane geometry");

pub(crate) const EXIF: &str = "Exif version 2.32";
pub(crate) const METERS: &str = "ISO 2720:1974";
pub(crate) const SUN_POSITION: &str = "Solar Position Algorithm for Solar Radiation Applications";
pub(crate) const UNCERTAINTY: &str = "Guide to the expression of uncertainty in measurement";
pub(crate) const WEIGHTS: &str = "On least squares and linear combination of observations";

thread_local! {
    /// Popovers are found by their id, and one text may stand at several figures.
    static NEXT: Cell<u32> = const { Cell::new(0) };
}

impl Computed {
    fn told(self) -> String {
        match self {
            Self::As(words) => language::text(words).to_owned(),
            Self::With(told) => told(),
        }
    }
}

/// The label, and what it opens.
pub(crate) fn explained(label: impl Into<Signal<String>>, of: &'static Explanation) -> AnyView {
    let (label, text) = label_and_text(label.into(), of);
    view! {
        {label}
        {text}
    }
    .into_any()
}

/// The label as a heading under a title of the screen, and what it opens.
pub(crate) fn explained_heading(label: impl Into<Signal<String>>, of: &'static Explanation) -> AnyView {
    let (label, text) = label_and_text(label.into(), of);
    view! {
        <h3>{label}</h3>
        {text}
    }
    .into_any()
}

/// Both apart, for labels that stand where a text cannot.
pub(crate) fn label_and_text(label: Signal<String>, of: &'static Explanation) -> (AnyView, AnyView) {
    let number = NEXT.get();
    NEXT.set(number.wrapping_add(1));
    let id = format!("explanation-{number}");
    // So it is not taken for a button that does what its label says.
    let name = live(move || say!("{}: what it means", label.get()));
    let button = view! {
        <button type="button" class="explained" popovertarget=id.clone() aria-label=name>{label}</button>
    };
    let sources = of.sources.iter().map(|source| language::text(source)).collect::<Vec<_>>().join("; ");
    let text = view! {
        <div class="explanation" id=id popover="auto">
            <p>{language::text(of.means)}</p>
            <p><span class="quiet">{say!("Computed: ")}</span>{of.computed.told()}</p>
            <p><span class="quiet">{say!("Source: ")}</span>{sources}</p>
        </div>
    };
    (button.into_any(), text.into_any())
}

#[cfg(test)]
mod tests {
    use super::*;

    const REFERENCES: &str = include_str!("../../../crates/optics/REFERENCES.md");

    /// The texts of each screen, and its file.
    fn screens() -> [(&'static [&'static Explanation], &'static str); 5] {
        [
            (&crate::light::EXPLANATIONS, include_str!("../light/explanations.rs")),
            (&crate::day::EXPLANATIONS, include_str!("../day/explanations.rs")),
            (&crate::story::EXPLANATIONS, include_str!("../story/explanations.rs")),
            (&crate::recce::EXPLANATIONS, include_str!("../recce/explanations.rs")),
            (&crate::kit::EXPLANATIONS, include_str!("../kit/explanations.rs")),
        ]
    }

    /// How many sentences a text has: stops at its end or before a blank and a capital.
    fn sentences(text: &str) -> usize {
        let letters: Vec<char> = text.chars().collect();
        let ends = |at: usize| match letters.get(at + 1..) {
            Some([' ', next, ..]) => next.is_uppercase(),
            Some([]) => true,
            _ => false,
        };
        letters.iter().enumerate().filter(|(at, letter)| **letter == '.' && ends(*at)).count()
    }

    #[test]
    fn every_figure_has_a_meaning_a_computation_and_a_source() {
        for (all, _) in screens() {
            for Explanation { means, computed, sources } in all {
                for text in [*means, computed.told().as_str()] {
                    assert!(text.ends_with('.'), "no sentence: {text}");
                    assert!(text.chars().count() > 20, "too short: {text}");
                    assert!(sentences(text) <= 3, "{} sentences: {text}", sentences(text));
                }
                assert!(!sources.is_empty(), "no source: {means}");
            }
        }
    }

    #[test]
    fn every_source_is_a_title_of_the_references_or_needs_none() {
        for (all, _) in screens() {
            for source in all.iter().flat_map(|one| one.sources) {
                let needs_none = [COMMON_PRACTICE, DEFINITION, GEOMETRY].contains(source);
                assert!(needs_none || REFERENCES.contains(source), "{source} is not in REFERENCES.md");
            }
        }
    }

    #[test]
    fn every_text_of_a_screen_is_among_those_and_none_is_said_twice() {
        let mut told: Vec<String> = Vec::new();
        for (all, file) in screens() {
            assert_eq!(file.matches(": Explanation = ").count(), all.len(), "of {file}");
            told.extend(all.iter().flat_map(|one| [one.means.to_owned(), one.computed.told()]));
        }
        let count = told.len();
        told.sort_unstable();
        told.dedup();
        assert_eq!(told.len(), count);
    }
}
