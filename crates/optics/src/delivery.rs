//! The chain of images from the sensor to the delivered frame.

use std::fmt;
use std::ops::RangeInclusive;
use std::str::FromStr;

use language::{Number, say};
use units::Length;

use crate::adapter::{Adapter, Desqueeze, FrameAxis};
use crate::recording::RecordedArea;
use crate::sensor::SensorSize;

/// A frame's width over its height.
///
/// ```
/// use optics::Aspect;
/// assert_eq!("16:9".parse::<Aspect>()?.to_f64(), 16.0 / 9.0);
/// assert_eq!("2.39".parse::<Aspect>()?.to_f64(), 2.39);
/// # Ok::<(), optics::AspectError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Aspect(f64);

/// The shapes that a frame may have: chosen because none that is shown is wider, or higher.
const SHAPES: RangeInclusive<f64> = 0.2..=5.0;

/// Why something is not a frame shape.
#[non_exhaustive]
#[derive(Debug, Clone, PartialEq)]
pub enum AspectError {
    /// The text is neither a number nor two with a colon between.
    Text {
        /// The text as given.
        text: String,
    },
    /// The shape is out of range.
    Range {
        /// The value as given.
        value: f64,
    },
}

impl fmt::Display for AspectError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text { text } => f.write_str(&say!(
                "`{text}` is not a frame shape: 0.2 to 5, a number such as 2.39 or two such as 16:9"
            )),
            Self::Range { value } => {
                // Two numbers with a colon between leave a tail of digits; without it a shape is not to look as if it were one.
                let told = libm::round(value * 1000.0) / 1000.0;
                let value = Number(if SHAPES.contains(&told) { *value } else { told });
                f.write_str(&say!("{value} (width over height) is not allowed: 0.2 to 5 (width over height)"))
            }
        }
    }
}

impl std::error::Error for AspectError {}

/// How far the delivered frame is moved within the recorded one.
///
/// As a share of the free room on that side: 0 is centred, 1 touches the recorded frame's upper (or right) edge.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CropShift {
    /// Upwards; −1 to 1.
    pub up: f64,
    /// To the right; −1 to 1.
    pub right: f64,
}

/// The delivered frame: what is left of the recorded area after desqueeze and crop.
///
/// Pixel sizes are exact, not yet rounded down to whole pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DeliveredFrame {
    /// What was recorded.
    pub recorded: RecordedArea,
    /// Pixels of the desqueezed image, width and height.
    pub desqueezed_px: (f64, f64),
    /// Pixels of the delivered frame, width and height.
    pub delivered_px: (f64, f64),
    /// The delivered frame's area on the sensor.
    pub area: SensorSize,
    /// How far the area's centre lies from the recorded one's: to the right and up, as seen in the image.
    pub centre_offset: (Length, Length),
    /// How many times more than the lens alone the frame sees: along the width and along the height.
    pub squeeze: (f64, f64),
    /// Delivered pixels per length on the sensor, along the axis that is not squeezed.
    pub px_per_m: f64,
    /// The axis along which pixels were stretched, if any.
    pub stretched: Option<FrameAxis>,
    /// The axis that the adapter squeezes, if one is on.
    pub squeezed: Option<FrameAxis>,
}

impl Aspect {
    /// A frame shape of `width_over_height`.
    ///
    /// # Errors
    /// Refuses what is not 0.2 to 5.
    pub fn new(width_over_height: f64) -> Result<Self, AspectError> {
        if SHAPES.contains(&width_over_height) {
            Ok(Self(width_over_height))
        } else {
            Err(AspectError::Range { value: width_over_height })
        }
    }

    /// Width over height.
    pub const fn to_f64(self) -> f64 {
        self.0
    }
}

impl FromStr for Aspect {
    type Err = AspectError;

    fn from_str(text: &str) -> Result<Self, AspectError> {
        let not_a_shape = || AspectError::Text { text: text.to_owned() };
        let value = match text.split_once([':', '/', 'x']) {
            Some((width, height)) => {
                let height = decimal(height).filter(|height| *height > 0.0).ok_or_else(not_a_shape)?;
                decimal(width).ok_or_else(not_a_shape)? / height
            }
            None => decimal(text).ok_or_else(not_a_shape)?,
        };
        Self::new(value)
    }
}

/// So many digits make a whole number that a float holds exactly; of those behind them no frame could tell.
const DIGITS: usize = 15;

