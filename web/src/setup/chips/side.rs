//! Where across the frame they stand, and how much air is above them.

use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::session::{Plan, Session};
use crate::widgets::{Choice, Choices, Sheet, StepField, live};

const LEFT_THIRD: f64 = 1.0 / 3.0;
const RIGHT_THIRD: f64 = 2.0 / 3.0;

/// Where across the frame they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Column {
    Left,
    Middle,
    Right,
}

/// Where across the frame they stand, and how much air is above them.
#[component]
pub(crate) fn SideSheet(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let plan = session.plan;
    let headroom = move || {
        let set = plan.with(|plan| plan.shot.delivery.headroom_share);
        let now = || session.setup().map(|setup| setup.headroom);
        set.or_else(now).unwrap_or(0.1) * 100.0
    };
    view! {
        <Sheet node title=say!("Side and headroom")>
            <Choices
                legend=say!("They stand")
                choices=[
                    Choice::drawn(Column::Left, say!("on the left third"), "column column-left"),
                    Choice::drawn(Column::Middle, say!("in the middle"), "column column-middle"),
                    Choice::drawn(Column::Right, say!("on the right third"), "column column-right"),
                ]
                chosen=Signal::derive(move || plan.with(column))
                choose=move |chosen| plan.update(|plan| set_column(plan, chosen))
            />
            <p class="quiet">{live(move || plan.with(looking_room).to_owned())}</p>
            <StepField
                label=say!("Exactly, from the frame's left edge")
                range=(5.0, 95.0)
                step=1.0
                value=Signal::derive(move || plan.with(|plan| plan.shot.across_share.unwrap_or(0.5) * 100.0))
                words=|percent| format!("{percent:.0} %")
                set=move |percent| plan.update(|plan| plan.shot.across_share = Some(percent / 100.0))
            />
            <StepField
                label=say!("Headroom")
                range=(-60.0, 60.0)
                step=1.0
                value=Signal::derive(headroom)
                words=|percent| say!("{percent:.0} % of the frame")
                set=move |percent| plan.update(|plan| plan.shot.delivery.headroom_share = Some(percent / 100.0))
            />
            <button
                type="button"
                class="plain"
                on:click=move |_| plan.update(|plan| plan.shot.delivery.headroom_share = None)
            >
                {say!("Headroom by size")}
            </button>
        </Sheet>
    }
}

fn column(plan: &Plan) -> Column {
    match plan.shot.across_share {
        Some(share) if share < 0.45 => Column::Left,
        Some(share) if share > 0.55 => Column::Right,
        Some(_) | None => Column::Middle,
    }
}

fn set_column(plan: &mut Plan, column: Column) {
    plan.shot.across_share = match column {
        Column::Left => Some(LEFT_THIRD),
        Column::Middle => None,
        Column::Right => Some(RIGHT_THIRD),
    };
}

/// Whether there is room where they look: common practice leaves it on the side that they face.
fn looking_room(plan: &Plan) -> &'static str {
    // Positive turns clockwise from above, which for one who faces the phone is towards the frame's left.
    let column = column(plan);
    let faces_out = match column {
        Column::Left => plan.facing_deg > 8.0,
        Column::Right => plan.facing_deg < -8.0,
        Column::Middle => false,
    };
    match column {
        Column::Middle => say!("In the middle there is as much room before them as behind."),
        Column::Left | Column::Right if faces_out => {
            say!("They look out of the frame: looking room is on the other side (common practice).")
        }
        Column::Left | Column::Right => say!("There is looking room on the side that they face."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_face_to_the_left_wants_room_on_the_left() {
        let mut plan = Plan::first();
        plan.facing_deg = 90.0;
        set_column(&mut plan, Column::Right);
        assert_eq!(looking_room(&plan), "There is looking room on the side that they face.");
        set_column(&mut plan, Column::Left);
        assert!(looking_room(&plan).starts_with("They look out"), "{}", looking_room(&plan));
    }
}
