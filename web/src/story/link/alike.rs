//! Whether two plans, or the same part of each, say the same.

use serde::Serialize;
use serde_json::Value;

use crate::session::Plan;

/// Numbers nearer to each other than this, in metres, degrees or shares, say the same: chosen a hundred times above what
/// turning them round and back again can add up to, and far below what anybody could see.
const SAME: f64 = 1.0e-7;

/// Whether two numbers say the same.
pub(super) fn same(one: f64, other: f64) -> bool {
    (one - other).abs() <= SAME * one.abs().max(1.0)
}

/// Whether two values are written alike, but for the last digits of their numbers.
pub(super) fn alike<Part: Serialize>(one: &Part, other: &Part) -> bool {
    match (serde_json::to_value(one), serde_json::to_value(other)) {
        (Ok(one), Ok(other)) => same_values(&one, &other),
        // What cannot be written cannot be kept either.
        (Err(_), Err(_)) => true,
        (Ok(_), Err(_)) | (Err(_), Ok(_)) => false,
    }
}

fn same_values(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => match (one.as_f64(), other.as_f64()) {
            // Whole numbers are names here, and names differ or do not.
            (Some(here), Some(there)) if one.is_f64() && other.is_f64() => same(here, there),
            _ => one == other,
        },
        (Value::Array(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| same_values(one, other))
        }
        (Value::Object(one), Value::Object(other)) => {
            one.len() == other.len()
                && one
                    .iter()
                    .all(|(name, value)| other.get(name).is_some_and(|other| same_values(value, other)))
        }
        (
            Value::Null
            | Value::Bool(_)
            | Value::Number(_)
            | Value::String(_)
            | Value::Array(_)
            | Value::Object(_),
            _,
        ) => one == other,
    }
}

/// Two plans, and what of them was found to differ.
pub(super) struct Differences<'plan> {
    pub(super) before: &'plan Plan,
    pub(super) after: &'plan Plan,
    found: Vec<&'static str>,
}

impl<'plan> Differences<'plan> {
    pub(super) const fn between(before: &'plan Plan, after: &'plan Plan) -> Self {
        Self { before, after, found: Vec::new() }
    }

    /// What a part is after, if it is another than before; `what` is its name in plain English words, which are said
    /// later.
    pub(super) fn of<Part: Serialize>(
        &mut self,
        what: &'static str,
        read: impl Fn(&'plan Plan) -> Part,
    ) -> Option<Part> {
        let after = read(self.after);
        if alike(&read(self.before), &after) {
            return None;
        }
        self.note(what);
        Some(after)
    }

    /// Says that something differs which was not found by itself.
    pub(super) fn note(&mut self, what: &'static str) {
        if !self.found.contains(&what) {
            self.found.push(what);
        }
    }

    /// The one thing that differs; none if there are several.
    pub(super) fn only(&self) -> Option<&'static str> {
        match self.found.as_slice() {
            [what] => Some(what),
            [] | [_, _, ..] => None,
        }
    }
}

#[cfg(test)]
mod check {
    use super::*;

    #[test]
    fn last_digits_are_no_difference_and_names_are() {
        assert!(alike(&(0.1 + 0.2), &0.3));
        assert!(!alike(&0.3, &0.3001));
        assert!(alike(&Some([1.0, 2.0]), &Some([1.0, 2.0 + 1e-12])));
        assert!(!alike(&9_007_199_254_740_990_u64, &9_007_199_254_740_991_u64));
        assert!(!alike(&Some("main"), &None));
    }

    #[test]
    fn what_differs_is_named_if_it_is_one_thing() {
        let before = Plan::first();
        let mut after = before.clone();
        after.phone_bearing_deg += 3.0;
        after.shot.stand_at_m = Some(2.0);
        let mut differences = Differences::between(&before, &after);
        assert_eq!(differences.of("place", |plan| plan.phone_bearing_deg), Some(183.0));
        assert_eq!(differences.of("place", |plan| plan.shot.stand_at_m), Some(Some(2.0)));
        assert_eq!(differences.only(), Some("place"));
        assert_eq!(differences.of("lens", |plan| &plan.lens), None);
        differences.note("light");
        assert_eq!(differences.only(), None);
    }
}
