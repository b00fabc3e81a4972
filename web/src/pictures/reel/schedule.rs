//! Which pictures of a reel are drawn ahead while it plays, which is shown, and which are kept.
//!
//! A reel plays in its own time: what cannot be drawn in time is left out, and drawn for the next round if there is one.

/// A picture of a reel: from when on it is due, and what comes before and after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cue {
    /// Seconds into the reel.
    pub(crate) at_s: f64,
    /// Whether it is the first after a cut: what was before it is not shown any more.
    pub(crate) opens: bool,
    /// Whether it is all there is to see until the next one: it is looked at for seconds, and drawn better.
    pub(crate) is_still: bool,
}

/// The pictures of a reel and how far each is.
#[derive(Debug)]
pub(super) struct Schedule {
    frames: Vec<Frame>,
    limits: Limits,
    /// How many are drawn of which nothing can be shown yet.
    under_way: usize,
    /// How many stills are drawn, whether something of them can be shown or not.
    stills: usize,
    /// The room that is taken.
    kept: usize,
    /// How long a picture takes from being wanted to being there, seconds.
    takes_s: f64,
}

/// How much may be done and kept at a time.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    /// How many may be drawn at a time.
    pub(super) under_way: usize,
    /// How much may be kept, in pictures of what moves.
    pub(super) kept: usize,
    /// The room that a still takes, in pictures of what moves.
    pub(super) still: usize,
}

/// One picture.
#[derive(Debug)]
struct Frame {
    cue: Cue,
    progress: Progress,
}

/// How far a picture is.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Progress {
    /// Nobody draws it.
    Unwanted,
    /// Somebody does, since that time in seconds.
    UnderWay(f64),
    /// It can be shown, and gets better.
    Refining,
    /// It can be shown.
    Ready,
}

/// How long a picture takes as long as none is measured, seconds: chosen as twice the time that one of what moves is shown.
const UNMEASURED_S: f64 = 2.0 / 24.0;
/// Stills that are drawn at a time: the one that is shown and the one after it, chosen so that those come first.
const MOST_STILLS: usize = 2;

impl Cue {
    /// One picture for all there is to see from then on.
    pub(crate) const fn still(at_s: f64) -> Self {
        Self { at_s, opens: true, is_still: true }
    }

    /// So many pictures from then on, `rate_fps` of them a second.
    pub(crate) fn moving(from_s: f64, count: u32, rate_fps: f64) -> impl Iterator<Item = Self> {
        (0..count).map(move |frame| Self {
            at_s: from_s + f64::from(frame) / rate_fps,
            opens: frame == 0,
            is_still: false,
        })
    }
}

impl Limits {
    /// The room that a picture takes.
    const fn room_of(&self, cue: Cue) -> usize {
        if cue.is_still { self.still } else { 1 }
    }
}

impl Schedule {
    /// The pictures of `cues`, which are in order.
    pub(super) fn new(cues: impl IntoIterator<Item = Cue>, limits: Limits) -> Self {
        let frames = cues.into_iter().map(|cue| Frame { cue, progress: Progress::Unwanted });
        let least = limits.under_way + 1 + MOST_STILLS * limits.still;
        Self {
            frames: frames.collect(),
            limits: Limits { kept: limits.kept.max(least), ..limits },
            under_way: 0,
            stills: 0,
            kept: 0,
            takes_s: UNMEASURED_S,
        }
    }

    /// The frame that is due at that moment; the first one before its time.
    fn frame_at(&self, seconds: f64) -> usize {
        self.frames.partition_point(|frame| frame.cue.at_s <= seconds).saturating_sub(1)
    }

    /// What is known of that frame.
    pub(super) fn cue_of(&self, frame: usize) -> Option<Cue> {
        self.frames.get(frame).map(|frame| frame.cue)
    }

