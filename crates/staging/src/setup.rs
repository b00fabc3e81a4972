//! A shot resolved to one place for the phone, one aim and one focus distance.

mod search;
#[cfg(test)]
mod small_changes;

use optics::{
    Adapter, Aspect, CircleOfConfusion, CropShift, DeliveredFrame, Lens, Recording, Scale, ViewTangents,
    deliver, hyperfocal_distance, view_tangents,
};
use units::{Angle, Length};

use crate::framing::NoFraming;
use crate::shot_size::ShotSize;
use crate::subject::{PhoneHeight, Subject};
use search::Search;

/// A shot: what is wanted, with the lens and mode to try it on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shot {
    /// One of the phone's lenses.
    pub lens: Lens,
    /// The recording mode.
    pub recording: Recording,
    /// The adapter, if it is on.
    pub adapter: Option<Adapter>,
    /// The delivered frame's shape.
    pub aspect: Aspect,
    /// Where the delivered frame lies in the recorded one; unset, it is centred and a fixed look may move it.
    pub crop_shift: Option<CropShift>,
    /// Who or what it is of.
    pub subject: Subject,
    /// How much of them.
    pub size: ShotSize,
    /// The share of the frame's height above the crown, where it is not the size's own.
    pub headroom: Option<f64>,
    /// How high the phone is.
    pub phone_height: PhoneHeight,
    /// What the aim is for.
    pub look: Look,
    /// Whether the distance follows from the size, or the other way round.
    pub stand: Stand,
    /// Where the subject stands across the frame: 0 at its left edge, 0.5 in the middle, 1 at its right.
    pub across: f64,
    /// How far behind the subject the background is.
    pub background_behind: Length,
    /// What focus is on.
    pub focus: FocusOn,
    /// What counts as sharp.
    pub sharpness: Sharpness,
}

/// What the aim is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Look {
    /// The framing: the tilt follows.
    Aimed,
    /// A tilt of the user's, level if zero: the headroom follows.
    Tilt(Angle),
}

/// What fixes the distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stand {
    /// The shot size.
    ForSize,
    /// The phone stays at that distance along the floor: what the frame holds follows.
    At(Length),
}

/// What focus is on.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum FocusOn {
    /// The subject's eyes where they are in the frame, else its vertical at the frame's centre.
    #[default]
    Subject,
    /// Something at that axial distance.
    At(Length),
}

/// What counts as sharp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sharpness {
    /// The recorded diagonal over 1500.
    Usual,
    /// One delivered pixel.
    DeliveredPixel,
    /// A circle of the user's.
    Own(CircleOfConfusion),
}

/// Which wish set the distance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Binding {
    /// The figure's height in the frame.
    Height,
    /// Its width: the frame is narrower than what must be in it.
    Width,
    /// The user.
    Place,
}

/// A shot resolved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setup {
    /// The chain of images, with the crop where it ended up.
    pub frame: DeliveredFrame,
    /// What the delivered frame sees, focused at `focus`.
    pub view: ViewTangents,
    /// The lens's height above the floor.
    pub phone_height: Length,
    /// From the phone to the subject along the floor: to the middle of two side by side.
    pub distance: Length,
    /// The part of `distance` that lies straight ahead.
    pub ahead: Length,
    /// How far to the right of straight ahead the subject stands, as an angle on the floor.
    pub subject_right: Angle,
    /// The lens's tilt, up positive.
    pub tilt: Angle,
    /// Axial focus distance.
    pub focus: Length,
    /// Axial distance of the subject: of its eyes where they are in the frame, else of its vertical at the frame's centre.
    pub subject_depth: Length,
    /// Whether the subject's eyes are in the frame.
    pub eyes_in_frame: bool,
    /// Whether focus is on the subject's eyes.
    pub on_eyes: bool,
    /// Where the eyes are in the frame: the share of its height above them, if there are eyes.
    pub eyes_down: Option<f64>,
    /// The share of the frame's height above the crown; negative crops it.
    pub headroom: f64,
    /// How high above the floor the frame's lower edge meets the subject; none if it looks past below.
    pub cut_height: Option<Length>,
    /// What set the distance.
    pub binding: Binding,
    /// How far the figures may be off.
    pub spread: Spread,
}

