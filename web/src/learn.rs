//! Learn: short lessons to play with, on the learner's own phone and the same core as everything else.
//!
//! Nothing here computes: `film::Lesson` says what is to be seen, and this shows it.

mod class;
mod frame;
mod hand_in;
mod lesson_view;
mod passing;
mod set_task;
mod task_bar;

use std::cell::RefCell;
use std::sync::Arc;

use film::{
    FigureUnit, Kit, Lesson, LessonSeen, LessonState, LessonTask, NoLesson, open_lesson_link, open_task,
};
use language::say;
use leptos::leptos_dom::helpers::location_hash;
use leptos::prelude::*;
use units::{Length, LengthUnit};

use crate::part::Part;
use crate::pictures::Pictures;
use crate::session::Session;
use crate::story::words::sentence_of;
use crate::widgets::{live, plain, when};
pub use frame::open_frame;
use lesson_view::LessonView;

/// What is learnt: the lesson, where its handles are, and what there is to see.
#[derive(Clone, Copy)]
struct Learning {
    state: RwSignal<LessonState>,
    /// The phone that a link brought along, instead of the learner's own.
    brought: RwSignal<Option<Arc<Kit>>>,
    /// The phone that is learnt on.
    kit: Memo<Arc<Kit>>,
    /// What is to be met, if a teacher has set it.
    task: RwSignal<Option<Arc<LessonTask>>>,
    /// The lens that a link asks for and the phone has not.
    lens_gone: RwSignal<Option<String>>,
    /// What was wrong with the link that was opened.
    problem: RwSignal<Option<String>>,
    /// The unit that the learner has for lengths, whatever a link's sender had.
    unit: Signal<LengthUnit>,
    /// What there is to see.
    seen: Memo<Result<Part<LessonSeen>, NoLesson>>,
}

thread_local! {
    /// Where the lesson stood when the screen was left.
    static LAST: RefCell<Option<LessonState>> = const { RefCell::new(None) };
}

impl Learning {
    /// The lesson that the address brings, or else the one that was left.
    fn open(session: Session) -> Self {
        let last = LAST.take().unwrap_or_else(|| LessonState::usual(Lesson::ALL[0]));
        let (state, brought) = (RwSignal::new(last), RwSignal::new(None::<Arc<Kit>>));
        let kit = Memo::new(move |_| brought.get().unwrap_or_else(|| session.owned.get()));
        let unit = Signal::derive(move || session.unit());
        let seen = Memo::new(move |_| {
            state.with(|state| {
                let seen = state.lesson.seen(&kit.get(), state.lens.as_deref(), &state.values, unit.get())?;
                Ok(Part(Arc::new(seen)))
            })
        });
        let (task, lens_gone, problem) = (RwSignal::new(None), RwSignal::new(None), RwSignal::new(None));
        let this = Self { state, brought, kit, task, lens_gone, problem, unit, seen };
        this.follow_address();
        let heard = window_event_listener_untyped("hashchange", move |_| this.follow_address());
        on_cleanup(move || {
            heard.remove();
            // A screen that is opened again goes on where it was.
            LAST.set(state.try_get_untracked());
        });
        this
    }

    /// Opens what the address brings, if it is a lesson or a task.
    fn follow_address(self) {
        let Some(hash) = location_hash() else { return };
        let opened = if hash.starts_with("learn=") {
            open_lesson_link(&hash).map(|link| (link.state, link.kit, None))
        } else if hash.starts_with("task=") {
            open_task(&hash).map(|task| (task.state.clone(), task.kit.clone(), Some(Arc::new(task))))
        } else {
            return;
        };
        match opened {
            Ok((state, kit, task)) => {
                self.state.set(state);
                self.see_on(kit.map(Arc::new));
                self.task.set(task);
                self.problem.set(None);
            }
            Err(error) => self.problem.set(Some(sentence_of(&error.to_string()))),
        }
    }

