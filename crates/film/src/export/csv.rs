//! Tables: the shots, the cut, and a day's setups; of takes there is another (`takes`).
//!
//! # Conventions
//! - UTF-8, commas, lines that end with CR and LF, and quotes where a cell needs them (RFC 4180), under a row of names.
//! - A text that a spreadsheet would take for a formula has an apostrophe put before it: one that begins with `=`, `+`, `-`,
//!   `@` (also in their full width), tab, CR or LF, or with one of these behind what is not seen, which some drop. Numbers are
//!   as they are. Whoever has such a file split at something else than commas gets other cells, which nothing here can mend.
//! - What is not known is an empty cell.

use std::fmt::Display;

use csv::{Terminator, WriterBuilder};
use jiff::SignedDuration;
use jiff::civil::Date;
use units::FrameRate;

use super::record_order::record_order;
use super::{ExportError, numbered};
use crate::clock::clock_in_files;
use crate::day::ShootingDay;
use crate::day_plan::{DayPlan, DaySetup, Daylights, Unmade};
use crate::daylight::DAY_MIN;
use crate::film::Film;
use crate::id::{PersonId, ShotId};
use crate::order::Placed;
use crate::rehearsal::{NoRehearsal, Rehearsal, Rehearsals};
use crate::scene::Scene;
use crate::shot::Shot;
use crate::wording::fixed;

/// The names of a shot's cells.
const SHOT: [&str; 23] = [
    "number",
    "scene",
    "title",
    "what",
    "size",
    "lens",
    "zoom",
    "adapter",
    "distance_m",
    "height_m",
    "tilt_deg",
    "planned_s",
    "captured_fps",
    "sound",
    "priority",
    "place",
    "setting",
    "time",
    "people",
    "on_set_min",
    "action",
    "notes",
    "dropped",
];

/// The names of an entry's cells.
const ENTRY: [&str; 11] =
    ["entry", "shot", "from_s", "to_s", "length_s", "starts_s", "scene", "title", "what", "size", "action"];

/// The names of the cells of a day's setup.
const SETUP: [&str; 20] = [
    "order",
    "state",
    "date",
    "ready",
    "starts",
    "ends",
    "change",
    "change_min",
    "waits_min",
    "shot",
    "scene",
    "what",
    "size",
    "lens",
    "adapter",
    "filters",
    "place",
    "people",
    "priority",
    "action",
];

/// The film's shots in story order.
///
/// # Errors
/// Only where a table cannot be written.
pub fn shots_csv(film: &Film, rehearsals: &mut Rehearsals) -> Result<Vec<u8>, ExportError> {
    language::for_files(|| {
        let mut rows = Vec::new();
        for (at, scene) in film.scenes.iter().enumerate() {
            for shot in &scene.shots {
                let rehearsal = rehearsals.of(film, scene, shot);
                rows.push(shot_row(film, (at + 1, scene), shot, rehearsal.as_ref().as_ref()));
            }
        }
        table(&SHOT, &rows)
    })
}

/// The film's cut in the order in which it plays.
///
/// # Errors
/// Only where a table cannot be written.
pub fn cut_csv(film: &Film) -> Result<Vec<u8>, ExportError> {
    language::for_files(|| {
        let listed = record_order(film);
        let rows = listed.iter().enumerate().map(|(at, one)| {
            let (from_s, to_s) = one.stretch_s;
            vec![
                (at + 1).to_string(),
                one.number.clone(),
                fixed(from_s, 3),
                fixed(to_s, 3),
                fixed(one.length_s(), 3),
                fixed(one.starts_s, 3),
                one.scene_number.to_string(),
                text(&one.scene.facts.title),
                text(&one.shot.of.told(film)),
                text(one.shot.size.name()),
                text(&one.shot.action),
            ]
        });
        table(&ENTRY, &rows.collect::<Vec<_>>())
    })
}

