//! What was done to a film, so that it can be undone and done again.
//!
//! Steps are counted from the film's first one on, 1, 2, 3, and keep their numbers when old ones are forgotten: a step's
//! number is what a store knows it by.

use std::collections::VecDeque;

use super::kept::Kept;

/// A film and the steps that led to it.
#[derive(Debug, Clone)]
pub(crate) struct History<K: Kept> {
    film: K,
    /// How many steps came before the first that is still known.
    before: u64,
    steps: VecDeque<Step<K>>,
    /// How many of the known steps are done; those after them were undone.
    done: usize,
    gesture: Gesture,
}

/// One thing that somebody did.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Step<K: Kept> {
    /// What it is called, in plain words.
    pub(crate) name: String,
    /// What of the film it was done to, where steps of one name differ in that.
    pub(crate) target: Option<u64>,
    /// What it changes.
    pub(crate) change: K::Change,
    /// What takes it back.
    pub(crate) inverse: K::Change,
}

/// A film that has been changed, with the change and what takes it back.
#[derive(Debug)]
pub(crate) struct Changed<K: Kept> {
    pub(crate) film: K,
    pub(crate) change: K::Change,
    pub(crate) inverse: K::Change,
}

/// Whether the next change may belong to the last step.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Gesture {
    /// It is a step of its own.
    Ended,
    /// It may, for a moment from that time on.
    SinceMs(f64),
    /// It may, until the gesture is ended.
    Held,
}

/// Changes of one name and target that come as close as this are one step: chosen to hold a word together while it is
/// typed, and to part two words.
const ONE_GESTURE_MS: f64 = 900.0;

impl<K: Kept> History<K> {
    /// A film to which nothing has been done.
    pub(crate) const fn of(film: K) -> Self {
        Self { film, before: 0, steps: VecDeque::new(), done: 0, gesture: Gesture::Ended }
    }

    /// A film with steps around it: those that led to it, numbered from `before` on, and those that were undone.
    pub(crate) fn with_steps(film: K, before: u64, done: Vec<Step<K>>, undone: Vec<Step<K>>) -> Self {
        let count = done.len();
        let steps = done.into_iter().chain(undone).collect();
        Self { film, before, steps, done: count, gesture: Gesture::Ended }
    }

    /// The film as it is now.
    pub(crate) const fn film(&self) -> &K {
        &self.film
    }

    /// The number of the last step that is done; 0 if none is.
    pub(crate) fn cursor(&self) -> u64 {
        self.before + as_number(self.done)
    }

    /// The number of the last step, done or undone.
    pub(crate) fn last(&self) -> u64 {
        self.before + as_number(self.steps.len())
    }

    /// The number of the last step that is forgotten.
    pub(crate) const fn before(&self) -> u64 {
        self.before
    }

    /// The steps from that number on, with their numbers.
    pub(crate) fn steps_from(&self, number: u64) -> impl Iterator<Item = (u64, &Step<K>)> {
        (self.before + 1..).zip(&self.steps).skip_while(move |(at, _)| *at < number)
    }

    /// Changes the film as [`History::take_on`] has it.
    #[cfg(test)]
    pub(crate) fn change(
        &mut self,
        name: &str,
        target: Option<u64>,
        change: K::Change,
        now_ms: f64,
    ) -> Result<u64, K::Refusal> {
        let mut film = self.film.clone();
        let inverse = film.apply(change.clone())?;
        Ok(self.take_on(name, target, Changed { film, change, inverse }, now_ms))
    }

    /// Takes a changed film on, and says the number of the step that it is, which may be the last one grown.
    ///
    /// The film was made from the one here. Steps that were undone are gone then.
    pub(crate) fn take_on(
        &mut self,
        name: &str,
        target: Option<u64>,
        changed: Changed<K>,
        now_ms: f64,
    ) -> u64 {
        let Changed { film, change, inverse } = changed;
        self.film = film;
        let is_open = match self.gesture {
            Gesture::Ended => false,
            // A clock that was put back does not hold a day's work together.
            Gesture::SinceMs(since_ms) => (0.0..=ONE_GESTURE_MS).contains(&(now_ms - since_ms)),
            Gesture::Held => true,
        };
        self.steps.truncate(self.done);
        let grows = |step: &&mut Step<K>| {
            is_open && step.name == name && step.target == target && K::replaces(&change, &step.change)
        };
        if let Some(step) = self.steps.back_mut().filter(grows) {
            step.change = change;
        } else {
            self.steps.push_back(Step { name: name.to_owned(), target, change, inverse });
            self.done += 1;
        }
        if self.gesture != Gesture::Held {
            self.gesture = Gesture::SinceMs(now_ms);
        }
        self.cursor()
    }

