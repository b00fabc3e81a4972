//! How a `measure` request is answered.

use film::{AxisRecord, END_SD_PX, TAPED_SD, taped_width_sd, within_range};
use optics::{
    FocalLength, FrameAxis, KnownThing, MOST_FRAMES, MeasureError, MeasuredSqueeze, MeasuredWidth,
    RoundThing, SeenView, ThingInFrame, combined_view,
};
use units::{Angle, Length};

use crate::answer::{FindingAnswer, SeverityAnswer};
use crate::error::BadRequest;
use crate::measure::{CircleRequest, MeasureAnswer, MeasureRequest, MeasuredFrameRequest, SeenFrameAnswer};

/// A refusal of the measurement, with the field as requests name it.
fn refused(error: &MeasureError) -> BadRequest {
    BadRequest::at(error.field(), error.message())
}

/// Frames of one thing, with their places in the request.
struct Thing<'request> {
    frames: Vec<(usize, &'request MeasuredFrameRequest)>,
}

/// Answers a `measure` request.
///
/// # Errors
/// Names the field that is missing or out of range, frames that give one thing two widths, and an angle or a squeeze that
/// no phone and no adapter has. Frames that disagree are not an error: they are a finding, and the answer is widened.
pub fn measure(request: &MeasureRequest) -> Result<MeasureAnswer, BadRequest> {
    let (frames, listed) = frames_of(request)?;
    let view = if frames.is_empty() { None } else { Some(seen(request, &frames, listed)?) };
    let photo = photo(request)?;
    let squeeze =
        request.circle.as_ref().map(squeeze_of).transpose().map_err(|error| error.within("circle"))?;
    let crop = view.as_ref().zip(photo).map(|((view, _), photo)| photo.width_over(&view.seen));
    Ok(MeasureAnswer {
        horizontal_fov_deg: view.as_ref().map(|(view, _)| view.seen.horizontal_fov.to_deg()),
        horizontal_fov_sd_deg: view.as_ref().map(|(view, _)| view.seen.sd.to_deg()),
        at_m: view.as_ref().map(|(view, _)| view.at.to_m()),
        birge_ratio: view.as_ref().map(|(view, _)| view.birge_ratio),
        frames: view.as_ref().map(|(_, each)| each.clone()).unwrap_or_default(),
        crop_over_photo: crop.map(|(ratio, _)| ratio),
        crop_over_photo_sd: crop.map(|(_, sd)| sd),
        squeeze: squeeze.map(|squeeze| squeeze.squeeze.to_f64()),
        squeeze_sd: squeeze.map(|squeeze| squeeze.squeeze.to_f64() * squeeze.relative_sd),
        findings: findings(view.as_ref().map(|(view, _)| view), crop),
    })
}

/// The frames of a request, and whether they stand in its list.
fn frames_of(request: &MeasureRequest) -> Result<(Vec<MeasuredFrameRequest>, bool), BadRequest> {
    let given = [
        ("known_width_m", request.known_width_m.is_some()),
        ("known_width_sd_m", request.known_width_sd_m.is_some()),
        ("distance_m", request.distance_m.is_some()),
        ("distance_sd_m", request.distance_sd_m.is_some()),
        ("ends_px", request.ends_px.is_some()),
        ("end_sd_px", request.end_sd_px.is_some()),
        ("image_width_px", request.image_width_px.is_some()),
        ("thing", request.thing.is_some()),
    ];
    let one = given.iter().find(|(_, given)| *given).map(|(name, _)| *name);
    match (one, request.frames.is_empty()) {
        (Some(name), false) => {
            return Err(BadRequest::at("frames", format!("stands beside {name}; give one of the two")));
        }
        (None, false) => return Ok((request.frames.clone(), true)),
        (None, true) if request.circle.is_some() => return Ok((Vec::new(), false)),
        (None, true) => {
            return Err(BadRequest::at(
                "known_width_m",
                "is missing: 0.01 to 100 m, or a list of frames, or a circle",
            ));
        }
        (Some(_), true) => {}
    }
    let missing = |name: &str, takes: &str| BadRequest::at(name, format!("is missing: {takes}"));
    let frame = MeasuredFrameRequest {
        known_width_m: request.known_width_m.ok_or_else(|| missing("known_width_m", "0.01 to 100 m"))?,
        known_width_sd_m: request.known_width_sd_m,
        distance_m: request.distance_m.ok_or_else(|| missing("distance_m", "0.05 to 1000 m"))?,
        distance_sd_m: request.distance_sd_m,
        ends_px: request.ends_px.clone().ok_or_else(|| missing("ends_px", "a list of two, in px"))?,
        end_sd_px: request.end_sd_px,
        image_width_px: request
            .image_width_px
            .ok_or_else(|| missing("image_width_px", "16 to 20000 px, whole"))?,
        thing: request.thing.clone(),
    };
    Ok((vec![frame], false))
}

