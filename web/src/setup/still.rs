//! The finished picture as a file.

use language::{key, say};
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Blob, HtmlCanvasElement};

use crate::canvas::{Surface, box_size, context_of};
use crate::download;
use crate::pictures::Standing;
use crate::session::{Session, lens_name};
use crate::setup::words;
use crate::widgets::{Choice, Choices, Sheet, live, open};

/// What is said where there is no file.
const NOT_MADE: &str = key!("This browser could not make the file.");

/// Saves the finished picture as a PNG, with or without what is drawn over it.
#[component]
pub(crate) fn SaveStill(
    session: Session,
    /// The picture's canvas.
    picture: NodeRef<html::Canvas>,
    /// How far the picture is.
    standing: RwSignal<Standing>,
    /// Draws the frame lines.
    draw_lines: Box<dyn Fn(&Surface)>,
) -> impl IntoView {
    let draw_lines = StoredValue::new_local(draw_lines);
    let sheet = NodeRef::<html::Dialog>::new();
    let with_lines = RwSignal::new(false);
    let waits = RwSignal::new(false);
    let told = RwSignal::new(String::new());
    let save = move || {
        let Some(canvas) = picture.get_untracked() else { return };
        let name = file_name(session, with_lines.get_untracked());
        let lines = |surface: &Surface| {
            if with_lines.get_untracked() {
                draw_lines.with_value(|draw| draw(surface));
            }
        };
        let saved = compose(&canvas, lines).and_then(|composed| save_as(&composed, name, told));
        if saved.is_err() {
            told.set(language::text(NOT_MADE).to_owned());
        }
    };
    // Saves what was asked for, once it is there.
    Effect::new(move |_| {
        if waits.get() && standing.get() == Standing::Finished {
            waits.set(false);
            save();
        }
    });
    let state = move || match (waits.get(), standing.get()) {
        (true, Standing::Failed(_)) => say!("There is no picture to save.").to_owned(),
        (true, _) => say!("The picture still gets better; it is saved as soon as it is finished.").to_owned(),
        (false, _) => told.get(),
    };
    view! {
        <button
            type="button"
            class="toggle"
            aria-haspopup="dialog"
            on:click=move |_| {
                told.set(String::new());
                open(sheet);
            }
        >
            {say!("Save still")}
        </button>
        <Sheet node=sheet title=say!("Save still")>
            <Choices
                legend=say!("A PNG of")
                choices=[Choice::new(false, say!("the picture alone")), Choice::new(true, say!("the picture with its \
                      lines"))]
                chosen=with_lines.into()
                choose=move |lines| with_lines.set(lines)
            />
            <button type="button" class="primary" on:click=move |_| waits.set(true)>{say!("Save")}</button>
            <p class="quiet" role="status">{live(state)}</p>
        </Sheet>
    }
}

/// A copy of the picture with what is drawn over it.
fn compose(picture: &HtmlCanvasElement, draw_over: impl Fn(&Surface)) -> Result<HtmlCanvasElement, JsValue> {
    let copy: HtmlCanvasElement = document().create_element("canvas")?.unchecked_into();
    copy.set_width(picture.width());
    copy.set_height(picture.height());
    let context = context_of(&copy).ok_or(JsValue::NULL)?;
    context.draw_image_with_html_canvas_element(picture, 0.0, 0.0)?;
    // As wide as on the screen, so that words and lines have the weight that they have there.
    let width = box_size(picture).0.max(1.0);
    let ratio = f64::from(picture.width()) / width;
    let height = f64::from(picture.height()) / ratio;
    context.set_transform(ratio, 0.0, 0.0, ratio, 0.0, 0.0)?;
    draw_over(&Surface { context, width, height, is_moving: false });
    Ok(copy)
}

/// Has the browser save what is on a canvas as a PNG.
fn save_as(canvas: &HtmlCanvasElement, name: String, told: RwSignal<String>) -> Result<(), JsValue> {
    let made = Closure::once_into_js(move |blob: Option<Blob>| {
        let saved = blob.ok_or(JsValue::NULL).and_then(|blob| download::save(&name, &blob));
        let words = match saved {
            Ok(()) => say!("Saved as {name}."),
            Err(_) => language::text(NOT_MADE).to_owned(),
        };
        // The screen may be left by now.
        let _left = told.try_set(words);
    });
    canvas.to_blob(made.unchecked_ref())
}

/// A name that says which lens and size it is, and that every file system takes.
fn file_name(session: Session, with_lines: bool) -> String {
    let size = session.plan.with_untracked(|plan| words::size(plan.shot.shot_size));
    let lens = session.chosen.with_untracked(|row| {
        row.as_ref().map_or_else(String::new, |row| lens_name(&session.owned.get_untracked(), row))
    });
    let lines = if with_lines { say!("lines") } else { "" };
    format!("{}.png", download::plain_name(&["tapemark", &lens, size, lines]))
}
