//! A row of numbers of which one is taken: those that are offered, and the film's own if it is none of them.

use leptos::prelude::*;

use crate::widgets::NamedChoices;

/// Two numbers that are nearer to each other than this are told alike, so they are one choice.
const ALIKE: f64 = 5e-4;

/// The row.
#[component]
pub(super) fn NumberChoices(
    /// What is chosen here.
    legend: &'static str,
    /// What is offered, from the least to the most.
    offered: &'static [f64],
    /// What a number is called.
    name: fn(f64) -> String,
    /// The one that is taken.
    chosen: Signal<f64>,
    /// Takes another.
    #[prop(into)]
    choose: Callback<f64>,
) -> impl IntoView {
    let numbers = Memo::new(move |_| with_own(offered, chosen.get()));
    let at =
        move || numbers.with(|numbers| numbers.iter().position(|number| is_alike(*number, chosen.get())));
    view! {
        <NamedChoices
            legend=legend
            choices=Memo::new(move |_| numbers.get().into_iter().map(name).enumerate().collect())
            chosen=Signal::derive(at)
            choose=move |at: usize| {
                if let Some(number) = numbers.with_untracked(|numbers| numbers.get(at).copied()) {
                    choose.run(number);
                }
            }
        />
    }
}

/// The numbers that are offered, with one's own in its place among them.
fn with_own(offered: &[f64], own: f64) -> Vec<f64> {
    let mut numbers = offered.to_vec();
    if !offered.iter().any(|number| is_alike(*number, own)) {
        let at = offered.iter().take_while(|number| **number < own).count();
        numbers.insert(at, own);
    }
    numbers
}

fn is_alike(one: f64, other: f64) -> bool {
    (one - other).abs() < ALIKE
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_of_ones_own_stands_in_its_place() {
        assert_eq!(with_own(&[50.0, 60.0], 16.7), [16.7, 50.0, 60.0]);
        assert_eq!(with_own(&[50.0, 60.0], 400.0), [50.0, 60.0, 400.0]);
        assert_eq!(with_own(&[24.0, 25.0, 60.0], 48.0), [24.0, 25.0, 48.0, 60.0]);
    }

    #[test]
    fn what_is_offered_is_not_offered_twice() {
        assert_eq!(with_own(&[23.976, 24.0], 24_000.0 / 1001.0), [23.976, 24.0]);
        assert_eq!(with_own(&[50.0, 60.0], 60.0), [50.0, 60.0]);
    }
}
