//! What a setup means: what is sharp, how soft the rest is, how near stretches a face, how much of the place is seen.

use optics::{
    Adapter, DeliveredFrame, FNumber, FocalLength, FrameAxis, Scale, SharpZone, airy_diameter, blur_disc,
    sharp_zone, subject_sideways_softness, useful_from,
};
use units::Length;

use crate::setup::{FocusOn, Setup, Shot};

/// How large a point is drawn, in delivered pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Softness {
    /// The disc's width.
    pub width_px: f64,
    /// The disc's height.
    pub height_px: f64,
    /// The disc's height over the frame's height.
    pub share: f64,
    /// The disc's width over the frame's height.
    pub width_share: f64,
}

/// How soft a setup draws a point at any distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blur {
    focal_length: FocalLength,
    f_number: FNumber,
    focus: Length,
    adapter: Option<Adapter>,
    frame: DeliveredFrame,
}

/// The figures of a setup. What needs an f-number or a true sensor size is none without, and so is what needs an image
/// where the subject is nearer than the focal length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// The axial distances that count as sharp.
    pub sharp: Option<SharpZone>,
    /// Standard uncertainty of the near limit.
    pub near_sd: Option<Length>,
    /// A point of the background.
    pub background: Option<Softness>,
    /// A point of the person whose shoulder the phone looks past.
    pub near_person: Option<Softness>,
    /// How soft the subject in focus stays along the adapter's axis, in delivered pixels.
    pub subject_sideways_px: Option<f64>,
    /// How soft the subject is drawn; a point where focus is on it and no adapter keeps it soft.
    pub subject: Option<Softness>,
    /// The focus distance from which that is no more than the circle of confusion; none for an adapter that focuses.
    pub adapter_useful_from: Option<Length>,
    /// Diameter of the Airy disc on the sensor.
    pub airy: Option<Length>,
    /// How many times larger the nose's plane is drawn than the ears', less one.
    pub face_stretch: Option<f64>,
    /// How wide a strip of the background is seen.
    pub place_width: Length,
}

/// The tip of the nose before the eyes, over head length: from memory, about 25 mm on a head of 196 mm.
const NOSE_BEFORE_EYES: f64 = 0.13;
/// The ears behind the eyes, over head length: from memory, about 90 mm on a head of 196 mm.
const EARS_BEHIND_EYES: f64 = 0.46;

impl Figures {
    /// The figures of `setup`, which is `shot` resolved.
    pub fn of(shot: &Shot, setup: &Setup) -> Self {
        let background = setup.subject_depth + shot.background_behind;
        let mut figures = Self {
            sharp: None,
            near_sd: None,
            background: None,
            near_person: None,
            subject_sideways_px: None,
            subject: None,
            adapter_useful_from: None,
            airy: shot.lens.f_number.map(|f_number| airy_diameter(f_number.value)),
            face_stretch: setup.eyes_in_frame.then(|| face_stretch(shot, setup)).flatten(),
            place_width: background * setup.view.width(),
        };
        let (Some(blur), Some(circle), Some(hyperfocal)) =
            (Blur::of(shot, setup), shot.circle_of_confusion(&setup.frame), shot.hyperfocal(&setup.frame))
        else {
            return figures;
        };
        let (f, n, adapter) = (blur.focal_length, blur.f_number, blur.adapter.as_ref());
        let zone = sharp_zone(f, hyperfocal, setup.focus);
        figures.sharp = Some(zone);
        figures.near_sd = Some(near_sd(shot, setup, hyperfocal, zone.near));
        figures.subject = Some(blur.at(setup.subject_depth));
        figures.background = Some(blur.at(background));
        figures.near_person = near_person_distance(shot, setup).map(|distance| blur.at(distance));
        figures.subject_sideways_px =
            Some(subject_sideways_softness(f, n, setup.focus, adapter).to_m() * setup.frame.px_per_m);
        figures.adapter_useful_from = adapter.and_then(|adapter| useful_from(f, n, adapter, circle));
        figures
    }

    /// Whether the background counts as sharp.
    pub fn background_is_sharp(&self, setup: &Setup, behind: Length) -> Option<bool> {
        self.sharp.map(|zone| zone.holds(setup.subject_depth + behind))
    }
}

