//! What a drafted shot says it shows, in plain words from the scene's own facts.

use glam::DVec2;
use language::say;
use staging::{PieceKind, Posture, SetPiece};

use super::ground::Ground;
use crate::id::PersonId;
use crate::wording::listed;

/// As near as this, people are at a piece, metres: chosen, as a table's far corner is so far from its middle.
const AT_A_PIECE_M: f64 = 1.5;

/// "Mira", "Mira and Jo" or "Mira, Jo and Ali".
pub(super) fn names(ground: &Ground<'_>, who: &[PersonId]) -> String {
    let name = |who: &PersonId| {
        let name = ground.film.name_of(*who).trim();
        if name.is_empty() { say!("somebody").to_owned() } else { name.to_owned() }
    };
    let names: Vec<String> = who.iter().map(name).collect();
    if names.is_empty() { say!("nobody").to_owned() } else { listed(&names) }
}

/// How somebody is near a piece.
fn near_piece(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::Wall => say!("by the wall"),
        PieceKind::Window => say!("at the window"),
        PieceKind::Doorway => say!("in the doorway"),
        PieceKind::Table => say!("at the table"),
        PieceKind::Bench => say!("by the bench"),
        PieceKind::Tree => say!("under the tree"),
        PieceKind::Hedge => say!("by the hedge"),
        PieceKind::Car => say!("by the car"),
        PieceKind::LampPost => say!("by the lamp post"),
        PieceKind::Lights => say!("under the lights"),
        PieceKind::Plant => say!("by the plant"),
    }
}

/// Where somebody is: " at the table", ", Harbour", or nothing where nothing is said.
pub(super) fn whereabouts(ground: &Ground<'_>, place: DVec2) -> String {
    let away_m = |piece: &SetPiece| piece.place.distance(place);
    let near = ground.scene.blocking.pieces.iter().filter(|piece| away_m(piece) <= AT_A_PIECE_M);
    if let Some(piece) = near.min_by(|one, other| away_m(one).total_cmp(&away_m(other))) {
        return format!(" {}", near_piece(piece.kind));
    }
    place_name(ground).map_or_else(String::new, |name| format!(", {name}"))
}

/// What the scene's place is called, if it has a name.
pub(super) fn place_name<'film>(ground: &Ground<'film>) -> Option<&'film str> {
    let place = ground.film.place_of(ground.scene)?;
    Some(place.name.trim()).filter(|name| !name.is_empty())
}

/// Everybody of a beat and where: with what happens in it, if it says so.
pub(super) fn everybody(ground: &Ground<'_>) -> String {
    let who: Vec<PersonId> = ground.people.iter().map(|one| one.who).collect();
    let of_them = match who.as_slice() {
        [one] => somebody(ground, *one),
        all => names(ground, all),
    };
    with_what_happens(ground, format!("{of_them}{}", whereabouts(ground, ground.middle())))
}

/// The words for the first view of a beat: what happens in the beat or the scene comes behind them.
pub(super) fn with_what_happens(ground: &Ground<'_>, words: String) -> String {
    let of_beat = ground.beat.map(|beat| beat.what.trim()).filter(|what| !what.is_empty());
    let of_scene = || {
        // What happens in the scene belongs to its opening.
        let first = ground.scene.blocking.beats.first().map(|beat| beat.id);
        Some(ground.scene.facts.happens.trim()).filter(|what| !what.is_empty() && ground.beat_id() == first)
    };
    match of_beat.or_else(of_scene) {
        Some(what) => format!("{words}: {what}"),
        None => words,
    }
}

/// Somebody, and what they want if the scene says so.
pub(super) fn wanting(ground: &Ground<'_>, who: PersonId) -> String {
    let name = names(ground, &[who]);
    match want(ground, who) {
        Some(want) => say!("{name}, who wants {want}"),
        None => name,
    }
}

/// Somebody with what they want or, where nothing is said of that, what they do.
pub(super) fn somebody(ground: &Ground<'_>, who: PersonId) -> String {
    let person = ground.person(who).filter(|_| want(ground, who).is_none());
    let name = wanting(ground, who);
    match person.map(|person| (person.velocity == DVec2::ZERO, person.body.posture)) {
        Some((true, Posture::Standing)) => say!("{name} stands"),
        Some((true, Posture::Seated)) => say!("{name} sits"),
        Some((false, _)) => say!("{name} walks"),
        None => name,
    }
}

fn want<'film>(ground: &Ground<'film>, who: PersonId) -> Option<&'film str> {
    let want = ground.scene.facts.wants.iter().find(|want| want.who == who)?;
    Some(want.what.trim()).filter(|want| !want.is_empty())
}

/// Somebody looking at another, or ahead of them.
pub(super) fn looking(ground: &Ground<'_>, who: PersonId) -> String {
    let others = ground.people.iter().map(|one| one.who).filter(|other| *other != who);
    match others.into_iter().find(|other| ground.looks_at(who, *other)) {
        Some(other) => say!("{} looks at {}", names(ground, &[who]), names(ground, &[other])),
        None => somebody(ground, who),
    }
}
