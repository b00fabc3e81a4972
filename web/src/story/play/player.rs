//! Playing entries one after the other in their own time, and any moment of them by hand.

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::Arc;

use leptos::html;
use leptos::prelude::*;

use crate::canvas::performance_now;
use crate::pictures::{Pictures, Reel, Standing};
use crate::story::play::running_order::{RunningOrder, Shows};

/// Which moment is shown, and whether it goes on by itself.
#[derive(Clone, Copy)]
pub(super) struct Player {
    order: StoredValue<Arc<RunningOrder>>,
    /// The moment that is shown, seconds from the start of all.
    at_s: RwSignal<f64>,
    /// The moment at which the picture rests: it is drawn as well as it can be.
    rests_at_s: RwSignal<f64>,
    state: RwSignal<State>,
    /// Whether the screen has what is due, and not what was due before.
    is_on_time: RwSignal<bool>,
    /// Whether two neighbours are shown instead.
    is_beside: RwSignal<bool>,
    /// The canvas on which played pictures appear.
    screen: NodeRef<html::Canvas>,
    /// How far the picture at rest is.
    standing: RwSignal<Standing>,
    /// Whether the moment was changed by hand since the last frame.
    has_leapt: StoredValue<bool>,
    /// Counts how often it began to play, so that an earlier run ends.
    run: StoredValue<u32>,
    /// The pictures that were drawn, kept for when it plays on, and the width for which they were.
    reel: StoredValue<Option<Drawn>, LocalStorage>,
}

/// A width in CSS pixels, and the reel of pictures that are shown so wide.
type Drawn = (f64, Rc<RefCell<Reel>>);

/// What the player does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    /// It shows one moment.
    Rests,
    /// It plays.
    Plays,
    /// The last played picture stays until the one at rest is there.
    Settles,
}

/// From one press of Play to the next pause.
struct Run {
    player: Player,
    number: u32,
    order: Arc<RunningOrder>,
    reel: Rc<RefCell<Reel>>,
    /// When the first second of all would have been, seconds on the clock; none while time stands still.
    since_s: Cell<Option<f64>>,
    /// When the last frame was.
    last_s: Cell<f64>,
}

/// A gap between frames as long as this is not a slow device but a page that nobody saw: chosen as many times the slowest
/// frame. Time stands still meanwhile.
const AWAY_S: f64 = 1.0;

impl Player {
    pub(super) fn new(order: Arc<RunningOrder>) -> Self {
        Self {
            order: StoredValue::new(order),
            at_s: RwSignal::new(0.0),
            rests_at_s: RwSignal::new(0.0),
            state: RwSignal::new(State::Rests),
            is_on_time: RwSignal::new(false),
            is_beside: RwSignal::new(false),
            screen: NodeRef::new(),
            standing: RwSignal::new(Standing::Waiting),
            has_leapt: StoredValue::new(false),
            run: StoredValue::new(0),
            reel: StoredValue::new_local(None),
        }
    }

    /// What plays.
    pub(super) fn order(self) -> Arc<RunningOrder> {
        self.order.get_value()
    }

    /// The moment that is shown, seconds from the start of all.
    pub(super) fn at_s(self) -> f64 {
        self.at_s.get()
    }

    /// The moment at which the picture rests.
    pub(super) fn rests_at_s(self) -> f64 {
        self.rests_at_s.get()
    }

    /// How far the picture at rest is.
    pub(super) const fn standing(self) -> RwSignal<Standing> {
        self.standing
    }

    /// The canvas on which played pictures appear.
    pub(super) const fn screen(self) -> NodeRef<html::Canvas> {
        self.screen
    }

    pub(super) fn is_playing(self) -> bool {
        self.state.get() == State::Plays
    }

    /// Whether two neighbours are shown.
    pub(super) fn is_beside(self) -> bool {
        self.is_beside.get()
    }

    /// Whether a played picture is what is to be seen.
    pub(super) fn is_on_screen(self) -> bool {
        match self.state.get() {
            State::Plays => self.is_on_time.get(),
            State::Settles => self.is_on_time.get() && self.standing.get() == Standing::Waiting,
            State::Rests => false,
        }
    }

    /// Shows one moment, and stays there.
    pub(super) fn rest_at(self, seconds: f64) {
        self.state.set(State::Rests);
        self.at_s.set(seconds);
        self.rests_at_s.set(seconds);
    }

    /// Goes so many entries on, or cuts where two neighbours are shown; false if there are not so many.
    pub(super) fn step(self, by: isize) -> bool {
        let Some(to_s) = self.steps_to(by) else { return false };
        if self.state.get_untracked() == State::Plays {
            self.at_s.set(to_s);
            // The picture at rest is there sooner than a reel that begins anew.
            self.rests_at_s.set(to_s);
            self.is_on_time.set(false);
            self.has_leapt.set_value(true);
        } else {
            self.rest_at(to_s);
        }
        true
    }

    /// Whether there are so many more.
    pub(super) fn can_step(self, by: isize) -> bool {
        self.at_s.track();
        self.is_beside.track();
        untrack(|| self.steps_to(by)).is_some()
    }

