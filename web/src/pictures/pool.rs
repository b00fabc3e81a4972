//! The lab in the browser: its workers, their messages, and the canvases on which their pixels appear.

use std::cell::{Cell, OnceCell, RefCell};
use std::rc::{Rc, Weak};
use std::time::Duration;

use js_sys::{Array, ArrayBuffer, Float64Array, Uint8ClampedArray};
use leptos::prelude::*;
use requests::{DrawingAnswer, DrawingRequest, STRIP_ROWS, SeenRecord, from_numbers, to_numbers};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{
    CanvasRenderingContext2d, Event, HtmlCanvasElement, ImageData, MessageEvent, WorkerOptions, WorkerType,
};

use crate::canvas::performance_now;
use crate::lasting::lasting;
use crate::pictures::behind::Behind;
use crate::pictures::lab::{Command, Lab, Place, Shown, Standing, Wanted};
use crate::pictures::ladder::Rank;
use crate::session::Session;

/// Where pictures are drawn: one for the page, found by every component of it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pictures(StoredValue<Rc<Pool>, LocalStorage>);

thread_local! {
    /// For as long as the page is open: starting workers anew for each screen would cost it its first moments.
    static LASTING: OnceCell<(Pictures, Owner)> = const { OnceCell::new() };
}

/// The lab with what it needs of the browser.
struct Pool {
    lab: RefCell<Lab<ArrayBuffer>>,
    behind: Behind,
    workers: RefCell<Vec<Option<Running>>>,
    frames: RefCell<Vec<Frame>>,
    questions: RefCell<Vec<(u32, Then)>>,
    next_question: Cell<u32>,
    is_counting: Cell<bool>,
    /// Itself, for what is called later.
    own: Weak<Self>,
}

impl std::fmt::Debug for Pool {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Pool").field("lab", &self.lab).finish_non_exhaustive()
    }
}

/// What is done with what is seen in a pixel.
type Then = Box<dyn FnOnce(Option<SeenRecord>)>;

/// A worker with what listens to it; it ends with this.
struct Running {
    worker: web_sys::Worker,
    _heard: Closure<dyn Fn(MessageEvent)>,
    _failed: Closure<dyn Fn(Event)>,
}

/// A place on the page.
struct Frame {
    place: Place,
    canvas: HtmlCanvasElement,
    standing: RwSignal<Standing>,
}

/// A movement is surely over after this: a little more than the lab counts.
const REST: Duration = Duration::from_millis(130);
/// More workers than this help little: their pixels have to be put on the page by one.
const MOST_WORKERS: u32 = 8;
/// The script that the build writes beside the module.
const WORKER: &str = "picture/worker.js";

impl Pictures {
    /// Gives the page its pictures, with the grain that is set. Workers start at once, beside the page that is made
    /// meanwhile; a screen that is opened later finds them, with what they have drawn.
    pub(crate) fn provide(session: Session) {
        let pictures = LASTING.with(|lasting| lasting.get_or_init(Self::lasting).0);
        // What was not on the device may have been taken in since.
        pictures.of_behind(Behind::forget_absent);
        provide_context(pictures);
        let grain = Memo::new(move |_| session.settings.with(|settings| settings.grain));
        Effect::new(move |_| {
            let grain = grain.get();
            pictures.0.try_with_value(|pool| pool.happens(|lab| lab.take_grain(grain)));
        });
    }

    /// Those that every screen of this module draws with, one after the other.
    fn lasting() -> (Self, Owner) {
        lasting(|| {
            let pool = Pool::open();
            pool.happens(Lab::start);
            Self(StoredValue::new_local(pool))
        })
    }

    /// The page's pictures.
    pub(crate) fn here() -> Self {
        // A component outside the page, as in a test, has pictures of its own.
        use_context().unwrap_or_else(|| Self(StoredValue::new_local(Pool::open())))
    }

