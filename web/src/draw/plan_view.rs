//! Where the floor plan's metres are on its canvas, and what of it a hand can take hold of.

use glam::DVec3;
use staging::{Light, SetPiece};
use units::Angle;

use crate::dressing::Item;
use crate::scene::{Scene, along};

/// What can be dragged on the floor plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Handle {
    Phone,
    Foreground,
    Background,
    /// Somebody, or a piece of the set.
    Item(Item),
    /// What turns the chosen one.
    Turn(Item),
    Sun,
}

/// Where the floor plan's metres are on the canvas.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PlanView {
    /// Units a metre.
    pub(crate) scale: f64,
    /// The floor point in the middle of the canvas, metres.
    middle: (f64, f64),
    /// The canvas's size in units.
    pub(crate) size: (f64, f64),
}

/// How a view differs from the one that fits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Looking {
    /// How many times closer it is.
    pub(crate) closer: f64,
    /// How far its middle is from the fitting one's, metres.
    pub(crate) aside: DVec3,
}

/// The chosen one, as it is marked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Chosen {
    pub(crate) item: Item,
    pub(crate) place: DVec3,
    /// The direction that it faces; none if that is not the set's to say.
    pub(crate) facing: Option<Angle>,
    /// From its middle to its front.
    pub(crate) half_depth_m: f64,
}

/// Units a metre on a floor so large that it hardly matters.
const LEAST_SCALE: f64 = 0.01;
/// From one scale to the next.
const SCALE_STEP: f64 = 1.2;
/// What is farther from the subject than this, or than so many times the phone's distance, does not make the view wider:
/// chosen because people would become too small to take hold of.
const NEAR_M: f64 = 8.0;
const NEAR_OVER_DISTANCE: f64 = 3.0;

/// The nearest that a finger can be expected to come to what it means, in units.
pub(crate) const REACH_PX: f64 = 30.0;
/// The same for the edge of a piece, whose length helps.
const EDGE_REACH_PX: f64 = 12.0;
/// A piece narrower than this on the canvas is taken hold of anywhere; a broader one by its edge or its middle, so that a
/// finger on its inside still scrolls the page.
const NARROW_PX: f64 = 64.0;
/// How far beyond the chosen one's front its turning handle lies, units.
const TURN_PX: f64 = 34.0;
/// How far inside the canvas's edge the sun's mark lies, units.
const SUN_INSET_PX: f64 = 26.0;

impl Looking {
    /// The view that fits.
    pub(crate) const FITTING: Self = Self { closer: 1.0, aside: DVec3::ZERO };
}

impl Chosen {
    /// Where its turning handle is on the canvas.
    pub(super) fn turn_px(&self, view: PlanView) -> Option<(f64, f64)> {
        Some(view.turn_px(self.place, self.facing?, self.half_depth_m))
    }
}

impl PlanView {
    /// A view that shows phone and subject, and what is not far from them.
    pub(crate) fn fitting(scene: &Scene, size: (f64, f64)) -> Self {
        let near = NEAR_M.max(NEAR_OVER_DISTANCE * scene.phone.truncate().length());
        let others = scene.stage.people.iter().map(|person| person.place.extend(0.0));
        let pieces = scene.stage.pieces.iter().map(|piece| piece.place.extend(0.0));
        let ways = scene.way.iter().chain(&scene.walk).copied();
        let nearby = others.chain(pieces).chain(ways).chain([scene.background]);
        let nearby = nearby.filter(|place| place.length() <= near);
        Self::of_places([DVec3::ZERO, scene.phone].into_iter().chain(nearby), size)
    }

    /// A view in which all of these places are seen; of the middle of the floor if there are none.
    pub(crate) fn of_places(places: impl IntoIterator<Item = DVec3>, size: (f64, f64)) -> Self {
        let bounds = places.into_iter().fold(None, |bounds, place| {
            let (least, most) = bounds.unwrap_or((place, place));
            Some((least.min(place), most.max(place)))
        });
        let (least, most) = bounds.unwrap_or((DVec3::ZERO, DVec3::ZERO));
        Self::holding(least, most, size)
    }

    /// A view of the floor between its least and its most places, with air around; never less than two metres.
    ///
    /// Steps of a fifth in scale keep the floor from breathing while something is dragged.
    pub(crate) fn holding(least: DVec3, most: DVec3, size: (f64, f64)) -> Self {
        let span = (most - least).max(DVec3::splat(2.4)) * 1.35;
        let fit = (size.0 / span.x).min(size.1 / span.y);
        let mut scale = LEAST_SCALE;
        while scale * SCALE_STEP <= fit {
            scale *= SCALE_STEP;
        }
        Self { scale, middle: (f64::midpoint(least.x, most.x), f64::midpoint(least.y, most.y)), size }
    }

