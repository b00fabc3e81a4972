//! The day on paper: which sheets, a look at them, and the browser's own print.

use std::collections::BTreeMap;

use film::{SheetDay, SheetOrder, SheetPart, Sheets, ShotId};
use language::say;
use leptos::html;
use leptos::prelude::*;
use units::Length;

use super::calendar::Calendar;
use super::hand::Hand;
use crate::part::Part;
use crate::pictures::{PictureCanvas, Rank, Standing};
use crate::story::{depends, look};
use crate::widgets::{Choice, Choices, Tick, live, when};

/// What is asked of the sheets.
#[derive(Clone, Copy)]
struct Asked {
    parts: RwSignal<Vec<SheetPart>>,
    order: RwSignal<SheetOrder>,
}

/// The pictures of the sheets, as far as they are drawn; none for one that cannot be.
type Drawn = RwSignal<BTreeMap<ShotId, Option<String>>>;

/// The sheets, and what is chosen of them.
#[component]
pub(super) fn Paper(hand: Hand) -> impl IntoView {
    let asked =
        Asked { parts: RwSignal::new(SheetPart::ALL.to_vec()), order: RwSignal::new(SheetOrder::Work) };
    let drawn: Drawn = RwSignal::new(BTreeMap::new());
    let shots: Memo<Vec<ShotId>> = Memo::new(move |_| {
        with_sheets(hand, asked, |hand, sheets| {
            let can_be_drawn = |shot: &ShotId| is_drawn(hand, sheets, *shot);
            sheets.shots().into_iter().filter(can_be_drawn).collect()
        })
        .unwrap_or_default()
    });
    let left = Memo::new(move |_| drawn.with(|drawn| shots.with(|shots| left_to_draw(shots, drawn))));
    let markup = Memo::new(move |_| {
        if left.get() > 0 {
            return String::new();
        }
        drawn.with(|drawn| {
            let picture = |shot: ShotId| drawn.get(&shot).cloned().flatten();
            with_sheets(hand, asked, |hand, sheets| {
                hand.desk.walk(|rehearsals| sheets.markup(rehearsals, &picture))
            })
            .unwrap_or_default()
        })
    });
    let state = live(move || match left.get() {
        0 => say!("Print, or save as PDF from the browser's print.").to_owned(),
        1 => say!("Drawing: 1 picture is left.").to_owned(),
        left => say!("Drawing: {left} pictures are left."),
    });
    let print = move |_: leptos::ev::MouseEvent| {
        if let Err(error) = window().print() {
            leptos::logging::warn!("the browser does not print: {error:?}");
        }
    };
    view! {
        <link rel="stylesheet" href="print/print.css" />
        <section class="day-part day-paper" aria-labelledby="day-paper">
            <h3 id="day-paper">{say!("On paper")}</h3>
            <Which asked />
            <div class="day-buttons">
                <button type="button" class="next" disabled={move || left.get() > 0} on:click=print>
                    {say!("Print")}
                </button>
                <p role="status">{state}</p>
            </div>
            <Calendar hand />
        </section>
        <div class="day-drawing" aria-hidden="true">
            <For each=move || shots.get() key=|shot| *shot children=move |shot| view! { <OnePicture hand shot drawn /> } />
        </div>
        {when(move || left.get() == 0, move || view! {
            <div
                class="day-sheets"
                role="region"
                aria-label=say!("The sheets")
                tabindex="0"
                inner_html=move || markup.get()
            ></div>
        }.into_any())}
    }
}

/// How many pictures are not there yet.
fn left_to_draw(shots: &[ShotId], drawn: &BTreeMap<ShotId, Option<String>>) -> usize {
    shots.iter().filter(|shot| !drawn.contains_key(shot)).count()
}

