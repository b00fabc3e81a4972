//! Measure from a frame: the ends of something of known width are marked, and the angle follows.

use film::{LensRecord, RecordError, RecordingRecord};
use glam::DVec2;
use language::say;
use leptos::prelude::*;
use requests::MeasureAnswer;

use super::frame_entry::{Frame, Marked, ask, entry, lean_words, read, record, words};
use super::frames::FrameList;
use super::intake::{Intake, LONGEST_PX, PictureIntake};
use super::outcome;
use crate::draw::Chalk;
use crate::kit::check::{ThingField, keep_view, named};
use crate::kit::entry::{Entry, leaf};
use crate::kit::explanations::MEASURED_VIEW;
use crate::kit::fold::Fold;
use crate::kit::form::{Form, FormBox, SelectField, TextField};
use crate::marks::{Mark, MarkedPicture, Placing};
use crate::session::Session;
use crate::story::words::sentence_of;
use crate::widgets::{explained, when};

/// What is measured with: the picture, its marks, what was typed, and the frames that count already.
#[derive(Clone, Copy)]
struct Desk {
    session: Session,
    intake: Intake,
    marks: RwSignal<Vec<Mark>>,
    entry: RwSignal<Entry>,
    added: RwSignal<Vec<Frame>>,
    /// What became of the view that was kept last.
    kept: RwSignal<Option<Result<String, RecordError>>>,
}

/// The section: how to, the picture, what is known, and what follows.
#[component]
pub(in crate::kit) fn MeasureLens(session: Session) -> impl IntoView {
    view! {
        <Fold title=say!("Measure from a frame")>
            <link rel="stylesheet" href="kit/measure.css" />
            <p>
                {say!("More exact than a minute's check: film something of known width in the mode you will shoot, the \
                       phone square to it and its distance taped, and mark its two ends on a frame. It need not fill \
                       the frame or be in the middle.")}
            </p>
            <MeasureForm session />
        </Fold>
    }
}

impl Desk {
    fn new(session: Session) -> Self {
        let marks = RwSignal::new(Vec::new());
        let taken = Callback::new(move |(width, height): (u32, u32)| {
            let at = |share: f64| DVec2::new(f64::from(width) * share, f64::from(height) / 2.0);
            marks.set(vec![
                Mark { at: at(0.25), name: say!("Left end"), tape: 0 },
                Mark { at: at(0.75), name: say!("Right end"), tape: 1 },
            ]);
        });
        Self {
            session,
            intake: Intake::new(LONGEST_PX, taken),
            marks,
            entry: RwSignal::new(session.kit.with_untracked(entry)),
            added: RwSignal::new(Vec::new()),
            kept: RwSignal::new(None),
        }
    }

    fn ends_px(self) -> Option<[(f64, f64); 2]> {
        self.marks.with(|marks| {
            let [left, right] = marks.as_slice() else { return None };
            Some([(left.at.x, left.at.y), (right.at.x, right.at.y)])
        })
    }

    /// The picture as it is marked.
    fn marked(self) -> Option<Marked> {
        let coarse = self.intake.picture.with(|picture| {
            let picture = picture.as_ref()?;
            Some(f64::from(picture.true_px.0) / f64::from(picture.size_px().0.max(1)))
        })?;
        let (true_px, ends_px) = (self.intake.true_px()?, self.ends_px()?);
        Some(Marked { file: self.intake.name.get(), true_px, coarse, ends_px })
    }

    /// The frame that is being marked; nothing without a picture.
    fn current(self) -> Option<Result<Frame, RecordError>> {
        let marked = self.marked()?;
        let session = self.session;
        Some(session.owned.with(|kit| self.entry.with(|entry| read(kit, entry, session.unit(), &marked))))
    }

    /// What the frames that count and the one that is being marked say together; nothing if there are none.
    fn answer(self) -> Option<Result<MeasureAnswer, RecordError>> {
        let mut frames = self.added.get();
        self.entry.with(|entry| frames.retain(|frame| frame.counts(entry)));
        match self.current() {
            Some(Ok(frame)) => frames.push(frame),
            Some(Err(error)) if frames.is_empty() => return Some(Err(error)),
            Some(Err(_)) | None => {}
        }
        if frames.is_empty() {
            return None;
        }
        Some(self.session.owned.with(|kit| self.entry.with(|entry| ask(kit, entry, &frames))))
    }

