//! One shot of a scene asked for again.

use std::sync::Arc;

use super::CoverageWish;
use super::candidate::{NO_CUT, Search, is_the_same};
use super::cutting::broken;
use super::ground::Ground;
use super::picking::pool;
use super::proposal::Proposal;
use staging::ShotSize;

use crate::cut_view::EntryView;
use crate::film::Film;
use crate::id::{FreshIds, ShotId};
use crate::rehearsal::Rehearsals;
use crate::scene::{Entry, Scene};
use crate::shot::Shot;

/// Drafts one shot of a scene again: of the same people or thing, as another view of them, which cuts with its neighbours in
/// the scene's cut no worse than the one there.
///
/// It has an id of its own: [`Shot::known_by`] puts it in the place of the other one, whose planned length it keeps. None if
/// the shot is not of the scene or nothing else can be had.
pub fn redraft(
    film: &Film,
    scene: &Scene,
    shot: ShotId,
    wish: &CoverageWish,
    ids: &mut FreshIds,
) -> Option<Shot> {
    let there = scene.shot(shot)?;
    let beat = scene.blocking.beat(there.beat).map(|beat| beat.id);
    let grounds = Ground::of_scene(film, scene);
    let ground = grounds.iter().find(|ground| ground.beat_id() == beat)?;
    let views = EntryView::of_cut(film, scene, &mut Rehearsals::default());
    let others: Vec<&EntryView> = views.iter().filter(|view| view.shot.id != shot).collect();
    let broken_now = broken(ground, &views);
    let cuts = |new: &EntryView| broken(ground, &with(ground, &views, new, shot)) <= broken_now;
    let search = Search { ground, wish, id: shot, cuts: &cuts, others: &others };
    let asked = |same: bool| {
        let proposals = proposals(ground, wish, there, same);
        let found = proposals.iter().filter_map(|proposal| search.best_but(proposal, Some(there)));
        found.filter(|had| had.cost < NO_CUT).min_by_key(|had| had.cost)
    };
    // Where the same intention has only one place, as a point of view has, the same person is shown another way.
    let best = asked(true).or_else(|| asked(false))?;
    let new = Shot {
        id: ids.fresh(),
        planned_s: there.planned_s,
        foreground: there.foreground.filter(|_| best.shot.of == there.of && best.shot.size == there.size),
        priority: there.priority,
        beat: there.beat,
        ..best.shot
    };
    (!is_the_same(&new, there)).then_some(new)
}

/// The ways in which the beat would show whom a shot is of: with the same people in it or, not the `same`, with others.
fn proposals(ground: &Ground<'_>, wish: &CoverageWish, there: &Shot, same: bool) -> Vec<Proposal> {
    let is_asked = |proposal: &&Proposal| {
        let is_insert = |size: ShotSize| proposal.of.subject().is_none() || size == ShotSize::Insert;
        let inserts_alike = proposal.sizes.first().is_some_and(|size| is_insert(*size) == there.is_insert());
        inserts_alike && (proposal.of == there.of) == same && proposal.of.subject() == there.of.subject()
    };
    let mut proposals: Vec<Proposal> =
        pool(ground, wish).iter().flatten().filter(is_asked).take(MOST_TRIED).cloned().collect();
    if same {
        proposals.push(Proposal::again(wish, there));
    }
    if !proposals.is_empty() {
        // Asked for again and again, the ways take turns in coming first where they serve alike.
        let turn = usize::try_from(wish.variant).unwrap_or(0) % proposals.len();
        proposals.rotate_left(turn);
    }
    proposals
}

/// How many ways are tried: chosen because the first that serve are those of the scene, and each costs a search.
const MOST_TRIED: usize = 6;

/// The cut with a shot in the place of another.
fn with(ground: &Ground<'_>, views: &[EntryView], new: &EntryView, shot: ShotId) -> Vec<EntryView> {
    let entry = |view: &EntryView| {
        if view.shot.id != shot {
            return view.clone();
        }
        let (from_s, to_s) = view.stretch_s;
        let entry = Entry { stretch: crate::Stretch::new(from_s, to_s), ..Entry::whole(view.entry, shot) };
        let planned = Arc::new(Shot { planned_s: view.shot.planned_s, ..Shot::clone(&new.shot) });
        EntryView::of(ground.film, ground.scene, &entry, &planned, Arc::clone(&new.rehearsal), view.line)
    };
    views.iter().map(entry).collect()
}
