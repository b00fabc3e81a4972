//! What the Light screen looks at: a setup, a minute of the day and a weather, and what light each setup has then.

use std::sync::Arc;
use std::time::Duration;

use film::{DayPlan, Daylight, EditError, Film, PlaceId, ShootingDay, ShotId, ShotLight};
use language::say;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use optics::Weather;

use super::lit::{Lit, Under, chosen_of, index_of, lights, planned_minutes, usual_day, wanted};
use crate::films::Desk;
use crate::part::Part;
use crate::session::Session;
use crate::shooting::{Planning, Shooting};
use crate::story::tell;
use crate::widgets::follow_width;

/// A handle on what is looked at, for all that shows some of it.
#[derive(Clone, Copy)]
pub(super) struct LightDesk(StoredValue<Looked, LocalStorage>);

/// What is looked at.
#[derive(Clone, Copy)]
struct Looked {
    session: Session,
    desk: Desk,
    shooting: Shooting,
    day: Memo<Option<ShootingDay>>,
    /// The setups of the day.
    plan: Memo<Option<Part<DayPlan>>>,
    /// When each of them is planned, in their order.
    planned: Memo<Vec<f64>>,
    /// When the one that is looked at is planned.
    planned_minute: Memo<Option<f64>>,
    /// The light of each of them, in their order: when it is planned, or at the minute that is looked at.
    lights: Memo<Part<Vec<Lit>>>,
    /// Which setup is looked at.
    chosen: Memo<Option<ShotId>>,
    /// Its light.
    lit: Memo<Option<Lit>>,
    /// The place that is looked at.
    place: Memo<Option<PlaceId>>,
    /// The light of the day there.
    sky: Memo<Option<Part<Daylight>>>,
    /// The minute of the day that is looked at.
    minute: Memo<f64>,
    /// Whether the window has two columns.
    is_wide: Signal<bool>,
    /// Whether the chosen setup is unfolded in the list.
    is_unfolded: RwSignal<bool>,
    asked: RwSignal<Option<ShotId>>,
    /// Where the hand is, if it was moved.
    hand: RwSignal<Option<f64>>,
    /// The same once it rests: forty setups need not follow every step of a finger.
    rested: RwSignal<Option<f64>>,
    rest: StoredValue<Option<TimeoutHandle>>,
    /// The weather that is tried.
    tried: RwSignal<Option<Weather>>,
}

/// What stands between the screen and the sky of a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Lacks {
    /// No place is named.
    Place,
    /// Nobody has said where on earth it is.
    Spot,
    /// The day has no date.
    Date,
    /// It is being looked up.
    Asked,
    /// It cannot be looked up, and why.
    Refused(String),
}

/// A hand rests when it has not moved for so long: chosen, as in a drag.
const REST: Duration = Duration::from_millis(160);

