//! The call sheet of a day: when, where and with whom, what is shot, the light, who has agreed, and what to beware of.

use jiff::civil::{Date, Weekday};
use language::{key, say, text};
use maud::{Markup, html};
use staging::Age;

use super::super::told_clock_change;
use super::paper::{InDay, Paper, PaperShot, by_clock};
use super::words::{scene_title, scene_where, tick};
use super::{SheetDay, caution, kit_list};
use crate::clock::{clock, clock_of_day};
use crate::daylight::{DaySpan, Daylight};
use crate::film::{CastMember, Place};
use crate::findings::Finding;
use crate::order::Placed;
use crate::sun::Coordinates;
use crate::sun_in_cut::SunJump;
use crate::wording::capital;

/// The months, as dates are written.
const MONTHS: [&str; 12] = [
    key!("January"),
    key!("February"),
    key!("March"),
    key!("April"),
    key!("May"),
    key!("June"),
    key!("July"),
    key!("August"),
    key!("September"),
    key!("October"),
    key!("November"),
    key!("December"),
];

pub(super) fn section(paper: &Paper<'_>, day: &SheetDay<'_>) -> Markup {
    html! {
        section class="paper paper-call-sheet" {
            (head(paper, day))
            (times(paper, day))
            (schedule(paper))
            (sun(paper, day))
            (people(paper, day))
            (places(paper))
            (kit_list::article(paper))
            (caution::of_day(paper))
        }
    }
}

fn head(paper: &Paper<'_>, sheet: &SheetDay<'_>) -> Markup {
    let film = paper.of.film;
    let day = sheet.day;
    let of_days = match sheet.number {
        Some(number) => say!("day {number} of {}", film.days.len()),
        None => say!("a usual day, as none is planned").to_owned(),
    };
    let date = day.date.map(dated);
    html! {
        header {
            p class="paper-kind" { (say!("Call sheet, {of_days}")) @if !day.title.is_empty() { ": " (day.title) } }
            h1 { (film.facts.called()) }
            p class="paper-date" { (date.unwrap_or_else(|| say!("Date: ").to_owned() + &"_".repeat(24))) }
            @if !film.facts.line.is_empty() { p class="paper-line" { (film.facts.line) } }
            @if !day.notes.trim().is_empty() { p class="paper-notes" { (day.notes.trim()) } }
        }
    }
}

/// A date as people write it: `Saturday 12 September 2026`.
fn dated(date: Date) -> String {
    let weekday = match date.weekday() {
        Weekday::Monday => say!("Monday"),
        Weekday::Tuesday => say!("Tuesday"),
        Weekday::Wednesday => say!("Wednesday"),
        Weekday::Thursday => say!("Thursday"),
        Weekday::Friday => say!("Friday"),
        Weekday::Saturday => say!("Saturday"),
        Weekday::Sunday => say!("Sunday"),
    };
    let month = usize::try_from(date.month()).ok().and_then(|month| MONTHS.get(month.checked_sub(1)?));
    let month = month.map_or("", |month| text(month));
    say!("{weekday} {} {month} {:04}", date.day(), date.year())
}

/// Call, wrap, breaks, the weather that is counted on, and whether clocks are changed.
fn times(paper: &Paper<'_>, sheet: &SheetDay<'_>) -> Markup {
    let day = sheet.day;
    let breaks: Vec<String> = day.breaks.iter().map(|one| DaySpan::from(*one).to_string()).collect();
    let placed = by_clock(paper);
    let clocks = sheet.daylights.values().find_map(|daylight| told_clock_change(day, daylight));
    html! {
        article class="paper-times" {
            dl {
                div { dt { (say!("Call")) } dd { (clock_of_day(f64::from(day.hours.from_min()))) } }
                @if let Some((_, first)) = placed.first() {
                    div { dt { (say!("First setup")) } dd { (clock_of_day(first.starts_min)) } }
                }
                @if !breaks.is_empty() { div { dt { (say!("Break")) } dd { (breaks.join(", ")) } } }
                @if let Some((_, last)) = placed.last() {
                    div { dt { (say!("Last setup ends")) } dd { (clock_of_day(last.ends_min)) } }
                }
                div { dt { (say!("Wrap")) } dd { (clock_of_day(f64::from(day.hours.to_min()))) } }
                div { dt { (say!("Counting on")) } dd { (text(day.weather.name())) } }
            }
            @if let Some(clocks) = clocks { p { (clocks) } }
        }
    }
}

/// Setups that follow each other in one scene.
struct Stretch<'paper, 'film> {
    shots: Vec<&'paper PaperShot<'film>>,
    span: DaySpan,
}