    /// From here on changes of one name and target are one step, however slowly they come, until the gesture ends.
    pub(crate) const fn begin_gesture(&mut self) {
        self.gesture = Gesture::Held;
    }

    /// The next change is a step of its own.
    pub(crate) const fn end_gesture(&mut self) {
        self.gesture = Gesture::Ended;
    }

    /// What would be undone.
    pub(crate) fn undo_name(&self) -> Option<&str> {
        let at = self.done.checked_sub(1)?;
        self.steps.get(at).map(|step| step.name.as_str())
    }

    /// What would be done again.
    pub(crate) fn redo_name(&self) -> Option<&str> {
        self.steps.get(self.done).map(|step| step.name.as_str())
    }

    /// Takes the last step back; false if there is none.
    pub(crate) fn undo(&mut self) -> Result<bool, K::Refusal> {
        self.end_gesture();
        let Some(at) = self.done.checked_sub(1) else { return Ok(false) };
        let Some(step) = self.steps.get(at) else { return Ok(false) };
        self.film.apply(step.inverse.clone())?;
        self.done = at;
        Ok(true)
    }

    /// Does the last step that was undone again; false if there is none.
    pub(crate) fn redo(&mut self) -> Result<bool, K::Refusal> {
        self.end_gesture();
        let Some(step) = self.steps.get(self.done) else { return Ok(false) };
        self.film.apply(step.change.clone())?;
        self.done += 1;
        Ok(true)
    }

    /// Forgets old steps; as many as `kept` can still be undone.
    pub(crate) fn forget(&mut self, kept: usize) {
        let gone = self.done.saturating_sub(kept);
        self.steps.drain(..gone);
        self.done -= gone;
        self.before += as_number(gone);
    }
}

