//! The answer to a `daylight` request.

use film::{Coordinates, Daylight, HorizonProfile};
use jiff::tz::TimeZone;

use super::{DaylightAnswer, DaylightRequest};
use crate::error::BadRequest;
use crate::sun::{day_of, named_zone, told};

/// Answers a `daylight` request. `zone_of` looks a time zone up by its IANA name: whoever has a database passes it in.
///
/// # Errors
/// Names the field that is missing, out of range or no day. A day without a sunrise is not an error.
pub fn daylight(
    request: &DaylightRequest,
    zone_of: impl FnOnce(&str) -> Option<TimeZone>,
) -> Result<DaylightAnswer, BadRequest> {
    let DaylightRequest { latitude_deg, longitude_deg, elevation_m, horizon, date, time_zone, next_day } =
        request;
    let place = Coordinates::new(*latitude_deg, *longitude_deg, elevation_m.unwrap_or(0.0))
        .map_err(|error| told(&error, ""))?;
    let points = horizon.iter().map(|point| (point.azimuth_deg, point.elevation_deg));
    let horizon = HorizonProfile::from_deg(points).map_err(|error| told(&error, "").within("horizon"))?;
    let zone = named_zone(time_zone, zone_of)?;
    let of = if next_day.unwrap_or(false) { Daylight::with_next_day } else { Daylight::of };
    let light = of(&place, &horizon, day_of(date)?, &zone).map_err(|error| told(&error, "date"))?;
    Ok(DaylightAnswer::from(&light))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read;
    use jiff::tz::Offset;
    use serde_json::{Value, json};

    fn zone_of(name: &str) -> Option<TimeZone> {
        (name == "Two/East").then(|| TimeZone::fixed(Offset::constant(2)))
    }

    fn answered(change: (&str, Value)) -> Result<DaylightAnswer, String> {
        let mut value = json!({
            "latitude_deg": 52.1, "longitude_deg": 4.3, "elevation_m": 3, "date": "2026-06-21", "time_zone": "Two/East",
            "horizon": [{"azimuth_deg": 90, "elevation_deg": 8}, {"azimuth_deg": 270, "elevation_deg": 2.5}],
        });
        value[change.0] = change.1;
        let request: Result<DaylightRequest, _> = read(value);
        request.and_then(|request| daylight(&request, zone_of)).map_err(|error| error.to_string())
    }

    #[test]
    fn a_day_comes_back_from_its_plain_numbers() {
        let answer = answered(("elevation_m", json!(3))).expect("a day");
        let text = serde_json::to_string(&answer).expect("text");
        let back: DaylightAnswer = serde_json::from_str(&text).expect("an answer");
        let light = back.to_daylight().expect("a day");
        assert_eq!(DaylightAnswer::from(&light), back);
        let zone = TimeZone::fixed(Offset::constant(2));
        let place = Coordinates::new(52.1, 4.3, 3.0).expect("a place");
        let horizon = HorizonProfile::from_deg([(90.0, 8.0), (270.0, 2.5)]).expect("in range");
        let ours =
            Daylight::of(&place, &horizon, "2026-06-21".parse().expect("a date"), &zone).expect("a day");
        for minute in [0.0, 301.7, 820.0, 1303.0, 1440.0] {
            let (there, here) = (light.sun_at(minute), ours.sun_at(minute));
            assert!((there.true_elevation - here.true_elevation).to_deg().abs() < 1e-9, "{there:?} {here:?}");
            assert_eq!(there.shines, here.shines, "{minute}");
        }
        let (rise, dawn) = (answer.sunrise_min.expect("a rise"), answer.civil_dawn_min.expect("a dawn"));
        assert!((318.0..330.0).contains(&rise) && dawn < rise, "{dawn} {rise}");
        assert!(answer.morning.expect("a morning").from_min > rise + 30.0, "the hill in the east");
    }

    #[test]
    fn a_night_goes_on_into_the_next_day() {
        let light = |change| answered(change).expect("an answer").to_daylight();
        let both = light(("next_day", json!(true))).expect("two days");
        let next = light(("date", json!("2026-06-22"))).expect("a day");
        let (there, here) = (both.sun_at(1440.0 + 330.0), next.sun_at(330.0));
        assert!((there.true_elevation - here.true_elevation).to_deg().abs() < 0.002, "{there:?} {here:?}");
    }

    #[test]
    fn what_is_no_day_or_place_is_refused_by_its_field() {
        let refused = |name, value| answered((name, value)).expect_err("refused");
        assert_eq!(refused("latitude_deg", json!(91)), "latitude_deg: 91 deg is not allowed: -90 to 90 deg");
        assert_eq!(
            refused("date", json!("today")),
            "date: \"today\" is not allowed: a day such as 2026-06-21"
        );
        assert_eq!(refused("date", json!("2101-01-01")), "date: the year 2101 is not allowed: 1900 to 2100");
        assert!(
            refused("time_zone", json!("Nowhere")).starts_with("time_zone: \"Nowhere\" is not a time zone")
        );
        assert_eq!(
            refused("horizon", json!([{"azimuth_deg": 0, "elevation_deg": 91}])),
            "horizon.elevation_deg: 91 deg is not allowed: -5 to 90 deg"
        );
    }
}
