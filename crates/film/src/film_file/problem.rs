//! What was wrong with a file that could still be opened, and what was done about it.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::fmt;

use language::{Number, key, say, text};
use units::QuantityError;

use crate::kit_file::RecordError;

/// Something in a file that could not be used as it stood, and what became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// The field, such as `scenes[2].shots[4].planned_s`; empty for the file as a whole.
    pub path: String,
    /// What is wrong, with the value, the allowed range and its unit.
    pub message: String,
    /// What was done.
    pub done: Done,
}

/// What became of something that could not be used.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Done {
    /// It was left out: a shot, an entry, a field.
    LeftOut(&'static str),
    /// It was set to this.
    SetTo(String),
    /// It is known by this number from now on.
    KnownBy(u64),
    /// It was cut to so many letters.
    CutTo(usize),
    /// What could be read was kept.
    KeptTheRest,
}

impl fmt::Display for Done {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LeftOut(what) => f.write_str(&say!("{what} left out", what = text(what))),
            Self::SetTo(value) => f.write_str(&say!("set to {value}")),
            Self::KnownBy(number) => f.write_str(&say!("known by {number} from now on")),
            Self::CutTo(letters) => f.write_str(&say!("cut to {letters} letters")),
            Self::KeptTheRest => f.write_str(say!("the rest was kept")),
        }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.path.is_empty() {
            write!(f, "{}: ", self.path)?;
        }
        write!(f, "{}; {}", self.message, self.done)
    }
}

impl From<Problem> for RecordError {
    fn from(Problem { path, message, done: _ }: Problem) -> Self {
        Self { path, message }
    }
}

/// The most problems that are told one by one: chosen because nobody reads more, and a hostile file has millions.
const MOST_PROBLEMS: usize = 1000;

/// The most values that are read once more because of a bad one beside them, in all of a file: chosen far above what hands
/// break, and so that a file made to be read again and again ends within a second.
const MOST_READ_AGAIN: usize = 2_000_000;

/// The longest path and the longest message that are told, letters: what is in them may be anybody's.
const LONGEST_PATH: usize = 200;
const LONGEST_MESSAGE: usize = 1000;

/// The problems of one reading.
#[derive(Debug, Default)]
pub(super) struct Mending {
    problems: RefCell<Vec<Problem>>,
    untold: Cell<usize>,
    read_again: Cell<usize>,
    /// What was left out of which list, by its place in the file: what follows it has moved up since.
    gone: RefCell<BTreeMap<String, Vec<usize>>>,
}

impl Mending {
    /// Keeps a problem. Names of fields may hold any letters, and a problem is told on one line.
    pub(super) fn report(&self, Problem { path, message, done }: Problem) {
        if !self.passes_over() {
            let path = on_one_line(path, LONGEST_PATH);
            let message = on_one_line(message, LONGEST_MESSAGE);
            self.problems.borrow_mut().push(Problem { path, message, done });
        }
    }

    /// Counts a problem that nobody will read, so that its words need not be made; false if this one is told.
    fn passes_over(&self) -> bool {
        let is_full = self.problems.borrow().len() >= MOST_PROBLEMS;
        if is_full {
            self.untold.set(self.untold.get() + 1);
        }
        is_full
    }

    /// Whether so many values may be read once more.
    pub(super) fn may_read_again(&self, values: usize) -> bool {
        let read_again = self.read_again.get().saturating_add(values);
        self.read_again.set(read_again);
        read_again <= MOST_READ_AGAIN
    }

    /// Says of the last problem, if it is of `path` or below, that more was done.
    pub(super) fn amend_last(&self, path: &str, done: Done) -> bool {
        match self.problems.borrow_mut().last_mut() {
            Some(last) if last.path.starts_with(path) => {
                last.done = done;
                true
            }
            Some(_) | None => false,
        }
    }

    /// Notes that the item which now stands at `index` leaves the list.
    pub(super) fn leaves(&self, list: &str, index: usize) {
        let original = self.original(list, index);
        let mut gone = self.gone.borrow_mut();
        let of_list = match gone.get_mut(list) {
            Some(of_list) => of_list,
            None => gone.entry(list.to_owned()).or_default(),
        };
        of_list.insert(of_list.partition_point(|before| *before < original), original);
    }

