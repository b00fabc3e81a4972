//! Findings on a scene as a whole: how many shots it is cut from, and whether they vary.

use std::collections::BTreeSet;

use units::Angle;

use super::cut::CutFinding;
use crate::cut_view::{EntryView, SeenAt};
use crate::shot::ShotOf;

/// A scene is cut from three to eight shots: common practice.
const FEWEST_SHOTS: usize = 3;
const MOST_SHOTS: usize = 8;
/// Figures within 1.3 times of each other are of one size: common practice that sizes vary, the figure is chosen as about
/// half a step of shot size.
const ONE_SIZE_TIMES: f64 = 1.3;
/// Phones within 30 degrees of each other look the same way: common practice that directions vary, the figure is that of
/// the jump cut.
const ONE_DIRECTION: Angle = Angle::from_deg(30.0);

/// Checks how the shots of a cut vary. An empty cut has nothing to vary.
pub(super) fn check_variety(views: &[EntryView]) -> Vec<CutFinding> {
    let mut used = BTreeSet::new();
    let shots: Vec<&EntryView> = views.iter().filter(|view| used.insert(view.shot.id)).collect();
    let mut found = Vec::new();
    match shots.len() {
        0 => return found,
        few if few < FEWEST_SHOTS => found.push(CutFinding::FewShots { shots: few }),
        many if many > MOST_SHOTS => found.push(CutFinding::ManyShots { shots: many }),
        _ => {}
    }
    found.extend(one_size(&shots));
    found.extend(one_direction(&shots));
    found.extend(no_foreground(&shots));
    let unsaid = shots.iter().filter(|view| view.shot.action.trim().is_empty()).count();
    if unsaid > 0 {
        found.push(CutFinding::ActionUnsaid { shots: unsaid, of: shots.len() });
    }
    found
}

/// What the shots that are no inserts show as they start.
fn starts<'views>(shots: &'views [&EntryView]) -> impl Iterator<Item = &'views SeenAt> {
    shots.iter().filter(|view| !view.is_insert()).filter_map(|view| Some(&view.seen.as_ref()?[0]))
}

/// Shots that all hold about as much of whom they are of. Fewer than a scene needs say nothing yet.
fn one_size(shots: &[&EntryView]) -> Option<CutFinding> {
    let shares: Vec<f64> = starts(shots).filter_map(|seen| seen.figure_share).collect();
    let least = shares.iter().copied().reduce(f64::min)?;
    let times = shares.iter().copied().reduce(f64::max)? / least;
    (shares.len() >= FEWEST_SHOTS && times <= ONE_SIZE_TIMES)
        .then_some(CutFinding::OneSize { times, shots: shares.len() })
}

/// Shots that all look about the same way, along the floor and up or down.
fn one_direction(shots: &[&EntryView]) -> Option<CutFinding> {
    let mut azimuths = Vec::with_capacity(shots.len());
    let mut elevations = Vec::with_capacity(shots.len());
    for seen in starts(shots) {
        let way = seen.from_subject;
        azimuths.push(libm::atan2(way.x, way.y));
        elevations.push(libm::atan2(way.z, libm::hypot(way.x, way.y)));
    }
    let lowest = elevations.iter().copied().reduce(f64::min)?;
    let rise = elevations.iter().copied().reduce(f64::max)? - lowest;
    let within = Angle::from_rad(narrowest_arc(azimuths).max(rise));
    (elevations.len() >= FEWEST_SHOTS && within <= ONE_DIRECTION)
        .then_some(CutFinding::OneDirection { within, shots: elevations.len() })
}

/// The narrowest arc that holds all these directions, radians: the whole circle less the widest gap between neighbours.
fn narrowest_arc(mut azimuths: Vec<f64>) -> f64 {
    azimuths.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (azimuths.first(), azimuths.last()) else { return 0.0 };
    let round = first + core::f64::consts::TAU - last;
    let gaps = azimuths.windows(2).map(|pair| pair[1] - pair[0]);
    core::f64::consts::TAU - gaps.fold(round, f64::max)
}