/// Standard uncertainties, to first order, from the lens's and the body's.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spread {
    /// Of the distance.
    pub distance: Length,
    /// Of the tilt.
    pub tilt: Angle,
    /// Of the horizontal field of view.
    pub horizontal_fov: Angle,
    /// Of the vertical field of view.
    pub vertical_fov: Angle,
}

/// Why a shot has no setup.
#[non_exhaustive]
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unframed {
    /// From this height no distance gives the size.
    Height(NoFraming),
    /// With this tilt the frame's lower edge misses what the size stands on.
    Look {
        /// The lens's height.
        phone_height: Length,
        /// How high what the lower edge must hold is.
        cut_height: Length,
    },
}

/// The least focus distance over the image distance: chosen because nobody films at a thousand times life size, and a
/// fixed look that wants its subject inside the lens must still end somewhere.
const LEAST_FOCUS_OVER_IMAGE: f64 = 1.0e-3;

impl Shot {
    /// The chain of images, before any move of the crop that a fixed look asks for.
    pub fn frame(&self) -> DeliveredFrame {
        deliver(
            self.recording.area(&self.lens),
            self.adapter.as_ref(),
            self.aspect,
            self.crop_shift.unwrap_or_default(),
        )
    }

    /// What counts as sharp, on the sensor; none where the sensor's true size is not known.
    pub fn circle_of_confusion(&self, frame: &DeliveredFrame) -> Option<CircleOfConfusion> {
        match (self.lens.scale, self.sharpness) {
            (Scale::Equivalent, _) => None,
            (Scale::True, Sharpness::Usual) => {
                Some(CircleOfConfusion::from_recorded_area(frame.recorded.size))
            }
            (Scale::True, Sharpness::DeliveredPixel) => {
                Some(CircleOfConfusion::from_delivered_pixel(frame.px_per_m))
            }
            (Scale::True, Sharpness::Own(circle)) => Some(circle),
        }
    }

    /// The hyperfocal distance; none where f-number or true size are not known.
    pub fn hyperfocal(&self, frame: &DeliveredFrame) -> Option<Length> {
        let circle = self.circle_of_confusion(frame)?;
        let f_number = self.lens.f_number?.value;
        Some(hyperfocal_distance(self.lens.focal_length.value, f_number, circle))
    }

    /// The nearest distance at which the lens can focus, where `focus` is nearer: its own limit, or its focal length, within
    /// which nothing has an image.
    pub fn closest_focus(&self, focus: Length) -> Option<Length> {
        let within_lens = match self.lens.scale {
            Scale::True => Some(self.lens.focal_length.value.to_length()).filter(|f| focus <= *f),
            Scale::Equivalent => None,
        };
        self.lens.closest_focus.filter(|closest| focus < *closest).or(within_lens)
    }

    /// What `frame` sees when the lens is focused at that axial distance; focused far away if that is within the lens.
    pub fn view(&self, frame: &DeliveredFrame, focus: Length) -> ViewTangents {
        view_tangents(frame, self.image_distance(focus))
    }

    /// The image distance for any focus distance. Nothing within the lens's own length has an image: the lens counts as
    /// focused far away then, and a finding says so.
    fn image_distance(&self, focus: Length) -> Length {
        let nearest = self.lens.focal_length.value.to_length() * (1.0 + LEAST_FOCUS_OVER_IMAGE);
        self.lens.image_distance(Some(focus).filter(|focus| *focus >= nearest))
    }

    /// Resolves the shot: where the phone stands, how it aims and what it focuses on, all agreeing with each other.
    ///
    /// # Errors
    /// Says why the framing cannot be had, and what could.
    pub fn resolve(&self, frame: DeliveredFrame) -> Result<Setup, Unframed> {
        Search::new(self, frame).resolve()
    }
}
