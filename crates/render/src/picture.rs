//! The picture as a plain value: what a tracer needs to know and nothing else.

use glam::DVec3;
use optics::ViewTangents;
use staging::{Camera, Colour, Pupil};

use crate::backdrop::Scenery;

/// What a frame will look like: the same value always gives the same image.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// The camera when the shutter opens.
    pub opens: Camera,
    /// The camera when the shutter closes.
    pub closes: Camera,
    /// What the frame sees.
    pub view: ViewTangents,
    /// What the lens takes light through; none for a pinhole, through which all is sharp.
    pub pupil: Option<Pupil>,
    /// Everything that stands on the floor.
    pub shapes: Vec<Shape>,
    /// The floor, z = 0.
    pub floor: Floor,
    /// A photo of the place, if there is one: it is seen instead of floor and sky.
    pub backdrop: Option<Scenery>,
    /// Where the light comes from.
    pub lighting: Lighting,
}

/// A solid with its surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shape {
    /// Its form when the shutter opens.
    pub solid: Solid,
    /// What it does with light.
    pub surface: Surface,
    /// How far it moves while the shutter is open.
    pub moved: DVec3,
    /// How close to shapes of the same surface its own bends over into theirs, metres, as if cast in one piece; 0 leaves
    /// an edge. Only how light falls on it changes, not its outline.
    pub melts_m: f64,
}

/// A form that a ray meets in closed form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Solid {
    /// An ellipsoid.
    Ellipsoid {
        /// Its middle.
        centre: DVec3,
        /// Half axes, at right angles to each other.
        axes: [DVec3; 3],
    },
    /// The hull of two balls.
    RoundCone {
        /// The middle of one ball.
        from: DVec3,
        /// Its radius.
        from_radius: f64,
        /// The middle of the other.
        to: DVec3,
        /// Its radius.
        to_radius: f64,
    },
    /// A box.
    Block {
        /// Its middle.
        centre: DVec3,
        /// Half edges, at right angles to each other.
        axes: [DVec3; 3],
    },
    /// A round, elliptic if its axes differ, cylinder with flat ends.
    Cylinder {
        /// Its middle.
        centre: DVec3,
        /// Two half axes of its round section and half its length, at right angles to each other.
        axes: [DVec3; 3],
    },
}

/// What a surface does with light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Surface {
    /// It scatters that share of it evenly.
    Matt(Colour),
    /// It gives off that much, whatever falls on it; linear, 1 is the picture's white.
    Glowing([f64; 3]),
}

/// What the floor looks like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Floor {
    /// There is none: below the horizon is sky as well.
    None,
    /// Matt and plain.
    Plain(Colour),
    /// Matt, with a line every metre.
    Grid {
        /// The floor's own colour.
        colour: Colour,
        /// The colour of the lines.
        lines: Colour,
    },
}

/// Where the light comes from; all linear, 1 is the picture's white.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lighting {
    /// The sun, if it shines.
    pub sun: Option<Sun>,
    /// What the sky gives off straight up.
    pub zenith: [f64; 3],
    /// What it gives off at the horizon.
    pub horizon: [f64; 3],
    /// The light that comes back from the floor onto what stands on it, as if the floor gave it off.
    pub bounce: [f64; 3],
}

/// The sun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sun {
    /// Towards the sun, of length 1.
    pub direction: DVec3,
    /// What a white matt surface square to it gives back.
    pub light: [f64; 3],
    /// Half the angle that its disc fills, radians; 0 for edges of shadows as sharp as can be.
    pub half_angle_rad: f64,
}