    /// A place that shows pictures on that canvas, until it is removed.
    pub(super) fn add(
        self,
        rank: Rank,
        canvas: HtmlCanvasElement,
        standing: RwSignal<Standing>,
    ) -> Option<Place> {
        self.0.try_with_value(|pool| {
            let place = pool.lab.borrow_mut().add(rank);
            pool.frames.borrow_mut().push(Frame { place, canvas, standing });
            place
        })
    }

    /// The place is gone.
    pub(super) fn remove(self, place: Place) {
        self.0.try_with_value(|pool| {
            pool.frames.borrow_mut().retain(|frame| frame.place != place);
            pool.happens(|lab| lab.remove(place));
        });
    }

    /// The place shall show that.
    pub(super) fn want(self, place: Place, wanted: Wanted) {
        self.0.try_with_value(|pool| {
            let now = performance_now();
            let is_moving = pool.lab.borrow_mut().changes(place, now);
            let (wanted, ask) = pool.behind.drawable(place, wanted);
            if let Some(number) = ask {
                self.fetch(number);
            }
            pool.happens(|lab| lab.want(place, wanted));
            if is_moving {
                pool.rest_later();
            }
        });
    }

    /// How many draw, and samples of pixels that all together take in a millisecond.
    pub(super) fn strength(self) -> (usize, f64) {
        let strength = self.0.try_with_value(|pool| {
            let lab = pool.lab.borrow();
            (lab.hands(), lab.speed())
        });
        strength.unwrap_or((1, 0.0))
    }

    /// A photo is there for the pictures before it: red, green, blue and one more byte each, from the upper left, row by
    /// row. Its number is that of no other photo for as long as the page lives; pictures that name it wait until then.
    pub(super) fn lend_photo(self, number: u64, size_px: (u32, u32), rgba: ArrayBuffer) {
        self.0.try_with_value(|pool| pool.happens(|lab| lab.lend_photo(number.into(), size_px, rgba)));
    }

    /// The photos that pictures have named; none once the page has gone.
    pub(super) fn of_behind<Told>(self, tell: impl FnOnce(&Behind) -> Told) -> Option<Told> {
        self.0.try_with_value(|pool| tell(&pool.behind))
    }

    /// Tries again whatever was given up.
    pub(crate) fn retry(self) {
        self.0.try_with_value(|pool| pool.happens(Lab::retry));
    }

    /// Asks what is seen in a pixel of what a place wants to show.
    pub(super) fn pick(
        self,
        place: Place,
        at_px: (f64, f64),
        then: impl FnOnce(Option<SeenRecord>) + 'static,
    ) {
        self.0.try_with_value(|pool| {
            let question = pool.next_question.replace(pool.next_question.get().wrapping_add(1));
            let mut is_asked = false;
            pool.questions.borrow_mut().push((question, Box::new(then)));
            pool.happens(|lab| is_asked = lab.pick(place, at_px, question));
            if !is_asked {
                drop(pool.take_question(question));
            }
        });
    }
}

impl Pool {
    fn open() -> Rc<Self> {
        let cores = web_sys::window().map_or(1.0, |window| window.navigator().hardware_concurrency());
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number of cores")]
        let workers = (cores as u32).clamp(1, MOST_WORKERS);
        let pool = Rc::new_cyclic(|own| Self {
            lab: RefCell::new(Lab::new(usize::try_from(workers).unwrap_or(1))),
            behind: Behind::default(),
            workers: RefCell::default(),
            frames: RefCell::default(),
            questions: RefCell::default(),
            next_question: Cell::new(0),
            is_counting: Cell::new(false),
            own: Weak::clone(own),
        });
        pool.watch_visibility();
        pool
    }

