//! A setup dragged to another place of the order: the row follows the pointer, a line shows where it will land, the list
//! scrolls at its edges, Escape leaves it where it was.

use film::ShotId;
use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use web_sys::Element;

use super::hand::{Hand, focus_later};
use super::setup_row::{put, step};
use crate::widgets::live;

/// A row on its way.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drag {
    pub(super) shot: ShotId,
    /// How far it is from where it was, CSS pixels.
    pub(super) by_px: f64,
    /// The pointer's place in the window.
    client_y: f64,
    /// Where it was in the page when the drag began.
    from_page_y: f64,
    /// Its place in the order.
    from: usize,
    /// Its place if it is let go now.
    to: usize,
    /// The middle of every row of a setup in the page, in order.
    middles: Vec<f64>,
}

/// How near the window's edge the list scrolls: chosen as about a row's height, and clear of the bar below.
const EDGE_PX: f64 = 96.0;
/// How far it scrolls in one frame at the very edge: chosen so that a day of forty is crossed in some seconds.
const FASTEST_PX: f64 = 18.0;

impl Drag {
    /// Whether it will land right before the row at that place.
    pub(super) fn lands_before(&self, at: Option<usize>) -> bool {
        self.to < self.from && at == Some(self.to)
    }

    /// Whether it will land right after the row at that place.
    pub(super) fn lands_after(&self, at: Option<usize>) -> bool {
        self.to > self.from && at == Some(self.to)
    }

    /// Follows the pointer, with the page scrolled that far.
    fn follow(&mut self, client_y: f64, scrolled_px: f64) {
        self.client_y = client_y;
        self.by_px = client_y + scrolled_px - self.from_page_y;
        self.to = self.place();
    }

    /// The place in the order at which its middle is.
    fn place(&self) -> usize {
        let Some(middle) = self.middles.get(self.from).map(|middle| middle + self.by_px) else {
            return self.from;
        };
        let others = self.middles.iter().enumerate().filter(|(at, _)| *at != self.from);
        others.filter(|(_, other)| **other < middle).count()
    }
}

/// How far to scroll when the pointer is there: none away from the edges.
fn scrolls_px(client_y: f64, window_px: f64) -> f64 {
    let near = |distance: f64| ((EDGE_PX - distance) / EDGE_PX).clamp(0.0, 1.0);
    (near(window_px - client_y) - near(client_y)) * FASTEST_PX
}

/// The middles of the list's setups in the page, in order.
fn middles(row: &Element, scrolled_px: f64) -> Vec<f64> {
    let mut middles = Vec::new();
    let mut next = row.parent_element().and_then(|list| list.first_element_child());
    while let Some(child) = next {
        if child.class_name().split(' ').any(|class| class == "day-setup") {
            let place = child.get_bounding_client_rect();
            middles.push(place.top() + place.height() / 2.0 + scrolled_px);
        }
        next = child.next_element_sibling();
    }
    middles
}

fn scrolled_px() -> f64 {
    window().scroll_y().unwrap_or(0.0)
}

/// Scrolls as long as a row is dragged at an edge.
fn scroll(drag: RwSignal<Option<Drag>>) {
    let Some(Some(client_y)) = drag.try_with_untracked(|drag| drag.as_ref().map(|drag| drag.client_y)) else {
        return;
    };
    let window_px = window().inner_height().ok().and_then(|height| height.as_f64()).unwrap_or(0.0);
    let by = scrolls_px(client_y, window_px);
    if by.abs() >= 1.0 {
        window().scroll_by_with_x_and_y(0.0, by);
        drag.update(|drag| {
            if let Some(drag) = drag {
                drag.follow(client_y, scrolled_px());
            }
        });
    }
    request_animation_frame(move || scroll(drag));
}

