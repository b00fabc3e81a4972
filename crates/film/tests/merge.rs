//! Two copies of a film that were worked on apart become one, and nothing of either is lost or overwritten unasked.
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

#[path = "generated/films.rs"]
mod films;

use std::collections::BTreeSet;
use std::sync::Arc;

use film::{
    CastMember, Command, Entry, EntryId, Film, FreshIds, LoggedTake, Merge, MergeChoices, MergePart, Place,
    Shot, ShotId, demo_film,
};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;

/// An edit of a copy as it is chosen before the copy is known.
#[derive(Debug, Clone)]
enum Edit {
    Facts(film::FilmFacts),
    Tick(Index, Index),
    Scene(usize, film::Scene),
    RemoveScene(Index),
    MoveScene(Index, usize),
    SceneFacts(Index, film::SceneFacts),
    Blocking(Index, film::SceneBlocking),
    PickUp(Index, usize, Shot),
    Shot(Index, Shot),
    MoveShot(Index, usize),
    BringShot(Index, Index),
    DropShot(Index),
    RemoveShot(Index),
    TurnCut(Index),
    Take(Index, usize, LoggedTake),
    Days(Vec<films::DayWish>),
}

fn edit() -> BoxedStrategy<Edit> {
    let index = any::<Index>;
    prop_oneof![
        films::facts().prop_map(Edit::Facts),
        (index(), index()).prop_map(|(person, place)| Edit::Tick(person, place)),
        (3..6_usize, 0..4_usize)
            .prop_flat_map(|(id, at)| films::scene(id, id * 10).prop_map(move |scene| Edit::Scene(at, scene))),
        index().prop_map(Edit::RemoveScene),
        (index(), 0..5_usize).prop_map(|(scene, to)| Edit::MoveScene(scene, to)),
        (index(), films::scene_facts()).prop_map(|(scene, facts)| Edit::SceneFacts(scene, facts)),
        (index(), films::blocking()).prop_map(|(scene, blocking)| Edit::Blocking(scene, blocking)),
        (index(), 100..110_usize, films::shot()).prop_map(|(scene, id, shot)| Edit::PickUp(scene, id, shot)),
        (index(), films::shot()).prop_map(|(at, shot)| Edit::Shot(at, shot)),
        (index(), 0..5_usize).prop_map(|(shot, to)| Edit::MoveShot(shot, to)),
        (index(), index()).prop_map(|(shot, scene)| Edit::BringShot(shot, scene)),
        index().prop_map(Edit::DropShot),
        index().prop_map(Edit::RemoveShot),
        index().prop_map(Edit::TurnCut),
        (index(), 50..55_usize, films::take()).prop_map(|(shot, id, take)| Edit::Take(shot, id, take)),
        vec(films::day_wish(), 0..3).prop_map(Edit::Days),
    ]
    .boxed()
}

