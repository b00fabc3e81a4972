//! Figures for people: aligned, each with its unit and how far it may be off.

use film::fixed;
use requests::{FindingAnswer, PixelsAnswer, SetupAnswer, SeverityAnswer};

/// One line of the block; a figure that cannot be told has none, because a finding says why.
pub(crate) struct Line {
    label: &'static str,
    figure: String,
    unit: &'static str,
}

impl Line {
    /// A figure with what it is and its unit.
    pub(crate) const fn new(label: &'static str, figure: String, unit: &'static str) -> Self {
        Self { label, figure, unit }
    }
}

/// The figures of a setup, one a line.
pub(crate) fn block(answer: &SetupAnswer) -> String {
    let mut lines = Vec::new();
    let mut add = |label, figure: Option<String>, unit| {
        if let Some(figure) = figure {
            lines.push(Line { label, figure, unit });
        }
    };
    let decimals = |figure: Option<f64>, digits: usize| figure.map(|figure| fixed(figure, digits));
    let percent = |share: Option<f64>, digits: usize| decimals(share.map(|share| share * 100.0), digits);
    add("distance along the floor", spread(answer.distance_m, answer.distance_sd_m, 3), "m");
    add("phone above the floor", decimals(Some(answer.camera_height_m), 2), "m");
    add("tilt, up positive", spread(answer.tilt_deg, answer.tilt_sd_deg, 1), "°");
    let aside = answer.subject_right_deg.filter(|degrees| degrees.abs() >= 0.05);
    add("subject right of straight ahead", decimals(aside, 1), "°");
    add("focus", decimals(answer.focus_m, 2), "m");
    // Nearer to each other than what is shown, the two are one.
    let elsewhere =
        answer.focus_m.zip(answer.subject_depth_m).filter(|(focus, depth)| (focus - depth).abs() >= 0.005);
    add("subject along the axis", decimals(elsewhere.map(|(_, depth)| depth), 2), "m");
    add("sharp from", spread(answer.near_m, answer.near_sd_m, 3), "m");
    let to = answer.far_m.map_or_else(|| "infinity".to_owned(), |far| fixed(far, 2));
    let to_unit = if answer.far_m.is_some() { "m" } else { "" };
    add("sharp to", answer.near_m.map(|_| to), to_unit);
    add("everything far is sharp from focus at", decimals(answer.hyperfocal_m, 2), "m");
    add("view across", spread(answer.horizontal_fov_deg, answer.horizontal_fov_sd_deg, 1), "°");
    add("view up and down", spread(answer.vertical_fov_deg, answer.vertical_fov_sd_deg, 1), "°");
    add("seen of the background, across", decimals(answer.place_width_m, 2), "m");
    add("frame's lower edge on the subject", decimals(answer.cut_height_m, 2), "m");
    add("headroom", percent(answer.headroom_share, 1), "% of the frame");
    add("nearness stretches the face by", percent(answer.face_stretch_share, 1), "%");
    let pixels = format!("{} x {}", answer.delivered_width_px, answer.delivered_height_px);
    let captured = match answer.pixels {
        PixelsAnswer::Captured => "px, captured",
        PixelsAnswer::StretchedInWidth => "px, stretched in width",
        PixelsAnswer::StretchedInHeight => "px, stretched in height",
    };
    add("delivered frame", Some(pixels), captured);
    add("lost to the crop", percent(Some(answer.crop_lost_share), 1), "%");
    add("35 mm-equivalent of the recording", decimals(Some(answer.focal_length_35mm_equivalent_mm), 1), "mm");
    add("counts as sharp on the sensor", decimals(answer.circle_of_confusion_mm, 4), "mm");
    let blur = answer.background_blur_px.zip(answer.background_blur_width_px);
    add("background blur, width x height", blur.map(|(high, wide)| format!("{wide:.1} x {high:.1}")), "px");
    add("background blur", percent(answer.background_blur_share, 2), "% of the frame's height");
    let subject = answer.subject_blur_px.zip(answer.subject_blur_width_px).filter(|_| elsewhere.is_some());
    add("subject blur, width x height", subject.map(|(high, wide)| format!("{wide:.1} x {high:.1}")), "px");
    let sideways = answer.subject_sideways_softness_px.filter(|softness| *softness > 0.0);
    add("subject soft sideways", decimals(sideways, 1), "px");
    add("adapter sharp enough from focus at", decimals(answer.adapter_useful_from_m, 2), "m");
    add("diffraction disc on the sensor", decimals(answer.airy_diameter_um, 2), "µm");
    aligned(&lines)
}

