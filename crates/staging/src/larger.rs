//! The same frame on a larger camera: same place, same field of view, same focus, only softer.

use language::say;
use optics::{
    DeliveredFrame, FNumber, FocalLength, RecordedArea, Scale, SensorSize, ViewTangents, image_distance,
    view_tangents,
};
use units::Length;

use crate::figures::{Blur, Softness};
use crate::pupil::Pupil;
use crate::setup::{Setup, Shot};

/// A camera larger than a phone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LargerCamera {
    /// With a frame of 36 x 24 mm, to which lenses' equivalents refer.
    FullFrame,
    /// With a frame of 24.89 x 18.66 mm, the full width of a film frame four perforations high.
    Super35,
}

/// A setup's frame on a larger camera in the phone's place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Larger {
    /// The lens that sees what the phone's sees.
    pub focal_length: FocalLength,
    /// How far it is opened.
    pub f_number: FNumber,
    /// The same delivered frame, as large as the camera's sensor has room for; in as many pixels as the phone's.
    pub frame: DeliveredFrame,
    /// Axial focus distance.
    pub focus: Length,
}

/// No phone could have an f-number below this: chosen because no phone's lens comes near it.
pub const BEYOND_ANY_PHONE: f64 = 0.7;

impl LargerCamera {
    /// All, the smaller first.
    pub const ALL: [Self; 2] = [Self::Super35, Self::FullFrame];

    /// What the trade calls it.
    pub fn name(self) -> &'static str {
        match self {
            Self::FullFrame => say!("full frame"),
            Self::Super35 => say!("Super 35"),
        }
    }

    /// Its whole frame, the camera held sideways.
    ///
    /// # Source
    /// Full frame: `Cipa2019`, tag `FocalLengthIn35mmFilm`. Super 35: common practice; lenses for it cover the width that
    /// film has between its perforations.
    pub const fn sensor(self) -> SensorSize {
        let (width, height) = match self {
            Self::FullFrame => (36.0, 24.0),
            Self::Super35 => (24.89, 18.66),
        };
        SensorSize { width: Length::from_mm(width), height: Length::from_mm(height) }
    }
}

impl Larger {
    /// The frame of `setup` on `camera` at that f-number; none where no lens of 0.1 mm to 2 m sees it.
    ///
    /// ```text
    /// w' = min(W, H a),   v' = w' / (u_left + u_right),   f' = v' s / (s + v')
    /// ```
    /// `W`, `H` the camera's sensor, upright for an upright frame; `a` the delivered frame's width over its height; `w'` its
    /// width there; `u` its edges as tangents; `v'` image distance; `s` focus distance; `f'` focal length. The second is
    /// [`optics::view_tangents`] and the third [`optics::image_distance`], each solved for what is asked: so the frame's
    /// edges are where the phone has them, at this focus distance. An adapter's squeeze is in `u`.
    pub fn of(setup: &Setup, camera: LargerCamera, f_number: FNumber) -> Option<Self> {
        let aspect = setup.frame.aspect();
        let whole = if aspect < 1.0 { camera.sensor().turned() } else { camera.sensor() };
        let width = whole.width.min(whole.height * aspect);
        let area = SensorSize { width, height: width / aspect };
        let v = width / setup.view.width();
        let s = setup.focus;
        let focal_length = FocalLength::from_mm((v * (s / (s + v))).to_mm()).ok()?;
        let px = setup.frame.delivered_px;
        let recorded = &setup.frame.recorded;
        let frame = DeliveredFrame {
            recorded: RecordedArea { size: area, width_px: px.0, height_px: px.1, ..*recorded },
            desqueezed_px: px,
            delivered_px: px,
            area,
            centre_offset: (v * setup.view.centre_right(), v * setup.view.centre_up()),
            squeeze: (1.0, 1.0),
            px_per_m: px.0 / width.to_m(),
            stretched: None,
            squeezed: None,
        };
        Some(Self { focal_length, f_number, frame, focus: s })
    }

    /// What it sees: what the phone sees.
    pub fn view(&self) -> ViewTangents {
        view_tangents(&self.frame, image_distance(self.focal_length, self.focus))
    }

