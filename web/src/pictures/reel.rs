//! The pictures of what plays, a take or a cut of many: drawn ahead by the workers and kept until they were shown.

mod schedule;

use std::sync::Arc;

use leptos::prelude::*;
use requests::StageRecord;
use staging::Stage;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

use crate::pictures::canvas::{fineness, size_within};
use crate::pictures::lab::{Place, Standing, Wanted};
use crate::pictures::ladder::{PLAYED_SAMPLES, Rank};
use crate::pictures::pool::Pictures;
pub(crate) use crate::pictures::reel::schedule::Cue;
use crate::pictures::reel::schedule::{Limits, Schedule};

/// The pictures of what plays.
#[derive(Debug)]
pub(crate) struct Reel {
    pictures: Pictures,
    schedule: Schedule,
    /// The size of a picture of what moves.
    size_px: (u32, u32),
    /// The size of a still.
    still_px: (u32, u32),
    slots: Vec<Slot>,
    /// The pictures that are there, with the numbers of their frames.
    kept: Vec<(usize, HtmlCanvasElement)>,
    /// What was put on the canvas last: its frame, and whether that was as good as it gets.
    on_screen: Option<(usize, bool)>,
}

/// Where one frame at a time is drawn.
#[derive(Debug)]
struct Slot {
    standing: RwSignal<Standing>,
    drawing: Option<Drawing>,
}

/// A frame on its way.
#[derive(Debug)]
struct Drawing {
    frame: usize,
    place: Place,
    canvas: HtmlCanvasElement,
}

/// Frames shown in a second: those of films, however many the phone captures.
pub(crate) const RATE_FPS: f64 = 24.0;
/// The widest picture of what moves: chosen because nobody sees more detail in it, and time is short.
const WIDEST_PX: f64 = 640.0;
/// The narrowest: chosen because a face in a medium shot still reads.
const NARROWEST_PX: f64 = 240.0;
/// The share of the workers' time that drawing may take: chosen, for messages and shadow grids take the rest.
const SHARE_OF_TIME: f64 = 0.6;
/// The most bytes of pixels that are kept: chosen to hold ten seconds on a phone.
const MOST_BYTES: f64 = 48.0 * 1024.0 * 1024.0;

impl Reel {
    /// The reel of a take of that length, in frames of that shape shown at that width.
    pub(crate) fn of_take(pictures: Pictures, duration_s: f64, aspect: f64, shown_px: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a take has minutes")]
        let count = (duration_s * RATE_FPS).floor().max(0.0) as u32 + 1;
        Self::new(pictures, Cue::moving(0.0, count, RATE_FPS), aspect, shown_px)
    }

    /// The reel of those pictures, in frames of that shape shown at that width.
    pub(crate) fn new(
        pictures: Pictures,
        cues: impl IntoIterator<Item = Cue>,
        aspect: f64,
        shown_px: f64,
    ) -> Self {
        let (hands, samples_per_ms) = pictures.strength();
        let in_time = samples_per_ms * (1000.0 / RATE_FPS) * SHARE_OF_TIME / f64::from(PLAYED_SAMPLES);
        let wide = (in_time * aspect).sqrt().min(shown_px).clamp(NARROWEST_PX, WIDEST_PX);
        let (wide, high) = (wide.round(), (wide / aspect).round().max(1.0));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positive and small")]
        let (size_px, kept) = ((wide as u32, high as u32), (MOST_BYTES / (wide * high * 4.0)) as usize);
        let shown_px = shown_px.max(NARROWEST_PX) * fineness();
        let still_px = size_within(shown_px, shown_px / aspect, aspect);
        let pixels = |(wide, high): (u32, u32)| u64::from(wide) * u64::from(high);
        let still = usize::try_from(pixels(still_px).div_ceil(pixels(size_px).max(1))).unwrap_or(1);
        // One more than draw, so that nobody waits for the page.
        let limits = Limits { under_way: hands + 1, kept, still };
        let schedule = Schedule::new(cues, limits);
        Self { pictures, schedule, size_px, still_px, slots: Vec::new(), kept: Vec::new(), on_screen: None }
    }

