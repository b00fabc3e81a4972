//! What stands behind what is measured of a place.

use film::{STEP_SD_SHARE, SUN_EVERY_MIN};
use language::{Number, key, say};
use optics::full_frame_diagonal;

use crate::widgets::{Computed, EXIF, Explanation, GEOMETRY, SUN_POSITION, UNCERTAINTY};

/// All of them, for the test that reads them.
#[cfg(test)]
pub(crate) const EXPLANATIONS: [&Explanation; 5] = [&POSE, &SEES, &SUN_FROM_HERE, &WALK, &STEP];

pub(super) const POSE: Explanation = Explanation {
    means: key!(
        "How the phone was held, so that people drawn into the photo have their true size. ± is one standard uncertainty; \
            what is off by three is doubted."
    ),
    computed: Computed::As(key!(
        "The pose for which Σ ((marked − drawn) / s)² is least, over all marks and all that is stated, each of the \
               uncertainty s."
    )),
    sources: &["Multiple View Geometry in Computer Vision", "Single view metrology", UNCERTAINTY],
};
pub(super) const SEES: Explanation = Explanation {
    means: key!(
        "How much of the place the photo holds from side to side; it says how large everything in it is."
    ),
    computed: Computed::With(|| {
        let full_frame_mm = full_frame_diagonal().to_mm();
        say!(
            "2 atan(w / 2e), with e the 35 mm-equivalent and w the photo's width on a diagonal of {full_frame_mm:.2} mm."
        )
    }),
    sources: &[EXIF],
};
pub(super) const SUN_FROM_HERE: Explanation = Explanation {
    means: key!(
        "When somebody in this picture is lit from the front, from a side or from behind, and when the sun is in it."
    ),
    computed: Computed::With(|| {
        say!(
            "Every {SUN_EVERY_MIN:.0} minutes, by how far the sun is round from straight behind the phone: to 60° front, \
             from 120° back, between them the sides."
        )
    }),
    sources: &[SUN_POSITION, GEOMETRY],
};
pub(super) const WALK: Explanation = Explanation {
    means: key!(
        "How large the place is, and how far each corner may be off: the half axis of one standard uncertainty. The ellipses \
            on the plan are 2.45 times as large, so that 95 of 100 corners are within."
    ),
    computed: Computed::As(key!(
        "Each corner is the one before it and n steps in the side's direction, with what steps, turns and compass may \
               be off. A walk that closes is closed by the likeliest changes."
    )),
    sources: &["Open Access Surveying Library", "Observations and Least Squares", UNCERTAINTY],
};
pub(super) const STEP: Explanation = Explanation {
    means: key!(
        "Distances are told in your own steps, and places paced out with them; ± says how well the step is known."
    ),
    computed: Computed::With(|| {
        let share = Number(STEP_SD_SHARE);
        say!(
            "p = L / n for n steps along a length L; u² = (u(L) / n)² + ({share} p)² / n, as each step is off by that \
             share of itself."
        )
    }),
    sources: &[UNCERTAINTY],
};
