//! Depth without blur: something near the lens, and where the sun stands.

use language::{key, say};
use staging::{Blocking, Blur, Foreground, Light, PieceKind, Setup, Shot, ShotSize, Stage, Stand};
use units::{Angle, Length, LengthUnit};

use super::handle::Handle;
use super::on_kit::{NoLesson, OnKit};
use super::scenery;
use super::seen::{LessonFigure, LessonSeen};
use super::told::{degrees, length, px};
use crate::sun_on_shot::{SunInFrame, SunOnShot};

pub(super) const HANDLES: [Handle; 2] = [
    Handle {
        word: "near",
        name: key!("From the lens to the leaves"),
        unit: "m",
        min: 0.25,
        max: 1.2,
        step: 0.05,
        usual: 0.5,
        told: length,
    },
    Handle {
        word: "sun",
        name: key!("The sun, round from behind the phone"),
        unit: "°",
        min: -180.0,
        max: 180.0,
        step: 5.0,
        usual: 135.0,
        told: sun_told,
    },
];

pub(super) const FIGURES: [&str; 4] = ["leaves_blur", "leaves_size", "sun", "shadow"];

/// How high the sun is: chosen, as in the morning and the afternoon, when films like it best.
const ELEVATION: Angle = Angle::from_deg(28.0);
/// How far behind the person the trees are, metres: chosen as the third layer of the picture.
const BEHIND_M: f64 = 12.0;
/// Where the leaves stand between the frame's middle and its edge: chosen because they then frame and hide nobody.
const TOWARDS_EDGE: f64 = 0.8;

fn sun_told(value: f64, _lengths: LengthUnit) -> String {
    let round = degrees(libm::fabs(value));
    match libm::fabs(value) {
        behind_phone if behind_phone < 0.5 => say!("{round}, behind the phone"),
        behind_them if behind_them > 179.5 => say!("{round}, behind the person"),
        _ if value > 0.0 => say!("{round} round to the left"),
        _ => say!("{round} round to the right"),
    }
}

/// A plant at the frame's right edge, that far ahead.
fn leaves(setup: &Setup, near_m: f64) -> Foreground {
    let ahead = Length::from_m(near_m);
    let right = scenery::half_width(setup, ahead) * TOWARDS_EDGE;
    Foreground { kind: PieceKind::Plant, ahead, right }
}

pub(super) fn seen(on: &OnKit<'_>, near_m: f64, round_deg: f64) -> Result<LessonSeen, NoLesson> {
    let shot = on.shot(ShotSize::MidThigh, Stand::ForSize, BEHIND_M);
    let setup = on.resolved(&shot)?;
    // Behind the phone is where it is seen from the person; the sun goes round clockwise from there.
    let azimuth = scenery::PHONE_BEARING + Angle::from_deg(round_deg);
    let trees = scenery::trees_behind(&shot, &setup, Light::Sun { azimuth, elevation: ELEVATION });
    let blocking = Blocking { foreground: Some(leaves(&setup, near_m)), ..trees };
    let view = scenery::still(&shot, &setup, &blocking);
    let layers = Layers::of(&shot, &setup, &view.stage, azimuth);
    let note = match layers.sun.in_frame {
        SunInFrame::Within => {
            Some(say!("The sun is in the picture: never look at it through a lens, and keep the take short."))
        }
        SunInFrame::Near => {
            Some(say!("The sun shines into the lens: shade it with a hand just outside the picture."))
        }
        SunInFrame::Away => None,
    };
    Ok(LessonSeen {
        views: vec![view],
        figures: layers.figures(on),
        sentences: layers.sentences(on, near_m),
        note: note.map(str::to_owned).or_else(|| on.too_near(&shot, &setup)),
        lens: on.lens.name.clone(),
    })
}

/// What makes the picture deep.
struct Layers {
    person: Length,
    /// How wide a point of the leaves is drawn.
    leaves_px: Option<f64>,
    /// How many times as large the leaves are drawn as beside the person.
    larger: Option<f64>,
    sun: SunOnShot,
}

impl Layers {
    fn of(shot: &Shot, setup: &Setup, stage: &Stage, azimuth: Angle) -> Self {
        let plant = stage.pieces.iter().find(|piece| piece.kind == PieceKind::Plant);
        let depth = plant.and_then(|plant| {
            let height = stage.opens.position().z;
            Some(stage.opens.see(plant.place.extend(height))?.depth)
        });
        let blur = Blur::of(shot, setup).filter(|_| shot.closest_focus(setup.focus).is_none());
        Self {
            person: setup.subject_depth,
            leaves_px: blur.zip(depth).map(|(blur, depth)| blur.at(depth).width_px),
            larger: depth.map(|depth| setup.subject_depth / depth),
            sun: SunOnShot::of(&stage.opens, &stage.view, Angle::ZERO, azimuth, ELEVATION),
        }
    }

    fn figures(&self, on: &OnKit<'_>) -> Vec<LessonFigure> {
        let times = |value: f64| say!("{value:.1} times");
        vec![
            LessonFigure::of(
                (FIGURES[0], say!("A point of the leaves is drawn"), "px"),
                self.leaves_px,
                px,
                on.why_no_blur(),
            ),
            LessonFigure::of(
                (FIGURES[1], say!("Leaves drawn larger than beside the person"), "×"),
                self.larger,
                times,
                say!("not in the picture"),
            ),
            LessonFigure::of(
                (FIGURES[2], say!("The sun, round from behind the phone"), "°"),
                Some(libm::fabs(self.sun.round.to_deg())),
                degrees,
                "",
            ),
            LessonFigure::of(
                (FIGURES[3], say!("A shadow's length over what casts it"), "×"),
                self.sun.shadow_times,
                times,
                say!("none"),
            ),
        ]
    }

    fn sentences(&self, on: &OnKit<'_>, near_m: f64) -> [String; 3] {
        let (leaves, person) = (on.length(Length::from_m(near_m)), on.length(self.person));
        let near = match (self.leaves_px, self.larger) {
            (_, Some(larger)) if larger <= 1.0 => say!(
                "Leaves {leaves} from the lens stand beyond the person, who is {person} away: bring them nearer, and \
                      they frame the picture."
            ),
            (Some(blur), Some(larger)) => say!(
                "Leaves {leaves} from the lens are drawn {} soft and {larger:.1} times as large as beside the person, \
                      who stays sharp {person} away: go nearer to them and both grow.",
                px(blur)
            ),
            _ => say!(
                "Leaves {leaves} from the lens frame somebody {person} away, and how soft they are is {}.",
                on.why_no_blur()
            ),
        };
        let round = degrees(libm::fabs(self.sun.round.to_deg()));
        let side = self.sun.side.name();
        let shadow = self.sun.shadow_times.map_or_else(String::new, |times| {
            say!(", and shadows are {times:.1} times as long as what casts them")
        });
        let light = say!("The sun stands {round} round from behind the phone, which is {side}{shadow}.");
        let draws = match self.sun.side {
            crate::SunSide::Front => {
                say!(
                    "Front light, up to 60° round, shows every colour but makes face and place flat: walk round them."
                )
            }
            crate::SunSide::Left | crate::SunSide::Right => {
                say!("Side light, 60° to 120° round, models the face: one half is bright, the other dark.")
            }
            crate::SunSide::Back => {
                say!(
                    "Back light, from 120° round, draws a bright edge round hair and shoulders and lifts them off the \
                          background: hold the exposure on the face."
                )
            }
        };
        [near, light, draws.to_owned()]
    }
}