    /// A frame that is worth drawing at that moment of the reel, if one more can be; it counts as under way from then on.
    pub(super) fn next(&mut self, seconds: f64, now_s: f64) -> Option<usize> {
        if self.under_way >= self.limits.under_way {
            return None;
        }
        let present = self.frame_at(seconds);
        let shown = self.shown(seconds);
        // Nothing earlier would be there in time; but where there is nothing to see at all, late is better than never.
        let from = shown.map_or(present, |_| self.frame_at(seconds + self.takes_s));
        let to = self.reach(present);
        // What opens after the next cut comes before what goes on: late, it would leave nothing to see.
        let opening = shown.and_then(|_| (present + 1..to).find(|frame| self.opens(*frame)));
        let is_worth_it = |frame: &usize| {
            self.frames.get(*frame).is_some_and(|one| {
                let has_turn = !one.cue.is_still || self.stills < MOST_STILLS || *frame == present;
                one.progress == Progress::Unwanted && has_turn
            })
        };
        let ahead = opening.into_iter().chain(from..to).find(is_worth_it);
        // What was left out is there when the reel plays again.
        let next = ahead.or_else(|| (0..present).find(is_worth_it).filter(|_| self.keeps_all()))?;
        let frame = self.frames.get_mut(next)?;
        frame.progress = Progress::UnderWay(now_s);
        self.under_way += 1;
        self.stills += usize::from(frame.cue.is_still);
        Some(next)
    }

    /// There is something of that frame to show.
    pub(super) fn is_begun(&mut self, frame: usize, now_s: f64) {
        let Some(frame) = self.frames.get_mut(frame) else { return };
        if let Progress::UnderWay(since_s) = frame.progress {
            // Half the past, so that one picture that was interrupted does not count for much.
            self.takes_s = f64::midpoint(self.takes_s, now_s - since_s);
            frame.progress = Progress::Refining;
            self.under_way -= 1;
            self.kept += self.limits.room_of(frame.cue);
        }
    }

    /// That frame is there, as good as it gets.
    pub(super) fn is_drawn(&mut self, frame: usize, now_s: f64) {
        self.is_begun(frame, now_s);
        let Some(frame) = self.frames.get_mut(frame) else { return };
        if frame.progress == Progress::Refining {
            frame.progress = Progress::Ready;
            self.stills -= usize::from(frame.cue.is_still);
        }
    }

    /// The frame to show at that moment: its own, or the last one before it, up to the cut, that is there.
    pub(super) fn shown(&self, seconds: f64) -> Option<usize> {
        let present = self.frame_at(seconds);
        let earlier = (0..=present).rev().take_while(|frame| *frame == present || !self.opens(frame + 1));
        earlier.into_iter().find(|frame| self.is_there(*frame))
    }

    /// A frame that is not worth its room any more: the one that was shown longest ago.
    pub(super) fn let_go(&mut self, seconds: f64) -> Option<usize> {
        if self.kept <= self.limits.kept {
            return None;
        }
        let shown = self.shown(seconds);
        let is_past = |frame: &usize| {
            let is_ready = self.frames.get(*frame).is_some_and(|one| one.progress == Progress::Ready);
            is_ready && Some(*frame) != shown
        };
        let present = self.frame_at(seconds);
        let oldest =
            (0..present).find(is_past).or_else(|| (present..self.frames.len()).rev().find(is_past))?;
        let frame = self.frames.get_mut(oldest)?;
        frame.progress = Progress::Unwanted;
        self.kept -= self.limits.room_of(frame.cue);
        Some(oldest)
    }

    fn opens(&self, frame: usize) -> bool {
        self.frames.get(frame).is_some_and(|one| one.cue.opens)
    }

    fn is_there(&self, frame: usize) -> bool {
        self.frames.get(frame).is_some_and(|one| matches!(one.progress, Progress::Refining | Progress::Ready))
    }

    /// Whether there is room for all of it.
    fn keeps_all(&self) -> bool {
        self.reach(0) == self.frames.len()
    }

