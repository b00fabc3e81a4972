//! A class's answers: files dropped or picked, or pasted, and one table of who met the task and by how much.

use std::sync::Arc;

use film::{ClassTable, HandedFile, Judged, LessonTask, RefusedAnswer, class_csv, class_table, open_task};
use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use units::LengthUnit;

use super::{Learning, amount};
use crate::handing::{Handing, HandingTold};
use crate::story::words::sentence_of;
use crate::widgets::{bytes_of, live, when};

/// An answer as it was handed in: what it was called, and its text.
type HandedIn = (String, String);

/// Larger files are no answers: chosen far above what a class can write.
const LARGEST_BYTES: f64 = 1.0e6;

/// The answers of a class, and the task that they answer.
#[derive(Clone, Copy)]
struct Class {
    /// Files that were handed in.
    files: RwSignal<Vec<HandedIn>>,
    pasted: RwSignal<String>,
    /// The task's link, where the task is not open.
    link: RwSignal<String>,
    task: Memo<Option<Result<Arc<LessonTask>, String>>>,
    /// The unit that whoever reads them has for lengths.
    unit: Signal<LengthUnit>,
    table: Memo<ClassTable>,
}

impl Class {
    fn new(learning: Learning) -> Self {
        let (files, pasted) = (RwSignal::new(Vec::<HandedIn>::new()), RwSignal::new(String::new()));
        let link = RwSignal::new(String::new());
        let task = Memo::new(move |_| match learning.task.get() {
            Some(task) => Some(Ok(task)),
            None => link.with(|link| {
                let is_given = !link.trim().is_empty();
                is_given
                    .then(|| open_task(link).map(Arc::new).map_err(|error| sentence_of(&error.to_string())))
            }),
        });
        let unit = learning.unit;
        let table = Memo::new(move |_| {
            let Some(Ok(task)) = task.get() else { return ClassTable::default() };
            let pasted = pasted.get();
            files.with(|files| {
                let files = files.iter().map(|(name, text)| (name.as_str(), text.as_str()));
                let pasted =
                    (!pasted.trim().is_empty()).then_some((say!("what was pasted"), pasted.as_str()));
                class_table(&task, files.chain(pasted), unit.get())
            })
        });
        Self { files, pasted, link, task, unit, table }
    }

    /// Takes files in; one that cannot be read, or is far too large, is an answer without a word, which the table tells.
    fn bring(self, files: Option<web_sys::FileList>) {
        let Some(files) = files else { return };
        for file in (0..files.length()).filter_map(|at| files.item(at)) {
            spawn_local(async move {
                let bytes = if file.size() > LARGEST_BYTES { Ok(Vec::new()) } else { bytes_of(&file).await };
                let text = String::from_utf8_lossy(&bytes.unwrap_or_default()).into_owned();
                self.files.try_update(|all| all.push((file.name(), text)));
            });
        }
    }

    fn has_any(self) -> bool {
        self.table.with(|table| !table.judged.is_empty() || !table.refused.is_empty())
    }
}

/// The answers and their table.
#[component]
pub(super) fn ClassTableView(learning: Learning) -> impl IntoView {
    let class = Class::new(learning);
    let problem = move || {
        class.task.get().and_then(Result::err).map(|why| view! { <p class="problem" role="alert">{why}</p> })
    };
    let (link, pasted) = (class.link, class.pasted);
    view! {
        <link rel="stylesheet" href="kit/kit.css" />
        <details class="fold learn-class">
            <summary>{say!("Read a class's answers")}</summary>
            {when(move || learning.task.with(Option::is_none), move || view! {
                <label class="field">
                    <span>{say!("The task's link")}</span>
                    <input type="text" prop:value=link on:input:target=move |event| link.set(event.target().value()) />
                </label>
            }.into_any())}
            {problem}
            <label
                class="kit-drop"
                on:dragover=|event| event.prevent_default()
                on:drop=move |event| {
                    event.prevent_default();
                    class.bring(event.data_transfer().and_then(|transfer| transfer.files()));
                }
            >
                <span>{say!("Choose the answers' files, or drop them here")}</span>
                <input type="file" multiple accept=".txt,text/plain" on:change:target=move |event| {
                    let input = event.target();
                    class.bring(input.files());
                    // Emptied, so that choosing the same files again is news.
                    input.set_value("");
                } />
            </label>
            <label class="field">
                <span>{say!("Or paste them, one after the other")}</span>
                <textarea rows="4" prop:value=pasted on:input:target=move |event| pasted.set(event.target().value())></textarea>
            </label>
            {when(move || class.has_any(), move || view! { <Answers class /> }.into_any())}
        </details>
    }
}

/// The table, what could not be read, and a button that saves it.
#[component]
fn Answers(class: Class) -> impl IntoView {
    let handing = Handing::new();
    let save = move |_| {
        let Some(Ok(task)) = class.task.get_untracked() else { return };
        let (table, unit) = (class.table.get_untracked(), class.unit.get_untracked());
        handing.hand(move || {
            let bytes = class_csv(&task, &table, unit).map_err(|error| error.to_string())?;
            Ok(vec![HandedFile { name: "answers.csv".to_owned(), bytes }])
        });
    };
    let rows = move || match class.task.get() {
        Some(Ok(_)) => {
            let unit = class.unit.get();
            let rows = class.table.with(|table| table.judged.iter().map(|one| row(one, unit)).collect_view());
            rows.into_any()
        }
        Some(Err(_)) | None => ().into_any(),
    };
    let refused = move || {
        let told =
            |one: &RefusedAnswer| view! { <li class="problem">{format!("{}: {}", one.from, one.why)}</li> };
        class.table.with(|table| table.refused.iter().map(told).collect_view())
    };
    let count = live(move || {
        class.table.with(|table| {
            let met = table.judged.iter().filter(|judged| judged.is_met).count();
            say!("{met} of {} met it.", table.judged.len())
        })
    });
    let columns = [say!("Who"), say!("Chose"), say!("Lens"), say!("Reached"), say!("Met")]
        .map(|name| view! { <th scope="col">{name}</th> });
    view! {
        <p role="status">{count}</p>
        <div class="learn-table" tabindex="0" role="group" aria-label=say!("The table")>
            <table>
                <thead><tr>{columns.collect_view()}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        <ul class="learn-refused">{refused}</ul>
        <p><button type="button" on:click=save>{say!("Save the table as CSV")}</button></p>
        <HandingTold handing />
    }
}

/// One learner's row.
fn row(judged: &Judged, unit: LengthUnit) -> impl IntoView + use<> {
    let chose = judged.chose.iter().map(|(name, told)| format!("{}: {told}", language::text(name)));
    let chose: Vec<String> = chose.collect();
    let amount = |value: f64| amount(value, judged.figure.unit, unit);
    let met = match (judged.is_met, judged.by) {
        (true, Some(by)) => say!("yes, by {}", amount(by)),
        (false, Some(by)) => say!("no, {} short", amount(-by)),
        (true, None) => say!("yes").to_owned(),
        (false, None) => say!("no: {} cannot be told", judged.figure.name),
    };
    view! {
        <tr class:met=judged.is_met>
            <th scope="row">{judged.who.clone()}</th>
            <td>{chose.join(", ")}</td>
            <td>{judged.lens.clone()}</td>
            <td>{judged.figure.told.clone()}</td>
            <td>{met}</td>
        </tr>
    }
}
