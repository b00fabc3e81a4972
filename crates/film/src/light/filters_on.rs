//! Which of a kit's filters go on, and how far one is turned that can be.

use language::say;
use optics::{ChosenFilters, Iso, MOST_FILTERS, Stacking};
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

/// Filters of the kit that take more than is too much, and the ISO that makes up for it: nothing is then too much or too little.
#[derive(Debug, Clone, PartialEq)]
pub struct StrongerFilters {
    /// Those that are then on.
    pub filters: FilterChoice,
    /// The ISO.
    pub iso: Iso,
}

/// A choice, with what is asked of [`crate::Exposure`].
pub(crate) struct Chosen {
    pub(crate) choice: FilterChoice,
    /// What each that fits takes: where it is turned to, or the most that it can.
    pub(crate) at_hand: Vec<Stops>,
    /// Whether any of them go on top of each other.
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
    let mut best = Set::of(0, over, tried, nearest_setting);
    for taken in sets(tried) {
        let set = Set::of(taken, over, tried, nearest_setting);
        if set.is_better_than(&best) {
            best = set;
        }
    }
    let takes = Stops::new(best.takes);
    let some_stack = sets(tried).any(|taken| !taken.is_power_of_two());
    Chosen {
        choice: FilterChoice {
            on: best.on(tried),
            takes,
            do_not_fit: others.iter().map(|filter| filter.name.clone()).collect(),
            not_tried: fit.len() - tried.len(),
        },
        at_hand: (0..tried.len()).map(|place| best.setting(place, tried)).collect(),
        stacking: if some_stack { Stacking::Any } else { Stacking::One },
        places: ChosenFilters { places: best.places(tried), takes, residual: over - takes },
    }
}

/// The filters of a kit that leave nothing too much before that lens, or the adapter on it, and take as little more as can be;
/// none if they cannot.
///
/// ```text
/// minimise Σ f over the sets with Σ f ≥ over, then the number of filters
/// ```
/// As [`choose`], which may leave some light too much where that is nearer.
///
/// # Source
/// The definition: stops of filters on top of each other add.
pub(crate) fn stronger(over: Stops, kit: &Kit, lens: &str, adapter: Option<&str>) -> Option<FilterChoice> {
    let fit = kit.filters.iter().filter(|filter| filter.fits_before(lens, adapter));
    let tried: Vec<&KitFilter> = fit.take(MOST_FILTERS).collect();
    let enough = sets(&tried).map(|taken| Set::of(taken, over, &tried, setting_beyond));
    let enough = enough.filter(|set| set.residual <= SAME_STOPS);
    let best = enough.min_by(|one, other| {
        let count = |set: &Set| set.taken.count_ones();
        one.takes.total_cmp(&other.takes).then(count(one).cmp(&count(other)))
    })?;
    Some(FilterChoice { on: best.on(&tried), takes: Stops::new(best.takes), ..FilterChoice::default() })
}

