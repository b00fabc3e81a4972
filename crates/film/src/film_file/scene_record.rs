//! A scene as a film's file writes it: what it is, its shots, how they are cut, and what is kept anyway.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::film_file::blocking_record::SceneBlockingRecord;
use crate::film_file::shot_record::ShotRecord;
use crate::id::PlaceId;
use crate::record::{SettingWord, TimeOfDayWord};
use crate::scene::{
    Entry, Kept, KeptAt, Lamps, Scene, SceneFacts, SceneLight, Setting, Stretch, TimeOfDay, Want,
    WhiteBalance,
};

/// A scene.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SceneRecord {
    /// Known by this.
    pub id: u64,
    /// What it is.
    #[serde(flatten)]
    pub facts: SceneFactsRecord,
    /// Where everybody and everything is, and when.
    #[serde(default)]
    pub blocking: SceneBlockingRecord,
    /// The shots of it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shots: Vec<ShotRecord>,
    /// The planned edit: which stretch of which shot follows which; 5000 entries at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cut: Vec<EntryRecord>,
    /// Findings that are kept anyway, and why; 5000 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub kept: Vec<KeptRecord>,
}

/// What a scene is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SceneFactsRecord {
    /// What it is called.
    #[serde(default)]
    pub title: String,
    /// Where it plays: a place's id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<u64>,
    /// Inside or outside; outside if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setting: Option<SettingWord>,
    /// When it plays; in the day if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<TimeOfDayWord>,
    /// The mood that is wanted.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub mood: String,
    /// What each wants; 200 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wants: Vec<WantRecord>,
    /// What is in the way.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub obstacle: String,
    /// What happens.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub happens: String,
    /// What it changes.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub changes: String,
    /// How far from somebody the phone can go there, 0.1 to 100000 m; as far as one likes if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_m: Option<f64>,
    /// How much light was read there, -10 to 25 EV at ISO 100; what the hour gives if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light_ev100: Option<f64>,
    /// Whether lamps on the mains light it; inside and at night they do if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lamps: Option<bool>,
    /// The white balance that all its shots share, 1500 to 15000 K; not chosen if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub white_balance_k: Option<f64>,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// What somebody wants in a scene.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WantRecord {
    /// Who: the id of somebody of the cast.
    pub who: u64,
    /// What.
    pub what: String,
}

/// One entry of a cut: a stretch of a shot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct EntryRecord {
    /// Known by this.
    pub id: u64,
    /// The id of the shot, which is one of the scene's.
    pub shot: u64,
    /// Where the stretch starts, 0 to 600 s into the shot; all of the shot if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_s: Option<f64>,
    /// Where the stretch ends, after it starts, up to 600 s into the shot. Stands beside `from_s`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to_s: Option<f64>,
}

/// A finding that is kept anyway.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct KeptRecord {
    /// The finding's rule.
    pub rule: String,
    /// Where it was found; in the scene as a whole if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<KeptAtRecord>,
    /// Why it is kept.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub reason: String,
}

/// Where a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum KeptAtRecord {
    /// A shot, by its id.
    Shot(u64),
    /// The cut from one entry to the next, by their ids.
    Cut {
        /// The entry before the cut.
        from: u64,
        /// The entry after it.
        to: u64,
    },
}

impl From<&Scene> for SceneRecord {
    /// A beat or a place of the cut that is gone leads nowhere, so nothing is written of what points to it.
    fn from(scene: &Scene) -> Self {
        let Scene { id, facts, blocking, shots, cut, kept } = scene;
        let written = |shot: &crate::shot::Shot| {
            let mut record = ShotRecord::from(shot);
            let is_there = |id: &u64| blocking.beats.iter().any(|beat| beat.id.number() == *id);
            record.beat = record.beat.filter(is_there);
            record
        };
        Self {
            id: id.number(),
            facts: SceneFactsRecord::from(&**facts),
            blocking: SceneBlockingRecord::from(&**blocking),
            shots: shots.iter().map(|shot| written(shot)).collect(),
            cut: cut.iter().map(EntryRecord::from).collect(),
            kept: kept.iter().filter(|kept| scene.has(kept.at)).map(KeptRecord::from).collect(),
        }
    }
}

impl Scene {
    /// Whether there still is what a finding was kept at.
    pub(crate) fn has(&self, at: KeptAt) -> bool {
        let entry = |id| self.cut.iter().any(|entry| entry.id == id);
        match at {
            KeptAt::Scene => true,
            KeptAt::Shot(id) => self.shot(id).is_some(),
            KeptAt::Cut(from, to) => entry(from) && entry(to),
        }
    }
}

impl From<&SceneFacts> for SceneFactsRecord {
    fn from(facts: &SceneFacts) -> Self {
        let SceneFacts {
            title,
            place,
            setting,
            time,
            mood,
            wants,
            obstacle,
            happens,
            changes,
            room,
            light,
            lamps,
            white_balance,
            unknown,
        } = facts;
        Self {
            title: title.clone(),
            place: place.map(PlaceId::number),
            setting: (*setting != Setting::default()).then(|| (*setting).into()),
            time: (*time != TimeOfDay::default()).then(|| (*time).into()),
            mood: mood.clone(),
            wants: wants.iter().map(WantRecord::from).collect(),
            obstacle: obstacle.clone(),
            happens: happens.clone(),
            changes: changes.clone(),
            room_m: room.map(units::Length::to_m),
            light_ev100: match light {
                SceneLight::ByHour => None,
                SceneLight::Read(value) => Some(value.to_f64()),
            },
            lamps: match lamps {
                Lamps::BySetting => None,
                Lamps::On => Some(true),
                Lamps::Off => Some(false),
            },
            white_balance_k: white_balance.map(WhiteBalance::to_kelvin),
            unknown: unknown.fields(),
        }
    }
}

impl From<&Want> for WantRecord {
    fn from(Want { who, what }: &Want) -> Self {
        Self { who: who.number(), what: what.clone() }
    }
}

impl From<&Entry> for EntryRecord {
    fn from(Entry { id, shot, stretch }: &Entry) -> Self {
        Self {
            id: id.number(),
            shot: shot.number(),
            from_s: stretch.map(Stretch::from_s),
            to_s: stretch.map(Stretch::to_s),
        }
    }
}

impl From<&Kept> for KeptRecord {
    fn from(Kept { rule, at, reason }: &Kept) -> Self {
        let at = match at {
            KeptAt::Scene => None,
            KeptAt::Shot(id) => Some(KeptAtRecord::Shot(id.number())),
            KeptAt::Cut(from, to) => Some(KeptAtRecord::Cut { from: from.number(), to: to.number() }),
        };
        Self { rule: rule.clone(), at, reason: reason.clone() }
    }
}
