//! The shot list: a row a shot with its picture, scene by scene or by the clock.

use language::{Number, say};
use maud::{Markup, html};

use super::SheetOrder;
use super::paper::{Paper, PaperShot};
use super::words::{paced, picture, scene_title, scene_where, tick};
use crate::daylight::DaySpan;
use crate::film::Hours;
use crate::id::SceneId;
use crate::shot::Sound;
use crate::wording::{capital, listed};

/// How many columns its table has.
const COLUMNS: &str = "6";

pub(super) fn section(paper: &Paper<'_>) -> Markup {
    let film = paper.of.film;
    let is_timed = paper.of.day.is_some();
    html! {
        section class="paper paper-shot-list" {
            header {
                p class="paper-kind" { (say!("Shot list, in {}", order(paper).name())) }
                h1 { (film.facts.called()) }
            }
            @if paper.shots.is_empty() {
                p { (say!("No shot is on this sheet.")) }
            } @else {
                table {
                    thead {
                        tr {
                            th { (say!("Shot")) }
                            th { (say!("Picture")) }
                            th { (say!("What")) }
                            th { (say!("Lens, from where")) }
                            th class="paper-figure" { (say!("Plays")) }
                            th { @if is_timed { (say!("When")) } @else { (say!("Done")) } }
                        }
                    }
                    tbody { @for row in rows(paper) { (row) } }
                }
            }
        }
    }
}

/// The order in which it is: without a day there is none but the story's.
fn order(paper: &Paper<'_>) -> SheetOrder {
    if paper.of.day.is_some() { paper.of.order } else { SheetOrder::Story }
}

/// Shots, with a heading where another scene begins and with breaks where nobody works.
fn rows(paper: &Paper<'_>) -> Vec<Markup> {
    let is_by_clock = order(paper) == SheetOrder::Work;
    let mut breaks: Vec<Hours> = match paper.of.day {
        Some(day) if is_by_clock => day.day.breaks.clone(),
        Some(_) | None => Vec::new(),
    };
    breaks.sort_by_key(|hours| hours.from_min());
    let mut breaks = breaks.into_iter().peekable();
    let mut rows = Vec::new();
    let mut before: Option<SceneId> = None;
    let mut ended_min = f64::NEG_INFINITY;
    for one in &paper.shots {
        if let Some(placed) = one.listed.state.placed() {
            let is_over = |hours: &Hours| DaySpan::from(*hours).to_min <= placed.starts_min;
            while let Some(taken) = breaks.next_if(is_over) {
                if DaySpan::from(taken).to_min > ended_min {
                    let told = say!("Break, {}", DaySpan::from(taken));
                    rows.push(html! { tr class="paper-break" { td colspan=(COLUMNS) { (told) } } });
                }
            }
            ended_min = placed.ends_min;
        }
        let scene = one.listed.scene;
        if before.replace(scene.id) != Some(scene.id) {
            rows.push(heading(paper, one));
        }
        rows.push(row(paper, one));
    }
    rows
}

fn heading(paper: &Paper<'_>, one: &PaperShot<'_>) -> Markup {
    let scene = one.listed.scene;
    html! {
        tr class="paper-scene" {
            th colspan=(COLUMNS) scope="rowgroup" {
                (scene_title(one.listed.scene_number, scene))
                " " span class="paper-of" { (scene_where(paper.of.film, scene)) }
            }
        }
    }
}

fn row(paper: &Paper<'_>, one: &PaperShot<'_>) -> Markup {
    let shot = one.shot();
    let sound = if shot.sound == Sound::None { None } else { Some(shot.sound.name()) };
    let spare = (!shot.is_must_have()).then_some(shot.priority.name());
    let marks: Vec<String> = sound.into_iter().chain(spare).map(str::to_owned).collect();
    html! {
        tr class="paper-shot" {
            th class="paper-number" scope="row" { (one.listed.number()) }
            td class="paper-seen" { (picture(paper, one)) }
            td {
                b { (capital(&one.what(paper.of))) }
                @if !shot.action.is_empty() { br; (shot.action) }
                @if !marks.is_empty() { br; span class="paper-of" { (capital(&listed(&marks))) } }
            }
            td { (made_with(paper, one)) }
            td class="paper-figure" { (Number(shot.planned_s)) " s" }
            td class="paper-when" { (when(paper, one)) }
        }
    }
}

/// Lens, adapter and filters, and how far away.
fn made_with(paper: &Paper<'_>, one: &PaperShot<'_>) -> Markup {
    let filters = one.light.as_ref().filter(|light| !light.filters.on.is_empty());
    let lens = one.card(paper).lens().map(|lens| capital(&lens));
    html! {
        @match (lens, one.setup()) {
            (Some(lens), Some(setup)) => {
                @match &one.shot().adapter {
                    Some(adapter) => (say!("{lens} lens with {adapter}")),
                    None => (say!("{lens} lens")),
                }
                @if let Some(light) = filters { ", " (light.filters.words()) }
                br;
                (paced(paper, setup.distance))
            },
            (Some(lens), None) => (say!("{lens} lens: not from there")),
            (None, _) => (say!("The film lacks something for it")),
        }
    }
}

fn when(paper: &Paper<'_>, one: &PaperShot<'_>) -> Markup {
    let state = one.listed.state;
    html! {
        @if let Some(placed) = state.placed() {
            (placed.span())
            br;
            @if let Some(late) = state.told(paper.of.film) { (late) br; }
            (tick(false)) (say!(" done"))
        } @else if let Some(told) = state.told(paper.of.film) {
            (told)
        } @else {
            (tick(paper.of.film.takes_of(one.shot().id).next().is_some()))
        }
    }
}
