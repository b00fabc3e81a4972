//! The light of a day for people: a line a setup, or one setup in full.

use std::collections::{BTreeMap, BTreeSet};

use film::{DaySpan, LightFigure, LightSource, RIGHT_STOPS, ShotLight, SunOnSetup, SunWish, clock, grouped};
use optics::Weather;
use requests::SeverityAnswer;
use units::Stops;

use super::answer::{Answered, Held, NoteAnswer, SceneLight};
use super::lit::{LitDay, LitScene, LitSetup};
use crate::figures::{columns, gap_before};
use crate::film_lines::FoundLines;
use crate::shooting_day::UnmadeAnswer;

/// The sun, then each scene with what it holds and a line a setup.
pub(super) fn day(lit: &LitDay<'_>, answered: &Answered) -> String {
    let mut lines = Vec::new();
    for place in &answered.places {
        lines.push(String::new());
        lines.extend(place.lines());
    }
    let mut explained = BTreeSet::new();
    for (scene, told) in lit.scenes.iter().zip(&answered.scenes) {
        lines.extend([String::new(), told.line()]);
        lines.extend(scene_lines(lit, scene, told, &mut explained));
    }
    if answered.scenes.is_empty() {
        lines.extend([String::new(), "Nothing is shot on this day".to_owned()]);
    }
    lit.chosen.head() + &lines.join("\n") + "\n"
}

fn scene_lines<'told>(
    lit: &LitDay<'_>,
    scene: &LitScene,
    told: &'told SceneLight,
    explained: &mut BTreeSet<&'told str>,
) -> Vec<String> {
    let mut lines = Vec::new();
    if !scene.setups.is_empty() {
        lines.push("  held over the scene".to_owned());
        lines.extend(held(&told.lock, explained));
        lines.push(format!("  setups{}", usual_told(&scene.setups)));
        lines.extend(table(lit, &scene.setups));
    }
    lines.extend(cautions(lit, &scene.setups));
    lines.extend(told.unmade.iter().flat_map(UnmadeAnswer::lines).map(|line| format!("  fails: {line}")));
    lines.extend(told.findings.iter().flat_map(|found| FoundLines::of("", found).lines()));
    lines.extend(of_setups(lit, scene, told));
    lines.extend(notes(lit, &told.weather_notes));
    lines
}

/// What is held, a line each; what the app does not let people set is said to be. A reason is told where it first comes.
fn held<'told>(lock: &'told [Held], explained: &mut BTreeSet<&'told str>) -> Vec<String> {
    let width = lock.iter().map(|held| held.what.chars().count()).max().unwrap_or(0);
    let line = |held: &'told Held| {
        let Held { what, set_to, why, can_be_set } = held;
        let cannot = if *can_be_set { "" } else { " (the app does not let it be set)" };
        let why = if explained.insert(why) { format!(": {why}") } else { String::new() };
        format!("    {what:width$}  {set_to}{cannot}{why}")
    };
    lock.iter().map(line).collect()
}

/// Which tables stand for light that neither a sky nor a meter tells.
fn usual_told(setups: &[LitSetup]) -> String {
    let tables: BTreeSet<String> = setups
        .iter()
        .filter(|setup| matches!(setup.light.light.from, LightSource::Table { .. }))
        .map(|setup| setup.light.light.from.words())
        .collect();
    let tables: Vec<String> = tables.into_iter().collect();
    if tables.is_empty() { String::new() } else { format!(", in light {}", tables.join("; or ")) }
}

/// A line a setup, its figures under each other.
fn table(lit: &LitDay<'_>, setups: &[LitSetup]) -> Vec<String> {
    let rows: Vec<[String; 7]> = setups.iter().map(|setup| cells(lit, setup)).collect();
    let line = |(figures, setup): (String, &LitSetup)| {
        format!("    {figures}  {}", rest(lit, setup).join("; ")).trim_end().to_owned()
    };
    columns(&rows).into_iter().zip(setups).map(line).collect()
}

/// Number, time, light, lens, shutter, ISO and filters.
fn cells(lit: &LitDay<'_>, setup: &LitSetup) -> [String; 7] {
    let light = &setup.light;
    let from = match &light.light.from {
        LightSource::Sky { .. } | LightSource::Table { .. } if light.light.sun_behind.is_some() => "face",
        LightSource::Read => "read",
        LightSource::Table { .. } => "usual",
        LightSource::Sky { weather: Weather::Clear, in_sun: true, .. } => "sun",
        LightSource::Sky { weather: Weather::Clear, .. } if has_sun_up(lit, setup) => "shade",
        LightSource::Sky { weather: Weather::Clear, .. } => "sky",
        LightSource::Sky { weather, .. } => weather.name(),
    };
    let adapter = light.adapter.as_ref().map_or_else(String::new, |name| format!(" with {name}"));
    let (shutter, iso) = match light.guess {
        Some(guess) => (format!("about {}", guess.time), format!("about {}", guess.iso)),
        None => (light.shutter.time.to_string(), light.iso.set.to_string()),
    };
    [
        lit.chosen.numbered(light.shot),
        clock(setup.at_min),
        format!("EV {:>4.1} {from}", light.light.value.to_f64()),
        format!("{}{adapter} f/{:.1}", light.lens, light.aperture.set.to_f64()),
        shutter,
        iso,
        if light.filters.on.is_empty() { "no ND".to_owned() } else { light.filters.words() },
    ]
}

