//! How long a picture takes, one thread: two people and eight pieces of a set, all three rays.
//!
//! A pass is one sample of every pixel. It is measured as the mean over a group of four, which is how they are taken.

use std::sync::Arc;

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use glam::{DVec2, DVec3};
use optics::ViewTangents;
use render::{Photo, Picture, Scenery, Size, Tracer};
use staging::{
    Age, Backdrop, Body, Camera, Colour, Light, Person, PieceKind, Posture, Pupil, SetPiece, Stage, Stance,
};
use units::{Angle, Length};

fn main() {
    divan::main();
}

const FULL: Size = Size { width: 960, height: 540 };

fn person(x: f64, facing: f64, posture: Posture) -> Person {
    Person {
        body: Body { stature: Length::from_m(1.7), posture, age: Age::Adult },
        stance: Stance::Still,
        place: DVec2::new(x, 0.0),
        facing: Angle::from_deg(facing),
        clothes: Colour([0.5, 0.2, 0.1]),
        velocity: DVec2::ZERO,
    }
}

/// Two people and eight pieces, `times` over, the copies farther and farther back.
fn picture(times: u32) -> Picture {
    let kinds = [
        (PieceKind::Wall, -2.5, 4.0),
        (PieceKind::Window, 1.0, 5.0),
        (PieceKind::Table, 1.2, 0.5),
        (PieceKind::Bench, -1.4, 0.8),
        (PieceKind::Tree, 2.8, 3.0),
        (PieceKind::Hedge, -3.0, 2.5),
        (PieceKind::LampPost, 0.6, 2.5),
        (PieceKind::Lights, 0.0, 3.5),
    ];
    let copies = || (0..times).map(|copy| f64::from(copy) * 2.0);
    let stage = Stage {
        opens: camera(),
        closes: camera(),
        view: ViewTangents { left: 0.53, right: 0.53, up: 0.3, down: 0.3 },
        pupil: Some(Pupil {
            width: Length::from_mm(3.85),
            height: Length::from_mm(3.85),
            focus_across: Length::from_m(2.6),
            focus_up: Length::from_m(2.6),
        }),
        exposure_s: 1.0 / 48.0,
        people: copies()
            .flat_map(|back| {
                [(-0.5, 160.0, Posture::Standing), (0.5, 210.0, Posture::Seated)].map(
                    |(x, facing, posture)| {
                        let person = person(x, facing, posture);
                        Person { place: person.place + DVec2::Y * back, ..person }
                    },
                )
            })
            .collect(),
        pieces: copies()
            .flat_map(|back| {
                kinds.map(|(kind, x, y)| SetPiece {
                    kind,
                    place: DVec2::new(x, y + back),
                    facing: Angle::from_deg(180.0),
                    size: kind.usual_size(),
                })
            })
            .collect(),
        object: None,
        posts: None,
        backdrop: None,
        light: Light::Sun { azimuth: Angle::from_deg(230.0), elevation: Angle::from_deg(40.0) },
    };
    Picture::of(&stage)
}

fn camera() -> Camera {
    Camera::new(DVec3::new(0.0, -2.6, 1.3), Angle::ZERO, Angle::from_deg(-3.0))
}

/// One sample of every pixel.
fn pass(bencher: Bencher<'_, '_>, picture: &Picture, size: Size) {
    let tracer = Tracer::new(picture, size);
    let mut strips: Vec<_> = (0..tracer.strips()).map(|index| tracer.strip(index)).collect();
    bencher.counter(ItemsCount::new(4_u32)).bench_local(move || {
        for strip in &mut strips {
            tracer.trace(black_box(strip), 4);
        }
    });
}

/// At 960 by 540; the bar is 20 ms a sample, 80 ms for these four.
#[divan::bench]
fn four_samples(bencher: Bencher<'_, '_>) {
    pass(bencher, &picture(1), FULL);
}

/// A quarter of the pixels: a quarter of the time.
#[divan::bench]
fn four_samples_of_a_quarter(bencher: Bencher<'_, '_>) {
    pass(bencher, &picture(1), Size { width: 480, height: 270 });
}

/// Ten times the shapes; the bar is three times the time.
#[divan::bench]
fn four_samples_of_ten_times_the_shapes(bencher: Bencher<'_, '_>) {
    pass(bencher, &picture(10), FULL);
}

/// The same before a photo of twelve million pixels.
#[divan::bench]
fn four_samples_before_a_photo(bencher: Bencher<'_, '_>) {
    let rgba = (0..=u8::MAX).cycle().step_by(7).take(4000 * 3000 * 4).collect();
    let view = ViewTangents { left: 1.2, right: 1.2, up: 0.9, down: 0.9 };
    let place = Backdrop { photo: 1, camera: camera(), view, far: Length::from_m(20.0) };
    let backdrop = Photo::new(4000, 3000, rgba).map(|photo| Scenery { place, photo: Arc::new(photo) });
    pass(bencher, &Picture { backdrop, ..picture(1) }, FULL);
}

/// What comes before the first ray: everybody as shapes, tiles and the grid of shadows.
#[divan::bench]
fn preparing(bencher: Bencher<'_, '_>) {
    bencher.bench(|| Tracer::new(&picture(1), FULL));
}
