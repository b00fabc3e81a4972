//! Which of a kit's filters go on, and how far one is turned that can be.

use language::say;
use optics::{ChosenFilters, MOST_FILTERS, Stacking};
use units::Stops;

use crate::kit::{Kit, KitFilter};

/// Two choices nearer to each other than this leave the same light.
const SAME_STOPS: f64 = 1e-9;
/// A filter is turned in steps of half a stop: chosen, as its marks are read between strokes and no finer.
const TURN_STEP: f64 = 0.5;

/// One filter that is on.
#[derive(Debug, Clone, PartialEq)]
pub struct FilterOn {
    /// Its name in the kit.
    pub name: String,
    /// What it takes; of one that can be turned, where it is turned to.
    pub takes: Stops,
    /// Whether it can be turned.
    pub is_variable: bool,
}

/// Which filters go on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FilterChoice {
    /// Those that are on, in the kit's order.
    pub on: Vec<FilterOn>,
    /// What they take together.
    pub takes: Stops,
    /// Those of the kit that do not go in front of what stands foremost, by name.
    pub do_not_fit: Vec<String>,
    /// How many more fit than are tried.
    pub not_tried: usize,
}

/// A choice, with what is asked of [`crate::Exposure`].
pub(crate) struct Chosen {
    pub(crate) choice: FilterChoice,
    /// What each that fits takes: where it is turned to, or the most that it can.
    pub(crate) at_hand: Vec<Stops>,
    /// Whether all of them go on top of each other.
    pub(crate) stacking: Stacking,
    /// The same choice among `at_hand`.
    pub(crate) places: ChosenFilters,
}

impl FilterChoice {
    /// The names of those that are on, in the kit's order.
    pub fn names(&self) -> Vec<String> {
        self.on.iter().map(|filter| filter.name.clone()).collect()
    }

    /// In plain words: `ND 64 and variable at 2.5 stops`; `none` if none is on.
    pub fn words(&self) -> String {
        let told = |filter: &FilterOn| {
            if filter.is_variable {
                say!("{} turned to {:.1}", filter.name, filter.takes)
            } else {
                filter.name.clone()
            }
        };
        let names: Vec<_> = self.on.iter().map(told).collect();
        if names.is_empty() { say!("none").to_owned() } else { names.join(say!(" and ")) }
    }
}

/// The filters of a kit that leave the least too much or too little before that lens, or the adapter on it.
///
/// ```text
/// minimise | over − Σ f |, then the number of filters
/// ```
/// `over` stops of light too much, finite; `f` stops of the filters taken, each once. As [`optics::choose_filters`], every
/// set is tried, and of equals the one that lets less light through is taken, then one without a filter that is turned, then
/// the one earlier in the kit. A filter that can be turned is turned in half stops. Several go on each other only where all of
/// them may, and one of those that are turned at the most: two of them shift colours.
///
/// # Source
/// The definition: stops of filters on top of each other add. One that is turned at the most: common practice.
pub(crate) fn choose(over: Stops, kit: &Kit, lens: &str, adapter: Option<&str>) -> Chosen {
    let (fit, others): (Vec<&KitFilter>, Vec<&KitFilter>) =
        kit.filters.iter().partition(|filter| filter.fits_before(lens, adapter));
    let tried = &fit[..fit.len().min(MOST_FILTERS)];
    let mut best = Set::of(0, over, tried);
    for taken in 1_u32..1 << tried.len() {
        if may_go_together(taken, tried) {
            let set = Set::of(taken, over, tried);
            if set.is_better_than(&best) {
                best = set;
            }
        }
    }
    let places: Vec<usize> = (0..tried.len()).filter(|place| has(best.taken, *place)).collect();
    let turned_to = |place: usize| match best.turned {
        Some(stops) if has(best.taken, place) && tried[place].is_variable() => Stops::new(stops),
        _ => tried[place].most,
    };
    let on = places.iter().map(|place| FilterOn {
        name: tried[*place].name.clone(),
        takes: turned_to(*place),
        is_variable: tried[*place].is_variable(),
    });
    let takes = Stops::new(best.takes);
    let all_stack = tried.iter().all(|filter| filter.stacking == Stacking::Any);
    Chosen {
        choice: FilterChoice {
            on: on.collect(),
            takes,
            do_not_fit: others.iter().map(|filter| filter.name.clone()).collect(),
            not_tried: fit.len() - tried.len(),
        },
        at_hand: (0..tried.len()).map(turned_to).collect(),
        stacking: if all_stack { Stacking::Any } else { Stacking::One },
        places: ChosenFilters { places, takes, residual: over - takes },
    }
}

