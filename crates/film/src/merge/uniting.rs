//! What comes of two words on one person, place or day: ticks of either count, and what only one says stays said.

use std::sync::Arc;

use crate::day::ShootingDay;
use crate::film::{CastMember, Place};
use crate::id::ShotId;
use crate::link::is_said;
use crate::merge::weaving::woven;
use crate::place_photo::PlacePhoto;
use crate::unknown::Unknown;

/// Somebody as the base has them, with what the other alone says.
pub(super) fn united_person(base: &CastMember, other: &CastMember) -> CastMember {
    let keeps_name = is_said(&base.name) || !is_said(&other.name);
    CastMember {
        name: if keeps_name { base.name.clone() } else { other.name.clone() },
        consent: base.consent || other.consent,
        unknown: united_unknown(&base.unknown, &other.unknown),
        ..base.clone()
    }
}

/// A place as the base has it, with what the other alone says.
pub(super) fn united_place(base: &Place, other: &Place) -> Place {
    Place {
        spot: base.spot.as_ref().or(other.spot.as_ref()).cloned(),
        permission: base.permission || other.permission,
        room_tone: base.room_tone || other.room_tone,
        wild_track: base.wild_track || other.wild_track,
        paced: base.paced.as_ref().or(other.paced.as_ref()).cloned(),
        photos: united_photos(&base.photos, &other.photos),
        unknown: united_unknown(&base.unknown, &other.unknown),
        ..base.clone()
    }
}

/// A day as the base has it, with what is in the can by the other, and with its shots that are `new` to the base.
pub(super) fn united_day(
    base: &ShootingDay,
    other: &ShootingDay,
    is_there: impl Fn(ShotId) -> bool,
    is_new: impl Fn(ShotId) -> bool,
) -> ShootingDay {
    let mut day = base.clone();
    if let (Some(shots), Some(others)) = (&base.shots, &other.shots) {
        day.shots = Some(woven(shots, others, |id| *id, |id| is_new(*id)));
    }
    for pinned in other.pinned.iter().filter(|pinned| is_new(pinned.shot)) {
        if day.pinned.iter().all(|one| one.shot != pinned.shot) {
            day.pinned.push(*pinned);
        }
    }
    for done in other.done.iter().filter(|done| is_there(**done)) {
        if !day.done.contains(done) {
            day.done.push(*done);
        }
    }
    day
}

fn united_photos(base: &[PlacePhoto], other: &[PlacePhoto]) -> Arc<[PlacePhoto]> {
    let [base, other] = [base, other].map(|photos| photos.iter().collect::<Vec<_>>());
    woven(&base, &other, |photo| photo.id, |_| true).into_iter().cloned().collect()
}

fn united_unknown(base: &Unknown, other: &Unknown) -> Unknown {
    let mut fields = base.fields();
    for (name, value) in other.fields() {
        fields.entry(name).or_insert(value);
    }
    Unknown::of(fields)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo_film;

    fn named(name: &str, consent: bool) -> CastMember {
        CastMember { name: name.to_owned(), consent, ..demo_film().cast[0].clone() }
    }

    #[test]
    fn somebody_has_agreed_if_either_copy_says_so() {
        for (one, other) in [(true, false), (false, true), (true, true)] {
            assert!(united_person(&named("Mia", one), &named("Mia", other)).consent);
        }
        assert!(!united_person(&named("Mia", false), &named("Mia", false)).consent);
    }

    #[test]
    fn a_name_that_was_left_out_never_replaces_one() {
        let name = |base: &str, other: &str| united_person(&named(base, false), &named(other, false)).name;
        assert_eq!(name("Mia", "Person 1"), "Mia");
        assert_eq!(name("Person 1", "Mia"), "Mia");
        assert_eq!(name("", "Mia"), "Mia");
        assert_eq!(name("Mia", "Ada"), "Mia");
        assert_eq!(name("Person 1", "Person 2"), "Person 1");
    }

    #[test]
    fn what_a_newer_program_wrote_is_kept_from_both() {
        let unknown = |text: &str| Unknown::of(serde_json::from_str(text).expect("an object"));
        let one = united_unknown(&unknown(r#"{"a": 1, "b": 2}"#), &unknown(r#"{"b": 3, "c": 4}"#));
        assert_eq!(one, unknown(r#"{"a": 1, "b": 2, "c": 4}"#));
    }
}