    /// Sees the lesson on that phone or, without one, on the learner's own: through its main lens, if it has none of the
    /// lens's name.
    fn see_on(self, phone: Option<Arc<Kit>>) {
        self.brought.set(phone);
        let asked = self.state.with_untracked(|state| state.lens.clone());
        let gone = self
            .kit
            .with_untracked(|kit| asked.filter(|name| kit.lenses.iter().all(|one| one.name != *name)));
        if gone.is_some() {
            self.state.update(|state| state.lens = None);
        }
        self.lens_gone.set(gone);
    }

    /// What was wrong with the link that was opened.
    fn told_problem(self) -> impl IntoView {
        move || self.problem.get().map(|words| view! { <p class="problem" role="alert">{words}</p> })
    }

    /// Another lesson, as it is at first; what was set is of the one before.
    fn go_to(self, lesson: Lesson) {
        self.task.set(None);
        self.problem.set(None);
        let lens = self.state.with_untracked(|state| state.lens.clone());
        self.state.set(LessonState { lens, ..LessonState::usual(lesson) });
    }
}

/// So much of a figure, with its unit; a length in `lengths`.
fn amount(value: f64, of: FigureUnit, lengths: LengthUnit) -> String {
    match of {
        FigureUnit::Metres => Length::from_m(value).told(lengths, 2),
        FigureUnit::Shared(sign) => format!("{} {sign}", plain(value)).trim_end().to_owned(),
    }
}

/// The Learn screen.
#[component]
pub(crate) fn LearnScreen(session: Session) -> impl IntoView {
    Pictures::provide(session);
    let learning = Learning::open(session);
    view! {
        <link rel="stylesheet" href="learn/learn.css" />
        <div class="learn">
            <Which learning />
            {learning.told_problem()}
            <task_bar::TaskBar learning />
            <LessonView learning />
            <OnWhichPhone learning />
            <passing::Passing learning />
            <set_task::SetTask learning />
            <class::ClassTableView learning />
        </div>
    }
}

/// Which lesson it is, and the ways to the others.
#[component]
fn Which(learning: Learning) -> impl IntoView {
    let lesson = Memo::new(move |_| learning.state.with(|state| state.lesson));
    let at = move || Lesson::ALL.iter().position(|one| *one == lesson.get()).unwrap_or(0);
    let go = move |by: isize| {
        if let Some(lesson) = at().checked_add_signed(by).and_then(|at| Lesson::ALL.get(at)) {
            learning.go_to(*lesson);
        }
    };
    let options = Lesson::ALL.into_iter().enumerate().map(|(number, one)| {
        view! {
            <option value=one.word() prop:selected=move || lesson.get() == one>
                {format!("{}. {}", number + 1, one.title())}
            </option>
        }
    });
    view! {
        <header class="learn-which">
            <h1>{live(move || lesson.get().title().to_owned())}</h1>
            <div class="learn-others">
                <button type="button" disabled=move || at() == 0 on:click=move |_| go(-1)>{say!("Back")}</button>
                <select aria-label=say!("Lesson") on:change:target=move |event| {
                    if let Some(lesson) = Lesson::of_word(&event.target().value()) {
                        learning.go_to(lesson);
                    }
                }>{options.collect_view()}</select>
                <button type="button" class="next" disabled=move || at() + 1 == Lesson::ALL.len() on:click=move |_| go(1)>
                    {say!("Next lesson")}
                </button>
            </div>
        </header>
    }
}

/// Whose phone the figures are of.
#[component]
fn OnWhichPhone(learning: Learning) -> impl IntoView {
    let is_brought = move || learning.brought.with(Option::is_some);
    let words = live(move || {
        let name = learning.kit.with(|kit| film::kit_told(&kit.name).to_owned());
        if is_brought() {
            say!("The link brought its own phone, {name}: everybody who opens it sees the same.")
        } else {
            say!("Every figure is of your phone: {name}. Bring your own in Kit.")
        }
    });
    view! {
        <p class="quiet">{words}</p>
        {when(is_brought, move || view! {
            <button type="button" on:click=move |_| learning.see_on(None)>{say!("See it on my phone")}</button>
        }.into_any())}
    }
}
