//! The light of a setup, as it is told to programs.

use film::{
    Film, FilterOn, Moving, PassingSmear, SafeShutter, ShotLight, SunInFrame, SunOnSetup, SunSide, WalkSmear,
    clock,
};
use requests::FindingAnswer;
use serde::Serialize;

use super::lit::LitSetup;
use crate::shooting_day::{ChosenDay, Span};

/// The light of a setup.
#[derive(Debug, Serialize)]
pub(super) struct SetupLight {
    scene: usize,
    shot: usize,
    at: String,
    at_min: f64,
    in_order: bool,
    in_the_can: bool,
    wanted_light: Option<Vec<Span>>,
    #[serde(flatten)]
    set: Settings,
    sun: Option<SunAnswer>,
    #[serde(flatten)]
    moves: Moves,
    safe_shutters: Vec<SafeAnswer>,
    how_to_set: Vec<String>,
    pub(super) findings: Vec<FindingAnswer>,
}

/// How much light there is, and what camera and filters are set to.
#[derive(Debug, Serialize)]
struct Settings {
    ev100: f64,
    light_from: String,
    lens: String,
    adapter: Option<String>,
    f_number: f64,
    f_number_typical: bool,
    rate_fps: f64,
    shutter_asked_s: f64,
    shutter_s: f64,
    shutter_deg: Option<f64>,
    iso: f64,
    iso_typical: bool,
    app_shutter_s: Option<f64>,
    app_iso: Option<f64>,
    bias_stops: f64,
    adapter_takes_stops: f64,
    slow_motion_costs_stops: f64,
    too_much_stops: f64,
    filters: Vec<Filter>,
    filters_take_stops: f64,
    closing_takes_stops: f64,
    left_stops: f64,
    white_balance_k: f64,
}

/// A filter that is on.
#[derive(Debug, Serialize)]
struct Filter {
    name: String,
    takes_stops: f64,
    turned: bool,
}

/// The sun on a setup.
#[derive(Debug, Serialize)]
struct SunAnswer {
    side: &'static str,
    round_deg: f64,
    azimuth_deg: f64,
    elevation_deg: f64,
    in_frame: &'static str,
    shadow_times: Option<f64>,
    caution: Option<&'static str>,
}

/// What moves.
#[derive(Debug, Default, Serialize)]
struct Moves {
    smear: Option<Smear>,
    follow_m: Option<f64>,
    follow_s: Option<f64>,
    fastest_turn_deg_per_s: Option<f64>,
    quarter_turn_s: Option<f64>,
    passing: Vec<Passing>,
}

/// Whoever smears most.
#[derive(Debug, Serialize)]
struct Smear {
    who: String,
    at_s: f64,
    px: f64,
    share: f64,
}

/// What would smear that passes.
#[derive(Debug, Serialize)]
struct Passing {
    what: &'static str,
    px: f64,
    share: f64,
}

/// A shutter without flicker.
#[derive(Debug, Serialize)]
struct SafeAnswer {
    mains_hz: f64,
    time_s: f64,
    deg: f64,
    offered: bool,
}

impl SetupLight {
    pub(super) fn of(chosen: &ChosenDay, lit: &LitSetup) -> Self {
        let LitSetup { setup, at_min, in_order, light, sun } = lit;
        let (scene, shot) = chosen.number_of(light.shot);
        let wanted = setup.wanted.as_ref();
        Self {
            scene,
            shot,
            at: clock(*at_min),
            at_min: *at_min,
            in_order: *in_order,
            in_the_can: setup.is_done,
            wanted_light: wanted.map(|spans| spans.iter().map(|span| Span::from(*span)).collect()),
            set: Settings::of(light),
            sun: sun.as_ref().map(SunAnswer::of),
            moves: light.moving.as_ref().map(|moving| Moves::of(&chosen.film, moving)).unwrap_or_default(),
            safe_shutters: light.safe_shutters.iter().map(SafeAnswer::of).collect(),
            how_to_set: light.how_to_set.steps.clone(),
            findings: findings(light),
        }
    }

