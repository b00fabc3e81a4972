//! A scene's blocking as a film's file writes it. Places are metres on the scene's own floor, x east and y north.

use glam::DVec2;
use serde::{Deserialize, Serialize};
use staging::{Light, Posture, USUAL_PACE};
use units::Angle;

use crate::record::{LightRecord, PieceRecord, PostureWord, within_a_turn, written_deg};
use crate::scene_blocking::{Beat, Faces, LineWish, Mark, SceneBlocking, Way};

/// Where everybody and everything of a scene is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SceneBlockingRecord {
    /// Who is in the scene, and where; 20 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<MarkRecord>,
    /// What the place is made of; 60 pieces at the most. A piece whose direction is not said faces south.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pieces: Vec<PieceRecord>,
    /// Where the light comes from; a sun in the south-west if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light: Option<LightRecord>,
    /// Where the earth's north is on this floor, clockwise from the floor's own, -360 to 360 degrees; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub north_deg: Option<f64>,
    /// What happens when, in order; 200 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beats: Vec<BeatRecord>,
}

/// Where somebody is in a scene.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MarkRecord {
    /// Who: the id of somebody of the cast.
    pub who: u64,
    /// How far east they are when the scene starts, -1000 to 1000 m.
    pub x_m: f64,
    /// How far north they are when the scene starts, -1000 to 1000 m.
    pub y_m: f64,
    /// Where they look while they do not walk, clockwise from north, -360 to 360 degrees; south if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub faces_deg: Option<f64>,
    /// At whom they look while they do not walk, by the id; instead of `faces_deg`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub faces_person: Option<u64>,
    /// How they hold themselves; standing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub posture: Option<PostureWord>,
    /// Where they walk; nowhere if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub way: Option<WayRecord>,
}

/// Where somebody walks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WayRecord {
    /// The corners of it after their mark, the last one where they stop; 1 to 100 of them.
    pub corners: Vec<PointRecord>,
    /// How far they get in a second, 0.05 to 10 m; 1.4 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pace_m_per_s: Option<f64>,
    /// When they set off, 0 to 36000 s into the scene; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub starts_s: Option<f64>,
}

/// A point of a scene's floor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PointRecord {
    /// How far east, -1000 to 1000 m.
    pub x_m: f64,
    /// How far north, -1000 to 1000 m.
    pub y_m: f64,
}

/// A beat: something happens.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BeatRecord {
    /// Known by this.
    pub id: u64,
    /// What happens.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub what: String,
    /// When it starts, 0 to 36000 s into the scene; 0 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub starts_s: Option<f64>,
    /// Where its line is; where the blocking has it if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<LineRecord>,
}

/// Where a beat's line (axis of action) is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum LineRecord {
    /// Nowhere: the phone may stand where it likes.
    None,
    /// Between two people, by their ids.
    Between {
        /// The one.
        one: u64,
        /// The other.
        other: u64,
    },
    /// The way somebody walks, by their id.
    Along(u64),
    /// Through two points of the floor.
    ByHand {
        /// The one.
        from: PointRecord,
        /// The other.
        to: PointRecord,
    },
}

impl From<&SceneBlocking> for SceneBlockingRecord {
    fn from(SceneBlocking { marks, pieces, light, north, beats }: &SceneBlocking) -> Self {
        Self {
            marks: marks.iter().map(MarkRecord::from).collect(),
            pieces: pieces.iter().map(PieceRecord::from).collect(),
            light: (*light != Light::USUAL).then(|| (*light).into()),
            north_deg: (*north != Angle::ZERO).then(|| written_deg(within_a_turn(*north))),
            beats: beats.iter().map(BeatRecord::from).collect(),
        }
    }
}

impl From<&Mark> for MarkRecord {
    fn from(Mark { who, place, faces, posture, way }: &Mark) -> Self {
        let (faces_deg, faces_person) = match faces {
            Faces::Towards(angle) => (Some(written_deg(within_a_turn(*angle))), None),
            Faces::At(other) => (None, Some(other.number())),
        };
        Self {
            who: who.number(),
            x_m: place.x,
            y_m: place.y,
            faces_deg,
            faces_person,
            posture: match posture {
                Posture::Standing => None,
                Posture::Seated => Some(PostureWord::Seated),
            },
            way: way.as_ref().map(WayRecord::from),
        }
    }
}

impl From<&Way> for WayRecord {
    fn from(Way { corners, pace, starts_s }: &Way) -> Self {
        Self {
            corners: corners.iter().map(|corner| PointRecord::from(*corner)).collect(),
            pace_m_per_s: (*pace != USUAL_PACE).then(|| pace.to_m()),
            starts_s: (starts_s.abs() > 0.0).then_some(*starts_s),
        }
    }
}

impl From<DVec2> for PointRecord {
    fn from(point: DVec2) -> Self {
        Self { x_m: point.x, y_m: point.y }
    }
}

impl From<&Beat> for BeatRecord {
    fn from(Beat { id, what, starts_s, line }: &Beat) -> Self {
        Self {
            id: id.number(),
            what: what.clone(),
            starts_s: (starts_s.abs() > 0.0).then_some(*starts_s),
            line: match *line {
                LineWish::Auto => None,
                LineWish::None => Some(LineRecord::None),
                LineWish::Between(one, other) => {
                    Some(LineRecord::Between { one: one.number(), other: other.number() })
                }
                LineWish::Along(who) => Some(LineRecord::Along(who.number())),
                LineWish::ByHand(from, to) => Some(LineRecord::ByHand { from: from.into(), to: to.into() }),
            },
        }
    }
}