    /// Tells the lab, and does what it then wants done.
    fn happens(&self, event: impl FnOnce(&mut Lab<ArrayBuffer>)) {
        event(&mut self.lab.borrow_mut());
        loop {
            let commands = self.lab.borrow_mut().take_commands();
            if commands.is_empty() {
                break;
            }
            for command in commands {
                match command {
                    Command::Start(worker) => self.start(worker),
                    Command::End(worker) => self.end(worker),
                    Command::Ask(worker, request) => self.ask(worker, &request, None),
                    Command::Lend(worker, request, pixels) => self.ask(worker, &request, Some(&pixels)),
                    Command::Show(shown) => {
                        let frames = self.frames.borrow();
                        if let Some(frame) = frames.iter().find(|frame| frame.place == shown.place) {
                            frame.show(&shown);
                        }
                    }
                }
            }
        }
        self.tell_standings();
        self.count_seconds();
    }

    /// Sends a worker a request, with a copy of pixels if there are some.
    fn ask(&self, worker: usize, request: &DrawingRequest, pixels: Option<&ArrayBuffer>) {
        let workers = self.workers.borrow();
        let running = workers.get(worker).and_then(Option::as_ref);
        if let (Ok(numbers), Some(running)) = (to_numbers(request), running) {
            let message = Float64Array::from(numbers.as_slice());
            let sent = match pixels {
                None => running.worker.post_message(&message),
                Some(pixels) => running.worker.post_message(&Array::of2(&message, pixels)),
            };
            debug_assert!(sent.is_ok(), "a plain value was refused: {sent:?}");
        }
    }

    /// Starts a worker; the one that had its number ends.
    fn start(&self, index: usize) {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let Ok(worker) = web_sys::Worker::new_with_options(WORKER, &options) else {
            self.lab.borrow_mut().lose(index);
            return;
        };
        let pool = Weak::clone(&self.own);
        let heard = Closure::new(move |event: MessageEvent| {
            if let Some(pool) = pool.upgrade() {
                pool.hear(index, &event.data());
            }
        });
        let pool = Weak::clone(&self.own);
        let failed = Closure::new(move |event: Event| {
            // It is mended here; the console is for what is not.
            event.prevent_default();
            if let Some(pool) = pool.upgrade() {
                pool.happens(|lab| lab.lose(index));
            }
        });
        worker.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        worker.set_onerror(Some(failed.as_ref().unchecked_ref()));
        worker.set_onmessageerror(Some(failed.as_ref().unchecked_ref()));
        let running = Running { worker, _heard: heard, _failed: failed };
        let mut workers = self.workers.borrow_mut();
        if workers.len() <= index {
            workers.resize_with(index + 1, || None);
        }
        let before = workers.get_mut(index).and_then(|place| place.replace(running));
        drop(workers);
        drop(before);
    }

    /// Ends a worker for good.
    fn end(&self, index: usize) {
        let ended = self.workers.borrow_mut().get_mut(index).and_then(Option::take);
        drop(ended);
    }

    /// A worker's message: an answer, or an answer and its pixels.
    fn hear(&self, worker: usize, message: &JsValue) {
        let (answer, pixels) = match message.dyn_ref::<Array>() {
            Some(both) => (both.get(0), both.get(1).dyn_into::<ArrayBuffer>().ok()),
            None => (message.clone(), None),
        };
        let numbers = answer.dyn_ref::<Float64Array>().map(Float64Array::to_vec).unwrap_or_default();
        match from_numbers::<DrawingAnswer>(&numbers) {
            Ok(DrawingAnswer::Picked { question, seen }) => {
                if let Some(then) = self.take_question(question) {
                    then(seen);
                }
            }
            Ok(answer) => self.happens(|lab| lab.hear(worker, &answer, pixels)),
            // Its script says this way that its module cannot be had.
            Err(_) => self.happens(|lab| lab.lose(worker)),
        }
    }

    fn take_question(&self, question: u32) -> Option<Then> {
        let mut questions = self.questions.borrow_mut();
        let at = questions.iter().position(|(one, _)| *one == question)?;
        Some(questions.swap_remove(at).1)
    }

