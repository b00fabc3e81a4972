//! What stands behind the figures of the Story screen.

use language::key;

use crate::widgets::{COMMON_PRACTICE, Computed, DEFINITION, EXIF, Explanation, GEOMETRY};

/// All of them, for the test that reads them.
#[cfg(test)]
pub(crate) const EXPLANATIONS: [&Explanation; 4] = [&LENGTH, &CUTS, &LINE, &READING];

pub(super) const LENGTH: Explanation = Explanation {
    means: key!("How long the film plays as it is cut now."),
    computed: Computed::As(key!(
        "The sum over all entries of the cut, each from where it begins in its shot to where it ends."
    )),
    sources: &[DEFINITION],
};
pub(super) const CUTS: Explanation = Explanation {
    means: key!(
        "Which neighbours in the cut would jar, and what of the scene is all alike. It advises: keep anyway what you \
         mean."
    ),
    computed: Computed::As(key!(
        "From where phones and people are as each entry starts and ends: the turn about the subject (30°), the \
         figure's share of the frame (1.8 times), the side of the line, and where people walk and look."
    )),
    sources: &[COMMON_PRACTICE, GEOMETRY],
};
pub(super) const LINE: Explanation = Explanation {
    means: key!("Phones that keep to one side of it keep left and right in the cut."),
    computed: Computed::As(key!(
        "By itself it runs along whoever walks, else between two who look at each other; each beat may have its own."
    )),
    sources: &[COMMON_PRACTICE],
};
pub(super) const READING: Explanation = Explanation {
    means: key!("How much light the scene has; every other setting follows from it."),
    computed: Computed::As(key!(
        "EV = log2(N² / t) − log2(S / 100), with the lens's f-number N, and time t (s) and ISO S as the app shows them."
    )),
    sources: &[EXIF],
};
