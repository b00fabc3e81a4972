//! What a worker has begun, and which of it is being drawn: what it does with each request, without the worker.

use std::sync::Arc;

use render::{Photo, Screen};
use requests::{DrawingAnswer, DrawingRequest, PHOTOS_KEPT, PhotoNumber, SeenRecord};

use crate::drawing::{Drawing, Progress};

/// What a worker has begun, and which of it is being drawn.
#[derive(Debug, Default)]
pub(crate) struct Easel {
    /// Few, so a list: each with the page's number for the picture, and the part's.
    drawings: Vec<((u32, u32), Drawing)>,
    /// The photos that may stand behind them, the last one last.
    photos: Vec<(PhotoNumber, Arc<Photo>)>,
    screen: Screen,
    order: Option<Order>,
}

/// What is being drawn.
#[derive(Debug, Clone, Copy)]
struct Order {
    job: u32,
    part: u32,
    samples: u32,
    /// Samples of pixels since the order came.
    taken: f64,
    /// When it came.
    since_ms: f64,
    /// When the page last heard of it.
    told_ms: f64,
}

/// An answer and the pixels that go with it.
#[derive(Debug, PartialEq)]
pub(crate) struct Reply {
    pub(crate) answer: DrawingAnswer,
    pub(crate) pixels: Option<Vec<u8>>,
}

/// The longest that a worker draws without listening: chosen so that two of them fit into the time in which a change must
/// be seen.
const SLICE_MS: f64 = 20.0;
/// The longest that it draws without a word: chosen to be a small part of the time after which the page takes it for dead.
const SILENCE_MS: f64 = 500.0;

impl Easel {
    /// Does what the page asks for, up to drawing; `pixels` are those that came along.
    pub(crate) fn take(
        &mut self,
        request: DrawingRequest,
        pixels: Option<Vec<u8>>,
        now_ms: f64,
    ) -> Option<Reply> {
        match request {
            DrawingRequest::Begin { job, stage, width_px, height_px, part, parts } => {
                match Drawing::begin(&stage, (width_px, height_px), part, parts, &self.photos) {
                    Ok(drawing) => {
                        self.drawings.retain(|(one, _)| *one != (job, part));
                        self.drawings.push(((job, part), drawing));
                    }
                    Err(error) => return Some(refused(job, error.to_string())),
                }
            }
            DrawingRequest::Draw { job, part, samples } => {
                if !self.drawings.iter().any(|(one, _)| *one == (job, part)) {
                    return Some(refused(job, format!("part {part} has not been begun")));
                }
                self.order =
                    Some(Order { job, part, samples, taken: 0.0, since_ms: now_ms, told_ms: now_ms });
            }
            DrawingRequest::Rest => self.order = None,
            DrawingRequest::Forget { job } => {
                self.drawings.retain(|((one, _), _)| *one != job);
                if self.order.is_some_and(|order| order.job == job) {
                    self.order = None;
                }
            }
            DrawingRequest::Photo { number, width_px, height_px } => {
                self.photos.retain(|(one, _)| *one != number);
                // What is no photo is missed by the pictures behind which it should stand.
                let photo = pixels.and_then(|pixels| Photo::new(width_px, height_px, pixels))?;
                self.photos.push((number, Arc::new(photo)));
                let surplus = self.photos.len().saturating_sub(PHOTOS_KEPT);
                self.photos.drain(..surplus);
            }
            DrawingRequest::ForgetPhoto { number } => self.photos.retain(|(one, _)| *one != number),
            DrawingRequest::Pick { question, job, x_px, y_px } => {
                let drawing = self.drawings.iter().find(|((one, _), _)| *one == job);
                let seen = drawing.and_then(|(_, drawing)| drawing.pick(x_px, y_px)).map(|picked| {
                    SeenRecord { point_m: picked.point.to_array(), depth_m: picked.depth.to_m() }
                });
                return Some(plain(DrawingAnswer::Picked { question, seen }));
            }
        }
        None
    }

    /// Whether there is something to draw.
    pub(crate) const fn is_drawing(&self) -> bool {
        self.order.is_some()
    }

    /// Draws for a slice of time.
    pub(crate) fn slice(&mut self, clock: &impl Fn() -> f64) -> Option<Reply> {
        let order = self.order.as_mut()?;
        let is_ordered = |drawing: &&mut ((u32, u32), Drawing)| drawing.0 == (order.job, order.part);
        let (_, drawing) = self.drawings.iter_mut().find(is_ordered)?;
        let start = clock();
        let (progress, taken) = drawing.go_on(order.samples, || clock() - start >= SLICE_MS);
        order.taken += taken;
        let now = clock();
        let (job, part, samples) = (order.job, order.part, order.samples);
        match progress {
            Progress::Done => {
                let (taken, took_ms) = (order.taken, now - order.since_ms);
                let pixels = Some(drawing.pixels(&self.screen));
                self.order = None;
                Some(Reply { answer: DrawingAnswer::Drawn { job, part, samples, taken, took_ms }, pixels })
            }
            Progress::More if now - order.told_ms >= SILENCE_MS => {
                order.told_ms = now;
                Some(plain(DrawingAnswer::Busy))
            }
            Progress::More => None,
        }
    }
}

/// An answer without pixels.
pub(crate) const fn plain(answer: DrawingAnswer) -> Reply {
    Reply { answer, pixels: None }
}

