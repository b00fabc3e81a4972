//! How long one setup takes, and a kit's comparison: to see that dragging the phone can be followed by every figure.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

use divan::counter::ItemsCount;
use divan::{AllocProfiler, Bencher, black_box};
use film::{Circumstances, KitRecord, ShotResult};
use requests::{SetupRequest, read};
use staging::Shot;

/// Counts allocations beside the time: a setup without a finding makes none.
#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

/// The example of the terminal's contract, without the adapter.
const BARE: &str = r#"{
    "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3,
             "closest_focus_m": 0.2},
    "recording": {"width_px": 3840, "height_px": 2160}, "delivery": {"aspect": 2.39},
    "subject": {"stature_m": 1.70}, "shot_size": "medium", "camera_height_m": 1.2,
    "background_behind_subject_m": 10.0}"#;

fn main() {
    divan::main();
}

/// The example with one thing changed.
fn shot(change: impl FnOnce(&mut SetupRequest)) -> (Shot, Circumstances) {
    let mut request: SetupRequest = read(&mut serde_json::Deserializer::from_str(BARE)).expect("a request");
    change(&mut request);
    let lens = request.lens.as_ref().expect("the example has a lens").to_lens().expect("a lens");
    let recording =
        request.recording.as_ref().expect("the example has a mode").to_recording().expect("a mode");
    let shot = request.to_shot(lens, recording).expect("a shot");
    (shot, request.circumstances().expect("in range"))
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
    let lens = |index: u32| {
        let f = 2.0 + 1.1 * f64::from(index);
        format!(
            r#"{{"name": "{index}", "focal_length_mm": {f}, "sensor_width_mm": 6.4, "sensor_height_mm": 4.8,
                 "f_number": 2.0, "closest_focus_m": 0.1}}"#
        )
    };
    let lenses: Vec<_> = (0..8).map(lens).collect();
    let text = format!(
        r#"{{"lenses": [{}], "recordings": [{{"width_px": 3840, "height_px": 2160}}],
             "adapters": [{{"squeeze": 1.33, "focusing": true}}]}}"#,
        lenses.join(", ")
    );
    let kit = serde_json::from_str::<KitRecord>(&text).expect("a kit").to_kit().expect("a kit");
    let recording = kit.recordings.first().expect("the kit has a mode");
    let (shot, around) = shot(|_| {});
    bencher
        .counter(ItemsCount::new(16_usize))
        .bench(|| film::compare(black_box(&kit), recording, black_box(&shot), &around));
}
