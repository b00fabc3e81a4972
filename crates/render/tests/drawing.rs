//! What is drawn is what was asked for: independent of who draws, sharp, soft and smeared as the picture says.

use glam::DVec3;
use optics::ViewTangents;
use render::{Floor, Image, Lighting, Picture, Shape, Size, Solid, Sun, Surface, Tracer, draw};
use staging::{Camera, Colour, Pupil};
use units::{Angle, Length};

const SIZE: Size = Size { width: 120, height: 80 };

fn camera(east: f64) -> Camera {
    Camera::new(DVec3::new(east, 0.0, 1.0), Angle::ZERO, Angle::ZERO)
}

fn pupil(diameter_m: f64, focus_m: f64) -> Pupil {
    let (diameter, focus) = (Length::from_m(diameter_m), Length::from_m(focus_m));
    Pupil { width: diameter, height: diameter, focus_across: focus, focus_up: focus }
}

/// A dark place, seen 60 degrees wide, with these shapes.
fn dark(shapes: Vec<Shape>) -> Picture {
    Picture {
        opens: camera(0.0),
        closes: camera(0.0),
        view: ViewTangents { left: 0.6, right: 0.6, up: 0.4, down: 0.4 },
        pupil: None,
        shapes,
        floor: Floor::None,
        backdrop: None,
        lighting: Lighting { sun: None, zenith: [0.0; 3], horizon: [0.0; 3], bounce: [0.0; 3] },
    }
}

fn glowing(solid: Solid) -> Shape {
    Shape { solid, surface: Surface::Glowing([1.0; 3]), moved: DVec3::ZERO, melts_m: 0.0 }
}

fn ball(centre: DVec3, radius: f64) -> Solid {
    Solid::Ellipsoid { centre, axes: DVec3::AXES.map(|axis| axis * radius) }
}

/// A ball that is not taken for a lamp, because it is the hull of two.
fn plain_ball(centre: DVec3, radius: f64) -> Solid {
    Solid::RoundCone { from: centre, from_radius: radius, to: centre, to_radius: radius }
}

/// People, blocks and lights under a sun, out of focus and in motion: everything that a picture can have.
fn busy() -> Picture {
    let matt = |red: f64| Surface::Matt(Colour([red, 0.5, 0.3]));
    let turned = glam::DQuat::from_rotation_z(0.4);
    let axes = [turned * DVec3::X * 0.4, turned * DVec3::Y * 0.2, DVec3::Z * 0.5];
    let shape = |solid, surface| Shape { solid, surface, moved: DVec3::ZERO, melts_m: 0.0 };
    let at = |x, y, z| DVec3::new(x, y, z);
    Picture {
        closes: Camera::new(DVec3::new(0.05, 0.0, 1.0), Angle::from_deg(0.6), Angle::from_deg(0.2)),
        pupil: Some(pupil(0.03, 2.0)),
        shapes: vec![
            shape(ball(at(0.2, 2.0, 1.0), 0.3), matt(0.8)),
            shape(Solid::Block { centre: at(-0.7, 3.0, 0.5), axes }, matt(0.2)),
            shape(Solid::Cylinder { centre: at(1.0, 4.0, 0.5), axes }, matt(0.6)),
            Shape {
                solid: Solid::RoundCone {
                    from: at(-0.3, 1.5, 0.2),
                    from_radius: 0.1,
                    to: at(-0.2, 1.6, 0.9),
                    to_radius: 0.05,
                },
                surface: matt(0.4),
                moved: DVec3::new(0.08, 0.0, 0.0),
                melts_m: 0.0,
            },
            shape(ball(at(0.5, 9.0, 2.0), 0.03), Surface::Glowing([30.0, 20.0, 9.0])),
        ],
        floor: Floor::Grid { colour: Colour([0.3; 3]), lines: Colour([0.7, 0.6, 0.2]) },
        lighting: Lighting {
            sun: Some(Sun {
                direction: at(0.5, -0.5, 0.7).normalize(),
                light: [0.9, 0.8, 0.7],
                half_angle_rad: 0.00465,
            }),
            zenith: [0.2, 0.3, 0.6],
            horizon: [0.6, 0.7, 0.8],
            bounce: [0.2; 3],
        },
        ..dark(Vec::new())
    }
}

