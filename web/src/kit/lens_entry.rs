//! A lens in a form: the texts it begins with, the lens that they say, and what that lens will do.

use film::{LensRecord, OriginRecord, RecordError};
use language::{key, say};
use optics::Scale;
use units::LengthUnit;

use crate::kit::entry::{Entry, rounded};

/// How a lens is known, as a form asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum KnownBy {
    /// By focal length and sensor size.
    Sensor,
    /// By focal length and 35 mm-equivalent.
    Equivalent,
    /// By the 35 mm-equivalent alone.
    EquivalentAlone,
}

/// The form's own field for how the lens is known.
pub(super) const KNOWN_BY: &str = "known_by";

/// What a lens has beside its picture, which a form may leave empty: the fields and their names.
const BESIDE_PICTURE: [(&str, &str); 4] = [
    ("closest_focus_m", key!("Focuses from")),
    ("in_sensor_zooms", key!("Zooms from the sensor's middle")),
    ("closes_to_f_number", key!("Closes to f/")),
    ("iso_floor", key!("Lowest ISO")),
];

impl KnownBy {
    /// What an entry asks for.
    pub(super) fn of(entry: &Entry) -> Self {
        match entry.text(KNOWN_BY) {
            "sensor" => Self::Sensor,
            "alone" => Self::EquivalentAlone,
            _ => Self::Equivalent,
        }
    }

    /// As it stands in an entry.
    pub(super) const fn text(self) -> &'static str {
        match self {
            Self::Sensor => "sensor",
            Self::Equivalent => "equivalent",
            Self::EquivalentAlone => "alone",
        }
    }

    fn of_record(record: &LensRecord) -> Self {
        match (record.focal_length_mm, record.sensor_width_mm, record.focal_length_35mm_equivalent_mm) {
            (None, _, Some(_)) => Self::EquivalentAlone,
            (_, Some(_), _) => Self::Sensor,
            (_, None, _) => Self::Equivalent,
        }
    }
}

/// The entry that shows a lens; closest focus in `unit`.
pub(super) fn entry(record: &LensRecord, unit: LengthUnit) -> Entry {
    let zooms: Vec<_> = record.in_sensor_zooms.iter().map(f64::to_string).collect();
    Entry::default()
        .with("name", record.name.clone().unwrap_or_default())
        .with(KNOWN_BY, KnownBy::of_record(record).text())
        .with_number("focal_length_mm", record.focal_length_mm)
        .with_number("f_number", record.f_number)
        .with_number("focal_length_35mm_equivalent_mm", record.focal_length_35mm_equivalent_mm)
        .with_number("sensor_width_mm", record.sensor_width_mm)
        .with_number("sensor_height_mm", record.sensor_height_mm)
        .with_length("closest_focus_m", record.closest_focus_m, unit)
        .with("in_sensor_zooms", zooms.join(" "))
        .with_number("closes_to_f_number", record.closes_to_f_number)
        .with_number("iso_floor", record.iso_floor)
}