/// Every set of filters that may be on together, but for none at all.
fn sets(filters: &[&KitFilter]) -> impl Iterator<Item = u32> {
    (1_u32..1 << filters.len()).filter(|taken| may_go_together(*taken, filters))
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
    /// Those filters, one that can be turned at the setting for what the others leave.
    fn of(taken: u32, over: Stops, filters: &[&KitFilter], setting: impl Fn(f64, &KitFilter) -> f64) -> Self {
        let on =
            || filters.iter().enumerate().filter(|(place, _)| has(taken, *place)).map(|(_, filter)| filter);
        let fixed: f64 = on().filter(|filter| !filter.is_variable()).map(|filter| filter.most.to_f64()).sum();
        let left = over.to_f64() - fixed;
        let turned = on().find(|filter| filter.is_variable()).map(|filter| setting(left, filter));
        let takes = fixed + turned.unwrap_or(0.0);
        Self { taken, takes, turned, residual: over.to_f64() - takes }
    }

    /// Their places among all of them.
    fn places(&self, filters: &[&KitFilter]) -> Vec<usize> {
        (0..filters.len()).filter(|place| has(self.taken, *place)).collect()
    }

    /// What the filter at a place takes: where it is turned to, or the most that it can.
    fn setting(&self, place: usize, filters: &[&KitFilter]) -> Stops {
        match self.turned {
            Some(stops) if has(self.taken, place) && filters[place].is_variable() => Stops::new(stops),
            _ => filters[place].most,
        }
    }

    /// Those that are on.
    fn on(&self, filters: &[&KitFilter]) -> Vec<FilterOn> {
        let on = self.places(filters).into_iter().map(|place| FilterOn {
            name: filters[place].name.clone(),
            takes: self.setting(place, filters),
            is_variable: filters[place].is_variable(),
        });
        on.collect()
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

/// The weakest setting of a filter that can be turned which takes all that is left, or its strongest.
fn setting_beyond(left: f64, filter: &KitFilter) -> f64 {
    let (least, most) = (filter.least.to_f64(), filter.most.to_f64());
    (libm::ceil(left / TURN_STEP) * TURN_STEP).clamp(least, most)
}

/// The setting of a filter nearest to what is left; the stronger of two equally near.
fn nearest_setting(left: f64, filter: &KitFilter) -> f64 {
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

    #[test]
    fn filters_go_one_at_a_time_only_where_no_two_go_together() {
        let stacking =
            |filters: Vec<KitFilter>| choose(Stops::new(9.0), &kit(filters), "main", None).stacking;
        let (one, any) = (Stacking::One, Stacking::Any);
        let fixed = |stacking| [filter("ND4", 2.0, 2.0, stacking), filter("ND64", 6.0, 6.0, stacking)];
        let turning = || filter("turning", 1.0, 5.0, Stacking::One);
        assert_eq!(stacking(fixed(any).into_iter().chain([turning()]).collect()), any, "two of three do");
        assert_eq!(stacking(fixed(one).into_iter().chain([turning()]).collect()), one);
        let two_turned = vec![filter("one", 2.0, 5.0, any), filter("other", 2.0, 5.0, any)];
        assert_eq!(stacking(two_turned), one, "two that are turned do not");
    }

    #[test]
    fn the_stronger_choice_takes_all_of_it_and_as_little_more_as_can_be() {
        let stronger = |over: f64, kit: &Kit| {
            stronger(Stops::new(over), kit, "main", None)
                .map(|choice| (choice.words(), choice.takes.to_f64()))
        };
        let fixed =
            kit(vec![filter("ND4", 2.0, 2.0, Stacking::Any), filter("ND64", 6.0, 6.0, Stacking::Any)]);
        assert_eq!(stronger(0.4, &fixed), Some(("ND4".to_owned(), 2.0)));
        assert_eq!(stronger(6.5, &fixed), Some(("ND4 and ND64".to_owned(), 8.0)));
        assert_eq!(stronger(8.0, &fixed), Some(("ND4 and ND64".to_owned(), 8.0)), "no more than is there");
        assert_eq!(stronger(8.1, &fixed), None);
        let turned = kit(vec![filter("turning", 2.0, 5.0, Stacking::One)]);
        assert_eq!(stronger(3.6, &turned), Some(("turning turned to 4.0 stops".to_owned(), 4.0)));
        assert_eq!(stronger(0.4, &turned), Some(("turning turned to 2.0 stops".to_owned(), 2.0)));
        assert_eq!(stronger(5.1, &turned), None);
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
        fn the_stronger_choice_is_found_wherever_all_that_fit_are_enough(filters in filters(), over in 0.1_f64..=12.0) {
            let kit = kit(filters);
            let tried: Vec<&KitFilter> = kit.filters.iter().collect();
            let strongest = sets(&tried).map(|taken| Set::of(taken, Stops::new(99.0), &tried, nearest_setting).takes);
            let enough = strongest.fold(0.0, f64::max) >= over - 1e-9;
            let found = stronger(Stops::new(over), &kit, "main", None);
            prop_assert_eq!(found.is_some(), enough);
            prop_assert!(found.is_none_or(|choice| choice.takes.to_f64() >= over - 1e-8));
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