/// A day's setups in the order of work, its times by the clock and `date` that on which a setup starts: what is in the can, what is planned, what does not fit, and
/// what cannot be made.
///
/// # Errors
/// Only where a table cannot be written.
pub fn day_csv(
    film: &Film,
    day: &ShootingDay,
    plan: &DayPlan,
    daylights: &Daylights,
) -> Result<Vec<u8>, ExportError> {
    language::for_files(|| {
        let work = Work { film, day, plan, daylights };
        let done = plan.setups.iter().filter(|setup| setup.is_done);
        let done = done.map(|setup| work.row(setup.shot.id, "in the can", None));
        let placed = plan.order.placed.iter().enumerate().filter_map(|(at, placed)| {
            let state = if placed.late.is_some() { "late" } else { "planned" };
            Some(work.row(plan.setup(placed.job)?.shot.id, state, Some((at + 1, placed))))
        });
        let missed = plan.order.missed.iter().filter_map(|missed| plan.setup(missed.job));
        let missed = missed.map(|setup| work.row(setup.shot.id, "does not fit", None));
        let unmade =
            plan.unmade.iter().map(|Unmade { shot, why: _ }| work.row(*shot, "cannot be made", None));
        table(&SETUP, &done.chain(placed).chain(missed).chain(unmade).collect::<Vec<_>>())
    })
}

/// A day's work, of which rows are written.
struct Work<'day> {
    film: &'day Film,
    day: &'day ShootingDay,
    plan: &'day DayPlan,
    daylights: &'day Daylights,
}

impl Work<'_> {
    /// One setup; `placed` is its number in the order of work and when it is.
    fn row(&self, id: ShotId, state: &str, placed: Option<(usize, &Placed)>) -> Vec<String> {
        let Self { film, day, plan, daylights } = self;
        let Some((scene, shot)) = film.shot(id) else { return vec![String::new(); SETUP.len()] };
        let setup = plan.setup_of(id);
        let time = |minute: fn(&Placed) -> f64| {
            placed.map_or_else(String::new, |(_, one)| clock_in_files(minute(one)))
        };
        let date = placed.and_then(|(_, placed)| date_at(day, placed.starts_min));
        let made = setup.and_then(DaySetup::made);
        let light = setup
            .zip(placed)
            .and_then(|(setup, (_, placed))| setup.light_at(film, day, daylights, placed.starts_min));
        let filters = light.map_or_else(Vec::new, |light| light.filters.names());
        let change = placed.map(|(_, placed)| &placed.change);
        let parts = change.iter().flat_map(|change| &change.parts).map(|(part, _)| part.words().to_owned());
        vec![
            placed.map_or_else(String::new, |(at, _)| at.to_string()),
            state.to_owned(),
            or_empty(date),
            time(|one| one.ready_min),
            time(|one| one.starts_min),
            time(|one| one.ends_min),
            text(&parts.collect::<Vec<_>>().join(", ")),
            change.map_or_else(String::new, |change| fixed(change.minutes(), 1)),
            placed.map_or_else(String::new, |(_, placed)| fixed(placed.waits_min, 1)),
            numbered(film, id),
            text(&scene.facts.title),
            text(&shot.of.told(film)),
            text(shot.size.name()),
            text(&lens_of(film, made)),
            text(shot.adapter.as_deref().unwrap_or_default()),
            text(&filters.join(" and ")),
            text(place_of(film, scene)),
            text(&names(film, setup.map_or(&[], |setup| &setup.people))),
            shot.priority.word().to_owned(),
            text(&shot.action),
        ]
    }
}

/// The date of a minute of a day, to the minute; none of a day without one.
fn date_at(day: &ShootingDay, minute: f64) -> Option<Date> {
    #[expect(clippy::cast_possible_truncation, reason = "some days; a cast saturates beyond")]
    let days = (minute.round() / DAY_MIN).floor() as i64;
    day.date?.checked_add(SignedDuration::from_hours(24 * days)).ok()
}

