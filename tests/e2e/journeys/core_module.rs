//! The core as an ES module, loaded by a page that is not ours.

use anyhow::{Result, ensure};
use checks::Browser;

/// `setup` and `compare` answer plain objects, and a wrong object gives an error that names the field.
pub(crate) async fn a_page_asks_the_core(browser: &mut Browser) -> Result<()> {
    let answer = browser
        .script(
            r#"return (async () => {
                const core = await import("/core/tapemark_core.js");
                await core.default();
                const shot = {
                    lens: {focal_length_mm: 6.86, f_number: 1.78, sensor_width_mm: 9.8, sensor_height_mm: 7.3},
                    recording: {width_px: 3840, height_px: 2160},
                    adapter: {squeeze: 1.33, focusing: false},
                    delivery: {aspect: 2.39},
                    subject: {stature_m: 1.70},
                    shot_size: "medium", camera_height_m: 1.2, background_behind_subject_m: 10.0,
                };
                const one = core.setup(shot);
                const all = core.compare({lenses: [shot.lens]}, shot, "least_distance");
                let refused = "";
                try { core.setup({...shot, delivery: {aspect: 2.39, shape: "wide"}}); }
                catch (error) { refused = error.message; }
                return [one.delivered_width_px, one.delivered_height_px, one.distance_m, all.lenses.length, refused];
            })()"#,
        )
        .await?;
    ensure!(answer[0] == 5107 && answer[1] == 2136, "delivered {answer}");
    ensure!(answer[2].as_f64().is_some_and(|distance| (0.5..2.0).contains(&distance)), "distance {answer}");
    ensure!(answer[3] == 2, "bare and with the adapter: {answer}");
    ensure!(
        answer[4].as_str().is_some_and(|message| message.contains("delivery.shape")),
        "refused with {answer}"
    );
    Ok(())
}