/// What all frames say together, and each by itself in the order of the request.
fn seen(
    request: &MeasureRequest,
    frames: &[MeasuredFrameRequest],
    listed: bool,
) -> Result<(MeasuredWidth, Vec<SeenFrameAnswer>), BadRequest> {
    if frames.len() > MOST_FRAMES {
        return Err(refused(&MeasureError::FrameCount { count: frames.len() }));
    }
    let at = |place: usize, error: BadRequest| {
        if listed { error.within(&format!("frames[{place}]")) } else { error }
    };
    let focal_length = request.focal_length_mm.map(FocalLength::from_mm).transpose();
    let focal_length = focal_length.map_err(|error| BadRequest::at("focal_length_mm", error.to_string()))?;
    let groups = things(frames)?;
    let mut known = Vec::with_capacity(groups.len());
    for thing in &groups {
        let mut shown = Vec::with_capacity(thing.frames.len());
        for (place, frame) in &thing.frames {
            shown.push(in_frame(frame).map_err(|error| at(*place, error))?);
        }
        let Some((place, frame)) = thing.frames.first() else { continue };
        // Looked at with each frame above.
        let width = Length::from_m(frame.known_width_m);
        let sd = frame.known_width_sd_m.map_or_else(
            || Ok(taped_width_sd(width)),
            |sd| finite("known_width_sd_m", sd, frame.known_width_m).map_err(|error| at(*place, error)),
        )?;
        let made = KnownThing::new(width, sd, shown);
        known.push(made.map_err(|error| at(*place, refused(&error)))?);
    }
    let view = combined_view(&known, focal_length).map_err(|error| refused(&error))?;
    let mut each: Vec<_> = groups.iter().flat_map(|thing| thing.frames.iter()).zip(&view.each).collect();
    each.sort_by_key(|((place, _), _)| *place);
    let each = each.into_iter().map(|(_, seen)| SeenFrameAnswer {
        horizontal_fov_deg: seen.horizontal_fov.to_deg(),
        horizontal_fov_sd_deg: seen.sd.to_deg(),
    });
    let each = each.collect();
    Ok((view, each))
}

/// Frames by the thing that they show, in the order of the first of each; one without a name is a thing of its own.
fn things(frames: &[MeasuredFrameRequest]) -> Result<Vec<Thing<'_>>, BadRequest> {
    let mut things: Vec<Thing<'_>> = Vec::new();
    for (place, frame) in frames.iter().enumerate() {
        let same = |thing: &&mut Thing<'_>| {
            frame.thing.is_some() && thing.frames.first().is_some_and(|(_, first)| first.thing == frame.thing)
        };
        let Some(thing) = things.iter_mut().find(same) else {
            things.push(Thing { frames: vec![(place, frame)] });
            continue;
        };
        if let Some((first_place, first)) = thing.frames.first() {
            let other = |field: &str| {
                let message = format!(
                    "is another than in frames[{first_place}]: frames of one thing share its width, or give it another name"
                );
                BadRequest::at(&format!("frames[{place}].{field}"), message)
            };
            if first.known_width_m.to_bits() != frame.known_width_m.to_bits() {
                return Err(other("known_width_m"));
            }
            if first.known_width_sd_m.map(f64::to_bits) != frame.known_width_sd_m.map(f64::to_bits) {
                return Err(other("known_width_sd_m"));
            }
        }
        thing.frames.push((place, frame));
    }
    Ok(things)
}

/// How a frame shows its thing.
fn in_frame(frame: &MeasuredFrameRequest) -> Result<ThingInFrame, BadRequest> {
    within_range("known_width_m", frame.known_width_m, 0.01, 100.0, "m")?;
    let metres = within_range("distance_m", frame.distance_m, 0.05, 1000.0, "m")?;
    let distance_sd = frame
        .distance_sd_m
        .map_or(Ok(TAPED_SD.min(Length::from_m(metres))), |sd| finite("distance_sd_m", sd, metres))?;
    let [first, second] = frame.ends_px.as_slice() else {
        return Err(BadRequest::at(
            "ends_px",
            format!("{} ends are not allowed: 2 ends", frame.ends_px.len()),
        ));
    };
    let width_px = f64::from(frame.image_width_px);
    let end_sd_px = frame.end_sd_px.unwrap_or(END_SD_PX);
    ThingInFrame::between_ends((*first, *second), end_sd_px, width_px, Length::from_m(metres), distance_sd)
        .map_err(|error| refused(&error))
}

