//! What of a changed plan is of people: who they are, where they are in the scene, and what they do there.

use std::sync::Arc;

use film::{CastMember, Faces, Mark, PersonId, SceneBlocking, ShotOf, Unknown};
use glam::DVec2;
use language::{key, say};
use requests::{AgeRequest, BlockingRequest, ColourRequest, PersonRequest, PostureRequest, USUAL_STATURE_M};
use staging::{Age, Colour, Posture, along};
use units::{Angle, Length};

use super::Linked;
use super::alike::{Differences, alike, same};
use super::onto_shot::Kind;
use super::walking::Start;
use crate::dressing::{TAPES, half_turn};
use crate::session::Plan;
use crate::story::cast::free_name;

/// The people of a film and of one of its scenes while a plan is carried.
pub(super) struct People<'film> {
    linked: Linked<'film>,
    /// Where the plan's own floor begins on the scene's floor after the change.
    origin: DVec2,
    planned_s: f64,
    pub(super) cast: Vec<CastMember>,
    pub(super) blocking: SceneBlocking,
}

/// What a plan says of somebody.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Said {
    stature_m: f64,
    posture: Option<PostureRequest>,
    age: Option<AgeRequest>,
    clothes: Option<ColourRequest>,
    walks: bool,
    /// Clockwise from north.
    facing_deg: f64,
}

impl Said {
    fn of_subject(plan: &Plan) -> Option<Self> {
        let subject = plan.shot.subject.as_ref()?;
        let set = plan.set();
        Some(Self {
            stature_m: subject.stature_m,
            posture: subject.posture,
            age: subject.age,
            clothes: set.and_then(|set| set.clothes),
            walks: set.and_then(|set| set.walking).unwrap_or(false),
            facing_deg: plan.phone_bearing_deg + plan.facing_deg,
        })
    }

    fn of_second(plan: &Plan) -> Option<Self> {
        let subject = plan.shot.subject.as_ref()?;
        let second = subject.second_person.as_ref()?;
        let set = plan.set();
        let mark = set.and_then(|set| set.second);
        Some(Self {
            stature_m: second.stature_m.unwrap_or(subject.stature_m),
            posture: second.posture,
            age: second.age,
            clothes: set.and_then(|set| set.second_clothes),
            walks: set.and_then(|set| set.second_walking).unwrap_or(false),
            facing_deg: mark.map_or(0.0, |mark| mark.facing_deg),
        })
    }

    fn of_other(person: &PersonRequest, plan: &Plan) -> Self {
        Self {
            stature_m: person.stature_m.unwrap_or(USUAL_STATURE_M),
            posture: person.posture,
            age: person.age,
            clothes: person.clothes,
            walks: person.walking.unwrap_or(false),
            facing_deg: person.facing_deg.unwrap_or(plan.phone_bearing_deg),
        }
    }

    /// Whether it may be of the same one as that: they are as tall and as old, and wear the same clothes.
    fn looks_like(&self, other: &Self) -> bool {
        same(self.stature_m, other.stature_m) && self.age == other.age && self.clothes == other.clothes
    }
}

impl<'film> People<'film> {
    /// The people as the film has them; the floor of a plan whose set was moved all together begins elsewhere.
    pub(super) fn of(linked: Linked<'film>, differences: &Differences<'_>, planned_s: f64) -> Self {
        let moved = shifted(differences.before, differences.after);
        Self {
            linked,
            origin: linked.rehearsal.origin - moved,
            planned_s,
            cast: linked.film.cast.to_vec(),
            blocking: SceneBlocking::clone(&linked.scene.blocking),
        }
    }

    /// Where the plan's own floor begins now.
    pub(super) const fn origin(&self) -> DVec2 {
        self.origin
    }

    fn start(&self, who: PersonId) -> Option<Start> {
        let starts_s = self.linked.rehearsal.starts_s;
        let person = self.blocking.person_of(&self.cast, who, starts_s)?;
        Some(Start { person, starts_s, planned_s: self.planned_s })
    }

    fn mark_mut(&mut self, who: PersonId) -> Option<&mut Mark> {
        self.blocking.marks.iter_mut().find(|mark| mark.who == who)
    }

    fn shift(&mut self, who: PersonId, by: DVec2) {
        if let Some(mut start) = self.start(who)
            && let Some(mark) = self.mark_mut(who)
        {
            start.shift(mark, by);
        }
    }

