//! The bar of the day: hours along its width, the sky over the wanted hours, and a hand that is drawn through it.

mod chalk;
mod draw;
mod hours;
mod lanes;
mod readout;
mod table;

use film::{DaySpan, Daylight, HorizonProfile, clock};
use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;

use super::light_desk::{Lacks, LightDesk};
use crate::canvas::{CanvasHost, Surface, UNITS_A_REM, WhileMoving};
use crate::widgets::{live, when};
use draw::{Picture, draw_bar, height_px};
use hours::Hours;

/// The buttons go by so many minutes.
const BUTTON_MIN: f64 = 15.0;

/// The bar, its buttons, what it says, and the same as a table.
#[component]
pub(super) fn DayBar(light: LightDesk) -> impl IntoView {
    let picture = Memo::new(move |_| picture(light));
    let hours = Memo::new(move |_| picture.with(|picture| picture.as_ref().map(|picture| picture.hours)));
    let go = move |minute: f64| {
        if let Some(hours) = hours.get_untracked() {
            light.look_at(Some(hours.held(minute)));
        }
    };
    let step = move |by: f64| go(light.minute().get_untracked() + by);
    let planned = live(move || {
        light.planned_minute().map_or_else(String::new, |minute| say!("As planned, {}", clock(minute)))
    });
    let never = move || {
        let told = light.of_daylight(Daylight::what_never_happens).unwrap_or_default();
        told.into_iter().map(|words| view! { <p class="light-never">{words}</p> }).collect_view()
    };
    view! {
        <section class="light-day" class:late=move || light.lacks() == Some(Lacks::Asked) aria-label=say!("The light \
              of the day")>
            <Bar light picture />
            <div class="light-hand">
                <button type="button" aria-label=say!("15 minutes earlier") on:click=move |_| step(-BUTTON_MIN)>"−15 min"</button>
                <button type="button" aria-label=say!("15 minutes later") on:click=move |_| step(BUTTON_MIN)>"+15 min"</button>
                {when(move || light.is_moved() && light.planned_minute().is_some(), move || view! {
                    <button type="button" on:click=move |_| light.look_at(None)>{planned}</button>
                }.into_any())}
            </div>
            <readout::Readout light />
            {never}
            {when(
                move || light.of_daylight(|_| ()).is_some(),
                move || view! { <table::DayTable light hours /> }.into_any(),
            )}
        </section>
    }
}

/// What the bar shows; none without a day.
fn picture(light: LightDesk) -> Option<Picture> {
    let day = light.day().get()?;
    let place = light.place().get();
    let daylight = light.sky().get();
    let horizon =
        light.desk().film.with(|film| Some(film.as_ref()?.place(place?)?.spot.as_ref()?.horizon.clone()));
    let spans = daylight.as_ref().map(|daylight| daylight.light_spans());
    let lanes = light.plan().with(|plan| {
        let plan = plan.as_deref()?;
        let (lights, planned, chosen) = (light.lights().get(), light.planned_minutes(), light.chosen().get());
        light.desk().film.with(|film| Some(lanes::lanes(film.as_ref()?, plan, &lights, &planned, chosen)))
    });
    Some(Picture {
        hours: Hours::of(&day, spans.as_deref()),
        work: DaySpan::from(day.hours),
        sky: daylight.map(|daylight| (daylight, horizon.unwrap_or(HorizonProfile::LEVEL))),
        lanes: lanes.unwrap_or_default(),
    })
}

/// The bar itself, as a slider.
#[component]
fn Bar(light: LightDesk, picture: Memo<Option<Picture>>) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    let is_held = StoredValue::new(false);
    let hours = move || picture.with(|picture| picture.as_ref().map(|picture| picture.hours));
    let put = move |event: &ev::PointerEvent| {
        let (Some(canvas), Some(hours)) = (node.get_untracked(), untrack(hours)) else { return };
        let bounds = canvas.get_bounding_client_rect();
        light.look_at(Some(hours.minute(f64::from(event.client_x()) - bounds.left(), bounds.width())));
    };
    let press = move |event: ev::PointerEvent| {
        if let Some(canvas) = node.get_untracked() {
            // Without the capture a drag ends where the bar's edge does.
            drop(canvas.set_pointer_capture(event.pointer_id()));
        }
        is_held.set_value(true);
        put(&event);
    };
    let follow = move |event: ev::PointerEvent| {
        if is_held.get_value() {
            put(&event);
        }
    };
    let key = move |event: ev::KeyboardEvent| {
        let to =
            untrack(hours).and_then(|hours| hours.after_key(&event.key(), light.minute().get_untracked()));
        if let Some(to) = to {
            event.prevent_default();
            light.look_at(Some(to));
        }
    };
    let shows = Signal::derive(move || {
        picture.track();
        light.minute().track();
        light.session().palette.track();
    });
    let draw = move |surface: &Surface| {
        picture.with(|picture| {
            let Some(picture) = picture else { return };
            light.session().palette.with(|palette| draw_bar(surface, palette, picture, light.minute().get()));
        });
    };
    let tall = live(move || {
        let px = picture.with(|picture| {
            picture.as_ref().map_or(0.0, |picture| height_px(picture.lanes.len(), picture.sky.is_some()))
        });
        format!("{:.3}rem", px / UNITS_A_REM)
    });
    let edge = move |read: fn(Hours) -> f64| live(move || hours().map_or(0.0, read).to_string());
    let said = live(move || readout::words(light));
    view! {
        <div
            class="light-bar"
            role="slider"
            tabindex="0"
            aria-label=say!(in "a time on the clock", "Time of day")
            aria-valuemin=edge(|hours| hours.from_min)
            aria-valuemax=edge(|hours| hours.to_min)
            aria-valuenow=live(move || light.minute().get().to_string())
            aria-valuetext=said
            style:--tall=tall
            on:pointerdown=press
            on:pointermove=follow
            on:pointerup=move |_| is_held.set_value(false)
            on:pointercancel=move |_| is_held.set_value(false)
            on:keydown=key
        >
            <CanvasHost
                node
                shows
                draw=Box::new(draw)
                while_moving=WhileMoving::Follows
                label=say!("The day: the sun's height, and when each setup has its light; the table below has the \
                      same in words")
                class="light-bar-canvas"
            />
        </div>
    }
}
