//! Pacing a place out: sides in steps, the turns between them, and the floor plan that follows.

use std::sync::Arc;

use film::{Paced, PacedPlace, PacedSide, RecordError, StepLength};
use language::{key, say, text};
use leptos::html;
use leptos::prelude::*;
use units::{Angle, Length};

use super::Recce;
use super::explanations::{STEP, WALK};
use super::paced::{TURNS, begun, corners, new_side, told, unlearned};
use super::photo_form::within_a_turn;
use super::where_taken::Floor;
use crate::canvas::{CanvasHost, Surface, WhileMoving};
use crate::draw::Chalk;
use crate::light::wind;
use crate::story::words::sentence_of;
use crate::widgets::{LengthField, NumberField, StepField, Tick, explained, live, when};

/// What undo calls a change of the walk.
const WHAT: &str = key!("Change what was paced out");
/// What can be typed: steps of a side, steps along something known, and how long that is in metres.
const STEPS: (f64, f64) = (0.5, 2000.0);
const LEARNED_STEPS: (f64, f64) = (2.0, 200.0);
const ALONG_M: (f64, f64) = (1.0, 200.0);
/// How far from the middle of the floor a walk begins, metres: chosen as far as a slider still tells steps apart.
const BEGINS_M: (f64, f64) = (-50.0, 50.0);
/// How well something that steps are learned along is known: chosen, as it is taped.
const ALONG_SD: Length = Length::from_mm(20.0);
/// Steps with which a step is learned.
const TEN: f64 = 10.0;

/// A walk that is changed.
#[derive(Clone, Copy)]
struct Walk {
    recce: Recce,
    paced: Memo<Option<Arc<PacedPlace>>>,
}

impl Walk {
    /// Something of the walk, while there is one.
    fn of<Told>(self, tell: impl FnOnce(&PacedPlace) -> Told) -> Option<Told> {
        self.paced.with(|paced| paced.as_deref().map(tell))
    }

    /// Changes the walk.
    fn alter(self, change: impl Fn(&mut PacedPlace)) {
        self.put(text(WHAT), move |paced| {
            let mut place = paced.cloned()?;
            change(&mut place);
            Some(place)
        });
    }

    fn put(self, what: &str, change: impl Fn(Option<&PacedPlace>) -> Option<PacedPlace>) {
        self.recce
            .home()
            .change(what, 0, &|place| place.paced = change(place.paced.as_deref()).map(Arc::new));
    }

    fn alter_side(self, at: usize, change: impl Fn(&mut PacedSide)) {
        self.alter(|paced| {
            if let Some(side) = paced.outline.sides.get_mut(at) {
                change(side);
            }
        });
    }
}

/// The walk around a place, or a button that begins one.
#[component]
pub(crate) fn PaceOut(recce: Recce) -> impl IntoView {
    let walk = Walk { recce, paced: Memo::new(move |_| recce.home().paced()) };
    let is_begun = move || walk.paced.with(Option::is_some);
    let begin = move |_| {
        let step = unlearned(recce.session().step());
        walk.put(say!("Pace the place out"), move |_| Some(begun(step)));
    };
    view! {
        <link rel="stylesheet" href="story/explained.css" />
        <section class="recce-pace" aria-label=say!("Pace it out")>
            {when(move || !is_begun(), move || view! {
                <p class="quiet">
                    {say!("No tape? Walk along the walls and count your steps: a floor plan follows, with how far \
                          each corner may be off.")}
                </p>
                <button type="button" on:click=begin>{say!("Pace it out")}</button>
            }.into_any())}
            {when(is_begun, move || view! { <WalkForm walk /> }.into_any())}
        </section>
    }
}

#[component]
fn WalkForm(walk: Walk) -> impl IntoView {
    let session = walk.recce.session();
    let count = Memo::new(move |_| walk.of(|paced| paced.outline.sides.len()).unwrap_or(0));
    let lines = move || {
        let told = walk.of(|paced| told(paced, session.unit()));
        match told {
            Some(Ok(lines)) => {
                let mut lines = lines.into_iter();
                let first = lines.next().map(|line| explained(line, &WALK));
                let rest = lines.map(|line| view! { <p>{line}</p> }).collect_view();
                view! {
                    <div>{first}</div>
                    {rest}
                }
                .into_any()
            }
            Some(Err(RecordError { path, message })) => {
                view! { <p class="problem" role="alert">{sentence_of(&format!("{path}: {message}"))}</p> }
                    .into_any()
            }
            None => ().into_any(),
        }
    };
    let first =
        Signal::derive(move || walk.of(|paced| within_a_turn(paced.outline.first)).unwrap_or_default());
    let closed = Signal::derive(move || walk.of(|paced| paced.outline.is_closed).unwrap_or(false));
    view! {
        <WalkPlan walk />
        <div role="status">{lines}</div>
        <StepLearning walk />
        <StepField
            label=say!("The first side goes towards")
            range=(0.0, 359.0)
            step=1.0
            value=first
            words=|degrees: f64| format!("{degrees:.0}°, {}", wind(Angle::from_deg(degrees)))
            set=move |degrees: f64| walk.alter(|paced| paced.outline.first = Angle::from_deg(degrees))
        />
        <StepField
            label=say!("It begins east of the middle by")
            range=BEGINS_M
            step=0.5
            value=Signal::derive(move || walk.of(|paced| paced.start.x).unwrap_or_default())
            words=|metres: f64| say!("{metres:.1} m")
            set=move |metres: f64| walk.alter(|paced| paced.start.x = metres)
        />
        <StepField
            label=say!("And north of it by")
            range=BEGINS_M
            step=0.5
            value=Signal::derive(move || walk.of(|paced| paced.start.y).unwrap_or_default())
            words=|metres: f64| say!("{metres:.1} m")
            set=move |metres: f64| walk.alter(|paced| paced.start.y = metres)
        />
        <ol class="recce-sides">
            <For each=move || 0..count.get() key=|at| *at children=move |at| side_row(walk, at) />
        </ol>
        <button type="button" on:click=move |_| walk.alter(|paced| paced.outline.sides.push(new_side()))>
            {say!("Add a side")}
        </button>
        {when(move || count.get() >= 3, move || view! {
            <Tick
                words=say!("The walk ended where it began")
                is_on=closed
                set=move |is_on: bool| walk.alter(|paced| paced.outline.is_closed = is_on)
            />
        }.into_any())}
        <button type="button" class="plain" on:click=move |_| walk.put(say!("Forget what was paced out"), |_| None)>
            {say!("Forget this walk")}
        </button>
    }
}