/// The command that an edit is in this film. None where there is nothing to change.
fn command(edit: &Edit, film: &Film, fresh: &mut FreshIds) -> Option<Command> {
    let scene = |at: &Index| (!film.scenes.is_empty()).then(|| Arc::clone(at.get(&film.scenes)));
    let shots: Vec<&Arc<Shot>> = film.scenes.iter().flat_map(|scene| &scene.shots).collect();
    let shot = |at: &Index| (!shots.is_empty()).then(|| Arc::clone(*at.get(&shots)));
    Some(match edit {
        Edit::Facts(facts) => Command::SetFacts(Arc::new(facts.clone())),
        Edit::Tick(person, place) => {
            let mut cast: Vec<CastMember> = film.cast.to_vec();
            person.get_mut(&mut cast).consent = true;
            let mut places: Vec<Place> = film.places.to_vec();
            place.get_mut(&mut places).room_tone = true;
            Command::All(vec![Command::SetCast(Arc::from(cast)), Command::SetPlaces(Arc::from(places))])
        }
        Edit::Scene(at, scene) => Command::InsertScene { at: *at, scene: Arc::new(scene.clone()) },
        Edit::RemoveScene(at) => Command::RemoveScene(scene(at)?.id),
        Edit::MoveScene(at, to) => Command::MoveScene { scene: scene(at)?.id, to: *to },
        Edit::SceneFacts(at, facts) => {
            Command::SetSceneFacts { scene: scene(at)?.id, facts: Arc::new(facts.clone()) }
        }
        Edit::Blocking(at, blocking) => {
            Command::SetBlocking { scene: scene(at)?.id, blocking: Arc::new(blocking.clone()) }
        }
        Edit::PickUp(at, id, shot) => {
            let scene = scene(at)?;
            let id = films::shot_id(*id);
            let entry = Entry::whole(fresh.fresh::<EntryId>(), id);
            let after = scene.shots.first().map(|shot| shot.id);
            let shot = Arc::new(Shot { is_dropped: false, ..shot.known_by(id) });
            film.adds_shot(scene.id, after, shot, entry).expect("it is there")
        }
        Edit::Shot(at, other) => Command::SetShot(Arc::new(other.known_by(shot(at)?.id))),
        Edit::MoveShot(at, to) => Command::MoveShot { shot: shot(at)?.id, to: *to },
        Edit::BringShot(at, to) => {
            film.brings_shot(shot(at)?.id, scene(to)?.id, 0, fresh).expect("both are there")
        }
        Edit::DropShot(at) => film.drops_shot(shot(at)?.id).expect("it is there"),
        Edit::RemoveShot(at) => film.removes_shot(shot(at)?.id).expect("it is there"),
        Edit::TurnCut(at) => {
            let scene = scene(at)?;
            Command::SetCut { scene: scene.id, cut: scene.cut.iter().rev().copied().collect() }
        }
        Edit::Take(at, id, take) => {
            let shot = shot(at)?.id;
            let take = LoggedTake { id: films::take_id(*id), shot, ..take.clone() };
            Command::AddTake { at: usize::MAX, take: Arc::new(take) }
        }
        Edit::Days(days) => {
            let ids: Vec<ShotId> = shots.iter().map(|shot| shot.id).collect();
            Command::SetDays(days.iter().enumerate().map(|(index, day)| day.of(index, &ids)).collect())
        }
    })
}

/// The film after those edits that can be made.
fn edited(film: &Film, edits: &[Edit], first_id: u64) -> Film {
    let mut film = film.clone();
    let mut fresh = FreshIds::starting_at(first_id);
    for edit in edits {
        if let Some(command) = command(edit, &film, &mut fresh) {
            let _refused = film.apply(command);
        }
    }
    film
}

/// Two copies of a film, each with edits of its own; or two films whose parts have the same ids and nothing else in common.
fn copies() -> BoxedStrategy<(Film, Film)> {
    let apart = (films::film(), vec(edit(), 0..6), vec(edit(), 0..10))
        .prop_map(|(film, mine, theirs)| (edited(&film, &mine, 1 << 40), edited(&film, &theirs, 1 << 41)));
    prop_oneof![3 => apart, 1 => (films::film(), films::film())].boxed()
}

fn merged(mine: &Film, merge: &Merge, choices: &MergeChoices) -> Film {
    let mut film = mine.clone();
    film.apply(merge.command(choices)).expect("a merge can always be made");
    film
}

fn parts(merge: &Merge) -> BTreeSet<MergePart> {
    merge.differences().iter().map(|difference| difference.part).collect()
}

fn shots(film: &Film) -> impl Iterator<Item = &Arc<Shot>> {
    film.scenes.iter().flat_map(|scene| &scene.shots)
}

/// Whether all of the one list is in the other, in its order.
fn is_within<Item: PartialEq>(list: &[Item], other: &[Item]) -> bool {
    let mut other = other.iter();
    list.iter().all(|item| other.any(|one| one == item))
}

