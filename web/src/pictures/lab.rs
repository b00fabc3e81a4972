//! Who draws what next: the pictures that are wanted, how far each is, and what every worker does.
//!
//! Nothing here knows a browser: events come in, and commands are taken out.

mod job;
mod worker;

use language::{key, say, text};
use requests::{DrawingAnswer, DrawingRequest, PhotoNumber};

use crate::pictures::lab::job::Job;
pub(crate) use crate::pictures::lab::job::Wanted;
use crate::pictures::lab::worker::{MOST_FAILURES, State, Worker};
use crate::pictures::ladder::{Grain, Rank, first_size};
use crate::pictures::shelf::Shelf;

/// A place on the page where a picture is shown, by number.
pub(super) type Place = u32;

/// What is to be done in the browser.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Command<Pixels> {
    /// Start this worker, instead of the one that had its number.
    Start(usize),
    /// End this worker, in whose place no other comes: what it had in memory is free again.
    End(usize),
    /// Send a request to a worker.
    Ask(usize, DrawingRequest),
    /// Send it a request with a copy of these pixels.
    Lend(usize, DrawingRequest, Pixels),
    /// Show pixels.
    Show(Shown<Pixels>),
}

/// Pixels to show.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shown<Pixels> {
    pub(super) place: Place,
    /// The size of the image that they are part of.
    pub(super) size_px: (u32, u32),
    /// In how many parts that was drawn.
    pub(super) parts: u32,
    /// Parts by number.
    pub(super) pieces: Vec<(u32, Pixels)>,
    /// The least samples that a pixel of the image has.
    pub(super) samples: u32,
}

/// How a place stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Standing {
    /// It shows nothing yet, or something else than is wanted.
    Waiting,
    /// It shows what is wanted, and gets better.
    Refining,
    /// It shows what is wanted, as good as it gets.
    Finished,
    /// What is wanted cannot be drawn, and why.
    Failed(String),
}

/// A place with what it wants and what is done about it.
#[derive(Debug)]
struct Target<Pixels> {
    place: Place,
    rank: Rank,
    wanted: Option<Wanted>,
    job: Option<Job<Pixels>>,
    /// What it shows, finished or not.
    shows: Option<Wanted>,
    failed: Option<String>,
}

/// A photo that may stand behind pictures.
#[derive(Debug)]
struct Photo<Pixels> {
    number: PhotoNumber,
    size_px: (u32, u32),
    pixels: Pixels,
}

/// Why there is no picture of what stops whoever draws it.
const FAILS_AGAIN: &str = key!("drawing it fails again and again");

/// Samples of pixels that a worker takes in a millisecond, as long as nobody has measured it: chosen for a slow phone.
const UNMEASURED_PER_MS: f64 = 20_000.0;

/// Changes nearer to each other than this are a movement, milliseconds: chosen because a hand that stops is slower.
const MOVING_MS: f64 = 120.0;

/// The pictures that are wanted and those that draw them.
#[derive(Debug)]
pub(super) struct Lab<Pixels> {
    /// Few, so a list, in the order of their numbers.
    targets: Vec<Target<Pixels>>,
    workers: Vec<Worker>,
    shelf: Shelf<Pixels>,
    /// The photos that may stand behind pictures.
    photos: Vec<Photo<Pixels>>,
    commands: Vec<Command<Pixels>>,
    next_place: Place,
    next_job: u32,
    is_paused: bool,
    grain: Grain,
    /// When a large picture changed last, and whether that was in the middle of a movement.
    changed_ms: f64,
    is_moving: bool,
    /// Samples of pixels that a worker takes in a millisecond.
    samples_per_ms: f64,
}

impl<Pixels: Clone> Lab<Pixels> {
    /// A lab with so many workers, none of them started yet.
    pub(super) fn new(workers: usize) -> Self {
        Self {
            targets: Vec::new(),
            workers: vec![Worker::UNSTARTED; workers.max(1)],
            shelf: Shelf::default(),
            photos: Vec::new(),
            commands: Vec::new(),
            next_place: 0,
            next_job: 0,
            is_paused: false,
            grain: Grain::Fine,
            changed_ms: f64::NEG_INFINITY,
            is_moving: false,
            samples_per_ms: UNMEASURED_PER_MS,
        }
    }

    /// Has the workers started, if they are not: before there is something to draw, it is drawn the sooner.
    pub(super) fn start(&mut self) {
        for (index, worker) in self.workers.iter_mut().enumerate() {
            if worker.state == State::Unstarted {
                worker.state = State::Starting;
                self.commands.push(Command::Start(index));
            }
        }
    }

