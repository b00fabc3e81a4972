//! What of a changed plan is of the place: the pieces of the set, the light, how much room there is.

use film::SceneFacts;
use glam::DVec2;
use language::key;
use requests::PieceRequest;
use staging::SetPiece;
use units::{Angle, Length};

use super::Linked;
use super::alike::{Differences, alike};
use crate::session::Plan;

/// The pieces after, where they are others than the film's; `origin` is where the plan's own floor begins then.
pub(super) fn pieces_after(
    linked: Linked<'_>,
    differences: &mut Differences<'_>,
    origin: DVec2,
) -> Option<Vec<SetPiece>> {
    let pieces = |plan: &Plan| plan.set().map_or_else(Vec::new, |set| set.pieces.clone());
    let (earlier, later) = (pieces(differences.before), pieces(differences.after));
    let moved = origin - linked.rehearsal.origin;
    // Where the whole set was moved under the plan, the pieces are where they were.
    let now: Vec<PieceRequest> = later
        .into_iter()
        .map(|piece| PieceRequest { x_m: piece.x_m + moved.x, y_m: piece.y_m + moved.y, ..piece })
        .collect();
    if alike(&earlier, &now) {
        return None;
    }
    differences.note(key!("set"));
    let of_film = &linked.scene.blocking.pieces;
    let shown: Vec<usize> = linked.shown_pieces().collect();
    let bearing = Angle::from_deg(differences.after.phone_bearing_deg);
    let mut unclaimed: Vec<Option<usize>> = shown.iter().copied().map(Some).collect();
    // One that did not change stays the very one that it was.
    let mut kept = |piece: &PieceRequest| {
        let at = earlier.iter().zip(&unclaimed).position(|(one, at)| at.is_some() && alike(one, piece))?;
        unclaimed.get_mut(at)?.take()
    };
    let made = |piece: &PieceRequest| {
        // One that is out of range is none: the picture shows none either.
        let made = piece.to_piece(bearing).ok()?;
        Some(SetPiece { place: made.place + linked.rehearsal.origin, ..made })
    };
    let after = now.iter().filter_map(|piece| match kept(piece) {
        Some(at) => of_film.get(at).copied(),
        None => made(piece),
    });
    let unseen = of_film.iter().enumerate().filter(|(at, _)| !shown.contains(at)).map(|(_, piece)| *piece);
    Some(after.chain(unseen).collect())
}

/// The light after, if it is another.
pub(super) fn light_after(differences: &mut Differences<'_>) -> Option<staging::Light> {
    differences.of(key!("light"), Plan::light).and_then(|light| light.to_light().ok())
}

/// What the scene is after, if that is something else.
pub(super) fn facts_after(linked: Linked<'_>, differences: &mut Differences<'_>) -> Option<SceneFacts> {
    let room = differences.of(key!("room"), |plan| plan.shot.room_m)?;
    Some(SceneFacts { room: room.map(Length::from_m), ..SceneFacts::clone(&linked.scene.facts) })
}
