//! How light is written in a picture's bytes, and read back: the curve of sRGB, IEC 61966-2-1.
//!
//! Light is linear, as a share of a screen's white, for each of sRGB's primaries by itself.

/// The signal that stands for light.
///
/// ```text
/// S = 12.92 L                       L ≤ 0.0031308
/// S = 1.055 L^(1/2.4) − 0.055       else
/// ```
/// `L` light (0 to 1); `S` signal (0 to 1). Light past white goes on along the curve.
///
/// # Source
/// `Iec1999`.
///
/// # Examples
/// Half of white's light is written as 187.5 of 255:
/// ```
/// let signal = optics::srgb_signal(0.5);
/// assert!((255.0 * signal - 187.516).abs() < 1e-3, "{signal}");
/// ```
pub fn srgb_signal(light: f64) -> f64 {
    if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 }
}

/// The byte whose signal is nearest to that of light. Light past white is white.
///
/// # Examples
/// Middle grey, 18 % of white's light, is 118:
/// ```
/// assert_eq!(optics::srgb_byte(0.18), 118);
/// ```
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to what a byte holds and rounded"
)]
pub fn srgb_byte(light: f64) -> u8 {
    libm::round(srgb_signal(light).clamp(0.0, 1.0) * 255.0) as u8
}

/// The light that a byte stands for, 0 to 1.
///
/// ```text
/// L = S / 12.92                       S ≤ 0.04045
/// L = ((S + 0.055) / 1.055)^2.4       else
/// ```
/// `S` the byte over 255; `L` light. The way back of [`srgb_byte`].
///
/// # Source
/// `Iec1999`.
///
/// # Examples
/// The middle of the bytes gives back about a fifth of white's light:
/// ```
/// let light = optics::srgb_light(128);
/// assert!((light - 0.215_861).abs() < 1e-6, "{light}");
/// ```
pub fn srgb_light(byte: u8) -> f64 {
    let signal = f64::from(byte) / 255.0;
    if signal <= 0.040_45 { signal / 12.92 } else { libm::pow((signal + 0.055) / 1.055, 2.4) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_byte_comes_back_from_its_light() {
        for byte in 0..=u8::MAX {
            assert_eq!(srgb_byte(srgb_light(byte)), byte);
        }
    }

    #[test]
    fn light_comes_out_as_the_standard_has_it() {
        // Worked by hand from the standard's formula, on both its pieces: 10 is the last byte on the straight one.
        for (byte, expected) in [(0, 0.0), (10, 0.003_035), (11, 0.003_347), (118, 0.181_164), (255, 1.0)] {
            let light = srgb_light(byte);
            assert!((light - expected).abs() < 1e-6, "{byte}: {light} is not {expected}");
        }
    }

    #[test]
    fn both_pieces_of_the_curve_meet() {
        let (straight, bent) = (srgb_signal(0.003_130_8), srgb_signal(0.003_130_800_1));
        assert!((straight - bent).abs() < 1e-7, "{straight} {bent}");
    }

    #[test]
    fn light_that_no_byte_can_write_is_white_or_black() {
        assert_eq!([7.0, 1.0, 0.0, -0.5].map(srgb_byte), [255, 255, 0, 0]);
    }
}
