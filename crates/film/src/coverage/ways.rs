//! Every way of making a proposal, the preferred ones first, and what follows from one: where somebody is across the frame,
//! and how long an entry of it is.

use glam::DVec2;
use staging::{PhoneHeight, ShotSize, along};
use units::Angle;

use super::ground::Ground;
use super::proposal::{LensWish, MoveWish, Proposal};
use super::{CoverageWish, Pace};
use crate::cut_view::NEUTRAL;
use crate::shot::ShotOf;

/// One way of making a proposal.
#[derive(Clone, Copy)]
pub(super) struct Way<'a> {
    pub(super) size: ShotSize,
    pub(super) lens: (u32, &'a LensWish),
    pub(super) height: (u32, PhoneHeight),
    pub(super) bearing: Angle,
    pub(super) moves: MoveWish,
    pub(super) cost: u32,
}

/// What each step costs down a list of preferences: chosen so that a direction is given up before a height, and sizes, which
/// tell most, last.
const SIZE_STEP: u32 = 14;
const LENS_STEP: u32 = 6;
const HEIGHT_STEP: u32 = 5;
const BEARING_STEP: u32 = 4;
const MOVE_STEP: u32 = 3;

/// What the first of a list of preferences costs, the second, and so on.
fn costs(step: u32) -> impl Iterator<Item = u32> {
    std::iter::successors(Some(0_u32), move |cost| cost.checked_add(step))
}

/// Every way of making a proposal, the preferred ones first.
pub(super) fn ways(proposal: &Proposal) -> Vec<Way<'_>> {
    let mut ways = Vec::new();
    for (size_cost, size) in costs(SIZE_STEP).zip(&proposal.sizes) {
        for (lens_cost, lens) in costs(LENS_STEP).zip(&proposal.lenses) {
            for (height_cost, height) in costs(HEIGHT_STEP).zip(&proposal.heights) {
                for (bearing_cost, bearing) in costs(BEARING_STEP).zip(&proposal.bearings) {
                    for (move_cost, moves) in costs(MOVE_STEP).zip(&proposal.moves) {
                        ways.push(Way {
                            size: *size,
                            lens: (lens_cost, lens),
                            height: (height_cost, *height),
                            bearing: *bearing,
                            moves: *moves,
                            cost: size_cost + lens_cost + height_cost + bearing_cost + move_cost,
                        });
                    }
                }
            }
        }
    }
    // Stable, so that ways that cost the same stay in the order of preference.
    ways.sort_by_key(|way| way.cost);
    ways
}

/// The lens that sees most: shortest over its sensor.
pub(super) fn widest(ground: &Ground<'_>) -> Option<String> {
    let lenses = ground.film.kit.lenses.iter();
    let sees = |lens: &&crate::KitLens| {
        lens.lens.focal_length.value.to_length().to_mm() / lens.lens.sensor.value.width.to_mm()
    };
    lenses.min_by(|one, other| sees(one).total_cmp(&sees(other))).map(|lens| lens.name.clone())
}

/// Where somebody is across the frame: on the third that leaves room on the side to which they look or go, in its middle
/// where they look at the phone or away. Common practice.
pub(super) fn across(ground: &Ground<'_>, of: &ShotOf, bearing: Angle) -> f64 {
    let who = match of {
        ShotOf::One(who) | ShotOf::OverShoulder { facing: who, .. } => *who,
        ShotOf::Two(..) | ShotOf::PointOfView { .. } | ShotOf::Object { .. } => return 0.5,
    };
    let Some(person) = ground.person(who) else { return 0.5 };
    let looks = match of {
        // Past a shoulder, the room belongs to the one whose shoulder it is.
        ShotOf::OverShoulder { near, .. } => {
            ground.person(*near).map_or(DVec2::ZERO, |near| near.place - person.place)
        }
        ShotOf::One(_) | ShotOf::Two(..) | ShotOf::PointOfView { .. } | ShotOf::Object { .. } => {
            along(person.facing)
        }
    };
    let ahead = -along(bearing);
    let to_the_right = -ahead.perp_dot(looks.normalize_or_zero());
    let nearly_along = match of {
        ShotOf::OverShoulder { .. } => 0.0,
        ShotOf::One(_) | ShotOf::Two(..) | ShotOf::PointOfView { .. } | ShotOf::Object { .. } => {
            NEUTRAL.sin()
        }
    };
    if to_the_right > nearly_along {
        1.0 / 3.0
    } else if to_the_right < -nearly_along {
        2.0 / 3.0
    } else {
        0.5
    }
}

/// How long an entry of a size is planned, seconds. Chosen within what calm and restless cuts of short films last: there is
/// more to see in a wide frame, and a thing is seen at once.
pub(super) fn seconds(wish: &CoverageWish, of: &ShotOf, size: ShotSize) -> f64 {
    let is_thing = matches!(of, ShotOf::Object { .. });
    match (wish.pace, size) {
        (Pace::Calm, _) if is_thing => 5.0,
        (Pace::Restless, _) if is_thing => 1.5,
        (Pace::Calm, ShotSize::ExtremeWide | ShotSize::Wide) => 7.0,
        (Pace::Calm, ShotSize::MidThigh | ShotSize::Medium) => 6.0,
        (Pace::Calm, ShotSize::ChestUp) => 5.5,
        (Pace::Calm, ShotSize::Tight | ShotSize::ExtremeTight | ShotSize::Insert) => 5.0,
        (Pace::Restless, ShotSize::ExtremeWide | ShotSize::Wide) => 3.0,
        (Pace::Restless, ShotSize::MidThigh | ShotSize::Medium) => 2.5,
        (Pace::Restless, ShotSize::ChestUp | ShotSize::Tight) => 2.0,
        (Pace::Restless, ShotSize::ExtremeTight | ShotSize::Insert) => 1.5,
    }
}
