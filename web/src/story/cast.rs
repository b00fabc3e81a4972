//! Who is in the film: each on a strip of tape in the colour of their clothes.

use std::sync::Arc;

use film::{CastMember, Command, DaySpan, EditError, Hours, PersonId, listed};
use language::say;
use leptos::html;
use leptos::prelude::*;
use requests::ColourRequest;
use staging::{Age, Colour};
use units::Length;

use crate::dressing::{CHILD_M, TAPE_CLASSES, TAPES, tape_of};
use crate::films::Desk;
use crate::session::Session;
use crate::shooting::{DAY_MIN, time_field, written};
use crate::story::first::somebody;
use crate::story::tell;
use crate::widgets::{Choice, Choices, LengthField, Sheet, close, live, open};

/// Somebody of the cast, as long as they are in it.
fn member(desk: Desk, id: PersonId) -> Memo<Option<CastMember>> {
    Memo::new(move |_| desk.film.with(|film| film.as_ref()?.person(id).cloned()))
}

/// Changes somebody of the cast.
fn change_member(
    desk: Desk,
    id: PersonId,
    what: &str,
    change: impl Fn(&mut CastMember),
) -> Result<(), EditError> {
    let cast = desk.film.with_untracked(|film| {
        let film = film.as_ref()?;
        let mut cast: Vec<CastMember> = film.cast.to_vec();
        cast.iter_mut().filter(|member| member.id == id).for_each(change);
        Some(Arc::from(cast))
    });
    cast.map_or(Ok(()), |cast| desk.change(what, Some(id.number()), Command::SetCast(cast)))
}

/// Somebody who comes to the cast, with a name and a tape of their own.
pub(super) fn newcomer(cast: &[CastMember], id: PersonId) -> CastMember {
    let names = (cast.len() + 1..).map(|number| say!("Person {number}"));
    somebody(id, &free_name(cast, names), free_tape(cast))
}

/// The first of the names that nobody of the cast has.
pub(super) fn free_name(cast: &[CastMember], mut names: impl Iterator<Item = String>) -> String {
    names.find(|name| cast.iter().all(|member| member.name != *name)).unwrap_or_default()
}

/// The first tape that nobody of the cast has, or one that as few have as any other.
fn free_tape(cast: &[CastMember]) -> usize {
    let count = |at: &usize| cast.iter().filter(|one| tape_of(one.clothes.to_srgb8()) == Some(*at)).count();
    (0..TAPES.len()).min_by_key(count).unwrap_or(0)
}

/// Who else has clothes of the colour of that one's.
fn alike(cast: &[CastMember], id: PersonId) -> Vec<String> {
    let Some(own) = cast.iter().find(|one| one.id == id) else { return Vec::new() };
    let is_alike = |one: &&CastMember| one.id != id && one.clothes.to_srgb8() == own.clothes.to_srgb8();
    cast.iter().filter(is_alike).map(|one| one.name.clone()).collect()
}

/// The class of the strip in the colour of somebody's clothes, and that colour where it is none of the tapes'.
fn strip_of(clothes: Colour) -> (String, String) {
    let bytes = clothes.to_srgb8();
    if let Some(class) = tape_of(bytes).and_then(|at| TAPE_CLASSES.get(at)) {
        return ((*class).to_owned(), String::new());
    }
    let Colour([red, green, blue]) = clothes;
    // Dark words on whatever gives back more than a quarter of the light: chosen by looking.
    let is_light = 0.2126 * red + 0.7152 * green + 0.0722 * blue > 0.25;
    let class = if is_light { "tape own light" } else { "tape own" };
    (class.to_owned(), ColourRequest(bytes).to_string())
}

