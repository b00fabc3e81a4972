//! Playing a take: its pictures in its own time, and any moment of it by hand.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use film::Comparison;
use language::say;
use leptos::html;
use leptos::prelude::*;
use staging::{Blocking, Setup, Shot};

use crate::canvas::performance_now;
use crate::lasting::Lasting;
use crate::pictures::{Pictures, Reel, Standing, wants_less_motion};
use crate::session::{Plan, Session};
use crate::widgets::{live, when};

/// Which moment of the take the frame shows, and whether it goes on by itself.
#[derive(Clone, Copy)]
pub(crate) struct Player {
    plan: Lasting<RwSignal<Plan>>,
    chosen: Lasting<Memo<Option<Comparison>>>,
    /// The moment at which the picture rests, seconds: it is drawn as well as it can be.
    rests_at_s: RwSignal<f64>,
    /// The moment that the scrubber stands at.
    shown_s: RwSignal<f64>,
    state: RwSignal<State>,
    /// When it last began to play, on the page's clock: an earlier run ends.
    began_ms: RwSignal<f64>,
    /// The canvas on which played pictures appear.
    screen: NodeRef<html::Canvas>,
    /// How far the picture at rest is.
    standing: RwSignal<Standing>,
}

/// What the player does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    /// The frame shows one moment.
    Rests,
    /// It plays.
    Plays,
    /// The last played picture stays until the one at rest is there.
    Settles,
}

/// A take that plays: everything as it was when it began.
struct Run {
    player: Player,
    began_ms: f64,
    plan: Plan,
    shot: Shot,
    setup: Setup,
    blocking: Blocking,
    reel: RefCell<Reel>,
    /// When this round began, seconds; none before the first picture.
    since_s: Cell<Option<f64>>,
    rounds_left: Cell<u32>,
}

/// How often a take plays: once again after the first time, with the pictures that were left out.
const ROUNDS: u32 = 2;
/// The step of the scrubber's arrow keys, seconds.
const STEP_S: f64 = 0.1;

impl Player {
    pub(crate) fn new(session: Session, standing: RwSignal<Standing>) -> Self {
        Self {
            plan: session.plan,
            chosen: session.chosen,
            rests_at_s: RwSignal::new(0.0),
            shown_s: RwSignal::new(0.0),
            state: RwSignal::new(State::Rests),
            began_ms: RwSignal::new(0.0),
            screen: NodeRef::new(),
            standing,
        }
    }

    /// The moment at which the picture rests, seconds into the take; none at its start, or where nothing happens in it.
    pub(crate) fn rests_at(self) -> Option<f64> {
        let duration_s = self.plan.with(|plan| plan.plays().then(|| plan.duration_s()))?;
        Some(self.rests_at_s.get().min(duration_s)).filter(|at_s| *at_s > 0.0)
    }

    /// At which moment the picture rests, in words; none at the take's start.
    pub(crate) fn words(self) -> String {
        self.rests_at().map_or_else(String::new, |at_s| say!(" after {at_s:.1} s"))
    }

    /// The canvas on which played pictures appear.
    pub(crate) const fn screen(self) -> NodeRef<html::Canvas> {
        self.screen
    }

    /// Whether played pictures are shown.
    pub(crate) fn is_on(self) -> bool {
        self.state.get() != State::Rests
    }

    /// Shows one moment.
    fn rest_at(self, seconds: f64) {
        self.state.set(State::Rests);
        self.shown_s.set(seconds);
        self.rests_at_s.set(seconds);
    }

    fn play(self, pictures: Pictures) {
        let (plan, row) = (self.plan.get_untracked(), self.chosen.get_untracked());
        let Some((row, screen)) = row.zip(self.screen.get_untracked()) else { return };
        let Ok(setup) = row.result.outcome else { return };
        let shown_px = screen.parent_element().map_or(0.0, |frame| f64::from(frame.client_width()));
        let began_ms = performance_now();
        self.began_ms.set(began_ms);
        let run = Run {
            player: self,
            began_ms,
            shot: row.result.shot,
            blocking: plan.blocking(&row.result.shot),
            reel: RefCell::new(Reel::of_take(pictures, plan.duration_s(), setup.frame.aspect(), shown_px)),
            setup,
            plan,
            since_s: Cell::new(None),
            rounds_left: Cell::new(ROUNDS),
        };
        self.shown_s.set(0.0);
        self.state.set(State::Plays);
        Rc::new(run).wait();
    }

