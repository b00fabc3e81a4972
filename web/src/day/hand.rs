//! What all parts of the Day screen work with: the film, the day, its plan, and what is looked at.

use std::sync::Arc;

use film::{Command, DayId, DayPlan, EditError, Film, Priority, ShootingDay, Shot, ShotId};
use leptos::prelude::*;

use super::as_planned::AsPlanned;
use super::chips::Panel;
use super::doing::{put_on, take_off};
use super::timeline::{Row, rows};
use super::ways::Does;
use super::words;
use super::{LAST_VIEW, View};
use crate::films::Desk;
use crate::part::Part;
use crate::session::Session;
use crate::shooting::Shooting;
use crate::story::open_in_setup;
use crate::story::tell;

/// The day at hand.
#[derive(Clone, Copy)]
pub(super) struct Hand {
    pub(super) desk: Desk,
    /// The rows of the order.
    pub(super) rows: Memo<Part<Vec<Row>>>,
    /// The setup that is looked at closely.
    pub(super) chosen: RwSignal<Option<ShotId>>,
    /// What of the day is being changed.
    pub(super) panel: RwSignal<Option<Panel>>,
    /// Whether there is room for two columns.
    pub(super) is_wide: Signal<bool>,
    /// Which side of the day is looked at.
    pub(super) view: RwSignal<View>,
    large: StoredValue<Large>,
}

/// What is large, so that not every part carries it along.
#[derive(Clone, Copy)]
struct Large {
    session: Session,
    shooting: Shooting,
    as_planned: Memo<Option<AsPlanned>>,
}

impl Hand {
    pub(super) fn new(session: Session, desk: Desk, shooting: Shooting, is_wide: Signal<bool>) -> Self {
        let rows = Memo::new(move |_| {
            let plan = shooting.plan.get();
            let rows =
                plan.and_then(|plan| desk.film.with_untracked(|film| Some(rows(film.as_ref()?, &plan))));
            Part(Arc::new(rows.unwrap_or_default()))
        });
        let as_planned = AsPlanned::memo(desk, shooting);
        Self {
            desk,
            rows,
            chosen: RwSignal::new(None),
            panel: RwSignal::new(None),
            is_wide,
            view: RwSignal::new(LAST_VIEW.get()),
            large: StoredValue::new(Large { session, shooting, as_planned }),
        }
    }

    pub(super) fn session(self) -> Session {
        self.large.with_value(|large| large.session)
    }

    pub(super) fn shooting(self) -> Shooting {
        self.large.with_value(|large| large.shooting)
    }

    /// The order without delays.
    pub(super) fn as_planned(self) -> Option<AsPlanned> {
        self.large.with_value(|large| large.as_planned).get()
    }

    /// Something of the film, its day and the day's plan; nothing without a day. Told anew with each of them: a plan stays
    /// the same while only names are others.
    pub(super) fn read<Out>(self, read: impl FnOnce(&Film, &ShootingDay, &DayPlan) -> Out) -> Option<Out> {
        let plan = self.shooting().plan.get()?;
        self.desk.film.track();
        self.shooting().day.track();
        self.with_day(|film, day| read(film, day, &plan))
    }

    /// The same for what is done once.
    pub(super) fn read_once<Out>(
        self,
        read: impl FnOnce(&Film, &ShootingDay, &DayPlan) -> Out,
    ) -> Option<Out> {
        untrack(|| self.read(read))
    }

    fn with_day<Out>(self, read: impl FnOnce(&Film, &ShootingDay) -> Out) -> Option<Out> {
        self.desk.film.with_untracked(|film| {
            self.shooting().day.with_untracked(|day| Some(read(film.as_ref()?, day.as_ref()?)))
        })
    }

    /// Something of the day.
    pub(super) fn of_day<Out>(self, read: impl FnOnce(&ShootingDay) -> Out) -> Option<Out> {
        self.shooting().day.with(|day| day.as_ref().map(read))
    }

