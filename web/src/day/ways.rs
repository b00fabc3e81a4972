//! What does not fit on a day: why, and what would do, each as something that can be done.

use film::{
    DayId, DayPlan, Film, Hours, Missed, Priority, ShootingDay, ShotId, WhyMissed, WhyUnmade, WouldDo, clock,
    clock_of_day,
};
use language::say;
use units::LengthUnit;

use super::doing::whole_minute;
use super::words;
use crate::shooting::day_name;
use crate::story::words::{capital, listed, missing};

/// A setup that does not fit, or a shot that cannot be made.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Misfit {
    pub(super) shot: ShotId,
    /// What it is.
    pub(super) what: String,
    /// Why it does not fit.
    pub(super) why: String,
    /// Whether the film cannot do without it.
    pub(super) is_must_have: bool,
    /// What would do.
    pub(super) ways: Vec<Way>,
}

/// Something that would make room.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Way {
    /// What comes of it.
    pub(super) words: String,
    /// What can be done for it here.
    pub(super) act: Option<Act>,
}

/// Something that can be done.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Act {
    /// What its button says.
    pub(super) name: String,
    pub(super) does: Does,
}

/// What is done.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Does {
    /// These are taken off the day.
    TakeOff(Vec<ShotId>),
    /// This one comes onto another day.
    Bring(ShotId, DayId),
    /// The film can do without these.
    NiceToHave(Vec<ShotId>),
    /// The day ends then.
    WrapAt(u16),
    /// The shot is opened in Set-up.
    SetUp(ShotId),
    /// It may go wherever it is best.
    Unpin(ShotId),
}

/// Wraps are moved by so many minutes at the least: chosen, as nobody asks a crew to stay for three minutes.
const WRAP_STEP_MIN: f64 = 5.0;

/// What does not fit, and what is pinned where it is late.
pub(super) fn misfits(film: &Film, day: &ShootingDay, plan: &DayPlan) -> Vec<Misfit> {
    let missed = plan.order.missed.iter().filter_map(|missed| misfit(film, day, plan, missed));
    let late = plan.order.placed.iter().filter_map(|placed| {
        let (why, setup) = (placed.late?, plan.setup(placed.job)?);
        let shot = setup.shot.id;
        let free = Way {
            words: say!("It is shot there in spite of that, as it is pinned.").to_owned(),
            act: Some(Act { name: say!("Unpin {}", words::number(film, shot)), does: Does::Unpin(shot) }),
        };
        Some(Misfit {
            shot,
            what: words::shot(film, shot),
            why: say!("at {} {}", clock(placed.starts_min), why.words(|who| film.name_of(who).to_owned())),
            is_must_have: setup.shot.priority == Priority::MustHave,
            ways: [Some(free), wrap_later(day, plan, why)].into_iter().flatten().collect(),
        })
    });
    missed.chain(late).collect()
}

fn misfit(film: &Film, day: &ShootingDay, plan: &DayPlan, missed: &Missed) -> Option<Misfit> {
    let setup = plan.setup(missed.job)?;
    let shot = setup.shot.id;
    let is_must_have = setup.shot.priority == Priority::MustHave;
    let mut ways: Vec<Way> = missed.would_do.iter().flat_map(|way| would_do(film, plan, shot, way)).collect();
    ways.extend(wrap_later(day, plan, missed.why));
    ways.extend(elsewhere(film, day, shot));
    Some(Misfit {
        shot,
        what: words::shot(film, shot),
        why: missed.why.words(|who| film.name_of(who).to_owned()),
        is_must_have,
        ways,
    })
}

