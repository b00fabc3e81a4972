//! How long it takes to put a day in order: to see that a change can be answered at once.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

#[path = "order/full_day.rs"]
mod full_day;

use divan::{Bencher, black_box};
use full_day::day;

fn main() {
    divan::main();
}

/// Days that have about room for their setups.
#[divan::bench(args = [6, 8, 10, 11, 20, 40, 80])]
fn that_fits(bencher: Bencher<'_, '_>, jobs: u32) {
    let day = day(jobs, 400.0 / f64::from(jobs));
    bencher.bench(|| black_box(&day).order());
}

/// Days for which there are half as many again.
#[divan::bench(args = [10, 20, 40, 80])]
fn too_full(bencher: Bencher<'_, '_>, jobs: u32) {
    let day = day(jobs, 900.0 / f64::from(jobs));
    bencher.bench(|| black_box(&day).order());
}

/// What a dragged setup costs.
#[divan::bench(args = [10, 40])]
fn evaluated(bencher: Bencher<'_, '_>, jobs: u32) {
    let day = day(jobs, 400.0 / f64::from(jobs));
    // Its jobs are listed as the story goes.
    let story: Vec<usize> = (0..day.jobs.len()).collect();
    bencher.bench(|| black_box(&day).evaluate(&story));
}
