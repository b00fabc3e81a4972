//! A shot as a film's file writes it: what it is of, how it is framed and taken, what is heard.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use staging::{FocusOn, Look, PhoneHeight, Stand};
use units::{FrameRate, Length};

use crate::id::BeatId;
use crate::record::{
    ForegroundRecord, LandmarkWord, MovementRecord, PhoneHeightWord, PriorityWord, PullRecord, ShotSizeWord,
    SoundWord, SunWishWord, within_a_turn, written_deg,
};
use crate::shot::{ActionKind, LensChoice, Priority, Shot, ShotOf, Sound, SunWish};

/// A shot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShotRecord {
    /// Known by this.
    pub id: u64,
    /// Who or what it is of.
    pub of: ShotOfRecord,
    /// The id of the beat in which it starts; the scene's first if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beat: Option<u64>,
    /// How much of them; if absent an insert of a thing, and medium of a person.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<ShotSizeWord>,
    /// The share of the frame's height above the crown, -2 to 0.8; the size's own if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub headroom_share: Option<f64>,
    /// The direction from whom it is of to the phone, clockwise from north, -360 to 360 degrees; south if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side_deg: Option<f64>,
    /// How high the phone is, in words; as the size suggests if nothing is said of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height: Option<PhoneHeightWord>,
    /// How high the phone is, 0 to 50 m; instead of `height`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
    /// At which part of the body the phone is, where `height` has no word for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_landmark: Option<LandmarkWord>,
    /// A fixed tilt, up positive, -89 to 89 degrees; aimed for the framing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tilt_deg: Option<f64>,
    /// Where they stand across the frame, 0.05 to 0.95 from its left edge; 0.5 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub across_share: Option<f64>,
    /// How far the crop is moved up, as a share of its room, -1 to 1; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop_up_share: Option<f64>,
    /// How far the crop is moved to the right, as a share of its room, -1 to 1; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub crop_right_share: Option<f64>,
    /// A fixed distance along the floor, 0.02 to 10000 m; by the size if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stand_at_m: Option<f64>,
    /// How far behind them the background is, 0 to 100000 m; 6 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub background_behind_m: Option<f64>,
    /// The lens, by its name in the kit; the one that serves the size best if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens: Option<String>,
    /// A zoom that reads only the middle of that lens's sensor, 1 to 20; 1 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_sensor_zoom: Option<f64>,
    /// The adapter that is on, by its name in the kit; none if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adapter: Option<String>,
    /// How the phone moves; not at all if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub movement: Option<MovementRecord>,
    /// How focus is pulled; not at all if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pull: Option<PullRecord>,
    /// Where focus is, axially from the lens, 0.02 to 100000 m; on whom it is of if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focus_at_m: Option<f64>,
    /// A piece near the lens at an edge of the frame.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foreground: Option<ForegroundRecord>,
    /// What happens in it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub action: String,
    /// What is heard of it; nothing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sound: Option<SoundWord>,
    /// How far the recorder is from whoever speaks, 0.01 to 1000 m; the phone records if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorder_away_m: Option<f64>,
    /// Frames a second at capture, 1 to 1000; the film's if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capture_rate_fps: Option<f64>,
    /// How long it is meant to be, 0.1 to 600 s; 4 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planned_s: Option<f64>,
    /// Whether the scene can do without it; it cannot if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub priority: Option<PriorityWord>,
    /// Where the sun is wanted; anywhere if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sun: Option<SunWishWord>,
    /// Whether its action makes a mess or has one chance, so that it comes last; it can be repeated if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub one_chance: Option<bool>,
    /// How long it takes on the set, 0.1 to 600 min; as long as shots usually take if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on_set_min: Option<f64>,
    /// What else to know.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// What has to stay the same from take to take.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub continuity: String,
    /// Whether it was given up: it stays listed, but is in no cut and on no day; it was not if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dropped: Option<bool>,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// Who or what a shot is of. People are known by their ids.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum ShotOfRecord {
    /// Somebody.
    One(u64),
    /// Two people, the first in focus.
    Two {
        /// The one in focus.
        first: u64,
        /// The other.
        second: u64,
    },
    /// Somebody past another's shoulder.
    OverShoulder {
        /// The one in focus.
        facing: u64,
        /// The one whose shoulder it is.
        near: u64,
    },
    /// Somebody as another sees them.
    PointOfView {
        /// Whose eyes the phone stands for.
        of: u64,
        /// Whom they see.
        seen: u64,
    },
    /// A thing.
    Object {
        /// What it is.
        #[serde(default)]
        name: String,
        /// Its height and width, 0.005 to 20 m.
        size_m: f64,
        /// How far east it is on the scene's floor, -1000 to 1000 m.
        x_m: f64,
        /// How far north it is on the scene's floor, -1000 to 1000 m.
        y_m: f64,
        /// How high its lower edge is above the floor, 0 to 50 m: 0 on the ground, more in a hand or on a piece of the
        /// set; on a table of its own, 0.75 m high, if absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        above_floor_m: Option<f64>,
        /// The ids of those whose hands are seen with it, each once; they need no mark in the scene.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        hands: Vec<u64>,
    },
}

