//! The figures of a card: where the phone is, what is sharp, and how the camera is set.

use language::{Number, say};
use optics::FarLimit;
use staging::Setup;

use super::paper::{Paper, PaperShot};
use super::words::{left_over, length, movement, paced, sun};
use crate::light::ShotLight;
use crate::shot::{Shot, Sound};

/// A label and what is told of it.
pub(super) type Row = (&'static str, String);

/// What is told of a setup, in the order in which it is set up.
pub(super) fn rows(paper: &Paper<'_>, one: &PaperShot<'_>) -> Vec<Row> {
    let mut rows = Vec::new();
    if let Some(lens) = one.card(paper).lens() {
        let adapter = one.shot().adapter.as_deref().unwrap_or(say!("no adapter"));
        rows.push((say!("Lens"), format!("{lens}, {adapter}")));
    }
    if let Some(setup) = one.setup() {
        rows.extend(place(paper, setup));
        rows.extend(focus(paper, one, setup));
    }
    if let Some(light) = &one.light {
        rows.extend(exposure(light));
    }
    rows.extend(one.sun.as_ref().map(|on| (say!("Sun"), sun(on))));
    rows.extend(moves(paper, one.shot()));
    rows
}

/// Where the phone is.
fn place(paper: &Paper<'_>, setup: &Setup) -> [Row; 2] {
    let tilt = setup.tilt.to_deg();
    let tilt = match tilt {
        tilt if tilt.abs() < 0.5 => say!("level").to_owned(),
        tilt if tilt > 0.0 => say!(in "the phone", "{tilt:.0}° up"),
        tilt => say!(in "the phone", "{:.0}° down", -tilt),
    };
    [
        (say!("Stand back"), paced(paper, setup.distance)),
        (say!("Lens high"), format!("{}, {tilt}", length(setup.phone_height, paper.of.unit, 2))),
    ]
}

/// What focus is on and what counts as sharp.
fn focus(paper: &Paper<'_>, one: &PaperShot<'_>, setup: &Setup) -> Vec<Row> {
    let unit = paper.of.unit;
    let on = if setup.on_eyes { say!("on the eyes, ") } else { "" };
    let mut rows = vec![(say!("Focus"), format!("{on}{}", length(setup.focus, unit, 1)))];
    let figures = one.made().and_then(|made| made.result().figures.as_ref());
    rows.extend(figures.and_then(|figures| figures.sharp).map(|zone| {
        let near = length(zone.near, unit, 1);
        let told = match zone.far {
            FarLimit::At(far) => say!("from {near} to {}", length(far, unit, 1)),
            FarLimit::Infinity => say!("from {near} on"),
        };
        (say!("Sharp"), told)
    }));
    rows.extend(one.shot().pull.map(|pull| {
        let (from, to) = (length(pull.from, unit, 1), length(pull.to, unit, 1));
        let (starts_s, lasts_s) = (Number(pull.starts_s), Number(pull.lasts_s));
        (say!("Focus goes"), say!("{from} to {to} at {starts_s} s, in {lasts_s} s"))
    }));
    rows
}

/// How the camera is set, and what is left over.
fn exposure(light: &ShotLight) -> Vec<Row> {
    let (shutter, iso) = match &light.guess {
        Some(guess) => (
            say!("{} asked for; the app takes about {}", Number(light.shutter.time), Number(guess.time)),
            say!("the app takes about {}", guess.iso),
        ),
        None => (Number(light.shutter.time).to_string(), light.iso.set.to_string()),
    };
    vec![
        (say!("Shutter"), say!("{shutter} at {}", Number(light.shutter.rate))),
        (say!("Exposure"), say!("{iso}, f/{:.1}", light.aperture.set.to_f64())),
        ("ND", light.filters.words()),
        (say!("Then it is"), left_over(light)),
        (say!("White"), format!("{:.0} K", light.white_balance.kelvin)),
        (say!("Light"), light.light.words()),
    ]
}

/// How it is taken.
fn moves(paper: &Paper<'_>, shot: &Shot) -> Vec<Row> {
    let mut rows = Vec::new();
    rows.extend(shot.movement.map(|moves| (say!("Phone"), movement(moves, paper.of.unit))));
    let recorder = shot.recorder_away.filter(|_| shot.sound != Sound::None);
    let recorder =
        recorder.map_or_else(String::new, |away| say!(", recorder {} away", length(away, paper.of.unit, 1)));
    rows.push((say!("Take"), say!("plays {} s, {}{recorder}", Number(shot.planned_s), shot.sound.name())));
    rows
}
