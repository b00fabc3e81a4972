//! The picture: what a setup's frame will look like, through a true thin lens.
//!
//! Resolve, then draw: a [`Picture`] is a plain value, and a [`Tracer`] draws it.
//!
//! # Conventions
//! - World as in `staging`: metres, x east, y north, z up, the floor is z = 0.
//! - Light is linear, in sRGB's primaries; 1 is the picture's white.
//! - Images: origin top left, rows downward.
#![deny(clippy::disallowed_methods, clippy::disallowed_types)]

mod backdrop;
mod beam;
mod body;
mod bounds;
mod buckets;
mod cells;
mod figure;
mod image;
mod lamps;
mod lanes;
mod lighting;
mod occlusion;
mod photo;
mod picture;
mod resolve;
mod samples;
mod set_piece;
mod shade;
mod solid;
mod sun_grid;
mod tiles;
mod tracer;
mod workshop;

pub use backdrop::Scenery;
pub use image::{Image, Screen, Strip};
pub use photo::Photo;
pub use picture::{Floor, Lighting, Picture, Shape, Solid, Sun, Surface};
pub use tracer::{Picked, Size, Tracer, draw};
