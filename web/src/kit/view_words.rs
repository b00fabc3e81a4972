//! Fields of view in words: measured, worked out, and what the difference means.

use film::{Kit, KitLens, KitRecording};
use language::say;
use optics::{Origin, Recording, SeenView};
use units::{Angle, Length};

use crate::kit::entry::rounded;
use crate::kit::explanations::SEES_ACROSS;
use crate::kit::lens_figures::{LensFigure, origin_words};
use crate::kit::view_entry::Looked;

/// An angle with its uncertainty.
pub(super) fn angle(view: &SeenView) -> String {
    let (value, sd) = rounded(view.horizontal_fov.to_deg(), view.sd.to_deg());
    sd.map_or_else(|| format!("{value}°"), |sd| format!("{value}° ± {sd}°"))
}

/// What a check found, line by line: the angle, the worked-out value it replaces, and what became of the photo's width.
pub(super) fn check_words(kit: &Kit, looked: &Looked) -> Vec<String> {
    let mut lines = vec![say!("Sees {} across.", angle(&looked.seen))];
    let (Some(lens), Some(mode)) = (lens(kit, &looked.lens), mode(kit, &looked.recording)) else {
        return lines;
    };
    let at = looked.check.distance;
    if let Some(guess) = unmeasured(&mode.recording, mode.recording.stabiliser_crop()) {
        let worked_out = SeenView::worked_out(&guess, &lens.lens, at);
        lines.push(say!("Worked out for this mode: {}. Keeping yours replaces that.", angle(&worked_out)));
    }
    if let Some(whole) = unmeasured(&mode.recording, 1.0) {
        lines.push(against_photo(&looked.seen, &SeenView::worked_out(&whole, &lens.lens, at)));
    }
    lines
}

/// What a kept view replaces.
pub(super) fn replaced_words(kit: &Kit, lens_name: &str, mode_name: &str, at: Option<f64>) -> String {
    let worked_out = lens(kit, lens_name).zip(mode(kit, mode_name)).and_then(|(lens, mode)| {
        let guess = unmeasured(&mode.recording, mode.recording.stabiliser_crop())?;
        Some(SeenView::worked_out(&guess, &lens.lens, Length::from_m(at.unwrap_or(1000.0))))
    });
    worked_out.map_or_else(
        || say!("The kit has no such lens or mode now.").to_owned(),
        |view| say!("It replaces the worked-out {}.", angle(&view)),
    )
}

/// How much of the photo's width a mode shows.
fn against_photo(seen: &SeenView, photo: &SeenView) -> String {
    let (ratio, sd) = seen.width_over(photo);
    let percent = (ratio - 1.0).abs() * 100.0;
    let (shown, _) = rounded(percent, (sd * 100.0).max(0.5));
    // Two standard deviations: a difference that chance makes one time in twenty.
    if (ratio - 1.0).abs() < 2.0 * sd {
        say!("Your mode sees as much as the photo, within the uncertainty (± {:.0} %).", sd * 100.0)
    } else if ratio < 1.0 {
        say!("Your mode sees {shown} % less than the photo: the stabiliser crops.")
    } else {
        say!(
            "Your mode sees {shown} % more than the photo, which no crop explains: check that this is the lens, and the \
             width and the distance."
        )
    }
}

/// A lens's field of view in the first mode, and in every mode in which it was measured.
pub(super) fn view_figures(kit: &Kit, lens_name: &str) -> Vec<LensFigure> {
    let Some(lens) = lens(kit, lens_name) else { return Vec::new() };
    let shown = kit.recordings.iter().enumerate().filter_map(|(index, mode)| {
        let recording = kit.recording_of(mode, lens);
        let measured = recording.measured();
        if index > 0 && measured.is_none() {
            return None;
        }
        let at = measured.and_then(|view| view.at).unwrap_or(FAR);
        let view = SeenView::worked_out(&recording, &lens.lens, at);
        let (value, sd) = rounded(view.horizontal_fov.to_deg(), view.sd.to_deg());
        let origin = if measured.is_some() { Origin::Measured } else { lens.lens.sensor.origin };
        Some(LensFigure {
            label: say!("Sees across, {}", mode.name).into(),
            behind: Some(&SEES_ACROSS),
            value: format!("{value}°"),
            sd: sd.map(|sd| format!("{sd}°")),
            origin: origin_words(origin),
        })
    });
    shown.collect()
}

/// So far that a phone's lens is focused at infinity: chosen because its hyperfocal distance is some metres.
const FAR: Length = Length::from_m(1000.0);

/// The same mode with another stabiliser crop, and as if nobody had looked through it.
pub(super) fn unmeasured(mode: &Recording, stabiliser_crop: f64) -> Option<Recording> {
    let plain = Recording::new(mode.width_px(), mode.height_px()).ok()?;
    plain.with_in_sensor_zoom(mode.in_sensor_zoom()).ok()?.with_stabiliser_crop(stabiliser_crop).ok()
}

/// The lens of that name.
pub(super) fn lens<'kit>(kit: &'kit Kit, name: &str) -> Option<&'kit KitLens> {
    kit.lenses.iter().find(|lens| lens.name == name)
}

/// The recording mode of that name.
pub(super) fn mode<'kit>(kit: &'kit Kit, name: &str) -> Option<&'kit KitRecording> {
    kit.recordings.iter().find(|mode| mode.name == name)
}

/// A kept view as it was seen.
pub(super) fn kept(record: &film::ViewRecord) -> SeenView {
    SeenView {
        horizontal_fov: Angle::from_deg(record.horizontal_fov_deg),
        sd: Angle::from_deg(record.horizontal_fov_sd_deg.unwrap_or(0.0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::view_entry::{entry, read};
    use units::LengthUnit;

    fn lines(distance: &str) -> Vec<String> {
        let record = crate::session::first_kit();
        let typed = entry(&record).with("lens", "main").with("distance_m", distance);
        let looked = read(&typed, LengthUnit::Metres, Length::from_m(0.75)).expect("a view");
        check_words(&record.to_kit().expect("a kit"), &looked)
    }

    #[test]
    fn a_crop_is_told_as_less_than_the_photo() {
        let lines = lines("75 cm");
        assert_eq!(lines[0], "Sees 61.9° ± 0.8° across.");
        assert!(lines[1].starts_with("Worked out for this mode: 68°"), "{lines:?}");
        assert_eq!(lines[2], "Your mode sees 16 % less than the photo: the stabiliser crops.");
    }

    #[test]
    fn a_small_difference_is_not_made_much_of() {
        assert!(lines("0.64")[2].contains("within the uncertainty"), "{:?}", lines("0.64"));
    }

    #[test]
    fn more_than_the_photo_is_doubted() {
        assert!(lines("0.4")[2].contains("no crop explains"), "{:?}", lines("0.4"));
    }

    #[test]
    fn a_measured_view_is_told_as_measured() {
        let mut record = crate::session::first_kit();
        let typed = entry(&record).with("lens", "main").with("distance_m", "0.75");
        let looked = read(&typed, LengthUnit::Metres, Length::from_m(0.75)).expect("a view");
        record.views.push(looked.to_record());
        let figures = view_figures(&record.to_kit().expect("a kit"), "main");
        let [figure] = figures.as_slice() else { panic!("{figures:?}") };
        assert_eq!((figure.value.as_str(), figure.origin), ("61.9°", "measured"));
    }
}
