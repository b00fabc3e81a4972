//! What is typed and marked for a frame of something of known width, as the core is asked about it.

use film::{END_SD_PX, Kit, KitRecord, RecordError, ViewRecord};
use language::say;
use optics::{Scale, SeenView};
use requests::{MeasureAnswer, MeasureRequest, MeasuredFrameRequest};
use units::{Angle, Length, LengthUnit};

use super::shape::check_shape;
use crate::kit::entry::{Entry, leaf, rounded};
use crate::kit::view_entry::{of_lens_and_mode, width};
use crate::kit::view_words::{angle, lens, mode, unmeasured};

/// A frame that counts.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Frame {
    /// The file that it is from.
    pub(super) file: String,
    /// The lens that it was shot with, by name.
    pub(super) lens: String,
    /// The mode that it was shot in, by name.
    pub(super) recording: String,
    /// As the core is asked about it.
    pub(super) asked: MeasuredFrameRequest,
}

impl Frame {
    /// Whether it is of the lens and the mode that are chosen.
    pub(super) fn counts(&self, entry: &Entry) -> bool {
        self.lens == entry.text("lens") && self.recording == entry.text("recording")
    }
}

/// The picture that is marked, as far as measuring goes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Marked {
    /// The file that it is from.
    pub(super) file: String,
    /// Its true size.
    pub(super) true_px: (u32, u32),
    /// How many of its pixels one on the page stands for.
    pub(super) coarse: f64,
    /// Where the thing's ends are, x from the left and y from the top.
    pub(super) ends_px: [(f64, f64); 2],
}

/// What the form begins with.
pub(super) fn entry(kit: &KitRecord) -> Entry {
    of_lens_and_mode(kit).with("thing", "door").with("width_m", "").with("distance_m", "")
}

/// The frame that is being marked.
///
/// # Errors
/// Names the field that is missing, and a picture that is no frame of the mode.
pub(super) fn read(
    kit: &Kit,
    entry: &Entry,
    unit: LengthUnit,
    marked: &Marked,
) -> Result<Frame, RecordError> {
    let mode = mode(kit, entry.text("recording"));
    let mode = mode.ok_or_else(|| RecordError::at("recording", say!("needed: the kit has none yet")))?;
    check_shape(marked.true_px, &mode.recording)?;
    let (width, width_sd) = width(entry, unit)?;
    let metres = entry.metres("distance_m", unit)?;
    let metres = metres.ok_or_else(|| RecordError::at("distance_m", say!("needed: from the lens to it")))?;
    let asked = MeasuredFrameRequest {
        known_width_m: width.to_m(),
        known_width_sd_m: Some(width_sd.to_m()),
        distance_m: metres,
        distance_sd_m: None,
        ends_px: marked.ends_px.iter().map(|end| end.0).collect(),
        // A mark is no finer than what is seen.
        end_sd_px: Some(END_SD_PX * marked.coarse.max(1.0)),
        image_width_px: marked.true_px.0,
        // Things of one name and width are one, so that frames of it share the error of its width.
        thing: Some(format!("{}, {} m", entry.text("thing"), width.to_m())),
    };
    let [lens, recording] = ["lens", "recording"].map(|field| entry.text(field).to_owned());
    let frame = Frame { file: marked.file.clone(), lens, recording, asked };
    // Alone, so that what is wrong with it is told before it is among others.
    ask(kit, entry, std::slice::from_ref(&frame))?;
    Ok(frame)
}

