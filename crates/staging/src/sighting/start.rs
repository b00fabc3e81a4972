//! Where to begin: the pose that is likeliest at a look up or down, in closed form.

use nalgebra::Vector4;

use super::Sights;
use super::pose::Pose;

/// Looks that are tried where no horizon is given, in degrees: every fifth up to 80°, chosen because a phone near the
/// floor sees the horizon close above a door's foot, and only from near there does the way to the best fit lead
/// downhill.
const TILTS_DEG: (f64, u32) = (5.0, 16);

/// Rolls that are tried beside the stated one, in degrees: chosen because a photo that leans more is turned by hand
/// first.
const ROLLS_DEG: [f64; 5] = [0.0, -8.0, 8.0, -20.0, 20.0];

/// The height of a phone that nothing is said of: chosen because a phone is held before the chest or the eyes.
const USUAL_HEIGHT_M: f64 = 1.5;

/// Poses to begin from, with the height that what is marked then suggests: rows of them, each a roll and in order of
/// tilt. None stands for a look from which something marked cannot be seen.
pub(super) fn starts(sights: &Sights) -> Vec<Vec<Option<Vector4<f64>>>> {
    let by_horizon = sights.horizon_look().map(|(tilt, roll)| (tilt.to_rad(), roll.to_rad()));
    let stated_roll = sights.roll.map_or(0.0, |roll| roll.value.to_rad());
    let stated_tilt = sights.tilt.map(|tilt| (tilt.value.to_rad(), stated_roll));
    let single =
        by_horizon.into_iter().chain(stated_tilt).map(|(tilt, roll)| vec![start(sights, tilt, roll)]);
    let grid = ROLLS_DEG.iter().map(|roll_deg| {
        let roll = stated_roll + roll_deg.to_radians();
        let tilts =
            (0..=2 * TILTS_DEG.1).map(|step| TILTS_DEG.0 * (f64::from(step) - f64::from(TILTS_DEG.1)));
        tilts.map(|tilt_deg| start(sights, tilt_deg.to_radians(), roll)).collect()
    });
    single.chain(grid).collect()
}

/// The pose of a look, at the stated height or else the middle (of logarithms) of what each marked thing says of it.
///
/// ```text
/// h = H / z₁   or   W / w₁
/// ```
/// `z₁`, `w₁` how tall and wide the thing would be were the phone 1 m above the floor; `H`, `W` what is known of it.
/// Everything seen scales with the phone's height.
///
/// # Source
/// `Criminisi2000` (heights from one view are known up to one scale).
fn start(sights: &Sights, tilt: f64, roll: f64) -> Option<Vector4<f64>> {
    let mut unknowns = Vector4::new(1.0, tilt, roll, 0.0);
    let pose = Pose::new(&unknowns, &sights.lens)?;
    let mut logarithms = Vec::new();
    let mut note = |known_m: f64, of_one: f64| {
        if of_one > 0.0 {
            logarithms.push(libm::log(known_m / of_one));
        }
    };
    for upright in &sights.uprights {
        note(upright.height.value.to_m(), pose.height_over(pose.floor(upright.foot)?, upright.head)?);
    }
    for board in &sights.boards {
        let [left, right] = [pose.floor(board.bottom[0])?, pose.floor(board.bottom[1])?];
        note(board.height.value.to_m(), pose.height_over(left, board.top[0])?);
        note(board.height.value.to_m(), pose.height_over(right, board.top[1])?);
        note(board.width.value.to_m(), left.distance(right));
    }
    let count = u32::try_from(logarithms.len()).map_or(f64::MAX, f64::from);
    unknowns[0] = match sights.height {
        Some(height) => height.value.to_m(),
        None if logarithms.is_empty() => USUAL_HEIGHT_M,
        None => libm::exp(logarithms.iter().sum::<f64>() / count),
    };
    Some(unknowns)
}
