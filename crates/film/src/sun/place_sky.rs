//! When the sun shines on a place, over what stands around it.

use jiff::Timestamp;
use optics::SUN_HALF_DISC_DEG;
use units::Angle;

use super::error::SunError;
use super::heavens::Heavens;
use super::horizon::HorizonProfile;

/// The sky over a place with its own horizon.
#[derive(Debug)]
pub(crate) struct PlaceSky<'a> {
    heavens: &'a Heavens,
    horizon: &'a HorizonProfile,
    /// How fast the sun can come nearer to its horizon, or leave it, in degrees a second.
    fastest: f64,
}

/// How far apart the horizon is looked at. Chosen because the sun moves a quarter of a degree in it, half its own width.
const STEP_S: i64 = 60;

/// The sun turns 15.05° an hour, and the air's lift lets it seem faster: by a tenth, chosen.
const TURN_DEG_S: f64 = 15.05 * 1.1 / 3600.0;

/// What the air lifts the sun by as it comes into sight, at the most, which it does at once: chosen, above the 0.6° of
/// common air.
const LIFTED_AT_ONCE_DEG: f64 = 0.8;

impl<'a> PlaceSky<'a> {
    pub(crate) fn new(heavens: &'a Heavens, horizon: &'a HorizonProfile) -> Self {
        let (highest, steepest) = horizon.highest_and_steepest();
        // While the sun is behind it or just over it, it stands no higher than the horizon's highest point.
        let sideways = Angle::from_deg((highest + 1.0).min(89.9)).cos();
        Self { heavens, horizon, fastest: TURN_DEG_S * (1.0 + steepest / sideways) }
    }

    /// How far the sun's upper edge is over the place's horizon, in degrees.
    fn over_deg(&self, at_s: i64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "seconds of the years 1900 to 2100 fit")]
        let sun = self.heavens.sun(at_s as f64);
        sun.apparent_elevation.to_deg() + SUN_HALF_DISC_DEG - self.horizon.elevation_at(sun.azimuth).to_deg()
    }

    fn shines(&self, at_s: i64) -> bool {
        self.over_deg(at_s) >= 0.0
    }

    /// Going from the night at `dark` towards `light`: the first moment at which the sun shines, to a second.
    pub(super) fn edge(&self, dark: Timestamp, light: Timestamp) -> Result<Option<Timestamp>, SunError> {
        let (dark, light) = (dark.as_second(), light.as_second());
        if self.shines(dark) {
            return moment(dark).map(Some);
        }
        self.next_change(dark, light).map(moment).transpose()
    }

    /// Every stretch of time, from one second to another, in which the sun shines.
    pub(crate) fn bright(&self, from: Timestamp, to: Timestamp) -> Vec<(i64, i64)> {
        let (from, to) = (from.as_second(), to.as_second());
        let mut spans = Vec::new();
        let mut since = self.shines(from).then_some(from);
        let mut at = from;
        while let Some(change) = self.next_change(at, to) {
            match since.take() {
                // The change is the first second without it.
                Some(start) => spans.push((start, change - 1)),
                None => since = Some(change),
            }
            at = change;
        }
        spans.extend(since.map(|start| (start, to)));
        spans
    }

    /// Going from `from` towards `to`, the first second at which the sun shines if it did not, or does not if it did.
    ///
    /// The horizon is looked at every minute but for those in which the sun cannot get there: what is so for less than a minute
    /// may be passed over.
    fn next_change(&self, from: i64, to: i64) -> Option<i64> {
        let onwards = if from < to { 1 } else { -1 };
        let over = self.over_deg(from);
        let shone = over >= 0.0;
        let (mut before, mut margin) = (from, over);
        let mut at = from;
        while (margin >= 0.0) == shone {
            if at == to {
                return None;
            }
            before = at;
            let left = (to - at).abs();
            at += onwards * self.safe_step(margin).min(left);
            margin = self.over_deg(at);
        }
        while (at - before).abs() > 1 {
            let middle = before + (at - before) / 2;
            if self.shines(middle) == shone { before = middle } else { at = middle }
        }
        Some(at)
    }

    /// Whole minutes, in seconds, in which the sun cannot cross its horizon from there; a minute at least.
    fn safe_step(&self, margin_deg: f64) -> i64 {
        let seconds = (margin_deg.abs() - LIFTED_AT_ONCE_DEG) / self.fastest;
        #[expect(clippy::cast_possible_truncation, reason = "no more than half a day")]
        let minutes = (seconds / 60.0).clamp(1.0, 720.0) as i64;
        minutes * STEP_S
    }
}

fn moment(at_s: i64) -> Result<Timestamp, SunError> {
    Timestamp::from_second(at_s).map_err(|_beyond| SunError::Calendar)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sun::{Air, Coordinates};
    use jiff::SignedDuration;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// What is skipped holds nothing as long as a minute: every other minute of a day agrees with the stretches.
        #[test]
        fn every_minute_is_in_a_stretch_exactly_if_the_sun_shines(
            latitude in -90.0_f64..=90.0, days in 0_i64..=365,
            heights in proptest::collection::vec(-1.0_f64..=30.0, 0..=36),
        ) {
            let place = Coordinates::new(latitude, 0.0, 0.0).expect("a place");
            let points = (0_u32..).zip(heights).map(|(at, height)| (f64::from(at * 10), height));
            let horizon = HorizonProfile::from_deg(points).expect("in range");
            let start: Timestamp = "2026-01-01T00:00:00Z".parse().expect("a time");
            let from = start + SignedDuration::from_hours(24 * days);
            let to = from + SignedDuration::from_hours(24);
            let heavens = Heavens::over(&place, Air::standard_at(&place), from, to).expect("a sky");
            let sky = PlaceSky::new(&heavens, &horizon);
            let spans = sky.bright(from, to);
            for second in (from.as_second()..=to.as_second()).step_by(60) {
                let within = spans.iter().any(|(start, end)| (*start..=*end).contains(&second));
                // Behind a notch between two roofs the sun may come or go for less than a step: no stretch tells that.
                let agrees = |at: i64| sky.shines(at) == within;
                let is_brief = || (1..60).any(|off| agrees(second - off)) && (1..60).any(|off| agrees(second + off));
                prop_assert!(agrees(second) || is_brief(), "{} of {:?}", second, spans);
            }
        }
    }
}
