//! Draws a picture: for each sample of each pixel one ray of the camera and, where it meets something, one to the sun.

use glam::DVec3;
use units::Length;

use crate::backdrop::Behind;
use crate::beam::{Beam, Middle, Sheaf};
use crate::body::{Body, melting, own_shape};
use crate::buckets::Buckets;
use crate::image::{Image, Strip};
use crate::lamps::Lamp;
use crate::lanes::{Lanes, Vector, Vectors, all, choose, each_place, least, narrow, numbers, sum};
use crate::occlusion::Occlusion;
use crate::picture::Picture;
use crate::samples::{Group, PATTERNS, Turn, pattern};
use crate::shade::{Ground, Surroundings};
use crate::solid::{NEVER, Rays};
use crate::sun_grid::{Shade, Sunlight};
use crate::tiles::{Entry, TILE, Tiles};

/// An image's size, pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Size {
    /// Across.
    pub width: u32,
    /// Down.
    pub height: u32,
}

/// What is seen at a place of the image.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Picked {
    /// Where it is in the world.
    pub point: DVec3,
    /// How far away it is along the optical axis.
    pub depth: Length,
}

/// A picture ready to be drawn at one size.
///
/// What a pixel becomes depends on the picture, the size, the pixel and how many samples are taken of it, and on nothing
/// else: strips can be drawn in any order, by anybody.
#[derive(Debug, Clone)]
pub struct Tracer {
    size: Size,
    middle: Middle,
    beam: Beam,
    bodies: Vec<Body>,
    /// For every body those that it melts into.
    melting: Buckets<u32>,
    tiles: Tiles,
    /// In the order of their shapes.
    lamps: Vec<Lamp>,
    lamp_tiles: Tiles,
    surroundings: Surroundings,
    backdrop: Option<Behind>,
    occlusion: Occlusion,
    sun: Option<Sunlight>,
}

/// What four rays meet.
struct Met {
    t: Lanes,
    /// The shape's place in its list; [`FLOOR`] or [`SKY`] where it is none.
    body: Lanes,
}

const SKY: f32 = -1.0;
const FLOOR: f32 = -2.0;

/// Samples are taken in groups of four: as many as there are lanes.
const GROUP: u32 = 4;
/// Rows of a strip, whole tiles.
const STRIP: u32 = 2 * TILE;
/// Groups that are made ready at once: chosen because those of all patterns fit into the nearer memory.
const AT_ONCE: usize = 8;

impl Tracer {
    /// Prepares a picture for an image of `size`.
    pub fn new(picture: &Picture, size: Size) -> Self {
        let middle = Middle::of(picture);
        let beam = Beam::new(picture, size, &middle);
        let own: Vec<_> = picture.shapes.iter().map(|shape| own_shape(&middle, shape)).collect();
        let lamps: Vec<Lamp> = (0_u32..)
            .zip(picture.shapes.iter().zip(&own))
            .filter_map(|(index, (shape, (solid, _)))| Lamp::of(picture, index, shape, solid))
            .collect();
        let is_lamp = |index: usize| lamps.binary_search_by_key(&index, |lamp| lamp.shape as usize).is_ok();
        let bodies = picture.shapes.iter().zip(&own).map(|(shape, own)| Body::new(shape, own)).collect();
        let surroundings = Surroundings::new(picture, &middle, beam.pixel());
        let behind = |scenery| Behind::new(scenery, picture, size, &middle, &surroundings);
        Self {
            size,
            tiles: Tiles::new(picture, size, |index| !is_lamp(index)),
            lamp_tiles: Tiles::new(picture, size, is_lamp),
            backdrop: picture.backdrop.as_ref().map(behind),
            surroundings,
            occlusion: Occlusion::new(&picture.shapes, &middle),
            sun: picture.lighting.sun.map(|sun| Sunlight::new(&sun, &middle, &own)),
            melting: melting(&picture.shapes),
            middle,
            beam,
            bodies,
            lamps,
        }
    }

    /// The image's size.
    pub const fn size(&self) -> Size {
        self.size
    }

    /// How many strips the image has, from the top.
    pub const fn strips(&self) -> u32 {
        self.size.height.div_ceil(STRIP)
    }

    /// A strip of which nothing is drawn yet.
    pub fn strip(&self, index: u32) -> Strip {
        let rows = (index * STRIP).min(self.size.height)..((index + 1) * STRIP).min(self.size.height);
        let pixels = rows.len() * self.size.width as usize;
        Strip { index, width: self.size.width, rows, samples: 0, sums: vec![[0.0; 3]; pixels] }
    }

