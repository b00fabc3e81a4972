//! The scenes that all sides draw: those of the checks of pictures.

use std::fs;
use std::path::{Path, PathBuf};

use serde::Deserialize as _;

use crate::png_file;
use crate::scene::SceneFile;
use crate::ssim::Bytes;

/// A scene as all sides get it.
pub(crate) struct Scene {
    pub(crate) name: String,
    /// What its file holds, for those that read JSON.
    pub(crate) json: serde_json::Value,
    /// The same, read.
    pub(crate) file: SceneFile,
    /// The outside renderer's converged picture.
    pub(crate) converged: Bytes,
}

impl Scene {
    /// Whether it has shapes on which light falls, rather than only such as glow.
    pub(crate) fn is_lit(&self) -> bool {
        self.json["shape"]
            .as_array()
            .is_some_and(|shapes| shapes.iter().any(|shape| !shape["matt"].is_null()))
    }

    /// All scenes whose name contains one of the words, in order of name; all if there are no words.
    pub(crate) fn all(words: &[String]) -> Vec<Self> {
        let folder = reference("pictures");
        let mut names: Vec<String> = fs::read_dir(&folder)
            .expect("the scenes")
            .map(|entry| entry.expect("a scene").file_name().into_string().expect("a name"))
            .filter_map(|name| name.strip_suffix(".toml").map(str::to_owned))
            .filter(|name| words.is_empty() || words.iter().any(|word| name.contains(word)))
            .collect();
        names.sort();
        names.into_iter().map(Self::read).collect()
    }

    fn read(name: String) -> Self {
        let text = fs::read_to_string(reference(&format!("pictures/{name}.toml"))).expect("a scene");
        let table: toml::Table = toml::from_str(&text).expect("a scene");
        let converged = png_file::read(&reference(&format!("pictures/renderer/{name}.png")));
        let json = serde_json::to_value(&table).expect("a scene");
        Self { file: SceneFile::deserialize(&json).expect("a scene"), json, name, converged }
    }
}

fn reference(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reference").join(path)
}
