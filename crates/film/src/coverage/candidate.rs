//! What of a proposal the phone can have: every way of making it is tried, the preferred ones first.

use std::collections::BTreeSet;
use std::sync::Arc;

use glam::DVec2;
use staging::{Movement, ShotSize, along, azimuth};
use units::{Angle, Length};

use super::CoverageWish;
use super::cutting::{differ, is_on_side};
use super::free_floor::{has_room, in_the_way, sees};
use super::ground::Ground;
use super::proposal::{LensWish, MoveWish, Proposal};
use super::ways::{Way, across, seconds, ways, widest};
use crate::cut_view::{EntryView, SeenAt, times_apart};
use crate::findings::{Severity, check_take, one_unseen, phone_from_voices, shoulder_amiss, subject_unseen};
use crate::id::{EntryId, PersonId, ShotId};
use crate::rehearsal::{NoRehearsal, Rehearsal};
use crate::scene::{Entry, Setting};
use crate::scene_blocking::apart;
use crate::shot::{LensChoice, RECORDER_AWAY, Shot, ShotOf, Sound};

/// A shot that the phone can have.
#[derive(Debug, Clone)]
pub(super) struct Had {
    pub(super) shot: Shot,
    pub(super) view: EntryView,
    /// How long one entry of it is, seconds.
    pub(super) seconds: f64,
    /// How far it is from what was preferred; [`NO_CUT`] and more does not follow what is before it.
    pub(super) cost: u32,
    /// Whether all of the scene so far would be seen from one direction, or in one size.
    pub(super) is_the_same_again: bool,
}

/// What a search looks among.
pub(super) struct Search<'a> {
    pub(super) ground: &'a Ground<'a>,
    pub(super) wish: &'a CoverageWish,
    pub(super) id: ShotId,
    /// Whether a view cuts with its neighbours.
    pub(super) cuts: &'a dyn Fn(&EntryView) -> bool,
    /// What is drafted already.
    pub(super) others: &'a [&'a EntryView],
}

/// What a shot costs that does not cut with its neighbours: more than anything else.
pub(super) const NO_CUT: u32 = 10_000;
/// What it costs that a view is like another of the same person which is not its neighbour.
const ALIKE: u32 = 200;
/// What it costs that the phone stands in a piece or behind one, or that somebody is in the way.
const NOT_FREE: u32 = 150;
/// What it costs that all of a scene is seen alike so far.
const SAME: u32 = 70;
/// ...once so many shots are: two may look the same way.
const SAME_AFTER: usize = 2;
/// Views within this look the same way: 30 degrees, as between neighbours of a cut, and a little more.
const ONE_WAY: Angle = Angle::from_deg(31.0);
/// Figures within this of each other are of one size: 1.3 times, common practice that sizes vary, and a little more.
const ONE_SIZE: f64 = 1.35;
/// What it costs that somebody leaves past the phone.
const PAST_THE_PHONE: u32 = 80;
/// What it costs that a walker is missed: gone for most of the time, or while they turn.
const MISSED: u32 = 160;
/// What it costs that a walker leaves the frame so soon that the shot is over at once.
const OVER_AT_ONCE: u32 = 60;
/// A shot that ends sooner because somebody walks out of it is over at once, seconds: as long as the shortest that is
/// planned.
const SHORTEST_PLANNED_S: f64 = 1.5;
/// No shot is planned shorter for it, seconds: chosen, as less is hardly seen.
const SHORTEST_LEFT_S: f64 = 0.5;
/// Phones whose directions differ by less stand in one place: chosen, as nobody stands to the degree.
const ONE_DIRECTION: Angle = Angle::from_deg(6.0);
/// A figure that grows by more in one entry passes the phone: chosen.
const MOST_GROWTH: f64 = 4.0;
/// A phone farther from whoever speaks hears the room, metres: 1.5, common practice, and a little less, as they lean.
const HEARS_WITHIN_M: f64 = 1.4;
/// The shortest entry in which somebody is gone along with, seconds: chosen because a shorter one does not tell it.
const SHORTEST_FOLLOW_S: f64 = 1.5;
/// The longest pan with a walker, seconds: chosen because they leave a steady turn behind sooner or later.
const LONGEST_PAN_S: f64 = 3.0;

