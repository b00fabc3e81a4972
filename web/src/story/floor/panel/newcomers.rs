//! Who and what can come onto the floor.

use film::PersonId;
use language::say;
use leptos::html;
use leptos::prelude::*;
use staging::PieceKind;

use crate::canvas::{CanvasHost, Surface, WhileMoving};
use crate::draw::draw_piece;
use crate::dressing::piece_name;
use crate::session::Session;
use crate::story::floor::FloorDesk;
use crate::story::floor::blocking_edit::{adds_piece, enters, somebody_new};
use crate::story::floor::thing::Thing;
use crate::story::floor::twin::everybody;
use crate::widgets::{Sheet, SheetLeft, close, open};

/// What a sheet offers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Offer {
    People,
    Pieces,
}

/// The buttons that bring somebody or something, beside others.
#[component]
pub(super) fn Newcomers(session: Session, floor: FloorDesk, children: Children) -> impl IntoView {
    let asked = RwSignal::new(None::<Offer>);
    let ask = move |name: &'static str, offer: Offer| {
        view! {
            <button type="button" aria-haspopup="dialog" on:click=move |_| asked.set(Some(offer))>
                {name}
            </button>
        }
    };
    let sheet = move || {
        asked.get().map(|offer| {
            let node = NodeRef::<html::Dialog>::new();
            Effect::new(move |_| {
                if node.get().is_some() {
                    open(node);
                }
            });
            provide_context(SheetLeft(StoredValue::new_local(Box::new(move || asked.set(None)))));
            match offer {
                Offer::People => view! { <PeopleSheet floor node /> }.into_any(),
                Offer::Pieces => view! { <PiecesSheet session floor node /> }.into_any(),
            }
        })
    };
    view! {
        <div class="plan-tools" role="group" aria-label=say!("The floor")>
            {ask(say!("Add person"), Offer::People)}
            {ask(say!("Add piece"), Offer::Pieces)}
            {children()}
        </div>
        {sheet}
    }
}

/// Those of the cast who are not in the scene, and somebody new.
#[component]
fn PeopleSheet(floor: FloorDesk, node: NodeRef<html::Dialog>) -> impl IntoView {
    let (absent, present) = floor
        .of_shown_now(|shown| {
            let blocking = &shown.scene.blocking;
            let absent = shown.film.cast.iter().filter(|member| blocking.mark(member.id).is_none());
            let absent: Vec<(PersonId, String)> =
                absent.map(|member| (member.id, member.name.clone())).collect();
            (absent, everybody(&shown.film, blocking))
        })
        .unwrap_or_default();
    let comes = move |who: PersonId| {
        close(node);
        floor.change(|name| say!("Add {name}"), Thing::Person(who), &|shown| {
            enters(&shown.scene.blocking, who)
        });
        floor.choose_if_there(Thing::Person(who));
    };
    let somebody = move |_| {
        close(node);
        let id: PersonId = floor.desk.fresh();
        match floor.of_shown_now(|shown| somebody_new(&shown.film, &shown.scene, id)) {
            Some(Ok(command)) => floor.make(say!("Add somebody new"), Some(id.number()), command),
            Some(Err(refusal)) => return floor.refuse(refusal.to_string()),
            None => {}
        }
        floor.choose_if_there(Thing::Person(id));
    };
    let absent = absent.into_iter().map(move |(who, name)| {
        view! { <button type="button" on:click=move |_| comes(who)>{name}</button> }
    });
    let told = if present.is_empty() {
        say!("Nobody is in the scene yet.").to_owned()
    } else {
        say!("In the scene: {present}.")
    };
    view! {
        <Sheet node title=say!("Who comes into the scene")>
            <p class="quiet">{told}</p>
            <div class="people">
                {absent.collect_view()}
                <button type="button" on:click=somebody>{say!("Somebody new")}</button>
            </div>
        </Sheet>
    }
}

/// Every kind of piece, drawn.
#[component]
fn PiecesSheet(session: Session, floor: FloorDesk, node: NodeRef<html::Dialog>) -> impl IntoView {
    let comes = move |kind: PieceKind| {
        close(node);
        let count = floor.of_shown_now(|shown| shown.scene.blocking.pieces.len()).unwrap_or(0);
        let piece = Thing::Piece(count);
        floor.change_as(&say!("Add a {}", piece_name(kind)), piece, &|shown| {
            adds_piece(&shown.scene.blocking, kind).map(|(blocking, _)| blocking)
        });
        floor.choose_if_there(piece);
    };
    let pieces = PieceKind::ALL.map(|kind| {
        let shows = Signal::derive(move || session.palette.track());
        let draw =
            move |surface: &Surface| session.palette.with(|palette| draw_piece(surface, palette, kind));
        view! {
            <button type="button" class="piece" on:click=move |_| comes(kind)>
                <span aria-hidden="true">
                    <CanvasHost
                        node=NodeRef::new()
                        shows
                        draw=Box::new(draw)
                        while_moving=WhileMoving::Follows
                        label=""
                        class="piece-drawing"
                    />
                </span>
                {piece_name(kind)}
            </button>
        }
    });
    view! {
        <Sheet node title=say!("What comes onto the floor")>
            <div class="pieces">{pieces.collect_view()}</div>
        </Sheet>
    }
}
