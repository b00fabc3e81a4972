//! The whole film's cut, entry by entry.

use std::sync::Arc;

use crate::film::Film;
use crate::scene::{Entry, Scene};
use crate::shot::Shot;

/// One entry of the film's cut, in its place.
#[derive(Debug, Clone)]
pub(super) struct InCut<'film> {
    /// Its scene's number, from 1.
    pub(super) scene_number: usize,
    pub(super) scene: &'film Scene,
    pub(super) entry: &'film Entry,
    pub(super) shot: &'film Arc<Shot>,
    /// Its shot's number, such as `2.3`.
    pub(super) number: String,
    /// The stretch of its shot, seconds.
    pub(super) stretch_s: (f64, f64),
    /// Where it starts in the film, seconds.
    pub(super) starts_s: f64,
}

impl InCut<'_> {
    /// How long it is, seconds.
    pub(super) fn length_s(&self) -> f64 {
        self.stretch_s.1 - self.stretch_s.0
    }
}

/// All entries of the film's cut as they play.
pub(super) fn record_order(film: &Film) -> Vec<InCut<'_>> {
    let mut listed = Vec::new();
    let mut starts_s = 0.0;
    for (at, scene) in film.scenes.iter().enumerate() {
        for entry in &scene.cut {
            let Some(place) = scene.shots.iter().position(|shot| shot.id == entry.shot) else { continue };
            let Some(shot) = scene.shots.get(place) else { continue };
            let stretch_s = entry.stretch_of(shot);
            listed.push(InCut {
                scene_number: at + 1,
                scene,
                entry,
                shot,
                number: format!("{}.{}", at + 1, place + 1),
                stretch_s,
                starts_s,
            });
            starts_s += stretch_s.1 - stretch_s.0;
        }
    }
    listed
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::demo_film;

    #[test]
    fn entries_follow_each_other_without_a_gap_to_the_films_end() {
        let film = demo_film();
        let listed = record_order(&film);
        assert!(listed.len() > 10, "too few to tell");
        let mut at_s = 0.0;
        for one in &listed {
            assert!((one.starts_s - at_s).abs() < 1e-9, "{}: {} and {at_s}", one.number, one.starts_s);
            at_s += one.length_s();
        }
        assert!((at_s - film.cut_s()).abs() < 1e-9, "{at_s} and {}", film.cut_s());
    }
}
