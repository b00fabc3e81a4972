//! A photo of the place behind everything: where rays that meet nothing else meet it, and what it shows there.

use std::sync::Arc;

use glam::DVec3;
use staging::Backdrop;

use crate::beam::Middle;
use crate::lanes::{Lanes, Vector, Vectors, all, choose, most, narrow, root};
use crate::photo::Photo;
use crate::picture::Picture;
use crate::shade::{Surroundings, floor};
use crate::solid::Rays;
use crate::tracer::Size;

/// A photo of the place as a picture has it behind everything.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenery {
    /// Where it was taken from, and the floor and the wall that it stands for.
    pub place: Backdrop,
    /// Its pixels.
    pub photo: Arc<Photo>,
}

/// A photo behind everything, in the tracer's own directions.
#[derive(Debug, Clone)]
pub(crate) struct Behind {
    photo: Arc<Photo>,
    /// Which of the photo's levels is looked up: one for the whole picture, chosen because what is seen from about where
    /// a photo was taken has about the same scale all over a frame; samples even out the rest.
    level: usize,
    /// Where it was taken from.
    from: Vector,
    /// Its right, up and forward.
    directions: [Vector; 3],
    /// Its left and upper edge, tangents, and its pixels to a tangent across and down.
    left: f32,
    up: f32,
    per_tangent: (f32, f32),
    /// Its width and height.
    size: (f32, f32),
    east: Vector,
    north: Vector,
    far_squared: f32,
    /// One over the light on the open floor.
    per_light: Vector,
    /// Stripes of both tones to a tangent.
    stripes: f32,
}

/// What is behind four rays.
pub(crate) struct Backlight {
    /// The photo's own light, or that of what it does not cover.
    pub(crate) light: Vectors,
    /// Where that is the floor in the photo, on which shadows fall.
    pub(crate) is_floor: Lanes,
    /// Where no shape is met and it is something else, whose light is its own.
    pub(crate) is_sky: Lanes,
}

/// Where in the photo what four rays meet is shown, in its pixels.
struct Shown {
    t: Lanes,
    x: Lanes,
    y: Lanes,
    is_floor: Lanes,
    is_covered: Lanes,
}

/// Where four rays meet floor or wall.
struct Meeting {
    t: Lanes,
    is_floor: Lanes,
    is_met: Lanes,
}

/// A level's pixels are at most this large in those of the picture: chosen so that four samples of a pixel, each of which
/// looks at a square of two, leave nothing of the photo out.
const COARSEST: f64 = 0.5;
/// Points of the frame along each side of it, at which the scale of the photo is asked for: chosen to find a corner in
/// which it is finer.
const SCALES: u32 = 5;
/// Rays this much outside the photo are still at its edge, pixels: chosen well above rounding.
const EDGE_PX: f32 = 0.01;
/// What the photo does not cover: two tones in stripes, calm and like no place. Chosen darker than a place by day, and so
/// near to each other that they do not draw the eye.
const TONES: [[f32; 3]; 2] = [[0.095, 0.093, 0.090], [0.130, 0.128, 0.124]];
/// Stripes of both tones to the frame's height: chosen by eye.
const STRIPES: f64 = 18.0;
/// The square of the sine from straight up or down within which a ray ends before it meets the wall.
const STEEPEST: f32 = 1.0e-10;

impl Behind {
    pub(crate) fn new(
        scenery: &Scenery,
        picture: &Picture,
        size: Size,
        middle: &Middle,
        surroundings: &Surroundings,
    ) -> Self {
        let Scenery { place, photo } = scenery;
        let Backdrop { photo: _, camera, view, far } = place;
        let (width, height) = photo.size();
        let up = middle.vector(DVec3::Z);
        let sky = surroundings.sky_light(Vector::new(up).lanes());
        let sun = picture
            .lighting
            .sun
            .map_or(DVec3::ZERO, |sun| DVec3::from_array(sun.light) * sun.direction.z.max(0.0));
        let open = DVec3::from_array([sky.x, sky.y, sky.z].map(|lanes| f64::from(lanes.to_array()[0]))) + sun;
        Self {
            photo: Arc::clone(photo),
            level: photo.level_for(COARSEST * scale(scenery, picture, size, middle)),
            from: Vector::new(middle.place(camera.position())),
            directions: [camera.right(), camera.up(), camera.forward()]
                .map(|direction| Vector::new(middle.vector(direction))),
            left: narrow(view.left),
            up: narrow(view.up),
            per_tangent: (narrow(width / view.width()), narrow(height / view.height())),
            size: (narrow(width), narrow(height)),
            east: Vector::new(middle.vector(DVec3::X)),
            north: Vector::new(middle.vector(DVec3::Y)),
            far_squared: narrow(far.to_m() * far.to_m()),
            per_light: Vector::new(open.map(|light| if light > 0.0 { 1.0 / light } else { 0.0 })),
            stripes: narrow(STRIPES / picture.view.height()),
        }
    }

    /// What is behind rays that meet no shape, where `is_behind`; they meet the floor at `floor_t` where `has_floor`. `at`
    /// is where they are taken in the image, tangents.
    #[inline(never)] // So that pictures without a photo are no slower for it.
    pub(crate) fn seen(
        &self,
        rays: &Rays,
        is_behind: Lanes,
        has_floor: Lanes,
        floor_t: Lanes,
        at: (Lanes, Lanes),
    ) -> Backlight {
        if !is_behind.any() {
            return Backlight { light: Vector::ZERO.lanes(), is_floor: Lanes::ZERO, is_sky: Lanes::ZERO };
        }
        let Shown { x, y, is_covered, is_floor, .. } = self.shown(rays, has_floor, floor_t);
        let light = if is_covered.any() { self.photo.light(self.level, x, y) } else { Vector::ZERO.lanes() };
        let light = if is_covered.all() { light } else { Vectors::choose(is_covered, light, self.hatch(at)) };
        let is_floor = is_floor & is_covered;
        Backlight { light, is_floor, is_sky: is_behind & !is_floor }
    }