    /// A new place for a picture.
    pub(super) fn add(&mut self, rank: Rank) -> Place {
        let place = self.next_place;
        self.next_place += 1;
        let target = Target { place, rank, wanted: None, job: None, shows: None, failed: None };
        self.targets.push(target);
        place
    }

    /// The place is gone.
    pub(super) fn remove(&mut self, place: Place) {
        self.drop_job(place);
        self.targets.retain(|target| target.place != place);
        self.arrange();
    }

    /// The place shall show that.
    pub(super) fn want(&mut self, place: Place, wanted: Wanted) {
        let Some(target) = self.target_mut(place) else { return };
        if target.wanted.as_ref() == Some(&wanted) {
            return;
        }
        target.wanted = Some(wanted.clone());
        target.failed = None;
        let is_unseen = |job: &Job<Pixels>| job.is_under_way() && target.shows.as_ref() != Some(&job.wanted);
        let is_first_under_way = target.job.as_ref().is_some_and(is_unseen);
        if let Some(job) = &mut target.job {
            job.is_stale = job.wanted != wanted;
        }
        if let Some(parts) = self.shelf.take_down(&wanted) {
            self.drop_job(place);
            self.show_finished(place, wanted, parts);
        } else if !is_first_under_way {
            // What is under way is finished first: a hand that moves faster than it can be drawn would else see nothing.
            self.begin(place);
        }
        self.arrange();
    }

    /// What a worker said, with the pixels that came along.
    pub(super) fn hear(&mut self, index: usize, answer: &DrawingAnswer, pixels: Option<Pixels>) {
        let place = match answer {
            DrawingAnswer::Drawn { job, .. } => self.place_of(*job),
            DrawingAnswer::Ready
            | DrawingAnswer::Busy
            | DrawingAnswer::Refused { .. }
            | DrawingAnswer::Picked { .. } => None,
        };
        let Some(worker) = self.workers.get_mut(index) else { return };
        worker.is_heard();
        match answer {
            DrawingAnswer::Ready => worker.state = State::Idle,
            DrawingAnswer::Busy | DrawingAnswer::Picked { .. } => return,
            DrawingAnswer::Refused { job, why } => self.give_up(*job, why),
            DrawingAnswer::Drawn { job: _, part, samples, taken, took_ms } => {
                // What was forgotten meanwhile does not count: the worker does something else by now.
                let (Some(place), Some(pixels)) = (place, pixels) else { return };
                worker.has_drawn();
                self.measure(*taken, *took_ms);
                self.take_in(place, *part, *samples, pixels);
            }
        }
        self.arrange();
    }

    /// A worker is dead: another takes its place, and what it was drawing is drawn again.
    pub(super) fn lose(&mut self, index: usize) {
        let Some(worker) = self.workers.get_mut(index).filter(|worker| worker.state != State::Gone) else {
            return;
        };
        let before = worker.state;
        self.commands.push(if worker.is_lost() { Command::Start(index) } else { Command::End(index) });
        let mut given_up = None;
        for job in self.targets.iter_mut().filter_map(|target| target.job.as_mut()) {
            for part in job.parts.iter_mut().filter(|part| part.worker == Some(index)) {
                part.worker = None;
            }
            if before == State::Busy(job.number) {
                job.losses += 1;
                given_up = (job.losses >= MOST_FAILURES).then_some(job.number);
            }
        }
        if let Some(job) = given_up {
            self.give_up(job, text(FAILS_AGAIN));
        }
        self.arrange();
    }

    /// A photo is there: what waited for it can be drawn. Each goes to a worker with the first picture that needs it.
    pub(super) fn lend_photo(&mut self, number: PhotoNumber, size_px: (u32, u32), pixels: Pixels) {
        self.forget_photo(number);
        self.photos.push(Photo { number, size_px, pixels });
        self.arrange();
    }

    /// A photo is not needed any more; what is wanted before it waits.
    pub(super) fn forget_photo(&mut self, number: PhotoNumber) {
        self.photos.retain(|photo| photo.number != number);
        for (index, worker) in self.workers.iter_mut().enumerate() {
            if worker.forgets(number) {
                self.commands.push(Command::Ask(index, DrawingRequest::ForgetPhoto { number }));
            }
        }
    }

