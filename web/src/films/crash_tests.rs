//! What is left of a film when the page ends at any moment between two writings.

use super::history::{History, Step};
use super::keeper::{Keeper, Occasion};
use super::memory::{Memory, at_once};
use super::opening::{Opening, open};
use super::stand_in::{Row, RowChange, title};
use super::store::{Head, Pen, Store as _, StoreError};

const FILM: u64 = 5;

/// A page that edits a row.
struct Page {
    store: Memory,
    history: History<Row>,
    keeper: Keeper,
    now_ms: f64,
    /// As it was when it was written last.
    written: History<Row>,
}

fn pen(holder: u64) -> Pen {
    Pen { film: FILM, holder, opened_ms: 0.0 }
}

impl Page {
    fn new(store: &Memory) -> Self {
        let history = History::of(Row::default());
        let keeper = Keeper::of_new(pen(1), 0.0);
        let written = history.clone();
        let mut page = Self { store: store.clone(), history, keeper, now_ms: 0.0, written };
        assert_eq!(page.write(Occasion::Change), Ok(()));
        page
    }

    fn reopened(store: &Memory, holder: u64) -> (Self, Vec<String>) {
        assert_eq!(at_once(store.take_pen(pen(holder))), Ok(()));
        let opening = opened(store);
        if !opening.problems.is_empty() {
            assert_eq!(at_once(store.set_aside(pen(holder))), Ok(()));
        }
        let keeper = Keeper::of_opened(pen(holder), &opening);
        let Opening { history, problems, .. } = opening;
        let written = history.clone();
        (Self { store: store.clone(), history, keeper, now_ms: 1e9, written }, problems)
    }

    fn change(&mut self, name: &str, change: RowChange) {
        self.now_ms += 300.0;
        if let Ok(step) = self.history.change(name, None, change, self.now_ms) {
            self.keeper.note_change(step, self.now_ms);
        }
    }

    fn go(&mut self, is_back: bool) {
        let moved = if is_back { self.history.undo() } else { self.history.redo() };
        if moved == Ok(true) {
            self.keeper.note_move(self.now_ms);
        }
    }

    fn write(&mut self, occasion: Occasion) -> Result<(), StoreError> {
        let Some(writing) = self.keeper.begin::<Memory, Row>(&mut self.history, occasion) else {
            return Ok(());
        };
        let outcome = at_once(self.store.write(writing?));
        self.keeper.end(outcome.is_ok());
        if outcome.is_ok() {
            self.written = self.history.clone();
        }
        outcome
    }

    /// One of the things that people do, chosen by a number that looks random.
    fn act(&mut self, random: u32) {
        let place = usize::try_from(random / 7 % 5).expect("small");
        match random % 11 {
            0..=2 => self.change("Add", RowChange::Insert(0, random)),
            3 => self.change("Remove", RowChange::Remove(place)),
            4..=6 => self.change("Title", title(&random.to_string())),
            7 | 8 => self.go(true),
            9 => self.go(false),
            _ => self.history.end_gesture(),
        }
    }
}

fn opened(store: &Memory) -> Opening<Row> {
    at_once(open::<Memory, Row>(store, FILM)).expect("opens")
}

fn steps(history: &History<Row>) -> Vec<(u64, Step<Row>)> {
    history.steps_from(0).map(|(number, step)| (number, step.clone())).collect()
}

fn assert_same(one: &History<Row>, other: &History<Row>) {
    assert_eq!(one.film(), other.film());
    assert_eq!((one.cursor(), one.last(), one.before()), (other.cursor(), other.last(), other.before()));
    assert_eq!(steps(one), steps(other));
}

/// Numbers that look random: a linear congruential generator's upper bits.
fn random_numbers(seed: u32) -> impl Iterator<Item = u32> {
    let mut state = seed;
    std::iter::repeat_with(move || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        state >> 8
    })
}

