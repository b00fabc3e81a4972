//! What is held over all shots of a scene, and why.

use language::{Number, say};

use super::ShotLight;
use super::agreement::{Disagreement, disagreements, number};
use crate::film::Film;
use crate::id::SceneId;
use crate::kit::CameraApp;
use crate::scene::Scene;
use crate::wording::grouped;

/// What is held over all shots of a scene.
#[derive(Debug, Clone, PartialEq)]
pub struct LockList {
    /// The scene.
    pub scene: SceneId,
    /// What is held, in the order in which it is set.
    pub items: Vec<LockItem>,
    /// Where its setups will not look alike.
    pub findings: Vec<Disagreement>,
}

/// One thing that is held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LockItem {
    /// What.
    pub what: LockWhat,
    /// To what it is set; by setup where they differ.
    pub set_to: String,
    /// Why.
    pub why: String,
    /// Whether the camera app lets it be set.
    pub can_be_set: bool,
}

/// What can be held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LockWhat {
    /// Frames a second.
    FrameRate,
    /// Which lens the phone uses.
    Lens,
    /// The colour of light that is made white.
    WhiteBalance,
    /// How long each frame is exposed.
    Shutter,
    /// The sensitivity.
    Iso,
    /// The filters that are on.
    Filters,
    /// Focus.
    Focus,
    /// The phone's own mending of contrast.
    Hdr,
    /// Electronic stabilisation.
    Stabilisation,
    /// Long exposures in the dark.
    NightMode,
}

impl LockWhat {
    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Self::FrameRate => say!("frame rate"),
            Self::Lens => say!("lens"),
            Self::WhiteBalance => say!("white balance"),
            Self::Shutter => say!("shutter"),
            Self::Iso => "ISO",
            Self::Filters => "ND",
            Self::Focus => say!("focus"),
            Self::Hdr => say!("HDR video"),
            Self::Stabilisation => say!("stabilisation"),
            Self::NightMode => say!("night mode"),
        }
    }

    /// Whether an app lets people set it: shutter, ISO and white balance only by hand, focus where something locks, and the rest
    /// in the phone's own settings. Common practice.
    const fn can_be_set(self, app: CameraApp) -> bool {
        match (self, app) {
            (Self::WhiteBalance | Self::Shutter | Self::Iso, CameraApp::LockOnly | CameraApp::Nothing)
            | (Self::Focus | Self::Lens, CameraApp::Nothing) => false,
            (
                Self::FrameRate
                | Self::Lens
                | Self::WhiteBalance
                | Self::Shutter
                | Self::Iso
                | Self::Filters
                | Self::Focus
                | Self::Hdr
                | Self::Stabilisation
                | Self::NightMode,
                _,
            ) => true,
        }
    }
}

impl LockList {
    /// What is held over the setups of a scene; `lights` are those of its shots that are known, in the order of the list.
    pub fn of(film: &Film, scene: &Scene, lights: &[ShotLight]) -> Self {
        let app = film.kit.camera_app;
        let item = |what: LockWhat, set_to: String, why: String| LockItem {
            what,
            set_to,
            why,
            can_be_set: what.can_be_set(app),
        };
        let by_shot = |told: &dyn Fn(&ShotLight) -> String| by_shot(film, lights, told);
        let (stabilised, why_stabilised) = stabilisation(film, scene);
        let mut items = vec![
            item(
                LockWhat::FrameRate,
                by_shot(&|light| Number(light.shutter.rate).to_string()),
                say!("rates that are mixed by accident stutter").to_owned(),
            ),
            item(
                LockWhat::Lens,
                by_shot(&|light| light.lens.clone()),
                say!("the phone swaps lenses by itself when it is dark or near, and the frame jumps")
                    .to_owned(),
            ),
        ];
        items.extend(
            white_balance_item(lights).map(|(set_to, why)| item(LockWhat::WhiteBalance, set_to, why)),
        );
        items.extend([
            item(LockWhat::Shutter, by_shot(&shutter_told), say!("it is how movement looks").to_owned()),
            item(
                LockWhat::Iso,
                by_shot(&iso_told),
                say!("noise and brightness stay the same from cut to cut").to_owned(),
            ),
            item(
                LockWhat::Filters,
                by_shot(&|light| light.filters.words()),
                say!("the ND takes the light so that the shutter need not").to_owned(),
            ),
            item(LockWhat::Focus, say!("locked for each take").to_owned(), app.focus_advice().to_owned()),
            item(
                LockWhat::Hdr,
                say!("off").to_owned(),
                say!("it lifts shadows otherwise in every shot, so that they do not match").to_owned(),
            ),
            item(LockWhat::Stabilisation, stabilised.to_owned(), why_stabilised),
            item(
                LockWhat::NightMode,
                say!("off").to_owned(),
                say!("it lengthens the shutter by itself and smears what moves").to_owned(),
            ),
        ]);
        Self { scene: scene.id, items, findings: disagreements(lights) }
    }
}

fn shutter_told(light: &ShotLight) -> String {
    light.guess.map_or_else(
        || Number(light.shutter.time).to_string(),
        |guess| say!("about {}, as the app chooses", Number(guess.time)),
    )
}

fn iso_told(light: &ShotLight) -> String {
    light
        .guess
        .map_or_else(|| light.iso.set.to_string(), |guess| say!("about {}, as the app chooses", guess.iso))
}

/// What all setups are set to, or each of several values with the numbers of its setups: `ND8 (1.1, 1.3); none (1.2)`.
fn by_shot(film: &Film, lights: &[ShotLight], told: &dyn Fn(&ShotLight) -> String) -> String {
    let values = grouped(lights.iter().map(|light| (told(light), number(film, light.shot))));
    match &values[..] {
        [(value, _)] => value.clone(),
        values => {
            let each = values.iter().map(|(value, shots)| format!("{value} ({})", shots.join(", ")));
            each.collect::<Vec<_>>().join("; ")
        }
    }
}

/// The kelvins of most setups, as one value is to hold for all; none without a setup.
fn white_balance_item(lights: &[ShotLight]) -> Option<(String, String)> {
    let count =
        |kelvin: f64| lights.iter().filter(|light| (light.white_balance.kelvin - kelvin).abs() < 0.5).count();
    // `max_by_key` would give the last of equals; the first setup is the one that is lit first.
    let most = lights.iter().rev().max_by_key(|light| count(light.white_balance.kelvin))?;
    let balance = most.white_balance;
    let why = say!("one value, so that skin has one colour from cut to cut: {}", balance.why);
    Some((format!("{:.0} K", balance.kelvin), why))
}

/// Whether electronic stabilisation is on: as the plan counts it, since it takes part of the frame.
fn stabilisation(film: &Film, scene: &Scene) -> (&'static str, String) {
    let crop = film.recording().map_or(1.0, |mode| mode.recording.stabiliser_crop());
    let moves = scene.shots.iter().any(|shot| shot.movement.is_some_and(|movement| movement.moves()));
    if crop > 1.0 {
        let gimbal =
            if moves { say!("; on a gimbal it drags, and is off with a mode whose crop is 1") } else { "" };
        (say!("on"), say!("the plan counts on the {crop:.2} times that it crops{gimbal}"))
    } else {
        (
            say!("off"),
            say!("it crops, and the plan counts on the whole frame; on a gimbal it drags").to_owned(),
        )
    }
}