fn shot_row(
    film: &Film,
    (number, scene): (usize, &Scene),
    shot: &Shot,
    rehearsal: Result<&Rehearsal, &NoRehearsal>,
) -> Vec<String> {
    let made = rehearsal.ok();
    let setup = made.and_then(|made| made.result().outcome.as_ref().ok());
    let people: Vec<PersonId> = shot.of.people().collect();
    vec![
        numbered(film, shot.id),
        number.to_string(),
        text(&scene.facts.title),
        text(&shot.of.told(film)),
        text(shot.size.name()),
        text(&lens_of(film, made)),
        made.map_or_else(String::new, |made| made.on.in_sensor_zoom.to_string()),
        text(shot.adapter.as_deref().unwrap_or_default()),
        setup.map_or_else(String::new, |setup| fixed(setup.distance.to_m(), 2)),
        setup.map_or_else(String::new, |setup| fixed(setup.phone_height.to_m(), 2)),
        setup.map_or_else(String::new, |setup| fixed(setup.tilt.to_deg(), 1)),
        fixed(shot.planned_s, 3),
        or_empty(shot.capture_rate.map(FrameRate::to_fps)),
        shot.sound.word().to_owned(),
        shot.priority.word().to_owned(),
        text(place_of(film, scene)),
        scene.facts.setting.word().to_owned(),
        scene.facts.time.word().to_owned(),
        text(&names(film, &people)),
        or_empty(shot.on_set_min),
        text(&shot.action),
        text(&shot.notes),
        if shot.is_dropped { "dropped" } else { "" }.to_owned(),
    ]
}

/// The lens that a shot is made on; nothing where it cannot be told.
fn lens_of(film: &Film, made: Option<&Rehearsal>) -> String {
    let lens = made.and_then(|made| made.lens(film));
    lens.map_or_else(String::new, |lens| lens.name.clone())
}

fn place_of<'film>(film: &'film Film, scene: &Scene) -> &'film str {
    film.place_of(scene).map_or("", |place| place.name.as_str())
}

fn names(film: &Film, who: &[PersonId]) -> String {
    who.iter().map(|who| film.name_of(*who)).collect::<Vec<_>>().join(", ")
}

