//! The light of a day on a scene: how much of it there is at a minute, and when it is as a shot wants it.

use optics::Weather;

use crate::daylight::{DAY_MIN, DaySpan, Daylight, SUN_EVERY_MIN, SunMoment};
use crate::light::{LightOnScene, usual_light};
use crate::rehearsal::Rehearsal;
use crate::scene::{Scene, SceneFacts, SceneLight, Setting, TimeOfDay};
use crate::shot::{Shot, SunWish};
use crate::sun::AT_CIVIL_TWILIGHT_DEG;
use crate::sun_on_shot::SunOnShot;

/// A day that ends and begins in the dark: minutes from midnight to midnight.
const WHOLE_DAY: DaySpan = DaySpan { from_min: 0.0, to_min: DAY_MIN };

/// An edge of the wanted light is looked for to this: chosen, as no crew goes by less than a minute.
const EDGE_MIN: f64 = 0.5;

/// The light on a scene at a minute of a day.
///
/// What was read counts first. Inside, and where no daylight is known, it is the table's; outside it is the sky's, unless
/// lamps give more. In the sun where the sun shines: whoever stands in a shadow there has what [`Daylight::light_at`] says of
/// the shade.
pub fn light_on_scene(
    facts: &SceneFacts,
    daylight: Option<&Daylight>,
    minute: f64,
    weather: Weather,
) -> LightOnScene {
    let usual = usual_light(facts, weather);
    let is_told = matches!(facts.light, SceneLight::Read(_)) || matches!(facts.setting, Setting::Inside);
    let Some(daylight) = daylight.filter(|_| !is_told) else { return usual };
    let sky = daylight.light_at(minute, weather);
    let outside = LightOnScene::of_sky(minute, weather, sky);
    if facts.has_lamps() && usual.value > outside.value { usual } else { outside }
}

/// When a scene has the light of its hour on a day: in the morning, in golden hour, at night.
///
/// None if any time will do, as inside or where no daylight is known; empty if that light does not come on that day.
pub fn light_of_hour(facts: &SceneFacts, daylight: Option<&Daylight>) -> Option<Vec<DaySpan>> {
    let times = daylight.filter(|_| matches!(facts.setting, Setting::Outside))?.times();
    let between = |from: Option<f64>, to: Option<f64>| {
        let (from_min, to_min) = (from?, to?);
        (from_min < to_min).then_some(DaySpan { from_min, to_min })
    };
    let up = sun_is_up(daylight?);
    let spans = match facts.time {
        TimeOfDay::Dawn => [times.dawn_glow, None],
        TimeOfDay::Morning => [between(up.map(|up| up.from_min), times.noon_min), None],
        TimeOfDay::Day => [up, None],
        TimeOfDay::Afternoon => [between(times.noon_min, up.map(|up| up.to_min)), None],
        TimeOfDay::GoldenHour => [times.morning, times.evening],
        TimeOfDay::Dusk => [times.afterglow, None],
        TimeOfDay::Night => night(daylight?),
    };
    Some(spans.into_iter().flatten().collect())
}

/// From the first to the last minute at which the sun is over a level horizon; none in a polar night.
fn sun_is_up(daylight: &Daylight) -> Option<DaySpan> {
    let times = daylight.times();
    let noon = daylight.sun_at(times.noon_min.unwrap_or(WHOLE_DAY.to_min / 2.0));
    if noon.apparent_elevation.to_deg() < 0.0 {
        return None;
    }
    Some(DaySpan {
        from_min: times.sunrise_min.unwrap_or(WHOLE_DAY.from_min),
        to_min: times.sunset_min.unwrap_or(WHOLE_DAY.to_min),
    })
}

/// Before civil dawn and after civil dusk.
fn night(daylight: &Daylight) -> [Option<DaySpan>; 2] {
    let times = daylight.times();
    let is_dark = |minute: f64| daylight.sun_at(minute).true_elevation.to_deg() < AT_CIVIL_TWILIGHT_DEG;
    let before = times.civil_dawn_min.map(|to_min| DaySpan { to_min, ..WHOLE_DAY });
    let after = times.civil_dusk_min.map(|from_min| DaySpan { from_min, ..WHOLE_DAY });
    match (before, after) {
        (None, None) => [is_dark(WHOLE_DAY.to_min / 2.0).then_some(WHOLE_DAY), None],
        spans => [spans.0, spans.1],
    }
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
    let mut spans: Vec<DaySpan> = Vec::new();
    let mut minute = span.from_min;
    let mut since = at(minute).then_some(minute);
    while minute < span.to_min {
        let next = (minute + SUN_EVERY_MIN).min(span.to_min);
        match (since, at(next)) {
            (Some(from_min), false) => {
                spans.push(DaySpan { from_min, to_min: edge(&at, minute, next) });
                since = None;
            }
            (None, true) => since = Some(edge(&at, minute, next)),
            (Some(_), true) | (None, false) => {}
        }
        minute = next;
    }
    spans.extend(since.map(|from_min| DaySpan { from_min, to_min: span.to_min }));
    spans
}

/// Where what holds at one end and not at the other changes, on the side on which it holds.
fn edge(holds: &impl Fn(f64) -> bool, from_min: f64, to_min: f64) -> f64 {
    let (mut without, mut with) = if holds(from_min) { (to_min, from_min) } else { (from_min, to_min) };
    while (with - without).abs() > EDGE_MIN {
        let middle = f64::midpoint(with, without);
        if holds(middle) { with = middle } else { without = middle }
    }
    with
}
