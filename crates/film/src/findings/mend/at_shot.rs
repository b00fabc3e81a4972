//! Candidates for what is found on a shot by itself, and on a scene as a whole.

use std::collections::BTreeSet;

use language::{Number, say, text};
use staging::{Foreground, Look, Movement, PhoneHeight, PieceKind, ShotSize, Stand, azimuth};
use units::{Angle, Length};

use super::{Candidate, Change, Group, Other, Task, either_way, from_side, side_of};
use crate::cut_view::{EntryView, ScreenDirection};
use crate::findings::TakeFinding;
use crate::findings::cut::{CutFinding, ShoulderPlace, heights_past_shoulder};
use crate::id::{PersonId, ShotId};
use crate::rehearsal::NoRehearsal;
use crate::shot::{LensChoice, RECORDER_AWAY, Shot, Sound};

/// Where a plant is put near the lens: chosen because it then covers an edge of the frame and no face.
const PLANT_AHEAD: Length = Length::from_m(0.8);
const PLANT_RIGHT: Length = Length::from_m(0.35);
/// How far a phone is taken round to look another way: five degrees more than the rule asks, so that a step to the side
/// does not undo it; else farther.
const ROUND: [Angle; 3] = [Angle::from_deg(35.0), Angle::from_deg(60.0), Angle::from_deg(90.0)];
/// How far off the near one's back a phone is put to look past a shoulder, degrees: chosen, as the shoulder is at an edge of
/// the frame somewhere between for people who talk.
const OFF_THE_BACK_DEG: [f64; 9] = [12.0, 10.0, 8.0, 14.0, 6.0, 17.0, 20.0, 24.0, 30.0];
/// Where across the frame a walker who goes to the right gets more room ahead: chosen, as they are then well within it at
/// first.
const ROOM_AHEAD: f64 = 0.2;
/// A shot is not made shorter than this, seconds: chosen, as less is hardly seen.
const SHORTEST_S: f64 = 0.5;
/// How much nearer than what is in its way a phone is put: chosen, as it and whoever holds it need so much room.
const NEARER: [Length; 3] = [Length::from_m(0.4), Length::from_m(0.8), Length::from_m(1.2)];
/// ...and how near to them at the least: chosen, as a phone at somebody's face is in their way.
const NEAREST: Length = Length::from_m(0.3);
/// So many shots of a scene are tried: chosen because a scene has no more, and more would only be slow.
const MOST_TRIED: usize = 8;

/// The other sizes of people: those on that side of one, the nearest first.
pub(super) fn sizes(from: ShotSize, tighter: bool) -> Vec<ShotSize> {
    if tighter {
        ShotSize::OF_PEOPLE.into_iter().filter(|size| *size > from).collect()
    } else {
        ShotSize::OF_PEOPLE.into_iter().filter(|size| *size < from).rev().collect()
    }
}

/// The shot in another size, and as far away as that needs.
pub(super) fn sized(shot: &Shot, size: ShotSize) -> Shot {
    Shot { size, headroom: None, stand: Stand::ForSize, ..shot.clone() }
}