/// That everybody and everything of the one film is in the other by its id.
fn assert_holds_all_of(film: &Film, other: &Film) -> Result<(), TestCaseError> {
    for person in other.cast.iter() {
        prop_assert!(
            film.person(person.id).is_some_and(|one| one.consent || !person.consent),
            "{}",
            person.id
        );
    }
    for place in other.places.iter() {
        let one = film.place(place.id);
        prop_assert!(one.is_some_and(|one| one.room_tone || !place.room_tone), "{}", place.id);
        prop_assert!(one.is_some_and(|one| one.spot.is_some() || place.spot.is_none()), "{}", place.id);
    }
    for day in other.days.iter() {
        let one = film.day(day.id).expect("the day");
        prop_assert!(day.done.iter().all(|done| film.shot(*done).is_none() || one.done.contains(done)));
    }
    prop_assert!(other.scenes.iter().all(|scene| film.scene(scene.id).is_some()));
    prop_assert!(shots(other).all(|shot| film.shot(shot.id).is_some()));
    let is_logged = |take: &Arc<LoggedTake>| film.takes.iter().any(|one| one.id == take.id);
    prop_assert!(other.takes.iter().all(|take| is_logged(take) || film.shot(take.shot).is_none()));
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn a_film_merged_with_itself_is_left_alone(film in films::film()) {
        let merge = Merge::of(&film, &film.clone());
        prop_assert!(merge.is_empty(), "{:?}", merge);
        prop_assert_eq!(merge.only_mine(), 0);
        prop_assert_eq!(merge.command(&merge.all_theirs()), Command::All(Vec::new()));
    }

    #[test]
    fn without_choices_nothing_of_mine_is_another_and_all_of_theirs_is_there((mine, theirs) in copies()) {
        let merge = Merge::of(&mine, &theirs);
        let film = merged(&mine, &merge, &MergeChoices::default());
        assert_holds_all_of(&film, &mine)?;
        assert_holds_all_of(&film, &theirs)?;
        prop_assert_eq!(&film.facts, &mine.facts);
        prop_assert_eq!(&film.kit, &mine.kit);
        for shot in shots(&mine) {
            prop_assert_eq!(film.shot(shot.id).map(|(scene, shot)| (scene.id, shot)), mine.shot(shot.id).map(|(scene, shot)| (scene.id, shot)));
        }
        for scene in &mine.scenes {
            let now = film.scene(scene.id).expect("the scene");
            prop_assert_eq!((&now.facts, &now.blocking), (&scene.facts, &scene.blocking));
            prop_assert!(is_within(&scene.cut, &now.cut), "{:?} in {:?}", scene.cut, now.cut);
            let is_of_pick_up = |entry: &Entry| mine.shot(entry.shot).is_none();
            prop_assert!(now.cut.iter().all(|entry| scene.cut.contains(entry) || is_of_pick_up(entry)));
            prop_assert!(is_within(&scene.shots, &now.shots));
            prop_assert!(scene.kept.iter().all(|kept| now.kept.contains(kept)));
        }
        prop_assert!(is_within(&mine.takes, &film.takes));
        prop_assert_eq!(film == mine, merge.adds().is_empty(), "{:?}", merge.adds());
        let again = Merge::of(&film, &theirs);
        prop_assert_eq!(again.adds(), &[]);
        prop_assert!(parts(&again).is_subset(&parts(&merge)), "{:?} after {:?}", again.differences(), merge.differences());
    }

    #[test]
    fn with_theirs_for_everything_all_that_both_have_is_theirs((mine, theirs) in copies()) {
        let merge = Merge::of(&mine, &theirs);
        let film = merged(&mine, &merge, &merge.all_theirs());
        assert_holds_all_of(&film, &mine)?;
        assert_holds_all_of(&film, &theirs)?;
        prop_assert_eq!(&film.facts, &theirs.facts);
        prop_assert_eq!(&film.kit, &theirs.kit);
        for shot in shots(&theirs) {
            let (scene, now) = film.shot(shot.id).expect("the shot");
            prop_assert_eq!(Some(scene.id), theirs.shot(shot.id).map(|(scene, _)| scene.id));
            prop_assert_eq!((&now.of, &now.action, now.is_dropped), (&shot.of, &shot.action, shot.is_dropped));
        }
        for scene in &theirs.scenes {
            let now = film.scene(scene.id).expect("the scene");
            prop_assert_eq!((&now.facts, &now.blocking), (&scene.facts, &scene.blocking));
            prop_assert!(is_within(&scene.cut, &now.cut), "{:?} in {:?}", scene.cut, now.cut);
        }
        let again = Merge::of(&film, &theirs);
        prop_assert!(again.is_empty(), "{:?} {:?}", again.adds(), again.differences());
    }

    #[test]
    fn whatever_is_chosen_can_be_made_and_taken_back((mine, theirs) in copies(), chosen in any::<u64>(), left in any::<u64>()) {
        let merge = Merge::of(&mine, &theirs);
        let some = |parts: Vec<MergePart>, mask: u64| {
            parts.into_iter().enumerate().filter(|(at, _)| mask >> (at % 64) & 1 == 1).map(|(_, part)| part).collect()
        };
        let choices = MergeChoices {
            theirs: some(parts(&merge).into_iter().collect(), chosen),
            without: some(merge.adds().iter().map(|add| add.part).collect(), left),
        };
        let mut film = mine.clone();
        let inverse = film.apply(merge.command(&choices)).expect("a merge can always be made");
        assert_holds_all_of(&film, &mine)?;
        film.apply(inverse).expect("what was made can be taken back");
        prop_assert_eq!(film, mine);
    }
}

