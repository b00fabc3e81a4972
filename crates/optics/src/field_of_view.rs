//! How much a frame sees.

use units::{Angle, Length};

use crate::delivery::DeliveredFrame;
use crate::lens::{FocalLength, Lens, Scale};

/// The image distance of a lens focused by extension.
///
/// ```text
/// v = f s / (s − f)
/// ```
/// `f` focal length; `s` focus distance, axial, from the lens (> f); `v` distance from lens to sensor.
/// Thin lens, paraxial. An afocal adapter leaves `v` alone.
///
/// # Source
/// `Navy1993`, pages 1-26 to 1-28 (conjugate foci).
///
/// # Examples
/// A 50 mm lens at twice its focal length images at twice its focal length:
/// ```
/// use optics::{FocalLength, image_distance};
/// use units::Length;
/// let v = image_distance(FocalLength::from_mm(50.0)?, Length::from_mm(100.0));
/// assert!((v.to_mm() - 100.0).abs() < 1e-9);
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn image_distance(focal_length: FocalLength, focus: Length) -> Length {
    let f = focal_length.to_length();
    f * (focus / (focus - f))
}

impl Lens {
    /// The image distance when focused at `focus`; at infinity, or where only the equivalent is known, the focal length.
    pub fn image_distance(&self, focus: Option<Length>) -> Length {
        match (focus, self.scale) {
            (Some(focus), Scale::True) => image_distance(self.focal_length.value, focus),
            (None, Scale::True) | (_, Scale::Equivalent) => self.focal_length.value.to_length(),
        }
    }
}

/// Tangents of the angles between the optical axis and a frame's edges; all four positive while the axis is inside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ViewTangents {
    /// To the left edge.
    pub left: f64,
    /// To the right edge.
    pub right: f64,
    /// To the upper edge.
    pub up: f64,
    /// To the lower edge.
    pub down: f64,
}

/// What a delivered frame sees through a lens at `image_distance`.
///
/// ```text
/// tan = w S / 2v   (each way; field of view = atan(right) + atan(left), 2 atan(w S / 2v) when centred)
/// ```
/// `w` delivered length on the sensor; `S` squeeze along it, 1 on the other axis; `v` image distance.
///
/// # Source
/// `OpenCv2025`, `calibrationMatrixValues`; with the squeeze, `Saleh1991`, section 1.4 (an afocal pair divides tangents).
pub fn view_tangents(frame: &DeliveredFrame, image_distance: Length) -> ViewTangents {
    let half = (frame.area.width / 2.0, frame.area.height / 2.0);
    let (right, up) = frame.centre_offset;
    ViewTangents {
        left: (half.0 - right) / image_distance * frame.squeeze.0,
        right: (half.0 + right) / image_distance * frame.squeeze.0,
        up: (half.1 + up) / image_distance * frame.squeeze.1,
        down: (half.1 - up) / image_distance * frame.squeeze.1,
    }
}

impl ViewTangents {
    /// The full horizontal field of view.
    pub fn horizontal_fov(&self) -> Angle {
        Angle::from_tan(self.right) + Angle::from_tan(self.left)
    }

    /// The full vertical field of view.
    pub fn vertical_fov(&self) -> Angle {
        Angle::from_tan(self.up) + Angle::from_tan(self.down)
    }

    /// Tangent between the axis and the frame's centre, upwards: 0 for a centred crop.
    pub const fn centre_up(&self) -> f64 {
        f64::midpoint(self.up, -self.down)
    }

    /// Tangent between the axis and the frame's centre, to the right: 0 for a centred crop.
    pub const fn centre_right(&self) -> f64 {
        f64::midpoint(self.right, -self.left)
    }

    /// The frame's height in tangents.
    pub const fn height(&self) -> f64 {
        self.up + self.down
    }

    /// The frame's width in tangents.
    pub const fn width(&self) -> f64 {
        self.left + self.right
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::delivery::{Aspect, CropShift, deliver};
    use crate::known::Origin;
    use crate::recording::RecordedArea;
    use crate::sensor::SensorSize;

    fn assert_is(value: f64, expected: f64) {
        assert!((value - expected).abs() < 1e-12, "{value} is not {expected}");
    }

    /// A frame of 8 x 2 mm whose centre lies 1 mm to the right of the axis and 0.5 mm above it.
    fn frame(squeeze: (f64, f64)) -> DeliveredFrame {
        let size = SensorSize { width: Length::from_mm(8.0), height: Length::from_mm(6.0) };
        let (width_px, height_px) = (4000.0, 3000.0);
        let recorded = RecordedArea { size, width_px, height_px, relative_sd: 0.0, origin: Origin::Typed };
        let whole = deliver(recorded, None, Aspect::new(4.0).expect("a shape"), CropShift::default());
        DeliveredFrame { centre_offset: (Length::from_mm(1.0), Length::from_mm(0.5)), squeeze, ..whole }
    }

    #[test]
    fn each_edge_is_seen_where_it_lies_on_the_sensor() {
        // Half of 8 mm is 4: 3 mm to the left and 5 to the right. Half of 2 mm is 1: 1.5 mm up and 0.5 down. Over 5 mm.
        let view = view_tangents(&frame((1.0, 1.0)), Length::from_mm(5.0));
        for (edge, expected) in [(view.left, 0.6), (view.right, 1.0), (view.up, 0.3), (view.down, 0.1)] {
            assert_is(edge, expected);
        }
    }

    #[test]
    fn a_squeeze_multiplies_the_tangents_along_its_axis_alone() {
        let plain = view_tangents(&frame((1.0, 1.0)), Length::from_mm(5.0));
        let wide = view_tangents(&frame((1.5, 1.0)), Length::from_mm(5.0));
        assert_is(wide.left, plain.left * 1.5);
        assert_is(wide.right, plain.right * 1.5);
        assert_eq!((wide.up, wide.down), (plain.up, plain.down));
        let high = view_tangents(&frame((1.0, 1.5)), Length::from_mm(5.0));
        assert_is(high.up, plain.up * 1.5);
        assert_is(high.down, plain.down * 1.5);
        assert_eq!((high.left, high.right), (plain.left, plain.right));
    }

    #[test]
    fn a_field_of_view_is_the_angle_between_two_edges() {
        // atan 1 is 45° and atan √3 is 60°.
        let view = ViewTangents { left: 1.0, right: 3.0_f64.sqrt(), up: 3.0_f64.sqrt(), down: -1.0 };
        assert_is(view.horizontal_fov().to_deg(), 105.0);
        assert_is(view.vertical_fov().to_deg(), 15.0);
    }

    #[test]
    fn a_frames_size_and_centre_are_counted_in_tangents() {
        let view = ViewTangents { left: 0.5, right: 1.25, up: 0.75, down: 0.5 };
        assert_is(view.width(), 1.75);
        assert_is(view.height(), 1.25);
        assert_is(view.centre_right(), 0.375);
        assert_is(view.centre_up(), 0.125);
    }
}
