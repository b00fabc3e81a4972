//! The setups of the day by scene: each scene's heading, what is held over it, and its setups.

use film::{DayPlan, DaySetup, Film, SceneId, ShotId, Unmade, WhyUnmade};
use language::say;
use leptos::prelude::*;

use super::light_desk::LightDesk;
use super::lock_list::LockListFold;
use super::row::SetupRow;
use super::words;
use crate::story::words::{heading, missing, scene_name};
use crate::widgets::{live, when};

/// A scene of the day with its setups.
#[derive(Debug, Clone, PartialEq)]
struct SceneOfDay {
    id: SceneId,
    shots: Vec<ShotId>,
}

/// The scenes of the day.
#[component]
pub(super) fn Scenes(light: LightDesk) -> impl IntoView {
    let scenes =
        Memo::new(move |_| light.plan().with(|plan| plan.as_deref().map(scenes_of)).unwrap_or_default());
    let unmade = Memo::new(move |_| {
        light.plan().with(|plan| {
            let plan = plan.as_deref()?;
            light.desk().film.with(|film| {
                let film = film.as_ref()?;
                Some(plan.unmade.iter().map(|one| told(film, one)).collect::<Vec<_>>())
            })
        })
    });
    let has_none = move || scenes.with(Vec::is_empty);
    view! {
        {when(has_none, || view! {
            <p class="light-empty">
                {say!("No shot of this day can be lit yet: propose or add shots in Story, and they stand here with \
                      their shutter, ISO and ND.")}
            </p>
        }.into_any())}
        <For each=move || scenes.get() key=|scene| (scene.id, scene.shots.clone()) children=move |scene| {
            view! { <OneScene light id=scene.id shots=scene.shots /> }
        } />
        {move || unmade.get().filter(|unmade| !unmade.is_empty()).map(|unmade| {
            let item = |words: String| view! { <li>{words}</li> };
            view! {
                <section class="light-unmade">
                    <h3>{say!("Not to be had as they are")}</h3>
                    <ul>{unmade.into_iter().map(item).collect_view()}</ul>
                </section>
            }
        })}
    }
}

/// The scenes of a day in story order.
fn scenes_of(plan: &DayPlan) -> Vec<SceneOfDay> {
    let scenes = plan.setups.chunk_by(|one, other| one.scene.id == other.scene.id);
    let scene = |setups: &[DaySetup]| {
        let id = setups.first()?.scene.id;
        Some(SceneOfDay { id, shots: setups.iter().map(|setup| setup.shot.id).collect() })
    };
    scenes.filter_map(scene).collect()
}

/// Why a shot cannot be made as it is.
fn told(film: &Film, unmade: &Unmade) -> String {
    let number = words::number(film, unmade.shot);
    let why = match &unmade.why {
        WhyUnmade::Lacks(lacks) => missing(film, *lacks),
        WhyUnmade::CannotBeHad(found) => {
            let worst = found.iter().rev().max_by_key(|finding| finding.severity());
            worst.map_or_else(|| say!("it cannot be framed").to_owned(), |finding| finding.brief().to_owned())
        }
    };
    format!("{number}: {why}")
}

#[component]
fn OneScene(light: LightDesk, id: SceneId, shots: Vec<ShotId>) -> impl IntoView {
    let of_scene = move |read: fn(&Film, &film::Scene) -> String| {
        live(move || {
            let words = light.desk().film.with(|film| {
                let film = film.as_ref()?;
                Some(read(film, film.scene(id)?))
            });
            words.unwrap_or_default()
        })
    };
    let name = of_scene(|film, scene| crate::story::words::capital(&scene_name(film, scene)));
    let rows = shots.into_iter().map(|shot| view! { <SetupRow light shot /> }).collect_view();
    view! {
        <section class="light-scene">
            <header>
                <h2>{name}</h2>
                <p class="quiet">{of_scene(|film, scene| heading(film, &scene.facts))}</p>
            </header>
            <LockListFold light scene=id />
            <ul class="light-rows">{rows}</ul>
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::{Daylights, Rehearsals, ShootingDay};

    #[test]
    fn setups_stand_with_their_scene() {
        let film = film::demo_film();
        let day = ShootingDay::usual(film::DayId::new(1).expect("small"));
        let plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        let scenes = scenes_of(&plan);
        assert_eq!(scenes.len(), film.scenes.len());
        assert_eq!(scenes.iter().map(|scene| scene.shots.len()).sum::<usize>(), plan.setups.len());
    }
}
