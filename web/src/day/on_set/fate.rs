//! What becomes of a setup: in the can, given up, brought to another day; and pick-ups, made on the spot.

use std::sync::Arc;

use film::{Command, Dropping, Entry, EntryId, Film, Priority, ShootingDay, Shot, ShotId};
use language::say;
use leptos::html;
use leptos::prelude::*;
use units::LengthUnit;

use crate::day::doing::{mark_done, put_on};
use crate::day::hand::Hand;
use crate::shooting::named_and_dated;
use crate::story::take_up;
use crate::story::words::capital;
use crate::widgets::{live, when};

/// The buttons, and what giving it up would cost.
#[component]
pub(super) fn Fate(hand: Hand, shot: ShotId) -> impl IntoView {
    let is_asked = RwSignal::new(false);
    let is_done = Memo::new(move |_| hand.of_day(|day| day.done.contains(&shot)).unwrap_or(false));
    let done = move |_| {
        let Some(plan) = hand.shooting().plan.get_untracked() else { return };
        let was_done = is_done.get_untracked();
        let number = hand.number(shot);
        let name = if was_done { say!("{number} not in the can") } else { say!("{number} in the can") };
        hand.change(&name, |day| mark_done(day, &plan, shot));
        // What is in the can makes room for what comes next.
        hand.chosen.set(was_done.then_some(shot));
    };
    let give_up = move |_| {
        let command = hand.desk.film.with_untracked(|film| film.as_ref().map(|film| film.drops_shot(shot)));
        let name = say!("Give up {}", hand.number(shot));
        match command {
            Some(Ok(command)) => {
                let outcome = hand.desk.change(&name, None, command);
                hand.desk.end_gesture();
                if outcome.is_ok() {
                    hand.chosen.set(None);
                }
                hand.tell(outcome);
            }
            Some(Err(error)) => hand.tell(Err(error)),
            None => {}
        }
    };
    let costs_node = NodeRef::<html::Div>::new();
    Effect::new(move |_| {
        // The bar under the thumb would lie over it.
        if let Some(node) = costs_node.get() {
            node.scroll_into_view();
        }
    });
    let costs = Memo::new(move |_| {
        if !is_asked.get() {
            return Vec::new();
        }
        let unit = hand.session().unit();
        hand.read(|film, _, _| costs(hand, film, shot, unit)).unwrap_or_default()
    });
    view! {
        <section class="set-fate" aria-labelledby="set-fate">
            <h3 id="set-fate">{say!("This setup")}</h3>
            <div class="day-buttons">
                <button type="button" class="set-done" on:click=done>
                    {live(move || if is_done.get() { say!("Not in the can") } else { say!("In the can") }.to_owned())}
                </button>
                <button type="button" on:click=move |_| pick_up(hand, shot)>{say!("Add a pick-up")}</button>
                <button type="button" aria-expanded=move || is_asked.get().to_string() on:click=move |_| is_asked.update(|is_asked| *is_asked = !*is_asked)>
                    {say!("Give it up")}
                </button>
                <OtherDays hand shot />
            </div>
            {when(move || is_asked.get(), move || view! {
                <div class="set-costs" role="status" node_ref=costs_node>
                    {move || costs.get().into_iter().map(|line| view! { <p>{line}</p> }).collect_view()}
                    <button type="button" on:click=give_up>{say!("Give it up all the same")}</button>
                </div>
            }.into_any())}
            <GivenUp hand />
        </section>
    }
}

/// What giving it up would cost the scene, in sentences.
fn costs(hand: Hand, film: &Film, shot: ShotId, unit: LengthUnit) -> Vec<String> {
    let dropping = hand.desk.walk(|rehearsals| Dropping::of(film, shot, rehearsals));
    let Ok(dropping) = dropping else { return Vec::new() };
    let scene = film.scenes.iter().position(|scene| scene.id == dropping.scene).map_or(0, |at| at + 1);
    let size = film.shot(shot).map(|(_, shot)| language::text(shot.size.name())).unwrap_or_default();
    told(film, &dropping, scene, size, unit)
}

fn told(film: &Film, dropping: &Dropping, scene: usize, size: &str, unit: LengthUnit) -> Vec<String> {
    let only = dropping.was_only_of_its_size.then(|| say!("It is the only {size} shot of scene {scene}."));
    let found = dropping.found.iter().map(|placed| {
        let finding = placed.finding.to_finding(film, unit);
        say!("Without it: {}; {}.", finding.message, finding.hint.trim_end_matches('.'))
    });
    let all: Vec<String> = only.into_iter().chain(found).collect();
    if all.is_empty() { vec![say!("Scene {scene} cuts as well without it.")] } else { all }
}