    /// A view in which a piece of that size about the origin just has room.
    pub(super) fn around(width_m: f64, depth_m: f64, size: (f64, f64)) -> Self {
        let scale = ((size.0 - 20.0) / width_m).min((size.1 - 20.0) / depth_m).max(1.0);
        Self { scale, middle: (0.0, 0.0), size }
    }

    /// The same view, looked at otherwise.
    #[must_use]
    pub(crate) fn looked_at(self, looking: Looking) -> Self {
        let Looking { closer, aside } = looking;
        Self { scale: self.scale * closer, ..self.moved(aside) }
    }

    /// How to look so close at what this view fits that a floor point lies at that point of the canvas.
    pub(crate) fn looking(self, closer: f64, floor: DVec3, at: (f64, f64)) -> Looking {
        let centred = self.looked_at(Looking { closer, aside: DVec3::ZERO });
        Looking { closer, aside: floor - centred.to_floor(at) }
    }

    /// The same view after the floor under it has moved by `by` metres.
    #[must_use]
    pub(crate) fn moved(self, by: DVec3) -> Self {
        Self { middle: (self.middle.0 + by.x, self.middle.1 + by.y), ..self }
    }

    /// Where a floor point is on the canvas.
    pub(crate) fn to_px(self, point: DVec3) -> (f64, f64) {
        (
            self.size.0 / 2.0 + (point.x - self.middle.0) * self.scale,
            self.size.1 / 2.0 - (point.y - self.middle.1) * self.scale,
        )
    }

    /// The floor point under a canvas point.
    pub(crate) fn to_floor(self, (x, y): (f64, f64)) -> DVec3 {
        DVec3::new(
            self.middle.0 + (x - self.size.0 / 2.0) / self.scale,
            self.middle.1 - (y - self.size.1 / 2.0) / self.scale,
            0.0,
        )
    }

    /// The middle of the canvas.
    pub(crate) fn middle_px(self) -> (f64, f64) {
        (self.size.0 / 2.0, self.size.1 / 2.0)
    }

    /// Where the turning handle is of what stands there, faces that way and is so deep from its middle to its front.
    pub(crate) fn turn_px(self, place: DVec3, facing: Angle, half_depth_m: f64) -> (f64, f64) {
        self.to_px(place + along(facing) * (half_depth_m + TURN_PX / self.scale))
    }

    /// Where the mark of a sun in that direction is: at the canvas's edge.
    pub(crate) fn sun_px(self, azimuth: Angle) -> (f64, f64) {
        let (right, down) = (azimuth.sin(), -azimuth.cos());
        let (half_width, half_height) = (self.size.0 / 2.0, self.size.1 / 2.0);
        let reach = ((half_width - SUN_INSET_PX) / right.abs().max(1.0e-6))
            .min((half_height - SUN_INSET_PX) / down.abs().max(1.0e-6))
            .max(0.0);
        (half_width + right * reach, half_height + down * reach)
    }

    /// The direction of a sun whose mark is dragged to that canvas point, clockwise from the plan's top.
    pub(crate) fn sun_deg(self, (x, y): (f64, f64)) -> f64 {
        Angle::from_components(x - self.size.0 / 2.0, self.size.1 / 2.0 - y).to_deg()
    }

    /// What a finger at that canvas point means to drag.
    pub(crate) fn handle_at(self, scene: &Scene, chosen: Option<&Chosen>, at: (f64, f64)) -> Option<Handle> {
        let away = |(px, py): (f64, f64)| libm::hypot(px - at.0, py - at.1);
        if let Some(chosen) = chosen
            && chosen.turn_px(self).is_some_and(|place| away(place) <= REACH_PX * 0.8)
        {
            return Some(Handle::Turn(chosen.item));
        }
        let mut marks = vec![(Handle::Phone, self.to_px(scene.phone))];
        let people = scene.people().iter().enumerate();
        marks.extend(people.map(|(at, person)| {
            (Handle::Item(scene.item_of_person(at)), self.to_px(person.place.extend(0.0)))
        }));
        if scene.stage.object.is_some() {
            marks.push((Handle::Item(Item::Subject), self.to_px(DVec3::ZERO)));
        }
        marks.extend(scene.foreground.map(|place| (Handle::Foreground, self.to_px(place))));
        if let Light::Sun { azimuth, .. } = scene.stage.light {
            marks.push((Handle::Sun, self.sun_px(azimuth)));
        }
        let nearest = |marks: Vec<(Handle, f64)>| {
            marks.into_iter().min_by(|(_, one), (_, other)| one.total_cmp(other)).map(|(handle, _)| handle)
        };
        let marks = marks.into_iter().map(|(handle, place)| (handle, away(place)));
        let floor = self.to_floor(at);
        // The smallest of the pieces under a finger is the one that is hard to reach otherwise.
        let pieces = scene.set_pieces().iter().enumerate().filter(|(_, piece)| self.touches(piece, floor));
        let pieces = pieces.map(|(at, piece)| {
            (Handle::Item(Item::Piece(at)), (piece.size.width.to_m() * piece.size.depth.to_m()))
        });
        nearest(marks.filter(|(_, away)| *away <= REACH_PX).collect())
            .or_else(|| nearest(pieces.collect()))
            .or_else(|| (away(self.to_px(scene.background)) <= REACH_PX).then_some(Handle::Background))
    }

