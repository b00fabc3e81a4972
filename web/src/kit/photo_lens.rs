//! The lens that a file tells of, as a form begins with it, and what the file says in words.

use film::{KitRecord, LensFromPhoto, LensRecord, PhotoFacts, Turn, lens_from_photo};
use language::say;

use crate::kit::entry::{rounded, shown};
use crate::kit::lens_entry::usual_name;
use crate::kit::part::{Key, Part as _, free_name, keys};

/// The lens with a name, and the typical one whose place it takes if the kit has one of that name.
pub(super) fn placed(lens: LensRecord, kit: &KitRecord) -> (LensRecord, Option<Key>) {
    let usual = lens.focal_length_35mm_equivalent_mm.map_or("lens", usual_name);
    let typical = keys::<LensRecord>(kit)
        .into_iter()
        .zip(&kit.lenses)
        .find_map(|(key, other)| (key.name == usual && other.stands_in()).then_some(key));
    let name = match &typical {
        Some(key) => key.name.clone(),
        None => free_name::<LensRecord>(kit, usual),
    };
    (LensRecord { name: Some(name), ..lens }, typical)
}

/// What the file says, one fact a line.
pub(super) fn found(facts: &PhotoFacts) -> Vec<String> {
    let mut lines = Vec::new();
    lines.extend(facts.focal_length_mm.map(|mm| say!("focal length {} mm", shown(mm))));
    lines.extend(facts.f_number.map(|number| format!("f/{}", shown(number))));
    lines.extend(facts.equivalent_35mm_mm.map(|mm| say!("35 mm-equivalent {} mm", shown(mm))));
    if let Some(zoom) = facts.digital_zoom.filter(|zoom| (*zoom - 1.0).abs() > 1e-6) {
        lines.push(say!("taken at {}x digital zoom, which is divided out", shown(zoom)));
    }
    lines.extend(facts.width_px.zip(facts.height_px).map(|(width, height)| {
        let held = match (facts.is_upright(), facts.turn) {
            (Some(true), _) => say!(", phone upright"),
            (_, None | Some(Turn::None | Turn::Clockwise | Turn::Half | Turn::CounterClockwise)) => "",
        };
        say!("{width} × {height} pixels{held}")
    }));
    lines.extend(facts.frame_rate_fps.map(|fps| say!("{} frames per second", rounded(fps, 0.0).0)));
    lines
}

/// The sensor size that was worked out, or why it was not.
pub(super) fn worked_out(facts: &PhotoFacts) -> Option<String> {
    match lens_from_photo(facts) {
        Ok(LensFromPhoto { sensor: Some(sensor), .. }) => {
            let sd = sensor.width_mm * sensor.relative_sd;
            // Both sides with the digits of one, so that they read as a pair.
            let (height, _) = rounded(sensor.height_mm, sd);
            let (width, sd) = rounded(sensor.width_mm, sd);
            let sd = sd.map_or_else(String::new, |sd| format!(" ± {sd}"));
            Some(say!("Sensor behind the whole photo, worked out: {width} × {height} mm{sd}."))
        }
        Ok(LensFromPhoto { sensor: None, .. }) => Some(
            say!("A clip does not say how it was cropped, so its 35 mm-equivalent may not be the photo's: use a still \
                  photo, or check the lens below.")
                .to_owned(),
        ),
        Err(film::LensFromPhotoError::Missing { .. }) => None,
        Err(error) => Some(say!("No sensor size follows from this file: {error}.")),
    }
}

#[cfg(test)]
mod tests {
    use film::lens_record;

    use film::OriginRecord;

    use super::*;
    use film::FileKind;

    fn photo() -> PhotoFacts {
        PhotoFacts {
            focal_length_mm: Some(6.765),
            f_number: Some(1.78),
            equivalent_35mm_mm: Some(24.0),
            width_px: Some(4032),
            height_px: Some(3024),
            turn: Some(Turn::Clockwise),
            ..PhotoFacts::unknown(FileKind::Heic)
        }
    }

    #[test]
    fn a_complete_photo_gives_a_lens_with_its_sensor() {
        let lens = lens_record(&photo());
        assert!(lens.to_lens().is_ok(), "{lens:?}");
        assert_eq!(lens.origin, Some(OriginRecord::File));
        assert_eq!(
            worked_out(&photo()).as_deref(),
            Some("Sensor behind the whole photo, worked out: 9.8 × 7.3 mm ± 0.1.")
        );
        assert_eq!(found(&photo()).last().map(String::as_str), Some("4032 × 3024 pixels, phone upright"));
    }

    #[test]
    fn a_stripped_photo_gives_what_it_has() {
        let stripped = PhotoFacts { equivalent_35mm_mm: None, f_number: None, ..photo() };
        let lens = lens_record(&stripped);
        assert_eq!((lens.focal_length_mm, lens.f_number, lens.sensor_width_mm), (Some(6.765), None, None));
        assert_eq!(worked_out(&stripped), None);
    }

    #[test]
    fn digital_zoom_is_divided_out_even_without_a_focal_length() {
        let zoomed = PhotoFacts {
            focal_length_mm: None,
            equivalent_35mm_mm: Some(48.0),
            digital_zoom: Some(2.0),
            ..photo()
        };
        assert_eq!(lens_record(&zoomed).focal_length_35mm_equivalent_mm, Some(24.0));
    }

    #[test]
    fn a_real_lens_takes_the_place_of_the_typical_one() {
        let kit = crate::session::first_kit();
        let (lens, key) = placed(lens_record(&photo()), &kit);
        assert_eq!((lens.name.as_deref(), key.map(|key| key.name)), (Some("main"), Some("main".to_owned())));
        let mut owned = kit;
        owned.lenses[1].origin = Some(OriginRecord::File);
        let (lens, key) = placed(lens_record(&photo()), &owned);
        assert_eq!((lens.name.as_deref(), key), (Some("main 2"), None));
    }
}