impl LightDesk {
    pub(super) fn provide(session: Session, desk: Desk, shooting: Shooting) -> Self {
        let (asked, hand, rested) = (RwSignal::new(None), RwSignal::new(None), RwSignal::new(None));
        let tried = RwSignal::new(None::<Weather>);
        let planned_day = Memo::new(move |_| shooting.day.get().or_else(usual_day));
        let day = Memo::new(move |_| {
            let mut day = planned_day.get()?;
            day.weather = tried.get().unwrap_or(day.weather);
            Some(day)
        });
        let without_day = move || shooting.day.with(Option::is_none).then(usual_day).flatten();
        let usual = Planning::memo(desk, without_day, shooting.daylights);
        let plan = Memo::new(move |_| {
            shooting.plan.get().or_else(|| usual.with(|usual| usual.as_ref().map(|usual| usual.plan(desk))))
        });
        let planned = Memo::new(move |_| match (plan.get(), planned_day.get()) {
            (Some(plan), Some(day)) => planned_minutes(&plan, &day),
            (_, _) => Vec::new(),
        });
        let weather = Memo::new(move |_| day.with(|day| day.as_ref().map(|day| day.weather)));
        let wanted = Memo::new(move |_| {
            let wanted = plan.get().zip(weather.get()).map(|(plan, weather)| {
                shooting.daylights.with(|daylights| wanted(&plan, weather, daylights))
            });
            Part(Arc::new(wanted.unwrap_or_default()))
        });
        let lights = Memo::new(move |_| {
            let rested = rested.get();
            let (daylights, wanted) = (shooting.daylights.get(), wanted.get());
            let lit = plan.get().zip(day.get()).and_then(|(plan, day)| {
                let lit = |film: &Film| {
                    let under = Under { film, day: &day, daylights: &daylights };
                    planned.with(|planned| lights(under, &plan, planned, &wanted, rested))
                };
                desk.film.with(|film| film.as_ref().map(lit))
            });
            Part(Arc::new(lit.unwrap_or_default()))
        });
        let chosen = Memo::new(move |_| plan.with(|plan| chosen_of(plan.as_deref()?, asked.get())));
        let chosen_at = Memo::new(move |_| plan.with(|plan| index_of(plan.as_deref()?, chosen.get()?)));
        let planned_minute =
            Memo::new(move |_| planned.with(|planned| planned.get(chosen_at.get()?).copied()));
        let minute = Memo::new(move |_| {
            let call =
                || planned_day.with(|day| day.as_ref().map_or(720.0, |day| f64::from(day.hours.from_min())));
            hand.get().or_else(|| planned_minute.get()).unwrap_or_else(call)
        });
        let lit = Memo::new(move |_| {
            let (plan, at, wanted) = (plan.get()?, chosen_at.get()?, wanted.get());
            let (setup, wanted) = (plan.setups.get(at)?, wanted.get(at)?);
            let (day, daylights) = (day.get()?, shooting.daylights.get());
            desk.film.with(|film| {
                let under = Under { film: film.as_ref()?, day: &day, daylights: &daylights };
                Some(Lit::of(under, setup, wanted, minute.get()))
            })
        });
        let place = Memo::new(move |_| {
            let of_setup =
                || plan.with(|plan| Some(plan.as_ref()?.setups.get(chosen_at.get()?)?.scene.facts.place));
            let first = || desk.film.with(|film| film.as_ref()?.places.first().map(|place| place.id));
            of_setup().unwrap_or_else(first)
        });
        let sky = Memo::new(move |before: Option<&Option<Part<Daylight>>>| {
            let place = place.get()?;
            let known = shooting.daylights.with(|known| known.get(&place).cloned());
            match known {
                Some(known) => Some(Part(Arc::new(known))),
                // Another day is on its way: the last one stays until it is there.
                None if is_on_its_way(desk, shooting, place) => before.cloned().flatten(),
                None => None,
            }
        });
        let rest = StoredValue::new(None);
        let this = Self(StoredValue::new_local(Looked {
            session,
            desk,
            shooting,
            day,
            plan,
            planned,
            planned_minute,
            lights,
            chosen,
            lit,
            place,
            sky,
            minute,
            is_wide: follow_width(),
            is_unfolded: RwSignal::new(false),
            asked,
            hand,
            rested,
            rest,
            tried,
        }));
        on_cleanup(move || {
            if let Some(wait) = rest.try_get_value().flatten() {
                wait.clear();
            }
        });
        this
    }

    /// The page's state.
    pub(super) fn session(self) -> Session {
        self.of(|looked| looked.session)
    }

    /// The desk with the film.
    pub(super) fn desk(self) -> Desk {
        self.of(|looked| looked.desk)
    }

    /// The film's day, as it is kept.
    pub(super) fn shooting(self) -> Shooting {
        self.of(|looked| looked.shooting)
    }

    /// The film's day in the weather that is looked at; a usual one where the film has none yet.
    pub(super) fn day(self) -> Memo<Option<ShootingDay>> {
        self.of(|looked| looked.day)
    }

    /// The setups of the day.
    pub(super) fn plan(self) -> Memo<Option<Part<DayPlan>>> {
        self.of(|looked| looked.plan)
    }

    /// The light of each of them, in their order: when it is planned, or at the minute that is looked at.
    pub(super) fn lights(self) -> Memo<Part<Vec<Lit>>> {
        self.of(|looked| looked.lights)
    }

    /// Which setup is looked at.
    pub(super) fn chosen(self) -> Memo<Option<ShotId>> {
        self.of(|looked| looked.chosen)
    }

    /// Its light.
    pub(super) fn lit(self) -> Memo<Option<Lit>> {
        self.of(|looked| looked.lit)
    }

    /// The place that is looked at.
    pub(super) fn place(self) -> Memo<Option<PlaceId>> {
        self.of(|looked| looked.place)
    }

    /// The minute of the day that is looked at.
    pub(super) fn minute(self) -> Memo<f64> {
        self.of(|looked| looked.minute)
    }

    /// Whether the window has two columns.
    pub(super) fn is_wide(self) -> Signal<bool> {
        self.of(|looked| looked.is_wide)
    }

    fn of<Part>(self, part: impl FnOnce(&Looked) -> Part) -> Part {
        self.0.with_value(part)
    }

    /// Looks at another setup, which unfolds; or folds the one that is looked at.
    pub(super) fn choose(self, shot: ShotId) {
        let is_same = self.chosen().get_untracked() == Some(shot);
        self.of(|looked| looked.is_unfolded)
            .set(!(is_same && self.of(|looked| looked.is_unfolded).get_untracked()));
        self.of(|looked| looked.asked).set(Some(shot));
    }

    /// Whether a setup is unfolded in the list.
    pub(super) fn is_unfolded(self, shot: ShotId) -> bool {
        !self.is_wide().get()
            && self.of(|looked| looked.is_unfolded).get()
            && self.chosen().get() == Some(shot)
    }

