//! When a setup can start: within light, hours and the day, and not into a break.

use super::costs::CLOSE_MIN;
use super::problem::{Job, OrderProblem};
use crate::daylight::DaySpan;
use crate::id::PersonId;

/// Something that keeps a setup from being shot at any time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Limit {
    Light,
    OneSun,
    HoursOf(PersonId),
    Breaks,
    Wrap,
}

impl Limit {
    /// All that limit a job.
    pub(super) fn all_of(job: &Job) -> Vec<Self> {
        let mut limits = vec![Self::Light, Self::OneSun];
        for (who, _) in &job.hours {
            if !limits.contains(&Self::HoursOf(*who)) {
                limits.push(Self::HoursOf(*who));
            }
        }
        limits.extend([Self::Breaks, Self::Wrap]);
        limits
    }
}

/// When a job can start if only these limit it, and the call: closed spans in order, the last of which may have no end.
///
/// A job that takes `t` fits within a stretch if it starts in it, `t` or more before its end; it starts into a break if it
/// starts less than `t` before the break's start, and before its end.
pub(super) fn starts(
    problem: &OrderProblem,
    breaks: &[DaySpan],
    job: &Job,
    limits: &[Limit],
) -> Vec<DaySpan> {
    let takes_min = job.takes_min;
    let mut starts = vec![DaySpan { from_min: problem.call_min, to_min: f64::INFINITY }];
    for limit in limits {
        match limit {
            Limit::Light => {
                if let Some(light) = &job.light {
                    starts = within(&starts, &fitting(light.clone(), takes_min));
                }
            }
            Limit::OneSun => {
                if let Some(alike) = job.one_sun {
                    starts = within(&starts, &fitting(vec![alike], takes_min));
                }
            }
            Limit::HoursOf(who) => {
                let there = job.hours.iter().filter(|(person, _)| person == who).map(|(_, span)| *span);
                starts = within(&starts, &fitting(there.collect(), takes_min));
            }
            Limit::Breaks => starts = outside(starts, breaks, takes_min),
            Limit::Wrap => {
                let day = DaySpan { from_min: problem.call_min, to_min: problem.wrap_min };
                starts = within(&starts, &fitting(vec![day], takes_min));
            }
        }
    }
    starts
}

/// The first start that is not before `ready_min`.
pub(super) fn first_start(starts: &[DaySpan], ready_min: f64) -> Option<f64> {
    let span = starts.iter().find(|span| ready_min <= span.to_min + CLOSE_MIN)?;
    Some(ready_min.max(span.from_min))
}

/// Spans in order, with those that touch made one; those that end before they start are dropped.
pub(super) fn merged(mut spans: Vec<DaySpan>) -> Vec<DaySpan> {
    spans.retain(|span| span.from_min <= span.to_min);
    spans.sort_by(|one, other| one.from_min.total_cmp(&other.from_min));
    let mut whole: Vec<DaySpan> = Vec::with_capacity(spans.len());
    for span in spans {
        match whole.last_mut() {
            Some(last) if span.from_min <= last.to_min => last.to_min = last.to_min.max(span.to_min),
            _ => whole.push(span),
        }
    }
    whole
}

impl OrderProblem {
    /// What of these stretches is open to all of some jobs: between call and wrap, while there is light for each and its people
    /// are there, and nobody has a break.
    pub(crate) fn open_to_all<'job>(
        &self,
        stretches: Vec<DaySpan>,
        jobs: impl Iterator<Item = &'job Job>,
    ) -> Vec<DaySpan> {
        let breaks = merged(self.breaks.clone());
        jobs.fold(stretches, |left, job| {
            // What takes no time can start for as long as it is open to it.
            let at_once = Job { takes_min: 0.0, ..job.clone() };
            within(&left, &starts(self, &breaks, &at_once, &Limit::all_of(job)))
        })
    }
}

/// When something that takes so long can start to end within one of these.
fn fitting(spans: Vec<DaySpan>, takes_min: f64) -> Vec<DaySpan> {
    let fits = |span: DaySpan| {
        let last_min = span.to_min - takes_min;
        (last_min >= span.from_min - CLOSE_MIN)
            .then(|| DaySpan { to_min: last_min.max(span.from_min), ..span })
    };
    merged(spans).into_iter().filter_map(fits).collect()
}

