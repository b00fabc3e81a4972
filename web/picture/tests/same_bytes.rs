//! The same picture is the same bytes natively and in a browser, whoever draws which strip.
//!
//! Both run this test and compare with the sums in `same_bytes.txt`, of a picture and of the same before a photo. Where a
//! change is meant to change pictures, run `BLESS=1 cargo test -p picture-worker --test same_bytes` and look at some
//! pictures.

use std::sync::Arc;

use glam::DVec2;
use optics::ViewTangents;
use render::{Photo, Picture, Screen, Size, Tracer};
use staging::{
    Age, Backdrop, Body, Camera, Colour, Light, Person, PieceKind, Posture, Pupil, SetPiece, Stage, Stance,
};
use units::{Angle, Length};
#[cfg(target_arch = "wasm32")]
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

#[cfg(target_arch = "wasm32")]
wasm_bindgen_test_configure!(run_in_browser);

/// Somebody walks past somebody who sits, before pieces of every kind, while the camera turns: through an adapter that
/// cannot focus.
fn stage() -> Stage {
    let camera = |azimuth: f64| {
        Camera::new(DVec2::new(0.1, -2.4).extend(1.3), Angle::from_deg(azimuth), Angle::from_deg(-4.0))
    };
    let person = |x: f64, posture: Posture, stance: Stance| Person {
        body: Body { stature: Length::from_m(1.7), posture, age: Age::Adult },
        stance,
        place: DVec2::new(x, 0.3),
        facing: Angle::from_deg(120.0),
        clothes: Colour([0.5, 0.2, 0.1]),
        velocity: DVec2::new(if posture == Posture::Seated { 0.0 } else { 1.3 }, 0.0),
    };
    let pieces = [
        (PieceKind::Window, -1.0, 4.0),
        (PieceKind::Doorway, 2.0, 4.5),
        (PieceKind::Table, 0.9, 1.2),
        (PieceKind::Tree, -2.2, 2.5),
        (PieceKind::Hedge, 0.0, 6.0),
        (PieceKind::Car, 3.0, 3.0),
        (PieceKind::LampPost, -0.6, 2.0),
        (PieceKind::Lights, 0.3, 3.0),
        (PieceKind::Plant, -0.3, -1.8),
    ];
    Stage {
        opens: camera(1.0),
        closes: camera(1.4),
        view: ViewTangents { left: 0.7, right: 0.7, up: 0.31, down: 0.27 },
        pupil: Some(Pupil {
            width: Length::from_mm(12.0),
            height: Length::from_mm(16.0),
            focus_across: Length::from_m(1.5),
            focus_up: Length::from_m(2.6),
        }),
        exposure_s: 1.0 / 48.0,
        people: vec![
            person(-0.4, Posture::Standing, Stance::Walking(0.3)),
            person(0.5, Posture::Seated, Stance::Still),
        ],
        pieces: pieces
            .into_iter()
            .map(|(kind, x, y)| SetPiece {
                kind,
                place: DVec2::new(x, y),
                facing: Angle::from_deg(170.0),
                size: kind.usual_size(),
            })
            .collect(),
        object: None,
        posts: None,
        backdrop: None,
        light: Light::Sun { azimuth: Angle::from_deg(230.0), elevation: Angle::from_deg(33.0) },
    }
}

/// The same before a photo that was taken beside, rolled, and that does not reach the frame's edge.
#[expect(clippy::expect_used, reason = "a test that cannot make its photo must fail")]
fn before_a_photo() -> Picture {
    let taken = DVec2::new(-0.3, -2.6).extend(1.5);
    let [azimuth, tilt, roll] = [-14.0, -9.0, 6.0].map(Angle::from_deg);
    let backdrop = Backdrop {
        photo: 1,
        camera: Camera::rolled(taken, azimuth, tilt, roll),
        view: ViewTangents { left: 0.8, right: 0.8, up: 0.6, down: 0.6 },
        far: Length::from_m(14.0),
    };
    // Any colours: each byte follows from its place alone.
    let rgba = (0..200_u32 * 150 * 4).map(|at| at.wrapping_mul(0x9e37_79b9).to_be_bytes()[0]).collect();
    let photo = Arc::new(Photo::new(200, 150, rgba).expect("a photo"));
    Picture::before(&Stage { backdrop: Some(backdrop), ..stage() }, &photo)
}

/// A sum in which every bit of every pixel counts, of the light and of what a screen shows: FNV-1a of 64 bits.
fn sum_of_image(picture: &Picture, workers: u32) -> u64 {
    let tracer = Tracer::new(picture, Size { width: 120, height: 50 });
    let screen = Screen::new();
    let mut strips: Vec<_> = (0..tracer.strips()).map(|index| tracer.strip(index)).collect();
    // As workers would: each its own strips, in portions that depend on how many there are.
    for worker in 0..workers {
        for strip in strips.iter_mut().filter(|strip| strip.index() % workers == worker) {
            while strip.samples() < 48 {
                tracer.trace(strip, 4 * workers);
            }
        }
    }
    let mut sum = 0xcbf2_9ce4_8422_2325_u64;
    let mut count = |byte: u8| sum = (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    for strip in &strips {
        let mut rgba = vec![0; strip.rows().len() * 120 * 4];
        strip.develop(&screen, &mut rgba);
        strip.linear().iter().flatten().flat_map(|channel| channel.to_le_bytes()).for_each(&mut count);
        rgba.into_iter().for_each(&mut count);
    }
    sum
}

#[cfg_attr(target_arch = "wasm32", wasm_bindgen_test)]
#[cfg_attr(not(target_arch = "wasm32"), test)]
fn every_bit_is_the_same_natively_and_in_a_browser_with_one_worker_or_four() {
    let sums = |workers: u32| {
        let pictures = [Picture::of(&stage()), before_a_photo()];
        pictures.map(|picture| format!("{:016x}", sum_of_image(&picture, workers))).join("\n")
    };
    let sum = sums(1);
    assert_eq!(sum, sums(4));
    #[cfg(not(target_arch = "wasm32"))]
    if std::env::var_os("BLESS").is_some() {
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/same_bytes.txt");
        std::fs::write(file, format!("{sum}\n")).expect("the folder is there");
        return;
    }
    assert_eq!(sum, include_str!("same_bytes.txt").trim());
}