/// A copy of the demo film with that change.
fn changed(change: impl FnOnce(&mut Film)) -> Film {
    let mut film = demo_film();
    change(&mut film);
    film
}

/// What is told of the only difference.
fn told_difference(mine: &Film, theirs: &Film) -> Vec<String> {
    let merge = Merge::of(mine, theirs);
    assert_eq!(merge.adds(), []);
    let told = |difference: &film::Difference| {
        let what = difference.what.clone();
        difference
            .fields
            .iter()
            .map(move |field| format!("{what}: {}: {} / {}", field.name, field.mine, field.theirs))
            .collect::<Vec<_>>()
    };
    merge.differences().iter().flat_map(told).collect()
}

fn what_is_added(mine: &Film, theirs: &Film) -> Vec<String> {
    let merge = Merge::of(mine, theirs);
    assert_eq!(merge.differences(), []);
    merge.adds().iter().map(|add| add.what.clone()).collect()
}

fn with_cast(change: impl Fn(&mut CastMember)) -> Film {
    changed(|film| {
        let mut cast = film.cast.to_vec();
        change(&mut cast[0]);
        film.cast = Arc::from(cast);
    })
}

#[test]
fn an_edit_of_a_shot_is_told_side_by_side() {
    let theirs = changed(|film| {
        let mut shot = Shot::clone(&film.scenes[1].shots[0]);
        shot.planned_s = 9.5;
        "Slower".clone_into(&mut shot.notes);
        film.apply(Command::SetShot(Arc::new(shot))).expect("it is there");
    });
    let mine = demo_film();
    let planned_s = mine.scenes[1].shots[0].planned_s;
    assert_eq!(
        told_difference(&mine, &theirs),
        [
            "Shot 2.1: notes: not said / Slower".to_owned(),
            format!("Shot 2.1: planned: {planned_s} s / 9.5 s")
        ]
    );
}

#[test]
fn a_tick_is_added_and_never_taken_away() {
    let agreed = with_cast(|person| person.consent = true);
    let name = &demo_film().cast[0].name;
    assert_eq!(
        what_is_added(&with_cast(|person| person.consent = false), &agreed),
        [format!("{name} has agreed to be filmed")]
    );
    assert_eq!(what_is_added(&agreed, &with_cast(|person| person.consent = false)), [""; 0]);
}

#[test]
fn names_that_were_left_out_of_a_link_come_back_as_no_difference() {
    let mine = with_cast(|person| "Ada".clone_into(&mut person.name));
    let link = film::film_link(&mine, film::LinkContents::default()).expect("short");
    let mut theirs = film::open_link(&link).expect("as written").opened.film;
    assert_eq!(theirs.cast[0].name, "Person 1");
    assert!(Merge::of(&mine, &theirs).is_empty());
    // Nor does taking theirs for what is another of the same person take the name away.
    let mut cast = theirs.cast.to_vec();
    cast[0].stature = units::Length::from_m(1.11);
    theirs.cast = Arc::from(cast);
    let merge = Merge::of(&mine, &theirs);
    let film = merged(&mine, &merge, &merge.all_theirs());
    assert_eq!((film.cast[0].name.as_str(), film.cast[0].stature.to_m()), ("Ada", 1.11));
    // Whoever has the film without names gets them.
    assert_eq!(
        what_is_added(&film::open_link(&link).expect("as written").opened.film, &mine)
            .first()
            .map(String::as_str),
        Some("Person 1 is called Ada")
    );
}