/// Whether a shot can be made, and so has a picture.
fn is_drawn(hand: Hand, sheets: &Sheets<'_>, shot: ShotId) -> bool {
    let Some((scene, one)) = sheets.film.shot(shot) else { return false };
    let rehearsal = hand.desk.rehearsal(sheets.film, scene, one);
    rehearsal.as_ref().as_ref().is_ok_and(|made| made.result().outcome.is_ok())
}

/// Something of the sheets as they are asked for; nothing without a day.
fn with_sheets<Out>(hand: Hand, asked: Asked, read: impl FnOnce(Hand, &Sheets<'_>) -> Out) -> Option<Out> {
    let daylights = hand.shooting().daylights.get();
    let session = hand.session();
    let step = Length::from_m(session.settings.with(|settings| settings.step_m));
    let unit = session.unit();
    hand.read(|film, day, plan| {
        let number = film.days.iter().position(|one| one.id == day.id).map(|at| at + 1);
        asked.parts.with(|parts| {
            let day = SheetDay { number, day, plan, daylights: &daylights };
            let order = asked.order.get();
            read(hand, &Sheets { film, day: Some(day), parts, order, step, unit })
        })
    })
}

/// Which sheets, and in which order.
#[component]
fn Which(asked: Asked) -> impl IntoView {
    let Asked { parts, order } = asked;
    let rows = SheetPart::ALL.map(|part| {
        let is_on = Signal::derive(move || parts.with(|parts| parts.contains(&part)));
        let set = move |is_on: bool| {
            parts.update(|parts| {
                parts.retain(|one| *one != part);
                if is_on {
                    parts.push(part);
                }
            });
        };
        view! { <Tick words=crate::story::words::capital(part.name()) is_on set /> }
    });
    view! {
        <fieldset class="choices">
            <legend>{say!("Sheets")}</legend>
            <div>{rows.collect_view()}</div>
        </fieldset>
        <Choices
            legend=say!("Shots in")
            choices=[SheetOrder::Work, SheetOrder::Story].map(|order| Choice::new(order, order.name()))
            chosen=order.into()
            choose=move |chosen: SheetOrder| order.set(chosen)
        />
    }
}

/// One picture, drawn out of sight.
#[component]
fn OnePicture(hand: Hand, shot: ShotId, drawn: Drawn) -> impl IntoView {
    let desk = hand.desk;
    let scene_id = desk.film.with_untracked(|film| Some(film.as_ref()?.shot(shot)?.0.id));
    let scene = Memo::new(move |_| desk.film.with(|film| Some(Part(film.as_ref()?.shot(shot)?.0.clone()))));
    let one = Memo::new(move |_| desk.film.with(|film| Some(Part(film.as_ref()?.shot(shot)?.1.clone()))));
    let shows = depends(desk, scene, Signal::derive(move || one.get()));
    let look = Signal::derive(move || look(desk, scene_id?, shot, 0.0));
    let standing = RwSignal::new(Standing::Waiting);
    let node = NodeRef::<html::Canvas>::new();
    Effect::new(move |_| {
        let picture = match standing.get() {
            // What was drawn of it is not what the sheets tell of any more.
            Standing::Waiting => return drawn.maybe_update(|drawn| drawn.remove(&shot).is_some()),
            Standing::Refining => return,
            Standing::Failed(_) => None,
            Standing::Finished => node.get_untracked().and_then(|canvas| canvas.to_data_url().ok()),
        };
        drawn.update(|drawn| {
            drawn.insert(shot, picture);
        });
    });
    view! { <PictureCanvas rank=Rank::Small shows look standing node class="day-drawn" /> }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_that_cannot_be_drawn_is_not_waited_for() {
        let shot = |number| ShotId::new(number).expect("an id");
        let shots = [shot(1), shot(2), shot(3)];
        let drawn = BTreeMap::from([(shot(1), None), (shot(3), Some("data:,".to_owned()))]);
        assert_eq!(left_to_draw(&shots, &drawn), 1);
        assert_eq!(left_to_draw(&shots, &BTreeMap::new()), 3);
    }
}
