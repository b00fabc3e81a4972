//! A lens that another one took the place of, and the way back.

use film::{KitRecord, LensRecord, RecordError};
use language::say;
use leptos::prelude::*;

use crate::kit::part::{Part as _, keys, put, usable};
use crate::kit::put_back::PutBack;
use crate::session::Session;
use crate::story::words::sentence_of;

/// A lens that another one took the place of.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Displaced {
    /// The name of the kit that it was in.
    kit: Option<String>,
    index: usize,
    lens: LensRecord,
}

impl Displaced {
    /// The lens that a kit had where it has another one now; none where that one was added.
    pub(super) fn of(before: &KitRecord, now: &KitRecord) -> Option<Self> {
        if before.lenses.len() != now.lenses.len() {
            return None;
        }
        let index = before.lenses.iter().zip(&now.lenses).position(|(one, other)| one != other)?;
        let lens = before.lenses.get(index)?.clone();
        Some(Self { kit: before.name.clone(), index, lens })
    }

    fn name(&self) -> String {
        self.lens.shown_name(self.index)
    }

    /// The kit with it back: in the place of what has its name now, or else beside what took its place.
    fn put_back(&self, now: &KitRecord) -> Result<KitRecord, RecordError> {
        let name = self.name();
        if let Some(key) = keys::<LensRecord>(now).into_iter().find(|key| key.name == name) {
            return put(now, Some(&key), self.lens.clone());
        }
        let mut changed = now.clone();
        changed.lenses.insert(self.index.min(changed.lenses.len()), self.lens.clone());
        usable(changed)
    }
}

/// Says which lens another one took the place of last, and puts it back.
#[component]
pub(super) fn DisplacedLens(session: Session, displaced: RwSignal<Option<Displaced>>) -> impl IntoView {
    let problem = RwSignal::new(None::<RecordError>);
    let bring_back = Callback::new(move |()| {
        let Some(lens) = displaced.get_untracked() else { return };
        match session.kit.with_untracked(|kit| lens.put_back(kit)) {
            Ok(kit) => {
                session.kit.set(kit);
                displaced.set(None);
                problem.set(None);
            }
            Err(error) => problem.set(Some(error)),
        }
    });
    // As long as it is of this kit, and not of one that was exchanged since.
    let name = Memo::new(move |_| {
        displaced.with(|lens| {
            let lens = lens.as_ref().filter(|lens| session.kit.with(|kit| kit.name == lens.kit))?;
            Some(lens.name())
        })
    });
    let line = move || {
        let name = name.get()?;
        let (words, label) = (say!("Replaced the earlier {name}."), say!("Put back {name}"));
        Some(view! { <PutBack words label back=bring_back /> })
    };
    view! {
        <div role="status">{line}</div>
        {move || problem.get().map(|error| view! { <p class="problem" role="alert">{sentence_of(&error.message)}</p> })}
    }
}

#[cfg(test)]
mod tests {
    use film::OriginRecord;

    use super::*;

    fn told(name: &str) -> LensRecord {
        LensRecord {
            name: Some(name.to_owned()),
            focal_length_mm: Some(6.8),
            focal_length_35mm_equivalent_mm: Some(24.0),
            f_number: Some(1.8),
            origin: Some(OriginRecord::Typed),
            ..LensRecord::default()
        }
    }

    #[test]
    fn a_typical_lens_that_a_typed_one_took_the_place_of_comes_back_whole() {
        let before = crate::session::first_kit();
        let now = put(&before, None, told("main")).expect("a kit");
        let displaced = Displaced::of(&before, &now).expect("the typical main lens");
        assert_eq!(displaced.lens.closest_focus_m, Some(0.2));
        assert_eq!(displaced.put_back(&now), Ok(before));
    }

    #[test]
    fn what_took_the_place_under_another_name_stays() {
        let before = crate::session::first_kit();
        let key = keys::<LensRecord>(&before).into_iter().find(|key| key.name == "main").expect("a lens");
        let now = put(&before, Some(&key), told("broad")).expect("a kit");
        let back = Displaced::of(&before, &now).expect("a lens").put_back(&now).expect("a kit");
        let names: Vec<_> = back.lenses.iter().filter_map(|lens| lens.name.as_deref()).collect();
        assert_eq!(names, ["ultra-wide", "main", "broad", "long"]);
    }

    #[test]
    fn a_lens_that_was_added_took_no_place() {
        let before = crate::session::first_kit();
        let now = put(&before, None, told("another")).expect("a kit");
        assert_eq!(Displaced::of(&before, &now), None);
    }
}