    /// Changes the day as one step; `what` is what undo calls it.
    pub(super) fn change(self, what: &str, change: impl FnOnce(&mut ShootingDay)) {
        self.type_in(what, change);
        // Two taps are two steps, however fast.
        self.desk.end_gesture();
    }

    /// Changes the day; what is typed in one go is one step.
    pub(super) fn type_in(self, what: &str, change: impl FnOnce(&mut ShootingDay)) {
        self.shooting().alter(what, change);
    }

    /// Says what could not be done, where an edit was refused: the film is as it was.
    pub(super) fn tell(self, outcome: Result<(), EditError>) {
        tell(self.desk, outcome);
    }

    /// Changes the days of the film.
    pub(super) fn change_days(self, what: &str, change: impl FnOnce(&Film, &mut Vec<ShootingDay>)) {
        let days = self.desk.film.with_untracked(|film| {
            let film = film.as_ref()?;
            let mut days = film.days.to_vec();
            change(film, &mut days);
            Some(days)
        });
        if let Some(days) = days {
            self.tell(self.desk.change(what, None, Command::SetDays(Arc::from(days))));
            self.desk.end_gesture();
        }
    }

    /// Does what was offered under that name.
    pub(super) fn act(self, name: &str, does: &Does) {
        match does {
            Does::TakeOff(shots) => {
                let changed = self.with_day(|film, day| {
                    let mut day = day.clone();
                    take_off(&mut day, film, shots);
                    day
                });
                if let Some(changed) = changed {
                    self.change(name, |day| *day = changed);
                }
            }
            Does::Bring(shot, to) => self.bring(name, *shot, *to),
            Does::NiceToHave(shots) => self.make_nice(name, shots),
            Does::WrapAt(minute) => self.change(name, |day| {
                if let Some(hours) = film::Hours::new(day.hours.from_min(), *minute) {
                    day.hours = hours;
                }
            }),
            Does::SetUp(shot) => open_in_setup(self.session(), self.desk, *shot),
            Does::Unpin(shot) => self.change(name, |day| super::pins::unpin(day, *shot)),
        }
    }

    /// Brings a shot from this day to another.
    pub(super) fn bring(self, name: &str, shot: ShotId, to: DayId) {
        let Some(from) = self.shooting().day.with_untracked(|day| day.as_ref().map(|day| day.id)) else {
            return;
        };
        self.change_days(name, |film, days| {
            for day in days {
                if day.id == from {
                    take_off(day, film, &[shot]);
                } else if day.id == to && day.shots.is_some() {
                    // A day that has all that no other lists has it then by itself.
                    put_on(day, film, &[shot]);
                }
            }
        });
    }

    fn make_nice(self, name: &str, shots: &[ShotId]) {
        let commands = self.desk.film.with_untracked(|film| {
            let film = film.as_ref()?;
            let nice = |id: &ShotId| {
                let (_, shot) = film.shot(*id)?;
                let shot = Shot { priority: Priority::NiceToHave, ..Shot::clone(shot) };
                Some(Command::SetShot(Arc::new(shot)))
            };
            Some(shots.iter().filter_map(nice).collect::<Vec<_>>())
        });
        if let Some(commands) = commands {
            self.tell(self.desk.change(name, None, Command::All(commands)));
            self.desk.end_gesture();
        }
    }

    /// A shot's number, for the names of steps.
    pub(super) fn number(self, shot: ShotId) -> String {
        self.desk
            .film
            .with_untracked(|film| film.as_ref().map(|film| words::number(film, shot)))
            .unwrap_or_default()
    }
}

/// Puts the focus on what has that id, once the page shows what was just done: rows that move lose it.
pub(super) fn focus_later(id: String) {
    request_animation_frame(move || {
        let found = document().get_element_by_id(&id);
        if let Some(element) =
            found.and_then(|found| wasm_bindgen::JsCast::dyn_into::<web_sys::HtmlElement>(found).ok())
        {
            // What cannot have the focus, such as a button that has nothing to do any more, leaves it where it is.
            drop(element.focus());
        }
    });
}