    /// The end of what there is room for from that frame on.
    fn reach(&self, from: usize) -> usize {
        let mut left = self.limits.kept;
        let ahead = self.frames.get(from..).unwrap_or_default();
        let fits = ahead.iter().take_while(|frame| {
            let room = self.limits.room_of(frame.cue);
            let has_room = room <= left;
            left = left.saturating_sub(room);
            has_room
        });
        let end = from + fits.count();
        // What is under way needs room too; but where all of it fits, it has that already.
        if end == self.frames.len() { end } else { end.saturating_sub(self.limits.under_way).max(from + 1) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One take of that length, of which so many frames are drawn at a time and kept.
    fn take(duration_s: f64, under_way: usize, kept: usize) -> Schedule {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few seconds")]
        let count = (duration_s * 24.0) as u32 + 1;
        Schedule::new(Cue::moving(0.0, count, 24.0), Limits { under_way, kept, still: 4 })
    }

    /// Stills of two seconds each.
    fn stills(count: u32, kept: usize) -> Schedule {
        let cues = (0..count).map(|at| Cue::still(2.0 * f64::from(at)));
        Schedule::new(cues, Limits { under_way: 3, kept, still: 4 })
    }

    /// Plays two rounds of a take on workers that draw `hands` frames at a time, each in `draw_s`; tells which frame is
    /// shown at each 60th of a second of each round.
    fn play(schedule: &mut Schedule, duration_s: f64, draw_s: f64) -> [Vec<Option<usize>>; 2] {
        let mut under_way: Vec<(usize, f64)> = Vec::new();
        let mut now_s = 0.0;
        let mut round = || {
            let mut shown = Vec::new();
            let start_s = now_s;
            while now_s - start_s <= duration_s {
                let seconds = now_s - start_s;
                under_way.retain(|(frame, since_s)| {
                    let is_done = now_s - since_s >= draw_s;
                    if is_done {
                        schedule.is_drawn(*frame, now_s);
                    }
                    !is_done
                });
                while let Some(frame) = schedule.next(seconds, now_s) {
                    under_way.push((frame, now_s));
                }
                while schedule.let_go(seconds).is_some() {}
                shown.push(schedule.shown(seconds));
                now_s += 1.0 / 60.0;
            }
            shown
        };
        [round(), round()]
    }

    /// How far what is shown is behind what should be, in frames, at the most, from the first picture on.
    fn behind(shown: &[Option<usize>], rate_fps: f64) -> usize {
        let late = (0_u32..).zip(shown).skip_while(|(_, shown)| shown.is_none()).filter_map(|(at, shown)| {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a few seconds, rounded up to none"
            )]
            let due = (f64::from(at) / 60.0 * rate_fps - 1e-6).floor() as usize;
            shown.map(|shown| due.saturating_sub(shown))
        });
        late.max().unwrap_or(usize::MAX)
    }

    #[test]
    fn what_is_drawn_fast_enough_is_shown_frame_by_frame() {
        let mut schedule = take(3.0, 3, 1000);
        let [first, second] = play(&mut schedule, 3.0, 0.04);
        assert!(behind(&first[20..], 24.0) <= 1, "{first:?}");
        assert_eq!(behind(&second, 24.0), 0, "all are there the second time");
    }

    #[test]
    fn what_is_drawn_slowly_is_left_out_and_never_slows_down() {
        // Two hands that need a quarter of a second: eight frames a second, of twenty-four.
        let mut schedule = take(4.0, 2, 1000);
        let [first, second] = play(&mut schedule, 4.0, 0.25);
        assert!(behind(&first[60..], 24.0) <= 9, "{first:?}");
        let different = |shown: &[Option<usize>]| {
            let mut frames: Vec<_> = shown.iter().flatten().collect();
            frames.dedup();
            frames.len()
        };
        assert!(
            different(&second) > different(&first) * 3 / 2,
            "the second round has what the first left out"
        );
    }

    #[test]
    fn no_more_is_kept_than_there_is_room_for() {
        let mut schedule = take(10.0, 3, 20);
        let [shown, _] = play(&mut schedule, 10.0, 0.03);
        let kept = schedule.frames.iter().filter(|frame| frame.progress == Progress::Ready).count();
        assert!(kept <= 20, "{kept}");
        assert!(behind(&shown[20..], 24.0) <= 2, "{shown:?}");
    }

    #[test]
    fn the_first_picture_is_drawn_before_those_after_it() {
        let mut schedule = take(5.0, 3, 1000);
        assert_eq!(schedule.next(0.0, 0.0), Some(0));
        assert_eq!(schedule.shown(0.0), None);
        schedule.is_drawn(0, 0.3);
        assert_eq!(schedule.shown(0.0), Some(0));
        assert!(schedule.next(0.0, 0.3).is_some_and(|frame| frame > 1), "the next one would be late");
    }

    #[test]
    fn a_take_without_a_length_has_one_frame() {
        let mut schedule = take(0.0, 2, 10);
        assert_eq!(schedule.next(0.0, 0.0), Some(0));
        assert_eq!(schedule.next(0.0, 0.0), None);
        schedule.is_drawn(0, 0.1);
        assert_eq!(schedule.shown(5.0), Some(0));
    }

