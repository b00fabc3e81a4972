//! The figures of a setup as text: label, value, uncertainty, unit, and what each means.

use film::ShotResult;
use language::{key, say};
use optics::FarLimit;
use staging::{Figures, Setup};
use units::{Angle, Length, LengthUnit};

use crate::setup::words::three_digits;

/// One figure: what it is, its value, and what stands behind it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Figure {
    pub(crate) label: &'static str,
    pub(crate) value: String,
    /// The standard uncertainty, where it is known.
    pub(crate) spread: Option<String>,
    pub(crate) unit: &'static str,
    /// What it means for the shot.
    pub(crate) meaning: &'static str,
    /// How it is computed, and from which source.
    pub(crate) formula: &'static str,
}

/// The figures of a shot that has a setup; none otherwise.
pub(crate) fn figure_list(result: &ShotResult, unit: LengthUnit) -> Vec<Figure> {
    let (Ok(setup), Some(figures)) = (&result.outcome, &result.figures) else { return Vec::new() };
    let writer = Writer { unit };
    let mut list = writer.place(setup);
    list.extend(writer.sharpness(result, setup, figures));
    list.extend(writer.softness(figures));
    list.extend(writer.picture(result, setup, figures));
    list
}

/// Writes figures in one unit of length.
struct Writer {
    unit: LengthUnit,
}

impl Writer {
    fn length(&self, label: &'static str, value: Length, spread: Option<Length>, words: Words) -> Figure {
        let told = |length: Length| match self.unit {
            LengthUnit::Metres => three_digits(length.to_m()),
            LengthUnit::Feet | LengthUnit::Inches => length.told(self.unit, 2),
        };
        Figure {
            label,
            value: told(value),
            // A place that the user fixed is exact.
            spread: spread.filter(|spread| *spread > Length::ZERO).map(told),
            unit: self.unit.beside_field(),
            meaning: words.meaning,
            formula: words.formula,
        }
    }

    fn place(&self, setup: &Setup) -> Vec<Figure> {
        let degrees = |label, value: Angle, spread: Angle, words: Words| Figure {
            label,
            value: say!("{:.1}", value.to_deg()),
            spread: Some(say!("{:.1}", spread.to_deg())),
            unit: "°",
            meaning: words.meaning,
            formula: words.formula,
        };
        vec![
            self.length(say!("Distance"), setup.distance, Some(setup.spread.distance), DISTANCE),
            self.length(say!("Phone height"), setup.phone_height, None, HEIGHT),
            degrees(say!(in "how the phone leans", "Tilt up"), setup.tilt, setup.spread.tilt, TILT),
            degrees(say!("Sees, across"), setup.view.horizontal_fov(), setup.spread.horizontal_fov, VIEW),
            degrees(say!("Sees, high"), setup.view.vertical_fov(), setup.spread.vertical_fov, VIEW),
        ]
    }

    fn sharpness(&self, result: &ShotResult, setup: &Setup, figures: &Figures) -> Vec<Figure> {
        let mut list = vec![self.length(say!("Focus"), setup.focus, None, FOCUS)];
        if let Some(zone) = figures.sharp {
            list.push(self.length(say!("Sharp from"), zone.near, figures.near_sd, SHARP));
            list.push(match zone.far {
                FarLimit::At(far) => self.length(say!("Sharp to"), far, None, SHARP),
                FarLimit::Infinity => Figure {
                    value: say!("infinity").to_owned(),
                    spread: None,
                    unit: "",
                    ..self.length(say!("Sharp to"), Length::ZERO, None, SHARP)
                },
            });
        }
        if let Some(hyperfocal) = result.shot.hyperfocal(&setup.frame) {
            list.push(self.length(say!("Hyperfocal"), hyperfocal, None, HYPERFOCAL));
        }
        list
    }

    fn softness(&self, figures: &Figures) -> Vec<Figure> {
        let plain = |label, value: f64, unit, words: Words| Figure {
            label,
            value: three_digits(value),
            spread: None,
            unit,
            meaning: words.meaning,
            formula: words.formula,
        };
        let mut list = Vec::new();
        if let Some(disc) = figures.background {
            list.push(plain(say!("Far disc, high"), disc.height_px, "px", BLUR));
            list.push(plain(say!("Far disc, wide"), disc.width_px, "px", BLUR));
            list.push(plain(say!("Far disc, of height"), disc.share * 100.0, "%", BLUR));
        }
        if let Some(disc) = figures.near_person {
            list.push(plain(say!("Shoulder's disc"), disc.height_px, "px", BLUR));
        }
        if let Some(softness) = figures.subject_sideways_px.filter(|softness| *softness > 0.0) {
            list.push(plain(say!("Soft sideways"), softness, "px", SIDEWAYS));
        }
        if let Some(from) = figures.adapter_useful_from {
            list.push(self.length(say!("Sharp sideways from"), from, None, SIDEWAYS));
        }
        if let Some(airy) = figures.airy {
            list.push(plain(say!("Diffraction disc"), airy.to_mm() * 1000.0, "µm", AIRY));
        }
        list
    }

