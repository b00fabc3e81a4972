//! Candidates for what is found at a cut.

use language::{say, text};
use staging::{Look, PhoneHeight, ShotSize, Stand, azimuth};
use units::{Angle, Length};

use super::at_shot::{further_round, instead, sized, sizes};
use super::{Candidate, Change, Group, Other, Task, either_way, from_side, mirrored_to, side_of};
use crate::cut_view::{EntryView, SeenAt};
use crate::findings::cut::CutFinding;
use crate::id::{EntryId, PersonId};
use crate::kit::Kit;
use crate::scene_blocking::Line;
use crate::shot::{LensChoice, Shot, ShotOf};

/// How far a phone is taken round on a jump cut: five degrees more than the rule asks, so that a step to the side does not
/// undo it; else farther.
const ROUND: [Angle; 3] = [Angle::from_deg(35.0), Angle::from_deg(50.0), Angle::from_deg(65.0)];
/// How far beside its mirrored place a phone may stand as well: chosen as steps of half the jump cut's turn and more, for
/// where the mirrored place makes another jump.
const BESIDE: [Angle; 4] =
    [Angle::from_deg(15.0), Angle::from_deg(35.0), Angle::from_deg(50.0), Angle::from_deg(65.0)];
/// How long a shot that is cut in between is, seconds: chosen because a hand is seen in that time.
const BETWEEN_S: f64 = 2.0;
/// How high a phone is for somebody's hands: chosen as just above a table, where an insert of a person is framed.
const HANDS: Length = Length::from_m(0.85);

