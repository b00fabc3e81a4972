//! One list from two that share some of their items.

use std::collections::{BTreeMap, BTreeSet};

/// The base with those of the other list that it does not have and that are wanted, each after whatever of the base it
/// follows in the other list.
///
/// So each list keeps its own order, as far as the two do not contradict each other.
pub(super) fn woven<Item: Copy, Key: Ord + Copy>(
    base: &[Item],
    other: &[Item],
    key: impl Fn(&Item) -> Key,
    is_wanted: impl Fn(&Item) -> bool,
) -> Vec<Item> {
    let in_base: BTreeSet<Key> = base.iter().map(&key).collect();
    let mut followers: BTreeMap<Option<Key>, Vec<Item>> = BTreeMap::new();
    let mut after = None;
    for item in other {
        if in_base.contains(&key(item)) {
            after = Some(key(item));
        } else if is_wanted(item) {
            followers.entry(after).or_default().push(*item);
        }
    }
    let mut all = followers.remove(&None).unwrap_or_default();
    for item in base {
        all.push(*item);
        all.extend(followers.remove(&Some(key(item))).unwrap_or_default());
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn assert_woven(base: &str, other: &str, expected: &str) {
        let letters = |text: &str| text.chars().collect::<Vec<_>>();
        let all = woven(&letters(base), &letters(other), |letter| *letter, |letter| *letter != '-');
        assert_eq!(all.into_iter().collect::<String>(), expected, "{base} with {other}");
    }

    #[test]
    fn what_is_new_comes_after_what_it_follows() {
        assert_woven("abc", "axbyc", "axbyc");
        assert_woven("abc", "xabc", "xabc");
        assert_woven("amb", "axyb", "axymb");
        assert_woven("", "xy", "xy");
        assert_woven("ab", "", "ab");
    }

    #[test]
    fn the_base_keeps_its_order_and_what_is_not_wanted_stays_away() {
        assert_woven("cba", "axbyc", "cbyax");
        assert_woven("ab", "a-xb", "axb");
    }
}
