//! The pictures of a take that plays: drawn ahead by the workers, each in one step, and kept until they were shown.

mod schedule;

use std::sync::Arc;

use leptos::prelude::*;
use requests::StageRecord;
use staging::Stage;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

use crate::pictures::lab::{Place, Standing, Wanted};
use crate::pictures::ladder::{PLAYED_SAMPLES, Rank};
use crate::pictures::pool::Pictures;
use crate::pictures::reel::schedule::Schedule;

/// The pictures of a take that plays.
#[derive(Debug)]
pub(crate) struct Reel {
    pictures: Pictures,
    schedule: Schedule,
    size_px: (u32, u32),
    slots: Vec<Slot>,
    /// The pictures that are there, with the numbers of their frames.
    kept: Vec<(usize, HtmlCanvasElement)>,
}

/// Where one frame at a time is drawn.
#[derive(Debug)]
struct Slot {
    standing: RwSignal<Standing>,
    drawing: Option<(usize, Place, HtmlCanvasElement)>,
}

/// Frames shown in a second: those of films, however many the phone captures.
const RATE_FPS: f64 = 24.0;
/// The widest played picture: chosen because nobody sees more detail in what moves, and time is short.
const WIDEST_PX: f64 = 640.0;
/// The narrowest: chosen because a face in a medium shot still reads.
const NARROWEST_PX: f64 = 240.0;
/// The share of the workers' time that drawing may take: chosen, for messages and shadow grids take the rest.
const SHARE_OF_TIME: f64 = 0.6;
/// The most bytes of pixels that are kept: chosen to hold ten seconds on a phone.
const MOST_BYTES: f64 = 48.0 * 1024.0 * 1024.0;

impl Reel {
    /// The reel of a take of that length, in frames of that shape shown at that width.
    pub(crate) fn new(pictures: Pictures, duration_s: f64, aspect: f64, shown_px: f64) -> Self {
        let (hands, samples_per_ms) = pictures.strength();
        let in_time = samples_per_ms * (1000.0 / RATE_FPS) * SHARE_OF_TIME / f64::from(PLAYED_SAMPLES);
        let wide = (in_time * aspect).sqrt().min(shown_px).clamp(NARROWEST_PX, WIDEST_PX);
        let (wide, high) = (wide.round(), (wide / aspect).round().max(1.0));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positive and small")]
        let (size_px, most_kept) = ((wide as u32, high as u32), (MOST_BYTES / (wide * high * 4.0)) as usize);
        // One more than draw, so that nobody waits for the page.
        let slots = (0..=hands).map(|_| Slot { standing: RwSignal::new(Standing::Waiting), drawing: None });
        Self {
            pictures,
            schedule: Schedule::new(duration_s, RATE_FPS, hands + 1, most_kept),
            size_px,
            slots: slots.collect(),
            kept: Vec::new(),
        }
    }

    /// Takes in what is drawn, and has drawn what is worth it at that moment of the take; `stage` tells what is seen then.
    pub(crate) fn go_on(&mut self, seconds: f64, now_s: f64, stage: impl Fn(f64) -> Stage) {
        for slot in &mut self.slots {
            let is_over = matches!(
                slot.standing.try_get_untracked(),
                Some(Standing::Finished | Standing::Failed(_)) | None
            );
            if let Some((frame, place, canvas)) = slot.drawing.take_if(|_| is_over) {
                self.pictures.remove(place);
                self.kept.push((frame, canvas));
                self.schedule.is_drawn(frame, now_s);
            }
        }
        while let Some(frame) = self.schedule.let_go(seconds) {
            self.kept.retain(|(one, _)| *one != frame);
        }
        for slot in self.slots.iter_mut().filter(|slot| slot.drawing.is_none()) {
            let Some(canvas) = new_canvas() else { break };
            let Some(frame) = self.schedule.next(seconds, now_s) else { break };
            slot.standing.set(Standing::Waiting);
            let Some(place) = self.pictures.add(Rank::Played, canvas.clone(), slot.standing) else { break };
            slot.drawing = Some((frame, place, canvas));
            let stage = Arc::new(StageRecord::from(&stage(self.schedule.moment_of(frame))));
            self.pictures.want(place, Wanted { stage, size_px: self.size_px });
        }
    }

    /// Shows that moment of the take on a canvas; false while there is nothing of it yet.
    pub(crate) fn show(&self, seconds: f64, on: &HtmlCanvasElement) -> bool {
        let due = self.schedule.shown(seconds);
        let Some((_, picture)) = self.kept.iter().find(|(frame, _)| Some(*frame) == due) else {
            return false;
        };
        let (width, height) = self.size_px;
        if on.width() != width || on.height() != height {
            on.set_width(width);
            on.set_height(height);
        }
        let Some(context) = on.get_context("2d").unwrap_or(None).map(JsValue::from) else { return false };
        let context: CanvasRenderingContext2d = context.unchecked_into();
        context.draw_image_with_html_canvas_element(picture, 0.0, 0.0).is_ok()
    }
}

impl Drop for Reel {
    fn drop(&mut self) {
        for slot in &mut self.slots {
            if let Some((_, place, _)) = slot.drawing.take() {
                self.pictures.remove(place);
            }
            slot.standing.dispose();
        }
    }
}

/// A canvas that is not in the page.
fn new_canvas() -> Option<HtmlCanvasElement> {
    document().create_element("canvas").ok().map(JsCast::unchecked_into)
}