    /// Whether the photo behind a picture is there, if it has one.
    fn has_photo(&self, wanted: &Wanted) -> bool {
        wanted.photo().is_none_or(|number| self.photos.iter().any(|photo| photo.number == number))
    }

    /// Hands a worker the photo behind a picture, unless it has it.
    fn hand_over(&mut self, index: usize, photo: Option<PhotoNumber>) {
        let photo = self.photos.iter().find(|one| Some(one.number) == photo);
        if let (Some(photo), Some(worker)) = (photo, self.workers.get_mut(index))
            && worker.needs(photo.number)
        {
            let Photo { number, size_px: (width_px, height_px), .. } = *photo;
            let request = DrawingRequest::Photo { number, width_px, height_px };
            self.commands.push(Command::Lend(index, request, photo.pixels.clone()));
        }
    }

    /// A second has gone.
    pub(super) fn second(&mut self) {
        for index in 0..self.workers.len() {
            if self.workers.get_mut(index).is_some_and(Worker::second) {
                self.lose(index);
            }
        }
    }

    /// The place is about to want something else: says whether it is in the middle of a movement, such as a drag, in which
    /// first images are all that is drawn. The page needs its cores then.
    pub(super) fn changes(&mut self, place: Place, now_ms: f64) -> bool {
        if self.target(place).is_some_and(|target| target.rank == Rank::Large) {
            self.is_moving = now_ms - self.changed_ms < MOVING_MS;
            self.changed_ms = now_ms;
        }
        self.is_moving
    }

    /// Time has gone: after a while without a change a movement is over.
    pub(super) fn rest(&mut self, now_ms: f64) {
        if self.is_moving && now_ms - self.changed_ms >= MOVING_MS {
            self.is_moving = false;
            self.arrange();
        }
    }

    /// Nobody looks, or somebody does again.
    pub(super) fn set_paused(&mut self, is_paused: bool) {
        self.is_paused = is_paused;
        if is_paused {
            for (index, worker) in self.workers.iter_mut().enumerate() {
                if matches!(worker.state, State::Busy(_)) {
                    worker.state = State::Idle;
                    self.commands.push(Command::Ask(index, DrawingRequest::Rest));
                }
            }
        }
        self.arrange();
    }

    /// From now on pictures keep so much grain.
    pub(super) fn take_grain(&mut self, grain: Grain) {
        if std::mem::replace(&mut self.grain, grain) == grain {
            return;
        }
        let is_finer = grain == Grain::Fine;
        if is_finer {
            self.shelf = Shelf::default();
        }
        // What is finished with less grain than it may keep stays.
        let again = self.targets.iter().filter(|target| is_finer || target.job.is_some());
        for place in again.map(|target| target.place).collect::<Vec<Place>>() {
            self.begin(place);
        }
        self.arrange();
    }

    /// Tries again whatever was given up.
    pub(super) fn retry(&mut self) {
        for worker in self.workers.iter_mut().filter(|worker| worker.state == State::Gone) {
            *worker = Worker::UNSTARTED;
        }
        let failed = self.targets.iter_mut().filter_map(|target| target.failed.take().map(|_| target.place));
        for place in failed.collect::<Vec<Place>>() {
            self.begin(place);
        }
        self.arrange();
    }

    /// Asks what is seen in a pixel of the picture that a place wants; false if nobody can be asked.
    pub(super) fn pick(&mut self, place: Place, (x_px, y_px): (f64, f64), question: u32) -> bool {
        let wanted = self.target(place).and_then(|target| target.wanted.clone());
        let wanted = wanted.filter(|wanted| self.has_photo(wanted));
        let (Some(wanted), Some(worker)) = (wanted, self.workers.iter().position(Worker::listens)) else {
            return false;
        };
        self.hand_over(worker, wanted.photo());
        // A job of its own: the picture may be finished, or from the shelf, and forgotten by those who drew it.
        let job = self.next_job;
        self.next_job += 1;
        let requests = [
            wanted.request(job, wanted.size_px, 0, 1),
            DrawingRequest::Pick { question, job, x_px, y_px },
            DrawingRequest::Forget { job },
        ];
        self.commands.extend(requests.map(|request| Command::Ask(worker, request)));
        true
    }

