//! The day as tape and chalk: night hatched, the sun's height as a chalk line over what stands around the place, the wanted
//! hours as strips below, and the hand.

use film::{DaySpan, Daylight, HorizonProfile, SUN_EVERY_MIN, SunMoment, clock};
use language::say;

use super::hours::Hours;
use super::lanes::Lane;
use crate::canvas::Surface;
use crate::draw::{Chalk, LABEL_FONT, Palette};
use crate::part::Part;

/// What the bar shows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Picture {
    pub(super) hours: Hours,
    /// From the call to the wrap.
    pub(super) work: DaySpan,
    /// The light of the day and what stands around the place, if they are known.
    pub(super) sky: Option<(Part<Daylight>, HorizonProfile)>,
    pub(super) lanes: Vec<Lane>,
}

/// Where the hours are told, the sky below them, and each lane below that, units.
const HEAD_PX: f64 = 26.0;
pub(super) const SKY_PX: f64 = 132.0;
pub(super) const NO_SKY_PX: f64 = 12.0;
pub(super) const LANE_PX: f64 = 24.0;
/// Room below the last lane.
pub(super) const FOOT_PX: f64 = 10.0;
/// The share of the sky that is above a level horizon.
const ABOVE: f64 = 0.78;
/// A sun that hardly rises does not fill the sky: so many degrees are shown at the least. Chosen by looking.
const LEAST_HIGH_DEG: f64 = 20.0;

/// How high a bar is with so many lanes, with a sky or without, units.
pub(super) fn height_px(lanes: usize, has_sky: bool) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "some lanes")]
    let lanes = lanes as f64;
    HEAD_PX + if has_sky { SKY_PX } else { NO_SKY_PX } + lanes * LANE_PX + FOOT_PX
}

/// Draws the bar with its hand at a minute.
pub(super) fn draw_bar(surface: &Surface, palette: &Palette, picture: &Picture, minute: f64) {
    let bar = Bar { chalk: Chalk::new(surface, palette), hours: picture.hours };
    bar.chalk.sweep();
    let sky_px = if picture.sky.is_some() { SKY_PX } else { NO_SKY_PX };
    if let Some((daylight, horizon)) = &picture.sky {
        let moments = bar.moments(daylight);
        bar.darkness(daylight, &moments);
        bar.sky(&moments, horizon);
    }
    bar.work(picture.work);
    bar.hour_words();
    let mut top = HEAD_PX + sky_px;
    for lane in &picture.lanes {
        bar.lane(lane, top);
        top += LANE_PX;
    }
    bar.hand(minute);
}

struct Bar<'a> {
    chalk: Chalk<'a>,
    hours: Hours,
}