/// The lens that an entry says.
///
/// A value that the entry still shows as `before` had it keeps all its digits and its uncertainty. If every optical value
/// does, the lens keeps its origin; else a person typed it, whatever it was before.
///
/// # Errors
/// Names the field that is missing or out of range.
pub(super) fn read(entry: &Entry, before: &LensRecord, unit: LengthUnit) -> Result<LensRecord, RecordError> {
    let shown = self::entry(before, unit);
    let kept = |field: &str| shown.text(field) == entry.text(field);
    let old_or = |field: &str, old: Option<f64>| if kept(field) { Ok(old) } else { entry.number(field) };

    let by = KnownBy::of(entry);
    let focal = "focal_length_mm";
    let equivalent = "focal_length_35mm_equivalent_mm";
    let sides = ["sensor_width_mm", "sensor_height_mm"];
    if by != KnownBy::EquivalentAlone {
        entry.needed(focal, say!("millimetres, as the phone's data sheet or a photo says"))?;
    }
    if by == KnownBy::Sensor {
        entry.needed(sides[0], say!("millimetres, along the longer side"))?;
        entry.needed(sides[1], say!("millimetres, along the shorter side"))?;
    } else {
        entry.needed(equivalent, say!("millimetres; 24 to 28 on most main lenses"))?;
    }

    let same_sensor = by == KnownBy::Sensor && kept(focal) && sides.iter().all(|side| kept(side));
    let same_kind = shown.text(KNOWN_BY) == entry.text(KNOWN_BY);
    let optical = [focal, "f_number", equivalent, sides[0], sides[1]];
    let untouched = same_kind && optical.iter().all(|field| kept(field));
    let record = LensRecord {
        name: Some(entry.name()?),
        focal_length_mm: match by {
            KnownBy::EquivalentAlone => None,
            KnownBy::Sensor | KnownBy::Equivalent => old_or(focal, before.focal_length_mm)?,
        },
        focal_length_sd_mm: before.focal_length_sd_mm.filter(|_| same_kind && kept(focal)),
        focal_length_35mm_equivalent_mm: match by {
            // Beside a sensor size it is only told: kept while it still says the same.
            KnownBy::Sensor => before.focal_length_35mm_equivalent_mm.filter(|_| same_sensor),
            KnownBy::Equivalent | KnownBy::EquivalentAlone => {
                old_or(equivalent, before.focal_length_35mm_equivalent_mm)?
            }
        },
        f_number: old_or("f_number", before.f_number)?,
        sensor_width_mm: match by {
            KnownBy::Sensor => old_or(sides[0], before.sensor_width_mm)?,
            KnownBy::Equivalent | KnownBy::EquivalentAlone => None,
        },
        sensor_height_mm: match by {
            KnownBy::Sensor => old_or(sides[1], before.sensor_height_mm)?,
            KnownBy::Equivalent | KnownBy::EquivalentAlone => None,
        },
        sensor_width_sd_mm: before.sensor_width_sd_mm.filter(|_| same_sensor),
        sensor_aspect: before.sensor_aspect.filter(|_| by != KnownBy::Sensor),
        closest_focus_m: if kept("closest_focus_m") {
            before.closest_focus_m
        } else {
            entry.metres("closest_focus_m", unit)?
        },
        in_sensor_zooms: entry.numbers("in_sensor_zooms")?,
        closes_to_f_number: old_or("closes_to_f_number", before.closes_to_f_number)?,
        iso_floor: old_or("iso_floor", before.iso_floor)?,
        origin: if untouched { before.origin } else { Some(OriginRecord::Typed) },
    };
    record.to_lens()?;
    Ok(record)
}

/// What an entry leaves empty and another lens is known to have: each field, its name, and what that lens has there.
pub(super) fn left_empty(
    entry: &Entry,
    other: &LensRecord,
    unit: LengthUnit,
) -> Vec<(&'static str, &'static str, String)> {
    let known = self::entry(other, unit);
    let left = |(field, name): (&'static str, &'static str)| {
        let text = known.some_text(field).filter(|_| !entry.flag(field))?;
        Some((field, name, text))
    };
    BESIDE_PICTURE.into_iter().filter_map(left).collect()
}

