//! What a scene is: where and when, what each wants, what is in the way, what happens, what it changes, how it is lit.

mod auto_reading;
mod lit;

pub(crate) use lit::{LIGHT_EV, LightNames};

use std::sync::Arc;

use film::{Command, EditError, Place, PlaceId, Scene, SceneFacts, SceneId, Setting, TimeOfDay, Want};
use language::{key, say};
use leptos::html;
use leptos::prelude::*;
use units::Length;

use crate::films::Desk;
use crate::part::Part;
use crate::session::Session;
use crate::story::{scene_of, tell};
use crate::widgets::{Choice, Choices, LengthField, Sheet, live, when};

/// Changes what a scene is.
pub(super) fn change_scene(
    desk: Desk,
    id: SceneId,
    what: &str,
    change: impl FnOnce(&mut SceneFacts),
) -> Result<(), EditError> {
    let facts = desk.film.with_untracked(|film| Some(Arc::clone(&film.as_ref()?.scene(id)?.facts)));
    let Some(mut facts) = facts.map(|facts| SceneFacts::clone(&facts)) else { return Ok(()) };
    change(&mut facts);
    desk.change(what, Some(id.number()), Command::SetSceneFacts { scene: id, facts: Arc::new(facts) })
}

/// The facts of a scene that is changed.
#[derive(Clone, Copy)]
struct Facts {
    desk: Desk,
    id: SceneId,
    scene: Memo<Option<Part<Scene>>>,
}

impl Facts {
    /// Something of the facts; `otherwise` while the scene is gone.
    fn read<Value>(self, read: impl Fn(&SceneFacts) -> Value, otherwise: Value) -> Value {
        self.scene.with(|scene| scene.as_ref().map(|scene| read(&scene.facts))).unwrap_or(otherwise)
    }

    /// Changes the facts.
    fn change(self, what: &str, change: &dyn Fn(&mut SceneFacts)) {
        tell(self.desk, change_scene(self.desk, self.id, what, change));
    }
}

/// A text of a scene's facts that can be written.
#[derive(Clone, Copy)]
struct Line {
    label: &'static str,
    hint: &'static str,
    what: &'static str,
    read: fn(&SceneFacts) -> &String,
    write: fn(&mut SceneFacts) -> &mut String,
}

/// What is asked of a scene, in the order in which a story goes.
const LINES: [Line; 4] = [
    Line {
        label: key!("What is in the way"),
        hint: key!("Trouble makes a scene."),
        what: key!("Change what is in the way"),
        read: |facts| &facts.obstacle,
        write: |facts| &mut facts.obstacle,
    },
    Line {
        label: key!("What happens"),
        hint: key!("What one would see with the sound off."),
        what: key!("Change what happens"),
        read: |facts| &facts.happens,
        write: |facts| &mut facts.happens,
    },
    Line {
        label: key!("What it changes"),
        hint: key!("What is different after it? If nothing is, can it go?"),
        what: key!("Change what it changes"),
        read: |facts| &facts.changes,
        write: |facts| &mut facts.changes,
    },
    Line {
        label: key!("Mood"),
        hint: key!("One or two words."),
        what: key!("Change the mood"),
        read: |facts| &facts.mood,
        write: |facts| &mut facts.mood,
    },
];

/// The sheet of a scene's facts. Made when it is asked for: a film has many scenes, and a sheet many fields.
#[component]
pub(super) fn FactsSheet(
    session: Session,
    desk: Desk,
    id: SceneId,
    node: NodeRef<html::Dialog>,
    is_asked: RwSignal<bool>,
) -> impl IntoView {
    view! {
        <Sheet node title=say!("The scene")>
            {when(move || is_asked.get(), move || view! { <FactsFields session desk id /> }.into_any())}
        </Sheet>
    }
}

#[component]
fn FactsFields(session: Session, desk: Desk, id: SceneId) -> impl IntoView {
    let scene = scene_of(desk, id);
    let change =
        move |what: &str, change: &dyn Fn(&mut SceneFacts)| tell(desk, change_scene(desk, id, what, change));
    let lines = LINES.map(|line| {
        let value = live(move || {
            scene.with(|scene| {
                scene.as_ref().map_or_else(String::new, |scene| (line.read)(&scene.facts).clone())
            })
        });
        view! {
            <label class="field">
                <span>{language::text(line.label)}</span>
                <textarea
                    rows="2"
                    maxlength="2000"
                    prop:value=value
                    on:input:target=move |event| {
                        let text = event.target().value();
                        change(language::text(line.what), &|facts| (line.write)(facts).clone_from(&text));
                    }
                ></textarea>
                <span class="quiet">{language::text(line.hint)}</span>
            </label>
        }
    });
    let setting = Signal::derive(move || {
        scene.with(|scene| scene.as_ref().map_or(Setting::Outside, |scene| scene.facts.setting))
    });
    let time = Signal::derive(move || {
        scene.with(|scene| scene.as_ref().map_or(TimeOfDay::Day, |scene| scene.facts.time))
    });
    let room_m = Signal::derive(move || {
        scene.with(|scene| scene.as_ref().and_then(|scene| scene.facts.room).map(Length::to_m))
    });
    view! {
        <Where desk id scene />
        <Choices
            legend=say!("Inside or outside")
            choices=[Choice::new(Setting::Inside, say!("inside")), Choice::new(Setting::Outside, say!("outside"))]
            chosen=setting
            choose=move |setting| change(say!("Change inside or outside"), &|facts| facts.setting = setting)
        />
        <Choices
            legend=say!("Time of day")
            choices=TimeOfDay::ALL.map(|time| Choice::new(time, time.name()))
            chosen=time
            choose=move |time| change(say!("Change the time of day"), &|facts| facts.time = time)
        />
        <Show when=move || matches!(time.get(), TimeOfDay::Night | TimeOfDay::Dusk | TimeOfDay::Dawn)>
            <p class="quiet">
                {say!("In the dark: light the way that people walk, and ask whoever is responsible for the place.")}
            </p>
        </Show>
        <lit::Lit facts=Facts { desk, id, scene } />
        <Wants desk id scene />
        {lines.collect_view()}
        <Choices
            legend=say!("Room for the phone")
            choices=[
                Choice::new(false, say!("as much as it likes")),
                Choice::new(true, say!("walls or edges end it")),
            ]
            chosen=Signal::derive(move || room_m.get().is_some())
            choose=move |ends: bool| change(say!("Change the room there is"), &|facts| {
                facts.room = ends.then_some(Length::from_m(3.0));
            })
        />
        {when(move || room_m.get().is_some(), move || view! {
            <LengthField
                label=say!("How far from somebody the phone can go")
                range=(0.1, 1000.0)
                unit=Signal::derive(move || session.unit())
                value=Signal::derive(move || room_m.get().unwrap_or(3.0))
                set=move |metres| change(say!("Change the room there is"), &|facts| {
                    facts.room = Some(Length::from_m(metres));
                })
            />
        }.into_any())}
    }
}

