//! The film that is to come of both copies, as a value.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::day::ShootingDay;
use crate::film::Film;
use crate::id::{SceneId, ShotId};
use crate::kit::Kit;
use crate::merge::sides::{Side, Sides};
use crate::merge::uniting::{united_day, united_kit, united_person, united_place};
use crate::merge::weaving::woven;
use crate::merge::{MergeChoices, MergePart};
use crate::scene::{Entry, Kept, KeptAt, Scene};
use crate::shot::{LensChoice, Shot};
use crate::take_log::LoggedTake;

/// What is chosen of both, with all that it needs.
pub(super) fn target(sides: &Sides<'_>, choices: &MergeChoices) -> Film {
    let (mine, theirs) = (sides.mine.film, sides.theirs.film);
    let scenes = scenes(sides, choices);
    let people: BTreeSet<_> = scenes.iter().flat_map(|scene| scene.people()).collect();
    let places: BTreeSet<_> = scenes.iter().filter_map(|scene| scene.facts.place).collect();
    let shots: BTreeSet<ShotId> =
        scenes.iter().flat_map(|scene| scene.shots.iter().map(|shot| shot.id)).collect();
    let is_there = |id: ShotId| shots.contains(&id);
    let their_days: Vec<ShootingDay> = theirs.days.iter().map(|day| day.within(is_there)).collect();
    let united_days = |mine_day: &_, their_day: &_, base_is_theirs| {
        let (base, _) = sides.base_and_other(base_is_theirs);
        let is_new = |id: ShotId| is_there(id) && base.shot(id).is_none();
        let (one, other) = if base_is_theirs { (their_day, mine_day) } else { (mine_day, their_day) };
        united_day(one, other, is_there, is_new)
    };
    let takes_facts = choices.takes_theirs(MergePart::Facts);
    Film {
        facts: Arc::clone(if takes_facts { &theirs.facts } else { &mine.facts }),
        kit: Arc::new(kit(sides, choices, &scenes)),
        cast: United {
            id: |person: &crate::film::CastMember| MergePart::Person(person.id),
            unite: |mine: &_, theirs: &_, base_is_theirs| {
                if base_is_theirs { united_person(theirs, mine) } else { united_person(mine, theirs) }
            },
        }
        .list(&mine.cast, &theirs.cast, choices, |person| people.contains(&person.id)),
        places: United {
            id: |place: &crate::film::Place| MergePart::Place(place.id),
            unite: |mine: &_, theirs: &_, base_is_theirs| {
                if base_is_theirs { united_place(theirs, mine) } else { united_place(mine, theirs) }
            },
        }
        .list(&mine.places, &theirs.places, choices, |place| places.contains(&place.id)),
        days: United { id: |day: &ShootingDay| MergePart::Day(day.id), unite: united_days }.list(
            &mine.days,
            &their_days,
            choices,
            |_| false,
        ),
        takes: takes(sides, choices, is_there),
        scenes,
    }
}

/// How two lists of parts become one.
struct United<Id, Unite> {
    id: Id,
    unite: Unite,
}

impl<Id, Unite> United<Id, Unite> {
    /// Mine's, each with what theirs says of it, then what only theirs has and is wanted or needed.
    fn list<Part: Clone>(
        &self,
        mine: &[Part],
        theirs: &[Part],
        choices: &MergeChoices,
        is_needed: impl Fn(&Part) -> bool,
    ) -> Arc<[Part]>
    where
        Id: Fn(&Part) -> MergePart,
        Unite: Fn(&Part, &Part, bool) -> Part,
    {
        let by_id = |list: &'_ [Part]| {
            list.iter().map(|part| ((self.id)(part), part.clone())).collect::<BTreeMap<_, _>>()
        };
        let (in_mine, in_theirs) = (by_id(mine), by_id(theirs));
        let shared = mine.iter().map(|part| {
            let id = (self.id)(part);
            match in_theirs.get(&id) {
                Some(other) if choices.takes_theirs(id) => (self.unite)(part, other, true),
                Some(other) if choices.wants(id) => (self.unite)(part, other, false),
                Some(_) | None => part.clone(),
            }
        });
        let is_new = |part: &&Part| {
            let id = (self.id)(part);
            !in_mine.contains_key(&id) && (choices.wants(id) || is_needed(part))
        };
        shared.chain(theirs.iter().filter(is_new).cloned()).collect()
    }
}

