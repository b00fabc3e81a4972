//! The part of the sensor that a recording mode uses, and its pixels.

use language::key;
use units::{Angle, FieldError, Length, checked_field};

use crate::known::Origin;
use crate::lens::Lens;
use crate::sensor::SensorSize;

/// A recording mode of the camera app.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recording {
    width_px: u32,
    height_px: u32,
    stabiliser_crop: f64,
    in_sensor_zoom: f64,
    measured: Option<MeasuredView>,
}

/// What the recording was seen to hold, without an adapter: a known width across the frame at a known distance.
///
/// It replaces the worked-out area: video is cropped differently from photos, and the mode's stabiliser and zoom are in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredView {
    /// The recording's full horizontal angle of view; between 1° and 170°.
    pub horizontal_fov: Angle,
    /// The axial distance at which it was measured and focused, where known; infinity is assumed otherwise, and where the
    /// distance is less than twice the focal length: such an image is larger than life, which no phone's lens gives.
    pub at: Option<Length>,
    /// Relative standard uncertainty of the half angle's tangent.
    pub relative_sd: f64,
}

/// The area that a recording reads from the sensor, with its pixels as captured (squeezed if an adapter is on).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RecordedArea {
    /// The area on the sensor.
    pub size: SensorSize,
    /// Pixels along the rows.
    pub width_px: f64,
    /// Pixels along the columns.
    pub height_px: f64,
    /// Relative standard uncertainty of the area's sides over the focal length.
    pub relative_sd: f64,
    /// Where the area comes from.
    pub origin: Origin,
}

impl Recording {
    /// A mode of `width_px` by `height_px` that uses all it can of the sensor. Higher than wide is upright.
    ///
    /// # Errors
    /// Refuses a side that is not 16 to 20000 pixels.
    pub fn new(width_px: u32, height_px: u32) -> Result<Self, FieldError> {
        checked_field("width_px", f64::from(width_px), 16.0, 20_000.0, "px")?;
        checked_field("height_px", f64::from(height_px), 16.0, 20_000.0, "px")?;
        Ok(Self { width_px, height_px, stabiliser_crop: 1.0, in_sensor_zoom: 1.0, measured: None })
    }

    /// The same mode with what the stabiliser takes from both sides, as a factor: 1 takes nothing.
    ///
    /// # Errors
    /// Refuses what is not 1 to 4.
    pub fn with_stabiliser_crop(self, factor: f64) -> Result<Self, FieldError> {
        Ok(Self {
            stabiliser_crop: checked_field("stabiliser_crop", factor, 1.0, 4.0, key!("(factor)"))?,
            ..self
        })
    }

    /// The same mode read from the middle of the sensor only: 2 uses half its width and height.
    ///
    /// # Errors
    /// Refuses what is not 1 to 20.
    pub fn with_in_sensor_zoom(self, factor: f64) -> Result<Self, FieldError> {
        Ok(Self {
            in_sensor_zoom: checked_field("in_sensor_zoom", factor, 1.0, 20.0, key!("(factor)"))?,
            ..self
        })
    }

    /// The same mode zoomed further into the middle of the sensor; what was measured shrinks with it.
    ///
    /// # Errors
    /// Refuses a zoom that is not 1 to 20 in all.
    pub fn zoomed(self, factor: f64) -> Result<Self, FieldError> {
        let zoomed = self.with_in_sensor_zoom(self.in_sensor_zoom * factor)?;
        let Some(view) = self.measured else { return Ok(zoomed) };
        let horizontal_fov = Angle::from_tan((view.horizontal_fov / 2.0).tan() / factor) * 2.0;
        Ok(Self { measured: Some(MeasuredView { horizontal_fov, ..view }), ..zoomed })
    }

    /// The same mode with what it was seen to hold.
    ///
    /// # Errors
    /// Refuses an angle that is not 1° to 170°.
    pub fn with_measured(self, view: MeasuredView) -> Result<Self, FieldError> {
        checked_field("measured_horizontal_fov_deg", view.horizontal_fov.to_deg(), 1.0, 170.0, key!("deg"))?;
        Ok(Self { measured: Some(view), ..self })
    }

    /// Pixels along the rows.
    pub const fn width_px(&self) -> u32 {
        self.width_px
    }

    /// Pixels along the columns.
    pub const fn height_px(&self) -> u32 {
        self.height_px
    }