    fn stop(self) {
        self.state.set(State::Settles);
        self.rests_at_s.set(self.shown_s.get_untracked());
    }
}

impl Run {
    /// Goes on in the next animation frame.
    fn wait(self: Rc<Self>) {
        request_animation_frame(move || self.go_on());
    }

    fn go_on(self: Rc<Self>) {
        let player = self.player;
        // The screen may be left by now, or play anew.
        let is_latest = player.began_ms.try_get_untracked() == Some(self.began_ms);
        match player.state.try_get_untracked().filter(|_| is_latest) {
            Some(State::Plays) => self.step(),
            Some(State::Settles) if player.standing.get_untracked() != Standing::Waiting => {
                player.state.set(State::Rests);
                return;
            }
            Some(State::Settles) => {}
            Some(State::Rests) | None => return,
        }
        self.wait();
    }

    /// Shows what is due now.
    fn step(&self) {
        let player = self.player;
        if player.plan.with_untracked(|plan| *plan != self.plan) {
            // What plays is no longer what is planned.
            player.rest_at(player.shown_s.get_untracked());
            return;
        }
        let now_s = performance_now() / 1000.0;
        let seconds = self.since_s.get().map_or(0.0, |since_s| now_s - since_s);
        let duration_s = self.plan.duration_s();
        if seconds > duration_s {
            self.rounds_left.set(self.rounds_left.get() - 1);
            if self.rounds_left.get() == 0 {
                player.shown_s.set(duration_s);
                player.stop();
            } else {
                self.since_s.set(Some(now_s));
            }
            return;
        }
        let mut reel = self.reel.borrow_mut();
        reel.go_on(seconds, now_s, |at_s| {
            Some(self.plan.stage_at(&self.shot, &self.setup, &self.blocking, at_s))
        });
        if player.screen.get_untracked().is_some_and(|screen| reel.show(seconds, &screen)) {
            // The take begins with its first picture.
            self.since_s.set(self.since_s.get().or(Some(now_s)));
            player.shown_s.set(seconds);
        }
    }
}

/// Play, stop, and a scrubber that shows any moment of the take; nothing where nothing happens in it.
#[component]
pub(crate) fn PlayBar(player: Player) -> impl IntoView {
    let plan = player.plan;
    let pictures = Pictures::here();
    let duration_s = move || plan.with(Plan::duration_s);
    let at_s = move || player.shown_s.get().min(duration_s());
    let words = live(move || say!("{:.1} s of {:.1} s", at_s(), duration_s()));
    let is_playing = Memo::new(move |_| player.state.get() == State::Plays);
    let press = move |_| if is_playing.get_untracked() { player.stop() } else { player.play(pictures) };
    let button = move || {
        if wants_less_motion() {
            view! { <span class="quiet">{say!("Less motion is asked for: move it by hand.")}</span> }
                .into_any()
        } else {
            view! {
                <button type="button" class="toggle" on:click=press>
                    {live(move || if is_playing.get() { say!("Stop") } else { say!("Play") }.to_owned())}
                </button>
            }
            .into_any()
        }
    };
    view! {
        {when(move || plan.with(Plan::plays), move || view! {
            <div class="play-bar" role="group" aria-label=say!("The take")>
                {button()}
                <input
                    type="range"
                    min="0"
                    max=live(move || duration_s().to_string())
                    step=STEP_S
                    aria-label=say!("Moment of the take")
                    prop:value=live(move || at_s().to_string())
                    aria-valuetext=words
                    on:input:target=move |event| {
                        let seconds = event.target().value_as_number();
                        if seconds.is_finite() {
                            player.rest_at(seconds);
                        }
                    }
                />
                <output aria-hidden="true">{words}</output>
            </div>
        }.into_any())}
    }
}
