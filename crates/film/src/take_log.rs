//! What was shot: the takes of every shot, as they were logged on the set.

use jiff::Timestamp;
use language::{key, text};

use crate::film::Film;
use crate::id::{ShotId, TakeId};
use crate::unknown::Unknown;

/// A take that was made.
#[derive(Debug, Clone, PartialEq)]
pub struct LoggedTake {
    /// Known by this.
    pub id: TakeId,
    /// Of which shot. One that has gone from the film keeps its takes, as there are clips of them.
    pub shot: ShotId,
    /// Which take of the shot, counted from 1, as it was slated.
    pub number: u32,
    /// Whether it is any good.
    pub verdict: Verdict,
    /// Why it is or is not.
    pub why: String,
    /// What the camera app called its clip.
    pub clip: String,
    /// When it was logged.
    pub at: Option<Timestamp>,
    /// Where the camera app's focus slider stood, as the app writes it.
    pub focus: String,
    /// What a newer program wrote beside these.
    pub unknown: Unknown,
}

/// Whether a take is any good.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Verdict {
    /// Nobody has said.
    #[default]
    Unsaid,
    /// It will do.
    Good,
    /// It will not.
    NotGood,
}

impl Verdict {
    /// What it is called in files, whatever is spoken.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Unsaid => key!("not said"),
            Self::Good => key!("good"),
            Self::NotGood => key!("not good"),
        }
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        text(self.word())
    }
}

impl LoggedTake {
    /// A take of which only its shot and its number are known.
    pub fn new(id: TakeId, shot: ShotId, number: u32) -> Self {
        Self {
            id,
            shot,
            number,
            verdict: Verdict::Unsaid,
            why: String::new(),
            clip: String::new(),
            at: None,
            focus: String::new(),
            unknown: Unknown::default(),
        }
    }
}

impl Film {
    /// The takes of a shot, in the order in which they were logged.
    pub fn takes_of(&self, shot: ShotId) -> impl DoubleEndedIterator<Item = &LoggedTake> {
        self.takes.iter().map(|take| &**take).filter(move |take| take.shot == shot)
    }

    /// The number of a shot's next take: one more than the highest that was slated.
    pub fn next_take(&self, shot: ShotId) -> u32 {
        self.takes_of(shot).map(|take| take.number).max().unwrap_or(0).saturating_add(1)
    }

    /// The take of a shot that an edit would use: the last good one, else the last of which nobody has said anything.
    pub fn best_take(&self, shot: ShotId) -> Option<&LoggedTake> {
        let last = |verdict: Verdict| self.takes_of(shot).rfind(|take| take.verdict == verdict);
        last(Verdict::Good).or_else(|| last(Verdict::Unsaid))
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;

    fn film_with(takes: &[(u32, Verdict)]) -> (Film, ShotId) {
        let mut film = crate::demo_film();
        let shot = film.scenes[0].shots[0].id;
        let logged = takes.iter().zip(1..).map(|(&(number, verdict), id)| {
            let id = TakeId::new(id).expect("an id");
            Arc::new(LoggedTake { verdict, ..LoggedTake::new(id, shot, number) })
        });
        film.takes = logged.collect();
        (film, shot)
    }

    #[test]
    fn the_next_take_follows_the_highest_number_even_if_takes_were_logged_out_of_order() {
        let (film, shot) = film_with(&[(1, Verdict::Unsaid), (5, Verdict::NotGood), (2, Verdict::Good)]);
        assert_eq!(film.next_take(shot), 6);
        assert_eq!(film.next_take(film.scenes[0].shots[1].id), 1);
    }

    #[test]
    fn the_best_take_is_the_last_good_one_or_else_the_last_that_nobody_refused() {
        let best = |takes: &[(u32, Verdict)]| {
            let (film, shot) = film_with(takes);
            film.best_take(shot).map(|take| take.number)
        };
        assert_eq!(best(&[(1, Verdict::Good), (2, Verdict::Good), (3, Verdict::Unsaid)]), Some(2));
        assert_eq!(best(&[(1, Verdict::Unsaid), (2, Verdict::NotGood)]), Some(1));
        assert_eq!(best(&[(1, Verdict::NotGood)]), None);
        assert_eq!(best(&[]), None);
    }
}
