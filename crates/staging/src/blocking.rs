//! Who stands where, what the place is made of, and where the sun is.
//!
//! Places are on the floor in the world's metres; the subject of a shot stands at its origin.

use glam::{DVec2, DVec3};
use optics::{Mover, srgb_byte, srgb_light};
use units::{Angle, Length};

use crate::body::{Body, Landmark, Posture};
use crate::setup::Shot;
use crate::subject::Subject;

/// What surrounds a shot: everything but the shot's own subject, which its size and lens place.
#[derive(Debug, Clone, PartialEq)]
pub struct Blocking {
    /// The direction from the subject to the phone, clockwise from north.
    pub phone_bearing: Angle,
    /// The direction that the subject faces, clockwise from north.
    pub facing: Angle,
    /// How the subject, and the second person if there is one, hold their limbs.
    pub stances: [Stance; 2],
    /// How far those of the shot get in a second if they walk.
    pub pace: Length,
    /// Where the subject and the second person of a shot of two stand, and which way each faces, clockwise from north; as
    /// the shot arranges them if nothing is said.
    pub marks: Option<[(DVec2, Angle); 2]>,
    /// The colours of the subject's clothes and of the second person's.
    pub clothes: [Colour; 2],
    /// Other people.
    pub people: Vec<Person>,
    /// What the place is made of; empty for a bare floor, which shows posts at the background's distance instead.
    pub pieces: Vec<SetPiece>,
    /// A piece near the lens, placed as the phone sees it.
    pub foreground: Option<Foreground>,
    /// Where the light comes from.
    pub light: Light,
}

/// Somebody on the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Person {
    /// Their body.
    pub body: Body,
    /// What their limbs do.
    pub stance: Stance,
    /// Where they stand: under their eyes.
    pub place: DVec2,
    /// The direction that they face, clockwise from north.
    pub facing: Angle,
    /// The colour of their clothes.
    pub clothes: Colour,
    /// How far they get in a second.
    pub velocity: DVec2,
}

/// What somebody's limbs do. Sitting is a posture of the body, because it changes where its landmarks are.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Stance {
    /// At rest.
    #[default]
    Still,
    /// Walking; the share of a double step that is done, 0 to 1.
    Walking(f64),
}

/// A colour as the share of red, green and blue light that it gives back: linear, 0 to 1, sRGB primaries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Colour(pub [f64; 3]);

/// A generic piece of a set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetPiece {
    /// What it is.
    pub kind: PieceKind,
    /// The middle of its foot.
    pub place: DVec2,
    /// The direction of its front, clockwise from north; its width lies across that.
    pub facing: Angle,
    /// How large it is.
    pub size: PieceSize,
}

/// A piece near the lens at an edge of the frame: it goes where the phone goes, until the phone starts to move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Foreground {
    /// What it is.
    pub kind: PieceKind,
    /// How far ahead of the phone it stands, along the floor.
    pub ahead: Length,
    /// How far to the right of straight ahead.
    pub right: Length,
}

/// What a piece of a set is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PieceKind {
    /// A plain wall.
    Wall,
    /// A wall with a window in it.
    Window,
    /// A wall with an open doorway in it.
    Doorway,
    /// A table.
    Table,
    /// A bench with a back.
    Bench,
    /// A tree with a round crown.
    Tree,
    /// A hedge.
    Hedge,
    /// A box as large as a car.
    Car,
    /// A lamp post.
    LampPost,
    /// Small lights on a string between two poles.
    Lights,
    /// A potted plant.
    Plant,
}

/// The box that a piece fills.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceSize {
    /// Across its front.
    pub width: Length,
    /// From its front to its back.
    pub depth: Length,
    /// From the floor up.
    pub height: Length,
}

/// An opening in a wall, about the middle of its width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// From its middle to either side.
    pub half_width: Length,
    /// How high above the floor it begins.
    pub sill: Length,
    /// How high above the floor it ends.
    pub lintel: Length,
}

/// Where the light comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Light {
    /// The sun and a clear sky.
    Sun {
        /// Where the sun is, clockwise from north.
        azimuth: Angle,
        /// How high it is.
        elevation: Angle,
    },
    /// An even sky without sun.
    Overcast,
    /// Dusk: little is left of the sky, and lamps show.
    Dusk,
}

/// How far people walk in a second.
pub const USUAL_PACE: Length = Mover::Walker.per_second();
/// One step over stature: 0.413, common practice in counting steps. A double step, after which the limbs are as before,
/// is two.
const STEP_OVER_STATURE: f64 = 0.413;
/// How far beside the line of sight somebody stands whose shoulder the phone looks past, as a share of their shoulders'
/// breadth: chosen because the face behind is then free of them.
pub const BESIDE_A_SHOULDER: f64 = 0.8;
/// How far two people beside each other turn to one another: chosen because both faces still show.
const TURNED_TO_EACH_OTHER: Angle = Angle::from_deg(30.0);
/// How far somebody turns from the phone to the one whose shoulder it looks past: chosen because both eyes still show.
const TURNED_TO_THE_NEAR_ONE: Angle = Angle::from_deg(10.0);

