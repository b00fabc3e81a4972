//! Which proposals become the shots of a draft: beat after beat, each after what is there before it.

use staging::PhoneHeight;
use units::Angle;

use super::CoverageWish;
use super::candidate::{Had, NO_CUT, Search};
use super::cutting::cuts;
use super::ground::Ground;
use super::proposal::{LensWish, Proposal, Role, Step, whole_degrees};
use super::{alone, group, talk, things, walk};
use crate::cut_view::EntryView;
use crate::id::ShotId;
use crate::shot::{LensChoice, ShotOf};

/// A shot of the draft.
#[derive(Debug, Clone)]
pub(super) struct Picked {
    pub(super) had: Had,
    pub(super) role: Role,
    /// Which beat it starts in, by its place in the scene.
    pub(super) beat_at: usize,
    /// Whether the shot before it is the one it is the reverse of.
    pub(super) is_reverse: bool,
}

/// How much a pass gives up for a shot that can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Pass {
    /// Every role once, reverses matched, every cut kept.
    Strict,
    /// A role may come again, a reverse may be alone.
    Again,
    /// What does not cut is better than nothing.
    Anything,
}

/// Picks as many shots as there are ids, over the beats in order.
pub(super) fn pick(grounds: &[Ground<'_>], wish: &CoverageWish, ids: &[ShotId]) -> Vec<Picked> {
    let mut picking = Picking { wish, ids, picked: Vec::with_capacity(ids.len()) };
    let beats = grounds.len().max(1);
    for (at, ground) in grounds.iter().enumerate() {
        // What a beat could not fill is left to those after it.
        let until = (ids.len() * (at + 1)).div_ceil(beats).min(ids.len());
        let steps = pool(ground, wish);
        let is_last = at + 1 == grounds.len();
        for pass in [Pass::Strict, Pass::Again, Pass::Anything] {
            picking.fill(ground, (at, is_last), &steps, until, pass);
        }
    }
    picking.picked
}

/// What a beat offers, in the order in which it is wanted.
pub(super) fn pool(ground: &Ground<'_>, wish: &CoverageWish) -> Vec<Step> {
    let walkers = ground.walkers();
    let talking = ground.looking().into_iter().next();
    let mut steps = match (ground.people.as_slice(), talking, walkers.first()) {
        ([], _, _) => return things::steps(ground, wish),
        ([_], _, Some(walker)) => walk::steps(ground, wish, walker),
        ([one], _, None) => alone::steps(ground, wish, one.who),
        ([_, _], Some((one, other)), None) if ground.looks_at(one, other) && ground.looks_at(other, one) => {
            talk::steps(ground, wish, (one, other))
        }
        (_, _, _) => group::steps(ground, wish),
    };
    steps.extend(walk::more_of(ground, wish));
    steps
}

struct Picking<'a> {
    wish: &'a CoverageWish,
    ids: &'a [ShotId],
    picked: Vec<Picked>,
}

