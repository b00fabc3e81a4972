//! What a file's references may point to, and ids for what has none of its own.

use std::collections::BTreeSet;

use language::{key, say};

use crate::film_file::problem::{At, Done};
use crate::id::{LARGEST_ID, PersonId, PlaceId};

/// Stands in a record for an id that was missing or none; no id is as large.
pub(super) const NO_ID: u64 = u64::MAX;

/// Who and what there is to refer to.
///
/// A command is read without the film that it changes: whether what it names is there is asked when it is made.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known<'film> {
    people: Option<&'film BTreeSet<u64>>,
    places: Option<&'film BTreeSet<u64>>,
}

impl<'film> Known<'film> {
    /// Nobody knows yet: every id will do.
    pub(super) const ANYTHING: Self = Self { people: None, places: None };

    /// These people and places.
    pub(super) const fn of(people: &'film BTreeSet<u64>, places: &'film BTreeSet<u64>) -> Self {
        Self { people: Some(people), places: Some(places) }
    }

    /// Somebody of the cast.
    pub(super) fn person(&self, id: u64) -> Option<PersonId> {
        PersonId::new(id).filter(|_| self.people.is_none_or(|people| people.contains(&id)))
    }

    /// Somebody of the cast, or none with what is wrong told.
    pub(super) fn person_at(&self, at: &At<'_>, id: u64, what: &'static str) -> Option<PersonId> {
        let person = self.person(id);
        if person.is_none() {
            at.report(say!("{id} is nobody of the cast"), Done::LeftOut(what));
        }
        person
    }

    /// A place, or none with what is wrong told.
    pub(super) fn place_at(&self, at: &At<'_>, id: u64) -> Option<PlaceId> {
        let place = PlaceId::new(id).filter(|_| self.places.is_none_or(|places| places.contains(&id)));
        if place.is_none() {
            at.report(say!("{id} is none of the film's places"), Done::LeftOut(key!("it was")));
        }
        place
    }
}

/// The ids of things of one kind: each is given once, and a second thing of the same id is given another.
#[derive(Debug)]
pub(super) struct Ids {
    in_file: BTreeSet<u64>,
    given: BTreeSet<u64>,
    next: u64,
}

impl Ids {
    /// For things whose ids in the file are these.
    pub(super) fn of(ids: impl Iterator<Item = u64>) -> Self {
        Self { in_file: ids.collect(), given: BTreeSet::new(), next: 1 }
    }

    /// The id of one thing: its own if that is an id and nothing else has it.
    pub(super) fn claim(&mut self, at: &At<'_>, id: u64) -> u64 {
        if id <= LARGEST_ID && self.given.insert(id) {
            return id;
        }
        // There are fewer things in any file than ids, so this ends.
        while self.in_file.contains(&self.next) || self.given.contains(&self.next) {
            self.next += 1;
        }
        let fresh = self.next;
        self.given.insert(fresh);
        let field = at.field("id");
        let done = Done::KnownBy(fresh);
        match id {
            NO_ID => field.report(say!("is missing: a whole number of 0 to {LARGEST_ID}"), done),
            _ if id > LARGEST_ID => {
                field.report(say!("{id} is not allowed: a whole number of 0 to {LARGEST_ID}"), done);
            }
            _ => field.report(say!("{id} is the id of another one before it"), done),
        }
        fresh
    }
}
