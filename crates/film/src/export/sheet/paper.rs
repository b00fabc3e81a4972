//! The shots that are on the sheets, each with all that is told of it.

use std::cmp::Reverse;
use std::sync::Arc;

use language::say;
use optics::Weather;
use staging::Setup;

use super::super::told_late;
use super::{PictureAddress, SheetDay, SheetOrder, Sheets};
use crate::day_plan::DaySetup;
use crate::film::Film;
use crate::id::{PersonId, SceneId, ShotId};
use crate::light::{ShotLight, usual_light};
use crate::order::Placed;
use crate::rehearsal::{NoRehearsal, Rehearsal, Rehearsals};
use crate::scene::Scene;
use crate::setup_card::SetupCard;
use crate::shot::Shot;
use crate::sun_on_shot::SunOnSetup;
use crate::wording::grouped;

/// What the sheets are written from.
pub(super) struct Paper<'film> {
    pub(super) of: &'film Sheets<'film>,
    /// In the order of the sheets.
    pub(super) shots: Vec<PaperShot<'film>>,
    pub(super) picture: &'film PictureAddress<'film>,
}

/// A shot with its place in the film and in the day.
#[derive(Clone, Copy)]
pub(super) struct Listed<'film> {
    /// Its scene's number, from 1.
    pub(super) scene_number: usize,
    /// Its own in the scene, from 1.
    pub(super) shot_number: usize,
    pub(super) scene: &'film Arc<Scene>,
    pub(super) shot: &'film Arc<Shot>,
    pub(super) state: InDay<'film>,
}

/// Where a shot is in the day.
#[derive(Clone, Copy)]
pub(super) enum InDay<'film> {
    /// There is no day.
    NoDay,
    /// It is in the can.
    Done,
    /// The order of work has it.
    Placed(&'film Placed),
    /// It does not fit.
    Missed,
    /// It cannot be made.
    Unmade,
}

/// A shot with all that is told of it.
pub(super) struct PaperShot<'film> {
    pub(super) listed: Listed<'film>,
    pub(super) rehearsal: Arc<Result<Rehearsal, NoRehearsal>>,
    /// Who is seen in it.
    pub(super) people: Vec<PersonId>,
    pub(super) light: Option<ShotLight>,
    pub(super) sun: Option<SunOnSetup>,
}

/// The shots of the sheets in their order; those that were given up are on none.
pub(super) fn listed<'film>(of: &Sheets<'film>) -> Vec<Listed<'film>> {
    let on_day = of.day.map(|day| {
        let mut ids: Vec<ShotId> = day.day.shots_of(of.film).iter().map(|(_, shot)| shot.id).collect();
        ids.sort_unstable();
        ids
    });
    let is_listed = |shot: &Shot| {
        let is_on_day = on_day.as_ref().is_none_or(|ids| ids.binary_search(&shot.id).is_ok());
        !shot.is_dropped && is_on_day
    };
    let mut listed = Vec::new();
    for (at, scene) in of.film.scenes.iter().enumerate() {
        for (number, shot) in scene.shots.iter().enumerate().filter(|(_, shot)| is_listed(shot)) {
            let state = of.day.map_or(InDay::NoDay, |day| InDay::of(&day, shot.id));
            listed.push(Listed { scene_number: at + 1, shot_number: number + 1, scene, shot, state });
        }
    }
    if of.order == SheetOrder::Work {
        // A stable sort, so that what has no time stays in story order.
        listed.sort_by(|one, other| one.state.rank().total_cmp(&other.state.rank()));
    }
    listed
}

impl<'film> InDay<'film> {
    fn of(day: &SheetDay<'film>, shot: ShotId) -> Self {
        let plan = day.plan;
        let setup = plan.setup_of(shot);
        if setup.is_some_and(|setup| setup.is_done) {
            return Self::Done;
        }
        match (plan.placed(shot), setup) {
            (Some(placed), _) => Self::Placed(placed),
            (None, Some(_)) => Self::Missed,
            (None, None) => Self::Unmade,
        }
    }

    /// What is done, then what is placed by the clock, then the rest.
    fn rank(self) -> f64 {
        match self {
            Self::Done => -1.0,
            Self::NoDay => 0.0,
            Self::Placed(placed) => placed.starts_min,
            Self::Missed => 1.0e6,
            Self::Unmade => 2.0e6,
        }
    }

    /// What the order of work has of it.
    pub(super) const fn placed(self) -> Option<&'film Placed> {
        match self {
            Self::Placed(placed) => Some(placed),
            Self::NoDay | Self::Done | Self::Missed | Self::Unmade => None,
        }
    }

    /// In plain words, where it is not simply to be made.
    pub(super) fn told(self, film: &Film) -> Option<String> {
        match self {
            Self::NoDay => None,
            Self::Placed(placed) => told_late(film, placed),
            Self::Done => Some(say!("in the can").to_owned()),
            Self::Missed => Some(say!("does not fit into the day").to_owned()),
            Self::Unmade => Some(say!("cannot be made as it is").to_owned()),
        }
    }
}