    fn tell_standings(&self) {
        let lab = self.lab.borrow();
        let changes: Vec<_> = self
            .frames
            .borrow()
            .iter()
            .map(|frame| (frame.standing, lab.standing(frame.place)))
            .filter(|(standing, now)| standing.try_with_untracked(|before| before != now).unwrap_or(false))
            .collect();
        // Whoever is told may come back with a wish.
        drop(lab);
        for (standing, now) in changes {
            standing.set(now);
        }
    }

    /// Looks whether a movement is over, once it may be.
    fn rest_later(&self) {
        let pool = Weak::clone(&self.own);
        set_timeout(
            move || {
                if let Some(pool) = pool.upgrade() {
                    pool.happens(|lab| lab.rest(performance_now()));
                }
            },
            REST,
        );
    }

    /// Counts seconds for as long as a worker may turn out to be dead.
    fn count_seconds(&self) {
        if self.is_counting.get() || !self.lab.borrow().is_waiting() {
            return;
        }
        self.is_counting.set(true);
        let pool = Weak::clone(&self.own);
        set_timeout(
            move || {
                if let Some(pool) = pool.upgrade() {
                    pool.is_counting.set(false);
                    pool.happens(Lab::second);
                }
            },
            Duration::from_secs(1),
        );
    }

    /// Nothing is drawn while nobody can see it.
    fn watch_visibility(&self) {
        let Some(document) = web_sys::window().and_then(|window| window.document()) else { return };
        let pool = Weak::clone(&self.own);
        let watched = document.clone();
        let changed: Closure<dyn Fn()> = Closure::new(move || {
            if let Some(pool) = pool.upgrade() {
                pool.happens(|lab| lab.set_paused(watched.hidden()));
            }
        });
        self.lab.borrow_mut().set_paused(document.hidden());
        let heard =
            document.add_event_listener_with_callback("visibilitychange", changed.as_ref().unchecked_ref());
        debug_assert!(heard.is_ok(), "a document takes listeners: {heard:?}");
        // For as long as the page is open, as the pool is.
        changed.forget();
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        self.worker.set_onmessage(None);
        self.worker.set_onerror(None);
        self.worker.set_onmessageerror(None);
        self.worker.terminate();
    }
}

impl Frame {
    /// Puts pixels on the canvas.
    fn show(&self, shown: &Shown<ArrayBuffer>) {
        let (width, height) = shown.size_px;
        // Setting the size clears a canvas and is slow, so it is set only when it differs.
        if self.canvas.width() != width || self.canvas.height() != height {
            self.canvas.set_width(width);
            self.canvas.set_height(height);
        }
        let Some(context) = self.canvas.get_context("2d").unwrap_or(None).map(JsValue::from) else { return };
        let context: CanvasRenderingContext2d = context.unchecked_into();
        for (part, pixels) in &shown.pieces {
            let mut from_byte = 0;
            for strip in (*part..height.div_ceil(STRIP_ROWS)).step_by(step(shown.parts)) {
                let top = strip * STRIP_ROWS;
                let bytes = (height - top).min(STRIP_ROWS) * width * 4;
                let rows = Uint8ClampedArray::new_with_byte_offset_and_length(pixels, from_byte, bytes);
                from_byte += bytes;
                let drawn = ImageData::new_with_js_u8_clamped_array(&rows, width)
                    .and_then(|image| context.put_image_data(&image, 0.0, f64::from(top)));
                debug_assert!(drawn.is_ok(), "rows of a whole image: {drawn:?}");
            }
        }
        // For those who look at the page from outside: how good it is.
        let told = self.canvas.set_attribute("data-samples", &shown.samples.to_string());
        debug_assert!(told.is_ok(), "an attribute has a plain name: {told:?}");
    }
}

fn step(parts: u32) -> usize {
    usize::try_from(parts).unwrap_or(1).max(1)
}