    /// Takes `samples` more of each of the strip's pixels; they are taken four at a time, so it may be up to three more.
    pub fn trace(&self, strip: &mut Strip, samples: u32) {
        let (first, more) = (strip.samples / GROUP, samples.div_ceil(GROUP));
        let mut groups: Vec<Group> = Vec::new();
        for index in first..first + more {
            groups.push(Group::new(index));
            if groups.len() == AT_ONCE || index + 1 == first + more {
                self.take(strip, &groups);
                groups.clear();
            }
        }
        strip.samples += more * GROUP;
    }

    /// Adds the light of some groups of samples to each of the strip's pixels.
    fn take(&self, strip: &mut Strip, groups: &[Group]) {
        let taken: Vec<Taken> = (0..PATTERNS)
            .map(Turn::of)
            .flat_map(|turn| groups.iter().map(move |group| self.taken(group, &turn)))
            .collect();
        let Strip { width, rows, sums, .. } = strip;
        let down = (rows.start / TILE)..rows.end.div_ceil(TILE);
        for (tile_row, tile) in down.flat_map(|row| (0..self.tiles.columns()).map(move |tile| (row, tile))) {
            let in_tile = InTile {
                entries: self.tiles.list(tile, tile_row),
                lamps: self.lamp_tiles.list(tile, tile_row),
            };
            for row in tile_row * TILE..((tile_row + 1) * TILE).min(rows.end) {
                let line = (row - rows.start) as usize * *width as usize;
                for column in tile * TILE..((tile + 1) * TILE).min(*width) {
                    let Some(sums) = sums.get_mut(line + column as usize) else { continue };
                    let corner = self.beam.corner(pixel(column), pixel(row));
                    let first = pattern(column, row) as usize * groups.len();
                    // One after the other, so that the sum does not depend on how many are asked for at a time.
                    for taken in taken.get(first..first + groups.len()).unwrap_or_default() {
                        let light = self.radiance(&in_tile, corner, taken);
                        *sums = std::array::from_fn(|channel| sums[channel] + light[channel]);
                    }
                }
            }
        }
    }

    /// A group of samples as the pixels of a pattern take them.
    fn taken(&self, group: &Group, turn: &Turn) -> Taken {
        let sun = self.sun.as_ref().map(|sun| sun.towards(group.sun(turn)));
        Taken { sheaf: self.beam.sheaf(group, turn), sun }
    }

    /// What is seen at a place of the image, through the middle of the lens; none for the sky, or where a photo does not
    /// reach.
    pub fn pick(&self, x_px: f64, y_px: f64) -> Option<Picked> {
        let rays = self.beam.chief(narrow(x_px), narrow(y_px));
        let entries: Vec<Entry> =
            (0_u32..).take(self.bodies.len()).map(|shape| Entry { shape, nearest: 0.0 }).collect();
        let met = self.meet(&entries, &rays, Lanes::ZERO, all(NEVER));
        let has_floor = met.body.simd_eq(all(FLOOR));
        let depth = match &self.backdrop {
            Some(behind) if met.body.simd_lt(Lanes::ZERO).all() => behind.depth(&rays, has_floor, met.t)?,
            _ => met.t.to_array()[0],
        };
        let depth = f64::from(depth);
        let [x, y, z] =
            [rays.direction.x, rays.direction.y, rays.direction.z].map(|lanes| lanes.to_array()[0]);
        let direction = DVec3::new(f64::from(x), f64::from(y), f64::from(z));
        (depth < f64::from(NEVER))
            .then(|| Picked { point: self.middle.world(direction * depth), depth: Length::from_m(depth) })
    }

    /// The sum of the light of four samples of a pixel.
    fn radiance(&self, in_tile: &InTile<'_>, corner: (f32, f32), taken: &Taken) -> [f32; 3] {
        let time = taken.sheaf.time;
        let rays = self.beam.rays(corner, &taken.sheaf);
        let met = self.meet(in_tile.entries, &rays, time, all(NEVER));
        let mut seen = self.seen(&rays, &met, taken, corner);
        for entry in in_tile.lamps {
            let lamp = self.lamp(entry.shape);
            if let Some(aimed) = lamp.and_then(|lamp| lamp.rays(&self.beam, corner, &taken.sheaf)) {
                let body = self.body(entry.shape);
                let there = body.map_or(all(NEVER), |body| body.meet(&aimed.rays, time, all(NEVER)));
                let before = self.meet(in_tile.entries, &aimed.rays, time, there);
                let reached = there.simd_lt(all(NEVER)) & before.t.simd_ge(there);
                let colour = body.map_or(Vector::ZERO, |body| body.colour);
                seen = seen + colour.lanes() * (aimed.share & reached);
            }
        }
        [sum(seen.x), sum(seen.y), sum(seen.z)]
    }

