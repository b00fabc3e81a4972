//! How soft what is not in focus gets, with and without an adapter.

use units::Length;

use crate::adapter::Adapter;
use crate::focus::CircleOfConfusion;
use crate::lens::{FNumber, FocalLength};

/// A point's blur disc, as large as it looks after desqueezing, in lengths on the sensor's unsqueezed axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlurDisc {
    /// Across the adapter's axis: what a lens without an adapter would give.
    pub plain: Length,
    /// Along the adapter's axis; equal to `plain` without one.
    pub squeezed: Length,
}

/// The blur disc of a point at axial distance `distance` when the lens is focused at `focus`.
///
/// ```text
/// no adapter            b = (f² / N) |d − s| / (d (s − f))
/// adapter that focuses  b across its axis, b / S along it: an upright oval
/// adapter that does not b across its axis, S (f² / N) |d S² − s| / (d S² (s − f)) along it
/// ```
/// `f` focal length; `N` f-number; `s` focus distance (> f); `d` the point's distance (> 0), both axial, from the lens;
/// `S` squeeze. Thin lens, paraxial.
///
/// The second line: in object space the entrance pupil is D across and D/S along the axis, and both axes focus at `s`.
/// The third: an afocal cylinder pair of magnification S shows an object at `d` to the lens behind it as if at `d S²`,
/// and desqueezing multiplies the disc by S.
///
/// # Source
/// `Navy1993`, page 1-26, for the thin lens; `Saleh1991`, section 1.4 (ray transfer matrices), for the adapter.
pub fn blur_disc(
    focal_length: FocalLength,
    f_number: FNumber,
    focus: Length,
    distance: Length,
    adapter: Option<&Adapter>,
) -> BlurDisc {
    let f = focal_length.to_length();
    let (s, d) = (focus, distance);
    let scale = f * (f / (s - f)) / f_number.to_f64();
    let plain = scale * ((d - s).abs() / d);
    let squeezed = match adapter {
        None => plain,
        Some(adapter) if adapter.focusing => plain / adapter.squeeze.to_f64(),
        Some(adapter) => {
            let seen_at = d * (adapter.squeeze.to_f64() * adapter.squeeze.to_f64());
            scale * ((seen_at - s).abs() / seen_at * adapter.squeeze.to_f64())
        }
    };
    BlurDisc { plain, squeezed }
}

/// How soft, along the adapter's axis, a subject in focus stays: nothing without an adapter or with one that focuses.
///
/// ```text
/// S (f² / N) (S² − 1) / (S² (s − f))
/// ```
/// The disc of [`blur_disc`] at `d = s`. Worse the nearer.
///
/// # Source
/// `Saleh1991`, section 1.4.
pub fn subject_sideways_softness(
    focal_length: FocalLength,
    f_number: FNumber,
    focus: Length,
    adapter: Option<&Adapter>,
) -> Length {
    blur_disc(focal_length, f_number, focus, focus, adapter).squeezed
}

