//! The framing as an ASC Framing Decision List: which part of each recorded frame is delivered.

use std::iter;

use optics::Aspect;
use serde_json::{Value, json};
use uuid::Uuid;

use super::ExportError;
use super::frames::{Canvas, RecordedFrame, recorded_frames};
use crate::film::Film;
use crate::film_file::write_film;

/// What ids of films' framing are made under: a number drawn once, for this alone.
const FRAMING_IDS: Uuid = Uuid::from_u128(0x8d1f_6a54_27c3_4be9_a0d2_51e7_3c96_b84f);

/// The framing intent that most shots have: the film's delivered frame in the middle.
const INTENT: &str = "DELIVERY";

/// An id for the framing of a film, made from its file alone: the same film has the same, and another film another.
///
/// # Source
/// RFC 9562, section 5.5: a version 5 id.
pub fn framing_id(film: &Film) -> u128 {
    Uuid::new_v5(&FRAMING_IDS, write_film(film).as_bytes()).as_u128()
}

/// The film's framing as an ASC Framing Decision List, version 2.0.
///
/// A context for each recording mode of the kit; in it a canvas for what is recorded without an adapter and with each that a
/// shot is made with, squeezed as it is captured; on each canvas where the delivered frame lies. `uuid` is the list's own id.
/// Where shots have it off the middle, that is another decision on their canvas. It has an intent of its own, as a canvas has one
/// decision for an intent, and is named by those shots.
///
/// # Errors
/// Only where JSON cannot be written.
pub fn fdl(film: &Film, uuid: u128) -> Result<String, ExportError> {
    let frames = recorded_frames(film);
    let (width, height) = whole_ratio(film.facts.aspect);
    let contexts = film.kit.recordings.iter().enumerate().map(|(at, recording)| {
        // Each canvas begins with the frame in its middle, and those off it follow.
        let canvases = frames.chunk_by(|one, next| one.canvas == next.canvas);
        let of_mode = canvases.filter(|on| on.iter().all(|frame| frame.canvas.mode == at + 1));
        json!({
            "label": recording.name,
            "context_creator": "Tapemark",
            "canvases": of_mode.filter_map(canvas).collect::<Vec<_>>(),
        })
    });
    let shape = format!("Delivered frame {width}:{height}");
    let intent = |id: String, label: String| {
        json!({
            "id": id,
            "label": label,
            "aspect_ratio": {"width": width, "height": height},
            "protection": 0.0,
        })
    };
    let off_centre = frames.iter().filter(|frame| !frame.shots.is_empty());
    let off_centre = off_centre.map(|frame| intent(intent_of(frame), format!("{shape}{}", frame.whose())));
    let intents = iter::once(intent(INTENT.to_owned(), shape.clone())).chain(off_centre);
    let list = json!({
        "uuid": Uuid::from_u128(uuid).to_string(),
        "version": {"major": 2, "minor": 0},
        "fdl_creator": "Tapemark",
        "default_framing_intent": INTENT,
        "framing_intents": intents.collect::<Vec<_>>(),
        "contexts": contexts.collect::<Vec<_>>(),
        "canvas_templates": [],
    });
    Ok(serde_json::to_string_pretty(&list)? + "\n")
}

/// A canvas with the frames on it.
fn canvas(frames: &[RecordedFrame<'_>]) -> Option<Value> {
    let canvas = frames.first()?.canvas;
    let id = match canvas.adapter {
        None => format!("MODE_{}", canvas.mode),
        Some((adapter, _)) => format!("MODE_{}_ADAPTER_{adapter}", canvas.mode),
    };
    let Canvas { recording, squeeze, .. } = canvas;
    let recording = &recording.recording;
    let decisions: Vec<Value> = frames.iter().map(|frame| decision(&id, frame)).collect();
    Some(json!({
        "label": canvas.name(),
        "id": id,
        "source_canvas_id": id,
        "dimensions": {"width": recording.width_px(), "height": recording.height_px()},
        "anamorphic_squeeze": squeeze,
        "framing_decisions": decisions,
    }))
}

fn decision(canvas: &str, frame: &RecordedFrame<'_>) -> Value {
    let (intent, delivered) = (intent_of(frame), frame.delivered);
    json!({
        "label": format!("Delivered frame{}", frame.whose()),
        "id": format!("{canvas}-{intent}"),
        "framing_intent_id": intent,
        "dimensions": {"width": delivered.width_px, "height": delivered.height_px},
        "anchor_point": {"x": delivered.left_px, "y": delivered.top_px},
    })
}

/// The intent of a frame: off the middle, one that is named by the first of its shots, which no other frame is for.
fn intent_of(frame: &RecordedFrame<'_>) -> String {
    let first = frame.shots.first();
    first.map_or_else(|| INTENT.to_owned(), |number| format!("{INTENT}_{}", number.replace('.', "_")))
}

/// A shape as two whole numbers, as small as they can be: 2.39 is 239 to 100.
fn whole_ratio(aspect: Aspect) -> (u32, u32) {
    let value = aspect.to_f64();
    let width_to = |height: u32| libm::round(value * f64::from(height));
    // What no thousandth gives is taken to the nearest ten-thousandth: half a pixel in a frame of 5000.
    let is_whole = |height: &u32| (width_to(*height) - value * f64::from(*height)).abs() < 1e-9;
    let height = (1..=1000).find(is_whole).unwrap_or(10_000);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most 5 times 10000, and positive"
    )]
    let width = width_to(height) as u32;
    (width, height)
}

