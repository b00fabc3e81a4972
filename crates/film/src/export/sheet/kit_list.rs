//! What to pack, from what the setups are made with.

use std::collections::BTreeSet;

use language::{key, say, text};
use maud::{Markup, html};

use super::paper::{Paper, PaperShot, by_frequency};
use super::words::tick;
use crate::preset::kit_told;
use crate::shot::{ShotOf, Sound};
use crate::wording::{capital, grouped, listed};

/// What goes with any phone: common practice.
const ALWAYS: [&str; 5] = [
    key!("power bank and cable"),
    key!("tripod or clamp"),
    key!("cloth for the lens"),
    key!("tape and chalk for marks"),
    key!("water and something to eat"),
];

/// What to pack, each with a box.
pub(super) fn article(paper: &Paper<'_>) -> Markup {
    let rows = of_setups(paper);
    html! {
        article class="paper-kit" {
            h2 { (say!("Kit to pack")) }
            ul class="paper-ticks" {
                @for (what, of) in &rows {
                    li { (tick(false)) " " (what) @if !of.is_empty() { " " span class="paper-of" { "(" (of) ")" } } }
                }
                @for what in ALWAYS { li { (tick(false)) " " (capital(text(what))) } }
            }
        }
    }
}

/// What the setups ask for, each with what for.
fn of_setups(paper: &Paper<'_>) -> Vec<(String, String)> {
    let film = paper.of.film;
    let mut rows = Vec::new();
    let lenses = by_frequency(paper.shots.iter().filter_map(|one| one.card(paper).lens()));
    let lenses: Vec<String> =
        lenses.into_iter().map(|(name, count)| say!("{name} lens for {count}")).collect();
    let name = Some(kit_told(&film.kit.name).to_owned()).filter(|name| !name.is_empty());
    rows.push((
        say!("Phone, charged, with room for clips").to_owned(),
        name.into_iter().chain(lenses).collect::<Vec<_>>().join("; "),
    ));
    let shots_with = |what: &dyn Fn(&PaperShot<'_>) -> Vec<String>| {
        let each = |one| what(one).into_iter().map(|name| (name, one.listed.number()));
        let of = grouped(paper.shots.iter().flat_map(each));
        of.into_iter().map(|(name, shots)| (capital(&name), shots.join(", "))).collect::<Vec<_>>()
    };
    rows.extend(shots_with(&|one| one.shot().adapter.clone().into_iter().collect()));
    rows.extend(shots_with(&|one| one.light.iter().flat_map(|light| light.filters.names()).collect()));
    rows.extend(shots_with(&|one| {
        one.shot().is_carried().then(|| say!("gimbal, charged").to_owned()).into_iter().collect()
    }));
    rows.extend(shots_with(&|one| {
        let is_heard = one.shot().sound != Sound::None && one.shot().recorder_away.is_some();
        is_heard.then(|| say!("sound recorder, charged").to_owned()).into_iter().collect()
    }));
    rows.extend(shots_with(&|one| match &one.shot().of {
        ShotOf::Object { .. } => vec![one.shot().of.told(film)],
        ShotOf::One(_) | ShotOf::Two(..) | ShotOf::OverShoulder { .. } | ShotOf::PointOfView { .. } => {
            Vec::new()
        }
    }));
    let seen: BTreeSet<_> = paper.shots.iter().flat_map(|one| one.people.iter().copied()).collect();
    let clothed: Vec<String> = film
        .cast
        .iter()
        .filter(|person| seen.contains(&person.id))
        .map(|person| person.name.clone())
        .collect();
    if !clothed.is_empty() {
        rows.push((say!("Clothes as planned").to_owned(), listed(&clothed)));
    }
    rows
}
