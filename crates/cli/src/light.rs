//! `tapemark light`: the sun of a day of shooting, what its scenes hold, and what each setup is set to.

mod answer;
mod lit;
mod setup_answer;
mod sun_answer;
mod told;

use film::Rehearsals;

use crate::failure::Failure;
use crate::light::answer::Answered;
use crate::light::lit::LitDay;
use crate::output::{self, Answer};
use crate::shooting_day;
use crate::shot_number::{ShotNumber, shot_number};

/// Which light to tell.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    #[command(flatten)]
    day: shooting_day::Options,
    /// One shot of the day in full, by its number in `tapemark shots`, such as 2.3
    #[arg(long, value_name = "S.N", value_parser = shot_number)]
    shot: Option<ShotNumber>,
}

/// What `light --json` prints, field by field.
const ANSWER: &str = "  title                     the film's
  day                       {day, title, date, call, call_min, wrap, wrap_min, breaks, weather,
                            planned_weather}: day is its number, null for a usual day; weather is
                            sun, overcast, fog or rain
  places                    the sun where the day's scenes play, if the place says where it is:
    place, time_zone
    dawn, dawn_min          civil: the sun's centre is 6° below the horizon
    sunrise, sunrise_min    over a level horizon
    noon, noon_min          due south or due north
    sunset, sunset_min      below a level horizon
    dusk, dusk_min          civil
    stretches               where light changes fast: {name, hours, start_ev100, middle_ev100,
                            end_ev100, falls_stops}: name is dawn_glow, morning, evening or
                            afterglow; morning and evening are low sun over the place's own
                            horizon; falls_stops is negative if light grows
    never                   what does not happen on this day, a sentence each
  scenes                    those of which something is shot:
    scene, title, setting, time, place
    lock                    what all its setups hold: {what, set_to, why, can_be_set}: the last
                            is whether the camera app lets it
    findings                where its setups will not look alike: {rule, severity, message, hint}
    unmade                  its shots that cannot be made: {scene, shot, findings}
    setups                  the others:
      scene, shot
      at, at_min            when rehearsal and takes start
      in_order              whether the day's order has it then
      in_the_can            whether it is done
      wanted_light          when it has the light that it wants, a list of stretches: null if any
                            time will do, empty if never
      ev100, light_from     the light that it is set for, and in words how it is known: on a face with
                            the sun behind it, what is seen of the face
      lens, adapter
      f_number              and f_number_typical: whether the lens says none
      rate_fps              frames a second at capture
      shutter_asked_s       what the film's shutter angle asks for
      shutter_s             the nearest that the app offers
      shutter_deg           the angle that it is
      iso                   and iso_typical: whether neither lens nor mode says its least
      app_shutter_s         what an app that decides by itself is likely to do, as app_iso; null
                            where it is set by hand
      bias_stops            how much brighter than the meter's grey it is wanted
      adapter_takes_stops   the light that the adapter takes
      slow_motion_costs_stops
      too_much_stops        at the least ISO without filters; negative if light lacks
      filters               those that are on: {name, takes_stops, turned}: whether it can be
      filters_take_stops    together
      closing_takes_stops   what closing the lens takes
      left_stops            too much in the end; negative if too dark
      white_balance_k
      sun                   null inside, in cloud and while it does not shine there: {side,
                            round_deg, azimuth_deg, elevation_deg, in_frame, shadow_times, caution}:
                            side is front, left, right or back; round_deg clockwise from behind the
                            phone; azimuth_deg clockwise from the floor's north; in_frame is away,
                            near or within; shadows are shadow_times as long as what casts them
      smear                 whoever smears most: {who, at_s, px, share}: in seconds of the shot,
                            delivered pixels, and of the frame's width
      follow_m, follow_s    the path of a phone that goes along, and how long it is walked
      fastest_turn_deg_per_s and quarter_turn_s: how fast the phone may turn
      passing               what would smear across where the subject is: {what, px, share}
      safe_shutters         without flicker under lamps: {mains_hz, time_s, deg, offered}
      how_to_set            what to do to the phone, step by step
      findings              {rule, severity, message, hint}: severity is notes, warns or fails
    weather_notes           with --weather, what is another than in the planned weather at the
                            same minute: {shot, severity, message}
  breaks, hours and wanted_light have stretches: {from, from_min, to, to_min}";

/// What `light` reads and prints.
pub(crate) fn help() -> String {
    format!(
        "The film's JSON Schema is printed by `tapemark schema film`. A film that plans no day is given a usual one, from nine \
         to five without a date. Without a date, or where a place does not say where it is, there is no sun, and light is what \
         is usual for the scene's hour; a time zone that is not known and a year that is not 1900 to 2100 are told on standard \
         error and gone without.\n\n\
         Each setup is told for the minute at which the order of `tapemark day` starts it. One that the order leaves out is told \
         for when the day as planned starts it, else for the middle of its light. Hills count where the film has them; houses \
         and trees do not. Notes on a setup are told with --shot and --json.\n\n\
         With --json, one object. A time is HH:MM, beside it ..._min counts minutes from midnight, and \
         EV is at ISO 100. What does not happen or is not known is null.\n{ANSWER}\n\n\
         With --shot, places, scenes and setups are only those of the shot.\n\
         Exit 1 if anything warns or fails, if light never comes or if a shot cannot be made; else 0. Notes do not count. A file \
         that is no film is refused as by `tapemark check`, and a day or a shot that is not there exits 2 with one line on \
         standard error."
    )
}

/// The answer.
pub(crate) fn run(options: &Options) -> Result<Answer, Failure> {
    let chosen = options.day.open()?;
    let mut rehearsals = Rehearsals::default();
    let mut lit = LitDay::of(&chosen, &mut rehearsals);
    if let Some(number) = options.shot {
        lit.keep_only(chosen.shot_of(number, "--shot")?);
    }
    let answered = Answered::of(&lit);
    let has_findings = answered.asks();
    let text = if options.day.film.json {
        output::json(&answered)?
    } else if options.shot.is_some() {
        told::in_full(&lit, &answered)
    } else {
        told::day(&lit, &answered)
    };
    Ok(Answer { text, has_findings })
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
        let answered = Answered::of(&LitDay::of(&chosen, &mut Rehearsals::default()));
        let answered = serde_json::to_value(answered).expect("an object");
        assert_eq!(undescribed(&answered, ANSWER), [""; 0]);
    }
}