/// The day as stretches of one scene each.
fn stretches<'paper, 'film>(paper: &'paper Paper<'film>) -> Vec<Stretch<'paper, 'film>> {
    let mut stretches: Vec<Stretch<'paper, 'film>> = Vec::new();
    for (one, placed) in by_clock(paper) {
        let here = one.listed.scene.id;
        match stretches.last_mut() {
            Some(last) if last.shots.first().is_some_and(|first| first.listed.scene.id == here) => {
                last.shots.push(one);
                last.span.to_min = placed.ends_min;
            }
            Some(_) | None => stretches.push(Stretch { shots: vec![one], span: placed.span() }),
        }
    }
    stretches
}

fn schedule(paper: &Paper<'_>) -> Markup {
    let stretches = stretches(paper);
    let rest: Vec<String> = paper
        .shots
        .iter()
        .filter_map(|one| Some(format!("{} {}", one.listed.number(), one.listed.state.told(paper.of.film)?)))
        .collect();
    html! {
        @if !stretches.is_empty() || !rest.is_empty() {
            article class="paper-schedule" {
                h2 { (say!("What is shot")) }
                @if !stretches.is_empty() {
                    table {
                        thead {
                            tr {
                                th { (say!("When")) }
                                th { (say!("Scene")) }
                                th { (say!("Where")) }
                                th { (say!("Shots, in the order of work")) }
                            }
                        }
                        tbody {
                            @for Stretch { shots, span: when } in &stretches {
                                @if let Some(first) = shots.first() {
                                    tr {
                                        td class="paper-when" { (when) }
                                        td { (scene_title(first.listed.scene_number, first.listed.scene)) }
                                        td { (scene_where(paper.of.film, first.listed.scene)) }
                                        td { (numbers(shots)) }
                                    }
                                }
                            }
                        }
                    }
                }
                @if !rest.is_empty() { p { (say!("Besides: {}.", rest.join("; "))) } }
            }
        }
    }
}

fn numbers(shots: &[&PaperShot<'_>]) -> String {
    let told = |one: &&PaperShot<'_>| {
        let number = one.listed.number();
        let is_late = one.listed.state.placed().is_some_and(|placed| placed.late.is_some());
        if is_late { say!("{number} (late)") } else { number }
    };
    shots.iter().map(told).collect::<Vec<_>>().join(", ")
}

/// Everybody who is seen in a shot, when they are there and needed, and whether they have agreed.
fn people(paper: &Paper<'_>, sheet: &SheetDay<'_>) -> Markup {
    let film = paper.of.film;
    let of =
        |who| -> Vec<&PaperShot<'_>> { paper.shots.iter().filter(|one| one.people.contains(&who)).collect() };
    let cast: Vec<_> = film.cast.iter().map(|person| (person, of(person.id))).collect();
    let cast: Vec<_> = cast.into_iter().filter(|(_, shots)| !shots.is_empty()).collect();
    html! {
        @if !cast.is_empty() {
            article class="paper-people" {
                h2 { (say!("People")) }
                table {
                    thead {
                        tr {
                            th { (say!("Who")) }
                            th { (say!("There")) }
                            th { (say!("Needed")) }
                            th { (say!("Shots")) }
                            th { (say!("Has agreed to be filmed")) }
                        }
                    }
                    tbody {
                        @for (person, shots) in &cast {
                            tr {
                                td { (person.name) }
                                td class="paper-when" {
                                    @if let Some(there) = person.hours { (DaySpan::from(there)) } @else { (say!("all day")) }
                                }
                                td class="paper-when" {
                                    (needed(shots))
                                    @if is_needed_while_away(sheet, person, shots) { b { (say!(", outside these hours")) } }
                                }
                                td { (numbers(shots)) }
                                td class="paper-boxes" { (consent(person)) }
                            }
                        }
                    }
                }
                p class="paper-rules" {
                    (say!("Ask also whoever may come into the frame by chance. What counts as agreed, and what has to be \
                     in writing, is a matter of local rules: ask there."))
                }
            }
        }
    }
}

/// From the first to the last setup that somebody is in.
fn needed(shots: &[&PaperShot<'_>]) -> String {
    let placed = || shots.iter().filter_map(|one| one.listed.state.placed());
    let first = placed().map(|placed| placed.starts_min).reduce(f64::min);
    let last = placed().map(|placed| placed.ends_min).reduce(f64::max);
    match (first, last) {
        (Some(from_min), Some(to_min)) => DaySpan { from_min, to_min }.to_string(),
        _ if shots.iter().all(|one| matches!(one.listed.state, InDay::Done)) => say!("in the can").to_owned(),
        _ => say!("no time is set").to_owned(),
    }
}

/// Whether a setup that somebody is in is at a time at which they are not there, to the minute.
fn is_needed_while_away(sheet: &SheetDay<'_>, person: &CastMember, shots: &[&PaperShot<'_>]) -> bool {
    let Some(hours) = person.hours else { return false };
    let is_there = |placed: &Placed| {
        let mut there = sheet.day.presence(hours);
        there.any(|span| span.contains(placed.starts_min.round()) && span.contains(placed.ends_min.round()))
    };
    shots.iter().filter_map(|one| one.listed.state.placed()).any(|placed| !is_there(placed))
}

