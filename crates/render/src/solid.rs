//! Where four rays meet a solid, in closed form.
//!
//! A ray is first followed to where it passes nearest to the solid's middle. From there on all numbers are about as
//! large as the solid, so that single precision does for a light of a centimetre thirty metres away, and a ray that
//! passes outside the ball around the solid costs next to nothing.

use glam::DVec3;

use crate::lanes::{Lanes, Vector, Vectors, all, choose, least, most, narrow, root};
use crate::picture::Solid;

/// Four rays: points at `origin + t direction`; no direction is shorter than 1.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rays {
    pub(crate) origin: Vectors,
    pub(crate) direction: Vectors,
    /// One over the square of the direction's length.
    pub(crate) per_square: Lanes,
}

/// A solid, ready to be met.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Form {
    /// The middle of a ball around it.
    centre: Vector,
    /// That ball's radius, and its square.
    reach: f32,
    reach_squared: f32,
    kind: Kind,
}

/// What a solid is, about its middle.
#[derive(Debug, Clone, Copy)]
enum Kind {
    /// What the rows take to the unit ball.
    Ellipsoid([Vector; 3]),
    /// What the rows take to the cube from -1 to 1.
    Block([Vector; 3]),
    /// What the rows take to the cylinder of radius 1 from -1 to 1 along z.
    Cylinder([Vector; 3]),
    RoundCone(Cone),
}

/// The hull of two balls.
#[derive(Debug, Clone, Copy)]
struct Cone {
    from: Vector,
    /// From the middle of one ball to that of the other.
    axis: Vector,
    from_radius: f32,
    to_radius: f32,
    /// The square of the axis's length less the square of the difference of the radii: above 0.
    slope: f32,
    axis_squared: f32,
    length: f32,
    /// How the side leans towards the axis: sine and cosine.
    lean: f32,
    upright: f32,
}

/// Larger than any number of a ray that is alive, and still far from overflow when squared.
pub(crate) const NEVER: f32 = 1.0e15;
/// Added to what is divided by, so that a ray exactly along a face divides by something.
const HARDLY: f32 = 1.0e-18;

impl Rays {
    pub(crate) fn new(origin: Vectors, direction: Vectors) -> Self {
        Self { origin, direction, per_square: Lanes::ONE / direction.length_squared() }
    }

    pub(crate) fn at(&self, t: Lanes) -> Vectors {
        self.origin + self.direction * t
    }
}

/// The rows that take half axes to unit vectors.
fn to_unit(axes: [DVec3; 3]) -> [Vector; 3] {
    axes.map(|axis| Vector::new(axis / axis.length_squared()))
}

impl Form {
    /// A solid in the tracer's own directions.
    pub(crate) fn new(solid: &Solid) -> Self {
        let (centre, reach, kind) = match *solid {
            Solid::Ellipsoid { centre, axes } => {
                let reach = axes.iter().map(|axis| axis.length()).fold(0.0, f64::max);
                (centre, reach, Kind::Ellipsoid(to_unit(axes)))
            }
            Solid::Block { centre, axes } => {
                let corner = axes.iter().map(|axis| axis.length_squared()).sum::<f64>();
                (centre, libm::sqrt(corner), Kind::Block(to_unit(axes)))
            }
            Solid::Cylinder { centre, axes } => {
                let section = axes[0].length_squared().max(axes[1].length_squared());
                let reach = libm::sqrt(section + axes[2].length_squared());
                (centre, reach, Kind::Cylinder(to_unit(axes)))
            }
            Solid::RoundCone { from, from_radius, to, to_radius } => {
                round_cone((from, from_radius), (to, to_radius))
            }
        };
        // The ball is a little larger than it must be, so that rounding cuts nothing off.
        let reach = narrow(reach) * (1.0 + 1.0e-4);
        Self { centre: Vector::new(centre), reach, reach_squared: reach * reach, kind }
    }

