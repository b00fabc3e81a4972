//! The order of work as rows of a timeline: the call, what changes, waits, breaks, setups, and when all is done.

use film::{DayPlan, DaySpan, Film, Placed, Priority, Rig, ShotId, clock, clock_of_day};
use language::say;

use super::words;
use crate::shooting::DAY_MIN;
use crate::story::words::{capital, shot as told};

/// A row of the timeline.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Row {
    /// Something between setups.
    Pause(Pause),
    /// A setup.
    Setup(Box<SetupRow>),
}

/// What is between setups.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Pause {
    pub(super) kind: PauseKind,
    /// When, as the clock shows it.
    pub(super) at: String,
    pub(super) words: String,
}

/// What is between setups.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum PauseKind {
    Call,
    Change,
    Wait,
    Break,
    Midnight,
    Wrap,
}

/// What a setup's row says.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SetupRow {
    pub(super) shot: ShotId,
    /// Its place in the order, counted from 0.
    pub(super) at: usize,
    /// How many there are.
    pub(super) of: usize,
    pub(super) number: String,
    pub(super) what: String,
    pub(super) from: String,
    pub(super) to: String,
    pub(super) rig: String,
    /// Where, if that is another place than before.
    pub(super) place: Option<String>,
    /// Why it is here: the one that binds most, and the others.
    pub(super) reason: String,
    pub(super) reasons: Vec<String>,
    pub(super) is_must_have: bool,
    pub(super) is_pinned: bool,
    /// What keeps it from being shot properly here.
    pub(super) late: Option<String>,
}

/// What a row is known by: setups by their shot, what is between them by what it says.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum RowKey {
    Pause(Pause, usize),
    Setup(ShotId),
}

impl PauseKind {
    /// The class of its row.
    pub(super) const fn class(self) -> &'static str {
        match self {
            Self::Call => "day-pause day-call",
            Self::Change => "day-pause day-change",
            Self::Wait | Self::Midnight => "day-pause day-wait",
            Self::Break => "day-pause day-break",
            Self::Wrap => "day-pause day-wrap",
        }
    }
}

impl SetupRow {
    /// All that the row says, for those who do not see it.
    pub(super) fn spoken(&self) -> String {
        let Self { number, what, from, to, rig, .. } = self;
        let place = self.place.iter().map(|place| say!(" At {place}."));
        let why = (!self.reason.is_empty()).then(|| say!(" Here {}.", self.reason));
        let pinned = if self.is_pinned { say!(", pinned") } else { "" };
        let matters = if self.is_must_have { say!("Must have") } else { say!("Nice to have") };
        let more: String = place.chain(why).collect();
        say!("{number} {what}, {from} to {to}. {rig}.{more} {matters}{pinned}.")
    }
}

/// The keys of rows, in order. What is said twice on a day is told apart by which setup it is before.
pub(super) fn keys(rows: &[Row]) -> Vec<RowKey> {
    let mut setups = 0;
    let key = |row: &Row| match row {
        Row::Pause(pause) => RowKey::Pause(pause.clone(), setups),
        Row::Setup(setup) => {
            setups += 1;
            RowKey::Setup(setup.shot)
        }
    };
    rows.iter().map(key).collect()
}

/// The rows of a day's order.
pub(super) fn rows(film: &Film, plan: &DayPlan) -> Vec<Row> {
    let problem = &plan.problem;
    let mut rows = vec![call(plan)];
    let mut at_min = problem.call_min;
    let mut rig = problem.before.as_ref();
    let mut started_min = problem.call_min;
    for (at, placed) in plan.order.placed.iter().enumerate() {
        let Some(job) = problem.jobs.get(placed.job) else { continue };
        let midnight = midnight(started_min, placed.starts_min);
        rows.extend(pauses(film, plan, placed, rig, at_min, midnight).into_iter().map(Row::Pause));
        rows.extend(setup(film, plan, at, placed, rig).map(|row| Row::Setup(Box::new(row))));
        (at_min, rig, started_min) = (placed.ends_min, Some(&job.rig), placed.starts_min);
    }
    if !plan.order.placed.is_empty() {
        rows.push(wrap(plan));
    }
    rows
}

fn call(plan: &DayPlan) -> Row {
    let done = plan.setups.iter().filter(|setup| setup.is_done).count();
    let words = if done == 0 { say!("call").to_owned() } else { say!("go on, {done} in the can") };
    Row::Pause(Pause { kind: PauseKind::Call, at: clock(plan.problem.call_min), words })
}