/// The row of people, and the sheet of the one that is looked at.
#[component]
pub(super) fn CastRow(session: Session, desk: Desk) -> impl IntoView {
    let sheet = NodeRef::<html::Dialog>::new();
    let looked_at = RwSignal::new(None::<PersonId>);
    let people = Memo::new(move |_| {
        desk.film.with(|film| {
            let people = film.as_ref().map(|film| film.cast.iter().map(|member| member.id));
            people.map(Iterator::collect::<Vec<_>>).unwrap_or_default()
        })
    });
    let add = move |_| {
        let id = desk.fresh();
        let added = desk.film.with_untracked(|film| {
            let cast = &film.as_ref()?.cast;
            Some(Command::SetCast(cast.iter().cloned().chain([newcomer(cast, id)]).collect()))
        });
        if let Some(command) = added {
            let outcome = desk.change(say!("Add somebody"), None, command);
            if outcome.is_ok() {
                looked_at.set(Some(id));
                open(sheet);
            }
            tell(desk, outcome);
        }
    };
    view! {
        <div class="story-cast" role="group" aria-label=say!("Who is in the film")>
            <For each=move || people.get() key=|id| *id children=move |id| {
                let member = member(desk, id);
                let name = live(move || {
                    let name = member.with(|one| one.as_ref().map_or_else(String::new, |one| one.name.clone()));
                    if name.trim().is_empty() { say!("no name yet").to_owned() } else { name }
                });
                let strip = Memo::new(move |_| member.with(|one| one.as_ref().map(|one| strip_of(one.clothes)).unwrap_or_default()));
                view! {
                    <button
                        type="button"
                        class=move || strip.get().0
                        style:background-color=move || strip.get().1
                        aria-haspopup="dialog"
                        on:click=move |_| {
                            looked_at.set(Some(id));
                            open(sheet);
                        }
                    >
                        {name}
                    </button>
                }
            } />
            <button type="button" on:click=add>{say!("Add somebody")}</button>
        </div>
        <Sheet node=sheet title=say!("Who it is") left=move |()| looked_at.set(None)>
            {move || looked_at.get().map(|id| view! { <PersonFields session desk id node=sheet /> })}
        </Sheet>
    }
}

