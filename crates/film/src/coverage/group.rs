//! Three people or more, and two who do not face each other.
//!
//! Common practice: everybody first, then those who look at each other, then each of them.

use staging::{Landmark, PhoneHeight, ShotSize, azimuth};
use units::Angle;

use super::ground::Ground;
use super::proposal::{Proposal, Role, Step, heights};
use super::words::{everybody, looking, names};
use super::{CoverageWish, talk, walk};
use crate::id::PersonId;
use crate::scene_blocking::{Standing, pairs};
use crate::shot::ShotOf;

/// What several people offer.
pub(super) fn steps(ground: &Ground<'_>, wish: &CoverageWish) -> Vec<Step> {
    let mut steps: Vec<Step> = master(ground, wish).into_iter().map(|proposal| vec![proposal]).collect();
    let walkers = ground.walkers();
    if let Some(walker) = walkers.first() {
        let mut of_walker = walk::steps(ground, wish, walker);
        of_walker.truncate(4);
        steps.extend(of_walker);
    }
    let mut pairs = ground.looking();
    if wish.is_odd() && pairs.len() > 1 {
        pairs.rotate_left(1);
    }
    let mut later: Vec<Step> = Vec::new();
    for (one, other) in pairs.iter().copied() {
        let of_two = both(ground, wish, one, other).map(|proposal| vec![proposal]);
        if ground.looks_at(one, other) && ground.looks_at(other, one) {
            // Their own master would say again what the shot of everybody says: past the shoulders first, alone later.
            let mut talking = talk::steps(ground, wish, (one, other)).into_iter().skip(1);
            steps.extend(talking.next());
            later.extend(of_two);
            later.extend(talking.next());
        } else {
            // Whoever looks on at others is seen before anybody is seen twice.
            steps.push(vec![single(ground, wish, one)]);
            later.extend(of_two);
            later.push(vec![talk::point_of_view(ground, wish, one, other)]);
        }
    }
    steps.extend(later);
    let mut alone: Vec<PersonId> = ground.people.iter().map(|one| one.who).collect();
    if wish.is_odd() && !alone.is_empty() {
        alone.rotate_left(1);
    }
    steps.extend(alone.iter().map(|who| vec![single(ground, wish, *who)]));
    if let Some(first) = alone.first() {
        steps.push(vec![Proposal::held(ground, wish, *first, 55.0)]);
    }
    steps
}

/// The two who stand farthest apart hold everybody between them.
fn master(ground: &Ground<'_>, wish: &CoverageWish) -> Option<Proposal> {
    let apart_m = |(one, other): &(&Standing, &Standing)| one.person.place.distance(other.person.place);
    let (one, other) =
        pairs(&ground.people).max_by(|first, second| apart_m(first).total_cmp(&apart_m(second)))?;
    let sizes = wish.by_pace([ShotSize::Wide, ShotSize::ExtremeWide], [ShotSize::MidThigh, ShotSize::Wide]);
    let proposal = Proposal::new(wish, Role::Master, ShotOf::Two(one.who, other.who), &sizes, ground.normal)
        .on_widest()
        .pushed_if_calm(wish)
        .at_heights(heights(wish, PhoneHeight::Overhead))
        .showing(everybody(ground));
    Some(proposal)
}

/// Two of them, one of whom looks at the other. Not where two is everybody: the master holds them already.
fn both(ground: &Ground<'_>, wish: &CoverageWish, one: PersonId, other: PersonId) -> Option<Proposal> {
    if ground.people.len() <= 2 {
        return None;
    }
    let (from, to) = (ground.person(one)?.place, ground.person(other)?.place);
    // Across the way from one to the other both faces show, on the side that the phone keeps.
    let across = ground.turned(azimuth(to - from), 70.0);
    let sizes = [ShotSize::Medium, ShotSize::MidThigh];
    let proposal = Proposal::new(wish, Role::Pair, ShotOf::Two(one, other), &sizes, across)
        .at_heights(heights(wish, PhoneHeight::At(Landmark::Waist)))
        .showing(names(ground, &[one, other]));
    Some(proposal)
}

fn single(ground: &Ground<'_>, wish: &CoverageWish, who: PersonId) -> Proposal {
    let facing = ground.person(who).map_or(Angle::ZERO, |person| person.facing);
    let sizes = wish.by_pace([ShotSize::ChestUp, ShotSize::Medium], [ShotSize::Tight, ShotSize::ChestUp]);
    Proposal::new(wish, Role::Single, ShotOf::One(who), &sizes, ground.turned(facing, 35.0))
        .at_heights(heights(wish, PhoneHeight::At(Landmark::Shoulder)))
        .showing(looking(ground, who))
}
