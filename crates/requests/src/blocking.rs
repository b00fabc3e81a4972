//! What surrounds a shot, as requests write it: who else is there, what the place is made of, where the light is.

use film::{
    AgeWord, ColourRecord, FARTHEST_PLACE_M, ForegroundRecord, LightRecord, PieceRecord, PostureWord,
    within_range,
};
use glam::DVec2;
use serde::{Deserialize, Serialize};
use staging::{Blocking, Colour, Light, Person, Shot, Stance, Subject, USUAL_PACE};
use units::{Angle, Length};

use crate::error::BadRequest;
use crate::setup::body;

/// What surrounds a shot. The subject stands at the origin of the floor, x east and y north of it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct BlockingRequest {
    /// The direction from the subject to the phone, clockwise from north, -360 to 360 degrees; 180 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub phone_bearing_deg: Option<f64>,
    /// The direction that the subject faces, clockwise from north, -360 to 360 degrees; if absent the phone, or half
    /// turned to a second person.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing_deg: Option<f64>,
    /// Whether the subject walks, the way they face; false if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub walking: Option<bool>,
    /// How much of a double step the subject has done when the take starts, 0 to 1; 0 if absent. Only beside `walking`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_share: Option<f64>,
    /// Whether the second person walks, the way they face; false if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second_walking: Option<bool>,
    /// How far those of the shot get in a second if they walk, 0.05 to 10 m; 1.4 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pace_m_per_s: Option<f64>,
    /// Where the second person stands, seen from the first; as the shot arranges them if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second: Option<SecondMarkRequest>,
    /// The colour of the subject's clothes, such as `#2f6f8f`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "declarations", ts(type = "string | null"))]
    pub clothes: Option<ColourRecord>,
    /// The colour of the second person's clothes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "declarations", ts(type = "string | null"))]
    pub second_clothes: Option<ColourRecord>,
    /// Other people, 20 at the most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(optional, as = "Option<Vec<PersonRequest>>"))]
    pub people: Vec<PersonRequest>,
    /// What the place is made of, 60 pieces at the most; posts across the frame at the background's distance if absent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "declarations", ts(optional, as = "Option<Vec<PieceRecord>>"))]
    pub pieces: Vec<PieceRecord>,
    /// A piece near the lens at an edge of the frame.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foreground: Option<ForegroundRecord>,
    /// Where the light comes from; a sun in the south-west if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light: Option<LightRecord>,
}

/// Somebody else on the floor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct PersonRequest {
    /// How far east of the subject they are, -1000 to 1000 m.
    pub x_m: f64,
    /// How far north of the subject they are, -1000 to 1000 m.
    pub y_m: f64,
    /// The direction that they face, clockwise from north, -360 to 360 degrees; that in which the phone is if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing_deg: Option<f64>,
    /// Height when standing, 0.4 to 2.8 m; 1.7 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stature_m: Option<f64>,
    /// How they hold themselves; standing if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub posture: Option<PostureWord>,
    /// Whose proportions they have; an adult's if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub age: Option<AgeWord>,
    /// Whether they walk, the way they face; false if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub walking: Option<bool>,
    /// How much of a double step they have done when the take starts, 0 to 1; 0 if absent. Only beside `walking`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_share: Option<f64>,
    /// The colour of their clothes, such as `#6f6a60`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "declarations", ts(type = "string | null"))]
    pub clothes: Option<ColourRecord>,
}

/// Where the second person of a shot of two stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
#[serde(deny_unknown_fields)]
pub struct SecondMarkRequest {
    /// How far east of the first they are, -1000 to 1000 m.
    pub x_m: f64,
    /// How far north of the first they are, -1000 to 1000 m.
    pub y_m: f64,
    /// The direction that they face, clockwise from north, -360 to 360 degrees.
    pub facing_deg: f64,
}

/// Where the phone is if nobody says: south of the subject, so that it looks north, up the plan.
const USUAL_BEARING_DEG: f64 = 180.0;
/// The stature of whom nothing is said: about the average of grown people.
pub const USUAL_STATURE_M: f64 = 1.7;
/// A grey brown: chosen because nobody looks at it.
const USUAL_CLOTHES: ColourRecord = ColourRecord([0x6f, 0x6a, 0x60]);
/// As many people as a set holds beside the shot's own: more are a crowd; chosen because each is many shapes to draw.
pub const MOST_PEOPLE: usize = 20;
/// As many pieces as a set holds: more are another set; chosen because each is many shapes to draw.
pub const MOST_PIECES: usize = 60;