/// What can be said of somebody.
#[component]
fn PersonFields(
    session: Session,
    desk: Desk,
    id: PersonId,
    /// The sheet that they are on, which closes when somebody is taken out of the film.
    node: NodeRef<html::Dialog>,
) -> impl IntoView {
    let member = member(desk, id);
    let unit = Signal::derive(move || session.unit());
    let change =
        move |what: &str, change: &dyn Fn(&mut CastMember)| tell(desk, change_member(desk, id, what, change));
    let name = live(move || member.with(|one| one.as_ref().map_or_else(String::new, |one| one.name.clone())));
    let is_child =
        Signal::derive(move || member.with(|one| one.as_ref().is_some_and(|one| one.age == Age::Child)));
    let tape = Signal::derive(move || {
        member.with(|one| one.as_ref().and_then(|one| tape_of(one.clothes.to_srgb8())).unwrap_or(TAPES.len()))
    });
    let tapes = TAPES.iter().zip(TAPE_CLASSES).enumerate();
    let tapes: Vec<Choice<usize>> =
        tapes.map(|(at, ((name, _), class))| Choice::drawn(at, language::text(name), class)).collect();
    let hours = move |read: fn(Hours) -> u16| {
        live(move || {
            let hours = member.with(|one| one.as_ref().and_then(|one| one.hours));
            hours.map_or_else(String::new, |hours| written(read(hours)))
        })
    };
    let night = live(move || {
        let hours = member.with(|one| one.as_ref().and_then(|one| one.hours));
        hours
            .filter(|hours| hours.ends_next_day())
            .map_or_else(String::new, |hours| DaySpan::from(hours).to_string())
    });
    let set_hours = move |from: Option<u16>, to: Option<u16>| {
        let before = member.with_untracked(|one| one.as_ref().and_then(|one| one.hours));
        let from = from.or(before.map(Hours::from_min)).unwrap_or(0);
        let to = to.or(before.map(Hours::to_min)).unwrap_or(DAY_MIN);
        change(say!("Change when they are there"), &|one| one.hours = Hours::until(from, to));
    };
    let stays = RwSignal::new(false);
    let remove = move |_| {
        let Some(cast) = desk.film.with_untracked(|film| {
            let film = film.as_ref()?;
            Some(film.cast.iter().filter(|one| one.id != id).cloned().collect::<Vec<_>>())
        }) else {
            return;
        };
        match desk.change(say!("Remove somebody"), None, Command::SetCast(Arc::from(cast))) {
            Ok(()) => close(node),
            Err(_) => stays.set(true),
        }
    };
    // Told while the field is empty: nobody loses a name, as all that is said of them would be of nobody.
    let is_nameless = RwSignal::new(false);
    let rename = move |written: String| {
        is_nameless.set(written.trim().is_empty());
        if !written.trim().is_empty() {
            change(say!("Change a name"), &|one| one.name.clone_from(&written));
        }
    };
    let keep_name = move |input: web_sys::HtmlInputElement| {
        if is_nameless.get_untracked() {
            is_nameless.set(false);
            input.set_value(&name.get_untracked());
        }
    };
    let same_colour = live(move || {
        let others =
            desk.film.with(|film| film.as_ref().map(|film| alike(&film.cast, id)).unwrap_or_default());
        if others.is_empty() {
            return String::new();
        }
        say!("Also worn by {others}: one colour each tells marks apart.", others = listed(&others))
    });
    view! {
        <label class="field">
            <span>{say!("Name")}</span>
            <input
                type="text"
                maxlength="100"
                prop:value=name
                on:input:target=move |event| rename(event.target().value())
                on:change:target=move |event| keep_name(event.target())
            />
            <Show when=move || is_nameless.get()>
                <span class="problem" role="alert">{say!("Somebody needs a name: the one before stays until then.")}</span>
            </Show>
        </label>
        <LengthField
            label=say!("How tall")
            hint=say!("1.72, 172 cm or 5'8\"")
            range=(0.4, 2.8)
            unit
            value=Signal::derive(move || member.with(|one| one.as_ref().map_or(0.0, |one| one.stature.to_m())))
            set=move |metres| change(say!("Change how tall they are"), &|one| one.stature = Length::from_m(metres))
        />
        <Choices
            legend=say!("Whose proportions")
            choices=[Choice::new(false, say!("adult")), Choice::new(true, say!("child"))]
            chosen=is_child
            choose=move |child: bool| change(say!("Change whose proportions"), &|one| {
                one.age = if child { Age::Child } else { Age::Adult };
                // A usual stature to start from, where the other one's was left alone.
                if child && one.stature.to_m() > 1.5 { one.stature = Length::from_m(CHILD_M) }
                if !child && one.stature.to_m() < 1.4 { one.stature = Length::from_m(requests::USUAL_STATURE_M) }
            })
        />
        <Show when=move || is_child.get()>
            <p class="quiet">
                {say!("Filming a child: a guardian agrees and is there, and local rules say how long and how late.")}
            </p>
        </Show>
        <Choices
            legend=say!("Clothes")
            choices=tapes
            chosen=tape
            choose=move |at: usize| {
                if let Some((_, bytes)) = TAPES.get(at) {
                    change(say!("Change their clothes"), &|one| one.clothes = Colour::from_srgb8(*bytes));
                }
            }
        />
        <p class="quiet" role="status">{same_colour}</p>
        <div class="hours" role="group" aria-label=say!("When they are there")>
            {time_field(
                say!("There from"),
                hours(Hours::from_min),
                Callback::new(move |from| set_hours(Some(from), None)),
            )}
            {time_field(
                say!("until"),
                hours(Hours::to_min),
                Callback::new(move |to| set_hours(None, Some(to))),
            )}
        </div>
        <p class="quiet" role="status">{night}</p>
        <button type="button" on:click=remove>{say!("Take them out of the film")}</button>
        <Show when=move || stays.get()>
            <p class="problem" role="alert">
                {say!(
                    "They are in a scene or a shot: take them out of the scene's floor plan first, and give their \
                     shots to somebody else."
                )}
            </p>
        </Show>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_comes_has_a_name_and_while_there_is_one_a_tape_of_their_own() {
        let mut cast: Vec<CastMember> = Vec::new();
        for number in (1..).take(TAPES.len()) {
            let id = PersonId::new(number).expect("small");
            cast.push(newcomer(&cast, id));
        }
        for one in &cast {
            assert_eq!(alike(&cast, one.id), Vec::<String>::new(), "{}", one.name);
        }
        let gone = cast.remove(1);
        let back = newcomer(&cast, gone.id);
        assert_eq!(back.clothes, gone.clothes);
        assert!(cast.iter().all(|one| one.name != back.name), "{} is there already", back.name);
        let extra = somebody(PersonId::new(99).expect("small"), "one more", 0);
        cast.push(extra);
        assert_eq!(alike(&cast, cast[0].id), ["one more"]);
    }
}
