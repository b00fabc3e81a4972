//! What can be said of somebody in a scene: where they look, how they hold themselves, where and how fast they walk.

use film::{Faces, Mark, PersonId, Way};
use language::{key, say};
use leptos::prelude::*;
use staging::Posture;

use super::parts::{MoveButtons, button, list, pressed, seconds_range, toggle};
use crate::story::floor::FloorDesk;
use crate::story::floor::blocking_edit::{looks, paces, sets_off, takes_posture, walks_on};
use crate::story::floor::shown::Shown;
use crate::story::floor::thing::Thing;
use crate::story::floor::twin::compass_on;
use crate::story::words::seconds;
use crate::widgets::{Choice, Choices, StepField, live, when};

/// Paces in plain words, metres a second: common practice has walks of 1.2 to 1.5; the others are chosen around it.
const PACES: [(&str, f64); 4] =
    [(key!("stroll"), 1.0), (key!("walk"), 1.4), (key!("hurry"), 2.0), (key!("run"), 4.0)];
/// Two paces nearer to each other than this are one, metres a second.
const SAME_PACE_M: f64 = 0.05;
/// The number that stands for no person in the list of whom somebody looks at: no id is as large.
const THAT_WAY: u64 = u64::MAX;

/// Something of somebody's mark, while they are in the scene.
fn of_mark<Told>(floor: FloorDesk, who: PersonId, tell: impl FnOnce(&Shown, &Mark) -> Told) -> Option<Told> {
    floor.of_shown(|shown| shown.scene.blocking.mark(who).map(|mark| tell(shown, mark))).flatten()
}

/// Something of somebody's way, if they walk.
fn of_way<Told>(floor: FloorDesk, who: PersonId, tell: impl FnOnce(&Way) -> Told) -> Option<Told> {
    of_mark(floor, who, |_, mark| mark.way.as_ref().map(tell)).flatten()
}

/// What can be said of somebody.
#[component]
pub(super) fn PersonPanel(floor: FloorDesk, who: PersonId) -> impl IntoView {
    let name = live(move || floor.of_shown(|shown| shown.film.name_of(who).to_owned()).unwrap_or_default());
    let posture = Signal::derive(move || of_mark(floor, who, |_, mark| mark.posture == Posture::Seated));
    let set_posture = move |seated: Option<bool>| {
        let posture = if seated == Some(true) { Posture::Seated } else { Posture::Standing };
        floor.change(|name| say!("Change the posture of {name}"), Thing::Person(who), &|shown| {
            Ok(takes_posture(&shown.scene.blocking, who, posture))
        });
    };
    let postures = [Choice::new(Some(false), say!("standing")), Choice::new(Some(true), say!("seated"))];
    view! {
        <section class="item" aria-label=name>
            <h3>{name}</h3>
            <MoveButtons floor />
            <LooksAt floor who />
            <Choices legend=say!("They are") choices=postures chosen=posture choose=set_posture />
            <Walks floor who />
            {pressed(
                live(move || say!("Take {} out of the scene", name.get())),
                Box::new(move || floor.remove(Thing::Person(who))),
            )}
        </section>
    }
}

/// Whom somebody looks at.
#[component]
fn LooksAt(floor: FloorDesk, who: PersonId) -> impl IntoView {
    let names = Memo::new(move |_| {
        let names = of_mark(floor, who, |shown, mark| {
            let way = match mark.faces {
                Faces::Towards(way) => say!("nobody: {}", compass_on(shown, way)),
                Faces::At(_) => say!("nobody: that way").to_owned(),
            };
            let others = shown.scene.blocking.marks.iter().filter(|other| other.who != who);
            let others = others.map(|other| (other.who.number(), shown.film.name_of(other.who).to_owned()));
            others.chain([(THAT_WAY, way)]).collect::<Vec<_>>()
        });
        names.unwrap_or_default()
    });
    let chosen = Signal::derive(move || {
        of_mark(floor, who, |_, mark| match mark.faces {
            Faces::At(other) => other.number(),
            Faces::Towards(_) => THAT_WAY,
        })
    });
    let choose = move |key: u64| {
        floor.change(|name| say!("Turn {name}"), Thing::Person(who), &|shown| {
            let blocking = &shown.scene.blocking;
            // Whoever looks at nobody looks on as they looked.
            let facing =
                || blocking.person_of(&shown.film.cast, who, shown.seconds).map(|person| person.facing);
            let other = PersonId::new(key).map(Faces::At);
            let faces = other.or_else(|| facing().map(Faces::Towards));
            Ok(faces
                .map_or_else(|| film::SceneBlocking::clone(blocking), |faces| looks(blocking, who, faces)))
        });
    };
    list(say!("Looks at"), names, chosen, Callback::new(choose))
}