/// The number that a plain decimal says.
///
/// ```text
/// 2.39 = 239 / 10²
/// ```
/// Both are floats exactly, so their quotient is the nearest float. The standard library reads every decimal, with a table of
/// powers that the page would carry for this alone.
fn decimal(text: &str) -> Option<f64> {
    let (whole, fraction) = text.trim().split_once('.').unwrap_or((text.trim(), ""));
    if whole.len() + fraction.len() == 0 || whole.len() > DIGITS {
        return None;
    }
    let (mut digits, mut scale) = (0.0, 1.0);
    for letter in whole.chars() {
        digits = digits * 10.0 + f64::from(letter.to_digit(10)?);
    }
    for (place, letter) in (whole.len()..).zip(fraction.chars()) {
        let digit = f64::from(letter.to_digit(10)?);
        if place < DIGITS {
            digits = digits * 10.0 + digit;
            scale *= 10.0;
        }
    }
    Some(digits / scale)
}

/// An aspect within 0.01 % of the recorded one counts as the recorded one: chosen because 1.78 written for 16:9 is a
/// crop that nobody meant, and 1.777 778 is none.
const SAME_ASPECT: f64 = 1.0e-4;

/// Cuts the largest frame of shape `aspect` from a recorded area, after bringing it back to shape.
///
/// ```text
/// recorded × squeeze (in width, or ÷ in height) = desqueezed;  desqueezed ∩ aspect = delivered
/// ```
pub fn deliver(
    recorded: RecordedArea,
    adapter: Option<&Adapter>,
    aspect: Aspect,
    shift: CropShift,
) -> DeliveredFrame {
    let squeeze = adapter.map_or((1.0, 1.0), |adapter| {
        (adapter.squeeze_along(FrameAxis::Width), adapter.squeeze_along(FrameAxis::Height))
    });
    // Stretching multiplies the squeezed side; shrinking divides the other, which is everything divided by the squeeze.
    let shrink = match adapter {
        Some(adapter) if adapter.desqueeze == Desqueeze::Shrink => adapter.squeeze.to_f64(),
        Some(_) | None => 1.0,
    };
    let desqueezed_px = (recorded.width_px * squeeze.0 / shrink, recorded.height_px * squeeze.1 / shrink);
    let whole_aspect = desqueezed_px.0 / desqueezed_px.1;
    let wanted = aspect.to_f64();
    let (kept_width, kept_height) = if (wanted / whole_aspect - 1.0).abs() <= SAME_ASPECT {
        (1.0, 1.0)
    } else if wanted > whole_aspect {
        (1.0, whole_aspect / wanted)
    } else {
        (wanted / whole_aspect, 1.0)
    };
    let area =
        SensorSize { width: recorded.size.width * kept_width, height: recorded.size.height * kept_height };
    let room = (recorded.size.width - area.width, recorded.size.height - area.height);
    let squeezed = adapter.map(|adapter| adapter.axis);
    let px_per_m = match squeezed {
        Some(FrameAxis::Height) => desqueezed_px.0 / recorded.size.width.to_m(),
        Some(FrameAxis::Width) | None => desqueezed_px.1 / recorded.size.height.to_m(),
    };
    DeliveredFrame {
        recorded,
        desqueezed_px,
        delivered_px: (desqueezed_px.0 * kept_width, desqueezed_px.1 * kept_height),
        area,
        centre_offset: (room.0 * (shift.right / 2.0), room.1 * (shift.up / 2.0)),
        squeeze,
        px_per_m,
        stretched: squeezed
            .filter(|_| adapter.is_some_and(|adapter| adapter.desqueeze == Desqueeze::Stretch)),
        squeezed,
    }
}

impl DeliveredFrame {
    /// The delivered frame in whole pixels, rounded down.
    pub fn whole_px(&self) -> (u32, u32) {
        (floor_px(self.delivered_px.0), floor_px(self.delivered_px.1))
    }

    /// The share of the desqueezed image that the crop gives up.
    pub fn lost_share(&self) -> f64 {
        1.0 - self.delivered_px.0 * self.delivered_px.1 / (self.desqueezed_px.0 * self.desqueezed_px.1)
    }

    /// Width over height of the delivered frame.
    pub fn aspect(&self) -> f64 {
        self.delivered_px.0 / self.delivered_px.1
    }
}

