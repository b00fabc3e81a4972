//! What of a film is not kept yet, and what is written for it next.

use super::history::{History, Step};
use super::kept::{About, Kept};
use super::opening::Opening;
use super::store::{Head, Pen, STORE_VERSION, SnapshotRecord, StepRecord, Store, StoreError, Writing};

/// Keeps one film: knows what its store lacks.
#[derive(Debug)]
pub(crate) struct Keeper {
    pen: Pen,
    changed_ms: f64,
    /// The number of the step that the store's snapshot is of.
    snapshot: u64,
    lacks: Lacks,
    begun: Option<Begun>,
    /// After a writing that failed, nothing is written that is not needed: a store that is full may still have room for a step.
    is_sparing: bool,
}

/// What a store lacks of a film.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Lacks {
    /// Where the film is among its steps.
    head: bool,
    /// All steps from that number on.
    from: Option<u64>,
    /// A snapshot, for the one there is of another film than the steps.
    snapshot: bool,
}

/// Writings that have begun and not ended.
#[derive(Debug, Clone, Copy)]
struct Begun {
    /// What the store lacks if they fail.
    lacks: Lacks,
    snapshot_before: u64,
    count: u32,
    is_alone: bool,
}

/// On what occasion something is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Occasion {
    /// Something was changed.
    Change,
    /// The hands rest: there is time for a snapshot.
    Rest,
    /// The page may be gone in a moment.
    Leaving,
}

/// So many steps after a snapshot of a small film another follows while hands do not rest: chosen, as replaying them takes
/// no longer than reading it.
const STEPS_TO_SNAPSHOT: u64 = 40;
/// A film with more shots takes longer to write down, and its next snapshot is put off by a step for so many: chosen so that
/// both take about as long.
const SHOTS_A_STEP: usize = 4;
/// So many steps can be undone: chosen as more than anybody goes back one by one.
const STEPS_KEPT: usize = 500;

/// After how many steps a film of so many shots is written down whole while hands do not rest.
const fn steps_to_snapshot(shots: usize) -> u64 {
    STEPS_TO_SNAPSHOT + (shots / SHOTS_A_STEP) as u64
}

impl Lacks {
    const fn any(self) -> bool {
        self.head || self.from.is_some() || self.snapshot
    }

    fn and(self, other: Self) -> Self {
        let from = match (self.from, other.from) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        Self { head: self.head || other.head, from, snapshot: self.snapshot || other.snapshot }
    }
}

impl Keeper {
    /// For a film of which nothing is kept.
    pub(crate) fn of_new(pen: Pen, now_ms: f64) -> Self {
        let lacks = Lacks { head: true, from: Some(1), snapshot: true };
        Self { pen, changed_ms: now_ms, snapshot: 0, lacks, begun: None, is_sparing: false }
    }

    /// For a film that was opened from a store.
    pub(crate) fn of_opened<K: Kept>(pen: Pen, opening: &Opening<K>) -> Self {
        let lacks = if opening.problems.is_empty() {
            Lacks::default()
        } else {
            let from = Some(opening.history.cursor() + 1);
            Lacks { head: true, from, snapshot: true }
        };
        let Opening { snapshot, changed_ms, .. } = *opening;
        Self { pen, changed_ms, snapshot, lacks, begun: None, is_sparing: false }
    }

    /// The film's number.
    pub(crate) const fn film(&self) -> u64 {
        self.pen.film
    }

    /// The film was changed: that step is another than before.
    pub(crate) fn note_change(&mut self, step: u64, now_ms: f64) {
        self.changed_ms = now_ms;
        self.lacks = self.lacks.and(Lacks { head: true, from: Some(step), ..Lacks::default() });
    }

    /// A step was undone or done again.
    pub(crate) const fn note_move(&mut self, now_ms: f64) {
        self.changed_ms = now_ms;
        self.lacks.head = true;
    }

