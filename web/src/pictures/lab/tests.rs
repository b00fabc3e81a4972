//! The lab without a browser: what it asks of its workers, and what it shows.

use std::sync::Arc;

use requests::{BackdropRecord, CameraRecord, LightRecord, StageRecord};

use super::*;

/// A picture of an empty place; `width` tells one from another.
pub(in crate::pictures) fn wanted(width: u32, height: u32) -> Wanted {
    let camera = CameraRecord {
        position_m: [0.0, 0.0, 1.0],
        right: [1.0, 0.0, 0.0],
        up: [0.0, 0.0, 1.0],
        forward: [0.0, 1.0, 0.0],
    };
    let stage = StageRecord {
        opens: camera,
        closes: camera,
        view_tangents: [0.5; 4],
        pupil: None,
        exposure_s: 0.0,
        people: Vec::new(),
        pieces: Vec::new(),
        object: None,
        posts: None,
        backdrop: None,
        light: LightRecord::Overcast,
    };
    Wanted { stage: Arc::new(stage), size_px: (width, height) }
}

/// The same before a photo.
pub(in crate::pictures) fn wanted_before(photo: u32) -> Wanted {
    let Wanted { stage, size_px } = wanted(100, 64);
    let backdrop = BackdropRecord {
        photo: PhotoNumber(0, photo),
        camera: stage.opens,
        view_tangents: [1.0; 4],
        far_m: 20.0,
    };
    let stage = StageRecord { backdrop: Some(backdrop), ..StageRecord::clone(&stage) };
    Wanted { stage: Arc::new(stage), size_px }
}

/// A lab of two workers that have come, with one large place.
struct Floor {
    lab: Lab<String>,
    large: Place,
}

fn floor() -> Floor {
    let mut lab = Lab::new(2);
    let large = lab.add(Rank::Large);
    Floor { lab, large }
}

impl Floor {
    /// Wants a picture at the large place; `width` tells which.
    fn want(&mut self, width: u32) {
        self.lab.want(self.large, wanted(width, 64));
    }

    /// What workers were asked to draw since the last look: worker, job, part, samples.
    fn draws(&mut self) -> Vec<(usize, u32, u32, u32)> {
        let asked = self.lab.take_commands().into_iter().filter_map(|command| match command {
            Command::Ask(worker, DrawingRequest::Draw { job, part, samples }) => {
                Some((worker, job, part, samples))
            }
            Command::Ask(..) | Command::Lend(..) | Command::Start(_) | Command::End(_) | Command::Show(_) => {
                None
            }
        });
        asked.collect()
    }

    /// What workers were handed or told to forget since the last look, in words.
    fn photos(&mut self) -> Vec<String> {
        let said = self.lab.take_commands().into_iter().filter_map(|command| match command {
            Command::Lend(worker, DrawingRequest::Photo { number, width_px, height_px }, pixels) => {
                Some(format!("{worker} has {}: {pixels} of {width_px} x {height_px}", number.1))
            }
            Command::Ask(worker, DrawingRequest::ForgetPhoto { number }) => {
                Some(format!("{worker} forgets {}", number.1))
            }
            Command::Ask(..) | Command::Lend(..) | Command::Start(_) | Command::End(_) | Command::Show(_) => {
                None
            }
        });
        said.collect()
    }

    fn lend(&mut self, photo: u32) {
        self.lab.lend_photo(PhotoNumber(0, photo), (8, 6), format!("photo {photo}"));
    }

    fn shows(&mut self) -> Vec<Shown<String>> {
        let shown = self.lab.take_commands().into_iter().filter_map(|command| match command {
            Command::Show(shown) => Some(shown),
            Command::Ask(..) | Command::Lend(..) | Command::Start(_) | Command::End(_) => None,
        });
        shown.collect()
    }

    fn ready(&mut self) {
        for worker in 0..2 {
            self.lab.hear(worker, &DrawingAnswer::Ready, None);
        }
    }

    /// A worker hands over a part.
    fn drawn(&mut self, (worker, job, part, samples): (usize, u32, u32, u32)) {
        let answer = DrawingAnswer::Drawn { job, part, samples, taken: 1.0e6, took_ms: 1.0 };
        self.lab.hear(worker, &answer, Some(format!("{job}/{part} at {samples}")));
    }