impl Task<'_> {
    pub(super) fn at_cut(&self, from: EntryId, to: EntryId) -> Vec<Group> {
        let (Some(before), Some(next)) = (self.view(from), self.view(to)) else { return Vec::new() };
        match self.finding {
            CutFinding::JumpCut { .. } => self.jump(before, next),
            CutFinding::LineCrossed { .. } => self.line(before, next),
            CutFinding::DirectionTurns { who, .. } => self.direction(before, next, *who),
            CutFinding::ReversesDiffer { .. } => {
                let copy = |one: &EntryView, at_cut: usize, other: &EntryView| {
                    self.tried_on(other, alike(&self.film.kit, one, at_cut, other))
                };
                vec![copy(before, 1, next), copy(next, 0, before), self.both_still(before, next)]
            }
            CutFinding::LooksAlike { .. } => {
                let meet = |one: &EntryView, other: &EntryView| self.tried_on(other, meeting(one, other));
                vec![meet(before, next), meet(next, before)]
            }
            CutFinding::VoiceFar { .. }
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
            | CutFinding::ShownBriefly { .. }
            | CutFinding::FewShots { .. }
            | CutFinding::ManyShots { .. }
            | CutFinding::OneSize { .. }
            | CutFinding::OneDirection { .. }
            | CutFinding::NoForeground { .. }
            | CutFinding::ActionUnsaid { .. } => Vec::new(),
        }
    }

    /// Those ways to have an entry's shot: in its place if that serves, else as a new shot for this entry alone.
    fn tried_on(&self, view: &EntryView, others: Vec<Other>) -> Group {
        let own: Vec<Candidate> =
            others.iter().map(|(shot, does)| self.own(view.entry, shot, does)).collect();
        others.into_iter().map(|(shot, does)| self.in_place(shot, &does)).chain(own).collect()
    }

    /// Those ways to have the second entry's shot or the first one's. One shot cannot differ from itself in its place.
    fn on_either(
        &self,
        before: &EntryView,
        next: &EntryView,
        others: impl Fn(&EntryView) -> Vec<Other>,
    ) -> Group {
        let own = |view: &EntryView| -> Group {
            others(view).iter().map(|(shot, does)| self.own(view.entry, shot, does)).collect()
        };
        let mut group = Vec::new();
        if before.shot.id != next.shot.id {
            for view in [next, before] {
                group.extend(others(view).into_iter().map(|(shot, does)| self.in_place(shot, &does)));
            }
        }
        group.extend([own(next), own(before)].into_iter().flatten());
        group
    }

    fn jump(&self, before: &EntryView, next: &EntryView) -> Vec<Group> {
        let in_size = |tighter: bool| {
            self.on_either(before, next, |view| {
                sizes(view.shot.size, tighter)
                    .into_iter()
                    .map(|size| (sized(&view.shot, size), instead(size, view.shot.size)))
                    .collect()
            })
        };
        let round = self.on_either(before, next, |view| further_round(view, ROUND));
        let in_size_round = self.on_either(before, next, |view| {
            let sizes = ShotSize::OF_PEOPLE.into_iter().filter(|size| *size != view.shot.size);
            let each = sizes.flat_map(|size| {
                let round = further_round(view, ROUND).into_iter();
                round.map(move |(shot, does)| (sized(&shot, size), format!("{}, {does}", text(size.name()))))
            });
            each.collect()
        });
        vec![in_size(true), in_size(false), round, self.hands_between(before), in_size_round]
    }

    /// Both shots in one size, on one lens, from the height that goes with it and without a move: for two that neither can
    /// copy from the other. From their own sides if that serves, else one from where it mirrors the other.
    fn both_still(&self, before: &EntryView, next: &EntryView) -> Group {
        let still = |view: &EntryView, side: Angle, size: ShotSize, lens: &LensChoice| Shot {
            height: PhoneHeight::BySize,
            look: Look::Aimed,
            movement: None,
            adapter: None,
            lens: lens.clone(),
            ..sized(&from_side(&view.shot, side), size)
        };
        let names = say!("{} and {}", self.name(before.shot.id), self.name(next.shot.id));
        let own = [side_of(before), side_of(next)];
        let from = |sides: [Angle; 2]| -> Group {
            let lenses = self.film.kit.lenses.iter().map(|lens| &lens.name);
            let each = lenses.flat_map(|name| ShotSize::OF_PEOPLE.into_iter().map(move |size| (name, size)));
            let both = each.map(|(name, size)| {
                let lens = LensChoice::Fixed { name: name.clone(), in_sensor_zoom: 1.0 };
                let told = text(size.name());
                let words = if sides == own {
                    say!("{names}: {} on the {name} lens, without a move", told)
                } else {
                    say!("{names}: {} on the {name} lens, without a move, from sides that match", told)
                };
                let [one, other] = sides;
                let shots = vec![still(before, one, size, &lens), still(next, other, size, &lens)];
                Candidate { words, change: Change::Shots(shots) }
            });
            both.collect()
        };
        let mirrored = [[own[0], mirrored_side(before, next)], [mirrored_side(next, before), own[1]]];
        std::iter::once(own).chain(mirrored).flat_map(from).collect()
    }

    /// What somebody holds, cut in between: inserts cut with anything.
    fn hands_between(&self, before: &EntryView) -> Group {
        let Some(who) = before.subject else { return Vec::new() };
        let shot = Shot {
            beat: before.shot.beat,
            height: PhoneHeight::Fixed(HANDS),
            planned_s: BETWEEN_S,
            ..Shot::of(self.new_shot, ShotOf::One(who), ShotSize::Insert, side_of(before))
        };
        let words = say!("an insert of {}'s hands between", self.film.name_of(who));
        vec![Candidate { words, change: Change::Added { after: before.entry, entry: self.new_entry, shot } }]
    }

    fn line(&self, before: &EntryView, next: &EntryView) -> Vec<Group> {
        let Some(line) = next.line else { return Vec::new() };
        let other_side = |view: &EntryView| {
            beside(view, across_line(&line, view), say!("from the other side of the line"))
        };
        let on_line = |view: &EntryView| -> Vec<Other> {
            let ends = onto_line(&line, view).into_iter();
            ends.map(|side| {
                (Shot { across: 0.5, ..from_side(&view.shot, side) }, say!("from the line").to_owned())
            })
            .collect()
        };
        vec![
            self.tried_on(next, other_side(next)),
            self.tried_on(next, on_line(next)),
            self.all_beyond(&line, next),
            self.tried_on(before, other_side(before)),
            self.tried_on(next, wider_across(&line, next)),
        ]
    }

    /// All shots from here to where the cut comes back, from the other side. Of one alone that is told already.
    fn all_beyond(&self, line: &Line, next: &EntryView) -> Group {
        let side = |view: &EntryView| view.seen.and_then(|seen| seen[0].side);
        let beyond = self.views.iter().skip_while(|view| view.entry != next.entry);
        let beyond = beyond
            .filter(|view| !view.is_insert())
            .take_while(|view| view.line == Some(*line) && side(view) == side(next));
        let mut shots: Vec<Shot> = Vec::new();
        for view in beyond {
            if !shots.iter().any(|shot| shot.id == view.shot.id) {
                shots.push(mirrored_to(&view.shot, across_line(line, view)));
            }
        }
        let names: Vec<String> = shots.iter().map(|shot| self.name(shot.id)).collect();
        let words = say!("{}: from the other side of the line", names.join(", "));
        vec![Candidate { words, change: Change::Shots(shots) }]
    }

    fn direction(&self, before: &EntryView, next: &EntryView, who: PersonId) -> Vec<Group> {
        let way = |view: &EntryView| {
            let starts_s = view.rehearsal.as_ref().as_ref().ok()?.scene_s(view.stretch_s.0);
            let walker = self.scene.blocking.person_of(&self.film.cast, who, starts_s)?;
            Some(walker.facing)
        };
        let other_side = |view: &EntryView| {
            way(view).map_or_else(Vec::new, |way| {
                beside(view, way * 2.0 - side_of(view), say!("from the other side of their way"))
            })
        };
        let straight = way(next).map_or_else(Vec::new, |way| {
            let from = |side: Angle, does: &str| {
                (Shot { across: 0.5, ..from_side(&next.shot, side) }, does.to_owned())
            };
            vec![
                from(way, say!("from before them, as they come")),
                from(way + Angle::from_deg(180.0), say!("from behind them, as they go")),
            ]
        });
        vec![
            self.tried_on(next, other_side(next)),
            self.tried_on(next, straight),
            self.tried_on(before, other_side(before)),
            self.straight_between(before, next, who),
        ]
    }

    /// A shot of the walker who comes straight on, cut in between.
    fn straight_between(&self, before: &EntryView, next: &EntryView, who: PersonId) -> Group {
        let Some(walker) = next
            .rehearsal
            .as_ref()
            .as_ref()
            .ok()
            .and_then(|made| self.scene.blocking.person_of(&self.film.cast, who, made.starts_s))
        else {
            return Vec::new();
        };
        let sides = [walker.facing, walker.facing + Angle::from_deg(180.0)];
        let each = sides.into_iter().flat_map(|side| {
            ShotSize::OF_PEOPLE.into_iter().map(move |size| {
                let straight = from_side(&next.shot, side);
                let shot =
                    Shot { across: 0.5, movement: None, planned_s: BETWEEN_S, ..sized(&straight, size) };
                Candidate {
                    words: say!(
                        "a shot ({}) between, in which they come or go straight on",
                        text(size.name())
                    ),
                    change: Change::Added {
                        after: before.entry,
                        entry: self.new_entry,
                        shot: shot.known_by(self.new_shot),
                    },
                }
            })
        });
        each.collect()
    }
}