    fn picture(&self, result: &ShotResult, setup: &Setup, figures: &Figures) -> Vec<Figure> {
        let percent = |label, share: f64, words: Words| Figure {
            label,
            value: say!("{:.1}", share * 100.0),
            spread: None,
            unit: "%",
            meaning: words.meaning,
            formula: words.formula,
        };
        let mut list = Vec::new();
        if let Some(stretch) = figures.face_stretch {
            list.push(percent(say!("Nose over ears"), stretch, FACE));
        }
        list.push(self.length(say!("Place seen"), figures.place_width, None, PLACE));
        list.push(percent(say!("Headroom"), setup.headroom, HEADROOM));
        if let Some(cut) = setup.cut_height {
            list.push(self.length(say!("Lower edge at"), cut, None, CUT));
        }
        let lens = &result.shot.lens;
        list.push(Figure {
            label: say!("35 mm-equivalent"),
            value: three_digits(
                lens.focal_length.value.to_length().to_mm() * setup.frame.recorded.size.crop_factor(),
            ),
            spread: None,
            unit: "mm",
            meaning: EQUIVALENT.meaning,
            formula: EQUIVALENT.formula,
        });
        list
    }
}

/// What a figure means and how it is computed.
#[derive(Clone, Copy)]
struct Words {
    meaning: &'static str,
    formula: &'static str,
}

const DISTANCE: Words = Words {
    meaning: key!(
        "From the phone to them, along the floor. The uncertainty is the lens's and the body's together."
    ),
    formula: key!(
        "p² − (a − b) cot γ · p + a b = 0, with a and b the heights of the upper and the lower mark above the lens \
              and γ the angle between their rows."
    ),
};
const HEIGHT: Words = Words {
    meaning: key!(
        "The lens above the floor. By size it is at the eyes for tight shots, the chest for a medium and the waist \
              for wider ones."
    ),
    formula: key!("Common practice; landmark heights from a survey of 6068 adults (ANSUR II)."),
};
const TILT: Words = Words {
    meaning: key!(
        "How far the phone leans. Aim by where the eyes sit in the frame; this is the same in degrees."
    ),
    formula: key!("τ = atan(a / p) − atan(u), with u the row of the upper mark."),
};
const VIEW: Words = Words {
    meaning: key!(
        "The angle that the delivered frame sees, after stabiliser, adapter and crop, focused where it is."
    ),
    formula: key!(
        "2 atan(w S / 2v), v = f s / (s − f); w the delivered length on the sensor, S the squeeze along it. \
              Checked against OpenCV's camera model."
    ),
};
const FOCUS: Words = Words {
    meaning: key!(
        "Along the lens's axis to the eyes, or to the middle of the frame where the eyes are not in it. Tap the eyes \
              and lock."
    ),
    formula: key!("s = p cos τ + (eyes − lens) sin τ."),
};
const SHARP: Words = Words {
    meaning: key!("Between these distances a point is no larger than the circle of confusion."),
    formula: key!(
        "near = s (H − f) / (H + s − 2f), far = s (H − f) / (H − s). Depth of field with a circle of the recorded \
              diagonal / 1500 (common practice)."
    ),
};
const HYPERFOCAL: Words = Words {
    meaning: key!(
        "Focused from here on, everything to the horizon stays sharp. On a phone this is often within arm's reach."
    ),
    formula: key!("H = f² / (N c) + f."),
};
const BLUR: Words = Words {
    meaning: key!(
        "How large a point of the background is drawn. A few pixels look sharp; a twentieth of the frame looks soft."
    ),
    formula: key!(
        "b = (f² / N) |d − s| / (d (s − f)); with an adapter that focuses b / S wide, with one that does not \
              S (f² / N) |d S² − s| / (d S² (s − f)) wide."
    ),
};
const SIDEWAYS: Words = Words {
    meaning: key!(
        "A clip-on adapter cannot focus, so what is sharp up and down stays soft sideways; worse the nearer."
    ),
    formula: key!("S (f² / N) (S² − 1) / (S² (s − f)), from ray transfer matrices."),
};
const AIRY: Words = Words {
    meaning: key!("The blur of light itself at this f-number; no lens escapes it."),
    formula: key!("2.44 λ N with λ = 0.55 µm."),
};
const FACE: Words = Words {
    meaning: key!(
        "Near lenses stretch faces: the nose is nearer than the ears. Under 8 % looks natural; common practice."
    ),
    formula: key!("(s + ears behind eyes) / (s − nose before eyes) − 1."),
};
const PLACE: Words = Words {
    meaning: key!("How wide a strip of the background is in the frame."),
    formula: key!("(tan left + tan right) · (focus + background behind)."),
};
const HEADROOM: Words = Words {
    meaning: key!("The share of the frame's height above the crown; less than nothing crops the hair."),
    formula: key!("Projected from the setup."),
};
const CUT: Words = Words {
    meaning: key!("Where the frame's lower edge meets them. It never sits on a joint."),
    formula: key!("Projected from the setup."),
};
const EQUIVALENT: Words = Words {
    meaning: key!(
        "The lens on a 36 x 24 mm camera that sees as much as this recording, before the crop and without the \
              adapter. The photo's own equivalent is shorter: video uses less of the sensor."
    ),
    formula: key!("f · 43.267 mm / diagonal of the recorded area (the convention of the Exif tag)."),
};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::tests::result_of;
    use crate::session::Plan;

    #[test]
    fn every_figure_of_the_first_setup_has_a_value_and_a_meaning() {
        let list = figure_list(&result_of(&Plan::first()), LengthUnit::Metres);
        assert!(list.len() > 12, "{}", list.len());
        for figure in list {
            assert!(!figure.value.contains("NaN") && !figure.value.contains("inf "), "{figure:?}");
            assert!(!figure.meaning.is_empty() && !figure.formula.is_empty(), "{figure:?}");
        }
    }
}
