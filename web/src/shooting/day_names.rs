//! What days of shooting are called, and their dates as people write them.

use film::{Film, ShootingDay};
use language::{key, say};

/// Days of the week from Monday on, as calendars count them.
const WEEKDAYS: [&str; 7] = [
    key!("Monday"),
    key!("Tuesday"),
    key!("Wednesday"),
    key!("Thursday"),
    key!("Friday"),
    key!("Saturday"),
    key!("Sunday"),
];
/// Months, short.
const MONTHS: [&str; 12] = [
    key!("Jan"),
    key!("Feb"),
    key!("Mar"),
    key!("Apr"),
    key!("May"),
    key!("Jun"),
    key!("Jul"),
    key!("Aug"),
    key!("Sep"),
    key!("Oct"),
    key!("Nov"),
    key!("Dec"),
];

/// What a day is called: its title, else the day of the week, else its number among the film's days.
pub(crate) fn day_name(film: &Film, day: &ShootingDay) -> String {
    if !day.title.is_empty() {
        return day.title.clone();
    }
    weekday(day).map_or_else(
        || {
            let at = film.days.iter().position(|one| one.id == day.id).map_or(1, |at| at + 1);
            say!("Day {at}")
        },
        str::to_owned,
    )
}

/// What a day is called, with its date where it has one.
pub(crate) fn named_and_dated(film: &Film, day: &ShootingDay) -> String {
    let name = day_name(film, day);
    date(day).map_or_else(|| name.clone(), |date| format!("{name}, {date}"))
}

fn weekday(day: &ShootingDay) -> Option<&'static str> {
    let from_monday = day.date?.weekday().to_monday_zero_offset();
    WEEKDAYS.get(usize::try_from(from_monday).ok()?).copied()
}

/// Its date as people write it: `12 Sep 2026`, with the day of the week where the title does not say it.
fn date(day: &ShootingDay) -> Option<String> {
    let date = day.date?;
    let month = MONTHS.get(usize::try_from(date.month()).ok()?.checked_sub(1)?)?;
    let written = say!("{} {month} {}", date.day(), date.year(), month = language::text(month));
    // Somebody who speaks another language may have called it so.
    let is_title = |weekday: &str| [weekday, ""].contains(&day.title.as_str());
    let weekday = weekday(day).filter(|weekday| !is_title(weekday) && !is_title(language::text(weekday)));
    Some(weekday.map_or_else(|| written.clone(), |weekday| format!("{} {written}", language::text(weekday))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_without_a_title_goes_by_its_date_or_its_number() {
        let film = film::demo_film();
        let mut day = film.days[0].clone();
        assert_eq!(named_and_dated(&film, &day), "Saturday, 12 Sep 2026");
        day.title = "The kitchen".to_owned();
        assert_eq!(named_and_dated(&film, &day), "The kitchen, Saturday 12 Sep 2026");
        day.title = String::new();
        assert_eq!(named_and_dated(&film, &day), "Saturday, 12 Sep 2026");
        day.date = None;
        assert_eq!(named_and_dated(&film, &day), "Day 1");
    }
}
