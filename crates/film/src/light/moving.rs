//! What moves while the shutter of a shot is open: whoever walks, the phone that pans or goes along, what passes by.

use optics::{Mover, moving_smear_px, path_length, quarter_turn_s};
use staging::{Camera, Landmark, Movement, Setup, Stage, fastest_turn};
use units::{Angle, FrameRate, Length};

use crate::film::Film;
use crate::id::PersonId;
use crate::rehearsal::Rehearsal;
use crate::scene::Scene;

/// What moves in a shot.
#[derive(Debug, Clone, PartialEq)]
pub struct Moving {
    /// Whoever smears most; none if nobody does.
    pub smear: Option<WalkSmear>,
    /// The path of a phone that goes along.
    pub follow: Option<FollowPath>,
    /// How fast the phone may turn.
    pub pan: PanPace,
    /// What would smear that passes across where the subject is.
    pub passing: Vec<PassingSmear>,
}

/// How far somebody smears over the delivered frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WalkSmear {
    /// Who.
    pub who: PersonId,
    /// When, in seconds of the shot as it plays.
    pub at_s: f64,
    /// Over how many delivered pixels.
    pub px: f64,
    /// The share of the frame's width that this is.
    pub frame_share: f64,
}

/// The path of a phone that goes along with somebody.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FollowPath {
    /// How long it is.
    pub length: Length,
    /// How long it is walked, seconds on the set.
    pub seconds: f64,
}

/// How fast a phone may turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanPace {
    /// The fastest that can be looked at, in a second.
    pub fastest: Angle,
    /// How long a quarter of a turn takes at that.
    pub quarter_turn_s: Option<f64>,
    /// What the shot asks for in a second, if it pans.
    pub asked: Option<Angle>,
}

/// How far something smears that passes across where the subject is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PassingSmear {
    /// What passes.
    pub mover: Mover,
    /// Over how many delivered pixels.
    pub px: f64,
    /// The share of the frame's width that this is.
    pub frame_share: f64,
}

/// Moments of a shot at which smear is looked for: chosen, as a walk across the frame changes little in an eighth of it.
const MOMENTS: u32 = 9;
/// Less than this is no smear, delivered pixels: chosen because no screen shows it.
const LEAST_SMEAR_PX: f64 = 0.5;

impl Moving {
    /// What moves in a shot; none if it has no setup. `exposure_s` is how long its shutter is open.
    pub(crate) fn of(
        film: &Film,
        scene: &Scene,
        rehearsal: &Rehearsal,
        rate: FrameRate,
        exposure: optics::ExposureTime,
    ) -> Option<Self> {
        let setup = rehearsal.result().outcome.as_ref().ok()?;
        let rehearsal = &Rehearsal { exposure, ..rehearsal.clone() };
        let width_px = setup.frame.delivered_px.0;
        let passing = Mover::ALL.map(|mover| {
            let across = mover.per_second();
            let px = moving_smear_px(&setup.view, width_px, across, setup.subject_depth, exposure);
            PassingSmear { mover, px, frame_share: px / width_px }
        });
        Some(Self {
            smear: most_smeared(film, scene, rehearsal, setup),
            follow: FollowPath::of(rehearsal),
            pan: PanPace::of(rehearsal, setup, rate),
            passing: passing.to_vec(),
        })
    }
}

impl FollowPath {
    fn of(rehearsal: &Rehearsal) -> Option<Self> {
        let Some(Movement::Follow { per_second }) = rehearsal.take.movement else { return None };
        let seconds = rehearsal.take.duration_s * rehearsal.time_scale;
        Some(Self { length: path_length(per_second, seconds), seconds })
    }
}

impl PanPace {
    fn of(rehearsal: &Rehearsal, setup: &Setup, rate: FrameRate) -> Self {
        let fastest = fastest_turn(&setup.view, rate);
        let asked = match rehearsal.take.movement {
            Some(Movement::Pan { per_second }) => Some(per_second.abs()),
            Some(Movement::Push { .. } | Movement::Follow { .. } | Movement::Tilt { .. }) | None => None,
        };
        Self { fastest, quarter_turn_s: quarter_turn_s(fastest), asked }
    }
}

/// Whoever smears most over the shot, of those between the frame's sides.
///
/// ```text
/// b = | p(t + e/2) − p(t − e/2) |
/// ```
/// `p` where their chest is in the delivered frame (px), seen from the phone when the shutter opens and when it closes; `e`
/// exposure (s); `t` nine moments of the shot. So a phone that goes along keeps its walker sharp.
///
/// # Source
/// The definition: smear is the way of an image over the frame while the shutter is open.
fn most_smeared(film: &Film, scene: &Scene, rehearsal: &Rehearsal, setup: &Setup) -> Option<WalkSmear> {
    // Seconds as the shot plays, of which slow motion has more.
    let half_s = rehearsal.exposure.to_s() / 2.0 / rehearsal.time_scale;
    let last_s = (rehearsal.take.duration_s - half_s).max(half_s);
    let width_px = setup.frame.delivered_px.0;
    let mut most: Option<WalkSmear> = None;
    for moment in 0..MOMENTS {
        let at_s = half_s + (last_s - half_s) * f64::from(moment) / f64::from(MOMENTS - 1);
        let stage = |at_s: f64| rehearsal.stage(scene, &film.cast, at_s);
        let (Some(before), Some(middle), Some(after)) =
            (stage(at_s - half_s), stage(at_s), stage(at_s + half_s))
        else {
            continue;
        };
        for (place, who) in rehearsal.own.iter().chain(&rehearsal.others).enumerate() {
            let Some(px) = smear_px(place, &before, &middle, &after, setup) else { continue };
            if px >= most.map_or(LEAST_SMEAR_PX, |most| most.px) {
                most = Some(WalkSmear { who: *who, at_s, px, frame_share: px / width_px });
            }
        }
    }
    most
}

fn smear_px(place: usize, before: &Stage, middle: &Stage, after: &Stage, setup: &Setup) -> Option<f64> {
    let seen = |camera: &Camera, stage: &Stage| {
        let person = stage.people.get(place)?;
        camera.see(person.at(Landmark::Chest))
    };
    let (first, last) = (seen(&middle.opens, before)?, seen(&middle.closes, after)?);
    let is_between = |right: f64| right >= -middle.view.left && right <= middle.view.right;
    if !is_between(first.right) && !is_between(last.right) {
        return None;
    }
    let size_px = setup.frame.delivered_px;
    let ((x, y), (to_x, to_y)) = (first.to_px(&middle.view, size_px), last.to_px(&middle.view, size_px));
    Some(libm::hypot(to_x - x, to_y - y))
}
