//! The order of a day, as it is told to programs.

use film::{DaySetup, Film, Missed, Order, Placed, ShotSizeWord, SunJump, WhyMissed, WouldDo, clock};
use requests::FindingAnswer;
use serde::Serialize;

use super::worked::WorkedDay;
use crate::shooting_day::{DayAnswer, UnmadeAnswer};

/// The order of a day.
#[derive(Debug, Serialize)]
pub(super) struct Answered {
    title: String,
    day: DayAnswer,
    from: String,
    from_min: f64,
    pub(super) in_the_can: Vec<String>,
    pub(super) late_min: Option<f64>,
    pub(super) order: Vec<InOrder>,
    pub(super) missed: Vec<MissedAnswer>,
    pub(super) unmade: Vec<UnmadeAnswer>,
    pub(super) findings: Vec<SceneFinding>,
    ends: String,
    ends_min: f64,
    changes_min: f64,
    waits_min: f64,
    exact: bool,
    pub(super) story_order: StoryOrder,
}

/// A setup in its place.
#[derive(Debug, Serialize)]
pub(super) struct InOrder {
    scene: usize,
    shot: usize,
    /// Both in one text, for people.
    #[serde(skip)]
    pub(super) number: String,
    size: ShotSizeWord,
    pub(super) of: String,
    pub(super) action: String,
    pub(super) people: Vec<String>,
    pub(super) must_have: bool,
    pub(super) change: Vec<Part>,
    pub(super) change_min: f64,
    ready: String,
    ready_min: f64,
    pub(super) waits_min: f64,
    pub(super) starts: String,
    pub(super) starts_min: f64,
    pub(super) ends: String,
    ends_min: f64,
    pub(super) lens: String,
    pub(super) adapter: Option<String>,
    pub(super) filters: Vec<String>,
    pub(super) late: Option<String>,
    pub(super) because: Vec<String>,
}

/// One kind of change.
#[derive(Debug, Serialize)]
pub(super) struct Part {
    pub(super) what: &'static str,
    pub(super) minutes: f64,
}

/// A setup that does not fit.
#[derive(Debug, Serialize)]
pub(super) struct MissedAnswer {
    scene: usize,
    shot: usize,
    /// Both in one text, for people.
    #[serde(skip)]
    pub(super) number: String,
    pub(super) must_have: bool,
    pub(super) why: String,
    pub(super) would_do: Vec<String>,
}

/// What is found on the setups of a scene in this order.
#[derive(Debug, Serialize)]
pub(super) struct SceneFinding {
    scene: usize,
    #[serde(flatten)]
    pub(super) found: FindingAnswer,
}

/// The same in the story's order.
#[derive(Debug, Serialize)]
pub(super) struct StoryOrder {
    ends: String,
    ends_min: f64,
    pub(super) longer_min: f64,
    pub(super) changes_min: f64,
    waits_min: f64,
    pub(super) must_missed: u32,
    pub(super) nice_missed: u32,
    pub(super) costs_more_min: f64,
}

impl Answered {
    pub(super) fn of(worked: &WorkedDay<'_>) -> Self {
        let WorkedDay { chosen, day, plan, late_min } = worked;
        let order = &plan.order;
        let placed = order.placed.iter();
        let missed = order.missed.iter();
        Self {
            title: chosen.film.facts.title.clone(),
            day: chosen.answer(),
            from: clock(plan.problem.call_min),
            from_min: plan.problem.call_min,
            in_the_can: day.done.iter().map(|shot| chosen.numbered(*shot)).collect(),
            late_min: *late_min,
            order: placed
                .filter_map(|placed| Some(InOrder::of(worked, placed, plan.setup(placed.job)?)))
                .collect(),
            missed: missed
                .filter_map(|missed| Some(MissedAnswer::of(worked, missed, plan.setup(missed.job)?)))
                .collect(),
            unmade: chosen.unmade(plan),
            findings: scene_findings(worked),
            ends: clock(order.ends_min),
            ends_min: order.ends_min,
            changes_min: order.costs.changes_min,
            waits_min: order.costs.waits_min,
            exact: order.is_exact,
            story_order: StoryOrder::of(&plan.story_order, order),
        }
    }
}

