//! The time zone whose clock a place goes by, found among all there are.

use language::say;
use leptos::prelude::*;
use wasm_bindgen::JsValue;

use super::spot::SpotDesk;
use crate::shooting::Almanac;
use crate::widgets::live;

/// The zone of the device's own clock, as its browser knows it.
pub(super) fn device_zone() -> Option<String> {
    let format = js_sys::Intl::DateTimeFormat::new(&js_sys::Array::new(), &js_sys::Object::new());
    js_sys::Reflect::get(&format.resolved_options(), &JsValue::from_str("timeZone")).ok()?.as_string()
}

/// A field with all zones to choose from, which come when it is first used.
#[component]
pub(super) fn ZoneField(spot: SpotDesk) -> impl IntoView {
    let zones = RwSignal::new(Vec::<String>::new());
    let problem = RwSignal::new(String::new());
    let load = move || {
        leptos::task::spawn_local(async move {
            if let Ok(names) = Almanac::time_zones().await {
                zones.try_set(names);
            }
        });
    };
    let take = move |typed: String| {
        leptos::task::spawn_local(async move {
            // Whoever types fast is done before the list is there.
            let names = Almanac::time_zones().await;
            let outcome =
                names.map_err(|why| say!("That zone cannot be looked up: {why}.")).and_then(|names| {
                    let name = known(&names, &typed)?;
                    spot.change_spot(say!("Change the place's time zone"), |known| known.time_zone = name)
                });
            problem.try_set(outcome.err().unwrap_or_default());
        });
    };
    let options = move || {
        let option = |name: String| view! { <option value=name></option> };
        zones.get().into_iter().map(option).collect_view()
    };
    view! {
        <div class="field">
            <label class="quiet" for="light-zone">{say!("Time zone")}</label>
            <input
                id="light-zone"
                type="text"
                list="light-zones"
                autocomplete="off"
                placeholder=say!("Europe/Lisbon")
                prop:value=live(move || spot.known().time_zone)
                aria-describedby="light-zone-note"
                aria-invalid=move || (!problem.with(String::is_empty)).then_some("true")
                on:focus=move |_| if zones.with_untracked(Vec::is_empty) { load() }
                on:change:target=move |event| take(event.target().value().trim().to_owned())
            />
            <datalist id="light-zones">{options}</datalist>
            <span id="light-zone-note">
                <span class="quiet">{say!("Its clock counts, summer time with it. Type a part of the name of a large \
                      town. ")}</span>
                <Show when=move || !problem.with(String::is_empty)>
                    <span class="problem" role="alert">{problem}</span>
                </Show>
            </span>
        </div>
    }
}

/// The zone of that name, however it is written.
fn known(zones: &[String], typed: &str) -> Result<String, String> {
    if typed.is_empty() {
        return Err(say!("A time zone is needed, such as Europe/Lisbon.").to_owned());
    }
    let plain = |name: &str| name.to_lowercase().replace([' ', '-'], "_");
    let wanted = plain(typed);
    if let Some(found) = zones.iter().find(|name| plain(name) == wanted) {
        return Ok(found.clone());
    }
    let near: Vec<&str> =
        zones.iter().filter(|name| plain(name).contains(&wanted)).map(String::as_str).collect();
    match near[..] {
        [] => Err(say!("“{typed}” is no time zone: choose one from the list, such as Europe/Lisbon.")),
        [only] => Ok(only.to_owned()),
        [first, second, ..] => Err(say!("“{typed}” could be {first} or {second}: choose one from the list.")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_zone_is_found_by_a_part_of_its_name() {
        let zones = ["America/New_York", "Europe/Amsterdam", "Europe/Lisbon"].map(str::to_owned);
        let found = |typed| known(&zones, typed);
        assert_eq!(found("lisbon"), Ok("Europe/Lisbon".to_owned()));
        assert_eq!(found("new york"), Ok("America/New_York".to_owned()));
        assert_eq!(found("Europe/Amsterdam"), Ok("Europe/Amsterdam".to_owned()));
        assert!(
            found("europe").expect_err("two of them").contains("Europe/Amsterdam or Europe/Lisbon"),
            "both"
        );
        assert!(found("Mars").expect_err("none").contains("is no time zone"), "none");
        assert!(found("").is_err(), "none is typed");
    }
}