/// The kit of the one with what only the other's has, as far as that is wanted or needed by what is taken of theirs.
fn kit(sides: &Sides<'_>, choices: &MergeChoices, scenes: &[Arc<Scene>]) -> Kit {
    let (mine, theirs) = (sides.mine.film, sides.theirs.film);
    if choices.takes_theirs(MergePart::Kit) {
        return united_kit(&theirs.kit, &mine.kit, |_| true);
    }
    let shots = scenes.iter().flat_map(|scene| &scene.shots);
    let of_theirs = shots.filter(|shot| sides.mine.shot(shot.id) != Some(*shot));
    let mode = choices.takes_theirs(MergePart::Facts).then_some(theirs.facts.recording.as_str());
    let needed: BTreeSet<&str> = of_theirs.flat_map(|shot| made_with(shot)).chain(mode).collect();
    united_kit(&mine.kit, &theirs.kit, |name| choices.wants(MergePart::Kit) || needed.contains(name))
}

/// What of the kit a shot names.
fn made_with(shot: &Shot) -> impl Iterator<Item = &str> {
    let lens = match &shot.lens {
        LensChoice::Fixed { name, .. } => Some(name.as_str()),
        LensChoice::Auto => None,
    };
    lens.into_iter().chain(shot.adapter.as_deref())
}

/// The scenes with their shots and cuts.
///
/// What only one has comes behind: the numbers by which slates and printed cards know scenes and shots stay.
fn scenes(sides: &Sides<'_>, choices: &MergeChoices) -> Vec<Arc<Scene>> {
    let ids = |side: &Side<'_>| side.film.scenes.iter().map(|scene| scene.id).collect::<Vec<_>>();
    let is_wanted = |id: &SceneId| sides.mine.scenes.contains_key(id) || choices.wants(MergePart::Scene(*id));
    let (base, other) = sides.base_and_other(choices.takes_theirs(MergePart::SceneOrder));
    let mut there = BTreeSet::new();
    let all = [base, other].into_iter().flat_map(ids).filter(is_wanted);
    let order: Vec<SceneId> = all.filter(|id| there.insert(*id)).collect();
    let shots = located_shots(sides, choices, &there);
    order.into_iter().filter_map(|id| scene(sides, choices, id, &shots)).collect()
}

/// Every shot that is to be there, with its scene.
fn located_shots(
    sides: &Sides<'_>,
    choices: &MergeChoices,
    there: &BTreeSet<SceneId>,
) -> BTreeMap<ShotId, (SceneId, Arc<Shot>)> {
    let mut shots = BTreeMap::new();
    for (id, (scene, shot)) in &sides.mine.shots {
        let theirs = sides.theirs.shots.get(id).filter(|_| choices.takes_theirs(MergePart::Shot(*id)));
        let located = match theirs {
            Some((their_scene, their_shot)) if there.contains(their_scene) => {
                (*their_scene, Arc::clone(their_shot))
            }
            Some((_, their_shot)) => (*scene, Arc::clone(their_shot)),
            None => (*scene, Arc::clone(shot)),
        };
        shots.insert(*id, located);
    }
    for (id, (scene, shot)) in &sides.theirs.shots {
        let is_new = !shots.contains_key(id) && there.contains(scene);
        if is_new && choices.wants(MergePart::Shot(*id)) {
            shots.insert(*id, (*scene, Arc::clone(shot)));
        }
    }
    shots
}