/// The side of a phone that stands as far on the other side of the line.
///
/// Whom the shot is of may stand off the line, so it is the place that is mirrored and not the direction.
fn across_line(line: &Line, view: &EntryView) -> Angle {
    let (Some(phone), Ok(rehearsal)) =
        (view.seen.map(|seen| seen[0].camera.position().truncate()), view.rehearsal.as_ref())
    else {
        return view.shot.side;
    };
    azimuth(line.mirrored(phone) - rehearsal.origin)
}

/// Sides from which the phone stands on the line, or along it if it stands too near to reach it.
fn onto_line(line: &Line, view: &EntryView) -> [Angle; 2] {
    let along = (line.to() - line.from()).normalize_or_zero();
    let reach = view.rehearsal.as_ref().as_ref().ok().and_then(|rehearsal| {
        let away_m = rehearsal.result().outcome.as_ref().ok()?.distance.to_m();
        // From whom it is of straight to the line, and from there along it as far as the phone's distance goes.
        let to_line = (line.mirrored(rehearsal.origin) - rehearsal.origin) / 2.0;
        let left_m2 = away_m * away_m - to_line.length_squared();
        (left_m2 >= 0.0).then(|| {
            let on_line = along * libm::sqrt(left_m2);
            [to_line + on_line, to_line - on_line].map(azimuth)
        })
    });
    reach.unwrap_or_else(|| [along, -along].map(azimuth))
}