fn consent(person: &CastMember) -> Markup {
    html! {
        @match person.age {
            Age::Child => {
                (tick(person.consent)) (say!(" guardian agrees"))
                br;
                (tick(false)) (say!(" guardian is there"))
            },
            Age::Adult => { (tick(person.consent)) (say!(" agreed")) },
        }
    }
}

/// The places, and whether whoever is responsible for them has agreed.
fn places(paper: &Paper<'_>) -> Markup {
    let film = paper.of.film;
    let is_used =
        |place: &&Place| paper.shots.iter().any(|one| one.listed.scene.facts.place == Some(place.id));
    let places: Vec<&Place> = film.places.iter().filter(is_used).collect();
    html! {
        @if !places.is_empty() {
            article class="paper-places" {
                h2 { (say!("Places")) }
                table {
                    thead {
                        tr {
                            th { (say!("Where")) }
                            th { (say!("To know")) }
                            th { (say!("By who may allow it")) }
                            th { (say!("Sound recorded")) }
                        }
                    }
                    tbody {
                        @for place in &places {
                            tr {
                                td {
                                    (place.called())
                                    @if let Some(spot) = &place.spot {
                                        br;
                                        span class="paper-of" { (at(spot.coordinates)) }
                                    }
                                }
                                td { (place.notes) }
                                td class="paper-boxes" { (tick(place.permission)) (say!(" agreed")) }
                                td class="paper-boxes" {
                                    (tick(place.room_tone)) (say!(" room tone"))
                                    br;
                                    (tick(place.wild_track)) (say!(" wild tracks"))
                                }
                            }
                        }
                    }
                }
                p class="paper-rules" {
                    (say!("Who may allow filming at a place, and whether a permit is needed, is a matter of local rules: \
                     ask there, in time."))
                }
            }
        }
    }
}

/// Coordinates as maps take them.
fn at(coordinates: Coordinates) -> String {
    let (latitude, longitude) = (coordinates.latitude_deg(), coordinates.longitude_deg());
    format!("{latitude:.4}, {longitude:.4}")
}

/// What a column of the sun's table is called, and what it tells of a day.
type SunColumn = (&'static str, fn(&Daylight) -> Option<String>);

/// The sun at each place of the day that says where it is.
fn sun(paper: &Paper<'_>, sheet: &SheetDay<'_>) -> Markup {
    let film = paper.of.film;
    let is_used =
        |place: &&Place| paper.shots.iter().any(|one| one.listed.scene.facts.place == Some(place.id));
    let known = film.places.iter().filter(is_used);
    let known: Vec<_> = known.filter_map(|place| Some((place, sheet.daylights.get(&place.id)?))).collect();
    let of_day: [SunColumn; 7] = [
        (say!("Light from"), |day| day.times().civil_dawn_min.map(clock)),
        (say!("Sunrise"), |day| day.times().sunrise_min.map(clock)),
        (say!("Low sun"), |day| day.times().morning.map(|span| span.to_string())),
        (say!("Highest"), |day| day.times().noon_min.map(clock)),
        (say!("Low sun"), |day| day.times().evening.map(|span| span.to_string())),
        (say!("Sunset"), |day| day.times().sunset_min.map(clock)),
        (say!("Light until"), |day| day.times().civil_dusk_min.map(clock)),
    ];
    let of_next_day: SunColumn = (say!("Light from"), |day| day.next_light_min().map(clock_of_day));
    let columns: Vec<SunColumn> =
        of_day.into_iter().chain(sheet.day.hours.ends_next_day().then_some(of_next_day)).collect();
    html! {
        article class="paper-sun" {
            h2 { (say!("Sun")) }
            @if known.is_empty() {
                p { (say!("It is not known where the sun is: that needs a date, and where on earth a place is.")) }
            } @else {
                table {
                    thead { tr { th { (say!("Where")) } @for (label, _) in &columns { th { (label) } } } }
                    tbody {
                        @for (place, day) in &known {
                            tr {
                                td { (place.called()) }
                                @for (_, told) in &columns {
                                    td { (told(day).unwrap_or_else(|| say!("never").to_owned())) }
                                }
                            }
                        }
                    }
                }
            }
            @for (scene, Finding { message, hint, .. }) in jumps(paper, sheet) {
                p { (scene) ". " (capital(&message)) ". " (capital(&hint)) "." }
            }
        }
    }
}

/// The scenes whose cut shows that the sun has moved, as the day has them, each with what is found.
fn jumps(paper: &Paper<'_>, sheet: &SheetDay<'_>) -> Vec<(String, Finding)> {
    let scenes = paper.scenes().into_iter();
    let found = scenes.filter_map(|(number, scene, _)| {
        let jump = SunJump::of(scene, sheet.day, sheet.daylights, sheet.plan)?;
        Some((scene_title(number, scene), jump.to_finding(paper.of.film)))
    });
    found.collect()
}
