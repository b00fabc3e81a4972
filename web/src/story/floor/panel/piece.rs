//! What can be said of a piece: what it is, which way its front looks, how large it is.

use language::say;
use leptos::prelude::*;
use staging::{PieceKind, SetPiece};
use units::Angle;

use super::parts::{MoveButtons, list, pressed};
use crate::dressing::piece_name;
use crate::light::wind;
use crate::session::Session;
use crate::setup::words::length;
use crate::story::floor::FloorDesk;
use crate::story::floor::blocking_edit::{Side, becomes, full_turn, piece_faces, side_of, sizes_piece};
use crate::story::floor::thing::Thing;
use crate::widgets::{StepField, live};

/// The sides of pieces where people film, metres.
const SIDES_M: (f64, f64) = (0.1, 30.0);

/// What can be said of a piece.
#[component]
pub(super) fn PiecePanel(session: Session, floor: FloorDesk, at: usize) -> impl IntoView {
    let piece = Thing::Piece(at);
    let name = live(move || {
        floor.of_shown(|shown| piece.name(&shown.film, &shown.scene.blocking)).unwrap_or_default()
    });
    let of_piece = move |tell: fn(&SetPiece) -> f64| {
        floor.of_shown(|shown| shown.scene.blocking.pieces.get(at).map(tell)).flatten().unwrap_or(0.0)
    };
    let sides = Side::ALL.map(|side| {
        let value = Signal::derive(move || match side {
            Side::Width => of_piece(|piece| side_of(&piece.size, Side::Width).to_m()),
            Side::Depth => of_piece(|piece| side_of(&piece.size, Side::Depth).to_m()),
            Side::Height => of_piece(|piece| side_of(&piece.size, Side::Height).to_m()),
        });
        view! {
            <StepField
                label=side.name()
                range=SIDES_M
                step=0.1
                value
                words=move |metres| length(metres, session.unit())
                set=move |metres| {
                    floor.change(|name| say!("Change the size of {name}"), piece, &|shown| {
                        Ok(sizes_piece(&shown.scene.blocking, at, side, metres))
                    });
                }
            />
        }
    });
    view! {
        <section class="item" aria-label=name>
            <h3>{name}</h3>
            <MoveButtons floor />
            <Kind floor at />
            <StepField
                label=say!("Its front looks")
                range=(0.0, 355.0)
                step=5.0
                value=Signal::derive(move || of_piece(|piece| piece.facing.to_deg().rem_euclid(360.0)))
                words=move |degrees| {
                    let way = Angle::from_deg(degrees) - floor.north();
                    format!("{}, {:.0}°", wind(way), full_turn(way).to_deg())
                }
                set=move |degrees| {
                    floor.change(|name| say!("Turn {name}"), piece, &|shown| {
                        Ok(piece_faces(&shown.scene.blocking, at, Angle::from_deg(degrees)))
                    });
                }
            />
            {sides.collect_view()}
            {pressed(
                live(move || say!("Remove {name}", name = name.get())),
                Box::new(move || floor.remove(piece)),
            )}
        </section>
    }
}

/// What a piece is.
#[component]
fn Kind(floor: FloorDesk, at: usize) -> impl IntoView {
    let numbered = || PieceKind::ALL.into_iter().zip(0_u64..);
    let names = Memo::new(move |_| {
        numbered().map(|(kind, key)| (key, piece_name(kind).to_owned())).collect::<Vec<_>>()
    });
    let chosen = Signal::derive(move || {
        let kind = floor.of_shown(|shown| shown.scene.blocking.pieces.get(at).map(|piece| piece.kind));
        numbered().find(|(one, _)| Some(Some(*one)) == kind).map(|(_, key)| key)
    });
    let choose = move |key: u64| {
        if let Some((kind, _)) = numbered().find(|(_, one)| *one == key) {
            floor.change(|name| say!("Replace {name}"), Thing::Piece(at), &|shown| {
                Ok(becomes(&shown.scene.blocking, at, kind))
            });
        }
    };
    list(say!("What it is"), names, chosen, Callback::new(choose))
}