    /// What its lens takes light through.
    pub fn pupil(&self) -> Pupil {
        let diameter = self.focal_length.to_length() / self.f_number.to_f64();
        Pupil { width: diameter, height: diameter, focus_across: self.focus, focus_up: self.focus }
    }

    /// How soft it draws a point at that axial distance.
    pub fn softness(&self, distance: Length) -> Softness {
        Blur::of_lens(self.focal_length, self.f_number, self.focus, self.frame).at(distance)
    }

    /// The f-number at which the phone's own lens would be as soft; none where its true size is not known.
    ///
    /// ```text
    /// N = f / D',   D' = f' / N'
    /// ```
    /// `f` the phone's focal length; `D'` the larger camera's entrance pupil. With the same field of view, focus and pupil a
    /// point's disc is the same share of the frame, so the f-number goes down as the crop factor goes up. With an adapter
    /// on, the disc's height is meant.
    pub fn f_number_on(&self, shot: &Shot) -> Option<f64> {
        (shot.lens.scale == Scale::True)
            .then(|| shot.lens.focal_length.value.to_length() / self.pupil().height)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use optics::{Adapter, Aspect, Known, Lens, Origin, Recording, Squeeze};
    use proptest::prelude::*;

    use crate::body::{Age, Body, Posture};
    use crate::setup::{FocusOn, Look, Sharpness, Stand};
    use crate::shot_size::ShotSize;
    use crate::subject::{PhoneHeight, Subject};

    /// A medium shot on a phone's main lens.
    fn shot(aspect: f64, size: ShotSize) -> Shot {
        let body = Body { stature: Length::from_m(1.7), posture: Posture::Standing, age: Age::Adult };
        Shot {
            lens: Lens {
                focal_length: Known::new(FocalLength::from_mm(6.86).expect("in range"), Origin::Typed),
                f_number: Some(Known::new(FNumber::new(1.78).expect("in range"), Origin::Typed)),
                sensor: Known::new(SensorSize::from_mm(9.8, 7.3).expect("in range"), Origin::Typed),
                closest_focus: None,
                scale: Scale::True,
            },
            recording: Recording::new(3840, 2160).expect("a mode"),
            adapter: None,
            aspect: Aspect::new(aspect).expect("a shape"),
            crop_shift: None,
            subject: Subject::Person(body),
            size,
            headroom: None,
            phone_height: PhoneHeight::BySize,
            look: Look::Aimed,
            stand: Stand::ForSize,
            across: 0.5,
            background_behind: Length::from_m(6.0),
            focus: FocusOn::Subject,
            sharpness: Sharpness::Usual,
        }
    }

    fn resolved(shot: &Shot) -> Setup {
        shot.resolve(shot.frame()).expect("a setup")
    }

    fn on(setup: &Setup, camera: LargerCamera, f_number: f64) -> Larger {
        Larger::of(setup, camera, FNumber::new(f_number).expect("in range")).expect("a lens")
    }

    fn assert_same_view(one: &ViewTangents, other: &ViewTangents) {
        for (one, other) in
            [(one.left, other.left), (one.right, other.right), (one.up, other.up), (one.down, other.down)]
        {
            assert!((one - other).abs() < 1e-9, "{one} is not {other}");
        }
    }

    #[test]
    fn a_wide_frame_takes_all_of_the_sensors_width() {
        let shot = shot(16.0 / 9.0, ShotSize::Medium);
        let setup = resolved(&shot);
        let full = on(&setup, LargerCamera::FullFrame, 2.8);
        assert!((full.frame.area.width.to_mm() - 36.0).abs() < 1e-9, "{:?}", full.frame.area);
        // Far away, f' = f · 36 / 9.8; focused nearer, both lenses extend, and the larger one more.
        let far = 6.86 * 36.0 / 9.8;
        let focal_mm = full.focal_length.to_length().to_mm();
        assert!(focal_mm < far && focal_mm > far * 0.98, "{focal_mm} mm, {far} mm");
        let narrow = on(&resolved(&self::shot(1.0, ShotSize::Medium)), LargerCamera::Super35, 2.8);
        assert!((narrow.frame.area.height.to_mm() - 18.66).abs() < 1e-9, "{:?}", narrow.frame.area);
    }

    #[test]
    fn with_the_f_number_it_asks_for_the_phone_is_as_soft() {
        let mut shot = shot(2.39, ShotSize::ChestUp);
        let setup = resolved(&shot);
        let full = on(&setup, LargerCamera::FullFrame, 11.0);
        let needed = full.f_number_on(&shot).expect("a true size");
        shot.lens.f_number = Some(Known::new(FNumber::new(needed).expect("in range"), Origin::Typed));
        for behind in [0.5, 2.0, 40.0] {
            let distance = setup.subject_depth + Length::from_m(behind);
            let phone = Blur::of(&shot, &setup).expect("an f-number").at(distance);
            let larger = full.softness(distance);
            assert!((phone.height_px / larger.height_px - 1.0).abs() < 1e-9, "{phone:?} {larger:?}");
            assert!((phone.share / larger.share - 1.0).abs() < 1e-9, "{phone:?} {larger:?}");
        }
    }

    #[test]
    fn the_f_number_goes_with_the_crop_factor() {
        // Nearly at infinity: 36 mm over 9.8 mm of width, from f/2.8 down.
        let mut shot = shot(16.0 / 9.0, ShotSize::ExtremeWide);
        shot.focus = FocusOn::At(Length::from_m(1.0e4));
        let needed =
            on(&resolved(&shot), LargerCamera::FullFrame, 2.8).f_number_on(&shot).expect("a true size");
        assert!((needed - 2.8 * 9.8 / 36.0).abs() < 1e-5, "{needed}");
        shot.lens.scale = Scale::Equivalent;
        assert_eq!(on(&resolved(&shot), LargerCamera::FullFrame, 2.8).f_number_on(&shot), None);
    }

    #[test]
    fn an_adapters_wider_view_is_kept() {
        let mut shot = shot(2.39, ShotSize::Medium);
        shot.adapter = Some(Adapter::new(Squeeze::new(1.33).expect("in range")));
        let setup = resolved(&shot);
        assert_same_view(&on(&setup, LargerCamera::Super35, 2.0).view(), &setup.view);
    }

    proptest! {
        #[test]
        fn the_framing_is_the_phones(
            aspect in 0.3..4.0_f64,
            size in prop_oneof![Just(ShotSize::Wide), Just(ShotSize::Medium), Just(ShotSize::Tight)],
            focus in prop_oneof![Just(None), (0.1..1000.0_f64).prop_map(Some)],
            tilt in prop_oneof![Just(None), (-5.0..5.0_f64).prop_map(Some)],
            camera in prop_oneof![Just(LargerCamera::FullFrame), Just(LargerCamera::Super35)],
        ) {
            let mut shot = shot(aspect, size);
            if let Some(metres) = focus {
                shot.focus = FocusOn::At(Length::from_m(metres));
            }
            if let Some(degrees) = tilt {
                shot.look = Look::Tilt(units::Angle::from_deg(degrees));
            }
            // A fixed look may have no framing, and then there is nothing to compare.
            if let Ok(setup) = shot.resolve(shot.frame()) {
                let larger = on(&setup, camera, 2.8);
                assert_same_view(&larger.view(), &setup.view);
                let one_disc = larger.softness(larger.focus);
                prop_assert!(one_disc.height_px.abs() < 1e-9, "in focus: {:?}", one_disc);
            }
        }
    }

    #[test]
    fn an_upright_frame_turns_the_camera() {
        let setup = resolved(&shot(9.0 / 16.0, ShotSize::Medium));
        // 24 mm across would need 42.7 mm of height; 36 mm of height take 20.25 mm across.
        let full = on(&setup, LargerCamera::FullFrame, 2.8);
        assert!((full.frame.area.width.to_mm() - 20.25).abs() < 1e-9, "{:?}", full.frame.area);
    }

    #[test]
    fn nothing_of_the_larger_frame_is_given_up() {
        for aspect in [2.39, 1.0] {
            let full = on(&resolved(&shot(aspect, ShotSize::Medium)), LargerCamera::FullFrame, 2.8).frame;
            assert_eq!(full.recorded.size, full.area);
            assert_eq!((full.recorded.width_px, full.recorded.height_px), full.delivered_px);
        }
    }

    #[test]
    fn each_camera_has_a_name_of_its_own() {
        assert_eq!(LargerCamera::ALL.map(LargerCamera::name), ["Super 35", "full frame"]);
    }
}
