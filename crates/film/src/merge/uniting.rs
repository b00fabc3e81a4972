//! What comes of two words on one kit, person, place or day: ticks of either count, and what only one has or says stays.

use std::sync::Arc;

use crate::day::ShootingDay;
use crate::film::{CastMember, Place};
use crate::id::ShotId;
use crate::kit::{Kit, KitView};
use crate::kit_file::MOST_ENTRIES;
use crate::link::is_said;
use crate::merge::weaving::woven;
use crate::place_photo::PlacePhoto;
use crate::unknown::Unknown;

/// A kit as the base has it. What of the other's is wanted and called as nothing of its kind in the base comes behind, with
/// what was seen on it.
pub(super) fn united_kit(base: &Kit, other: &Kit, is_wanted: impl Fn(&str) -> bool) -> Kit {
    let mut kit = base.clone();
    add_new(&mut kit.lenses, &other.lenses, |lens| &lens.name, &is_wanted);
    add_new(&mut kit.recordings, &other.recordings, |mode| &mode.name, &is_wanted);
    add_new(&mut kit.adapters, &other.adapters, |adapter| &adapter.name, &is_wanted);
    add_new(&mut kit.filters, &other.filters, |filter| &filter.name, &is_wanted);
    let is_new = |view: &&KitView| is_of(view, &kit) && !is_of(view, base);
    let room = MOST_ENTRIES.saturating_sub(base.views.len());
    let views: Vec<KitView> = other.views.iter().filter(is_new).take(room).cloned().collect();
    kit.views.extend(views);
    kit
}

fn add_new<Item: Clone>(
    list: &mut Vec<Item>,
    others: &[Item],
    name: impl Fn(&Item) -> &str,
    is_wanted: impl Fn(&str) -> bool,
) {
    let is_new = |other: &&Item| list.iter().all(|one| name(one) != name(other)) && is_wanted(name(other));
    // A file with more in a list than this would not be read whole.
    let room = MOST_ENTRIES.saturating_sub(list.len());
    let new: Vec<Item> = others.iter().filter(is_new).take(room).cloned().collect();
    list.extend(new);
}

/// Whether a kit has both the lens and the mode that were seen.
fn is_of(view: &KitView, kit: &Kit) -> bool {
    kit.lenses.iter().any(|lens| lens.name == view.lens)
        && kit.recordings.iter().any(|mode| mode.name == view.recording)
}

/// A kit without what the other has nothing of that name for.
pub(super) fn kit_within(kit: &Kit, other: &Kit) -> Kit {
    let mut kit = kit.clone();
    kit.lenses.retain(|lens| other.lenses.iter().any(|one| one.name == lens.name));
    kit.recordings.retain(|mode| other.recordings.iter().any(|one| one.name == mode.name));
    kit.adapters.retain(|adapter| other.adapters.iter().any(|one| one.name == adapter.name));
    kit.filters.retain(|filter| other.filters.iter().any(|one| one.name == filter.name));
    kit.views.retain(|view| is_of(view, other));
    kit
}

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
