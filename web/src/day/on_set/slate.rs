//! The slate: the take's number, full screen, to hold before the lens; with a sound and a flash, if wanted, that picture and a
//! recorder's track are lined up by.

use std::time::Duration;

use film::ShotId;
use js_sys::{Function, Reflect};
use language::say;
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};

use crate::day::hand::Hand;
use crate::widgets::{close, open};

/// How long the mark is seen and heard: chosen, as it is some frames at any rate and over before anybody speaks.
const MARK_MS: u32 = 200;
/// A tone that phones and recorders hear alike: 1 kHz, common practice.
const TONE_HZ: f64 = 1000.0;

/// The slate of one take.
#[component]
pub(super) fn Slate(
    hand: Hand,
    shot: ShotId,
    take: u32,
    /// What is done when it has been put away.
    #[prop(into)]
    done: Callback<()>,
) -> impl IntoView {
    let node = NodeRef::<html::Dialog>::new();
    let is_marked = RwSignal::new(false);
    let told = hand.read_once(|film, day, _| {
        let (scene, number) = film.number_of(shot).unwrap_or_default();
        let date = day.date.map_or_else(String::new, |date| date.to_string());
        (film.facts.called().to_owned(), scene, number, date)
    });
    let (title, scene, number, date) = told.unwrap_or_default();
    Effect::new(move |_| {
        if node.get().is_some() {
            open(node);
        }
    });
    let mark = move |_| {
        if let Err(error) = beep() {
            leptos::logging::warn!("no sound could be made: {error:?}");
        }
        is_marked.set(true);
        set_timeout(
            move || {
                is_marked.try_set(false);
            },
            Duration::from_millis(u64::from(MARK_MS)),
        );
    };
    view! {
        <dialog
            node_ref=node
            class="slate"
            class:marked=move || is_marked.get()
            aria-label=say!("Slate: scene {scene}, shot {number}, take {take}")
            on:close=move |_| {
                done.try_run(());
            }
        >
            <p class="slate-title">{title}</p>
            <dl>
                <div><dt>{say!("Scene")}</dt><dd>{scene}</dd></div>
                <div><dt>{say!("Shot")}</dt><dd>{number}</dd></div>
                <div><dt>{say!("Take")}</dt><dd>{take}</dd></div>
            </dl>
            <p>{date}</p>
            <div class="slate-buttons">
                <button type="button" on:click=mark>{say!("Flash and beep")}</button>
                <button type="button" on:click=move |_| close(node)>{say!("Done")}</button>
            </div>
        </dialog>
    }
}

thread_local! {
    /// What sounds, or why nothing does: one for all marks, as browsers limit how many there may be.
    static SOUND: Result<JsValue, JsValue> = sound();
}

/// An audio context of the Web Audio API.
fn sound() -> Result<JsValue, JsValue> {
    let kind: Function = Reflect::get(&window(), &"AudioContext".into())?.dyn_into()?;
    Reflect::construct(&kind, &js_sys::Array::new())
}

/// Sounds a short tone.
fn beep() -> Result<(), JsValue> {
    let context = SOUND.with(Result::clone)?;
    let call = |on: &JsValue, name: &str, arguments: &[JsValue]| {
        let function: Function = Reflect::get(on, &name.into())?.dyn_into()?;
        function.apply(on, &arguments.iter().collect())
    };
    // Phones put it to rest while the page is hidden; what was begun meanwhile sounds once it goes on.
    call(&context, "resume", &[])?;
    let tone = call(&context, "createOscillator", &[])?;
    Reflect::set(&Reflect::get(&tone, &"frequency".into())?, &"value".into(), &TONE_HZ.into())?;
    call(&tone, "connect", &[Reflect::get(&context, &"destination".into())?])?;
    let now_s = Reflect::get(&context, &"currentTime".into())?.as_f64().unwrap_or(0.0);
    call(&tone, "start", &[])?;
    call(&tone, "stop", &[(now_s + f64::from(MARK_MS) / 1000.0).into()])?;
    Ok(())
}
