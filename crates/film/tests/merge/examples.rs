//! Merges of the demo film with copies of it, one behaviour each.

use std::collections::BTreeSet;
use std::sync::Arc;

use film::{
    CastMember, Command, DayId, Entry, EntryId, Film, Kit, LoggedTake, Merge, MergeChoices, MergePart,
    ShootingDay, Shot, ShotId, demo_film,
};

use super::{adapter, merged, parts};

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
fn a_pick_up_is_listed_behind_mine_and_comes_into_the_cut_after_what_it_follows() {
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
    assert_eq!(merge.adds().iter().map(|add| add.part).collect::<Vec<_>>(), [MergePart::Shot(id)]);
    let film = merged(&mine, &merge, &MergeChoices::default());
    assert_eq!(film.scenes[0].cut, theirs.scenes[0].cut);
    assert_eq!(film.number_of(id), Some((1, scene.shots.len() + 1)));
    // Where theirs lists it would give mine other numbers, so that is chosen.
    assert_eq!(parts(&merge), BTreeSet::from([MergePart::ShotOrder(scene.id)]));
    assert_eq!(merged(&mine, &merge, &merge.all_theirs()), theirs);
    let without = MergeChoices { without: BTreeSet::from([MergePart::Shot(id)]), ..MergeChoices::default() };
    assert_eq!(merged(&mine, &merge, &without), mine);
}

/// The demo film with another shot at the end of its first scene, made with an adapter.
fn with_shot_through(name: &str, id: u64) -> Film {
    changed(|film| {
        let mut kit = Kit::clone(&film.kit);
        kit.adapters.push(adapter(name));
        film.kit = Arc::new(kit);
        let id = ShotId::new(id).expect("an id");
        let shot = Shot { adapter: Some(name.to_owned()), ..film.scenes[0].shots[0].known_by(id) };
        let (scene, at) = (film.scenes[0].id, usize::MAX);
        film.apply(Command::InsertShot { scene, at, shot: Arc::new(shot) }).expect("it is new");
    })
}

#[test]
fn a_shot_comes_with_the_adapter_that_it_is_made_with() {
    let (mine, theirs) = (demo_film(), with_shot_through("A", 1 << 45));
    assert_eq!(what_is_added(&mine, &theirs)[0], "In the kit: A");
    let merge = Merge::of(&mine, &theirs);
    assert_eq!(merged(&mine, &merge, &MergeChoices::default()), theirs);
    let without = |parts: &[MergePart]| MergeChoices {
        without: parts.iter().copied().collect(),
        ..MergeChoices::default()
    };
    let shot = MergePart::Shot(ShotId::new(1 << 45).expect("an id"));
    assert_eq!(merged(&mine, &merge, &without(&[MergePart::Kit])).kit, theirs.kit);
    assert_eq!(merged(&mine, &merge, &without(&[shot])).kit, theirs.kit);
    assert_eq!(merged(&mine, &merge, &without(&[MergePart::Kit, shot])), mine);
}

#[test]
fn two_pick_ups_of_one_number_come_one_behind_the_other_whichever_way_round() {
    let [one, other] = [("A", 1 << 45), ("B", 1 << 46)].map(|(name, id)| with_shot_through(name, id));
    for (mine, theirs) in [(&one, &other), (&other, &one)] {
        let merge = Merge::of(mine, theirs);
        assert_eq!(merge.differences(), []);
        let film = merged(mine, &merge, &MergeChoices::default());
        let numbers = [mine, theirs].map(|of| film.numbered(of.scenes[0].shots.last().expect("a shot").id));
        let mine_has = mine.scenes[0].shots.len();
        assert_eq!(numbers, [mine_has, mine_has + 1].map(|number| Some(format!("1.{number}"))));
        assert!(merge.adds()[1].what.starts_with(&format!("Shot 1.{}: ", mine_has + 1)));
    }
}

#[test]
fn a_kit_taken_over_keeps_what_only_mine_has() {
    let [mine, theirs] = ["A", "B"].map(|name| {
        changed(|film| {
            let mut kit = Kit::clone(&film.kit);
            kit.adapters.push(adapter(name));
            kit.lenses[0].in_sensor_zooms = vec![if name == "A" { 2.0 } else { 3.0 }];
            film.kit = Arc::new(kit);
        })
    });
    let merge = Merge::of(&mine, &theirs);
    assert_eq!(merge.differences()[0].fields.len(), 1, "{:?}", merge.differences());
    for (choices, zoom, adapters) in
        [(MergeChoices::default(), 2.0, ["A", "B"]), (merge.all_theirs(), 3.0, ["B", "A"])]
    {
        let kit = merged(&mine, &merge, &choices).kit;
        assert_eq!(kit.lenses[0].in_sensor_zooms, [zoom]);
        assert_eq!(kit.adapters.iter().map(|adapter| adapter.name.as_str()).collect::<Vec<_>>(), adapters);
    }
}

#[test]
fn a_day_that_comes_says_nothing_of_a_shot_that_does_not() {
    let mine = demo_film();
    let id = ShotId::new(1 << 45).expect("an id");
    let day = DayId::new(1 << 45).expect("an id");
    let theirs = changed(|film| {
        let (scene, shot) = (film.scenes[0].id, Arc::new(film.scenes[0].shots[0].known_by(id)));
        film.apply(Command::InsertShot { scene, at: usize::MAX, shot }).expect("it is new");
        let pinned = vec![film::Pinned { shot: id, at: 0 }];
        let day = ShootingDay { shots: Some(vec![id]), pinned, done: vec![id], ..ShootingDay::usual(day) };
        film.days = film.days.iter().cloned().chain([day]).collect();
    });
    let merge = Merge::of(&mine, &theirs);
    let without = MergeChoices { without: BTreeSet::from([MergePart::Shot(id)]), ..MergeChoices::default() };
    let film = merged(&mine, &merge, &without);
    let bare = ShootingDay { shots: Some(Vec::new()), ..ShootingDay::usual(day) };
    assert_eq!(film.day(day), Some(&bare));
    // And it comes onto the day with the shot.
    let merge = Merge::of(&film, &theirs);
    assert_eq!(merged(&film, &merge, &MergeChoices::default()).day(day), theirs.day(day));
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
