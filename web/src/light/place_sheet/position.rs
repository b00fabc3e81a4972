//! The device's own position, if people let the page have it: asked for by a tap, and by nothing else.

use language::say;
use leptos::prelude::*;
use wasm_bindgen::prelude::*;

use super::spot::SpotDesk;

#[wasm_bindgen(inline_js = r#"
export function position_in_page() {
  return new Promise((resolve, reject) => {
    if (!navigator.geolocation) {
      reject("none");
      return;
    }
    const found = ({ coords }) => resolve([coords.latitude, coords.longitude, coords.altitude ?? NaN]);
    const refused = ({ code }) => reject(code === 1 ? "denied" : code === 3 ? "late" : "unknown");
    navigator.geolocation.getCurrentPosition(found, refused, { timeout: 20000, maximumAge: 600000 });
  });
}
"#)]
extern "C" {
    #[wasm_bindgen(catch)]
    async fn position_in_page() -> Result<JsValue, JsValue>;
}

/// A place is kept to so many steps a degree: 11 m, chosen because the sun is the same and nobody's door is written down.
const STEPS_A_DEGREE: f64 = 1e4;

/// A button that takes the device's position, and what came of it.
#[component]
pub(super) fn Position(spot: SpotDesk) -> impl IntoView {
    let (is_asking, told) = (RwSignal::new(false), RwSignal::new(String::new()));
    let ask = move |_| {
        is_asking.set(true);
        told.set(String::new());
        leptos::task::spawn_local(async move {
            let outcome = position_in_page().await;
            // The sheet may have gone while people thought about it.
            if is_asking.try_set(false).is_some() {
                return;
            }
            let words = match outcome {
                Ok(position) => taken(spot, &position),
                Err(why) => refusal(&why.as_string().unwrap_or_default()).to_owned(),
            };
            told.try_set(words);
        });
    };
    view! {
        <div class="light-position">
            <button type="button" disabled=move || is_asking.get() on:click=ask>{say!("Use this device's position")}</button>
            <p role="status">{move || if is_asking.get() { say!("Asking the device").to_owned() } else { told.get() }}</p>
        </div>
    }
}

fn taken(spot: SpotDesk, position: &JsValue) -> String {
    let numbers: Vec<f64> =
        js_sys::Array::from(position).iter().filter_map(|number| number.as_f64()).collect();
    let [latitude, longitude, elevation] = numbers[..] else { return refusal("unknown").to_owned() };
    let rounded = |degrees: f64| (degrees * STEPS_A_DEGREE).round() / STEPS_A_DEGREE;
    let changed = spot.change_spot(say!("Take the device's position"), |known| {
        known.latitude_deg = Some(rounded(latitude));
        known.longitude_deg = Some(rounded(longitude));
        if elevation.is_finite() {
            known.elevation_m = elevation.round();
        }
    });
    changed.err().unwrap_or_else(|| say!("Taken. It stays in the film, on this device.").to_owned())
}

/// Why there is no position, and what to do.
fn refusal(why: &str) -> &'static str {
    match why {
        "denied" => {
            say!(
                "This device does not let the page know where it is. Nothing has changed: type latitude and longitude, or allow \
             it in the browser's settings for this page."
            )
        }
        "late" => {
            say!(
                "The device took too long to find itself. Nothing has changed: try again under the sky, or type it."
            )
        }
        "none" => {
            say!("This browser cannot tell where it is. Nothing has changed: type latitude and longitude.")
        }
        _ => {
            say!(
                "The device does not know where it is. Nothing has changed: try again under the sky, or type it."
            )
        }
    }
}
