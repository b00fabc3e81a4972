//! Presets: records in TOML, as those in `presets/`.

use film::{AdapterRecord, AspectRecord, KitRecord};
use optics::ExposureValue;
use serde::Deserialize;

use crate::{has_words, kit_file};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Adapters {
    adapter: Vec<AdapterRecord>,
}

#[derive(Deserialize)]
struct Shapes {
    delivery: Vec<Shape>,
}

#[derive(Deserialize)]
struct Shape {
    aspect: AspectRecord,
}

#[derive(Deserialize)]
struct Scenes {
    scene: Vec<Scene>,
}

#[derive(Deserialize)]
struct Scene {
    ev100: f64,
}

/// A file of presets of any kind.
pub(crate) fn preset(bytes: &[u8]) {
    let Ok(text) = str::from_utf8(bytes) else { return };
    match toml::from_str::<KitRecord>(text) {
        Ok(kit) => {
            let written = toml::to_string(&kit).expect("records can be written");
            assert_eq!(toml::from_str(&written), Ok(kit.clone()), "{written}");
            kit_file::usable(&kit);
        }
        // It draws the line that is wrong, so it has several.
        Err(refusal) => assert!(refusal.message().len() > 8, "{refusal}"),
    }
    if let Ok(Adapters { adapter }) = toml::from_str(text) {
        adapter.iter().for_each(kit_file::usable_adapter);
    }
    if let Ok(Shapes { delivery }) = toml::from_str(text) {
        for Shape { aspect } in delivery {
            assert!((0.2..=5.0).contains(&aspect.0.to_f64()), "{aspect:?}");
        }
    }
    if let Ok(Scenes { scene }) = toml::from_str(text) {
        for Scene { ev100 } in scene {
            if let Err(refusal) = ExposureValue::of_scene(ev100) {
                has_words(refusal);
            }
        }
    }
}
