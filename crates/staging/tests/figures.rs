//! The figures of a setup, each by hand or by small changes of what it is made from.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "phone/checked.rs"]
mod checked;
#[path = "phone/shot.rs"]
mod shot;

use checked::{assert_near, resolved};
use optics::{
    Adapter, Aspect, FrameAxis, Scale, Squeeze, blur_disc, hyperfocal_distance, sharp_zone,
    subject_sideways_softness,
};
use shot::phone_shot;
use staging::{Blur, Body, Figures, FocusOn, Object, Pupil, Setup, Shot, ShotSize, Subject};
use units::Length;

fn figures(shot: &Shot) -> (Setup, Figures) {
    let setup = resolved(shot);
    let figures = Figures::of(shot, &setup);
    (setup, figures)
}

/// The shot with the subject at that axial distance, whatever its size says.
fn at_depth(shot: &Shot, depth_m: f64) -> (Setup, Figures) {
    let depth = Length::from_m(depth_m);
    let setup = Setup { subject_depth: depth, focus: depth, eyes_in_frame: true, ..resolved(shot) };
    let figures = Figures::of(shot, &setup);
    (setup, figures)
}

#[test]
fn the_place_seen_is_as_wide_as_the_frame_at_the_background() {
    let (setup, figures) = figures(&phone_shot());
    let expected = (setup.subject_depth.to_m() + 10.0) * setup.view.width();
    assert_near(figures.place_width.to_m(), expected, 1e-12);
}

#[test]
fn a_near_face_is_stretched_by_its_own_depth() {
    // 0.1152 of 1.70 m is a head of 0.19584 m: the nose 0.13 of it before the eyes, the ears 0.46 behind them.
    let (_, figures) = at_depth(&phone_shot(), 0.5);
    let (nose, ears) = (0.5 - 0.13 * 0.195_84, 0.5 + 0.46 * 0.195_84);
    assert_near(figures.face_stretch.expect("a face"), ears / nose - 1.0, 1e-12);
    assert_eq!(at_depth(&phone_shot(), 0.02).1.face_stretch, None, "the nose is in the lens");
    let thing = Subject::Object(Object::on_table(Length::from_m(0.2)));
    let insert = Shot { subject: thing, size: ShotSize::Insert, ..phone_shot() };
    assert_eq!(at_depth(&insert, 0.5).1.face_stretch, None, "a thing has no face");
}

#[test]
fn whoever_is_near_is_as_soft_as_a_point_there() {
    let (facing, near) = (Body::standing(Length::from_m(1.7)), Body::standing(Length::from_m(1.8)));
    let subject = Subject::OverShoulder { facing, near, apart: Length::from_m(1.2) };
    let shot = Shot { subject, ..phone_shot() };
    let (setup, figures) = at_depth(&shot, 2.0);
    let point = Blur::of(&shot, &setup).expect("known").at(Length::from_m(0.8));
    assert_eq!(figures.near_person, Some(point));
    assert_eq!(at_depth(&shot, 1.2).1.near_person, None, "in the lens");
    assert_eq!(at_depth(&shot, 1.0).1.near_person, None, "behind it");
    assert_eq!(at_depth(&phone_shot(), 2.0).1.near_person, None, "nobody is near");
}

#[test]
fn the_background_is_sharp_where_the_zone_reaches_it() {
    let (setup, figures) = at_depth(&phone_shot(), 1.0);
    let optics::FarLimit::At(far) = figures.sharp.expect("known").far else { panic!("{figures:?}") };
    let behind = far - setup.subject_depth;
    assert_eq!(figures.background_is_sharp(&setup, behind * 0.999), Some(true));
    assert_eq!(figures.background_is_sharp(&setup, behind * 1.001), Some(false));
    let mut unknown = phone_shot();
    unknown.lens.f_number = None;
    let (setup, figures) = at_depth(&unknown, 1.0);
    assert_eq!(figures.background_is_sharp(&setup, behind), None);
}