#[test]
fn a_pick_up_comes_with_its_entry_after_the_one_it_follows() {
    let mine = demo_film();
    let scene = &mine.scenes[0];
    let after = scene.cut[0];
    let id = ShotId::new(1 << 45).expect("an id");
    let theirs = changed(|film| {
        let shot = Arc::new(scene.shots[1].known_by(id));
        let entry = Entry::whole(EntryId::new(1 << 45).expect("an id"), id);
        film.apply(film.adds_shot(scene.id, Some(after.shot), shot, entry).expect("it is there"))
            .expect("it can be");
    });
    let merge = Merge::of(&mine, &theirs);
    assert_eq!(merge.differences(), []);
    assert_eq!(merge.adds().iter().map(|add| add.part).collect::<Vec<_>>(), [MergePart::Shot(id)]);
    assert_eq!(merged(&mine, &merge, &MergeChoices::default()), theirs);
    let without = MergeChoices { without: BTreeSet::from([MergePart::Shot(id)]), ..MergeChoices::default() };
    assert_eq!(merged(&mine, &merge, &without), mine);
}

#[test]
fn a_shot_that_they_gave_up_leaves_the_cut_only_if_that_is_chosen() {
    let mine = demo_film();
    let shot = mine.scenes[0].cut[0].shot;
    let theirs = changed(|film| {
        film.apply(film.drops_shot(shot).expect("it is there")).expect("it can be");
    });
    let merge = Merge::of(&mine, &theirs);
    assert_eq!(parts(&merge), BTreeSet::from([MergePart::Shot(shot)]));
    assert_eq!(merged(&mine, &merge, &MergeChoices::default()), mine);
    assert_eq!(merged(&mine, &merge, &merge.all_theirs()), theirs);
    // And the other way round it is taken up again, with its entries.
    let back = Merge::of(&theirs, &mine);
    assert_eq!(merged(&theirs, &back, &back.all_theirs()), mine);
}

#[test]
fn takes_of_both_come_in_the_order_in_which_they_were_logged() {
    let shot = demo_film().scenes[0].shots[0].id;
    let with = |takes: &[(u64, u32, i64)]| {
        changed(|film| {
            for &(id, number, second) in takes {
                let at = Some(jiff::Timestamp::from_second(second).expect("a moment"));
                let id = film::TakeId::new(id).expect("an id");
                let take = Arc::new(LoggedTake { at, ..LoggedTake::new(id, shot, number) });
                film.apply(Command::AddTake { at: usize::MAX, take }).expect("it is new");
            }
        })
    };
    let (mine, theirs) = (with(&[(1, 1, 100), (2, 2, 300)]), with(&[(1, 1, 100), (7, 2, 200), (8, 3, 400)]));
    assert_eq!(what_is_added(&mine, &theirs), ["Take 2 of shot 1.1", "Take 3 of shot 1.1"]);
    let merge = Merge::of(&mine, &theirs);
    let film = merged(&mine, &merge, &MergeChoices::default());
    assert_eq!(film.takes.iter().map(|take| take.id.number()).collect::<Vec<_>>(), [1, 7, 2, 8]);
}

#[test]
fn somebody_whom_a_wanted_shot_needs_comes_even_if_they_were_not_wanted() {
    let mine = demo_film();
    let who = film::PersonId::new(1 << 45).expect("an id");
    let id = ShotId::new(1 << 45).expect("an id");
    let theirs = changed(|film| {
        let newcomer = CastMember { id: who, name: "Noa".to_owned(), ..film.cast[0].clone() };
        let cast = film.cast.iter().cloned().chain([newcomer]).collect();
        film.apply(Command::SetCast(cast)).expect("they are new");
        let shot = Shot { of: film::ShotOf::One(who), ..film.scenes[0].shots[0].known_by(id) };
        let scene = film.scenes[0].id;
        film.apply(Command::InsertShot { scene, at: 0, shot: Arc::new(shot) }).expect("it is new");
    });
    let merge = Merge::of(&mine, &theirs);
    let without = |parts: &[MergePart]| MergeChoices {
        without: parts.iter().copied().collect(),
        ..MergeChoices::default()
    };
    let film = merged(&mine, &merge, &without(&[MergePart::Person(who)]));
    assert_eq!(film.name_of(who), "Noa");
    let film = merged(&mine, &merge, &without(&[MergePart::Person(who), MergePart::Shot(id)]));
    assert_eq!(film, mine);
}

#[test]
fn films_that_share_neither_scene_nor_shot_are_two_films() {
    let mine = demo_film();
    let other = Film::empty(Arc::clone(&mine.kit), mine.facts.aspect);
    assert!(!Merge::of(&mine, &other).is_of_one_film());
    assert!(Merge::of(&mine, &mine).is_of_one_film());
}
