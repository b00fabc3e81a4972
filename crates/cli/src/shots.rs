//! `tapemark shots`: the film's shots, each with its lens and where the phone stands.

use film::{Film, Rehearsal, Rehearsals, Scene, Shot, ShotSizeWord, titled};
use serde::Serialize;

use crate::failure::Failure;
use crate::film_input::{Options, asks, open_findings};
use crate::output::{self, Answer};

/// One shot with its setup.
#[derive(Debug, Serialize)]
struct Listed {
    scene: usize,
    shot: usize,
    size: ShotSizeWord,
    of: String,
    action: String,
    /// The lens that it is made on, with its zoom and the adapter; null where there is none to be had.
    lens: Option<String>,
    in_sensor_zoom: Option<f64>,
    adapter: Option<String>,
    /// From the phone to the subject along the floor; null where the framing cannot be had.
    distance_m: Option<f64>,
    camera_height_m: Option<f64>,
    tilt_deg: Option<f64>,
    /// From the subject to the phone, clockwise from north, 0 to 360.
    side_deg: f64,
    planned_s: f64,
    must_have: bool,
}

/// What `shots` reads and prints.
pub(crate) const HELP: &str = "\
With --json a list of {scene, shot, size, of, action, lens, in_sensor_zoom, adapter, distance_m, camera_height_m, \
tilt_deg, side_deg, planned_s, must_have}; what cannot be had is null. Scenes and shots count from 1; distance_m is along \
the floor from whom or what it is of to the phone, and side_deg that direction, clockwise from north. Exits are those of \
`tapemark check`; shots in no cut do not count.";

/// The answer.
pub(crate) fn run(options: &Options) -> Result<Answer, Failure> {
    let film = options.open()?;
    let mut rehearsals = Rehearsals::default();
    let mut listed = Vec::new();
    let mut has_findings = false;
    for (at, scene) in film.scenes.iter().enumerate() {
        for (number, shot) in scene.shots.iter().enumerate() {
            let rehearsal = rehearsals.of(&film, scene, shot);
            listed.push(Listed::of(&film, (at + 1, number + 1), shot, rehearsal.as_ref().as_ref().ok()));
        }
        has_findings |= open_findings(&film, scene, &mut rehearsals).iter().any(asks);
    }
    let text = if options.json { output::json(&listed)? } else { table(&film, &listed) };
    Ok(Answer { text, has_findings })
}

impl Listed {
    fn of(film: &Film, (scene, number): (usize, usize), shot: &Shot, rehearsal: Option<&Rehearsal>) -> Self {
        let on = rehearsal.map(|rehearsal| &rehearsal.on);
        let setup = on.and_then(|on| on.result.outcome.as_ref().ok());
        let lens = rehearsal.and_then(|rehearsal| rehearsal.lens(film));
        let adapter = on.and_then(|on| film.kit.adapters.get(on.adapter?));
        Self {
            scene,
            shot: number,
            size: shot.size.into(),
            of: shot.of.told(film),
            action: shot.action.clone(),
            lens: lens.map(|lens| lens.name.clone()),
            in_sensor_zoom: on.map(|on| on.in_sensor_zoom),
            adapter: adapter.map(|adapter| adapter.name.clone()),
            distance_m: setup.map(|setup| setup.distance.to_m()),
            camera_height_m: setup.map(|setup| setup.phone_height.to_m()),
            tilt_deg: setup.map(|setup| setup.tilt.to_deg()),
            side_deg: rehearsal
                .map_or(shot.side, |rehearsal| rehearsal.blocking.phone_bearing)
                .to_deg()
                .rem_euclid(360.0),
            planned_s: shot.planned_s,
            must_have: shot.is_must_have(),
        }
    }
}

/// One line a shot, under its scene.
fn table(film: &Film, listed: &[Listed]) -> String {
    let mut text = String::new();
    for (at, scene) in film.scenes.iter().enumerate() {
        text += &scene_line(at + 1, scene);
        for (one, shot) in listed.iter().filter(|one| one.scene == at + 1).zip(&scene.shots) {
            text += &one.line(shot.size.name());
        }
    }
    text
}

impl Listed {
    /// The shot on one line; its size as people say it.
    fn line(&self, size: &str) -> String {
        let zoom = self
            .in_sensor_zoom
            .filter(|zoom| *zoom > 1.0)
            .map_or_else(String::new, |zoom| format!(" {zoom}x"));
        let lens = self.lens.as_ref().map_or_else(|| "no lens".to_owned(), |lens| format!("on {lens}{zoom}"));
        let adapter = self.adapter.as_ref().map_or_else(String::new, |name| format!(" with {name}"));
        let stand = match (self.distance_m, self.camera_height_m) {
            (Some(distance), Some(height)) => format!("{distance:.2} m away, {height:.2} m high"),
            _ => "cannot be had".to_owned(),
        };
        let spare = if self.must_have { "" } else { ", nice to have" };
        let action = if self.action.is_empty() { String::new() } else { format!(": {}", self.action) };
        format!(
            "  {:>2}.{:<2} {size} of {}, {lens}{adapter}, {stand}, {} s{spare}{action}\n",
            self.scene, self.shot, self.of, self.planned_s
        )
    }
}

fn scene_line(number: usize, scene: &Scene) -> String {
    let facts = &scene.facts;
    let heading = titled("Scene", number, &facts.title);
    format!("{heading} ({}, {})\n", facts.setting.name(), facts.time.name())
}
