//! The focus pull: from where focus is, to a second mark, at a time.

use std::sync::Arc;

use language::say;
use leptos::html;
use leptos::prelude::*;
use requests::{PullRequest, USUAL_PULL_S};

use super::focus::{Aim, marks};
use crate::dressing::Item;
use crate::scene::Scene;
use crate::session::{Plan, Session};
use crate::setup::words;
use crate::widgets::{StepField, Tick, close, live, when};

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
    let focus = move || session.setup().map(|setup| setup.focus.to_m());
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
        let on = if plan.with(Plan::has_own_focus) { say!("where you put it") } else { say!("the subject") };
        say!("From {on}, {}", focus().map_or_else(String::new, length))
    };
    // Without their distances, so that a drag on the floor plan does not make the buttons anew.
    let aims = Memo::new(move |_| {
        let items = plan.with(Plan::items);
        let marks = scene.get().map(|scene| marks(&scene)).unwrap_or_default();
        marks.into_iter().map(|mark| (mark.aim, name_of(mark.aim, &items))).collect::<Vec<_>>()
    });
    let pull_to = move |aim: Aim| {
        let marks = scene.get_untracked().map(|scene| marks(&scene)).unwrap_or_default();
        let mark = marks.into_iter().find(|mark| mark.aim == aim);
        if let Some(mark) = mark {
            change(&|pull| pull.to_m = mark.depth_m);
        }
    };
    let mark_buttons = move || {
        let buttons = aims.get().into_iter().map(|(aim, name)| {
            view! { <button type="button" on:click=move |_| pull_to(aim)>{name}</button> }
        });
        buttons.collect_view()
    };
    let click_it = move |_| {
        session.marks_second.set(true);
        close(sheet);
    };
    view! {
        <Tick words=say!("Pull focus") is_on=Signal::derive(move || pull().is_some()) set=switch />
        {when(move || pull().is_some(), move || view! {
            <p>{live(from)}</p>
            <StepField
                label=say!(in "what focus is pulled to", "To")
                range=(0.1, FARTHEST_STEP_M)
                step=0.1
                value=part(|pull| pull.to_m)
                words=move |metres| length(pull().map_or(metres, |pull| pull.to_m))
                set=move |metres| change(&|pull| pull.to_m = metres)
            />
            <div class="mends" role="group" aria-label=say!("To what")>
                {mark_buttons}
                <button type="button" on:click=click_it>{say!("Click it in the frame")}</button>
            </div>
            <StepField
                label=say!("The pull starts at")
                range=(0.0, 30.0)
                step=0.5
                value=part(|pull| pull.starts_s.unwrap_or(0.0))
                words=words::seconds
                set=move |seconds| change(&|pull| pull.starts_s = Some(seconds))
            />
            <StepField
                label=say!("The pull lasts")
                range=(0.0, 10.0)
                step=0.1
                value=part(|pull| pull.lasts_s.unwrap_or(USUAL_PULL_S))
                words=words::seconds
                set=move |seconds| change(&|pull| pull.lasts_s = Some(seconds))
            />
        }.into_any())}
    }
}

/// What it is called: as on the floor plan, if it is there.
fn name_of(aim: Aim, items: &[(Item, String)]) -> String {
    let name = match aim {
        Aim::Item(Item::Subject) => say!("the subject"),
        Aim::NearTheLens => say!("what is near the lens"),
        Aim::Background => say!("the background"),
        Aim::Item(item) => {
            items.iter().find(|(one, _)| *one == item).map_or(say!("what stands there"), |(_, name)| name)
        }
    };
    name.to_owned()
}

fn first_pull(from_m: f64, to_m: f64) -> PullRequest {
    PullRequest { from_m, to_m, starts_s: Some(USUAL_START_S), lasts_s: Some(USUAL_PULL_S) }
}

#[cfg(test)]
mod tests {
    use staging::PieceKind;

    use super::*;
    use crate::scene::tests::scene_of;

    #[test]
    fn what_focus_is_pulled_to_is_called_as_on_the_floor_plan() {
        let mut plan = Plan::first();
        for kind in [PieceKind::Tree, PieceKind::Wall, PieceKind::Tree] {
            plan.add_piece(kind, None);
        }
        let items = plan.items();
        let names: Vec<_> = marks(&scene_of(&plan)).iter().map(|mark| name_of(mark.aim, &items)).collect();
        assert_eq!(names, ["the subject", "tree", "wall", "tree 2", "the background"]);
    }
}