    /// What the stabiliser takes from both sides, as a factor.
    pub const fn stabiliser_crop(&self) -> f64 {
        self.stabiliser_crop
    }

    /// How many times smaller the middle is that is read.
    pub const fn in_sensor_zoom(&self) -> f64 {
        self.in_sensor_zoom
    }

    /// What the mode was seen to hold, if somebody looked.
    pub const fn measured(&self) -> Option<MeasuredView> {
        self.measured
    }

    /// Whether the phone stands upright.
    pub const fn is_upright(&self) -> bool {
        self.height_px > self.width_px
    }

    /// Width over height of the recorded image.
    pub fn aspect(&self) -> f64 {
        f64::from(self.width_px) / f64::from(self.height_px)
    }

    /// The area that this mode reads from `lens`'s sensor.
    ///
    /// The largest centred rectangle of the recording's own aspect in the whole still's area, divided by stabiliser crop
    /// and in-sensor zoom; or, where the mode was measured, the width that shows the measured angle:
    ///
    /// ```text
    /// w = 2 v tan(φ/2)
    /// ```
    /// `φ` measured full angle; `v` image distance at the distance it was measured from; `w` recorded width.
    pub fn area(&self, lens: &Lens) -> RecordedArea {
        let aspect = self.aspect();
        let whole = if self.is_upright() { lens.sensor.value.turned() } else { lens.sensor.value };
        let (size, relative_sd, origin) = if let Some(view) = self.measured {
            let life_size = lens.focal_length.value.to_length() * 2.0;
            let v = lens.image_distance(view.at.filter(|at| *at >= life_size));
            let width = v * (2.0 * (view.horizontal_fov / 2.0).tan());
            (SensorSize { width, height: width / aspect }, view.relative_sd, Origin::Measured)
        } else {
            let divisor = self.stabiliser_crop * self.in_sensor_zoom;
            let width = whole.width.min(whole.height * aspect) / divisor;
            let sd = libm::hypot(lens.focal_length.relative_sd, lens.sensor.relative_sd);
            (SensorSize { width, height: width / aspect }, sd, lens.sensor.origin)
        };
        RecordedArea {
            size,
            width_px: f64::from(self.width_px),
            height_px: f64::from(self.height_px),
            relative_sd,
            origin,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FocalLength, Known, Scale};

    fn main_lens() -> Lens {
        Lens {
            focal_length: Known::new(FocalLength::from_mm(6.86).expect("in range"), Origin::Typed),
            f_number: None,
            sensor: Known::new(SensorSize::from_mm(9.8, 7.3).expect("in range"), Origin::Typed),
            closest_focus: None,
            scale: Scale::True,
        }
    }

    fn assert_mm(length: Length, expected: f64) {
        assert!((length.to_mm() - expected).abs() < 1e-12, "{length:?} is not {expected} mm");
    }

    #[test]
    fn a_wide_recording_uses_the_whole_width() {
        let area = Recording::new(3840, 2160).expect("a mode").area(&main_lens()).size;
        assert_mm(area.width, 9.8);
        assert_mm(area.height, 5.5125);
    }

    #[test]
    fn an_upright_recording_swaps_the_sensors_sides() {
        let area = Recording::new(2160, 3840).expect("a mode").area(&main_lens()).size;
        assert_mm(area.height, 9.8);
        assert_mm(area.width, 5.5125);
    }

    #[test]
    fn stabiliser_and_zoom_multiply() {
        let mode = Recording::new(1920, 1080).and_then(|mode| mode.with_stabiliser_crop(1.1));
        let area =
            mode.and_then(|mode| mode.with_in_sensor_zoom(2.0)).expect("a mode").area(&main_lens()).size;
        assert_mm(area.width, 9.8 / 2.2);
    }

    #[test]
    fn a_measured_view_replaces_the_worked_out_area() {
        let view = MeasuredView { horizontal_fov: Angle::from_deg(60.0), at: None, relative_sd: 0.01 };
        let mode = Recording::new(3840, 2160).and_then(|mode| mode.with_stabiliser_crop(1.5));
        let area = mode.and_then(|mode| mode.with_measured(view)).expect("a mode").area(&main_lens());
        assert_mm(area.size.width, 2.0 * 6.86 * Angle::from_deg(30.0).tan());
        assert_eq!(area.origin, Origin::Measured);
    }
}
