//! The figures of the chosen setup, each opening on what it means.

use language::say;
use leptos::prelude::*;

use crate::session::{Session, result};
use crate::setup::figure_list::{Figure, figure_list};
use crate::turns::{in_turn, said_in_turn};
use crate::widgets::live;

/// The figures of the chosen setup.
#[component]
pub(crate) fn FigurePanel(session: Session) -> impl IntoView {
    let list = in_turn(move || {
        let unit = session.unit();
        session
            .chosen
            .with(|row| result(row.as_ref()).map(|result| figure_list(result, unit)).unwrap_or_default())
    });
    view! {
        <section class="figures" aria-label=say!("Figures")>
            <For
                each={move || list.with(|list| list.iter().map(|figure| figure.label).collect::<Vec<&'static str>>())}
                key=|label| *label
                let:label
            >
                <FigureBlock
                    label
                    figure=Memo::new(move |_| list.with(|list| list.iter().find(|figure| figure.label == label).cloned()))
                />
            </For>
            <p class="quiet provenance">{said_in_turn(move || provenance(session))}</p>
        </section>
    }
}

/// One figure: label, value, a quiet ±, unit; its meaning and formula fold out.
#[component]
fn FigureBlock(label: &'static str, figure: Memo<Option<Figure>>) -> impl IntoView {
    let part = move |part: fn(&Figure) -> String| {
        live(move || figure.with(|figure| figure.as_ref().map(part).unwrap_or_default()))
    };
    // These belong to the label and do not change with the value.
    let (meaning, formula) = figure
        .with_untracked(|figure| figure.as_ref().map_or(("", ""), |figure| (figure.meaning, figure.formula)));
    view! {
        <details class="figure">
            <summary>
                <span class="figure-label">{label}</span>
                <span class="figure-value">{part(|figure| figure.value.clone())}</span>
                <span class="figure-unit">{part(|figure| figure.unit.to_owned())}</span>
                <span class="figure-spread">
                    {part(|figure| figure.spread.as_ref().map(|spread| format!("± {spread}")).unwrap_or_default())}
                </span>
            </summary>
            <p>{language::text(meaning)}</p>
            <p class="quiet">{language::text(formula)}</p>
        </details>
    }
}

/// Where the lens's values come from, and how to hold focus with this camera app.
fn provenance(session: Session) -> String {
    let kit = session.owned.get();
    let Some(row) = session.chosen.get() else { return String::new() };
    let frame = row.result.shot.frame();
    let origin = match frame.recorded.origin {
        optics::Origin::Typical => say!("typical of such a phone; bring your own lens in Kit"),
        optics::Origin::File => say!("read from a file"),
        optics::Origin::Typed => say!("typed in"),
        optics::Origin::Measured => say!("measured"),
    };
    let (app, is_of_thing) = (kit.camera_app, row.result.shot.subject.body().is_none());
    say!(
        "The lens's field of view is {origin}. Focus: {}.",
        if is_of_thing { app.focus_advice_on_thing() } else { app.focus_advice() }
    )
}
