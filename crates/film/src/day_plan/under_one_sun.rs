//! A day's order in which the sun matches from cut to cut, where that costs little.

use std::sync::Arc;

use super::{DayPlan, Daylights};
use crate::day::ShootingDay;
use crate::film::Film;
use crate::id::ShotId;
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
    /// Scene by scene, and only as long as nothing more is missed or late, the order costs at most [`Self::ONE_SUN_WORTH_MIN`] more for the
    /// scene, and the sun then jumps in fewer scenes. Where somebody has put one of a scene's setups somewhere, that scene is
    /// left as it is.
    pub(super) fn under_one_sun(mut self, film: &Film, day: &ShootingDay, daylights: &Daylights) -> Self {
        let mut jumps = self.sun_jumps(film, day, daylights);
        for scene in jumps.iter().map(|(scene, _)| Arc::clone(scene)).collect::<Vec<_>>() {
            let jump = jumps.iter().find(|(of, _)| of.id == scene.id);
            let Some(tried) = jump.and_then(|(_, jump)| self.matching(jump)) else { continue };
            let left = tried.sun_jumps(film, day, daylights);
            if left.len() < jumps.len() {
                (self, jumps) = (tried, left);
            }
        }
        self
    }

    /// The scenes in which the sun jumps, with how.
    fn sun_jumps(&self, film: &Film, day: &ShootingDay, daylights: &Daylights) -> Vec<(Arc<Scene>, SunJump)> {
        let jump = |scene: &Arc<Scene>| {
            SunJump::of(scene, day, daylights, self).map(|jump| (Arc::clone(scene), jump))
        };
        film.scenes.iter().filter_map(jump).collect()
    }

    /// The plan with what jumps kept within the stretch in which it would not; none if there is no such stretch, if one of the
    /// setups is pinned, or if that costs too much.
    fn matching(&self, jump: &SunJump) -> Option<Self> {
        let window = jump.window?;
        let is_to_match = |shot: ShotId| jump.shots.contains(&shot);
        let mut problem = self.problem.clone();
        for job in problem.jobs.iter_mut().filter(|job| is_to_match(job.shot)) {
            if job.pinned.is_some() {
                return None;
            }
            job.one_sun = Some(window);
        }
        let order = problem.order();
        let (costs, before) = (&order.costs, &self.order.costs);
        let misses_more = (costs.must_missed, costs.nice_missed) > (before.must_missed, before.nice_missed);
        let is_worth_it = !misses_more && costs.minutes() <= before.minutes() + Self::ONE_SUN_WORTH_MIN;
        is_worth_it.then(|| Self { problem, order, ..self.clone() })
    }
}
