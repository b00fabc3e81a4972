//! Which frames of a take are drawn ahead while it plays, which is shown, and which are kept.
//!
//! A take plays in its own time: what cannot be drawn in time is left out, and drawn for the next round if there is one.

/// The frames of a take and how far each is.
#[derive(Debug)]
pub(super) struct Schedule {
    frames: Vec<Progress>,
    rate_fps: f64,
    /// How many may be drawn at a time.
    most_under_way: usize,
    /// How many may be kept.
    most_kept: usize,
    /// How long a frame takes from being wanted to being there, seconds.
    takes_s: f64,
}

/// How far a frame is.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Progress {
    /// Nobody draws it.
    Unwanted,
    /// Somebody does, since that time in seconds.
    UnderWay(f64),
    /// It can be shown.
    Ready,
}

/// How long a frame takes as long as none is measured, seconds: chosen as twice the time that it is shown.
const UNMEASURED_S: f64 = 2.0 / 24.0;

impl Schedule {
    /// The frames of `duration_s` seconds, `rate_fps` of them a second.
    pub(super) fn new(duration_s: f64, rate_fps: f64, most_under_way: usize, most_kept: usize) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a take has minutes")]
        let count = (duration_s * rate_fps).floor().max(0.0) as usize + 1;
        Self {
            frames: vec![Progress::Unwanted; count],
            rate_fps,
            most_under_way,
            most_kept: most_kept.max(most_under_way + 1),
            takes_s: UNMEASURED_S,
        }
    }

    /// The frame of that moment.
    fn frame_at(&self, seconds: f64) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "not negative, and minutes"
        )]
        let frame = (seconds.max(0.0) * self.rate_fps).floor() as usize;
        frame.min(self.frames.len() - 1)
    }

    /// The moment of that frame, seconds into the take.
    pub(super) fn moment_of(&self, frame: usize) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a take has few frames")]
        let frame = frame as f64;
        frame / self.rate_fps
    }

    /// A frame that is worth drawing at that moment of the take, if one more can be; it counts as under way from then on.
    pub(super) fn next(&mut self, seconds: f64, now_s: f64) -> Option<usize> {
        let under_way = self.frames.iter().filter(|frame| matches!(frame, Progress::UnderWay(_))).count();
        if under_way >= self.most_under_way {
            return None;
        }
        let present = self.frame_at(seconds);
        // Nothing earlier would be there in time; but as long as there is nothing at all, time has not begun.
        let from = self.shown(seconds).map_or(present, |_| self.frame_at(seconds + self.takes_s));
        let keeps_all = self.frames.len() <= self.most_kept;
        let to = if keeps_all { self.frames.len() } else { present + self.most_kept - self.most_under_way };
        let unwanted = |frame: &usize| self.frames.get(*frame) == Some(&Progress::Unwanted);
        let ahead = (from..to.min(self.frames.len())).find(unwanted);
        // What was left out is there when the take plays again.
        let next = ahead.or_else(|| (0..present).find(unwanted).filter(|_| keeps_all))?;
        *self.frames.get_mut(next)? = Progress::UnderWay(now_s);
        Some(next)
    }

    /// That frame is there.
    pub(super) fn is_drawn(&mut self, frame: usize, now_s: f64) {
        let Some(progress) = self.frames.get_mut(frame) else { return };
        if let Progress::UnderWay(since_s) = *progress {
            // Half the past, so that one frame that was interrupted does not count for much.
            self.takes_s = f64::midpoint(self.takes_s, now_s - since_s);
        }
        *progress = Progress::Ready;
    }

    /// The frame to show at that moment: its own, or the last one before it that is there.
    pub(super) fn shown(&self, seconds: f64) -> Option<usize> {
        let is_ready = |frame: &usize| self.frames.get(*frame) == Some(&Progress::Ready);
        (0..=self.frame_at(seconds)).rev().find(is_ready)
    }

    /// A frame that is not worth its room any more: the one that was shown longest ago.
    pub(super) fn let_go(&mut self, seconds: f64) -> Option<usize> {
        let ready = self.frames.iter().filter(|frame| **frame == Progress::Ready).count();
        if ready <= self.most_kept {
            return None;
        }
        let shown = self.shown(seconds);
        let is_past =
            |frame: &usize| Some(*frame) != shown && self.frames.get(*frame) == Some(&Progress::Ready);
        let present = self.frame_at(seconds);
        let oldest =
            (0..present).find(is_past).or_else(|| (present..self.frames.len()).rev().find(is_past))?;
        *self.frames.get_mut(oldest)? = Progress::Unwanted;
        Some(oldest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
        let mut schedule = Schedule::new(3.0, 24.0, 3, 1000);
        let [first, second] = play(&mut schedule, 3.0, 0.04);
        assert!(behind(&first[20..], 24.0) <= 1, "{first:?}");
        assert_eq!(behind(&second, 24.0), 0, "all are there the second time");
    }

    #[test]
    fn what_is_drawn_slowly_is_left_out_and_never_slows_down() {
        // Two hands that need a quarter of a second: eight frames a second, of twenty-four.
        let mut schedule = Schedule::new(4.0, 24.0, 2, 1000);
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
        let mut schedule = Schedule::new(10.0, 24.0, 3, 20);
        let [shown, _] = play(&mut schedule, 10.0, 0.03);
        let kept = schedule.frames.iter().filter(|frame| **frame == Progress::Ready).count();
        assert!(kept <= 20, "{kept}");
        assert!(behind(&shown[20..], 24.0) <= 2, "{shown:?}");
    }

    #[test]
    fn the_first_picture_is_drawn_before_those_after_it() {
        let mut schedule = Schedule::new(5.0, 24.0, 3, 1000);
        assert_eq!(schedule.next(0.0, 0.0), Some(0));
        assert_eq!(schedule.shown(0.0), None);
        schedule.is_drawn(0, 0.3);
        assert_eq!(schedule.shown(0.0), Some(0));
        assert!(schedule.next(0.0, 0.3).is_some_and(|frame| frame > 1), "the next one would be late");
    }

    #[test]
    fn a_take_without_a_length_has_one_frame() {
        let mut schedule = Schedule::new(0.0, 24.0, 2, 10);
        assert_eq!(schedule.next(0.0, 0.0), Some(0));
        assert_eq!(schedule.next(0.0, 0.0), None);
        schedule.is_drawn(0, 0.1);
        assert_eq!(schedule.shown(5.0), Some(0));
    }
}
