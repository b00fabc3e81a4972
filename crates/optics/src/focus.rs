//! What is sharp: circle of confusion, hyperfocal distance, depth of field.

use units::Length;

use crate::lens::{FNumber, FocalLength};
use crate::sensor::SensorSize;

/// The largest blur disc on the sensor that still counts as sharp; positive.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct CircleOfConfusion(Length);

/// How far the sharp zone reaches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FarLimit {
    /// To that axial distance.
    At(Length),
    /// Without end.
    Infinity,
}

/// The axial distances between which a point counts as sharp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SharpZone {
    /// The nearest.
    pub near: Length,
    /// The farthest.
    pub far: FarLimit,
}

impl CircleOfConfusion {
    /// A circle of that diameter on the sensor: above 0 and at most 1 mm.
    pub fn new(diameter: Length) -> Option<Self> {
        (diameter > Length::ZERO && diameter <= Length::from_mm(1.0)).then_some(Self(diameter))
    }

    /// The recorded area's diagonal over 1500: common practice.
    ///
    /// Neither squeeze nor delivery changes it: it says how far the recorded picture may be enlarged.
    pub fn from_recorded_area(size: SensorSize) -> Self {
        Self(size.diagonal() / 1500.0)
    }

    /// One delivered pixel, on the sensor.
    pub fn from_delivered_pixel(px_per_m: f64) -> Self {
        Self(Length::from_m(1.0 / px_per_m))
    }

    /// As a length on the sensor.
    pub const fn to_length(self) -> Length {
        self.0
    }
}

/// The nearest focus distance that keeps infinity acceptably sharp.
///
/// ```text
/// H = f² / (N c) + f
/// ```
/// `f` focal length; `N` f-number; `c` circle of confusion; `H` from the lens. Thin lens, paraxial.
///
/// # Differences
/// `Army0507` and `Navy1993` leave the `+ f` out.
///
/// # Source
/// `Army0507`, learning event 10.
///
/// # Examples
/// The source's 50 mm (2 in) lens at f/8 with a 0.002 in circle: 20.8 ft, and 2 in more with the exact form.
/// ```
/// use optics::{CircleOfConfusion, FNumber, FocalLength, hyperfocal_distance};
/// use units::{Length, LengthUnit};
/// let inch = 25.4;
/// let coc = CircleOfConfusion::new(Length::from_mm(0.002 * inch)).ok_or("out of range")?;
/// let h = hyperfocal_distance(FocalLength::from_mm(2.0 * inch)?, FNumber::new(8.0)?, coc);
/// assert!((h.to(LengthUnit::Feet) - 2.0 / 12.0 - 20.833).abs() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn hyperfocal_distance(focal_length: FocalLength, f_number: FNumber, coc: CircleOfConfusion) -> Length {
    let f = focal_length.to_length();
    let c = coc.to_length();
    f * (f / c / f_number.to_f64()) + f
}

/// Between which axial distances a point counts as sharp.
///
/// ```text
/// near = s (H − f) / (H + s − 2f)
/// far  = s (H − f) / (H − s),  infinite from s ≥ H
/// ```
/// `s` focus distance (> f); `H` hyperfocal distance; `f` focal length; all axial, from the lens. Thin lens, paraxial,
/// round pupil; along the squeezed axis of an adapter that cannot focus these limits do not hold.
///
/// # Source
/// `Navy1993`, page 1-26, in the exact form (the source's own leaves `f` out beside `H` and `s`).
pub fn sharp_zone(focal_length: FocalLength, hyperfocal: Length, focus: Length) -> SharpZone {
    let f = focal_length.to_length();
    let (h, s) = (hyperfocal, focus);
    let near = s * ((h - f) / (h + s - f * 2.0));
    let far = if s < h { FarLimit::At(s * ((h - f) / (h - s))) } else { FarLimit::Infinity };
    SharpZone { near, far }
}