impl BlockingRequest {
    /// What surrounds `shot`.
    ///
    /// # Errors
    /// Names the field that is out of range, or the list that is too long.
    pub fn to_blocking(&self, shot: &Shot) -> Result<Blocking, BadRequest> {
        let bearing = direction("blocking.phone_bearing_deg", self.phone_bearing_deg)?
            .unwrap_or(Angle::from_deg(USUAL_BEARING_DEG));
        let bare = Blocking::bare(shot, bearing);
        let light = self.light.map(|light| light.to_light().map_err(|error| error.within("blocking.light")));
        let light = light.transpose()?.unwrap_or(Light::USUAL);
        let colour =
            |given: Option<ColourRecord>, usual: Colour| given.map_or(usual, ColourRecord::to_colour);
        let foreground = self
            .foreground
            .map(|near| near.to_foreground().map_err(|error| error.within("blocking.foreground")));
        few("blocking.people", self.people.len(), MOST_PEOPLE)?;
        few("blocking.pieces", self.pieces.len(), MOST_PIECES)?;
        let facing = direction("blocking.facing_deg", self.facing_deg)?.unwrap_or(bare.facing);
        let pace = self.pace_m_per_s.unwrap_or(USUAL_PACE.to_m());
        Ok(Blocking {
            phone_bearing: bearing,
            facing,
            pace: Length::from_m(within_range("blocking.pace_m_per_s", pace, 0.05, 10.0, "m/s")?),
            marks: self.second.map(|second| second.to_marks(shot, facing)).transpose()?,
            stances: [
                stance("blocking", self.walking, self.step_share)?,
                stance("blocking", self.second_walking, None)?,
            ],
            clothes: [colour(self.clothes, bare.clothes[0]), colour(self.second_clothes, bare.clothes[1])],
            people: listed("blocking.people", &self.people, |path, person| person.to_person(path, bearing))?,
            pieces: listed("blocking.pieces", &self.pieces, |path, piece| {
                Ok(piece.to_piece(bearing).map_err(|error| error.within(path))?)
            })?,
            foreground: foreground.transpose()?,
            light,
        })
    }
}

impl SecondMarkRequest {
    /// Where both stand: two side by side about the middle between them, and one past a shoulder where the floor begins.
    fn to_marks(self, shot: &Shot, first_faces: Angle) -> Result<[(DVec2, Angle); 2], BadRequest> {
        let path = "blocking.second";
        let second = place(path, self.x_m, self.y_m)?;
        let degrees = within_range(&format!("{path}.facing_deg"), self.facing_deg, -360.0, 360.0, "deg")?;
        let first = match shot.subject {
            Subject::Pair { .. } => second / -2.0,
            Subject::Person(_) | Subject::OverShoulder { .. } | Subject::Object { .. } => DVec2::ZERO,
        };
        Ok([(first, first_faces), (first + second, Angle::from_deg(degrees))])
    }
}

impl PersonRequest {
    fn to_person(&self, path: &str, bearing: Angle) -> Result<Person, BadRequest> {
        let body = body(path, self.stature_m.unwrap_or(USUAL_STATURE_M), self.posture, self.age)?;
        let stance = stance(path, self.walking, self.step_share)?;
        let facing = direction(&format!("{path}.facing_deg"), self.facing_deg)?.unwrap_or(bearing);
        Ok(Person {
            body,
            stance,
            place: place(path, self.x_m, self.y_m)?,
            facing,
            clothes: self.clothes.unwrap_or(USUAL_CLOTHES).to_colour(),
            velocity: Person::velocity(&body, stance, facing, USUAL_PACE),
        })
    }
}

/// Refuses a list that is too long.
fn few(path: &str, count: usize, most: usize) -> Result<(), BadRequest> {
    if count <= most {
        return Ok(());
    }
    Err(BadRequest::at(path, format!("a list of {count} is not allowed: a list of at most {most}")))
}

/// Reads each item of a list, with the path of its place in it.
fn listed<Request, Item>(
    path: &str,
    list: &[Request],
    read: impl Fn(&str, &Request) -> Result<Item, BadRequest>,
) -> Result<Vec<Item>, BadRequest> {
    list.iter().enumerate().map(|(index, item)| read(&format!("{path}[{index}]"), item)).collect()
}

fn direction(path: &str, degrees: Option<f64>) -> Result<Option<Angle>, BadRequest> {
    let within = |degrees| within_range(path, degrees, -360.0, 360.0, "deg").map(Angle::from_deg);
    Ok(degrees.map(within).transpose()?)
}

fn place(path: &str, x_m: f64, y_m: f64) -> Result<DVec2, BadRequest> {
    let metres = |name: &str, value: f64| {
        within_range(&format!("{path}.{name}"), value, -FARTHEST_PLACE_M, FARTHEST_PLACE_M, "m")
    };
    Ok(DVec2::new(metres("x_m", x_m)?, metres("y_m", y_m)?))
}

fn stance(path: &str, walking: Option<bool>, step_share: Option<f64>) -> Result<Stance, BadRequest> {
    let share = within_range(&format!("{path}.step_share"), step_share.unwrap_or(0.0), 0.0, 1.0, "(share)")?;
    Ok(if walking.unwrap_or(false) { Stance::Walking(share) } else { Stance::Still })
}