/// Where, how fast and from when on somebody walks.
#[component]
fn Walks(floor: FloorDesk, who: PersonId) -> impl IntoView {
    let walks = Memo::new(move |_| of_way(floor, who, |_| ()).is_some());
    let is_laid = Signal::derive(move || floor.walker.get() == Some(who));
    let lay = move || floor.walker.set((!is_laid.get_untracked()).then_some(who));
    let walk_on = move || {
        floor.change(|name| say!("Change the way of {name}"), Thing::Person(who), &|shown| {
            walks_on(&shown.film, &shown.scene.blocking, who, shown.seconds)
        });
    };
    view! {
        <div class="floor-walk" role="group" aria-label=say!("Where they walk")>
            {button(say!("Walk on"), walk_on)}
            {toggle(say!("Tap where they walk to").to_owned(), is_laid, lay)}
        </div>
        {when(move || walks.get(), move || view! { <Walk floor who /> }.into_any())}
    }
}

/// What can be said of a walk.
#[component]
fn Walk(floor: FloorDesk, who: PersonId) -> impl IntoView {
    let paces_named =
        PACES.iter().enumerate().map(|(at, (name, _))| Choice::new(Some(at), language::text(name)));
    let pace = Signal::derive(move || {
        let pace = of_way(floor, who, |way| way.pace.to_m())?;
        PACES.iter().position(|(_, one)| (one - pace).abs() < SAME_PACE_M)
    });
    let set_pace = move |at: Option<usize>| {
        if let Some((_, metres)) = at.and_then(|at| PACES.get(at)) {
            floor.change(|name| say!("Change the pace of {name}"), Thing::Person(who), &|shown| {
                Ok(paces(&shown.scene.blocking, who, *metres))
            });
        }
    };
    let told = live(move || {
        let told = of_mark(floor, who, |_, mark| {
            let way = mark.way.as_ref()?;
            let lasts_s = way.lasts_s(mark.place);
            Some(say!("{:.1} m/s, {} on the way", way.pace.to_m(), seconds(lasts_s)))
        });
        told.flatten().unwrap_or_default()
    });
    let starts = Signal::derive(move || of_way(floor, who, |way| way.starts_s).unwrap_or(0.0));
    view! {
        <Corners floor who />
        <Choices legend=say!("Pace") choices=paces_named chosen=pace choose=set_pace />
        <p class="quiet">{told}</p>
        <StepField
            label=say!("Sets off")
            range=seconds_range(starts.get_untracked())
            step=0.5
            value=starts
            words=|at_s| say!("{} into the scene", seconds(at_s))
            set=move |at_s| {
                floor.change(|name| say!("Change the start of {name}"), Thing::Person(who), &|shown| {
                    Ok(sets_off(&shown.scene.blocking, who, at_s))
                });
            }
        />
    }
}

/// The corners of somebody's way, to be moved and removed by buttons.
#[component]
fn Corners(floor: FloorDesk, who: PersonId) -> impl IntoView {
    let count = Memo::new(move |_| of_way(floor, who, |way| way.corners.len()).unwrap_or(0));
    let corners = move || {
        let is = move |thing: Thing| Signal::derive(move || floor.chosen() == Some(thing));
        let start = Thing::Start(who);
        let corners = (0..count.get()).map(|at| {
            let corner = Thing::Corner(who, at);
            toggle(say!("Corner {}", at + 1), is(corner), move || floor.choose(Some(corner)))
        });
        let start = toggle(say!("Start").to_owned(), is(start), move || floor.choose(Some(start)));
        std::iter::once(start).chain(corners).collect_view()
    };
    let remove = move || {
        if let Some(corner @ Thing::Corner(..)) = untrack(|| floor.chosen()) {
            floor.remove(corner);
            floor.choose(Some(Thing::Person(who)));
        }
    };
    view! {
        <div class="floor-walk" role="group" aria-label=say!("Corners of the way")>
            {corners}
            {when(move || matches!(floor.chosen(), Some(Thing::Corner(..))), move || {
                button(say!("Remove the corner"), remove)
            })}
        </div>
    }
}
