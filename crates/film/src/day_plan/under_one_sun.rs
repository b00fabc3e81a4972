//! A day's order in which the sun matches from cut to cut, where that costs little.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{DayPlan, Daylights};
use crate::day::ShootingDay;
use crate::film::Film;
use crate::id::SceneId;
use crate::scene::Scene;
use crate::sun_in_cut::SunJump;

impl DayPlan {
    /// What an order may cost more, minutes, for a scene whose light matches: chosen, as friends give half an hour so that a
    /// scene does not look made on two days, and not half of the afternoon.
    pub const ONE_SUN_WORTH_MIN: f64 = 30.0;

    /// Whether setups wait for each other's sun.
    pub fn keeps_one_sun(&self) -> bool {
        self.problem.jobs.iter().any(|job| job.one_sun.is_some())
    }

    /// The same day with its setups put in order once more, so that those between which the sun would jump in a cut are shot
    /// within a stretch in which it does not.
    ///
    /// Scene by scene, and only as long as nothing more is missed or late, the order costs at most
    /// [`Self::ONE_SUN_WORTH_MIN`] more for the scene, and the sun then jumps in fewer scenes. Where somebody has put one of a
    /// scene's setups somewhere, that scene is left as it is.
    pub(super) fn under_one_sun(mut self, film: &Film, day: &ShootingDay, daylights: &Daylights) -> Self {
        let mut jumps = self.sun_jumps(film, day, daylights);
        let jumping = film.scenes.iter().map(|scene| scene.id).filter(|scene| jumps.contains_key(scene));
        for scene in jumping.collect::<Vec<_>>() {
            let Some(tried) = jumps.get(&scene).and_then(|jump| self.matching(jump)) else { continue };
            let left = tried.sun_jumps(film, day, daylights);
            if left.len() < jumps.len() {
                (self, jumps) = (tried, left);
            }
        }
        self
    }

    /// How the sun jumps in each scene in which it does.
    pub(super) fn sun_jumps(
        &self,
        film: &Film,
        day: &ShootingDay,
        daylights: &Daylights,
    ) -> BTreeMap<SceneId, SunJump> {
        let jump = |scene: &Arc<Scene>| Some((scene.id, SunJump::of(scene, day, daylights, self)?));
        film.scenes.iter().filter_map(jump).collect()
    }

    /// The plan with what jumps kept within the stretch in which it would not; none if there is no such stretch, if one of the
    /// setups is pinned, or if that costs too much.
    fn matching(&self, jump: &SunJump) -> Option<Self> {
        let window = jump.window?;
        let mut problem = self.problem.clone();
        for job in problem.jobs.iter_mut().filter(|job| jump.shots.contains(&job.shot)) {
            if job.pinned.is_some() {
                return None;
            }
            job.one_sun = Some(window);
        }
        let order = problem.order();
        let (costs, before) = (&order.costs, &self.order.costs);
        let is_worth_it =
            !costs.misses_more_than(before) && costs.minutes() <= before.minutes() + Self::ONE_SUN_WORTH_MIN;
        is_worth_it.then(|| Self { problem, order, ..self.clone() })
    }
}