    /// Where the item that now stands at `index` stood in the file.
    pub(super) fn original(&self, list: &str, index: usize) -> usize {
        let gone = self.gone.borrow();
        let gone = gone.get(list).map(Vec::as_slice).unwrap_or_default();
        // Each that went from before it moved it up by one, and `gone` minus its own place in order never falls: the list
        // is halved, because a hostile file has millions in it.
        let (mut from, mut to) = (0, gone.len());
        while from < to {
            let middle = usize::midpoint(from, to);
            let is_before = gone.get(middle).is_some_and(|before| *before - middle <= index);
            (from, to) = if is_before { (middle + 1, to) } else { (from, middle) };
        }
        index + from
    }

    /// All that was found, in the order found.
    pub(super) fn into_problems(self) -> Vec<Problem> {
        let mut problems = self.problems.into_inner();
        let untold = self.untold.get();
        if untold > 0 {
            let message = say!("{untold} more problems of the kind");
            problems.push(Problem { path: String::new(), message, done: Done::KeptTheRest });
        }
        problems
    }
}

/// A place in a file, as the chain of names that leads to it. Its text is made only when there is something to tell.
#[derive(Clone, Copy)]
pub(super) struct At<'up> {
    mending: &'up Mending,
    step: Step<'up>,
}

#[derive(Clone, Copy)]
enum Step<'up> {
    Root,
    Field(&'up At<'up>, &'static str),
    Item(&'up At<'up>, &'static str, usize),
}

impl<'up> At<'up> {
    /// The file as a whole.
    pub(super) const fn root(mending: &'up Mending) -> Self {
        Self { mending, step: Step::Root }
    }

    /// A field of what is here.
    pub(super) const fn field(&'up self, name: &'static str) -> Self {
        Self { mending: self.mending, step: Step::Field(self, name) }
    }

    /// An item of a list that is a field of what is here.
    pub(super) const fn item(&'up self, list: &'static str, index: usize) -> Self {
        Self { mending: self.mending, step: Step::Item(self, list, index) }
    }

    /// Where this is, as people read it.
    pub(super) fn path(&self) -> String {
        match self.step {
            Step::Root => String::new(),
            Step::Field(up, name) => below(up.path(), name),
            Step::Item(up, list, index) => {
                let list = below(up.path(), list);
                let index = self.mending.original(&list, index);
                format!("{list}[{index}]")
            }
        }
    }

    /// The collection of problems that this place tells to.
    pub(super) const fn mending(&self) -> &'up Mending {
        self.mending
    }

    /// Tells what is wrong here and what was done.
    pub(super) fn report(&self, message: impl fmt::Display, done: Done) {
        if !self.mending.passes_over() {
            self.mending.report(Problem { path: self.path(), message: message.to_string(), done });
        }
    }

    /// Tells what is wrong with a field of what is here.
    pub(super) fn refuse(&self, error: RecordError, done: Done) {
        let path = below(self.path(), &error.path);
        self.mending.report(Problem { path, message: error.message, done });
    }

    /// What was made of something here, or none with what is wrong with it.
    pub(super) fn or_left_out<Made>(
        &self,
        made: Result<Made, RecordError>,
        what: &'static str,
    ) -> Option<Made> {
        made.map_err(|error| self.refuse(error, Done::LeftOut(what))).ok()
    }

    /// A number within its range, or none.
    pub(super) fn within(&self, range: &Range, given: Option<f64>) -> Option<f64> {
        let value = given?;
        if (range.min..=range.max).contains(&value) {
            return Some(value);
        }
        self.refuse(range.error(value), Done::LeftOut(key!("it was")));
        None
    }

    /// A number within its range, or the usual one; silently where nothing is said.
    pub(super) fn or_usual(&self, range: &Range, given: Option<f64>, usual: f64) -> f64 {
        match given {
            None => usual,
            Some(value) if (range.min..=range.max).contains(&value) => value,
            Some(value) => {
                self.refuse(
                    range.error(value),
                    Done::SetTo(format!("{} {}", Number(usual), text(range.unit))),
                );
                usual
            }
        }
    }

    /// A text of at most so many letters.
    pub(super) fn text(&self, field: &'static str, text: &str, most: usize) -> String {
        // A text has no more letters than bytes.
        if text.len() <= most || text.chars().count() <= most {
            return text.to_owned();
        }
        let letters = text.chars().count();
        let message = say!("{letters} letters are not allowed: 0 to {most} letters");
        self.field(field).report(message, Done::CutTo(most));
        text.chars().take(most).collect()
    }

    /// As many items of a list as are allowed.
    pub(super) fn few<'list, Item>(
        &self,
        field: &'static str,
        list: &'list [Item],
        most: usize,
    ) -> &'list [Item] {
        let kept = list.get(..most).unwrap_or(list);
        if kept.len() < list.len() {
            let message = say!("a list of {} is not allowed: a list of at most {most}", list.len());
            self.field(field).report(message, Done::LeftOut(key!("what is beyond was")));
        }
        kept
    }
}

