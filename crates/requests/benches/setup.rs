//! How long one setup takes, and a kit's comparison: to see that dragging the phone can be followed by every figure.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

#[path = "setup/asked.rs"]
mod asked;

use asked::{kit_of_eight, shot};
use divan::counter::ItemsCount;
use divan::{AllocProfiler, Bencher, black_box};
use film::ShotResult;
use requests::SetupRequest;

/// Counts allocations beside the time: a setup without a finding makes none.
#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

/// Times one setup, and refuses to time one that has findings.
fn time_setup(bencher: Bencher<'_, '_>, change: impl FnOnce(&mut SetupRequest)) {
    let (shot, around) = shot(change);
    let findings = ShotResult::of(shot, &around).findings;
    assert!(findings.is_empty(), "the setup to time has findings: {findings:?}");
    bencher.bench(|| ShotResult::of(black_box(shot), black_box(&around)));
}

/// Solve, figures and findings of the contract's example.
#[divan::bench]
fn one_setup(bencher: Bencher<'_, '_>) {
    time_setup(bencher, |_| {});
}

/// The same with an adapter that focuses, which leaves nothing to find.
#[divan::bench]
fn one_setup_with_adapter(bencher: Bencher<'_, '_>) {
    time_setup(bencher, |request| {
        request.adapter = serde_json::from_str(r#"{"squeeze": 1.33, "focusing": true}"#).ok();
    });
}

/// The same held level, where the crop moves.
#[divan::bench]
fn one_setup_held_level(bencher: Bencher<'_, '_>) {
    time_setup(bencher, |request| {
        request.look_tilt_deg = Some(0.0);
        request.camera_height_m = Some(1.4);
    });
}

/// The same on a spot of the floor, as while the phone is dragged.
#[divan::bench]
fn one_setup_on_a_spot(bencher: Bencher<'_, '_>) {
    time_setup(bencher, |request| request.stand_at_m = Some(2.5));
}

/// Eight lenses, with the adapter on and off: sixteen setups.
#[divan::bench]
fn kit_of_eight_lenses(bencher: Bencher<'_, '_>) {
    let kit = kit_of_eight();
    let recording = kit.recordings.first().expect("the kit has a mode");
    let (shot, around) = shot(|_| {});
    bencher
        .counter(ItemsCount::new(16_usize))
        .bench(|| film::compare(black_box(&kit), recording, black_box(&shot), &around));
}