fn refused(job: u32, why: String) -> Reply {
    plain(DrawingAnswer::Refused { job, why })
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;
    use crate::drawing::tests::{record, record_before_a_photo};

    fn begin(job: u32) -> DrawingRequest {
        DrawingRequest::Begin {
            job,
            stage: Box::new(record()),
            width_px: 32,
            height_px: 48,
            part: 0,
            parts: 1,
        }
    }

    const fn draw(job: u32, samples: u32) -> DrawingRequest {
        DrawingRequest::Draw { job, part: 0, samples }
    }

    /// A clock that goes on by so many milliseconds whenever it is looked at.
    fn clock(step_ms: f64) -> impl Fn() -> f64 {
        let now = Cell::new(0.0);
        move || now.replace(now.get() + step_ms)
    }

    #[test]
    fn a_part_is_handed_over_when_it_has_its_samples() {
        let mut easel = Easel::default();
        assert_eq!(easel.take(begin(1), None, 0.0), None);
        assert_eq!(easel.take(draw(1, 8), None, 0.0), None);
        let reply = easel.slice(&clock(0.0)).expect("drawn");
        assert!(
            matches!(reply.answer, DrawingAnswer::Drawn { job: 1, part: 0, samples: 8, .. }),
            "{reply:?}"
        );
        assert_eq!(reply.pixels.map(|pixels| pixels.len()), Some(32 * 48 * 4));
        assert!(!easel.is_drawing(), "nothing is left to draw");
    }

    #[test]
    fn a_later_order_is_heard_between_slices() {
        let mut easel = Easel::default();
        easel.take(begin(1), None, 0.0);
        easel.take(begin(2), None, 0.0);
        easel.take(draw(1, 1000), None, 0.0);
        let clock = clock(15.0);
        assert_eq!(easel.slice(&clock), None, "a thousand samples take more than a slice");
        easel.take(draw(2, 4), None, 0.0);
        let mut replies = (0..20).filter_map(|_| easel.slice(&clock));
        let reply = replies.next().expect("four samples take a few slices");
        assert!(matches!(reply.answer, DrawingAnswer::Drawn { job: 2, samples: 4, .. }), "{reply:?}");
    }

    #[test]
    fn long_work_is_not_silent() {
        let mut easel = Easel::default();
        easel.take(begin(1), None, 0.0);
        easel.take(draw(1, 1000), None, 0.0);
        let clock = clock(100.0);
        let replies: Vec<_> = (0..6).filter_map(|_| easel.slice(&clock)).collect();
        assert!(!replies.is_empty() && replies.iter().all(|reply| reply.answer == DrawingAnswer::Busy));
    }

    #[test]
    fn what_is_forgotten_is_not_drawn_any_more() {
        let mut easel = Easel::default();
        easel.take(begin(1), None, 0.0);
        easel.take(draw(1, 8), None, 0.0);
        easel.take(DrawingRequest::Forget { job: 1 }, None, 0.0);
        assert!(!easel.is_drawing(), "the order went with the picture");
        let reply = easel.take(draw(1, 8), None, 0.0).expect("refused");
        assert!(matches!(reply.answer, DrawingAnswer::Refused { job: 1, .. }), "{reply:?}");
    }

    /// Hands over a photo of one pixel.
    fn photo(easel: &mut Easel, number: u32) {
        let request = DrawingRequest::Photo { number: PhotoNumber(0, number), width_px: 1, height_px: 1 };
        assert_eq!(easel.take(request, Some(vec![9; 4]), 0.0), None);
    }

    /// What is said when a picture before photo 7 is begun.
    fn begun(easel: &mut Easel) -> Option<Reply> {
        let (width_px, height_px, part, parts) = (8, 8, 0, 1);
        let stage = Box::new(record_before_a_photo());
        easel.take(DrawingRequest::Begin { job: 1, stage, width_px, height_px, part, parts }, None, 0.0)
    }

    #[test]
    fn the_last_photos_are_kept_until_they_are_forgotten() {
        let mut easel = Easel::default();
        for number in [7, 1, 2] {
            photo(&mut easel, number);
        }
        assert_eq!(begun(&mut easel), None, "three are kept");
        photo(&mut easel, 3);
        assert!(matches!(begun(&mut easel).map(|reply| reply.answer), Some(DrawingAnswer::Refused { .. })));
        photo(&mut easel, 7);
        assert_eq!(begun(&mut easel), None);
        easel.take(DrawingRequest::ForgetPhoto { number: PhotoNumber(0, 7) }, None, 0.0);
        easel.take(draw(1, 4), None, 0.0);
        assert!(easel.slice(&clock(0.0)).is_some(), "what is begun has it still");
        assert!(begun(&mut easel).is_some(), "forgotten");
    }

    #[test]
    fn pixels_that_are_no_photo_are_missed() {
        let mut easel = Easel::default();
        for pixels in [None, Some(vec![9; 5])] {
            photo(&mut easel, 7);
            let request = DrawingRequest::Photo { number: PhotoNumber(0, 7), width_px: 1, height_px: 1 };
            easel.take(request, pixels, 0.0);
            let why = match begun(&mut easel).map(|reply| reply.answer) {
                Some(DrawingAnswer::Refused { why, .. }) => why,
                other => panic!("{other:?}"),
            };
            assert_eq!(why, "stage.backdrop.photo: has not been handed over");
        }
    }

    #[test]
    fn a_pixel_of_what_was_begun_can_be_asked_for() {
        let mut easel = Easel::default();
        easel.take(begin(3), None, 0.0);
        let pick = |job| DrawingRequest::Pick { question: 7, job, x_px: 16.0, y_px: 24.0 };
        let seen = |reply: Option<Reply>| match reply.map(|reply| reply.answer) {
            Some(DrawingAnswer::Picked { question: 7, seen }) => seen,
            other => panic!("{other:?}"),
        };
        assert!(seen(easel.take(pick(3), None, 0.0)).is_some(), "they stand in the middle");
        assert_eq!(seen(easel.take(pick(4), None, 0.0)), None);
    }
}
