//! The answer to a `sun` request.

use film::{Air, Coordinates, DaySun, SunAt, SunError};
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, Unit};
use units::FieldError;

use super::{DaySunAnswer, SunAnswer, SunAtAnswer, SunAtRequest};
use crate::error::{BadRequest, one_line};

/// Answers a `sun` request. `zone_of` looks a time zone up by its IANA name: whoever has a database passes it in.
///
/// # Errors
/// Names the field that is missing, out of range or no time. A day without a sunrise is not an error.
pub fn sun(
    request: &SunAtRequest,
    zone_of: impl FnOnce(&str) -> Option<TimeZone>,
) -> Result<SunAnswer, BadRequest> {
    let place =
        Coordinates::new(request.latitude_deg, request.longitude_deg, request.elevation_m.unwrap_or(0.0))
            .map_err(|error| told(&error, ""))?;
    match (&request.time, &request.date, &request.time_zone) {
        (Some(time), None, None) => at(&place, time).map(SunAnswer::At),
        (None, Some(date), Some(zone)) => {
            let tz = named_zone(zone, zone_of)?;
            on(&place, date, &tz).map(SunAnswer::Day)
        }
        (Some(_), Some(_), _) => Err(BadRequest::at("date", "stands beside time; give one of the two")),
        (Some(_), None, Some(_)) => Err(BadRequest::at(
            "time_zone",
            "stands beside time, which has its own offset; give it with a date",
        )),
        (None, Some(_), None) => {
            Err(BadRequest::at("time_zone", "is missing: an IANA name such as Europe/Amsterdam"))
        }
        (None, None, _) => Err(BadRequest::at(
            "time",
            "is missing: RFC 3339 with its offset, such as 2026-06-21T19:30:00+02:00, or date with time_zone",
        )),
    }
}

fn at(place: &Coordinates, time: &str) -> Result<SunAtAnswer, BadRequest> {
    let moment: Timestamp = time.parse().map_err(|_unparsed: jiff::Error| {
        let time = one_line(time, 60);
        let allowed = "RFC 3339 with its offset, such as 2026-06-21T19:30:00+02:00";
        BadRequest::at("time", format!("\"{time}\" is not allowed: {allowed}"))
    })?;
    let sun = SunAt::of(place, Air::standard_at(place), moment).map_err(|error| told(&error, "time"))?;
    Ok(SunAtAnswer {
        azimuth_deg: sun.azimuth.to_deg(),
        true_elevation_deg: sun.true_elevation.to_deg(),
        apparent_elevation_deg: sun.apparent_elevation.to_deg(),
    })
}

fn on(place: &Coordinates, date: &str, zone: &TimeZone) -> Result<DaySunAnswer, BadRequest> {
    let day = day_of(date)?;
    let sun = DaySun::of(place, day, zone).map_err(|error| told(&error, "date"))?;
    let say = |time: Option<Timestamp>| time.map(|time| rfc_3339(time, zone));
    Ok(DaySunAnswer {
        sunrise: say(sun.sunrise),
        sunset: say(sun.sunset),
        noon: say(sun.noon),
        civil_dawn: say(sun.civil_dawn),
        civil_dusk: say(sun.civil_dusk),
    })
}

/// The zone of that name.
pub(crate) fn named_zone(
    name: &str,
    zone_of: impl FnOnce(&str) -> Option<TimeZone>,
) -> Result<TimeZone, BadRequest> {
    zone_of(name).ok_or_else(|| {
        let name = one_line(name, 60);
        BadRequest::at(
            "time_zone",
            format!("\"{name}\" is not a time zone: an IANA name such as Europe/Amsterdam"),
        )
    })
}

/// The day of that text.
pub(crate) fn day_of(date: &str) -> Result<Date, BadRequest> {
    Date::strptime("%Y-%m-%d", date).map_err(|_unparsed| {
        let date = one_line(date, 60);
        BadRequest::at("date", format!("\"{date}\" is not allowed: a day such as 2026-06-21"))
    })
}

/// To the second, which is finer than air and hills let anybody see.
fn rfc_3339(time: Timestamp, zone: &TimeZone) -> String {
    let time = time.round(Unit::Second).unwrap_or(time);
    time.display_with_offset(zone.to_offset(time)).to_string()
}

