//! Draws scenes of the checks of pictures in a browser's worker, with the tracer that draws the page's pictures.
//!
//! The page's own module takes a stage, with people and pieces of a set; this one takes what the outside renderer has drawn.
//! It is compiled like the page's own, and nobody gets it.

#![expect(clippy::expect_used, clippy::missing_panics_doc, reason = "a helper of a measurement")]

#[expect(dead_code, reason = "the checks read more")]
#[path = "../picture/scene.rs"]
mod scene;

use render::{Screen, Size, Strip, Tracer};
use serde::Deserialize as _;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// A part of a scene's picture: every `parts`th strip.
#[derive(Debug)]
#[wasm_bindgen]
pub struct Part {
    tracer: Tracer,
    strips: Vec<Strip>,
    screen: Screen,
}

#[wasm_bindgen]
impl Part {
    /// Prepares part `part` of `parts` of a scene at `scale` times its size.
    #[wasm_bindgen(constructor)]
    pub fn new(scene: JsValue, scale: u32, part: u32, parts: u32) -> Self {
        let file =
            scene::SceneFile::deserialize(serde_wasm_bindgen::Deserializer::from(scene)).expect("a scene");
        let Size { width, height } = file.size();
        let tracer = Tracer::new(&file.picture(), Size { width: width * scale, height: height * scale });
        let strips =
            (part..tracer.strips()).step_by(parts as usize).map(|index| tracer.strip(index)).collect();
        Self { tracer, strips, screen: Screen::new() }
    }

    /// Draws on until every pixel has so many samples, and hands over its strips' pixels from the top.
    pub fn draw(&mut self, samples: u32) -> Vec<u8> {
        let mut rgba = Vec::new();
        for strip in &mut self.strips {
            self.tracer.trace(strip, samples - strip.samples());
            let first = rgba.len();
            rgba.resize(first + strip.rows().len() * self.tracer.size().width as usize * 4, 0);
            strip.develop(&self.screen, &mut rgba[first..]);
        }
        rgba
    }
}
