//! Films in a browser's own database.

use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

use super::history::History;
use super::indexed_db::IndexedDb;
use super::keeper::{Keeper, Occasion};
use super::lock::{Claim, claim};
use super::opening::{Opening, open};
use super::stand_in::{Row, RowChange, title};
use super::store::{Head, Pen, Store as _, StoreError};

wasm_bindgen_test_configure!(run_in_browser);

fn pen(film: u64, holder: u64) -> Pen {
    Pen { film, holder: film * 1000 + holder, opened_ms: 1.0 }
}

async fn store() -> IndexedDb {
    IndexedDb::open("tapemark-tests", |_| {}).await.expect("opens")
}

async fn write(
    store: &IndexedDb,
    keeper: &mut Keeper,
    history: &mut History<Row>,
    occasion: Occasion,
) -> Result<(), StoreError> {
    let Some(writing) = keeper.begin::<IndexedDb, Row>(history, occasion) else { return Ok(()) };
    let outcome = store.write(writing?).await;
    keeper.end(outcome.is_ok());
    outcome
}

#[wasm_bindgen_test]
async fn two_hundred_edits_are_there_again_and_can_be_undone() {
    let store = store().await;
    assert_eq!(store.take_pen(pen(1, 1)).await, Err(StoreError::Gone));
    let mut history = History::of(Row::default());
    let mut keeper = Keeper::of_new(pen(1, 1), 0.0);
    for number in 0..200 {
        let step = history.change("Add", None, RowChange::Insert(0, number), 0.0).expect("applies");
        keeper.note_change(step, 0.0);
        assert_eq!(write(&store, &mut keeper, &mut history, Occasion::Change).await, Ok(()));
    }
    let store = self::store().await;
    assert_eq!(store.take_pen(pen(1, 2)).await, Ok(()));
    let Opening { mut history, problems, .. } = open::<IndexedDb, Row>(&store, 1).await.expect("opens");
    assert_eq!((problems, history.film().numbers.len()), (Vec::<String>::new(), 200));
    assert_eq!((0..1000).take_while(|_| history.undo() == Ok(true)).count(), 200);
    assert_eq!(history.film(), &Row::default());
    let heads = store.heads().await.expect("there");
    let heads: Vec<Head> = heads.iter().map(|head| IndexedDb::record(head).expect("a head")).collect();
    assert!(heads.iter().any(|head| head.film == 1 && head.shots == 200 && head.cursor == 200), "{heads:?}");
}

#[wasm_bindgen_test]
async fn undone_steps_and_their_successors_are_as_they_were_left() {
    let store = store().await;
    let mut history = History::of(Row::default());
    let mut keeper = Keeper::of_new(pen(2, 1), 0.0);
    for number in 0..6 {
        let step = history.change("Add", None, RowChange::Insert(0, number), 0.0).expect("applies");
        keeper.note_change(step, 0.0);
    }
    assert_eq!(write(&store, &mut keeper, &mut history, Occasion::Rest).await, Ok(()));
    for _ in 0..3 {
        assert_eq!(history.undo(), Ok(true));
        keeper.note_move(0.0);
    }
    assert_eq!(write(&store, &mut keeper, &mut history, Occasion::Change).await, Ok(()));
    let opening = open::<IndexedDb, Row>(&store, 2).await.expect("opens");
    assert_eq!((opening.history.cursor(), opening.history.last(), opening.snapshot), (3, 6, 6));
    assert_eq!(opening.history.film().numbers, [2, 1, 0]);
    let step = history.change("Title", None, title("a"), 0.0).expect("applies");
    keeper.note_change(step, 0.0);
    assert_eq!(write(&store, &mut keeper, &mut history, Occasion::Change).await, Ok(()));
    let opening = open::<IndexedDb, Row>(&store, 2).await.expect("opens");
    assert_eq!(opening.problems, Vec::<String>::new());
    assert_eq!((opening.history.cursor(), opening.history.last()), (4, 4));
    assert_eq!(opening.history.film(), history.film());
}

#[wasm_bindgen_test]
async fn who_lost_the_pen_writes_nothing() {
    let store = store().await;
    let mut history = History::of(Row::default());
    let mut keeper = Keeper::of_new(pen(3, 1), 0.0);
    assert_eq!(write(&store, &mut keeper, &mut history, Occasion::Change).await, Ok(()));
    assert_eq!(store.take_pen(pen(3, 2)).await, Ok(()));
    let step = history.change("Title", None, title("a"), 0.0).expect("applies");
    keeper.note_change(step, 0.0);
    let refused = write(&store, &mut keeper, &mut history, Occasion::Change).await;
    assert_eq!(refused, Err(StoreError::Elsewhere));
    let opening = open::<IndexedDb, Row>(&store, 3).await.expect("opens");
    assert_eq!((opening.history.film().title.as_str(), opening.history.last()), ("", 0));
    assert_eq!(store.set_aside(pen(3, 2)).await, Ok(()));
    assert_eq!(store.remove(pen(3, 3)).await, Ok(()));
    assert_eq!(write(&store, &mut keeper, &mut history, Occasion::Change).await, Err(StoreError::Elsewhere));
    assert_eq!(open::<IndexedDb, Row>(&store, 3).await.map(drop), Err(StoreError::Gone));
}

#[wasm_bindgen_test]
async fn a_lock_is_had_by_one() {
    let first = claim("tapemark.test").await;
    assert!(matches!(first, Claim::Here(_)), "{first:?}");
    assert!(matches!(claim("tapemark.test").await, Claim::Elsewhere));
    drop(first);
    assert!(matches!(claim("tapemark.test").await, Claim::Here(_)));
}