impl Bar<'_> {
    fn x(&self, minute: f64) -> f64 {
        self.hours.x(minute, self.chalk.width)
    }

    fn ends(&self, span: DaySpan) -> (f64, f64) {
        (self.x(span.from_min).max(0.0), self.x(span.to_min).min(self.chalk.width))
    }

    /// Where the sun is all along the bar, and a step beyond both of its ends.
    fn moments(&self, daylight: &Daylight) -> Vec<SunMoment> {
        let shown = self.hours.from_min - SUN_EVERY_MIN..=self.hours.to_min + SUN_EVERY_MIN;
        daylight.moments().filter(|sun| shown.contains(&sun.at_min)).collect()
    }

    /// Night in close strokes, glow in wide ones, and a strip over the minutes of low sun.
    fn darkness(&self, daylight: &Daylight, moments: &[SunMoment]) {
        let chalk = &self.chalk;
        let times = daylight.times();
        let (top, bottom) = (HEAD_PX, HEAD_PX + SKY_PX);
        chalk.pen(&chalk.palette.chalk_quiet, 1.0);
        for (from, to) in nights(daylight, moments) {
            chalk.hatch((self.x(from).max(0.0), self.x(to).min(chalk.width)), (top, bottom), 7.0);
        }
        for glow in [times.dawn_glow, times.afterglow].into_iter().flatten() {
            chalk.hatch(self.ends(glow), (top, bottom), 18.0);
        }
        for low in [times.morning, times.evening].into_iter().flatten() {
            let (left, right) = self.ends(low);
            chalk.torn_strip((left, top + 5.0), (right, top + 5.0), &chalk.palette.chalk_quiet, 9.0);
        }
    }

    /// What stands around the place, and the sun's way over it: whole where it shines, dashed where it is hidden.
    fn sky(&self, moments: &[SunMoment], horizon: &HorizonProfile) {
        let chalk = &self.chalk;
        let highest =
            moments.iter().map(|sun| sun.apparent_elevation.to_deg()).fold(LEAST_HIGH_DEG, f64::max);
        let ground = HEAD_PX + SKY_PX * ABOVE;
        let px = (SKY_PX * ABOVE - 16.0) / highest;
        let y = |degrees: f64| (ground - degrees * px).clamp(HEAD_PX, HEAD_PX + SKY_PX);
        let stands = |sun: &SunMoment| (self.x(sun.at_min), y(horizon.elevation_at(sun.azimuth).to_deg()));
        let stroke = |keep: &dyn Fn(&SunMoment) -> bool| {
            for run in moments.chunk_by(|one, other| keep(one) == keep(other)) {
                if run.first().is_some_and(keep) {
                    chalk.stroke(
                        run.iter().map(|sun| (self.x(sun.at_min), y(sun.apparent_elevation.to_deg()))),
                    );
                }
            }
        };
        if !horizon.points_deg().is_empty() {
            chalk.pen(&chalk.palette.chalk_quiet, 1.0);
            chalk.stroke(moments.iter().map(stands));
            // Strokes up from the ground, so that no theme has it look like the sun's way.
            for (x, top) in moments.iter().map(stands) {
                chalk.line((x, ground), (x, top));
            }
        }
        chalk.pen(&chalk.palette.chalk, 1.0);
        chalk.line((0.0, ground), (chalk.width, ground));
        chalk.pen(&chalk.palette.chalk_quiet, 1.5);
        chalk.dashed(3.0, 4.0);
        stroke(&|sun| !sun.shines);
        chalk.solid();
        chalk.pen(&chalk.palette.chalk, 3.5);
        stroke(&|sun| sun.shines);
    }

    /// Where the call and the wrap are: a short stroke each, on the line of the hours.
    fn work(&self, work: DaySpan) {
        let chalk = &self.chalk;
        let (left, right) = (self.x(work.from_min), self.x(work.to_min));
        chalk.pen(&chalk.palette.chalk, 3.0);
        chalk.line((left, HEAD_PX - 3.0), (right, HEAD_PX - 3.0));
        for end in [left, right] {
            chalk.line((end, HEAD_PX - 8.0), (end, HEAD_PX));
        }
    }

    fn hour_words(&self) {
        let chalk = &self.chalk;
        for hour in self.hours.full_hours() {
            let x = self.x(hour);
            chalk.pen(&chalk.palette.chalk_quiet, 1.0);
            chalk.line((x, HEAD_PX - 5.0), (x, HEAD_PX));
            // At the bar's very ends half of it would be cut off.
            if self.hours.is_told(hour, chalk.width) && (14.0..chalk.width - 14.0).contains(&x) {
                chalk.label(&film::clock_hour(hour), (x, 9.0), "center");
            }
        }
    }

    /// One lane: strips over the wanted hours, a dashed line where any hour will do, a short double bar where it is planned.
    fn lane(&self, lane: &Lane, top: f64) {
        let chalk = &self.chalk;
        let middle = top + LANE_PX / 2.0;
        let width = if lane.is_chosen { 14.0 } else { 9.0 };
        // Tapes are people's: what is told of a lane is its label.
        let colour = if lane.is_chosen { &chalk.palette.accent } else { &chalk.palette.chalk };
        match &lane.wanted {
            None => {
                let (from, to) =
                    ((chalk.width_of(&lane.name, LABEL_FONT) + 14.0, middle), (chalk.width, middle));
                chalk.dashed(8.0, 6.0);
                // In sunlight the accent alone is too light for a white floor.
                if lane.is_chosen && chalk.palette.heavier {
                    chalk.pen(&chalk.palette.chalk, 5.0);
                    chalk.line(from, to);
                }
                chalk.pen(colour, if lane.is_chosen { 3.0 } else { 2.0 });
                chalk.line(from, to);
                chalk.solid();
            }
            Some(spans) => {
                for span in spans {
                    let (left, right) = self.ends(*span);
                    if right > left {
                        chalk.torn_strip((left, middle), (right, middle), colour, width);
                    }
                }
            }
        }
        for minute in &lane.planned {
            let x = self.x(*minute);
            // Bare floor around it, so that it stands out from a strip.
            for (colour, width) in [(&chalk.palette.studio, 6.0), (&chalk.palette.chalk, 2.5)] {
                chalk.pen(colour, width);
                chalk.line((x - 2.0, middle - 9.0), (x - 2.0, middle + 9.0));
                chalk.line((x + 2.5, middle - 6.0), (x + 2.5, middle + 6.0));
            }
        }
        let never = if lane.wanted.as_ref().is_some_and(Vec::is_empty) {
            say!(": its light does not come")
        } else {
            ""
        };
        let name = format!("{}{never}", lane.name);
        // Bare floor behind the name: on a narrow bar a strip may begin there.
        chalk.context.set_fill_style_str(&chalk.palette.studio);
        chalk.context.fill_rect(0.0, top, chalk.width_of(&name, LABEL_FONT) + 12.0, LANE_PX);
        chalk.label(&name, (6.0, middle), "left");
    }

    /// The hand, with its time on a bit of the accent's tape.
    fn hand(&self, minute: f64) {
        let chalk = &self.chalk;
        let x = self.x(self.hours.held(minute));
        let told = clock(minute);
        let half = chalk.width_of(&told, LABEL_FONT) / 2.0 + 8.0;
        let middle = x.clamp(half, (chalk.width - half).max(half));
        // In sunlight the accent alone is too light for a white floor.
        chalk.pen(&chalk.palette.chalk, 5.0);
        chalk.line((x, HEAD_PX - 4.0), (x, chalk.height));
        chalk.pen(&chalk.palette.accent, 3.0);
        chalk.line((x, HEAD_PX - 4.0), (x, chalk.height));
        chalk.torn_strip((middle - half, 11.0), (middle + half, 11.0), &chalk.palette.accent, 22.0);
        chalk.context.set_text_align("center");
        chalk.context.set_fill_style_str(&chalk.palette.accent_ink);
        // Text is refused only when it is not text.
        chalk.context.fill_text(&told, middle, 11.5).unwrap_or_default();
    }
}

/// The stretches of the bar in which it is night: the sun is more than 6° down.
fn nights(daylight: &Daylight, moments: &[SunMoment]) -> Vec<(f64, f64)> {
    let is_night = |sun: &SunMoment| sun.true_elevation.to_deg() < -6.0;
    let runs = moments.chunk_by(|one, other| is_night(one) == is_night(other));
    let ends = |run: &[SunMoment]| {
        let (first, last) = (run.first()?, run.last()?);
        is_night(first).then_some((first.at_min, last.at_min))
    };
    let (dawn, dusk) = (daylight.times().civil_dawn_min, daylight.times().civil_dusk_min);
    // A step's ends lie within a step of dawn and dusk, which are known better.
    let near = |minute: f64, known: Option<f64>| {
        known.filter(|known| (known - minute).abs() <= 2.0 * SUN_EVERY_MIN).unwrap_or(minute)
    };
    runs.filter_map(ends).map(|(from, to)| (near(from, dusk), near(to, dawn))).collect()
}
