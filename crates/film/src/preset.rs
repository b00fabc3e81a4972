//! Kits, adapters, frame shapes and a film that come with the program: typical values, made ready at build.

use std::sync::Arc;

use language::{Number, key, text};
use optics::{Aspect, ExposureValue};

use crate::film::Film;
use crate::film_file::{empty_kit, open_film, usual_aspect};
use crate::kit_file::{AdapterRecord, KitRecord};

/// The first of [`kits`] as text, for a program that reads JSON in a way of its own.
pub const FIRST_KIT_JSON: &str = include_str!(concat!(env!("OUT_DIR"), "/first_kit.json"));
/// [`adapters`] as text.
pub const ADAPTERS_JSON: &str = include_str!(concat!(env!("OUT_DIR"), "/adapters.json"));

/// Each frame shape's name, and the shape as text.
const FRAME_SHAPES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/frame_shapes.rs"));

/// What the kits that come with the program are called.
const KITS: [&str; 4] = [
    key!("Three lenses, large main sensor"),
    key!("Older phone, small sensors"),
    key!("Two lenses"),
    key!("One lens"),
];

/// A kit's name as people are told it: that of one that comes with the program in their language, any other as it is.
pub fn kit_told(name: &str) -> &str {
    KITS.into_iter().find(|kit| *kit == name).map_or(name, |kit| text(kit))
}

/// The phone kits that come with the program, from the most lenses to the fewest.
pub fn kits() -> Vec<KitRecord> {
    read(include_str!(concat!(env!("OUT_DIR"), "/kits.json")))
}

/// The adapters that come with the program.
pub fn adapters() -> Vec<AdapterRecord> {
    read(ADAPTERS_JSON)
}

/// The frame shapes that come with the program, by name.
pub fn frame_shapes() -> Vec<(String, Aspect)> {
    let shape = |(name, aspect): &(&str, &str)| Some(((*name).to_owned(), aspect.parse().ok()?));
    FRAME_SHAPES.iter().filter_map(shape).collect()
}

/// A frame shape by its usual name, `16:9`, or as a number, `2.20`.
pub fn shape_told(aspect: f64) -> String {
    let is_it = |shape: &(String, Aspect)| (shape.1.to_f64() / aspect - 1.0).abs() < 1e-3;
    frame_shapes()
        .into_iter()
        .find(is_it)
        .map_or_else(|| Number(format_args!("{aspect:.2}")).to_string(), |(name, _)| Number(name).to_string())
}

/// How much light everyday scenes give, at ISO 100, by name, from the brightest to the darkest.
pub fn scenes_in_light() -> Vec<(String, ExposureValue)> {
    let scenes: Vec<(String, f64)> = read(include_str!(concat!(env!("OUT_DIR"), "/light.json")));
    scenes
        .into_iter()
        .filter_map(|(name, ev100)| Some((name, ExposureValue::of_scene(ev100).ok()?)))
        .collect()
}

/// A short film to look around in: three scenes, planned and cut.
pub fn demo_film() -> Film {
    let file = include_str!("../../../presets/films/demo.json");
    // A test opens it without problems, so there is nothing to fall back to.
    open_film(file.as_bytes())
        .map_or_else(|_error| Film::empty(Arc::new(empty_kit()), usual_aspect()), |opened| opened.film)
}

/// Reads what the build wrote; it read every record already, so there is nothing to fall back to.
fn read<Records: for<'text> serde::Deserialize<'text> + Default>(json: &str) -> Records {
    serde_json::from_str(json).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shape_goes_by_its_usual_name() {
        assert_eq!([16.0 / 9.0, 2.2].map(shape_told), ["16:9", "2.20"]);
    }

    #[test]
    fn every_kit_that_comes_with_the_program_has_a_name_that_is_said() {
        let names: Vec<Option<String>> = kits().into_iter().map(|kit| kit.name).collect();
        assert_eq!(names, KITS.map(|name| Some(name.to_owned())));
    }

    #[test]
    fn every_preset_is_in_range_and_says_that_it_is_typical() {
        let kits = kits();
        assert!(kits.len() >= 4, "{} kits", kits.len());
        for record in kits {
            let kit = record.to_kit().unwrap_or_else(|error| panic!("{:?}: {error}", record.name));
            for lens in &kit.lenses {
                assert_eq!(lens.lens.focal_length.origin, optics::Origin::Typical, "{}", lens.name);
            }
            assert!(!kit.recordings.is_empty(), "{}", kit.name);
        }
    }

    #[test]
    fn every_preset_adapter_is_in_range() {
        assert_eq!(adapters().len(), 3);
        for adapter in adapters() {
            assert!(adapter.to_kit_adapter("it".to_owned()).is_ok(), "{adapter:?}");
        }
    }

    #[test]
    fn every_frame_shape_reads() {
        assert_eq!(frame_shapes().len(), 8);
    }

    #[test]
    fn every_scene_in_light_reads_and_they_fall_from_bright_to_dark() {
        let scenes = scenes_in_light();
        assert_eq!(scenes.len(), 11);
        assert!(scenes.is_sorted_by(|(_, brighter), (_, darker)| brighter > darker), "{scenes:?}");
    }

    #[test]
    fn the_modes_span_hd_to_4k_and_24_to_120_fps() {
        let kits: Vec<_> = kits().iter().filter_map(|kit| kit.to_kit().ok()).collect();
        let modes = || kits.iter().flat_map(|kit| &kit.recordings);
        for width in [1920, 3840] {
            assert!(modes().any(|mode| mode.recording.width_px() == width), "{width}");
        }
        for fps in [24.0, 25.0, 30.0, 48.0, 50.0, 60.0, 120.0] {
            let offered =
                modes().flat_map(|mode| &mode.frame_rates).any(|rate| (rate.to_fps() - fps).abs() < 1e-9);
            assert!(offered, "{fps}");
        }
    }
}