/// The midnight that parts two setups of a night's shoot, and its row.
fn midnight(before_min: f64, starts_min: f64) -> Option<(f64, Pause)> {
    let day_min = f64::from(DAY_MIN);
    let pause = || Pause {
        kind: PauseKind::Midnight,
        at: clock(day_min),
        words: say!("from here on, the next day").to_owned(),
    };
    (before_min < day_min && starts_min >= day_min).then(|| (day_min, pause()))
}

fn wrap(plan: &DayPlan) -> Row {
    let (ends, wrap) = (plan.order.ends_min, plan.problem.wrap_min);
    let left = wrap - ends;
    let words = if left >= 0.5 {
        say!("done, {} before the wrap at {}", words::span(left), clock_of_day(wrap))
    } else if left <= -0.5 {
        say!("done, {} after the wrap at {}", words::span(-left), clock_of_day(wrap))
    } else {
        say!("done, and wrap").to_owned()
    };
    Row::Pause(Pause { kind: PauseKind::Wrap, at: clock(ends), words })
}

/// What comes between a setup and the one before it, which ended at `at_min`: its change, breaks, waiting, and midnight.
fn pauses(
    film: &Film,
    plan: &DayPlan,
    placed: &Placed,
    from: Option<&Rig>,
    at_min: f64,
    midnight: Option<(f64, Pause)>,
) -> Vec<Pause> {
    let problem = &plan.problem;
    let Some(job) = problem.jobs.get(placed.job) else { return Vec::new() };
    let is_between = |one: &&DaySpan| one.to_min > at_min + 1e-6 && one.from_min < placed.starts_min - 1e-6;
    let mut timed: Vec<(f64, Pause)> = problem
        .breaks
        .iter()
        .filter(is_between)
        .map(|one| {
            let words = say!("break, {}", words::span(one.to_min - one.from_min));
            let at = words::between(one.from_min, one.to_min);
            (one.from_min, Pause { kind: PauseKind::Break, at, words })
        })
        .collect();
    if placed.change.minutes() > 0.0 {
        let words = words::change(film, from, &job.rig, &placed.change.parts);
        timed.push((at_min + 1e-6, Pause { kind: PauseKind::Change, at: String::new(), words }));
    }
    if placed.waits_min >= 0.5 {
        let words = words::wait(film, job, placed.starts_min, placed.waits_min, &problem.breaks);
        timed.push((
            placed.ready_min + 2e-6,
            Pause { kind: PauseKind::Wait, at: clock(placed.ready_min), words },
        ));
    }
    timed.extend(midnight);
    timed.sort_by(|(one, _), (other, _)| one.total_cmp(other));
    timed.into_iter().map(|(_, pause)| pause).collect()
}