    /// Where the rays enter the solid: the ray parameter, [`NEVER`] where they do not, or not before `until`.
    ///
    /// `adrift` moves the rays' origins: what the solid has moved by then, the other way round.
    #[inline]
    pub(crate) fn meet(&self, rays: &Rays, adrift: Option<Vectors>, until: Lanes) -> Lanes {
        let mut from_centre = rays.origin - self.centre.lanes();
        if let Some(adrift) = adrift {
            from_centre = from_centre + adrift;
        }
        let passes = -(from_centre.dot(rays.direction) * rays.per_square);
        let nearest = from_centre + rays.direction * passes;
        let reach = all(self.reach);
        let may = nearest.length_squared().simd_le(all(self.reach_squared))
            // A direction of length 1 or more is through the ball within its radius.
            & (passes - reach).simd_lt(until)
            & (passes + reach).simd_gt(Lanes::ZERO);
        if !may.any() {
            return all(NEVER);
        }
        let (enters, hits) = self.kind.meet(nearest, rays.direction);
        let t = passes + enters;
        let hits = hits & may & t.simd_gt(Lanes::ZERO) & t.simd_lt(until);
        choose(hits, t, all(NEVER))
    }

    /// Which points may lie within `over` of the surface.
    pub(crate) fn is_near(&self, at: Vectors, over: f32) -> Lanes {
        let reach = self.reach + over;
        (at - self.centre.lanes()).length_squared().simd_lt(all(reach * reach))
    }

    /// How far outside the surface points near it are, to first order.
    pub(crate) fn distance(&self, at: Vectors) -> Lanes {
        let point = at - self.centre.lanes();
        match &self.kind {
            Kind::Ellipsoid(rows) => outside_ball(rows, through(rows, point)),
            Kind::Block(rows) => {
                let unit = through(rows, point);
                let out = |value: Lanes, row: Vector| {
                    (value.abs() - Lanes::ONE) / row.lanes().length_squared().sqrt()
                };
                most(most(out(unit.x, rows[0]), out(unit.y, rows[1])), out(unit.z, rows[2]))
            }
            Kind::Cylinder(rows) => {
                let unit = through(rows, point);
                let side = outside_ball(rows, Vectors { x: unit.x, y: unit.y, z: Lanes::ZERO });
                most(side, (unit.z.abs() - Lanes::ONE) / rows[2].lanes().length_squared().sqrt())
            }
            Kind::RoundCone(cone) => cone.distance(point),
        }
    }

    /// The outward direction of the surface at a point on it, of length 1.
    pub(crate) fn normal(&self, at: Vectors) -> Vectors {
        let point = at - self.centre.lanes();
        let normal = match &self.kind {
            Kind::Ellipsoid(rows) => back(rows, through(rows, point)),
            Kind::Block(rows) => {
                let unit = through(rows, point);
                // The face is the one whose coordinate is nearest to ±1.
                let (x, y, z) = (unit.x.abs(), unit.y.abs(), unit.z.abs());
                let is_x = x.simd_ge(y) & x.simd_ge(z);
                let is_y = y.simd_ge(z) & !is_x;
                let is_z = !(is_x | is_y);
                let face =
                    |is: Lanes, value: Lanes| is & choose(value.simd_lt(Lanes::ZERO), all(-1.0), Lanes::ONE);
                let local = Vectors { x: face(is_x, unit.x), y: face(is_y, unit.y), z: face(is_z, unit.z) };
                back(rows, local)
            }
            Kind::Cylinder(rows) => {
                let unit = through(rows, point);
                let across = unit.x * unit.x + unit.y * unit.y;
                let on_end = (unit.z * unit.z).simd_gt(across);
                let end = Vectors { x: Lanes::ZERO, y: Lanes::ZERO, z: unit.z };
                let side = Vectors { x: unit.x, y: unit.y, z: Lanes::ZERO };
                back(rows, Vectors::choose(on_end, end, side))
            }
            Kind::RoundCone(cone) => cone.normal(point),
        };
        normal.unit()
    }
}

impl Kind {
    /// When rays enter, counted from where they pass nearest to the middle, and which of them do.
    #[inline(never)]
    fn meet(&self, nearest: Vectors, direction: Vectors) -> (Lanes, Lanes) {
        match self {
            Self::Ellipsoid(rows) => meet_ball(rows, nearest, direction),
            Self::Block(rows) => meet_cube(rows, nearest, direction),
            Self::Cylinder(rows) => meet_cylinder(rows, nearest, direction),
            Self::RoundCone(cone) => cone.meet(nearest, direction),
        }
    }
}

