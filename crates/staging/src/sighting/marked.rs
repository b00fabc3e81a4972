//! Things that are marked in a photo: how far off each mark is, were the photo taken from a pose.

use glam::{DVec2, DVec3};
use nalgebra::{Matrix4, SMatrix, SVector, Vector4};
use units::{Angle, Length};

use super::pose::{self, Pose};
use super::{Board, PhotoLens, Sights, Stated, Upright};

/// The step of a difference in what is a thing's own: a share of a pixel, a metre or a radian.
const OWN_STEP: f64 = 1.0e-4;

/// No size is better known than this: chosen because a rule is read to a tenth of a millimetre at best.
const LEAST_SD_M: f64 = 1.0e-4;

/// A thing that is marked in a photo, with `N` unknowns of its own that `M` numbers bear on.
///
/// Where it stands is told by where its foot is seen, in pixels off its mark, and how large it is by its sizes: so what
/// is known best is linear in the unknowns, and a fit does not have to feel its way along a bent valley.
pub(super) trait Marked<const N: usize, const M: usize> {
    /// Its unknowns as marked and stated, seen from a pose.
    fn start(&self, pose: &Pose) -> Option<SVector<f64, N>>;

    /// What each number is off by, over its standard uncertainty; none if nothing on the floor is seen there.
    fn misses(&self, pose: &Pose, own: &SVector<f64, N>, click_sd_px: f64) -> Option<SVector<f64, M>>;
}

impl Marked<3, 5> for Upright {
    fn start(&self, _pose: &Pose) -> Option<SVector<f64, 3>> {
        Some([0.0, 0.0, self.height.value.to_m()].into())
    }

    fn misses(&self, pose: &Pose, own: &SVector<f64, 3>, click_sd_px: f64) -> Option<SVector<f64, 5>> {
        let foot_off = DVec2::new(own[0], own[1]);
        let place = pose.floor(self.foot + foot_off)?;
        let foot_off = foot_off / click_sd_px;
        let head_off = (pose.see(place + DVec3::Z * own[2])? - self.head) / click_sd_px;
        Some([foot_off.x, foot_off.y, head_off.x, head_off.y, miss(own[2], self.height)].into())
    }
}

impl Marked<5, 10> for Board {
    fn start(&self, pose: &Pose) -> Option<SVector<f64, 5>> {
        let across = pose.floor(self.bottom[1])? - pose.floor(self.bottom[0])?;
        let turn = libm::atan2(across.y, across.x);
        Some([0.0, 0.0, turn, self.width.value.to_m(), self.height.value.to_m()].into())
    }

    fn misses(&self, pose: &Pose, own: &SVector<f64, 5>, click_sd_px: f64) -> Option<SVector<f64, 10>> {
        let [right_px, down_px, turn, width_m, height_m] = [own[0], own[1], own[2], own[3], own[4]];
        let left_off = DVec2::new(right_px, down_px);
        let left = pose.floor(self.bottom[0] + left_off)?;
        let right = left + DVec3::new(libm::cos(turn), libm::sin(turn), 0.0) * width_m;
        let up = DVec3::Z * height_m;
        let off = |point: DVec3, mark: DVec2| Some((pose.see(point)? - mark) / click_sd_px);
        let left_foot = left_off / click_sd_px;
        let right_foot = off(right, self.bottom[1])?;
        let left_head = off(left + up, self.top[0])?;
        let right_head = off(right + up, self.top[1])?;
        Some(
            [
                left_foot.x,
                left_foot.y,
                right_foot.x,
                right_foot.y,
                left_head.x,
                left_head.y,
                right_head.x,
                right_head.y,
                miss(width_m, self.width),
                miss(height_m, self.height),
            ]
            .into(),
        )
    }
}

/// How far a length is from what is stated of it, over its standard uncertainty.
fn miss(value_m: f64, stated: Stated<Length>) -> f64 {
    (value_m - stated.value.to_m()) / stated.sd.to_m().max(LEAST_SD_M)
}

/// What is given of the whole photo: the horizon's two points, height, tilt, roll and focal length; 0 for what is not.
pub(super) type WholeMisses = SVector<f64, 6>;

/// No angle is better known than this, and no focal length than a share of this: chosen because no phone's level shows
/// it.
const LEAST_SD: f64 = 1.0e-5;