    fn keep(self, answer: &MeasureAnswer) {
        let Some(view) = self.entry.with_untracked(|entry| record(entry, answer)) else { return };
        let words = say!("Kept for {} in {}: it counts everywhere now.", view.lens, view.recording);
        let kept = self.session.kit.with_untracked(|kit| keep_view(kit, view));
        self.kept.set(Some(kept.map(|kit| {
            self.session.kit.set(kit);
            words
        })));
    }
}

#[component]
fn MeasureForm(session: Session) -> impl IntoView {
    let desk = Desk::new(session);
    let current = Memo::new(move |_| desk.current());
    let answer = Memo::new(move |_| desk.answer());
    let problem = Signal::derive(move || current.with(|current| current.as_ref()?.as_ref().err().cloned()));
    let form = Form::new(desk.entry, problem);
    let said = Signal::derive(move || answer.with(|answer| answer.as_ref()?.as_ref().ok().cloned()));
    let is_marked = Memo::new(move |_| desk.intake.picture.with(Option::is_some));
    let lines = move || {
        let mut lines = said.with(|answer| answer.as_ref().map(words).unwrap_or_default());
        lines.extend(desk.ends_px().and_then(lean_words));
        lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()
    };
    // What no field of the form shows by itself: the picture's shape, and marks that are one place.
    let elsewhere = move || {
        let wrong = problem.get().filter(|error| !["width_m", "distance_m"].contains(&leaf(error)))?;
        Some(view! { <p class="problem" role="alert">{sentence_of(&wrong.message)}</p> })
    };
    let add = move |_| {
        form.ask();
        let Some(Ok(frame)) = current.get_untracked() else { return };
        desk.added.update(|added| added.push(frame));
        desk.intake.clear();
    };
    let keep = move || {
        form.ask();
        if let Some(answer) = said.get_untracked() {
            desk.keep(&answer);
        }
    };
    view! {
        <FormBox send=move |()| keep()>
            <div class="kit-fields">
                <SelectField form field="lens" label=say!("Lens") options={named::<LensRecord>(session)} />
                <SelectField form field="recording" label=say!("Mode") options={named::<RecordingRecord>(session)} />
            </div>
            <PictureIntake intake=desk.intake words=say!("Choose a clip, or a frame of one") />
            <p class="quiet">
                {say!("A frame of the video mode, not a photo: the stabiliser crops video while it records, and a \
                       photo has another view.")}
            </p>
            {when(move || is_marked.get(), move || view! { <EndsPicture desk /> }.into_any())}
            <KnownFields session form />
            <ul class="kit-line" aria-live="polite">{lines}</ul>
            <div class="quiet">{explained(say!("How it is measured"), &MEASURED_VIEW)}</div>
            <FrameList session entry=desk.entry frames=desk.added answer=said />
            {elsewhere}
            <div class="kit-buttons">
                <button type="submit" class="kit-do" disabled=move || said.with(Option::is_none)>
                    {say!("Keep as this mode's view")}
                </button>
                <button type="button" disabled=move || !is_marked.get() on:click=add>{say!("Add this frame")}</button>
            </div>
            {move || desk.kept.get().map(outcome)}
        </FormBox>
    }
}

/// The frame with a mark on each end of the thing, and the line between them.
#[component]
fn EndsPicture(desk: Desk) -> impl IntoView {
    let over = move |chalk: &Chalk<'_>, placing: &Placing| {
        let Some([left, right]) = desk.ends_px() else { return };
        let on_canvas = |(x, y): (f64, f64)| placing.to_canvas(DVec2::new(x, y)).into();
        chalk.pen(&chalk.palette.accent, 2.0);
        chalk.line(on_canvas(left), on_canvas(right));
    };
    let label = move || {
        desk.ends_px().map_or_else(String::new, |[left, right]| {
            say!("The frame. The thing's ends are marked {:.0} px apart.", (right.0 - left.0).abs())
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

/// What the thing is, and how far away.
#[component]
fn KnownFields(session: Session, form: Form) -> impl IntoView {
    let distance = move || {
        let unit = session.unit().sign();
        view! {
            <TextField
                form
                field="distance_m"
                label=say!("Taped, lens to thing")
                unit
                hint=say!("taken as good to 0.01 m (half an inch)")
            />
        }
    };
    view! {
        <div class="kit-fields">
            <ThingField session form label=say!("What is marked") />
            {distance}
        </div>
    }
}