    /// How a place stands.
    pub(super) fn standing(&self, place: Place) -> Standing {
        let Some(target) = self.target(place) else { return Standing::Waiting };
        if let Some(why) = &target.failed {
            return Standing::Failed(why.clone());
        }
        if target.job.is_some() && self.workers.iter().all(|worker| worker.state == State::Gone) {
            let have_come = self.workers.iter().any(Worker::had_come);
            let why = if have_come { text(FAILS_AGAIN) } else { say!("what draws it could not be loaded") };
            return Standing::Failed(why.to_owned());
        }
        // A place of which nothing is wanted yet shows nothing either.
        let shows_it = target.wanted.is_some() && target.shows == target.wanted;
        match (shows_it, &target.job) {
            (false, _) => Standing::Waiting,
            (true, Some(_)) => Standing::Refining,
            (true, None) => Standing::Finished,
        }
    }

    /// How many workers draw, or would.
    pub(super) fn hands(&self) -> usize {
        usize::try_from(self.live()).unwrap_or(1)
    }

    /// Samples of pixels that all workers together take in a millisecond.
    pub(super) fn speed(&self) -> f64 {
        self.samples_per_ms * f64::from(self.live())
    }

    /// Whether seconds are worth counting: something is expected of a worker.
    pub(super) fn is_waiting(&self) -> bool {
        self.workers.iter().any(Worker::is_awaited)
    }

    /// What is to be done in the browser since this was asked last.
    pub(super) fn take_commands(&mut self) -> Vec<Command<Pixels>> {
        std::mem::take(&mut self.commands)
    }

    fn target(&self, place: Place) -> Option<&Target<Pixels>> {
        self.targets.iter().find(|target| target.place == place)
    }

    fn target_mut(&mut self, place: Place) -> Option<&mut Target<Pixels>> {
        self.targets.iter_mut().find(|target| target.place == place)
    }

    fn place_of(&self, job: u32) -> Option<Place> {
        let is_its = |target: &Target<Pixels>| target.job.as_ref().is_some_and(|one| one.number == job);
        self.targets.iter().find(|target| is_its(target)).map(|target| target.place)
    }

    fn measure(&mut self, taken: f64, took_ms: f64) {
        if taken > 0.0 && took_ms > 0.0 {
            // Half the past, so that one step that was interrupted does not count for much.
            self.samples_per_ms = f64::midpoint(self.samples_per_ms, taken / took_ms);
        }
    }

    /// How many workers there are, or will be.
    fn live(&self) -> u32 {
        let live = self.workers.iter().filter(|worker| worker.state != State::Gone).count();
        u32::try_from(live).unwrap_or(1).max(1)
    }

    /// Starts what the place wants, with its first image.
    fn begin(&mut self, place: Place) {
        let Some(target) = self.target(place) else { return };
        let Some(size) = target.wanted.as_ref().map(|wanted| wanted.size_px) else { return };
        let first = match target.rank {
            Rank::Large => first_size(size, self.speed()),
            Rank::Small | Rank::Played | Rank::Still => size,
        };
        self.begin_at(place, first);
    }

    /// Starts what the place wants at that size.
    fn begin_at(&mut self, place: Place, size_px: (u32, u32)) {
        self.drop_job(place);
        let (live, number) = (self.live(), self.next_job);
        self.next_job += 1;
        let Some(target) = self.target_mut(place) else { return };
        // There are as many small pictures as workers or more: each is drawn by one.
        let parts = match target.rank {
            Rank::Large => live,
            Rank::Small | Rank::Played | Rank::Still => 1,
        };
        target.job = target.wanted.clone().map(|wanted| Job::new(number, wanted, size_px, parts));
    }

    /// Stops drawing for a place.
    fn drop_job(&mut self, place: Place) {
        let Some(job) = self.target_mut(place).and_then(|target| target.job.take()) else { return };
        for (index, worker) in self.workers.iter_mut().enumerate() {
            if worker.state == State::Busy(job.number) {
                worker.state = State::Idle;
            }
            if job.parts.iter().any(|part| part.worker == Some(index)) {
                self.commands.push(Command::Ask(index, DrawingRequest::Forget { job: job.number }));
            }
        }
    }

    /// Stops drawing what cannot be drawn.
    fn give_up(&mut self, job: u32, why: &str) {
        let Some(place) = self.place_of(job) else { return };
        self.drop_job(place);
        if let Some(target) = self.target_mut(place) {
            target.failed = Some(why.to_owned());
        }
    }

    fn show_finished(&mut self, place: Place, wanted: Wanted, parts: Vec<Pixels>) {
        let grain = self.grain;
        let Some(target) = self.target_mut(place) else { return };
        let (size_px, samples) = (wanted.size_px, target.rank.goal(grain));
        target.shows = Some(wanted);
        let count = u32::try_from(parts.len()).unwrap_or(u32::MAX);
        let pieces = (0..).zip(parts).collect();
        self.commands.push(Command::Show(Shown { place, size_px, parts: count, pieces, samples }));
    }

