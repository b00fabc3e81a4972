//! The list of injections, and a film that has every text that a film can have, so that any of them can stand in it.

use std::collections::BTreeSet;

use film::{demo_film, write_film};
use serde::Deserialize;
use serde_json::{Map, Value, json};

/// Texts of a film that are free to be anything, as `the list or object they are in`.`their name`.
pub(crate) const FREE: [&str; 42] = [
    ".later",
    ".line",
    ".recording",
    ".title",
    "adapters.fits",
    "adapters.name",
    "adapters.source",
    "adapters.vignettes",
    "beats.what",
    "cast.name",
    "clear_views.lens",
    "clear_views.recording",
    "days.notes",
    "days.title",
    "filters.fits",
    "filters.name",
    "kept.reason",
    "kept.rule",
    "kit.name",
    "kit.source",
    "lenses.name",
    "object.name",
    "photos.name",
    "places.name",
    "places.notes",
    "recordings.name",
    "scenes.changes",
    "scenes.happens",
    "scenes.mood",
    "scenes.obstacle",
    "scenes.title",
    "shots.action",
    "shots.adapter",
    "shots.continuity",
    "shots.lens",
    "shots.notes",
    "takes.clip",
    "takes.focus",
    "takes.why",
    "views.lens",
    "views.recording",
    "wants.what",
];

/// Those by which things of a kit are called and referred to: what was alike stays alike, and what differed differs.
const NAMES: [&str; 15] = [
    ".recording",
    "adapters.fits",
    "adapters.name",
    "adapters.vignettes",
    "clear_views.lens",
    "clear_views.recording",
    "filters.fits",
    "filters.name",
    "lenses.name",
    "photos.name",
    "recordings.name",
    "shots.adapter",
    "shots.lens",
    "views.lens",
    "views.recording",
];

/// One injection.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Injection {
    /// What it would be taken for.
    pub(crate) class: String,
    /// The text itself.
    pub(crate) text: String,
}

/// What stands in the list.
#[derive(Debug, Deserialize)]
struct List {
    injection: Vec<Written>,
}

#[derive(Debug, Deserialize)]
struct Written {
    class: String,
    text: Option<String>,
    #[serde(default = "once")]
    repeat: usize,
}

const fn once() -> usize {
    1
}

fn list() -> Vec<Written> {
    let list: Result<List, _> = toml::from_str(include_str!("../reference/injections.toml"));
    list.map(|list| list.injection).unwrap_or_default()
}

/// All of them that a text can hold.
pub(crate) fn injections() -> Vec<Injection> {
    let of = |written: Written| {
        let text = written.text?.repeat(written.repeat);
        Some(Injection { class: written.class, text })
    };
    list().into_iter().filter_map(of).collect()
}

/// What a field is called in [`FREE`]: `within` is the nearest list or object that has a name.
fn label(within: &str, name: &str) -> String {
    format!("{within}.{name}")
}

/// Puts another text in the place of each free text of a film's file: `text` is told which, what stood there, and the number
/// of that text among those that things are called by. Gives which there were.
pub(crate) fn with_texts(
    film: &mut Value,
    text: &mut impl FnMut(&str, Option<usize>) -> String,
) -> BTreeSet<String> {
    let (mut found, mut names) = (BTreeSet::new(), Vec::new());
    replace(film, "", &mut names, text, &mut found);
    found
}