/// Shots of which none has anything near the lens; a shoulder is near.
fn no_foreground(shots: &[&EntryView]) -> Option<CutFinding> {
    let has_one = |view: &&EntryView| {
        view.shot.foreground.is_some() || matches!(view.shot.of, ShotOf::OverShoulder { .. })
    };
    (shots.len() >= FEWEST_SHOTS && !shots.iter().any(has_one))
        .then_some(CutFinding::NoForeground { shots: shots.len() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::example::{film, finds, found, level, person, single, two};
    use crate::scene::KeptAt;
    use crate::shot::Shot;
    use staging::{Foreground, PieceKind, ShotSize};
    use units::Length;

    /// Shots of Ada from those directions, that many times as far as two metres.
    fn shots(of: &[(f64, f64)]) -> Vec<Shot> {
        (1..).zip(of).map(|(number, (side, times))| level(number, *side, 2.0 * times)).collect()
    }

    #[test]
    fn a_scene_is_cut_from_three_to_eight_shots() {
        let of = |count: usize| film(two(), shots(&vec![(180.0, 1.0); count]));
        assert!(finds(&of(2), "few_shots") && !finds(&of(3), "few_shots"));
        assert!(!finds(&of(8), "many_shots") && finds(&of(9), "many_shots"));
        assert!(found(&of(0)).is_empty(), "an empty cut");
    }

    #[test]
    fn figures_within_1_29_times_are_of_one_size_and_within_1_31_are_not() {
        let one =
            |times: f64| finds(&film(two(), shots(&[(90.0, 1.0), (180.0, times), (270.0, 1.1)])), "one_size");
        assert!(one(1.29) && !one(1.31), "{} {}", one(1.29), one(1.31));
    }

    #[test]
    fn phones_within_29_degrees_look_one_way_and_within_31_do_not() {
        let one = |far: f64| {
            let spread = shots(&[(350.0, 1.0), (350.0 + far, 2.0), (0.0, 4.0)]);
            finds(&film(two(), spread), "one_direction")
        };
        assert!(one(29.0) && !one(31.0), "{} {}", one(29.0), one(31.0));
    }

    #[test]
    fn a_look_from_above_is_another_direction() {
        let mut spread = shots(&[(0.0, 1.0), (5.0, 2.0), (0.0, 4.0)]);
        assert!(finds(&film(two(), spread.clone()), "one_direction"));
        spread[0] = Shot {
            height: staging::PhoneHeight::Fixed(Length::from_m(3.2)),
            look: staging::Look::Tilt(Angle::from_deg(-40.0)),
            ..spread[0].clone()
        };
        assert!(!finds(&film(two(), spread), "one_direction"));
    }

    #[test]
    fn a_piece_near_the_lens_or_a_shoulder_is_a_foreground() {
        let none = shots(&[(0.0, 1.0), (90.0, 2.0), (180.0, 4.0)]);
        assert!(finds(&film(two(), none.clone()), "no_foreground"));
        let (ahead, right) = (Length::from_m(0.6), Length::from_m(0.2));
        let mut plant = none.clone();
        plant[1].foreground = Some(Foreground { kind: PieceKind::Plant, ahead, right });
        assert!(!finds(&film(two(), plant), "no_foreground"));
        let mut shoulder = none;
        shoulder[1] = Shot {
            of: ShotOf::OverShoulder { facing: person(1), near: person(2) },
            ..single(2, 1, ShotSize::ChestUp, 100.0)
        };
        assert!(!finds(&film(two(), shoulder), "no_foreground"));
    }

    #[test]
    fn shots_of_which_it_is_not_said_what_happens_are_counted_once() {
        let mut silent = shots(&[(0.0, 1.0), (90.0, 2.0), (180.0, 4.0)]);
        silent[0].action = "  ".to_owned();
        silent[2].action.clear();
        let found: Vec<_> = found(&film(two(), silent))
            .into_iter()
            .filter(|placed| placed.finding.rule() == "action_unsaid")
            .map(|placed| (placed.at, placed.finding))
            .collect();
        assert_eq!(found, [(KeptAt::Scene, CutFinding::ActionUnsaid { shots: 2, of: 3 })]);
    }

    #[test]
    fn two_shots_are_too_few_to_vary() {
        let pair = film(two(), shots(&[(180.0, 1.0), (180.0, 1.0)]));
        for rule in ["one_size", "one_direction", "no_foreground"] {
            assert!(!finds(&pair, rule), "{rule}");
        }
    }

    #[test]
    fn phones_that_all_look_down_alike_look_one_way() {
        let down = |shot: Shot| Shot {
            height: staging::PhoneHeight::Fixed(Length::from_m(3.2)),
            look: staging::Look::Tilt(Angle::from_deg(-40.0)),
            stand: staging::Stand::At(Length::from_m(2.0)),
            ..shot
        };
        let alike = shots(&[(0.0, 1.0), (5.0, 1.0), (10.0, 1.0)]).into_iter().map(down);
        assert!(finds(&film(two(), alike.collect()), "one_direction"));
    }

    #[test]
    fn inserts_show_no_size_and_no_direction() {
        let mut with = shots(&[(90.0, 1.0), (90.0, 1.0), (90.0, 1.0)]);
        with.push(single(4, 1, ShotSize::Insert, 270.0));
        let film = film(two(), with);
        assert!(finds(&film, "one_size") && finds(&film, "one_direction"), "{:?}", found(&film));
    }

    #[test]
    fn a_scene_of_which_all_is_said_has_nothing_unsaid() {
        assert!(!finds(&film(two(), shots(&[(0.0, 1.0), (90.0, 2.0), (180.0, 4.0)])), "action_unsaid"));
    }

    #[test]
    fn the_narrowest_arc_goes_round_by_north_where_that_is_nearer() {
        let arc = |degrees: &[f64]| {
            narrowest_arc(degrees.iter().map(|one| one.to_radians()).collect()).to_degrees()
        };
        for (degrees, expected) in [
            (&[20.0, 50.0][..], 30.0),
            (&[350.0, 10.0], 20.0),
            (&[10.0, 90.0, 40.0], 80.0),
            (&[-170.0, 175.0, 160.0], 30.0),
            (&[0.0, 120.0, 240.0], 240.0),
            (&[77.0], 0.0),
        ] {
            assert!((arc(degrees) - expected).abs() < 1e-9, "{degrees:?}: {}", arc(degrees));
        }
        assert!(arc(&[]).abs() < f64::MIN_POSITIVE, "no direction spans nothing");
    }
}
