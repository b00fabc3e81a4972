//! What the floor shows at one second of a scene: everybody in their place, the line of the beat, the phones of the shots.

use std::sync::Arc;

use film::{BeatId, Film, Line, LineSide, NoRehearsal, Rehearsal, Scene, Shot, ShotId, Standing};
use glam::DVec2;
use staging::Light;
use units::Angle;

use super::blocking_edit::{Hold, LineEnd, hold_of};
use super::north::NORTH_PX;
use super::thing::Thing;
use crate::draw::{PlanView, REACH_PX};

/// What the floor shows.
#[derive(Debug, Clone)]
pub(super) struct Shown {
    pub(super) film: Film,
    pub(super) scene: Arc<Scene>,
    /// The shot whose view is drawn.
    pub(super) shot: Option<ShotId>,
    /// The beat that is shown, if the scene has any.
    pub(super) beat: Option<BeatId>,
    /// When it starts, seconds into the scene.
    pub(super) seconds: f64,
    /// Everybody then.
    pub(super) people: Vec<Standing>,
    /// The line of the beat.
    pub(super) line: Option<Line>,
    /// Where the phones are of the shots that can be had.
    pub(super) phones: Vec<FloorPhone>,
}

/// The phone of a shot, as it stands when the shot starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FloorPhone {
    /// The shot's number in its scene.
    pub(super) number: usize,
    pub(super) place: DVec2,
    /// The direction that it looks along the floor, clockwise from north.
    pub(super) azimuth: Angle,
    /// How much of a step along its axis is one along the floor.
    pub(super) level: f64,
    /// What its frame sees to the left and to the right, as tangents.
    pub(super) sees: (f64, f64),
    /// Whether its shot starts in the beat that is shown.
    pub(super) is_of_beat: bool,
    /// Whether its shot is the chosen one.
    pub(super) is_chosen: bool,
}

/// What a hand can take hold of on the floor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Handle {
    Thing(Thing),
    /// What turns the chosen one.
    Turn(Thing),
    Sun,
    /// The strip that shows the earth's north.
    North,
}

/// What walks through a shot.
type Rehearse<'a> = dyn Fn(&Arc<Shot>) -> Arc<Result<Rehearsal, NoRehearsal>> + 'a;

/// What is farther from everybody than this does not make the view wider, metres: chosen because people would become too
/// small to take hold of.
const NEAR_M: f64 = 14.0;
/// A phone that looks down so steeply is drawn as if it did so little less, as a share: its view has no end on the floor.
const LEAST_LEVEL: f64 = 0.05;

impl Shown {
    /// The floor of a scene in that beat, or in its first one.
    pub(super) fn of(
        film: &Film,
        scene: &Arc<Scene>,
        beat: Option<BeatId>,
        chosen: Option<ShotId>,
        rehearse: &Rehearse<'_>,
    ) -> Self {
        let blocking = &scene.blocking;
        let beat = blocking.beat(beat).map(|beat| beat.id);
        let seconds = blocking.starts_s(beat);
        let phones = scene.shots.iter().enumerate().filter_map(|(at, shot)| {
            let rehearsal = rehearse(shot);
            let is_of_beat = blocking.beat(shot.beat).map(|beat| beat.id) == beat;
            let phone = FloorPhone::of(rehearsal.as_ref().as_ref().ok()?)?;
            Some(FloorPhone { number: at + 1, is_of_beat, is_chosen: chosen == Some(shot.id), ..phone })
        });
        Self {
            phones: phones.collect(),
            people: blocking.people_at(&film.cast, seconds),
            line: blocking.line(&film.cast, beat),
            film: film.clone(),
            scene: Arc::clone(scene),
            shot: chosen,
            beat,
            seconds,
        }
    }

    /// The sides of the line on which phones of the beat's shots are: to the left, to the right.
    pub(super) fn sides(&self) -> [bool; 2] {
        let Some(line) = self.line else { return [false; 2] };
        let phones = || self.phones.iter().filter(|phone| phone.is_of_beat);
        [LineSide::Left, LineSide::Right].map(|side| phones().any(|phone| line.side_of(phone.place) == side))
    }

