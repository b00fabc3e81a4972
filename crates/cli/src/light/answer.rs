//! The light of a day, as it is told to programs.

use film::{Disagreement, LockItem, PlaceId, WeatherNote, titled};
use requests::{FindingAnswer, SeverityAnswer};
use serde::Serialize;

use super::lit::{LitDay, LitScene};
use super::setup_answer::SetupLight;
use super::sun_answer::SunOfPlace;
use crate::shooting_day::{ChosenDay, DayAnswer, UnmadeAnswer};

/// The light of a day.
#[derive(Debug, Serialize)]
pub(super) struct Answered {
    title: String,
    day: DayAnswer,
    pub(super) places: Vec<SunOfPlace>,
    pub(super) scenes: Vec<SceneLight>,
}

/// The light of a scene.
#[derive(Debug, Serialize)]
pub(super) struct SceneLight {
    scene: usize,
    title: String,
    setting: &'static str,
    time: &'static str,
    place: Option<String>,
    pub(super) lock: Vec<Held>,
    pub(super) findings: Vec<FindingAnswer>,
    pub(super) unmade: Vec<UnmadeAnswer>,
    pub(super) setups: Vec<SetupLight>,
    pub(super) weather_notes: Vec<NoteAnswer>,
}

/// One thing that a scene holds.
#[derive(Debug, Serialize)]
pub(super) struct Held {
    pub(super) what: &'static str,
    pub(super) set_to: String,
    pub(super) why: String,
    pub(super) can_be_set: bool,
}

/// One thing to know when the weather has turned.
#[derive(Debug, Serialize)]
pub(super) struct NoteAnswer {
    shot: String,
    pub(super) severity: SeverityAnswer,
    pub(super) message: String,
}

impl Answered {
    pub(super) fn of(lit: &LitDay<'_>) -> Self {
        let LitDay { chosen, scenes } = lit;
        let is_used = |place: PlaceId| scenes.iter().any(|scene| scene.scene.facts.place == Some(place));
        let sun = chosen.daylights.iter().filter(|(place, _)| is_used(**place));
        let places = sun.filter_map(|(place, daylight)| {
            SunOfPlace::of(&chosen.film, *place, daylight, chosen.day.weather)
        });
        Self {
            title: chosen.film.facts.title.clone(),
            day: chosen.answer(),
            places: places.collect(),
            scenes: scenes.iter().map(|scene| SceneLight::of(chosen, scene)).collect(),
        }
    }

    /// Whether anything is more than worth knowing.
    pub(super) fn asks(&self) -> bool {
        self.scenes.iter().any(SceneLight::asks)
    }
}

impl SceneLight {
    fn of(chosen: &ChosenDay, lit: &LitScene) -> Self {
        let facts = &lit.scene.facts;
        let of_setups = lit.lock.findings.iter().map(|found| disagreement(chosen, found));
        let of_sun = lit.sun_jump.iter().map(|jump| FindingAnswer::from(jump.to_finding(&chosen.film)));
        Self {
            scene: lit.number,
            title: facts.title.clone(),
            setting: facts.setting.name(),
            time: facts.time.name(),
            place: chosen.film.place_of(&lit.scene).map(|place| place.called().to_owned()),
            lock: lit.lock.items.iter().map(Held::of).collect(),
            findings: of_setups.chain(of_sun).collect(),
            unmade: lit.unmade.clone(),
            setups: lit.setups.iter().map(|setup| SetupLight::of(chosen, setup)).collect(),
            weather_notes: lit.notes.iter().map(|note| NoteAnswer::of(chosen, note)).collect(),
        }
    }

    fn asks(&self) -> bool {
        let is_more = |severity: SeverityAnswer| severity != SeverityAnswer::Notes;
        let of_setups = self.setups.iter().flat_map(|setup| &setup.findings);
        !self.unmade.is_empty()
            || self.setups.iter().any(SetupLight::lacks_its_light)
            || self.findings.iter().chain(of_setups).any(|found| is_more(found.severity))
            || self.weather_notes.iter().any(|note| is_more(note.severity))
    }

    /// The scene on one line.
    pub(super) fn line(&self) -> String {
        let Self { scene, title, setting, time, place, .. } = self;
        let place = place.as_ref().map_or_else(String::new, |place| format!(", {place}"));
        format!("{} ({setting}, {time}{place})", titled("Scene", *scene, title))
    }
}

fn disagreement(chosen: &ChosenDay, found: &Disagreement) -> FindingAnswer {
    found.to_finding(&chosen.film).into()
}

impl Held {
    fn of(item: &LockItem) -> Self {
        let LockItem { what, set_to, why, can_be_set } = item;
        Self { what: what.name(), set_to: set_to.clone(), why: why.clone(), can_be_set: *can_be_set }
    }
}

impl NoteAnswer {
    fn of(chosen: &ChosenDay, note: &WeatherNote) -> Self {
        Self {
            shot: chosen.numbered(note.shot()),
            severity: note.severity().into(),
            message: note.words(&chosen.film),
        }
    }
}
