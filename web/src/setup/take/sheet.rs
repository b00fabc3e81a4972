//! The sheet on which a take is planned: the move, its speed and length, the focus pull, the shutter.

use std::sync::Arc;

use language::say;
use leptos::html;
use leptos::prelude::*;
use requests::ShotSizeRequest;
use staging::fastest_turn;

use super::way::{pace, speed};
use super::{pull::PullFields, shutter::ShutterFields};
use crate::scene::Scene;
use crate::session::{Plan, Session};
use crate::setup::words;
use crate::widgets::{Choice, Choices, Sheet, StepField, Way, live, when};

/// Turns are stepped by so much, degrees a second.
const TURN_STEP_DEG: f64 = 0.5;
/// The slowest and the fastest on the sheet, metres and degrees a second: chosen for what people do on foot and by hand.
const PACES: (f64, f64) = (0.1, 4.0);
const TURNS: (f64, f64) = (TURN_STEP_DEG, 60.0);

/// The sheet on which a take is planned.
#[component]
pub(crate) fn MoveSheet(
    session: Session,
    scene: Memo<Option<Arc<Scene>>>,
    node: NodeRef<html::Dialog>,
) -> impl IntoView {
    let plan = session.plan;
    let way = Signal::derive(move || plan.with(Way::of_plan));
    let fastest = move || fastest_turn_deg(session);
    let speed = Signal::derive(move || plan.with(speed).unwrap_or(0.0));
    let set_speed = move |speed: f64| plan.update(|plan| Way::of_plan(plan).set_speed(plan, speed));
    let is_object = Memo::new(move |_| plan.with(|plan| plan.shot.shot_size == ShotSizeRequest::Insert));
    let choose = move |way: Way| {
        // Asked before the plan changes, which it is made from.
        let pan_deg_per_s = untrack(fastest);
        plan.update(|plan| way.choose(plan, pan_deg_per_s));
    };
    let ways = move || {
        let choices = Way::ALL
            .into_iter()
            .filter(|way| !(way.follows() && is_object.get()))
            .map(|way| Choice::new(way, way.name()));
        let choices: Vec<_> = choices.collect();
        view! {
            <Choices
                legend=say!("The phone")
                choices
                chosen=way
                choose=choose
            />
        }
        .into_any()
    };
    let turns = move || way.get().pans() || way.get().tilts();
    view! {
        <Sheet node title=say!(in "what the phone does in a take", "Move")>
            {ways}
            {when(move || way.get() != Way::Still && !turns(), move || view! {
                <StepField
                    label=say!("Speed")
                    range=PACES
                    step=0.1
                    value=speed
                    words=move |metres| pace(metres, session.unit())
                    set=set_speed
                />
            }.into_any())}
            {when(turns, move || view! {
                <StepField
                    label=say!("Turns")
                    range=TURNS
                    step=TURN_STEP_DEG
                    value=speed
                    words=|degrees| say!("{degrees:.1}° a second")
                    set=set_speed
                />
            }.into_any())}
            {when(move || way.get().pans(), move || view! {
                <p class="quiet">{live(move || pan_limit(speed.get(), fastest()))}</p>
                <button type="button" on:click=move |_| set_speed(untrack(fastest))>
                    {say!("As fast as it may")}
                </button>
            }.into_any())}
            {when(move || way.get() == Way::Backwards, move || view! {
                <p class="quiet">
                    {say!("Walking backwards needs a spotter with a hand on your back and a way that is clear. Local rules, and \
                          whoever is responsible there, decide whether it may be done.")}
                </p>
            }.into_any())}
            <PullFields session scene sheet=node />
            {when(move || plan.with(Plan::plays), move || view! {
                <StepField
                    label=say!("The take lasts")
                    range=(0.5, 30.0)
                    step=0.5
                    value=Signal::derive(move || plan.with(Plan::duration_s))
                    words=words::seconds
                    set=move |seconds| plan.update(|plan| plan.change_take(|take| take.duration_s = Some(seconds)))
                />
            }.into_any())}
            <ShutterFields session />
        </Sheet>
    }
}

/// The fastest pan that can be looked at, degrees a second, rounded down to a step so that it is never too fast by a
/// rounding; a usual lens's where there is no setup.
fn fastest_turn_deg(session: Session) -> f64 {
    let rate = session.plan.with(|plan| plan.shot.frame_rate().ok());
    let fastest = session.setup().zip(rate);
    let fastest = fastest.map_or(8.0, |(setup, rate)| fastest_turn(&setup.view, rate).to_deg());
    (libm::floor(fastest / TURN_STEP_DEG) * TURN_STEP_DEG).max(TURN_STEP_DEG)
}

/// The limit of a pan in words.
fn pan_limit(asked: f64, fastest: f64) -> String {
    if asked > fastest {
        say!(
            "That is fast: up to {fastest:.1}° a second a pan can be looked at: one frame width in seven seconds at \
             24 frames a second (common practice), unless it holds somebody who walks."
        )
    } else {
        say!(
            "Up to {fastest:.1}° a second a pan can be looked at: one frame width in seven seconds at 24 frames a second \
             (common practice), unless it holds somebody who walks."
        )
    }
}