    /// Everything that is being drawn is handed over finished, whatever was looked at of the commands.
    fn finish_quietly(&mut self) {
        for _ in 0..100 {
            let state = |worker: &Worker| match worker.state {
                State::Busy(job) => Some(job),
                State::Unstarted | State::Starting | State::Idle | State::Gone => None,
            };
            let busy: Vec<_> = (0..).zip(self.lab.workers.iter().map(state)).collect();
            for (worker, job) in busy.into_iter().filter_map(|(worker, job)| Some((worker, job?))) {
                let jobs = self.lab.targets.iter().filter_map(|target| target.job.as_ref());
                let parts = jobs.filter(|one| one.number == job).flat_map(|one| (0..).zip(&one.parts));
                let mut own = parts.filter(|(_, part)| part.worker == Some(worker) && part.samples < 128);
                let part = own.next().map_or(0, |(part, _)| part);
                self.drawn((worker, job, part, 128));
            }
        }
        assert!(!self.lab.is_waiting(), "all is drawn");
        self.lab.take_commands();
    }

    /// Everything is drawn, until nothing is left; says what was shown last at the large place.
    fn finish(&mut self) -> Shown<String> {
        let mut last = None;
        for _ in 0..1000 {
            let commands = self.lab.take_commands();
            if commands.is_empty() {
                break;
            }
            for command in commands {
                match command {
                    Command::Start(worker) => self.lab.hear(worker, &DrawingAnswer::Ready, None),
                    Command::Ask(worker, DrawingRequest::Draw { job, part, samples }) => {
                        self.drawn((worker, job, part, samples));
                    }
                    Command::Show(shown) if shown.place == self.large => last = Some(shown),
                    Command::Ask(..) | Command::Lend(..) | Command::End(_) | Command::Show(_) => {}
                }
            }
        }
        last.expect("something was shown")
    }
}

#[test]
fn workers_start_when_something_is_wanted_and_share_it() {
    let mut floor = floor();
    assert_eq!(floor.lab.take_commands(), []);
    floor.want(100);
    assert_eq!(floor.lab.take_commands(), [Command::Start(0), Command::Start(1)]);
    floor.ready();
    assert_eq!(floor.draws(), [(0, 0, 0, 4), (1, 0, 1, 4)]);
}

#[test]
fn a_first_image_appears_as_a_whole_and_then_part_by_part() {
    let mut floor = floor();
    floor.want(100);
    floor.ready();
    floor.drawn((1, 0, 1, 4));
    assert_eq!(floor.shows(), []);
    floor.drawn((0, 0, 0, 4));
    let shown = floor.shows();
    assert_eq!(shown.len(), 1);
    assert_eq!(shown[0].pieces, [(0, "0/0 at 4".to_owned()), (1, "0/1 at 4".to_owned())]);
    assert_eq!(floor.lab.standing(floor.large), Standing::Refining);
    floor.drawn((1, 0, 1, 8));
    assert_eq!(floor.shows()[0].pieces, [(1, "0/1 at 8".to_owned())]);
}

#[test]
fn a_picture_is_refined_to_its_goal_and_then_rests() {
    let mut floor = floor();
    floor.want(100);
    let last = floor.finish();
    assert_eq!(last.samples, 128);
    assert_eq!(floor.lab.standing(floor.large), Standing::Finished);
    assert!(!floor.lab.is_waiting(), "nothing is left to do");
}

#[test]
fn a_picture_that_may_keep_its_grain_rests_sooner() {
    let mut floor = floor();
    floor.want(100);
    floor.lab.take_grain(Grain::Coarse);
    assert_eq!(floor.finish().samples, 12);
    assert_eq!(floor.lab.standing(floor.large), Standing::Finished);
    floor.lab.take_grain(Grain::Fine);
    assert_eq!(floor.lab.standing(floor.large), Standing::Refining);
    assert_eq!(floor.finish().samples, 128);
}

#[test]
fn a_picture_too_large_to_be_drawn_in_time_is_coarse_at_first() {
    let mut floor = floor();
    floor.lab.want(floor.large, wanted(1280, 536));
    floor.ready();
    let draws = floor.draws();
    floor.drawn(draws[0]);
    floor.drawn(draws[1]);
    let commands = floor.lab.take_commands();
    let is_coarse = |shown: &Shown<String>| (shown.size_px, shown.samples) == ((640, 268), 4);
    assert!(
        commands.iter().any(|command| matches!(command, Command::Show(shown) if is_coarse(shown))),
        "{commands:?}"
    );
    let fine = commands.iter().filter(|command| {
        matches!(command, Command::Ask(_, DrawingRequest::Begin { width_px: 1280, height_px: 536, .. }))
    });
    assert_eq!(fine.count(), 2, "{commands:?}");
}

