//! How far a picture is drawn before it is shown, and in which steps it then gets better.

use serde::{Deserialize, Serialize};

/// How much a picture matters to the person who looks at the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rank {
    /// It is what they look at.
    Large,
    /// It stands beside others, to be compared at a glance.
    Small,
    /// It is one of many that follow each other too fast for anybody to look for noise.
    Played,
    /// It is one of few that follow each other, each looked at for seconds.
    Still,
}

/// How much grain pictures keep when they rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub(crate) enum Grain {
    /// None that anybody sees.
    #[default]
    Fine,
    /// What a tenth of the work leaves: a phone that is out all day stays cool and has battery left.
    Coarse,
}

/// Samples of each pixel after which a picture is shown anew: chosen so that each step takes away a sixth to a third of the
/// noise, which falls with the root of the samples.
const RUNGS: [u32; 10] = [4, 8, 12, 16, 24, 32, 48, 64, 96, 128];
/// Rungs that the large picture is ahead of small ones: chosen so that it shows what a change has done, at 24 samples,
/// before others take their turn.
const RUNGS_AHEAD: usize = 5;
/// Samples of a picture that is played: chosen because each is seen for a 24th of a second, and must be drawn in less.
pub(super) const PLAYED_SAMPLES: u32 = 12;
/// Samples of a picture that stays for seconds while others play: as many as of a small one, chosen because it is looked
/// at for longer, and the next ones must be drawn meanwhile.
const STILL_SAMPLES: u32 = 32;
/// Samples of a coarse first image: the first rung.
const FIRST_SAMPLES: u32 = RUNGS[0];
/// How long drawing a first image may take, milliseconds: chosen to leave more than half of the 50 within which a change
/// must be seen to everything else.
const FIRST_MS: f64 = 20.0;
/// The coarsest first image has pixels of so many to a side: chosen because a face in a medium shot still reads.
const COARSEST: u32 = 4;

impl Rank {
    /// Samples of each pixel after which a picture is finished.
    ///
    /// A large one: chosen because the benchmark measures SSIM 0.99 against the converged image with 4 samples, and what is
    /// left then, the grain in large discs and soft shadows, is less than a fifth of that with 128; twice as many would
    /// keep a phone busy for as long again and take away little more. A small one has a quarter: its pixels are small, and
    /// it is glanced at. Where grain may stay none is better than one that is played.
    pub(super) const fn goal(self, grain: Grain) -> u32 {
        match (self, grain) {
            (Self::Large, Grain::Fine) => 128,
            (Self::Small, Grain::Fine) => 32,
            (Self::Still, Grain::Fine) => STILL_SAMPLES,
            (Self::Played, _) | (_, Grain::Coarse) => PLAYED_SAMPLES,
        }
    }

    /// How long a picture's step to its rung `rung` is put off: the least comes first.
    pub(super) const fn turn(self, rung: usize) -> usize {
        match self {
            // It is late already when another is not.
            Self::Played => 0,
            // Its first image may be late as well; after that it takes turns, so that nobody waits for it.
            Self::Still => rung,
            Self::Large => rung + 1,
            Self::Small => rung + 1 + RUNGS_AHEAD,
        }
    }

    /// The rung after `samples`, and its number; none when the picture is finished.
    pub(super) fn next(self, samples: u32, grain: Grain) -> Option<(usize, u32)> {
        if self == Self::Played {
            // At once: half a picture is of no use to whoever shows the next one soon.
            return (samples < PLAYED_SAMPLES).then_some((0, PLAYED_SAMPLES));
        }
        let next = RUNGS.into_iter().enumerate().find(|(_, rung)| *rung > samples)?;
        (next.1 <= self.goal(grain)).then_some(next)
    }
}

/// The size of the first image of a picture: its own if that can be drawn in time, else coarser.
///
/// `samples_per_ms` is how many samples of pixels all together take in a millisecond.
pub(super) fn first_size((width, height): (u32, u32), samples_per_ms: f64) -> (u32, u32) {
    let all = f64::from(width) * f64::from(height) * f64::from(FIRST_SAMPLES);
    let in_time = |divisor: &u32| all / f64::from(divisor * divisor) <= FIRST_MS * samples_per_ms;
    let divisor = (1..=COARSEST).find(in_time).unwrap_or(COARSEST);
    (width.div_ceil(divisor), height.div_ceil(divisor))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_large_picture_ends_at_its_goal_and_small_ones_before() {
        let fine = [(Rank::Large, 128), (Rank::Small, 32), (Rank::Still, 32)].map(|one| (one, Grain::Fine));
        let quick = [Rank::Large, Rank::Small, Rank::Still].map(|rank| ((rank, 12), Grain::Coarse));
        for ((rank, goal), grain) in fine.into_iter().chain(quick) {
            let (mut samples, mut steps) = (0, 0);
            while let Some((rung, next)) = rank.next(samples, grain) {
                assert_eq!(rung, steps);
                (samples, steps) = (next, steps + 1);
            }
            assert_eq!(samples, goal);
        }
    }

    #[test]
    fn a_played_picture_is_drawn_in_one_step_and_before_all_others() {
        let (rung, samples) = Rank::Played.next(0, Grain::Fine).expect("not begun");
        assert_eq!(samples, Rank::Played.goal(Grain::Fine));
        assert_eq!(Rank::Played.next(samples, Grain::Fine), None);
        assert!(Rank::Played.turn(rung) < Rank::Large.turn(0), "the large one waits");
    }

    #[test]
    fn a_still_is_there_before_the_large_one_and_then_takes_turns() {
        let (rung, samples) = Rank::Still.next(0, Grain::Fine).expect("not begun");
        assert!(Rank::Still.turn(rung) < Rank::Large.turn(0), "the large one waits");
        let (rung, samples) = Rank::Still.next(samples, Grain::Fine).expect("not finished");
        let (rung, _) = Rank::Still.next(samples, Grain::Fine).unwrap_or((rung, samples));
        assert!(Rank::Large.turn(0) < Rank::Still.turn(rung), "the still waits");
    }

    #[test]
    fn what_can_be_drawn_in_time_is_drawn_at_its_own_size() {
        assert_eq!(first_size((480, 270), 100_000.0), (480, 270));
        assert_eq!(first_size((1280, 536), 40_000.0), (640, 268));
        assert_eq!(first_size((1280, 537), 1.0), (320, 135));
    }

    #[test]
    fn small_pictures_wait_until_the_large_one_reads() {
        let (rung, _) = Rank::Large.next(24, Grain::Fine).expect("not finished");
        assert!(Rank::Small.turn(0) <= Rank::Large.turn(rung));
        let (rung, _) = Rank::Large.next(12, Grain::Fine).expect("not finished");
        assert!(Rank::Small.turn(0) > Rank::Large.turn(rung));
    }
}