/// Whether the sun is over a level horizon at a setup's minute, though a hill may hide it; once it is down, all is in the sky's light.
fn has_sun_up(lit: &LitDay<'_>, setup: &LitSetup) -> bool {
    let place = setup.setup.scene.facts.place;
    let daylight = place.and_then(|place| lit.chosen.daylights.get(&place));
    daylight.is_some_and(|daylight| daylight.sun_at(setup.at_min).apparent_elevation.to_deg() >= 0.0)
}

/// What else a setup's line says: what is off, the sun, when it has its light, smear.
fn rest(lit: &LitDay<'_>, setup: &LitSetup) -> Vec<String> {
    let LitSetup { setup: planned, in_order, light, sun, .. } = setup;
    let mut rest = Vec::new();
    rest.extend(off(light));
    if planned.is_done {
        rest.push("in the can".to_owned());
    } else if !in_order {
        rest.push("not in the day's order".to_owned());
    }
    rest.extend(sun.as_ref().map(|sun| sun.on.words()));
    rest.extend(limited(lit, setup));
    let smear = light.moving.as_ref().and_then(|moving| moving.smear);
    rest.extend(
        smear.map(|smear| format!("{} smears {:.0} px", lit.chosen.film.name_of(smear.who), smear.px)),
    );
    rest
}

/// How far the picture is off in the end, if that is more than counts as right; an app that decides by itself makes up for it.
fn off(light: &ShotLight) -> Option<String> {
    let off = light.residual.to_f64();
    if light.guess.is_some() || off.abs() <= RIGHT_STOPS {
        return None;
    }
    let way = if off > 0.0 { "bright" } else { "dark" };
    Some(format!("{:.1} too {way}", Stops::new(off.abs())))
}

/// What to beware of with the sun, each once with the shots that it is of.
fn cautions(lit: &LitDay<'_>, setups: &[LitSetup]) -> Vec<String> {
    let mut cautions: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for setup in setups {
        if let Some(caution) = setup.sun.as_ref().and_then(|sun| sun.on.caution()) {
            cautions.entry(caution).or_default().push(lit.chosen.numbered(setup.setup.shot.id));
        }
    }
    let told = |(caution, shots): (&str, Vec<String>)| format!("  {}: {caution}", shots.join(", "));
    cautions.into_iter().map(told).collect()
}

/// When a setup has the light it wants, where that does not last over all of the day's hours.
fn limited(lit: &LitDay<'_>, setup: &LitSetup) -> Option<String> {
    let spans = setup.setup.wanted.as_deref()?;
    let hours = DaySpan::from(lit.chosen.day.hours);
    let lasts = |span: &DaySpan| span.contains(hours.from_min) && span.contains(hours.to_min);
    match spans {
        [] => Some(format!("no light: {}", why_never(setup))),
        spans if spans.iter().any(lasts) => None,
        spans => Some(format!("light {}", spans_told(spans))),
    }
}

/// When a setup has the light it wants.
fn wanted(setup: &LitSetup) -> String {
    match setup.setup.wanted.as_deref() {
        None => "at any time".to_owned(),
        Some([]) => format!("never: {}", why_never(setup)),
        Some(spans) => spans_told(spans),
    }
}

fn spans_told(spans: &[DaySpan]) -> String {
    spans.iter().map(DaySpan::to_string).collect::<Vec<_>>().join(" and ")
}

/// Why a setup never has the light it wants.
fn why_never(setup: &LitSetup) -> &'static str {
    if setup.setup.shot.sun == SunWish::Anywhere {
        "its hour does not come"
    } else {
        "the sun never shines from where it is wanted"
    }
}

/// What asks for a look on setups; what is found on several alike is told once.
fn of_setups(lit: &LitDay<'_>, scene: &LitScene, told: &SceneLight) -> Vec<String> {
    let found = scene.setups.iter().zip(&told.setups).flat_map(|(setup, told)| {
        let number = lit.chosen.numbered(setup.setup.shot.id);
        let asking = told.findings.iter().filter(|found| found.severity != SeverityAnswer::Notes);
        asking.map(move |finding| (finding, number.clone()))
    });
    grouped(found)
        .into_iter()
        .flat_map(|(finding, shots)| FoundLines::of(&shots.join(", "), finding).lines())
        .collect()
}