impl Blur {
    /// How soft `setup`, which is `shot` resolved, draws points; none without an f-number or the sensor's true size, and
    /// none where the subject is nearer than the focal length, as nothing there has an image.
    pub fn of(shot: &Shot, setup: &Setup) -> Option<Self> {
        let focal_length = shot.lens.focal_length.value;
        let has_image = shot.lens.scale == Scale::True && setup.focus > focal_length.to_length();
        let f_number = shot.lens.f_number.filter(|_| has_image)?.value;
        Some(Self { focal_length, f_number, focus: setup.focus, adapter: shot.adapter, frame: setup.frame })
    }

    /// How soft a lens without an adapter draws points in that frame.
    pub(crate) const fn of_lens(
        focal_length: FocalLength,
        f_number: FNumber,
        focus: Length,
        frame: DeliveredFrame,
    ) -> Self {
        Self { focal_length, f_number, focus, adapter: None, frame }
    }

    /// How large a point at that axial distance (positive) is drawn in the delivered frame.
    pub fn at(&self, distance: Length) -> Softness {
        let disc = blur_disc(self.focal_length, self.f_number, self.focus, distance, self.adapter.as_ref());
        let (width, height) = match self.frame.squeezed {
            Some(FrameAxis::Width) | None => (disc.squeezed, disc.plain),
            Some(FrameAxis::Height) => (disc.plain, disc.squeezed),
        };
        let (width_px, height_px) = (width.to_m() * self.frame.px_per_m, height.to_m() * self.frame.px_per_m);
        let frame_height_px = self.frame.delivered_px.1;
        Softness {
            width_px,
            height_px,
            share: height_px / frame_height_px,
            width_share: width_px / frame_height_px,
        }
    }
}

/// The axial distance of the near person of an over-the-shoulder shot, if the phone is behind them.
fn near_person_distance(shot: &Shot, setup: &Setup) -> Option<Length> {
    let apart = shot.subject.near_person()?;
    let distance = setup.subject_depth - apart;
    (distance > Length::ZERO).then_some(distance)
}

/// How many times larger the nose's plane is drawn than the ears', less one.
///
/// ```text
/// (s + e) / (s − n) − 1
/// ```
/// `s` axial distance of the eyes; `n` the nose before them; `e` the ears behind. None where the nose is in the lens.
fn face_stretch(shot: &Shot, setup: &Setup) -> Option<f64> {
    let head = shot.subject.body()?.head_length();
    let nose = setup.subject_depth - head * NOSE_BEFORE_EYES;
    let ears = setup.subject_depth + head * EARS_BEHIND_EYES;
    (nose > Length::ZERO).then(|| ears / nose - 1.0)
}

/// Standard uncertainty of the near limit, to first order in the focus and the hyperfocal distance.
///
/// ```text
/// ∂near/∂s = (H − f)(H − 2f) / (H + s − 2f)²    ∂near/∂H = s (s − f) / (H + s − 2f)²
/// ```
/// Derivatives of [`optics::sharp_zone`]'s near limit; H scales with f² / N.
fn near_sd(shot: &Shot, setup: &Setup, hyperfocal: Length, near: Length) -> Length {
    let f = shot.lens.focal_length.value.to_length();
    let (h, s) = (hyperfocal, setup.focus);
    let by_focus = near / s * ((h - f * 2.0) / (h + s - f * 2.0));
    let by_hyperfocal = near / (h - f) * ((s - f) / (h + s - f * 2.0));
    let number_sd = shot.lens.f_number.map_or(0.0, |number| number.relative_sd);
    let hyperfocal_sd = h * libm::hypot(2.0 * shot.lens.focal_length.relative_sd, number_sd);
    // Focus on the subject is as uncertain as its distance; focus that was set is where it was set.
    let focus_sd = match shot.focus {
        FocusOn::Subject => setup.spread.distance,
        FocusOn::At(_) => Length::ZERO,
    };
    let parts = (focus_sd * by_focus, hyperfocal_sd * by_hyperfocal);
    Length::from_m(libm::hypot(parts.0.to_m(), parts.1.to_m()))
}