    /// Takes in what is drawn, and has drawn what is worth it at that moment; `stage` tells what is seen then.
    pub(crate) fn go_on(&mut self, seconds: f64, now_s: f64, stage: impl Fn(f64) -> Option<Stage>) {
        self.take_in(now_s);
        while let Some(frame) = self.schedule.let_go(seconds) {
            self.kept.retain(|(one, _)| *one != frame);
        }
        while let Some(frame) = self.schedule.next(seconds, now_s) {
            let stage = self.schedule.cue_of(frame).and_then(|cue| Some((cue, stage(cue.at_s)?)));
            let is_begun = stage.is_some_and(|(cue, stage)| self.begin(frame, cue, &stage));
            if !is_begun {
                // There will be nothing of it: it must not be waited for.
                self.schedule.is_drawn(frame, now_s);
            }
        }
    }

    /// Takes in what is drawn.
    fn take_in(&mut self, now_s: f64) {
        for slot in &mut self.slots {
            let Some(drawing) = &slot.drawing else { continue };
            let frame = drawing.frame;
            let (has_some, is_over) = match slot.standing.try_get_untracked() {
                Some(Standing::Waiting) => (false, false),
                Some(Standing::Refining) => (true, false),
                Some(Standing::Finished | Standing::Failed(_)) | None => (true, true),
            };
            if has_some && !self.kept.iter().any(|(one, _)| *one == frame) {
                self.kept.push((frame, drawing.canvas.clone()));
                self.schedule.is_begun(frame, now_s);
            }
            if is_over {
                self.pictures.remove(drawing.place);
                self.schedule.is_drawn(frame, now_s);
                slot.drawing = None;
            }
        }
    }

    /// Has a frame drawn; false if the browser has no canvas for it.
    fn begin(&mut self, frame: usize, cue: Cue, stage: &Stage) -> bool {
        let free = self.slots.iter().position(|slot| slot.drawing.is_none());
        let at = free.unwrap_or(self.slots.len());
        if free.is_none() {
            self.slots.push(Slot { standing: RwSignal::new(Standing::Waiting), drawing: None });
        }
        let (Some(slot), Some(canvas)) = (self.slots.get_mut(at), new_canvas()) else { return false };
        slot.standing.set(Standing::Waiting);
        let (rank, size_px) =
            if cue.is_still { (Rank::Still, self.still_px) } else { (Rank::Played, self.size_px) };
        let Some(place) = self.pictures.add(rank, canvas.clone(), slot.standing) else { return false };
        slot.drawing = Some(Drawing { frame, place, canvas });
        self.pictures.want(place, Wanted { stage: Arc::new(StageRecord::from(stage)), size_px });
        true
    }

    /// Shows that moment on a canvas; false while there is nothing of it yet.
    pub(crate) fn show(&mut self, seconds: f64, on: &HtmlCanvasElement) -> bool {
        let Some(due) = self.schedule.shown(seconds) else { return false };
        let is_drawn =
            !self.slots.iter().any(|slot| slot.drawing.as_ref().is_some_and(|one| one.frame == due));
        if self.on_screen == Some((due, true)) {
            return true;
        }
        let Some((_, picture)) = self.kept.iter().find(|(frame, _)| *frame == due) else { return false };
        let (width, height) = (picture.width(), picture.height());
        if on.width() != width || on.height() != height {
            on.set_width(width);
            on.set_height(height);
        }
        let shown = context_of(on)
            .is_some_and(|context| context.draw_image_with_html_canvas_element(picture, 0.0, 0.0).is_ok());
        self.on_screen = shown.then_some((due, is_drawn));
        shown
    }

    /// Takes what was shown off the canvas.
    pub(crate) fn clear(&mut self, on: &HtmlCanvasElement) {
        self.on_screen = None;
        if let Some(context) = context_of(on) {
            context.clear_rect(0.0, 0.0, f64::from(on.width()), f64::from(on.height()));
        }
    }
}

impl Drop for Reel {
    fn drop(&mut self) {
        for slot in &mut self.slots {
            if let Some(drawing) = slot.drawing.take() {
                self.pictures.remove(drawing.place);
            }
            slot.standing.dispose();
        }
    }
}

/// A canvas that is not in the page.
fn new_canvas() -> Option<HtmlCanvasElement> {
    document().create_element("canvas").ok().map(JsCast::unchecked_into)
}

/// What draws on a canvas.
fn context_of(canvas: &HtmlCanvasElement) -> Option<CanvasRenderingContext2d> {
    canvas.get_context("2d").unwrap_or(None).map(|context| JsValue::from(context).unchecked_into())
}

/// Whether the person asks for less motion: then nothing moves by itself.
pub(crate) fn wants_less_motion() -> bool {
    let media = window().match_media("(prefers-reduced-motion: reduce)");
    media.unwrap_or(None).is_some_and(|media| media.matches())
}
