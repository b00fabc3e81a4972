//! What is offered for small films, in tests: each mend is held to its word.

use std::sync::Arc;

use super::{Mend, mends};
use crate::edit::Command;
use crate::film::Film;
use crate::findings::cut::example::{found, views};
use crate::id::FreshIds;
use crate::preset::adapters;
use crate::shot::Shot;

/// What the adapter of [`with_adapter`] is called.
pub(super) const ADAPTER: &str = "the crew's adapter";

/// The same film with a clip-on adapter in its kit, which fits all lenses but the ultra-wide.
pub(super) fn with_adapter(mut film: Film) -> Film {
    let adapter = adapters()[0].to_kit_adapter(ADAPTER.to_owned()).expect("an adapter");
    Arc::make_mut(&mut film.kit).adapters.push(adapter);
    film
}

/// What mends the first finding of a rule; each must remove it.
pub(super) fn offered(film: &Film, rule: &str) -> Vec<Mend> {
    let Some(placed) = found(film).into_iter().find(|placed| placed.finding.rule() == rule) else {
        panic!("no {rule}: {:?}", found(film));
    };
    let offered = mends(film, &film.scenes[0], &views(film), &placed, &mut FreshIds::starting_at(100));
    for mend in &offered {
        let after = found(&with(film, mend));
        let left = after.iter().any(|left| left.finding.rule() == rule && left.at == placed.at);
        assert!(!left, "{}: {after:?}", mend.words);
    }
    offered
}

/// The film with a mend made.
pub(super) fn with(film: &Film, mend: &Mend) -> Film {
    let mut film = film.clone();
    film.apply(mend.command.clone()).expect("it can be made");
    film
}

/// What mends the first finding of a rule, in words.
pub(super) fn mended(film: &Film, rule: &str) -> Vec<String> {
    offered(film, rule).into_iter().map(|mend| mend.words).collect()
}

/// The mend that says so.
pub(super) fn mend_of(film: &Film, rule: &str, words: &str) -> Mend {
    let offered = offered(film, rule);
    let Some(mend) = offered.iter().find(|mend| mend.words == words) else { panic!("{words}: {offered:?}") };
    mend.clone()
}

/// The shots that a mend makes or changes.
pub(super) fn shots_of(command: &Command) -> Vec<Shot> {
    if let Command::All(commands) = command {
        commands.iter().flat_map(shots_of).collect()
    } else if let Command::SetShot(shot) | Command::InsertShot { shot, .. } = command {
        vec![Shot::clone(shot)]
    } else {
        Vec::new()
    }
}

/// The shots of the mend that says so.
pub(super) fn shots_of_mend(film: &Film, rule: &str, words: &str) -> Vec<Shot> {
    shots_of(&mend_of(film, rule, words).command)
}

/// The one shot of the mend that says so.
pub(super) fn shot_of_mend(film: &Film, rule: &str, words: &str) -> Shot {
    let shots = shots_of_mend(film, rule, words);
    let [shot] = &shots[..] else { panic!("{words}: {shots:?}") };
    shot.clone()
}

/// Holds a shot to be from that side, in degrees from north.
pub(super) fn assert_from(shot: &Shot, side_deg: f64) {
    assert!((shot.side.to_deg() - side_deg).abs() < 1e-9, "not from {side_deg}°: {shot:?}");
}