/// Wider shots from the other side, for whoever stands so far off the line that the phone would not come across it.
fn wider_across(line: &Line, view: &EntryView) -> Vec<Other> {
    let straight = view.rehearsal.as_ref().as_ref().map_or_else(
        |_| Vec::new(),
        |rehearsal| {
            let to_line = line.mirrored(rehearsal.origin) - rehearsal.origin;
            vec![azimuth(to_line)]
        },
    );
    let sides: Vec<Angle> = std::iter::once(across_line(line, view)).chain(straight).collect();
    let sizes = sizes(view.shot.size, false).into_iter();
    let shots = sizes.flat_map(|size| {
        let does = say!("{}, from the other side of the line", text(size.name()));
        let of_size: Vec<Other> = sides
            .iter()
            .flat_map(|side| beside(view, *side, &does))
            .map(|(shot, does)| (sized(&shot, size), does))
            .collect();
        of_size
    });
    shots.collect()
}

/// A direction, and those near it.
fn near(side: Angle) -> impl Iterator<Item = Angle> {
    std::iter::once(side).chain(BESIDE.into_iter().flat_map(move |off| either_way(side, off)))
}

/// The shot mirrored to a side, and to sides near it.
fn beside(view: &EntryView, side: Angle, does: &str) -> Vec<Other> {
    near(side).map(|side| (mirrored_to(&view.shot, side), does.to_owned())).collect()
}

/// The second shot in size, height and lens as the model shows them at the cut, its start or its end: from its own side if
/// that serves, else from where it mirrors the model, or near there.
fn alike(kit: &Kit, model: &EntryView, at_cut: usize, view: &EntryView) -> Vec<Other> {
    let seen = model.seen.as_ref().and_then(|seen| seen.get(at_cut));
    let (Some(seen), Some([own, _])) = (seen, view.seen) else { return Vec::new() };
    let Ok(rehearsal) = model.rehearsal.as_ref() else { return Vec::new() };
    let (from, to) = (&model.shot, &view.shot);
    // As high above their eyes as above the other's.
    let eyes_m = own.camera.position().z - own.above_subject().to_m();
    let fixed = PhoneHeight::Fixed(Length::from_m(eyes_m) + seen.above_subject());
    let name = kit.lenses.get(rehearsal.on.lens).map_or_else(String::new, |lens| lens.name.clone());
    let lens = LensChoice::Fixed { name, in_sensor_zoom: rehearsal.on.in_sensor_zoom };
    let mut shots: Vec<Shot> = Vec::new();
    for stand in std::iter::once(from.stand).chain(alike_away(model, seen, view).map(Stand::At)) {
        for lens in [&from.lens, &lens] {
            shots.extend([from.height, fixed].map(|height| Shot {
                size: from.size,
                headroom: from.headroom,
                height,
                look: from.look,
                stand,
                lens: lens.clone(),
                adapter: from.adapter.clone(),
                ..Shot::clone(to)
            }));
        }
    }
    let (from_here, from_there) =
        (say!("size, height and lens as in the other"), say!("size, height, lens and side as in the other"));
    let sides: Vec<Angle> = near(mirrored_side(model, view)).collect();
    let own_side = shots.iter().map(|shot| (shot.clone(), from_here.to_owned()));
    let mirrored = shots.iter().flat_map(|shot| {
        sides.iter().map(move |side| {
            let mirrored = Shot { across: 1.0 - from.across, ..from_side(shot, *side) };
            (mirrored, from_there.to_owned())
        })
    });
    own_side.chain(mirrored).collect()
}

/// How far away along the floor the second one is as large in the frame, on the same lens, as the first one is at the cut:
/// their distances are as their statures. A move may have brought the phone elsewhere than its size says.
fn alike_away(model: &EntryView, seen: &SeenAt, view: &EntryView) -> Option<Length> {
    let stature =
        |view: &EntryView| Some(view.rehearsal.as_ref().as_ref().ok()?.subject?.person.body.stature);
    let floor = seen.away * seen.from_subject.truncate().length();
    Some(floor * (stature(view)? / stature(model)?))
}

/// The second shot from where its look meets that of the first one.
fn meeting(model: &EntryView, view: &EntryView) -> Vec<Other> {
    beside(view, mirrored_side(model, view), say!("from the side on which their looks meet"))
}

/// The side from which the second one is seen as the first one is, left and right in each other's place.
fn mirrored_side(model: &EntryView, view: &EntryView) -> Angle {
    let (Ok(one), Ok(other)) = (model.rehearsal.as_ref(), view.rehearsal.as_ref()) else {
        return view.shot.side;
    };
    let way = other.origin - one.origin;
    // A phone at φ off the way from one to the other comes to −φ off the way back.
    azimuth(way) * 2.0 + Angle::from_deg(180.0) - side_of(model)
}

#[cfg(test)]
mod tests;