/// Whether whoever speaks in a shot gets too far from the phone, so that a recorder lies near them.
pub(super) fn is_too_far_to_hear(ground: &Ground<'_>, shot: &Shot, rehearsal: &Rehearsal) -> bool {
    let away = || phone_from_voices(ground.film, ground.scene, shot, rehearsal);
    shot.sound == Sound::Dialogue && away().is_some_and(|away| away.to_m() > HEARS_WITHIN_M)
}

impl Search<'_> {
    /// The best way of having a proposal, if there is one.
    pub(super) fn best(&self, proposal: &Proposal) -> Option<Had> {
        self.best_but(proposal, None)
    }

    /// The best way of having a proposal that is not `there` already.
    pub(super) fn best_but(&self, proposal: &Proposal, there: Option<&Shot>) -> Option<Had> {
        let mut best: Option<Had> = None;
        // Whether somebody alone or a thing fits the room does not depend on the direction.
        let mut never: BTreeSet<(ShotSize, u32, u32)> = BTreeSet::new();
        let turns_alike = matches!(proposal.of, ShotOf::One(_) | ShotOf::Object { .. });
        for way in ways(proposal) {
            if best.as_ref().is_some_and(|best| best.cost <= way.cost) {
                break;
            }
            let same = (way.size, way.lens.0, way.height.0);
            if turns_alike && never.contains(&same) {
                continue;
            }
            let Some(shot) = self.shot(proposal, &way) else { continue };
            if there.is_some_and(|there| is_the_same(there, &shot)) {
                continue;
            }
            let tried = self.tried(shot, &way);
            match tried {
                Tried::Had(had) => {
                    if best.as_ref().is_none_or(|best| had.cost < best.cost) {
                        best = Some(*had);
                    }
                }
                Tried::CannotBeHad => {
                    never.insert(same);
                }
                Tried::NotHere => {}
            }
        }
        best
    }

    fn shot(&self, proposal: &Proposal, way: &Way<'_>) -> Option<Shot> {
        let ground = self.ground;
        let lens = match way.lens.1 {
            LensWish::Auto => LensChoice::Auto,
            LensWish::Widest => LensChoice::Fixed { name: widest(ground)?, in_sensor_zoom: 1.0 },
            LensWish::Named(name) => LensChoice::Fixed { name: name.clone(), in_sensor_zoom: 1.0 },
        };
        let room = ground.scene.facts.room;
        let behind = match ground.scene.facts.setting {
            Setting::Inside => room.unwrap_or(Length::from_m(2.5)),
            Setting::Outside => Length::from_m(6.0),
        };
        Some(Shot {
            beat: ground.beat_id(),
            height: way.height.1,
            across: across(ground, &proposal.of, way.bearing),
            stand: proposal.stand,
            background_behind: behind,
            lens,
            action: proposal.action.clone(),
            sound: proposal.sound,
            planned_s: seconds(self.wish, &proposal.of, way.size),
            priority: proposal.priority,
            ..Shot::of(self.id, proposal.of.clone(), way.size, way.bearing)
        })
    }

    fn tried(&self, mut shot: Shot, way: &Way<'_>) -> Tried {
        let Some(mut rehearsal) = self.rehearse(&shot) else { return Tried::CannotBeHad };
        if let ShotOf::PointOfView { .. } = shot.of {
            // Where the owner stands fixes the size: the one whose figure is as high is what it is called by.
            shot.size = self.size_as_seen(&shot, &rehearsal).unwrap_or(shot.size);
            let Some(renamed) = self.rehearse(&shot) else { return Tried::CannotBeHad };
            rehearsal = renamed;
        }
        let Ground { film, scene, .. } = self.ground;
        if !self.moves(&mut shot, &mut rehearsal, way.moves)
            || shoulder_amiss(film, scene, &shot, &rehearsal).is_some()
            || one_unseen(film, scene, &shot, &rehearsal).is_some()
            || subject_unseen(film, scene, &shot, &rehearsal).is_some()
        {
            return Tried::NotHere;
        }
        if is_too_far_to_hear(self.ground, &shot, &rehearsal) {
            shot.recorder_away = Some(RECORDER_AWAY);
        }
        let Some(mut view) = self.view(&shot, Arc::new(Ok(rehearsal))) else { return Tried::CannotBeHad };
        if let Some(leaves_s) = view.leaves_s() {
            // Whoever walks out of the frame ends the shot.
            shot.planned_s = (libm::floor(leaves_s * 10.0) / 10.0).max(SHORTEST_LEFT_S);
            let same = Arc::clone(&view.rehearsal);
            view = self.view(&shot, same).unwrap_or(view);
        }
        let seconds = shot.planned_s;
        if self.others.iter().any(|other| is_the_same(&other.shot, &shot)) {
            return Tried::NotHere;
        }
        if !is_on_side(self.ground, &view) || view.seen.is_none() {
            return Tried::NotHere;
        }
        let sameness = self.sameness(&view);
        let cost = way.cost + sameness + self.cost_of(&view);
        Tried::Had(Box::new(Had { shot, view, seconds, cost, is_the_same_again: sameness > 0 }))
    }

    fn rehearse(&self, shot: &Shot) -> Option<Rehearsal> {
        let rehearsal = Rehearsal::of(self.ground.film, self.ground.scene, shot).ok()?;
        rehearsal.result().will_do().then_some(rehearsal)
    }

    /// What one entry of a shot shows.
    fn view(&self, shot: &Shot, rehearsal: Arc<Result<Rehearsal, NoRehearsal>>) -> Option<EntryView> {
        let Ground { film, scene, line, .. } = self.ground;
        // Views of a draft are told apart by their shots; entries get their ids in the end.
        let entry = Entry::whole(EntryId::new(shot.id.number())?, shot.id);
        Some(EntryView::of(film, scene, &entry, &Arc::new(shot.clone()), rehearsal, *line))
    }

    /// Sets the phone moving, if that can be looked at and focused; says if not.
    fn moves(&self, shot: &mut Shot, rehearsal: &mut Rehearsal, wish: MoveWish) -> bool {
        let Ok(setup) = &rehearsal.result().outcome else { return false };
        let distance = setup.distance;
        match wish {
            MoveWish::Still => return true,
            MoveWish::Push(share) => {
                shot.movement = Some(Movement::Push { per_second: distance * share });
            }
            MoveWish::Follow { per_second_m, straight_s } => {
                if straight_s < SHORTEST_FOLLOW_S {
                    return false;
                }
                shot.planned_s = shot.planned_s.min(straight_s);
                shot.movement = Some(Movement::Follow { per_second: Length::from_m(per_second_m) });
            }
            MoveWish::Pan { per_second_m } => {
                let Some(subject) = &rehearsal.subject else { return false };
                let ahead = -along(shot.side);
                let across_m = -ahead.perp_dot(subject.person.velocity);
                shot.planned_s = shot.planned_s.min(LONGEST_PAN_S);
                // Steady, so that the walker is in the middle of the frame at the end again.
                let turn = Angle::from_components(per_second_m * shot.planned_s, distance.to_m());
                let per_second = turn / shot.planned_s * if across_m < 0.0 { -1.0 } else { 1.0 };
                shot.movement = Some(Movement::Pan { per_second });
            }
        }
        rehearsal.take = shot.take();
        let findings = check_take(rehearsal.result(), &rehearsal.taking(self.ground.film, shot));
        // Walking backwards is a caution that belongs to the shot; what cannot be looked at is not proposed.
        findings
            .iter()
            .all(|finding| finding.severity() != Severity::Fails && finding.rule() != "pan_too_fast")
    }

    /// What is not as it should be with a view.
    fn cost_of(&self, view: &EntryView) -> u32 {
        let Some([start, end]) = &view.seen else { return NO_CUT };
        let mut cost = 0;
        if !(self.cuts)(view) {
            cost += NO_CUT;
        }
        let alike = |other: &&&EntryView| match &other.seen {
            Some([seen, _]) if other.is_insert() == view.is_insert() && is_of_same(other, view) => {
                !differ(seen, start)
            }
            Some(_) | None => false,
        };
        if self.others.iter().any(|other| alike(&other)) {
            cost += ALIKE;
        }
        let grows = match (start.figure_share, end.figure_share) {
            (Some(start), Some(end)) => end / start > MOST_GROWTH,
            (start, end) => start.is_some() != end.is_some(),
        };
        if grows {
            cost += PAST_THE_PHONE;
        }
        if view.misses_subject() {
            cost += MISSED;
        }
        if view.shot.planned_s < SHORTEST_PLANNED_S {
            cost += OVER_AT_ONCE;
        }
        let own: Vec<PersonId> = view.shot.of.people().collect();
        let phone = start.camera.position().truncate();
        let subject = self.subject_place(view);
        let pieces = &self.ground.scene.blocking.pieces;
        cost += NOT_FREE * in_the_way(self.ground, &own, phone, subject);
        if !has_room(pieces, phone) {
            cost += NOT_FREE;
        }
        if !sees(pieces, phone, subject) {
            cost += NOT_FREE;
        }
        cost
    }

    /// What it costs that a scene would still be seen from one direction only, or in one size.
    fn sameness(&self, view: &EntryView) -> u32 {
        let Some([start, _]) = &view.seen else { return 0 };
        let others: Vec<&SeenAt> = self
            .others
            .iter()
            .filter(|other| !other.is_insert())
            .filter_map(|other| other.seen.as_ref()?.first())
            .collect();
        if view.is_insert() || others.len() < SAME_AFTER {
            return 0;
        }
        let way = |seen: &SeenAt| azimuth(seen.from_subject.truncate());
        let one_way = others.iter().all(|other| apart(way(other), way(start)) < ONE_WAY);
        let times = |other: &SeenAt| Some(times_apart(other.figure_share?, start.figure_share?));
        let one_size = others.iter().all(|other| times(other).is_some_and(|times| times < ONE_SIZE));
        SAME * (u32::from(one_way) + u32::from(one_size))
    }

    fn subject_place(&self, view: &EntryView) -> DVec2 {
        match (&view.shot.of, view.rehearsal.as_ref()) {
            (ShotOf::Object { place, .. }, _) => *place,
            (_, Ok(rehearsal)) => rehearsal.origin,
            (_, Err(_)) => self.ground.middle(),
        }
    }

    fn size_as_seen(&self, shot: &Shot, rehearsal: &Rehearsal) -> Option<ShotSize> {
        let view = self.view(shot, Arc::new(Ok(rehearsal.clone())))?;
        let share = view.seen.as_ref()?.first()?.figure_share?;
        let body = self.ground.person(shot.of.subject()?)?.body;
        let off = |size: &ShotSize| {
            let rule = size.rule()?;
            let held_m = (body.height_of(rule.top) - body.height_of(rule.cut)).to_m();
            let usual = body.stature.to_m() / held_m * (1.0 - rule.above - rule.below);
            Some((*size, libm::fabs(libm::log(share / usual))))
        };
        let nearest = ShotSize::ALL.iter().filter_map(off).min_by(|one, other| one.1.total_cmp(&other.1));
        nearest.map(|(size, _)| size)
    }
}

enum Tried {
    Had(Box<Had>),
    /// Beyond the line, with a move that does not serve, with a shoulder or somebody not seen, or there already.
    NotHere,
    CannotBeHad,
}

/// Whether two shots would be one setup.
pub(super) fn is_the_same(one: &Shot, other: &Shot) -> bool {
    one.of == other.of
        && one.size == other.size
        && one.height == other.height
        && one.beat == other.beat
        && apart(one.side, other.side) < ONE_DIRECTION
}

/// Whether two views are of the same person, or of the same thing in the same place.
fn is_of_same(one: &EntryView, other: &EntryView) -> bool {
    match (&one.shot.of, &other.shot.of) {
        (ShotOf::Object { place, size, .. }, ShotOf::Object { place: there, size: as_large, .. }) => {
            place.distance(*there) < 0.1 && size == as_large
        }
        (ShotOf::Object { .. }, _) | (_, ShotOf::Object { .. }) => false,
        (_, _) => one.subject == other.subject,
    }
}
