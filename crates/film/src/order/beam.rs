//! A good beginning for the search: the day is built from its call on, job by job, and after each only the most promising ways
//! to have begun it are gone on with. That is a beam search.

use super::costs::{CHANGE_WEIGHT, Dislike, Score};
use super::prepared::Prepared;
use super::walk::{State, Walk, place_pinned};
use crate::daylight::DaySpan;

/// So many ways are gone on with, times the square of how many jobs there are: chosen so that it takes less than the search
/// that goes on from it. Of more than two hundred jobs, none are.
const WIDTH_BY_SQUARE: usize = 40_000;

/// A way to have begun the day.
#[derive(Debug, Clone)]
struct Begun {
    state: State,
    /// Where the phone was before, and all jobs that are placed.
    placed: Vec<usize>,
    /// Those that are neither pinned nor placed, what takes least first.
    left: Vec<Left>,
}

/// A job that is still to come.
#[derive(Debug, Clone, Copy)]
struct Left {
    job: usize,
    /// What is disliked about its coming after those that are placed.
    disliked: Dislike,
}

/// A way gone on with by one job.
#[derive(Debug, Clone, Copy)]
struct Step {
    /// Which of the ways it goes on from.
    from: usize,
    job: usize,
    state: State,
    /// What a day that goes on so may come to cost.
    hope: Score,
}

/// What is to come with a job, whatever it comes after.
#[derive(Debug, Clone, Copy)]
struct Ahead {
    takes_min: f64,
    /// The least change to it.
    change_min: f64,
    /// From the first minute at which it can start to the last.
    starts: DaySpan,
}

/// An order of those that are not pinned; those that do not fit come last.
pub(super) fn by_beam(prepared: &Prepared<'_>) -> Vec<usize> {
    let ahead: Vec<Ahead> = (0..prepared.count()).filter_map(|job| Ahead::of(prepared, job)).collect();
    let width = WIDTH_BY_SQUARE / prepared.count().pow(2).max(1);
    let mut ways = if width == 0 { Vec::new() } else { vec![Begun::at_call(prepared, &ahead)] };
    let mut best: Option<Walk> = None;
    while !ways.is_empty() {
        let mut steps: Vec<Step> = Vec::new();
        for (from, way) in ways.iter_mut().enumerate() {
            way.place_pins(prepared);
            let before = steps.len();
            steps.extend(way.steps(from, prepared, &ahead));
            if steps.len() == before {
                let jobs = way.placed.iter().copied().chain(way.left.iter().map(|left| left.job));
                let free = jobs.filter(|job| prepared.free.contains(job));
                let ended = Walk::through(prepared, free.collect());
                if best.as_ref().is_none_or(|best| ended.score.is_better_than(&best.score)) {
                    best = Some(ended);
                }
            }
        }
        ways = most_promising(prepared, &ways, steps, width);
    }
    best.map_or_else(|| prepared.free.clone(), |best| best.sequence)
}

/// The ways on which the most promising steps lead; of those with the same jobs and the same last one, none that is neither more
/// promising nor earlier than another.
fn most_promising(prepared: &Prepared<'_>, ways: &[Begun], mut steps: Vec<Step>, width: usize) -> Vec<Begun> {
    if steps.len() > width {
        steps.select_nth_unstable_by(width, |one, other| one.hope.compared(&other.hope));
        steps.truncate(width);
    }
    steps.sort_by(|one, other| one.hope.compared(&other.hope));
    let mut led_to: Vec<Begun> = Vec::with_capacity(steps.len());
    for step in &steps {
        let is_known = led_to.iter().any(|known| {
            known.placed.last() == Some(&step.job)
                && known.state.has_placed_as(&step.state)
                && known.state.at_min <= step.state.at_min
        });
        if !is_known {
            led_to.extend(ways.get(step.from).map(|way| way.with(prepared, step)));
        }
    }
    led_to
}

impl Ahead {
    fn of(prepared: &Prepared<'_>, job: usize) -> Option<Self> {
        let takes_min = prepared.jobs.get(job)?.takes_min;
        let starts = prepared.starts.get(job)?;
        Some(Self {
            takes_min,
            change_min: (prepared.least_min.get(job)? - takes_min) / (1.0 + CHANGE_WEIGHT),
            starts: DaySpan {
                from_min: starts.first().map_or(f64::INFINITY, |span| span.from_min),
                to_min: starts.last().map_or(f64::NEG_INFINITY, |span| span.to_min),
            },
        })
    }

