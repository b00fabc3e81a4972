//! Latitudes and longitudes as people type and paste them, and as the page writes them.

use language::{Number, say};

/// One of the two directions in which a place is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Axis {
    /// North, or south if negative.
    Latitude,
    /// East, or west if negative.
    Longitude,
}

/// What a text says of a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Typed {
    /// One of its two numbers, in degrees.
    One(f64),
    /// Both, latitude first, as maps hand them over.
    Both(f64, f64),
}

impl Axis {
    fn name(self) -> &'static str {
        match self {
            Self::Latitude => say!("latitude"),
            Self::Longitude => say!("longitude"),
        }
    }

    const fn most_deg(self) -> f64 {
        match self {
            Self::Latitude => 90.0,
            Self::Longitude => 180.0,
        }
    }

    /// The letters of its positive and its negative side.
    const fn letters(self) -> (char, char) {
        match self {
            Self::Latitude => ('N', 'S'),
            Self::Longitude => ('E', 'W'),
        }
    }

    /// What to do about a number that is none of its own.
    fn refuse(self, degrees: f64) -> String {
        let most = self.most_deg();
        let other = match self {
            Self::Latitude => {
                say!("South is negative, or ends in S. If this is the longitude, type it in the field below.")
            }
            Self::Longitude => say!("West is negative, or ends in W."),
        };
        say!("{}° is no {}: it is −{most}° to {most}°. {other}", Number(degrees), self.name())
    }
}

/// What a text typed into a field of that axis says: `52.09`, `52,09`, `52.09 N`, `52° 5' 24" S`; or `52.09, 5.12`.
///
/// # Errors
/// Says what is wrong with it, and what to do.
pub(super) fn parse(text: &str, axis: Axis) -> Result<Typed, String> {
    if let Some((north, east)) = both(text) {
        let north = one(north, Axis::Latitude)?;
        return Ok(Typed::Both(north, one(east, Axis::Longitude)?));
    }
    one(text, axis).map(Typed::One)
}

/// The two parts of a text that has both numbers.
fn both(text: &str) -> Option<(&str, &str)> {
    let (north, east) = text.split_once(", ").or_else(|| text.split_once(';')).or_else(|| {
        // With points in both, a comma between them parts them.
        text.split_once(',').filter(|(north, east)| north.contains('.') && east.contains('.'))
    })?;
    let is_number = |part: &str| part.chars().any(|letter| letter.is_ascii_digit());
    (is_number(north) && is_number(east)).then_some((north, east))
}

fn one(text: &str, axis: Axis) -> Result<f64, String> {
    let typed = text.trim();
    let upper = typed.to_uppercase().replace('−', "-").replace(',', ".");
    let (positive, negative) = axis.letters();
    let (mut side, mut rest) = (1.0, upper.as_str());
    for (letter, sign) in [(positive, 1.0), (negative, -1.0)] {
        if let Some(bare) = rest.strip_suffix(letter).or_else(|| rest.strip_prefix(letter)) {
            (side, rest) = (sign, bare);
            break;
        }
    }
    let parts = rest.split(|letter: char| letter.is_whitespace() || "°'’′\"”″".contains(letter));
    let parts = parts.filter(|part| !part.is_empty()).map(|part| part.parse::<f64>().ok());
    let no_number = || say!("“{typed}” is no {}: type degrees such as 52.09 or 52° 5' 24\"", axis.name());
    let parts: Vec<f64> = parts.collect::<Option<_>>().ok_or_else(no_number)?;
    let (degrees, minutes, seconds) = match parts[..] {
        [degrees] => (degrees, 0.0, 0.0),
        [degrees, minutes] => (degrees, minutes, 0.0),
        [degrees, minutes, seconds] => (degrees, minutes, seconds),
        _ => return Err(no_number()),
    };
    if !(0.0..60.0).contains(&minutes) || !(0.0..60.0).contains(&seconds) || !degrees.is_finite() {
        return Err(no_number());
    }
    let size = degrees.abs() + minutes / 60.0 + seconds / 3600.0;
    let degrees = side * if degrees.is_sign_negative() { -size } else { size };
    if degrees.abs() <= axis.most_deg() { Ok(degrees + 0.0) } else { Err(axis.refuse(degrees)) }
}

/// Degrees as a field shows them: to about a metre, and no tail of noughts.
pub(super) fn shown(degrees: f64) -> String {
    let text = format!("{degrees:.5}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn latitude(text: &str) -> Result<f64, String> {
        match parse(text, Axis::Latitude)? {
            Typed::One(degrees) => Ok(degrees),
            Typed::Both(..) => Err("both".to_owned()),
        }
    }

    #[test]
    fn every_spelling_of_a_latitude_is_the_same_one() {
        for text in ["52.09", "52,09", " 52.09° ", "52.09 N", "N 52.09", "52° 5' 24\"", "52 5 24", "52° 5.4′"]
        {
            let degrees = latitude(text).unwrap_or_else(|why| panic!("{text}: {why}"));
            assert!((degrees - 52.09).abs() < 1e-9, "{text}: {degrees}");
        }
        for text in ["-33.5", "−33,5", "33.5 s", "33° 30' S"] {
            assert!((latitude(text).expect("south") + 33.5).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn what_a_map_hands_over_is_both_numbers() {
        for text in ["52.0907, 5.1214", "52.0907,5.1214", "52.0907; 5.1214", "52.0907° N, 5.1214° E"] {
            assert_eq!(parse(text, Axis::Longitude), Ok(Typed::Both(52.0907, 5.1214)), "{text}");
        }
    }

    #[test]
    fn what_is_no_place_is_told_with_what_to_do() {
        let told = latitude("91").expect_err("beyond the pole");
        assert!(
            told.starts_with("91° is no latitude: it is −90° to 90°.") && told.contains("longitude"),
            "{told}"
        );
        assert!(latitude("north").expect_err("no number").contains("type degrees such as"), "words");
        assert!(parse("200", Axis::Longitude).expect_err("beyond").contains("−180° to 180°"), "range");
        assert!(
            latitude("52 70").is_err() && latitude("").is_err() && latitude("nan").is_err(),
            "no degrees"
        );
    }

    #[test]
    fn what_is_shown_is_read_as_the_same_place() {
        for degrees in [0.0, -0.000_001, 52.09, -33.856_78, 90.0, 5.1] {
            let again = latitude(&shown(degrees)).expect("its own spelling");
            assert!((again - degrees).abs() < 1e-5, "{degrees} is shown as {}", shown(degrees));
        }
    }
}
