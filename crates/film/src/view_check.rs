//! A lens checked in a minute: something of known width across the frame, at a known distance, gives the field of view.

use language::key;
use optics::{KnownThing, MeasureError, SeenView, ThingInFrame, combined_view};
use units::Length;

use crate::kit_file::{RecordError, ViewRecord, within_range};

/// Something of known width that fills a known share of the frame's width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ViewCheck {
    /// Its width, square to the look.
    pub width: Length,
    /// The standard uncertainty of the width.
    pub width_sd: Length,
    /// The share of the frame's width that it fills, 0.05 to 1.
    pub share: f64,
    /// The standard uncertainty of the share.
    pub share_sd: f64,
    /// From the lens to it, along the look.
    pub distance: Length,
    /// The standard uncertainty of the distance.
    pub distance_sd: Length,
}

/// The standard uncertainty of a taped distance: chosen because a tape held by hand to a phone is good to a centimetre.
pub const TAPED_SD: Length = Length::from_mm(10.0);

/// The standard uncertainty of an end that is marked in a frame: chosen because a hand sets a marker to a pixel or two, and
/// edges are about as soft.
pub const END_SD_PX: f64 = 2.0;

/// The standard uncertainty of a width that somebody measured: half a percent and at least 1 mm, chosen because a tape read
/// by hand is about that good.
pub fn taped_width_sd(width: Length) -> Length {
    (width.abs() * 0.005).max(Length::from_mm(1.0))
}

/// The standard uncertainty of one step as a share of it: chosen because people's steps differ by about a tenth.
pub const STEP_SD_SHARE: f64 = 0.10;

/// A distance of so many steps, with its standard uncertainty.
///
/// ```text
/// d = n p          u(d) = 0.1 p √n
/// ```
/// `n` steps (≥ 0); `p` the length of a step (m). Steps are off each on its own, so their errors add in squares; a step
/// that is off as a rule is not in it.
///
/// # Source
/// `Jcgm2008`, 5.1.2 (a sum of n independent lengths).
pub fn stepped_distance(steps: f64, step: Length) -> (Length, Length) {
    (step * steps, step * (STEP_SD_SHARE * libm::sqrt(steps.max(0.0))))
}

impl ViewCheck {
    /// The field of view that such a frame has: [`optics::combined_view`] of this one frame.
    ///
    /// Takes a width of 0.01 to 100 m, a share of 0.05 to 1 and a distance of 0.05 to 1000 m, and gives 1° to 170°.
    ///
    /// # Errors
    /// Names what is out of range: `width_m`, `share`, `distance_m`, or the angle that follows, `horizontal_fov_deg`.
    ///
    /// # Source
    /// `Jcgm2008`, 5.1.2 and 5.1.6, and the projection of `OpenCv2025`, `calibrationMatrixValues`.
    ///
    /// # Examples
    /// A sheet 2 m wide that fills the frame from 1 m away is seen under a right angle:
    /// ```
    /// use film::ViewCheck;
    /// use units::Length;
    /// let check = ViewCheck {
    ///     width: Length::from_m(2.0),
    ///     width_sd: Length::ZERO,
    ///     share: 1.0,
    ///     share_sd: 0.0,
    ///     distance: Length::from_m(1.0),
    ///     distance_sd: Length::from_mm(10.0),
    /// };
    /// let seen = check.seen()?;
    /// assert!((seen.horizontal_fov.to_deg() - 90.0).abs() < 1e-9);
    /// // 1 % of distance is 0.01 rad here, where t = 1.
    /// assert!((seen.sd.to_rad() - 0.01).abs() < 1e-12);
    /// # Ok::<(), film::RecordError>(())
    /// ```
    pub fn seen(&self) -> Result<SeenView, RecordError> {
        within_range("width_m", self.width.to_m(), 0.01, 100.0, "m")?;
        within_range("share", self.share, 0.05, 1.0, key!("(share of the frame's width)"))?;
        let frame = ThingInFrame::of_share(self.share, self.share_sd, self.distance, self.distance_sd)
            .map_err(|error| measured(&error))?;
        let thing =
            KnownThing::new(self.width, self.width_sd, vec![frame]).map_err(|error| measured(&error))?;
        Ok(combined_view(&[thing], None).map_err(|error| measured(&error))?.seen)
    }
}