fn or_empty(value: Option<impl Display>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

/// What a spreadsheet takes for the beginning of a formula, or drops before one.
const BEGINS_FORMULA: [char; 11] =
    ['=', '+', '-', '@', '\t', '\r', '\n', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];

/// What some readers drop from the beginning of a cell: spaces, controls, marks of direction and of joining, the byte order mark.
fn is_unseen(letter: char) -> bool {
    letter.is_whitespace()
        || letter.is_control()
        || matches!(letter, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// A text that no spreadsheet takes for a formula.
pub(crate) fn text(text: &str) -> String {
    let seen = text.trim_start_matches(is_unseen);
    if text.starts_with(BEGINS_FORMULA) || seen.starts_with(BEGINS_FORMULA) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// A table under a row of names.
pub(crate) fn table(head: &[&str], rows: &[Vec<String>]) -> Result<Vec<u8>, ExportError> {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(head)?;
    for row in rows {
        writer.write_record(row)?;
    }
    writer.into_inner().map_err(|error| ExportError::Table(error.into_error().into()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::preset::demo_film;
    use proptest::prelude::*;
    use std::sync::Arc;

    /// What a reader makes of a table: its names and its rows.
    fn read(bytes: &[u8]) -> (Vec<String>, Vec<Vec<String>>) {
        let mut reader = csv::Reader::from_reader(bytes);
        let owned = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect::<Vec<_>>();
        let head = owned(reader.headers().expect("a head"));
        (head, reader.records().map(|record| owned(&record.expect("a row"))).collect())
    }

    /// The cells of a column.
    fn column(bytes: &[u8], name: &str) -> Vec<String> {
        let (head, rows) = read(bytes);
        let at = head.iter().position(|one| one == name).expect("a column");
        rows.iter().map(|row| row[at].clone()).collect()
    }

    #[test]
    fn every_shot_is_a_row() {
        let film = demo_film();
        let bytes = shots_csv(&film, &mut Rehearsals::default()).expect("written");
        let wanted: Vec<String> =
            film.scenes.iter().flat_map(|scene| &scene.shots).map(|shot| numbered(&film, shot.id)).collect();
        assert_eq!(column(&bytes, "number"), wanted);
        let distances = column(&bytes, "distance_m");
        assert!(
            distances.iter().all(|cell| cell.parse::<f64>().is_ok_and(|value| value > 0.0)),
            "{distances:?}"
        );
    }

    #[test]
    fn lengths_of_the_cut_add_up_to_where_the_next_entry_starts() {
        let film = demo_film();
        let bytes = cut_csv(&film).expect("written");
        let numbers = |name: &str| -> Vec<f64> {
            column(&bytes, name).iter().map(|cell| cell.parse().expect("a number")).collect()
        };
        let mut at_s = 0.0;
        for (starts_s, length_s) in numbers("starts_s").iter().zip(numbers("length_s")) {
            assert!((starts_s - at_s).abs() < 0.01, "{starts_s} and {at_s}");
            at_s += length_s;
        }
        assert!((at_s - film.cut_s()).abs() < 0.01);
    }

    #[test]
    fn a_day_lists_every_shot_once_in_order_of_time() {
        let film = demo_film();
        let day = &film.days[0];
        let plan = DayPlan::of(&film, day, &Daylights::new(), &mut Rehearsals::default());
        let bytes = day_csv(&film, day, &plan, &Daylights::new()).expect("written");
        assert_eq!(column(&bytes, "shot").len(), day.shots_of(&film).len());
        let starts: Vec<String> =
            column(&bytes, "starts").into_iter().filter(|cell| !cell.is_empty()).collect();
        assert!(starts.len() > 10 && starts.is_sorted(), "{starts:?}");
    }

    #[test]
    fn a_night_is_in_order_of_date_and_time() {
        let mut film = demo_film();
        let hours = crate::film::Hours::until(22 * 60, 6 * 60).expect("hours");
        film.cast = film.cast.iter().cloned().map(|one| crate::CastMember { hours: None, ..one }).collect();
        let day = ShootingDay { hours, breaks: Vec::new(), ..film.days[0].clone() };
        film.days = [day.clone()].into();
        let plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        let bytes = day_csv(&film, &day, &plan, &Daylights::new()).expect("written");
        let (dates, starts) = (column(&bytes, "date"), column(&bytes, "starts"));
        let told: Vec<_> = dates.iter().zip(&starts).filter(|(_, start)| !start.is_empty()).collect();
        assert!(told.len() > 10 && told.is_sorted(), "{told:?}");
        let of = |date| dates.iter().filter(|one| *one == date).count();
        assert_eq!([of("2026-09-12"), of("2026-09-13")].map(|count| count > 0), [true; 2], "{told:?}");
    }

    #[test]
    fn a_row_ends_with_cr_and_lf_and_quotes_stand_only_where_they_must() {
        let mut film = demo_film();
        let scene = Arc::make_mut(&mut film.scenes[0]);
        Arc::make_mut(&mut scene.shots[0]).notes = "two \"lines\",\nand more".to_owned();
        let bytes = shots_csv(&film, &mut Rehearsals::default()).expect("written");
        let told = String::from_utf8(bytes).expect("UTF-8");
        assert!(told.starts_with("number,scene,title,"), "{told}");
        assert!(told.contains(",\"two \"\"lines\"\",\nand more\",\r\n"), "{told}");
    }

    #[test]
    fn a_shot_that_was_given_up_says_so() {
        let mut film = demo_film();
        let scene = Arc::make_mut(&mut film.scenes[0]);
        Arc::make_mut(&mut scene.shots[1]).is_dropped = true;
        let bytes = shots_csv(&film, &mut Rehearsals::default()).expect("written");
        assert_eq!(column(&bytes, "dropped")[..3], ["", "dropped", ""]);
    }

    #[test]
    fn a_formula_behind_what_is_not_seen_is_none() {
        for told in ["  =1+1", "\u{feff}=1+1", "\0@SUM(1)", "\u{200e}-1"] {
            assert_eq!(text(told), format!("'{told}"));
        }
        assert_eq!(text("a = b"), "a = b");
    }

    proptest! {
        #[test]
        fn any_notes_come_back_and_are_no_formula(notes in "[-=+@\t\r\n'\",a-zé\u{ff1d}]{0,12}") {
            let mut film = demo_film();
            film.scenes.truncate(1);
            let scene = Arc::make_mut(&mut film.scenes[0]);
            scene.shots.truncate(1);
            scene.cut.clear();
            Arc::make_mut(&mut scene.shots[0]).notes.clone_from(&notes);
            let bytes = shots_csv(&film, &mut Rehearsals::default()).expect("written");
            let cell = column(&bytes, "notes").remove(0);
            prop_assert!(!cell.starts_with(BEGINS_FORMULA), "{cell:?}");
            prop_assert!(cell == notes || cell == format!("'{notes}"), "{cell:?} and {notes:?}");
        }
    }
}
