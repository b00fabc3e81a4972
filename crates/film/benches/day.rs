//! How long it takes to plan a day, its setups and their light with it: to see that a moved setup is answered at once.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

use divan::{Bencher, black_box};
use film::{DayPlan, Daylight, Daylights, Film, Place, Rehearsals, ShootingDay, demo_film, open_film};
use jiff::tz::{Offset, TimeZone};

fn main() {
    divan::main();
}

/// The light of a film's day at each of its places.
fn daylights(film: &Film) -> Daylights {
    let date = film.days.first().and_then(|day| day.date).expect("a date");
    let zone = TimeZone::fixed(Offset::constant(2));
    let of_place = |place: &Place| {
        let spot = place.spot.as_ref()?;
        Some((place.id, Daylight::of(&spot.coordinates, &spot.horizon, date, &zone).ok()?))
    };
    film.places.iter().filter_map(of_place).collect()
}

/// Plans a film's day again, as after a change that leaves its shots as they are.
fn planned_again(bencher: Bencher<'_, '_>, film: &Film) {
    let day = film.days.first().expect("a day");
    let (daylights, mut rehearsals) = (daylights(film), Rehearsals::default());
    let mut plan = || DayPlan::of(black_box(film), day, &daylights, &mut rehearsals);
    assert!(!plan().order.placed.is_empty(), "there is something to put in order");
    bencher.bench_local(plan);
}

/// The invented film's day.
#[divan::bench]
fn of_the_invented_film(bencher: Bencher<'_, '_>) {
    planned_again(bencher, &demo_film());
}

/// Forty setups on such a day.
#[divan::bench]
fn of_forty_setups(bencher: Bencher<'_, '_>) {
    let file = include_bytes!("../../../tests/films/valid/forty_shots.json");
    let mut film = open_film(file).expect("a film").film;
    film.days = demo_film().days.iter().map(|day| ShootingDay { shots: None, ..day.clone() }).collect();
    planned_again(bencher, &film);
}