    /// Pixels of a part of a place's job have come.
    fn take_in(&mut self, place: Place, number: u32, samples: u32, pixels: Pixels) {
        let Some(target) = self.targets.iter_mut().find(|target| target.place == place) else { return };
        let Some(job) = &mut target.job else { return };
        let Some(part) = job.part_mut(number) else { return };
        part.samples = samples;
        part.pixels = Some(pixels.clone());
        let pieces = if job.is_shown {
            vec![(number, pixels)]
        } else if let Some(all) = job.pixels() {
            // A first image appears as a whole, so that one moment is not mixed with another.
            (0..).zip(all).collect()
        } else {
            return;
        };
        job.is_shown = true;
        let (size_px, parts, samples) = (job.size_px, job.count(), job.samples());
        self.commands.push(Command::Show(Shown { place, size_px, parts, pieces, samples }));
        target.shows = Some(job.wanted.clone());
        if job.is_stale {
            self.begin(place);
        } else if size_px != job.wanted.size_px {
            let size_px = job.wanted.size_px;
            self.begin_at(place, size_px);
        } else if samples >= target.rank.goal(self.grain) {
            // What is played would push out what was worth keeping, and is kept by whoever plays it.
            if let Some(all) = job.pixels().filter(|_| target.rank != Rank::Played) {
                self.shelf.put(job.wanted.clone(), all);
            }
            self.drop_job(place);
        }
    }

    /// Gives every worker that has nothing to do what matters most.
    fn arrange(&mut self) {
        if self.is_paused {
            return;
        }
        if self.targets.iter().any(|target| target.job.is_some()) {
            self.start();
        }
        for index in 0..self.workers.len() {
            let is_idle = self.workers.get(index).is_some_and(|worker| worker.state == State::Idle);
            if let Some((place, part, samples)) = self.most_wanted(index).filter(|_| is_idle) {
                self.give(index, place, part, samples);
            }
        }
    }

    /// The step that matters most among those that a worker may take: the place, the part, and its next samples.
    fn most_wanted(&self, worker: usize) -> Option<(Place, u32, u32)> {
        let live = self.hands();
        let mut best: Option<(usize, (Place, u32, u32))> = None;
        for target in &self.targets {
            let Some(job) = target.job.as_ref().filter(|job| self.has_photo(&job.wanted)) else { continue };
            let is_first = target.rank == Rank::Large && target.shows.as_ref() != Some(&job.wanted);
            if self.is_moving && !is_first && !matches!(target.rank, Rank::Played | Rank::Still) {
                continue;
            }
            // A worker goes on with what it has begun, and begins no more than its share.
            let own = job.parts.iter().filter(|part| part.worker == Some(worker)).count();
            let has_room = own < job.parts.len().div_ceil(live);
            for (number, part) in (0..).zip(&job.parts) {
                let is_its = part.worker == Some(worker) || part.worker.is_none() && has_room;
                let is_its = is_its && !(self.is_moving && part.samples > 0);
                if let Some((rung, samples)) = job.next(target.rank, self.grain, part).filter(|_| is_its) {
                    let turn = target.rank.turn(rung);
                    if best.is_none_or(|(best, _)| turn < best) {
                        best = Some((turn, (target.place, number, samples)));
                    }
                }
            }
        }
        best.map(|(_, step)| step)
    }

    /// Has a worker take a step.
    fn give(&mut self, index: usize, place: Place, number: u32, samples: u32) {
        let photo = self.target(place).and_then(|target| target.job.as_ref()?.wanted.photo());
        self.hand_over(index, photo);
        let Some(job) = self.target_mut(place).and_then(|target| target.job.as_mut()) else { return };
        let (count, size_px, job_number) = (job.count(), job.size_px, job.number);
        let Some(part) = job.part_mut(number) else { return };
        if part.worker.is_none() {
            part.worker = Some(index);
            let request = job.wanted.request(job_number, size_px, number, count);
            self.commands.push(Command::Ask(index, request));
        }
        let draw = DrawingRequest::Draw { job: job_number, part: number, samples };
        self.commands.push(Command::Ask(index, draw));
        if let Some(worker) = self.workers.get_mut(index) {
            worker.draws(job_number);
        }
    }
}

#[cfg(test)]
pub(super) mod tests;