/// Middle and standard deviation of an image's light along rows and columns, pixels.
fn moments(image: &Image) -> ((f64, f64), (f64, f64)) {
    let places =
        (0..image.size.height).flat_map(|row| (0..image.size.width).map(move |column| (column, row)));
    let (mut light, mut first, mut second) = (0.0, (0.0, 0.0), (0.0, 0.0));
    for ((column, row), pixel) in places.zip(&image.linear) {
        let weight = f64::from(pixel[0]);
        let (x, y) = (f64::from(column) + 0.5, f64::from(row) + 0.5);
        light += weight;
        first = (first.0 + weight * x, first.1 + weight * y);
        second = (second.0 + weight * x * x, second.1 + weight * y * y);
    }
    let middle = (first.0 / light, first.1 / light);
    let deviation = |second: f64, middle: f64| (second / light - middle * middle).max(0.0).sqrt();
    (middle, (deviation(second.0, middle.0), deviation(second.1, middle.1)))
}

fn light(image: &Image) -> f64 {
    image.linear.iter().map(|pixel| f64::from(pixel[0])).sum()
}

#[test]
fn strips_are_the_same_in_any_order_and_in_any_portions() {
    let tracer = Tracer::new(&busy(), SIZE);
    let whole: Vec<_> = (0..tracer.strips())
        .map(|index| {
            let mut strip = tracer.strip(index);
            tracer.trace(&mut strip, 24);
            strip
        })
        .collect();
    for index in (0..tracer.strips()).rev() {
        let mut strip = tracer.strip(index);
        for portion in [4, 12, 8] {
            tracer.trace(&mut strip, portion);
        }
        assert_eq!(strip, whole[index as usize]);
    }
}

#[test]
fn a_point_of_light_is_where_the_camera_sees_it() {
    let place = DVec3::new(0.7, 3.0, 1.4);
    let image = draw(&dark(vec![glowing(ball(place, 0.02))]), SIZE, 256);
    let picture = dark(Vec::new());
    let seen = picture.opens.see(place).expect("ahead").to_px(&picture.view, (120.0, 80.0));
    let (middle, _) = moments(&image);
    assert!((middle.0 - seen.0).abs() < 0.05 && (middle.1 - seen.1).abs() < 0.05, "{middle:?} {seen:?}");
}

#[test]
fn what_is_out_of_focus_is_spread_over_the_disc_of_the_formula() {
    // In tangents: pupil · |1/focus − 1/depth|; a disc's standard deviation on an axis is a quarter of its diameter.
    let lens = Pupil {
        width: Length::from_m(0.15),
        height: Length::from_m(0.2),
        focus_across: Length::from_m(1.5),
        focus_up: Length::from_m(2.0),
    };
    let picture = Picture { pupil: Some(lens), ..dark(vec![glowing(ball(DVec3::new(0.0, 8.0, 1.0), 0.02))]) };
    let (_, deviation) = moments(&draw(&picture, SIZE, 64));
    let px_per_tangent = 100.0;
    let wide = 0.15 * (1.0 / 1.5 - 1.0 / 8.0) * px_per_tangent / 4.0;
    let high = 0.2 * (1.0 / 2.0 - 1.0 / 8.0) * px_per_tangent / 4.0;
    assert!((deviation.0 / wide - 1.0).abs() < 0.02, "{deviation:?} {wide}");
    assert!((deviation.1 / high - 1.0).abs() < 0.02, "{deviation:?} {high}");
}

#[test]
fn a_lamp_gives_the_light_that_chance_would_find() {
    let place = DVec3::new(0.3, 6.0, 1.2);
    let lens = Some(pupil(0.1, 1.5));
    // Half of its disc is hidden by a wall near the lens.
    let wall = Solid::Block {
        centre: DVec3::new(0.6, 1.5, 1.0),
        axes: [DVec3::X * 0.525, DVec3::Y * 0.01, DVec3::Z * 2.0],
    };
    let wall =
        Shape { solid: wall, surface: Surface::Matt(Colour([0.5; 3])), moved: DVec3::ZERO, melts_m: 0.0 };
    let with = |solid| Picture { pupil: lens, ..dark(vec![glowing(solid), wall]) };
    let lamp = draw(&with(ball(place, 0.045)), SIZE, 512);
    let chance = draw(&with(plain_ball(place, 0.045)), SIZE, 16_384);
    assert!(light(&chance) > 0.2, "{}", light(&chance));
    assert!((light(&lamp) / light(&chance) - 1.0).abs() < 0.02, "{} {}", light(&lamp), light(&chance));
    let (one, other) = (moments(&lamp), moments(&chance));
    assert!((one.0.0 - other.0.0).abs() < 0.2 && (one.1.0 - other.1.0).abs() < 0.2, "{one:?} {other:?}");
}