/// What the order says would make room.
fn would_do(film: &Film, plan: &DayPlan, shot: ShotId, way: &WouldDo) -> Vec<Way> {
    match way {
        WouldDo::Drop(jobs) => {
            let setups: Vec<_> = jobs.iter().filter_map(|job| plan.setup(*job)).collect();
            let shots: Vec<ShotId> = setups.iter().map(|setup| setup.shot.id).collect();
            let named: Vec<String> = shots.iter().map(|shot| words::shot(film, *shot)).collect();
            let numbers = listed(&shots.iter().map(|shot| words::number(film, *shot)).collect::<Vec<_>>());
            let off = Way {
                words: say!("It fits without {}.", listed(&named)),
                act: Some(Act { name: say!("Take {numbers} off this day"), does: Does::TakeOff(shots) }),
            };
            let must: Vec<ShotId> = setups
                .iter()
                .filter(|setup| setup.shot.priority == Priority::MustHave)
                .map(|setup| setup.shot.id)
                .collect();
            // What the film can do without gives way by itself, but only to what it cannot do without.
            let this_is_must = film.shot(shot).is_some_and(|(_, shot)| shot.priority == Priority::MustHave);
            let gives_way = (this_is_must && !must.is_empty()).then(|| Way {
                words: say!("Or the film can do without {}, which then gives way.", listed(&named)),
                act: Some(Act { name: say!("Make {numbers} nice to have"), does: Does::NiceToHave(must) }),
            });
            std::iter::once(off).chain(gives_way).collect()
        }
        WouldDo::JoinWith(job) => {
            let Some(setup) = plan.setup(*job) else { return Vec::new() };
            let with = words::shot(film, setup.shot.id);
            let number = words::number(film, shot);
            vec![Way {
                words: say!(
                    "Or make both in one setup with {with}: the same people, from the same side, in about the same \
                     size. Let the longer action run through; then {number} needs no time of its own."
                ),
                act: Some(Act {
                    name: say!("Take {number} off, it is made with {}", words::number(film, setup.shot.id)),
                    does: Does::TakeOff(vec![shot]),
                }),
            }]
        }
    }
}

/// A later wrap, where the day is too short.
fn wrap_later(day: &ShootingDay, plan: &DayPlan, why: WhyMissed) -> Option<Way> {
    let WhyMissed::DayEnds { by_min } = why else { return None };
    let wrap_min = ((plan.problem.wrap_min + by_min) / WRAP_STEP_MIN).ceil() * WRAP_STEP_MIN;
    // A day that would be longer than a day is another one.
    let hours = Hours::new(day.hours.from_min(), whole_minute(wrap_min)).filter(|_| by_min > 0.0)?;
    let at = clock_of_day(wrap_min);
    Some(Way {
        words: say!("It fits if the day ends at {at}; ask everybody first."),
        act: Some(Act { name: say!("Wrap at {at}"), does: Does::WrapAt(hours.to_min()) }),
    })
}

/// Another day for it, or none yet.
fn elsewhere(film: &Film, day: &ShootingDay, shot: ShotId) -> Vec<Way> {
    let number = words::number(film, shot);
    let others = film.days.iter().filter(|other| other.id != day.id).map(|other| {
        let name = day_name(film, other);
        Way {
            words: say!("Or shoot it on another day: {name}."),
            act: Some(Act { name: say!("Bring {number} to {name}"), does: Does::Bring(shot, other.id) }),
        }
    });
    let leave = Way {
        words: say!("Or leave it for a day that is still to be planned.").to_owned(),
        act: Some(Act { name: say!("Take {number} off this day"), does: Does::TakeOff(vec![shot]) }),
    };
    others.chain([leave]).collect()
}