    /// A view that shows everybody with their ways, and what is not far from them.
    pub(super) fn fit(&self, size: (f64, f64)) -> PlanView {
        let blocking = &self.scene.blocking;
        let ways = blocking.marks.iter().flat_map(|mark| mark.way.iter().flat_map(|way| &way.corners));
        let people: Vec<DVec2> = blocking.marks.iter().map(|mark| mark.place).chain(ways.copied()).collect();
        let is_near = |place: &DVec2| {
            people.is_empty() || people.iter().any(|person| person.distance(*place) <= NEAR_M)
        };
        let others = blocking.pieces.iter().map(|piece| piece.place);
        let others = others.chain(self.phones.iter().map(|phone| phone.place)).filter(is_near);
        PlanView::of_places(people.iter().copied().chain(others).map(|place| place.extend(0.0)), size)
    }

    /// Where what turns the chosen one is on the canvas.
    pub(super) fn turn_px(&self, view: PlanView, chosen: Thing) -> Option<(f64, f64)> {
        let blocking = &self.scene.blocking;
        let facing = chosen.facing(&self.film, blocking, self.seconds)?;
        let place = chosen.place(blocking, self.seconds)?;
        let half_depth_m = match chosen {
            Thing::Piece(at) => blocking.pieces.get(at).map_or(0.0, |piece| piece.size.depth.to_m() / 2.0),
            Thing::Person(_) | Thing::Start(_) | Thing::Corner(..) | Thing::Beat(_) | Thing::LineEnd(..) => {
                0.0
            }
        };
        Some(view.turn_px(place.extend(0.0), facing, half_depth_m))
    }

    /// Everything that is taken hold of by a point, with where it is.
    fn points(&self) -> Vec<(Thing, DVec2)> {
        let blocking = &self.scene.blocking;
        let mut things: Vec<Thing> = Vec::new();
        for mark in &blocking.marks {
            things.push(Thing::Person(mark.who));
            let hold = hold_of(mark, self.seconds);
            if hold != Hold::Mark {
                things.push(Thing::Start(mark.who));
            }
            let corners = mark.way.as_ref().map_or(0, |way| way.corners.len());
            let corners = (0..corners).filter(|at| hold != Hold::Corner(*at));
            things.extend(corners.map(|at| Thing::Corner(mark.who, at)));
        }
        if let Some(beat) = self.beat {
            things.extend([LineEnd::From, LineEnd::To].map(|end| Thing::LineEnd(beat, end)));
        }
        let placed =
            things.into_iter().filter_map(|thing| Some((thing, thing.place(blocking, self.seconds)?)));
        placed.collect()
    }

    /// What a finger at that point of the canvas means.
    pub(super) fn handle_at(&self, view: PlanView, chosen: Option<Thing>, at: (f64, f64)) -> Option<Handle> {
        let away = |(x, y): (f64, f64)| libm::hypot(x - at.0, y - at.1);
        if let Some(chosen) = chosen
            && self.turn_px(view, chosen).is_some_and(|place| away(place) <= REACH_PX * 0.8)
        {
            return Some(Handle::Turn(chosen));
        }
        let on_canvas = |(thing, place): (Thing, DVec2)| {
            // Of two that lie on each other the chosen one is meant.
            let nearer = if chosen == Some(thing) { 0.5 } else { 1.0 };
            (Handle::Thing(thing), away(view.to_px(place.extend(0.0))) * nearer)
        };
        let sun = match self.scene.blocking.light {
            Light::Sun { azimuth, .. } => Some((Handle::Sun, away(view.sun_px(azimuth)))),
            Light::Overcast | Light::Dusk => None,
        };
        let north = [(Handle::North, away(NORTH_PX))];
        let points = self.points().into_iter().map(on_canvas).chain(sun).chain(north);
        let near = points.filter(|(_, away)| *away <= REACH_PX);
        let floor = view.to_floor(at);
        let pieces = self.scene.blocking.pieces.iter().enumerate();
        let pieces = pieces.filter(|(_, piece)| view.touches(piece, floor));
        // The smallest of those under a finger is the one that is hard to reach otherwise.
        let pieces = pieces.map(|(at, piece)| {
            (Handle::Thing(Thing::Piece(at)), piece.size.width.to_m() * piece.size.depth.to_m())
        });
        least(near).or_else(|| least(pieces))
    }
}

/// The one of which the number is least.
fn least(handles: impl Iterator<Item = (Handle, f64)>) -> Option<Handle> {
    handles.min_by(|(_, one), (_, other)| one.total_cmp(other)).map(|(handle, _)| handle)
}

