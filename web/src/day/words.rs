//! Plain words for what stands on the Day screen.

use std::cmp::Ordering;

use film::{
    ChangePart, DayPlan, DaySetup, DaySpan, Film, Job, MOST_IN_EXACT_ORDER, Order, PersonId, Rig,
    ShootingDay, ShotId, clock, clock_of_day, counted,
};
use language::{Number, say};

use crate::shooting::day_name;
use crate::story::words::{capital, listed, shot as told};
use crate::widgets::plain;

/// A length of time: `6 min`, `2 h 05 min`.
pub(super) fn span(minutes: f64) -> String {
    let whole = minutes.round();
    if whole >= 60.0 {
        let (hours, rest) = ((whole / 60.0).floor(), whole % 60.0);
        return if rest < 0.5 { say!("{hours:.0} h") } else { say!("{hours:.0} h {rest:02.0} min") };
    }
    // Half minutes count where there are few.
    let told = if minutes < 10.0 { (minutes * 2.0).round() / 2.0 } else { whole };
    say!("{} min", Number(plain(told)))
}

/// From when to when, and whether that is on the day after.
pub(super) fn between(from_min: f64, to_min: f64) -> String {
    DaySpan { from_min, to_min }.to_string()
}

/// So many setups.
pub(super) fn setups(count: usize) -> String {
    counted(count, say!("setup"), say!("setups"))
}

/// A shot's number as a shot list has it: `2.1`.
pub(super) fn number(film: &Film, shot: ShotId) -> String {
    film.numbered(shot).unwrap_or_else(|| "?".to_owned())
}

/// A shot in the middle of a sentence: `2.1 wide of Tom`.
pub(super) fn shot(film: &Film, id: ShotId) -> String {
    let number = number(film, id);
    film.shot(id).map_or_else(|| number.clone(), |(_, shot)| format!("{number} {}", small(&told(film, shot))))
}