/// The unit vector along the floor in that direction, clockwise from north.
pub fn along(azimuth: Angle) -> DVec2 {
    DVec2::new(azimuth.sin(), azimuth.cos())
}

/// The direction of a way along the floor, clockwise from north: the inverse of [`along`].
pub fn azimuth(way: DVec2) -> Angle {
    Angle::from_components(way.x, way.y)
}

/// The unit vector towards what is seen in that direction, clockwise from north, and at that elevation.
pub fn direction(azimuth: Angle, elevation: Angle) -> DVec3 {
    let level = elevation.cos();
    DVec3::new(azimuth.sin() * level, azimuth.cos() * level, elevation.sin())
}

impl Blocking {
    /// What surrounds a shot where nothing is said: a bare floor, a phone at that bearing, people turned to it, and the
    /// sun over the left shoulder of whoever holds a phone that looks north.
    pub fn bare(shot: &Shot, phone_bearing: Angle) -> Self {
        Self {
            phone_bearing,
            facing: shot.usual_facing(phone_bearing),
            stances: [Stance::Still; 2],
            pace: USUAL_PACE,
            marks: None,
            clothes: [Colour::from_srgb8([0x2f, 0x6f, 0x8f]), Colour::from_srgb8([0xb5, 0x53, 0x3c])],
            people: Vec::new(),
            pieces: Vec::new(),
            foreground: None,
            light: Light::USUAL,
        }
    }
}

impl Light {
    /// Chosen because light from beside and above shows shapes.
    pub const USUAL: Self = Self::Sun { azimuth: Angle::from_deg(230.0), elevation: Angle::from_deg(38.0) };
}

impl Shot {
    /// How the subject faces where nothing is said: the phone, or half turned to the second person.
    pub fn usual_facing(&self, phone_bearing: Angle) -> Angle {
        phone_bearing
            + match self.subject {
                Subject::Person(_) | Subject::Object { .. } => Angle::ZERO,
                Subject::Pair { .. } => -TURNED_TO_EACH_OTHER,
                Subject::OverShoulder { .. } => TURNED_TO_THE_NEAR_ONE * -self.near_side(),
            }
    }

    /// The people whom the shot is of, where they are at first: the one in focus, and the second one on their mark, or where
    /// the phone, `ahead` being its direction along the floor, must see them.
    pub(crate) fn cast(&self, blocking: &Blocking, ahead: DVec2) -> Vec<Person> {
        let person = |which: usize, body: Body, (place, facing): (DVec2, Angle)| {
            let stance = blocking.stances[which];
            let clothes = blocking.clothes[which];
            let velocity = Person::velocity(&body, stance, facing, blocking.pace);
            Person { body, stance, place, facing, clothes, velocity }
        };
        let two = |first: Body, second: Body, arranged: [(DVec2, Angle); 2]| {
            let [one, other] = blocking.marks.unwrap_or(arranged);
            vec![person(0, first, one), person(1, second, other)]
        };
        let right = DVec2::new(ahead.y, -ahead.x);
        let bearing = blocking.phone_bearing;
        match self.subject {
            Subject::Person(body) => vec![person(0, body, (DVec2::ZERO, blocking.facing))],
            Subject::Pair { first, second, apart, nearer } => {
                let half = (right * apart.to_m() - ahead * nearer.to_m()) / 2.0;
                two(first, second, [(-half, blocking.facing), (half, bearing + TURNED_TO_EACH_OTHER)])
            }
            Subject::OverShoulder { facing, near, apart } => {
                let aside = right * (self.near_side() * near.shoulder_breadth().to_m() * BESIDE_A_SHOULDER);
                let near_place = aside - ahead * apart.to_m();
                let back_to_phone = bearing + Angle::from_deg(180.0);
                two(facing, near, [(DVec2::ZERO, blocking.facing), (near_place, back_to_phone)])
            }
            Subject::Object { .. } => Vec::new(),
        }
    }

    /// The side on which somebody stands whose shoulder the phone looks past, away from the subject: 1 right, −1 left.
    fn near_side(&self) -> f64 {
        if self.across > 0.5 { -1.0 } else { 1.0 }
    }
}

impl Body {
    /// How far a double step takes them, after which the limbs are as before.
    pub fn double_step(&self) -> Length {
        self.stature * (STEP_OVER_STATURE * 2.0)
    }
}

impl Person {
    /// Where a landmark of theirs is.
    pub fn at(&self, landmark: Landmark) -> DVec3 {
        self.place.extend(self.body.height_of(landmark).to_m())
    }

    /// How far and which way somebody of that stance gets in a second at that pace: nowhere, unless they walk and stand on
    /// their feet.
    pub fn velocity(body: &Body, stance: Stance, facing: Angle, pace: Length) -> DVec2 {
        match (stance, body.posture) {
            (Stance::Walking(_), Posture::Standing) => along(facing) * pace.to_m(),
            (Stance::Still, _) | (_, Posture::Seated) => DVec2::ZERO,
        }
    }

