//! The sun that jumps in a cut: setups that are cut against each other, planned while it stands in another place.

use std::collections::{BTreeMap, BTreeSet};

use language::say;
use optics::Weather;
use units::Angle;

use crate::clock::clock;
use crate::day::ShootingDay;
use crate::day_plan::{DayPlan, Daylights};
use crate::daylight::{DaySpan, Daylight, SUN_EVERY_MIN, SunMoment};
use crate::film::Film;
use crate::findings::{Finding, Severity};
use crate::id::ShotId;
use crate::light::LightSource;
use crate::order::{Job, Placed};
use crate::scene::{Entry, Scene};
use crate::scene_blocking::apart;
use crate::sun_on_shot::shadow_times;
use crate::wording::listed;

/// Two setups of a scene that are cut against each other, between which the sun changes so much that the cut shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct SunJump {
    /// The one that is shot first.
    pub earlier: ShotId,
    /// When, minutes from midnight.
    pub earlier_min: f64,
    /// The other.
    pub later: ShotId,
    /// When, minutes from midnight.
    pub later_min: f64,
    /// What the sun does between them.
    pub change: SunChange,
    /// Whether the scene's cut puts them beside each other; else the scene has no cut yet.
    pub is_cut: bool,
    /// All setups of the scene that are to match, in the order of the story.
    pub shots: Vec<ShotId>,
    /// A stretch of the day in which all of them can be shot while the sun stays alike, if there is one.
    pub window: Option<DaySpan>,
    /// How long the sun stays alike, minutes: over that stretch, else from the earlier one on.
    pub alike_min: f64,
}

/// What the sun does between two setups.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SunChange {
    /// It shines on both from another place.
    Moves {
        /// Under the sun of the earlier one.
        before: SunShadow,
        /// Under that of the later one.
        after: SunShadow,
    },
    /// It shines on the earlier one alone.
    Goes,
    /// It shines on the later one alone.
    Comes,
}

/// The shadow of whatever stands upright on level ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunShadow {
    /// The direction in which the sun is, clockwise from north.
    pub sun: Angle,
    /// How many times as long as what casts it it is.
    pub times: f64,
}

/// A cut shows that shadows are half as long again. Common practice is to match them by eye; the figure is chosen, as ground
/// that slopes by 5° makes a quarter by itself under a sun 24° high.
const LONGER_TIMES: f64 = 1.5;
/// A shadow that grows by less than this share of whoever casts it, or is no longer than that, stays at their feet and tells
/// neither length nor direction: half, chosen as what a step hides.
const FEET_TIMES: f64 = 0.5;
/// Shadows that are longer than this run out of the frame, so that nobody sees how long they are: chosen, as a person's is ten
/// metres then.
const LEAVES_FRAME_TIMES: f64 = 6.0;
/// A cut shows that the sun is farther round than this: chosen, as the places that light has names for, front, three-quarter
/// and side, are an eighth of a turn from each other.
const TURNED_DEG: f64 = 45.0;
/// Beyond this a difference counts; at the very step rounding would decide.
const SHOWN_STEPS: f64 = 1.0 + 1e-9;
/// No shadow is told longer than under a sun so high, as on the horizon it would have no end.
const LEAST_ELEVATION_DEG: f64 = 1.0;

/// A setup as the order of the day has it.
#[derive(Debug, Clone, Copy)]
struct InOrder<'plan> {
    job: &'plan Job,
    placed: &'plan Placed,
    /// None while the sun does not shine there.
    shadow: Option<SunShadow>,
}

impl SunShadow {
    /// Under a sun that shines.
    fn under(sun: &SunMoment) -> Self {
        let elevation = Angle::from_deg(sun.apparent_elevation.to_deg().max(LEAST_ELEVATION_DEG));
        Self { sun: sun.azimuth, times: shadow_times(elevation) }
    }

    /// At a minute of the day; none while the sun does not shine.
    fn at(daylight: &Daylight, minute: f64) -> Option<Self> {
        let sun = daylight.sun_at(minute);
        sun.shines.then(|| Self::under(&sun))
    }

    /// How many steps two are apart in length; a cut shows one.
    fn steps_longer(self, other: Self) -> f64 {
        let seen = |times: f64| times.min(LEAVES_FRAME_TIMES);
        let (short, long) = (seen(self.times.min(other.times)), seen(self.times.max(other.times)));
        let again = libm::log2(long / short) / libm::log2(LONGER_TIMES);
        again.min((long - short) / FEET_TIMES)
    }

