//! What stands behind the figures of the Day screen; those of its light are with Light's.

use film::OrderCosts;
use language::{key, say};

use crate::widgets::{COMMON_PRACTICE, Computed, DEFINITION, Explanation, plain};

/// All of them, for the test that reads them.
#[cfg(test)]
pub(crate) const EXPLANATIONS: [&Explanation; 4] = [&TIMES, &CHANGES, &COSTS, &LATE];

pub(super) const TIMES: Explanation = Explanation {
    means: key!("From when to when it is rehearsed and shot, once everything is in its place."),
    computed: Computed::As(key!(
        "Rehearsal + takes · the shot's seconds + pauses between takes; or as long as the shot says in Story."
    )),
    sources: &[DEFINITION],
};
pub(super) const CHANGES: Explanation = Explanation {
    means: key!(
        "What a day spends its time on beside the takes. The usual minutes are chosen for a few friends: make them \
         yours."
    ),
    computed: Computed::As(key!(
        "Of all ways of going the farthest counts: place, scene, turn, spot. What goes on the phone or off it is added."
    )),
    sources: &[COMMON_PRACTICE],
};
pub(super) const COSTS: Explanation = Explanation {
    means: key!(
        "How this order compares with shooting as the story goes. It may end later and be better all the same: \
         more is shot, or less is carried and gone back to."
    ),
    computed: Computed::With(|| {
        let weight = |of_one: OrderCosts| plain(of_one.minutes());
        let none = OrderCosts::default();
        let changes = weight(OrderCosts { changes_min: 1.0, ..none });
        let back = weight(OrderCosts { back: 1, ..none });
        let tight = weight(OrderCosts { tight_first: 1, ..none });
        let messy = weight(OrderCosts { messy_early: 1, ..none });
        let nice = weight(OrderCosts { nice_first: 1, ..none });
        say!(
            "The fewest must-haves missed, then nice-to-haves, then minutes: the day's, all changes · {changes}, {back} \
             for each going back, {tight} for each tighter before a wider, {messy} for each mess before others, {nice} \
             for each nice-to-have before a must-have. The weights are chosen."
        )
    }),
    sources: &[COMMON_PRACTICE],
};
pub(super) const LATE: Explanation = Explanation {
    means: key!("What the delay costs, so that you can give up the right shot in time."),
    computed: Computed::As(key!(
        "The rest is put in order anew from that minute and compared with the order as it was planned."
    )),
    sources: &[DEFINITION],
};
