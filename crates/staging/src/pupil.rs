//! What the lens takes light through, as seen from the place: where blur comes from.

use optics::{FrameAxis, Scale};
use units::Length;

use crate::setup::{Setup, Shot};

/// The entrance pupil as seen from the place, with its focus along each image axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pupil {
    /// Full width.
    pub width: Length,
    /// Full height.
    pub height: Length,
    /// Axial distance at which points are sharp sideways.
    pub focus_across: Length,
    /// Axial distance at which points are sharp in height.
    pub focus_up: Length,
}

impl Pupil {
    /// The pupil of `setup`, which is `shot` resolved; none where [`Pupil::focused`] has none.
    pub fn of(shot: &Shot, setup: &Setup) -> Option<Self> {
        Self::focused(shot, setup.focus)
    }

    /// The pupil of a shot whose lens is focused at that axial distance; none without an f-number or the sensor's true
    /// size, and none where focus is nearer than the focal length, as nothing there has an image.
    ///
    /// ```text
    /// D = f / N
    /// no adapter            D in both axes, both in focus at s
    /// adapter that focuses  D / S along its axis, both axes in focus at s
    /// adapter that does not D / S along its axis, which is in focus at s / S²
    /// x' = l (1 − z / s_across) + x z,   y' = m (1 − z / s_up) + y z
    /// ```
    /// `f` focal length; `N` f-number; `S` squeeze; `s` focus distance. The last line is where a ray of image tangents
    /// (x, y) through the pupil's point (l, m) is at axial depth z; the discs that such rays draw are those of
    /// [`optics::blur_disc`].
    ///
    /// # Source
    /// `Saleh1991`, section 1.4, by way of [`optics::blur_disc`].
    pub fn focused(shot: &Shot, focus: Length) -> Option<Self> {
        let f = shot.lens.focal_length.value.to_length();
        let has_image = shot.lens.scale == Scale::True && focus > f;
        let diameter = f / shot.lens.f_number.filter(|_| has_image)?.value.to_f64();
        let round = Self { width: diameter, height: diameter, focus_across: focus, focus_up: focus };
        let Some(adapter) = shot.adapter else { return Some(round) };
        let squeeze = adapter.squeeze.to_f64();
        let along = if adapter.focusing { focus } else { focus / (squeeze * squeeze) };
        Some(match adapter.axis {
            FrameAxis::Width => Self { width: diameter / squeeze, focus_across: along, ..round },
            FrameAxis::Height => Self { height: diameter / squeeze, focus_up: along, ..round },
        })
    }
}
