//! What to do to the phone before a take, within what its camera app allows.

use language::{Number, say};
use units::Stops;

use super::finding::CHOPPY_SHARE;
use super::{AppGuess, ShotLight};
use crate::kit::CameraApp;
use crate::shot::{Shot, ShotOf};

/// Above this share of the smear that was asked for, movement looks smeared: twice 180°, the whole of a frame's time. Chosen
/// because no shutter that asks for half of it smears more.
const SMEARED_SHARE: f64 = 2.0;

/// What to do to the phone, step by step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HowToSet {
    /// Short steps, in order.
    pub steps: Vec<String>,
}

impl HowToSet {
    /// The steps for a shot whose light is known.
    pub(crate) fn of(light: &ShotLight, shot: &Shot) -> Self {
        let mut steps: Vec<String> = Vec::new();
        steps.extend(light.adapter.as_ref().map(|name| say!("put the {name} on the {} lens", light.lens)));
        if light.adapter.is_none() {
            steps.push(say!("use the {} lens", light.lens));
        }
        steps.extend(filters_step(light));
        match light.app {
            CameraApp::FullManual => manual(light, shot, &mut steps),
            CameraApp::LockOnly => lock_only(light, shot, &mut steps),
            CameraApp::Nothing => nothing(light, shot, &mut steps),
        }
        Self { steps }
    }
}

fn filters_step(light: &ShotLight) -> Option<String> {
    let early = match light.app {
        CameraApp::FullManual => String::new(),
        CameraApp::LockOnly => {
            say!(" before anything is locked, so that the app comes near {}", Number(light.shutter.asked))
        }
        CameraApp::Nothing => say!(", so that the app comes near {}", Number(light.shutter.asked)),
    };
    (!light.filters.on.is_empty()).then(|| say!("put on {}{early}", light.filters.words()))
}

fn manual(light: &ShotLight, shot: &Shot, steps: &mut Vec<String>) {
    steps.push(say!("set {}", Number(light.shutter.rate)));
    steps.push(say!("set the shutter to {}", Number(light.shutter.time)));
    steps.push(say!("set {}", light.iso.set));
    if light.aperture.is_closed() {
        steps.push(say!("close the lens to f/{:.1}", light.aperture.set.to_f64()));
    }
    steps.push(say!("set the white balance to {:.0} K", light.white_balance.kelvin));
    let focus = match shot.of {
        ShotOf::Object { .. } => light.app.focus_advice_on_thing(),
        ShotOf::One(_) | ShotOf::Two(..) | ShotOf::OverShoulder { .. } | ShotOf::PointOfView { .. } => {
            light.app.focus_advice()
        }
    };
    steps.push(focus.to_owned());
}

fn lock_only(light: &ShotLight, shot: &Shot, steps: &mut Vec<String>) {
    steps.push(say!("set {} in the phone's settings", Number(light.shutter.rate)));
    steps.push(say!("frame the shot in its own light and tap {}", metered(shot)));
    steps.push(say!("hold the finger until the app says that exposure and focus are locked").to_owned());
    steps.extend(slid(light.exposure.exposing.bias).map(|(by, is_down)| {
        if is_down {
            say!("slide the brightness down by {by:.1}")
        } else {
            say!("slide the brightness up by {by:.1}")
        }
    }));
    steps.extend(light.guess.as_ref().map(|guess| cannot_choose(light, guess)));
    steps.push(
        say!("leave the lock on for all takes; lock again when the light, the lens or the place is another")
            .to_owned(),
    );
}

fn nothing(light: &ShotLight, shot: &Shot, steps: &mut Vec<String>) {
    steps.push(say!("tap {} just before each take", metered(shot)));
    steps.extend(slid(light.exposure.exposing.bias).map(|(by, is_down)| {
        if is_down {
            say!("if the app lets you, slide the brightness down by {by:.1}")
        } else {
            say!("if the app lets you, slide the brightness up by {by:.1}")
        }
    }));
    steps.extend(light.guess.as_ref().map(|guess| cannot_choose(light, guess)));
    steps.push(
        say!(
            "keep the light even: no walk or pan from shade to sun, and nothing bright that comes into frame"
        )
        .to_owned(),
    );
}

/// What to meter on.
fn metered(shot: &Shot) -> &'static str {
    match shot.of {
        ShotOf::Object { .. } => say!("the thing itself, or what is as far away and neither bright nor dark"),
        ShotOf::One(_) | ShotOf::Two(..) | ShotOf::OverShoulder { .. } | ShotOf::PointOfView { .. } => {
            say!("the face")
        }
    }
}

/// By how much the app's brightness is slid for a bias, and whether down; none if that is nothing.
fn slid(bias: Stops) -> Option<(Stops, bool)> {
    let is_down = bias.to_f64() < 0.0;
    let by = if is_down { -bias } else { bias };
    (by.to_f64() >= 0.05).then_some((by, is_down))
}

/// That the shutter cannot be chosen, and what it is likely to be.
fn cannot_choose(light: &ShotLight, guess: &AppGuess) -> String {
    let share = guess.smear_share;
    let looks = if (CHOPPY_SHARE..=SMEARED_SHARE).contains(&share) {
        say!("which looks as it should").to_owned()
    } else if share < CHOPPY_SHARE {
        say!(
            "which smears movement {share:.2} times as far as {} would: it looks choppy",
            Number(light.shutter.asked)
        )
    } else {
        say!("which smears movement {share:.1} times as far as {} would", Number(light.shutter.asked))
    };
    say!("the shutter cannot be chosen: expect about {} at {}, {looks}", Number(guess.time), guess.iso)
}
