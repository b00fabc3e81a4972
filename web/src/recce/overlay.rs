//! What lies over a photo of a place: the floor as its pose has it, somebody on it, the horizon, and the way of the sun.

use film::{Daylight, PhotoPose, PlacePhoto};
use glam::{DVec2, DVec3};
use language::say;

use super::sight::{horizon_of, seen_in};
use crate::draw::{Chalk, LABEL_FONT, Px};
use crate::marks::Placing;

/// How far the floor is drawn, metres ahead and to either side: chosen because lines farther off run together.
const AHEAD_M: i32 = 12;
const ASIDE_M: i32 = 6;
/// Where somebody of [`STATURE_M`] is drawn, to compare with doors and cars: to the right and ahead, apart so that their words
/// are.
const SOMEBODY_M: [(f64, f64); 2] = [(-0.9, 3.0), (2.4, 8.0)];
/// Where distances are said, metres to the right.
const SAID_AT_M: f64 = 0.5;
const STATURE_M: f64 = 1.7;
/// The sun is drawn every so many minutes, and its hour said every sixty.
const SUN_STEP_MIN: f64 = 20.0;
/// The size of the sun, units.
const SUN_PX: f64 = 4.0;

/// A photo whose overlay is drawn.
pub(super) struct Overlay<'photo> {
    pub(super) photo: &'photo PlacePhoto,
    /// The pose as it is being marked.
    pub(super) pose: PhotoPose,
    /// The light of the day at the place, if that is known.
    pub(super) daylight: Option<&'photo Daylight>,
}

impl Overlay<'_> {
    pub(super) fn draw(&self, chalk: &Chalk<'_>, placing: &Placing) {
        chalk.context.save();
        chalk.context.begin_path();
        let size = placing.shown_size();
        chalk.context.rect(placing.corner.x, placing.corner.y, size.x, size.y);
        chalk.context.clip();
        self.floor(chalk, placing);
        self.horizon(chalk, placing);
        for place in SOMEBODY_M {
            self.somebody(chalk, placing, place);
        }
        if let Some(daylight) = self.daylight {
            self.sun(chalk, placing, daylight);
        }
        chalk.context.restore();
    }

    /// Where a point of the place is on the canvas.
    fn at(&self, placing: &Placing, right: f64, ahead: f64, up: f64) -> Option<Px> {
        let seen = seen_in(&self.pose, &self.photo.view(), placing.true_px, DVec3::new(right, ahead, up))?;
        let DVec2 { x, y } = placing.to_canvas(seen);
        Some((x, y))
    }

    /// Lines a metre apart, and how far the whole fours are.
    fn floor(&self, chalk: &Chalk<'_>, placing: &Placing) {
        chalk.pen(&chalk.palette.chalk, 1.0);
        chalk.context.set_global_alpha(0.65);
        let lines = (1..=AHEAD_M).map(|ahead| {
            let ahead = f64::from(ahead);
            ((-f64::from(ASIDE_M), ahead), (f64::from(ASIDE_M), ahead))
        });
        let along = (-ASIDE_M..=ASIDE_M).map(|aside| {
            let aside = f64::from(aside);
            ((aside, 1.0), (aside, f64::from(AHEAD_M)))
        });
        for (from, to) in lines.chain(along) {
            let ends = [from, to].map(|(right, ahead)| self.at(placing, right, ahead, 0.0));
            if let [Some(from), Some(to)] = ends {
                chalk.line(from, to);
            }
        }
        chalk.context.set_global_alpha(1.0);
        for ahead in (4..=AHEAD_M).step_by(4) {
            if let Some(at) = self.at(placing, SAID_AT_M, f64::from(ahead), 0.0) {
                chalk.word(&format!("{ahead} m"), at, LABEL_FONT, "center");
            }
        }
    }

    fn horizon(&self, chalk: &Chalk<'_>, placing: &Placing) {
        let [left, right] =
            horizon_of(&self.pose, &self.photo.view(), placing.true_px).map(|at| placing.to_canvas(at));
        let along = (right - left) / 8.0;
        let (left, right) = (left - along, right + along);
        for (colour, width) in [(&chalk.palette.studio, 4.0), (&chalk.palette.tape[0], 2.0)] {
            chalk.pen(colour, width);
            chalk.line((left.x, left.y), (right.x, right.y));
        }
    }

    /// A stick as tall as somebody, with the line of their shoulders.
    fn somebody(&self, chalk: &Chalk<'_>, placing: &Placing, (aside, ahead): (f64, f64)) {
        let line = |from: (f64, f64), to: (f64, f64)| {
            let ends = [from, to].map(|(right, up)| self.at(placing, aside + right, ahead, up));
            if let [Some(from), Some(to)] = ends {
                chalk.line(from, to);
            }
        };
        for (colour, width) in [(&chalk.palette.studio, 6.0), (&chalk.palette.accent, 3.0)] {
            chalk.pen(colour, width);
            line((0.0, 0.0), (0.0, STATURE_M));
            line((-0.22, STATURE_M * 0.82), (0.22, STATURE_M * 0.82));
        }
        if let Some((x, y)) = self.at(placing, aside, ahead, STATURE_M) {
            chalk.word(&say!("{STATURE_M:.1} m at {ahead:.0} m"), (x, y - 12.0), LABEL_FONT, "center");
        }
    }

    /// The sun's way through the photo, its hours on it.
    fn sun(&self, chalk: &Chalk<'_>, placing: &Placing, daylight: &Daylight) {
        let photo = PlacePhoto { pose: self.pose, ..self.photo.clone() };
        let known = daylight.known();
        let mut minute = (known.from_min / SUN_STEP_MIN).ceil() * SUN_STEP_MIN;
        while minute <= known.to_min {
            let sun = daylight.sun_at(minute);
            let seen = photo.sees_far(sun.azimuth, sun.apparent_elevation);
            if let Some((across, down)) = seen.filter(|_| sun.apparent_elevation.to_deg() > -1.0) {
                let at = placing.to_canvas(placing.true_px * DVec2::new(across, down));
                let is_hour = (minute % 60.0).abs() < 0.5;
                disc(chalk, at, if is_hour { SUN_PX * 1.5 } else { SUN_PX }, sun.shines);
                if is_hour {
                    chalk.word(&film::clock(minute), (at.x, at.y - 14.0), LABEL_FONT, "center");
                }
            }
            minute += SUN_STEP_MIN;
        }
    }
}

/// A disc; hollow where the sun is hidden.
fn disc(chalk: &Chalk<'_>, at: DVec2, radius: f64, is_full: bool) {
    let context = chalk.context;
    context.begin_path();
    // Refused only for a radius below nothing.
    context.arc(at.x, at.y, radius, 0.0, std::f64::consts::TAU).unwrap_or_default();
    chalk.pen(&chalk.palette.studio, 3.0);
    context.stroke();
    context.set_fill_style_str(if is_full { &chalk.palette.accent } else { &chalk.palette.studio });
    context.fill();
    chalk.pen(&chalk.palette.accent, 1.5);
    context.stroke();
}
