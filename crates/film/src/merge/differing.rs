//! What both copies have and not alike, part by part.

use std::collections::BTreeMap;
use std::sync::Arc;

use language::{Number, say};
use serde::Serialize;

use crate::day::ShootingDay;
use crate::film::Film;
use crate::film_file::{
    CastRecord, DayRecord, FilmFactsRecord, PlaceRecord, SceneBlockingRecord, SceneFactsRecord, ShotRecord,
    TakeRecord,
};
use crate::id::{BeatId, ShotId};
use crate::kit_file::KitRecord;
use crate::link::is_said;
use crate::merge::fields::Teller;
use crate::merge::file_words::said;
use crate::merge::naming::{name_of, shot_number};
use crate::merge::sides::{Side, Sides};
use crate::merge::uniting::{kit_within, united_person, united_place};
use crate::merge::{Difference, FieldDifference, MergePart};
use crate::scene::{Entry, Kept, KeptAt, Scene};
use crate::shot::Shot;

/// All differences: of the film, then of people, places and days, then scene by scene, then of takes.
pub(super) fn differences(sides: &Sides<'_>, united: &Film) -> Vec<Difference> {
    let teller = Teller::of(sides);
    let mut found = Found { sides, united: Side::of(united), teller, differences: Vec::new() };
    found.whole_film();
    found.people_and_places();
    found.days();
    found.order(
        MergePart::SceneOrder,
        &found.scene_order(&found.united, &sides.theirs),
        &found.scene_order(&sides.theirs, &found.united),
    );
    for (mine, theirs) in sides.shared_scenes() {
        found.scene(mine, theirs);
    }
    found.moved_or_changed_shots();
    found.takes();
    found.differences
}

struct Found<'film, 'sides> {
    sides: &'sides Sides<'film>,
    /// What comes of both without choices, with everything of theirs behind mine.
    united: Side<'sides>,
    teller: Teller<'film>,
    differences: Vec<Difference>,
}

