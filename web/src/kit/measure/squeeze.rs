//! An adapter's squeeze: the edges of something round or square are marked in a frame taken through it.

use film::{AdapterRecord, RecordError};
use glam::DVec2;
use language::say;
use leptos::prelude::*;

use super::intake::{Intake, LONGEST_PX, PictureIntake};
use super::squeeze_entry::{Edges, adapter, entry, measured, read, words};
use super::{change_adapter, outcome};
use crate::draw::Chalk;
use crate::kit::check::named;
use crate::kit::entry::Entry;
use crate::kit::form::{Form, FormBox, SelectField, TextField};
use crate::marks::{Mark, MarkedPicture, Placing};
use crate::session::Session;
use crate::story::words::sentence_of;
use crate::widgets::when;

/// The picture with its four marks, and what was typed.
#[derive(Clone, Copy)]
struct Desk {
    session: Session,
    intake: Intake,
    marks: RwSignal<Vec<Mark>>,
    entry: RwSignal<Entry>,
}

impl Desk {
    fn new(session: Session) -> Self {
        let marks = RwSignal::new(Vec::new());
        let taken = Callback::new(move |(width, height): (u32, u32)| {
            let (middle, reach) =
                (DVec2::new(f64::from(width), f64::from(height)) / 2.0, f64::from(width.min(height)) / 4.0);
            let mark =
                |name, x: f64, y: f64, tape| Mark { at: middle + DVec2::new(x, y) * reach, name, tape };
            marks.set(vec![
                mark(say!("Left edge"), -1.0, 0.0, 0),
                mark(say!("Right edge"), 1.0, 0.0, 1),
                mark(say!("Upper edge"), 0.0, -1.0, 2),
                mark(say!("Lower edge"), 0.0, 1.0, 3),
            ]);
        });
        Self {
            session,
            intake: Intake::new(LONGEST_PX, taken),
            marks,
            entry: RwSignal::new(session.kit.with_untracked(entry)),
        }
    }

    fn edges(self) -> Option<Edges> {
        let (true_px, coarse) = self.intake.picture.with(|picture| {
            let picture = picture.as_ref()?;
            let coarse = f64::from(picture.true_px.0) / f64::from(picture.size_px().0.max(1));
            Some((picture.true_px, coarse))
        })?;
        self.marks.with(|marks| {
            let [left, right, upper, lower] = marks.as_slice() else { return None };
            Some(Edges {
                across_px: (left.at.x, right.at.x),
                down_px: (upper.at.y, lower.at.y),
                coarse,
                is_upright: true_px.1 > true_px.0,
            })
        })
    }
}

/// The form: the adapter, the picture, the thing's true shape, and what follows.
#[component]
pub(super) fn MeasureSqueeze(session: Session) -> impl IntoView {
    let desk = Desk::new(session);
    let answer = Memo::new(move |_| {
        let edges = desk.edges()?;
        Some(session.kit.with(|kit| desk.entry.with(|entry| read(kit, entry, &edges))))
    });
    let problem = Signal::derive(move || answer.with(|answer| answer.as_ref()?.as_ref().err().cloned()));
    let form = Form::new(desk.entry, problem);
    let kept = RwSignal::new(None::<Result<String, RecordError>>);
    let is_marked = Memo::new(move |_| desk.intake.picture.with(Option::is_some));
    let line = move || {
        let sold = desk.entry.with(|entry| {
            session.kit.with(|kit| adapter(kit, entry.text("adapter")).map(|adapter| adapter.squeeze))
        });
        answer.with(|answer| match answer {
            Some(Ok(answer)) => words(answer, sold),
            Some(Err(_)) | None => String::new(),
        })
    };
    // The marks lie beside the thing at first, and that is no mistake of anybody's.
    let other = move || {
        let wrong = problem.with(|problem| problem.as_ref().filter(|error| error.path.is_empty()).cloned());
        wrong.map(|error| view! { <p class="quiet">{sentence_of(&error.message)}</p> })
    };
    let keep = move || {
        form.ask();
        let Some(Ok(answer)) = answer.get_untracked() else { return };
        let name = desk.entry.with_untracked(|entry| entry.text("adapter").to_owned());
        let changed = change_adapter(session, &name, |before| measured(before, &answer));
        kept.set(Some(changed.map(|()| say!("Kept for {name}: everything that uses it counts with that."))));
    };
    view! {
        <FormBox send=move |()| keep()>
            <p class="quiet">
                {say!("With the adapter on, film a plate or another round or square thing, the phone square to it, and \
                       mark its edges on a frame as the camera recorded it.")}
            </p>
            <SelectField form field="adapter" label=say!("Adapter") options={named::<AdapterRecord>(session)} />
            <PictureIntake intake=desk.intake words=say!("Choose a clip or a picture through the adapter") />
            {when(move || is_marked.get(), move || view! { <EdgesPicture desk /> }.into_any())}
            <TextField
                form
                field="width_over_height"
                label=say!("Its true width over its height")
                hint=say!("1 for a circle or a square")
            />
            <p class="kit-line" aria-live="polite">{line}</p>
            {other}
            <div class="kit-buttons">
                <button type="submit" class="kit-do" disabled=move || line().is_empty()>{say!("Keep as its squeeze")}</button>
            </div>
            {move || kept.get().map(outcome)}
        </FormBox>
    }
}

/// The picture with a mark on each edge, and the box between them.
#[component]
fn EdgesPicture(desk: Desk) -> impl IntoView {
    let over = move |chalk: &Chalk<'_>, placing: &Placing| {
        let Some(edges) = desk.edges() else { return };
        let corner = |x: f64, y: f64| placing.to_canvas(DVec2::new(x, y)).into();
        let ((left, right), (upper, lower)) = (edges.across_px, edges.down_px);
        let around = [(left, upper), (right, upper), (right, lower), (left, lower), (left, upper)];
        chalk.pen(&chalk.palette.accent, 1.5);
        chalk.stroke(around.into_iter().map(|(x, y)| corner(x, y)));
    };
    let label = move || {
        desk.edges().map_or_else(String::new, |edges| {
            let apart = |(one, other): (f64, f64)| (other - one).abs();
            say!(
                "The picture. The thing is marked {:.0} px wide and {:.0} px high.",
                apart(edges.across_px),
                apart(edges.down_px)
            )
        })
    };
    view! {
        <MarkedPicture
            picture=desk.intake.picture.into()
            marks=desk.marks
            over_shows=Signal::derive(|| ())
            over=Box::new(over)
            palette=desk.session.palette
            label=Signal::derive(label)
        />
    }
}
