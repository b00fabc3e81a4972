//! What stands behind the figures of lenses and adapters.

use language::{key, say};
use optics::full_frame_diagonal;

use crate::widgets::{COMMON_PRACTICE, Computed, DEFINITION, EXIF, Explanation, UNCERTAINTY, WEIGHTS};

/// All of them, for the test that reads them.
#[cfg(test)]
pub(crate) const EXPLANATIONS: [&Explanation; 9] = [
    &FOCAL_LENGTH,
    &F_NUMBER,
    &EQUIVALENT,
    &SENSOR,
    &SEES_ACROSS,
    &MEASURED_VIEW,
    &SQUEEZE,
    &TAKES_LIGHT,
    &CLEAR,
];

pub(super) const FOCAL_LENGTH: Explanation = Explanation {
    means: key!(
        "The lens's real focal length, a few millimetres on a phone. What is sharp and how soft the rest gets follow from \
            it, not from the equivalent."
    ),
    computed: Computed::As(key!("As a photo of this lens, a data sheet or you say it.")),
    sources: &[EXIF],
};
pub(super) const F_NUMBER: Explanation = Explanation {
    means: key!("How far the lens is open. A smaller number lets in more light and makes the rest softer."),
    computed: Computed::As(key!(
        "N = f / D, the focal length over the width of the hole that light comes through; as a photo or you say it."
    )),
    sources: &[DEFINITION, EXIF],
};
pub(super) const EQUIVALENT: Explanation = Explanation {
    means: key!(
        "The lens that would see as much on a 36 x 24 mm frame: the number by which camera apps call lenses. It is of a \
            whole photo; video sees less."
    ),
    computed: Computed::With(|| {
        let full_frame_mm = full_frame_diagonal().to_mm();
        say!("f · {full_frame_mm:.3} mm / the sensor's diagonal; digital zoom is divided out.")
    }),
    sources: &[EXIF],
};
pub(super) const SENSOR: Explanation = Explanation {
    means: key!("The area behind a whole photo. The smaller it is, the more stays sharp."),
    computed: Computed::With(|| {
        let full_frame_mm = full_frame_diagonal().to_mm();
        say!(
            "Its diagonal is {full_frame_mm:.3} mm · f / equivalent, in the photo's own shape; ± is the equivalent's \
             rounding to whole millimetres, 0.5 mm / √3."
        )
    }),
    sources: &[EXIF, UNCERTAINTY],
};
pub(super) const SEES_ACROSS: Explanation = Explanation {
    means: key!(
        "How much of the place this lens sees from side to side in that video mode, before adapter and frame shape."
    ),
    computed: Computed::As(key!(
        "2 atan(w / 2v), with w the width that the mode uses of the sensor and v = f s / (s − f) focused far away; or as \
               it was measured."
    )),
    sources: &["OpenCV 5.0.0", UNCERTAINTY],
};
pub(super) const MEASURED_VIEW: Explanation = Explanation {
    means: key!(
        "What the lens really sees in this mode. Once kept, every distance in Set-up counts with it."
    ),
    computed: Computed::As(key!(
        "2 atan(w / (2 p d)), with w the thing's width, p the share of the frame that it fills and d its distance from \
               the lens. Several frames count each by how well it is known."
    )),
    sources: &["OpenCV 5.0.0", WEIGHTS, UNCERTAINTY],
};
pub(super) const SQUEEZE: Explanation = Explanation {
    means: key!(
        "How many times more the adapter sees along its axis; the picture is stretched back by as much."
    ),
    computed: Computed::As(key!(
        "As it is sold, or measured on a round or square thing: r · height / width in the frame as recorded, with r its \
               true width over its height (the other way round if the height is squeezed)."
    )),
    sources: &["Fundamentals of Photonics", UNCERTAINTY],
};
pub(super) const TAKES_LIGHT: Explanation = Explanation {
    means: key!("The light that its glass keeps from the lens; Light counts with it."),
    computed: Computed::As(key!("As you say it, in stops.")),
    sources: &[DEFINITION],
};
pub(super) const CLEAR: Explanation = Explanation {
    means: key!(
        "How far out the adapter leaves the picture bright. Set-up says how much of a frame lies outside."
    ),
    computed: Computed::As(key!(
        "On an evenly lit wall, from the edge inwards, where the light first comes to half of the middle's (one stop); \
               the worst corner counts."
    )),
    sources: &[COMMON_PRACTICE, WEIGHTS],
};

#[cfg(test)]
mod tests {
    use units::LengthUnit;

    use crate::kit::lens_figures::lens_figures;

    #[test]
    fn what_is_computed_of_a_lens_is_explained_and_what_is_typed_is_not() {
        let main = crate::session::first_kit().lenses.swap_remove(1);
        let figures = lens_figures(&main, LengthUnit::Metres);
        let explained: Vec<&str> = figures
            .iter()
            .filter(|figure| figure.behind.is_some())
            .map(|figure| figure.label.as_ref())
            .collect();
        assert_eq!(explained, ["Focal length", "f-number", "35 mm-equivalent", "Sensor"]);
    }
}