/// The handle: dragged, or moved by the arrow keys.
#[component]
pub(super) fn DragHandle(
    hand: Hand,
    shot: ShotId,
    name: Signal<String>,
    drag: RwSignal<Option<Drag>>,
) -> impl IntoView {
    let handle = NodeRef::<html::Button>::new();
    let press = move |event: ev::PointerEvent| {
        let Some(button) = handle.get_untracked() else { return };
        let Ok(Some(row)) = button.closest("li") else { return };
        if event.button() != 0 {
            return;
        }
        event.prevent_default();
        // Without the capture a drag ends where the row's edge does.
        drop(button.set_pointer_capture(event.pointer_id()));
        drop(button.focus());
        let at = hand.read_once(|_, _, plan| super::pins::Places::of(plan).place_of(shot)).flatten();
        let (Some(from), scrolled) = (at, scrolled_px()) else { return };
        let client_y = f64::from(event.client_y());
        let (from_page_y, middles) = (client_y + scrolled, middles(&row, scrolled));
        drag.set(Some(Drag { shot, by_px: 0.0, client_y, from_page_y, from, to: from, middles }));
        request_animation_frame(move || scroll(drag));
    };
    let leave = move || {
        if drag.with_untracked(Option::is_some) {
            drag.set(None);
        }
    };
    let follow = move |event: ev::PointerEvent| {
        // Nothing is held down any more, and nobody told here when that ended.
        if event.buttons() == 0 {
            leave();
        }
        if drag.with_untracked(Option::is_some) {
            drag.update(|drag| {
                if let Some(drag) = drag {
                    drag.follow(f64::from(event.client_y()), scrolled_px());
                }
            });
        }
    };
    let let_go = move |_| {
        let Some(ended) = drag.get_untracked() else { return };
        drag.set(None);
        if ended.to != ended.from {
            put(hand, ended.shot, ended.to);
            focus_later(format!("day-move-{}", ended.shot));
        }
    };
    // A row that goes takes the handle along, which then hears of no end.
    on_cleanup(move || {
        drag.try_maybe_update(|drag| (drag.take_if(|drag| drag.shot == shot).is_some(), ()));
    });
    view! {
        <button
            type="button"
            class="day-handle"
            node_ref=handle
            id=format!("day-move-{shot}")
            aria-label=live(move || say!("Move {}. Arrow keys, or drag.", name.get()))
            on:pointerdown=press
            on:pointermove=follow
            on:pointerup=let_go
            on:pointercancel=move |_| leave()
            on:lostpointercapture=move |_| leave()
            on:keydown=move |event| {
                let by = match event.key().as_str() {
                    "ArrowUp" => -1,
                    "ArrowDown" => 1,
                    "Escape" => {
                        leave();
                        return;
                    }
                    _ => return,
                };
                event.prevent_default();
                if drag.with_untracked(Option::is_none) {
                    step(hand, shot, by, "day-move");
                }
            }
        >
            {say!("Drag")}
        </button>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drag(from: usize) -> Drag {
        Drag {
            shot: film::demo_film().scenes[0].shots[0].id,
            by_px: 0.0,
            client_y: 0.0,
            from_page_y: 100.0,
            from,
            to: from,
            middles: vec![50.0, 150.0, 250.0, 400.0],
        }
    }

    #[test]
    fn a_row_lands_where_its_middle_is() {
        let mut one = drag(1);
        one.follow(130.0, 0.0);
        assert_eq!((one.to, one.lands_after(Some(1))), (1, false));
        one.follow(201.0, 0.0);
        assert_eq!((one.to, one.lands_after(Some(2)), one.lands_before(Some(2))), (2, true, false));
        one.follow(-20.0, 0.0);
        assert_eq!((one.to, one.lands_before(Some(0))), (0, true));
        one.follow(100.0, 300.0);
        assert_eq!(one.to, 3);
    }

    #[test]
    fn the_list_scrolls_at_the_edges_only() {
        assert!(scrolls_px(400.0, 844.0).abs() < 1e-12);
        assert!((scrolls_px(0.0, 844.0) + FASTEST_PX).abs() < 1e-12);
        assert!(scrolls_px(800.0, 844.0) > 0.0);
        assert!((scrolls_px(900.0, 844.0) - FASTEST_PX).abs() < 1e-12);
    }
}