impl FloorPhone {
    /// The phone of a shot, if it can be framed.
    fn of(rehearsal: &Rehearsal) -> Option<Self> {
        let view = rehearsal.result().outcome.as_ref().ok()?.view;
        let camera = rehearsal.camera()?;
        let forward = camera.forward();
        Some(Self {
            number: 0,
            place: camera.position().truncate(),
            azimuth: Angle::from_components(forward.x, forward.y),
            level: libm::hypot(forward.x, forward.y).max(LEAST_LEVEL),
            sees: (view.left, view.right),
            is_of_beat: false,
            is_chosen: false,
        })
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::story::floor::blocking_edit::tests::{beat_id, id, two};
    use crate::story::floor::blocking_edit::{adds_piece, by_hand, wishes_line};
    use staging::PieceKind;

    const CANVAS: (f64, f64) = (390.0, 390.0);

    pub(in crate::story::floor) fn shown(film: &Film, scene: &Scene, beat: u64) -> Shown {
        let rehearse = |shot: &Arc<Shot>| Arc::new(Rehearsal::of(film, scene, shot));
        Shown::of(film, &Arc::new(scene.clone()), Some(beat_id(beat)), None, &rehearse)
    }

    fn found(shown: &Shown, chosen: Option<Thing>, floor: DVec2) -> Option<Handle> {
        let view = shown.fit(CANVAS);
        shown.handle_at(view, chosen, view.to_px(floor.extend(0.0)))
    }

    #[test]
    fn people_are_found_where_they_are_in_the_beat() {
        let (film, scene) = two();
        let first = shown(&film, &scene, 1);
        assert_eq!(found(&first, None, DVec2::new(2.0, 0.0)), Some(Handle::Thing(Thing::Person(id(2)))));
        let second = shown(&film, &scene, 2);
        assert_eq!(found(&second, None, DVec2::new(2.0, 2.0)), Some(Handle::Thing(Thing::Person(id(2)))));
        assert_eq!(found(&second, None, DVec2::new(2.0, 0.0)), Some(Handle::Thing(Thing::Start(id(2)))));
        assert_eq!(found(&second, None, DVec2::new(2.0, 4.0)), Some(Handle::Thing(Thing::Corner(id(2), 0))));
    }

    #[test]
    fn a_table_is_found_under_a_finger() {
        let (film, mut scene) = two();
        let (blocking, at) = adds_piece(&scene.blocking, PieceKind::Table).expect("room");
        let place = blocking.pieces[at].place;
        scene.blocking = Arc::new(blocking);
        assert_eq!(found(&shown(&film, &scene, 1), None, place), Some(Handle::Thing(Thing::Piece(at))));
    }

    #[test]
    fn the_strip_of_north_is_found_in_its_corner() {
        let (film, scene) = two();
        let shown = shown(&film, &scene, 1);
        assert_eq!(shown.handle_at(shown.fit(CANVAS), None, NORTH_PX), Some(Handle::North));
    }

    #[test]
    fn only_a_line_by_hand_has_ends() {
        let (film, mut scene) = two();
        let wish = by_hand(&film, &scene.blocking, beat_id(1));
        let is_end = |(thing, _): &(Thing, DVec2)| matches!(thing, Thing::LineEnd(..));
        assert_eq!(shown(&film, &scene, 1).points().iter().filter(|point| is_end(point)).count(), 0);
        scene.blocking = Arc::new(wishes_line(&scene.blocking, beat_id(1), wish));
        assert_eq!(shown(&film, &scene, 1).points().iter().filter(|point| is_end(point)).count(), 2);
    }

    #[test]
    fn phones_stand_where_their_shots_have_them_and_on_a_side_of_the_line() {
        let (film, scene) = two();
        let shown = shown(&film, &scene, 1);
        assert_eq!(shown.phones.iter().map(|phone| phone.number).collect::<Vec<_>>(), [1, 2]);
        for phone in &shown.phones {
            // Both shots see Mira from the south-south-east, right of the line from her to Jo.
            assert!(phone.place.y < -0.5 && phone.place.x > 0.0, "{phone:?}");
            assert!((phone.azimuth.to_deg().rem_euclid(360.0) - 340.0).abs() < 1.0, "{phone:?}");
            assert!(phone.is_of_beat, "{phone:?}");
        }
        assert_eq!(shown.sides(), [false, true]);
    }

    #[test]
    fn a_view_shows_everybody() {
        let (film, scene) = two();
        let shown = shown(&film, &scene, 1);
        let view = shown.fit(CANVAS);
        for (thing, place) in shown.points() {
            let (x, y) = view.to_px(place.extend(0.0));
            assert!((20.0..370.0).contains(&x) && (20.0..370.0).contains(&y), "{thing:?} {x} {y}");
        }
    }
}