/// Another go at a part of a shot: the same setup with a number of its own, after it in the cut, on this day.
fn pick_up(hand: Hand, shot: ShotId) {
    let (id, entry): (ShotId, EntryId) = (hand.desk.fresh(), hand.desk.fresh());
    let command = hand.read_once(|film, day, _| {
        let (scene, original) = film.shot(shot)?;
        let new = Arc::new(picked_up(original, id));
        let adds = film.adds_shot(scene.id, Some(shot), new, Entry::whole(entry, id)).ok()?;
        let mut after = film.clone();
        after.apply(adds.clone()).ok()?;
        Some(Command::All(vec![adds, on_day(&after, day, id)]))
    });
    if let Some(command) = command.flatten() {
        let name = say!("Add a pick-up of {}", hand.number(shot));
        let outcome = hand.desk.change(&name, None, command);
        hand.desk.end_gesture();
        if outcome.is_ok() {
            hand.chosen.set(Some(id));
        }
        hand.tell(outcome);
    }
}

fn picked_up(original: &Shot, id: ShotId) -> Shot {
    let action = say!("Pick-up: {}", original.action);
    Shot {
        action: action.trim_end_matches([' ', ':']).to_owned(),
        priority: Priority::NiceToHave,
        is_dropped: false,
        ..original.known_by(id)
    }
}

/// What puts a shot on a day; one that has all that no other day lists has it by itself.
fn on_day(film: &Film, day: &ShootingDay, shot: ShotId) -> Command {
    let days = film.days.iter().map(|one| {
        let mut one = one.clone();
        if one.id == day.id && one.shots.is_some() {
            put_on(&mut one, film, &[shot]);
        }
        one
    });
    Command::SetDays(days.collect())
}

/// A button for each other day of the film, which brings the setup there.
#[component]
fn OtherDays(hand: Hand, shot: ShotId) -> impl IntoView {
    let others = Memo::new(move |_| {
        hand.read(|film, day, _| {
            let others = film.days.iter().filter(|one| one.id != day.id);
            others.map(|one| (one.id, named_and_dated(film, one))).collect::<Vec<_>>()
        })
        .unwrap_or_default()
    });
    let button = move |(day, name): (film::DayId, String)| {
        let words = say!("To {name}");
        let bring = move |_| {
            hand.bring(&say!("Bring {} to {name}", hand.number(shot)), shot, day);
            hand.chosen.set(None);
        };
        view! { <button type="button" on:click=bring>{words}</button> }
    };
    move || others.get().into_iter().map(button).collect_view()
}

/// What was given up and can be taken up again.
#[component]
fn GivenUp(hand: Hand) -> impl IntoView {
    let dropped: Memo<Vec<(ShotId, String)>> = Memo::new(move |_| {
        hand.read(|film, _, _| {
            let shots = film.scenes.iter().flat_map(|scene| &scene.shots);
            let dropped = shots.filter(|shot| shot.is_dropped);
            dropped.map(|shot| (shot.id, crate::day::words::shot(film, shot.id))).collect()
        })
        .unwrap_or_default()
    });
    let rows = move || {
        let row = |(shot, what): (ShotId, String)| {
            let name = say!("Take up again: {what}");
            view! {
                <li>
                    <span>{capital(&what)}</span>
                    <button type="button" aria-label=name on:click=move |_| take_up(hand.desk, shot)>
                        {say!("Take it up again")}
                    </button>
                </li>
            }
        };
        dropped.get().into_iter().map(row).collect_view()
    };
    when(
        move || dropped.with(|dropped| !dropped.is_empty()),
        move || {
            view! {
                <details class="fold day-can">
                    <summary>{live(move || say!("{count} given up", count = dropped.with(Vec::len)))}</summary>
                    <ol>{rows}</ol>
                </details>
            }
            .into_any()
        },
    )
}

#[cfg(test)]
mod tests {
    use film::Rehearsals;

    use super::*;

    #[test]
    fn giving_up_the_only_one_of_its_size_is_told_with_its_scene() {
        let film = film::demo_film();
        let mut rehearsals = Rehearsals::default();
        let shots = film.scenes[0].shots.iter();
        let dropping = shots
            .map(|shot| (shot.size, Dropping::of(&film, shot.id, &mut rehearsals).expect("it is there")))
            .find(|(_, dropping)| dropping.was_only_of_its_size);
        let (size, dropping) = dropping.expect("one of its own size");
        let told = told(&film, &dropping, 1, size.name(), LengthUnit::Metres);
        assert_eq!(told[0], format!("It is the only {} shot of scene 1.", size.name()));
        assert_eq!(told.len(), 1 + dropping.found.len());
    }

    #[test]
    fn a_pick_up_is_the_same_setup_with_a_name_of_its_own() {
        let film = film::demo_film();
        let original = &film.scenes[0].shots[0];
        let id = ShotId::new(film::LARGEST_ID).expect("an id");
        let picked_up = picked_up(original, id);
        assert_eq!(picked_up.action, format!("Pick-up: {}", original.action));
        assert_eq!((picked_up.id, picked_up.size, picked_up.side), (id, original.size, original.side));
        let silent = Shot { action: String::new(), ..Shot::clone(original) };
        assert_eq!(super::picked_up(&silent, id).action, "Pick-up");
    }
}
