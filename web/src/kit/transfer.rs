//! The kit as a file: written for a backup or for friends, and read back.

use film::KitRecord;
use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen_futures::JsFuture;

use crate::download;
use crate::kit::exchange::Exchange;
use crate::kit::fold::Fold;
use crate::kit::part::usable;
use crate::kit::reader::words;
use crate::session::Session;
use crate::widgets::FileButton;

/// The section of the kit's file.
#[component]
pub(super) fn Transfer(session: Session) -> impl IntoView {
    let offered = RwSignal::new(None::<KitRecord>);
    let problem = RwSignal::new(None::<String>);
    let write = move |_| {
        let result = session.kit.with_untracked(|kit| {
            let json = serde_json::to_string_pretty(kit).map_err(|error| error.to_string())?;
            let text = js_sys::Array::of1(&json.into());
            let file = web_sys::Blob::new_with_str_sequence(&text);
            file.and_then(|file| download::save(&file_name(kit), &file)).map_err(|error| words(&error))
        });
        problem.set(result.err().map(|message| say!("The file could not be made: {message}.")));
    };
    let bring = move |file: web_sys::File| {
        spawn_local(async move {
            let name = file.name();
            let text = JsFuture::from(file.text()).await.map_err(|error| words(&error));
            let read = text.and_then(|text| {
                let text = text.as_string().unwrap_or_default();
                session.kit.with_untracked(|own| read_kit(&text, own))
            });
            // The screen may be left by now, and its signals with it.
            let _left = match read {
                Ok(kit) => (problem.try_set(None), offered.try_set(Some(kit))),
                Err(message) => {
                    let message = say!("{name} cannot be used: {message}. Your kit is as it was.");
                    (problem.try_set(Some(message)), offered.try_set(None))
                }
            };
        });
    };
    view! {
        <Fold title=say!("Kit as a file")>
            <p class="quiet">
                {say!("For a backup, another device or friends. The same file works in the terminal program.")}
            </p>
            <div class="kit-buttons">
                <button type="button" on:click=write>{say!("Export kit")}</button>
                <FileButton words=say!("Import a kit") accept="application/json,.json" bring />
            </div>
            {move || problem.get().map(|words| view! { <p class="problem" role="alert">{words}</p> })}
            <Exchange session offered />
        </Fold>
    }
}

/// The kit that a text says. One without recording modes, as made from photos alone, takes over those of `own`.
///
/// # Errors
/// In words, with the path of the field.
fn read_kit(text: &str, own: &KitRecord) -> Result<KitRecord, String> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let mut kit: KitRecord = requests::read(&mut reader).map_err(|error| error.to_string())?;
    reader.end().map_err(|error| error.to_string())?;
    if kit.recordings.is_empty() {
        kit.recordings.clone_from(&own.recordings);
    }
    usable(kit).map_err(|error| error.to_string())
}

/// A name that every file system takes.
fn file_name(kit: &KitRecord) -> String {
    let name = download::plain_name(&[kit.name.as_deref().unwrap_or_default()]);
    format!("tapemark-{}.json", if name.is_empty() { "kit" } else { &name })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_reads_back() {
        let kit = crate::session::first_kit();
        let text = serde_json::to_string_pretty(&kit).expect("it can be written");
        assert_eq!(read_kit(&text, &kit), Ok(kit));
    }

    #[test]
    fn what_cannot_be_used_is_told_by_its_path() {
        let own = crate::session::first_kit();
        let error = read_kit(r#"{"lenses": [{"focal_length_mm": "wide"}]}"#, &own).expect_err("a word");
        assert!(error.starts_with("lenses[0].focal_length_mm: "), "{error}");
        let error = read_kit(r#"{"lenses": []}"#, &own).expect_err("no lens");
        assert_eq!(error, "lenses: is empty: a kit needs at least one lens");
        assert!(read_kit("holiday", &own).is_err(), "no kit at all");
    }

    #[test]
    fn a_kit_from_photos_alone_keeps_ones_own_modes() {
        let own = crate::session::first_kit();
        let text = r#"{"lenses": [{"focal_length_35mm_equivalent_mm": 24}]}"#;
        assert_eq!(read_kit(text, &own).expect("a kit").recordings, own.recordings);
    }

    #[test]
    fn a_files_name_is_plain() {
        assert_eq!(file_name(&crate::session::first_kit()), "tapemark-three-lenses-large-main-sensor.json");
    }
}
