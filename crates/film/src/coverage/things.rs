//! A place with nobody in it: its things, from sides and heights that differ.

use glam::DVec2;
use language::say;
use staging::{PhoneHeight, PieceKind, SetPiece, ShotSize, Support};
use units::{Angle, Length};

use super::CoverageWish;
use super::ground::Ground;
use super::proposal::{Proposal, Role, Step};
use super::words::{place_name, with_what_happens};
use crate::shot::ShotOf;
use crate::wording::piece_name;

/// What stands for the place as a whole, metres: chosen because a frame that holds so much holds a room's corner.
const PLACE_SIZE_M: f64 = 2.0;
/// How large a thing of the place is, metres: chosen, as a chair's back.
const THING_SIZE_M: f64 = 0.6;
/// How large a detail of a thing is, metres: chosen, as a cup.
const DETAIL_SIZE_M: f64 = 0.2;
/// Views of each thing: chosen because so many in steps go once around it.
const ROUND: u32 = 6;

/// What a place without people offers.
pub(super) fn steps(ground: &Ground<'_>, wish: &CoverageWish) -> Vec<Step> {
    let middle = ground.middle();
    let pieces = &ground.scene.blocking.pieces;
    let mut things: Vec<&SetPiece> = pieces.iter().filter(|piece| piece.kind != PieceKind::Wall).collect();
    if wish.is_odd() && !things.is_empty() {
        things.rotate_left(1);
    }
    let name = place_name(ground).unwrap_or(say!("the place"));
    let place = thing(wish, Role::Place, (name, PLACE_SIZE_M, middle), 0)
        .on_widest()
        .showing(with_what_happens(ground, say!("{name}, nobody there")));
    let mut steps = vec![vec![place]];
    for (turn, piece) in (1..).zip(things.iter().copied()) {
        let name = piece_name(piece.kind);
        steps.push(vec![thing(wish, Role::Insert, (name, size_m(piece), piece.place), turn)]);
    }
    for turn in 0..ROUND {
        for (which, piece) in (0..).zip(things.iter().copied()) {
            let detail = say!("a detail of {}", piece_name(piece.kind));
            let at = (detail.as_str(), DETAIL_SIZE_M, piece.place);
            steps.push(vec![thing(wish, Role::Insert, at, turn + which + 2)]);
        }
        let left = (say!("a thing left there"), THING_SIZE_M, middle);
        steps.push(vec![thing(wish, Role::Another, left, turn + 4).nice_to_have()]);
        let small = (say!("something small that tells who was there"), DETAIL_SIZE_M, middle);
        steps.push(vec![thing(wish, Role::Insert, small, turn + 1).nice_to_have()]);
    }
    steps
}

/// How much of a piece a frame holds: all of it, or a part of what is larger than a frame holds from near.
fn size_m(piece: &SetPiece) -> f64 {
    piece.size.width.to_m().max(piece.size.height.to_m()).clamp(DETAIL_SIZE_M, PLACE_SIZE_M)
}

fn thing(wish: &CoverageWish, role: Role, (name, size_m, place): (&str, f64, DVec2), turn: u32) -> Proposal {
    let (name, size) = (name.to_owned(), Length::from_m(size_m));
    let of = ShotOf::Object { name: name.clone(), size, place, support: Support::Table, hands: Vec::new() };
    let bearing = Angle::from_deg(f64::from(turn) * 360.0 / f64::from(ROUND) + 20.0);
    let level = PhoneHeight::BySize;
    let heights = match turn % 3 {
        0 => vec![level, PhoneHeight::Fixed(Length::from_m(1.5)), PhoneHeight::Ground],
        1 => vec![PhoneHeight::Fixed(Length::from_m(1.5)), level, PhoneHeight::Ground],
        _ => vec![PhoneHeight::Fixed(Length::from_m(0.4)), level, PhoneHeight::Fixed(Length::from_m(1.5))],
    };
    Proposal {
        sizes: vec![ShotSize::Insert],
        ..Proposal::new(wish, role, of, &[ShotSize::Insert], bearing).at_heights(heights)
    }
    .showing(name)
}
