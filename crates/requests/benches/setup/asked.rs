//! The setup and the kit that benches ask for.

use film::{Circumstances, Kit, KitRecord};
use requests::{SetupRequest, read};
use staging::Shot;

/// The example of the terminal's contract, without the adapter.
const BARE: &str = r#"{
    "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3,
             "closest_focus_m": 0.2},
    "recording": {"width_px": 3840, "height_px": 2160}, "delivery": {"aspect": 2.39},
    "subject": {"stature_m": 1.70}, "shot_size": "medium", "camera_height_m": 1.2,
    "background_behind_subject_m": 10.0}"#;

/// The example with one thing changed.
pub(crate) fn shot(change: impl FnOnce(&mut SetupRequest)) -> (Shot, Circumstances) {
    let mut request: SetupRequest = read(&mut serde_json::Deserializer::from_str(BARE)).expect("a request");
    change(&mut request);
    let lens = request.lens.as_ref().expect("the example has a lens").to_lens().expect("a lens");
    let recording =
        request.recording.as_ref().expect("the example has a mode").to_recording().expect("a mode");
    let shot = request.to_shot(lens, recording).expect("a shot");
    (shot, request.circumstances().expect("in range"))
}

/// A kit of eight lenses and an adapter.
pub(crate) fn kit_of_eight() -> Kit {
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
    serde_json::from_str::<KitRecord>(&text).expect("a kit").to_kit().expect("a kit")
}