    /// What lies in the store may be gone: all of the film is written anew.
    pub(crate) fn note_lost(&mut self) {
        self.lacks = Lacks { head: true, from: Some(1), snapshot: true };
    }

    /// Whether the store lacks anything that is not being written.
    pub(crate) const fn lacks_any(&self) -> bool {
        self.lacks.any()
    }

    /// Whether anything is being written.
    pub(crate) const fn is_writing(&self) -> bool {
        self.begun.is_some()
    }

    /// What to write now, if anything. It counts as begun: its end is to be told.
    pub(crate) fn begin<S: Store, K: Kept>(
        &mut self,
        history: &mut History<K>,
        occasion: Occasion,
    ) -> Option<Result<Writing<S::Value>, StoreError>> {
        let begun = self.begun;
        // One that has begun may fail when this one does not: so this one brings what that one brings.
        let lacks = begun.map_or(self.lacks, |begun| self.lacks.and(begun.lacks));
        let steps_since = history.cursor().abs_diff(self.snapshot);
        let is_due = match occasion {
            Occasion::Change => steps_since >= steps_to_snapshot(history.film().about().shots),
            Occasion::Rest | Occasion::Leaving => steps_since > 0,
        };
        let needs_snapshot = lacks.snapshot || lacks.from.is_some_and(|from| from <= self.snapshot);
        let has_snapshot = needs_snapshot || (is_due && !self.is_sparing);
        if !self.lacks.any() && !has_snapshot {
            return None;
        }
        if has_snapshot {
            history.forget(STEPS_KEPT);
        }
        let writing = self.writing::<S, K>(history, lacks, has_snapshot);
        if writing.is_ok() {
            self.begun = Some(Begun {
                lacks,
                snapshot_before: begun.map_or(self.snapshot, |begun| begun.snapshot_before),
                count: begun.map_or(0, |begun| begun.count) + 1,
                is_alone: begun.is_none(),
            });
            self.lacks = Lacks::default();
            if has_snapshot {
                self.snapshot = history.cursor();
            }
        }
        Some(writing)
    }

    /// A writing has ended.
    pub(crate) fn end(&mut self, is_written: bool) {
        let Some(mut begun) = self.begun.take() else { return };
        self.is_sparing = !is_written;
        if !is_written {
            self.lacks = self.lacks.and(begun.lacks);
            if begun.is_alone {
                self.snapshot = begun.snapshot_before;
            } else {
                // Which snapshot lies there depends on which of them failed, so another one is brought.
                self.lacks.snapshot = true;
            }
        }
        begun.count -= 1;
        self.begun = (begun.count > 0).then_some(begun);
    }

    fn writing<S: Store, K: Kept>(
        &self,
        history: &History<K>,
        lacks: Lacks,
        has_snapshot: bool,
    ) -> Result<Writing<S::Value>, StoreError> {
        let film = self.pen.film;
        let About { title, shots, seconds } = history.film().about();
        let head = Head {
            film,
            version: STORE_VERSION,
            title,
            shots,
            seconds,
            changed_ms: self.changed_ms,
            cursor: history.cursor(),
            last: history.last(),
        };
        let step_value = |(step, known): (u64, &Step<K>)| {
            S::value(&StepRecord {
                film,
                step,
                name: known.name.clone(),
                target: known.target,
                change: K::change_record(&known.change),
                inverse: K::change_record(&known.inverse),
            })
        };
        let steps = match lacks.from.map(|from| from.max(history.before() + 1)) {
            Some(from) => {
                let values = history.steps_from(from).map(step_value).collect::<Result<Vec<_>, _>>()?;
                Some((from, values))
            }
            None => None,
        };
        let snapshot = if has_snapshot {
            let step = history.cursor();
            Some(S::value(&SnapshotRecord { film, step, record: history.film().record() })?)
        } else {
            None
        };
        Ok(Writing {
            pen: self.pen,
            head: S::value(&head)?,
            steps,
            snapshot,
            forgets_to: Some(history.before()).filter(|before| has_snapshot && *before > 0),
        })
    }
}