#[test]
fn what_moves_is_smeared_by_how_far_it_gets() {
    let still = plain_ball(DVec3::new(-0.5, 4.0, 1.0), 0.05);
    let moved = Shape { moved: DVec3::new(1.0, 0.0, 0.0), ..glowing(still) };
    let (middle, deviation) = moments(&draw(&dark(vec![moved]), SIZE, 512));
    // A metre at four metres is 25 px; a uniform smear's standard deviation is its length over √12.
    assert!((middle.0 - 60.0).abs() < 0.2, "{middle:?}");
    assert!((deviation.0 - 25.0 / 12.0_f64.sqrt()).abs() < 0.2, "{deviation:?}");
}

#[test]
fn what_the_camera_goes_along_with_stays_sharp_while_the_background_is_smeared() {
    let follow = |at: DVec3, moved: DVec3| {
        let shape = Shape { moved, ..glowing(plain_ball(at, 0.05)) };
        Picture { opens: camera(-0.2), closes: camera(0.2), ..dark(vec![shape]) }
    };
    let walker = follow(DVec3::new(-0.2, 3.0, 1.0), DVec3::new(0.4, 0.0, 0.0));
    let (_, sharp) = moments(&draw(&walker, SIZE, 256));
    assert!(sharp.0 < 1.2, "{sharp:?}");
    let (_, smeared) = moments(&draw(&follow(DVec3::new(0.0, 6.0, 1.0), DVec3::ZERO), SIZE, 256));
    assert!((smeared.0 - 0.4 / 6.0 * 100.0 / 12.0_f64.sqrt()).abs() < 0.2, "{smeared:?}");
}

#[test]
fn a_pan_smears_what_stands_still() {
    let half = Angle::from_deg(2.0);
    let turned = |by: Angle| Camera::new(DVec3::Z, by, Angle::ZERO);
    let shape = glowing(plain_ball(DVec3::new(0.0, 5.0, 1.0), 0.03));
    let picture = Picture { opens: turned(-half), closes: turned(half), ..dark(vec![shape]) };
    let (middle, deviation) = moments(&draw(&picture, SIZE, 512));
    let length = 2.0 * half.tan() * 100.0;
    assert!(
        (middle.0 - 60.0).abs() < 0.2 && (deviation.0 - length / 12.0_f64.sqrt()).abs() < 0.2,
        "{deviation:?} {length}"
    );
}

#[test]
fn a_shadow_falls_away_from_the_sun() {
    let mut picture = busy();
    picture.closes = picture.opens;
    picture.pupil = None;
    picture.shapes = vec![Shape {
        solid: ball(DVec3::new(0.0, 4.0, 0.6), 0.2),
        surface: Surface::Matt(Colour([0.5; 3])),
        moved: DVec3::ZERO,
        melts_m: 0.0,
    }];
    picture.floor = Floor::Plain(Colour([0.5; 3]));
    let image = draw(&picture, SIZE, 64);
    let brightness = |place: DVec3| {
        let (x, y) = picture.opens.see(place).expect("ahead").to_px(&picture.view, (120.0, 80.0));
        let pixel =
            |at: f64| (0_usize..).zip(1..120).find(|(_, edge)| at < f64::from(*edge)).map_or(0, |(at, _)| at);
        image.linear[pixel(y) * 120 + pixel(x)][0]
    };
    let sun = picture.lighting.sun.expect("it shines").direction;
    let shadow = DVec3::new(0.0, 4.0, 0.6) - sun * (0.6 / sun.z);
    let away = DVec3::new(-shadow.x, shadow.y, 0.0);
    assert!(brightness(shadow) < 0.6 * brightness(away), "{} {}", brightness(shadow), brightness(away));
}

#[test]
fn picking_tells_what_is_there_and_how_far() {
    let tracer = Tracer::new(&busy(), SIZE);
    let ball = tracer.pick(70.0, 40.0).expect("the ball");
    assert!((ball.point.distance(DVec3::new(0.2, 2.0, 1.0)) - 0.3).abs() < 0.01, "{ball:?}");
    assert!((ball.depth.to_m() - 1.7).abs() < 0.02, "{ball:?}");
    let floor = tracer.pick(60.0, 79.0).expect("the floor");
    assert!(floor.point.z.abs() < 1e-4, "{floor:?}");
    assert_eq!(tracer.pick(5.0, 2.0), None);
}

#[test]
fn an_image_of_no_samples_is_black_and_an_odd_size_is_whole() {
    let size = Size { width: 33, height: 17 };
    let image = draw(&busy(), size, 0);
    assert_eq!(image.linear.len(), 33 * 17);
    assert!(image.linear.iter().flatten().all(|channel| channel.abs() <= 0.0));
    let drawn = draw(&busy(), size, 4);
    assert!(
        drawn.linear.iter().all(|pixel| pixel.iter().all(|channel| channel.is_finite() && *channel > 0.0))
    );
}
