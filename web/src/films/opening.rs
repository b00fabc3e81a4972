//! Opens a film from a store: its snapshot, and from there the steps to where it was left.

use std::collections::BTreeMap;

use language::say;
use serde::Deserialize;

use super::history::{History, Step};
use super::kept::Kept;
use super::store::{Head, STORE_VERSION, SnapshotRecord, StepRecord, Store, StoreError, Stored};

/// A film as it was opened.
#[derive(Debug)]
pub(crate) struct Opening<K: Kept> {
    /// The film and its steps.
    pub(crate) history: History<K>,
    /// The number of the step that the store's snapshot is of.
    pub(crate) snapshot: u64,
    /// When it was last changed, milliseconds since 1970.
    pub(crate) changed_ms: f64,
    /// What was not as it should be, in sentences. If there is any, what lies in the store is more than what was opened, and
    /// is to be set aside before anything is written.
    pub(crate) problems: Vec<String>,
}

/// What can be read of a head that a newer program wrote.
#[derive(Deserialize)]
struct Version {
    version: u32,
}

/// What can be read of a step whose change cannot.
#[derive(Deserialize)]
struct Number {
    step: u64,
}

/// Steps by number, or why one cannot be read.
type Steps<K> = BTreeMap<u64, Result<Step<K>, String>>;

/// Opens a film. Writes nothing.
pub(crate) async fn open<S: Store, K: Kept>(store: &S, film: u64) -> Result<Opening<K>, StoreError> {
    let Stored { head, snapshot, steps } = store.read(film).await?.ok_or(StoreError::Gone)?;
    let Version { version } = S::record(&head)?;
    if version > STORE_VERSION {
        return Err(StoreError::Newer);
    }
    let head: Head = S::record(&head)?;
    let snapshot = snapshot.ok_or_else(|| StoreError::Unreadable(say!("there is no snapshot").to_owned()))?;
    let snapshot: SnapshotRecord<K::Record> = S::record(&snapshot)?;
    let mut problems = Vec::new();
    let mut by_number = Steps::<K>::new();
    for value in &steps {
        match S::record::<Number>(value) {
            Ok(Number { step }) => {
                by_number.insert(step, read_step::<S, K>(value));
            }
            Err(error) => problems.push(say!("One of the kept changes has no number: {error}.")),
        }
    }
    Ok(replay(&head, &snapshot, by_number, problems))
}

fn read_step<S: Store, K: Kept>(value: &S::Value) -> Result<Step<K>, String> {
    let record: StepRecord<K::ChangeRecord> = S::record(value).map_err(|error| error.to_string())?;
    Ok(Step {
        name: record.name,
        target: record.target,
        change: K::of_change_record(&record.change)?,
        inverse: K::of_change_record(&record.inverse)?,
    })
}

/// Makes the steps between snapshot and cursor again, or takes them back. Stops at the first that cannot be.
fn replay<K: Kept>(
    head: &Head,
    snapshot: &SnapshotRecord<K::Record>,
    mut steps: Steps<K>,
    mut problems: Vec<String>,
) -> Opening<K> {
    let (mut film, of_record) = K::of_record(&snapshot.record);
    problems.extend(of_record);
    let mut at = snapshot.step;
    let mut stopped = None;
    while at != head.cursor && stopped.is_none() {
        let (number, next) = if at < head.cursor { (at + 1, at + 1) } else { (at, at - 1) };
        match repeat(&mut film, steps.get(&number), at < head.cursor) {
            Ok(()) => at = next,
            Err(why) => stopped = Some((number, why)),
        }
    }
    if let Some((number, why)) = &stopped {
        problems.push(say!(
            "Change {number} of {} could not be made again: {why}. The film is as it was without it and what followed; \
             everything that was kept is set aside as it is.",
            head.last
        ));
    }
    let mut done = Vec::new();
    let mut before = at;
    while let Some(Ok(step)) = steps.remove(&before) {
        done.push(step);
        before -= 1;
    }
    done.reverse();
    let mut undone = Vec::new();
    if stopped.is_none() {
        let mut next = at + 1;
        while let Some(Ok(step)) = steps.remove(&next) {
            undone.push(step);
            next += 1;
        }
        if next <= head.last {
            problems
                .push(say!("What was undone from change {next} on cannot be done again; it is set aside."));
        }
        // Those that were forgotten are gone as a whole: any that is left lies beyond one that cannot be read.
        if before > 0 && steps.keys().any(|number| *number < before) {
            problems.push(say!("What was done up to change {before} cannot be undone any more."));
        }
    }
    Opening {
        history: History::with_steps(film, before, done, undone),
        snapshot: snapshot.step,
        changed_ms: head.changed_ms,
        problems,
    }
}

/// Makes a step again, or takes it back.
fn repeat<K: Kept>(
    film: &mut K,
    step: Option<&Result<Step<K>, String>>,
    forwards: bool,
) -> Result<(), String> {
    let step = step.ok_or_else(|| say!("it is missing").to_owned())?.as_ref().map_err(Clone::clone)?;
    let change = if forwards { &step.change } else { &step.inverse };
    match film.apply(change.clone()) {
        Ok(_) => Ok(()),
        Err(refusal) => Err(format!("\"{}\": {refusal}", step.name)),
    }
}
