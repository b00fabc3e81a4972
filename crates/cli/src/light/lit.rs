//! A day with the light of all its setups.

use std::sync::Arc;

use film::{
    DayPlan, DaySetup, LockList, Rehearsals, Scene, ShootingDay, ShotId, ShotLight, SunJump, SunOnSetup,
    WeatherNote, weather_change,
};

use crate::shooting_day::{ChosenDay, UnmadeAnswer};

/// A day with its light.
pub(super) struct LitDay<'day> {
    pub(super) chosen: &'day ChosenDay,
    pub(super) scenes: Vec<LitScene>,
}

/// A scene of which something is shot on the day.
pub(super) struct LitScene {
    /// Counted from 1.
    pub(super) number: usize,
    pub(super) scene: Arc<Scene>,
    pub(super) setups: Vec<LitSetup>,
    pub(super) unmade: Vec<UnmadeAnswer>,
    pub(super) lock: LockList,
    /// Where its cut shows that the sun has moved.
    pub(super) sun_jump: Option<SunJump>,
    /// What is to know when the weather is not what was planned.
    pub(super) notes: Vec<WeatherNote>,
}

/// A setup at its minute of the day.
pub(super) struct LitSetup {
    pub(super) setup: DaySetup,
    pub(super) at_min: f64,
    /// Whether the order of the day has it then.
    pub(super) in_order: bool,
    pub(super) light: ShotLight,
    pub(super) sun: Option<SunOnSetup>,
}

impl<'day> LitDay<'day> {
    pub(super) fn of(chosen: &'day ChosenDay, rehearsals: &mut Rehearsals) -> Self {
        let ChosenDay { film, day, planned, daylights, .. } = chosen;
        let plan = DayPlan::of(film, day, daylights, rehearsals);
        let has_turned = day.weather != planned.weather;
        let as_planned = has_turned.then(|| DayPlan::of(film, planned, daylights, rehearsals));
        let mut unmade = chosen.unmade(&plan);
        let scenes = film.scenes.iter().enumerate().filter_map(|(at, scene)| {
            let of_scene = plan.setups.iter().filter(|setup| setup.scene.id == scene.id);
            let setups: Vec<LitSetup> = of_scene
                .filter_map(|setup| LitSetup::of(chosen, &plan, as_planned.as_ref(), setup))
                .collect();
            let of_scene = unmade.extract_if(.., |unmade| unmade.scene() == at + 1).collect::<Vec<_>>();
            if setups.is_empty() && of_scene.is_empty() {
                return None;
            }
            let lights = lights(&setups);
            Some(LitScene {
                number: at + 1,
                lock: LockList::of(film, scene, &lights),
                sun_jump: SunJump::of(scene, day, daylights, &plan),
                notes: if has_turned { notes(chosen, scene, &setups, &lights) } else { Vec::new() },
                scene: Arc::clone(scene),
                setups,
                unmade: of_scene,
            })
        });
        Self { scenes: scenes.collect(), chosen }
    }

    /// Leaves everything but one shot away; what its scene holds stays.
    pub(super) fn keep_only(&mut self, shot: ShotId) {
        let number = self.chosen.number_of(shot);
        self.scenes.retain(|scene| scene.number == number.0);
        for scene in &mut self.scenes {
            scene.setups.retain(|setup| setup.setup.shot.id == shot);
            scene.unmade.retain(|unmade| unmade.number() == number);
            scene.notes.retain(|note| note.shot() == shot);
        }
    }
}

fn lights(setups: &[LitSetup]) -> Vec<ShotLight> {
    setups.iter().map(|setup| setup.light.clone()).collect()
}

/// What changes at the same minutes from the weather as planned.
fn notes(chosen: &ChosenDay, scene: &Scene, setups: &[LitSetup], now: &[ShotLight]) -> Vec<WeatherNote> {
    let ChosenDay { film, planned, daylights, .. } = chosen;
    let light = |lit: &LitSetup| lit.setup.light_at(film, planned, daylights, lit.at_min);
    let before: Vec<ShotLight> = setups.iter().filter_map(light).collect();
    weather_change(scene, &before, now, &planned.done)
}

impl LitSetup {
    fn of(
        chosen: &ChosenDay,
        plan: &DayPlan,
        as_planned: Option<&DayPlan>,
        setup: &DaySetup,
    ) -> Option<Self> {
        let ChosenDay { film, day, planned, daylights, .. } = chosen;
        let placed = placed_min(plan, setup.shot.id);
        // What the weather has put out of the order is looked at when it would have been shot.
        let other = || match as_planned {
            Some(before) => placed_min(before, setup.shot.id).or_else(|| usual_min(before, planned, setup)),
            None => usual_min(plan, day, setup),
        };
        let at_min = placed.or_else(other)?;
        Some(Self {
            light: setup.light_at(film, day, daylights, at_min)?,
            sun: setup.lit_by_sun(day, daylights, at_min),
            in_order: placed.is_some(),
            at_min,
            setup: setup.clone(),
        })
    }
}

/// When the order starts a shot.
fn placed_min(plan: &DayPlan, shot: ShotId) -> Option<f64> {
    plan.placed(shot).map(|placed| placed.starts_min)
}

/// The middle of a shot's light on a day.
fn usual_min(plan: &DayPlan, day: &ShootingDay, setup: &DaySetup) -> Option<f64> {
    Some(plan.setup_of(setup.shot.id)?.usual_minute(day))
}
