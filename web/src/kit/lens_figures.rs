//! What a lens's card says: each value with its uncertainty and where it comes from.

use std::borrow::Cow;

use film::LensRecord;
use language::say;
use optics::{Known, Lens, Origin, Scale};
use units::{Length, LengthUnit};

use crate::kit::entry::{rounded, shown};
use crate::kit::explanations::{EQUIVALENT, F_NUMBER, FOCAL_LENGTH, SENSOR};
use crate::widgets::Explanation;

/// One value of a card.
#[derive(Debug, Clone)]
pub(super) struct LensFigure {
    /// What it is.
    pub(super) label: Cow<'static, str>,
    /// What stands behind it; nothing behind what is only typed in.
    pub(super) behind: Option<&'static Explanation>,
    /// The value with its unit.
    pub(super) value: String,
    /// Its standard uncertainty, where it shows.
    pub(super) sd: Option<String>,
    /// Where it comes from.
    pub(super) origin: &'static str,
}

/// Where a value comes from, in plain words.
pub(super) fn origin_words(origin: Origin) -> &'static str {
    match origin {
        Origin::Typical => say!("typical"),
        Origin::File => say!("from a file"),
        Origin::Typed => say!("typed"),
        Origin::Measured => say!("measured"),
    }
}

/// The values of a lens; those of its sensor are of the whole still photo. Lengths for distances in `unit`.
pub(super) fn lens_figures(record: &LensRecord, unit: LengthUnit) -> Vec<LensFigure> {
    let Ok(lens) = record.to_lens() else { return Vec::new() };
    let mut figures = Vec::new();
    if lens.scale == Scale::True {
        let focal = known(&lens.focal_length, lens.focal_length.value.to_length().to_mm());
        figures.push(focal.labelled(say!("Focal length"), &FOCAL_LENGTH));
    }
    figures.extend(lens.f_number.map(|number| LensFigure {
        label: say!("f-number").into(),
        behind: Some(&F_NUMBER),
        value: format!("f/{}", shown(number.value.to_f64())),
        sd: None,
        origin: origin_words(number.origin),
    }));
    figures.extend(record.closes_to_f_number.map(|closed| LensFigure {
        label: say!("Closes to").into(),
        behind: None,
        value: format!("f/{}", shown(closed)),
        sd: None,
        origin: beside_file(lens.focal_length.origin),
    }));
    figures.push(equivalent(&lens));
    if lens.scale == Scale::True {
        figures.push(sensor(&lens));
    }
    figures.extend(lens.closest_focus.map(|at| closest_focus(at, lens.focal_length.origin, unit)));
    if !record.in_sensor_zooms.is_empty() {
        let zooms: Vec<_> = record.in_sensor_zooms.iter().map(|zoom| format!("{}x", shown(*zoom))).collect();
        figures.push(LensFigure {
            label: say!("Sensor zooms").into(),
            behind: None,
            value: zooms.join(", "),
            sd: None,
            origin: beside_file(lens.focal_length.origin),
        });
    }
    figures.extend(record.iso_floor.map(|floor| LensFigure {
        label: say!("Lowest ISO").into(),
        behind: None,
        value: shown(floor),
        sd: None,
        origin: beside_file(lens.focal_length.origin),
    }));
    figures
}

/// The 35 mm-equivalent of the whole still photo.
fn equivalent(lens: &Lens) -> LensFigure {
    let value = lens.focal_length.value.to_length().to_mm() * lens.sensor.value.crop_factor();
    // Alone, the equivalent is the one thing that is known, and its sensor only a way to write it.
    let relative_sd = match lens.scale {
        Scale::True => libm::hypot(lens.focal_length.relative_sd, lens.sensor.relative_sd),
        Scale::Equivalent => lens.focal_length.relative_sd,
    };
    Shown::of(value, value * relative_sd, lens.sensor.origin).labelled(say!("35 mm-equivalent"), &EQUIVALENT)
}

