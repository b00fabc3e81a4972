//! When each setup has the light that it wants: setups of a scene that want the same share a lane.

use film::{DayPlan, DaySpan, Film, SceneId, ShotId};
use language::say;

use crate::light::lit::Lit;

/// One lane below the sky.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lane {
    /// The numbers of its setups.
    pub(super) name: String,
    /// When its setups have their light; none if any time will do.
    pub(super) wanted: Option<Vec<DaySpan>>,
    /// When each of its setups is planned.
    pub(super) planned: Vec<f64>,
    /// Whether the chosen setup is one of them.
    pub(super) is_chosen: bool,
}

/// The numbers of so many setups have room on a lane; of more, the first and the last are told.
const MOST_TOLD: usize = 4;

/// The lanes of a day, in story order.
pub(super) fn lanes(
    film: &Film,
    plan: &DayPlan,
    lights: &[Lit],
    planned: &[f64],
    chosen: Option<ShotId>,
) -> Vec<Lane> {
    let mut lanes: Vec<(SceneId, Vec<String>, Lane)> = Vec::new();
    for ((setup, lit), minute) in plan.setups.iter().zip(lights).zip(planned) {
        let Some(number) = film.numbered(setup.shot.id) else { continue };
        let is_chosen = chosen == Some(setup.shot.id);
        let same = lanes.iter_mut().find(|(of, _, lane)| *of == setup.scene.id && lane.wanted == lit.wanted);
        if let Some((_, numbers, lane)) = same {
            numbers.push(number);
            lane.planned.push(*minute);
            lane.is_chosen |= is_chosen;
        } else {
            let wanted = lit.wanted.clone();
            let lane = Lane { name: String::new(), wanted, planned: vec![*minute], is_chosen };
            lanes.push((setup.scene.id, vec![number], lane));
        }
    }
    lanes.into_iter().map(|(_, numbers, lane)| Lane { name: name(&numbers), ..lane }).collect()
}

fn name(numbers: &[String]) -> String {
    match numbers {
        [first, .., last] if numbers.len() > MOST_TOLD => say!("{first} to {last}"),
        numbers => numbers.join(", "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use film::{DayPlan, Daylights, Rehearsals, ShootingDay};

    #[test]
    fn setups_of_a_scene_that_want_the_same_share_a_lane() {
        let film = film::demo_film();
        let day = ShootingDay::usual(film::DayId::new(1).expect("small"));
        let plan = DayPlan::of(&film, &day, &Daylights::new(), &mut Rehearsals::default());
        let lit = |shot| Lit { shot, minute: 600.0, light: None, sun: None, wanted: None };
        let mut lights: Vec<Lit> = plan.setups.iter().map(|setup| lit(setup.shot.id)).collect();
        let planned = vec![600.0; lights.len()];
        let count = |lights: &[Lit]| lanes(&film, &plan, lights, &planned, None).len();
        assert_eq!(count(&lights), film.scenes.len());
        lights[0].wanted = Some(Vec::new());
        assert_eq!(count(&lights), film.scenes.len() + 1);
        let all = lanes(&film, &plan, &lights, &planned, Some(lights[0].shot));
        assert!(all[0].is_chosen && all[0].name == "1.1" && !all[1].is_chosen, "{all:?}");
        assert_eq!(all.iter().map(|lane| lane.planned.len()).sum::<usize>(), lights.len());
    }

    #[test]
    fn a_lane_of_many_tells_its_ends() {
        let numbers = |count: usize| (1..=count).map(|at| format!("2.{at}")).collect::<Vec<_>>();
        assert_eq!(name(&numbers(3)), "2.1, 2.2, 2.3");
        assert_eq!(name(&numbers(9)), "2.1 to 2.9");
    }
}