fn scene(
    sides: &Sides<'_>,
    choices: &MergeChoices,
    id: SceneId,
    shots: &BTreeMap<ShotId, (SceneId, Arc<Shot>)>,
) -> Option<Arc<Scene>> {
    let (mine, theirs) = (sides.mine.scenes.get(&id).copied(), sides.theirs.scenes.get(&id).copied());
    let chosen = |part: MergePart| if choices.takes_theirs(part) { theirs.or(mine) } else { mine.or(theirs) };
    let is_of_scene = |shot: &ShotId| shots.get(shot).is_some_and(|(of, _)| *of == id);
    let listed = |scene: Option<&Arc<Scene>>| {
        scene
            .into_iter()
            .flat_map(|scene| scene.shots.iter().map(|shot| shot.id))
            .filter(is_of_scene)
            .collect::<Vec<_>>()
    };
    let (one, other) = (listed(mine), listed(theirs));
    let (base, other) =
        if choices.takes_theirs(MergePart::ShotOrder(id)) { (other, one) } else { (one, other) };
    let is_new = |shot: &ShotId| !sides.is_moved(*shot) && !base.contains(shot);
    let behind: Vec<ShotId> = base.iter().chain(other.iter().filter(|shot| is_new(shot))).copied().collect();
    // One that was moved here because that was chosen comes to where it was moved.
    let order = woven(&behind, &other, |shot| *shot, |_| true);
    let mut scene = Scene {
        id,
        facts: Arc::clone(&chosen(MergePart::SceneFacts(id))?.facts),
        blocking: Arc::clone(&chosen(MergePart::Blocking(id))?.blocking),
        shots: order.iter().filter_map(|shot| Some(Arc::clone(&shots.get(shot)?.1))).collect(),
        cut: Vec::new(),
        kept: Vec::new(),
    };
    scene.cut = match (mine, theirs) {
        (Some(mine), Some(theirs)) => {
            let theirs_first = choices.takes_theirs(MergePart::Cut(id));
            let (base, _) = sides.base_and_other(theirs_first);
            let (one, other) = if theirs_first { (theirs, mine) } else { (mine, theirs) };
            let is_wanted = |entry: &Entry| scene.can_show(entry) && base.lacks(one, entry);
            woven(&scene.shown_of(&one.cut), &other.cut, |entry| entry.id, is_wanted)
        }
        (Some(only), None) | (None, Some(only)) => scene.shown_of(&only.cut),
        (None, None) => Vec::new(),
    };
    scene.kept = kept(&scene, mine, theirs, choices);
    Some(Arc::new(scene))
}

/// What of both is kept anyway and still is where it was kept.
fn kept(
    scene: &Scene,
    mine: Option<&Arc<Scene>>,
    theirs: Option<&Arc<Scene>>,
    choices: &MergeChoices,
) -> Vec<Kept> {
    let part = MergePart::Kept(scene.id);
    let of = |side: Option<&Arc<Scene>>| side.map_or_else(Vec::new, |scene| scene.kept.clone());
    let theirs_first = choices.takes_theirs(part);
    let (mut base, mut other) = if theirs_first { (of(theirs), of(mine)) } else { (of(mine), of(theirs)) };
    base.retain(|kept| !theirs_first || scene.has(kept.at));
    let keys: BTreeSet<(String, KeptAt)> = base.iter().map(|kept| (kept.rule.clone(), kept.at)).collect();
    let is_wanted = theirs_first || mine.is_none() || choices.wants(part);
    other.retain(|kept| is_wanted && scene.has(kept.at) && !keys.contains(&(kept.rule.clone(), kept.at)));
    base.extend(other);
    base
}

/// The takes of both in the order in which they were logged, as far as that is known.
fn takes(
    sides: &Sides<'_>,
    choices: &MergeChoices,
    is_there: impl Fn(ShotId) -> bool,
) -> Arc<[Arc<LoggedTake>]> {
    let theirs: BTreeMap<_, _> = sides.theirs.film.takes.iter().map(|take| (take.id, take)).collect();
    let mine = sides.mine.film.takes.iter();
    let known: BTreeSet<_> = mine.clone().map(|take| take.id).collect();
    let chosen = |id| theirs.get(&id).filter(|_| choices.takes_theirs(MergePart::Take(id)));
    let mut takes: Vec<Arc<LoggedTake>> =
        mine.map(|take| Arc::clone(chosen(take.id).copied().unwrap_or(take))).collect();
    for take in sides.theirs.film.takes.iter() {
        if known.contains(&take.id) || !choices.wants(MergePart::Take(take.id)) || !is_there(take.shot) {
            continue;
        }
        let is_later =
            |one: &Arc<LoggedTake>| take.at.is_some_and(|at| one.at.is_some_and(|later| later > at));
        let at = takes.iter().position(is_later).unwrap_or(takes.len());
        takes.insert(at, Arc::clone(take));
    }
    Arc::from(takes)
}