/// A round cone, or the ball that it is if one of its balls holds the other.
fn round_cone((from, from_radius): (DVec3, f64), (to, to_radius): (DVec3, f64)) -> (DVec3, f64, Kind) {
    let axis = to - from;
    let slope = axis.length_squared() - (from_radius - to_radius) * (from_radius - to_radius);
    if slope <= 1.0e-12 {
        let (centre, radius) = if from_radius >= to_radius { (from, from_radius) } else { (to, to_radius) };
        let axes = DVec3::AXES.map(|axis| axis * radius);
        return (centre, radius, Kind::Ellipsoid(to_unit(axes)));
    }
    // The smallest ball around both: its ends lie on the axis.
    let unit = axis.normalize();
    let reach = (axis.length() + from_radius + to_radius) / 2.0;
    let centre = from + unit * (reach - from_radius);
    let cone = Cone {
        from: Vector::new(from - centre),
        axis: Vector::new(axis),
        from_radius: narrow(from_radius),
        to_radius: narrow(to_radius),
        slope: narrow(slope),
        axis_squared: narrow(axis.length_squared()),
        length: narrow(axis.length()),
        lean: narrow((from_radius - to_radius) / axis.length()),
        upright: narrow(libm::sqrt(slope) / axis.length()),
    };
    (centre, reach, Kind::RoundCone(cone))
}

fn through(rows: &[Vector; 3], vector: Vectors) -> Vectors {
    Vectors { x: rows[0].lanes().dot(vector), y: rows[1].lanes().dot(vector), z: rows[2].lanes().dot(vector) }
}

/// The way back for normals, which go by the transpose.
fn back(rows: &[Vector; 3], vector: Vectors) -> Vectors {
    rows[0].lanes() * vector.x + rows[1].lanes() * vector.y + rows[2].lanes() * vector.z
}

/// Of the unit ball: with m the point of the ray nearest to the middle, the ray enters √((1 − m²) / d²) before it.
fn meet_ball(rows: &[Vector; 3], point: Vectors, direction: Vectors) -> (Lanes, Lanes) {
    let (point, direction) = (through(rows, point), through(rows, direction));
    let per_square = Lanes::ONE / direction.length_squared();
    let passes = -(point.dot(direction) * per_square);
    let nearest = point + direction * passes;
    let inside = Lanes::ONE - nearest.length_squared();
    (passes - root(inside * per_square), inside.simd_ge(Lanes::ZERO))
}

/// How far outside what `rows` take to the unit ball a point is: |p| − 1 over the length of its gradient.
fn outside_ball(rows: &[Vector; 3], unit: Vectors) -> Lanes {
    let length = unit.length_squared().sqrt();
    let gradient = back(rows, unit).length_squared().sqrt();
    (length - Lanes::ONE) * length / most(gradient, all(HARDLY))
}

/// The cube from -1 to 1, by its three pairs of faces.
fn meet_cube(rows: &[Vector; 3], point: Vectors, direction: Vectors) -> (Lanes, Lanes) {
    let (point, direction) = (through(rows, point), through(rows, direction));
    let (x, y, z) = (slab(point.x, direction.x), slab(point.y, direction.y), slab(point.z, direction.z));
    let enters = most(most(x.0, y.0), z.0);
    let leaves = least(least(x.1, y.1), z.1);
    (enters, enters.simd_le(leaves))
}

/// When a coordinate enters and leaves -1 to 1.
fn slab(point: Lanes, direction: Lanes) -> (Lanes, Lanes) {
    let per = Lanes::ONE / (direction + all(HARDLY));
    let (one, other) = ((-Lanes::ONE - point) * per, (Lanes::ONE - point) * per);
    (least(one, other), most(one, other))
}