    fn needs_min(&self) -> f64 {
        self.takes_min + self.change_min
    }
}

impl Left {
    /// The same after one job more.
    fn after(self, prepared: &Prepared<'_>, job: usize) -> Self {
        Self { disliked: self.disliked.and(prepared.dislike(job, self.job)), ..self }
    }
}

impl Begun {
    fn at_call(prepared: &Prepared<'_>, ahead: &[Ahead]) -> Self {
        let needs_min = |left: &Left| ahead.get(left.job).map_or(0.0, Ahead::needs_min);
        let mut left: Vec<Left> =
            prepared.free.iter().map(|&job| Left { job, disliked: Dislike::default() }).collect();
        left.sort_by(|one, other| needs_min(one).total_cmp(&needs_min(other)));
        Self { state: State::at_call(prepared, &prepared.free), placed: vec![prepared.count()], left }
    }

    /// Places what is pinned here.
    fn place_pins(&mut self, prepared: &Prepared<'_>) {
        while let Some(pinned) = self.state.pinned_next(prepared) {
            self.state = place_pinned(prepared, &mut self.placed, self.state, pinned);
            self.left.iter_mut().for_each(|left| *left = left.after(prepared, pinned));
        }
    }

    /// Goes on with every job that fits here.
    fn steps<'a>(
        &'a self,
        from: usize,
        prepared: &'a Prepared<'_>,
        ahead: &'a [Ahead],
    ) -> impl Iterator<Item = Step> + 'a {
        self.left.iter().filter_map(move |&Left { job, .. }| {
            let state = self.state.after(prepared, &self.placed, job)?;
            Some(Step { from, job, state, hope: self.hope(prepared, ahead, job, &state) })
        })
    }

    /// What a day may come to cost that goes on so: of what is left and can still start, as many as there is time for are shot,
    /// must-haves before others and the shortest first, each with the least change to it, and the day ends no earlier than any
    /// of them can; the others are missed.
    fn hope(&self, prepared: &Prepared<'_>, ahead: &[Ahead], job: usize, state: &State) -> Score {
        let so_far = state.score(prepared);
        let mut hope = Score { minutes: so_far.minutes - state.at_min, ..so_far };
        let (mut ends_min, mut latest_min) = (state.at_min, state.at_min);
        let mut room_min = prepared.outside_breaks(state.at_min, prepared.problem.wrap_min);
        for must_have in [true, false] {
            let left = self.left.iter().filter(|left| left.job != job);
            for left in left.filter(|left| prepared.is_must_have(left.job) == must_have) {
                let Some(to_come) = ahead.get(left.job) else { continue };
                let needs_min = to_come.needs_min();
                if to_come.starts.to_min >= state.at_min && needs_min <= room_min {
                    let disliked = left.after(prepared, job).disliked.without_marks();
                    hope.minutes += disliked.minutes() + CHANGE_WEIGHT * to_come.change_min;
                    room_min -= needs_min;
                    ends_min += needs_min;
                    latest_min = f64::max(latest_min, to_come.starts.from_min + to_come.takes_min);
                } else {
                    hope.shortfall = hope.shortfall.and(prepared.shortfall_of(left.job));
                }
            }
        }
        hope.minutes += f64::max(ends_min, latest_min);
        hope
    }

    fn with(&self, prepared: &Prepared<'_>, step: &Step) -> Self {
        let left = self.left.iter().filter(|left| left.job != step.job);
        Self {
            state: step.state,
            placed: [&*self.placed, &[step.job]].concat(),
            left: left.map(|left| left.after(prepared, step.job)).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use units::Angle;

    use super::*;
    use crate::id::{PersonId, PlaceId, SceneId};
    use crate::order::answer::answer;
    use crate::order::tests::{at, job};
    use crate::order::{Job, OrderProblem, Rig};

    fn beamed(day: &OrderProblem) -> Vec<usize> {
        by_beam(&Prepared::new(day))
    }

    #[test]
    fn what_has_light_only_early_comes_first_and_the_story_decides_the_rest() {
        let early = vec![DaySpan { from_min: 540.0, to_min: 570.0 }];
        let jobs = (0..12).map(|number| Job { light: (number == 7).then(|| early.clone()), ..job(number) });
        let day = OrderProblem { jobs: jobs.collect(), ..at(9.0, 18.0) };
        assert_eq!(beamed(&day), [7, 0, 1, 2, 3, 4, 5, 6, 8, 9, 10, 11]);
    }

    #[test]
    fn of_too_much_the_must_haves_and_the_shortest_are_shot() {
        let takes_min = |number: usize| if number.is_multiple_of(2) { 50.0 } else { 25.0 };
        let jobs =
            (0..12).map(|number| Job { takes_min: takes_min(number), must_have: number == 8, ..job(number) });
        // Setting up, the must-have and six short ones are all that there is time for.
        let day = OrderProblem { jobs: jobs.collect(), ..at(9.0, 9.0 + (10.0 + 50.0 + 6.0 * 25.0) / 60.0) };
        let (mut shot, mut missed) = (beamed(&day), Vec::new());
        missed.extend(shot.drain(7..));
        shot.sort_unstable();
        assert_eq!(shot, [1, 3, 5, 7, 8, 9, 11], "{missed:?} are missed");
    }

    /// Days of ten setups that are made up, the same each time: scenes, directions, lenses, light and hours without a pattern.
    fn made_up_days() -> impl Iterator<Item = OrderProblem> {
        let mut state = 1_u64;
        let mut below = move |most: u32| {
            // Knuth's constants for a linear congruential generator (from memory).
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            u32::try_from(state >> 33).expect("31 bits") % most
        };
        let mut made_up = move |number: usize| {
            let scene = below(4);
            let (light_min, there_min) = (480.0 + f64::from(below(600)), 480.0 + f64::from(below(400)));
            let usual = job(number);
            Job {
                rig: Rig {
                    place: PlaceId::new(u64::from(scene % 2 + below(2))),
                    scene: SceneId::new(u64::from(scene)).expect("small"),
                    direction: Angle::from_deg(f64::from(below(6) * 60)),
                    lens: format!("{}", below(3)),
                    ..usual.rig
                },
                wideness_m: f64::from(1 + below(8)),
                takes_min: 5.0 + 10.0 * f64::from(below(6)),
                light: (below(4) == 0).then(|| {
                    vec![DaySpan { from_min: light_min, to_min: light_min + 60.0 + f64::from(below(240)) }]
                }),
                hours: (below(5) == 0)
                    .then(|| {
                        let there = DaySpan { from_min: there_min, to_min: there_min + 240.0 };
                        (PersonId::new(1).expect("small"), there)
                    })
                    .into_iter()
                    .collect(),
                must_have: below(3) != 0,
                last: below(8) == 0,
                ..usual
            }
        };
        (0..60).map(move |number| OrderProblem {
            jobs: (0..10).map(&mut made_up).collect(),
            ..at(8.0, if number % 3 == 0 { 12.0 } else { 19.0 })
        })
    }

    #[test]
    fn by_itself_it_mostly_comes_to_the_best() {
        let mut best_found = 0;
        for day in made_up_days() {
            let prepared = Prepared::new(&day);
            let beamed = answer(&prepared, by_beam(&prepared), None).costs;
            best_found += usize::from(!day.order().costs.is_less_than(&beamed));
        }
        assert!(best_found >= 56, "{best_found} of 60");
    }

    #[test]
    fn what_is_pinned_has_its_place() {
        let jobs = (0..12).map(|number| Job { pinned: (number == 5).then_some(2), ..job(number) });
        let day = OrderProblem { jobs: jobs.collect(), ..at(9.0, 18.0) };
        let prepared = Prepared::new(&day);
        let order = answer(&prepared, by_beam(&prepared), None);
        let placed: Vec<usize> = order.placed.iter().map(|placed| placed.job).collect();
        assert_eq!(placed, [0, 1, 5, 2, 3, 4, 6, 7, 8, 9, 10, 11]);
    }

    #[test]
    fn a_day_of_hundreds_is_left_to_the_search() {
        let day = |count| OrderProblem { jobs: (0..count).map(job).collect(), ..at(9.0, 18.0) };
        assert_eq!(beamed(&day(201)), (0..201).collect::<Vec<_>>());
        assert_eq!(beamed(&day(200))[..3], [0, 1, 2]);
    }
}
