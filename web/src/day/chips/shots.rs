//! Which of the film's shots are made on the day: a list by scene.

use film::{Film, SceneId, ShootingDay, ShotId};
use language::say;
use leptos::prelude::*;

use crate::day::doing::{put_on, take_off};
use crate::day::hand::Hand;
use crate::day::words;
use crate::story::words::{capital, scene_name};
use crate::widgets::{live, when};

/// A scene with its shots, each with what it is and whether it is on the day.
type Listed = (SceneId, String, Vec<(ShotId, String, bool)>);

/// The list.
#[component]
pub(super) fn ShotsOfDay(hand: Hand) -> impl IntoView {
    let scenes: Memo<Vec<Listed>> =
        Memo::new(move |_| hand.read(|film, day, _| listed(film, day)).unwrap_or_default());
    let ids = Memo::new(move |_| scenes.with(|scenes| scenes.iter().map(|(id, ..)| *id).collect::<Vec<_>>()));
    let takes_rest = Memo::new(move |_| hand.of_day(|day| day.shots.is_none()).unwrap_or(true));
    let is_shared = Memo::new(move |_| hand.read(|film, day, _| is_shared(film, day)).unwrap_or(false));
    view! {
        <p class="quiet">
            {live(move || if takes_rest.get() {
                say!("All shots that no other day has are on this one, new ones too.").to_owned()
            } else {
                say!("Only the shots that are ticked are on this day.").to_owned()
            })}
        </p>
        {when(move || is_shared.get(), || view! {
            <p>{say!("Another day has all of them too: tick here what belongs to this one.")}</p>
        }.into_any())}
        {when(move || !takes_rest.get(), move || {
            let take = move |_| hand.change(say!("Take all shots that are left"), |day| day.shots = None);
            view! { <p><button type="button" on:click=take>{say!("All that no other day has")}</button></p> }.into_any()
        })}
        <For each=move || ids.get() key=|id| *id children=move |id| view! { <SceneShots hand scenes id /> } />
    }
}

/// Whether another day has the same shots, because neither says which are its own.
fn is_shared(film: &Film, day: &ShootingDay) -> bool {
    day.shots.is_none() && film.days.iter().any(|other| other.id != day.id && other.shots.is_none())
}

/// The scenes with the shots that can be made: those that were given up are on no day.
fn listed(film: &Film, day: &ShootingDay) -> Vec<Listed> {
    let mut of_day: Vec<ShotId> = day.shots_of(film).into_iter().map(|(_, shot)| shot.id).collect();
    of_day.sort_unstable();
    let scene = |(at, scene): (usize, &std::sync::Arc<film::Scene>)| {
        let shots = scene.shots.iter().filter(|shot| !shot.is_dropped).map(|shot| {
            let is_on = of_day.binary_search(&shot.id).is_ok();
            (shot.id, capital(&words::shot(film, shot.id)), is_on)
        });
        (scene.id, format!("{}: {}", at + 1, capital(&scene_name(film, scene))), shots.collect())
    };
    film.scenes.iter().enumerate().map(scene).filter(|(_, _, shots): &Listed| !shots.is_empty()).collect()
}

/// Puts shots on the day or takes them off it.
fn set(hand: Hand, what: &str, shots: &[ShotId], is_on: bool) {
    let changed = hand.read_once(|film, day, _| {
        let mut day = day.clone();
        if is_on {
            put_on(&mut day, film, shots);
        } else {
            take_off(&mut day, film, shots);
        }
        day
    });
    if let Some(changed) = changed {
        hand.change(what, |day| *day = changed);
    }
}

/// A scene and its shots.
#[component]
fn SceneShots(hand: Hand, scenes: Memo<Vec<Listed>>, id: SceneId) -> impl IntoView {
    let scene = Memo::new(move |_| scenes.with(|scenes| scenes.iter().find(|(one, ..)| *one == id).cloned()));
    let shots = move || scene.get().map(|(_, _, shots)| shots).unwrap_or_default();
    let name =
        live(move || scene.with(|scene| scene.as_ref().map(|(_, name, _)| name.clone()).unwrap_or_default()));
    let all_on = Memo::new(move |_| shots().iter().all(|(_, _, is_on)| *is_on));
    let some_on = Memo::new(move |_| shots().iter().any(|(_, _, is_on)| *is_on));
    let rows = Memo::new(move |_| shots().into_iter().map(|(id, what, _)| (id, what)).collect::<Vec<_>>());
    let set_all = move |is_on: bool| {
        let ids: Vec<ShotId> = rows.get_untracked().into_iter().map(|(id, _)| id).collect();
        let what = if is_on { say!("Put a scene on the day") } else { say!("Take a scene off the day") };
        set(hand, what, &ids, is_on);
    };
    let row = move |(shot, what): (ShotId, String)| {
        let is_on = move || shots().iter().any(|(one, _, is_on)| *one == shot && *is_on);
        view! {
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=is_on
                    on:change:target=move |event| {
                        let is_on = event.target().checked();
                        let what = if is_on {
                            say!("Put a shot on the day")
                        } else {
                            say!("Take a shot off the day")
                        };
                        set(hand, what, &[shot], is_on);
                    }
                />
                <span>{what}</span>
            </label>
        }
    };
    view! {
        <fieldset class="day-scene-shots">
            <legend class="unseen">{name}</legend>
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=move || all_on.get()
                    prop:indeterminate=move || some_on.get() && !all_on.get()
                    on:change:target=move |event| set_all(event.target().checked())
                />
                <strong>{name}</strong>
            </label>
            <div class="day-scene-list">{move || rows.get().into_iter().map(row).collect_view()}</div>
        </fieldset>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scene_is_listed_with_its_shots_as_they_are_on_the_day() {
        let film = film::demo_film();
        let mut day = film.days[0].clone();
        let first = film.scenes[0].shots[0].id;
        take_off(&mut day, &film, &[first]);
        let scenes = listed(&film, &day);
        assert_eq!(scenes.len(), film.scenes.len());
        let on: Vec<bool> = scenes[0].2.iter().map(|(_, _, is_on)| *is_on).collect();
        assert!(!on[0] && on[1..].iter().all(|is_on| *is_on), "{on:?}");
    }

    #[test]
    fn what_was_given_up_is_not_listed_and_a_scene_without_shots_neither() {
        let mut film = film::demo_film();
        let day = film.days[0].clone();
        let first = film.scenes[0].shots[0].id;
        let second: Vec<ShotId> = film.scenes[1].shots.iter().map(|shot| shot.id).collect();
        for shot in [first].iter().chain(&second) {
            film.apply(film.drops_shot(*shot).expect("it is there")).expect("it can be given up");
        }
        let scenes = listed(&film, &day);
        assert_eq!(scenes.len(), film.scenes.len() - 1);
        assert!(scenes.iter().all(|(scene, ..)| *scene != film.scenes[1].id), "{scenes:?}");
        let shots = &scenes[0].2;
        assert!(shots.iter().all(|(shot, _, is_on)| *shot != first && *is_on), "{shots:?}");
    }
}
