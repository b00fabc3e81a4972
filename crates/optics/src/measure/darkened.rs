//! How much of a delivered frame lies where an adapter darkens it.

use crate::delivery::DeliveredFrame;

/// The share of the delivered frame's area that lies outside what is clear.
///
/// ```text
/// R = c √(W² + H²) / 2          1 − |frame ∩ disc of R| / |frame|
/// ```
/// `W`, `H` sides of the recorded area (m); `c` the share of its half-diagonal up to which all is clear (0 to 1); the disc is
/// around the recorded area's middle, before desqueezing, and the frame wherever the crop has it. Where only some corners
/// are darkened it is the most that can be, because `c` is that of the worst.
///
/// # Source
/// Own derivation: the area under a circle's arc, `∫ √(R² − x²) dx = (x √(R² − x²) + R² asin(x/R)) / 2`.
pub fn darkened_share(frame: &DeliveredFrame, clear_share: f64) -> f64 {
    let (whole, part) = (frame.recorded.size, frame.area);
    let radius = libm::hypot(whole.width.to_m(), whole.height.to_m()) / 2.0 * clear_share;
    let (right, up) = (frame.centre_offset.0.to_m(), frame.centre_offset.1.to_m());
    let (half_width, half_height) = (part.width.to_m() / 2.0, part.height.to_m() / 2.0);
    let corner = |x: f64, y: f64| corner_area(x, y, radius);
    let clear = corner(right + half_width, up + half_height)
        - corner(right - half_width, up + half_height)
        - corner(right + half_width, up - half_height)
        + corner(right - half_width, up - half_height);
    let share = 1.0 - clear / (4.0 * half_width * half_height);
    // What is left of sums and differences is of the arithmetic alone.
    if share < 1e-12 { 0.0 } else { share }
}

/// The area within a disc of the rectangle between its middle and the corner (x, y), negative where one of them is.
fn corner_area(x: f64, y: f64, radius: f64) -> f64 {
    let (a, b) = (x.abs(), y.abs());
    let sign = x.signum() * y.signum();
    if a * a + b * b <= radius * radius {
        return sign * a * b;
    }
    // Under the arc up to `x`, from the middle on.
    let arc = |x: f64| {
        let triangle = x * libm::sqrt((radius * radius - x * x).max(0.0));
        let sector = radius * radius * libm::asin((x / radius).min(1.0));
        f64::midpoint(triangle, sector)
    };
    if radius <= 0.0 {
        return 0.0;
    }
    // The rectangle's upper side is within the disc up to here.
    let flat = libm::sqrt((radius * radius - b * b).max(0.0)).min(a);
    sign * (b.min(radius) * flat + arc(a.min(radius)) - arc(flat))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Adapter, Aspect, CropShift, Origin, RecordedArea, SensorSize, Squeeze, deliver};
    use proptest::prelude::*;

    fn recorded() -> RecordedArea {
        RecordedArea {
            size: SensorSize::from_mm(9.8, 5.5125).expect("in range"),
            width_px: 3840.0,
            height_px: 2160.0,
            relative_sd: 0.0,
            origin: Origin::Typed,
        }
    }

    fn cut(aspect: f64, up: f64) -> DeliveredFrame {
        deliver(recorded(), None, Aspect::new(aspect).expect("a shape"), CropShift { up, right: 0.0 })
    }

    #[test]
    fn a_widescreen_crop_loses_less_to_dark_corners() {
        let whole = darkened_share(&cut(16.0 / 9.0, 0.0), 0.9);
        let wide = darkened_share(&cut(2.39, 0.0), 0.9);
        assert!(whole > 0.01 && wide < whole, "{whole} {wide}");
        assert!(
            darkened_share(&cut(2.39, 0.0), 0.96) < 1e-12,
            "its corners lie within 0.945 of the half-diagonal"
        );
        assert!(darkened_share(&cut(2.39, 1.0), 0.96) > 0.0, "at the frame's upper edge two of them do not");
    }

    #[test]
    fn a_disc_within_the_frame_is_all_that_is_clear() {
        let frame = cut(16.0 / 9.0, 0.0);
        let radius = 0.3 * libm::hypot(9.8, 5.5125) / 2.0;
        let expected = 1.0 - std::f64::consts::PI * radius * radius / (9.8 * 5.5125);
        assert!((darkened_share(&frame, 0.3) - expected).abs() < 1e-12);
        assert!((darkened_share(&frame, 0.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn an_adapter_changes_which_part_is_cut_but_not_where_it_is_dark() {
        let adapter = Adapter::new(Squeeze::new(1.33).expect("in range"));
        let whole = deliver(
            recorded(),
            Some(&adapter),
            Aspect::new(1.33 * 16.0 / 9.0).expect("a shape"),
            CropShift::default(),
        );
        assert!((darkened_share(&whole, 0.8) - darkened_share(&cut(16.0 / 9.0, 0.0), 0.8)).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn it_is_the_share_of_points_outside(aspect in 0.3..4.0_f64, up in -1.0..1.0_f64, clear in 0.05..1.0_f64) {
            let frame = cut(aspect, up);
            let (width, height) = (frame.area.width.to_mm(), frame.area.height.to_mm());
            let radius = clear * libm::hypot(9.8, 5.5125) / 2.0;
            let mut outside = 0.0;
            let steps = 200_u32;
            for row in 0..steps {
                for column in 0..steps {
                    let at = |step: u32| (f64::from(step) + 0.5) / f64::from(steps) - 0.5;
                    let x = at(column) * width + frame.centre_offset.0.to_mm();
                    let y = at(row) * height + frame.centre_offset.1.to_mm();
                    outside += if libm::hypot(x, y) > radius { 1.0 } else { 0.0 };
                }
            }
            let sampled = outside / f64::from(steps * steps);
            prop_assert!((darkened_share(&frame, clear) - sampled).abs() < 0.01);
        }
    }
}