    /// How many steps two are apart in direction; a cut shows one.
    fn steps_round(self, other: Self) -> f64 {
        if self.times.min(other.times) <= FEET_TIMES {
            return 0.0;
        }
        apart(self.sun, other.sun).to_deg() / TURNED_DEG
    }
}

impl SunChange {
    /// What a cut from the one to the other shows of the sun, which shines where there is a shadow; none if that is nothing.
    fn between(before: Option<SunShadow>, after: Option<SunShadow>) -> Option<Self> {
        match (before, after) {
            (Some(before), Some(after)) => {
                let moves = Self::Moves { before, after };
                (moves.steps() > SHOWN_STEPS).then_some(moves)
            }
            (Some(_), None) => Some(Self::Goes),
            (None, Some(_)) => Some(Self::Comes),
            (None, None) => None,
        }
    }

    /// How much of a change it is, in steps of which a cut shows one.
    fn steps(self) -> f64 {
        match self {
            Self::Moves { before, after } => before.steps_longer(after).max(before.steps_round(after)),
            Self::Goes | Self::Comes => f64::INFINITY,
        }
    }
}

impl SunJump {
    /// The largest jump of the sun between setups of a scene that are cut against each other, as the order of a day has them;
    /// without a cut all setups of the scene are compared. None if no cut shows the sun move.
    ///
    /// ```text
    /// k = 1 / tan e        jump:  k₂ > 1.5 k₁ and k₂ − k₁ > 0.5,  or  |A₂ − A₁| > 45° and k₁ > 0.5,  or sun and none
    /// ```
    /// `e` the sun's elevation as it is seen (°) when a setup starts; `k` how many times as long a shadow is as what casts it,
    /// counted up to 6, `k₁` the shorter one; `A` the sun's azimuth.
    ///
    /// Only what the sky lights from a clear sun is compared: nothing inside, under cloud, by lamps that outshine the sky, or in
    /// light that was read, since a meter does not say what it falls from. What stands in the shade of a tree or a house
    /// is not known. A setup that is not in the order, such as one in the can, has no time and is passed over.
    ///
    /// A stretch that is suggested is open to all of the setups that are to match, by their light, their people and the day's
    /// breaks, long enough for them with what changes between them, and any two minutes of it match. Of several it is the one
    /// in which most stay when they are planned, then the longest, then the earliest.
    ///
    /// # Source
    /// Plane geometry; that light has to match in a cut is common practice. The figures are chosen; their constants say why.
    pub fn of(scene: &Scene, day: &ShootingDay, daylights: &Daylights, plan: &DayPlan) -> Option<Self> {
        let daylight = daylights.get(&scene.facts.place?)?;
        let planned = in_order(scene, day, daylights, plan);
        let pairs = beside(scene, &planned);
        let jumps = pairs.iter().filter_map(|&(one, other)| {
            let (earlier, later) = (planned.get(one.min(other))?, planned.get(one.max(other))?);
            Some((SunChange::between(earlier.shadow, later.shadow)?, earlier, later))
        });
        let (change, earlier, later) = jumps.reduce(|most, next| {
            let is_larger = next.0.steps() > most.0.steps();
            if is_larger { next } else { most }
        })?;
        let members: BTreeSet<usize> = pairs.iter().flat_map(|&(one, other)| [one, other]).collect();
        let members: Vec<InOrder<'_>> =
            members.into_iter().filter_map(|at| planned.get(at).copied()).collect();
        let mut in_story: Vec<&Job> = members.iter().map(|one| one.job).collect();
        in_story.sort_by_key(|job| job.story);
        let (earlier_min, later_min) = (earlier.placed.starts_min, later.placed.starts_min);
        let window = window(plan, daylight, &members);
        Some(Self {
            earlier: earlier.job.shot,
            earlier_min,
            later: later.job.shot,
            later_min,
            change,
            is_cut: !scene.cut.is_empty(),
            shots: in_story.into_iter().map(|job| job.shot).collect(),
            window,
            alike_min: window
                .map_or_else(|| stays_min(daylight, earlier_min, later_min), |span| span.length_min()),
        })
    }

