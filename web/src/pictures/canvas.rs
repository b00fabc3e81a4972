//! A canvas that shows a picture of a stage.

use std::sync::Arc;
use std::time::Duration;

use leptos::html;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::*;
use requests::{SeenRecord, StageRecord};
use staging::Stage;

use crate::canvas::observe_size;
use crate::pictures::lab::{Place, Standing, Wanted};
use crate::pictures::ladder::Rank;
use crate::pictures::pool::Pictures;

/// What a picture shows, and the shape of its image.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Look {
    /// What stands where, and who looks.
    pub(crate) stage: Arc<StageRecord>,
    /// The image's width over its height.
    pub(crate) aspect: f64,
}

/// The most pixels of the image to a CSS pixel's side: chosen because noise that eyes cannot tell apart need not be drawn
/// away.
const FINEST: f64 = 2.0;
/// The widest image: chosen because at 24 frames a second nobody judges focus in finer detail on a screen this small, and
/// its cost grows with the square.
const WIDEST_PX: f64 = 1280.0;
/// Rest before a small picture follows: chosen because what is beside the point of a drag must not slow it down.
const REST: Duration = Duration::from_millis(160);

/// A canvas that shows what its `look` says, as soon and as well as it can be drawn.
///
/// It says nothing to those who do not see it: what lies over it does.
#[component]
pub(crate) fn PictureCanvas(
    /// How much it matters.
    rank: Rank,
    /// Tells of every change of `look`.
    shows: Signal<()>,
    /// What it shows; none leaves it as it is.
    look: Signal<Option<Look>>,
    /// How far it is.
    standing: RwSignal<Standing>,
    /// How to ask what is seen in it.
    #[prop(optional)]
    picker: Option<Picker>,
    /// The canvas, for those who take what is on it.
    #[prop(optional)]
    node: NodeRef<html::Canvas>,
    /// The class of the canvas element.
    class: &'static str,
) -> impl IntoView {
    let size = RwSignal::new((0.0_f64, 0.0_f64));
    observe_size(node, size);
    let pictures = Pictures::here();
    let place = StoredValue::new(None::<Place>);
    Effect::new(move |_| {
        if let Some(canvas) = node.get() {
            place.set_value(pictures.add(rank, canvas, standing));
        }
    });
    let follow = move || {
        let (Some(Some(place)), Some(size)) = (place.try_get_value(), size.try_get_untracked()) else {
            return;
        };
        let wanted = untrack(|| look.try_get().flatten()).and_then(|look| look.at(size));
        if let Some(wanted) = wanted {
            if let Some(picker) = picker {
                picker.0.set_value(Some(Asked { pictures, place, size_px: wanted.size_px }));
            }
            pictures.want(place, wanted);
        }
    };
    let timer = StoredValue::new(None::<TimeoutHandle>);
    Effect::new(move |before: Option<()>| {
        shows.get();
        size.track();
        match rank {
            Rank::Large | Rank::Played | Rank::Still => follow(),
            Rank::Small => {
                // The first one waits for nothing.
                let rest = if before.is_some() { REST } else { Duration::ZERO };
                let wait = set_timeout_with_handle(follow, rest).ok();
                if let Some(earlier) =
                    timer.try_update_value(|timer| std::mem::replace(timer, wait)).flatten()
                {
                    earlier.clear();
                }
            }
        }
    });
    on_cleanup(move || {
        if let Some(wait) = timer.try_get_value().flatten() {
            wait.clear();
        }
        if let Some(Some(place)) = place.try_get_value() {
            pictures.remove(place);
        }
    });
    view! { <canvas node_ref=node class=class aria-hidden="true"></canvas> }
}

impl Look {
    /// The look of a stage in an image of that shape.
    pub(crate) fn of(stage: &Stage, aspect: f64) -> Self {
        Self { stage: Arc::new(StageRecord::from(stage)), aspect }
    }

    /// What is wanted in a box of so many CSS pixels; none while that has no size.
    fn at(self, (width, height): (f64, f64)) -> Option<Wanted> {
        if width < 1.0 || height < 1.0 {
            return None;
        }
        let fine = fineness();
        Some(Wanted { stage: self.stage, size_px: size_within(width * fine, height * fine, self.aspect) })
    }
}

/// How many pixels of an image there are to a CSS pixel's side.
pub(super) fn fineness() -> f64 {
    web_sys::window().map_or(1.0, |window| window.device_pixel_ratio()).clamp(1.0, FINEST)
}

/// The size of the largest image of that shape in a box, but not of one that is too wide.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "positive, and no wider than a screen"
)]
pub(super) fn size_within(width: f64, height: f64, aspect: f64) -> (u32, u32) {
    let wide = width.min(height * aspect).clamp(1.0, WIDEST_PX);
    (wide.round() as u32, (wide / aspect).round().max(1.0) as u32)
}

/// How to ask what is seen in a picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Picker(StoredValue<Option<Asked>, LocalStorage>);

/// What a picker asks: those who draw, about what, and in an image of that size.
#[derive(Debug, Clone, Copy)]
struct Asked {
    pictures: Pictures,
    place: Place,
    size_px: (u32, u32),
}

impl Picker {
    pub(crate) fn new() -> Self {
        Self(StoredValue::new_local(None))
    }

    /// Asks what is seen at those shares of the picture's width, from its left, and height, from its top.
    pub(crate) fn ask(self, across: f64, down: f64, then: impl FnOnce(Option<SeenRecord>) + 'static) {
        if let Some(Some(Asked { pictures, place, size_px: (width, height) })) = self.0.try_get_value() {
            pictures.pick(place, (across * f64::from(width), down * f64::from(height)), then);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_image_fills_its_box_one_way_and_is_never_too_wide() {
        assert_eq!(size_within(800.0, 400.0, 2.0), (800, 400));
        assert_eq!(size_within(800.0, 400.0, 2.39), (800, 335));
        assert_eq!(size_within(304.0, 160.0, 1.0), (160, 160));
        assert_eq!(size_within(3000.0, 2000.0, 16.0 / 9.0), (1280, 720));
    }
}
