//! The cut of a draft: which shot follows which, where it comes back to one, and which stretch of it each entry shows.

use std::sync::Arc;

use staging::Movement;

use super::CoverageWish;
use super::candidate::is_too_far_to_hear;
use super::cutting::{broken, is_on_side};
use super::ground::Ground;
use super::picking::Picked;
use crate::cut_view::EntryView;
use crate::id::FreshIds;
use crate::rehearsal::Rehearsal;
use crate::scene::{Entry, Stretch};
use crate::shot::{RECORDER_AWAY, Shot};

/// A shot is shown at the most so often: chosen because a fourth time tells nothing new.
const MOST_TIMES: usize = 3;

/// The order of the cut, as places in `picked`.
///
/// Each shot comes once as it was picked. Reverses go to and fro once more, A, B, A, B: the first pair of a calm cut, every
/// pair of a restless one, which comes back to other shots too until it has half as many entries again.
pub(super) fn order(grounds: &[Ground<'_>], picked: &[Picked], wish: &CoverageWish) -> Vec<usize> {
    let mut order: Vec<usize> = (0..picked.len()).collect();
    let mut has_alternated = false;
    for at in 0..picked.len() {
        let is_pair = picked.get(at).is_some_and(|one| one.is_reverse) && at > 0;
        if is_pair && (wish.is_restless() || !has_alternated) {
            let Some(behind) = order.iter().position(|one| *one == at) else { continue };
            let tried = with(&order, behind + 1, &[at - 1, at]);
            has_alternated |= keep_if_it_cuts(grounds, picked, &mut order, tried);
        }
    }
    if wish.is_restless() {
        come_back(grounds, picked, &mut order);
    }
    order
}

/// Comes back to shots between others until there are half as many entries again.
fn come_back(grounds: &[Ground<'_>], picked: &[Picked], order: &mut Vec<usize>) {
    let wanted = picked.len() + picked.len().div_ceil(2);
    let mut at = 2;
    while at <= order.len() && order.len() < wanted {
        let last = order.get(at - 1).copied();
        let next = order.get(at).copied();
        let beat_of = |one: usize| picked.get(one).map(|one| one.beat_at);
        // What was shown least first, people before things, and of those the one before the last: A, B, A.
        let shown = times(picked, order);
        let times_of = |one: usize| shown.get(one).copied().unwrap_or(0);
        let is_insert = |one: usize| picked.get(one).is_some_and(|one| one.had.view.is_insert());
        let mut back: Vec<usize> = order.get(..at - 1).unwrap_or_default().to_vec();
        back.reverse();
        back.sort_by_key(|one| (times_of(*one), is_insert(*one)));
        let mut has_grown = false;
        for one in back {
            let is_elsewhere = Some(one) == last || Some(one) == next;
            let is_later = last.and_then(beat_of) != beat_of(one);
            let is_worn = times_of(one) >= MOST_TIMES;
            if is_elsewhere || is_later || is_worn || !lasts(grounds, picked, one, times_of(one) + 1) {
                continue;
            }
            let tried = with(order, at, &[one]);
            if keep_if_it_cuts(grounds, picked, order, tried) {
                has_grown = true;
                break;
            }
        }
        at += if has_grown { 2 } else { 1 };
    }
}

/// Whether a shot goes on showing what it shows when it is shown so many times: a walker leaves a phone that does not go
/// along, and a phone that does goes straight on.
fn lasts(grounds: &[Ground<'_>], picked: &[Picked], one: usize, times: usize) -> bool {
    let Some(picked) = picked.get(one) else { return false };
    match picked.had.shot.movement {
        None => picked.had.view.seen.iter().flatten().all(|seen| seen.goes.is_none()),
        Some(Movement::Follow { .. }) => {
            let walkers = grounds.get(picked.beat_at).map(Ground::walkers).unwrap_or_default();
            let walker = walkers.into_iter().find(|walker| Some(walker.who) == picked.had.shot.of.subject());
            walker.is_some_and(|walker| planned(picked, times).planned_s <= walker.straight_s)
        }
        // These are made once, from their start to their end.
        Some(Movement::Push { .. } | Movement::Pan { .. } | Movement::Tilt { .. }) => false,
    }
}

fn with(order: &[usize], at: usize, more: &[usize]) -> Vec<usize> {
    let mut longer = order.to_vec();
    let at = at.min(longer.len());
    longer.splice(at..at, more.iter().copied());
    longer
}

/// Takes the longer order if it breaks no cut that was whole, and a phone that moves for longer stays on its side.
fn keep_if_it_cuts(
    grounds: &[Ground<'_>],
    picked: &[Picked],
    order: &mut Vec<usize>,
    tried: Vec<usize>,
) -> bool {
    let wrong = |order: &[usize]| {
        let views = views(grounds, picked, order);
        let ground_of = |at: &usize| grounds.get(picked.get(*at)?.beat_at);
        let beyond = order
            .iter()
            .zip(&views)
            .filter(|(at, view)| ground_of(at).is_some_and(|ground| !is_on_side(ground, view)));
        let missed = views.iter().filter(|view| view.misses_subject()).count();
        grounds.first().map_or(0, |ground| broken(ground, &views)) + beyond.count() + missed
    };
    let keeps = wrong(&tried) <= wrong(order);
    if keeps {
        *order = tried;
    }
    keeps
}

/// Which stretch of its shot each entry shows, seconds: one after the other.
fn stretches(picked: &[Picked], order: &[usize]) -> Vec<(usize, f64, f64)> {
    let mut shown_s = vec![0.0; picked.len()];
    let stretch = |at: &usize| {
        let shown_s = shown_s.get_mut(*at)?;
        let from_s = *shown_s;
        *shown_s += picked.get(*at)?.had.seconds;
        Some((*at, from_s, *shown_s))
    };
    order.iter().filter_map(stretch).collect()
}

/// How often each shot is shown.
fn times(picked: &[Picked], order: &[usize]) -> Vec<usize> {
    (0..picked.len()).map(|at| order.iter().filter(|one| **one == at).count()).collect()
}

/// A shot as long as all of its entries.
fn planned(picked: &Picked, times: usize) -> Shot {
    let shown = (0..times).fold(0.0, |sum, _| sum + picked.had.seconds);
    Shot { planned_s: shown, ..picked.had.shot.clone() }
}

/// A shot with a recorder, if somebody who speaks in it walks too far off while it lasts.
fn heard(grounds: &[Ground<'_>], picked: &Picked, shot: Shot) -> Shot {
    let (Some(ground), Ok(rehearsal)) = (grounds.get(picked.beat_at), picked.had.view.rehearsal.as_ref())
    else {
        return shot;
    };
    let recorder_away =
        if is_too_far_to_hear(ground, &shot, rehearsal) { Some(RECORDER_AWAY) } else { shot.recorder_away };
    Shot { recorder_away, ..shot }
}

/// What the entries of an order show.
pub(super) fn views(grounds: &[Ground<'_>], picked: &[Picked], order: &[usize]) -> Vec<EntryView> {
    let times = times(picked, order);
    let shots: Vec<Arc<Shot>> =
        picked.iter().zip(&times).map(|(one, times)| Arc::new(planned(one, *times))).collect();
    let view = |(at, from_s, to_s): (usize, f64, f64)| {
        let (one, shot) = (picked.get(at)?, shots.get(at)?);
        let ground = grounds.get(one.beat_at)?;
        let entry =
            Entry { stretch: Stretch::new(from_s, to_s), ..Entry::whole(one.had.view.entry, shot.id) };
        // A take that moves ends with its shot; one that stays is the same however long it is.
        let rehearsal = if shot.movement.is_some() {
            Arc::new(Rehearsal::of(ground.film, ground.scene, shot))
        } else {
            Arc::clone(&one.had.view.rehearsal)
        };
        Some(EntryView::of(ground.film, ground.scene, &entry, shot, rehearsal, ground.line))
    };
    stretches(picked, order).into_iter().filter_map(view).collect()
}

/// The shots as long as they are shown, and the entries that show them.
pub(super) fn assemble(
    grounds: &[Ground<'_>],
    picked: &[Picked],
    order: &[usize],
    ids: &mut FreshIds,
) -> (Vec<Shot>, Vec<Entry>) {
    let times = times(picked, order);
    let shot = |(one, times): (&Picked, &usize)| heard(grounds, one, planned(one, *times));
    let shots: Vec<Shot> = picked.iter().zip(&times).map(shot).collect();
    let entry = |(at, from_s, to_s): (usize, f64, f64)| {
        let shot = shots.get(at)?;
        let is_whole = times.get(at) == Some(&1);
        let stretch = if is_whole { None } else { Stretch::new(from_s, to_s) };
        Some(Entry { stretch, ..Entry::whole(ids.fresh(), shot.id) })
    };
    let cut = stretches(picked, order).into_iter().filter_map(entry).collect();
    (shots, cut)
}