impl SharpZone {
    /// Whether a point at that axial distance counts as sharp.
    pub fn holds(&self, distance: Length) -> bool {
        let not_beyond = match self.far {
            FarLimit::At(far) => distance <= far,
            FarLimit::Infinity => true,
        };
        distance >= self.near && not_beyond
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lens(f: f64, n: f64) -> (FocalLength, FNumber) {
        (FocalLength::from_mm(f).expect("in range"), FNumber::new(n).expect("in range"))
    }

    fn circle(mm: f64) -> CircleOfConfusion {
        CircleOfConfusion::new(Length::from_mm(mm)).expect("in range")
    }

    #[test]
    fn far_limit_is_infinite_from_the_hyperfocal_distance_on() {
        let (f, n) = lens(6.86, 1.78);
        let h = hyperfocal_distance(f, n, circle(0.0075));
        assert_eq!(sharp_zone(f, h, h).far, FarLimit::Infinity);
        assert!(matches!(sharp_zone(f, h, h * 0.999).far, FarLimit::At(_)));
    }

    #[test]
    fn focused_at_the_hyperfocal_distance_half_of_it_is_sharp() {
        let (f, n) = lens(50.0, 8.0);
        let h = hyperfocal_distance(f, n, circle(0.03));
        let near = sharp_zone(f, h, h).near;
        assert!((near / h - 0.5).abs() < 1e-9, "{}", near / h);
    }

    #[test]
    fn a_circle_of_nothing_is_none() {
        assert_eq!(CircleOfConfusion::new(Length::ZERO), None);
        assert_eq!(CircleOfConfusion::new(Length::from_mm(2.0)), None);
    }

    #[test]
    fn the_usual_circle_is_the_recorded_diagonal_over_1500() {
        // 36 x 24 mm: the root of 1296 + 576 is 43.2666 mm, and a 1500th of it 0.028844 mm.
        let full = SensorSize { width: Length::from_mm(36.0), height: Length::from_mm(24.0) };
        let circle = CircleOfConfusion::from_recorded_area(full).to_length().to_mm();
        assert!((circle - 0.028_844).abs() < 1e-6, "{circle} mm");
    }

    #[test]
    fn a_delivered_pixel_is_as_large_as_so_many_fill_a_length() {
        // 400 pixels on a millimetre: each is 0.0025 mm.
        let circle = CircleOfConfusion::from_delivered_pixel(400.0e3).to_length().to_mm();
        assert!((circle - 0.0025).abs() < 1e-15, "{circle} mm");
    }

    #[test]
    fn a_circle_may_be_a_whole_millimetre() {
        assert!(CircleOfConfusion::new(Length::from_mm(1.0)).is_some());
    }

    #[test]
    fn the_limits_are_as_worked_out_by_hand() {
        // f = 50 mm at f/5 with 0.05 mm: H = 2500 / 0.25 + 50 = 10050 mm. From 5050 mm, H - f = 10 m and s = 5.05 m give
        // near = 5.05 · 10 / (10.05 + 5.05 - 0.1) = 50.5 / 15 m and far = 5.05 · 10 / 5 = 10.1 m.
        let (f, n) = lens(50.0, 5.0);
        let h = hyperfocal_distance(f, n, circle(0.05));
        assert!((h.to_mm() - 10_050.0).abs() < 1e-9, "{h:?}");
        let zone = sharp_zone(f, h, Length::from_mm(5050.0));
        let FarLimit::At(far) = zone.far else { panic!("{zone:?}") };
        assert!((zone.near.to_m() - 50.5 / 15.0).abs() < 1e-12, "{zone:?}");
        assert!((far.to_m() - 10.1).abs() < 1e-12, "{zone:?}");
    }

    #[test]
    fn a_zone_holds_its_limits_and_nothing_outside_them() {
        let (near, far) = (Length::from_m(2.0), Length::from_m(5.0));
        let zone = SharpZone { near, far: FarLimit::At(far) };
        let holds = |metres: f64| zone.holds(Length::from_m(metres));
        assert!(holds(2.0) && holds(3.0) && holds(5.0), "within");
        assert!(!holds(1.999) && !holds(5.001), "outside");
        let endless = SharpZone { near, far: FarLimit::Infinity };
        assert!(endless.holds(Length::from_m(1.0e6)) && !endless.holds(Length::from_m(1.999)), "without end");
    }

    proptest! {
        #[test]
        fn focus_lies_within_the_sharp_zone(f in 1.0..100.0_f64, n in 1.0..22.0_f64, c in 0.001..0.05_f64, s in 1.1..1000.0_f64) {
            let (focal, number) = lens(f, n);
            let focus = focal.to_length() * s;
            let zone = sharp_zone(focal, hyperfocal_distance(focal, number, circle(c)), focus);
            prop_assert!(zone.near < focus);
            if let FarLimit::At(far) = zone.far {
                prop_assert!(far > focus);
            }
        }

        /// What the limits mean, by the other formula: there a point's disc is the circle of confusion.
        #[test]
        fn at_the_limits_the_blur_disc_is_the_circle(
            f in 1.0..100.0_f64, n in 1.0..22.0_f64, c in 0.001..0.05_f64, s in 1.1..1000.0_f64,
        ) {
            let (focal, number) = lens(f, n);
            let focus = focal.to_length() * s;
            let zone = sharp_zone(focal, hyperfocal_distance(focal, number, circle(c)), focus);
            let disc_mm = |at: Length| crate::blur::blur_disc(focal, number, focus, at, None).plain.to_mm();
            prop_assert!((disc_mm(zone.near) - c).abs() < 1e-9 * c, "{} mm", disc_mm(zone.near));
            if let FarLimit::At(far) = zone.far {
                prop_assert!((disc_mm(far) - c).abs() < 1e-6 * c, "{} mm", disc_mm(far));
            }
        }

        #[test]
        fn stopping_down_never_shrinks_depth_of_field(f in 1.0..100.0_f64, n in 1.0..20.0_f64, more in 1.0..3.0_f64, s in 1.1..500.0_f64) {
            let (focal, open) = lens(f, n);
            let closed = FNumber::new(n * more).expect("in range");
            let focus = focal.to_length() * s;
            let zone = |number| sharp_zone(focal, hyperfocal_distance(focal, number, circle(0.01)), focus);
            let (wide, narrow) = (zone(open), zone(closed));
            prop_assert!(narrow.near <= wide.near * (1.0 + 1e-12));
            match (wide.far, narrow.far) {
                (FarLimit::At(wide), FarLimit::At(narrow)) => prop_assert!(narrow >= wide * (1.0 - 1e-12)),
                (FarLimit::Infinity, FarLimit::At(_)) => prop_assert!(false, "the far limit came nearer"),
                (_, FarLimit::Infinity) => {}
            }
        }
    }
}
