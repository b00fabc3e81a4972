//! The phone's lenses: a card each, and two ways to add one.

use film::{KitRecord, LensRecord};
use language::say;
use leptos::prelude::*;

use crate::kit::displaced::{Displaced, DisplacedLens};
use crate::kit::lens_figures::{LensFigure, lens_figures};
use crate::kit::lens_form::LensForm;
use crate::kit::part::{Key, Part as _, find, keys, names, remove};
use crate::kit::part_list::{AddFold, PartList};
use crate::kit::photos::PhotoDrop;
use crate::kit::put_back::PutBack;
use crate::kit::view_words::view_figures;
use crate::session::Session;
use crate::widgets::{explained, held};

/// The section of lenses.
#[component]
pub(super) fn Lenses(session: Session) -> impl IntoView {
    let displaced = RwSignal::new(None::<Displaced>);
    let typed = move |done| {
        let before = LensRecord::default();
        view! {
            <LensForm session target=None displaced before is_folded=false save=say!("Add lens") done />
        }
    };
    view! {
        <section class="kit-section" aria-labelledby="kit-lenses">
            <h2 id="kit-lenses">{say!("Lenses")}</h2>
            // Before the list: whoever comes first looks for a way to bring their own.
            <PhotoDrop session displaced />
            <AddFold label=say!("Type a lens in") content=move |done| typed(done).into_any() />
            <DisplacedLens session displaced />
            <p class="quiet">
                {say!("Sensor and 35 mm-equivalent are those of a whole photo; ± is one standard deviation.")}
            </p>
            <PartList<LensRecord> session body=lens_body form=lens_form />
            <TypicalLeft session />
        </section>
    }
}

/// What a lens's card says.
fn lens_body(session: Session, key: &Key, lens: &LensRecord) -> AnyView {
    let lens = lens.clone();
    let name = key.name.clone();
    let rows = move || {
        let row = |figure: LensFigure| {
            let label = match figure.behind {
                Some(of) => explained(figure.label.into_owned(), of),
                None => figure.label.into_any(),
            };
            view! {
                <div>
                    <dt>{label}</dt>
                    <dd>
                        <span>
                            {held(&figure.value)}
                            {figure.sd.map(|sd| view! { <span class="quiet">{held(&format!(" ± {sd}"))}</span> })}
                        </span>
                        <span class="kit-origin">{figure.origin}</span>
                    </dd>
                </div>
            }
        };
        let of_lens = lens_figures(&lens, session.unit().near());
        let of_views = session.owned.with(|kit| view_figures(kit, &name));
        of_lens.into_iter().chain(of_views).map(row).collect_view()
    };
    view! { <dl class="kit-figures kit-lens-figures">{rows}</dl> }.into_any()
}

fn lens_form(session: Session, key: Option<Key>, done: Callback<()>) -> AnyView {
    let before = session.kit.with_untracked(|kit| find(kit, key.as_ref()?));
    let before: LensRecord = before.unwrap_or_default();
    view! { <LensForm session target=Signal::stored(key) before is_folded=false save=say!("Save lens") done /> }
        .into_any()
}

/// Once a lens of their own is there, offers to take out those that are only typical.
#[component]
fn TypicalLeft(session: Session) -> impl IntoView {
    let mixed = Memo::new(move |_| session.kit.with(typical_among_own));
    let before = RwSignal::new(None::<KitRecord>);
    let take_out = move |_| {
        let kit = session.kit.get_untracked();
        let typical =
            keys::<LensRecord>(&kit).into_iter().zip(&kit.lenses).filter(|(_, lens)| lens.stands_in());
        let own = typical
            .map(|(key, _)| key)
            .try_fold(kit.clone(), |kit, key| remove::<LensRecord>(&kit, &key).map(|(kit, _)| kit));
        // The offer is made only where a lens of their own is left, so there is nothing to refuse.
        if let Ok(own) = own {
            before.set(Some(kit));
            session.kit.set(own);
        }
    };
    let bring_back = Callback::new(move |()| {
        if let Some(kit) = before.get_untracked() {
            session.kit.update(|now| with_typical_back(now, &kit));
            before.set(None);
        }
    });
    let is_undoable = Memo::new(move |_| {
        before.with(|before| before.as_ref().is_some_and(|kit| session.kit.with(|now| now.name == kit.name)))
    });
    view! {
        {move || mixed.get().map(|count| {
            let words = if count == 1 {
                say!("1 lens is typical of such a phone, not of yours.").to_owned()
            } else {
                say!("{count} lenses are typical of such a phone, not of yours.")
            };
            view! {
                <p class="kit-removed">
                    <span>{words}</span>
                    <button type="button" on:click=take_out>{say!("Keep only my own")}</button>
                </p>
            }
        })}
        <div role="status">
            {move || is_undoable.get().then(|| view! {
                <PutBack
                    words=say!("Removed the typical lenses.")
                    label=say!("Put back the typical lenses")
                    back=bring_back
                />
            })}
        </div>
    }
}

/// How many lenses are only typical, where others are the user's own.
fn typical_among_own(kit: &KitRecord) -> Option<usize> {
    let typical = kit.lenses.iter().filter(|lens| lens.stands_in()).count();
    (typical > 0 && typical < kit.lenses.len()).then_some(typical)
}

/// Puts the typical lenses of an earlier kit back where they stood, with their views; names taken since stay as they are.
fn with_typical_back(now: &mut KitRecord, before: &KitRecord) {
    let earlier = names::<LensRecord>(before).into_iter().zip(&before.lenses).enumerate();
    for (index, (name, lens)) in earlier.filter(|(_, (_, lens))| lens.stands_in()) {
        if names::<LensRecord>(now).contains(&name) {
            continue;
        }
        now.views.extend(before.views.iter().filter(|view| view.lens == name).cloned());
        now.lenses.insert(index.min(now.lenses.len()), lens.clone());
    }
}

#[cfg(test)]
mod tests {
    use film::OriginRecord;

    use super::*;

    #[test]
    fn the_offer_is_made_only_beside_a_lens_of_their_own() {
        let mut kit = crate::session::first_kit();
        assert_eq!(typical_among_own(&kit), None);
        kit.lenses[1].origin = Some(OriginRecord::File);
        assert_eq!(typical_among_own(&kit), Some(2));
        kit.lenses.retain(|lens| !lens.stands_in());
        assert_eq!(typical_among_own(&kit), None);
    }

    #[test]
    fn typical_lenses_come_back_where_they_stood() {
        let mut before = crate::session::first_kit();
        before.lenses[1].origin = Some(OriginRecord::File);
        let mut now = before.clone();
        now.lenses.retain(|lens| !lens.stands_in());
        with_typical_back(&mut now, &before);
        assert_eq!(now, before);
    }
}