/// The cylinder of radius 1 from -1 to 1 along z.
fn meet_cylinder(rows: &[Vector; 3], point: Vectors, direction: Vectors) -> (Lanes, Lanes) {
    let (point, direction) = (through(rows, point), through(rows, direction));
    let square = direction.x * direction.x + direction.y * direction.y + all(1.0e-30);
    let per_square = Lanes::ONE / square;
    let passes = -((point.x * direction.x + point.y * direction.y) * per_square);
    let (x, y) = (point.x + direction.x * passes, point.y + direction.y * passes);
    let inside = Lanes::ONE - (x * x + y * y);
    let half = root(inside * per_square);
    let ends = slab(point.z, direction.z);
    let enters = most(passes - half, ends.0);
    let leaves = least(passes + half, ends.1);
    (enters, inside.simd_ge(Lanes::ZERO) & enters.simd_le(leaves))
}

impl Cone {
    /// The nearest of: the side between the two circles where it touches the balls, one ball, the other ball. A ball's
    /// part inside the hull is never nearer than the hull.
    ///
    /// With a the axis, o from the first ball's middle, r the difference of the radii and e = a² − r²: the side is where
    /// e o² − (a·o)² + 2 r R (a·o) − a² R² = 0 and 0 < a·o − r R < e, R the first radius.
    fn meet(&self, point: Vectors, direction: Vectors) -> (Lanes, Lanes) {
        let axis = self.axis.lanes();
        let from = point - self.from.lanes();
        let to = from - axis;
        let difference = all(self.from_radius - self.to_radius);
        let radius = all(self.from_radius);
        let slope = all(self.slope);
        let square = direction.length_squared();
        let (along_from, along) = (axis.dot(from), axis.dot(direction));
        let from_direction = from.dot(direction);
        let from_square = from.length_squared();
        let k2 = slope * square - along * along;
        let k1 = slope * from_direction - along_from * along + along * difference * radius;
        let k0 = slope * from_square - along_from * along_from
            + (along_from + along_from) * difference * radius
            - all(self.axis_squared) * radius * radius;
        let inside = k1 * k1 - k0 * k2;
        let side = -(root(inside) + k1) / choose(k2.simd_eq(Lanes::ZERO), all(HARDLY), k2);
        let height = along_from - radius * difference + side * along;
        let on_side = inside.simd_ge(Lanes::ZERO) & height.simd_gt(Lanes::ZERO) & height.simd_lt(slope);
        let per_square = Lanes::ONE / square;
        let (first, on_first) = ball(from_direction, from_square, radius, square, per_square);
        let (second, on_second) =
            ball(to.dot(direction), to.length_squared(), all(self.to_radius), square, per_square);
        let never = all(NEVER);
        let nearest = least(
            choose(on_side, side, never),
            least(choose(on_first, first, never), choose(on_second, second, never)),
        );
        (nearest, on_side | on_first | on_second)
    }

    /// Where a point is: along the axis and away from it, and whether it is nearest to one ball, the side or the other.
    ///
    /// The side leans by b = difference of the radii / length, a = √(1 − b²): points nearest to it have
    /// 0 < a y − b x < a length, x their distance from the axis and y how far along they are.
    fn beside(&self, from: Vectors) -> Beside {
        let [length, lean, upright] = [self.length, self.lean, self.upright].map(all);
        let axis = self.axis.lanes() * (Lanes::ONE / length);
        let along = axis.dot(from);
        let away = from - axis * along;
        let distance = away.length_squared().sqrt();
        let place = upright * along - lean * distance;
        Beside {
            axis,
            away: away * (Lanes::ONE / most(distance, all(HARDLY))),
            distance,
            along,
            is_first: place.simd_le(Lanes::ZERO),
            is_second: place.simd_ge(upright * length),
        }
    }

    fn distance(&self, point: Vectors) -> Lanes {
        let from = point - self.from.lanes();
        let Beside { distance, along, is_first, is_second, .. } = self.beside(from);
        let side = distance * all(self.upright) + along * all(self.lean) - all(self.from_radius);
        let first = from.length_squared().sqrt() - all(self.from_radius);
        let second = (from - self.axis.lanes()).length_squared().sqrt() - all(self.to_radius);
        choose(is_first, first, choose(is_second, second, side))
    }

    fn normal(&self, point: Vectors) -> Vectors {
        let from = point - self.from.lanes();
        let Beside { axis, away, is_first, is_second, .. } = self.beside(from);
        let side = away * all(self.upright) + axis * all(self.lean);
        let second = Vectors::choose(is_second, from - self.axis.lanes(), side);
        Vectors::choose(is_first, from, second)
    }
}

