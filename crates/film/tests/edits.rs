//! Edits: what is taken back is as it was, what is refused changes nothing, and a film is always whole.
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

#[path = "generated/films.rs"]
mod films;

use std::collections::BTreeSet;
use std::sync::Arc;

use film::{Command, CommandRecord, Entry, Film, FreshIds, Kept, KeptAt, LoggedTake, Scene, Shot};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;

/// A change as it is chosen before the film that it changes is known.
#[derive(Debug, Clone)]
enum Wish {
    /// Makes sense in any film.
    Plain(Command),
    RemoveScene(Index),
    MoveScene(Index, usize),
    SetSceneFacts(Index, Arc<film::SceneFacts>),
    SetBlocking(Index, Arc<film::SceneBlocking>),
    InsertShot(Index, usize, usize, Shot),
    RemoveShot(Index, bool),
    SetShot(Index, Shot),
    MoveShot(Index, usize),
    BringShot(Index, Index, usize),
    SetCut(Index, Vec<Index>, bool),
    SetKept(Index, String),
    DropPerson(Index),
    DropPlace(Index),
    SetDays(Vec<films::DayWish>),
    DropShot(Index),
    TakeUpShot(Index),
    AddTake(usize, Index, usize, LoggedTake),
    SetTake(Index, LoggedTake),
    RemoveTake(Index),
    All(Vec<Self>),
}

fn single_wish() -> BoxedStrategy<Wish> {
    let index = any::<Index>;
    prop_oneof![
        films::facts().prop_map(|facts| Wish::Plain(Command::SetFacts(Arc::new(facts)))),
        films::cast().prop_map(|cast| Wish::Plain(Command::SetCast(cast))),
        (0..6_usize, 0..60_usize, 0..4_usize)
            .prop_flat_map(|(id, first, at)| films::scene(id, first).prop_map(move |scene| (scene, at)))
            .prop_map(|(scene, at)| Wish::Plain(Command::InsertScene { at, scene: Arc::new(scene) })),
        index().prop_map(Wish::RemoveScene),
        (index(), 0..5_usize).prop_map(|(scene, to)| Wish::MoveScene(scene, to)),
        (index(), films::scene_facts())
            .prop_map(|(scene, facts)| Wish::SetSceneFacts(scene, Arc::new(facts))),
        (index(), films::blocking()).prop_map(|(scene, made)| Wish::SetBlocking(scene, Arc::new(made))),
        (index(), 0..40_usize, 0..5_usize, films::shot())
            .prop_map(|(scene, id, at, shot)| Wish::InsertShot(scene, id, at, shot)),
        (index(), any::<bool>()).prop_map(|(shot, from_cut)| Wish::RemoveShot(shot, from_cut)),
        (index(), films::shot()).prop_map(|(at, shot)| Wish::SetShot(at, shot)),
        (index(), 0..5_usize).prop_map(|(shot, to)| Wish::MoveShot(shot, to)),
        (index(), index(), 0..5_usize).prop_map(|(shot, scene, at)| Wish::BringShot(shot, scene, at)),
        (index(), vec(index(), 0..6), any::<bool>())
            .prop_map(|(scene, of, wrong)| Wish::SetCut(scene, of, wrong)),
        (index(), "[a-z]{1,5}").prop_map(|(scene, reason)| Wish::SetKept(scene, reason)),
        index().prop_map(Wish::DropPerson),
        index().prop_map(Wish::DropPlace),
        vec(films::day_wish(), 0..3).prop_map(Wish::SetDays),
        index().prop_map(Wish::DropShot),
        index().prop_map(Wish::TakeUpShot),
        (0..6_usize, index(), 0..4_usize, films::take())
            .prop_map(|(id, shot, at, take)| Wish::AddTake(id, shot, at, take)),
        (index(), films::take()).prop_map(|(at, take)| Wish::SetTake(at, take)),
        index().prop_map(Wish::RemoveTake),
    ]
    .boxed()
}

fn wish() -> BoxedStrategy<Wish> {
    prop_oneof![6 => single_wish(), 1 => vec(single_wish(), 0..4).prop_map(Wish::All)].boxed()
}