    /// The rule's name, for programs.
    pub const fn rule(&self) -> &'static str {
        "sun_jumps"
    }

    /// In words, with the shots' numbers.
    pub fn to_finding(&self, film: &Film) -> Finding {
        let (one, other) = (film.shot_called(self.earlier), film.shot_called(self.later));
        let differs = self.differs(&one, &other);
        let message = if self.is_cut {
            say!("{one} and {other} are cut against each other, but {differs}")
        } else {
            say!("{one} and {other} are of one scene, but {differs}")
        };
        Finding { rule: self.rule(), severity: Severity::Warns, message, hint: self.hint(film) }
    }

    /// What differs between the two, with its figures.
    fn differs(&self, one: &str, other: &str) -> String {
        let (at, then) = (clock(self.earlier_min), clock(self.later_min));
        let sun_on = |lit: &str, lit_at: &str, unlit: &str, unlit_at: &str| {
            say!("the sun shines on {lit} at {lit_at} and not on {unlit} at {unlit_at}")
        };
        let (before, after) = match self.change {
            SunChange::Goes => return sun_on(one, &at, other, &then),
            SunChange::Comes => return sun_on(other, &then, one, &at),
            SunChange::Moves { before, after } => (before, after),
        };
        let round = apart(before.sun, after.sun).to_deg();
        if before.steps_longer(after) <= SHOWN_STEPS {
            return say!("the sun moves {round:.0}° round from {at} to {then}");
        }
        let lengths = say!(
            "shadows are {:.1} times as long as people are tall at {at} and {:.1} times at {then}",
            before.times,
            after.times
        );
        if before.steps_round(after) > SHOWN_STEPS {
            say!("{lengths}, and the sun moves {round:.0}° round")
        } else {
            lengths
        }
    }

    /// What to do about it.
    fn hint(&self, film: &Film) -> String {
        let shots: Vec<String> = self.shots.iter().map(|shot| film.shot_called(*shot)).collect();
        let shots = listed(&shots);
        // Down to five minutes, as the sun is looked at as often.
        let minutes = (libm::floor(self.alike_min / SUN_EVERY_MIN) * SUN_EVERY_MIN).max(SUN_EVERY_MIN);
        match self.window {
            Some(window) => say!(
                "take {shots} within about {minutes:.0} min of each other, such as from {window}: then the sun stays alike, \
                 and each has its light and its people"
            ),
            None => say!(
                "take {shots} within about {minutes:.0} min of each other; no such stretch of this day has light, people and \
                 time for all of them, so change the light that one of them wants, or keep the ground and hard shadows out \
                 of its frame"
            ),
        }
    }
}

/// The setups of a scene that a clear sky lights, in the order of work.
fn in_order<'plan>(
    scene: &Scene,
    day: &ShootingDay,
    daylights: &Daylights,
    plan: &'plan DayPlan,
) -> Vec<InOrder<'plan>> {
    let lit_by_sky = |placed: &'plan Placed| {
        let setup = plan.setup(placed.job).filter(|setup| setup.scene.id == scene.id)?;
        let job = plan.problem.jobs.get(placed.job)?;
        let LightSource::Sky { weather: Weather::Clear, in_sun, .. } =
            setup.light_on_scene(day, daylights, placed.starts_min).from
        else {
            return None;
        };
        let daylight = daylights.get(&setup.scene.facts.place?)?;
        let shadow = in_sun.then(|| SunShadow::under(&daylight.sun_at(placed.starts_min)));
        Some(InOrder { job, placed, shadow })
    };
    plan.order.placed.iter().filter_map(lit_by_sky).collect()
}

