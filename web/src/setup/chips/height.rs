//! How high the phone is, and what the look is.

use language::say;
use leptos::html;
use leptos::prelude::*;
use requests::PhoneHeightRequest;

use crate::session::Session;
use crate::setup::words;
use crate::widgets::{Choice, Choices, LengthField, Sheet, StepField};

/// What the look is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum LookChoice {
    Aimed,
    Level,
    Tilted,
}

/// How high the phone is, and what the look is.
#[component]
pub(crate) fn HeightSheet(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let plan = session.plan;
    let heights = [
        Choice::drawn(None, say!("by size"), ""),
        Choice::drawn(Some(PhoneHeightRequest::Overhead), say!("overhead"), "mark mark-overhead"),
        Choice::drawn(Some(PhoneHeightRequest::Eyes), say!("eyes"), "mark mark-eyes"),
        Choice::drawn(Some(PhoneHeightRequest::Chest), say!("chest"), "mark mark-chest"),
        Choice::drawn(Some(PhoneHeightRequest::Waist), say!("waist"), "mark mark-waist"),
        Choice::drawn(Some(PhoneHeightRequest::Knee), say!("knee"), "mark mark-knee"),
        Choice::drawn(Some(PhoneHeightRequest::Ground), say!("ground"), "mark mark-ground"),
    ];
    let height_now = move || {
        session.chosen.with(|row| {
            row.as_ref().map_or(1.2, |row| {
                let shot = &row.result.shot;
                shot.subject.phone_height(shot.size, shot.phone_height).to_m()
            })
        })
    };
    let look = move || {
        plan.with(|plan| match plan.shot.look_tilt_deg {
            None => LookChoice::Aimed,
            Some(degrees) if degrees.abs() < 0.5 => LookChoice::Level,
            Some(_) => LookChoice::Tilted,
        })
    };
    let tilt_now = move || session.setup().map_or(10.0, |setup| setup.tilt.to_deg());
    let set_look = move |look: LookChoice| {
        let tilt = match look {
            LookChoice::Aimed => None,
            LookChoice::Level => Some(0.0),
            // Starts from the tilt at hand, rounded, and off level so that it reads as a tilt.
            LookChoice::Tilted => {
                Some(tilt_now().round()).map(|tilt| if tilt.abs() < 1.0 { 5.0 } else { tilt })
            }
        };
        plan.update(|plan| plan.shot.look_tilt_deg = tilt);
    };
    view! {
        <Sheet node title=say!("Height and look")>
            <Choices
                legend=say!("The phone is at")
                choices=heights
                chosen=Signal::derive(move || plan.with(|plan| plan.shot.camera_height.filter(|_| plan.shot.camera_height_m.is_none())))
                choose=move |height| plan.update(|plan| {
                    plan.shot.camera_height = height;
                    plan.shot.camera_height_m = None;
                })
            />
            <LengthField
                label=say!("Or exactly")
                range=(0.0, 50.0)
                unit=Signal::derive(move || session.unit())
                value=Signal::derive(height_now)
                set=move |metres| plan.update(|plan| {
                    plan.shot.camera_height_m = Some(metres);
                    plan.shot.camera_height = None;
                })
            />
            <Choices
                legend=say!("The look")
                choices=[
                    Choice::new(LookChoice::Aimed, say!("aimed for the framing")),
                    Choice::new(LookChoice::Level, say!("level")),
                    Choice::new(LookChoice::Tilted, say!("a tilt of mine")),
                ]
                chosen=Signal::derive(look)
                choose=set_look
            />
            <Show when=move || look() != LookChoice::Aimed>
                <StepField
                    label=say!("Tilt, up positive")
                    range=(-60.0, 60.0)
                    step=1.0
                    value=Signal::derive(move || plan.with(|plan| plan.shot.look_tilt_deg.unwrap_or(0.0)))
                    words=words::degrees
                    set=move |degrees| plan.update(|plan| plan.shot.look_tilt_deg = Some(degrees))
                />
            </Show>
        </Sheet>
    }
}