/// An error about the sun as one about a field; `otherwise` where it does not name one itself.
pub(crate) fn told(error: &SunError, otherwise: &str) -> BadRequest {
    if let SunError::Range(FieldError { field, source }) = error {
        BadRequest::at(field, source.to_string())
    } else {
        BadRequest::at(otherwise, error.to_string())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{SUN_FIELDS, Takes, read};
    use jiff::tz::Offset;
    use serde_json::{Value, json};

    fn zone_of(name: &str) -> Option<TimeZone> {
        (name == "Two/East").then(|| TimeZone::fixed(Offset::constant(2)))
    }

    fn answered(mut value: Value, changes: &[(&str, Value)]) -> Result<Value, String> {
        for (name, change) in changes {
            value[*name] = change.clone();
        }
        let request: Result<SunAtRequest, _> = read(value);
        let answer = request.and_then(|request| sun(&request, zone_of)).map_err(|error| error.to_string())?;
        serde_json::to_value(answer).map_err(|error| error.to_string())
    }

    fn moment() -> Value {
        json!({"latitude_deg": 52.1, "longitude_deg": 4.3, "elevation_m": 0, "time": "2026-06-21T19:30:00+02:00"})
    }

    fn day() -> Value {
        json!({"latitude_deg": 52.1, "longitude_deg": 4.3, "date": "2026-06-21", "time_zone": "Two/East"})
    }

    #[test]
    fn a_moment_is_answered_with_the_position() {
        let answer = answered(moment(), &[]).expect("an answer");
        let degrees = |name: &str| answer[name].as_f64().expect("a number");
        assert!((degrees("azimuth_deg") - 283.0).abs() < 2.0, "{answer}");
        let lifted = degrees("apparent_elevation_deg") - degrees("true_elevation_deg");
        assert!((0.03..0.1).contains(&lifted), "{answer}");
        assert_eq!(answer.as_object().expect("an object").len(), 3);
    }

    #[test]
    fn a_day_is_answered_with_its_times_in_their_order_and_offset() {
        let answer = answered(day(), &[]).expect("an answer");
        let times = ["civil_dawn", "sunrise", "noon", "sunset", "civil_dusk"];
        let times = times.map(|name| answer[name].as_str().expect("a time").to_owned());
        assert!(times.is_sorted() && times.iter().all(|time| time.ends_with("+02:00")), "{times:?}");
        assert_eq!(times[0].len(), "2026-06-21T04:30:00+02:00".len(), "whole seconds");
    }

    #[test]
    fn what_does_not_happen_is_null() {
        let answer = answered(day(), &[("latitude_deg", json!(80))]).expect("an answer");
        assert!(answer["sunrise"].is_null() && answer["noon"].is_string(), "{answer}");
    }

    #[test]
    fn a_moment_or_a_day_with_its_zone() {
        let none = Value::Null;
        let refused = |value, changes: &[(&str, Value)]| answered(value, changes).expect_err("refused");
        assert_eq!(
            refused(moment(), &[("date", json!("2026-06-21"))]),
            "date: stands beside time; give one of the two"
        );
        assert!(
            refused(moment(), &[("time_zone", json!("Two/East"))])
                .starts_with("time_zone: stands beside time, ")
        );
        assert!(refused(moment(), &[("time", none.clone())]).starts_with("time: is missing: RFC 3339 "));
        assert!(refused(day(), &[("time_zone", none)]).starts_with("time_zone: is missing: an IANA name "));
    }

    #[test]
    fn what_is_no_time_is_refused_in_words() {
        let refused =
            |value, name, change: &str| answered(value, &[(name, json!(change))]).expect_err("refused");
        for time in ["2026-06-21T19:30:00", "noon", "", "2026-13-01T00:00:00Z"] {
            assert_eq!(
                refused(moment(), "time", time),
                format!(
                    "time: \"{time}\" is not allowed: RFC 3339 with its offset, such as 2026-06-21T19:30:00+02:00"
                )
            );
        }
        assert_eq!(
            refused(moment(), "time", "1800-01-01T00:00:00Z"),
            "time: the year 1800 is not allowed: 1900 to 2100"
        );
        for date in ["2026-02-30", "2026-06-21T10:00:00Z", "today"] {
            assert_eq!(
                refused(day(), "date", date),
                format!("date: \"{date}\" is not allowed: a day such as 2026-06-21")
            );
        }
        assert_eq!(refused(day(), "date", "2101-01-01"), "date: the year 2101 is not allowed: 1900 to 2100");
        assert_eq!(
            refused(day(), "time_zone", "Nowhere\n"),
            "time_zone: \"Nowhere \" is not a time zone: an IANA name such as Europe/Amsterdam"
        );
    }

    /// The table of fields says what the checks say, at both ends.
    #[test]
    fn every_field_takes_what_its_line_says() {
        for field in SUN_FIELDS {
            let Takes::Number { min, max, unit } = field.takes else { continue };
            let changed = |value: f64| answered(moment(), &[(field.path, json!(value))]);
            assert!(changed(min).is_ok() && changed(max).is_ok(), "{}", field.path);
            for beyond in [min - 0.5, max + 0.5] {
                let told = format!("{}: {beyond} {unit} is not allowed: {min} to {max} {unit}", field.path);
                assert_eq!(changed(beyond).expect_err("beyond"), told);
            }
        }
    }
}