#[test]
fn a_change_waits_for_the_first_image_under_way_and_for_no_other() {
    let mut floor = floor();
    floor.want(100);
    floor.ready();
    floor.draws();
    floor.want(101);
    floor.want(102);
    assert_eq!(floor.draws(), [], "the first image is drawn first");
    floor.drawn((0, 0, 0, 4));
    floor.drawn((1, 0, 1, 4));
    assert_eq!(floor.lab.standing(floor.large), Standing::Waiting);
    assert_eq!(floor.draws(), [(0, 1, 0, 4), (1, 1, 1, 4)]);
    floor.drawn((0, 1, 0, 4));
    floor.drawn((1, 1, 1, 4));
    floor.lab.take_commands();
    floor.want(103);
    assert_eq!(floor.draws(), [(0, 2, 0, 4), (1, 2, 1, 4)], "refining gives way at once");
    floor.drawn((0, 1, 0, 8));
    assert_eq!(floor.lab.take_commands(), [], "what comes late is not shown");
}

#[test]
fn a_change_does_not_wait_for_a_finer_image_of_what_is_seen() {
    let mut floor = floor();
    floor.lab.want(floor.large, wanted(1280, 536));
    floor.ready();
    for draw in floor.draws() {
        floor.drawn(draw);
    }
    assert_eq!(floor.draws().len(), 2, "the fine image is under way");
    floor.want(100);
    assert_eq!(floor.draws(), [(0, 2, 0, 4), (1, 2, 1, 4)]);
}

#[test]
fn a_finished_picture_is_shown_at_once_when_it_is_wanted_again() {
    let mut floor = floor();
    floor.want(100);
    let before = floor.finish();
    floor.want(101);
    floor.finish();
    floor.want(100);
    let shown = floor.shows();
    assert_eq!(shown[0].pieces, [(0, "0/0 at 128".to_owned()), (1, "0/1 at 128".to_owned())]);
    assert_eq!((shown[0].size_px, shown[0].samples), (before.size_px, 128));
    assert_eq!(floor.lab.standing(floor.large), Standing::Finished);
}

#[test]
fn small_pictures_take_their_turn_after_the_large_one_reads() {
    let mut floor = floor();
    floor.want(100);
    let small = floor.lab.add(Rank::Small);
    floor.lab.want(small, wanted(30, 16));
    floor.ready();
    let mut drawn = Vec::new();
    for _ in 0..12 {
        for draw in floor.draws() {
            drawn.push((draw.1, draw.3));
            floor.drawn(draw);
        }
    }
    let first_small = drawn.iter().position(|(job, _)| *job == 1).expect("drawn");
    assert!(drawn[..first_small].iter().any(|(_, samples)| *samples == 24), "{drawn:?}");
    assert!(drawn[first_small..].iter().any(|(job, _)| *job == 0), "the large one goes on: {drawn:?}");
}

#[test]
fn what_a_silent_worker_was_drawing_is_drawn_by_the_one_in_its_place() {
    let mut floor = floor();
    floor.want(100);
    floor.ready();
    floor.drawn((0, 0, 0, 4));
    floor.drawn((1, 0, 1, 4));
    floor.lab.take_commands();
    for _ in 0..5 {
        floor.lab.hear(0, &DrawingAnswer::Busy, None);
        floor.lab.second();
    }
    assert_eq!(floor.lab.take_commands(), []);
    floor.lab.second();
    assert_eq!(floor.lab.take_commands(), [Command::Start(1)]);
    floor.lab.hear(1, &DrawingAnswer::Ready, None);
    let commands = floor.lab.take_commands();
    assert!(
        matches!(commands[0], Command::Ask(1, DrawingRequest::Begin { job: 0, part: 1, parts: 2, .. })),
        "{commands:?}"
    );
    assert_eq!(commands[1], Command::Ask(1, DrawingRequest::Draw { job: 0, part: 1, samples: 8 }));
}