/// The nearest focus distance at which an adapter leaves the subject no softer sideways than `coc`.
///
/// ```text
/// s = f + (f² / N) (S² − 1) / (S c)
/// ```
/// [`subject_sideways_softness`] set equal to `c` and solved for `s`. None for an adapter that focuses.
///
/// # Source
/// `Saleh1991`, section 1.4.
pub fn useful_from(
    focal_length: FocalLength,
    f_number: FNumber,
    adapter: &Adapter,
    coc: CircleOfConfusion,
) -> Option<Length> {
    if adapter.focusing {
        return None;
    }
    let f = focal_length.to_length();
    let squeeze = adapter.squeeze.to_f64();
    let c = coc.to_length();
    Some(f + f * (f / c / f_number.to_f64()) * ((squeeze * squeeze - 1.0) / squeeze))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::adapter::Squeeze;
    use proptest::prelude::*;

    fn phone() -> (FocalLength, FNumber) {
        (FocalLength::from_mm(6.86).expect("in range"), FNumber::new(1.78).expect("in range"))
    }

    fn adapter(squeeze: f64, focusing: bool) -> Adapter {
        Adapter { focusing, ..Adapter::new(Squeeze::new(squeeze).expect("in range")) }
    }

    /// A ray (height, angle) through free space and thin cylinder lenses, one axis at a time: the textbook's matrices.
    #[derive(Clone, Copy)]
    struct Ray {
        height: f64,
        angle: f64,
    }

    impl Ray {
        fn travel(self, distance: f64) -> Self {
            Self { height: self.height + self.angle * distance, ..self }
        }
        fn lens(self, focal_length: f64) -> Self {
            Self { angle: self.angle - self.height / focal_length, ..self }
        }
    }

    /// Traces the rays that fill the aperture through an inverted telescope (front −f1, back f2 = f1/S apart f1 − f2... for
    /// wider view the front is negative) with a gap that tends to nothing, and measures the spread on the sensor.
    fn traced_width(d: f64, s: f64, squeeze: f64) -> f64 {
        let (f, n) = (6.86e-3, 1.78);
        // A front lens of −a and a back lens of a·S, separated by a (S − 1), is afocal with angular magnification 1/S.
        let a = 1.0e-6;
        let v = f * s / (s - f);
        let through = |ray: Ray| ray.lens(-a).travel(a * (squeeze - 1.0)).lens(a * squeeze);
        // The last height before the phone's lens is linear in the start angle: solve for the aperture's two edges.
        let at_lens = |angle: f64| through(Ray { height: 0.0, angle }.travel(d));
        let slope = at_lens(1.0).height;
        let on_sensor = |edge: f64| at_lens(edge / slope).lens(f).travel(v).height;
        (on_sensor(f / n / 2.0) - on_sensor(-f / n / 2.0)).abs() * squeeze
    }

    #[test]
    fn the_adapter_that_cannot_focus_agrees_with_ray_transfer_matrices() {
        // Source: Saleh1991, section 1.4; traced here with the gap between the cylinders shrunk to a micrometre.
        let (f, n) = phone();
        for squeeze in [1.33, 1.55, 2.0] {
            for (d, s) in [(1.0, 1.0), (2.0, 3.0), (10.0, 1.5), (0.5, 2.0), (100.0, 0.8)] {
                let ours =
                    blur_disc(f, n, Length::from_m(s), Length::from_m(d), Some(&adapter(squeeze, false)))
                        .squeezed;
                let traced = traced_width(d, s, squeeze);
                assert!((ours.to_m() - traced).abs() < 2e-5 * traced + 1e-10, "{ours:?} is not {traced} m");
            }
        }
    }

    #[test]
    fn the_adapter_that_cannot_focus_is_sharp_sideways_at_the_focus_over_the_squeeze_squared() {
        let (f, n) = phone();
        let s = Length::from_m(3.0);
        let disc = blur_disc(f, n, s, s / (1.33 * 1.33), Some(&adapter(1.33, false)));
        assert!(disc.squeezed.to_mm() < 1e-12, "{disc:?}");
        assert!(disc.plain.to_mm() > 1e-3, "{disc:?}");
    }

    #[test]
    fn the_adapter_that_focuses_gives_upright_ovals() {
        let (f, n) = phone();
        let disc = blur_disc(f, n, Length::from_m(1.0), Length::from_m(9.0), Some(&adapter(1.33, true)));
        assert!((disc.plain / disc.squeezed - 1.33).abs() < 1e-12, "{disc:?}");
    }

    #[test]
    fn far_discs_of_the_adapter_that_cannot_focus_come_out_wide() {
        let (f, n) = phone();
        let disc = blur_disc(f, n, Length::from_m(1.0), Length::from_m(9.0), Some(&adapter(1.33, false)));
        assert!(disc.squeezed > disc.plain, "{disc:?}");
    }

    #[test]
    fn at_the_useful_distance_the_softness_is_the_circle() {
        let (f, n) = phone();
        let coc = CircleOfConfusion::new(Length::from_mm(0.0075)).expect("in range");
        let clip_on = adapter(1.33, false);
        let from = useful_from(f, n, &clip_on, coc).expect("it cannot focus");
        let soft = subject_sideways_softness(f, n, from, Some(&clip_on));
        assert!((soft.to_mm() - 0.0075).abs() < 1e-12, "{soft:?}");
        assert_eq!(useful_from(f, n, &adapter(1.33, true), coc), None);
    }

    #[test]
    fn an_adapter_that_focuses_or_none_leaves_the_subject_sharp() {
        let (f, n) = phone();
        let at = Length::from_m(0.5);
        assert_eq!(subject_sideways_softness(f, n, at, Some(&adapter(1.33, true))), Length::ZERO);
        assert_eq!(subject_sideways_softness(f, n, at, None), Length::ZERO);
        assert!(subject_sideways_softness(f, n, at, Some(&adapter(1.33, false))) > Length::ZERO);
    }

    #[test]
    fn the_useful_distance_is_as_worked_out_by_hand() {
        // f² / (N c) = 47.0596 / 0.01335 = 3525.06 mm; (S² − 1) / S = 0.7689 / 1.33 = 0.578120; 6.86 mm more.
        let (f, n) = phone();
        let coc = CircleOfConfusion::new(Length::from_mm(0.0075)).expect("in range");
        let from = useful_from(f, n, &adapter(1.33, false), coc).expect("it cannot focus");
        assert!((from.to_mm() - 2044.77).abs() < 0.01, "{from:?}");
    }

    proptest! {
        #[test]
        fn what_is_in_focus_is_a_point(s in 0.1..100.0_f64) {
            let (f, n) = phone();
            let focus = Length::from_m(s);
            prop_assert_eq!(blur_disc(f, n, focus, focus, None).plain, Length::ZERO);
        }

        #[test]
        fn blur_grows_away_from_focus(s in 0.2..20.0_f64, d in 1.0..50.0_f64, more in 1.01..10.0_f64) {
            let (f, n) = phone();
            let at = |factor: f64| blur_disc(f, n, Length::from_m(s), Length::from_m(s * factor), None).plain;
            prop_assert!(at(d * more) > at(d));
            prop_assert!(at(1.0 / (d * more)) > at(1.0 / d));
        }
    }
}