#[test]
fn whatever_was_written_is_there_after_an_end_at_any_writing() {
    let mut longest = 0;
    for cut in 0..150 {
        let store = Memory::default();
        let mut page = Page::new(&store);
        store.fail_after(cut, StoreError::Other("the page has ended".to_owned()));
        for random in random_numbers(cut + 1).take(400) {
            page.act(random);
            let occasion = match random % 13 {
                // Changes that come while something is being written go together.
                0..=3 => continue,
                4 => Occasion::Rest,
                5 => Occasion::Leaving,
                _ => Occasion::Change,
            };
            if page.write(occasion).is_err() {
                break;
            }
        }
        store.recover();
        let opening = opened(&store);
        assert_eq!(opening.problems, Vec::<String>::new());
        assert_same(&opening.history, &page.written);
        let mut history = opening.history;
        longest = longest.max(history.last());
        let film = history.film().clone();
        let mut back = 0;
        while history.undo() == Ok(true) {
            back += 1;
        }
        assert_eq!(history.film(), &Row::default());
        for _ in 0..back {
            assert_eq!(history.redo(), Ok(true));
        }
        assert_eq!(history.film(), &film);
    }
    assert!(longest > 20, "only {longest} steps were tried");
}

#[test]
fn what_failed_is_written_with_the_next_change() {
    for seed in 0..12 {
        let store = Memory::default();
        let mut page = Page::new(&store);
        for (at, random) in random_numbers(seed).take(200).enumerate() {
            page.act(random);
            if at % 9 == 0 {
                store.fail_after(random % 3, StoreError::Full);
            } else if at % 9 == 5 {
                store.recover();
            }
            let occasion = if random % 5 == 0 { Occasion::Rest } else { Occasion::Change };
            let outcome = page.write(occasion);
            assert!(matches!(outcome, Ok(()) | Err(StoreError::Full)), "{outcome:?}");
            assert_same(&opened(&store).history, &page.written);
        }
    }
}

#[test]
fn a_page_that_leaves_while_something_is_being_written_loses_neither() {
    let store = Memory::default();
    let mut page = Page::new(&store);
    page.change("Add", RowChange::Insert(0, 1));
    let first = page
        .keeper
        .begin::<Memory, Row>(&mut page.history, Occasion::Change)
        .expect("something")
        .expect("values");
    page.change("Add", RowChange::Insert(0, 2));
    let second = page
        .keeper
        .begin::<Memory, Row>(&mut page.history, Occasion::Leaving)
        .expect("something")
        .expect("values");
    // The first fails, the second does not: nothing is missing between them.
    drop(first);
    page.keeper.end(false);
    assert_eq!(at_once(store.write(second)), Ok(()));
    page.keeper.end(true);
    assert_same(&opened(&store).history, &page.history);
    assert!(!page.keeper.is_writing());
    assert_eq!(page.write(Occasion::Change), Ok(()));
    assert_same(&opened(&store).history, &page.history);
}

#[test]
fn a_writing_that_was_given_up_and_comes_true_takes_nothing_away() {
    let store = Memory::default();
    let mut page = Page::new(&store);
    page.change("Add", RowChange::Insert(0, 1));
    let given_up = page
        .keeper
        .begin::<Memory, Row>(&mut page.history, Occasion::Change)
        .expect("something")
        .expect("values");
    page.keeper.end(false);
    page.change("Add", RowChange::Insert(0, 2));
    page.keeper.note_lost();
    // The store comes to, and does one after the other what it was asked.
    assert_eq!(at_once(store.write(given_up)), Ok(()));
    assert_eq!(page.write(Occasion::Change), Ok(()));
    assert_same(&opened(&store).history, &page.history);
}

#[test]
fn a_film_goes_on_where_it_was_left_with_its_undo() {
    let store = Memory::default();
    let mut page = Page::new(&store);
    for round in 0..60_u64 {
        page.change("Add", RowChange::Insert(0, 1));
        page.change("Title", title(&round.to_string()));
        page.history.end_gesture();
        assert_eq!(page.write(Occasion::Change), Ok(()));
        let (next, problems) = Page::reopened(&store, round + 2);
        assert!(problems.is_empty(), "{problems:?}");
        page = next;
    }
    assert_eq!(page.history.last(), 120);
    assert_eq!((0..1000).take_while(|_| page.history.undo() == Ok(true)).count(), 120);
}