    #[test]
    fn after_a_cut_nothing_from_before_it_is_shown() {
        let cues = Cue::moving(0.0, 24, 24.0).chain(Cue::moving(1.0, 24, 24.0));
        let mut schedule = Schedule::new(cues, Limits { under_way: 100, kept: 1000, still: 4 });
        while schedule.next(0.0, 0.0).is_some() {}
        schedule.is_drawn(23, 0.1);
        assert_eq!(schedule.shown(0.99), Some(23));
        assert_eq!(schedule.shown(1.0), None);
        schedule.is_drawn(24, 0.2);
        assert_eq!(schedule.shown(0.99), Some(23));
        assert_eq!(schedule.shown(1.5), Some(24));
    }

    #[test]
    fn what_opens_after_the_next_cut_is_drawn_before_what_goes_on() {
        let cues = Cue::moving(0.0, 96, 24.0).chain([Cue::still(4.0)]).chain(Cue::moving(6.0, 24, 24.0));
        let mut schedule = Schedule::new(cues, Limits { under_way: 3, kept: 1000, still: 4 });
        assert_eq!(schedule.next(0.0, 0.0), Some(0));
        schedule.is_drawn(0, 0.1);
        assert_eq!(schedule.next(0.0, 0.1), Some(96), "the still after the cut");
        assert!(schedule.next(0.0, 0.1).is_some_and(|frame| frame < 96), "then what goes on");
    }

    #[test]
    fn a_cut_that_cannot_be_drawn_in_time_shows_no_other_entry_and_catches_up() {
        // Half a second for each picture, and cuts every second.
        let cues = (0..4).flat_map(|entry| Cue::moving(f64::from(entry), 24, 24.0));
        let mut schedule = Schedule::new(cues, Limits { under_way: 2, kept: 1000, still: 4 });
        let [first, _] = play(&mut schedule, 3.9, 0.5);
        let start = first.iter().position(Option::is_some).expect("something is shown");
        // At the very moment of a cut it is a matter of rounding which entry is due.
        for (at, shown) in first.iter().enumerate().skip(start).filter(|(at, _)| at % 60 != 0) {
            let entry = at / 60;
            assert!(shown.is_none_or(|frame| frame / 24 == entry), "frame {shown:?} in entry {entry}");
        }
        assert!(first.iter().skip(start).filter(|shown| shown.is_some()).count() > 150, "{first:?}");
    }

    #[test]
    fn a_still_is_drawn_once_and_shown_for_its_seconds() {
        let mut schedule = stills(3, 1000);
        assert_eq!(schedule.next(0.0, 0.0), Some(0));
        assert_eq!(schedule.next(0.0, 0.0), Some(1));
        assert_eq!(schedule.next(0.0, 0.0), None, "no more than two at a time");
        schedule.is_begun(0, 0.1);
        assert_eq!(schedule.shown(1.9), Some(0), "while it gets better");
        assert_eq!(schedule.next(0.0, 0.1), None, "it is not finished");
        schedule.is_drawn(0, 0.2);
        assert_eq!(schedule.next(0.0, 0.2), Some(2));
        assert_eq!(schedule.next(1.9, 0.2), None);
    }

    #[test]
    fn a_leap_begins_the_still_that_is_due_whatever_else_is_drawn() {
        let mut schedule = stills(9, 1000);
        assert_eq!(schedule.next(0.0, 0.0), Some(0));
        assert_eq!(schedule.next(0.0, 0.0), Some(1));
        assert_eq!(schedule.next(12.5, 0.1), Some(6));
    }

    #[test]
    fn a_long_film_of_stills_keeps_those_around_the_present() {
        let mut schedule = stills(100, 40);
        let shown = (0..100_u32).all(|at| {
            let seconds = f64::from(at) * 2.0 + 1.0;
            while let Some(frame) = schedule.next(seconds, seconds) {
                schedule.is_drawn(frame, seconds);
            }
            while schedule.let_go(seconds).is_some() {}
            schedule.shown(seconds).is_some() && schedule.kept <= 40
        });
        assert!(shown, "{schedule:?}");
        assert!(schedule.cue_of(99).is_some_and(|cue| cue.is_still));
    }

    #[test]
    fn nothing_to_draw_is_nothing_to_show() {
        let mut schedule = stills(0, 40);
        assert_eq!((schedule.next(0.0, 0.0), schedule.shown(1.0), schedule.let_go(1.0)), (None, None, None));
    }
}
