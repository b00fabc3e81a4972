//! A learner hands in: who they are, and the answer to copy or to save as a small file.

use film::{HandedFile, answer_text, plain_name};
use language::say;
use leptos::prelude::*;

use super::Learning;
use crate::handing::{Handing, HandingTold};
use crate::widgets::{CopyField, TypedField, live, when};

/// The form.
#[component]
pub(super) fn HandIn(learning: Learning) -> impl IntoView {
    let who = RwSignal::new(String::new());
    let take = move |name: String| {
        who.set(name.trim().to_owned());
        Ok(())
    };
    let text = live(move || {
        let kit = learning.kit.get();
        let answer = learning.task.with(|task| {
            let task = task.as_ref()?;
            Some(learning.state.with(|state| answer_text(&task.answered(&who.get(), state, &kit))))
        });
        answer.unwrap_or_default()
    });
    let handing = Handing::new();
    let save = move |_| {
        let (text, name) = (text.get_untracked(), format!("answer-{}", plain_name(&who.get_untracked())));
        handing.hand(move || Ok(vec![HandedFile { name: format!("{name}.txt"), bytes: text.into_bytes() }]));
    };
    let can = move || who.with(|who| !who.is_empty());
    view! {
        <details class="fold">
            <summary>{say!("Hand it in")}</summary>
            <TypedField
                label=say!("Your name")
                hint=say!("As your teacher knows you.")
                shown=Signal::derive(move || who.get())
                take
            />
            {when(can, move || view! {
                <CopyField label=say!("Your answer") text=text />
                <p><button type="button" on:click=save>{say!("Save it as a file")}</button></p>
                <HandingTold handing />
            }.into_any())}
        </details>
    }
}
