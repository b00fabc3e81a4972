//! The `blur` request: how large a point out of focus is drawn, and from where to where is sharp.

use film::{AdapterRecord, LensRecord, RecordingRecord, within_range};
use optics::{
    Adapter, Aspect, CircleOfConfusion, CropShift, DeliveredFrame, FrameAxis, Lens, Scale, blur_disc,
    deliver, hyperfocal_distance, sharp_zone,
};
use serde::{Deserialize, Serialize};
use units::Length;

use crate::answer::far_m;
use crate::error::BadRequest;
use crate::fields::{Field, number};

/// One lens, focused somewhere, and a point somewhere else.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS), ts(optional_fields = nullable))]
#[serde(deny_unknown_fields)]
pub struct BlurRequest {
    /// The lens, as in a setup request; one of a kit's lenses does as it is.
    pub lens: LensRecord,
    /// The recording mode: its width is that of the image that pixels are counted in.
    pub recording: RecordingRecord,
    /// The adapter, if it is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adapter: Option<AdapterRecord>,
    /// Where focus is, axially from the lens, 0.02 to 100000 m.
    pub focus_m: f64,
    /// Where the point is, axially from the lens, 0.001 to 100000 m.
    pub background_m: f64,
    /// What counts as sharp on the sensor, 0.0001 to 1 mm; the recorded diagonal over 1500 if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub circle_of_confusion_mm: Option<f64>,
}

/// What follows from it. `null` where it cannot be told: without an f-number or the sensor's true size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "declarations", derive(ts_rs::TS))]
pub struct BlurAnswer {
    /// The desqueezed image's width in whole pixels, in which the discs are counted.
    pub image_width_px: u32,
    /// Height of the point's disc.
    pub background_blur_px: Option<f64>,
    /// Width of the point's disc; another than its height with an adapter on.
    pub background_blur_width_px: Option<f64>,
    /// The disc's width over the image's.
    pub background_blur_width_share: Option<f64>,
    /// Whether the point is within what counts as sharp.
    pub background_is_sharp: Option<bool>,
    /// What counts as sharp, on the sensor.
    pub circle_of_confusion_mm: Option<f64>,
    /// The nearest focus distance that keeps infinity sharp.
    pub hyperfocal_m: Option<f64>,
    /// The nearest axial distance that is sharp.
    pub near_m: Option<f64>,
    /// The farthest axial distance that is sharp; null is infinity (where `near_m` is told).
    pub far_m: Option<f64>,
    /// Whether the lens can focus so near, where its closest focus is known.
    pub can_focus: Option<bool>,
}

/// The fields of a blur request that are not those of a setup request.
pub const BLUR_FIELDS: &[Field] = &[
    number("focus_m", 0.02, 100_000.0, "m", "where focus is, along the axis"),
    number("background_m", 0.001, 100_000.0, "m", "where the point is, along the axis"),
    number(
        "circle_of_confusion_mm",
        0.0001,
        1.0,
        "mm",
        "what counts as sharp; the recorded diagonal over 1500",
    ),
];

/// Answers a `blur` request.
///
/// # Errors
/// Names the field that is missing or out of range, and a focus within the lens's own focal length.
pub fn blur(request: &BlurRequest) -> Result<BlurAnswer, BadRequest> {
    let lens = request.lens.to_lens().map_err(|error| error.within("lens"))?;
    let recording = request.recording.to_recording().map_err(|error| error.within("recording"))?;
    let adapter = request.adapter.as_ref().map(|adapter| adapter.to_kit_adapter(String::new())).transpose();
    let adapter = adapter.map_err(|error| error.within("adapter"))?.map(|adapter| adapter.before(&recording));
    let within = |field: &str, value: f64, min: f64| {
        within_range(field, value, min, 100_000.0, "m").map(Length::from_m)
    };
    let points = Points {
        focus: within("focus_m", request.focus_m, 0.02)?,
        background: within("background_m", request.background_m, 0.001)?,
    };
    let frame = whole_frame(recording.area(&lens), adapter.as_ref())?;
    let focal_length = lens.focal_length.value.to_length();
    if lens.scale == Scale::True && points.focus <= focal_length {
        let message = format!(
            "{} m is not allowed: beyond the lens's focal length, {} m, as nothing nearer has an image",
            request.focus_m,
            focal_length.to_m()
        );
        return Err(BadRequest::at("focus_m", message));
    }
    let circle = request.circle_of_confusion_mm.map(|mm| {
        let mm = within_range("circle_of_confusion_mm", mm, 0.0001, 1.0, "mm")?;
        let refused = || film::RecordError::at("circle_of_confusion_mm", "is not allowed: 0.0001 to 1 mm");
        CircleOfConfusion::new(Length::from_mm(mm)).ok_or_else(refused)
    });
    Ok(answer(&lens, adapter.as_ref(), &frame, points, circle.transpose()?))
}

