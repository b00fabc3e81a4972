//! The light of a day on a scene: how much of it there is at a minute, and when it is as a shot wants it.

use optics::Weather;

use crate::daylight::{DaySpan, Daylight, SunMoment, pieces, stretches};
use crate::light::{LightOnScene, lit_by_lamps, usual_light};
use crate::rehearsal::Rehearsal;
use crate::scene::{Scene, SceneFacts, SceneLight, Setting};
use crate::shot::{Shot, SunWish};
use crate::sun_on_shot::SunOnShot;

/// An edge of the wanted light is looked for to this: chosen, as no crew goes by less than a minute.
const EDGE_MIN: f64 = 0.5;

/// The light on a scene at a minute of a day.
///
/// What was read counts first. Inside, and where no daylight is known, it is the table's; outside it is the sky's, unless
/// lamps alone give more. In the sun where the sun shines: whoever stands in a shadow there has what [`Daylight::light_at`] says of
/// the shade.
pub fn light_on_scene(
    facts: &SceneFacts,
    daylight: Option<&Daylight>,
    minute: f64,
    weather: Weather,
) -> LightOnScene {
    let is_told = matches!(facts.light, SceneLight::Read(_)) || matches!(facts.setting, Setting::Inside);
    let Some(daylight) = daylight.filter(|_| !is_told) else { return usual_light(facts, weather) };
    let sky = daylight.light_at(minute, weather);
    let outside = LightOnScene::of_sky(minute, weather, sky);
    let lamps = facts.has_lamps().then(|| lit_by_lamps(facts, weather));
    lamps.filter(|lamps| lamps.value > outside.value).unwrap_or(outside)
}

/// When a scene has the light of its hour on a day, from its midnight to the next, or to the one after that if the day after is
/// known as well: in the morning, in golden hour, at night.
///
/// None if any time will do, as inside or where no daylight is known; empty if that light does not come on that day. Where dusk
/// or sunset is after midnight, a day begins with the end of the evening before.
///
/// # Source
/// Civil twilight by its definition. Golden hour, in which the sun is up to 6° high, is common practice.
pub fn light_of_hour(facts: &SceneFacts, daylight: Option<&Daylight>) -> Option<Vec<DaySpan>> {
    let daylight = daylight.filter(|_| matches!(facts.setting, Setting::Outside))?;
    Some(daylight.hours_of(facts.time))
}

/// When a shot has the light it wants on a day: the light of its scene's hour, and the sun from where it is wanted.
///
/// A wish for the sun counts while the sun shines and from that side alone, so under cloud it is never granted. None if any
/// time will do.
pub fn wanted_light(
    scene: &Scene,
    shot: &Shot,
    rehearsal: &Rehearsal,
    daylight: Option<&Daylight>,
    weather: Weather,
) -> Option<Vec<DaySpan>> {
    let of_hour = light_of_hour(&scene.facts, daylight)?;
    let daylight = daylight?;
    if shot.sun == SunWish::Anywhere {
        return Some(of_hour);
    }
    if weather != Weather::Clear {
        return Some(Vec::new());
    }
    let (Some(camera), Ok(setup)) = (rehearsal.camera(), rehearsal.result().outcome.as_ref()) else {
        return Some(of_hour);
    };
    let is_wanted = |sun: &SunMoment| {
        let on =
            SunOnShot::of(&camera, &setup.view, scene.blocking.north, sun.azimuth, sun.apparent_elevation);
        sun.shines && on.side.grants(shot.sun)
    };
    Some(of_hour.iter().flat_map(|span| spans_within(daylight, *span, &is_wanted)).collect())
}

/// The stretches of a span in which something holds of the sun.
fn spans_within(daylight: &Daylight, span: DaySpan, holds: &impl Fn(&SunMoment) -> bool) -> Vec<DaySpan> {
    let at = |minute: f64| holds(&daylight.sun_at(minute));
    stretches(&pieces(span.steps().map(|minute| (minute, at(minute))), &at, EDGE_MIN), |is_held| *is_held)
}

#[cfg(test)]
#[cfg(feature = "sun")]
mod tests {
    use super::*;
    use crate::light::LightSource;
    use crate::scene::{Lamps, TimeOfDay};
    use crate::sun::{Coordinates, HorizonProfile};
    use jiff::tz::{Offset, TimeZone};

    fn september() -> Daylight {
        let place = Coordinates::new(55.4, 11.8, 12.0).expect("a place");
        let (zone, date) = (TimeZone::fixed(Offset::constant(2)), "2026-09-12".parse().expect("a date"));
        Daylight::of(&place, &HorizonProfile::LEVEL, date, &zone).expect("a day")
    }

    #[test]
    fn lamps_light_a_scene_outside_only_once_they_alone_give_more_than_the_sky() {
        let daylight = september();
        let times = daylight.times();
        let (set, dusk) = (times.sunset_min.expect("one"), times.civil_dusk_min.expect("one"));
        let at = |time, minute| {
            let facts = SceneFacts { time, lamps: Lamps::On, ..SceneFacts::default() };
            light_on_scene(&facts, Some(&daylight), minute, Weather::Clear)
        };
        for time in [TimeOfDay::Day, TimeOfDay::Dusk, TimeOfDay::Night] {
            for minute in [set - 30.0, set] {
                let sky = at(time, minute);
                assert!(matches!(sky.from, LightSource::Sky { .. }), "{time:?} {minute} {sky:?}");
            }
            // The table's street at night.
            let late = at(time, dusk);
            assert!(matches!(late.from, LightSource::Table { .. }), "{time:?} {late:?}");
            assert!((late.value.to_f64() - 5.0).abs() < 1e-9, "{time:?} {late:?}");
        }
    }

    #[test]
    fn golden_hour_begins_with_the_light_that_the_table_gives_it() {
        let daylight = september();
        let facts = SceneFacts { time: TimeOfDay::GoldenHour, ..SceneFacts::default() };
        let table = light_on_scene(&facts, None, 0.0, Weather::Clear).value.to_f64();
        let evening = *light_of_hour(&facts, Some(&daylight)).expect("outside").last().expect("an evening");
        let ev = |minute| light_on_scene(&facts, Some(&daylight), minute, Weather::Clear).value.to_f64();
        assert!((ev(evening.from_min) - table).abs() < 0.5, "{} is not {table}", ev(evening.from_min));
        assert!(ev(evening.from_min) > ev(f64::midpoint(evening.from_min, evening.to_min)), "{evening:?}");
        // PyEphem 4.2.1, no air, centre 6° and -0.8333° high: 16:49:48 and 17:37:59 UTC, 48 minutes.
        assert!((evening.length_min() - 48.19).abs() < 0.1, "{evening:?}");
    }
}