    /// Whether a finger at that floor point is on the piece.
    pub(crate) fn touches(self, piece: &SetPiece, floor: DVec3) -> bool {
        let from_middle = floor - piece.place.extend(0.0);
        let beside = from_middle.dot(along(piece.facing + Angle::from_deg(90.0))).abs();
        let before = from_middle.dot(along(piece.facing)).abs();
        let half = (piece.size.width.to_m() / 2.0, piece.size.depth.to_m() / 2.0);
        // Negative inside.
        let outside = (beside - half.0).max(before - half.1) * self.scale;
        let is_narrow = half.0.min(half.1) * 2.0 * self.scale <= NARROW_PX;
        outside <= EDGE_REACH_PX
            && (is_narrow || outside >= -EDGE_REACH_PX || from_middle.length() * self.scale <= REACH_PX)
    }
}

#[cfg(test)]
mod tests {
    use requests::PieceWord;

    use super::*;
    use crate::scene::tests::scene_of;
    use crate::session::Plan;

    const CANVAS: (f64, f64) = (390.0, 390.0);

    #[test]
    fn a_point_on_the_canvas_is_its_floor_point_and_back() {
        let view = PlanView { scale: 37.0, middle: (1.0, -2.0), size: CANVAS };
        let floor = view.to_floor((100.0, 250.0));
        let (x, y) = view.to_px(floor);
        assert!((x - 100.0).abs() < 1e-9 && (y - 250.0).abs() < 1e-9, "{x} {y}");
    }

    #[test]
    fn a_point_that_is_looked_at_closer_stays_under_the_hand() {
        let view = PlanView { scale: 37.0, middle: (1.0, -2.0), size: CANVAS };
        let (at, floor) = ((100.0, 250.0), view.to_floor((100.0, 250.0)));
        for closer in [0.1, 1.0, 7.5] {
            let looked_at = view.looked_at(view.looking(closer, floor, at));
            let (x, y) = looked_at.to_px(floor);
            assert!((x - at.0).abs() < 1e-9 && (y - at.1).abs() < 1e-9, "{closer}: {x} {y}");
            assert!((looked_at.scale - 37.0 * closer).abs() < 1e-9, "{closer}: {looked_at:?}");
        }
    }

    #[test]
    fn a_far_tree_does_not_make_the_people_small() {
        let mut plan = Plan::first();
        let before = PlanView::fitting(&scene_of(&plan), CANVAS);
        let tree = plan.add_piece(staging::PieceKind::Tree, None);
        plan.put(tree, DVec3::new(30.0, 40.0, 0.0));
        assert_eq!(PlanView::fitting(&scene_of(&plan), CANVAS), before);
        plan.put(tree, DVec3::new(5.0, 4.0, 0.0));
        let (x, y) = PlanView::fitting(&scene_of(&plan), CANVAS).to_px(DVec3::new(5.0, 4.0, 0.0));
        assert!((0.0..CANVAS.0).contains(&x) && (0.0..CANVAS.1).contains(&y), "{x} {y}");
    }

    #[test]
    fn a_sun_is_where_its_mark_is_dragged_to() {
        let view = PlanView { scale: 37.0, middle: (1.0, -2.0), size: (500.0, 300.0) };
        for degrees in [-170.0, -90.0, 0.0, 45.0, 179.0] {
            let back = view.sun_deg(view.sun_px(Angle::from_deg(degrees)));
            assert!((back - degrees).abs() < 1e-9, "{degrees} became {back}");
        }
    }

    #[test]
    fn a_piece_is_found_under_a_finger_and_a_person_before_it() {
        let mut plan = Plan::first();
        let bench = plan.add_piece(PieceWord::Bench.into(), None);
        let place = DVec3::new(1.5, 2.0, 0.0);
        plan.put(bench, place);
        let scene = scene_of(&plan);
        let view = PlanView::fitting(&scene, CANVAS);
        let found = |floor: DVec3| view.handle_at(&scene, None, view.to_px(floor));
        assert_eq!(found(place), Some(Handle::Item(bench)));
        assert_eq!(found(place + DVec3::new(0.7, 0.2, 0.0)), Some(Handle::Item(bench)));
        assert_eq!(found(place + DVec3::new(2.5, 1.5, 0.0)), None);
        assert_eq!(found(DVec3::ZERO), Some(Handle::Item(Item::Subject)));
        plan.put(bench, DVec3::ZERO);
        let scene = scene_of(&plan);
        assert_eq!(view.handle_at(&scene, None, view.to_px(DVec3::ZERO)), Some(Handle::Item(Item::Subject)));
    }
}