/// What will work with a lens as it stands, and what it lacks for the rest.
pub(super) fn what_works(record: &LensRecord) -> String {
    let Ok(lens) = record.to_lens() else { return String::new() };
    match (lens.scale, lens.f_number) {
        (Scale::Equivalent, _) => {
            say!("Field of view works; to know what is sharp add the focal length and the f-number.")
                .to_owned()
        }
        (Scale::True, None) => {
            say!("Field of view works; to know what is sharp add the f-number.").to_owned()
        }
        (Scale::True, Some(_)) => {
            let sensor = lens.sensor.value;
            let equivalent = lens.focal_length.value.to_length().to_mm() * sensor.crop_factor();
            let sd = lens.sensor.relative_sd;
            // Both sides with the digits of one, so that they read as a pair.
            let [width, height] =
                [sensor.width, sensor.height].map(|side| rounded(side.to_mm(), sensor.width.to_mm() * sd).0);
            let (equivalent, _) = rounded(equivalent, equivalent * sd);
            say!(
                "Everything works: sensor {width} × {height} mm, 35 mm-equivalent {equivalent} mm; field of view, what is \
                 sharp and how soft the rest is."
            )
        }
    }
}

/// What to call a lens that sees as a lens of `equivalent_mm` does.
pub(super) const fn usual_name(equivalent_mm: f64) -> &'static str {
    // Chosen because the field takes ultra-wides for 20 mm and below, and phones' main lenses for 22 to 35 mm.
    if equivalent_mm < 20.0 {
        "ultra-wide"
    } else if equivalent_mm < 40.0 {
        "main"
    } else {
        "long"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(fields: &[(&'static str, &str)]) -> Result<LensRecord, RecordError> {
        let empty = entry(&LensRecord::default(), LengthUnit::Metres);
        let entry = fields.iter().fold(empty, |entry, (field, text)| entry.with(field, *text));
        read(&entry, &LensRecord::default(), LengthUnit::Metres)
    }

    fn from_file() -> LensRecord {
        LensRecord {
            name: Some("main".to_owned()),
            focal_length_mm: Some(6.765),
            focal_length_sd_mm: Some(0.0),
            focal_length_35mm_equivalent_mm: Some(24.0),
            f_number: Some(1.78),
            sensor_width_mm: Some(9.756_789),
            sensor_height_mm: Some(7.317_591),
            sensor_width_sd_mm: Some(0.117),
            origin: Some(OriginRecord::File),
            ..LensRecord::default()
        }
    }

    #[test]
    fn any_of_three_ways_makes_a_lens() {
        let by_sensor = [
            ("name", "a"),
            (KNOWN_BY, "sensor"),
            ("focal_length_mm", "6,86"),
            ("sensor_width_mm", "9.8"),
            ("sensor_height_mm", "7.3"),
        ];
        let lens = typed(&by_sensor).expect("a lens");
        assert_eq!((lens.focal_length_mm, lens.origin), (Some(6.86), Some(OriginRecord::Typed)));
        let by_equivalent = [
            ("name", "a"),
            (KNOWN_BY, "equivalent"),
            ("focal_length_mm", "6.86"),
            ("focal_length_35mm_equivalent_mm", "24"),
        ];
        assert!(what_works(&typed(&by_equivalent).expect("a lens")).contains("add the f-number"));
        let alone = [("name", "a"), (KNOWN_BY, "alone"), ("focal_length_35mm_equivalent_mm", "24")];
        let alone = typed(&alone).expect("a lens");
        assert!(what_works(&alone).contains("add the focal length"), "{alone:?}");
    }

    #[test]
    fn what_is_wrong_is_told_at_its_field() {
        let error = typed(&[("name", "a"), (KNOWN_BY, "equivalent"), ("focal_length_mm", "0")]);
        assert_eq!(error.expect_err("no equivalent").path, "focal_length_35mm_equivalent_mm");
        let fields = [
            ("name", "a"),
            (KNOWN_BY, "equivalent"),
            ("focal_length_mm", "0"),
            ("focal_length_35mm_equivalent_mm", "24"),
        ];
        let error = typed(&fields).expect_err("no focal length");
        assert_eq!(error.to_string(), "focal_length_mm: 0 mm is not allowed: 0.1 to 2000 mm");
        let error = typed(&[(KNOWN_BY, "alone"), ("focal_length_35mm_equivalent_mm", "24")]);
        assert_eq!(error.expect_err("no name").path, "name");
    }

    #[test]
    fn what_another_lens_has_and_this_one_leaves_empty_is_offered() {
        let other = LensRecord {
            closest_focus_m: Some(0.2),
            in_sensor_zooms: vec![2.0],
            iso_floor: Some(32.0),
            ..from_file()
        };
        let typed = entry(&LensRecord::default(), LengthUnit::Metres).with("iso_floor", "50");
        let offered = left_empty(&typed, &other, LengthUnit::Metres);
        let fields: Vec<_> = offered.iter().map(|(field, _, text)| (*field, text.as_str())).collect();
        assert_eq!(fields, [("closest_focus_m", "0.2"), ("in_sensor_zooms", "2")]);
    }

    #[test]
    fn an_untouched_lens_is_the_same_to_the_last_digit() {
        let before = from_file();
        let entry = entry(&before, LengthUnit::Inches);
        assert_eq!(read(&entry, &before, LengthUnit::Inches), Ok(before));
    }

    #[test]
    fn a_changed_value_makes_the_lens_typed_and_a_new_name_does_not() {
        let before = from_file();
        let shown = entry(&before, LengthUnit::Metres);
        let renamed = read(&shown.clone().with("name", "wide"), &before, LengthUnit::Metres).expect("a lens");
        assert_eq!((renamed.origin, renamed.sensor_width_sd_mm), (before.origin, before.sensor_width_sd_mm));
        let changed =
            read(&shown.with("sensor_width_mm", "9.9"), &before, LengthUnit::Metres).expect("a lens");
        assert_eq!(changed.origin, Some(OriginRecord::Typed));
        assert_eq!((changed.sensor_width_sd_mm, changed.focal_length_35mm_equivalent_mm), (None, None));
    }

    #[test]
    fn what_a_lens_closes_to_and_its_lowest_iso_are_kept_and_taken_away() {
        let before = LensRecord { closes_to_f_number: Some(4.123_456), iso_floor: Some(32.0), ..from_file() };
        let shown = entry(&before, LengthUnit::Metres);
        assert_eq!(read(&shown, &before, LengthUnit::Metres), Ok(before.clone()));
        let emptied = shown.with("closes_to_f_number", "").with("iso_floor", "50");
        let lens = read(&emptied, &before, LengthUnit::Metres).expect("a lens");
        assert_eq!((lens.closes_to_f_number, lens.iso_floor), (None, Some(50.0)));
        assert_eq!(lens.origin, Some(OriginRecord::File), "the picture's values are as the file has them");
    }

    #[test]
    fn a_lens_that_closes_to_less_than_it_has_open_is_refused_at_its_field() {
        let lens = LensRecord { closes_to_f_number: Some(1.2), ..from_file() };
        let error = crate::kit::part::put(
            &crate::session::first_kit(),
            None,
            LensRecord { name: Some("x".to_owned()), ..lens },
        );
        assert_eq!(crate::kit::entry::leaf(&error.expect_err("wider than open")), "closes_to_f_number");
    }

    #[test]
    fn closest_focus_is_in_inches_beside_feet() {
        let before = LensRecord { closest_focus_m: Some(0.2), ..from_file() };
        let shown = entry(&before, LengthUnit::Feet.near());
        assert_eq!(shown.text("closest_focus_m"), "7.9");
        let typed = shown.with("closest_focus_m", "10");
        let lens = read(&typed, &before, LengthUnit::Feet.near()).expect("a lens");
        assert_eq!(lens.closest_focus_m, Some(0.254));
    }

    #[test]
    fn closest_focus_takes_any_spelling() {
        let before = from_file();
        let entry = entry(&before, LengthUnit::Metres).with("closest_focus_m", "20 cm");
        let lens = read(&entry, &before, LengthUnit::Metres).expect("a lens");
        assert_eq!((lens.closest_focus_m, lens.origin), (Some(0.2), Some(OriginRecord::File)));
    }
}