    /// Whether it is still to be made and its light never comes.
    pub(super) fn lacks_its_light(&self) -> bool {
        !self.in_the_can && self.wanted_light.as_ref().is_some_and(Vec::is_empty)
    }
}

impl Settings {
    fn of(light: &ShotLight) -> Self {
        Self {
            ev100: light.light.value.to_f64(),
            light_from: light.light.source_words(),
            lens: light.lens.clone(),
            adapter: light.adapter.clone(),
            f_number: light.aperture.set.to_f64(),
            f_number_typical: light.aperture.is_typical,
            rate_fps: light.shutter.rate.to_fps(),
            shutter_asked_s: light.shutter.asked.to_s(),
            shutter_s: light.shutter.time.to_s(),
            shutter_deg: light.shutter.angle.map(optics::ShutterAngle::to_deg),
            iso: light.iso.set.to_f64(),
            iso_typical: light.iso.is_typical,
            app_shutter_s: light.guess.map(|guess| guess.time.to_s()),
            app_iso: light.guess.map(|guess| guess.iso.to_f64()),
            bias_stops: light.exposure.exposing.bias.to_f64(),
            adapter_takes_stops: light.exposure.exposing.light_loss.to_f64(),
            slow_motion_costs_stops: light.slow_motion.to_f64(),
            too_much_stops: light.over.to_f64(),
            filters: light.filters.on.iter().map(Filter::of).collect(),
            filters_take_stops: light.filters.takes.to_f64(),
            closing_takes_stops: light.aperture.takes().to_f64(),
            left_stops: light.residual.to_f64(),
            white_balance_k: light.white_balance.kelvin,
        }
    }
}

fn findings(light: &ShotLight) -> Vec<FindingAnswer> {
    light.findings.iter().map(|finding| finding.to_finding().into()).collect()
}

impl Filter {
    fn of(filter: &FilterOn) -> Self {
        let FilterOn { name, takes, is_variable } = filter;
        Self { name: name.clone(), takes_stops: takes.to_f64(), turned: *is_variable }
    }
}

impl SunAnswer {
    fn of(sun: &SunOnSetup) -> Self {
        let SunOnSetup { on, elevation } = sun;
        Self {
            side: match on.side {
                SunSide::Front => "front",
                SunSide::Left => "left",
                SunSide::Right => "right",
                SunSide::Back => "back",
            },
            round_deg: on.round.to_deg(),
            azimuth_deg: on.azimuth_on_floor.to_deg().rem_euclid(360.0),
            elevation_deg: elevation.to_deg(),
            in_frame: match on.in_frame {
                SunInFrame::Away => "away",
                SunInFrame::Near => "near",
                SunInFrame::Within => "within",
            },
            shadow_times: on.shadow_times,
            caution: on.caution(),
        }
    }
}

impl Moves {
    fn of(film: &Film, moving: &Moving) -> Self {
        Self {
            smear: moving.smear.map(|smear| Smear::of(film, smear)),
            follow_m: moving.follow.map(|path| path.length.to_m()),
            follow_s: moving.follow.map(|path| path.seconds),
            fastest_turn_deg_per_s: Some(moving.pan.fastest.to_deg()),
            quarter_turn_s: moving.pan.quarter_turn_s,
            passing: moving.passing.iter().map(Passing::of).collect(),
        }
    }
}

impl Smear {
    fn of(film: &Film, smear: WalkSmear) -> Self {
        let WalkSmear { who, at_s, px, frame_share } = smear;
        Self { who: film.name_of(who).to_owned(), at_s, px, share: frame_share }
    }
}

impl Passing {
    fn of(passing: &PassingSmear) -> Self {
        let PassingSmear { mover, px, frame_share } = *passing;
        Self { what: mover.name(), px, share: frame_share }
    }
}

impl SafeAnswer {
    fn of(safe: &SafeShutter) -> Self {
        let SafeShutter { mains, time, angle, is_offered } = safe;
        Self { mains_hz: mains.to_hz(), time_s: time.to_s(), deg: angle.to_deg(), offered: *is_offered }
    }
}