/// Scenes whose cut shows that the sun has moved.
fn scene_findings(worked: &WorkedDay<'_>) -> Vec<SceneFinding> {
    let WorkedDay { chosen, day, plan, .. } = worked;
    let scenes = chosen.film.scenes.iter().enumerate();
    let found = scenes.filter_map(|(at, scene)| {
        let jump = SunJump::of(scene, day, &chosen.daylights, plan)?;
        Some(SceneFinding { scene: at + 1, found: jump.to_finding(&chosen.film).into() })
    });
    found.collect()
}

impl InOrder {
    fn of(worked: &WorkedDay<'_>, placed: &Placed, setup: &DaySetup) -> Self {
        let WorkedDay { chosen, day, plan, .. } = worked;
        let film = &chosen.film;
        let rig = plan.problem.jobs.get(placed.job).map(|job| &job.rig);
        let light = setup.light_at(film, day, &chosen.daylights, placed.starts_min);
        let (scene, shot) = chosen.number_of(setup.shot.id);
        let change = placed.change.parts.iter();
        Self {
            scene,
            shot,
            number: chosen.numbered(setup.shot.id),
            size: setup.shot.size.into(),
            of: setup.shot.of.told(film),
            action: setup.shot.action.clone(),
            people: setup.people.iter().map(|who| film.name_of(*who).to_owned()).collect(),
            must_have: setup.shot.is_must_have(),
            change: change.map(|(part, minutes)| Part { what: part.words(), minutes: *minutes }).collect(),
            change_min: placed.change.minutes(),
            ready: clock(placed.ready_min),
            ready_min: placed.ready_min,
            waits_min: placed.waits_min,
            starts: clock(placed.starts_min),
            starts_min: placed.starts_min,
            ends: clock(placed.ends_min),
            ends_min: placed.ends_min,
            lens: rig.map_or_else(String::new, |rig| rig.lens.clone()),
            adapter: setup.shot.adapter.clone(),
            filters: light.map_or_else(Vec::new, |light| {
                light.filters.on.iter().map(|filter| filter.name.clone()).collect()
            }),
            late: placed.late.map(|why| missed_words(film, why)),
            because: placed
                .reasons
                .iter()
                .map(|reason| reason.words(|who| film.name_of(who).to_owned()))
                .collect(),
        }
    }
}

fn missed_words(film: &Film, why: WhyMissed) -> String {
    why.words(|who| film.name_of(who).to_owned())
}

impl MissedAnswer {
    fn of(worked: &WorkedDay<'_>, missed: &Missed, setup: &DaySetup) -> Self {
        let (scene, shot) = worked.chosen.number_of(setup.shot.id);
        Self {
            scene,
            shot,
            number: worked.chosen.numbered(setup.shot.id),
            must_have: setup.shot.is_must_have(),
            why: missed_words(&worked.chosen.film, missed.why),
            would_do: missed.would_do.iter().map(|would| would_do(worked, would)).collect(),
        }
    }
}

/// What would make room, in words.
fn would_do(worked: &WorkedDay<'_>, would: &WouldDo) -> String {
    let number = |job: &usize| {
        let setup = worked.plan.setup(*job);
        setup.map_or_else(|| "a shot".to_owned(), |setup| worked.chosen.numbered(setup.shot.id))
    };
    match would {
        WouldDo::Drop(jobs) => {
            format!("drop {}", jobs.iter().map(number).collect::<Vec<_>>().join(" and "))
        }
        WouldDo::JoinWith(job) => format!("shoot it together with {}", number(job)),
    }
}

impl StoryOrder {
    fn of(story: &Order, order: &Order) -> Self {
        Self {
            ends: clock(story.ends_min),
            ends_min: story.ends_min,
            longer_min: story.ends_min - order.ends_min,
            changes_min: story.costs.changes_min,
            waits_min: story.costs.waits_min,
            must_missed: story.costs.must_missed,
            nice_missed: story.costs.nice_missed,
            costs_more_min: story.costs.minutes() - order.costs.minutes(),
        }
    }
}