    fn body(&self, shape: u32) -> Option<&Body> {
        self.bodies.get(shape as usize)
    }

    fn lamp(&self, shape: u32) -> Option<&Lamp> {
        let at = self.lamps.binary_search_by_key(&shape, |lamp| lamp.shape).ok()?;
        self.lamps.get(at)
    }

    /// The nearest thing before `until`; where there is none, the sky at `until`.
    fn meet(&self, entries: &[Entry], rays: &Rays, time: Lanes, until: Lanes) -> Met {
        let (mut nearest, mut body) = (until, all(SKY));
        for entry in entries {
            if !all(entry.nearest).simd_lt(nearest).any() {
                break;
            }
            let Some(candidate) = self.body(entry.shape) else { continue };
            let t = candidate.meet(rays, time, nearest);
            let closer = t.simd_lt(nearest);
            nearest = choose(closer, t, nearest);
            body = choose(closer, all(exact(entry.shape)), body);
        }
        if let Some(floor) = &self.surroundings.floor {
            let t = floor.meet(rays, nearest);
            let closer = t.simd_lt(nearest);
            nearest = t;
            body = choose(closer, all(FLOOR), body);
        }
        Met { t: nearest, body }
    }

    /// The light that comes back along four rays from a pixel with that corner.
    fn seen(&self, rays: &Rays, met: &Met, taken: &Taken, corner: (f32, f32)) -> Vectors {
        let photo = self.backdrop.as_ref().map(|behind| {
            let has_floor = met.body.simd_eq(all(FLOOR));
            behind.seen(rays, met.body.simd_lt(Lanes::ZERO), has_floor, met.t, taken.sheaf.taken_at(corner))
        });
        let is_sky = photo.as_ref().map_or_else(|| met.body.simd_eq(all(SKY)), |photo| photo.is_sky);
        let sky = || photo.as_ref().map_or_else(|| self.surroundings.sky(rays), |photo| photo.light);
        if is_sky.all() {
            return sky();
        }
        let t = choose(is_sky, Lanes::ONE, met.t);
        let at = rays.at(t);
        let time = taken.sheaf.time;
        let Faces { normal, mut colour, glows } = self.faces(rays, at, t, time, met);
        if let Some(photo) = &photo {
            colour = Vectors::choose(photo.is_floor, photo.light, colour);
        }
        let with_sky =
            |light: Vectors| if is_sky.any() { Vectors::choose(is_sky, sky(), light) } else { light };
        let lit = !(is_sky | glows);
        if !lit.any() {
            return with_sky(colour);
        }
        let mut light = self.surroundings.sky_light(normal) * self.occlusion.left(at, normal, lit);
        if let (Some(sun), Some(towards)) = (&self.sun, &taken.sun) {
            let height = normal.dot(sun.direction.lanes());
            let faces_sun = lit & height.simd_gt(Lanes::ZERO);
            if faces_sun.any() {
                let from = at + normal * (all(LIFT_M) + t * all(LIFT_SHARE));
                let asking = Asking { own: met.body, asked: faces_sun, time };
                let reached = self.reached(sun, &Rays { origin: from, ..*towards }, &asking);
                light = light + sun.light.lanes() * (height & reached);
            }
        }
        if let (Some(photo), Some(behind)) = (&photo, &self.backdrop) {
            light = Vectors::choose(photo.is_floor, behind.share(light), light);
        }
        let light = Vectors::choose(glows, Vectors { x: Lanes::ONE, y: Lanes::ONE, z: Lanes::ONE }, light);
        with_sky(colour * light)
    }

