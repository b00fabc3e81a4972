//! The day of shooting that is looked at: which of the film's days it is, its light, and its order of work. Light and Day
//! both show it.

mod almanac;
mod day_names;
mod hours;
mod planning;
mod which_day;

use std::cell::Cell;
use std::sync::Arc;

use film::{Command, DayId, DayPlan, Daylights, Place, ShootingDay, SpotRecord};
use language::say;
use leptos::prelude::*;
use requests::DaylightRequest;

use crate::films::Desk;
use crate::part::Part;
use crate::story::tell;

pub(crate) use almanac::Almanac;
pub(crate) use day_names::{day_name, named_and_dated};
pub(crate) use hours::{CallAndWrap, DAY_MIN, as_end, other_hours, refused, time_field, written};
pub(crate) use planning::Planning;
pub(crate) use which_day::WhichDay;

/// The day that is looked at, for all that shows some of it.
#[derive(Clone, Copy)]
pub(crate) struct Shooting {
    desk: Desk,
    chosen: RwSignal<Option<DayId>>,
    /// Where the light of days is looked up.
    pub(crate) almanac: Almanac,
    /// The day: the chosen one, or the film's first; none if the film has none yet.
    pub(crate) day: Memo<Option<ShootingDay>>,
    /// Its light at the film's places, as far as it is known.
    pub(crate) daylights: Memo<Part<Daylights>>,
    /// What its order is made from; none without a day.
    pub(crate) planning: Memo<Option<Planning>>,
    /// Its setups and their order; none without a day. Made anew when the order may be another, and not when only a name is:
    /// whoever shows names reads them from the film.
    pub(crate) plan: Memo<Option<Part<DayPlan>>>,
}

thread_local! {
    /// Which day was looked at last, for when a screen is opened again.
    static LAST: Cell<Option<DayId>> = const { Cell::new(None) };
}

impl Shooting {
    /// For a screen, which hands it to what it holds.
    pub(crate) fn open(desk: Desk) -> Self {
        let chosen = RwSignal::new(LAST.get());
        let almanac = Almanac::new();
        let day = Memo::new(move |_| {
            let chosen = chosen.get();
            desk.film.with(|film| {
                let film = film.as_ref()?;
                chosen.and_then(|id| film.day(id)).or_else(|| film.days.first()).cloned()
            })
        });
        // Of all edits only those of places and of the date have another light.
        let places =
            Memo::new(move |_| desk.film.with(|film| Some(Part(Arc::clone(&film.as_ref()?.places)))));
        let date = Memo::new(move |_| day.with(|day| day.as_ref()?.date));
        let daylights = Memo::new(move |before: Option<&Part<Daylights>>| {
            let found =
                places.get().zip(date.get()).map(|(places, date)| known(almanac, &places, &date.to_string()));
            let found = found.unwrap_or_default();
            match before {
                Some(before) if **before == found => before.clone(),
                Some(_) | None => Part(Arc::new(found)),
            }
        });
        let planning = Planning::memo(desk, move || day.get(), daylights);
        let plan = Memo::new(move |_| {
            planning.with(|planning| planning.as_ref().map(|planning| planning.plan(desk)))
        });
        Self { desk, chosen, almanac, day, daylights, planning, plan }
    }

    /// Looks at another day.
    pub(crate) fn choose(self, day: DayId) {
        LAST.set(Some(day));
        self.chosen.set(Some(day));
    }

    /// Why the light of the day cannot be told at a place, if that is known.
    pub(crate) fn refusal(self, place: film::PlaceId) -> Option<String> {
        let date = self.day.with(|day| day.as_ref()?.date)?.to_string();
        let request = self.desk.film.with(|film| asked(film.as_ref()?.place(place)?, &date))?;
        self.almanac.refusal(&request)
    }

    /// Changes the day that is looked at, if that makes it another; `what` is what undo calls it.
    pub(crate) fn alter(self, what: &str, change: impl FnOnce(&mut ShootingDay)) {
        let Some(before) = self.day.get_untracked() else { return };
        let mut day = before.clone();
        change(&mut day);
        if day == before {
            return;
        }
        let days = self.desk.film.with_untracked(|film| {
            let days = film.as_ref()?.days.iter();
            Some(days.map(|one| if one.id == day.id { &day } else { one }).cloned().collect::<Arc<[_]>>())
        });
        if let Some(days) = days {
            tell(self.desk, self.desk.change(what, Some(day.id.number()), Command::SetDays(days)));
        }
    }

    /// Adds a day, and looks at it.
    pub(crate) fn add_day(self) {
        let id: DayId = self.desk.fresh();
        let days = self.desk.film.with_untracked(|film| {
            let days = film.as_ref()?.days.iter().cloned();
            Some(days.chain([ShootingDay::usual(id)]).collect::<Arc<[_]>>())
        });
        let Some(days) = days else { return };
        let outcome = self.desk.change(say!("Add a day"), None, Command::SetDays(days));
        if outcome.is_ok() {
            self.choose(id);
        }
        tell(self.desk, outcome);
    }
}

/// The light of a date at these places, as far as it has been looked up; what has not been is asked for.
fn known(almanac: Almanac, places: &[Place], date: &str) -> Daylights {
    let of_place = |place: &Place| Some((place.id, almanac.daylight(&asked(place, date)?)?));
    places.iter().filter_map(of_place).collect()
}

/// What is asked of the almanac about a place and a day; none while nobody has said where the place is.
fn asked(place: &Place, date: &str) -> Option<DaylightRequest> {
    let SpotRecord { latitude_deg, longitude_deg, elevation_m, time_zone, horizon } =
        SpotRecord::from(place.spot.as_ref()?);
    let date = date.to_owned();
    Some(DaylightRequest { latitude_deg, longitude_deg, elevation_m, horizon, date, time_zone })
}
