//! The sheet of the place: where the scene plays, where on earth that is, its clock, and what stands around it.

mod horizon;
mod position;
mod spot;
mod zone;

use std::sync::Arc;

use film::{Command, Film, Place, PlaceId, SceneFacts};
use language::say;
use leptos::html;
use leptos::prelude::*;

use super::light_desk::LightDesk;
use crate::recce::{PaceOut, Photos, Recce};
use crate::widgets::{NamedChoices, Sheet, live, when};
use spot::SpotDesk;

/// The sheet.
#[component]
pub(super) fn PlaceSheet(light: LightDesk, node: NodeRef<html::Dialog>) -> impl IntoView {
    let place = light.place();
    view! {
        <Sheet node title=say!("The place")>
            <PlaceList light />
            {move || place.get().map(|id| view! { <PlaceFields light id /> })}
            <NewPlace light />
        </Sheet>
    }
}

/// The film's places, of which one is where the scene plays.
#[component]
fn PlaceList(light: LightDesk) -> impl IntoView {
    let places: Memo<Vec<(PlaceId, String)>> = Memo::new(move |_| {
        light.desk().film.with(|film| {
            let places = film.as_ref().map(|film| film.places.iter());
            places
                .map(|places| places.map(|place| (place.id, place.name.clone())).collect())
                .unwrap_or_default()
        })
    });
    let legend = live(move || {
        let number = light.desk().film.with(|film| film.as_ref()?.number_of(light.chosen().get()?));
        number.map_or_else(|| say!("Which place").to_owned(), |(scene, _)| say!("Where scene {scene} plays"))
    });
    when(
        move || places.with(|places| !places.is_empty()),
        move || {
            view! {
                <NamedChoices
                    legend=legend
                    choices=places
                    chosen=light.place().into()
                    choose=move |id| play_at(light, id)
                />
            }
            .into_any()
        },
    )
}

/// Has the scene of the chosen setup play at that place.
fn play_at(light: LightDesk, place: PlaceId) {
    let found = light.desk().film.with_untracked(|film| {
        let (scene, _) = film.as_ref()?.shot(light.chosen().get_untracked()?)?;
        Some((scene.id, Arc::clone(&scene.facts)))
    });
    let Some((scene, facts)) = found else { return };
    let facts = Arc::new(SceneFacts { place: Some(place), ..SceneFacts::clone(&facts) });
    let command = Command::SetSceneFacts { scene, facts };
    light.tell(light.desk().change(say!("Change where it plays"), Some(scene.number()), command));
}

/// A place that the film does not know yet.
#[component]
fn NewPlace(light: LightDesk) -> impl IntoView {
    let name = RwSignal::new(String::new());
    let add = move |_| {
        let typed = name.get_untracked();
        let command =
            light.desk().film.with_untracked(|film| Some(adds_place(light, film.as_ref()?, typed.trim())));
        if let Some(command) = command {
            light.tell(light.desk().change(say!("Add a place"), None, command));
            name.set(String::new());
        }
    };
    let is_first = move || light.place().with(Option::is_none);
    view! {
        <div class="light-new-place">
            <label class="field">
                <span>{say!("Name of a new place")}</span>
                <input
                    type="text"
                    maxlength="200"
                    placeholder=say!("bridge, bus stop, kitchen")
                    prop:value=name
                    on:input:target=move |event| name.set(event.target().value())
                />
            </label>
            <button type="button" class:next=is_first disabled=move || name.with(|name| name.trim().is_empty()) on:click=add>
                {say!("Add the place")}
            </button>
        </div>
        {when(is_first, || view! {
            <p class="quiet">{say!("All scenes that have no place yet will play there.")}</p>
        }.into_any())}
    }
}

/// Adds a place, where the scene of the chosen setup then plays, and every scene that plays nowhere yet.
fn adds_place(light: LightDesk, film: &Film, name: &str) -> Command {
    let id: PlaceId = light.desk().fresh();
    let place = Place::new(id, name);
    let mut commands = vec![Command::SetPlaces(film.places.iter().cloned().chain([place]).collect())];
    let chosen = light.chosen().get_untracked().and_then(|shot| Some(film.shot(shot)?.0.id));
    for scene in &film.scenes {
        if scene.facts.place.is_none() || chosen == Some(scene.id) {
            let facts = Arc::new(SceneFacts { place: Some(id), ..SceneFacts::clone(&scene.facts) });
            commands.push(Command::SetSceneFacts { scene: scene.id, facts });
        }
    }
    Command::All(commands)
}

/// What can be said of a place.
#[component]
fn PlaceFields(light: LightDesk, id: PlaceId) -> impl IntoView {
    let spot = SpotDesk::new(light, id);
    let name = live(move || spot.place(|place| place.name.clone()).unwrap_or_default());
    view! {
        <label class="field">
            <span>{say!("What it is called")}</span>
            <input
                type="text"
                maxlength="200"
                prop:value=name
                on:input:target=move |event| {
                    let name = event.target().value();
                    spot.change(say!("Change what the place is called"), &|place| place.name.clone_from(&name));
                }
            />
        </label>
        <spot::SpotFields spot />
        <zone::ZoneField spot />
        <PlacePhotos light id />
        {when(
            move || spot.has_spot(),
            move || view! { <horizon::Horizon spot /> }.into_any(),
        )}
    }
}

/// Photos of it that stand behind pictures.
#[component]
fn PlacePhotos(light: LightDesk, id: PlaceId) -> impl IntoView {
    let recce = Recce::of_place(light.session(), id, light.chosen().into(), light.sky().into());
    view! {
        <fieldset class="choices">
            <legend>{say!("As it really is")}</legend>
            <Photos recce />
            <PaceOut recce />
        </fieldset>
    }
}