fn notes(lit: &LitDay<'_>, notes: &[NoteAnswer]) -> Vec<String> {
    if notes.is_empty() {
        return Vec::new();
    }
    let (day, planned) = (&lit.chosen.day, &lit.chosen.planned);
    let mut lines = vec![format!("  with {} in place of {}", day.weather.name(), planned.weather.name())];
    lines.extend(notes.iter().map(|note| format!("    {}: {}", note.severity.name(), note.message)));
    lines
}

/// One setup in full.
pub(super) fn in_full(lit: &LitDay<'_>, answered: &Answered) -> String {
    let mut lines = Vec::new();
    for (scene, told) in lit.scenes.iter().zip(&answered.scenes) {
        lines.extend([String::new(), told.line()]);
        lines.extend(told.unmade.iter().flat_map(UnmadeAnswer::lines).map(|line| format!("  fails: {line}")));
        for (setup, told) in scene.setups.iter().zip(&told.setups) {
            lines.extend(setup_in_full(lit, setup));
            lines.extend(told.findings.iter().flat_map(|found| FoundLines::of("", found).lines()));
        }
        lines.extend(told.findings.iter().flat_map(|found| FoundLines::of("the scene", found).lines()));
        lines.extend(notes(lit, &told.weather_notes));
    }
    lit.chosen.head() + &lines.join("\n") + "\n"
}

fn setup_in_full(lit: &LitDay<'_>, lit_setup: &LitSetup) -> Vec<String> {
    let LitSetup { setup, at_min, in_order, light, sun } = lit_setup;
    let when = match (setup.is_done, in_order) {
        (true, _) => "in the can; for",
        (false, true) => "by the day's order at",
        (false, false) => "not in the day's order; for",
    };
    let shot = &setup.shot;
    let mut lines = vec![format!(
        "{} {} of {}, {when} {}",
        lit.chosen.numbered(shot.id),
        shot.size.name(),
        shot.of.told(&lit.chosen.film),
        clock(*at_min)
    )];
    let mut figures: Vec<(&str, String)> = vec![("light that it wants", wanted(lit_setup))];
    figures.extend(sun.as_ref().map(|sun| ("sun", sun_told(sun))));
    let figure = |LightFigure { label, value, unit }| (label, format!("{value}{}{unit}", gap_before(unit)));
    figures.extend(light.figures().into_iter().map(figure));
    figures
        .push(("white balance", format!("{:.0} K: {}", light.white_balance.kelvin, light.white_balance.why)));
    figures.extend(light.safe_shutters.iter().map(|safe| ("without flicker", safe.words())));
    let width = figures.iter().map(|(label, _)| label.chars().count()).max().unwrap_or(0);
    lines.extend(figures.iter().map(|(label, value)| format!("  {label:width$}  {value}")));
    lines.extend(sun.as_ref().and_then(|sun| sun.on.caution()).map(|caution| format!("  {caution}")));
    lines.push("  to set it".to_owned());
    let steps = light.how_to_set.steps.iter().enumerate();
    lines.extend(steps.map(|(at, step)| format!("    {}. {step}", at + 1)));
    lines
}

/// Side, height, frame and shadows.
fn sun_told(sun: &SunOnSetup) -> String {
    let shadows = sun
        .on
        .shadow_times
        .map_or_else(String::new, |times| format!(", shadows {times:.1} times as long as what casts them"));
    format!("{}, {:.0}° high{shadows}", sun.on.words(), sun.elevation.to_deg())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shooting_day::ChosenDay;
    use film::Rehearsals;

    #[test]
    fn a_setup_is_in_the_shade_behind_a_hill_and_in_the_skys_light_once_the_sun_is_down() {
        let chosen = ChosenDay::of(film::demo_film(), None, None).expect("its first day");
        let mut lit = LitDay::of(&chosen, &mut Rehearsals::default());
        // The garden's hills take the sun at 18:36, and it sets at 19:38.
        let mut at = |hour: f64| {
            let mut setup = lit.scenes[1].setups.remove(0);
            setup.at_min = hour * 60.0;
            let light = setup.setup.light_at(&chosen.film, &chosen.day, &chosen.daylights, setup.at_min);
            setup.light = light.expect("light");
            let [_, _, told, ..] = cells(&lit, &setup);
            lit.scenes[1].setups.insert(0, setup);
            told
        };
        for (hour, light) in [(12.0, " sun"), (19.0, " shade"), (19.9, " sky")] {
            let told = at(hour);
            assert!(told.ends_with(light), "{hour}: {told}");
        }
    }
}
