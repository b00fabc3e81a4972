//! Under the floor: who and what can come, everybody and everything by name, the beats, and what can be said of the chosen
//! one. All that is done on the floor is done here too, by one thumb or by keys.

mod beat;
mod light;
mod newcomers;
mod north;
mod parts;
mod person;
mod piece;

use film::{BeatId, PersonId};
use language::say;
use leptos::prelude::*;

use super::FloorDesk;
use super::thing::{Thing, piece_names};
use super::twin::line_in_words;
use crate::draw::Looking;
use crate::pointing::CLOSER_STEP;
use crate::session::Session;
use crate::story::explanations::LINE;
use crate::widgets::{explained, live, when};
use parts::{button, toggle};

/// Whom or what the panel is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum About {
    Person(PersonId),
    Piece(usize),
    Beat(BeatId),
}

impl About {
    const fn of(thing: Thing) -> Self {
        match thing {
            Thing::Person(who) | Thing::Start(who) | Thing::Corner(who, _) => Self::Person(who),
            Thing::Piece(at) => Self::Piece(at),
            Thing::Beat(beat) | Thing::LineEnd(beat, _) => Self::Beat(beat),
        }
    }
}

/// Everything under the floor.
#[component]
pub(super) fn Panel(session: Session, floor: FloorDesk) -> impl IntoView {
    let about = Memo::new(move |_| floor.chosen().map(About::of));
    let chosen = move || {
        about.get().map(|about| match about {
            About::Person(who) => view! { <person::PersonPanel floor who /> }.into_any(),
            About::Piece(at) => view! { <piece::PiecePanel session floor at /> }.into_any(),
            About::Beat(id) => view! { <beat::BeatPanel floor id /> }.into_any(),
        })
    };
    view! {
        <Walking floor />
        {when(move || !floor.refused.with(String::is_empty), move || {
            view! { <p class="problem" role="alert">{floor.refused}</p> }.into_any()
        })}
        <newcomers::Newcomers session floor>
            {button(say!("Zoom in"), move || floor.look_closer(CLOSER_STEP))}
            {button(say!("Zoom out"), move || floor.look_closer(1.0 / CLOSER_STEP))}
            {when(move || floor.looking.get() != Looking::FITTING, move || {
                button(say!("Fit"), move || floor.looking.set(Looking::FITTING))
            })}
        </newcomers::Newcomers>
        <Names floor />
        <Beats floor />
        {chosen}
        <light::LightFold floor />
        <north::NorthFold floor />
    }
}

/// What a tap on the floor does while somebody's way is laid.
#[component]
fn Walking(floor: FloorDesk) -> impl IntoView {
    let name = live(move || {
        let walker = floor.walker.get();
        let name = floor.of_shown(|shown| walker.map(|who| shown.film.name_of(who).to_owned()));
        name.flatten().unwrap_or_default()
    });
    when(
        move || floor.walker.with(Option::is_some),
        move || {
            view! {
                <div class="floor-hint">
                    <p role="status">
                        {live(move || say!("Tap the floor where {} walks to, corner by corner.", name.get()))}
                    </p>
                    {button(say!("That is all"), move || floor.walker.set(None))}
                </div>
            }
            .into_any()
        },
    )
}

/// Everybody and everything by name.
#[component]
fn Names(floor: FloorDesk) -> impl IntoView {
    let named = Memo::new(move |_| {
        let named = floor.of_shown(|shown| {
            let blocking = &shown.scene.blocking;
            let people = blocking
                .marks
                .iter()
                .map(|mark| (Thing::Person(mark.who), shown.film.name_of(mark.who).to_owned()));
            let pieces = piece_names(blocking).into_iter().enumerate();
            people.chain(pieces.map(|(at, name)| (Thing::Piece(at), name))).collect::<Vec<_>>()
        });
        named.unwrap_or_default()
    });
    let names = move || {
        let names = named.get().into_iter().map(|(thing, name)| {
            let is_chosen = Signal::derive(move || floor.chosen().map(About::of) == Some(About::of(thing)));
            toggle(name, is_chosen, move || floor.choose((!is_chosen.get_untracked()).then_some(thing)))
        });
        names.collect_view()
    };
    view! {
        <div class="names floor-row" role="group" aria-label=say!("On the floor")>
            {names}
            {when(move || named.with(Vec::is_empty), || view! { <p class="quiet">{say!("The floor is empty.")}</p> }.into_any())}
        </div>
    }
}

/// The beats in their order, the one that is shown pressed, and where its line is.
#[component]
fn Beats(floor: FloorDesk) -> impl IntoView {
    let beats = Memo::new(move |_| {
        let beats = floor.of_shown(|shown| {
            let named = shown.scene.blocking.beats.iter().enumerate().map(|(at, beat)| {
                let what = if beat.what.is_empty() { say!("Beat") } else { beat.what.as_str() };
                (beat.id, format!("{}. {what}", at + 1))
            });
            named.collect::<Vec<_>>()
        });
        beats.unwrap_or_default()
    });
    let chips = move || {
        let chips = beats.get().into_iter().map(|(id, name)| {
            let is_shown =
                Signal::derive(move || floor.of_shown(|shown| shown.beat == Some(id)).unwrap_or(false));
            toggle(name, is_shown, move || floor.show_beat(id))
        });
        chips.collect_view()
    };
    let line =
        live(move || floor.of_shown(|shown| say!("The line: {}.", line_in_words(shown))).unwrap_or_default());
    view! {
        <div class="names floor-row" role="group" aria-label=say!("What happens, beat by beat")>
            {chips}
            {button(say!("+ Beat"), move || beat::add(floor))}
        </div>
        {when(move || !line.with(String::is_empty), move || view! { <div class="quiet">{explained(line, &LINE)}</div> }.into_any())}
    }
}
