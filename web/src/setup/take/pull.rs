//! The focus pull: from where focus is, to a second mark, at a time.

use std::sync::Arc;

use leptos::html;
use leptos::prelude::*;
use requests::{PullRequest, USUAL_PULL_S};

use super::focus::marks;
use crate::scene::Scene;
use crate::session::{Plan, Session};
use crate::setup::words;
use crate::widgets::{StepField, close, live, when};

/// When a pull starts: chosen so that the first mark is seen before it is left.
const USUAL_START_S: f64 = 1.0;
/// The farthest second mark that is stepped, metres: chosen because beyond it a phone's lens hardly moves.
const FARTHEST_STEP_M: f64 = 30.0;

/// The focus pull.
#[component]
pub(super) fn PullFields(
    session: Session,
    scene: Memo<Option<Arc<Scene>>>,
    /// The sheet that it is on, which makes way for a click in the frame.
    sheet: NodeRef<html::Dialog>,
) -> impl IntoView {
    let plan = session.plan;
    let pull = move || plan.with(|plan| plan.shot.take.and_then(|take| take.pull));
    let focus = move || {
        let setup = |row: &film::Comparison| row.result.outcome.ok();
        session.chosen.with(|row| row.as_ref().and_then(setup).map(|setup| setup.focus.to_m()))
    };
    let change = move |change: &dyn Fn(&mut PullRequest)| {
        plan.update(|plan| plan.change_take(|take| take.pull.iter_mut().for_each(change)));
    };
    let switch = move |is_on: bool| {
        let from_m = untrack(focus).unwrap_or(2.0);
        plan.update(|plan| {
            let to_m = from_m + plan.shot.background_behind_subject_m;
            plan.change_take(|take| take.pull = is_on.then(|| first_pull(from_m, to_m)));
        });
    };
    let length = move |metres: f64| words::length(metres, session.unit());
    let part = move |part: fn(&PullRequest) -> f64| Signal::derive(move || pull().as_ref().map_or(0.0, part));
    let from = move || {
        let on = if plan.with(Plan::has_own_focus) { "where you put it" } else { "the subject" };
        format!("From {on}, {}", focus().map_or_else(String::new, length))
    };
    // By name, so that a drag on the floor plan does not make the buttons anew.
    let names = Memo::new(move |_| {
        let scene = scene.get();
        scene.iter().flat_map(|scene| marks(scene)).map(|mark| mark.name).collect::<Vec<_>>()
    });
    let pull_to = move |name: &str| {
        let scene = scene.get_untracked();
        let mark = scene.iter().flat_map(|scene| marks(scene)).find(|mark| mark.name == name);
        if let Some(mark) = mark {
            change(&|pull| pull.to_m = mark.depth_m);
        }
    };
    let mark_buttons = move || {
        let buttons = names.get().into_iter().map(|name| {
            let shown = name.clone();
            view! { <button type="button" on:click=move |_| pull_to(&name)>{shown}</button> }
        });
        buttons.collect_view()
    };
    let click_it = move |_| {
        session.marks_second.set(true);
        close(sheet);
    };
    view! {
        <label class="check">
            <input
                type="checkbox"
                prop:checked=move || pull().is_some()
                on:change:target=move |event| switch(event.target().checked())
            />
            "Pull focus"
        </label>
        {when(move || pull().is_some(), move || view! {
            <p>{live(from)}</p>
            <StepField
                label="To"
                range=(0.1, FARTHEST_STEP_M)
                step=0.1
                value=part(|pull| pull.to_m)
                words=move |metres| length(pull().map_or(metres, |pull| pull.to_m))
                set=move |metres| change(&|pull| pull.to_m = metres)
            />
            <div class="mends" role="group" aria-label="To what">
                {mark_buttons}
                <button type="button" on:click=click_it>"Click it in the frame"</button>
            </div>
            <StepField
                label="The pull starts at"
                range=(0.0, 30.0)
                step=0.5
                value=part(|pull| pull.starts_s.unwrap_or(0.0))
                words=|seconds| format!("{seconds:.1} s")
                set=move |seconds| change(&|pull| pull.starts_s = Some(seconds))
            />
            <StepField
                label="The pull lasts"
                range=(0.0, 10.0)
                step=0.1
                value=part(|pull| pull.lasts_s.unwrap_or(USUAL_PULL_S))
                words=|seconds| format!("{seconds:.1} s")
                set=move |seconds| change(&|pull| pull.lasts_s = Some(seconds))
            />
        }.into_any())}
    }
}

fn first_pull(from_m: f64, to_m: f64) -> PullRequest {
    PullRequest { from_m, to_m, starts_s: Some(USUAL_START_S), lasts_s: Some(USUAL_PULL_S) }
}
