//! Which shot of a film Set-up shows, and the ways from there: to the story, to its neighbours, back in time, or apart.

use film::{Film, ShotId};
use language::say;
use leptos::prelude::*;

use super::follow::{follow_kit_of_film, keep_in_step, leave, open};
use crate::films::Desk;
use crate::later::WayOut;
use crate::session::{OfShot, Plan, Session};
use crate::story::back::UndoRedo;
use crate::story::words::missing;
use crate::widgets::{live, when};

/// The bar over a set-up that is of a film's shot.
#[component]
pub(crate) fn OfShotBar(session: Session) -> impl IntoView {
    let desk = Desk::here();
    let way_out = use_context::<WayOut>();
    keep_in_step(session);
    follow_kit_of_film(session, desk);
    let refused = RwSignal::new(None);
    let number = Memo::new(move |_| session.plan.with(Plan::shot_number));
    let neighbours = Memo::new(move |_| {
        desk.film.with(|film| {
            film.as_ref().zip(number.get()).map_or([None; 2], |(film, number)| neighbours(film, number))
        })
    });
    let trouble = Memo::new(move |_| {
        let of = session.plan.with(|plan| plan.of.clone());
        let trouble = of.and_then(|of| desk.film.with(|film| trouble(desk, film.as_ref(), &of)));
        refused.get().or(trouble)
    });
    let words = live(move || {
        session.plan.with(|plan| plan.of.as_ref().map_or_else(String::new, |of| of.words.clone()))
    });
    let step = move |name: &'static str, sign: &'static str, which: usize| {
        let target = move || neighbours.with(|both| both.get(which).copied().flatten());
        view! {
            <button
                type="button"
                aria-label=name
                title=name
                disabled=move || target().is_none()
                on:click=move |_| {
                    if let Some(shot) = untrack(target) {
                        refused.set(open(session, desk, shot).err());
                    }
                }
            >
                <span aria-hidden="true">{sign}</span>
            </button>
        }
    };
    view! {
        <div class="of-shot" role="group" aria-label=say!("The shot of the film")>
            <button type="button" on:click=move |_| leave(way_out)>{say!("Back to the story")}</button>
            <p class="of-shot-words" aria-live="polite">{words}</p>
            {step(say!("Previous shot"), "‹", 0)}
            {step(say!("Next shot"), "›", 1)}
            <UndoRedo desk />
            <button type="button" on:click=move |_| session.let_go()>{say!("Back to your own set-up")}</button>
            {when(
                move || trouble.with(Option::is_some),
                move || {
                    view! { <p class="of-shot-trouble" role="status">{live(move || trouble.get().unwrap_or_default())}</p> }
                        .into_any()
                },
            )}
        </div>
    }
}

/// The shots before and after that one in the film, over the borders of scenes.
fn neighbours(film: &Film, number: u64) -> [Option<ShotId>; 2] {
    let mut before = None;
    let mut shots = film.scenes.iter().flat_map(|scene| scene.shots.iter().map(|shot| shot.id));
    while let Some(shot) = shots.next() {
        if shot.number() == number {
            return [before, shots.next()];
        }
        before = Some(shot);
    }
    [None; 2]
}

/// Why what is changed here does not go into the film, if it does not.
fn trouble(desk: Desk, film: Option<&Film>, of: &OfShot) -> Option<String> {
    let shot = film.and_then(|film| Some((film, film.shot(ShotId::new(of.shot)?)?)));
    let Some((film, (scene, shot))) = shot else {
        let title = if of.film.is_empty() { say!("A film without a title") } else { &of.film };
        return Some(say!("{title} is not open, or has this shot no more: what you change stays here."));
    };
    match &*desk.rehearsal(film, scene, shot) {
        Ok(_) => None,
        Err(why) => Some(say!("What you change stays here: {}.", missing(film, *why))),
    }
}
