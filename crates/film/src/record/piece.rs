//! Pieces of a set, and the one near the lens, as files and requests write them.

use glam::DVec2;
use language::key;
use serde::{Deserialize, Serialize};
use staging::{Foreground, PieceKind, PieceSize, SetPiece};
use units::{Angle, Length};

use crate::kit_file::{RecordError, within_range};
use crate::record::words::PieceWord;
use crate::record::written::{within_a_turn, written_deg};

/// A generic piece of a set.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(rename = "PieceRequest"))]
#[cfg_attr(
    feature = "declarations",
    derive(ts_rs::TS),
    ts(rename = "PieceRequest", optional_fields = nullable)
)]
#[serde(deny_unknown_fields)]
pub struct PieceRecord {
    /// What it is.
    pub kind: PieceWord,
    /// How far east of the subject the middle of its foot is, -1000 to 1000 m.
    pub x_m: f64,
    /// How far north of the subject the middle of its foot is, -1000 to 1000 m.
    pub y_m: f64,
    /// The direction of its front, clockwise from north, -360 to 360 degrees; that in which the phone is if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing_deg: Option<f64>,
    /// Its size across its front, 0.02 to 200 m; the usual one of its kind if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_m: Option<f64>,
    /// Its size from front to back, 0.02 to 200 m; the usual one of its kind if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub depth_m: Option<f64>,
    /// Its height, 0.02 to 200 m; the usual one of its kind if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
}

/// A piece near the lens.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(rename = "ForegroundRequest"))]
#[cfg_attr(
    feature = "declarations",
    derive(ts_rs::TS),
    ts(rename = "ForegroundRequest", optional_fields = nullable)
)]
#[serde(deny_unknown_fields)]
pub struct ForegroundRecord {
    /// What it is.
    pub kind: PieceWord,
    /// How far ahead of the phone it stands, along the floor, 0.05 to 1000 m.
    pub ahead_m: f64,
    /// How far to the right of straight ahead, -1000 to 1000 m.
    pub right_m: f64,
}

/// Farther than this from the floor's origin, east or north, nothing is placed: chosen because nothing there would be seen.
pub const FARTHEST_PLACE_M: f64 = 1000.0;

impl PieceRecord {
    /// The piece, facing `usual_facing` where nothing is said.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_piece(&self, usual_facing: Angle) -> Result<SetPiece, RecordError> {
        let kind = PieceKind::from(self.kind);
        let usual = kind.usual_size();
        let side = |field: &str, given: Option<f64>, usual: Length| match given {
            None => Ok(usual),
            Some(metres) => within_range(field, metres, 0.02, 200.0, "m").map(Length::from_m),
        };
        let metres =
            |field: &str, value: f64| within_range(field, value, -FARTHEST_PLACE_M, FARTHEST_PLACE_M, "m");
        let facing =
            self.facing_deg.map(|degrees| within_range("facing_deg", degrees, -360.0, 360.0, key!("deg")));
        Ok(SetPiece {
            kind,
            place: DVec2::new(metres("x_m", self.x_m)?, metres("y_m", self.y_m)?),
            facing: facing.transpose()?.map_or(usual_facing, Angle::from_deg),
            size: PieceSize {
                width: side("width_m", self.width_m, usual.width)?,
                depth: side("depth_m", self.depth_m, usual.depth)?,
                height: side("height_m", self.height_m, usual.height)?,
            },
        })
    }
}

impl From<&SetPiece> for PieceRecord {
    /// Says its direction always, and its sides where they are not its kind's.
    fn from(piece: &SetPiece) -> Self {
        let usual = piece.kind.usual_size();
        let side = |side: Length, usual: Length| (side != usual).then(|| side.to_m());
        Self {
            kind: piece.kind.into(),
            x_m: piece.place.x,
            y_m: piece.place.y,
            facing_deg: Some(written_deg(within_a_turn(piece.facing))),
            width_m: side(piece.size.width, usual.width),
            depth_m: side(piece.size.depth, usual.depth),
            height_m: side(piece.size.height, usual.height),
        }
    }
}

impl ForegroundRecord {
    /// The piece near the lens.
    ///
    /// # Errors
    /// Names the field that is out of range.
    pub fn to_foreground(self) -> Result<Foreground, RecordError> {
        let ahead = within_range("ahead_m", self.ahead_m, 0.05, 1000.0, "m")?;
        let right = within_range("right_m", self.right_m, -1000.0, 1000.0, "m")?;
        Ok(Foreground { kind: self.kind.into(), ahead: Length::from_m(ahead), right: Length::from_m(right) })
    }
}

impl From<Foreground> for ForegroundRecord {
    fn from(near: Foreground) -> Self {
        Self { kind: near.kind.into(), ahead_m: near.ahead.to_m(), right_m: near.right.to_m() }
    }
}