/// What all frames say together.
///
/// # Errors
/// Names the field of the form that stands in the way.
pub(super) fn ask(kit: &Kit, entry: &Entry, frames: &[Frame]) -> Result<MeasureAnswer, RecordError> {
    let lens = lens(kit, entry.text("lens"));
    let lens = lens.ok_or_else(|| RecordError::at("lens", say!("needed: the kit has none yet")))?;
    let mode = mode(kit, entry.text("recording"));
    let mode = mode.ok_or_else(|| RecordError::at("recording", say!("needed: the kit has none yet")))?;
    let (sum_m, count) =
        frames.iter().fold((0.0, 0.0_f64), |(sum, count), frame| (sum + frame.asked.distance_m, count + 1.0));
    let at = Length::from_m(sum_m / count.max(1.0));
    let photo = unmeasured(&mode.recording, 1.0)
        .filter(|_| at.to_m() >= 0.05)
        .map(|whole| SeenView::worked_out(&whole, &lens.lens, at));
    let focal_length = lens.lens.focal_length.value;
    let request = MeasureRequest {
        frames: frames.iter().map(|frame| frame.asked.clone()).collect(),
        focal_length_mm: (lens.lens.scale == Scale::True).then(|| focal_length.to_length().to_mm()),
        photo_horizontal_fov_deg: photo.map(|view| view.horizontal_fov.to_deg()),
        photo_horizontal_fov_sd_deg: photo.map(|view| view.sd.to_deg()),
        ..MeasureRequest::default()
    };
    requests::measure(&request).map_err(|error| in_the_form(RecordError::at(&error.path, error.message)))
}

/// A refusal at the field of the form that it is about.
fn in_the_form(error: RecordError) -> RecordError {
    match leaf(&error) {
        "known_width_m" => RecordError::at("width_m", error.message),
        "distance_m" => RecordError::at("distance_m", error.message),
        "ends_px" => RecordError::at("", say!("put a mark on each end of the thing")),
        "horizontal_fov_deg" => {
            RecordError::at("distance_m", say!("no phone sees like that: {} across", error.message))
        }
        _ => error,
    }
}

/// The answer's view.
pub(super) fn view_of(answer: &MeasureAnswer) -> Option<SeenView> {
    let (degrees, sd) = answer.horizontal_fov_deg.zip(answer.horizontal_fov_sd_deg)?;
    Some(SeenView { horizontal_fov: Angle::from_deg(degrees), sd: Angle::from_deg(sd) })
}

/// The answer in a sentence, and what is found, a line each.
pub(super) fn words(answer: &MeasureAnswer) -> Vec<String> {
    let Some(view) = view_of(answer) else { return Vec::new() };
    let than_photo = match answer.crop_over_photo.zip(answer.crop_over_photo_sd) {
        // Two standard uncertainties: a difference that chance makes one time in twenty.
        Some((crop, sd)) if (crop - 1.0).abs() < 2.0 * sd => {
            say!(", as much as the photo within the uncertainty").to_owned()
        }
        Some((crop, sd)) if crop > 1.0 => {
            let (value, sd) = rounded(crop, sd);
            let sd = sd.map_or_else(String::new, |sd| format!(" ± {sd}"));
            say!(", {value}{sd} times tighter than the photo")
        }
        Some(_) | None => String::new(),
    };
    let mut lines = vec![say!("Sees {} across{than_photo}.", angle(&view))];
    lines.extend(answer.findings.iter().map(|finding| {
        let mut letters = finding.message.chars();
        let first = letters.next().map(|letter| letter.to_uppercase().to_string()).unwrap_or_default();
        format!("{first}{}: {}.", letters.as_str(), finding.hint)
    }));
    lines
}

/// By how much the line between the ends leans, where it leans so much that it shortens the thing, in words.
pub(super) fn lean_words(ends_px: [(f64, f64); 2]) -> Option<String> {
    let (across, down) = (ends_px[1].0 - ends_px[0].0, ends_px[1].1 - ends_px[0].1);
    let lean = libm::atan2(down.abs(), across.abs()).to_degrees();
    // 3 degrees shorten by a thousandth.
    (lean > 3.0).then(|| {
        say!("The line between the marks leans by {lean:.0}°: hold the phone level, or mark the same height at both \
              ends.")
    })
}

