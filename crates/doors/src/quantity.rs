//! Quantities as people type them.
//!
//! Two parsers are the page's own. They stand on nothing of the page, so their files are compiled here once more.

#[path = "../../../web/src/light/degrees.rs"]
mod degrees;

#[path = "../../../web/src/exposure_text.rs"]
mod exposure_text;

use std::fmt::Display;
use std::str::FromStr;

use film::ColourRecord;
use optics::Aspect;
use units::Length;

use self::degrees::{Axis, Typed};

/// A text typed into any field that takes a quantity.
pub(crate) fn quantity(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    if let Some(length) = parsed::<Length>(&text) {
        assert_eq!(length.to_string().parse(), Ok(length));
        assert!(length.to_m().is_finite(), "{length}");
    }
    if let Some(aspect) = parsed::<Aspect>(&text) {
        let again: Aspect = aspect.to_f64().to_string().parse().expect("its own spelling");
        // A frame shape is read to fifteen digits.
        assert!((again.to_f64() - aspect.to_f64()).abs() < 1e-13, "{aspect:?} came back as {again:?}");
    }
    match exposure_text::parse_time(&text) {
        Ok(time) => {
            let told = exposure_text::told_time(time);
            let again = exposure_text::parse_time(&told).expect("its own spelling");
            assert!((again.to_s() / time.to_s() - 1.0).abs() < 1e-5, "{told}");
        }
        Err(refusal) => assert!(refusal.len() > 8, "{refusal}"),
    }
    match exposure_text::parse_times(&text) {
        Ok(times) => {
            let told = exposure_text::told_times(&times);
            let again = exposure_text::parse_times(&told).expect("its own spelling");
            // Times nearer to each other than cameras tell apart may have become one.
            assert!(again.len() <= times.len() && again.is_empty() == times.is_empty(), "{told}");
        }
        Err(refusal) => assert!(refusal.len() > 8, "{refusal}"),
    }
    for axis in [Axis::Latitude, Axis::Longitude] {
        let degrees = match degrees::parse(&text, axis) {
            Ok(Typed::One(degrees)) => vec![(axis, degrees)],
            Ok(Typed::Both(north, east)) => vec![(Axis::Latitude, north), (Axis::Longitude, east)],
            Err(refusal) => {
                assert!(refusal.len() > 8, "{refusal}");
                continue;
            }
        };
        for (axis, degrees) in degrees {
            let shown = degrees::shown(degrees);
            let again = match degrees::parse(&shown, axis).expect("its own spelling") {
                Typed::One(again) => again,
                Typed::Both(..) => panic!("{shown} is read as two"),
            };
            assert!((again - degrees).abs() <= 1e-5, "{degrees} is shown as {shown}");
        }
    }
    let quoted = serde_json::Value::String(text.into_owned());
    if let Ok(colour) = serde_json::from_value::<ColourRecord>(quoted) {
        let again = serde_json::to_value(colour).expect("a text");
        assert_eq!(serde_json::from_value::<ColourRecord>(again).expect("its own spelling"), colour);
    }
}

/// The quantity that a text says; a refusal has words.
fn parsed<Quantity: FromStr<Err: Display>>(text: &str) -> Option<Quantity> {
    match text.parse() {
        Ok(quantity) => Some(quantity),
        Err(refusal) => {
            // It names the text as it was typed, which may have several lines.
            assert!(refusal.to_string().len() > 8, "{refusal}");
            None
        }
    }
}