/// The command that a wish is in this film; some of them cannot be made. None where there is nothing to change.
fn command(wish: &Wish, film: &Film) -> Option<Command> {
    let scene = |at: &Index| (!film.scenes.is_empty()).then(|| Arc::clone(at.get(&film.scenes)));
    let shots: Vec<&Arc<Shot>> = film.scenes.iter().flat_map(|scene| &scene.shots).collect();
    let shot = |at: &Index| (!shots.is_empty()).then(|| Arc::clone(*at.get(&shots)));
    let take = |at: &Index| (!film.takes.is_empty()).then(|| Arc::clone(at.get(&film.takes)));
    Some(match wish {
        Wish::Plain(command) => command.clone(),
        Wish::RemoveScene(at) => Command::RemoveScene(scene(at)?.id),
        Wish::MoveScene(at, to) => Command::MoveScene { scene: scene(at)?.id, to: *to },
        Wish::SetSceneFacts(at, facts) => {
            Command::SetSceneFacts { scene: scene(at)?.id, facts: Arc::clone(facts) }
        }
        Wish::SetBlocking(at, blocking) => {
            Command::SetBlocking { scene: scene(at)?.id, blocking: Arc::clone(blocking) }
        }
        Wish::InsertShot(at, id, before, shot) => Command::InsertShot {
            scene: scene(at)?.id,
            at: *before,
            shot: Arc::new(shot.known_by(films::shot_id(*id))),
        },
        Wish::RemoveShot(at, true) => film.removes_shot(shot(at)?.id).expect("it is there"),
        Wish::RemoveShot(at, false) => Command::RemoveShot(shot(at)?.id),
        Wish::SetShot(at, other) => Command::SetShot(Arc::new(other.known_by(shot(at)?.id))),
        Wish::MoveShot(at, to) => Command::MoveShot { shot: shot(at)?.id, to: *to },
        Wish::BringShot(at, to, before) => {
            let mut fresh = FreshIds::starting_at(1 << 52);
            film.brings_shot(shot(at)?.id, scene(to)?.id, *before, &mut fresh).expect("both are there")
        }
        Wish::SetCut(at, of, wrong) => {
            let scene = scene(at)?;
            let from: Vec<_> = if *wrong { shots.clone() } else { scene.shots.iter().collect() };
            let of = if from.is_empty() { &[] } else { of.as_slice() };
            let entries = of.iter().enumerate();
            let entries = entries.map(|(id, of)| Entry::whole(films::entry_id(id), of.get(&from).id));
            Command::SetCut { scene: scene.id, cut: entries.collect() }
        }
        Wish::SetKept(at, reason) => Command::SetKept {
            scene: scene(at)?.id,
            kept: vec![Kept { rule: "rule".to_owned(), at: KeptAt::Scene, reason: reason.clone() }],
        },
        Wish::DropPerson(at) => {
            let gone = at.get(&film.cast).id;
            Command::SetCast(film.cast.iter().filter(|one| one.id != gone).cloned().collect())
        }
        Wish::DropPlace(at) => {
            let gone = film.places.get(at.index(film.places.len().max(1)))?.id;
            Command::SetPlaces(film.places.iter().filter(|one| one.id != gone).cloned().collect())
        }
        Wish::SetDays(days) => {
            let ids: Vec<_> = shots.iter().map(|shot| shot.id).collect();
            Command::SetDays(days.iter().enumerate().map(|(index, day)| day.of(index, &ids)).collect())
        }
        Wish::DropShot(at) => film.drops_shot(shot(at)?.id).expect("it is there"),
        Wish::TakeUpShot(at) => film.takes_up_shot(shot(at)?.id, films::entry_id(9)).expect("it is there"),
        Wish::AddTake(id, of, at, take) => {
            let take = LoggedTake { id: films::take_id(*id), shot: shot(of)?.id, ..take.clone() };
            Command::AddTake { at: *at, take: Arc::new(take) }
        }
        Wish::SetTake(at, other) => {
            let LoggedTake { id, shot, .. } = *take(at)?;
            Command::SetTake(Arc::new(LoggedTake { id, shot, ..other.clone() }))
        }
        Wish::RemoveTake(at) => Command::RemoveTake(take(at)?.id),
        Wish::All(wishes) => Command::All(wishes.iter().filter_map(|wish| command(wish, film)).collect()),
    })
}

