//! The time of day as people write it, and as files do.

use language::{ClockFace, say};

use crate::daylight::DAY_MIN;

/// The time that is so many minutes after midnight, to the minute, as the people it is told to write it: `14:05`, or
/// `2:05 pm`. Past midnight it starts anew.
///
/// # Examples
/// ```
/// assert_eq!(film::clock(845.2), "14:05");
/// assert_eq!(film::clock(1470.0), "00:30");
/// ```
pub fn clock(minutes: f64) -> String {
    told(minutes, language::manner().face)
}

/// The same of minutes that count from the midnight of some day, with the day where that is the next: `03:00, next day`. The
/// midnight at which a day ends is its own.
///
/// # Examples
/// ```
/// assert_eq!(film::clock_of_day(1440.0), "00:00");
/// assert_eq!(film::clock_of_day(1620.0), "03:00, next day");
/// ```
pub fn clock_of_day(minutes: f64) -> String {
    let shown = clock(minutes);
    if minutes.round() > DAY_MIN { say!("{shown}, next day") } else { shown }
}

/// The same as files have it, whoever reads them (ISO 8601): `14:05`.
pub fn clock_in_files(minutes: f64) -> String {
    told(minutes, ClockFace::TwentyFour)
}

/// The full hour that is so many minutes after midnight, as a bar of hours has it: `14`, or `2 pm`. The midnight at which a day
/// ends is 24, and after it hours start anew.
pub fn clock_hour(minutes: f64) -> String {
    let hour = (minutes / 60.0).round();
    let hour = if hour > 24.0 { hour - 24.0 } else { hour };
    match language::manner().face {
        ClockFace::TwentyFour => format!("{hour:.0}"),
        ClockFace::Twelve => {
            let (hour, half) = of_twelve(hour.rem_euclid(24.0));
            format!("{hour} {half}")
        }
    }
}

fn told(minutes: f64, face: ClockFace) -> String {
    let within = minutes.round().rem_euclid(DAY_MIN);
    let (hour, minute) = ((within / 60.0).floor(), within % 60.0);
    match face {
        ClockFace::TwentyFour => format!("{hour:02}:{minute:02}"),
        ClockFace::Twelve => {
            let (hour, half) = of_twelve(hour);
            format!("{hour}:{minute:02} {half}")
        }
    }
}

/// An hour of the day by a clock of twelve, on which midnight and noon are twelve, and the half of the day that it is in.
fn of_twelve(hour: f64) -> (f64, &'static str) {
    ((hour + 11.0) % 12.0 + 1.0, if hour < 12.0 { "am" } else { "pm" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_rounded_before_it_is_cut_into_hours() {
        assert_eq!(clock(539.6), "09:00");
        assert_eq!(clock(1439.7), "00:00");
        assert_eq!(clock(0.0), "00:00");
        assert_eq!(clock(-30.0), "23:30");
    }

    #[test]
    fn after_midnight_the_hours_of_a_bar_start_anew() {
        assert_eq!([1380.0, 1440.0, 1500.0].map(clock_hour), ["23", "24", "1"]);
    }

    #[test]
    fn a_clock_of_twelve_hours_has_no_nought() {
        let told = [0.0, 59.6, 719.0, 720.0, 785.0, 1439.0].map(|minutes| told(minutes, ClockFace::Twelve));
        assert_eq!(told, ["12:00 am", "1:00 am", "11:59 am", "12:00 pm", "1:05 pm", "11:59 pm"]);
    }
}
