//! The order of a day for people.

use film::{DayPlan, DaySpan, Order, clock, clock_of_day};

use super::answer::{Answered, InOrder, MissedAnswer, StoryOrder};
use super::worked::WorkedDay;
use crate::film_lines::FoundLines;
use crate::shooting_day::UnmadeAnswer;

/// So many reasons are told of each setup: the rest is true as well, and binds less.
const REASONS: usize = 2;

/// The order with its breaks and waits, what does not fit, and when it ends.
pub(super) fn day(worked: &WorkedDay<'_>, answered: &Answered) -> String {
    let WorkedDay { chosen, day, plan, .. } = worked;
    let mut lines = so_far(worked, answered);
    lines.push(String::new());
    let mut after_min = plan.problem.call_min;
    if plan.problem.before.is_none() {
        let start = if answered.late_min.is_some() { "start" } else { "call" };
        lines.push(format!("{}           {start}", clock(after_min)));
    }
    let mut breaks: Vec<DaySpan> = day.breaks.iter().map(|hours| DaySpan::from(*hours)).collect();
    breaks.sort_by(|one, other| one.from_min.total_cmp(&other.from_min));
    for (placed, setup) in plan.order.placed.iter().zip(&answered.order) {
        // A break may fall into a setup's change; its own line then comes first.
        let between = |hours: &&DaySpan| hours.to_min > after_min && hours.to_min <= placed.starts_min;
        lines.extend(breaks.iter().filter(between).map(|hours| format!("{hours}  break")));
        after_min = placed.ends_min;
        lines.extend(setup_lines(setup, setup_size(worked, placed.job)));
    }
    if plan.order.placed.is_empty() {
        lines.push("Nothing is shot".to_owned());
    }
    lines.extend(lacking(answered));
    if !plan.order.placed.is_empty() {
        lines.push(String::new());
        lines.extend(end(worked, answered));
    }
    chosen.head() + &lines.join("\n") + "\n"
}