#[test]
fn old_steps_are_forgotten_and_the_others_can_be_undone() {
    let store = Memory::default();
    let mut page = Page::new(&store);
    for number in 0..700 {
        page.change("Add", RowChange::Insert(0, number));
        assert_eq!(page.write(Occasion::Change), Ok(()));
    }
    let numbers = store.step_numbers(FILM);
    // A snapshot, which forgets them, comes after 40 steps, and one more for each four of the film's shots.
    assert!((500..=540 + 700 / 4).contains(&numbers.len()), "{} steps lie there", numbers.len());
    let mut history = opened(&store).history;
    assert_eq!(history.film().numbers.len(), 700);
    assert_eq!((0..1000).take_while(|_| history.undo() == Ok(true)).count(), numbers.len());
}

#[test]
fn a_second_page_takes_the_pen_and_the_first_is_refused() {
    let store = Memory::default();
    let mut first = Page::new(&store);
    let (mut second, _) = Page::reopened(&store, 2);
    first.change("Title", title("first"));
    assert_eq!(first.write(Occasion::Change), Err(StoreError::Elsewhere));
    second.change("Title", title("second"));
    assert_eq!(second.write(Occasion::Change), Ok(()));
    assert_eq!(first.write(Occasion::Leaving), Err(StoreError::Elsewhere));
    assert_eq!(opened(&store).history.film().title, "second");
    assert_eq!(at_once(store.remove(pen(3))), Ok(()));
    second.change("Title", title("third"));
    assert_eq!(second.write(Occasion::Change), Err(StoreError::Elsewhere));
    assert!(at_once(store.heads()).is_ok_and(|heads| heads.is_empty()));
}

#[test]
fn a_step_that_cannot_be_made_again_stops_there_and_is_set_aside() {
    let store = Memory::default();
    let mut page = Page::new(&store);
    for number in 0..6 {
        page.change("Add", RowChange::Insert(0, number));
        assert_eq!(page.write(Occasion::Change), Ok(()));
    }
    store.spoil(FILM, 4, |step| step["change"] = serde_json::json!({ "Insert": [90, 1] }));
    let (mut page, problems) = Page::reopened(&store, 2);
    assert_eq!(page.history.film().numbers, [2, 1, 0]);
    assert_eq!(problems.len(), 1);
    assert!(problems[0].contains("\"Add\": there is no place 90"), "{problems:?}");
    assert_eq!((store.asides(FILM), page.history.last()), (1, 3));
    assert_eq!(store.step_numbers(FILM), [1, 2, 3, 4, 5, 6]);
    assert_eq!(page.write(Occasion::Change), Ok(()));
    assert_eq!(store.step_numbers(FILM), [1, 2, 3]);
    let (page, problems) = Page::reopened(&store, 3);
    assert!(problems.is_empty(), "{problems:?}");
    assert_eq!(page.history.film().numbers, [2, 1, 0]);
}

#[test]
fn undone_steps_that_cannot_be_read_are_set_aside_and_the_film_is_whole() {
    let store = Memory::default();
    let mut page = Page::new(&store);
    for number in 0..6 {
        page.change("Add", RowChange::Insert(0, number));
    }
    page.go(true);
    page.go(true);
    assert_eq!(page.write(Occasion::Rest), Ok(()));
    store.spoil(FILM, 6, |step| step["change"] = serde_json::json!("nothing"));
    store.spoil(FILM, 2, |step| step["inverse"] = serde_json::json!("nothing"));
    let (page, problems) = Page::reopened(&store, 2);
    assert_eq!(page.history.film().numbers.len(), 4);
    assert_eq!((page.history.before(), page.history.last()), (2, 5));
    assert_eq!(problems.len(), 2);
    assert!(page.keeper.lacks_any());
}

#[test]
fn a_newer_films_head_is_left_alone() {
    let store = Memory::default();
    let mut page = Page::new(&store);
    page.change("Add", RowChange::Insert(0, 1));
    let writing = page.keeper.begin::<Memory, Row>(&mut page.history, Occasion::Change).expect("something");
    let mut writing = writing.expect("values");
    writing.head["version"] = serde_json::json!(2);
    assert_eq!(at_once(store.write(writing)), Ok(()));
    let writings = store.writings();
    assert_eq!(at_once(open::<Memory, Row>(&store, FILM)).map(drop), Err(StoreError::Newer));
    assert_eq!(store.writings(), writings);
    let heads = at_once(store.heads()).expect("there");
    assert!(heads.iter().all(|head| Memory::record::<Head>(head).is_ok()));
}
