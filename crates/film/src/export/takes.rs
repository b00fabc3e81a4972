//! The table of takes: what was shot, as it was logged on the set.

use super::ExportError;
use super::csv::{table, text};
use crate::film::Film;
use crate::take_log::LoggedTake;

/// The names of a take's cells.
const TAKE: [&str; 8] = ["shot", "take", "verdict", "why", "clip", "at", "focus", "take_id"];

/// The film's takes in story order, those of one shot in the order in which they were logged.
///
/// `at` is when a take was logged, in UTC (RFC 3339). Takes of shots that are no longer in the film come last, without a number:
/// there may still be clips of them.
///
/// # Errors
/// Only where a table cannot be written.
pub fn takes_csv(film: &Film) -> Result<Vec<u8>, ExportError> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for shot in film.scenes.iter().flat_map(|scene| &scene.shots) {
        let number = film.numbered(shot.id).unwrap_or_default();
        rows.extend(film.takes_of(shot.id).map(|take| row(&number, take)));
    }
    let gone = film.takes.iter().filter(|take| film.shot(take.shot).is_none());
    rows.extend(gone.map(|take| row("", take)));
    table(&TAKE, &rows)
}

fn row(shot: &str, take: &LoggedTake) -> Vec<String> {
    vec![
        shot.to_owned(),
        take.number.to_string(),
        take.verdict.word().to_owned(),
        text(&take.why),
        text(&take.clip),
        take.at.map_or_else(String::new, |at| at.to_string()),
        text(&take.focus),
        take.id.to_string(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::{ShotId, TakeId};
    use crate::preset::demo_film;
    use crate::take_log::Verdict;
    use std::sync::Arc;

    fn take(id: u64, shot: ShotId, number: u32) -> LoggedTake {
        LoggedTake::new(TakeId::new(id).expect("an id"), shot, number)
    }

    /// The rows of a film with these takes, as they are written.
    fn rows(takes: impl IntoIterator<Item = LoggedTake>) -> Vec<String> {
        let mut film = demo_film();
        film.takes = takes.into_iter().map(Arc::new).collect();
        let told = String::from_utf8(takes_csv(&film).expect("written")).expect("UTF-8");
        told.split_terminator("\r\n").map(str::to_owned).collect()
    }

    #[test]
    fn takes_are_in_story_order_and_say_when_they_were_logged_in_utc() {
        let film = demo_film();
        let [first, second] = [0, 1].map(|at: usize| film.scenes[0].shots[at].id);
        let logged = LoggedTake {
            verdict: Verdict::NotGood,
            why: "=noise, a bus".to_owned(),
            clip: "IMG_0042.MOV".to_owned(),
            at: Some("2026-09-12T10:30:00+02:00".parse().expect("a time")),
            focus: "-0.62".to_owned(),
            ..take(7, second, 1)
        };
        let wanted = [
            "shot,take,verdict,why,clip,at,focus,take_id",
            "1.1,1,not said,,,,,9",
            "1.2,1,not good,\"'=noise, a bus\",IMG_0042.MOV,2026-09-12T08:30:00Z,'-0.62,7",
            "1.2,2,not said,,,,,8",
        ];
        assert_eq!(rows([logged, take(8, second, 2), take(9, first, 1)]), wanted);
    }

    #[test]
    fn a_take_of_a_shot_that_has_gone_has_no_number_and_comes_last() {
        let film = demo_film();
        let gone = ShotId::new(999_999).expect("an id");
        assert!(film.shot(gone).is_none(), "it is there");
        let rows = rows([take(1, gone, 3), take(2, film.scenes[0].shots[0].id, 1)]);
        assert_eq!(rows[1..], ["1.1,1,not said,,,,,2", ",3,not said,,,,,1"]);
    }
}