fn sensor(lens: &Lens) -> LensFigure {
    let (width, height) = (lens.sensor.value.width.to_mm(), lens.sensor.value.height.to_mm());
    let sd = width * lens.sensor.relative_sd;
    // Both sides with the digits of one, so that they read as a pair.
    let (high, _) = rounded(height, sd);
    let (wide, sd) = rounded(width, sd);
    LensFigure {
        label: say!("Sensor").into(),
        behind: Some(&SENSOR),
        value: format!("{wide} × {high} mm"),
        sd,
        origin: origin_words(lens.sensor.origin),
    }
}

fn closest_focus(at: Length, origin: Origin, unit: LengthUnit) -> LensFigure {
    LensFigure {
        label: say!("Focuses from").into(),
        behind: None,
        value: format!("{} {}", rounded(at.to(unit), 0.0).0, unit.sign()),
        sd: None,
        origin: beside_file(origin),
    }
}

/// Where a value comes from that no file has: beside a file's values, somebody typed it.
fn beside_file(origin: Origin) -> &'static str {
    match origin {
        Origin::File => origin_words(Origin::Typed),
        Origin::Typical | Origin::Typed | Origin::Measured => origin_words(origin),
    }
}

/// A value in millimetres as it is shown, before it has a label.
struct Shown {
    value: String,
    sd: Option<String>,
    origin: &'static str,
}

fn known<T>(known: &Known<T>, value: f64) -> Shown {
    Shown::of(value, value * known.relative_sd, known.origin)
}

impl Shown {
    fn of(value: f64, sd: f64, origin: Origin) -> Self {
        let (value, sd) = rounded(value, sd);
        Self { value, sd, origin: origin_words(origin) }
    }

    fn labelled(self, label: &'static str, behind: &'static Explanation) -> LensFigure {
        LensFigure {
            label: label.into(),
            behind: Some(behind),
            value: format!("{} mm", self.value),
            sd: self.sd,
            origin: self.origin,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::OriginRecord;

    fn lines(record: &LensRecord) -> Vec<String> {
        let line = |figure: LensFigure| {
            let sd = figure.sd.map_or_else(String::new, |sd| format!(" ± {sd}"));
            format!("{}: {}{sd}, {}", figure.label, figure.value, figure.origin)
        };
        lens_figures(record, LengthUnit::Metres).into_iter().map(line).collect()
    }

    #[test]
    fn a_typical_lens_says_so_at_every_value() {
        let main = crate::session::first_kit().lenses.swap_remove(1);
        assert_eq!(
            lines(&main),
            [
                "Focal length: 6.8 mm ± 0.2, typical",
                "f-number: f/1.8, typical",
                "35 mm-equivalent: 24 mm ± 1, typical",
                "Sensor: 9.8 × 7.4 mm ± 0.3, typical",
                "Focuses from: 0.2 m, typical",
                "Sensor zooms: 2x, typical",
            ]
        );
    }

    #[test]
    fn a_lens_that_closes_says_how_far() {
        let lens =
            LensRecord { closes_to_f_number: Some(4.0), ..crate::session::first_kit().lenses.swap_remove(1) };
        let told = lines(&lens);
        assert!(told.contains(&"Closes to: f/4, typical".to_owned()), "{told:?}");
    }

    #[test]
    fn a_lens_known_by_its_equivalent_alone_shows_no_sensor() {
        let alone = LensRecord {
            focal_length_35mm_equivalent_mm: Some(26.0),
            origin: Some(OriginRecord::File),
            closest_focus_m: Some(0.1),
            iso_floor: Some(32.0),
            ..LensRecord::default()
        };
        assert_eq!(
            lines(&alone),
            [
                "35 mm-equivalent: 26.0 mm ± 0.3, from a file",
                "Focuses from: 0.1 m, typed",
                "Lowest ISO: 32, typed"
            ]
        );
    }
}
