//! Dressing the set: what is put on the floor, changed there, and taken back.

mod chosen;
mod light;

pub(crate) use chosen::ChosenItem;
pub(super) use chosen::DressPanel;
pub(crate) use light::LightSteps;
pub(super) use light::{Cautions, LightFold};

use std::cell::Cell;
use std::sync::Arc;

use language::{key, say};
use leptos::html;
use leptos::prelude::*;
use requests::{AgeRequest, MOST_PEOPLE, MOST_PIECES};
use staging::PieceKind;

use crate::canvas::{CanvasHost, Surface, WhileMoving};
use crate::draw::{Looking, draw_piece};
use crate::dressing::{Item, PLACES, Pose, piece_name};
use crate::later::{LaterSheet, Room};
use crate::pointing::CLOSER_STEP;
use crate::recce::{Photos, Recce};
use crate::scene::Scene;
use crate::session::{Plan, Session};
use crate::setup::plan::PlanDesk;
use crate::widgets::{Sheet, close};

/// Whom one can ask onto the set.
const PEOPLE: [(&str, AgeRequest, Pose); 6] = [
    (key!("adult, standing"), AgeRequest::Adult, Pose::Standing),
    (key!("adult, seated"), AgeRequest::Adult, Pose::Seated),
    (key!("adult, walking"), AgeRequest::Adult, Pose::Walking),
    (key!("child, standing"), AgeRequest::Child, Pose::Standing),
    (key!("child, seated"), AgeRequest::Child, Pose::Seated),
    (key!("child, walking"), AgeRequest::Child, Pose::Walking),
];

/// A button that does one thing.
fn button(name: &'static str, press: Box<dyn Fn()>) -> AnyView {
    view! { <button type="button" on:click=move |_| press()>{name}</button> }.into_any()
}

/// The buttons under the floor plan.
#[component]
pub(super) fn DressTools(desk: PlanDesk) -> impl IntoView {
    let session = desk.session;
    let asked = RwSignal::new(None);
    view! {
        <div class="plan-tools" role="group" aria-label=say!("The floor plan")>
            <button type="button" class="dress" aria-haspopup="dialog" on:click=move |_| asked.set(Some(Room::Dress))>
                {say!("Dress the set")}
            </button>
            <button
                type="button"
                disabled=move || !session.dressing.has_past()
                on:click=move |_| session.undo_set()
            >
                {say!("Undo")}
            </button>
            {button(say!("Zoom in"), Box::new(move || desk.look_closer(CLOSER_STEP)))}
            {button(say!("Zoom out"), Box::new(move || desk.look_closer(1.0 / CLOSER_STEP)))}
            <Show when=move || desk.looking.get() != Looking::FITTING>
                {button(say!("Fit"), Box::new(move || desk.looking.set(Looking::FITTING)))}
            </Show>
        </div>
        <LaterSheet session asked />
    }
}

/// What can be put on the set.
#[component]
pub(crate) fn DressSheet(
    session: Session,
    scene: Memo<Option<Arc<Scene>>>,
    node: NodeRef<html::Dialog>,
) -> impl IntoView {
    // What comes is seen at once: the sheet goes, and it is chosen.
    let change = move |what: &'static str, change: &dyn Fn(&mut Plan)| {
        session.select(None);
        session.change_set(None, what, change);
        session.dressing.end_change();
        close(node);
    };
    let add = move |add: &dyn Fn(&mut Plan, Option<&Scene>) -> Item| {
        // Asked before the plan changes, which it is made from.
        let scene = scene.get_untracked();
        let added = Cell::new(None);
        change("add", &|plan| added.set(Some(add(plan, scene.as_deref()))));
        session.select(added.get());
    };
    let count = move |which: fn(&requests::BlockingRequest) -> usize| {
        session.plan.with(|plan| plan.set().map_or(0, which))
    };
    let has_many_pieces = Memo::new(move |_| count(|set| set.pieces.len()) >= MOST_PIECES);
    let has_many_people = Memo::new(move |_| count(|set| set.people.len()) >= MOST_PEOPLE);
    let is_bare = Memo::new(move |_| session.plan.with(|plan| !plan.is_dressed()));
    let pieces = PieceKind::ALL.map(|kind| {
        view! {
            <button
                type="button"
                class="piece"
                disabled=has_many_pieces
                on:click=move |_| add(&|plan, scene| plan.add_piece(kind, scene))
            >
                <PieceDrawing session kind />
                {piece_name(kind)}
            </button>
        }
    });
    let people = PEOPLE.map(|(name, age, pose)| {
        view! {
            <button
                type="button"
                disabled=has_many_people
                on:click=move |_| add(&|plan, scene| plan.add_person(age, pose, scene))
            >
                {language::text(name)}
            </button>
        }
    });
    // Of all changes of the plan only this one has other photos.
    let of_shot = Memo::new(move |_| session.plan.with(Plan::shot_number));
    let places = PLACES.each_ref().map(|place| {
        button(language::text(place.name), Box::new(move || change("place", &|plan| plan.go_to(place))))
    });
    view! {
        <Sheet node title=say!("Dress the set")>
            <section class="dress-part">
                <h3>{say!("A piece")}</h3>
                <div class="pieces">{pieces.collect_view()}</div>
            </section>
            <section class="dress-part">
                <h3>{say!("Somebody else")}</h3>
                <div class="people">{people.collect_view()}</div>
            </section>
            <section class="dress-part">
                <h3>{say!("Or a whole place")}</h3>
                <div class="places">{places.collect_view()}</div>
            </section>
            <section class="dress-part">
                <h3>{say!("Or a photo of the real one")}</h3>
                {move || {
                    let recce = match of_shot.get() {
                        None => Some(Recce::of_setup(session)),
                        Some(shot) => Recce::of_shot(session, shot),
                    };
                    match recce {
                        Some(recce) => view! { <Photos recce /> }.into_any(),
                        None => view! {
                            <p class="quiet">{say!("Say in Light where this scene plays; photos are kept with the \
                                  place.")}</p>
                        }
                        .into_any(),
                    }
                }}
            </section>
            <button type="button" disabled=is_bare on:click=move |_| change("clear", &Plan::clear_set)>
                {say!("Clear the set")}
            </button>
            <Show when=move || has_many_pieces.get() || has_many_people.get()>
                <p class="quiet">
                    {say!("A set holds {MOST_PIECES} pieces and {MOST_PEOPLE} other people at the most.")}
                </p>
            </Show>
        </Sheet>
    }
}

/// A piece from above, small.
#[component]
fn PieceDrawing(session: Session, kind: PieceKind) -> impl IntoView {
    let shows = Signal::derive(move || session.palette.track());
    let draw = move |surface: &Surface| session.palette.with(|palette| draw_piece(surface, palette, kind));
    view! {
        <span aria-hidden="true">
            <CanvasHost node=NodeRef::new() shows draw=Box::new(draw) while_moving=WhileMoving::Follows label="" class="piece-drawing" />
        </span>
    }
}
