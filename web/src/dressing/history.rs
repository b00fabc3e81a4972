//! What is chosen on the set, and what the set was like before: every change can be taken back.

use glam::DVec3;
use leptos::prelude::*;
use requests::BlockingRequest;

use super::Item;
use crate::canvas::performance_now;
use crate::lasting::Lasting;
use crate::session::{Plan, Session};

/// What is chosen on the set, and its past.
///
/// One signal for both: every type in a signal makes code of its own.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Dressing(Lasting<RwSignal<Dressed>>);

/// What a set's signal holds.
#[derive(Debug, Clone, PartialEq)]
struct Dressed {
    /// Who or what is chosen; it may be gone from the plan.
    selected: Option<Item>,
    past: Vec<Past>,
}

/// The set before a change.
#[derive(Debug, Clone, PartialEq)]
struct Past {
    set: Option<BlockingRequest>,
    /// The direction that the subject faced, clockwise from the plan's top.
    faced_deg: f64,
    /// What the change was made to, and what of it.
    change: (Option<Item>, String),
    /// When the change went on last; nothing is added to one that has ended.
    at_ms: Option<f64>,
}

/// Changes of one thing nearer to each other than this are taken back together, milliseconds: chosen because a held key
/// and a dragged slider come faster, and a second thought slower.
const TOGETHER_MS: f64 = 900.0;
/// How many changes can be taken back: chosen because nobody remembers farther.
const MOST_PAST: usize = 50;

/// What a drag on the floor plan is called; it is one change until the hand is lifted.
pub(crate) const DRAG: &str = "drag";

impl Dressing {
    /// A set of which that is chosen and nothing was changed.
    pub(crate) fn new(selected: Option<Item>) -> Self {
        Self(Lasting::signal(Dressed { selected, past: Vec::new() }))
    }

    /// What was chosen last, even if it has gone.
    pub(crate) fn kept_untracked(self) -> Option<Item> {
        self.0.with_untracked(|dressed| dressed.selected)
    }

    /// To what the last change was made, and what of it.
    pub(crate) fn last_change(self) -> Option<(Option<Item>, String)> {
        self.0.with(|dressed| dressed.past.last().map(|past| past.change.clone()))
    }

    /// Whether there is a change to take back.
    pub(crate) fn has_past(self) -> bool {
        self.0.with(|dressed| !dressed.past.is_empty())
    }

    /// Forgets what was chosen and what was changed: another set is to come.
    pub(crate) fn forget(self) {
        self.0.set(Dressed { selected: None, past: Vec::new() });
    }

    /// Ends the last change: the next one is taken back by itself.
    pub(crate) fn end_change(self) {
        self.0.update_untracked(|dressed| {
            if let Some(last) = dressed.past.last_mut() {
                last.at_ms = None;
            }
        });
    }
}

impl Past {
    fn of(plan: &Plan, change: (Option<Item>, &str), at_ms: f64) -> Self {
        Self {
            set: plan.shot.blocking.clone(),
            faced_deg: plan.subject_faces_deg(),
            change: (change.0, change.1.to_owned()),
            at_ms: Some(at_ms),
        }
    }

    /// Whether the plan's set is still this one.
    fn is_of(&self, plan: &Plan) -> bool {
        plan.shot.blocking == self.set && (plan.subject_faces_deg() - self.faced_deg).abs() < 1e-9
    }

    /// Whether a change is part of the one before which the set was this.
    fn goes_on_with(&self, next: &Self, now_ms: f64) -> bool {
        let is_near = |at: f64| next.change.1 == DRAG || now_ms - at < TOGETHER_MS;
        self.change == next.change && self.at_ms.is_some_and(is_near)
    }
}

/// Moves everybody and everything of a set.
fn shift(set: &mut BlockingRequest, by: DVec3) {
    for person in &mut set.people {
        (person.x_m, person.y_m) = (person.x_m + by.x, person.y_m + by.y);
    }
    for piece in &mut set.pieces {
        (piece.x_m, piece.y_m) = (piece.x_m + by.x, piece.y_m + by.y);
    }
}

impl Session {
    /// Who or what is chosen on the set.
    pub(crate) fn selected(self) -> Option<Item> {
        let selected = self.dressing.0.with(|dressed| dressed.selected)?;
        self.plan.with(|plan| plan.has(selected)).then_some(selected)
    }

    /// Chooses somebody or something on the set, or nothing.
    pub(crate) fn select(self, item: Option<Item>) {
        if self.dressing.0.with_untracked(|dressed| dressed.selected != item) {
            self.dressing.0.update(|dressed| dressed.selected = item);
        }
        self.dressing.end_change();
    }

    /// Changes the set, so that it can be taken back; `item` and `what` say of what, so that one gesture is one change.
    pub(crate) fn change_set(self, item: Option<Item>, what: &str, change: &dyn Fn(&mut Plan)) {
        let now = performance_now();
        let before = self.plan.with_untracked(|plan| Past::of(plan, (item, what), now));
        self.plan.update(change);
        if self.plan.with_untracked(|plan| before.is_of(plan)) {
            return;
        }
        self.dressing.0.update(|Dressed { past, .. }| {
            match past.last_mut().filter(|last| last.goes_on_with(&before, now)) {
                Some(last) => last.at_ms = Some(now),
                None => past.push(before),
            }
            if past.len() > MOST_PAST {
                past.remove(0);
            }
        });
    }

    /// Takes back the last change of the set. The phone stays where it is now.
    pub(crate) fn undo_set(self) {
        let past = self.dressing.0.try_update(|dressed| dressed.past.pop());
        let Some(past) = past.flatten() else { return };
        self.plan.update(|plan| {
            plan.shot.blocking = past.set;
            plan.face(Item::Subject, past.faced_deg);
        });
    }

    /// Moves the set and its past under the subject, who is where the plan begins.
    pub(crate) fn shift_set(self, by: DVec3) {
        self.plan.update(|plan| {
            if let Some(set) = &mut plan.shot.blocking {
                shift(set, by);
            }
        });
        self.dressing.0.update_untracked(|dressed| {
            for set in dressed.past.iter_mut().filter_map(|past| past.set.as_mut()) {
                shift(set, by);
            }
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_of_one_thing_are_one_change_until_there_is_a_pause() {
        let plan = Plan::first();
        let turn = |at_ms| Past::of(&plan, (Some(Item::Piece(0)), "Faces"), at_ms);
        assert!(turn(1000.0).goes_on_with(&turn(1500.0), 1500.0));
        assert!(!turn(1000.0).goes_on_with(&turn(2500.0), 2500.0));
        let other = Past::of(&plan, (Some(Item::Piece(1)), "Faces"), 1500.0);
        assert!(!turn(1000.0).goes_on_with(&other, 1500.0));
    }

    #[test]
    fn a_drag_is_one_change_until_it_ends() {
        let plan = Plan::first();
        let drag = Past::of(&plan, (Some(Item::Piece(0)), DRAG), 1000.0);
        assert!(drag.goes_on_with(&drag, 60_000.0));
        let ended = Past { at_ms: None, ..drag.clone() };
        assert!(!ended.goes_on_with(&drag, 1001.0));
    }

    #[test]
    fn a_turned_subject_is_a_change_and_a_phone_that_goes_round_is_none() {
        let mut plan = Plan::first();
        let before = Past::of(&plan, (None, DRAG), 0.0);
        plan.turn_phone(200.0);
        assert!(before.is_of(&plan), "{plan:?}");
        plan.face(Item::Subject, 90.0);
        assert!(!before.is_of(&plan), "{plan:?}");
    }
}
