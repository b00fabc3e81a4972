//! Which filters to screw on: those whose stops come nearest to what is too much.

use std::fmt;

use language::say;
use units::Stops;

/// How many filters a choice is made from: all of their subsets are tried, 4096 at the most.
pub const MOST_FILTERS: usize = 12;

/// Two choices nearer to each other than this leave the same light: far below any filter's tolerance, far above rounding.
const SAME_STOPS: f64 = 1e-9;

/// Whether filters go on top of each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stacking {
    /// One at the most.
    One,
    /// Any number of them.
    Any,
}

/// Which filters to take.
#[derive(Debug, Clone, PartialEq)]
pub struct ChosenFilters {
    /// Their places in the list, in its order; none if the light is best as it is.
    pub places: Vec<usize>,
    /// The stops that they take together.
    pub takes: Stops,
    /// The stops that are too much with them on; too little if negative.
    pub residual: Stops,
}

/// More filters than a choice is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooManyFilters {
    /// How many there are.
    pub count: usize,
}

impl fmt::Display for TooManyFilters {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&say!("{} filters are not allowed: 0 to {MOST_FILTERS} filters", self.count))
    }
}

impl std::error::Error for TooManyFilters {}

/// The filters that leave the least too much or too little.
///
/// ```text
/// minimise | over − Σ f |, then the number of filters
/// ```
/// `over` stops of light too much, negative if too little; `f` stops of the filters taken, each once; the residual is
/// `over − Σ f`. Exact: every subset is tried. Of choices that are still equal it takes the one that lets less light
/// through, because a burnt highlight is gone and a shadow can be lifted, then the one earlier in the list.
///
/// # Errors
/// Refuses more than [`MOST_FILTERS`] filters, because the subsets double with each.
///
/// # Source
/// The definition: stops of filters on top of each other add.
///
/// # Examples
/// 7.42 stops too much, with filters of 2, 3, 6 and 10 stops, take 2 and 6:
/// ```
/// use optics::{Stacking, choose_filters};
/// use units::Stops;
/// let filters = [2.0, 3.0, 6.0, 10.0].map(Stops::new);
/// let chosen = choose_filters(Stops::new(7.42), &filters, Stacking::Any)?;
/// assert_eq!(chosen.places, [0, 2]);
/// assert!((chosen.residual.to_f64() + 0.58).abs() < 1e-12);
/// # Ok::<(), optics::TooManyFilters>(())
/// ```
pub fn choose_filters(
    over: Stops,
    filters: &[Stops],
    stacking: Stacking,
) -> Result<ChosenFilters, TooManyFilters> {
    refuse_too_many(filters)?;
    let mut best = Subset::of(0, over, filters);
    for taken in 1_u32..1 << filters.len() {
        if stacking.allows(taken) {
            let subset = Subset::of(taken, over, filters);
            if subset.is_better_than(best) {
                best = subset;
            }
        }
    }
    let places = (0..filters.len()).filter(|place| best.taken >> place & 1 == 1).collect();
    Ok(ChosenFilters { places, takes: best.takes, residual: over - best.takes })
}

/// The least that filters take which leave nothing too much; none if no set of them takes that much.
///
/// ```text
/// minimise Σ f over the sets with Σ f ≥ over
/// ```
/// `over` and `f` as in [`choose_filters`]. What such a set takes beyond `over`, a higher ISO makes up for.
///
/// # Errors
/// Refuses more than [`MOST_FILTERS`] filters, because the subsets double with each.
///
/// # Source
/// The definition: stops of filters on top of each other add.
///
/// # Examples
/// 7.42 stops too much, with one filter at a time of 2, 6 or 10 stops, take the 10:
/// ```
/// use optics::{Stacking, stronger_filters};
/// use units::Stops;
/// let filters = [2.0, 6.0, 10.0].map(Stops::new);
/// assert_eq!(stronger_filters(Stops::new(7.42), &filters, Stacking::One)?, Some(Stops::new(10.0)));
/// assert_eq!(stronger_filters(Stops::new(7.42), &filters, Stacking::Any)?, Some(Stops::new(8.0)));
/// assert_eq!(stronger_filters(Stops::new(18.1), &filters, Stacking::Any)?, None);
/// # Ok::<(), optics::TooManyFilters>(())
/// ```
pub fn stronger_filters(
    over: Stops,
    filters: &[Stops],
    stacking: Stacking,
) -> Result<Option<Stops>, TooManyFilters> {
    refuse_too_many(filters)?;
    let sets = (1_u32..1 << filters.len()).filter(|taken| stacking.allows(*taken));
    let enough = sets.map(|taken| Subset::of(taken, over, filters)).filter(|set| set.residual <= SAME_STOPS);
    Ok(enough.max_by(|one, other| one.residual.total_cmp(&other.residual)).map(|set| set.takes))
}

