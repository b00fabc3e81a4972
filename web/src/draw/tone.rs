//! Lighter and darker tones of the theme's colours.

/// A colour between two of the form `#rrggbb`: `share` of the second. Any other text is handed back as it is.
pub(super) fn mix(from: &str, to: &str, share: f64) -> String {
    let (Some(from_rgb), Some(to_rgb)) = (channels(from), channels(to)) else { return from.to_owned() };
    let [red, green, blue] = [0, 1, 2].map(|at| between(from_rgb[at], to_rgb[at], share));
    format!("#{red:02x}{green:02x}{blue:02x}")
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=255")]
fn between(from: u8, to: u8, share: f64) -> u8 {
    let (from, to) = (f64::from(from), f64::from(to));
    (from + (to - from) * share).round().clamp(0.0, 255.0) as u8
}

fn channels(colour: &str) -> Option<[u8; 3]> {
    let digits = colour.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.is_ascii())?;
    let value = u32::from_str_radix(digits, 16).ok()?;
    let [_, red, green, blue] = value.to_be_bytes();
    Some([red, green, blue])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halfway_between_black_and_white_is_grey() {
        assert_eq!(mix("#000000", "#ffffff", 0.5), "#808080");
    }

    #[test]
    fn a_colour_of_another_form_is_left_alone() {
        assert_eq!(mix("rgb(1 2 3)", "#ffffff", 0.5), "rgb(1 2 3)");
        assert_eq!(mix("#12345", "#ffffff", 0.5), "#12345");
    }
}
