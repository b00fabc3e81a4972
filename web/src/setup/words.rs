//! Plain words for what a plan says: what stands on chips and buttons.

pub(crate) use film::shape_told as shape;
use language::say;
use requests::{ArrangementRequest, PhoneHeightRequest, PostureRequest, SetupRequest, ShotSizeRequest};
use units::{Length, LengthUnit};

/// A length as people read it.
pub(crate) fn length(metres: f64, unit: LengthUnit) -> String {
    Length::from_m(metres).told(unit, if metres.abs() < 10.0 { 2 } else { 1 })
}

/// A number with three digits, or fewer where it is below one.
pub(crate) fn three_digits(value: f64) -> String {
    let digits = match value.abs() {
        size if size >= 99.95 => 0,
        size if size >= 9.995 => 1,
        _ => 2,
    };
    say!("{value:.digits$}")
}

/// An angle as people read it.
pub(crate) fn degrees(degrees: f64) -> String {
    format!("{degrees:.0}°")
}

/// A stretch of a take as people read it.
pub(crate) fn seconds(seconds: f64) -> String {
    say!("{seconds:.1} s")
}

/// The shot's size in plain words.
pub(crate) fn size(size: ShotSizeRequest) -> &'static str {
    language::text(staging::ShotSize::from(size).name())
}

/// Who the shot is of.
pub(crate) fn who(shot: &SetupRequest, unit: LengthUnit) -> String {
    if shot.shot_size == ShotSizeRequest::Insert {
        return say!("Thing, {}", length(shot.insert_size_m.unwrap_or(0.0), unit));
    }
    let Some(subject) = &shot.subject else { return say!("Nobody").to_owned() };
    match subject.second_person.as_ref().map(|second| second.arrangement) {
        Some(Some(ArrangementRequest::OverShoulder)) => say!("Over the shoulder").to_owned(),
        Some(Some(ArrangementRequest::Beside) | None) => say!("Two people").to_owned(),
        None => {
            let seated = subject.posture == Some(PostureRequest::Seated);
            let who = match subject.age {
                Some(requests::AgeRequest::Child) => say!("Child"),
                Some(requests::AgeRequest::Adult) | None => say!("Adult"),
            };
            let how = if seated { say!(", seated") } else { "" };
            format!("{who} {}{how}", length(subject.stature_m, unit))
        }
    }
}

/// How high the phone is and what the look is.
pub(crate) fn height(shot: &SetupRequest, unit: LengthUnit) -> String {
    let height = match (shot.camera_height_m, shot.camera_height) {
        (Some(metres), _) => say!("{} high", length(metres, unit)),
        (None, Some(words)) => phone_height(words).to_owned(),
        (None, None) => say!("Height by size").to_owned(),
    };
    match shot.look_tilt_deg {
        None => height,
        Some(degrees) if degrees.abs() < 0.5 => say!("{height}, level"),
        Some(degrees) if degrees > 0.0 => say!("{height}, {degrees:.0}° up"),
        Some(degrees) => say!("{height}, {:.0}° down", -degrees),
    }
}

/// A height in words.
pub(crate) fn phone_height(height: PhoneHeightRequest) -> &'static str {
    match height {
        PhoneHeightRequest::Eyes => say!("Eye height"),
        PhoneHeightRequest::Chest => say!("Chest height"),
        PhoneHeightRequest::Waist => say!("Waist height"),
        PhoneHeightRequest::Knee => say!("Knee height"),
        PhoneHeightRequest::Ground => say!("On the ground"),
        PhoneHeightRequest::Overhead => say!("Overhead"),
    }
}

/// Where across the frame the subject stands.
pub(crate) fn across(share: Option<f64>) -> String {
    match share {
        None => say!("Centred").to_owned(),
        Some(share) if (share - 0.5).abs() < 0.02 => say!("Centred").to_owned(),
        Some(share) if (share - 1.0 / 3.0).abs() < 0.02 => say!("On the left third").to_owned(),
        Some(share) if (share - 2.0 / 3.0).abs() < 0.02 => say!("On the right third").to_owned(),
        Some(share) => say!("{:.0} % from the left", share * 100.0),
    }
}

/// Which way a person faces, seen from the phone: positive turns clockwise from above, towards the frame's left.
pub(crate) fn facing(degrees: f64) -> String {
    let side = if degrees < 0.0 { say!("frame right") } else { say!("frame left") };
    match degrees.abs() {
        off if off < 8.0 => say!("to the phone").to_owned(),
        off if off < 60.0 => say!("{off:.0}° to {side}"),
        off if off < 120.0 => say!("in profile to {side}, {off:.0}°"),
        off => say!("away, {off:.0}° to {side}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_three_digits_at_most() {
        assert_eq!(
            [1.234, 12.34, 123.4, 99.96, 0.5].map(three_digits),
            ["1.23", "12.3", "123", "100", "0.50"]
        );
    }

    #[test]
    fn lengths_keep_three_digits() {
        assert_eq!(length(1.7, LengthUnit::Metres), "1.70 m");
        assert_eq!(length(12.34, LengthUnit::Metres), "12.3 m");
        assert_eq!(length(1.8288, LengthUnit::Feet), "6'0\"");
    }

    #[test]
    fn a_third_is_called_a_third() {
        assert_eq!(across(Some(1.0 / 3.0)), "On the left third");
        assert_eq!(across(None), "Centred");
    }
}
