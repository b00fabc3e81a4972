//! A horizontal field of view as it was seen, with how well it is known.

use units::{Angle, Length};

use crate::lens::Lens;
use crate::recording::Recording;

/// A horizontal field of view with its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeenView {
    /// The full angle.
    pub horizontal_fov: Angle,
    /// Its standard uncertainty.
    pub sd: Angle,
}

impl SeenView {
    /// The view whose half angle has the tangent `t`, known to a share of `relative_sd` of it.
    ///
    /// ```text
    /// φ = 2 atan t          u(φ) = 2 t / (1 + t²) · u(t)/t
    /// ```
    /// `t` tangent of the half angle (> 0); `φ` full angle; `u` standard uncertainty, first order.
    ///
    /// # Source
    /// `Jcgm2008`, 5.1.2: `dφ/dt = 2 / (1 + t²)`.
    pub fn from_tangent(t: f64, relative_sd: f64) -> Self {
        Self {
            horizontal_fov: Angle::from_tan(t) * 2.0,
            sd: Angle::from_rad(2.0 * t / (1.0 + t * t) * relative_sd),
        }
    }

    /// What follows from the sensor and the mode's crops, were nothing measured, focused at `at`.
    pub fn worked_out(mode: &Recording, lens: &Lens, at: Length) -> Self {
        let area = mode.area(lens);
        let v = lens.image_distance(Some(at));
        Self::from_tangent(area.size.width / v / 2.0, area.relative_sd)
    }

    /// How many times wider this view is than another, as lengths across the frame go, with its standard uncertainty.
    ///
    /// ```text
    /// r = tan(φ₁/2) / tan(φ₂/2)          (u(r)/r)² = (u(t₁)/t₁)² + (u(t₂)/t₂)²
    /// ```
    /// `φ` full angles; `t` tangents of the half angles. A mode over the whole photo: what its crop leaves of the width.
    ///
    /// # Source
    /// `Jcgm2008`, 5.1.6 (a quotient).
    pub fn width_over(&self, other: &Self) -> (f64, f64) {
        let ratio = self.tangent() / other.tangent();
        (ratio, ratio * libm::hypot(self.relative_sd(), other.relative_sd()))
    }

    /// The tangent of the half angle.
    pub fn tangent(&self) -> f64 {
        (self.horizontal_fov / 2.0).tan()
    }

    /// The standard uncertainty of the half angle's tangent, as a share of it.
    pub fn relative_sd(&self) -> f64 {
        // The inverse of what `from_tangent` does: d(tan x) / tan x = dx / (sin x cos x), for the half angle x.
        let half = self.horizontal_fov / 2.0;
        self.sd.to_rad() / 2.0 / (half.sin() * half.cos())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FocalLength, Known, Origin, Scale, SensorSize};

    fn lens() -> Lens {
        Lens {
            focal_length: Known::new(FocalLength::from_mm(6.86).expect("in range"), Origin::Typed),
            f_number: None,
            sensor: Known::new(SensorSize::from_mm(9.8, 7.35).expect("in range"), Origin::Typed),
            closest_focus: None,
            scale: Scale::True,
        }
    }

    #[test]
    fn a_crop_is_seen_as_less_width() {
        let mode = Recording::new(3840, 2160).expect("a mode");
        let cropped = mode.with_stabiliser_crop(1.1).expect("a mode");
        let view = |mode| SeenView::worked_out(mode, &lens(), Length::from_m(2.0));
        let (ratio, _) = view(&cropped).width_over(&view(&mode));
        assert!((ratio - 1.0 / 1.1).abs() < 1e-12, "{ratio}");
    }

    #[test]
    fn a_view_knows_its_tangent_as_well_as_it_was_told() {
        let view = SeenView::from_tangent(0.7, 0.01);
        assert!(
            (view.tangent() - 0.7).abs() < 1e-12 && (view.relative_sd() - 0.01).abs() < 1e-12,
            "{view:?}"
        );
    }
}