/// The size of a job's shot as people say it.
fn setup_size(worked: &WorkedDay<'_>, job: usize) -> &'static str {
    worked.plan.setup(job).map_or("", |setup| setup.shot.size.name())
}

/// What is in the can, and how late it is.
fn so_far(worked: &WorkedDay<'_>, answered: &Answered) -> Vec<String> {
    let mut lines = Vec::new();
    if !answered.in_the_can.is_empty() {
        lines.push(format!("in the can: {}", answered.in_the_can.join(", ")));
    }
    let from = clock_of_day(worked.plan.problem.call_min);
    match answered.late_min.map(f64::round) {
        Some(late) if late > 0.0 => lines.push(format!("from {from}: {late} min later than planned")),
        Some(late) if late < 0.0 => lines.push(format!("from {from}: {} min in hand", -late)),
        Some(_) => lines.push(format!("from {from}: as planned")),
        None if !answered.in_the_can.is_empty() => lines.push(format!("from {from}")),
        None => {}
    }
    lines
}

/// A setup: when and what, with what on the phone; what changes for it; why it is there.
fn setup_lines(setup: &InOrder, size: &str) -> Vec<String> {
    let adapter = setup.adapter.as_ref().map_or_else(String::new, |name| format!(" with {name}"));
    let filters = if setup.filters.is_empty() { "no ND".to_owned() } else { setup.filters.join(" and ") };
    let spare = if setup.must_have { "" } else { " (nice to have)" };
    let mut lines = vec![format!(
        "{} to {}  {} {size} of {}{spare}: {}{adapter}, {filters}",
        setup.starts, setup.ends, setup.number, setup.of, setup.lens,
    )];
    let parts: Vec<&str> = setup.change.iter().map(|part| part.what).collect();
    let waits = if setup.waits_min >= 0.5 {
        format!("; then {} min to wait", setup.waits_min.round())
    } else {
        String::new()
    };
    lines.push(format!("                change {} min: {}{waits}", setup.change_min, parts.join(", ")));
    let because: Vec<&str> = setup.because.iter().map(String::as_str).take(REASONS).collect();
    if !because.is_empty() {
        lines.push(format!("                because {}", because.join("; ")));
    }
    lines.extend(setup.late.as_ref().map(|why| format!("                late: {why}")));
    lines
}

/// What does not fit, what cannot be made and what will not look alike.
fn lacking(answered: &Answered) -> Vec<String> {
    let mut lines = Vec::new();
    if !answered.missed.is_empty() {
        lines.extend([String::new(), "Does not fit".to_owned()]);
        lines.extend(answered.missed.iter().map(missed_line));
    }
    if !answered.unmade.is_empty() {
        lines.extend([String::new(), "Cannot be made".to_owned()]);
        lines.extend(answered.unmade.iter().flat_map(UnmadeAnswer::lines).map(|line| format!("  {line}")));
    }
    if !answered.findings.is_empty() {
        lines.extend([String::new(), "Will not look alike".to_owned()]);
        lines.extend(answered.findings.iter().flat_map(|one| FoundLines::of("", &one.found).lines()));
    }
    lines
}

fn missed_line(missed: &MissedAnswer) -> String {
    let how = if missed.must_have { "must have" } else { "nice to have" };
    let would = if missed.would_do.is_empty() {
        String::new()
    } else {
        format!("; to make room, {}", missed.would_do.join(", or "))
    };
    format!("  {} ({how}): {}{would}", missed.number, missed.why)
}

/// When it ends, what the story's order would cost, and how sure the order is.
fn end(worked: &WorkedDay<'_>, answered: &Answered) -> Vec<String> {
    let order = &worked.plan.order;
    let wrap_min = f64::from(worked.day.hours.to_min());
    let wrap = clock_of_day(wrap_min);
    let left = (wrap_min - order.ends_min).round();
    let ends = clock_of_day(order.ends_min);
    let ends = match left {
        left if left < 0.0 => format!("Ends at {ends}, {} min after the wrap at {wrap}.", -left),
        left if left > 0.0 => format!("Ends at {ends}, {left} min before the wrap at {wrap}."),
        _ => format!("Ends at {ends}, with the wrap."),
    };
    let exact = if order.is_exact {
        "No other order is better."
    } else {
        "Found by a search: a better order may be left."
    };
    let sun = worked.plan.keeps_one_sun().then(|| {
        format!(
            "Setups that are cut against each other are kept under one sun, for at most {} min more a scene.",
            DayPlan::ONE_SUN_WORTH_MIN
        )
    });
    [ends, story(worked, answered), exact.to_owned()].into_iter().chain(sun).collect()
}

fn story(worked: &WorkedDay<'_>, answered: &Answered) -> String {
    let jobs = |order: &Order| order.placed.iter().map(|placed| placed.job).collect::<Vec<_>>();
    let DayPlan { order, story_order, .. } = &worked.plan;
    if jobs(order) == jobs(story_order) {
        return "It is the story's order.".to_owned();
    }
    let ends = clock_of_day(story_order.ends_min);
    let StoryOrder { longer_min, changes_min, must_missed, nice_missed, costs_more_min, .. } =
        &answered.story_order;
    let longer = match longer_min.round() {
        minutes if minutes > 0.0 => format!(", {minutes} min later"),
        minutes if minutes < 0.0 => format!(", {} min earlier", -minutes),
        _ => String::new(),
    };
    let costs = &order.costs;
    let changes = format!("{} min of changes in place of {}", changes_min.round(), costs.changes_min.round());
    let differ = |story: u32, here: u32, what: &str| {
        (story != here).then(|| format!("; {story} {what}s missed in place of {here}"))
    };
    let missed = [
        differ(*must_missed, costs.must_missed, "must-have"),
        differ(*nice_missed, costs.nice_missed, "nice-to-have"),
    ];
    let missed = missed.into_iter().flatten().collect::<String>();
    // Where one order misses what the other has, minutes cannot be compared.
    let all_in_all = if missed.is_empty() && costs_more_min.round() > 0.0 {
        let worse_min = costs_more_min.round();
        format!(
            ": all in all {worse_min} min worse, counting what one would not like, such as going back to a direction that \
             was left"
        )
    } else {
        missed
    };
    format!("In story order it would end at {ends}{longer}, with {changes}{all_in_all}.")
}