/// What each number that is given of the whole photo is off by, over its standard uncertainty.
///
/// A point of the horizon is off by `f tan τ − x sin ρ − y cos ρ` pixels, square to the horizon; `x`, `y` pixels right
/// of and below the photo's middle. See [`Sights::horizon_look`].
pub(super) fn whole_misses(sights: &Sights, unknowns: &Vector4<f64>, pose: &Pose) -> WholeMisses {
    let [tilt, roll, focal] = [unknowns[1], unknowns[2], unknowns[3]];
    let horizon = sights.horizon.map_or([0.0; 2], |points| {
        points.map(|point| {
            let at = point - sights.lens.size_px / 2.0;
            let off = pose.focal_px() * libm::tan(tilt) - at.x * libm::sin(roll) - at.y * libm::cos(roll);
            off / sights.click_sd_px
        })
    });
    let angle = |value: f64, stated: Option<Stated<Angle>>| {
        stated.map_or(0.0, |stated| (value - stated.value.to_rad()) / stated.sd.to_rad().max(LEAST_SD))
    };
    let height = sights.height.map_or(0.0, |stated| miss(pose.height_m(), stated));
    [
        horizon[0],
        horizon[1],
        height,
        angle(tilt, sights.tilt),
        angle(roll, sights.roll),
        focal / sights.lens.focal_relative_sd.max(LEAST_SD),
    ]
    .into()
}

/// Equations for the change of a pose that lessens the sum of squares, with everything else already solved for.
#[derive(Debug, Clone)]
pub(super) struct Normal {
    pub(super) matrix: Matrix4<f64>,
    pub(super) vector: Vector4<f64>,
}

/// What gives a thing's own change once that of the pose is known.
pub(super) struct Own<const N: usize> {
    inverse: SMatrix<f64, N, N>,
    cross: SMatrix<f64, N, 4>,
    vector: SVector<f64, N>,
}

impl<const N: usize> Own<N> {
    /// The change of the thing's own unknowns that goes with that of the pose.
    pub(super) fn change(&self, of_pose: &Vector4<f64>) -> SVector<f64, N> {
        -(self.inverse * (self.vector + self.cross * of_pose))
    }
}

impl Normal {
    /// What is given of the whole photo.
    pub(super) fn of_whole(sights: &Sights, unknowns: &Vector4<f64>, damping: f64) -> Option<Self> {
        let now = whole_misses(sights, unknowns, &Pose::new(unknowns, &sights.lens)?);
        let mut slopes = SMatrix::<f64, 6, 4>::zeros();
        for index in 0..4 {
            let at = |step: f64| {
                let mut moved = *unknowns;
                moved[index] += step;
                Some(whole_misses(sights, &moved, &Pose::new(&moved, &sights.lens)?))
            };
            slopes.set_column(index, &((at(pose::STEP)? - at(-pose::STEP)?) * (0.5 / pose::STEP)));
        }
        Some(Self { matrix: damped(slopes.transpose() * slopes, damping), vector: slopes.transpose() * now })
    }

    /// Adds a thing with its own unknowns solved for (the Schur complement).
    ///
    /// ```text
    /// N = Σ (U − W V⁻¹ Wᵀ)          b = Σ (a − W V⁻¹ c)
    /// ```
    /// `U`, `V` the products of the slopes by the pose and by the thing's own unknowns, `W` of the two, `a`, `c` of the
    /// slopes and the misses.
    ///
    /// # Source
    /// `Hartley2004`, appendix 6 (partitioned Levenberg–Marquardt).
    pub(super) fn add<const N: usize, const M: usize>(
        &mut self,
        thing: &impl Marked<N, M>,
        at: (&Vector4<f64>, &SVector<f64, N>),
        photo: (&PhotoLens, f64),
        damping: f64,
    ) -> Option<Own<N>> {
        let ((unknowns, own), (lens, click_sd_px)) = (at, photo);
        let here = Pose::new(unknowns, lens)?;
        let now = thing.misses(&here, own, click_sd_px)?;
        let columns = pose::slopes(unknowns, lens, |pose| thing.misses(pose, own, click_sd_px))?;
        let by_pose = SMatrix::<f64, M, 4>::from_columns(&columns);
        let mut by_own = SMatrix::<f64, M, N>::zeros();
        for index in 0..N {
            let at = |step: f64| {
                let mut moved = *own;
                moved[index] += step;
                thing.misses(&here, &moved, click_sd_px)
            };
            by_own.set_column(index, &((at(OWN_STEP)? - at(-OWN_STEP)?) * (0.5 / OWN_STEP)));
        }
        let inverse = damped(by_own.transpose() * by_own, damping).cholesky()?.inverse();
        let cross = by_own.transpose() * by_pose;
        let vector = by_own.transpose() * now;
        self.matrix += damped(by_pose.transpose() * by_pose, damping) - cross.transpose() * inverse * cross;
        self.vector += by_pose.transpose() * now - cross.transpose() * inverse * vector;
        Some(Own { inverse, cross, vector })
    }
}

/// A matrix with its diagonal enlarged by a share of itself.
fn damped<const N: usize>(mut matrix: SMatrix<f64, N, N>, share: f64) -> SMatrix<f64, N, N> {
    for index in 0..N {
        matrix[(index, index)] *= 1.0 + share;
    }
    matrix
}