/// What lies in both.
pub(super) fn within(one: &[DaySpan], other: &[DaySpan]) -> Vec<DaySpan> {
    let pairs = one.iter().flat_map(|one| other.iter().map(move |other| (one, other)));
    pairs
        .map(|(one, other)| DaySpan {
            from_min: one.from_min.max(other.from_min),
            to_min: one.to_min.min(other.to_min),
        })
        .filter(|span| span.from_min <= span.to_min)
        .collect()
}

/// Starts from which something that takes so long does not run into a break.
fn outside(starts: Vec<DaySpan>, breaks: &[DaySpan], takes_min: f64) -> Vec<DaySpan> {
    let mut left = starts;
    for rest in breaks {
        let parts = left.into_iter().flat_map(|span| {
            let before = DaySpan { to_min: span.to_min.min(rest.from_min - takes_min), ..span };
            let after = DaySpan { from_min: span.from_min.max(rest.to_min), ..span };
            [before, after]
        });
        left = parts.filter(|span| span.from_min <= span.to_min).collect();
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::tests::{at, job};

    fn span(from_min: f64, to_min: f64) -> DaySpan {
        DaySpan { from_min, to_min }
    }

    fn starts_of(job: &Job, breaks: &[DaySpan]) -> Vec<DaySpan> {
        starts(&at(9.0, 18.0), breaks, job, &Limit::all_of(job))
    }

    #[test]
    fn a_job_ends_before_a_break_or_starts_after_it() {
        let lunch = [span(720.0, 780.0)];
        let takes = Job { takes_min: 30.0, ..job(0) };
        assert_eq!(starts_of(&takes, &lunch), [span(540.0, 690.0), span(780.0, 1050.0)]);
    }

    #[test]
    fn windows_that_touch_are_one() {
        let light = Some(vec![span(600.0, 630.0), span(560.0, 600.0)]);
        let takes = Job { takes_min: 50.0, light, ..job(0) };
        assert_eq!(starts_of(&takes, &[]), [span(560.0, 580.0)]);
    }

    #[test]
    fn a_window_just_long_enough_leaves_one_start() {
        let light = Some(vec![span(600.1, 600.1 + 0.3)]);
        let takes = Job { takes_min: 0.3, light, ..job(0) };
        let [only] = starts_of(&takes, &[])[..] else { panic!("one start") };
        assert!((only.from_min - 600.1).abs() < 1e-9 && only.to_min - only.from_min < 1e-9, "{only:?}");
    }

    #[test]
    fn no_light_is_not_any_light() {
        assert_eq!(starts_of(&Job { light: Some(Vec::new()), ..job(0) }, &[]), []);
        assert_eq!(starts_of(&Job { light: None, ..job(0) }, &[]).len(), 1);
    }

    #[test]
    fn what_is_open_to_all_is_within_the_light_of_each_and_outside_breaks() {
        let lit = |from_min, to_min| Job { light: Some(vec![span(from_min, to_min)]), ..job(0) };
        let day = OrderProblem { breaks: vec![span(720.0, 780.0)], ..at(9.0, 18.0) };
        let open = |jobs: &[Job]| day.open_to_all(vec![span(500.0, 1000.0)], jobs.iter());
        assert_eq!(open(&[lit(600.0, 900.0), lit(650.0, 1100.0)]), [span(650.0, 720.0), span(780.0, 900.0)]);
        assert_eq!(open(&[job(0)]), [span(540.0, 720.0), span(780.0, 1000.0)], "from the call on");
        assert_eq!(open(&[lit(550.0, 600.0), lit(650.0, 700.0)]), []);
    }

    #[test]
    fn everybody_has_to_be_there() {
        let who = |number: u64| PersonId::new(number).expect("small");
        let hours =
            vec![(who(1), span(540.0, 720.0)), (who(2), span(660.0, 900.0)), (who(1), span(840.0, 960.0))];
        let takes = Job { takes_min: 20.0, hours, ..job(0) };
        assert_eq!(starts_of(&takes, &[]), [span(660.0, 700.0), span(840.0, 880.0)]);
    }
}