impl Listed<'_> {
    /// Its number in one text.
    pub(super) fn number(&self) -> String {
        format!("{}.{}", self.scene_number, self.shot_number)
    }
}

impl<'film> Paper<'film> {
    pub(super) fn of(
        of: &'film Sheets<'film>,
        rehearsals: &mut Rehearsals,
        picture: &'film PictureAddress<'film>,
    ) -> Self {
        let shots = listed(of).into_iter().map(|listed| PaperShot::of(of, listed, rehearsals));
        Self { of, shots: shots.collect(), picture }
    }

    /// The scenes that have a shot on the sheets, in the film's order, each with its number and its shots.
    pub(super) fn scenes(&self) -> Vec<(usize, &'film Arc<Scene>, Vec<&PaperShot<'film>>)> {
        let of = |id: SceneId| self.shots.iter().filter(|one| one.listed.scene.id == id).collect::<Vec<_>>();
        let scenes = self.of.film.scenes.iter().enumerate();
        scenes
            .map(|(at, scene)| (at + 1, scene, of(scene.id)))
            .filter(|(_, _, shots)| !shots.is_empty())
            .collect()
    }

    /// What somebody is called.
    pub(super) fn name(&self, who: PersonId) -> &'film str {
        self.of.film.name_of(who)
    }
}

impl<'film> PaperShot<'film> {
    fn of(of: &Sheets<'film>, listed: Listed<'film>, rehearsals: &mut Rehearsals) -> Self {
        let planned = of.day.and_then(|day| Some((day, day.plan.setup_of(listed.shot.id)?)));
        if let Some((day, setup)) = planned {
            return Self::on_day(of, listed, &day, setup);
        }
        let rehearsal = rehearsals.of(of.film, listed.scene, listed.shot);
        let made = rehearsal.as_ref().as_ref().ok().filter(|made| made.result().outcome.is_ok());
        let light = made.and_then(|made| {
            let light = usual_light(&listed.scene.facts, Weather::default());
            ShotLight::of(of.film, listed.scene, listed.shot, made, light)
        });
        Self { listed, people: listed.shot.of.people().collect(), light, sun: None, rehearsal }
    }

    /// A setup of the day, at the minute at which the order starts it, or at one that stands for its light.
    fn on_day(of: &Sheets<'film>, listed: Listed<'film>, day: &SheetDay<'film>, setup: &DaySetup) -> Self {
        let SheetDay { day, daylights, .. } = *day;
        let minute =
            listed.state.placed().map_or_else(|| setup.usual_minute(day), |placed| placed.starts_min);
        Self {
            listed,
            rehearsal: Arc::clone(&setup.rehearsal),
            people: setup.people.clone(),
            light: setup.light_at(of.film, day, daylights, minute),
            sun: setup.lit_by_sun(day, daylights, minute),
        }
    }

    pub(super) fn shot(&self) -> &'film Shot {
        self.listed.shot
    }

    /// The shot walked through.
    pub(super) fn made(&self) -> Option<&Rehearsal> {
        self.rehearsal.as_ref().as_ref().ok()
    }

    /// Where the phone stands.
    pub(super) fn setup(&self) -> Option<&Setup> {
        self.made()?.result().outcome.as_ref().ok()
    }

    /// Everything that is told of it.
    pub(super) fn card<'one>(&'one self, paper: &'one Paper<'film>) -> SetupCard<'one> {
        let scene = self.listed.scene;
        let first = paper.shots.iter().find(|other| other.listed.scene.id == scene.id);
        SetupCard {
            film: paper.of.film,
            scene,
            shot: self.listed.shot,
            rehearsal: &self.rehearsal,
            light: self.light.as_ref(),
            sun: self.sun.map(|sun| sun.on),
            people: &self.people,
            begins_scene: first.is_some_and(|first| first.shot().id == self.shot().id),
            step: paper.of.step,
            unit: paper.of.unit,
        }
    }

    /// What its shot is, such as "medium of Ida".
    pub(super) fn what(&self, of: &Sheets<'_>) -> String {
        let shot = self.shot();
        let told = shot.of.told(of.film);
        if shot.is_insert() {
            say!("insert of {told}")
        } else {
            say!("{} of {told}", language::text(shot.size.name()))
        }
    }
}

/// The shots that are placed, by the clock.
pub(super) fn by_clock<'paper, 'film>(
    paper: &'paper Paper<'film>,
) -> Vec<(&'paper PaperShot<'film>, &'film Placed)> {
    let placed = paper.shots.iter().filter_map(|one| Some((one, one.listed.state.placed()?)));
    let mut placed: Vec<_> = placed.collect();
    placed.sort_by(|(_, one), (_, other)| one.starts_min.total_cmp(&other.starts_min));
    placed
}

/// Names with how often they come, the most frequent first; of equals the one that came first.
pub(super) fn by_frequency(names: impl Iterator<Item = String>) -> Vec<(String, usize)> {
    let groups = grouped(names.map(|name| (name, ())));
    let mut counts: Vec<(String, usize)> =
        groups.into_iter().map(|(name, times)| (name, times.len())).collect();
    counts.sort_by_key(|(_, count)| Reverse(*count));
    counts
}