/// A refusal of the measurement in the words of records.
fn measured(error: &MeasureError) -> RecordError {
    RecordError::at(error.field(), error.message())
}

impl ViewRecord {
    /// A view as it is kept in a kit, for one lens in one mode, focused at `at`.
    pub fn of_seen(seen: &SeenView, lens: &str, recording: &str, at: Length) -> Self {
        Self {
            lens: lens.to_owned(),
            recording: recording.to_owned(),
            horizontal_fov_deg: seen.horizontal_fov.to_deg(),
            horizontal_fov_sd_deg: Some(seen.sd.to_deg()),
            at_m: Some(at.to_m()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use optics::{FocalLength, Known, Lens, Origin, Recording, Scale, SensorSize};

    fn door(distance_m: f64) -> ViewCheck {
        ViewCheck {
            width: Length::from_m(0.90),
            width_sd: Length::from_mm(5.0),
            share: 1.0,
            share_sd: 0.005,
            distance: Length::from_m(distance_m),
            distance_sd: TAPED_SD,
        }
    }

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
    fn half_the_frame_is_the_same_as_twice_the_width() {
        let half = ViewCheck { share: 0.5, share_sd: 0.0, ..door(2.0) }.seen().expect("a view");
        let twice = ViewCheck {
            width: Length::from_m(1.80),
            width_sd: Length::from_mm(10.0),
            share_sd: 0.0,
            ..door(2.0)
        };
        let twice = twice.seen().expect("a view");
        assert!((half.horizontal_fov.to_deg() - twice.horizontal_fov.to_deg()).abs() < 1e-12, "{half:?}");
        assert!((half.sd.to_deg() - twice.sd.to_deg()).abs() < 1e-12, "{half:?} {twice:?}");
    }

    #[test]
    fn the_uncertainty_is_that_of_small_changes() {
        let angle = |check: ViewCheck| check.seen().expect("a view").horizontal_fov.to_deg();
        let base = door(0.65);
        let by_width = angle(ViewCheck { width: base.width + Length::from_mm(0.5), ..base }) - angle(base);
        let by_share = angle(ViewCheck { share: base.share - 0.0005, ..base }) - angle(base);
        let by_distance =
            angle(ViewCheck { distance: base.distance + Length::from_mm(1.0), ..base }) - angle(base);
        let expected = 10.0 * libm::sqrt(by_width.powi(2) + by_share.powi(2) + by_distance.powi(2));
        let sd = base.seen().expect("a view").sd.to_deg();
        assert!((sd / expected - 1.0).abs() < 2e-3, "{sd} is not {expected}");
    }

    #[test]
    fn steps_are_off_each_on_its_own() {
        let (distance, sd) = stepped_distance(4.0, Length::from_m(0.75));
        assert!(
            (distance.to_m() - 3.0).abs() < 1e-12 && (sd.to_m() - 0.15).abs() < 1e-12,
            "{distance:?} {sd:?}"
        );
    }

    #[test]
    fn a_frame_as_the_sensor_says_is_as_wide_as_worked_out() {
        let mode = Recording::new(3840, 2160).expect("a mode");
        let at = Length::from_m(2.0);
        let worked_out = SeenView::worked_out(&mode, &lens(), at);
        let width = (worked_out.horizontal_fov / 2.0).tan() * 4.0;
        let seen = ViewCheck { width: Length::from_m(width), ..door(2.0) }.seen().expect("a view");
        let (ratio, sd) = seen.width_over(&worked_out);
        assert!((ratio - 1.0).abs() < 1e-12 && sd > 0.01 && sd < 0.02, "{ratio} {sd}");
    }

    #[test]
    fn what_cannot_be_is_refused_by_name() {
        let path = |check: ViewCheck| check.seen().expect_err("refused").path;
        assert_eq!(path(ViewCheck { share: 1.2, ..door(2.0) }), "share");
        assert_eq!(path(ViewCheck { width: Length::ZERO, ..door(2.0) }), "width_m");
        assert_eq!(path(door(0.01)), "distance_m");
        assert_eq!(path(door(200.0)), "horizontal_fov_deg");
    }
}
