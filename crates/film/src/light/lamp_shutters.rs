//! Which shutters leave lamps on the mains alike in every frame.

use language::say;
use optics::{ExposureTime, MainsFrequency, ShutterAngle, half_periods, steady_exposure};
use units::FrameRate;

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
    /// In plain words: `1/50 s (172.8°) at 50 Hz`.
    pub fn words(&self) -> String {
        let Self { mains, time, angle, is_offered } = self;
        let lacks = if *is_offered { "" } else { say!(", which the app lacks") };
        say!("{time} ({:.1}°) at {mains}{lacks}", angle.to_deg())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use optics::exposure_time;

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
}
