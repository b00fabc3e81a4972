//! Two copies of a film that were worked on apart become one, and nothing of either is lost or overwritten unasked.
#![expect(clippy::expect_used, reason = "a test that cannot build its film must fail")]

#[path = "merge/examples.rs"]
mod examples;
#[path = "generated/films.rs"]
mod films;

use std::collections::BTreeSet;
use std::sync::Arc;

use film::{
    CastMember, Command, DayId, Entry, EntryId, Film, FreshIds, Kit, KitAdapter, LensChoice, LoggedTake,
    Merge, MergeChoices, MergePart, Place, ShootingDay, Shot, ShotId,
};
use optics::{Adapter, FrameAxis, Squeeze};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;

/// An edit of a copy as it is chosen before the copy is known.
#[derive(Debug, Clone)]
enum Edit {
    Facts(film::FilmFacts),
    Kit(Arc<Kit>),
    Tick(Index, Index),
    Scene(usize, film::Scene),
    RemoveScene(Index),
    MoveScene(Index, usize),
    SceneFacts(Index, film::SceneFacts),
    Blocking(Index, film::SceneBlocking),
    PickUp(Index, usize, Shot),
    Shot(Index, Shot),
    Mount(Index, Index, Index),
    MoveShot(Index, usize),
    BringShot(Index, Index),
    DropShot(Index),
    RemoveShot(Index),
    TurnCut(Index),
    Take(Index, usize, LoggedTake),
    Days(Vec<films::DayWish>),
}

fn adapter(name: &str) -> KitAdapter {
    KitAdapter {
        name: name.to_owned(),
        adapter: Adapter::new(Squeeze::new(1.33).expect("in range")),
        measured_squeeze: None,
        axis_when_upright: FrameAxis::Height,
        fits: None,
        vignettes: Vec::new(),
        clear_views: Vec::new(),
    }
}

/// A kit that comes with the program, turned round as often as not, with up to two adapters.
fn kit() -> BoxedStrategy<Arc<Kit>> {
    let kits: Vec<Kit> = film::kits().iter().map(|kit| kit.to_kit().expect("a preset")).collect();
    let names = prop::sample::subsequence(vec!["A", "B", "C"], 0..3);
    let with = |(mut kit, names, is_turned): (Kit, Vec<&str>, bool)| {
        kit.adapters.extend(names.into_iter().map(adapter));
        if is_turned {
            kit.lenses.reverse();
            kit.recordings.reverse();
        }
        Arc::new(kit)
    };
    (prop::sample::select(kits), names, any::<bool>()).prop_map(with).boxed()
}

