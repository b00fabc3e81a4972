//! What is beside the point of a movement follows it in turns, so that no step of a drag waits for all of it.

use std::cell::{Cell, RefCell};
use std::collections::VecDeque;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use leptos::task::{spawn_local, tick};

use crate::canvas::performance_now;
use crate::widgets::held;

/// Turns that follow each other at once take no longer than this together, milliseconds: chosen as a fifth of a frame, so
/// that a hand on a slow phone is still followed, and a fast one has all of them in one.
const AT_ONCE_MS: f64 = 3.0;

/// Something that is due.
type Turn = Box<dyn FnOnce()>;

thread_local! {
    static DUE: RefCell<VecDeque<Turn>> = const { RefCell::new(VecDeque::new()) };
    /// Whether turns are to be given after the next frame.
    static IS_ASKED: Cell<bool> = const { Cell::new(false) };
}

/// A value that follows what it is made from when its turn comes: after the frame that shows the change itself, and
/// however much changes until then, once.
pub(crate) fn in_turn<T>(made: impl Fn() -> T + Send + Sync + 'static) -> Memo<T>
where
    T: PartialEq + Send + Sync + 'static,
{
    let made = Arc::new(made);
    let looked_at = Arc::clone(&made);
    let turn = turn_after(Box::new(move || drop(looked_at())));
    Memo::new(move |_| {
        turn.track();
        untrack(|| made())
    })
}

/// A text that follows in its turn, its numbers held to their units.
pub(crate) fn said_in_turn(text: impl Fn() -> String + Send + Sync + 'static) -> Signal<String> {
    in_turn(move || held(&text())).into()
}

/// Tells when a turn has come after what is looked at has changed.
fn turn_after(look: Box<dyn Fn()>) -> RwSignal<()> {
    let turn = RwSignal::new(());
    let is_due = Rc::new(Cell::new(false));
    // Looks at once: what changes before the next tick is a change already.
    let looking = RenderEffect::new(move |before: Option<()>| {
        look();
        if before.is_some() && !is_due.replace(true) {
            let is_due = Rc::clone(&is_due);
            take_turn(Box::new(move || {
                is_due.set(false);
                // Whoever shows it may be gone by now, and this with them.
                let _gone = turn.try_set(());
            }));
        }
    });
    // For as long as whoever asked for it is there.
    StoredValue::new_local(looking);
    turn
}

fn take_turn(turn: Turn) {
    DUE.with_borrow_mut(|due| due.push_back(turn));
    ask();
}

/// Has turns given once the next frame has been painted.
fn ask() {
    if !IS_ASKED.replace(true) {
        request_animation_frame(|| {
            set_timeout(
                || {
                    IS_ASKED.set(false);
                    spawn_local(give());
                },
                Duration::ZERO,
            );
        });
    }
}

async fn give() {
    let start = performance_now();
    while let Some(turn) = DUE.with_borrow_mut(VecDeque::pop_front) {
        turn();
        // What the turn changes is shown by effects, which run now.
        tick().await;
        if performance_now() - start > AT_ONCE_MS {
            break;
        }
    }
    if DUE.with_borrow(|due| !due.is_empty()) {
        ask();
    }
}
