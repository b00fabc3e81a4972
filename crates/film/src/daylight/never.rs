//! What does not happen on a day, in words.

use language::say;

use super::{DAY_MIN, DayTimes, Daylight};
use crate::sun::AT_CIVIL_TWILIGHT_DEG;

impl Daylight {
    /// What people count on and this day does not have, a sentence each; none on a day like most.
    pub fn what_never_happens(&self) -> Vec<&'static str> {
        let DayTimes { civil_dawn_min, sunrise_min, sunset_min, civil_dusk_min, .. } = self.parts.times;
        let heights = || {
            self.moments()
                .filter(|sun| (0.0..=DAY_MIN).contains(&sun.at_min))
                .map(|sun| sun.true_elevation.to_deg())
        };
        let lowest = heights().fold(f64::INFINITY, f64::min);
        let highest = heights().fold(f64::NEG_INFINITY, f64::max);
        let mut words = Vec::new();
        match (sunrise_min, sunset_min) {
            (None, None) if lowest > -1.0 => words.push(say!("The sun does not set: it is day all night.")),
            (None, None) if highest < AT_CIVIL_TWILIGHT_DEG => {
                words.push(say!("The sun does not rise, and no dawn comes: it is night all day."));
            }
            (None, None) => words.push(say!("The sun does not rise: there is only twilight.")),
            (None, Some(_)) => {
                words.push(say!("The sun does not rise on this day: it was up before it began."));
            }
            (Some(_), None) => words.push(say!("The sun does not set on this day.")),
            (Some(_), Some(_)) => {}
        }
        let sets = sunset_min.is_some() || sunrise_min.is_some();
        if sets && civil_dawn_min.is_none() && civil_dusk_min.is_none() {
            words.push(say!("It does not get dark: the glow of the evening lasts until the morning."));
        }
        if highest > 0.0 && self.parts.bright.is_empty() {
            words.push(say!("The sun stays behind what stands around the place."));
        }
        words
    }
}