#[test]
fn a_picture_that_kills_its_workers_is_given_up() {
    let mut floor = floor();
    floor.want(100);
    floor.ready();
    for _ in 0..3 {
        floor.lab.lose(0);
        floor.lab.hear(0, &DrawingAnswer::Ready, None);
    }
    assert!(matches!(floor.lab.standing(floor.large), Standing::Failed(_)));
    floor.want(101);
    assert_eq!(floor.lab.standing(floor.large), Standing::Waiting);
}

#[test]
fn a_worker_that_is_given_up_is_ended() {
    let mut floor = floor();
    floor.want(100);
    floor.lab.take_commands();
    for _ in 0..3 {
        floor.lab.lose(0);
    }
    assert_eq!(floor.lab.take_commands(), [Command::Start(0), Command::Start(0), Command::End(0)]);
    floor.lab.lose(0);
    assert_eq!(floor.lab.take_commands(), [], "an ended worker is lost no more");
}

#[test]
fn workers_that_come_and_stop_are_not_said_to_be_missing() {
    let mut floor = floor();
    for width in 100..103 {
        floor.want(width);
        floor.ready();
        floor.lab.lose(0);
        floor.lab.lose(1);
    }
    let standing = floor.lab.standing(floor.large);
    assert!(matches!(&standing, Standing::Failed(why) if why.contains("again and again")), "{standing:?}");
    floor.lab.take_commands();
    floor.lab.retry();
    assert_eq!(floor.lab.take_commands(), [Command::Start(0), Command::Start(1)]);
    floor.ready();
    assert_eq!(floor.finish().samples, 128);
}

#[test]
fn workers_that_never_come_are_given_up_until_somebody_tries_again() {
    let mut floor = floor();
    floor.want(100);
    for _ in 0..3 {
        floor.lab.lose(0);
        floor.lab.lose(1);
    }
    let standing = floor.lab.standing(floor.large);
    assert!(matches!(&standing, Standing::Failed(why) if why.contains("not be loaded")), "{standing:?}");
    floor.lab.take_commands();
    floor.lab.retry();
    assert_eq!(floor.lab.take_commands(), [Command::Start(0), Command::Start(1)]);
    assert_eq!(floor.lab.standing(floor.large), Standing::Waiting);
    floor.ready();
    assert_eq!(floor.finish().samples, 128);
}

#[test]
fn nothing_is_drawn_while_nobody_looks() {
    let mut floor = floor();
    floor.want(100);
    floor.ready();
    floor.draws();
    floor.lab.set_paused(true);
    let rest = |worker| Command::Ask(worker, DrawingRequest::Rest);
    assert_eq!(floor.lab.take_commands(), [rest(0), rest(1)]);
    floor.drawn((0, 0, 0, 4));
    floor.want(101);
    assert_eq!(floor.lab.take_commands(), []);
    floor.lab.set_paused(false);
    assert_eq!(floor.draws(), [(1, 0, 1, 4)], "the first image under way goes on");
}

#[test]
fn what_cannot_be_drawn_says_why() {
    let mut floor = floor();
    floor.want(100);
    floor.ready();
    let refused = DrawingAnswer::Refused { job: 0, why: "stage.people: 900 are not allowed".to_owned() };
    floor.lab.hear(0, &refused, None);
    assert!(matches!(floor.lab.standing(floor.large), Standing::Failed(why) if why.contains("900")));
}

#[test]
fn a_place_that_is_gone_is_forgotten_by_those_who_drew_for_it() {
    let mut floor = floor();
    floor.want(100);
    floor.ready();
    floor.lab.take_commands();
    floor.lab.remove(floor.large);
    let forget = |worker| Command::Ask(worker, DrawingRequest::Forget { job: 0 });
    assert_eq!(floor.lab.take_commands(), [forget(0), forget(1)]);
    assert!(!floor.lab.is_waiting());
}

#[test]
fn a_pixel_is_asked_for_even_of_a_finished_picture() {
    let mut floor = floor();
    assert!(!floor.lab.pick(floor.large, (1.0, 2.0), 5), "nobody is there yet");
    floor.want(100);
    floor.finish();
    assert!(floor.lab.pick(floor.large, (1.0, 2.0), 5));
    let commands = floor.lab.take_commands();
    assert!(matches!(commands[1], Command::Ask(0, DrawingRequest::Pick { question: 5, .. })), "{commands:?}");
}