/// One side: how many steps, the turn at its end, and a button that takes it away.
fn side_row(walk: Walk, at: usize) -> impl IntoView {
    let side = move || walk.of(|paced| paced.outline.sides.get(at).copied()).flatten();
    let step = move || walk.of(|paced| paced.outline.step.length).unwrap_or(Length::ZERO);
    let steps = Signal::derive(move || {
        side().map(|side| match side.distance {
            Paced::Steps(steps) => steps,
            Paced::Taped { length, .. } => length / step(),
        })
    });
    let set_steps = move |steps: Option<f64>| {
        if let Some(steps) = steps {
            walk.alter_side(at, |side| side.distance = Paced::Steps(steps));
        }
    };
    let options = TURNS.into_iter().map(|(name, degrees)| {
        let is_it = move || side().is_some_and(|side| (side.turn.to_deg() - degrees).abs() < 1e-6);
        view! { <option value=degrees.to_string() prop:selected=is_it>{text(name)}</option> }
    });
    let turn = move |value: String| {
        if let Ok(degrees) = value.parse::<f64>() {
            walk.alter_side(at, |side| side.turn = Angle::from_deg(degrees));
        }
    };
    let remove = move |_| {
        walk.alter(|paced| {
            if paced.outline.sides.len() > 1 && at < paced.outline.sides.len() {
                paced.outline.sides.remove(at);
                paced.outline.is_closed &= paced.outline.sides.len() >= 3;
            }
        });
    };
    view! {
        <li class="recce-side">
            <NumberField label=say!("Side {}, steps", at + 1) unit="" range=STEPS value=steps set=set_steps />
            <label class="field">
                <span>{say!("then")}</span>
                <select on:change:target=move |event| turn(event.target().value())>{options.collect_view()}</select>
            </label>
            <button type="button" class="plain" aria-label=say!("Remove side {}", at + 1) on:click=remove>{say!("Remove")}</button>
        </li>
    }
}

/// The step: as it is known, and how to learn it.
#[component]
fn StepLearning(walk: Walk) -> impl IntoView {
    let session = walk.recce.session();
    let unit = Signal::derive(move || session.unit());
    let (steps, along) = (RwSignal::new(TEN), RwSignal::new(None::<f64>));
    let words = live(move || {
        let told = walk.of(|paced| {
            let StepLength { length, sd } = paced.outline.step;
            let unit = session.unit();
            say!("Your step: {} ± {}", length.told(unit, 2), sd.told(unit, 2))
        });
        told.unwrap_or_default()
    });
    let learned = move || {
        let along = Length::from_m(along.get()?);
        Some(StepLength::learned(steps.get(), along, ALONG_SD))
    };
    let problem = move || learned().and_then(Result::err).map(|error| sentence_of(&error.to_string()));
    let take = move |metres: f64| {
        along.set(Some(metres));
        if let Some(Ok(step)) = untrack(learned) {
            walk.alter(|paced| paced.outline.step = step);
            // Other places are paced with the same legs.
            session.settings.update(|settings| settings.step_m = step.length.to_m());
        }
    };
    let count = move |typed: Option<f64>| steps.set(typed.unwrap_or(TEN));
    view! {
        <details class="fold">
            <summary>{words}</summary>
            <p class="quiet">{say!("Walk ten steps as you usually do along something whose length you know, or tape \
                  it afterwards.")}</p>
            <div>{explained(say!("How well it is known"), &STEP)}</div>
            <NumberField
                label=say!("Steps")
                unit=say!("steps")
                range=LEARNED_STEPS
                value=Signal::derive(move || Some(steps.get()))
                set=count
            />
            <LengthField
                label=say!("How long that was")
                range=ALONG_M
                unit
                value=Signal::derive(move || along.get().unwrap_or_else(|| steps.get() * session.step().to_m()))
                set=take
            />
            {move || problem().map(|words| view! { <p class="problem" role="alert">{words}</p> })}
        </details>
    }
}

/// The floor plan with what was paced out.
#[component]
fn WalkPlan(walk: Walk) -> impl IntoView {
    let session = walk.recce.session();
    let floor = walk.recce.floor();
    let shows = Signal::derive(move || {
        floor.track();
        walk.paced.track();
        session.palette.track();
    });
    let draw = move |surface: &Surface| {
        session.palette.with(|palette| {
            floor.with(|floor: &Floor| {
                let view = floor.view(std::iter::empty(), (surface.width, surface.height));
                floor.draw(&Chalk::new(surface, palette), view);
            });
        });
    };
    let label = live(move || {
        let corners = walk.of(|paced| corners(paced).len()).unwrap_or(0);
        say!("The floor plan as paced out, north up, {corners} corners.")
    });
    let node = NodeRef::<html::Canvas>::new();
    view! {
        <div class="recce-floor">
            <CanvasHost node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="recce-floor-canvas" />
        </div>
    }
}
