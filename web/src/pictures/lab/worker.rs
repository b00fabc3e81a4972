//! A worker as the lab knows it: what it does, which photos it has, and whether it is alive.

use requests::{PHOTOS_KEPT, PhotoNumber};

/// A worker as the lab knows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Worker {
    pub(super) state: State,
    /// How many seconds it has been silent though something was expected of it.
    silent_s: u32,
    /// How often it was lost since it last drew something.
    failures: u32,
    /// Whether its module had come when it was lost last, so that it is not missing.
    had_come: bool,
    /// The photos that it was handed over and keeps, the last one last.
    photos: Vec<PhotoNumber>,
}

/// What a worker does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum State {
    /// Nothing: there was nothing to draw yet.
    Unstarted,
    /// Its module is on the way.
    Starting,
    /// It waits for something to draw.
    Idle,
    /// It draws a part of that job.
    Busy(u32),
    /// It was lost too often.
    Gone,
}

/// Seconds after which a silent worker is taken for dead: chosen as ten times its own longest silence.
const DEAD_AFTER_S: u32 = 5;
/// Seconds that a worker's module may take to come: chosen for a slow network.
const LOST_AFTER_S: u32 = 30;
/// What failed so often in a row is given up: chosen because what failed three times fails again.
pub(super) const MOST_FAILURES: u32 = 3;

impl Worker {
    pub(super) const UNSTARTED: Self =
        Self { state: State::Unstarted, silent_s: 0, failures: 0, had_come: false, photos: Vec::new() };

    /// It said something.
    pub(super) fn is_heard(&mut self) {
        self.silent_s = 0;
    }

    /// It handed over pixels.
    pub(super) fn has_drawn(&mut self) {
        self.state = State::Idle;
        self.failures = 0;
    }

    /// It is asked to draw a part of that job.
    pub(super) fn draws(&mut self, job: u32) {
        self.state = State::Busy(job);
        self.silent_s = 0;
    }

    /// It is lost: says whether another is to be started in its place.
    pub(super) fn is_lost(&mut self) -> bool {
        self.photos.clear();
        self.silent_s = 0;
        self.failures += 1;
        self.had_come = self.state != State::Starting;
        self.state = if self.failures < MOST_FAILURES { State::Starting } else { State::Gone };
        self.state == State::Starting
    }

    /// A second has gone: says whether it must be dead.
    pub(super) fn second(&mut self) -> bool {
        let most = match self.state {
            State::Starting => LOST_AFTER_S,
            State::Busy(_) => DEAD_AFTER_S,
            State::Unstarted | State::Idle | State::Gone => return false,
        };
        self.silent_s += 1;
        self.silent_s > most
    }

    /// It shall have that photo: says whether it is to be handed over.
    pub(super) fn needs(&mut self, photo: PhotoNumber) -> bool {
        if self.photos.contains(&photo) {
            return false;
        }
        self.photos.push(photo);
        // As it does itself.
        self.photos.drain(..self.photos.len().saturating_sub(PHOTOS_KEPT));
        true
    }

    /// Nobody shall have that photo any more: says whether it is to be told.
    pub(super) fn forgets(&mut self, photo: PhotoNumber) -> bool {
        let before = self.photos.len();
        self.photos.retain(|one| *one != photo);
        self.photos.len() < before
    }

    /// Whether it was lost after its module had come.
    pub(super) const fn had_come(&self) -> bool {
        self.had_come
    }

    /// Whether it can be asked something.
    pub(super) const fn listens(&self) -> bool {
        matches!(self.state, State::Idle | State::Busy(_))
    }

    /// Whether something is expected of it.
    pub(super) const fn is_awaited(&self) -> bool {
        matches!(self.state, State::Starting | State::Busy(_))
    }
}
