//! The check of a lens in a form: what was looked at, from where, and the field of view that follows.

use film::{KitRecord, RecordError, TAPED_SD, ViewCheck, ViewRecord, stepped_distance, taped_width_sd};
use language::{key, say};
use optics::SeenView;
use units::{Length, LengthUnit};

use crate::kit::entry::{Entry, leaf};

/// Things of known width that most people have at hand: the form's value, its name, its width.
pub(super) const THINGS: [(&str, &str, f64); 3] = [
    ("door", key!("a door, 0.90 m"), 0.90),
    ("a4", key!("an A4 sheet's long side, 0.297 m"), 0.297),
    ("letter", key!("a letter sheet's long side, 0.279 m"), 0.279),
];

/// The form's value for a thing of the user's own.
pub(super) const OWN_THING: &str = "own";

/// What was looked at, in which lens and mode.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Looked {
    /// The lens, by name.
    pub(super) lens: String,
    /// The recording mode, by name.
    pub(super) recording: String,
    /// What was looked at, and from where.
    pub(super) check: ViewCheck,
    /// The field of view that follows.
    pub(super) seen: SeenView,
}

impl Looked {
    /// As it is kept in the kit.
    pub(super) fn to_record(&self) -> ViewRecord {
        ViewRecord::of_seen(&self.seen, &self.lens, &self.recording, self.check.distance)
    }
}

/// An entry of the kit's first lens and mode.
pub(super) fn of_lens_and_mode(kit: &KitRecord) -> Entry {
    let lens = kit.lenses.iter().find_map(|lens| lens.name.clone());
    let mode = kit.recordings.iter().find_map(|mode| mode.name.clone());
    Entry::default().with("lens", lens.unwrap_or_default()).with("recording", mode.unwrap_or_default())
}

/// The entry that a check begins with: a door over the whole frame, at a distance to be taped.
pub(super) fn entry(kit: &KitRecord) -> Entry {
    of_lens_and_mode(kit)
        .with("thing", "door")
        .with("width_m", "")
        .with("share", "100")
        .with("how", "taped")
        .with("distance_m", "")
        .with("steps", "")
}

/// Whether the distance is stepped rather than taped.
pub(super) fn is_stepped(entry: &Entry) -> bool {
    entry.text("how") == "stepped"
}

/// What an entry says was looked at; `step` is the length of the user's step.
///
/// # Errors
/// Names the field that is missing or out of range.
pub(super) fn read(entry: &Entry, unit: LengthUnit, step: Length) -> Result<Looked, RecordError> {
    let named = |field: &str| {
        entry.some_text(field).ok_or_else(|| RecordError::at(field, say!("needed: the kit has none yet")))
    };
    let (width, width_sd) = width(entry, unit)?;
    let (share, share_sd) = share(entry)?;
    let stepped = is_stepped(entry);
    let (distance, distance_sd) = if stepped {
        stepped_distance(entry.needed("steps", say!("how many steps from the lens to it"))?, step)
    } else {
        let metres = entry.metres("distance_m", unit)?;
        let metres =
            metres.ok_or_else(|| RecordError::at("distance_m", say!("needed: from the lens to it")))?;
        (Length::from_m(metres), TAPED_SD)
    };
    let check = ViewCheck { width, width_sd, share, share_sd, distance, distance_sd };
    let seen = check.seen().map_err(|error| match leaf(&error) {
        // The distance was not typed, the steps were.
        "distance_m" if stepped => RecordError::at("steps", error.message),
        "share" => {
            RecordError::at("share", say!("that share is not allowed: 5 to 100 % of the frame's width"))
        }
        "horizontal_fov_deg" => RecordError::at(
            if stepped { "steps" } else { "distance_m" },
            say!("no phone sees like that: {} across", error.message),
        ),
        _ => error,
    })?;
    Ok(Looked { lens: named("lens")?, recording: named("recording")?, check, seen })
}

/// The width of the thing and its standard uncertainty.
///
/// A door is known to 5 mm and a sheet of paper to 1 mm, chosen because they are made that well; what a person measured as
/// [`taped_width_sd`] says.
pub(super) fn width(entry: &Entry, unit: LengthUnit) -> Result<(Length, Length), RecordError> {
    let thing = THINGS.iter().find(|(value, ..)| *value == entry.text("thing"));
    if let Some((value, _, metres)) = thing {
        let sd = if *value == "door" { 5.0 } else { 1.0 };
        return Ok((Length::from_m(*metres), Length::from_mm(sd)));
    }
    let metres = entry.metres("width_m", unit)?;
    let width =
        Length::from_m(metres.ok_or_else(|| RecordError::at("width_m", say!("needed: how wide it is")))?);
    Ok((width, taped_width_sd(width)))
}

/// The share of the frame's width that the thing fills, and its standard uncertainty.
///
/// Half a percent of the frame where it fills all of it, because both edges are seen to touch; one percent else, because
/// people judge a gap by eye: both chosen.
fn share(entry: &Entry) -> Result<(f64, f64), RecordError> {
    let share = entry.number("share")?.unwrap_or(100.0) / 100.0;
    Ok((share, if share > 0.995 { 0.005 } else { 0.01 }))
}

#[cfg(test)]
mod tests {
    use super::*;

    const STEP: Length = Length::from_m(0.75);

    fn begun() -> Entry {
        entry(&crate::session::first_kit())
    }

    #[test]
    fn a_door_across_the_frame_gives_the_angle() {
        let looked = read(&begun().with("distance_m", "69 cm"), LengthUnit::Metres, STEP).expect("a view");
        let degrees = looked.seen.horizontal_fov.to_deg();
        assert!((degrees - 66.22).abs() < 0.01, "{degrees}");
        assert!((looked.seen.sd.to_deg() - 0.855).abs() < 0.01, "{}", looked.seen.sd.to_deg());
        let record = looked.to_record();
        assert_eq!((record.lens.as_str(), record.recording.as_str()), ("ultra-wide", "4K"));
    }

    #[test]
    fn steps_are_known_less_well_than_a_tape() {
        let taped = read(&begun().with("distance_m", "1.5"), LengthUnit::Metres, STEP).expect("a view");
        let stepped = begun().with("how", "stepped").with("steps", "2");
        let stepped = read(&stepped, LengthUnit::Metres, STEP).expect("a view");
        assert_eq!(taped.check.distance, stepped.check.distance);
        assert!(stepped.seen.sd.to_rad() > taped.seen.sd.to_rad() * 3.0, "{stepped:?}");
    }

    #[test]
    fn what_is_wrong_is_told_at_the_field_that_was_typed() {
        let path = |entry: Entry| read(&entry, LengthUnit::Metres, STEP).expect_err("refused").path;
        assert_eq!(path(begun()), "distance_m");
        assert_eq!(path(begun().with("how", "stepped").with("steps", "9000")), "steps");
        assert_eq!(path(begun().with("distance_m", "300")), "distance_m");
        assert_eq!(path(begun().with("distance_m", "1").with("share", "2")), "share");
        assert_eq!(path(begun().with("thing", OWN_THING).with("distance_m", "1")), "width_m");
    }
}