/// The same words, the first without a capital.
fn small(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// The day in a sentence or two: how many setups from when, when it is done, what is next, what is in the can.
pub(super) fn sentence(film: &Film, day: &ShootingDay, plan: &DayPlan) -> String {
    let name = capital(&day_name(film, day));
    let done = plan.setups.iter().filter(|setup| setup.is_done).count();
    let order = &plan.order;
    if plan.setups.is_empty() {
        let why = if plan.unmade.is_empty() {
            say!("no shots on it yet")
        } else {
            say!("none of its shots can be made yet")
        };
        return format!("{name}: {why}.");
    }
    if done == plan.setups.len() {
        return say!("{name}: all {} in the can.", setups(done));
    }
    let in_the_can = if done == 0 { String::new() } else { say!("{done} in the can, ") };
    let Some(next) = order.placed.first() else {
        return say!("{name}, {in_the_can}and none of the {} left fits.", setups(plan.jobs.len()));
    };
    let next_words = plan.setup(next.job).map(|setup| shot(film, setup.shot.id)).unwrap_or_default();
    let late = order.ends_min - plan.problem.wrap_min;
    let after = if late > 0.5 { say!(", {} after the wrap", span(late)) } else { String::new() };
    say!(
        "{name}, {in_the_can}{} from {}, done by {}{after}; next: {next_words} at {}.",
        setups(order.placed.len()),
        clock_of_day(plan.problem.call_min),
        clock_of_day(order.ends_min),
        clock(next.starts_min),
    )
}

/// What the order leaves out, in a few words, and whether the film cannot do without some of it; nothing if all fits.
pub(super) fn left_out(plan: &DayPlan) -> Option<(String, bool)> {
    let (missed, unmade) = (plan.order.missed.len(), plan.unmade.len());
    let late = plan.order.placed.iter().filter(|placed| placed.late.is_some()).count();
    let fits = |count: usize| {
        if count == 1 { say!("1 does not fit").to_owned() } else { say!("{count} do not fit") }
    };
    let parts = [
        (missed > 0).then(|| fits(missed)),
        (late > 0).then(|| say!("{late} pinned too late")),
        (unmade > 0).then(|| say!("{unmade} cannot be made as planned")),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    let fails = plan.order.costs.must_missed > 0 || unmade > 0;
    (!parts.is_empty()).then(|| (format!("{}.", capital(&listed(&parts))), fails))
}

/// What has to change from one rig to the next, with the minutes of each: `turn round, 6 min; ND 8 on, 2 min`.
pub(super) fn change(film: &Film, from: Option<&Rig>, to: &Rig, parts: &[(ChangePart, f64)]) -> String {
    let told = parts.iter().map(|(part, minutes)| {
        let words = changed(film, from, to, *part).unwrap_or_else(|| part.words().to_owned());
        format!("{words}, {}", span(*minutes))
    });
    told.collect::<Vec<_>>().join("; ")
}

/// One kind of change with the names of what is changed; none where its own word says all.
fn changed(film: &Film, from: Option<&Rig>, to: &Rig, part: ChangePart) -> Option<String> {
    match part {
        ChangePart::SettingUp | ChangePart::Turn | ChangePart::Spot => None,
        ChangePart::Place => place(film, to).map(|name| say!("move to {name}")),
        ChangePart::Scene => {
            let scene = film.scenes.iter().position(|scene| scene.id == to.scene)?;
            Some(say!("scene {scene}", scene = scene + 1))
        }
        ChangePart::Lens => Some(say!("{} lens", to.lens)),
        ChangePart::Adapter => match (from.and_then(|from| from.adapter.as_ref()), &to.adapter) {
            (None, Some(on)) => Some(say!("{on} on")),
            (Some(off), None) => Some(say!("{off} off")),
            (Some(off), Some(on)) => Some(say!("{on} for {off}")),
            (None, None) => None,
        },
        ChangePart::Filters => {
            let before = from.map(|from| from.filters.as_slice()).unwrap_or_default();
            let missing_in = |these: &[String], those: &[String]| -> Vec<String> {
                these.iter().filter(|filter| !those.contains(filter)).cloned().collect()
            };
            let (on, off) = (missing_in(&to.filters, before), missing_in(before, &to.filters));
            Some(match (on.as_slice(), off.as_slice()) {
                ([], []) => return None,
                (on, []) => say!("{} on", listed(on)),
                ([], off) => say!("{} off", listed(off)),
                (on, off) => say!("{} for {}", listed(on), listed(off)),
            })
        }
        ChangePart::Gimbal => {
            Some(if to.gimbal { say!("onto the gimbal") } else { say!("off the gimbal") }.to_owned())
        }
    }
}

/// Where a rig stands, by name.
pub(super) fn place(film: &Film, rig: &Rig) -> Option<String> {
    let name = &film.place(rig.place?)?.name;
    (!name.is_empty()).then(|| name.clone())
}

/// What a setup is made on: lens, adapter, filters, gimbal.
pub(super) fn rig(rig: &Rig) -> String {
    let filters = if rig.filters.is_empty() { say!("no ND").to_owned() } else { listed(&rig.filters) };
    let parts = [
        Some(say!("{} lens", rig.lens)),
        rig.adapter.clone(),
        Some(filters),
        rig.gimbal.then(|| say!("on the gimbal").to_owned()),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What is waited for when a setup starts then: its light, the sun of what it is cut against, somebody, or a break that it
/// would not end before.
pub(super) fn wait(film: &Film, job: &Job, starts_min: f64, waits_min: f64, breaks: &[DaySpan]) -> String {
    let starts = |minute: f64| (minute - starts_min).abs() < 1e-3;
    let light = job.light.iter().flatten().any(|span| starts(span.from_min));
    let comes: Option<PersonId> =
        job.hours.iter().find(|(_, span)| starts(span.from_min)).map(|(who, _)| *who);
    let sun = job.one_sun.iter().any(|span| starts(span.from_min));
    let is_after_break = breaks.iter().any(|one| starts(one.to_min));
    let (wait, until) = (span(waits_min), clock(starts_min));
    match comes {
        _ if light => say!("wait {wait} for the light from {until}"),
        _ if sun => say!("wait {wait} for the sun of the cut, from {until}"),
        Some(who) => say!("wait {wait} for {}, who comes at {until}", film.name_of(who)),
        None if is_after_break => say!("wait {wait}: the next one would not end before the break"),
        None => say!("wait {wait}"),
    }
}

/// What would come of shooting in the story's order.
pub(super) fn in_story_order(order: &Order, story: &Order) -> String {
    let missed = [
        misses(order.costs.must_missed, story.costs.must_missed, say!("must-have"), say!("must-haves")),
        misses(order.costs.nice_missed, story.costs.nice_missed, say!("nice-to-have"), say!("nice-to-haves")),
    ];
    let is_alike = missed.iter().all(Option::is_none);
    let later = (story.ends_min - order.ends_min).round();
    let ends = if later >= 1.0 {
        Some(say!("end {} later", span(later)))
    } else if later <= -1.0 {
        Some(say!("end {} earlier", span(-later)))
    } else {
        None
    };
    let changes = (story.costs.changes_min - order.costs.changes_min).round();
    let carries = (changes >= 1.0).then(|| say!("take {} more for changes", span(changes)));
    let parts: Vec<String> = std::iter::once(ends).chain(missed).flatten().collect();
    let parts = if parts.is_empty() { carries.into_iter().collect() } else { parts };
    // What is disliked has a price too; where one order misses what the other has, minutes cannot be compared.
    let worse = (story.costs.minutes() - order.costs.minutes()).round();
    let worse = (worse >= 1.0 && is_alike).then(|| {
        say!(
            "be {} worse all in all, counting what one would not like, such as going back to a direction that was left",
            span(worse)
        )
    });
    let told = (!parts.is_empty()).then(|| listed(&parts));
    match (told, worse) {
        (None, None) => say!("Story order would do as well.").to_owned(),
        (Some(would), None) | (None, Some(would)) => say!("In story order it would {would}."),
        (Some(told), Some(worse)) if later <= -1.0 => say!("In story order it would {told} but {worse}."),
        (Some(told), Some(worse)) => say!("In story order it would {told} and {worse}."),
    }
}

/// How many more or fewer of a kind the story's order misses than the order of work does; none where it is as many.
fn misses(order: u32, story: u32, one: &str, several: &str) -> Option<String> {
    let count = story.abs_diff(order);
    let what = if count == 1 { one } else { several };
    match story.cmp(&order) {
        Ordering::Less => Some(say!("miss {count} fewer {what}")),
        Ordering::Equal => None,
        Ordering::Greater => Some(say!("miss {count} more {what}")),
    }
}

/// Whether there could be a better order, and what it gives for cuts that match.
pub(super) fn how_found(plan: &DayPlan) -> String {
    let found = if plan.order.is_exact {
        say!("All orders were tried: none is better.").to_owned()
    } else {
        say!(
            "Found by a search, as there are more than {most} setups: it is never worse than story order, but \
             a better one may be left.",
            most = MOST_IN_EXACT_ORDER,
        )
    };
    if !plan.keeps_one_sun() {
        return found;
    }
    let kept = say!(
        "Setups that are cut against each other are kept under one sun, for at most {most} min more a scene.",
        most = DayPlan::ONE_SUN_WORTH_MIN,
    );
    format!("{found} {kept}")
}

/// Who is needed for a setup.
pub(super) fn people(film: &Film, setup: &DaySetup) -> String {
    let names: Vec<String> = setup.people.iter().map(|who| film.name_of(*who).to_owned()).collect();
    listed(&names)
}

#[cfg(test)]
mod tests {
    use film::{ChangeTimes, Daylights, Rehearsals};

    use super::*;

    fn demo() -> (Film, ShootingDay, DayPlan) {
        let film = film::demo_film();
        let day = film.days[0].clone();
        let plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        (film, day, plan)
    }

    #[test]
    fn the_day_is_told_in_a_sentence() {
        let (film, day, plan) = demo();
        let told = sentence(&film, &day, &plan);
        assert!(
            told.starts_with(&format!("Saturday, {} setups from 09:00, done by ", plan.order.placed.len())),
            "{told}"
        );
        let next = shot(&film, plan.setup(plan.order.placed[0].job).expect("a setup").shot.id);
        assert!(told.contains(&format!("; next: {next} at 10:")), "{told}");
        let all = ShootingDay { done: plan.setups.iter().map(|setup| setup.shot.id).collect(), ..day };
        let plan = DayPlan::of(&film, &all, &Daylights::new(), &mut Rehearsals::default());
        assert_eq!(
            sentence(&film, &all, &plan),
            format!("Saturday: all {} setups in the can.", plan.setups.len())
        );
    }

    #[test]
    fn lengths_of_time_read_well() {
        assert_eq!([0.5, 6.0, 59.6, 60.0, 125.0].map(span), ["0.5 min", "6 min", "1 h", "1 h", "2 h 05 min"]);
    }

    #[test]
    fn a_change_names_what_goes_on_and_off() {
        let (film, _, plan) = demo();
        let bare =
            Rig { filters: vec!["ND 4".to_owned()], adapter: None, ..plan.problem.jobs[0].rig.clone() };
        let other = Rig {
            filters: vec!["ND 8".to_owned()],
            adapter: Some("stretch".to_owned()),
            gimbal: !bare.gimbal,
            ..bare.clone()
        };
        let parts = ChangeTimes::usual().between(Some(&bare), &other).parts;
        let told = change(&film, Some(&bare), &other, &parts);
        assert!(told.contains("new spot, 2 min"), "{told}");
        assert!(told.contains("stretch on, 4 min"), "{told}");
        assert!(told.contains("ND 8 for ND 4, 2 min"), "{told}");
    }

    #[test]
    fn story_order_is_told_by_what_it_costs_more() {
        let (_, _, plan) = demo();
        let mut story = plan.order.clone();
        assert_eq!(in_story_order(&plan.order, &story), "Story order would do as well.");
        story.ends_min -= 8.0;
        story.costs.day_min -= 8.0;
        story.costs.changes_min += 30.0;
        let told = in_story_order(&plan.order, &story);
        assert!(told.starts_with("In story order it would end 8 min earlier but be "), "{told}");
        story = plan.order.clone();
        story.ends_min += 41.2;
        story.costs.nice_missed += 2;
        assert_eq!(
            in_story_order(&plan.order, &story),
            "In story order it would end 41 min later and miss 2 more nice-to-haves."
        );
    }

    #[test]
    fn a_missed_must_have_is_told_beside_a_nice_to_have_that_is_not_missed() {
        let (_, _, plan) = demo();
        let (mut order, mut story) = (plan.order.clone(), plan.order);
        (order.costs.must_missed, order.costs.nice_missed) = (0, 1);
        (story.costs.must_missed, story.costs.nice_missed) = (1, 0);
        // Dearer too, which says nothing as long as they miss different things.
        story.costs.waits_min += 30.0;
        story.costs.day_min += 30.0;
        assert_eq!(
            in_story_order(&order, &story),
            "In story order it would miss 1 more must-have and miss 1 fewer nice-to-have."
        );
    }
}
