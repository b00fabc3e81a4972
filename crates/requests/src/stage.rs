//! A stage as a plain message: what the page sends to those that draw its pictures.
//!
//! A record says no more than the stage that it mirrors, number by number, so that a picture drawn from it has the same
//! pixels. It may come from anywhere: reading it back checks every value.

mod reading;

use film::{AgeWord, PieceWord, PostureWord};
use optics::ViewTangents;
use serde::{Deserialize, Serialize};
use staging::{Backdrop, Camera, Light, Object, Person, PieceSize, SetPiece, Stage, Stance};
use units::Length;

/// One frame of a take with everything in its place, as plain values: see `staging::Stage` for what each means.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StageRecord {
    /// The phone when the shutter opens.
    pub opens: CameraRecord,
    /// The phone when the shutter closes.
    pub closes: CameraRecord,
    /// Tangents to the frame's left, right, upper and lower edge.
    pub view_tangents: [f64; 4],
    /// What the lens takes light through.
    pub pupil: Option<PupilRecord>,
    /// How long the shutter is open.
    pub exposure_s: f64,
    /// Everybody.
    pub people: Vec<PersonRecord>,
    /// Everything else.
    pub pieces: Vec<PieceRecord>,
    /// The object that the shot is of.
    pub object: Option<ObjectRecord>,
    /// Posts at the background's distance.
    pub posts: Option<PostsRecord>,
    /// A photo of the place behind everything.
    pub backdrop: Option<BackdropRecord>,
    /// Where the light comes from.
    pub light: LightRecord,
}

/// A phone's place and directions.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CameraRecord {
    /// Where its lens is.
    pub position_m: [f64; 3],
    /// The direction to the image's right, of length 1.
    pub right: [f64; 3],
    /// The direction to the image's top, of length 1.
    pub up: [f64; 3],
    /// The direction along the optical axis, of length 1.
    pub forward: [f64; 3],
}

/// An entrance pupil with its focus along each image axis.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PupilRecord {
    /// Full width.
    pub width_m: f64,
    /// Full height.
    pub height_m: f64,
    /// Axial distance at which points are sharp sideways.
    pub focus_across_m: f64,
    /// Axial distance at which points are sharp in height.
    pub focus_up_m: f64,
}

/// Somebody on the floor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PersonRecord {
    /// Height when standing.
    pub stature_m: f64,
    /// How they hold themselves.
    pub posture: PostureWord,
    /// Whose proportions they have.
    pub age: AgeWord,
    /// The share of a double step that is done; none if they do not walk.
    pub walking_share: Option<f64>,
    /// Where they stand.
    pub place_m: [f64; 2],
    /// The direction that they face, clockwise from north.
    pub facing_rad: f64,
    /// Red, green and blue of their clothes, linear.
    pub clothes: [f64; 3],
    /// How far they get in a second.
    pub velocity_m_per_s: [f64; 2],
}

/// A piece of a set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PieceRecord {
    /// What it is.
    pub kind: PieceWord,
    /// The middle of its foot.
    pub place_m: [f64; 2],
    /// The direction of its front, clockwise from north.
    pub facing_rad: f64,
    /// Its width, depth and height.
    pub size_m: [f64; 3],
}

/// An object at the origin.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ObjectRecord {
    /// Its height and width.
    pub size_m: f64,
    /// How high its lower edge is; on a table of its own if nothing is said.
    pub above_floor_m: Option<f64>,
}

/// A row of posts, one every half metre.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PostsRecord {
    /// The foot of the one in the middle.
    pub middle_m: [f64; 2],
    /// The direction along the row, of length 1.
    pub along: [f64; 2],
    /// How many stand on each side of the middle one.
    pub on_each_side: u32,
}

/// A photo of the place: how it was taken. Its pixels go another way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BackdropRecord {
    /// Which photo.
    pub photo: PhotoNumber,
    /// Where it was taken from and which way it looked; it may be rolled.
    pub camera: CameraRecord,
    /// Tangents to the whole photo's left, right, upper and lower edge.
    pub view_tangents: [f64; 4],
    /// How far from there what stands behind is.
    pub far_m: f64,
}