impl Task<'_> {
    pub(super) fn at_shot(&self, shot: ShotId) -> Vec<Group> {
        let Some(shot) = self.scene.shot(shot) else { return Vec::new() };
        let change = |shot: Shot, does: &str| vec![self.in_place(shot, does)];
        match self.finding {
            CutFinding::VoiceFar { .. } => vec![
                change(
                    Shot { recorder_away: Some(RECORDER_AWAY), ..Shot::clone(shot) },
                    &say!("a recorder {} from whoever speaks", Number(RECORDER_AWAY)),
                ),
                change(
                    Shot { sound: Sound::WildTrack, ..Shot::clone(shot) },
                    say!("record the words apart, as a wild track"),
                ),
            ],
            CutFinding::ShoulderAmiss { near, place } => match place {
                ShoulderPlace::Above | ShoulderPlace::Below => vec![self.higher_or_lower(shot, *near)],
                ShoulderPlace::Outside | ShoulderPlace::BeforeTheFace => {
                    vec![self.past_shoulder(shot, *near)]
                }
            },
            CutFinding::OneUnseen { .. } => self.of_both(shot),
            CutFinding::SubjectHidden { before, .. } => self.elsewhere(shot, Some(*before)),
            CutFinding::PhoneStandsIn { .. } => self.elsewhere(shot, None),
            CutFinding::RateTakesLight { .. } => {
                vec![change(
                    Shot { capture_rate: None, ..Shot::clone(shot) },
                    say!("the film's own frame rate"),
                )]
            }
            CutFinding::PlannedShort { needs_s, .. } => {
                let planned_s = *needs_s;
                let longer = Shot { planned_s, ..Shot::clone(shot) };
                vec![change(longer, &say!("it is planned {planned_s:.1} s long"))]
            }
            CutFinding::NotRehearsed(NoRehearsal::LensGone) => vec![self.other_lenses(shot)],
            CutFinding::NotRehearsed(NoRehearsal::AdapterGone) => vec![self.bare(shot)],
            CutFinding::NotToBeHad(_) => self.to_be_had(shot),
            CutFinding::LeavesFrame { walks: true, leaves_s, .. } => self.to_be_held(shot, *leaves_s),
            CutFinding::LeavesFrame { walks: false, leaves_s, .. } => {
                vec![self.shorter(shot, *leaves_s), vec![self.stays(shot)]]
            }
            CutFinding::PhoneGoesThrough { at_s, .. } => {
                vec![self.shorter(shot, *at_s), vec![self.stays(shot)]]
            }
            CutFinding::OfTake(finding) => vec![self.to_be_taken(shot, finding)],
            CutFinding::NotRehearsed(NoRehearsal::EmptyKit | NoRehearsal::NotInScene(_))
            | CutFinding::WalksThrough { .. }
            | CutFinding::JumpCut { .. }
            | CutFinding::LineCrossed { .. }
            | CutFinding::DirectionTurns { .. }
            | CutFinding::ReversesDiffer { .. }
            | CutFinding::LooksAlike { .. }
            | CutFinding::ShownBriefly { .. }
            | CutFinding::FewShots { .. }
            | CutFinding::ManyShots { .. }
            | CutFinding::OneSize { .. }
            | CutFinding::OneDirection { .. }
            | CutFinding::NoForeground { .. }
            | CutFinding::ActionUnsaid { .. } => Vec::new(),
        }
    }

    /// From other places about the near one's back, on the side on which the phone is first.
    fn past_shoulder(&self, shot: &Shot, near: PersonId) -> Group {
        let place =
            |who| Some(self.scene.blocking.person_of(&self.film.cast, who, self.starts_s(shot))?.place);
        let Some((from, to)) = shot.of.subject().and_then(place).zip(place(near)) else { return Vec::new() };
        let behind = azimuth(to - from);
        let off = (shot.side - behind).to_deg().rem_euclid(360.0);
        let first = if off <= 180.0 { 1.0 } else { -1.0 };
        let offs = [first, -first].into_iter().flat_map(|way| OFF_THE_BACK_DEG.map(|degrees| way * degrees));
        let place = |degrees: f64| {
            let turned = from_side(shot, behind + Angle::from_deg(degrees));
            self.in_place(turned, say!("from where the shoulder is at the edge of the frame"))
        };
        offs.map(place).collect()
    }

    /// From as far as holds both in the size as it is, from farther round, and wider.
    fn of_both(&self, shot: &Shot) -> Vec<Group> {
        let far = self.in_place(sized(shot, shot.size), say!("from as far away as holds both"));
        let round = |by: Angle| {
            either_way(shot.side, by).map(|side| {
                self.in_place(from_side(shot, side), say!("from where both are seen beside each other"))
            })
        };
        vec![vec![far], ROUND.into_iter().flat_map(round).collect(), self.wider(shot)]
    }

    /// From farther round, from the other side, and from nearer than what stands so far before them, or where the phone is.
    fn elsewhere(&self, shot: &Shot, before: Option<Length>) -> Vec<Group> {
        let Some(view) = self.views.iter().find(|view| view.shot.id == shot.id) else { return Vec::new() };
        let round = further_round(view, ROUND).into_iter().map(|(shot, does)| self.in_place(shot, &does));
        let other = from_side(shot, side_of(view) + Angle::from_deg(180.0));
        let setup = view.rehearsal.as_ref().as_ref().ok().and_then(|one| one.result().outcome.as_ref().ok());
        let phone = setup.map(|setup| setup.distance);
        let nearer = |away: Length| {
            let stand = Stand::At(away);
            self.in_place(Shot { stand, ..shot.clone() }, &say!("from {} away", Number(away)))
        };
        let places = before.or(phone).into_iter().flat_map(|there| NEARER.map(|by| tenths(there - by)));
        let nearer = places.filter(|away| *away >= NEAREST).map(nearer);
        vec![round.collect(), vec![self.in_place(other, say!("from the other side"))], nearer.collect()]
    }

    /// In the wider sizes, the nearest first.
    fn wider(&self, shot: &Shot) -> Group {
        let wider = sizes(shot.size, false).into_iter();
        wider.map(|size| self.in_place(sized(shot, size), &instead(size, shot.size))).collect()
    }

    /// From the heights at which a phone looks past the near one's shoulder.
    fn higher_or_lower(&self, shot: &Shot, near: PersonId) -> Group {
        let body = |who| Some(self.scene.blocking.person_of(&self.film.cast, who, self.starts_s(shot))?.body);
        let Some((face, other)) = shot.of.subject().and_then(body).zip(body(near)) else { return Vec::new() };
        let held = |height: PhoneHeight| {
            self.in_place(Shot { height, ..shot.clone() }, say!("as high as shows the shoulder"))
        };
        heights_past_shoulder(&face, &other).into_iter().map(held).collect()
    }

    /// Ways of keeping a walker in the frame: along with them, with more room ahead of them, wider, or for as long as they
    /// are in it.
    fn to_be_held(&self, shot: &Shot, leaves_s: f64) -> Vec<Group> {
        let view = self.views.iter().find(|view| view.shot.id == shot.id);
        let walks =
            view.and_then(|view| Some(view.rehearsal.as_ref().as_ref().ok()?.subject?.person.velocity));
        let per_second = Length::from_m(walks.map_or(0.0, glam::DVec2::length));
        let mut groups = Vec::new();
        if per_second > Length::ZERO {
            let along = Shot { movement: Some(Movement::Follow { per_second }), ..shot.clone() };
            groups.push(vec![self.in_place(along, say!("the phone goes along with them"))]);
        }
        let ahead = view.and_then(|view| view.goes[0]).and_then(|goes| match goes {
            ScreenDirection::Right => Some(ROOM_AHEAD),
            ScreenDirection::Left => Some(1.0 - ROOM_AHEAD),
            ScreenDirection::Neutral => None,
        });
        groups.extend(ahead.map(|across| {
            let room = Shot { across, ..shot.clone() };
            vec![self.in_place(room, say!("more room ahead of them in the frame"))]
        }));
        groups.extend([self.wider(shot), self.shorter(shot, leaves_s)]);
        groups
    }

    /// The shot only up to that second of it.
    fn shorter(&self, shot: &Shot, until_s: f64) -> Group {
        let planned_s = libm::floor(until_s * 10.0) / 10.0;
        let ends = || {
            let shorter = Shot { planned_s, ..shot.clone() };
            self.in_place(shorter, &say!("it ends after {planned_s:.1} s"))
        };
        (planned_s >= SHORTEST_S).then(ends).into_iter().collect()
    }

    /// The shot from where it starts.
    fn stays(&self, shot: &Shot) -> Candidate {
        let still = Shot { movement: None, pull: None, ..shot.clone() };
        self.in_place(still, say!("the phone and its focus stay"))
    }

    /// How a take that will not do could be taken.
    fn to_be_taken(&self, shot: &Shot, finding: &TakeFinding) -> Group {
        let beside =
            |side: Angle| self.in_place(from_side(shot, side), say!("the phone goes along beside them"));
        match (finding, shot.movement) {
            (TakeFinding::TurnTooFast { fastest, .. }, Some(movement)) => {
                let at = |per_second: Angle| if per_second < Angle::ZERO { -*fastest } else { *fastest };
                let movement = match movement {
                    Movement::Pan { per_second } => Movement::Pan { per_second: at(per_second) },
                    Movement::Tilt { per_second } => Movement::Tilt { per_second: at(per_second) },
                    Movement::Push { .. } | Movement::Follow { .. } => movement,
                };
                let slower = Shot { movement: Some(movement), ..shot.clone() };
                vec![self.in_place(slower, say!("turn as slowly as can be looked at")), self.stays(shot)]
            }
            (TakeFinding::WalksBackwards { .. }, _) => {
                either_way(shot.side, Angle::from_deg(90.0)).map(beside).into()
            }
            (_, _) => vec![self.stays(shot)],
        }
    }

    fn starts_s(&self, shot: &Shot) -> f64 {
        self.scene.blocking.starts_s(shot.beat)
    }

    fn bare(&self, shot: &Shot) -> Group {
        vec![self.in_place(Shot { adapter: None, ..shot.clone() }, say!("without the adapter"))]
    }

    fn other_lenses(&self, shot: &Shot) -> Group {
        let auto = (LensChoice::Auto, say!("the lens that serves it best").to_owned());
        let fixed = self.film.kit.lenses.iter().map(|lens| {
            let name = lens.name.clone();
            (LensChoice::Fixed { name, in_sensor_zoom: 1.0 }, say!("on the {} lens", lens.name))
        });
        let choices = std::iter::once(auto).chain(fixed);
        choices.map(|(lens, does)| self.in_place(Shot { lens, ..shot.clone() }, &does)).collect()
    }

    fn to_be_had(&self, shot: &Shot) -> Vec<Group> {
        let with = |shot: Shot, does: &str| self.in_place(shot, does);
        let (size_height, aimed) = (PhoneHeight::BySize, Look::Aimed);
        let free = Shot { height: size_height, look: aimed, stand: Stand::ForSize, ..shot.clone() };
        let mut groups = vec![
            self.other_lenses(shot),
            vec![
                with(Shot { look: aimed, ..shot.clone() }, say!("let the phone aim for the framing")),
                with(Shot { stand: Stand::ForSize, ..shot.clone() }, say!("stand where the size asks")),
                with(
                    Shot { height: size_height, ..shot.clone() },
                    say!("the height that goes with the size"),
                ),
                with(free, say!("the height, place and aim that go with the size")),
            ],
        ];
        if shot.adapter.is_some() {
            groups.push(self.bare(shot));
        }
        let other_size = |tighter: bool| -> Group {
            let sizes = sizes(shot.size, tighter).into_iter();
            sizes.map(|size| with(sized(shot, size), &instead(size, shot.size))).collect()
        };
        groups.extend([other_size(false), other_size(true)]);
        groups
    }

    pub(super) fn at_scene(&self) -> Vec<Group> {
        let shots = self.varied();
        match self.finding {
            CutFinding::OneSize { .. } => [true, false]
                .into_iter()
                .map(|tighter| {
                    let other = |view: &&EntryView| -> Group {
                        let shot = &view.shot;
                        let sizes = sizes(shot.size, tighter).into_iter();
                        sizes
                            .map(|size| self.in_place(sized(shot, size), &instead(size, shot.size)))
                            .collect()
                    };
                    shots.iter().flat_map(other).collect()
                })
                .collect(),
            CutFinding::OneDirection { .. } => {
                let other = |view: &&EntryView| -> Group {
                    let round = further_round(view, ROUND).into_iter();
                    round.map(|(shot, does)| self.in_place(shot, &does)).collect()
                };
                vec![shots.iter().flat_map(other).collect()]
            }
            CutFinding::NoForeground { .. } => {
                let plant = |view: &&EntryView| {
                    [-PLANT_RIGHT, PLANT_RIGHT].map(|right| {
                        let plant = Foreground { kind: PieceKind::Plant, ahead: PLANT_AHEAD, right };
                        let with = Shot { foreground: Some(plant), ..Shot::clone(&view.shot) };
                        self.in_place(with, say!("a plant near the lens"))
                    })
                };
                vec![shots.iter().flat_map(plant).collect()]
            }
            CutFinding::FewShots { .. } => self.one_more(),
            CutFinding::ManyShots { .. }
            | CutFinding::ActionUnsaid { .. }
            | CutFinding::JumpCut { .. }
            | CutFinding::LineCrossed { .. }
            | CutFinding::DirectionTurns { .. }
            | CutFinding::ReversesDiffer { .. }
            | CutFinding::LooksAlike { .. }
            | CutFinding::VoiceFar { .. }
            | CutFinding::ShoulderAmiss { .. }
            | CutFinding::OneUnseen { .. }
            | CutFinding::SubjectHidden { .. }
            | CutFinding::PhoneStandsIn { .. }
            | CutFinding::LeavesFrame { .. }
            | CutFinding::WalksThrough { .. }
            | CutFinding::PhoneGoesThrough { .. }
            | CutFinding::NotRehearsed(_)
            | CutFinding::NotToBeHad(_)
            | CutFinding::OfTake(_)
            | CutFinding::RateTakesLight { .. }
            | CutFinding::PlannedShort { .. }
            | CutFinding::ShownBriefly { .. } => Vec::new(),
        }
    }

    /// The first shots of the cut that are no inserts, each once, as they are first seen.
    fn varied(&self) -> Vec<&EntryView> {
        let mut used = BTreeSet::new();
        let views = self.views.iter().filter(|view| !view.is_insert() && used.insert(view.shot.id));
        views.take(MOST_TRIED).collect()
    }

    /// One more shot at the end of the cut, of whom the last is of: tighter, or wider, and from elsewhere.
    fn one_more(&self) -> Vec<Group> {
        let Some(last) = self.views.last() else { return Vec::new() };
        let other = |tighter: bool| -> Group {
            let sizes = sizes(last.shot.size, tighter).into_iter();
            let each = sizes.flat_map(|size| {
                further_round(last, ROUND).into_iter().map(move |(turned, does)| {
                    let shot = Shot { action: String::new(), ..sized(&turned, size) }.known_by(self.new_shot);
                    Candidate {
                        words: say!("one more shot at the end: {}, {}", text(size.name()), does),
                        change: Change::Added { after: last.entry, entry: self.new_entry, shot },
                    }
                })
            });
            each.collect()
        };
        vec![other(true), other(false)]
    }
}

/// A view's shot from so far round on either side of where its phone is, as seen on the floor plan.
pub(super) fn further_round(view: &EntryView, round: [Angle; 3]) -> Vec<Other> {
    let each = round.into_iter().flat_map(|off| {
        let degrees = off.to_deg();
        let does = [
            say!("from {degrees:.0}° further round, clockwise"),
            say!("from {:.0}° further round, anticlockwise", off.to_deg()),
        ];
        either_way(side_of(view), off).into_iter().zip(does)
    });
    each.map(|(side, does)| (from_side(&view.shot, side), does)).collect()
}

/// As people pace out a place.
fn tenths(length: Length) -> Length {
    Length::from_m(libm::floor(length.to_m() * 10.0) / 10.0)
}

/// One size in place of another.
pub(super) fn instead(size: ShotSize, of: ShotSize) -> String {
    say!("{} instead of {}", text(size.name()), text(of.name()))
}

#[cfg(test)]
mod tests;
