//! The sun's positions, times and hours against the algorithm's paper, a solar library and an ephemeris.
#![expect(clippy::expect_used, reason = "a test that cannot read its figures must fail")]

use film::{
    Air, Coordinates, DaySpan, DaySun, Daylight, HorizonProfile, SceneFacts, SunAt, TimeOfDay, light_of_hour,
};
use jiff::Timestamp;
use jiff::tz::TimeZoneDatabase;
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    tolerance_deg: f64,
    tolerance_s: f64,
    paper: Paper,
    moment: Vec<Moment>,
    day: Vec<Day>,
}

#[derive(Deserialize)]
struct Paper {
    time: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    pressure_hpa: f64,
    temperature_c: f64,
    zenith_deg: f64,
    azimuth_deg: f64,
    tolerance_deg: f64,
}

#[derive(Deserialize)]
struct Moment {
    place: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    time: String,
    azimuth_deg: f64,
    true_elevation_deg: f64,
    apparent_elevation_deg: f64,
}

/// Every crossing on the day, of which ours must be one.
#[derive(Deserialize)]
struct Day {
    place: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    zone: String,
    date: String,
    civil_dawn: Vec<String>,
    sunrise: Vec<String>,
    noon: Vec<String>,
    sunset: Vec<String>,
    civil_dusk: Vec<String>,
}

/// The hours of calendar days, in minutes of their clocks.
#[derive(Deserialize)]
struct Hours {
    tolerance_min: f64,
    day: Vec<HoursOfDay>,
}

#[derive(Deserialize)]
struct HoursOfDay {
    place: String,
    latitude_deg: f64,
    longitude_deg: f64,
    zone: String,
    date: String,
    night: Vec<[f64; 2]>,
    dawn: Vec<[f64; 2]>,
    morning: Vec<[f64; 2]>,
    day: Vec<[f64; 2]>,
    afternoon: Vec<[f64; 2]>,
    golden_hour: Vec<[f64; 2]>,
    dusk: Vec<[f64; 2]>,
}

impl HoursOfDay {
    fn of(&self, time: TimeOfDay) -> &[[f64; 2]] {
        match time {
            TimeOfDay::Night => &self.night,
            TimeOfDay::Dawn => &self.dawn,
            TimeOfDay::Morning => &self.morning,
            TimeOfDay::Day => &self.day,
            TimeOfDay::Afternoon => &self.afternoon,
            TimeOfDay::GoldenHour => &self.golden_hour,
            TimeOfDay::Dusk => &self.dusk,
        }
    }
}

fn reference() -> Reference {
    toml::from_str(include_str!("reference/sun.toml")).expect("the reference")
}

fn time(text: &str) -> Timestamp {
    text.parse().expect("a time")
}

fn assert_near(ours: f64, theirs: f64, tolerance: f64, what: &str) {
    assert!((ours - theirs).abs() <= tolerance, "{what}: {ours} is not {theirs} within {tolerance}");
}

#[test]
fn the_papers_worked_example_comes_out() {
    let paper = reference().paper;
    let place =
        Coordinates::new(paper.latitude_deg, paper.longitude_deg, paper.elevation_m).expect("a place");
    let air = Air::new(paper.pressure_hpa, paper.temperature_c).expect("air");
    // DIFFERENCE: the paper takes 67 s for the earth's lateness, which was 64.5 s then; the sun moves 0.00003° in between.
    let sun = SunAt::of(&place, air, time(&paper.time)).expect("a position");
    assert_near(
        90.0 - sun.apparent_elevation.to_deg(),
        paper.zenith_deg,
        paper.tolerance_deg,
        "zenith angle",
    );
    assert_near(sun.azimuth.to_deg(), paper.azimuth_deg, paper.tolerance_deg, "azimuth");
}

#[test]
fn positions_are_those_of_a_solar_library() {
    let Reference { tolerance_deg, moment, .. } = reference();
    assert!(moment.len() >= 13, "{} moments", moment.len());
    for moment in moment {
        let place =
            Coordinates::new(moment.latitude_deg, moment.longitude_deg, moment.elevation_m).expect("a place");
        let sun = SunAt::of(&place, Air::standard_at(&place), time(&moment.time)).expect("a position");
        let what = |figure: &str| format!("{} {} {figure}", moment.place, moment.time);
        assert_near(sun.azimuth.to_deg(), moment.azimuth_deg, tolerance_deg, &what("azimuth"));
        assert_near(sun.true_elevation.to_deg(), moment.true_elevation_deg, tolerance_deg, &what("true"));
        assert_near(
            sun.apparent_elevation.to_deg(),
            moment.apparent_elevation_deg,
            tolerance_deg,
            &what("apparent"),
        );
    }
}

#[test]
fn rise_set_and_noon_are_where_a_solar_library_crosses() {
    let Reference { tolerance_s, day, .. } = reference();
    assert!(day.len() >= 22, "{} days", day.len());
    let zones = TimeZoneDatabase::bundled();
    for day in day {
        let place = Coordinates::new(day.latitude_deg, day.longitude_deg, day.elevation_m).expect("a place");
        let zone = zones.get(&day.zone).expect("a zone");
        let sun = DaySun::of(&place, day.date.parse().expect("a date"), &zone).expect("a day");
        let pairs = [
            ("civil dawn", sun.civil_dawn, &day.civil_dawn),
            ("sunrise", sun.sunrise, &day.sunrise),
            ("noon", sun.noon, &day.noon),
            ("sunset", sun.sunset, &day.sunset),
            ("civil dusk", sun.civil_dusk, &day.civil_dusk),
        ];
        for (name, ours, theirs) in pairs {
            let what = format!("{name} at {} on {}", day.place, day.date);
            let Some(ours) = ours else {
                assert!(theirs.is_empty(), "{what}: none, but {theirs:?}");
                continue;
            };
            let off = |theirs: &String| ours.duration_since(time(theirs)).as_secs_f64().abs();
            let nearest = theirs.iter().map(off).fold(f64::INFINITY, f64::min);
            assert!(nearest <= tolerance_s, "{what}: {ours} is not of {theirs:?}");
        }
    }
}

/// Also where dusk or sunset is after midnight, where it does not get dark or light, and where clocks are changed.
#[test]
fn the_hours_of_a_day_are_those_of_an_ephemeris() {
    let Hours { tolerance_min, day } =
        toml::from_str(include_str!("reference/hours.toml")).expect("the reference");
    assert!(day.len() >= 31, "{} days", day.len());
    let zones = TimeZoneDatabase::bundled();
    for day in day {
        let place = Coordinates::new(day.latitude_deg, day.longitude_deg, 0.0).expect("a place");
        let (zone, date) = (zones.get(&day.zone).expect("a zone"), day.date.parse().expect("a date"));
        let light = Daylight::of(&place, &HorizonProfile::LEVEL, date, &zone).expect("a day");
        for time in TimeOfDay::ALL {
            let facts = SceneFacts { time, ..SceneFacts::default() };
            let (ours, theirs) = (light_of_hour(&facts, Some(&light)).expect("outside"), day.of(time));
            let off = |(ours, theirs): (&DaySpan, &[f64; 2])| {
                (ours.from_min - theirs[0]).abs().max((ours.to_min - theirs[1]).abs())
            };
            let agree =
                ours.len() == theirs.len() && ours.iter().zip(theirs).all(|pair| off(pair) <= tolerance_min);
            assert!(agree, "{time:?} at {} on {}: {ours:?} is not {theirs:?}", day.place, day.date);
        }
    }
}