    /// Those whom the shot is of, as long as it is of as many as before; others take their places later.
    pub(super) fn set_own(&mut self, differences: &mut Differences<'_>) {
        let own = self.linked.rehearsal.own.clone();
        let moved = self.origin - self.linked.rehearsal.origin;
        if moved != DVec2::ZERO {
            differences.note(key!("place of the subject"));
            for who in &own {
                self.shift(*who, moved);
            }
        }
        let (before, after) = (differences.before, differences.after);
        if Kind::of(before) != Kind::of(after) {
            return;
        }
        let said: [fn(&Plan) -> Option<Said>; 2] = [Said::of_subject, Said::of_second];
        for (who, read) in own.iter().zip(said) {
            if let (Some(before), Some(after)) = (read(before), read(after)) {
                self.set(*who, &before, &after, differences);
            }
        }
        self.set_apart(&own, differences);
        if let ShotOf::PointOfView { of, .. } = self.linked.shot.of {
            self.set_owner(of, differences);
        }
    }

    /// Who looks stands where the phone does.
    fn set_owner(&mut self, of: PersonId, differences: &mut Differences<'_>) {
        let stands = |plan: &Plan| {
            let place = along(Angle::from_deg(plan.phone_bearing_deg)) * plan.shot.stand_at_m?;
            Some([place.x, place.y])
        };
        if let (Some(before), Some(after)) = (stands(differences.before), stands(differences.after)) {
            let by = DVec2::from(after) + self.origin - DVec2::from(before) - self.linked.rehearsal.origin;
            if by.length() > 1.0e-7 {
                differences.note(key!("place of the phone"));
                self.shift(of, by);
            }
        }
    }

    /// How far two stand from each other, as the phone sees it.
    fn set_apart(&mut self, own: &[PersonId], differences: &mut Differences<'_>) {
        let apart = |plan: &Plan| plan.shot.subject.as_ref()?.second_person.as_ref()?.apart_m;
        let (Some(before), [first, second]) = (apart(differences.before), own) else { return };
        let (Some(one), Some(other)) = (self.start(*first), self.start(*second)) else { return };
        let way = other.person.place - one.person.place;
        let is_pair = Kind::of(differences.before) == Kind::Two;
        let ahead = along(self.linked.shot.side);
        let across = if is_pair { way - ahead * way.dot(ahead) } else { way };
        // Two who stand behind each other have no distance across that could grow.
        if !same(across.length(), before) {
            return;
        }
        if let Some(Some(after)) = differences.of(key!("distance of the two"), apart) {
            let more = across * (after / before - 1.0);
            let share = if is_pair { 0.5 } else { 0.0 };
            self.shift(*first, more * -share);
            self.shift(*second, more * (1.0 - share));
        }
    }

    /// One of them: who they are, and what they do.
    fn set(&mut self, who: PersonId, before: &Said, after: &Said, differences: &mut Differences<'_>) {
        if !before.looks_like(after)
            && let Some(member) = self.cast.iter_mut().find(|member| member.id == who)
        {
            differences.note("people");
            if !same(before.stature_m, after.stature_m) {
                member.stature = Length::from_m(after.stature_m);
            }
            if before.age != after.age {
                member.age = after.age.map_or(Age::Adult, Into::into);
            }
            if before.clothes != after.clothes {
                member.clothes = worn(after.clothes);
            }
        }
        let (Some(start), Some(mark)) = (self.start(who), self.mark_mut(who)) else { return };
        let facing = Angle::from_deg(after.facing_deg);
        let turns = !same(half_turn(after.facing_deg - before.facing_deg), 0.0);
        if before.posture != after.posture {
            differences.note(key!("blocking"));
            mark.posture = after.posture.map_or(Posture::Standing, Into::into);
        }
        if before.walks != after.walks {
            differences.note(key!("blocking"));
            if after.walks {
                start.set_off(mark, facing);
            } else {
                start.stop(mark, facing);
            }
        } else if turns && start.turn(mark, facing) {
            differences.note(key!("blocking"));
        }
    }

    /// The others of the scene: who has come, who has gone, who has moved or changed.
    pub(super) fn set_others(
        &mut self,
        differences: &mut Differences<'_>,
        fresh: &mut dyn FnMut() -> PersonId,
    ) {
        let (before, after) = (differences.before, differences.after);
        let people =
            |plan: &'_ Plan| plan.set().map_or_else(Vec::new, |set: &BlockingRequest| set.people.clone());
        let (earlier, later) = (people(before), people(after));
        let shown: Vec<PersonId> = self.linked.shown_people().map(|(who, _)| who).collect();
        let found = who_is_who((&earlier, before), (&later, after));
        for (at, who) in shown.iter().enumerate() {
            if !found.contains(&Some(at)) && !self.is_needed(*who) {
                differences.note("people");
                let starts_s = self.linked.rehearsal.starts_s;
                self.blocking = self.blocking.without(&self.cast, *who, starts_s);
            }
        }
        for (person, found) in later.iter().zip(found) {
            let place = self.origin + DVec2::new(person.x_m, person.y_m);
            let said = Said::of_other(person, after);
            let known = found.and_then(|at| Some((*shown.get(at)?, earlier.get(at)?)));
            let Some((who, was)) = known else {
                differences.note("people");
                self.come(&said, place, fresh);
                continue;
            };
            let by = place - self.linked.rehearsal.origin - DVec2::new(was.x_m, was.y_m);
            if by.length() > 1.0e-7 {
                differences.note(key!("blocking"));
                self.shift(who, by);
            }
            self.set(who, &Said::of_other(was, before), &said, differences);
        }
    }