    /// Where so many entries or cuts on from here are.
    fn steps_to(self, by: isize) -> Option<f64> {
        let (order, at_s) = (self.order(), self.at_s.get_untracked());
        if !self.is_beside.get_untracked() {
            return order.step(at_s, by);
        }
        let to = order.cut_at(at_s)?.checked_add_signed(by)?;
        // The last entry has nobody after it to stand beside.
        order.turns().get(to + 1)?;
        order.turns().get(to).map(|turn| turn.starts_s)
    }

    /// Shows two neighbours, or one picture again.
    pub(super) fn set_beside(self, is_beside: bool) {
        self.rest_at(self.at_s.get_untracked());
        self.is_beside.set(is_beside);
    }

    /// Plays on from the moment that is shown, or from the start at the end.
    pub(super) fn play(self, pictures: Pictures) {
        if self.is_beside.get_untracked() {
            self.set_beside(false);
            // In the next frame the screen is in the page again.
            request_animation_frame(move || {
                if self.run.try_get_value().is_some() {
                    self.play(pictures);
                }
            });
            return;
        }
        let order = self.order();
        let Some(screen) = self.screen.get_untracked() else { return };
        if self.at_s.get_untracked() >= order.lasts_s() {
            self.rest_at(0.0);
        }
        let shown_px = screen.parent_element().map_or(0.0, |frame| f64::from(frame.client_width()));
        let number = self.run.get_value().wrapping_add(1);
        self.run.set_value(number);
        self.has_leapt.set_value(false);
        self.is_on_time.set(false);
        self.state.set(State::Plays);
        let reel = self.reel_of(pictures, &order, shown_px);
        // It may be another canvas than it was, or show what is long over.
        reel.borrow_mut().clear(&screen);
        let last_s = Cell::new(performance_now() / 1000.0);
        Rc::new(Run { player: self, number, order, reel, since_s: Cell::new(None), last_s }).wait();
    }

    /// Pauses at the moment that is shown.
    pub(super) fn pause(self) {
        self.state.set(State::Settles);
        self.rests_at_s.set(self.at_s.get_untracked());
    }

    /// Plays if it rests, pauses if it plays.
    pub(super) fn toggle(self, pictures: Pictures) {
        if self.state.get_untracked() == State::Plays { self.pause() } else { self.play(pictures) }
    }

    /// The pictures that were drawn for that width, or none yet.
    fn reel_of(self, pictures: Pictures, order: &RunningOrder, shown_px: f64) -> Rc<RefCell<Reel>> {
        let kept = self.reel.with_value(|kept| {
            let kept = kept.as_ref().filter(|(for_px, _)| (for_px - shown_px).abs() < 1.0);
            kept.map(|(_, reel)| Rc::clone(reel))
        });
        kept.unwrap_or_else(|| {
            let aspect = order.film().facts.aspect.to_f64();
            let reel = Rc::new(RefCell::new(Reel::new(pictures, order.cues(), aspect, shown_px)));
            self.reel.set_value(Some((shown_px, Rc::clone(&reel))));
            reel
        })
    }
}

impl Run {
    /// Goes on in the next animation frame.
    fn wait(self: Rc<Self>) {
        request_animation_frame(move || self.go_on());
    }

    fn go_on(self: Rc<Self>) {
        let player = self.player;
        // What plays may be closed by now.
        let is_mine = player.run.try_get_value() == Some(self.number);
        if is_mine && player.state.try_get_untracked() == Some(State::Plays) {
            self.step();
            self.wait();
        }
    }

    /// Shows what is due now.
    fn step(&self) {
        let player = self.player;
        let Some(screen) = player.screen.get_untracked() else { return };
        let now_s = performance_now() / 1000.0;
        let was_away = now_s - self.last_s.replace(now_s) > AWAY_S;
        if was_away || player.has_leapt.get_value() {
            player.has_leapt.set_value(false);
            self.since_s.set(None);
        }
        let seconds =
            self.since_s.get().map_or_else(|| player.at_s.get_untracked(), |since_s| now_s - since_s);
        if seconds >= self.order.lasts_s() {
            player.at_s.set(self.order.lasts_s());
            player.pause();
            return;
        }
        let mut reel = self.reel.borrow_mut();
        reel.go_on(seconds, now_s, |at_s| self.order.stage(at_s));
        let has_picture = self.order.turn_at(seconds).is_some_and(|turn| turn.shows != Shows::Nothing);
        if !has_picture || reel.show(seconds, &screen) {
            // Time begins with the first picture; after that it waits for none.
            self.since_s.set(self.since_s.get().or(Some(now_s - seconds)));
        } else if self.since_s.get().is_some() {
            // Nothing of this entry is there yet: an empty frame is true, the entry before it is not.
            reel.clear(&screen);
        } else {
            return;
        }
        drop(reel);
        if !player.is_on_time.get_untracked() {
            player.is_on_time.set(true);
        }
        player.at_s.set(seconds);
    }
}