/// Rounds pixels down, forgiving the last bits of a product that should have been whole.
fn floor_px(pixels: f64) -> u32 {
    let whole = libm::floor(pixels * (1.0 + 1.0e-12));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most 20000 pixels times a squeeze of 3, and positive"
    )]
    let pixels = whole as u32;
    pixels
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::adapter::Squeeze;
    use crate::known::Origin;
    use units::Length;

    fn recorded(width_px: f64, height_px: f64) -> RecordedArea {
        let width = Length::from_mm(9.8);
        RecordedArea {
            size: SensorSize { width, height: width * (height_px / width_px) },
            width_px,
            height_px,
            relative_sd: 0.01,
            origin: Origin::Typed,
        }
    }

    fn shape(aspect: f64) -> Aspect {
        Aspect::new(aspect).expect("a shape")
    }

    #[test]
    fn squeezed_4k_is_delivered_in_2_39_at_5107_by_2136() {
        let adapter = Adapter::new(Squeeze::new(1.33).expect("in range"));
        let frame = deliver(recorded(3840.0, 2160.0), Some(&adapter), shape(2.39), CropShift::default());
        assert_eq!(frame.whole_px(), (5107, 2136));
        assert_eq!(frame.stretched, Some(FrameAxis::Width));
    }

    #[test]
    fn shrinking_keeps_the_width_and_gives_up_rows() {
        let adapter =
            Adapter { desqueeze: Desqueeze::Shrink, ..Adapter::new(Squeeze::new(1.33).expect("in range")) };
        let frame = deliver(recorded(3840.0, 2160.0), Some(&adapter), shape(2.39), CropShift::default());
        assert_eq!(frame.whole_px(), (3840, 1606));
        assert_eq!(frame.stretched, None);
    }

    #[test]
    fn digital_cinema_flat_comes_out_of_its_container() {
        // ISDCF naming convention, appendix 7: flat 3996 x 2160 in the 4096 x 2160 container.
        let frame = deliver(recorded(4096.0, 2160.0), None, shape(1.85), CropShift::default());
        assert_eq!(frame.whole_px(), (3996, 2160));
    }

    #[test]
    fn nearly_the_recorded_shape_is_the_recorded_shape() {
        let frame = deliver(recorded(3840.0, 2160.0), None, shape(1.7778), CropShift::default());
        assert_eq!(frame.whole_px(), (3840, 2160));
        let cropped = deliver(recorded(3840.0, 2160.0), None, shape(1.779), CropShift::default());
        assert_eq!(cropped.whole_px(), (3840, 2158));
    }

    #[test]
    fn a_decimal_is_the_nearest_float() {
        for text in ["2.39", " 1.85 ", "1", ".5", "4.", "1.77777777777778", "239000000000000"] {
            assert_eq!(decimal(text), text.trim().parse().ok(), "{text}");
        }
        for hundredths in 20..=500 {
            let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
            assert_eq!(decimal(&text), text.parse().ok(), "{text}");
        }
        for text in ["", ".", "-1", "+1", "1e0", "1,5", "inf", "1.2.3", "1.7777777777777777x"] {
            assert_eq!(decimal(text), None, "{text}");
        }
    }

    #[test]
    fn digits_behind_the_last_that_counts_are_let_go() {
        let long = decimal("1.7777777777777777").expect("a number");
        assert!((long - 16.0 / 9.0).abs() < 1e-14, "{long}");
    }

    #[test]
    fn a_crop_moved_up_touches_the_recorded_edge() {
        let up = CropShift { up: 1.0, right: 0.0 };
        let frame = deliver(recorded(3840.0, 2160.0), None, shape(2.39), up);
        let top = frame.centre_offset.1 + frame.area.height / 2.0;
        assert!((top - frame.recorded.size.height / 2.0).abs() < Length::from_mm(1e-9), "{top:?}");
    }

    #[test]
    fn what_is_no_shape_is_refused_in_words() {
        assert!("wide".parse::<Aspect>().is_err());
        assert!("16:0".parse::<Aspect>().is_err());
        let error = "40:1".parse::<Aspect>().expect_err("too wide");
        assert_eq!(error.to_string(), "40 (width over height) is not allowed: 0.2 to 5 (width over height)");
        let told = |text: &str| text.parse::<Aspect>().expect_err("no shape").to_string();
        assert!(told("1:48").starts_with("0.021 (width over height) is not"), "{}", told("1:48"));
        assert!(told("5.0001").starts_with("5.0001 (width over height) is not"), "{}", told("5.0001"));
    }

    #[test]
    fn what_is_no_shape_and_what_is_too_far_a_shape_are_told_apart() {
        assert_eq!("16:9".parse::<Aspect>(), Ok(shape(16.0 / 9.0)));
        for text in ["16:0", "0:0", "16:", "16:9:4"] {
            assert_eq!(text.parse::<Aspect>(), Err(AspectError::Text { text: text.to_owned() }));
        }
        assert_eq!("0.1".parse::<Aspect>(), Err(AspectError::Range { value: 0.1 }));
    }

    #[test]
    fn the_sixteenth_digit_is_let_go() {
        assert_eq!(decimal("1.00000000000009"), Some(1.000_000_000_000_09), "fifteen");
        assert_eq!(decimal("1.000000000000009"), Some(1.0), "sixteen");
    }

    #[test]
    fn a_phone_held_upright_is_squeezed_in_height() {
        // 2160 x 3840 on 9.8 mm of width, squeezed twice along the columns.
        let recorded = recorded(2160.0, 3840.0);
        let twice = Squeeze::new(2.0).expect("in range");
        let stretch = Adapter { axis: FrameAxis::Height, ..Adapter::new(twice) };
        let frame = deliver(recorded, Some(&stretch), shape(0.2), CropShift::default());
        assert_eq!((frame.desqueezed_px, frame.squeeze), ((2160.0, 7680.0), (1.0, 2.0)));
        assert_eq!((frame.squeezed, frame.stretched), (Some(FrameAxis::Height), Some(FrameAxis::Height)));
        // Across the columns nothing is squeezed: 2160 pixels on 9.8 mm.
        assert!((frame.px_per_m - 2160.0 / 0.0098).abs() < 1e-6, "{}", frame.px_per_m);
        // Shrunk instead, columns stay and half the pixels across are given up.
        let shrink = Adapter { desqueeze: Desqueeze::Shrink, ..stretch };
        let frame = deliver(recorded, Some(&shrink), shape(0.2), CropShift::default());
        assert_eq!(frame.desqueezed_px, (1080.0, 3840.0));
        assert!((frame.px_per_m - 1080.0 / 0.0098).abs() < 1e-6, "{}", frame.px_per_m);
    }

    #[test]
    fn pixels_are_counted_across_the_squeeze() {
        // 3840 x 2160 on 9.8 mm of width: without an adapter, or with one along the rows, 2160 on 5.5125 mm of height.
        let squeezed = Adapter::new(Squeeze::new(1.33).expect("in range"));
        for adapter in [None, Some(&squeezed)] {
            let frame = deliver(recorded(3840.0, 2160.0), adapter, shape(2.39), CropShift::default());
            assert!((frame.px_per_m - 2160.0 / 0.005_512_5).abs() < 1e-6, "{}", frame.px_per_m);
        }
    }

    #[test]
    fn a_crop_takes_from_one_side_and_moves_there() {
        // 4:3 on 9.8 x 7.35 mm. Twice as wide as high keeps the width and 4.9 mm of the height, a third is lost.
        let right_up = CropShift { up: 0.5, right: 0.5 };
        let wide = deliver(recorded(4000.0, 3000.0), None, shape(2.0), right_up);
        assert!(
            (wide.area.width.to_mm() - 9.8).abs() < 1e-12 && (wide.area.height.to_mm() - 4.9).abs() < 1e-12
        );
        assert!((wide.lost_share() - 1.0 / 3.0).abs() < 1e-12, "{}", wide.lost_share());
        assert!((wide.aspect() - 2.0).abs() < 1e-12, "{}", wide.aspect());
        // Half of the room to the edge: a quarter of the 2.45 mm that are free, and nothing sideways.
        assert_eq!(wide.centre_offset.0, Length::ZERO);
        assert!((wide.centre_offset.1.to_mm() - 0.6125).abs() < 1e-12, "{:?}", wide.centre_offset);
        // A square keeps the height and 7.35 mm of the width: a quarter is lost, and 2.45 mm are free sideways.
        let square = deliver(recorded(4000.0, 3000.0), None, shape(1.0), right_up);
        assert!(
            (square.area.width.to_mm() - 7.35).abs() < 1e-12
                && (square.area.height.to_mm() - 7.35).abs() < 1e-12
        );
        assert!((square.lost_share() - 0.25).abs() < 1e-12, "{}", square.lost_share());
        assert!((square.centre_offset.0.to_mm() - 0.6125).abs() < 1e-12, "{:?}", square.centre_offset);
        assert_eq!(square.centre_offset.1, Length::ZERO);
    }
}
