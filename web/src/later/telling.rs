//! What the two sides of the door tell each other, and how none hears its own voice.

use film::KitRecord;
use leptos::prelude::*;
use serde::{Deserialize, Serialize};

use crate::dressing::Item;
use crate::json;
use crate::session::{Plan, Session, Settings};

/// A change of what both sides know.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) enum Told {
    /// The kit.
    Kit(KitRecord),
    /// The settings.
    Settings(Settings),
    /// The plan, and what is chosen on the set.
    Plan {
        plan: Box<Plan>,
        selected: Option<Item>,
        marks_second: bool,
        /// To what the set was changed last, and what of it: so that it can be taken back.
        change: Option<(Option<Item>, String)>,
    },
}

/// The last text of each kind that has gone one way or the other: what comes again is an echo.
#[derive(Debug, Default)]
pub(super) struct Wire([Option<String>; 3]);

impl Told {
    const fn kind(&self) -> usize {
        match self {
            Self::Kit(_) => 0,
            Self::Settings(_) => 1,
            Self::Plan { .. } => 2,
        }
    }
}

impl Wire {
    /// The text to send; none for what has gone already.
    pub(super) fn put(&mut self, told: &Told) -> Option<String> {
        // Plain structs of text and finite numbers always have a text.
        let text = json::written(told)?;
        let last = self.0.get_mut(told.kind())?;
        if last.as_ref() == Some(&text) {
            return None;
        }
        *last = Some(text.clone());
        Some(text)
    }

    /// Takes on what the other side tells.
    pub(super) fn hear(&mut self, session: Session, text: &str) {
        let Some(told) = json::read::<Told>(text) else { return };
        if let Some(last) = self.0.get_mut(told.kind()) {
            *last = Some(text.to_owned());
        }
        session.take(told);
    }
}

/// Calls `tell` with whatever changes from now on.
pub(super) fn follow(session: Session, tell: Callback<Told>) {
    let watch = move |told: fn(Session) -> Told| {
        Effect::new(move |before: Option<()>| {
            let told = told(session);
            // Both sides begin with the same.
            if before.is_some() {
                tell.run(told);
            }
        });
    };
    watch(|session| Told::Kit(session.kit.get()));
    watch(|session| Told::Settings(session.settings.get()));
    watch(Session::tells_plan);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_told_once_is_not_told_again() {
        let told = Told::Settings(Settings::default());
        let mut wire = Wire::default();
        assert!(wire.put(&told).is_some());
        assert_eq!(wire.put(&told), None);
        let other = Told::Settings(Settings { lines: !Settings::default().lines, ..Settings::default() });
        assert!(wire.put(&other).is_some());
        assert!(wire.put(&told).is_some(), "what came back after a change is news");
    }
}