    /// Moves the hand to a minute of the day; none goes back to what is planned.
    pub(super) fn look_at(self, minute: Option<f64>) {
        let Looked { hand, rested, rest, .. } = self.of(|looked| *looked);
        hand.set(minute);
        let settle = move || {
            // The screen may have gone meanwhile.
            rested.try_set(minute);
        };
        let wait = set_timeout_with_handle(settle, REST).ok();
        if let Some(before) = rest.try_update_value(|rest| std::mem::replace(rest, wait)).flatten() {
            before.clear();
        }
    }

    /// Looks at the day as it is planned, as when it has become another.
    pub(super) fn start_over(self) {
        self.look_at(None);
        self.of(|looked| looked.tried).set(None);
    }

    /// Whether the hand is somewhere else than planned.
    pub(super) fn is_moved(self) -> bool {
        self.of(|looked| looked.hand).with(Option::is_some)
    }

    /// When the chosen setup is planned.
    pub(super) fn planned_minute(self) -> Option<f64> {
        self.of(|looked| looked.planned_minute).get()
    }

    /// When each setup of the day is planned.
    pub(super) fn planned_minutes(self) -> Vec<f64> {
        self.of(|looked| looked.planned).get()
    }

    /// The weather that is looked at.
    pub(super) fn weather(self) -> Weather {
        self.day().with(|day| day.as_ref().map_or(Weather::Clear, |day| day.weather))
    }

    /// The weather that the day is planned with.
    pub(super) fn planned_weather(self) -> Weather {
        self.shooting().day.with(|day| day.as_ref().map_or(Weather::Clear, |day| day.weather))
    }

    /// Looks at the day in another weather, which changes nothing of the film.
    pub(super) fn try_weather(self, weather: Weather) {
        let is_planned = untrack(|| self.planned_weather()) == weather;
        self.of(|looked| looked.tried).set((!is_planned).then_some(weather));
    }

    /// Takes the weather that is looked at for the day's.
    pub(super) fn keep_weather(self) {
        let weather = untrack(|| self.weather());
        self.shooting().alter(say!("Change the day's weather"), |day| day.weather = weather);
        self.of(|looked| looked.tried).set(None);
    }

    /// Says what could not be done, where an edit was refused: the film is as it was.
    pub(super) fn tell<Done>(self, outcome: Result<Done, EditError>) {
        tell(self.desk(), outcome);
    }

    /// What stands between the screen and the sky of the place.
    pub(super) fn lacks(self) -> Option<Lacks> {
        let Some(place) = self.place().get() else { return Some(Lacks::Place) };
        if !has_spot(self.desk(), place) {
            return Some(Lacks::Spot);
        }
        if self.shooting().day.with(|day| day.as_ref().is_none_or(|day| day.date.is_none())) {
            return Some(Lacks::Date);
        }
        if self.shooting().daylights.with(|known| known.contains_key(&place)) {
            return None;
        }
        Some(self.shooting().refusal(place).map_or(Lacks::Asked, Lacks::Refused))
    }

    /// Something about the light of the day where the chosen setup plays.
    pub(super) fn of_daylight<Told>(self, tell: impl FnOnce(&Daylight) -> Told) -> Option<Told> {
        self.sky().with(|sky| sky.as_deref().map(tell))
    }

    /// The light of the day where the chosen setup plays; of the day before while another is on its way.
    pub(super) fn sky(self) -> Memo<Option<Part<Daylight>>> {
        self.of(|looked| looked.sky)
    }

    /// The light of a setup at another minute.
    pub(super) fn light_at(self, shot: ShotId, minute: f64) -> Option<ShotLight> {
        let plan = self.plan().get()?;
        let setup = plan.setups.get(index_of(&plan, shot)?)?;
        let (day, daylights) = (self.day().get()?, self.shooting().daylights.get());
        self.desk().film.with(|film| setup.light_at(film.as_ref()?, &day, &daylights, minute))
    }

    /// The lights of a scene's setups.
    pub(super) fn lights_of(self, scene: &film::Scene) -> Vec<ShotLight> {
        let lights = self.lights().get();
        let of = |shot: ShotId| lights.iter().find(|lit| lit.shot == shot)?.light.clone();
        scene.shots.iter().filter_map(|shot| of(shot.id)).collect()
    }
}

/// Whether somebody has said where on earth a place is.
fn has_spot(desk: Desk, place: PlaceId) -> bool {
    desk.film.with(|film| film.as_ref().and_then(|film| film.place(place)?.spot.as_ref()).is_some())
}

/// Whether the light of the day at a place is being looked up.
fn is_on_its_way(desk: Desk, shooting: Shooting, place: PlaceId) -> bool {
    let has_date = shooting.day.with(|day| day.as_ref().is_some_and(|day| day.date.is_some()));
    has_spot(desk, place) && has_date && shooting.refusal(place).is_none()
}
