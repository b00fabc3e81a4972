//! The frame's shape, a second one to keep, and the recording mode.

use language::{Number, say};
use leptos::html;
use leptos::prelude::*;
use optics::Aspect;
use requests::AspectRequest;

use crate::session::Session;
use crate::setup::words;
use crate::widgets::{Sheet, live};

/// The frame's shape, a second one to keep, and the recording mode.
#[component]
pub(crate) fn ShapeSheet(session: Session, node: NodeRef<html::Dialog>) -> impl IntoView {
    let plan = session.plan;
    let aspect = move || plan.with(|plan| plan.shot.delivery.aspect.0);
    let second = move || plan.with(|plan| plan.shot.delivery.protect_aspect.map(|shape| shape.0));
    view! {
        <Sheet node title=say!("Frame shape")>
            <ShapeChoices
                legend=say!("Delivered")
                chosen=Signal::derive(move || Some(aspect()))
                choose=move |shape| plan.update(|plan| plan.shot.delivery.aspect = AspectRequest(shape))
            />
            <OwnShape session />
            <ShapeChoices
                legend=say!("Keep people inside a second shape too")
                chosen=Signal::derive(second)
                choose=move |shape| plan.update(|plan| {
                    let same = plan.shot.delivery.protect_aspect == Some(AspectRequest(shape));
                    plan.shot.delivery.protect_aspect = (!same).then_some(AspectRequest(shape));
                })
            />
            <RecordingChoice session />
        </Sheet>
    }
}

/// Frame shapes, each drawn as it is.
#[component]
fn ShapeChoices(
    legend: &'static str,
    chosen: Signal<Option<Aspect>>,
    #[prop(into)] choose: Callback<Aspect>,
) -> impl IntoView {
    let buttons = film::frame_shapes().into_iter().map(move |(name, shape)| {
        let is_chosen = move || {
            chosen.get().is_some_and(|chosen| (chosen.to_f64() / shape.to_f64() - 1.0).abs() < 1e-3)
        };
        view! {
            <button type="button" class="choice" aria-pressed=live(move || is_chosen().to_string()) on:click=move |_| choose.run(shape)>
                <span class="drawing shape" aria-hidden="true" style:--aspect=shape.to_f64().to_string()></span>
                {Number(name).to_string()}
            </button>
        }
    });
    view! {
        <fieldset class="choices">
            <legend>{legend}</legend>
            <div>{buttons.collect_view()}</div>
        </fieldset>
    }
}

/// A shape of the user's own.
#[component]
fn OwnShape(session: Session) -> impl IntoView {
    let problem = RwSignal::new(String::new());
    let plan = session.plan;
    let read = move |text: String| match text.replace(',', ".").parse::<Aspect>() {
        Ok(shape) => {
            problem.set(String::new());
            plan.update(|plan| plan.shot.delivery.aspect = AspectRequest(shape));
        }
        Err(error) => problem.set(error.to_string()),
    };
    view! {
        <label class="field">
            <span>{say!("Or your own: 2.20 or 11:5")}</span>
            <input
                type="text"
                inputmode="decimal"
                autocomplete="off"
                prop:value=live(move || plan.with(|plan| words::shape(plan.shot.delivery.aspect.0.to_f64())))
                on:change:target=move |event| read(event.target().value())
            />
            <Show when=move || !problem.with(String::is_empty)>
                <span class="problem" role="alert">{problem}</span>
            </Show>
        </label>
    }
}

/// The recording mode: phones upright or sideways, HD to 4K.
#[component]
fn RecordingChoice(session: Session) -> impl IntoView {
    let plan = session.plan;
    let buttons = move || {
        let kit = session.owned.get();
        let modes = kit.recordings.iter().map(|mode| {
            let name = mode.name.clone();
            let text =
                format!("{} ({} × {})", mode.name, mode.recording.width_px(), mode.recording.height_px());
            let (pressed, choose) = (name.clone(), name);
            view! {
                <button
                    type="button"
                    class="choice"
                    aria-pressed=live(move || plan.with(|plan| plan.recording == pressed).to_string())
                    on:click=move |_| plan.update(|plan| plan.recording.clone_from(&choose))
                >
                    {text}
                </button>
            }
        });
        modes.collect_view()
    };
    view! {
        <fieldset class="choices">
            <legend>{say!("Recorded as")}</legend>
            <div>{buttons}</div>
        </fieldset>
    }
}