const fn refuse_too_many(filters: &[Stops]) -> Result<(), TooManyFilters> {
    if filters.len() > MOST_FILTERS { Err(TooManyFilters { count: filters.len() }) } else { Ok(()) }
}

impl Stacking {
    /// Whether the filters that are the bits of a number may be on together.
    const fn allows(self, taken: u32) -> bool {
        match self {
            Self::One => taken.count_ones() <= 1,
            Self::Any => true,
        }
    }
}

/// Some of the filters, as the bits of a number.
#[derive(Debug, Clone, Copy)]
struct Subset {
    taken: u32,
    takes: Stops,
    residual: f64,
}

impl Subset {
    fn of(taken: u32, over: Stops, filters: &[Stops]) -> Self {
        let on = filters.iter().enumerate().filter(|(place, _)| taken >> place & 1 == 1);
        let takes = on.fold(Stops::ZERO, |sum, (_, filter)| sum + *filter);
        Self { taken, takes, residual: (over - takes).to_f64() }
    }

    fn is_better_than(self, other: Self) -> bool {
        let nearer = other.residual.abs() - self.residual.abs();
        if nearer.abs() > SAME_STOPS {
            return nearer > 0.0;
        }
        let (count, others) = (self.taken.count_ones(), other.taken.count_ones());
        count < others || (count == others && other.residual - self.residual > SAME_STOPS)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::collection::vec;
    use proptest::prelude::*;

    fn chosen(over: f64, filters: &[f64], stacking: Stacking) -> ChosenFilters {
        let filters: Vec<_> = filters.iter().copied().map(Stops::new).collect();
        choose_filters(Stops::new(over), &filters, stacking).expect("few enough")
    }

    #[test]
    fn without_too_much_light_no_filter_helps() {
        for over in [-3.0, 0.0, 0.9] {
            assert_eq!(chosen(over, &[2.0, 3.0], Stacking::Any).places, [0; 0], "{over}");
        }
        assert_eq!(chosen(5.0, &[], Stacking::Any).residual, Stops::new(5.0));
    }

    #[test]
    fn one_filter_is_taken_rather_than_two_of_the_same_sum() {
        // 0.1 + 0.2 is not 0.3 in binary.
        assert_eq!(chosen(0.3, &[0.1, 0.2, 0.3], Stacking::Any).places, [2]);
        assert_eq!(chosen(5.0, &[2.0, 3.0, 5.0], Stacking::Any).places, [2]);
    }

    #[test]
    fn of_two_equally_near_the_stronger_keeps_the_highlights() {
        assert_eq!(chosen(2.5, &[2.0, 3.0], Stacking::Any).places, [1]);
        assert_eq!(chosen(2.5, &[3.0, 2.0], Stacking::Any).places, [0]);
    }

    #[test]
    fn more_than_can_be_tried_are_refused_in_words() {
        let filters = [Stops::new(1.0); 13];
        let error = choose_filters(Stops::new(4.0), &filters, Stacking::Any).expect_err("too many");
        assert_eq!(error.to_string(), "13 filters are not allowed: 0 to 12 filters");
        assert!(choose_filters(Stops::new(4.0), &filters[1..], Stacking::Any).is_ok());
    }

    /// The least distance that any subset leaves and how few filters do it, by taking or leaving each filter in turn.
    fn by_recursion(over: f64, filters: &[f64], most: usize) -> (f64, usize) {
        let leave = match filters {
            [] => return (over.abs(), 0),
            [_, rest @ ..] => by_recursion(over, rest, most),
        };
        if most == 0 {
            return leave;
        }
        let (residual, count) = by_recursion(over - filters[0], &filters[1..], most - 1);
        let nearer = residual < leave.0 - 1e-7 || (residual < leave.0 + 1e-7 && count + 1 < leave.1);
        if nearer { (residual, count + 1) } else { leave }
    }

    /// The least that a set of some filters takes which takes `over`, by taking or leaving each filter in turn.
    fn enough_by_recursion(over: f64, filters: &[f64], most: usize, on: usize) -> Option<f64> {
        let [first, rest @ ..] = filters else { return (on > 0 && over <= 1e-9).then_some(0.0) };
        let leave = enough_by_recursion(over, rest, most, on);
        let take = if on < most { enough_by_recursion(over - first, rest, most, on + 1) } else { None };
        [leave, take.map(|rest| first + rest)].into_iter().flatten().min_by(f64::total_cmp)
    }

    /// Filters as they are sold, in steps of a third, so that sums meet, and whatever else.
    fn filters() -> impl Strategy<Value = Vec<f64>> {
        let sold = (0_u32..=30).prop_map(|thirds| f64::from(thirds) / 3.0);
        vec(prop_oneof![sold, 0.0_f64..=20.0], 0..=9)
    }

    proptest! {
        #[test]
        fn the_choice_is_the_best_of_all_subsets(
            over in prop_oneof![(-60_i32..=90).prop_map(|sixths| f64::from(sixths) / 6.0), -10.0_f64..=30.0],
            filters in filters(),
            one in any::<bool>(),
        ) {
            let ours = chosen(over, &filters, if one { Stacking::One } else { Stacking::Any });
            let (residual, count) = by_recursion(over, &filters, if one { 1 } else { 99 });
            prop_assert!((ours.residual.to_f64().abs() - residual).abs() < 1e-6, "{ours:?} but {residual}");
            prop_assert_eq!(ours.places.len(), count);
            prop_assert!(!one || ours.places.len() <= 1);
        }

        #[test]
        fn what_is_taken_and_what_remains_are_what_was_too_much(over in -10.0_f64..=30.0, filters in filters()) {
            let ours = chosen(over, &filters, Stacking::Any);
            let taken: f64 = ours.places.iter().map(|place| filters[*place]).sum();
            prop_assert!((ours.takes.to_f64() - taken).abs() < 1e-9);
            prop_assert!((ours.residual.to_f64() + taken - over).abs() < 1e-9);
        }

        #[test]
        fn stronger_filters_take_all_that_is_too_much_and_as_little_more_as_can_be(
            over in -10.0_f64..=30.0, filters in filters(), one in any::<bool>(),
        ) {
            let stacking = if one { Stacking::One } else { Stacking::Any };
            let most = if one { 1 } else { 99 };
            let stops: Vec<_> = filters.iter().copied().map(Stops::new).collect();
            let takes = stronger_filters(Stops::new(over), &stops, stacking).expect("few enough");
            let expected = enough_by_recursion(over, &filters, most, 0);
            match (takes, expected) {
                (Some(takes), Some(expected)) => prop_assert!((takes.to_f64() - expected).abs() < 1e-6),
                (takes, expected) => prop_assert_eq!(takes.is_some(), expected.is_some()),
            }
        }

        #[test]
        fn more_light_never_needs_less_filter(
            over in -10.0_f64..=30.0, more in 0.0_f64..=5.0, filters in filters(), one in any::<bool>(),
        ) {
            let stacking = if one { Stacking::One } else { Stacking::Any };
            let (less, more) = (chosen(over, &filters, stacking), chosen(over + more, &filters, stacking));
            prop_assert!(more.takes.to_f64() >= less.takes.to_f64() - 1e-8, "{less:?} {more:?}");
        }
    }
}
