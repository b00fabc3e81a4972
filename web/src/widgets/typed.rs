//! Fields that are typed in: what cannot be used is told beside it and stays as it was typed.

use std::sync::atomic::{AtomicUsize, Ordering};

use film::fixed;
use language::{Number, say};
use leptos::prelude::*;

use super::fields::{shown_once, until_rewritten};
use super::live;

/// An id that no other element of the module has, to tie a label or a message to its field.
pub(crate) fn new_id() -> String {
    static NEXT: AtomicUsize = AtomicUsize::new(0);
    format!("typed-{}", NEXT.fetch_add(1, Ordering::Relaxed))
}

/// A text that stands for something else: it is shown in one spelling and taken in many.
#[component]
pub(crate) fn TypedField(
    /// What it is.
    #[prop(into)]
    label: String,
    /// A word of help.
    #[prop(optional)]
    hint: &'static str,
    /// The unit of a bare number.
    #[prop(optional)]
    unit: &'static str,
    /// The keys that a phone offers: `decimal` has neither minus nor slash.
    #[prop(default = "text")]
    keys: &'static str,
    /// As it is.
    shown: Signal<String>,
    /// Takes what was typed, or says why it cannot be used.
    #[prop(into)]
    take: Callback<String, Result<(), String>>,
) -> impl IntoView {
    let shown = shown_once(shown);
    let refused = RwSignal::new(String::new());
    let problem = until_rewritten(refused, shown);
    let (id, note) = (new_id(), new_id());
    let taken = move |input: web_sys::HtmlInputElement| match take.run(input.value()) {
        Ok(()) => {
            refused.set(String::new());
            // Another spelling of what is there already changes nothing that the page would follow.
            input.set_value(&shown.get_untracked());
        }
        Err(why) => refused.set(why),
    };
    view! {
        <div class="field">
            <label class="quiet" for=id.clone()>{label}</label>
            <span class="entry">
                <input
                    id=id
                    type="text"
                    inputmode=keys
                    autocomplete="off"
                    prop:value=shown
                    aria-describedby=note.clone()
                    aria-invalid=move || (!problem.with(String::is_empty)).then_some("true")
                    on:change:target=move |event| taken(event.target())
                />
                {(!unit.is_empty()).then(|| view! { <span class="unit">{unit}</span> })}
            </span>
            <span id=note>
                {(!hint.is_empty()).then(|| view! { <span class="quiet">{hint}" "</span> })}
                <Show when=move || !problem.with(String::is_empty)>
                    <span class="problem" role="alert">{problem}</span>
                </Show>
            </span>
        </div>
    }
}

/// A number that may be left out.
#[component]
pub(crate) fn NumberField(
    /// What it is.
    #[prop(into)]
    label: String,
    /// A word of help.
    #[prop(optional)]
    hint: &'static str,
    /// Its unit.
    unit: &'static str,
    /// The least and the most.
    range: (f64, f64),
    /// Whether it counts something.
    #[prop(optional)]
    whole: bool,
    /// The number; none where the field is empty.
    value: Signal<Option<f64>>,
    /// Sets it; called only with numbers in range.
    #[prop(into)]
    set: Callback<Option<f64>>,
) -> impl IntoView {
    let shown = live(move || value.get().map_or_else(String::new, plain));
    // What is shown may have fewer digits than what is there, which an untouched field keeps.
    let take = move |text: String| {
        let number = parse_number(&text, unit, range)?;
        if whole && number.is_some_and(|number| number.fract().abs() > 0.0) {
            return Err(say!("“{text}” is not a whole number"));
        }
        if text != shown.get_untracked() {
            set.run(number);
        }
        Ok(())
    };
    let keys = if range.0 < 0.0 { "text" } else { "decimal" };
    view! { <TypedField label hint unit keys shown take /> }
}

/// A number for people, with two digits after its decimal mark at the most.
pub(crate) fn plain(number: f64) -> String {
    Number(fixed(number, 2).trim_end_matches('0').trim_end_matches('.')).to_string()
}

/// The number that a text says, nothing if it is empty, or what is wrong with it.
pub(crate) fn parse_number(text: &str, unit: &str, (min, max): (f64, f64)) -> Result<Option<f64>, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let bare = text.strip_suffix(unit).or_else(|| text.strip_prefix(unit)).unwrap_or(text);
    let number = bare.trim().replace(',', ".").replace('−', "-").parse::<f64>().ok();
    let Some(number) = number.filter(|number| number.is_finite()) else {
        return Err(say!("“{text}” is not a number"));
    };
    if (min..=max).contains(&number) {
        return Ok(Some(number));
    }
    let (typed, least) = (text, plain(min));
    let most = if unit.is_empty() { plain(max) } else { format!("{} {unit}", plain(max)) };
    Err(say!("“{typed}” is not allowed: {least} to {most}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_taken_with_a_comma_and_with_its_unit() {
        for text in ["5600", " 5600 K", "5600K", "5600,0"] {
            assert_eq!(parse_number(text, "K", (1500.0, 15_000.0)), Ok(Some(5600.0)), "{text}");
        }
        assert_eq!(parse_number("EV −2,5", "EV", (-10.0, 25.0)), Ok(Some(-2.5)));
        assert_eq!(parse_number("  ", "K", (1500.0, 15_000.0)), Ok(None));
    }

    #[test]
    fn what_cannot_be_used_is_told_with_the_range() {
        let refused = |text| parse_number(text, "K", (1500.0, 15_000.0)).expect_err("no white balance");
        assert_eq!(refused("warm"), "“warm” is not a number");
        assert_eq!(refused("inf"), "“inf” is not a number");
        assert_eq!(refused("15000.001"), "“15000.001” is not allowed: 1500 to 15000 K");
        let iso = parse_number("0", "", (1.0, 1e6)).expect_err("no sensitivity");
        assert_eq!(iso, "“0” is not allowed: 1 to 1000000");
    }

    #[test]
    fn a_number_has_no_tail_of_digits() {
        assert_eq!([11.3, 5600.0, -0.001, 9.387].map(plain), ["11.3", "5600", "0", "9.39"]);
    }
}
