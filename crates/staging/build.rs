//! Turns `presets/bodies.toml` into constants, and refuses to build on a record that is incomplete or has no source.

use std::fmt::Write as _;
use std::path::Path;
use std::{env, fs};

use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bodies {
    body: Vec<BodyRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BodyRecord {
    age: String,
    source: String,
    crown: LandmarkRecord,
    brow: LandmarkRecord,
    eyes: LandmarkRecord,
    chin: LandmarkRecord,
    collar: LandmarkRecord,
    shoulder: LandmarkRecord,
    chest: LandmarkRecord,
    waist: LandmarkRecord,
    mid_thigh: LandmarkRecord,
    knee: LandmarkRecord,
    foot: LandmarkRecord,
    head_breadth: f64,
    head_length: f64,
    shoulder_breadth: f64,
    sitting_height: f64,
    sitting_knee: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LandmarkRecord {
    ratio: f64,
    sd: f64,
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let preset = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("../../presets/bodies.toml");
    println!("cargo::rerun-if-changed={}", preset.display());
    let bodies: Bodies = toml::from_str(&fs::read_to_string(&preset)?)?;
    let mut code = String::new();
    for body in &bodies.body {
        if body.source.trim().is_empty() {
            return Err(format!("presets/bodies.toml: the {} body has no source", body.age).into());
        }
        write_body(&mut code, body)?;
    }
    fs::write(Path::new(&env::var("OUT_DIR")?).join("bodies.rs"), code)?;
    Ok(())
}

/// Writes one body as a constant, landmarks in the order of `Landmark`.
fn write_body(code: &mut String, body: &BodyRecord) -> std::fmt::Result {
    let name = body.age.to_uppercase();
    writeln!(code, "const {name}: Proportions = Proportions {{ landmarks: [")?;
    let landmarks = [
        &body.crown,
        &body.brow,
        &body.eyes,
        &body.chin,
        &body.collar,
        &body.shoulder,
        &body.chest,
        &body.waist,
        &body.mid_thigh,
        &body.knee,
        &body.foot,
    ];
    for LandmarkRecord { ratio, sd } in landmarks {
        writeln!(code, "    LandmarkRatio {{ ratio: {ratio:?}, sd: {sd:?} }},")?;
    }
    writeln!(
        code,
        "], head_breadth: {:?}, head_length: {:?}, shoulder_breadth: {:?}, sitting_height: {:?}, sitting_knee: {:?} }};",
        body.head_breadth, body.head_length, body.shoulder_breadth, body.sitting_height, body.sitting_knee
    )
}
