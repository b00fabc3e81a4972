//! The changes that lead from one film to another that has at least its people, places, days, scenes, shots and takes.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::edit::Command;
use crate::film::Film;
use crate::id::{SceneId, ShotId};
use crate::merge::sides::Side;
use crate::scene::{Entry, Scene};

/// The changes, in an order in which each can be made: people and places before what needs them, entries out of a cut before
/// their shots leave the scene, shots before the entries that show them.
pub(super) fn commands(from: &Film, to: &Film) -> Vec<Command> {
    let mut commands = whole_film(from, to);
    let (before, after) = (Side::of(from), Side::of(to));
    for scene in &from.scenes {
        let cut = reduced_cut(scene, &after);
        if cut != scene.cut {
            commands.push(Command::SetCut { scene: scene.id, cut });
        }
    }
    let leaves = |id: &&ShotId| before.scene_of(**id) != after.scene_of(**id);
    commands.extend(before.shots.keys().filter(leaves).map(|id| Command::RemoveShot(*id)));
    commands.extend(scenes_in_order(&before, &after));
    for scene in &from.scenes {
        if let Some(other) = after.scenes.get(&scene.id) {
            commands.extend(scene_parts(scene, other, &before));
        }
    }
    if from.days != to.days {
        commands.push(Command::SetDays(Arc::clone(&to.days)));
    }
    commands.extend(takes(from, to));
    commands
}

fn whole_film(from: &Film, to: &Film) -> Vec<Command> {
    let mut commands = Vec::new();
    if from.cast != to.cast {
        commands.push(Command::SetCast(Arc::clone(&to.cast)));
    }
    if from.places != to.places {
        commands.push(Command::SetPlaces(Arc::clone(&to.places)));
    }
    if from.facts != to.facts {
        commands.push(Command::SetFacts(Arc::clone(&to.facts)));
    }
    if from.kit != to.kit {
        commands.push(Command::SetKit(Arc::clone(&to.kit)));
    }
    commands
}

/// The cut without the entries of shots that leave it.
fn reduced_cut(scene: &Scene, after: &Side<'_>) -> Vec<Entry> {
    after.scenes.get(&scene.id).map_or_else(Vec::new, |to| to.shown_of(&scene.cut))
}

/// What moves one list into the order of another that has all of it: what to move, and to where.
fn moves<Id: Ord + Copy>(from: Vec<Id>, to: impl Iterator<Item = Id>) -> Vec<(Id, usize)> {
    let known: BTreeSet<Id> = from.iter().copied().collect();
    let mut list = from;
    let mut moves = Vec::new();
    for (at, id) in to.filter(|id| known.contains(id)).enumerate() {
        if list.get(at) != Some(&id) {
            let now = list.iter().position(|one| *one == id).unwrap_or(at);
            let moved = list.remove(now);
            list.insert(at, moved);
            moves.push((id, at));
        }
    }
    moves
}

/// Scenes come into their order, then new ones between them.
fn scenes_in_order(before: &Side<'_>, after: &Side<'_>) -> Vec<Command> {
    let from: Vec<SceneId> = before.film.scenes.iter().map(|scene| scene.id).collect();
    let to = after.film.scenes.iter().map(|scene| scene.id);
    let moved = moves(from, to).into_iter().map(|(scene, to)| Command::MoveScene { scene, to });
    let scenes = after.film.scenes.iter().enumerate();
    let new = scenes.filter(|(_, scene)| !before.scenes.contains_key(&scene.id));
    moved.chain(new.map(|(at, scene)| Command::InsertScene { at, scene: Arc::clone(scene) })).collect()
}

/// What changes within a scene that was there before.
fn scene_parts(from: &Scene, to: &Scene, before: &Side<'_>) -> Vec<Command> {
    let scene = from.id;
    let mut commands = Vec::new();
    if from.facts != to.facts {
        commands.push(Command::SetSceneFacts { scene, facts: Arc::clone(&to.facts) });
    }
    if from.blocking != to.blocking {
        commands.push(Command::SetBlocking { scene, blocking: Arc::clone(&to.blocking) });
    }
    let now: BTreeSet<ShotId> = to.shots.iter().map(|shot| shot.id).collect();
    let stay: Vec<ShotId> = from.shots.iter().map(|shot| shot.id).filter(|id| now.contains(id)).collect();
    let moved = moves(stay, to.shots.iter().map(|shot| shot.id));
    commands.extend(moved.into_iter().map(|(shot, to)| Command::MoveShot { shot, to }));
    for (at, shot) in to.shots.iter().enumerate() {
        let shot = Arc::clone(shot);
        match before.shots.get(&shot.id) {
            Some((of, was)) if *of == scene && **was == shot => {}
            Some((of, _)) if *of == scene => commands.push(Command::SetShot(shot)),
            Some(_) | None => commands.push(Command::InsertShot { scene, at, shot }),
        }
    }
    if to.shown_of(&from.cut) != to.cut {
        commands.push(Command::SetCut { scene, cut: to.cut.clone() });
    }
    if from.kept != to.kept {
        commands.push(Command::SetKept { scene, kept: to.kept.clone() });
    }
    commands
}

fn takes(from: &Film, to: &Film) -> Vec<Command> {
    let known: BTreeMap<_, _> = from.takes.iter().map(|take| (take.id, take)).collect();
    let takes = to.takes.iter().enumerate().filter_map(|(at, take)| match known.get(&take.id) {
        Some(was) if *was == take => None,
        Some(_) => Some(Command::SetTake(Arc::clone(take))),
        None => Some(Command::AddTake { at, take: Arc::clone(take) }),
    });
    takes.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_bring_a_list_into_order_and_are_none_where_it_is() {
        let moved = |from: &str, to: &str| moves(from.chars().collect(), to.chars());
        assert_eq!(moved("abc", "abc"), []);
        assert_eq!(moved("abc", "cab"), [('c', 0)]);
        assert_eq!(moved("abc", "xbyac"), [('b', 0)]);
        assert_eq!(moved("abcd", "dcba"), [('d', 0), ('c', 1), ('b', 2)]);
    }

    #[test]
    fn a_film_is_led_to_itself_by_nothing() {
        let film = crate::demo_film();
        assert_eq!(commands(&film, &film), []);
    }
}
