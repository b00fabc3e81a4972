//! The time of day as people write it.

use crate::daylight::DAY_MIN;

/// The time that is so many minutes after midnight, to the minute: `14:05`. Past midnight it starts anew.
///
/// # Examples
/// ```
/// assert_eq!(film::clock(845.2), "14:05");
/// assert_eq!(film::clock(1470.0), "00:30");
/// ```
pub fn clock(minutes: f64) -> String {
    let within = minutes.round().rem_euclid(DAY_MIN);
    format!("{:02}:{:02}", (within / 60.0).floor(), within % 60.0)
}

#[cfg(test)]
mod tests {
    use super::clock;

    #[test]
    fn a_time_is_rounded_before_it_is_cut_into_hours() {
        assert_eq!(clock(539.6), "09:00");
        assert_eq!(clock(1439.7), "00:00");
        assert_eq!(clock(0.0), "00:00");
        assert_eq!(clock(-30.0), "23:30");
    }
}