/// A count as a step's number.
fn as_number(count: usize) -> u64 {
    // Always fits: no platform of this program counts in more than 64 bits.
    u64::try_from(count).unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::super::stand_in::{Row, RowChange, title};
    use super::*;

    fn history() -> History<Row> {
        History::of(Row::default())
    }

    fn names(history: &History<Row>) -> Vec<&str> {
        history.steps_from(0).map(|(_, step)| step.name.as_str()).collect()
    }

    #[test]
    fn what_was_done_is_undone_and_done_again() {
        let mut history = history();
        for number in 0..3 {
            let change = RowChange::Insert(0, number);
            assert_eq!(history.change("Add", None, change, 0.0), Ok(u64::from(number) + 1));
        }
        assert_eq!(history.film().numbers, [2, 1, 0]);
        assert_eq!((history.undo(), history.undo()), (Ok(true), Ok(true)));
        assert_eq!((history.film().numbers.as_slice(), history.cursor(), history.last()), (&[0][..], 1, 3));
        assert_eq!((history.undo_name(), history.redo_name()), (Some("Add"), Some("Add")));
        assert_eq!(history.redo(), Ok(true));
        assert_eq!(history.film().numbers, [1, 0]);
        assert_eq!((history.undo(), history.undo(), history.undo()), (Ok(true), Ok(true), Ok(false)));
        assert_eq!((history.film(), history.undo_name()), (&Row::default(), None));
    }

    #[test]
    fn a_new_change_takes_the_place_of_what_was_undone() {
        let mut history = history();
        for (name, text) in [("A", "one"), ("B", "two"), ("C", "three")] {
            history.change(name, None, title(text), 0.0).expect("applies");
        }
        assert_eq!((history.undo(), history.undo()), (Ok(true), Ok(true)));
        assert_eq!(history.change("D", None, title("four"), 0.0), Ok(2));
        assert_eq!(names(&history), ["A", "D"]);
        assert_eq!(history.redo(), Ok(false));
    }

    #[test]
    fn what_is_typed_in_one_go_is_one_step() {
        let mut history = history();
        for (at, text) in ["a", "ab", "abc"].into_iter().enumerate() {
            history
                .change("Title", Some(7), title(text), f64::from(u8::try_from(at).expect("few")) * 800.0)
                .expect("applies");
        }
        assert_eq!((history.last(), history.film().title.as_str()), (1, "abc"));
        // A pause, another target, the end of the gesture and another name each part steps.
        for (name, target, now_ms) in [("Title", 7, 2600.0), ("Title", 8, 2700.0), ("Line", 8, 2800.0)] {
            history.change(name, Some(target), title("x"), now_ms).expect("applies");
        }
        history.end_gesture();
        history.change("Line", Some(8), title("y"), 2900.0).expect("applies");
        assert_eq!(history.last(), 5);
        for _ in 0..4 {
            assert_eq!(history.undo(), Ok(true));
        }
        assert_eq!(history.film().title, "abc");
        assert_eq!((history.undo(), history.film().title.as_str()), (Ok(true), ""));
        assert_eq!((history.redo(), history.film().title.as_str()), (Ok(true), "abc"));
    }

    #[test]
    fn a_clock_that_is_put_back_parts_steps() {
        let mut history = history();
        for (text, now_ms) in [("a", 86_400_000.0), ("ab", 86_400_100.0), ("abc", 0.0), ("abcd", 100.0)] {
            history.change("Title", None, title(text), now_ms).expect("applies");
        }
        assert_eq!((history.last(), history.undo(), history.film().title.as_str()), (2, Ok(true), "ab"));
    }

    #[test]
    fn a_held_gesture_is_one_step_however_slow() {
        let mut history = history();
        history.begin_gesture();
        for (text, now_ms) in [("a", 0.0), ("b", 5000.0), ("c", 60_000.0)] {
            history.change("Move", None, title(text), now_ms).expect("applies");
        }
        history.end_gesture();
        history.change("Move", None, title("d"), 60_001.0).expect("applies");
        assert_eq!(history.last(), 2);
    }

    #[test]
    fn two_that_do_not_replace_each_other_are_two_steps() {
        let mut history = history();
        for number in [1, 2] {
            history.change("Add", None, RowChange::Insert(0, number), 0.0).expect("applies");
        }
        assert_eq!(history.last(), 2);
    }

    #[test]
    fn a_change_after_an_undo_does_not_grow_what_is_left() {
        let mut history = history();
        history.change("Title", None, title("a"), 0.0).expect("applies");
        history.end_gesture();
        history.change("Title", None, title("b"), 1.0).expect("applies");
        assert_eq!(history.undo(), Ok(true));
        history.change("Title", None, title("c"), 2.0).expect("applies");
        assert_eq!((history.last(), history.undo()), (2, Ok(true)));
        assert_eq!(history.film().title, "a");
    }

    #[test]
    fn a_refused_change_changes_nothing() {
        let mut history = history();
        history.change("Title", None, title("a"), 0.0).expect("applies");
        assert_eq!(history.undo(), Ok(true));
        assert!(history.change("Remove", None, RowChange::Remove(3), 0.0).is_err());
        assert_eq!((history.redo(), history.film().title.as_str()), (Ok(true), "a"));
    }

    #[test]
    fn forgotten_steps_leave_the_others_their_numbers() {
        let mut history = history();
        for number in 0..10 {
            history.change("Add", None, RowChange::Insert(0, number), 0.0).expect("applies");
        }
        assert_eq!(history.undo(), Ok(true));
        history.forget(4);
        assert_eq!((history.before(), history.cursor(), history.last()), (5, 9, 10));
        assert_eq!(history.steps_from(9).map(|(at, _)| at).collect::<Vec<_>>(), [9, 10]);
        assert_eq!((0..9).filter(|_| history.undo() == Ok(true)).count(), 4);
        assert_eq!(history.film().numbers.len(), 5);
    }
}
