//! A day of shooting as a film's file writes it.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::day::{Pinned, ShootingDay, WorkTimes};
use crate::film::{Film, Hours};
use crate::film_file::film_record::HoursRecord;
use crate::film_file::shot_record::unless;
use crate::id::ShotId;
use crate::record::WeatherWord;

/// A day of shooting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DayRecord {
    /// Known by this.
    pub id: u64,
    /// What it is called.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub title: String,
    /// Its date as year, month and day, such as `2026-09-10`; not known if absent. Years 1900 to 2100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// From the call to the wrap; nine to five if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hours: Option<HoursRecord>,
    /// When nobody works; 20 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub breaks: Vec<HoursRecord>,
    /// The weather that is counted on; clear if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<WeatherWord>,
    /// The ids of the shots that are made on it, 2000 at the most; all that no other day lists if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shots: Option<Vec<u64>>,
    /// Which shots have a fixed place in its order, 2000 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pinned: Vec<PinnedRecord>,
    /// How long the work takes; what is usual if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub work: Option<WorkTimesRecord>,
    /// The ids of shots that are in the can, 2000 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub done: Vec<u64>,
    /// The minute from which the rest is planned, from the day's midnight, 0 to 2880: past 1440 on the day after; the call if
    /// absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resumes_min: Option<u32>,
    /// What else to know.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// A shot that has a fixed place in a day's order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PinnedRecord {
    /// The id of the shot.
    pub shot: u64,
    /// Its place among the day's shots, counted from 0.
    pub at: u32,
}

/// How long the work of a day takes, in minutes; what is absent takes as long as usual.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WorkTimesRecord {
    /// To rehearse a setup before its first take, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rehearsal_min: Option<f64>,
    /// How many takes a setup is given, 1 to 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub takes: Option<f64>,
    /// From the end of one take to the start of the next, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reset_min: Option<f64>,
    /// To set up for the day's first setup, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setting_up_min: Option<f64>,
    /// To go to another lens of the phone, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens_min: Option<f64>,
    /// To change filters, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filters_min: Option<f64>,
    /// To put an adapter on or off, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adapter_min: Option<f64>,
    /// To put the phone on a gimbal or off it, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gimbal_min: Option<f64>,
    /// To put the phone elsewhere, looking the same way, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spot_min: Option<f64>,
    /// To turn everything round and look another way, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn_min: Option<f64>,
    /// To begin another scene at the same place, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scene_min: Option<f64>,
    /// To move to another place, 0 to 600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place_min: Option<f64>,
}

impl DayRecord {
    /// A shot that is not in the film any more is written nowhere, as nothing can be made of it.
    pub(super) fn of(day: &ShootingDay, film: &Film) -> Self {
        Self::from(&day.within(|shot| film.shot(shot).is_some()))
    }
}

impl From<&ShootingDay> for DayRecord {
    fn from(day: &ShootingDay) -> Self {
        let ShootingDay {
            id,
            title,
            date,
            hours,
            breaks,
            weather,
            shots,
            pinned,
            work,
            done,
            resumes_min,
            notes,
            unknown,
        } = day;
        let ids = |ids: &Vec<ShotId>| ids.iter().map(|id| id.number()).collect();
        Self {
            id: id.number(),
            title: title.clone(),
            date: date.map(|date| date.to_string()),
            hours: (*hours != Hours::USUAL).then(|| (*hours).into()),
            breaks: breaks.iter().map(|hours| (*hours).into()).collect(),
            weather: (*weather != optics::Weather::Clear).then(|| (*weather).into()),
            shots: shots.as_ref().map(ids),
            pinned: pinned.iter().map(PinnedRecord::from).collect(),
            work: (*work != WorkTimes::USUAL).then(|| WorkTimesRecord::from(work)),
            done: ids(done),
            resumes_min: resumes_min.map(u32::from),
            notes: notes.clone(),
            unknown: unknown.fields(),
        }
    }
}

impl From<&Pinned> for PinnedRecord {
    fn from(Pinned { shot, at }: &Pinned) -> Self {
        Self { shot: shot.number(), at: u32::try_from(*at).unwrap_or(u32::MAX) }
    }
}

impl From<&WorkTimes> for WorkTimesRecord {
    fn from(work: &WorkTimes) -> Self {
        let usual = WorkTimes::USUAL;
        let (changes, usually) = (work.changes, usual.changes);
        Self {
            rehearsal_min: unless(work.rehearsal_min, usual.rehearsal_min),
            takes: unless(work.takes, usual.takes),
            reset_min: unless(work.reset_min, usual.reset_min),
            setting_up_min: unless(changes.setting_up_min, usually.setting_up_min),
            lens_min: unless(changes.lens_min, usually.lens_min),
            filters_min: unless(changes.filters_min, usually.filters_min),
            adapter_min: unless(changes.adapter_min, usually.adapter_min),
            gimbal_min: unless(changes.gimbal_min, usually.gimbal_min),
            spot_min: unless(changes.spot_min, usually.spot_min),
            turn_min: unless(changes.turn_min, usually.turn_min),
            scene_min: unless(changes.scene_min, usually.scene_min),
            place_min: unless(changes.place_min, usually.place_min),
        }
    }
}
