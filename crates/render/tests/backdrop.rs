//! A photo behind the picture: its own colours from its own place, soft and shaded as the place itself would be.
#![expect(clippy::expect_used, reason = "a test that cannot make its photo must fail")]

use std::sync::Arc;

use glam::{DVec2, DVec3};
use optics::ViewTangents;
use render::{Image, Photo, Picture, Scenery, Shape, Size, Solid, Surface, Tracer, draw};
use staging::{Backdrop, Body, Camera, Colour, Light, Person, Pupil, Stage, Stance};
use units::{Angle, Length};

const SIZE: Size = Size { width: 120, height: 80 };
const FAR_M: f64 = 12.0;

fn camera(azimuth_deg: f64, tilt_deg: f64) -> Camera {
    let place = DVec3::new(0.4, -2.0, 1.3);
    Camera::new(place, Angle::from_deg(azimuth_deg), Angle::from_deg(tilt_deg))
}

/// The same, rolled.
fn rolled(azimuth_deg: f64, tilt_deg: f64, roll_deg: f64) -> Camera {
    let place = camera(azimuth_deg, tilt_deg).position();
    Camera::rolled(place, Angle::from_deg(azimuth_deg), Angle::from_deg(tilt_deg), Angle::from_deg(roll_deg))
}

fn view(half: f64) -> ViewTangents {
    ViewTangents { left: half, right: half, up: half * 2.0 / 3.0, down: half * 2.0 / 3.0 }
}

/// A photo of so many pixels that looks along the wide camera, of what `colour` says in each place of it from 0 to 1.
fn photo(width: u32, height: u32, colour: impl Fn(f64, f64) -> [u8; 3]) -> Arc<Photo> {
    let share = |at: u32, of: u32| (f64::from(at) + 0.5) / f64::from(of);
    let pixels = (0..height).flat_map(|row| (0..width).map(move |column| (column, row)));
    let rgba = pixels.flat_map(|(column, row)| {
        let [red, green, blue] = colour(share(column, width), share(row, height));
        [red, green, blue, 255]
    });
    Arc::new(Photo::new(width, height, rgba.collect()).expect("a photo"))
}

/// An empty place before a photo that was taken by `taken`.
fn stage(frame: Camera, view: ViewTangents, taken: Camera, whole: ViewTangents) -> Stage {
    Stage {
        opens: frame,
        closes: frame,
        view,
        pupil: None,
        exposure_s: 0.0,
        people: Vec::new(),
        pieces: Vec::new(),
        object: None,
        posts: None,
        backdrop: Some(Backdrop { photo: 1, camera: taken, view: whole, far: Length::from_m(FAR_M) }),
        light: Light::Sun { azimuth: Angle::from_deg(250.0), elevation: Angle::from_deg(35.0) },
    }
}

fn pixel(image: &Image, x: f64, y: f64) -> [f32; 3] {
    let place =
        |at: f64| (0_usize..).zip(1..200).find(|(_, edge)| at < f64::from(*edge)).map_or(0, |(at, _)| at);
    image.linear[place(y) * 120 + place(x)]
}