const fn has(taken: u32, place: usize) -> bool {
    taken >> place & 1 == 1
}

fn may_go_together(taken: u32, filters: &[&KitFilter]) -> bool {
    let on = || filters.iter().enumerate().filter(|(place, _)| has(taken, *place)).map(|(_, filter)| filter);
    taken.is_power_of_two()
        || on().all(|filter| filter.stacking == Stacking::Any)
            && on().filter(|filter| filter.is_variable()).count() <= 1
}

/// Some of the filters, as the bits of a number.
struct Set {
    taken: u32,
    takes: f64,
    /// How far the one that can be turned is.
    turned: Option<f64>,
    residual: f64,
}

impl Set {
    fn of(taken: u32, over: Stops, filters: &[&KitFilter]) -> Self {
        let on =
            || filters.iter().enumerate().filter(|(place, _)| has(taken, *place)).map(|(_, filter)| filter);
        let fixed: f64 = on().filter(|filter| !filter.is_variable()).map(|filter| filter.most.to_f64()).sum();
        let left = over.to_f64() - fixed;
        let turned = on().find(|filter| filter.is_variable()).map(|filter| turned_to(left, filter));
        let takes = fixed + turned.unwrap_or(0.0);
        Self { taken, takes, turned, residual: over.to_f64() - takes }
    }

    fn is_better_than(&self, other: &Self) -> bool {
        let nearer = other.residual.abs() - self.residual.abs();
        if nearer.abs() > SAME_STOPS {
            return nearer > 0.0;
        }
        let (count, others) = (self.taken.count_ones(), other.taken.count_ones());
        if count != others {
            return count < others;
        }
        let darker = other.residual - self.residual;
        if darker.abs() > SAME_STOPS {
            return darker > 0.0;
        }
        self.turned.is_none() && other.turned.is_some()
    }
}