    /// What the photo's floor gives back in a light, of what it gives back in the photo.
    pub(crate) fn share(&self, light: Vectors) -> Vectors {
        light * self.per_light.lanes()
    }

    /// How far along four rays that are one the photo's floor or wall is; none where the photo does not cover it.
    pub(crate) fn depth(&self, rays: &Rays, has_floor: Lanes, floor_t: Lanes) -> Option<f32> {
        let Shown { t, is_covered, .. } = self.shown(rays, has_floor, floor_t);
        is_covered.all().then(|| t.to_array()[0])
    }

    /// Where the photo shows what rays meet.
    fn shown(&self, rays: &Rays, has_floor: Lanes, floor_t: Lanes) -> Shown {
        let Meeting { t, is_floor, is_met } = self.meet(rays, has_floor, floor_t);
        let (x, y, is_ahead) = self.pixels(rays.at(t));
        let edge = all(EDGE_PX);
        let is_within = x.simd_ge(-edge)
            & x.simd_le(all(self.size.0) + edge)
            & y.simd_ge(-edge)
            & y.simd_le(all(self.size.1) + edge);
        Shown { t, x, y, is_floor, is_covered: is_met & is_ahead & is_within }
    }

    /// Where rays meet floor or wall: `staging::Backdrop::meets` for four.
    fn meet(&self, rays: &Rays, has_floor: Lanes, floor_t: Lanes) -> Meeting {
        let (east, north) = (self.east.lanes(), self.north.lanes());
        let from = rays.origin - self.from.lanes();
        let (from_east, from_north) = (from.dot(east), from.dot(north));
        let (east, north) = (rays.direction.dot(east), rays.direction.dot(north));
        let a = most(east * east + north * north, all(STEEPEST) / rays.per_square);
        let b = from_east * east + from_north * north;
        let c = from_east * from_east + from_north * from_north - all(self.far_squared);
        let square = b * b - a * c;
        let length = root(square);
        // Of the two forms of the larger root the one that takes no difference of what is nearly the same.
        let is_away = b.simd_gt(Lanes::ZERO);
        let leaves = choose(is_away, -c / choose(is_away, b + length, Lanes::ONE), (length - b) / a);
        let enters = most(-(b + length) / a, Lanes::ZERO);
        let is_open = square.simd_ge(Lanes::ZERO) & leaves.simd_gt(Lanes::ZERO);
        let is_blocked = has_floor & floor_t.simd_lt(enters);
        let is_floor = is_open & has_floor & floor_t.simd_le(leaves) & !is_blocked;
        let is_met = is_open & !is_blocked;
        Meeting { t: choose(is_floor, floor_t, choose(is_met, leaves, Lanes::ONE)), is_floor, is_met }
    }

    /// Where in the photo places are seen, in pixels from its upper left corner, and which are ahead of where it was taken.
    fn pixels(&self, place: Vectors) -> (Lanes, Lanes, Lanes) {
        let off = place - self.from.lanes();
        let [right, up, ahead] = self.directions.map(|direction| off.dot(direction.lanes()));
        let is_ahead = ahead.simd_gt(all(1.0e-6));
        let per_ahead = Lanes::ONE / choose(is_ahead, ahead, Lanes::ONE);
        let x = (right * per_ahead + all(self.left)) * all(self.per_tangent.0);
        let y = (all(self.up) - up * per_ahead) * all(self.per_tangent.1);
        (x, y, is_ahead)
    }

    /// What is drawn where the photo does not reach, at places of the image in tangents.
    fn hatch(&self, (right, up): (Lanes, Lanes)) -> Vectors {
        let stripe = (right + up) * all(self.stripes);
        let is_first = (stripe - floor(stripe)).simd_lt(all(0.5));
        let [first, second] = TONES.map(|[x, y, z]| Vector { x, y, z }.lanes());
        Vectors::choose(is_first, first, second)
    }
}

/// How many pixels of the photo there are to one of the picture, where they are fewest.
fn scale(scenery: &Scenery, picture: &Picture, size: Size, middle: &Middle) -> f64 {
    let Scenery { place, photo } = scenery;
    let view = &picture.view;
    let lens = middle.world(DVec3::ZERO);
    let pixel = (view.width() / f64::from(size.width.max(1)), view.height() / f64::from(size.height.max(1)));
    let seen = |right: f64, up: f64| {
        let direction = middle.world(DVec3::new(right, up, 1.0)) - lens;
        let point = place.meets(lens, direction)?;
        Some(place.shows(point)?.to_px(&place.view, photo.size()))
    };
    let share = |at: u32| (f64::from(at) + 0.5) / f64::from(SCALES);
    let step = |one: (f64, f64), other: (f64, f64)| libm::hypot(one.0 - other.0, one.1 - other.1);
    let scale_at = |across: u32, down: u32| {
        let (right, up) = (view.width() * share(across) - view.left, view.up - view.height() * share(down));
        let here = seen(right, up)?;
        Some(step(here, seen(right + pixel.0, up)?).min(step(here, seen(right, up - pixel.1)?)))
    };
    let scales = (0..SCALES).flat_map(|down| (0..SCALES).map(move |across| (across, down)));
    scales.filter_map(|(across, down)| scale_at(across, down)).reduce(f64::min).unwrap_or(1.0)
}
