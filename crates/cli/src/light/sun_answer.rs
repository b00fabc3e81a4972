//! The sun of a day at a place, as it is told.

use film::{DaySpan, Daylight, Film, PlaceId, clock};
use optics::Weather;
use serde::Serialize;

use crate::shooting_day::Span;

/// The sun of a day at a place.
#[derive(Debug, Serialize)]
pub(super) struct SunOfPlace {
    place: String,
    time_zone: String,
    dawn: Option<String>,
    dawn_min: Option<f64>,
    sunrise: Option<String>,
    sunrise_min: Option<f64>,
    noon: Option<String>,
    noon_min: Option<f64>,
    sunset: Option<String>,
    sunset_min: Option<f64>,
    dusk: Option<String>,
    dusk_min: Option<f64>,
    stretches: Vec<LowStretch>,
    never: Vec<&'static str>,
}

/// A stretch in which light changes fast.
#[derive(Debug, Serialize)]
struct LowStretch {
    name: &'static str,
    hours: Span,
    start_ev100: f64,
    middle_ev100: f64,
    end_ev100: f64,
    falls_stops: f64,
}

impl SunOfPlace {
    pub(super) fn of(film: &Film, place: PlaceId, daylight: &Daylight, weather: Weather) -> Option<Self> {
        let place = film.place(place)?;
        let times = daylight.times();
        let shown = |minute: Option<f64>| minute.map(clock);
        let stretches = [
            ("dawn_glow", times.dawn_glow),
            ("morning", times.morning),
            ("evening", times.evening),
            ("afterglow", times.afterglow),
        ];
        let stretches = stretches
            .into_iter()
            .filter_map(|(name, span)| Some(LowStretch::of(name, span?, daylight, weather)));
        Some(Self {
            place: place.called().to_owned(),
            time_zone: place.spot.as_ref()?.time_zone.clone(),
            dawn: shown(times.civil_dawn_min),
            dawn_min: times.civil_dawn_min,
            sunrise: shown(times.sunrise_min),
            sunrise_min: times.sunrise_min,
            noon: shown(times.noon_min),
            noon_min: times.noon_min,
            sunset: shown(times.sunset_min),
            sunset_min: times.sunset_min,
            dusk: shown(times.civil_dusk_min),
            dusk_min: times.civil_dusk_min,
            stretches: stretches.collect(),
            never: daylight.what_never_happens(),
        })
    }

    /// For people: when what happens, then a line a stretch.
    pub(super) fn lines(&self) -> Vec<String> {
        let times = [
            ("dawn", &self.dawn),
            ("sunrise", &self.sunrise),
            ("noon", &self.noon),
            ("sunset", &self.sunset),
            ("dusk", &self.dusk),
        ];
        let times = times.into_iter().filter_map(|(name, time)| Some(format!("{name} {}", time.as_ref()?)));
        let mut lines = vec![
            format!("Sun at {} ({})", self.place, self.time_zone),
            format!("  {}", times.collect::<Vec<_>>().join(", ")),
        ];
        lines.extend(self.stretches.iter().map(LowStretch::line));
        lines.extend(self.never.iter().map(|words| format!("  {words}")));
        lines
    }
}

impl LowStretch {
    fn of(name: &'static str, span: DaySpan, daylight: &Daylight, weather: Weather) -> Self {
        let course = daylight.course(span, weather);
        Self {
            name,
            hours: span.into(),
            start_ev100: course.start.exposure_value().to_f64(),
            middle_ev100: course.middle.exposure_value().to_f64(),
            end_ev100: course.end.exposure_value().to_f64(),
            falls_stops: course.fall().to_f64(),
        }
    }

    fn line(&self) -> String {
        let Self { name, hours, start_ev100, middle_ev100, end_ev100, falls_stops } = self;
        let name = match *name {
            "dawn_glow" => "dawn's glow",
            "morning" | "evening" => "low sun",
            other => other,
        };
        let way = if *falls_stops < 0.0 { "grows" } else { "falls" };
        format!(
            "  {name:<11} {hours}  EV {start_ev100:>4.1}, {middle_ev100:>4.1}, {end_ev100:>4.1}: {way} {:.1} stops",
            falls_stops.abs()
        )
    }
}
