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
pub(crate) use hours::{CallAndWrap, DAY_MIN, time_field, written};
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
        // Of all edits only those of places, of the date and of whether the work goes past midnight have another light.
        let places =
            Memo::new(move |_| desk.film.with(|film| Some(Part(Arc::clone(&film.as_ref()?.places)))));
        let when = Memo::new(move |_| day.with(|day| When::of(day.as_ref()?)));
        let daylights = Memo::new(move |before: Option<&Part<Daylights>>| {
            let found = places.get().zip(when.get()).map(|(places, when)| known(almanac, &places, &when));
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
        let when = self.day.with(|day| When::of(day.as_ref()?))?;
        let request = self.desk.film.with(|film| asked(film.as_ref()?.place(place)?, &when))?;
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

/// When there is to be light.
#[derive(Clone, PartialEq)]
struct When {
    /// As requests write dates.
    date: String,
    /// Whether the work goes on into the day after.
    is_past_midnight: bool,
}

impl When {
    fn of(day: &ShootingDay) -> Option<Self> {
        Some(Self { date: day.date?.to_string(), is_past_midnight: day.hours.ends_next_day() })
    }
}

/// The light of a day at these places, as far as it has been looked up; what has not been is asked for.
fn known(almanac: Almanac, places: &[Place], when: &When) -> Daylights {
    let of_place = |place: &Place| Some((place.id, almanac.daylight(&asked(place, when)?)?));
    places.iter().filter_map(of_place).collect()
}

/// What is asked of the almanac about a place and a day; none while nobody has said where the place is.
fn asked(place: &Place, when: &When) -> Option<DaylightRequest> {
    let SpotRecord { latitude_deg, longitude_deg, elevation_m, time_zone, horizon } =
        SpotRecord::from(place.spot.as_ref()?);
    Some(DaylightRequest {
        latitude_deg,
        longitude_deg,
        elevation_m,
        horizon,
        date: when.date.clone(),
        time_zone,
        next_day: when.is_past_midnight.then_some(true),
    })
}