fn setup(film: &Film, plan: &DayPlan, at: usize, placed: &Placed, from: Option<&Rig>) -> Option<SetupRow> {
    let (setup, job) = (plan.setup(placed.job)?, plan.problem.jobs.get(placed.job)?);
    let person = |who| film.name_of(who).to_owned();
    let mut reasons = placed.reasons.iter().map(|reason| reason.words(person));
    let is_elsewhere = from.is_none_or(|from| from.place != job.rig.place);
    Some(SetupRow {
        shot: setup.shot.id,
        at,
        of: plan.order.placed.len(),
        number: words::number(film, setup.shot.id),
        what: told(film, &setup.shot),
        from: clock(placed.starts_min),
        to: clock(placed.ends_min),
        rig: capital(&words::rig(&job.rig)),
        place: words::place(film, &job.rig).filter(|_| is_elsewhere),
        reason: reasons.next().map_or_else(String::new, |reason| say!("because {reason}")),
        reasons: reasons.collect(),
        is_must_have: setup.shot.priority == Priority::MustHave,
        is_pinned: job.pinned.is_some(),
        late: placed.late.map(|why| why.words(person)),
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use film::{Daylights, Hours, Rehearsals, ShootingDay};

    use super::*;

    fn planned(change: impl FnOnce(&mut ShootingDay)) -> (Film, DayPlan) {
        let film = film::demo_film();
        let mut day = film.days[0].clone();
        change(&mut day);
        let plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        (film, plan)
    }

    fn setups(rows: &[Row]) -> Vec<&SetupRow> {
        let mut setups = Vec::new();
        for row in rows {
            match row {
                Row::Setup(setup) => setups.push(&**setup),
                Row::Pause(_) => {}
            }
        }
        setups
    }

    fn pauses(rows: &[Row], kind: PauseKind) -> Vec<&Pause> {
        let mut pauses = Vec::new();
        for row in rows {
            match row {
                Row::Pause(pause) if pause.kind == kind => pauses.push(pause),
                Row::Pause(_) | Row::Setup(_) => {}
            }
        }
        pauses
    }

    #[test]
    fn every_setup_of_the_order_has_a_row_from_the_call_to_the_wrap() {
        let (film, plan) = planned(|_| {});
        let rows = rows(&film, &plan);
        assert_eq!(setups(&rows).len(), plan.order.placed.len());
        assert_eq!(pauses(&rows, PauseKind::Call).len(), 1);
        assert!(matches!(rows.last(), Some(Row::Pause(Pause { kind: PauseKind::Wrap, .. }))), "{rows:?}");
        assert_eq!(pauses(&rows, PauseKind::Change).len(), plan.order.placed.len());
        assert!(pauses(&rows, PauseKind::Change)[0].words.starts_with("set up, 10 min"), "{rows:?}");
        let first = setups(&rows)[0];
        assert!(first.reason.starts_with("because "), "{first:?}");
        let spoken = first.spoken();
        let begins = format!("{} {}, 10:00 to ", first.number, first.what);
        assert!(spoken.starts_with(&begins) && spoken.contains("Here because "), "{spoken}");
    }

    #[test]
    fn keys_differ() {
        let (film, plan) = planned(|_| {});
        let keys = keys(&rows(&film, &plan));
        let different: BTreeSet<String> = keys.iter().map(|key| format!("{key:?}")).collect();
        assert_eq!(different.len(), keys.len());
    }

    #[test]
    fn a_break_within_the_day_is_a_row_of_its_own() {
        let (film, plan) = planned(|day| day.breaks = Hours::new(570, 600).into_iter().collect());
        let rows = rows(&film, &plan);
        let [one] = pauses(&rows, PauseKind::Break)[..] else { panic!("{rows:?}") };
        assert_eq!((one.at.as_str(), one.words.as_str()), ("09:30 to 10:00", "break, 30 min"));
        assert_eq!(pauses(&planned_rows(|day| day.breaks.clear()), PauseKind::Break).len(), 0);
    }

    /// When each row of a day of those hours begins, as the clock shows it, with a bar at its midnight.
    fn begins(from: u16, to: u16) -> Vec<String> {
        let rows = planned_rows(|day| {
            day.hours = Hours::new(from, to).expect("hours");
            day.breaks.clear();
        });
        let begins = rows.into_iter().map(|row| match row {
            Row::Pause(Pause { kind: PauseKind::Midnight, .. }) => "|".to_owned(),
            Row::Pause(pause) => pause.at,
            Row::Setup(setup) => setup.from,
        });
        begins.filter(|at| !at.is_empty()).collect()
    }

    #[test]
    fn a_nights_order_is_parted_where_the_next_day_begins() {
        let mut parted = 0;
        for call in (1260..1440).step_by(15) {
            let rows = begins(call, call + 720);
            let mut parts = rows.split(|at| at == "|");
            let evening = parts.next().expect("there is a call");
            assert!(evening.iter().all(|at| at.as_str() >= "21:00"), "{rows:?}");
            for morning in parts {
                assert!(morning.iter().all(|at| at.as_str() < "21:00"), "{rows:?}");
                parted += 1;
            }
        }
        assert!(parted > 2, "{parted} nights go on");
        assert!(!begins(540, 1200).contains(&"|".to_owned()));
    }

    fn planned_rows(change: impl FnOnce(&mut ShootingDay)) -> Vec<Row> {
        let (film, plan) = planned(change);
        rows(&film, &plan)
    }

    #[test]
    fn what_is_waited_for_is_said() {
        // Everybody of the film comes at ten.
        let mut film = film::demo_film();
        let cast =
            film.cast.iter().cloned().map(|one| film::CastMember { hours: Hours::new(600, 1200), ..one });
        film.cast = cast.collect();
        let plan = DayPlan::of(&film, &film.days[0].clone(), &Daylights::new(), &mut Rehearsals::default());
        let rows = rows(&film, &plan);
        let waits = pauses(&rows, PauseKind::Wait);
        assert!(waits.iter().any(|wait| wait.words.ends_with("who comes at 10:00")), "{rows:?}");
    }
}
