//! Whose phone the kit is of, and what its camera app lets people set.

use film::{CameraApp, CameraAppRecord, KitRecord};
use language::say;
use leptos::prelude::*;

use crate::kit::exchange::Exchange;
use crate::kit::exposure_times::ExposureTimes;
use crate::session::Session;
use crate::widgets::{Choice, Choices};

/// The section of the phone.
#[component]
pub(super) fn Phone(session: Session) -> impl IntoView {
    let presets = StoredValue::new(film::kits());
    let offered = RwSignal::new(None::<KitRecord>);
    let taken = Memo::new(move |_| {
        presets.with_value(|presets| {
            session.kit.with(|kit| presets.iter().position(|preset| is_same(kit, preset)))
        })
    });
    let choose = move |index: usize| {
        let Some(preset) = presets.with_value(|presets| presets.get(index).cloned()) else { return };
        let own = session.kit.get_untracked();
        let same_times = taken.get_untracked().is_some_and(|taken| {
            presets.with_value(|presets| {
                presets.get(taken).is_some_and(|preset| preset.exposure_times_s == own.exposure_times_s)
            })
        });
        let nothing_lost = same_times && own.views.is_empty();
        let kit = with_phone(own, preset);
        if nothing_lost { session.kit.set(kit) } else { offered.set(Some(kit)) }
    };
    let buttons = move || {
        let names = presets.with_value(|presets| presets.iter().map(shown_name).collect::<Vec<_>>());
        let button = |(index, name): (usize, String)| {
            view! {
                <button
                    type="button"
                    aria-pressed=move || (taken.get() == Some(index)).to_string()
                    on:click=move |_| choose(index)
                >
                    {name}
                </button>
            }
        };
        names.into_iter().enumerate().map(button).collect_view()
    };
    let make_own = move |_| {
        if taken.get_untracked().is_some() {
            session.kit.update(|kit| {
                kit.name = Some(say!("My phone").to_owned());
                kit.source = None;
            });
        }
    };
    view! {
        <section class="kit-section" aria-labelledby="kit-phone">
            <h2 id="kit-phone">{say!("Phone")}</h2>
            <div class="kit-buttons" role="group" aria-labelledby="kit-phone">
                {buttons}
                <button
                    type="button"
                    aria-pressed=move || taken.with(Option::is_none).to_string()
                    on:click=make_own
                >
                    {say!("Your own")}
                </button>
            </div>
            <p class="quiet">{move || meaning(taken.with(Option::is_some))}</p>
            <Exchange session offered />
            <KitName session taken />
        </section>
    }
}

/// The section of the camera app: after the lenses, as whoever comes first comes for these.
#[component]
pub(super) fn CameraAppPart(session: Session) -> impl IntoView {
    view! {
        <section class="kit-section" aria-labelledby="kit-app">
            <h2 id="kit-app">{say!("Camera app")}</h2>
            <CameraPowers session />
            <ExposureTimes session />
        </section>
    }
}

/// What the choice of phone means for the figures.
fn meaning(is_preset: bool) -> &'static str {
    if is_preset {
        say!(
            "Typical values of such a phone, not of yours: good for a first idea. Bring a photo from each of your \
                  lenses below."
        )
    } else {
        say!("Your own kit. Each value says where it comes from.")
    }
}

/// The name of the user's own kit.
#[component]
fn KitName(session: Session, taken: Memo<Option<usize>>) -> impl IntoView {
    let name = move || session.kit.with(|kit| kit.name.clone().unwrap_or_default());
    let rename = move |text: String| {
        let text = text.trim().to_owned();
        session.kit.update(|kit| kit.name = (!text.is_empty()).then_some(text));
    };
    view! {
        {move || taken.with(Option::is_none).then(|| view! {
            <label class="kit-field">
                <span>{say!("Name of the kit")}</span>
                <span class="entry">
                    <input
                        type="text"
                        autocomplete="off"
                        prop:value=name
                        on:change:target=move |event| rename(event.target().value())
                    />
                </span>
            </label>
        })}
    }
}

/// What the camera app lets people set, and what that means.
#[component]
fn CameraPowers(session: Session) -> impl IntoView {
    let choices = [
        Choice::new(CameraAppRecord::Nothing, say!("nothing")),
        Choice::new(CameraAppRecord::LockOnly, say!("lock only")),
        Choice::new(CameraAppRecord::FullManual, say!("full manual")),
    ];
    let chosen = Signal::derive(move || session.kit.with(powers));
    view! {
        <Choices
            legend=say!("What the camera app lets you set")
            choices
            chosen
            choose=move |app| session.kit.update(|kit| kit.camera_app = Some(app))
        />
        <p class="quiet">{move || powers_words(chosen.get())}</p>
    }
}

/// What the kit says of the app, or what is assumed where it says nothing.
fn powers(kit: &KitRecord) -> CameraAppRecord {
    kit.camera_app.unwrap_or(match CameraApp::default() {
        CameraApp::Nothing => CameraAppRecord::Nothing,
        CameraApp::LockOnly => CameraAppRecord::LockOnly,
        CameraApp::FullManual => CameraAppRecord::FullManual,
    })
}

fn powers_words(app: CameraAppRecord) -> String {
    let means = match app {
        CameraAppRecord::Nothing => say!("It decides focus and brightness by itself"),
        CameraAppRecord::LockOnly => say!("It can hold focus and brightness where they are"),
        CameraAppRecord::FullManual => say!("Shutter, ISO, focus and white balance are yours"),
    };
    say!("{means}. Advice keeps to that: {}.", CameraApp::from(app).focus_advice())
}

/// Whether a kit still is what the preset says of the phone.
fn is_same(kit: &KitRecord, preset: &KitRecord) -> bool {
    kit.name == preset.name && kit.lenses == preset.lenses && kit.recordings == preset.recordings
}

/// Another phone with the user's adapters and filters, which are not part of it; views were of the old phone's lenses.
fn with_phone(own: KitRecord, phone: KitRecord) -> KitRecord {
    KitRecord { adapters: own.adapters, filters: own.filters, views: Vec::new(), ..phone }
}

fn shown_name(kit: &KitRecord) -> String {
    film::kit_told(kit.name.as_deref().unwrap_or_default()).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kit_is_a_preset_until_its_phone_is_changed() {
        let kit = crate::session::first_kit();
        let presets = film::kits();
        assert!(is_same(&kit, &presets[0]), "adapters are not part of the phone");
        let mut changed = kit;
        changed.lenses[0].f_number = Some(2.0);
        assert!(!presets.iter().any(|preset| is_same(&changed, preset)));
    }

    #[test]
    fn another_phone_keeps_the_adapters() {
        let kit = crate::session::first_kit();
        let adapters = kit.adapters.clone();
        let other = with_phone(kit, film::kits().swap_remove(1));
        assert_eq!((other.adapters, other.views.len()), (adapters, 0));
    }
}
