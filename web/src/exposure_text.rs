//! Exposure times as people type them, and as the page writes them.

use language::{DecimalMark, Number, say};
use optics::ExposureTime;
use units::QuantityError;

/// Two times nearer to each other than this share are one: chosen because files round theirs, and no camera tells them apart.
const SAME_SHARE: f64 = 1e-6;
/// From here on a time is written in seconds, below as a fraction: chosen because cameras do so.
const LONG_S: f64 = 0.7;

/// The time that a text says, in any of its spellings: `1/50`, `1/50 s`, `0.02`, `0,02`.
///
/// # Errors
/// Says what is wrong with the text, which it names.
pub(crate) fn parse_time(text: &str) -> Result<ExposureTime, String> {
    let text = text.trim();
    let lower = text.to_ascii_lowercase();
    let bare = ["seconds", "sec", "s"].iter().find_map(|unit| lower.strip_suffix(unit));
    let number = bare.unwrap_or(&lower).trim();
    let seconds = match number.split_once('/') {
        Some((over, under)) => {
            let parts = decimal(over).zip(decimal(under)).filter(|(_, under)| *under > 0.0);
            parts.map(|(over, under)| over / under)
        }
        None => decimal(number),
    };
    let Some(seconds) = seconds else {
        return Err(say!("“{text}” is not an exposure time: write it as 1/50, 0.02 or 1/50 s"));
    };
    // Cameras leave out the 1/, so a bare 50 is more likely a fiftieth than most of a minute.
    if bare.is_none() && !number.contains('/') && seconds > 1.0 {
        return Err(say!("“{text}” could be 1/{number} s or {number} s: write which"));
    }
    ExposureTime::from_s(seconds).map_err(|error| {
        // As it was typed: a quotient has a tail of digits.
        if let QuantityError::OutOfRange { min, max, unit, .. } = error {
            let (typed, least, most) = (text, Number(min), format!("{} {unit}", Number(max)));
            say!("“{typed}” is not allowed: {least} to {most}")
        } else {
            format!("“{text}”: {error}")
        }
    })
}

/// The times of a list with commas, semicolons, blanks or line ends between them, from the longest to the shortest, each once.
///
/// # Errors
/// Says what is wrong with the first that is none, which it names.
pub(crate) fn parse_times(text: &str) -> Result<Vec<ExposureTime>, String> {
    let text = text.replace(" /", "/").replace("/ ", "/");
    // A comma is a point in half of the world, unless the piece has another; a fraction has one where the user writes it so.
    let parts = |piece: &str| match language::manner().mark {
        DecimalMark::Point => piece.contains(['/', '.']),
        DecimalMark::Comma => piece.contains('.') || piece.matches('/').count() > 1,
    };
    let mut pieces: Vec<String> = Vec::new();
    for piece in text.split(|letter: char| letter.is_whitespace() || letter == ';') {
        let piece = piece.trim_matches(',');
        match pieces.last_mut() {
            // What stands after a blank may be the unit of what stands before it.
            Some(last) if ["s", "sec", "seconds"].contains(&piece.to_ascii_lowercase().as_str()) => {
                last.push_str(" s");
            }
            _ if parts(piece) => {
                pieces.extend(piece.split(',').filter(|piece| !piece.is_empty()).map(str::to_owned));
            }
            _ if piece.is_empty() => {}
            _ => pieces.push(piece.to_owned()),
        }
    }
    let mut times = pieces.iter().map(|piece| parse_time(piece)).collect::<Result<Vec<_>, _>>()?;
    times.sort_by(|one, other| other.to_s().total_cmp(&one.to_s()));
    times.dedup_by(|one, other| is_same(one.to_s(), other.to_s()));
    Ok(times)
}

/// A time in the one spelling that the page uses: `1/50`, `0.3`, `2 s`.
pub(crate) fn told_time(time: ExposureTime) -> String {
    let seconds = time.to_s();
    if seconds >= LONG_S {
        return format!("{} s", Number(seconds));
    }
    let under = 1.0 / seconds;
    let fraction = (0..=3_usize).map(|digits| format!("{under:.digits$}"));
    let fraction = fraction.into_iter().find(|text| text.parse().is_ok_and(|told: f64| is_same(told, under)));
    fraction.map_or_else(|| Number(seconds).to_string(), |under| format!("1/{}", Number(under)))
}

/// A list of times.
pub(crate) fn told_times(times: &[ExposureTime]) -> String {
    times.iter().map(|time| told_time(*time)).collect::<Vec<_>>().join(", ")
}

fn is_same(one: f64, other: f64) -> bool {
    (one / other - 1.0).abs() <= SAME_SHARE
}

/// A number with a point or a comma.
fn decimal(text: &str) -> Option<f64> {
    text.trim().replace(',', ".").parse().ok().filter(|number: &f64| number.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn again(text: &str) -> String {
        parse_times(text).map_or_else(|why| why, |times| told_times(&times))
    }

    #[test]
    fn every_spelling_of_a_time_is_the_same_time() {
        for text in ["1/50", "0.02", "0,02", "1/50 s", "1/50s", " 0.02 sec", "2/100", "1 / 50", ".02"] {
            assert_eq!(again(text), "1/50", "{text}");
        }
        assert_eq!(again("2 s"), "2 s");
        assert_eq!(again("1"), "1 s");
    }

    #[test]
    fn a_list_is_read_however_it_is_parted() {
        let canonical = "1/24, 1/48, 1/50, 1/60";
        for text in [
            canonical,
            "1/24,1/48,1/50,1/60",
            "1/60 1/50 1/48 1/24",
            "1/24 s, 1/48 s, 1/50 s, 1/60 s",
            "1/24;1/48;0.02;1/60,",
            "1/24\n1/48\n0,02\n1/60\n1/50",
        ] {
            assert_eq!(again(text), canonical, "{text}");
        }
        assert_eq!(again("0.5,0.25"), "1/2, 1/4");
        assert_eq!(again("  "), "");
    }

    #[test]
    fn what_is_no_time_is_named() {
        assert_eq!(again("1/48, fast"), "“fast” is not an exposure time: write it as 1/50, 0.02 or 1/50 s");
        assert_eq!(again("1/48, 1/0"), "“1/0” is not an exposure time: write it as 1/50, 0.02 or 1/50 s");
        assert_eq!(again("1/48, 50"), "“50” could be 1/50 s or 50 s: write which");
        assert_eq!(again("-1/48"), "“-1/48” is not allowed: 0.00001 to 60 s");
        assert_eq!(again("90 s"), "“90 s” is not allowed: 0.00001 to 60 s");
    }

    #[test]
    fn what_is_told_is_read_as_the_same_time() {
        let fractions = (1..=8000).map(|under| 1.0 / f64::from(under));
        let odd = [1e-5, 60.0, 0.3, 0.7, 0.69, 1.0 / 23.976, 0.012_345, 0.020_833_33, 1.5, 2.0 / 3.0];
        for seconds in fractions.chain(odd) {
            let time = ExposureTime::from_s(seconds).expect("in range");
            let told = told_time(time);
            let read = parse_time(&told).expect("its own spelling");
            assert!(is_same(read.to_s(), seconds), "{seconds} was told as {told}");
            assert_eq!(told_time(read), told);
        }
        assert_eq!(again("1/23.976"), "1/23.976");
    }
}