    /// Direction and colour of the surfaces that four rays meet.
    fn faces(&self, rays: &Rays, at: Vectors, t: Lanes, time: Lanes, met: &Met) -> Faces {
        let up = self.surroundings.floor.as_ref().map_or(Vector { x: 0.0, y: 1.0, z: 0.0 }, Ground::up);
        let mut faces = Faces { normal: up.lanes(), colour: Vector::ZERO.lanes(), glows: Lanes::ZERO };
        let is_floor = met.body.simd_eq(all(FLOOR));
        if let Some(floor) = self.surroundings.floor.as_ref().filter(|_| is_floor.any()) {
            faces.colour = floor.colour(rays, at, t);
        }
        let places = numbers(met.body);
        each_place(places, met.body.simd_ge(Lanes::ZERO), |place, here| {
            if let Some(body) = self.bodies.get(place) {
                faces.colour = Vectors::choose(here, body.colour.lanes(), faces.colour);
                // What glows does so whichever way it faces.
                if body.glows {
                    faces.glows |= here;
                } else {
                    let normal = self.melted(place, body, body.moved_back(at, time));
                    faces.normal = Vectors::choose(here, normal, faces.normal);
                }
            }
        });
        faces
    }

    /// The direction of a body's surface at places on it, bent over to those of what it melts into.
    fn melted(&self, place: usize, body: &Body, at: Vectors) -> Vectors {
        let normal = body.form.normal(at);
        let neighbours = self.melting.list(place);
        if neighbours.is_empty() {
            return normal;
        }
        let over = all(body.melts);
        let mut bent = normal;
        for other in neighbours.iter().filter_map(|other| self.body(*other)) {
            if other.form.is_near(at, body.melts).any() {
                // As much as its own where they meet, and smoothly nothing at the distance over which they melt.
                let apart = least(other.form.distance(at).abs() / over, Lanes::ONE);
                let share = Lanes::ONE - apart;
                bent = bent + other.form.normal(at) * (share * share);
            }
        }
        // Between two that face away from each other there is no direction; there it keeps its own.
        Vectors::choose(bent.length_squared().simd_gt(all(1.0e-3)), bent, normal).unit()
    }

    /// Which of the places that ask the sun reaches, each along a ray of its own to the sun's disc.
    fn reached(&self, sun: &Sunlight, rays: &Rays, asking: &Asking) -> Lanes {
        let mut open = asking.asked;
        let height = rays.origin.dot(sun.direction.lanes());
        each_place(sun.places(rays.origin), asking.asked, |place, here| {
            let mut until = all(NEVER) & here;
            for Shade { shape, top } in sun.shades(place) {
                // From here on nothing reaches farther towards the sun than the places that are still open.
                let below = until & height.simd_lt(all(top));
                if !below.simd_gt(Lanes::ZERO).any() {
                    break;
                }
                // Nothing shades the side of itself that faces the sun.
                let others = below & asking.own.simd_ne(all(exact(shape)));
                let Some(body) = self.body(shape).filter(|_| others.simd_gt(Lanes::ZERO).any()) else {
                    continue;
                };
                let shaded = body.meet(rays, asking.time, others).simd_lt(others);
                open &= !shaded;
                until &= !shaded;
            }
        });
        open
    }
}

/// Places that ask for the sun.
struct Asking {
    /// What each of them is on.
    own: Lanes,
    asked: Lanes,
    time: Lanes,
}

/// A group of samples as the pixels of one pattern take them.
#[derive(Debug, Clone, Copy)]
struct Taken {
    sheaf: Sheaf,
    /// The ways to the sun, if it shines.
    sun: Option<Rays>,
}

/// What a tile can see.
struct InTile<'tracer> {
    entries: &'tracer [Entry],
    lamps: &'tracer [Entry],
}

/// What four rays meet, as light sees it.
struct Faces {
    normal: Vectors,
    colour: Vectors,
    glows: Lanes,
}

/// Rays to the sun start this far off the surface, and this share of the depth more: chosen because single precision
/// cannot tell a place thirty metres away more closely.
const LIFT_M: f32 = 2.0e-4;
const LIFT_SHARE: f32 = 1.0e-5;

/// A pixel's place as rays calculate with it.
#[expect(clippy::cast_precision_loss, reason = "images have a few thousand pixels to a side")]
const fn pixel(place: u32) -> f32 {
    place as f32
}

/// A shape's place in its list as a lane can hold it.
#[expect(clippy::cast_precision_loss, reason = "exact up to sixteen million shapes")]
const fn exact(shape: u32) -> f32 {
    shape as f32
}

/// Draws a whole picture at once, on this thread.
pub fn draw(picture: &Picture, size: Size, samples: u32) -> Image {
    let tracer = Tracer::new(picture, size);
    let linear = (0..tracer.strips())
        .flat_map(|index| {
            let mut strip = tracer.strip(index);
            tracer.trace(&mut strip, samples);
            strip.linear()
        })
        .collect();
    Image { size, linear }
}