fn edit() -> BoxedStrategy<Edit> {
    let index = any::<Index>;
    prop_oneof![
        films::facts().prop_map(Edit::Facts),
        kit().prop_map(Edit::Kit),
        (index(), index()).prop_map(|(person, place)| Edit::Tick(person, place)),
        (3..6_usize, 0..4_usize)
            .prop_flat_map(|(id, at)| films::scene(id, id * 10).prop_map(move |scene| Edit::Scene(at, scene))),
        index().prop_map(Edit::RemoveScene),
        (index(), 0..5_usize).prop_map(|(scene, to)| Edit::MoveScene(scene, to)),
        (index(), films::scene_facts()).prop_map(|(scene, facts)| Edit::SceneFacts(scene, facts)),
        (index(), films::blocking()).prop_map(|(scene, blocking)| Edit::Blocking(scene, blocking)),
        (index(), 100..110_usize, films::shot()).prop_map(|(scene, id, shot)| Edit::PickUp(scene, id, shot)),
        (index(), films::shot()).prop_map(|(at, shot)| Edit::Shot(at, shot)),
        (index(), index(), index()).prop_map(|(shot, lens, adapter)| Edit::Mount(shot, lens, adapter)),
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
        Edit::Kit(kit) => Command::SetKit(Arc::clone(kit)),
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
        Edit::Mount(at, lens, adapter) => {
            let shot = shot(at)?;
            let name = lens.get(&film.kit.lenses).name.clone();
            let adapters = &film.kit.adapters;
            Command::SetShot(Arc::new(Shot {
                lens: LensChoice::Fixed { name, in_sensor_zoom: 1.0 },
                adapter: (!adapters.is_empty()).then(|| adapter.get(adapters).name.clone()),
                ..Shot::clone(&shot)
            }))
        }
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

/// What of a kit a shot names: a lens, an adapter.
fn made_with(shot: &Shot) -> [Option<&str>; 2] {
    let lens = match &shot.lens {
        LensChoice::Fixed { name, .. } => Some(name.as_str()),
        LensChoice::Auto => None,
    };
    [lens, shot.adapter.as_deref()]
}

/// What of a kit there is of what a shot names.
fn in_kit(kit: &Kit, [lens, adapter]: [Option<&str>; 2]) -> [bool; 2] {
    [
        kit.lenses.iter().any(|one| Some(one.name.as_str()) == lens),
        kit.adapters.iter().any(|one| Some(one.name.as_str()) == adapter),
    ]
}

/// That a merged film has of the kit what its shots need, as far as the copy has that they are from.
fn assert_can_be_made(film: &Film, mine: &Film, theirs: &Film) -> Result<(), TestCaseError> {
    for shot in shots(film) {
        let needed = made_with(shot);
        for side in [mine, theirs] {
            let is_from = side.shot(shot.id).is_some_and(|(_, one)| one == shot);
            for (had, has) in in_kit(&side.kit, needed).into_iter().zip(in_kit(&film.kit, needed)) {
                prop_assert!(has || !had || !is_from, "{:?} of {}", needed, shot.id);
            }
        }
    }
    Ok(())
}

/// That the kit begins with all of the other, or has all of it in another order.
fn assert_kit_is(kit: &Kit, other: &Kit, is_first: bool) -> Result<(), TestCaseError> {
    macro_rules! assert_list {
        ($list:ident) => {
            if is_first {
                prop_assert!(kit.$list.starts_with(&other.$list));
            } else {
                prop_assert!(other.$list.iter().all(|one| kit.$list.contains(one)));
            }
        };
    }
    assert_list!(lenses);
    assert_list!(recordings);
    assert_list!(adapters);
    assert_list!(filters);
    prop_assert_eq!((&kit.name, kit.camera_app), (&other.name, other.camera_app));
    Ok(())
}

/// That the days of the one copy say nothing of a shot that the film lacks, unless the other's did.
fn assert_days_are_of(film: &Film, mine: &Film) -> Result<(), TestCaseError> {
    let named = |film: &Film| -> BTreeSet<(DayId, ShotId)> {
        let of_day = |day: &ShootingDay| {
            let listed = day.shots.iter().flatten().chain(&day.done).copied();
            let shots: Vec<ShotId> = listed.chain(day.pinned.iter().map(|pinned| pinned.shot)).collect();
            let id = day.id;
            shots.into_iter().map(move |shot| (id, shot))
        };
        film.days.iter().flat_map(of_day).collect()
    };
    let was = named(mine);
    for named in named(film) {
        prop_assert!(film.shot(named.1).is_some() || was.contains(&named), "{:?}", named);
    }
    Ok(())
}

/// That everything of mine has the number that it had.
fn assert_numbers_stand(film: &Film, mine: &Film) -> Result<(), TestCaseError> {
    for (at, scene) in mine.scenes.iter().enumerate() {
        prop_assert_eq!(film.scenes.get(at).map(|scene| scene.id), Some(scene.id));
    }
    for shot in shots(mine) {
        prop_assert_eq!(film.number_of(shot.id), mine.number_of(shot.id));
    }
    Ok(())
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
        assert_can_be_made(&film, &mine, &theirs)?;
        assert_numbers_stand(&film, &mine)?;
        assert_days_are_of(&film, &mine)?;
        assert_kit_is(&film.kit, &mine.kit, true)?;
        prop_assert_eq!(&film.facts, &mine.facts);
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
        assert_can_be_made(&film, &mine, &theirs)?;
        assert_kit_is(&film.kit, &theirs.kit, parts(&merge).contains(&MergePart::Kit))?;
        prop_assert_eq!(&film.facts, &theirs.facts);
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
        let added: BTreeSet<MergePart> = merge.adds().iter().map(|add| add.part).collect();
        let choices = MergeChoices {
            theirs: some(parts(&merge).into_iter().collect(), chosen),
            without: some(added.iter().copied().collect(), left),
        };
        let kept = MergeChoices { theirs: BTreeSet::new(), ..choices.clone() };
        assert_numbers_stand(&merged(&mine, &merge, &kept), &mine)?;
        prop_assert_eq!(&merged(&mine, &merge, &MergeChoices { without: added, ..MergeChoices::default() }), &mine);
        let mut film = mine.clone();
        let inverse = film.apply(merge.command(&choices)).expect("a merge can always be made");
        assert_holds_all_of(&film, &mine)?;
        assert_can_be_made(&film, &mine, &theirs)?;
        assert_days_are_of(&film, &mine)?;
        film.apply(inverse).expect("what was made can be taken back");
        prop_assert_eq!(film, mine);
    }
}
