//! Somebody who walks.
//!
//! Common practice: far off first, so that the way they go is told, then with them, before them and behind them, with
//! something small to cut away to, and in the end they arrive.

use language::say;
use staging::{Landmark, PhoneHeight, ShotSize};
use units::Angle;

use super::CoverageWish;
use super::ground::{Ground, Walker};
use super::proposal::{MoveWish, Proposal, Role, Step, heights, whole_degrees};
use super::words::{looking, names, whereabouts, with_what_happens};
use crate::shot::ShotOf;

/// What somebody who walks offers.
pub(super) fn steps(ground: &Ground<'_>, wish: &CoverageWish, walker: &Walker) -> Vec<Step> {
    let walk = Walk { ground, wish, walker };
    let mut steps = vec![walk.afar(), walk.alongside(), walk.ahead()];
    steps.push(Proposal::held(ground, wish, walker.who, 70.0).moving(&walk.along()));
    steps.push(walk.arriving());
    steps.push(walk.behind());
    steps.push(walk.passing());
    steps.push(walk.face());
    steps.into_iter().map(|proposal| vec![proposal]).collect()
}

struct Walk<'a> {
    ground: &'a Ground<'a>,
    wish: &'a CoverageWish,
    walker: &'a Walker,
}

impl Walk<'_> {
    fn proposal(&self, role: Role, sizes: &[ShotSize], off_deg: f64) -> Proposal {
        let bearing = self.ground.turned(self.walker.way, off_deg);
        Proposal::new(self.wish, role, ShotOf::One(self.walker.who), sizes, bearing)
    }

    fn name(&self) -> String {
        names(self.ground, &[self.walker.who])
    }

    /// Going along, where they walk already: the phone goes straight on as they do.
    fn along(&self) -> Vec<MoveWish> {
        let Walker { pace_m, straight_s, is_on_it, .. } = *self.walker;
        if is_on_it { vec![MoveWish::Follow { per_second_m: pace_m, straight_s }] } else { Vec::new() }
    }

    fn afar(&self) -> Proposal {
        let place = self.ground.person(self.walker.who).map_or(self.ground.middle(), |person| person.place);
        let words = say!("{} walks{}", self.name(), whereabouts(self.ground, place));
        self.proposal(Role::Place, &[ShotSize::ExtremeWide, ShotSize::Wide], 75.0)
            .at_heights(heights(self.wish, PhoneHeight::At(Landmark::Knee)))
            .showing(with_what_happens(self.ground, words))
    }

    fn alongside(&self) -> Proposal {
        let sizes =
            self.wish.by_pace([ShotSize::MidThigh, ShotSize::Medium], [ShotSize::Medium, ShotSize::ChestUp]);
        self.proposal(Role::Along, &sizes, 80.0)
            .moving(&self.along())
            .at_heights(heights(self.wish, PhoneHeight::At(Landmark::Shoulder)))
            .showing(say!("along with {}", self.name()))
    }

    /// Before them: whoever holds the phone walks backwards, which the take's own finding says.
    fn ahead(&self) -> Proposal {
        let sizes =
            self.wish.by_pace([ShotSize::Medium, ShotSize::ChestUp], [ShotSize::ChestUp, ShotSize::Tight]);
        self.proposal(Role::Single, &sizes, 25.0)
            .moving(&self.along())
            .at_heights(heights(self.wish, PhoneHeight::At(Landmark::Waist)))
            .showing(say!("{} comes on, the phone ahead of them", self.name()))
    }

    fn behind(&self) -> Proposal {
        let sizes =
            self.wish.by_pace([ShotSize::MidThigh, ShotSize::Wide], [ShotSize::Medium, ShotSize::MidThigh]);
        self.proposal(Role::Behind, &sizes, 155.0)
            .moving(&self.along())
            .at_heights(heights(self.wish, PhoneHeight::At(Landmark::Crown)))
            .showing(say!("behind {}, where they go", self.name()))
            .nice_to_have()
    }

    /// Towards a phone that waits for them.
    fn arriving(&self) -> Proposal {
        let name = self.name();
        let words = if self.walker.is_last_leg { say!("{name} arrives") } else { say!("{name} comes on") };
        self.proposal(Role::Master, &[ShotSize::Wide, ShotSize::ExtremeWide], 8.0)
            .at_heights(heights(self.wish, PhoneHeight::Ground))
            .showing(words)
    }

    /// From one side to the other, the phone turning with them.
    fn passing(&self) -> Proposal {
        let pan = MoveWish::Pan { per_second_m: self.walker.pace_m };
        let sizes = [ShotSize::Wide, ShotSize::MidThigh];
        let still = self.proposal(Role::Another, &sizes, 105.0);
        let moved =
            if self.wish.is_restless() && self.walker.is_on_it { still.moving(&[pan]) } else { still };
        moved
            .on_widest()
            .at_heights(heights(self.wish, PhoneHeight::Ground))
            .showing(say!("{} passes", self.name()))
            .nice_to_have()
    }

    fn face(&self) -> Proposal {
        self.proposal(Role::Tight, &[ShotSize::Tight, ShotSize::ChestUp], 50.0)
            .moving(&self.along())
            .showing(say!("{}'s face as they walk", self.name()))
            .nice_to_have()
    }
}

/// Views of somebody beyond those that a scene needs, until there are enough.
pub(super) fn more_of(ground: &Ground<'_>, wish: &CoverageWish) -> Vec<Step> {
    const VIEWS: [(ShotSize, f64); 8] = [
        (ShotSize::MidThigh, 60.0),
        (ShotSize::Tight, 35.0),
        (ShotSize::Wide, 110.0),
        (ShotSize::ChestUp, 90.0),
        (ShotSize::ExtremeTight, 15.0),
        (ShotSize::Medium, 130.0),
        (ShotSize::ExtremeWide, 45.0),
        (ShotSize::Insert, 100.0),
    ];
    let views = VIEWS.iter().flat_map(|(size, off_deg)| {
        ground.people.iter().map(move |one| {
            if *size == ShotSize::Insert {
                return vec![Proposal::held(ground, wish, one.who, *off_deg)];
            }
            let bearing = ground.turned(one.person.facing, *off_deg);
            let words = looking(ground, one.who);
            let height = if *off_deg > 75.0 { Landmark::Chest } else { Landmark::Eyes };
            let proposal = Proposal::new(wish, Role::Another, ShotOf::One(one.who), &[*size], bearing)
                .at_heights(vec![
                    PhoneHeight::At(height),
                    PhoneHeight::BySize,
                    PhoneHeight::At(Landmark::Waist),
                ])
                .showing(words)
                .nice_to_have();
            vec![proposal]
        })
    });
    let mut steps: Vec<Step> = views.collect();
    // The other half of the circle, where no line forbids it.
    let beyond: Vec<Step> = steps
        .iter()
        .map(|step| {
            let turned = step.iter().map(|proposal| Proposal {
                bearings: proposal
                    .bearings
                    .iter()
                    .map(|bearing| whole_degrees(*bearing + Angle::from_deg(180.0)))
                    .collect(),
                ..proposal.clone()
            });
            turned.collect()
        })
        .collect();
    steps.extend(beyond);
    steps
}
