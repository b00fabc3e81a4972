//! What is marked around a circle or a square seen through an adapter, as the core is asked about it.

use film::{AdapterRecord, AxisRecord, END_SD_PX, KitRecord, RecordError};
use language::say;
use requests::{CircleRequest, MeasureAnswer, MeasureRequest};

use crate::kit::adapters::measured_words;
use crate::kit::entry::{Entry, leaf, shown};

/// Where the edges are, in pixels of the picture: left and right, then top and bottom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edges {
    /// From the left.
    pub(super) across_px: (f64, f64),
    /// From the top.
    pub(super) down_px: (f64, f64),
    /// How many of its pixels one on the page stands for.
    pub(super) coarse: f64,
    /// Whether the picture is higher than wide.
    pub(super) is_upright: bool,
}

/// What the form begins with.
pub(super) fn entry(kit: &KitRecord) -> Entry {
    let adapter = kit.adapters.iter().find_map(|adapter| adapter.name.clone());
    Entry::default().with("adapter", adapter.unwrap_or_default()).with("width_over_height", "1")
}

/// The axis of the picture that an adapter squeezes: turned with the phone where the phone is upright.
fn axis(adapter: &AdapterRecord, is_upright: bool) -> AxisRecord {
    adapter.axis_when_upright.filter(|_| is_upright).unwrap_or(AxisRecord::Width)
}

/// The adapter of that name.
pub(super) fn adapter<'kit>(kit: &'kit KitRecord, name: &str) -> Option<&'kit AdapterRecord> {
    kit.adapters.iter().find(|adapter| adapter.name.as_deref() == Some(name))
}

/// The squeeze that follows, as an answer that has one.
///
/// # Errors
/// Names the field that is missing, and marks that no adapter makes.
pub(super) fn read(kit: &KitRecord, entry: &Entry, edges: &Edges) -> Result<MeasureAnswer, RecordError> {
    let chosen = adapter(kit, entry.text("adapter"));
    let chosen = chosen.ok_or_else(|| RecordError::at("adapter", say!("needed: the kit has none yet")))?;
    let circle = CircleRequest {
        left_px: edges.across_px.0,
        right_px: edges.across_px.1,
        top_px: edges.down_px.0,
        bottom_px: edges.down_px.1,
        // A mark is no finer than what is seen.
        edge_sd_px: Some(END_SD_PX * edges.coarse.max(1.0)),
        width_over_height: entry.number("width_over_height")?,
        width_over_height_sd: None,
        squeezed_axis: Some(axis(chosen, edges.is_upright)),
    };
    let request = MeasureRequest { circle: Some(circle), ..MeasureRequest::default() };
    requests::measure(&request).map_err(|error| {
        let error = RecordError::at(&error.path, error.message);
        match leaf(&error) {
            "width_over_height" => RecordError::at("width_over_height", error.message),
            "squeezed_axis" => {
                let unlike = say!(
                    "these marks are not squeezed as this adapter does: is it on, and is the frame as the camera \
                     recorded it, not yet stretched?"
                );
                RecordError::at("", unlike)
            }
            _ => RecordError::at("", say!("put the four marks on the edges of the thing")),
        }
    })
}

/// The answer in a sentence.
pub(super) fn words(answer: &MeasureAnswer, sold: Option<f64>) -> String {
    let Some((squeeze, sd)) = answer.squeeze.zip(answer.squeeze_sd) else { return String::new() };
    let sold = sold.map_or_else(String::new, |sold| say!(", sold as {}", shown(sold)));
    say!("Squeezes {} times{sold}.", measured_words(squeeze, sd))
}

/// The adapter with the squeeze that was measured.
pub(super) fn measured(adapter: &AdapterRecord, answer: &MeasureAnswer) -> AdapterRecord {
    AdapterRecord {
        measured_squeeze: answer.squeeze,
        measured_squeeze_sd: answer.squeeze_sd,
        ..adapter.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kit() -> KitRecord {
        let mut kit = crate::session::first_kit();
        kit.adapters =
            vec![AdapterRecord { name: Some("clip-on".to_owned()), ..film::adapters()[0].clone() }];
        kit
    }

    const PLATE: Edges =
        Edges { across_px: (1000.0, 1600.0), down_px: (400.0, 1198.0), coarse: 1.0, is_upright: false };

    #[test]
    fn a_round_plate_gives_the_squeeze_and_the_kit_keeps_it() {
        let kit = kit();
        let answer = read(&kit, &entry(&kit), &PLATE).expect("an answer");
        assert_eq!(words(&answer, Some(1.33)), "Squeezes 1.330 ± 0.008 times, sold as 1.33.");
        let kept = measured(&kit.adapters[0], &answer);
        assert_eq!(kept.squeeze.to_bits(), kit.adapters[0].squeeze.to_bits());
        let adapter = kept.to_kit_adapter("clip-on".to_owned()).expect("an adapter");
        assert!((adapter.squeeze().to_f64() - 1.33).abs() < 1e-12, "{adapter:?}");
    }

    #[test]
    fn an_upright_phone_squeezes_what_the_adapter_says() {
        let mut kit = kit();
        let turned =
            Edges { across_px: (400.0, 1198.0), down_px: (1000.0, 1600.0), is_upright: true, ..PLATE };
        kit.adapters[0].axis_when_upright = Some(AxisRecord::Height);
        let answer = read(&kit, &entry(&kit), &turned).expect("an answer");
        assert!((answer.squeeze.expect("a squeeze") - 1.33).abs() < 1e-12, "{answer:?}");
        kit.adapters[0].axis_when_upright = None;
        let told = read(&kit, &entry(&kit), &turned).expect_err("refused").message;
        assert!(told.contains("not squeezed as this adapter does"), "{told}");
    }

    #[test]
    fn a_shape_beyond_reason_is_told_at_its_field() {
        let kit = kit();
        let path = |text: &str| {
            let typed = entry(&kit).with("width_over_height", text);
            read(&kit, &typed, &PLATE).expect_err("refused").path
        };
        assert_eq!(path("50"), "width_over_height");
        assert_eq!(path("round"), "width_over_height");
    }
}