/// What a number may be.
#[derive(Debug)]
pub(super) struct Range {
    pub(super) field: &'static str,
    pub(super) min: f64,
    pub(super) max: f64,
    pub(super) unit: &'static str,
}

impl Range {
    /// Refuses what is not within it.
    pub(super) fn check(&self, value: f64) -> Result<f64, RecordError> {
        if (self.min..=self.max).contains(&value) { Ok(value) } else { Err(self.error(value)) }
    }

    fn error(&self, value: f64) -> RecordError {
        let Self { field, min, max, unit } = *self;
        RecordError::at(field, QuantityError::OutOfRange { value, min, max, unit })
    }
}

/// A text on one line and no longer than that.
pub(super) fn on_one_line(text: String, most: usize) -> String {
    if text.len() <= most && !text.contains(char::is_control) {
        return text;
    }
    let mut letters = text.chars().map(|letter| if letter.is_control() { ' ' } else { letter });
    let mut short: String = letters.by_ref().take(most).collect();
    if letters.next().is_some() {
        short.push('…');
    }
    short
}

/// A path with one more name at its end.
pub(super) fn below(path: String, name: &str) -> String {
    if path.is_empty() {
        name.to_owned()
    } else if name.is_empty() || name.starts_with('[') {
        path + name
    } else {
        path + "." + name
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_names_what_stands_in_the_file_after_items_have_gone() {
        let mending = Mending::default();
        mending.leaves("scenes", 1);
        mending.leaves("scenes", 1);
        mending.leaves("scenes[3].shots", 0);
        let root = At::root(&mending);
        let (first, scene) = (root.item("scenes", 0), root.item("scenes", 1));
        assert_eq!(first.path(), "scenes[0]");
        assert_eq!(scene.item("shots", 0).field("planned_s").path(), "scenes[3].shots[1].planned_s");
    }

    #[test]
    fn items_that_go_in_any_order_leave_the_others_where_they_stood() {
        let mending = Mending::default();
        let mut list: Vec<usize> = (0..60).collect();
        for place in [5, 0, 0, 30, 7, 50, 7, 20, 0] {
            list.remove(place);
            mending.leaves("list", place);
            for (index, stood) in list.iter().enumerate() {
                assert_eq!(mending.original("list", index), *stood, "{index} after {place} went");
            }
        }
    }

    #[test]
    fn a_problem_is_told_on_one_line_whatever_a_field_is_called() {
        let mending = Mending::default();
        let path = format!("a\nb{}", "x".repeat(5000));
        mending.report(Problem { path, message: "no\u{1b}[1m".to_owned(), done: Done::KeptTheRest });
        let told = mending.into_problems()[0].to_string();
        assert!(told.starts_with("a bxxx") && told.ends_with("x…: no [1m; the rest was kept"), "{told}");
        assert!(told.chars().count() < 250, "{told}");
    }

    #[test]
    fn a_hostile_number_of_problems_is_counted_and_not_kept() {
        let mending = Mending::default();
        for _ in 0..MOST_PROBLEMS + 7 {
            At::root(&mending).report("no", Done::LeftOut("it was"));
        }
        let problems = mending.into_problems();
        assert_eq!(problems.len(), MOST_PROBLEMS + 1);
        assert_eq!(problems[MOST_PROBLEMS].to_string(), "7 more problems of the kind; the rest was kept");
    }
}