/// Where in the image a point of the place is.
fn seen(picture: &Picture, point: DVec3) -> (f64, f64) {
    picture.opens.see(point).expect("ahead").to_px(&picture.view, (120.0, 80.0))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 255")]
fn byte(share: f64) -> u8 {
    (share.clamp(0.0, 1.0) * 255.0).round() as u8
}

/// Soft colours that tell every place of a photo from every other.
fn soft(x: f64, y: f64) -> [u8; 3] {
    [byte(0.1 + 0.8 * x), byte(0.15 + 0.75 * y), byte(0.5 + 0.35 * (5.0 * x + 3.0 * y).sin())]
}

#[test]
fn a_photo_comes_back_from_its_own_place_as_it_is() {
    for roll in [0.0, 7.0] {
        let own = rolled(20.0, -6.0, roll);
        let stage = stage(own, view(1.2), own, view(1.2));
        let image = draw(&Picture::before(&stage, &photo(120, 80, soft)), SIZE, 64).to_rgba8();
        let mut worst = 0;
        for (at, pixel) in (0_u32..).zip(image.chunks_exact(4)) {
            let (x, y) = ((f64::from(at % 120) + 0.5) / 120.0, (f64::from(at / 120) + 0.5) / 80.0);
            for (ours, theirs) in pixel.iter().zip(soft(x, y)) {
                worst = worst.max(ours.abs_diff(theirs));
            }
        }
        assert!(worst <= 1, "rolled {roll}: {worst} levels off");
    }
}

#[test]
fn what_the_photo_does_not_cover_is_hatched_in_two_tones() {
    let turned = stage(camera(200.0, 0.0), view(0.5), camera(20.0, 0.0), view(1.0));
    let large = Size { width: 480, height: 320 };
    let image = draw(&Picture::before(&turned, &photo(12, 8, |_, _| [200, 40, 90])), large, 16).to_rgba8();
    let mut greys: Vec<u8> = image.chunks_exact(4).map(|pixel| pixel[1]).collect();
    let (low, high) =
        (greys.iter().copied().min().expect("pixels"), greys.iter().copied().max().expect("pixels"));
    assert!(low < high && high < 110, "{low} {high}");
    greys.retain(|grey| *grey == low || *grey == high);
    assert!(greys.len() > 480 * 320 * 3 / 4, "most pixels are one tone or the other: {}", greys.len());
    // Half outside: as much is hatched as is not covered.
    let half = stage(camera(65.0, 0.0), view(0.5), camera(20.0, 0.0), view(1.0));
    let covered = half.backdrop.expect("a photo").covers(&half.opens, &half.view);
    let image = draw(&Picture::before(&half, &photo(12, 8, |_, _| [200, 40, 90])), SIZE, 16).to_rgba8();
    let count = image.chunks_exact(4).filter(|pixel| pixel[0] > 150).count();
    let share = f64::from(u32::try_from(count).expect("few")) / (120.0 * 80.0);
    assert!((0.2..0.8).contains(&covered) && (share - covered).abs() < 0.03, "{share} {covered}");
}

#[test]
fn people_stand_on_the_photos_floor_in_their_shadow() {
    let own = camera(0.0, -12.0);
    let bare = stage(own, view(0.6), own, view(1.2));
    let somebody = Person {
        body: Body::standing(Length::from_m(1.7)),
        stance: Stance::Still,
        place: DVec2::new(0.4, 2.0),
        facing: Angle::from_deg(180.0),
        clothes: Colour([0.2, 0.3, 0.4]),
        velocity: DVec2::ZERO,
    };
    let photo = photo(120, 80, |_, _| [150, 150, 150]);
    let picture = Picture::before(&Stage { people: vec![somebody], ..bare.clone() }, &photo);
    let (empty, image) = (draw(&Picture::before(&bare, &photo), SIZE, 64), draw(&picture, SIZE, 64));
    // The sun is in the south-west, so the shadow falls to the north-east, 1.4 m long for every metre of height.
    let sun = staging::direction(Angle::from_deg(250.0), Angle::from_deg(35.0));
    let waist = DVec3::new(0.4, 2.0, 1.0);
    let shadow = seen(&picture, waist - sun * (waist.z / sun.z));
    let share = |(x, y): (f64, f64)| pixel(&image, x, y)[1] / pixel(&empty, x, y)[1];
    assert!(share(shadow) < 0.75, "{}", share(shadow));
    let sunny = seen(&picture, DVec3::new(-0.7, 1.5, 0.0));
    assert!((share(sunny) - 1.0).abs() < 0.02, "{}", share(sunny));
    let sky = (5.0, 5.0);
    assert!((share(sky) - 1.0).abs() < 1e-6, "{}", share(sky));
    assert!((pixel(&empty, 60.0, 70.0)[1] - pixel(&empty, 60.0, 10.0)[1]).abs() < 1e-5);
}

#[test]
fn a_mark_on_the_photos_floor_stays_there_for_whoever_stands_elsewhere() {
    let taken = camera(10.0, -15.0);
    let mark = DVec3::new(0.9, 1.8, 0.0);
    let at = taken.see(mark).expect("ahead").to_px(&view(1.2), (1.0, 1.0));
    let dot = |x: f64, y: f64| {
        if libm::hypot((x - at.0) * 1.5, y - at.1) < 0.02 { [255; 3] } else { [0; 3] }
    };
    let elsewhere = Camera::new(DVec3::new(-0.6, -1.0, 1.6), Angle::from_deg(25.0), Angle::from_deg(-20.0));
    let picture = Picture::before(&stage(elsewhere, view(0.8), taken, view(1.2)), &photo(600, 400, dot));
    let image = draw(&picture, SIZE, 64);
    let (mut light, mut first) = (0.0, (0.0, 0.0));
    for (at, pixel) in (0_u32..).zip(&image.linear) {
        let weight = f64::from(if pixel[0] > 0.16 { pixel[0] } else { 0.0 });
        light += weight;
        first.0 += weight * (f64::from(at % 120) + 0.5);
        first.1 += weight * (f64::from(at / 120) + 0.5);
    }
    let (middle, expected) = ((first.0 / light, first.1 / light), seen(&picture, mark));
    assert!(light > 1.0, "{light}");
    assert!(libm::hypot(middle.0 - expected.0, middle.1 - expected.1) < 0.4, "{middle:?} {expected:?}");
}

#[test]
fn the_wall_is_as_soft_as_what_is_as_far_away() {
    let own = Camera::new(DVec3::new(0.0, 0.0, 1.3), Angle::ZERO, Angle::ZERO);
    let lens = Pupil {
        width: Length::from_m(0.15),
        height: Length::from_m(0.2),
        focus_across: Length::from_m(1.5),
        focus_up: Length::from_m(2.0),
    };
    // A point in the middle of the photo, as large as four of its pixels.
    let dot = |x: f64, y: f64| {
        if (x - 0.5).abs() < 0.0035 && (y - 0.5).abs() < 0.0053 { [255; 3] } else { [0; 3] }
    };
    let stage = Stage { pupil: Some(lens), ..stage(own, view(0.6), own, view(1.2)) };
    let image = draw(&Picture::before(&stage, &photo(600, 400, dot)), SIZE, 256);
    let (mut light, mut second) = (0.0, (0.0, 0.0));
    for (at, pixel) in (0_u32..).zip(&image.linear) {
        let weight = f64::from(pixel[0]);
        light += weight;
        second.0 += weight * (f64::from(at % 120) - 59.5).powi(2);
        second.1 += weight * (f64::from(at / 120) - 39.5).powi(2);
    }
    // A disc's standard deviation on an axis is a quarter of its diameter, in pixels of which there are 100 to a tangent;
    // the dot's own, 1.7 pixels of the picture across, is taken off.
    let own = 1.2 * 2.0 * 100.0 * 0.007 / 12.0_f64.sqrt();
    let spread = |second: f64| ((second / light) - own * own).max(0.0).sqrt();
    let wide = 0.15 * (1.0 / 1.5 - 1.0 / FAR_M) * 100.0 / 4.0;
    let high = 0.2 * (1.0 / 2.0 - 1.0 / FAR_M) * 100.0 / 4.0;
    assert!((spread(second.0) / wide - 1.0).abs() < 0.05, "{} {wide}", spread(second.0));
    assert!((spread(second.1) / high - 1.0).abs() < 0.05, "{} {high}", spread(second.1));
}

#[test]
fn a_photo_much_finer_than_the_picture_does_not_sparkle() {
    let own = camera(0.0, 0.0);
    let checks = photo(2400, 1600, |x, y| {
        let is_even = |at: f64| (at / 2.0).fract() < 0.5;
        if is_even(x * 2400.0) == is_even(y * 1600.0) { [255; 3] } else { [0; 3] }
    });
    let image = draw(&Picture::before(&stage(own, view(1.2), own, view(1.2)), &checks), SIZE, 4);
    let worst = image.linear.iter().map(|pixel| (pixel[1] - 0.5).abs()).fold(0.0_f32, f32::max);
    assert!(worst < 0.02, "{worst}");
}

/// Somebody before a photo, out of focus, while the phone turns.
fn busy() -> Picture {
    let taken = rolled(8.0, -9.0, 4.0);
    let stage = Stage {
        closes: camera(13.0, -9.0),
        pupil: Some(Pupil {
            width: Length::from_m(0.02),
            height: Length::from_m(0.03),
            focus_across: Length::from_m(2.0),
            focus_up: Length::from_m(2.5),
        }),
        people: vec![Person {
            body: Body::standing(Length::from_m(1.7)),
            stance: Stance::Walking(0.2),
            place: DVec2::new(0.4, 1.0),
            facing: Angle::from_deg(120.0),
            clothes: Colour([0.2, 0.3, 0.4]),
            velocity: DVec2::new(1.0, 0.0),
        }],
        exposure_s: 0.02,
        ..stage(camera(12.0, -9.0), view(0.9), taken, view(1.0))
    };
    Picture::before(&stage, &photo(300, 200, soft))
}

#[test]
fn strips_before_a_photo_are_the_same_in_any_order_and_in_any_portions() {
    let tracer = Tracer::new(&busy(), SIZE);
    for index in (0..tracer.strips()).rev() {
        let (mut whole, mut portions) = (tracer.strip(index), tracer.strip(index));
        tracer.trace(&mut whole, 24);
        for portion in [8, 4, 12] {
            tracer.trace(&mut portions, portion);
        }
        assert_eq!(whole, portions);
        assert!(whole.linear().iter().flatten().all(|channel| channel.is_finite() && *channel > 0.0));
    }
}

#[test]
fn picking_tells_how_far_the_photos_floor_and_wall_are_taken_to_be() {
    let own = camera(0.0, 0.0);
    let picture = Picture::before(&stage(own, view(1.0), own, view(0.8)), &photo(12, 8, soft));
    let tracer = Tracer::new(&picture, SIZE);
    let wall = tracer.pick(60.0, 38.0).expect("the wall");
    assert!((wall.depth.to_m() - FAR_M).abs() < 0.01, "{wall:?}");
    let floor = tracer.pick(60.0, 66.0).expect("the floor");
    assert!(floor.point.z.abs() < 1e-4, "{floor:?}");
    assert_eq!(tracer.pick(1.0, 40.0), None, "not covered");
}

#[test]
fn shapes_hide_the_photo_and_glow_as_they_do() {
    let own = camera(0.0, 0.0);
    let stage = stage(own, view(0.6), own, view(1.2));
    let glowing = Shape {
        solid: Solid::RoundCone {
            from: own.position() + own.forward() * 3.0,
            from_radius: 0.4,
            to: own.position() + own.forward() * 3.0,
            to_radius: 0.4,
        },
        surface: Surface::Glowing([0.25, 0.5, 0.75]),
        moved: DVec3::ZERO,
        melts_m: 0.0,
    };
    let place = stage.backdrop.expect("a photo");
    let scenery = Scenery { place, photo: photo(12, 8, |_, _| [9, 9, 9]) };
    let picture = Picture { shapes: vec![glowing], backdrop: Some(scenery), ..Picture::of(&stage) };
    let middle = pixel(&draw(&picture, SIZE, 16), 60.0, 40.0);
    assert!(
        middle.iter().zip([0.25, 0.5, 0.75]).all(|(ours, given)| (ours - given).abs() < 1e-6),
        "{middle:?}"
    );
}
