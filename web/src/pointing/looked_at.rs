//! A floor plan that hands look at closer: two fingers, a wheel, a button, or the floor itself that is dragged.

use glam::DVec3;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;

use super::{At, of_finger, of_pointer, of_two_fingers, times_closer};
use crate::canvas::box_size;
use crate::draw::{Looking, PlanView};

/// Two fingers on a floor, as they came.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pinch {
    /// The floor point between them.
    floor: DVec3,
    /// How far they were apart.
    apart_px: f64,
    /// How close the view was.
    closer: f64,
}

/// The closest and the widest look at the floor: chosen because beyond them there is nothing to see.
const CLOSER: (f64, f64) = (0.1, 12.0);
/// How much closer one press of a button goes.
pub(crate) const CLOSER_STEP: f64 = 1.5;

/// A floor plan on a canvas, and what a hand is doing on it.
pub(crate) trait LookedAt: Copy {
    /// The canvas.
    fn node(self) -> NodeRef<html::Canvas>;

    /// How the view differs from the one that fits.
    fn looking(self) -> RwSignal<Looking>;

    /// The view that fits on a canvas of that size; none while there is nothing to show.
    fn fit(self, size: (f64, f64)) -> Option<PlanView>;

    /// The view in which something is held, which stays until it is let go.
    fn held_view(self) -> Option<PlanView>;

    /// Whether a hand there takes hold of something.
    fn has_handle_at(self, at: At) -> bool;

    /// The fingers that look closer, while they do.
    fn pinched(self) -> Option<Pinch>;

    /// Has two fingers look closer from now on, whatever a hand did before.
    fn begin_pinch(self, pinch: Pinch);

    /// The canvas's size in units, for a hand on it: to ask has the browser lay the page out, so drawing does not.
    fn size(self) -> Option<(f64, f64)> {
        let canvas = self.node().get_untracked()?;
        Some(box_size(&canvas))
    }

    /// The view that is shown on a canvas of that size.
    fn view_on(self, size: (f64, f64)) -> Option<PlanView> {
        self.held_view().or_else(|| Some(self.fit(size)?.looked_at(self.looking().get())))
    }

    /// The view that is shown, for a hand on it.
    fn view(self) -> Option<PlanView> {
        untrack(|| self.view_on(self.size()?))
    }

    /// Looks so close that the floor point comes to lie at that point of the canvas.
    fn look_so_close(self, closer: f64, floor: DVec3, at: At) {
        if let Some(fit) = untrack(|| self.fit(self.size()?)) {
            self.looking().set(fit.looking(closer.clamp(CLOSER.0, CLOSER.1), floor, at));
        }
    }

    /// The same so many times closer than now.
    fn look(self, times: f64, floor: DVec3, at: At) {
        self.look_so_close(self.looking().get_untracked().closer * times, floor, at);
    }

    /// A finger on a handle drags it, two fingers look closer; anything else scrolls the page.
    fn touch(self, event: &ev::TouchEvent) {
        let is_ours = if let Some((middle, apart_px)) = of_two_fingers(event, self.node()) {
            if let Some(view) = self.view() {
                let closer = self.looking().get_untracked().closer;
                self.begin_pinch(Pinch { floor: view.to_floor(middle), apart_px, closer });
            }
            true
        } else {
            of_finger(event, self.node()).is_some_and(|at| self.has_handle_at(at))
        };
        if is_ours {
            event.prevent_default();
        }
    }

    /// Looks as much closer as the fingers have gone apart.
    fn pinch(self, event: &ev::TouchEvent) {
        if let Some(Pinch { floor, apart_px, closer }) = self.pinched()
            && let Some((middle, now_px)) = of_two_fingers(event, self.node())
        {
            event.prevent_default();
            self.look_so_close(closer * now_px / apart_px, floor, middle);
        }
    }

    /// Looks closer where a wheel asks for that, at what is under it.
    fn wheel(self, event: &ev::WheelEvent) {
        let Some(times) = times_closer(event) else { return };
        event.prevent_default();
        let at = of_pointer(event);
        if let Some(view) = self.view() {
            self.look(times, view.to_floor(at), at);
        }
    }
}
