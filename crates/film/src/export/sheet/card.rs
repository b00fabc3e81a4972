//! A card a setup: everything that whoever holds the phone needs, and boxes for the takes.

use language::{say, text};
use maud::{Markup, html};

use super::card_figures;
use super::paper::{Paper, PaperShot};
use super::words::{picture, scene_title, tick};
use crate::film::Film;
use crate::setup_card::{SetupCard, WHO_DECIDES};
use crate::shot::ActionKind;
use crate::take_log::{LoggedTake, Verdict};
use crate::wording::{capital, listed};

/// Rows for takes on a card without a logged one: chosen, as it is more than shots usually need.
const EMPTY_TAKES: usize = 4;
/// Rows left below those that are logged: chosen, as room for a pick-up.
const MORE_TAKES: usize = 2;

pub(super) fn section(paper: &Paper<'_>) -> Markup {
    html! {
        section class="paper paper-cards" {
            @for one in &paper.shots { (card(paper, one)) }
        }
    }
}

fn card(paper: &Paper<'_>, one: &PaperShot<'_>) -> Markup {
    let told = one.card(paper);
    html! {
        article class="paper-card" {
            (head(paper, one))
            div class="paper-beside" {
                div {
                    (picture(paper, one))
                    table class="paper-figures" {
                        tbody {
                            @for (label, told) in card_figures::rows(paper, one) {
                                tr { th scope="row" { (label) } td { (told) } }
                            }
                        }
                    }
                }
                div {
                    p class="paper-sentence" { (told.sentence()) }
                    @for (label, what) in told.happening() { p { b { (label) } " " (what) } }
                    h3 { (say!("Before the first take")) }
                    ul class="paper-ticks" { @for step in told.steps() { li { (tick(false)) " " (step) } } }
                    (beware(&told))
                    (takes(paper.of.film, one))
                }
            }
        }
    }
}

fn head(paper: &Paper<'_>, one: &PaperShot<'_>) -> Markup {
    let state = one.listed.state;
    let shot = one.shot();
    let people: Vec<String> = one.people.iter().map(|who| paper.name(*who).to_owned()).collect();
    html! {
        header {
            h2 { span class="paper-number" { (one.listed.number()) } " " (capital(&one.what(paper.of))) }
            p class="paper-of" {
                (scene_title(one.listed.scene_number, one.listed.scene))
                @if !people.is_empty() { "; " (say!("with {}", listed(&people))) }
                @if let Some(placed) = state.placed() {
                    "; " (placed.span())
                }
                @if let Some(told) = state.told(paper.of.film) { "; " (told) }
                @if !shot.is_must_have() { "; " (shot.priority.name()) }
                @if shot.action_kind == ActionKind::OneChance { (say!("; one chance")) }
            }
        }
    }
}

/// What will not work and what is dangerous; who decides is told with it.
fn beware(told: &SetupCard<'_>) -> Markup {
    let (findings, cautions) = (told.findings(), told.cautions());
    html! {
        @if !findings.is_empty() || !cautions.is_empty() {
            h3 { (say!("Look out")) }
            ul class="paper-look-out" {
                @for (_, finding) in &findings { li { (finding) } }
                @for caution in &cautions { li { (caution) } }
            }
            @if !cautions.is_empty() { p class="paper-rules" { (text(WHO_DECIDES)) } }
        }
    }
}

/// A grid for the takes: those that are logged, and room for more.
fn takes(film: &Film, one: &PaperShot<'_>) -> Markup {
    let logged: Vec<&LoggedTake> = film.takes_of(one.shot().id).collect();
    let empty = if logged.is_empty() { EMPTY_TAKES } else { MORE_TAKES };
    html! {
        table class="paper-takes" {
            thead {
                tr {
                    th { (say!("Take")) }
                    th { (say!("Good")) }
                    th { (say!("Not")) }
                    th { (say!("Clip")) }
                    th { (say!("Focus at")) }
                    th { (say!("Note")) }
                }
            }
            tbody {
                @for take in &logged {
                    tr {
                        td { (take.number) }
                        td { (tick(take.verdict == Verdict::Good)) }
                        td { (tick(take.verdict == Verdict::NotGood)) }
                        td { (take.clip) }
                        td { (take.focus) }
                        td { (take.why) }
                    }
                }
                @for _ in 0..empty {
                    tr { td {} td { (tick(false)) } td { (tick(false)) } td {} td {} td {} }
                }
            }
        }
    }
}