/// An uncertainty as a length, at most its value: lengths hold finite numbers alone.
fn finite(field: &str, sd_m: f64, value_m: f64) -> Result<Length, BadRequest> {
    Ok(Length::from_m(within_range(field, sd_m, 0.0, value_m, "m")?))
}

/// The photo's view, if it is told.
fn photo(request: &MeasureRequest) -> Result<Option<SeenView>, BadRequest> {
    let Some(degrees) = request.photo_horizontal_fov_deg else {
        let alone = request.photo_horizontal_fov_sd_deg.is_some();
        let missing =
            || BadRequest::at("photo_horizontal_fov_deg", "is missing beside photo_horizontal_fov_sd_deg");
        return if alone { Err(missing()) } else { Ok(None) };
    };
    let degrees = within_range("photo_horizontal_fov_deg", degrees, 1.0, 170.0, "deg")?;
    let sd = request.photo_horizontal_fov_sd_deg.unwrap_or(0.0);
    let sd = within_range("photo_horizontal_fov_sd_deg", sd, 0.0, degrees, "deg")?;
    Ok(Some(SeenView { horizontal_fov: Angle::from_deg(degrees), sd: Angle::from_deg(sd) }))
}

/// The squeeze that a circle tells.
fn squeeze_of(circle: &CircleRequest) -> Result<MeasuredSqueeze, BadRequest> {
    let axis = circle.squeezed_axis.map_or(FrameAxis::Width, |axis| match axis {
        AxisRecord::Width => FrameAxis::Width,
        AxisRecord::Height => FrameAxis::Height,
    });
    let ratio = (circle.width_over_height.unwrap_or(1.0), circle.width_over_height_sd.unwrap_or(0.0));
    let round = RoundThing::new(
        (circle.left_px, circle.right_px),
        (circle.top_px, circle.bottom_px),
        circle.edge_sd_px.unwrap_or(END_SD_PX),
        // How large the frame is does not matter to a squeeze, so it is not asked for.
        (20_000.0, 20_000.0),
        ratio,
    );
    round.and_then(|round| round.squeeze_along(axis)).map_err(|error| {
        let BadRequest { path, message } = refused(&error);
        match path.as_str() {
            "squeeze" => BadRequest::at(
                "squeezed_axis",
                format!("gives a squeeze of {message}; is this the axis, and the frame as captured?"),
            ),
            _ => BadRequest { path, message },
        }
    })
}

/// From how many times their uncertainties frames disagree so much that one is likely to be wrong: chosen because chance alone
/// makes it of three frames once in fifty.
const DISAGREE_MUCH: f64 = 2.0;

fn findings(view: Option<&MeasuredWidth>, crop: Option<(f64, f64)>) -> Vec<FindingAnswer> {
    let mut findings = Vec::new();
    if let Some(view) = view.filter(|view| view.birge_ratio > 1.0) {
        let much = view.birge_ratio >= DISAGREE_MUCH;
        findings.push(FindingAnswer {
            rule: "frames_disagree".to_owned(),
            severity: if much { SeverityAnswer::Warns } else { SeverityAnswer::Notes },
            message: format!(
                "the frames are {:.1} times further apart than their uncertainties say; the answer's is widened by that",
                view.birge_ratio
            ),
            hint: if much {
                "look for the frame that is off: another mode or zoom, not square on, or not taped from the lens"
            } else {
                "chance does as much now and then; another frame would tell"
            }
            .to_owned(),
        });
    }
    // Two standard uncertainties: a difference that chance makes one time in twenty.
    if let Some((ratio, _)) = crop.filter(|(ratio, sd)| ratio + 2.0 * sd < 1.0) {
        findings.push(FindingAnswer {
            rule: "wider_than_photo".to_owned(),
            severity: SeverityAnswer::Warns,
            message: format!(
                "this mode sees {:.1} % more than the photo, which no crop explains",
                (1.0 / ratio - 1.0) * 100.0
            ),
            hint: "check that both are this lens, held the same way, and the width and the distance"
                .to_owned(),
        });
    }
    findings
}
