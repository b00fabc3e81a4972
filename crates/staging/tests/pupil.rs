//! Rays through the pupil, as the picture traces them, draw the discs that the figures tell.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

#[path = "phone/shot.rs"]
mod shot;

use optics::{Adapter, FrameAxis, Lens, Scale, Squeeze, blur_disc};
use proptest::prelude::*;
use shot::phone_shot;
use staging::{Blur, FocusOn, Pupil, Setup, Shot};
use units::Length;

fn shot(adapter: Option<Adapter>, focus: FocusOn) -> Shot {
    Shot { adapter, focus, ..phone_shot() }
}

fn resolve(shot: &Shot) -> Setup {
    shot.resolve(shot.frame()).expect("a setup")
}

/// How far apart, in tangents, the rays of one point at depth `z` leave a pupil `wide` that is in focus at `s`.
///
/// A ray of tangent x through l is at l (1 − z/s) + x z: for a point at 0, x = −l (1/z − 1/s).
fn spread(wide: Length, s: Length, z: Length) -> f64 {
    let tangent = |l: f64| -l * (1.0 / z.to_m() - 1.0 / s.to_m());
    (tangent(wide.to_m() / 2.0) - tangent(-wide.to_m() / 2.0)).abs()
}

fn adapters() -> impl Strategy<Value = Option<Adapter>> {
    let axis = prop_oneof![Just(FrameAxis::Width), Just(FrameAxis::Height)];
    prop::option::of((1.0..3.0_f64, any::<bool>(), axis).prop_map(|(squeeze, focusing, axis)| Adapter {
        focusing,
        axis,
        ..Adapter::new(Squeeze::new(squeeze).expect("in range"))
    }))
}

proptest! {
    #[test]
    fn traced_discs_are_the_told_ones(
        adapter in adapters(), focus in prop::option::of(0.1..50.0_f64), depth in 0.05..200.0_f64,
    ) {
        let focus = focus.map_or(FocusOn::Subject, |metres| FocusOn::At(Length::from_m(metres)));
        let shot = shot(adapter, focus);
        let setup = resolve(&shot);
        let (pupil, blur) = (Pupil::of(&shot, &setup).expect("known"), Blur::of(&shot, &setup).expect("known"));
        let z = Length::from_m(depth);
        let told = blur.at(z);
        let (view, px) = (&setup.view, setup.frame.delivered_px);
        let wide = spread(pupil.width, pupil.focus_across, z) / view.width() * px.0;
        let high = spread(pupil.height, pupil.focus_up, z) / view.height() * px.1;
        prop_assert!((wide - told.width_px).abs() <= 1e-9 * told.width_px.max(1.0), "{} {}", wide, told.width_px);
        prop_assert!((high - told.height_px).abs() <= 1e-9 * told.height_px.max(1.0), "{} {}", high, told.height_px);
        // And on the sensor, where desqueezed lengths are tangents times the image distance.
        let v = shot.lens.image_distance(Some(setup.focus));
        let (f, n) = (shot.lens.focal_length.value, shot.lens.f_number.expect("known").value);
        let disc = blur_disc(f, n, setup.focus, z, adapter.as_ref());
        let (across, up) = match adapter.map(|adapter| adapter.axis) {
            Some(FrameAxis::Height) => (disc.plain, disc.squeezed),
            Some(FrameAxis::Width) | None => (disc.squeezed, disc.plain),
        };
        let traced = (v * spread(pupil.width, pupil.focus_across, z), v * spread(pupil.height, pupil.focus_up, z));
        prop_assert!((traced.0 - across).abs() <= across * 1e-9 + Length::from_mm(1e-12), "{:?} {:?}", traced, across);
        prop_assert!((traced.1 - up).abs() <= up * 1e-9 + Length::from_mm(1e-12), "{:?} {:?}", traced, up);
    }
}

#[test]
fn a_lens_of_which_little_is_known_has_no_pupil() {
    let known = shot(None, FocusOn::Subject);
    let setup = resolve(&known);
    let pupil_of = |lens: Lens| Pupil::of(&Shot { lens, ..known }, &setup);
    assert!(pupil_of(known.lens).is_some());
    assert_eq!(pupil_of(Lens { f_number: None, ..known.lens }), None);
    assert_eq!(pupil_of(Lens { scale: Scale::Equivalent, ..known.lens }), None);
    assert_eq!(Pupil::focused(&known, Length::from_mm(6.0)), None);
}

#[test]
fn the_pupil_is_as_wide_as_the_f_number_says() {
    let pupil = Pupil::focused(&shot(None, FocusOn::Subject), Length::from_m(2.0)).expect("known");
    // 6.86 mm / 1.78.
    assert!((pupil.width.to_mm() - 3.853_932_584).abs() < 1e-9, "{pupil:?}");
    let clip_on = Adapter::new(Squeeze::new(1.33).expect("in range"));
    let pupil = Pupil::focused(&shot(Some(clip_on), FocusOn::Subject), Length::from_m(2.0)).expect("known");
    assert!((pupil.width.to_mm() - 3.853_932_584 / 1.33).abs() < 1e-9, "{pupil:?}");
    assert!((pupil.focus_across.to_m() - 2.0 / 1.33 / 1.33).abs() < 1e-12, "{pupil:?}");
    assert!((pupil.focus_up.to_m() - 2.0).abs() < 1e-12 && pupil.height > pupil.width, "{pupil:?}");
}