fn replace(
    part: &mut Value,
    within: &str,
    names: &mut Vec<String>,
    text: &mut impl FnMut(&str, Option<usize>) -> String,
    found: &mut BTreeSet<String>,
) {
    match part {
        Value::Object(fields) => {
            for (name, field) in fields.iter_mut() {
                let label = label(within, name);
                if FREE.contains(&label.as_str()) && is_text(field) {
                    put(field, &label, names, text);
                    found.insert(label);
                } else {
                    let inner = if field.is_object() || field.is_array() { name.as_str() } else { within };
                    replace(field, inner, names, text, found);
                }
            }
        }
        Value::Array(parts) => {
            for part in parts {
                replace(part, within, names, text, found);
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

fn is_text(field: &Value) -> bool {
    match field {
        Value::String(_) => true,
        Value::Array(all) => all.iter().all(Value::is_string),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::Object(_) => false,
    }
}

fn put(
    field: &mut Value,
    label: &str,
    names: &mut Vec<String>,
    text: &mut impl FnMut(&str, Option<usize>) -> String,
) {
    match field {
        Value::String(old) => {
            let number = NAMES.contains(&label).then(|| {
                names.iter().position(|name| name == old).unwrap_or_else(|| {
                    names.push(old.clone());
                    names.len() - 1
                })
            });
            *old = text(label, number);
        }
        Value::Array(all) => all.iter_mut().for_each(|one| put(one, label, names, text)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::Object(_) => {}
    }
}

/// The invented film with so many scenes of so many shots, and with every text that a film can have in each of its parts.
pub(crate) fn full_film(scenes: usize, shots: usize) -> Value {
    let mut film: Value = serde_json::from_str(&write_film(&demo_film())).unwrap_or_default();
    let every = |list: &mut Value, set: &mut dyn FnMut(&mut Map<String, Value>)| {
        list.as_array_mut().into_iter().flatten().filter_map(Value::as_object_mut).for_each(set);
    };
    film["later"] = json!("what a newer program wrote");
    film["kit"]["source"] = json!("measured");
    film["kit"]["adapters"] = json!([{
        "name": "clip-on", "squeeze": 1.33, "source": "its box", "fits": ["main", "long"], "vignettes": ["long"],
        "clear_views": [{"lens": "main", "recording": "4K", "clear_share": 0.9}],
    }]);
    film["kit"]["views"] = json!([{"lens": "main", "recording": "4K", "horizontal_fov_deg": 70.0}]);
    every(&mut film["places"], &mut |place| {
        place.insert("notes".to_owned(), json!("the key is under the mat"));
        let photo = json!([{
            "id": 1, "name": "from the door", "x_m": 0.0, "y_m": 0.0, "height_m": 1.5, "azimuth_deg": 0.0,
            "horizontal_fov_deg": 70.0, "size_px": [1200, 900], "far_m": 20.0,
        }]);
        place.insert("photos".to_owned(), photo);
    });
    every(&mut film["days"], &mut |day| {
        day.insert("title".to_owned(), json!("all of it"));
        day.insert("notes".to_owned(), json!("bring water"));
        day.remove("shots");
        day.remove("pinned");
    });
    let mut taken = Vec::new();
    if let Some(all) = film["scenes"].as_array_mut() {
        all.truncate(scenes);
        for scene in all {
            fill_scene(scene, shots, &mut taken);
        }
    }
    film["takes"] = Value::Array(taken);
    film
}

fn fill_scene(scene: &mut Value, shots: usize, taken: &mut Vec<Value>) {
    for (name, said) in
        [("mood", "calm"), ("obstacle", "rain"), ("happens", "they meet"), ("changes", "they part")]
    {
        scene[name] = json!(said);
    }
    let blocking = &mut scene["blocking"];
    let who = blocking["marks"][0]["who"].clone();
    if !blocking["beats"].is_array() {
        blocking["beats"] = json!([{"id": 900, "what": "the door opens", "starts_s": 0.0}]);
    }
    scene["wants"] = json!([{"who": who, "what": "the tin"}]);
    // Of persons and of things alike.
    let mut listed = scene["shots"].as_array().cloned().unwrap_or_default();
    listed.sort_by_key(|shot| shot["of"]["object"].is_null());
    listed.truncate(shots);
    for (at, shot) in listed.iter_mut().enumerate() {
        for (name, said) in
            [("action", "she turns"), ("notes", "mind the step"), ("continuity", "sleeves up")]
        {
            shot[name] = json!(said);
        }
        shot["lens"] = json!("main");
        if at % 2 == 1 {
            shot["adapter"] = json!("clip-on");
        }
        taken.push(json!({
            "id": taken.len() + 1, "shot": shot["id"], "number": 1, "verdict": "good", "why": "all of it",
            "clip": "a.mov", "focus": "0.3", "at": "2026-09-12T10:00:00Z",
        }));
    }
    let is_there = |entry: &Value| listed.iter().any(|shot| shot["id"] == entry["shot"]);
    let cut: Vec<Value> =
        scene["cut"].as_array().into_iter().flatten().filter(|one| is_there(one)).cloned().collect();
    scene["cut"] = Value::Array(cut);
    scene["kept"] = json!([{"rule": "scene.sizes", "reason": "it is meant"}]);
    scene["shots"] = Value::Array(listed);
}