/// Findings, each with what would mend it.
pub(crate) fn findings(findings: &[FindingAnswer]) -> String {
    let told = findings.iter().map(|finding| {
        let severity = match finding.severity {
            SeverityAnswer::Notes => "note",
            SeverityAnswer::Warns => "warning",
            SeverityAnswer::Fails => "will not do",
        };
        format!("\n{severity}: {}\n  {}\n", finding.message, finding.hint)
    });
    told.collect()
}

/// Labels to the left, figures to the right of one column, units after them.
pub(crate) fn aligned(lines: &[Line]) -> String {
    let width =
        |part: fn(&Line) -> &str| lines.iter().map(|line| part(line).chars().count()).max().unwrap_or(0);
    let (labels, figures) = (width(|line| line.label), width(|line| &line.figure));
    let mut text = String::new();
    for Line { label, figure, unit } in lines {
        let gap = gap_before(unit);
        let line = format!("  {label:labels$}  {figure:>figures$}{gap}{unit}\n");
        text.push_str(&line);
    }
    text
}

/// Rows as lines, each column as wide as its widest cell.
pub(crate) fn columns<const COUNT: usize>(rows: &[[String; COUNT]]) -> Vec<String> {
    let widths: [usize; COUNT] =
        std::array::from_fn(|column| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0));
    let line = |row: &[String; COUNT]| {
        let cells = row.iter().zip(widths).map(|(cell, width)| format!("{cell:width$}"));
        cells.collect::<Vec<_>>().join("  ")
    };
    rows.iter().map(line).collect()
}

/// What stands between a figure and its unit: a degree sign belongs to its number, and where there is no unit there is nothing.
pub(crate) fn gap_before(unit: &str) -> &'static str {
    if unit.is_empty() || unit.starts_with('°') { "" } else { " " }
}

/// A figure with its standard uncertainty, both to the uncertainty's first digit but to `most` digits at the most.
fn spread(figure: Option<f64>, sd: Option<f64>, most: usize) -> Option<String> {
    let figure = figure?;
    let mut step = 1.0;
    for digits in 0..=most {
        // What rounds to one in the last digit shown is the first digit worth showing.
        if let Some(sd) = sd.filter(|sd| *sd >= 0.95 * step) {
            return Some(format!("{} ± {sd:.digits$}", fixed(figure, digits)));
        }
        step /= 10.0;
    }
    Some(fixed(figure, most.min(2)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_told_as_far_as_it_can_be_trusted() {
        assert_eq!(spread(Some(2.926), Some(0.213), 2).as_deref(), Some("2.9 ± 0.2"));
        assert_eq!(spread(Some(2.926), Some(0.034), 2).as_deref(), Some("2.93 ± 0.03"));
        assert_eq!(spread(Some(29.26), Some(3.4), 2).as_deref(), Some("29 ± 3"));
        assert_eq!(spread(Some(2.926), Some(0.0), 2).as_deref(), Some("2.93"));
        assert_eq!(spread(Some(2.926), Some(0.002), 2).as_deref(), Some("2.93"));
        assert_eq!(spread(None, Some(0.2), 2), None);
    }

    #[test]
    fn figures_stand_under_each_other() {
        let line = |label, figure: &str, unit| Line { label, figure: figure.to_owned(), unit };
        let text =
            aligned(&[line("a", "2.9 ± 0.2", "m"), line("longer", "12", "°"), line("b", "infinity", "")]);
        assert_eq!(text, "  a       2.9 ± 0.2 m\n  longer         12°\n  b        infinity\n");
    }
}
