//! Turns the presets into compact JSON and Rust beside the program, and refuses to build on a record that does not read
//! or has no source.

#[path = "src/kit_file/record.rs"]
#[expect(unreachable_pub, reason = "the records are public in the crate that they belong to")]
mod record;

use std::path::{Path, PathBuf};
use std::{env, error, fs};

use serde::{Deserialize, Serialize};

type Failure = Box<dyn error::Error>;

/// The most bytes of a file of presets: chosen a hundred times what the longest has, as its reader takes a hundred times
/// what it reads.
const LARGEST: usize = 1_000_000;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Adapters {
    adapter: Vec<record::AdapterRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Deliveries {
    delivery: Vec<DeliveryRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DeliveryRecord {
    name: String,
    aspect: String,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scenes {
    scene: Vec<SceneRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SceneRecord {
    name: String,
    ev100: f64,
    source: String,
}

fn main() -> Result<(), Failure> {
    let presets = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("../../presets");
    println!("cargo::rerun-if-changed={}", presets.display());
    let mut phones: Vec<PathBuf> = fs::read_dir(presets.join("phones"))?
        .map(|entry| Ok(entry?.path()))
        .collect::<Result<_, Failure>>()?;
    phones.sort();
    let mut kits: Vec<record::KitRecord> = Vec::new();
    for path in &phones {
        let kit: record::KitRecord = read(path)?;
        require_source(path, kit.source.as_deref())?;
        kits.push(kit);
    }
    // The kit that most of what a phone can do is seen on comes first.
    kits.sort_by_key(|kit| std::cmp::Reverse(kit.lenses.len()));
    write("kits.json", &kits)?;
    write("first_kit.json", &kits.first())?;

    let path = presets.join("adapters.toml");
    let adapters: Adapters = read(&path)?;
    for adapter in &adapters.adapter {
        require_source(&path, adapter.source.as_deref())?;
    }
    write("adapters.json", &adapters.adapter)?;

    let path = presets.join("deliveries.toml");
    let deliveries: Deliveries = read(&path)?;
    for delivery in &deliveries.delivery {
        require_source(&path, Some(&delivery.source))?;
    }
    let shapes: Vec<_> = deliveries.delivery.iter().map(|shape| (&shape.name, &shape.aspect)).collect();
    // As Rust, so that the page need not carry a reader for it.
    fs::write(Path::new(&env::var("OUT_DIR")?).join("frame_shapes.rs"), format!("&{shapes:?}"))?;

    let path = presets.join("light.toml");
    let scenes: Scenes = read(&path)?;
    for scene in &scenes.scene {
        require_source(&path, Some(&scene.source))?;
    }
    let scenes: Vec<_> = scenes.scene.iter().map(|scene| (&scene.name, scene.ev100)).collect();
    write("light.json", &scenes)
}

fn read<Record: for<'text> Deserialize<'text>>(path: &Path) -> Result<Record, Failure> {
    let text = fs::read_to_string(path)?;
    if text.len() > LARGEST {
        return Err(format!("{}: a file of presets has at most {LARGEST} bytes", path.display()).into());
    }
    toml::from_str(&text).map_err(|error| format!("{}: {error}", path.display()).into())
}

fn require_source(path: &Path, source: Option<&str>) -> Result<(), Failure> {
    match source.map(str::trim) {
        Some(source) if !source.is_empty() => Ok(()),
        Some(_) | None => Err(format!("{}: a record has no source", path.display()).into()),
    }
}

fn write(name: &str, records: &impl Serialize) -> Result<(), Failure> {
    let path = Path::new(&env::var("OUT_DIR")?).join(name);
    Ok(fs::write(path, serde_json::to_vec(records)?)?)
}