/// Where focus is, and where the point is.
#[derive(Debug, Clone, Copy)]
struct Points {
    focus: Length,
    background: Length,
}

/// All of the recorded image, brought back to shape.
fn whole_frame(
    recorded: optics::RecordedArea,
    adapter: Option<&Adapter>,
) -> Result<DeliveredFrame, BadRequest> {
    let squeeze = |axis| adapter.map_or(1.0, |adapter| adapter.squeeze_along(axis));
    let shape =
        recorded.width_px * squeeze(FrameAxis::Width) / (recorded.height_px * squeeze(FrameAxis::Height));
    let shape = Aspect::new(shape).map_err(|error| BadRequest::at("recording", error.to_string()))?;
    Ok(deliver(recorded, adapter, shape, CropShift::default()))
}

fn answer(
    lens: &Lens,
    adapter: Option<&Adapter>,
    frame: &DeliveredFrame,
    Points { focus, background }: Points,
    circle: Option<CircleOfConfusion>,
) -> BlurAnswer {
    let f = lens.focal_length.value;
    let is_true = lens.scale == Scale::True;
    let number = lens.f_number.filter(|_| is_true).map(|known| known.value);
    let circle =
        is_true.then(|| circle.unwrap_or_else(|| CircleOfConfusion::from_recorded_area(frame.recorded.size)));
    let hyperfocal = number.zip(circle).map(|(number, circle)| hyperfocal_distance(f, number, circle));
    let zone = hyperfocal.map(|hyperfocal| sharp_zone(f, hyperfocal, focus));
    let disc = number.map(|number| {
        let disc = blur_disc(f, number, focus, background, adapter);
        let (width, height) = match frame.squeezed {
            Some(FrameAxis::Width) | None => (disc.squeezed, disc.plain),
            Some(FrameAxis::Height) => (disc.plain, disc.squeezed),
        };
        (width.to_m() * frame.px_per_m, height.to_m() * frame.px_per_m)
    });
    BlurAnswer {
        image_width_px: frame.whole_px().0,
        background_blur_px: disc.map(|(_, height)| height),
        background_blur_width_px: disc.map(|(width, _)| width),
        background_blur_width_share: disc.map(|(width, _)| width / frame.delivered_px.0),
        background_is_sharp: zone.map(|zone| zone.holds(background)),
        circle_of_confusion_mm: circle.map(|circle| circle.to_length().to_mm()),
        hyperfocal_m: hyperfocal.map(Length::to_m),
        near_m: zone.map(|zone| zone.near.to_m()),
        far_m: zone.and_then(|zone| far_m(&zone)),
        can_focus: lens.closest_focus.map(|closest| focus >= closest),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{SetupRequest, Takes, read, setup};
    use serde_json::{Value, json};

    fn example() -> Value {
        json!({
            "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3},
            "recording": {"width_px": 3840, "height_px": 2160}, "focus_m": 0.5, "background_m": 2.0
        })
    }

    fn with(name: &str, value: Value) -> Value {
        let mut request = example();
        request[name] = value;
        request
    }

    fn answered(value: Value) -> Result<BlurAnswer, String> {
        let request: Result<BlurRequest, _> = read(value);
        request.and_then(|request| blur(&request)).map_err(|error| error.to_string())
    }

    #[test]
    fn the_example_is_answered_as_the_renderer_measured_it() {
        let answer = answered(example()).expect("an answer");
        // tests/reference/thin_lens.toml, focused at 0.5 m, a point at 2 m: 15.72 px, within its half pixel.
        let disc = answer.background_blur_px.expect("a disc");
        assert!((disc - 15.716).abs() < 0.5, "{disc}");
        assert_eq!(answer.background_blur_width_px, Some(disc));
        assert_eq!(answer.background_blur_width_share, Some(disc / 3840.0));
        assert_eq!((answer.image_width_px, answer.background_is_sharp), (3840, Some(false)));
        // 6.86² / (1.78 c) + 6.86 mm, c the diagonal of 9.8 by 5.5125 mm over 1500.
        let circle = (9.8_f64 * 9.8 + 5.5125 * 5.5125).sqrt() / 1500.0;
        let hyperfocal = (6.86 * 6.86 / (1.78 * circle) + 6.86) / 1000.0;
        assert!((answer.hyperfocal_m.expect("told") - hyperfocal).abs() < 1e-9, "{answer:?}");
        assert!(
            answer.near_m < Some(0.5) && answer.far_m > Some(0.5) && answer.can_focus.is_none(),
            "{answer:?}"
        );
    }

    #[test]
    fn it_agrees_with_a_setup_of_the_same_lens() {
        let shot: SetupRequest = read(json!({
            "lens": example()["lens"], "recording": example()["recording"],
            "adapter": {"squeeze": 1.33}, "delivery": {"aspect": 2.39}, "subject": {"stature_m": 1.7},
            "shot_size": "medium", "background_behind_subject_m": 10.0
        }))
        .expect("a request");
        let shot = setup(&shot).expect("an answer");
        let (focus_m, depth_m) = (shot.focus_m.expect("told"), shot.subject_depth_m.expect("told"));
        let mut request = with("adapter", json!({"squeeze": 1.33}));
        request["focus_m"] = json!(focus_m);
        request["background_m"] = json!(depth_m + 10.0);
        let answer = answered(request).expect("an answer");
        let same = |ours: Option<f64>, theirs: Option<f64>| {
            let (ours, theirs) = (ours.expect("told"), theirs.expect("told"));
            assert!((ours / theirs - 1.0).abs() < 1e-12, "{ours} is not {theirs}");
        };
        same(answer.background_blur_px, shot.background_blur_px);
        same(answer.background_blur_width_px, shot.background_blur_width_px);
        same(answer.hyperfocal_m, shot.hyperfocal_m);
        same(answer.near_m, shot.near_m);
        same(answer.circle_of_confusion_mm, shot.circle_of_confusion_mm);
    }

    #[test]
    fn what_is_not_known_is_null() {
        let answer =
            answered(with("lens", json!({"focal_length_35mm_equivalent_mm": 24}))).expect("an answer");
        assert_eq!(
            (answer.background_blur_px, answer.hyperfocal_m, answer.circle_of_confusion_mm),
            (None, None, None)
        );
        let far = answered(with("focus_m", json!(1000.0))).expect("an answer");
        assert!(far.near_m.is_some() && far.far_m.is_none(), "{far:?}");
        let near = answered(with(
            "lens",
            json!({"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8,
            "sensor_height_mm": 7.3, "closest_focus_m": 0.6}),
        ));
        assert_eq!(near.expect("an answer").can_focus, Some(false));
    }

    #[test]
    fn every_field_takes_what_its_line_says() {
        for field in BLUR_FIELDS {
            let Takes::Number { min, max, unit } = field.takes else { continue };
            for inside in [min, max] {
                let told = answered(with(field.path, json!(inside)));
                assert!(told.is_ok(), "{} = {inside}: {told:?}", field.path);
            }
            for beyond in [min / 2.0, max * 2.0, -1e9] {
                let told = answered(with(field.path, json!(beyond))).expect_err("beyond");
                assert_eq!(
                    told,
                    format!("{}: {beyond} {unit} is not allowed: {min} to {max} {unit}", field.path)
                );
            }
            assert!(
                answered(with(field.path, json!("x"))).expect_err("a word").contains("\"x\" is not allowed")
            );
        }
    }

    #[test]
    fn a_wrong_object_names_the_field() {
        let mut request = example();
        request["lens"]["f_number"] = json!("fast");
        assert_eq!(
            answered(request).expect_err("refused"),
            "lens.f_number: \"fast\" is not allowed: 0.5 to 64 (f-number)"
        );
        let told = answered(with(
            "lens",
            json!({"focal_length_mm": 50, "f_number": 2, "sensor_width_mm": 36,
            "sensor_height_mm": 24}),
        ));
        assert!(told.is_ok(), "{told:?}");
        let mut within = with(
            "lens",
            json!({"focal_length_mm": 50, "f_number": 2, "sensor_width_mm": 36,
            "sensor_height_mm": 24}),
        );
        within["focus_m"] = json!(0.04);
        assert!(answered(within).expect_err("refused").starts_with("focus_m: 0.04 m is not allowed: beyond"));
        assert!(
            answered(with("distance_m", json!(2)))
                .expect_err("refused")
                .starts_with("distance_m: is not a field")
        );
        let mut missing = example();
        missing.as_object_mut().expect("an object").remove("background_m");
        assert_eq!(answered(missing).expect_err("refused"), "background_m: is missing: 0.001 to 100000 m");
    }
}