    /// Makes them go that way, walking if they are on their feet.
    pub(crate) fn set_off(&mut self, velocity: DVec2, facing: Angle) {
        self.velocity = velocity;
        self.facing = facing;
        if (self.stance, self.body.posture) == (Stance::Still, Posture::Standing) {
            self.stance = Stance::Walking(0.0);
        }
    }

    /// The same person after that many seconds.
    #[must_use]
    pub fn after(&self, seconds: f64) -> Self {
        let stance = match self.stance {
            Stance::Still => Stance::Still,
            Stance::Walking(share) => {
                let double_step = self.body.double_step().to_m();
                Stance::Walking((share + self.velocity.length() * seconds / double_step).rem_euclid(1.0))
            }
        };
        Self { place: self.place + self.velocity * seconds, stance, ..*self }
    }
}

impl Colour {
    /// A colour as screens and style sheets write it: red, green and blue, 0 to 255, each [read as sRGB](srgb_light).
    pub fn from_srgb8(written: [u8; 3]) -> Self {
        Self(written.map(srgb_light))
    }

    /// The nearest colour that screens can write, 0 to 255, each [written as sRGB](srgb_byte).
    ///
    /// The inverse of [`Colour::from_srgb8`].
    pub fn to_srgb8(self) -> [u8; 3] {
        self.0.map(srgb_byte)
    }
}

impl PieceSize {
    /// The window in a wall of that size: up to 1.4 m wide, between a sill at 0.9 m and a lintel at 2.1 m, where the wall has room
    /// for that. Chosen, as windows of rooms often are.
    pub fn window(&self) -> Opening {
        Opening {
            half_width: Length::from_m(0.7).min(self.width * 0.3),
            sill: Length::from_m(0.9).min(self.height * 0.35),
            lintel: Length::from_m(2.1).min(self.height * 0.82),
        }
    }
}

impl PieceKind {
    /// Every kind, in the order in which people are offered them.
    pub const ALL: [Self; 11] = [
        Self::Wall,
        Self::Window,
        Self::Doorway,
        Self::Table,
        Self::Bench,
        Self::Tree,
        Self::Hedge,
        Self::Car,
        Self::LampPost,
        Self::Lights,
        Self::Plant,
    ];

    /// The size of such a piece where nothing is said.
    ///
    /// Rooms 2.5 m high and more, tables of 0.75 m, seats of 0.45 m with a back, cars of 1.8 by 4.4 m: common practice.
    /// Trees, hedges, lamps and plants grow as they like: chosen because they then read as what they are.
    pub const fn usual_size(self) -> PieceSize {
        let (width, depth, height) = match self {
            Self::Wall => (4.0, 0.2, 2.6),
            Self::Window | Self::Doorway => (3.0, 0.2, 2.6),
            Self::Table => (1.4, 0.8, 0.75),
            Self::Bench => (1.5, 0.6, 0.85),
            Self::Tree => (4.0, 4.0, 6.0),
            Self::Hedge => (3.0, 0.8, 1.5),
            Self::Car => (1.8, 4.4, 1.5),
            Self::LampPost => (0.4, 0.4, 4.0),
            Self::Lights => (6.0, 0.1, 2.8),
            Self::Plant => (0.4, 0.4, 1.3),
        };
        PieceSize {
            width: Length::from_m(width),
            depth: Length::from_m(depth),
            height: Length::from_m(height),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_written_shade_comes_back() {
        for byte in 0..=255 {
            let written = [byte, 255 - byte, byte / 2];
            assert_eq!(Colour::from_srgb8(written).to_srgb8(), written);
        }
    }

    #[test]
    fn a_walker_is_as_before_after_a_double_step() {
        let body = Body::standing(Length::from_m(1.70));
        let (facing, stance) = (Angle::from_deg(90.0), Stance::Walking(0.25));
        let walker = Person {
            body,
            stance,
            place: DVec2::ZERO,
            facing,
            clothes: Colour([0.5; 3]),
            velocity: Person::velocity(&body, stance, facing, USUAL_PACE),
        };
        // 2 · 0.413 · 1.70 m at 1.4 m/s.
        let Stance::Walking(share) = walker.after(1.4042 / 1.4).stance else { panic!("still") };
        assert!((share - 0.25).abs() < 1e-9, "{share}");
        let later = walker.after(2.0);
        assert!((later.place - DVec2::new(2.8, 0.0)).length() < 1e-12, "{later:?}");
    }

    #[test]
    fn whoever_sits_does_not_walk() {
        let seated = Body { posture: Posture::Seated, ..Body::standing(Length::from_m(1.70)) };
        assert_eq!(Person::velocity(&seated, Stance::Walking(0.0), Angle::ZERO, USUAL_PACE), DVec2::ZERO);
    }
}
