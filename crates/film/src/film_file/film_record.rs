//! A film as its file writes it: what holds for all of it, who is in it, where it is shot.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::film::{CastMember, Film, FilmFacts, Hours, Place, USUAL_BIAS};
use crate::film_file::day_record::DayRecord;
use crate::film_file::paced_record::PacedPlaceRecord;
use crate::film_file::photo_record::PlacePhotoRecord;
use crate::film_file::scene_record::SceneRecord;
use crate::film_file::shot_record::said;
use crate::film_file::spot_record::SpotRecord;
use crate::film_file::take_record::TakeRecord;
use crate::kit_file::KitRecord;
use crate::record::{AgeWord, AspectRecord, ColourRecord};

/// A film.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FilmRecord {
    /// The version of this file's format; 1.
    pub format_version: u32,
    /// What holds for all of it.
    #[serde(flatten)]
    pub facts: FilmFactsRecord,
    /// What the crew owns, as it was when the film was planned.
    pub kit: KitRecord,
    /// Who is in it; 200 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cast: Vec<CastRecord>,
    /// Where it is shot; 500 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<PlaceRecord>,
    /// When it is shot; 500 days at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub days: Vec<DayRecord>,
    /// The scenes in the film's order; 500 at the most, with 10000 shots in all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub scenes: Vec<SceneRecord>,
    /// The takes that were made, in the order in which they were logged; 20000 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub takes: Vec<TakeRecord>,
}

/// What holds for all of a film.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FilmFactsRecord {
    /// What it is called.
    #[serde(default)]
    pub title: String,
    /// The story in one line.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub line: String,
    /// The delivered frame's shape; 16:9 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aspect: Option<AspectRecord>,
    /// Frames a second at which it plays, 1 to 1000; 24 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_rate_fps: Option<f64>,
    /// How much of a frame's time is exposed, as the angle of a turning shutter, 1 to 360 degrees; 180 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shutter_angle_deg: Option<f64>,
    /// The recording mode that it is shot in, by its name in the kit; the kit's first if it has none of that name.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub recording: String,
    /// How much brighter than the meter's grey the picture is wanted, -5 to 5 stops; two thirds darker if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bias_stops: Option<f64>,
    /// The mains that lamps hang on where it is shot, 15 to 500 Hz; if absent, those of each place's time zone, or else 50.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mains_hz: Option<f64>,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// Somebody of the cast.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CastRecord {
    /// Known by this.
    pub id: u64,
    /// What they are called.
    #[serde(default)]
    pub name: String,
    /// Their height when standing, 0.4 to 2.8 m; 1.7 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stature_m: Option<f64>,
    /// Adult or child; an adult if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<AgeWord>,
    /// The colour of their clothes, such as `#2f6f8f`; a grey brown if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clothes: Option<ColourRecord>,
    /// When they are there on a day of shooting; any time if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hours: Option<HoursRecord>,
    /// Whether they have agreed to be filmed, for a child whoever is responsible for them; they have not if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub consent: Option<bool>,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// A stretch of a day, which may go on into the day after. It ends after it starts, a day later at the most.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HoursRecord {
    /// Minutes from the day's midnight to where it starts, 0 to 2880.
    pub from_min: u32,
    /// Minutes from the day's midnight to where it ends, 0 to 2880: past 1440 on the day after.
    pub to_min: u32,
}

/// A place to shoot at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlaceRecord {
    /// Known by this.
    pub id: u64,
    /// What it is called.
    #[serde(default)]
    pub name: String,
    /// What to know about it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// Where on earth it is; not known if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spot: Option<SpotRecord>,
    /// Whether whoever is responsible for it has agreed to filming there; they have not if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub permission: Option<bool>,
    /// Whether its room tone is recorded; it is not if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room_tone: Option<bool>,
    /// Whether what is wanted from it as wild tracks is recorded; it is not if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wild_track: Option<bool>,
    /// Photos of it from where the phone may stand; 200 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<PlacePhotoRecord>,
    /// Its outline as it was paced out; it was not if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paced: Option<PacedPlaceRecord>,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// The version that this program writes.
pub const FILM_FORMAT_VERSION: u32 = 1;

impl From<&Film> for FilmRecord {
    fn from(film: &Film) -> Self {
        Self {
            format_version: FILM_FORMAT_VERSION,
            facts: FilmFactsRecord::from(&*film.facts),
            kit: KitRecord::from(&*film.kit),
            cast: film.cast.iter().map(CastRecord::from).collect(),
            places: film.places.iter().map(PlaceRecord::from).collect(),
            days: film.days.iter().map(|day| DayRecord::of(day, film)).collect(),
            scenes: film.scenes.iter().map(|scene| SceneRecord::from(&**scene)).collect(),
            takes: film.takes.iter().map(|take| TakeRecord::from(&**take)).collect(),
        }
    }
}

impl From<&FilmFacts> for FilmFactsRecord {
    fn from(facts: &FilmFacts) -> Self {
        let FilmFacts { title, line, aspect, frame_rate, shutter, recording, bias, mains, unknown } = facts;
        Self {
            title: title.clone(),
            line: line.clone(),
            aspect: Some(AspectRecord(*aspect)),
            frame_rate_fps: Some(frame_rate.to_fps()),
            shutter_angle_deg: (*shutter != optics::ShutterAngle::HALF).then(|| shutter.to_deg()),
            recording: recording.clone(),
            bias_stops: (*bias != USUAL_BIAS).then(|| bias.to_f64()),
            mains_hz: mains.map(optics::MainsFrequency::to_hz),
            unknown: unknown.fields(),
        }
    }
}

impl From<&CastMember> for CastRecord {
    fn from(member: &CastMember) -> Self {
        let CastMember { id, name, stature, age, clothes, hours, consent, unknown } = member;
        Self {
            id: id.number(),
            name: name.clone(),
            stature_m: Some(stature.to_m()),
            age: match age {
                staging::Age::Adult => None,
                staging::Age::Child => Some(AgeWord::Child),
            },
            clothes: Some(ColourRecord::of(*clothes)),
            hours: hours.map(HoursRecord::from),
            consent: said(*consent),
            unknown: unknown.fields(),
        }
    }
}

impl From<&Place> for PlaceRecord {
    fn from(place: &Place) -> Self {
        let Place { id, name, notes, spot, permission, room_tone, wild_track, photos, paced, unknown } =
            place;
        Self {
            id: id.number(),
            name: name.clone(),
            notes: notes.clone(),
            spot: spot.as_ref().map(SpotRecord::from),
            permission: said(*permission),
            room_tone: said(*room_tone),
            wild_track: said(*wild_track),
            photos: photos.iter().map(PlacePhotoRecord::from).collect(),
            paced: paced.as_deref().map(PacedPlaceRecord::from),
            unknown: unknown.fields(),
        }
    }
}

impl From<Hours> for HoursRecord {
    fn from(hours: Hours) -> Self {
        Self { from_min: hours.from_min().into(), to_min: hours.to_min().into() }
    }
}