/// How far behind whom a shot is of the background is where nothing is said, metres: chosen, as a small room is so deep.
pub(super) const USUAL_BEHIND_M: f64 = 6.0;

impl From<&Shot> for ShotRecord {
    fn from(shot: &Shot) -> Self {
        let (height, height_m, height_landmark) = match (PhoneHeightWord::of(shot.height), shot.height) {
            (Some(word), _) => (Some(word), None, None),
            (None, PhoneHeight::Fixed(height)) => (None, Some(height.to_m()), None),
            (None, PhoneHeight::At(landmark)) => (None, None, Some(landmark.into())),
            (None, PhoneHeight::BySize | PhoneHeight::Ground | PhoneHeight::Overhead) => (None, None, None),
        };
        let (lens, in_sensor_zoom) = match &shot.lens {
            LensChoice::Auto => (None, None),
            LensChoice::Fixed { name, in_sensor_zoom } => (Some(name.clone()), unless(*in_sensor_zoom, 1.0)),
        };
        Self {
            id: shot.id.number(),
            of: ShotOfRecord::from(&shot.of),
            beat: shot.beat.map(BeatId::number),
            size: Some(shot.size.into()),
            headroom_share: shot.headroom,
            side_deg: Some(written_deg(within_a_turn(shot.side))),
            height,
            height_m,
            height_landmark,
            tilt_deg: match shot.look {
                Look::Aimed => None,
                Look::Tilt(angle) => Some(written_deg(angle)),
            },
            across_share: unless(shot.across, 0.5),
            crop_up_share: shot.crop_shift.map(|shift| shift.up),
            crop_right_share: shot.crop_shift.map(|shift| shift.right),
            stand_at_m: match shot.stand {
                Stand::ForSize => None,
                Stand::At(distance) => Some(distance.to_m()),
            },
            background_behind_m: unless(shot.background_behind.to_m(), USUAL_BEHIND_M),
            lens,
            in_sensor_zoom,
            adapter: shot.adapter.clone(),
            movement: shot.movement.map(MovementRecord::from),
            pull: shot.pull.map(PullRecord::from),
            focus_at_m: match shot.focus {
                FocusOn::Subject => None,
                FocusOn::At(distance) => Some(distance.to_m()),
            },
            foreground: shot.foreground.map(ForegroundRecord::from),
            action: shot.action.clone(),
            sound: (shot.sound != Sound::None).then(|| shot.sound.into()),
            recorder_away_m: shot.recorder_away.map(Length::to_m),
            capture_rate_fps: shot.capture_rate.map(FrameRate::to_fps),
            planned_s: Some(shot.planned_s),
            priority: (shot.priority != Priority::MustHave).then(|| shot.priority.into()),
            sun: (shot.sun != SunWish::Anywhere).then(|| shot.sun.into()),
            one_chance: said(shot.action_kind == ActionKind::OneChance),
            on_set_min: shot.on_set_min,
            notes: shot.notes.clone(),
            continuity: shot.continuity.clone(),
            dropped: said(shot.is_dropped),
            unknown: shot.unknown.fields(),
        }
    }
}

/// What is so; nothing is written of what is not.
pub(super) fn said(is_so: bool) -> Option<bool> {
    is_so.then_some(true)
}

/// A number, where it is not the usual one.
pub(super) fn unless(value: f64, usual: f64) -> Option<f64> {
    (value.to_bits() != usual.to_bits()).then_some(value)
}

impl From<&ShotOf> for ShotOfRecord {
    fn from(of: &ShotOf) -> Self {
        match of {
            ShotOf::One(who) => Self::One(who.number()),
            ShotOf::Two(first, second) => Self::Two { first: first.number(), second: second.number() },
            ShotOf::OverShoulder { facing, near } => {
                Self::OverShoulder { facing: facing.number(), near: near.number() }
            }
            ShotOf::PointOfView { of, seen } => Self::PointOfView { of: of.number(), seen: seen.number() },
            ShotOf::Object { name, size, place, support, hands } => Self::Object {
                name: name.clone(),
                size_m: size.to_m(),
                x_m: place.x,
                y_m: place.y,
                above_floor_m: support.to_height().map(Length::to_m),
                hands: hands.iter().map(|who| who.number()).collect(),
            },
        }
    }
}
