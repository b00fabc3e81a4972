//! How long a picture takes, one thread: two people and eight pieces of a set, all three rays.
//!
//! A pass is one sample of every pixel. It is measured as the mean over a group of four, which is how they are taken.

#[path = "picture/two_people.rs"]
mod two_people;

use std::sync::Arc;

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use optics::ViewTangents;
use render::{Photo, Picture, Scenery, Size, Tracer};
use staging::Backdrop;
use two_people::{camera, picture};
use units::Length;

fn main() {
    divan::main();
}

const FULL: Size = Size { width: 960, height: 540 };

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
