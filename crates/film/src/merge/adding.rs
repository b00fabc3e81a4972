//! What only the other copy has, in words.

use std::collections::BTreeSet;

use language::{say, text};

use crate::day::ShootingDay;
use crate::film::{CastMember, Film, Place};
use crate::id::ShotId;
use crate::kit::Kit;
use crate::merge::naming::{name_of, scene_number, shot_number};
use crate::merge::sides::Sides;
use crate::merge::{MergeAdd, MergePart};
use crate::scene::Scene;
use crate::shot::Shot;
use crate::take_log::{LoggedTake, Verdict};
use crate::wording::counted;

/// Everything in which the united film has more than mine.
pub(super) fn adds(sides: &Sides<'_>, united: &Film) -> Vec<MergeAdd> {
    let mine = sides.mine.film;
    let mut adds = Vec::new();
    let mut add = |part, what: Vec<String>| adds.extend(what.into_iter().map(|what| MergeAdd { part, what }));
    add(MergePart::Kit, more_of_kit(&mine.kit, &united.kit));
    for person in united.cast.iter() {
        let what = match mine.person(person.id) {
            Some(was) => more_of_person(was, person),
            None => vec![say!("{} is in the cast", person.name)],
        };
        add(MergePart::Person(person.id), what);
    }
    for place in united.places.iter() {
        let part = MergePart::Place(place.id);
        let name = name_of(united, part);
        let what = match mine.place(place.id) {
            Some(was) => more_of_place(&name, was, place),
            None => vec![say!("{name} is a place")],
        };
        add(part, what);
    }
    for day in united.days.iter() {
        let part = MergePart::Day(day.id);
        let name = name_of(united, part);
        let what = match mine.day(day.id) {
            Some(was) => more_of_day(united, &name, was, day),
            None => vec![name],
        };
        add(part, what);
    }
    for scene in &united.scenes {
        let Some(was) = sides.mine.scenes.get(&scene.id) else {
            let part = MergePart::Scene(scene.id);
            let shots = scene.shots.len();
            add(
                part,
                vec![say!("{}, with {}", name_of(united, part), counted(shots, say!("shot"), say!("shots")))],
            );
            continue;
        };
        for shot in scene.shots.iter().filter(|shot| !sides.mine.shots.contains_key(&shot.id)) {
            add(MergePart::Shot(shot.id), vec![told_shot(united, shot)]);
        }
        add(MergePart::Kept(scene.id), more_kept(united, was, scene));
    }
    let known: BTreeSet<_> = mine.takes.iter().map(|take| take.id).collect();
    for take in united.takes.iter().filter(|take| !known.contains(&take.id)) {
        let part = MergePart::Take(take.id);
        add(part, vec![told_take(&name_of(united, part), take)]);
    }
    adds
}

/// The words of what is so.
fn that_are<const COUNT: usize>(said: [(bool, String); COUNT]) -> Vec<String> {
    said.into_iter().filter_map(|(is_so, words)| is_so.then_some(words)).collect()
}

/// The united kit has what is new to it behind what was there.
fn more_of_kit(was: &Kit, is: &Kit) -> Vec<String> {
    let lenses = is.lenses.iter().skip(was.lenses.len()).map(|lens| lens.name.as_str());
    let recordings = is.recordings.iter().skip(was.recordings.len()).map(|mode| mode.name.as_str());
    let adapters = is.adapters.iter().skip(was.adapters.len()).map(|adapter| adapter.name.as_str());
    let filters = is.filters.iter().skip(was.filters.len()).map(|filter| filter.name.as_str());
    let new: Vec<&str> = lenses.chain(recordings).chain(adapters).chain(filters).collect();
    that_are([(!new.is_empty(), say!("In the kit: {}", new.join(", ")))])
}

fn more_of_person(was: &CastMember, is: &CastMember) -> Vec<String> {
    let name = &is.name;
    that_are([
        (
            was.name != is.name,
            if was.name.is_empty() {
                say!("Somebody is called {name}")
            } else {
                say!("{} is called {name}", was.name)
            },
        ),
        (was.consent != is.consent, say!("{name} has agreed to be filmed")),
        (was.unknown != is.unknown, say!("More of {name}, from a newer program")),
    ])
}

fn more_of_place(name: &str, was: &Place, is: &Place) -> Vec<String> {
    that_are([
        (was.spot != is.spot, say!("Where {name} is on earth")),
        (was.permission != is.permission, say!("{name} may be filmed at")),
        (was.room_tone != is.room_tone, say!("Room tone of {name} is recorded")),
        (was.paced != is.paced, say!("The outline of {name}")),
        (was.photos != is.photos, say!("More photos of {name}")),
        (was.wild_track != is.wild_track, say!("Wild tracks of {name} are recorded")),
        (was.unknown != is.unknown, say!("More of {name}, from a newer program")),
    ])
}

fn more_of_day(united: &Film, name: &str, was: &ShootingDay, is: &ShootingDay) -> Vec<String> {
    let numbers = |shots: Vec<ShotId>| {
        let numbers: Vec<String> = shots.iter().map(|shot| shot_number(united, *shot)).collect();
        match numbers.as_slice() {
            [number] => say!("shot {number}"),
            several => say!("shots {}", several.join(", ")),
        }
    };
    let new = |was: &[ShotId], is: &[ShotId]| {
        is.iter().copied().filter(|shot| !was.contains(shot)).collect::<Vec<_>>()
    };
    let listed = |day: &ShootingDay| day.shots.clone().unwrap_or_default();
    let pinned = |day: &ShootingDay| day.pinned.iter().map(|pinned| pinned.shot).collect::<Vec<_>>();
    let [listed, pinned, done] =
        [new(&listed(was), &listed(is)), new(&pinned(was), &pinned(is)), new(&was.done, &is.done)];
    that_are([
        (!listed.is_empty(), say!("{name}: {} on its list", numbers(listed))),
        (!pinned.is_empty(), say!("{name}: a fixed place for {}", numbers(pinned))),
        (!done.is_empty(), say!("{name}: {} in the can", numbers(done))),
    ])
}

fn told_shot(united: &Film, shot: &Shot) -> String {
    let (name, size) = (name_of(united, MergePart::Shot(shot.id)), text(shot.size.name()));
    let what = say!("{name}: {size} of {}", shot.of.told(united));
    if shot.action.is_empty() { what } else { format!("{what}, {}", shot.action) }
}

fn more_kept(united: &Film, was: &Scene, is: &Scene) -> Vec<String> {
    let new = is.kept.iter().filter(|kept| !was.kept.contains(kept)).count();
    let words = say!(
        "{} that {} keeps anyway",
        counted(new, say!("finding"), say!("findings")),
        scene_number(united, is.id)
    );
    that_are([(new > 0, words)])
}

fn told_take(name: &str, take: &LoggedTake) -> String {
    let verdict = match take.verdict {
        Verdict::Unsaid => String::new(),
        Verdict::Good | Verdict::NotGood => format!(", {}", text(take.verdict.name())),
    };
    let why = if take.why.is_empty() { String::new() } else { format!(": {}", take.why) };
    format!("{name}{verdict}{why}")
}