#[test]
fn a_movement_is_drawn_in_first_images_until_it_rests() {
    let mut floor = floor();
    floor.lab.changes(floor.large, 0.0);
    floor.want(100);
    floor.ready();
    floor.lab.take_commands();
    assert!(floor.lab.changes(floor.large, 50.0), "two changes in 50 ms are a movement");
    floor.drawn((0, 0, 0, 4));
    floor.drawn((1, 0, 1, 4));
    floor.want(101);
    assert_eq!(floor.draws(), [(0, 1, 0, 4), (1, 1, 1, 4)]);
    floor.drawn((0, 1, 0, 4));
    floor.drawn((1, 1, 1, 4));
    assert_eq!(floor.draws(), [], "nothing is refined");
    floor.lab.rest(169.0);
    assert_eq!(floor.draws(), [], "it may go on");
    floor.lab.rest(171.0);
    assert_eq!(floor.draws(), [(0, 1, 0, 8), (1, 1, 1, 8)]);
}

#[test]
fn a_photo_goes_to_each_worker_once_before_the_first_picture_that_needs_it() {
    let mut floor = floor();
    floor.lend(7);
    floor.want(100);
    floor.ready();
    assert_eq!(floor.photos(), [""; 0], "this one has none");
    floor.finish_quietly();
    floor.lab.want(floor.large, wanted_before(7));
    let commands = floor.lab.take_commands();
    let order: Vec<_> = commands
        .iter()
        .map(|command| match command {
            Command::Lend(worker, ..) => (*worker, "photo"),
            Command::Ask(worker, DrawingRequest::Begin { .. }) => (*worker, "begin"),
            Command::Ask(worker, _) => (*worker, "draw"),
            Command::Start(worker) => (*worker, "start"),
            Command::End(worker) => (*worker, "end"),
            Command::Show(_) => (9, "show"),
        })
        .collect();
    let of = |worker| [(worker, "photo"), (worker, "begin"), (worker, "draw")];
    assert_eq!(order, [of(0), of(1)].concat());
    for (worker, part) in [(0, 0), (1, 1)] {
        floor.drawn((worker, 1, part, 4));
    }
    assert_eq!(floor.photos(), [""; 0], "once is enough");
}

#[test]
fn a_picture_waits_for_its_photo() {
    let mut floor = floor();
    floor.lab.want(floor.large, wanted_before(7));
    floor.ready();
    assert_eq!(floor.draws(), []);
    assert_eq!(floor.lab.standing(floor.large), Standing::Waiting);
    assert!(!floor.lab.pick(floor.large, (1.0, 2.0), 5), "nothing is there to be seen");
    floor.lend(7);
    let handed = ["0 has 7: photo 7 of 8 x 6", "1 has 7: photo 7 of 8 x 6"];
    assert_eq!(floor.photos(), handed);
}

#[test]
fn the_one_in_a_lost_workers_place_is_handed_the_photo_again() {
    let mut floor = floor();
    floor.lend(7);
    floor.lab.want(floor.large, wanted_before(7));
    floor.ready();
    assert_eq!(floor.photos().len(), 2);
    floor.lab.lose(1);
    floor.lab.hear(1, &DrawingAnswer::Ready, None);
    assert_eq!(floor.photos(), ["1 has 7: photo 7 of 8 x 6"]);
}

#[test]
fn a_worker_that_has_let_a_photo_go_is_handed_it_again() {
    let mut floor = floor();
    for photo in 0..5 {
        floor.lend(photo);
    }
    floor.lab.want(floor.large, wanted_before(0));
    floor.ready();
    // Each picture is another, so that none is on the shelf.
    let counts = [(101, 1), (102, 2), (103, 0), (104, 3), (105, 0), (106, 1)].map(|(width, photo)| {
        floor.finish_quietly();
        floor.lab.want(floor.large, Wanted { size_px: (width, 64), ..wanted_before(photo) });
        floor.photos().len()
    });
    // Three are kept, in the order in which they were handed over.
    assert_eq!(counts, [2, 2, 0, 2, 2, 2]);
}

#[test]
fn a_photo_is_forgotten_by_those_who_have_it() {
    let mut floor = floor();
    floor.lend(7);
    floor.lab.want(floor.large, wanted_before(7));
    floor.ready();
    floor.finish_quietly();
    floor.lab.forget_photo(PhotoNumber(0, 7));
    assert_eq!(floor.photos(), ["0 forgets 7", "1 forgets 7"]);
    floor.lab.forget_photo(PhotoNumber(0, 7));
    assert_eq!(floor.photos(), [""; 0]);
}