    /// Whether they stand in the scene for one of its shots.
    fn is_needed(&self, who: PersonId) -> bool {
        self.linked.scene.shots.iter().any(|shot| shot.of.standing().any(|one| one == who))
    }

    /// Somebody new comes into the film and the scene.
    fn come(&mut self, said: &Said, place: DVec2, fresh: &mut dyn FnMut() -> PersonId) {
        let who = fresh();
        let name = if said.age == Some(AgeRequest::Child) { say!("Child") } else { say!("Somebody") };
        let names = std::iter::once(name.to_owned()).chain((2..).map(|count: u32| format!("{name} {count}")));
        self.cast.push(CastMember {
            id: who,
            name: free_name(&self.cast, names),
            stature: Length::from_m(said.stature_m),
            age: said.age.map_or(Age::Adult, Into::into),
            clothes: worn(said.clothes),
            hours: None,
            consent: false,
            unknown: Unknown::default(),
        });
        let facing = Angle::from_deg(said.facing_deg);
        self.blocking.marks.push(Mark {
            who,
            place,
            faces: Faces::Towards(facing),
            posture: said.posture.map_or(Posture::Standing, Into::into),
            way: None,
        });
        if said.walks
            && let Some(start) = self.start(who)
            && let Some(mark) = self.mark_mut(who)
        {
            start.set_off(mark, facing);
        }
    }

    /// The cast and the blocking, where they are others than the film's.
    pub(super) fn changed(self) -> (Option<Arc<[CastMember]>>, Option<SceneBlocking>) {
        let is_same_cast = *self.cast == *self.linked.film.cast;
        let is_same_blocking = self.blocking == *self.linked.scene.blocking;
        ((!is_same_cast).then(|| self.cast.into()), (!is_same_blocking).then_some(self.blocking))
    }
}

/// The colour of clothes; of whom nobody says it, the one at which nobody looks, as a set has it.
fn worn(clothes: Option<ColourRequest>) -> Colour {
    let [.., (_, unnoticed)] = TAPES;
    clothes.unwrap_or(ColourRequest(unnoticed)).to_colour()
}

/// For each of the people after, who they were before; none for whoever is new.
///
/// Nobody changes place and looks in one gesture: where both differ, somebody else stands there.
fn who_is_who(
    (earlier, before): (&[PersonRequest], &Plan),
    (later, after): (&[PersonRequest], &Plan),
) -> Vec<Option<usize>> {
    let is_same_one = |(one, other): (&PersonRequest, &PersonRequest)| {
        let is_there = same(one.x_m, other.x_m) && same(one.y_m, other.y_m);
        is_there || Said::of_other(one, before).looks_like(&Said::of_other(other, after))
    };
    if earlier.len() == later.len() {
        let pairs = earlier.iter().zip(later).enumerate();
        return pairs.map(|(at, pair)| is_same_one(pair).then_some(at)).collect();
    }
    let mut from = 0;
    let find = |person: &PersonRequest| {
        let rest = earlier.iter().enumerate().skip(from);
        let found = { rest }.find(|(_, one)| alike(*one, person)).map(|(at, _)| at);
        from = found.map_or(from, |at| at + 1);
        found
    };
    later.iter().map(find).collect()
}

/// How far everything and everybody of a set was moved together; nowhere if only some were. One thing alone is moved by
/// itself: only of several it is sure that the one whom the plan is of has moved instead.
fn shifted(before: &Plan, after: &Plan) -> DVec2 {
    let places = |plan: &Plan| -> Vec<DVec2> {
        let Some(set) = plan.set() else { return Vec::new() };
        let people = set.people.iter().map(|person| DVec2::new(person.x_m, person.y_m));
        people.chain(set.pieces.iter().map(|piece| DVec2::new(piece.x_m, piece.y_m))).collect()
    };
    let (earlier, later) = (places(before), places(after));
    let mut moves = earlier.iter().zip(&later).map(|(one, other)| *other - *one);
    match moves.next() {
        Some(first) if earlier.len() == later.len() && earlier.len() > 1 && first.length() > 1.0e-7 => {
            if moves.all(|by| (by - first).length() < 1.0e-7) {
                first
            } else {
                DVec2::ZERO
            }
        }
        Some(_) | None => DVec2::ZERO,
    }
}