impl<'film> Found<'film, '_> {
    fn name_of(&self, part: MergePart) -> String {
        name_of(self.united.film, part)
    }

    fn shot_number(&self, id: ShotId) -> String {
        shot_number(self.united.film, id)
    }

    fn push(&mut self, part: MergePart, fields: Vec<FieldDifference>) {
        if !fields.is_empty() {
            self.differences.push(Difference { part, what: self.name_of(part), fields });
        }
    }

    /// Compares two records field by field.
    fn records(&mut self, part: MergePart, mine: &impl Serialize, theirs: &impl Serialize) {
        let fields = self.teller.compared(mine, theirs);
        self.push(part, fields);
    }

    fn whole_film(&mut self) {
        let (mine, theirs) = (self.sides.mine.film, self.sides.theirs.film);
        if mine.facts != theirs.facts {
            let records = [&mine.facts, &theirs.facts].map(|facts| FilmFactsRecord::from(&**facts));
            self.records(MergePart::Facts, &records[0], &records[1]);
        }
        if mine.kit != theirs.kit {
            let kits = [&self.united.film.kit, &theirs.kit];
            let records = kits.map(|kit| KitRecord::from(&kit_within(kit, &theirs.kit)));
            self.records(MergePart::Kit, &records[0], &records[1]);
        }
    }

    /// What only one says is united from either side, so that only what both say is left to differ.
    fn people_and_places(&mut self) {
        let (mine, theirs) = (self.sides.mine.film, self.sides.theirs.film);
        for person in mine.cast.iter() {
            let Some(other) = theirs.person(person.id).filter(|other| *other != person) else { continue };
            let records = [united_person(person, other), united_person(other, person)];
            let mut records = records.map(|person| CastRecord::from(&person));
            if !(is_said(&person.name) && is_said(&other.name)) {
                records = records.map(|record| CastRecord { name: String::new(), ..record });
            }
            self.records(MergePart::Person(person.id), &records[0], &records[1]);
        }
        for place in mine.places.iter() {
            let Some(other) = theirs.place(place.id).filter(|other| *other != place) else { continue };
            let records = [united_place(place, other), united_place(other, place)];
            let records = records.map(|place| PlaceRecord::from(&place));
            self.records(MergePart::Place(place.id), &records[0], &records[1]);
        }
    }

    fn days(&mut self) {
        let (mine, theirs) = (&self.sides.mine, &self.sides.theirs);
        for day in mine.film.days.iter() {
            let Some(other) = theirs.film.day(day.id).filter(|other| *other != day) else { continue };
            let records = [day, other].map(|day| DayRecord::from(&of_both(day, mine, theirs)));
            self.records(MergePart::Day(day.id), &records[0], &records[1]);
        }
    }

    /// The scenes of the one copy that the other has too.
    fn scene_order(&self, of: &Side<'_>, with: &Side<'_>) -> Vec<String> {
        let shared = of.film.scenes.iter().filter(|scene| with.scenes.contains_key(&scene.id));
        shared.map(|scene| self.name_of(MergePart::Scene(scene.id))).collect()
    }

    fn order(&mut self, part: MergePart, mine: &[String], theirs: &[String]) {
        if mine != theirs {
            self.push(part, vec![field(say!(in "file", "order"), &mine.join(", "), &theirs.join(", "))]);
        }
    }

    fn scene(&mut self, mine: &Arc<Scene>, theirs: &Arc<Scene>) {
        if Arc::ptr_eq(mine, theirs) {
            return;
        }
        let id = mine.id;
        if mine.facts != theirs.facts {
            let records = [mine, theirs].map(|scene| SceneFactsRecord::from(&*scene.facts));
            self.records(MergePart::SceneFacts(id), &records[0], &records[1]);
        }
        if mine.blocking != theirs.blocking {
            let records = [mine, theirs].map(|scene| SceneBlockingRecord::from(&*scene.blocking));
            self.records(MergePart::Blocking(id), &records[0], &records[1]);
        }
        let in_union = |id: &ShotId| self.united.scene_of(*id) == Some(mine.id);
        let in_theirs = |id: &ShotId| self.sides.theirs.scene_of(*id) == Some(mine.id);
        let united = self.united.scenes.get(&mine.id).copied().unwrap_or(mine);
        let [one, other] = [united, theirs].map(|scene| {
            let shots = scene.shots.iter().map(|shot| shot.id);
            shots.filter(|id| in_union(id) && in_theirs(id)).collect::<Vec<_>>()
        });
        if one != other {
            let [one, other] = [one, other]
                .map(|shots| shots.iter().map(|shot| self.shot_number(*shot)).collect::<Vec<_>>());
            self.order(MergePart::ShotOrder(id), &one, &other);
        }
        self.cut(mine, theirs);
        let fields = self.kept(mine, theirs);
        self.push(MergePart::Kept(id), fields);
    }

    /// The entries that both copies could have.
    fn cut(&mut self, mine: &Scene, theirs: &Scene) {
        let one = mine.cut.iter().filter(|entry| !self.sides.theirs.lacks(theirs, entry)).collect::<Vec<_>>();
        let other = theirs.cut.iter().filter(|entry| !self.sides.mine.lacks(mine, entry)).collect::<Vec<_>>();
        if one == other {
            return;
        }
        let told = |entries: Vec<&Entry>| {
            let told: Vec<String> = entries.into_iter().map(|entry| self.told_entry(entry)).collect();
            if told.is_empty() { say!("nothing").to_owned() } else { told.join(", ") }
        };
        let (mut one, mut other) = (told(one), told(other));
        if one == other {
            // The same shots, in entries that were made apart.
            one.push_str(say!(", with entries of its own"));
            other.push_str(say!(", with entries of its own"));
        }
        self.push(MergePart::Cut(mine.id), vec![field(say!("shots"), &one, &other)]);
    }

    fn told_entry(&self, entry: &Entry) -> String {
        let number = self.shot_number(entry.shot);
        entry.stretch.map_or_else(
            || number.clone(),
            |stretch| say!("{number} from {} to {} s", Number(stretch.from_s()), Number(stretch.to_s())),
        )
    }

    /// Why the same finding is kept, where that differs.
    fn kept(&self, mine: &Scene, theirs: &Scene) -> Vec<FieldDifference> {
        let reasons = |kept: &[Kept]| {
            let mut reasons: BTreeMap<(String, KeptAt), Vec<String>> = BTreeMap::new();
            for kept in kept {
                reasons.entry((kept.rule.clone(), kept.at)).or_default().push(kept.reason.clone());
            }
            reasons
        };
        let others = reasons(&theirs.kept);
        let fields = reasons(&mine.kept).into_iter().filter_map(|((rule, at), mine_says)| {
            let they_say = others.get(&(rule.clone(), at)).filter(|they_say| **they_say != mine_says)?;
            if !mine.has(at) || !theirs.has(at) {
                return None;
            }
            let place = match at {
                KeptAt::Scene => String::new(),
                KeptAt::Shot(shot) => say!(" at shot {}", self.shot_number(shot)),
                KeptAt::Cut(..) => say!(" in the cut").to_owned(),
            };
            Some(field(&format!("{}{place}", said(&rule)), &mine_says.join("; "), &they_say.join("; ")))
        });
        fields.collect()
    }

    fn moved_or_changed_shots(&mut self) {
        for scene in &self.sides.mine.film.scenes {
            for shot in &scene.shots {
                let Some((of, other)) = self.sides.theirs.shots.get(&shot.id).copied() else { continue };
                let mut fields = if scene.id == of {
                    Vec::new()
                } else {
                    let name = |id| self.name_of(MergePart::Scene(id));
                    vec![field(say!("scene"), &name(scene.id), &name(of))]
                };
                if shot != other {
                    let records = [shot, other].map(|shot| self.shot_record(shot));
                    fields.extend(self.teller.compared(&records[0], &records[1]));
                }
                self.push(MergePart::Shot(shot.id), fields);
            }
        }
    }

    /// A shot as it is written. A beat that only one copy has is told with the blocking that has it.
    fn shot_record(&self, shot: &Shot) -> ShotRecord {
        let has = |side: &Side<'film>, id: u64| {
            let scene = side.scene_of(shot.id).and_then(|scene| side.scenes.get(&scene));
            let beat = BeatId::new(id);
            scene.is_some_and(|scene| scene.blocking.beats.iter().any(|one| Some(one.id) == beat))
        };
        let mut record = ShotRecord::from(shot);
        record.beat = record.beat.filter(|id| has(&self.sides.mine, *id) && has(&self.sides.theirs, *id));
        record
    }

    fn takes(&mut self) {
        let theirs: BTreeMap<_, _> =
            self.sides.theirs.film.takes.iter().map(|take| (take.id, take)).collect();
        for take in self.sides.mine.film.takes.iter() {
            let Some(other) = theirs.get(&take.id).filter(|other| **other != take) else { continue };
            let records = [take, *other].map(|take| TakeRecord::from(&**take));
            self.records(MergePart::Take(take.id), &records[0], &records[1]);
        }
    }
}

fn field(name: &str, mine: &str, theirs: &str) -> FieldDifference {
    FieldDifference { name: name.to_owned(), mine: mine.to_owned(), theirs: theirs.to_owned() }
}

/// A day as far as it is about shots of both copies, and without what is in the can, which is united.
fn of_both(day: &ShootingDay, mine: &Side<'_>, theirs: &Side<'_>) -> ShootingDay {
    let is_in_both = |shot: ShotId| mine.shots.contains_key(&shot) && theirs.shots.contains_key(&shot);
    let mut day = day.within(is_in_both);
    day.pinned.sort_by_key(|pinned| pinned.shot);
    day.done.clear();
    day
}
