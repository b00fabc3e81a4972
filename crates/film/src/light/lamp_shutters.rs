//! Which shutters leave lamps on the mains alike in every frame.

use language::{Number, say};
use optics::{ExposureTime, MainsFrequency, ShutterAngle, half_periods, steady_exposure};
use units::FrameRate;

use super::{LightFinding, ShotLight};
use crate::film::Film;
use crate::findings::{ExposureFinding, steady_time_told};

/// A shutter under which lamps do not flicker.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SafeShutter {
    /// The mains that the lamps hang on.
    pub mains: MainsFrequency,
    /// The time: whole half periods of the mains.
    pub time: ExposureTime,
    /// The angle that it is at the shot's rate.
    pub angle: ShutterAngle,
    /// Whether the camera app offers it; what it offers is not known of every app.
    pub is_offered: bool,
}

/// The safe shutters next to what is asked for, at 50 Hz and at 60 Hz: the nearest that is no longer, and the nearest that is
/// longer, each if a frame has room for it.
///
/// # Source
/// [`optics::half_periods`].
pub(crate) fn safe_shutters(
    asked: ExposureTime,
    rate: FrameRate,
    is_offered: impl Fn(ExposureTime) -> bool,
) -> Vec<SafeShutter> {
    let both = [MainsFrequency::FIFTY, MainsFrequency::SIXTY];
    let mut safe: Vec<SafeShutter> = both.into_iter().flat_map(|mains| next_to(asked, rate, mains)).collect();
    for shutter in &mut safe {
        shutter.is_offered = is_offered(shutter.time);
    }
    safe
}

fn next_to(asked: ExposureTime, rate: FrameRate, mains: MainsFrequency) -> impl Iterator<Item = SafeShutter> {
    // A time of whole half periods may be a rounding less than them.
    let below = libm::floor(half_periods(asked, mains) + 1e-6).clamp(0.0, 1e6);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 0 to 1000000"
    )]
    let below = below as u32;
    [below, below + 1].into_iter().filter_map(move |count| {
        let time = steady_exposure(count, mains)?;
        Some(SafeShutter { mains, time, angle: time.shutter_angle(rate)?, is_offered: true })
    })
}

impl SafeShutter {
    /// In plain words: `1/50 s (172.8°) at 50 Hz`; where no fraction with a one above is whole half periods, `3/100 s`.
    pub fn words(&self) -> String {
        let lacks = if self.is_offered { "" } else { say!(", which the app lacks") };
        let time = self.time_words();
        say!("{time} at {}{lacks}", Number(self.mains))
    }

    /// The time alone: `1/50 s (172.8°)`.
    pub fn time_words(&self) -> String {
        steady_time_told(self.time, self.mains, Some(self.angle))
    }
}

impl ShotLight {
    /// The shutter that the whole film could have in place of its own where lamps flicker on this setup: the nearest, in stops,
    /// that the app offers. None without such a finding, and for a setup whose frame rate is not the film's: at that the same
    /// angle is another time.
    pub fn against_flicker(&self, film: &Film) -> Option<SafeShutter> {
        let flickers_on = |finding: &LightFinding| {
            let LightFinding::Lamps { found: ExposureFinding::Flicker { mains, .. }, .. } = finding else {
                return None;
            };
            Some(*mains)
        };
        let mains = self.findings.iter().find_map(flickers_on)?;
        let off = |safe: &&SafeShutter| libm::log2(safe.time.to_s() / self.shutter.time.to_s()).abs();
        let safe = self.safe_shutters.iter().filter(|safe| safe.mains == mains && safe.is_offered);
        let nearest = safe.min_by(|one, other| off(one).total_cmp(&off(other)))?;
        (self.shutter.rate == film.facts.frame_rate).then_some(*nearest)
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::day::ShootingDay;
    use crate::day_plan::{DayPlan, Daylights};
    use crate::id::DayId;
    use crate::rehearsal::Rehearsals;
    use optics::exposure_time;

    /// The lights of all setups of a film, at ten.
    fn lights(film: &Film) -> Vec<ShotLight> {
        let day = ShootingDay::usual(DayId::new(1).expect("small"));
        let plan = DayPlan::of(film, &day, &Daylights::new(), &mut Rehearsals::default());
        plan.setups.iter().filter_map(|setup| setup.light_at(film, &day, &Daylights::new(), 600.0)).collect()
    }

    fn words(fps: f64) -> Vec<String> {
        let rate = FrameRate::checked_from_fps(fps).expect("in range");
        safe_shutters(exposure_time(ShutterAngle::HALF, rate), rate, |_| true)
            .iter()
            .map(SafeShutter::words)
            .collect()
    }

    #[test]
    fn film_speed_is_safe_a_little_shorter_at_50_hz_and_longer_at_60_hz() {
        // 1/48 s is 2.08 half periods of 50 Hz and 2.5 of 60 Hz.
        let told = words(24.0);
        assert_eq!(told[0], "1/50 s (172.8°) at 50 Hz");
        // Three half periods of 50 Hz; 1/33 s is 3.03 of them, and flickers.
        assert_eq!(told[1], "3/100 s (259.2°) at 50 Hz");
        assert_eq!(told[2], "1/60 s (144.0°) at 60 Hz");
        assert_eq!(told[3], "1/40 s (216.0°) at 60 Hz");
    }

    #[test]
    fn twenty_five_frames_are_safe_as_they_are_at_50_hz() {
        assert_eq!(words(25.0)[0], "1/50 s (180.0°) at 50 Hz");
    }

    #[test]
    fn slow_motion_may_have_none() {
        // A frame of 1/240 s has no room for half a period of either.
        assert_eq!(words(240.0), [""; 0]);
    }

    #[test]
    fn a_film_takes_the_nearest_shutter_under_which_no_lamp_flickers_and_its_setups_are_set_to_it() {
        let mut film = crate::demo_film();
        let before = lights(&film);
        let (at, offered) = before
            .iter()
            .enumerate()
            .find_map(|(at, light)| Some((at, light.against_flicker(&film)?)))
            .expect("a room with lamps");
        assert_eq!(offered.time_words(), "1/50 s (172.8°)");
        Arc::make_mut(&mut film.facts).shutter = offered.angle;
        let after = lights(&film);
        assert!(after.iter().all(|light| light.against_flicker(&film).is_none()), "it flickers still");
        let steps = &after[at].how_to_set.steps;
        assert!(steps.iter().any(|step| step == "set the shutter to 1/50 s"), "{steps:?}");
    }

    #[test]
    fn slow_motion_does_not_take_the_film_s_shutter_along() {
        let film = crate::demo_film();
        let flickers = lights(&film).into_iter().find(|light| light.against_flicker(&film).is_some());
        let mut light = flickers.expect("a room with lamps");
        light.shutter.rate = FrameRate::checked_from_fps(48.0).expect("in range");
        assert_eq!(light.against_flicker(&film), None);
    }
}