/// The setting of a filter nearest to what is left; the stronger of two equally near.
fn turned_to(left: f64, filter: &KitFilter) -> f64 {
    let (least, most) = (filter.least.to_f64(), filter.most.to_f64());
    let step = libm::floor(left / TURN_STEP) * TURN_STEP;
    let settings = [most, step + TURN_STEP, step, least].into_iter();
    let off = |setting: &f64| libm::fabs(setting - left);
    settings
        .filter(|setting| (least..=most).contains(setting))
        .min_by(|one, other| {
            if (off(one) - off(other)).abs() < SAME_STOPS {
                other.total_cmp(one)
            } else {
                off(one).total_cmp(&off(other))
            }
        })
        .unwrap_or(most)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::collection::vec;
    use proptest::prelude::*;

    fn filter(name: &str, least: f64, most: f64, stacking: Stacking) -> KitFilter {
        let (least, most) = (Stops::new(least), Stops::new(most));
        KitFilter { name: name.to_owned(), least, most, fits: None, stacking }
    }

    fn kit(filters: Vec<KitFilter>) -> Kit {
        Kit { filters, ..Kit::clone(&crate::demo_film().kit) }
    }

    fn chosen(over: f64, kit: &Kit) -> FilterChoice {
        choose(Stops::new(over), kit, "main", None).choice
    }

    #[test]
    fn filters_that_go_on_each_other_add_and_those_that_do_not_do_not() {
        let both =
            |stacking| kit(vec![filter("ND8", 3.0, 3.0, stacking), filter("ND64", 6.0, 6.0, stacking)]);
        let stacked = chosen(9.2, &both(Stacking::Any));
        assert_eq!((stacked.words().as_str(), stacked.takes), ("ND8 and ND64", Stops::new(9.0)));
        let alone = chosen(9.2, &both(Stacking::One));
        assert_eq!((alone.words().as_str(), alone.takes), ("ND64", Stops::new(6.0)));
    }

    #[test]
    fn one_that_can_be_turned_is_turned_in_half_stops() {
        let variable = kit(vec![filter("variable", 2.0, 5.0, Stacking::One)]);
        assert_eq!(chosen(3.7, &variable).words(), "variable turned to 3.5 stops");
        assert_eq!(chosen(3.75, &variable).takes, Stops::new(4.0), "the darker of two as near");
        assert_eq!(chosen(8.0, &variable).takes, Stops::new(5.0), "no farther than it goes");
        assert_eq!(chosen(1.1, &variable).takes, Stops::new(2.0), "nearer than nothing");
        assert_eq!(chosen(0.9, &variable).on, [], "at its least it takes too much");
    }

    #[test]
    fn two_that_are_turned_do_not_go_on_each_other() {
        let two = kit(vec![filter("one", 2.0, 5.0, Stacking::Any), filter("other", 2.0, 5.0, Stacking::Any)]);
        assert_eq!(chosen(9.0, &two).on.len(), 1);
        let with_fixed =
            kit(vec![filter("one", 2.0, 5.0, Stacking::Any), filter("ND8", 3.0, 3.0, Stacking::Any)]);
        assert_eq!(chosen(7.4, &with_fixed).words(), "one turned to 4.5 stops and ND8");
    }

    #[test]
    fn what_does_not_fit_what_stands_foremost_stays_off_and_is_named() {
        let before_adapter =
            KitFilter { fits: Some(vec!["clip-on".to_owned()]), ..filter("ND8", 3.0, 3.0, Stacking::Any) };
        let kit = kit(vec![before_adapter]);
        assert_eq!(choose(Stops::new(3.0), &kit, "main", Some("clip-on")).choice.words(), "ND8");
        let bare = choose(Stops::new(3.0), &kit, "main", None).choice;
        assert_eq!(
            (bare.words().as_str(), bare.do_not_fit.as_slice()),
            ("none", ["ND8".to_owned()].as_slice())
        );
    }

    #[test]
    fn more_filters_than_are_tried_are_counted() {
        let many = kit((0..15).map(|at| filter(&format!("f{at}"), 1.0, 1.0, Stacking::Any)).collect());
        let choice = chosen(20.0, &many);
        assert_eq!((choice.on.len(), choice.not_tried), (MOST_FILTERS, 3));
    }

    fn filters() -> impl Strategy<Value = Vec<KitFilter>> {
        let one = (0_u32..=12, 0_u32..=12, any::<bool>()).prop_map(|(least, more, stacks)| {
            let (least, more) = (f64::from(least) / 3.0, f64::from(more.saturating_sub(6)) / 2.0);
            filter("it", least, least + more, if stacks { Stacking::Any } else { Stacking::One })
        });
        vec(one, 0..=6)
    }

    proptest! {
        #[test]
        fn more_light_never_needs_less_nd(filters in filters(), over in -5.0_f64..=20.0, more in 0.0_f64..=5.0) {
            let kit = kit(filters);
            let (less, more) = (chosen(over, &kit).takes.to_f64(), chosen(over + more, &kit).takes.to_f64());
            prop_assert!(more >= less - 1e-8, "{less} {more}");
        }

        #[test]
        fn fixed_filters_are_chosen_as_optics_chooses_them(stops in vec(0_u32..=30, 0..=7), over in -5.0_f64..=30.0) {
            let stops: Vec<f64> = stops.into_iter().map(|thirds| f64::from(thirds) / 3.0).collect();
            let kit = kit(stops.iter().map(|stops| filter("it", *stops, *stops, Stacking::Any)).collect());
            let ours = choose(Stops::new(over), &kit, "main", None).places;
            let theirs: Vec<Stops> = stops.into_iter().map(Stops::new).collect();
            let theirs = optics::choose_filters(Stops::new(over), &theirs, Stacking::Any).expect("few");
            prop_assert_eq!(ours.places, theirs.places);
            prop_assert!((ours.residual - theirs.residual).to_f64().abs() < 1e-9);
        }
    }
}