#[cfg(test)]
mod tests {
    use super::super::frames::with_adapter;
    use super::*;
    use crate::preset::{demo_film, frame_shapes};

    fn list(film: &Film) -> Value {
        serde_json::from_str(&fdl(film, 0x0123_4567_89ab_cdef_0123_4567_89ab_cdef).expect("written"))
            .expect("JSON")
    }

    #[test]
    fn a_context_stands_for_each_mode_and_a_canvas_for_each_adapter_in_use() {
        let film = with_adapter();
        let list = list(&film);
        assert_eq!(list["uuid"], "01234567-89ab-cdef-0123-456789abcdef");
        let contexts = list["contexts"].as_array().expect("contexts");
        assert_eq!(contexts.len(), film.kit.recordings.len());
        for context in contexts {
            let canvases = context["canvases"].as_array().expect("canvases");
            assert_eq!(canvases.len(), 2);
            assert_eq!(canvases[0]["anamorphic_squeeze"], 1.0);
            assert_eq!(canvases[1]["anamorphic_squeeze"], 1.33);
        }
    }

    #[test]
    fn every_decision_has_the_intents_shape_once_its_canvas_is_desqueezed() {
        for film in [demo_film(), with_adapter()] {
            let list = list(&film);
            let number = |value: &Value| value.as_f64().expect("a number");
            let shape = &list["framing_intents"][0]["aspect_ratio"];
            let wanted = number(&shape["width"]) / number(&shape["height"]);
            for canvas in list["contexts"]
                .as_array()
                .expect("contexts")
                .iter()
                .flat_map(|context| context["canvases"].as_array().expect("canvases"))
            {
                let decision = &canvas["framing_decisions"][0];
                let (width, height) = (&decision["dimensions"]["width"], &decision["dimensions"]["height"]);
                let aspect = number(width) * number(&canvas["anamorphic_squeeze"]) / number(height);
                assert!((aspect / wanted - 1.0).abs() < 1e-5, "{canvas}: {aspect}");
                let right = number(&decision["anchor_point"]["x"]) + number(width);
                let bottom = number(&decision["anchor_point"]["y"]) + number(height);
                assert!(right <= number(&canvas["dimensions"]["width"]), "{canvas}");
                assert!(bottom <= number(&canvas["dimensions"]["height"]), "{canvas}");
            }
        }
    }

    #[test]
    fn a_frame_off_the_middle_is_a_decision_of_its_own_with_the_shots_it_is_for() {
        let mut film = demo_film();
        let scene = std::sync::Arc::make_mut(&mut film.scenes[0]);
        let shift = optics::CropShift { up: -1.0, right: 0.0 };
        std::sync::Arc::make_mut(&mut scene.shots[4]).crop_shift = Some(shift);
        let list = list(&film);
        assert_eq!(list["framing_intents"][1]["id"], "DELIVERY_1_5");
        assert_eq!(list["framing_intents"][1]["label"], "Delivered frame 239:100, for 1.5");
        let canvases = list["contexts"].as_array().expect("contexts").iter();
        let canvases = canvases.flat_map(|context| context["canvases"].as_array().expect("canvases"));
        let moved: Vec<_> = canvases.filter(|canvas| canvas["framing_decisions"][1].is_object()).collect();
        let [canvas] = moved.as_slice() else { panic!("one canvas: {moved:?}") };
        let [centred, moved] = [0, 1].map(|at| &canvas["framing_decisions"][at]);
        assert_eq!(canvas["label"], film.facts.recording);
        assert_eq!(
            (&moved["label"], &moved["framing_intent_id"]),
            (&json!("Delivered frame, for 1.5"), &json!("DELIVERY_1_5"))
        );
        assert_eq!(moved["dimensions"], centred["dimensions"]);
        let bottom =
            |one: &Value| one["anchor_point"]["y"].as_f64().zip(one["dimensions"]["height"].as_f64());
        let (top, height) = bottom(moved).expect("numbers");
        assert!(
            (top + height - canvas["dimensions"]["height"].as_f64().expect("a height")).abs() < 1e-2,
            "{moved}"
        );
    }

    #[test]
    fn the_same_film_has_the_same_id_and_another_has_another() {
        let film = demo_film();
        let mut other = film.clone();
        std::sync::Arc::make_mut(&mut other.facts).title.push('!');
        assert_eq!(framing_id(&film), framing_id(&film.clone()));
        assert_ne!(framing_id(&film), framing_id(&other));
        let list: Value =
            serde_json::from_str(&fdl(&film, framing_id(&film)).expect("written")).expect("JSON");
        assert!(list["uuid"].as_str().is_some_and(|id| id.get(14..15) == Some("5")), "{list}");
    }

    #[test]
    fn every_frame_shape_is_two_whole_numbers() {
        assert_eq!(whole_ratio(Aspect::new(2.39).expect("a shape")), (239, 100));
        assert_eq!(whole_ratio(Aspect::new(16.0 / 9.0).expect("a shape")), (16, 9));
        for (name, aspect) in frame_shapes() {
            let (width, height) = whole_ratio(aspect);
            let made = f64::from(width) / f64::from(height);
            assert!((made / aspect.to_f64() - 1.0).abs() < 1e-4, "{name}: {width}:{height}");
        }
    }
}