/// Which of them the scene's cut puts beside each other, by their places in the order; each with each if it has no cut.
fn beside(scene: &Scene, planned: &[InOrder<'_>]) -> Vec<(usize, usize)> {
    if scene.cut.is_empty() {
        let rest = |one: usize| (one + 1..planned.len()).map(move |other| (one, other));
        return (0..planned.len()).flat_map(rest).collect();
    }
    let at: BTreeMap<ShotId, usize> =
        planned.iter().enumerate().map(|(at, one)| (one.job.shot, at)).collect();
    let pair = |entries: &[Entry]| match entries {
        [one, other] if one.shot != other.shot => Some((*at.get(&one.shot)?, *at.get(&other.shot)?)),
        _ => None,
    };
    scene.cut.windows(2).filter_map(pair).collect()
}

/// The stretch of the day in which all of these, in the order of work, are best shot under one sun.
fn window(plan: &DayPlan, daylight: &Daylight, members: &[InOrder<'_>]) -> Option<DaySpan> {
    let takes_min: f64 = members.iter().map(|one| one.job.takes_min).sum();
    let changes_min: f64 = members.iter().skip(1).map(|one| one.placed.change.minutes()).sum();
    let stay = |span: &DaySpan| {
        let stays =
            |one: &&InOrder<'_>| span.contains(one.placed.starts_min) && span.contains(one.placed.ends_min);
        members.iter().filter(stays).count()
    };
    let open = plan.problem.open_to_all(daylight.bright_spans().collect(), members.iter().map(|one| one.job));
    let mut alike: Vec<DaySpan> = open.into_iter().flat_map(|span| alike_within(daylight, span)).collect();
    alike.retain(|span| span.length_min() >= takes_min + changes_min);
    // `max_by` gives the last of equals.
    alike.into_iter().rev().max_by(|one, other| {
        stay(one).cmp(&stay(other)).then(one.length_min().total_cmp(&other.length_min()))
    })
}

/// The longest parts of a span in which the sun shines and any two minutes match.
fn alike_within(daylight: &Daylight, span: DaySpan) -> Vec<DaySpan> {
    let all: Vec<(f64, SunShadow)> =
        span.steps().map(|minute| (minute, SunShadow::under(&daylight.sun_at(minute)))).collect();
    let stretch = |moments: &[(f64, SunShadow)]| {
        let (first, last) = (moments.first()?, moments.last()?);
        Some(DaySpan { from_min: first.0, to_min: last.0 })
    };
    let mut found = Vec::new();
    let mut first = 0;
    for (at, (_, shadow)) in all.iter().enumerate() {
        let since = all.get(first..at).unwrap_or_default();
        let clashes =
            |(_, other): &(f64, SunShadow)| SunChange::between(Some(*other), Some(*shadow)).is_some();
        if let Some(last) = since.iter().rposition(clashes) {
            found.extend(stretch(since));
            first += last + 1;
        }
    }
    found.extend(all.get(first..).and_then(stretch));
    found
}

/// For how many minutes the sun stays as it is at the first.
fn stays_min(daylight: &Daylight, from_min: f64, to_min: f64) -> f64 {
    let start = SunShadow::at(daylight, from_min);
    let is_alike = |minute: &f64| SunChange::between(start, SunShadow::at(daylight, *minute)).is_none();
    let last = DaySpan { from_min, to_min }.steps().take_while(is_alike).last();
    last.map_or(0.0, |last| last - from_min)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use optics::ExposureValue;

    use super::*;
    use crate::daylight::{DayTimes, DaylightParts};
    use crate::film::CastMember;
    use crate::rehearsal::Rehearsals;
    use crate::scene::{Lamps, SceneFacts, SceneLight, Setting, TimeOfDay};

    /// The demo's last scene is outside: its cut is 3.1, 3.2, 3.1, 3.3, 3.4.
    const SCENE: usize = 2;
    /// Its first two shots at ten, the others at three.
    const SPLIT: [f64; 4] = [600.0, 606.0, 900.0, 906.0];

    struct Planned {
        film: Film,
        day: ShootingDay,
        plan: DayPlan,
    }

    impl Planned {
        fn scene(&self) -> &Scene {
            &self.film.scenes[SCENE]
        }

        fn of_scene(&self, scene: &Scene, daylight: Daylight) -> Option<SunJump> {
            let place = scene.facts.place?;
            SunJump::of(scene, &self.day, &Daylights::from([(place, daylight)]), &self.plan)
        }

        fn under(&self, daylight: Daylight) -> Option<SunJump> {
            self.of_scene(self.scene(), daylight)
        }

        /// Gives a shot of the scene its light.
        fn with_light(mut self, shot: usize, light: DaySpan) -> Self {
            let job = self.plan.job_of(self.scene().shots[shot].id).expect("a job");
            self.plan.problem.jobs[job].light = Some(vec![light]);
            self
        }
    }

    /// The scene's shots planned at these minutes, six for each.
    fn planned(minutes: [f64; 4], change: impl FnOnce(&mut SceneFacts)) -> Planned {
        let mut film = crate::demo_film();
        // All are there all day.
        film.cast = film.cast.iter().cloned().map(|one| CastMember { hours: None, ..one }).collect();
        change(Arc::make_mut(&mut Arc::make_mut(&mut film.scenes[SCENE]).facts));
        let shots: Vec<ShotId> = film.scenes[SCENE].shots.iter().map(|shot| shot.id).collect();
        let day = ShootingDay { shots: Some(shots.clone()), ..film.days[0].clone() };
        let mut plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        for (shot, minute) in shots.into_iter().zip(minutes) {
            let job = plan.job_of(shot).expect("a job");
            let placed = plan.order.placed.iter_mut().find(|placed| placed.job == job).expect("it fits");
            (placed.starts_min, placed.ends_min) = (minute, minute + 6.0);
        }
        plan.order.placed.sort_by(|one, other| one.starts_min.total_cmp(&other.starts_min));
        Planned { film, day, plan }
    }

    fn at(minutes: [f64; 4]) -> Planned {
        planned(minutes, |_| {})
    }

    /// A day whose sun is in that azimuth at a minute, where shadows are so many times as long as what casts them, and shines
    /// from 5:00 until then.
    fn sky(until_min: f64, sun: impl Fn(f64) -> (f64, f64)) -> Daylight {
        let direction = |at: i32| {
            let (azimuth_deg, times) = sun(f64::from(at) * SUN_EVERY_MIN);
            (azimuth_deg, Angle::from_tan(1.0 / times).to_deg())
        };
        Daylight::new(DaylightParts {
            times: DayTimes::default(),
            utc_offset_min: 0.0,
            clock_change: None,
            first_min: 0.0,
            directions_deg: (0..=288).map(direction).collect(),
            air: 0.0,
            bright: vec![DaySpan { from_min: 300.0, to_min: until_min }],
        })
        .expect("a day")
    }

    /// One sun until half past twelve, another from then on.
    fn two(before: (f64, f64), after: (f64, f64)) -> Daylight {
        sky(1200.0, |minute| if minute < 750.0 { before } else { after })
    }

    /// A sun that goes round by 15 degrees an hour and stays as high.
    fn round() -> Daylight {
        sky(1200.0, |minute| (minute / 4.0, 1.0))
    }

    #[test]
    fn shadows_half_as_long_again_are_found() {
        let planned = at(SPLIT);
        let jumps = |times: f64, then: f64| planned.under(two((180.0, times), (180.0, then))).is_some();
        assert!(!jumps(1.0, 1.49) && jumps(1.0, 1.51));
        assert!(!jumps(1.49, 1.0) && jumps(1.51, 1.0), "the other way round");
        assert!(!jumps(0.4, 0.89) && jumps(0.4, 0.91), "half of whoever casts it longer");
        assert!(!jumps(4.1, 20.0) && jumps(3.9, 20.0), "six times and more are one length");
    }

    #[test]
    fn a_sun_an_eighth_of_a_turn_round_is_found() {
        let planned = at(SPLIT);
        let jumps = |times: f64, from: f64, to: f64| planned.under(two((from, times), (to, times))).is_some();
        assert!(!jumps(1.0, 100.0, 144.9) && jumps(1.0, 100.0, 145.1));
        assert!(!jumps(1.0, 20.0, 335.1) && jumps(1.0, 20.0, 334.9), "across north");
        assert!(
            !jumps(0.49, 90.0, 270.0) && jumps(0.51, 90.0, 270.0),
            "a shadow at the feet has no direction"
        );
    }

    #[test]
    fn sun_and_no_sun_do_not_match_and_no_sun_matches_none() {
        let change = |minutes| Some(at(minutes).under(sky(750.0, |_| (180.0, 1.0)))?.change);
        assert_eq!(change(SPLIT), Some(SunChange::Goes));
        assert_eq!(change([200.0, 206.0, 600.0, 606.0]), Some(SunChange::Comes));
        assert_eq!(change([800.0, 806.0, 900.0, 906.0]), None);
        assert_eq!(change([600.0, 606.0, 612.0, 618.0]), None);
    }

    #[test]
    fn cloud_walls_lamps_and_meters_say_nothing_of_the_sun() {
        let jumps = |planned: &Planned| planned.under(two((100.0, 1.0), (200.0, 3.0))).is_some();
        assert!(jumps(&at(SPLIT)));
        let mut cloud = at(SPLIT);
        cloud.day.weather = Weather::Overcast;
        assert!(!jumps(&cloud));
        assert!(!jumps(&planned(SPLIT, |facts| facts.setting = Setting::Inside)));
        let read = SceneLight::Read(ExposureValue::of_scene(14.0).expect("in range"));
        assert!(!jumps(&planned(SPLIT, |facts| facts.light = read)));
        let by_night = |lamps| planned(SPLIT, |facts| (facts.time, facts.lamps) = (TimeOfDay::Night, lamps));
        // The sun is 45° high at ten, and as far down at three.
        let night = || sky(750.0, |minute| (180.0, if minute < 750.0 { 1.0 } else { -1.0 }));
        assert!(by_night(Lamps::Off).under(night()).is_some(), "the sun has gone");
        assert!(by_night(Lamps::On).under(night()).is_none(), "lamps light the later ones");
    }

    #[test]
    fn only_what_the_cut_puts_beside_each_other_counts_where_there_is_one() {
        // 3.2 is cut to 3.1 alone. The sun goes round by 75° from the first to the last, and by 25° in each cut.
        let drifting = at([700.0, 600.0, 800.0, 900.0]);
        assert_eq!(drifting.under(round()), None);
        let without_cut = Scene { cut: Vec::new(), ..drifting.scene().clone() };
        let jump = drifting.of_scene(&without_cut, round()).expect("75°");
        let shots = &without_cut.shots;
        assert_eq!((jump.earlier, jump.later, jump.is_cut), (shots[1].id, shots[3].id, false));
        let message = jump.to_finding(&drifting.film).message;
        assert_eq!(message, "3.2 and 3.4 are of one scene, but the sun moves 75° round from 10:00 to 15:00");
    }

    #[test]
    fn all_are_sent_where_each_has_its_light_and_the_sun_stays_alike() {
        // 180 minutes are 45°, which is just alike.
        let free = at(SPLIT).under(round()).expect("75°");
        assert_eq!(
            free.window,
            Some(DaySpan { from_min: 540.0, to_min: 720.0 }),
            "the earliest of as good ones"
        );
        let late = at(SPLIT).with_light(3, DaySpan { from_min: 800.0, to_min: 1000.0 });
        let late = late.under(round()).expect("75°");
        assert_eq!(late.window, Some(DaySpan { from_min: 800.0, to_min: 980.0 }));
        assert!((late.alike_min - 180.0).abs() < 1e-9, "{late:?}");
        let sunless = at(SPLIT).under(sky(850.0, |minute| (minute / 4.0, 1.0))).expect("no sun at three");
        assert_eq!(sunless.window, Some(DaySpan { from_min: 540.0, to_min: 720.0 }));
    }

    #[test]
    fn light_that_is_too_short_for_all_of_them_is_no_window() {
        let planned = at(SPLIT).with_light(3, DaySpan { from_min: 900.0, to_min: 910.0 });
        let jump = planned.under(round()).expect("75°");
        assert_eq!(jump.window, None);
        assert!((jump.alike_min - 180.0).abs() < 1e-9, "{jump:?}");
        let hint = jump.to_finding(&planned.film).hint;
        assert_eq!(
            hint,
            "take 3.1, 3.2, 3.3 and 3.4 within about 180 min of each other; no such stretch of this day has light, people \
             and time for all of them, so change the light that one of them wants, or keep the ground and hard shadows out \
             of its frame"
        );
    }

    #[test]
    fn what_differs_is_said_with_its_figures_and_when_to_shoot() {
        let planned = at(SPLIT);
        let told = |daylight| planned.under(daylight).expect("a jump").to_finding(&planned.film);
        let both = told(two((180.0, 1.3), (240.0, 2.4)));
        assert_eq!((both.rule, both.severity), ("sun_jumps", Severity::Warns));
        assert_eq!(
            both.message,
            "3.1 and 3.3 are cut against each other, but shadows are 1.3 times as long as people are tall at 10:00 and 2.4 \
             times at 15:00, and the sun moves 60° round"
        );
        assert_eq!(
            both.hint,
            "take 3.1, 3.2, 3.3 and 3.4 within about 345 min of each other, such as from 13:15 to 19:00: then the sun stays \
             alike, and each has its light and its people"
        );
        let length = told(two((180.0, 1.3), (190.0, 2.4))).message;
        assert!(length.ends_with("at 10:00 and 2.4 times at 15:00"), "{length}");
        let gone = told(sky(750.0, |_| (180.0, 1.0))).message;
        assert!(gone.ends_with("but the sun shines on 3.1 at 10:00 and not on 3.3 at 15:00"), "{gone}");
    }
}