fn all_differ<Id: Ord + Copy>(ids: impl Iterator<Item = Id> + Clone) -> bool {
    ids.clone().count() == ids.collect::<BTreeSet<Id>>().len()
}

/// What holds of every film.
fn is_whole(film: &Film) -> Result<(), String> {
    let holds = |holds: bool, what: &str| if holds { Ok(()) } else { Err(what.to_owned()) };
    let shots = film.scenes.iter().flat_map(|scene| &scene.shots);
    holds(all_differ(film.scenes.iter().map(|scene| scene.id)), "two scenes have one id")?;
    holds(all_differ(shots.map(|shot| shot.id)), "two shots have one id")?;
    holds(all_differ(film.cast.iter().map(|one| one.id)), "two people have one id")?;
    holds(all_differ(film.takes.iter().map(|take| take.id)), "two takes have one id")?;
    for scene in &film.scenes {
        let is_of_scene = |entry: &Entry| scene.shot(entry.shot).is_some();
        holds(scene.cut.iter().all(is_of_scene), "an entry is of no shot of its scene")?;
        let is_dropped = |entry: &Entry| scene.shot(entry.shot).is_some_and(|shot| shot.is_dropped);
        holds(!scene.cut.iter().any(is_dropped), "an entry is of a shot that was given up")?;
        holds(all_differ(scene.cut.iter().map(|entry| entry.id)), "two entries have one id")?;
        holds(scene.people().all(|who| film.person(who).is_some()), "somebody is not of the cast")?;
        holds(scene.facts.place.is_none_or(|place| film.place(place).is_some()), "a place is gone")?;
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn edits_taken_back_in_reverse_leave_the_film_as_it_was(
        film in films::film(),
        wishes in vec(wish(), 0..12),
    ) {
        let mut edited = film.clone();
        let mut inverses = Vec::new();
        for wish in &wishes {
            let Some(command) = command(wish, &edited) else { continue };
            let before = edited.clone();
            match edited.apply(command) {
                Ok(inverse) => inverses.push((inverse, before)),
                Err(error) => prop_assert_eq!(&edited, &before, "refused with {}", error),
            }
            prop_assert_eq!(is_whole(&edited), Ok(()), "after {:?}", wish);
        }
        for (inverse, before) in inverses.into_iter().rev() {
            edited.apply(inverse).expect("what was made can be taken back");
            prop_assert_eq!(is_whole(&edited), Ok(()));
            prop_assert_eq!(&edited, &before);
        }
        prop_assert_eq!(edited, film);
    }

    #[test]
    fn a_command_in_a_journal_reads_back_as_itself(film in films::film(), wish in wish()) {
        let Some(command) = command(&wish, &film) else { return Ok(()) };
        let record = CommandRecord::from(&command);
        let text = serde_json::to_string(&record).expect("plain values");
        let again: CommandRecord = serde_json::from_str(&text).expect("as written");
        prop_assert_eq!(&again, &record);
        prop_assert_eq!(again.to_command(), Ok(command));
    }
}

#[test]
fn a_command_that_is_not_right_names_its_field() {
    let text =
        r#"{"insert_shot": {"scene": 1, "at": 0, "shot": {"id": 1, "of": {"one": 1}, "planned_s": -3}}}"#;
    let record: CommandRecord = serde_json::from_str(text).expect("a record");
    let error = record.to_command().expect_err("no shot is as short");
    assert_eq!(error.to_string(), "shot.planned_s: -3 s is not allowed: 0.1 to 600 s");
}

#[test]
fn a_scene_is_taken_back_with_all_that_was_in_it() {
    let film = film::demo_film();
    let mut edited = film.clone();
    let first: &Arc<Scene> = film.scenes.first().expect("a scene");
    let inverse = edited.apply(Command::RemoveScene(first.id)).expect("it is there");
    assert_ne!(edited, film);
    edited.apply(inverse).expect("taken back");
    assert_eq!(edited, film);
}