/// Where the scene plays: one of the film's places, or one that is named here.
#[component]
fn Where(desk: Desk, id: SceneId, scene: Memo<Option<Part<Scene>>>) -> impl IntoView {
    let name = live(move || {
        let place = scene.with(|scene| scene.as_ref().and_then(|scene| scene.facts.place));
        desk.film
            .with(|film| {
                let film = film.as_ref()?;
                Some(film.place(place?)?.name.clone())
            })
            .unwrap_or_default()
    });
    let known = move || {
        let names = desk.film.with(|film| {
            film.as_ref().map(|film| film.places.iter().map(|place| place.name.clone()).collect::<Vec<_>>())
        });
        names
            .unwrap_or_default()
            .into_iter()
            .map(|name| view! { <option value=name></option> })
            .collect_view()
    };
    let list = format!("places-{id}");
    let list_name = list.clone();
    view! {
        <label class="field">
            <span>{say!("Where")}</span>
            <input
                type="text"
                maxlength="200"
                list=list_name
                placeholder=say!("kitchen, bridge, bus stop")
                prop:value=name
                on:change:target=move |event| tell(desk, set_place(desk, id, event.target().value().trim()))
            />
            <datalist id=list>{known}</datalist>
        </label>
    }
}

/// Has the scene play at the place of that name, which the film gets to know if it does not.
fn set_place(desk: Desk, id: SceneId, name: &str) -> Result<(), EditError> {
    let Some((facts, places)) = desk.film.with_untracked(|film| {
        let film = film.as_ref()?;
        Some((Arc::clone(&film.scene(id)?.facts), Arc::clone(&film.places)))
    }) else {
        return Ok(());
    };
    let known = places.iter().find(|place| place.name == name).map(|place| place.id);
    let mut commands = Vec::new();
    let place = match known {
        _ if name.is_empty() => None,
        Some(known) => Some(known),
        None => {
            let new: PlaceId = desk.fresh();
            let mut places = places.to_vec();
            places.push(Place::new(new, name));
            commands.push(Command::SetPlaces(Arc::from(places)));
            Some(new)
        }
    };
    let facts = Arc::new(SceneFacts { place, ..SceneFacts::clone(&facts) });
    commands.push(Command::SetSceneFacts { scene: id, facts });
    desk.change(say!("Change where it plays"), Some(id.number()), Command::All(commands))
}

/// What each who is in the scene wants.
#[component]
fn Wants(desk: Desk, id: SceneId, scene: Memo<Option<Part<Scene>>>) -> impl IntoView {
    let people = Memo::new(move |_| {
        scene
            .with(|scene| {
                scene
                    .as_ref()
                    .map(|scene| scene.blocking.marks.iter().map(|mark| mark.who).collect::<Vec<_>>())
            })
            .unwrap_or_default()
    });
    view! {
        <For each=move || people.get() key=|who| *who children=move |who| {
            let label = live(move || {
                desk.film.with(|film| {
                    film.as_ref().map_or_else(String::new, |film| say!("What {} wants", film.name_of(who)))
                })
            });
            let value = live(move || scene.with(|scene| {
                let scene = scene.as_ref()?;
                scene.facts.wants.iter().find(|want| want.who == who).map(|want| want.what.clone())
            }).unwrap_or_default());
            let set = move |what: String| {
                let changed = change_scene(desk, id, say!("Change what somebody wants"), |facts| {
                    facts.wants.retain(|want| want.who != who);
                    if !what.is_empty() {
                        facts.wants.push(Want { who, what });
                    }
                });
                tell(desk, changed);
            };
            view! {
                <label class="field">
                    <span>{label}</span>
                    <input type="text" maxlength="500" prop:value=value on:input:target=move |event| set(event.target().value()) />
                </label>
            }
        } />
    }
}