/// The day's shots that cannot be made as they are.
pub(super) fn unmade(film: &Film, plan: &DayPlan, unit: LengthUnit) -> Vec<Misfit> {
    let told = |why: &WhyUnmade, shot: ShotId| -> (String, Way) {
        match why {
            WhyUnmade::Lacks(lacks) => {
                let words = say!("Put that right in Story or in Kit; then it has its place here.").to_owned();
                (missing(film, *lacks), Way { words, act: None })
            }
            WhyUnmade::CannotBeHad(findings) => {
                let worst = findings.iter().max_by_key(|finding| finding.severity());
                let finding = worst.map(|finding| finding.to_finding(unit));
                let why = finding.as_ref().map_or_else(String::new, |finding| finding.message.clone());
                let hint = finding.map_or_else(String::new, |finding| capital(&finding.hint));
                let name = say!("Set {} up", words::number(film, shot));
                (why, Way { words: hint, act: Some(Act { name, does: Does::SetUp(shot) }) })
            }
        }
    };
    let misfit = |one: &film::Unmade| {
        let (why, way) = told(&one.why, one.shot);
        let (_, shot) = film.shot(one.shot)?;
        Some(Misfit {
            shot: one.shot,
            what: words::shot(film, one.shot),
            why,
            is_must_have: shot.priority == Priority::MustHave,
            ways: vec![way],
        })
    };
    plan.unmade.iter().filter_map(misfit).collect()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use film::{Command, Daylights, Rehearsals, Shot};

    use super::*;
    use crate::day::doing::take_off;

    /// The demo's day, wrapped so early that not all fits.
    fn short_day() -> (Film, ShootingDay, DayPlan) {
        let film = film::demo_film();
        let mut day = film.days[0].clone();
        day.breaks.clear();
        let hours = day.hours;
        for to_min in (hours.from_min() + 60..hours.to_min()).rev().step_by(5) {
            day.hours = Hours::new(hours.from_min(), to_min).expect("hours");
            let plan = plan_of(&film, &day);
            if plan.order.missed.len() == 1 {
                return (film, day, plan);
            }
        }
        panic!("everything always fits");
    }

    fn plan_of(film: &Film, day: &ShootingDay) -> DayPlan {
        DayPlan::of(film, day, &Daylights::new(), &mut Rehearsals::default())
    }

    fn places(plan: &DayPlan, shot: ShotId) -> bool {
        plan.placed(shot).is_some()
    }

    #[test]
    fn every_way_that_is_offered_does_what_it_says() {
        let (film, day, plan) = short_day();
        let all = misfits(&film, &day, &plan);
        let [one] = all.as_slice() else { panic!("{all:?}") };
        assert!(one.why.contains("too short"), "{one:?}");
        let mut tried = 0;
        for act in one.ways.iter().filter_map(|way| way.act.as_ref()) {
            let mut other = day.clone();
            let mut changed = film.clone();
            match &act.does {
                Does::TakeOff(shots) => take_off(&mut other, &film, shots),
                Does::WrapAt(minute) => {
                    other.hours = Hours::new(day.hours.from_min(), *minute).expect("hours");
                }
                Does::NiceToHave(shots) => {
                    for shot in shots {
                        let (_, shot) = film.shot(*shot).expect("a shot");
                        let shot = Shot { priority: Priority::NiceToHave, ..Shot::clone(shot) };
                        changed.apply(Command::SetShot(Arc::new(shot))).expect("a shot of the film");
                    }
                }
                Does::Bring(..) | Does::SetUp(_) | Does::Unpin(_) => panic!("{act:?}"),
            }
            let planned = plan_of(&changed, &other);
            let is_off = matches!(&act.does, Does::TakeOff(shots) if shots.contains(&one.shot));
            assert!(is_off || places(&planned, one.shot), "{}: {:?}", act.name, planned.order.missed);
            tried += 1;
        }
        assert!(tried >= 2, "{one:?}");
    }

    #[test]
    fn a_shot_that_lacks_somebody_is_told_with_what_to_do() {
        let mut film = film::demo_film();
        let lost = film.scenes[0].shots[0].id;
        let shot = Shot { adapter: Some("gone".to_owned()), ..Shot::clone(&film.scenes[0].shots[0]) };
        film.apply(Command::SetShot(Arc::new(shot))).expect("a shot of the film");
        let plan = plan_of(&film, &film.days[0].clone());
        let told = unmade(&film, &plan, LengthUnit::Metres);
        let [one] = told.as_slice() else { panic!("{told:?}") };
        assert_eq!((one.shot, one.why.as_str()), (lost, "its adapter is not in the kit any more"));
    }
}
