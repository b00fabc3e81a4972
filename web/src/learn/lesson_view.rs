//! A lesson: its pictures, its handles, its sentences and its figures.

use film::{Handle, LessonFigure, LessonSeen};
use language::say;
use leptos::prelude::*;

use super::Learning;
use crate::pictures::{Look, PictureCanvas, Rank, Standing};
use crate::story::words::sentence_of;
use crate::widgets::{NamedChoices, StepField, held, live, when};

impl Learning {
    /// Something of what there is to see, while there is anything.
    pub(super) fn of_seen<Told>(self, tell: impl FnOnce(&LessonSeen) -> Told) -> Option<Told> {
        self.seen.with(|seen| seen.as_ref().ok().map(|seen| tell(seen)))
    }
}

/// The lesson in full.
#[component]
pub(super) fn LessonView(learning: Learning) -> impl IntoView {
    let sentences = move || {
        let sentences = learning.of_seen(|seen| seen.sentences.clone()).unwrap_or_default();
        sentences.map(|sentence| view! { <p>{held(&sentence)}</p> }).collect_view()
    };
    let note = move || {
        learning.of_seen(|seen| seen.note.clone()).flatten().map(|note| view! { <p class="quiet">{note}</p> })
    };
    view! {
        <section class="lesson" aria-label=say!("The lesson")>
            <div class="lesson-shows">
                <LessonPictures learning />
                <LessonHandles learning />
            </div>
            <div class="lesson-tells">
                <div class="lesson-says" role="status">{sentences}{note}</div>
                <LessonFigures learning />
            </div>
        </section>
    }
}

/// The pictures, one beside the other, or why there are none.
#[component]
pub(super) fn LessonPictures(learning: Learning) -> impl IntoView {
    let count = Memo::new(move |_| learning.of_seen(|seen| seen.views.len()).unwrap_or(0));
    let lacks = move || {
        let why = learning.seen.with(|seen| seen.as_ref().err().map(ToString::to_string));
        why.map(|why| view! { <p class="problem" role="alert">{sentence_of(&why)}</p> })
    };
    view! {
        {lacks}
        <div class="lesson-pictures" class:two=move || count.get() == 2>
            <For each=move || 0..count.get() key=|at| *at children=move |at| picture(learning, at) />
        </div>
    }
}

/// One picture with its caption; those who do not see it are told what there is to see.
fn picture(learning: Learning, at: usize) -> impl IntoView {
    let look = Signal::derive(move || {
        learning.of_seen(|seen| seen.views.get(at).map(|view| Look::of(&view.stage, view.aspect))).flatten()
    });
    let shows = Signal::derive(move || look.track());
    let aspect = move || look.with(|look| look.as_ref().map_or(1.0, |look| look.aspect));
    let caption = move || {
        learning
            .of_seen(|seen| seen.views.get(at).map(|view| view.caption.clone()))
            .flatten()
            .unwrap_or_default()
    };
    let told = live(move || {
        let sentences = learning.of_seen(|seen| seen.sentences.join(" ")).unwrap_or_default();
        format!("{} {sentences}", caption())
    });
    view! {
        <figure class="lesson-picture" style:--aspect=live(move || aspect().to_string())>
            <div role="img" aria-label=told>
                <PictureCanvas rank=Rank::Large shows look standing=RwSignal::new(Standing::Waiting) class="picture" />
            </div>
            {when(move || !caption().is_empty(), move || view! { <figcaption>{live(caption)}</figcaption> }.into_any())}
        </figure>
    }
}

/// What can be moved, and the lenses to choose among.
#[component]
pub(super) fn LessonHandles(learning: Learning) -> impl IntoView {
    let lesson = Memo::new(move |_| learning.state.with(|state| state.lesson));
    let handles = move || {
        let handles = lesson.get().handles().iter().enumerate();
        handles.map(|(at, handle)| handle_field(learning, at, *handle)).collect_view()
    };
    let lenses = Memo::new(move |_| {
        let kit = learning.kit.get();
        kit.lenses.iter().map(|lens| lens.name.clone()).enumerate().collect::<Vec<_>>()
    });
    let chosen = Signal::derive(move || {
        let name = learning.of_seen(|seen| seen.lens.clone())?;
        lenses.with(|lenses| lenses.iter().find(|(_, one)| *one == name).map(|(at, _)| *at))
    });
    let choose = move |at: usize| {
        let name = lenses.with_untracked(|lenses| lenses.get(at).map(|(_, name)| name.clone()));
        learning.state.update(|state| state.lens = name);
        learning.lens_gone.set(None);
    };
    view! {
        <div class="lesson-handles">
            {handles}
            {when(move || lenses.with(Vec::len) > 1, move || view! {
                <NamedChoices legend=say!("Lens") choices=lenses chosen choose />
            }.into_any())}
            {move || learning.lens_gone.get().map(|name| view! {
                <p class="quiet" role="status">
                    {say!("The link asks for a lens called {name}, which this phone has not: this is its main lens.")}
                </p>
            })}
        </div>
    }
}

fn handle_field(learning: Learning, at: usize, handle: Handle) -> impl IntoView {
    let value = Signal::derive(move || {
        learning
            .state
            .with(|state| state.values.get(at).copied())
            .map_or(handle.usual, |value| handle.held(value))
    });
    let told = handle.told;
    let set = move |value: f64| {
        learning.state.update(|state| {
            // A state has a value for each handle, unless a link left them as they are.
            state.values.resize_with(state.lesson.handles().len(), || f64::NAN);
            for (value, handle) in state.values.iter_mut().zip(state.lesson.handles()) {
                *value = handle.held(*value);
            }
            if let Some(own) = state.values.get_mut(at) {
                *own = handle.held(value);
            }
        });
    };
    view! {
        <StepField
            label=language::text(handle.name)
            range=(handle.min, handle.max)
            step=handle.step
            value
            words=move |value: f64| told(value, learning.unit.get())
            set
        />
    }
}

/// The figures.
#[component]
fn LessonFigures(learning: Learning) -> impl IntoView {
    let figures = move || learning.of_seen(|seen| seen.figures.iter().map(figure).collect_view());
    view! { <dl class="lesson-figures">{figures}</dl> }
}

fn figure(LessonFigure { name, told, .. }: &LessonFigure) -> impl IntoView + use<> {
    view! {
        <div>
            <dt>{name.clone()}</dt>
            <dd>{held(told)}</dd>
        </div>
    }
}
