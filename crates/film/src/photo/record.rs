//! A lens of the kit from what a photo or a clip says.

use crate::kit_file::{LensRecord, OriginRecord};
use crate::photo::{LensFromPhoto, PhotoFacts, lens_from_photo};

/// The lens that the facts give, as far as they go and without a name: with a sensor size if they are complete, else with
/// what there is, which may not be enough for a lens.
pub fn lens_record(facts: &PhotoFacts) -> LensRecord {
    if let Ok(LensFromPhoto { focal_length_mm, f_number, equivalent_35mm_mm, sensor: Some(sensor), .. }) =
        lens_from_photo(facts)
    {
        return LensRecord {
            focal_length_mm: Some(focal_length_mm),
            // The tag's rounding is in the sensor's size, which was worked out from it; the focal length has more digits.
            focal_length_sd_mm: Some(0.0),
            focal_length_35mm_equivalent_mm: Some(equivalent_35mm_mm),
            f_number,
            sensor_width_mm: Some(sensor.width_mm),
            sensor_height_mm: Some(sensor.height_mm),
            sensor_width_sd_mm: Some(sensor.width_mm * sensor.relative_sd),
            origin: Some(OriginRecord::File),
            ..LensRecord::default()
        };
    }
    let zoom = facts.digital_zoom.filter(|zoom| *zoom > 0.0).unwrap_or(1.0);
    let sides = facts.width_px.zip(facts.height_px).filter(|_| !facts.kind.is_clip());
    let aspect =
        |(width, height): (u32, u32)| f64::from(width.max(height)) / f64::from(width.min(height).max(1));
    LensRecord {
        focal_length_mm: facts.focal_length_mm,
        focal_length_35mm_equivalent_mm: facts.equivalent_35mm_mm.map(|tagged| tagged / zoom),
        f_number: facts.f_number,
        // A panorama's shape is not the sensor's, so it is left to the usual one.
        sensor_aspect: sides.map(aspect).filter(|aspect| *aspect <= 3.0),
        origin: Some(OriginRecord::File),
        ..LensRecord::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::FileKind;

    #[test]
    fn complete_facts_give_a_lens_with_its_sensor() {
        let facts = PhotoFacts {
            focal_length_mm: Some(4.28),
            equivalent_35mm_mm: Some(35.0),
            width_px: Some(3264),
            height_px: Some(2448),
            ..PhotoFacts::unknown(FileKind::Jpeg)
        };
        let lens = lens_record(&facts);
        // By hand: 43.2666 mm x 4.28 / 35 is the diagonal, four fifths of it the width.
        let width = lens.sensor_width_mm.expect("worked out");
        assert!((width - 43.2666 * 4.28 / 35.0 * 0.8).abs() < 1e-3, "{width}");
        assert!(lens.to_lens().is_ok(), "{lens:?}");
    }

    #[test]
    fn the_equivalent_alone_gives_a_lens_with_the_zoom_divided_out() {
        let facts = PhotoFacts {
            equivalent_35mm_mm: Some(48.0),
            digital_zoom: Some(2.0),
            ..PhotoFacts::unknown(FileKind::Jpeg)
        };
        assert_eq!(lens_record(&facts).focal_length_35mm_equivalent_mm, Some(24.0));
    }
}
