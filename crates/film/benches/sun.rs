//! How long it takes to work out when the light is good on every day of a year: to see that a calendar can show it at once.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

use divan::{Bencher, black_box};
use film::{Coordinates, Daylight, HorizonProfile, LONG_SHADOWS, LowSun};
use jiff::civil::{Date, date};
use jiff::tz::{Offset, TimeZone};

fn main() {
    divan::main();
}

/// A town in the hills.
fn place() -> Coordinates {
    Coordinates::new(47.3, 11.4, 574.0).expect("a place")
}

/// Hills all around, a point every ten degrees, 2° to 14° high.
fn hills() -> HorizonProfile {
    let heights = [8.0, 11.0, 14.0, 10.0, 6.0, 3.0, 2.0, 4.0, 7.0, 9.0, 12.0, 5.0];
    let points = (0..36_u16).zip(heights.into_iter().cycle());
    HorizonProfile::from_deg(points.map(|(at, height)| (f64::from(at) * 10.0, height))).expect("in range")
}

fn days() -> impl Iterator<Item = Date> {
    date(2026, 1, 1).series(jiff::Span::new().days(1)).take(365)
}

/// Every day's times and the stretches of its low sun; no more than 50 ms.
#[divan::bench]
fn a_year_of_windows_in_the_hills(bencher: Bencher<'_, '_>) {
    let (place, hills, zone) = (place(), hills(), TimeZone::fixed(Offset::constant(1)));
    bencher.bench(|| {
        for date in days() {
            let windows = LowSun::with_day(black_box(&place), &hills, date, &zone, LONG_SHADOWS);
            black_box(windows.expect("a day"));
        }
    });
}

/// All of one day that a screen shows, positions every five minutes included.
#[divan::bench]
fn a_days_light_in_the_hills(bencher: Bencher<'_, '_>) {
    let (place, hills, zone) = (place(), hills(), TimeZone::fixed(Offset::constant(1)));
    bencher.bench(|| Daylight::of(black_box(&place), &hills, date(2026, 9, 10), &zone).expect("a day"));
}