#[test]
fn softness_is_the_disc_in_pixels_and_over_the_frames_height() {
    let squeeze = Squeeze::new(1.5).expect("in range");
    for axis in [FrameAxis::Width, FrameAxis::Height] {
        let adapter = Adapter { axis, focusing: true, ..Adapter::new(squeeze) };
        let shot = Shot { adapter: Some(adapter), ..phone_shot() };
        let setup = resolved(&shot);
        let away = setup.focus * 3.0;
        let soft = Blur::of(&shot, &setup).expect("known").at(away);
        let f_number = shot.lens.f_number.expect("known").value;
        let disc = blur_disc(shot.lens.focal_length.value, f_number, setup.focus, away, Some(&adapter));
        let (width, height) =
            if axis == FrameAxis::Width { (disc.squeezed, disc.plain) } else { (disc.plain, disc.squeezed) };
        assert_near(soft.width_px, width.to_m() * setup.frame.px_per_m, 1e-9);
        assert_near(soft.height_px, height.to_m() * setup.frame.px_per_m, 1e-9);
        assert_near(soft.share, soft.height_px / setup.frame.delivered_px.1, 1e-12);
        assert_near(soft.width_share, soft.width_px / setup.frame.delivered_px.1, 1e-12);
    }
}

#[test]
fn an_adapter_that_cannot_focus_leaves_the_subject_soft_by_so_many_pixels() {
    let adapter = Adapter::new(Squeeze::new(1.33).expect("in range"));
    let shot = Shot { adapter: Some(adapter), ..phone_shot() };
    let (setup, figures) = figures(&shot);
    let f_number = shot.lens.f_number.expect("known").value;
    let soft = subject_sideways_softness(shot.lens.focal_length.value, f_number, setup.focus, Some(&adapter));
    assert_near(figures.subject_sideways_px.expect("known"), soft.to_m() * setup.frame.px_per_m, 1e-9);
    assert!(soft > Length::ZERO, "{soft:?}");
}

#[test]
fn nothing_is_drawn_soft_where_nothing_has_an_image_or_a_true_size() {
    let setup = resolved(&phone_shot());
    let f = Length::from_mm(6.86);
    for (focus, has_image) in [(f * 1.001, true), (f, false), (f * 0.5, false)] {
        let setup = Setup { focus, ..setup };
        assert_eq!(Blur::of(&phone_shot(), &setup).is_some(), has_image, "{focus:?}");
        assert_eq!(Pupil::of(&phone_shot(), &setup).is_some(), has_image, "{focus:?}");
    }
    let mut equivalent = phone_shot();
    equivalent.lens.scale = Scale::Equivalent;
    assert_eq!(Blur::of(&equivalent, &setup), None);
}

#[test]
fn the_near_limit_is_as_uncertain_as_focus_lens_and_f_number_make_it() {
    let mut shot = Shot { aspect: Aspect::new(2.39).expect("a shape"), ..phone_shot() };
    shot.lens.focal_length.relative_sd = 0.02;
    if let Some(f_number) = &mut shot.lens.f_number {
        f_number.relative_sd = 0.03;
    }
    // So near that the lens's own length counts.
    let focus = Length::from_m(0.05);
    let mut setup = Setup { focus, subject_depth: focus, ..resolved(&shot) };
    setup.spread.distance = Length::from_mm(2.0);
    let f = shot.lens.focal_length.value;
    let circle = shot.circle_of_confusion(&setup.frame).expect("known");
    let h = hyperfocal_distance(f, shot.lens.f_number.expect("known").value, circle);
    let near = |h: Length, s: Length| sharp_zone(f, h, s).near.to_m();
    let step = 1e-6;
    let by_focus = (near(h, focus * (1.0 + step)) - near(h, focus)) / (focus.to_m() * step);
    let by_hyperfocal = (near(h * (1.0 + step), focus) - near(h, focus)) / (h.to_m() * step);
    // H goes as f² / N: twice 0.02 and once 0.03 make 0.05, in squares.
    let (of_focus, of_lens) = (by_focus * 0.002, by_hyperfocal * h.to_m() * 0.05);
    let expected = (of_focus * of_focus + of_lens * of_lens).sqrt();
    let told = |shot: &Shot| Figures::of(shot, &setup).near_sd.expect("known").to_m();
    assert_near(told(&shot), expected, expected * 1e-4);
    // Focus that was set is where it was set.
    let set = Shot { focus: FocusOn::At(focus), ..shot };
    assert_near(told(&set), of_lens.abs(), of_lens.abs() * 1e-4);
}