/// The view as the kit keeps it.
pub(super) fn record(entry: &Entry, answer: &MeasureAnswer) -> Option<ViewRecord> {
    Some(ViewRecord {
        lens: entry.some_text("lens")?,
        recording: entry.some_text("recording")?,
        horizontal_fov_deg: answer.horizontal_fov_deg?,
        horizontal_fov_sd_deg: answer.horizontal_fov_sd_deg,
        at_m: answer.at_m,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marked(ends: (f64, f64)) -> Marked {
        Marked {
            file: "clip.mov".to_owned(),
            true_px: (3840, 2160),
            coarse: 1.0,
            ends_px: [(ends.0, 900.0), (ends.1, 910.0)],
        }
    }

    fn begun() -> (Kit, Entry) {
        let record = crate::session::first_kit();
        let entry = entry(&record).with("lens", "main").with("distance_m", "1.2");
        (record.to_kit().expect("a kit"), entry)
    }

    #[test]
    fn a_door_in_a_frame_gives_the_angle_and_the_crop() {
        let (kit, entry) = begun();
        // t = 3840 · 0.9 / (2 · 1.2 · 2400) = 0.6.
        let frame = read(&kit, &entry, LengthUnit::Metres, &marked((700.0, 3100.0))).expect("a frame");
        let answer = ask(&kit, &entry, &[frame]).expect("an answer");
        let degrees = answer.horizontal_fov_deg.expect("an angle");
        assert!((degrees - 2.0 * libm::atan(0.6).to_degrees()).abs() < 1e-9, "{degrees}");
        let lines = words(&answer);
        assert!(lines[0].starts_with("Sees 61.9° ± 0.5° across, 1.2"), "{lines:?}");
        assert!(lines[0].ends_with("times tighter than the photo."), "{lines:?}");
        let kept = record(&entry, &answer).expect("a view");
        assert_eq!((kept.lens.as_str(), kept.at_m), ("main", Some(1.2)));
    }

    #[test]
    fn what_is_missing_is_told_at_its_field() {
        let (kit, entry) = begun();
        let path = |entry: Entry, marked: Marked| {
            read(&kit, &entry, LengthUnit::Metres, &marked).expect_err("refused").path
        };
        let good = marked((700.0, 3100.0));
        assert_eq!(path(entry.clone().with("distance_m", ""), good.clone()), "distance_m");
        assert_eq!(path(entry.clone().with("distance_m", "400"), good.clone()), "distance_m");
        assert_eq!(path(entry.clone().with("thing", "own"), good.clone()), "width_m");
        assert_eq!(path(entry.clone(), Marked { true_px: (4032, 3024), ..good }), "recording");
        assert_eq!(path(entry, marked((700.0, 700.0))), "");
    }

    #[test]
    fn frames_of_one_thing_are_one_thing() {
        let (kit, entry) = begun();
        let frame = |entry: &Entry| {
            read(&kit, entry, LengthUnit::Metres, &marked((700.0, 3100.0))).expect("a frame").asked.thing
        };
        assert_eq!(frame(&entry), frame(&entry.clone().with("distance_m", "1.3")));
        assert_ne!(frame(&entry), frame(&entry.clone().with("thing", "a4").with("distance_m", "0.4")));
    }

    #[test]
    fn a_frame_counts_for_its_own_lens_and_mode_alone() {
        let (kit, entry) = begun();
        let frame = read(&kit, &entry, LengthUnit::Metres, &marked((700.0, 3100.0))).expect("a frame");
        assert!(frame.counts(&entry) && !frame.counts(&entry.with("lens", "ultra-wide")));
    }

    #[test]
    fn a_line_that_leans_is_told() {
        assert_eq!(lean_words([(0.0, 0.0), (1000.0, 40.0)]), None);
        assert!(lean_words([(0.0, 0.0), (1000.0, 90.0)]).is_some_and(|words| words.contains("leans by 5°")));
    }
}