/// A photo's number in two halves, the upper first: messages have no whole numbers of more than 32 bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PhotoNumber(pub u32, pub u32);

/// Where the light comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum LightRecord {
    /// The sun and a clear sky.
    Sun {
        /// Where the sun is, clockwise from north.
        azimuth_rad: f64,
        /// How high it is.
        elevation_rad: f64,
    },
    /// An even sky without sun.
    Overcast,
    /// Dusk.
    Dusk,
}

impl From<&Stage> for StageRecord {
    fn from(stage: &Stage) -> Self {
        Self {
            opens: (&stage.opens).into(),
            closes: (&stage.closes).into(),
            view_tangents: tangents(&stage.view),
            pupil: stage.pupil.map(|pupil| PupilRecord {
                width_m: pupil.width.to_m(),
                height_m: pupil.height.to_m(),
                focus_across_m: pupil.focus_across.to_m(),
                focus_up_m: pupil.focus_up.to_m(),
            }),
            exposure_s: stage.exposure_s,
            people: stage.people.iter().map(PersonRecord::from).collect(),
            pieces: stage.pieces.iter().map(PieceRecord::from).collect(),
            object: stage.object.map(ObjectRecord::from),
            posts: stage.posts.map(|posts| PostsRecord {
                middle_m: posts.middle.to_array(),
                along: posts.along.to_array(),
                on_each_side: posts.on_each_side,
            }),
            backdrop: stage.backdrop.as_ref().map(BackdropRecord::from),
            light: match stage.light {
                Light::Sun { azimuth, elevation } => {
                    LightRecord::Sun { azimuth_rad: azimuth.to_rad(), elevation_rad: elevation.to_rad() }
                }
                Light::Overcast => LightRecord::Overcast,
                Light::Dusk => LightRecord::Dusk,
            },
        }
    }
}

impl From<Object> for ObjectRecord {
    fn from(Object { size, support }: Object) -> Self {
        Self { size_m: size.to_m(), above_floor_m: support.to_height().map(Length::to_m) }
    }
}

impl From<&Backdrop> for BackdropRecord {
    fn from(backdrop: &Backdrop) -> Self {
        Self {
            photo: backdrop.photo.into(),
            camera: (&backdrop.camera).into(),
            view_tangents: tangents(&backdrop.view),
            far_m: backdrop.far.to_m(),
        }
    }
}

impl From<u64> for PhotoNumber {
    #[expect(clippy::cast_possible_truncation, reason = "the halves")]
    fn from(number: u64) -> Self {
        Self((number >> 32) as u32, number as u32)
    }
}

impl From<PhotoNumber> for u64 {
    fn from(PhotoNumber(upper, lower): PhotoNumber) -> Self {
        Self::from(upper) << 32 | Self::from(lower)
    }
}

/// Tangents to a frame's left, right, upper and lower edge.
const fn tangents(view: &ViewTangents) -> [f64; 4] {
    let ViewTangents { left, right, up, down } = *view;
    [left, right, up, down]
}

impl From<&Camera> for CameraRecord {
    fn from(camera: &Camera) -> Self {
        Self {
            position_m: camera.position().to_array(),
            right: camera.right().to_array(),
            up: camera.up().to_array(),
            forward: camera.forward().to_array(),
        }
    }
}

impl From<&Person> for PersonRecord {
    fn from(person: &Person) -> Self {
        Self {
            stature_m: person.body.stature.to_m(),
            posture: person.body.posture.into(),
            age: person.body.age.into(),
            walking_share: match person.stance {
                Stance::Still => None,
                Stance::Walking(share) => Some(share),
            },
            place_m: person.place.to_array(),
            facing_rad: person.facing.to_rad(),
            clothes: person.clothes.0,
            velocity_m_per_s: person.velocity.to_array(),
        }
    }
}

impl From<&SetPiece> for PieceRecord {
    fn from(piece: &SetPiece) -> Self {
        let PieceSize { width, depth, height } = piece.size;
        Self {
            kind: piece.kind.into(),
            place_m: piece.place.to_array(),
            facing_rad: piece.facing.to_rad(),
            size_m: [width.to_m(), depth.to_m(), height.to_m()],
        }
    }
}