/// Where points are beside a cone's axis.
struct Beside {
    axis: Vectors,
    /// Away from the axis, of length 1.
    away: Vectors,
    distance: Lanes,
    along: Lanes,
    is_first: Lanes,
    is_second: Lanes,
}

/// When a ray enters a ball: by its middle's way along and its distance.
fn ball(
    along: Lanes,
    distance_squared: Lanes,
    radius: Lanes,
    square: Lanes,
    per_square: Lanes,
) -> (Lanes, Lanes) {
    let inside = along * along - square * (distance_squared - radius * radius);
    (-(root(inside) + along) * per_square, inside.simd_ge(Lanes::ZERO))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn turned(axes: [f64; 3], turn: f64) -> [DVec3; 3] {
        let rotation = glam::DQuat::from_euler(glam::EulerRot::XYZ, turn, turn * 0.7, 0.4 - turn);
        [rotation * DVec3::X * axes[0], rotation * DVec3::Y * axes[1], rotation * DVec3::Z * axes[2]]
    }

    /// Whether a point is inside, by each solid's definition rather than by how rays meet it; below 1 inside.
    fn inside(solid: &Solid, point: DVec3) -> f64 {
        let shares = |centre: DVec3, axes: [DVec3; 3]| {
            axes.map(|axis| ((point - centre).dot(axis) / axis.length_squared()).abs())
        };
        match *solid {
            Solid::Ellipsoid { centre, axes } => DVec3::from_array(shares(centre, axes)).length(),
            Solid::Block { centre, axes } => shares(centre, axes).into_iter().fold(0.0, f64::max),
            Solid::Cylinder { centre, axes } => {
                let [x, y, z] = shares(centre, axes);
                libm::hypot(x, y).max(z)
            }
            // The hull of two balls is the union of all balls between them: look for the one that holds the point best.
            Solid::RoundCone { from, from_radius, to, to_radius } => {
                let at = |share: f64| {
                    point.distance(from.lerp(to, share)) / (from_radius + (to_radius - from_radius) * share)
                };
                let (mut low, mut high) = (0.0, 1.0);
                for _ in 0..40 {
                    let third = (high - low) / 3.0;
                    if at(low + third) < at(high - third) { high -= third } else { low += third }
                }
                at(low)
            }
        }
    }

    fn solids() -> impl Strategy<Value = Solid> {
        let size = || 0.02..0.5_f64;
        let axes =
            || (size(), size(), size(), -3.0..3.0_f64).prop_map(|(a, b, c, turn)| turned([a, b, c], turn));
        let place = || (-1.0..1.0_f64, -1.0..1.0_f64, 3.0..8.0_f64).prop_map(DVec3::from);
        prop_oneof![
            (place(), axes()).prop_map(|(centre, axes)| Solid::Ellipsoid { centre, axes }),
            (place(), axes()).prop_map(|(centre, axes)| Solid::Block { centre, axes }),
            (place(), axes()).prop_map(|(centre, axes)| Solid::Cylinder { centre, axes }),
            (place(), place(), size(), size()).prop_map(|(from, to, from_radius, to_radius)| {
                Solid::RoundCone { from, from_radius, to: from + (to - from) * 0.3, to_radius }
            }),
        ]
    }

    /// A ray that passes a solid's middle by shares of its reach.
    fn aimed(solid: &Solid, (x, y): (f64, f64)) -> (Rays, DVec3) {
        let middle =
            DVec3::AXES.map(|axis| solid.interval(axis)).map(|(least, most)| f64::midpoint(least, most));
        let half = solid.interval(DVec3::X).1 - middle[0];
        let towards = DVec3::from_array(middle) + DVec3::new(x * half, y * half, 0.0);
        one_ray(towards.x / towards.z, towards.y / towards.z)
    }

    fn one_ray(x: f64, y: f64) -> (Rays, DVec3) {
        let direction = DVec3::new(x, y, 1.0);
        (Rays::new(Vector::ZERO.lanes(), Vector::new(direction).lanes()), direction)
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(256))]

        #[test]
        fn a_ray_enters_where_it_first_is_inside(solid in solids(), past in (-1.2..1.2_f64, -1.2..1.2_f64)) {
            let (rays, direction) = aimed(&solid, past);
            let t = f64::from(Form::new(&solid).meet(&rays, None, all(NEVER)).to_array()[0]);
            let first = (0..2000)
                .map(|step| 2.0 + f64::from(step) * 0.004)
                .find(|depth| inside(&solid, direction * *depth) < 0.999);
            match first {
                Some(first) => {
                    prop_assert!(t <= first + 1e-3, "{t} is after {first}");
                    let there = inside(&solid, direction * t);
                    prop_assert!((there - 1.0).abs() < 4e-3, "at {t}: {there}");
                }
                // Grazing rays may slip between the steps.
                None => prop_assert!(t > 1e9 || (inside(&solid, direction * t) - 1.0).abs() < 4e-3, "{t}"),
            }
        }

        #[test]
        fn a_surface_faces_out_of_the_solid(solid in solids(), past in (-0.5..0.5_f64, -0.5..0.5_f64)) {
            let (rays, direction) = aimed(&solid, past);
            let form = Form::new(&solid);
            let t = form.meet(&rays, None, all(NEVER));
            let depth = f64::from(t.to_array()[0]);
            prop_assume!(depth < 1e9);
            let normal = form.normal(rays.at(t));
            let [nx, ny, nz] = [normal.x, normal.y, normal.z].map(|lanes| f64::from(lanes.to_array()[0]));
            let normal = DVec3::new(nx, ny, nz);
            prop_assert!((normal.length() - 1.0).abs() < 1e-5);
            prop_assert!(normal.dot(direction) < 2e-2, "seen from behind: {normal} {direction}");
            let outside = inside(&solid, direction * depth + normal * 4e-3);
            prop_assert!(outside > 1.0, "{outside}");
        }

        #[test]
        fn a_point_off_the_surface_is_as_far_from_it(solid in solids(), past in (-0.5..0.5_f64, -0.5..0.5_f64)) {
            let (rays, _) = aimed(&solid, past);
            let form = Form::new(&solid);
            let t = form.meet(&rays, None, all(NEVER));
            prop_assume!(t.to_array()[0] < 1e9);
            let at = rays.at(t);
            prop_assert!(form.distance(at).to_array()[0].abs() < 1e-4);
            let off = at + form.normal(at) * all(5e-4);
            let distance = form.distance(off).to_array()[0];
            prop_assert!((distance - 5e-4).abs() < 3.5e-4, "{distance}");
            prop_assert!(form.is_near(off, 1e-3).all());
        }

        #[test]
        fn a_small_ball_far_away_is_met_where_it_is(x in -0.3..0.3_f64, z in 20.0..60.0_f64) {
            let centre = DVec3::new(x * z, 0.1 * z, z);
            let ball = Solid::Ellipsoid { centre, axes: DVec3::AXES.map(|axis| axis * 0.01) };
            let (rays, direction) = one_ray(x, 0.1);
            let t = f64::from(Form::new(&ball).meet(&rays, None, all(NEVER)).to_array()[0]);
            prop_assert!((direction * t).distance(centre) < 0.011, "{t}");
        }
    }

    #[test]
    fn a_ball_within_a_ball_is_the_larger_ball() {
        let cone = Solid::RoundCone {
            from: DVec3::new(0.0, 0.0, 5.0),
            from_radius: 1.0,
            to: DVec3::new(0.0, 0.0, 4.8),
            to_radius: 0.1,
        };
        let (rays, _) = one_ray(0.0, 0.0);
        assert!((Form::new(&cone).meet(&rays, None, all(NEVER)).to_array()[0] - 4.0).abs() < 1e-5);
    }

    #[test]
    fn nothing_is_met_behind_or_past_the_end() {
        let ball = |z: f64| Solid::Ellipsoid { centre: DVec3::Z * z, axes: DVec3::AXES };
        let (rays, _) = one_ray(0.0, 0.0);
        let meet = |z, until| Form::new(&ball(z)).meet(&rays, None, all(until)).to_array()[0];
        assert!(meet(-5.0, NEVER) >= NEVER);
        assert!(meet(5.0, 3.9) >= NEVER);
        assert!((meet(5.0, 4.1) - 4.0).abs() < 1e-5);
    }
}
