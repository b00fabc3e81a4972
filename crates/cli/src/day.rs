//! `tapemark day`: the order of work of a day of shooting, and what is left of it when it runs late.

mod answer;
mod told;
mod worked;

use film::Rehearsals;

use crate::day::answer::Answered;
use crate::day::worked::{WorkedDay, clock_time};
use crate::failure::Failure;
use crate::output::{self, Answer};
use crate::shooting_day;
use crate::shot_number::{ShotNumber, shot_number};

/// Which day to put in order, and from when on.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    #[command(flatten)]
    day: shooting_day::Options,
    /// Plan what is left from this time on, such as 14:30; past midnight where the work goes on through the night
    #[arg(long, value_name = "HH:MM", value_parser = clock_time)]
    from: Option<u16>,
    /// Shots that are in the can, in the order in which they were made, such as 1.1,1.3; beside those that the film says
    #[arg(long, value_name = "S.N,...", value_delimiter = ',', value_parser = shot_number)]
    done: Vec<ShotNumber>,
}

/// What `day --json` prints, field by field.
const ANSWER: &str = "  title                     the film's
  day                       {day, title, date, call, call_min, wrap, wrap_min, breaks, weather,
                            planned_weather}: day is its number, null for a usual day; weather is
                            sun, overcast, fog or rain
  from, from_min            when this order starts: at the call, or later
  in_the_can                what is done, S.N
  late_min                  how much later than planned that is; negative with time in hand, null
                            where nobody says that time
  order                     the setups in order:
    scene, shot, size, of, action, people, must_have
    change                  what changes for it: {what, minutes}
    change_min              all of that
    ready, ready_min        when the change is done
    waits_min               how long is waited then, breaks not counted
    starts, starts_min      when rehearsal and takes start
    ends, ends_min          when they end
    lens, adapter
    filters                 those for the light when it starts
    late                    what keeps it from being shot properly there, where it is pinned
    because                 why it is there, in words: what binds most is first
  missed                    what does not fit: {scene, shot, must_have, why, would_do}: each of the
                            last would do by itself
  unmade                    what cannot be made: {scene, shot, findings}, of {rule, severity,
                            message, hint}
  findings                  scenes whose setups will not look alike in this order: {scene, rule,
                            severity, message, hint}
  ends, ends_min            when the last setup is in the can
  changes_min, waits_min    in all
  exact                     whether no other order is better; false if a search found it
  story_order               the same in the story's order: {ends, ends_min, longer_min, changes_min,
                            waits_min, must_missed, nice_missed, costs_more_min}: the last is the
                            longer day, half of the minutes of more changes, and what one would not
                            like, such as going back to a direction that was left
  breaks are stretches: {from, from_min, to, to_min}";

/// What `day` reads and prints.
pub(crate) fn help() -> String {
    format!(
        "The film's JSON Schema is printed by `tapemark schema film`. A film that plans no day is given a usual one, from nine \
         to five without a date. The best order misses the fewest must-haves, then the fewest nice-to-haves, then is short and \
         changes little; a setup has its light and its people from start to end, and is not cut by a break. Ten setups and fewer \
         are put in order exactly. A time zone that is not known and a year that is not 1900 to 2100 are told on standard error \
         and gone without: light is then no limit there.\n\n\
         With --done and without --from, the rest starts when what is done would have ended.\n\n\
         With --json, one object. A time is HH:MM, beside it ..._min counts minutes from the day's midnight, past 1440 on \
         the day after. \
         What is not known is null.\n{ANSWER}\n\n\
         Exit 0 if every must-have is made, 1 if one is missed, late or cannot be made; findings do not count. A file that is \
         no film is refused as by `tapemark check`, and a day or a shot that is not there exits 2 with one line on standard \
         error."
    )
}

/// The answer.
pub(crate) fn run(options: &Options) -> Result<Answer, Failure> {
    let chosen = options.day.open()?;
    let mut rehearsals = Rehearsals::default();
    let worked = WorkedDay::of(&chosen, options.from, &options.done, &mut rehearsals)?;
    let answered = Answered::of(&worked);
    let text = if options.day.film.json { output::json(&answered)? } else { told::day(&worked, &answered) };
    Ok(Answer { text, has_findings: worked.asks() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::help::undescribed;
    use crate::shooting_day::ChosenDay;
    use optics::Weather;

    #[test]
    fn every_field_of_the_answer_is_described() {
        let chosen = ChosenDay::of(film::demo_film(), None, Some(Weather::Rain)).expect("its first day");
        let worked = WorkedDay::of(&chosen, Some(600), &[], &mut Rehearsals::default()).expect("an order");
        let answered = serde_json::to_value(Answered::of(&worked)).expect("an object");
        assert_eq!(undescribed(&answered, ANSWER), [""; 0]);
    }
}