impl Picking<'_> {
    fn fill(
        &mut self,
        ground: &Ground<'_>,
        (beat_at, is_last): (usize, bool),
        steps: &[Step],
        until: usize,
        pass: Pass,
    ) {
        for step in steps {
            let left = until.saturating_sub(self.picked.len());
            if left == 0 {
                return;
            }
            let new: Vec<&Proposal> =
                step.iter().filter(|proposal| pass != Pass::Strict || !self.is_picked(proposal)).collect();
            match new.as_slice() {
                [] => {}
                [one, reverse] if left >= 2 => self.pick_both(ground, beat_at, (one, reverse), pass),
                // Half of a pair at a beat's end is for the next beat to complete.
                [_, _] if pass == Pass::Strict && is_last => {}
                [one, ..] => {
                    let matched = self.matched(one);
                    let found = matched
                        .and_then(|matched| self.had(ground, &matched, &[], 0))
                        .filter(|had| had.cost < NO_CUT && !had.is_the_same_again);
                    let found = found.or_else(|| self.had(ground, one, &[], 0));
                    self.take(found, one.role, beat_at, pass);
                }
            }
        }
    }

    fn is_picked(&self, proposal: &Proposal) -> bool {
        self.picked.iter().any(|one| one.role == proposal.role && one.had.shot.of == proposal.of)
    }

    /// The best way of having a proposal after what is picked and what comes `then`.
    fn had(
        &self,
        ground: &Ground<'_>,
        proposal: &Proposal,
        then: &[&EntryView],
        ahead: usize,
    ) -> Option<Had> {
        let id = *self.ids.get(self.picked.len() + ahead)?;
        let others: Vec<&EntryView> =
            self.picked.iter().map(|one| &one.had.view).chain(then.iter().copied()).collect();
        let before: Vec<EntryView> = others.iter().map(|view| (*view).clone()).collect();
        let cuts = |view: &EntryView| cuts(ground, &before, view);
        Search { ground, wish: self.wish, id, cuts: &cuts, others: &others }.best(proposal)
    }

    fn take(&mut self, found: Option<Had>, role: Role, beat_at: usize, pass: Pass) {
        if let Some(had) = found.filter(|had| had.cost < NO_CUT || pass == Pass::Anything) {
            self.picked.push(Picked { had, role, beat_at, is_reverse: false });
        }
    }

    /// A shot and its reverse: on one lens, of one size, from heights in the same place of their lists, which are the same by
    /// the body unless the two are unlike. Of those that cut, the first after which the scene was not seen in one way alone.
    fn pick_both(
        &mut self,
        ground: &Ground<'_>,
        beat_at: usize,
        (one, reverse): (&Proposal, &Proposal),
        pass: Pass,
    ) {
        let mut same_again: Option<[Had; 2]> = None;
        let mut found: Option<[Had; 2]> = None;
        'sizes: for size in &one.sizes {
            for (height, of_reverse) in one.heights.iter().zip(&reverse.heights) {
                let asked = Proposal { sizes: vec![*size], heights: vec![*height], ..one.clone() };
                let Some(of_auto) = self.had(ground, &asked, &[], 0) else { continue };
                let mut lenses: Vec<String> = lens_of(ground, &of_auto).into_iter().collect();
                lenses.extend(ground.film.kit.lenses.iter().map(|lens| lens.name.clone()));
                for lens in lenses {
                    let lenses = vec![LensWish::Named(lens)];
                    let asked = Proposal { lenses: lenses.clone(), ..asked.clone() };
                    let Some(first) = self.had(ground, &asked, &[], 0) else { continue };
                    let asked = Proposal {
                        sizes: vec![*size],
                        heights: vec![*of_reverse],
                        lenses,
                        bearings: mirrored(one, &first, reverse),
                        ..reverse.clone()
                    };
                    let Some(second) = self.had(ground, &asked, &[&first.view], 1) else { continue };
                    if first.cost < NO_CUT && second.cost < NO_CUT {
                        let is_the_same_again = first.is_the_same_again || second.is_the_same_again;
                        let both = Some([first, second]);
                        if !is_the_same_again {
                            found = both;
                            break 'sizes;
                        }
                        same_again = same_again.or(both);
                    }
                }
            }
        }
        if let Some([first, second]) = found.or(same_again) {
            let role = one.role;
            self.picked.push(Picked { had: first, role, beat_at, is_reverse: false });
            self.picked.push(Picked { had: second, role, beat_at, is_reverse: true });
            return;
        }
        // Unmatched, each for itself: better than neither, once matched ones are not to be had.
        if pass != Pass::Strict {
            for proposal in [one, reverse] {
                let found = self.had(ground, proposal, &[], 0);
                self.take(found, proposal.role, beat_at, pass);
            }
        }
    }

    /// The proposal as the reverse of what is picked already, if that is there.
    fn matched(&self, proposal: &Proposal) -> Option<Proposal> {
        let partner = self.picked.iter().rev().find(|one| {
            one.role == proposal.role && matches!(one.role, Role::Shoulder | Role::Single | Role::Tight) && {
                match (&one.had.shot.of, &proposal.of) {
                    (
                        ShotOf::OverShoulder { facing, near },
                        ShotOf::OverShoulder { facing: other, near: other_near },
                    ) => facing == other_near && near == other,
                    (ShotOf::One(who), ShotOf::One(other)) => who != other,
                    (_, _) => false,
                }
            }
        })?;
        let shot = &partner.had.shot;
        let lenses = match &shot.lens {
            LensChoice::Fixed { name, .. } => vec![LensWish::Named(name.clone())],
            LensChoice::Auto => vec![LensWish::Auto],
        };
        // One in metres is for the other's shoulder alone.
        let heights = if matches!(shot.height, PhoneHeight::Fixed(_)) {
            proposal.heights.clone()
        } else {
            vec![shot.height]
        };
        Some(Proposal { sizes: vec![shot.size], heights, lenses, ..proposal.clone() })
    }
}

/// The directions of a reverse, first the one that is turned from its preferred one as the other shot is, the other way.
fn mirrored(one: &Proposal, first: &Had, reverse: &Proposal) -> Vec<Angle> {
    let mut bearings = reverse.bearings.clone();
    if let ([preferred, _, ..], Some(of_reverse)) = (one.bearings.as_slice(), bearings.first().copied()) {
        bearings.insert(0, whole_degrees(of_reverse - (first.shot.side - *preferred)));
    }
    bearings
}

/// The lens that a shot is made on.
fn lens_of(ground: &Ground<'_>, had: &Had) -> Option<String> {
    let rehearsal = had.view.rehearsal.as_ref().as_ref().ok()?;
    rehearsal.lens(ground.film).map(|lens| lens.name.clone())
}
