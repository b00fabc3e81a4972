//! Fields for lengths and for values that are stepped.

use language::say;
use leptos::prelude::*;
use units::{Length, LengthUnit, QuantityError};

use super::live;

/// A length as text: `1.88`, `188 cm` and `6'2"` are all taken; a bare number is in the unit shown.
#[component]
pub(crate) fn LengthField(
    /// What it is.
    #[prop(into)]
    label: String,
    /// A word of help.
    #[prop(optional)]
    hint: &'static str,
    /// The least and the most, in metres.
    range: (f64, f64),
    /// The unit that is shown and that a bare number has.
    unit: Signal<LengthUnit>,
    /// The length in metres.
    value: Signal<f64>,
    /// Sets it; called only with lengths in range.
    #[prop(into)]
    set: Callback<f64>,
) -> impl IntoView {
    let shown = shown_once(Signal::derive(move || Length::from_m(value.get()).in_field(unit.get())));
    let refused = RwSignal::new(String::new());
    let problem = until_rewritten(refused, shown);
    let read = move |input: web_sys::HtmlInputElement| {
        match parse_length(&input.value(), unit.get_untracked(), range) {
            Ok(metres) => {
                refused.set(String::new());
                set.run(metres);
                // Another spelling of what is there already changes nothing that the page would follow.
                input.set_value(&shown.get_untracked());
            }
            Err(why) => refused.set(why),
        }
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <span class="entry">
                <input
                    type="text"
                    // A phone's keys for numbers have no mark for feet.
                    inputmode=move || if unit.get() == LengthUnit::Feet { "text" } else { "decimal" }
                    autocomplete="off"
                    prop:value=shown
                    aria-invalid=move || (!problem.with(String::is_empty)).then_some("true")
                    on:change:target=move |event| read(event.target())
                />
                <span class="unit">{live(move || unit.get().beside_field().to_owned())}</span>
            </span>
            {(!hint.is_empty()).then(|| view! { <span class="quiet">{hint}</span> })}
            <Show when=move || !problem.with(String::is_empty)>
                <span class="problem" role="alert">{problem}</span>
            </Show>
        </label>
    }
}

/// What a field shows, told only when it is another text: so what is typed stays while other things change.
pub(super) fn shown_once(text: Signal<String>) -> Signal<String> {
    Memo::new(move |_| text.get()).into()
}

/// Why what was typed last cannot be used, until the field shows something else.
pub(super) fn until_rewritten(refused: RwSignal<String>, shown: Signal<String>) -> Signal<String> {
    let told = Memo::new(move |_| {
        // Read, as nothing is told of a value that nobody has asked for.
        shown.with(|_| ());
        refused.track();
        // Taken, so that it is not told again where the field comes to show once more what it showed then.
        refused.try_update_untracked(std::mem::take).unwrap_or_default()
    });
    told.into()
}

/// The metres that a text says, or what is wrong with it.
pub(crate) fn parse_length(text: &str, unit: LengthUnit, (min, max): (f64, f64)) -> Result<f64, String> {
    let typed = text.trim();
    let bare = typed.replace(',', ".").parse::<f64>().ok().filter(|number| number.is_finite());
    let told = |metres: f64| Length::from_m(metres).told(unit, 2);
    let (least, most) = (told(min), told(max));
    // A bare number is written out, which may have been typed as 1e3.
    let text = bare.map_or_else(|| typed.to_owned(), |number| format!("{number} {}", unit.sign()));
    match text.parse::<Length>() {
        Ok(length) if (min..=max).contains(&length.to_m()) => return Ok(length.to_m()),
        Ok(_) | Err(QuantityError::OutOfRange { .. }) => {}
        Err(QuantityError::Empty) => return Err(say!("needed: {least} to {most}")),
        Err(why) => return Err(why.to_string()),
    }
    let why = say!("“{typed}” is not allowed: {least} to {most}");
    let is_in_cm = bare.is_some_and(|number| (min..=max).contains(&(number / 100.0)));
    Err(if is_in_cm { say!("{why}; for centimetres write {typed} cm") } else { why })
}

/// A value with a slider and two buttons: every drag on a canvas has one of these beside it.
#[component]
pub(crate) fn StepField(
    /// What it is.
    #[prop(into)]
    label: String,
    /// The least and the most.
    range: (f64, f64),
    /// One step of the buttons and of the arrow keys.
    step: f64,
    /// The value.
    value: Signal<f64>,
    /// The value in words.
    #[prop(into)]
    words: Callback<f64, String>,
    /// Sets it; called only within range.
    #[prop(into)]
    set: Callback<f64>,
) -> impl IntoView {
    let (min, max) = range;
    let moved = move |by: f64| set.run((value.get_untracked() + by).clamp(min, max));
    let (less, more) = (say!("{label}: less"), say!("{label}: more"));
    view! {
        <div class="step-field">
            <div class="step-value">
                <span aria-hidden="true">{label.clone()}</span>
                <output>{live(move || words.run(value.get()))}</output>
                <input
                    type="range"
                    min=min
                    max=max
                    step=step
                    // Not a label element around it: that would name the output, its first part that can be named.
                    aria-label=label
                    prop:value=live(move || value.get().to_string())
                    aria-valuetext=live(move || words.run(value.get()))
                    on:input:target=move |event| {
                        let chosen = event.target().value_as_number();
                        if chosen.is_finite() {
                            set.run(chosen.clamp(min, max));
                        }
                    }
                />
            </div>
            <button type="button" aria-label=less on:click=move |_| moved(-step)>
                "−"
            </button>
            <button type="button" aria-label=more on:click=move |_| moved(step)>
                "+"
            </button>
        </div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bare_number_has_the_unit_that_is_shown() {
        let feet = parse_length("6", LengthUnit::Feet, (0.5, 3.0)).expect("six feet");
        assert!((feet - 1.8288).abs() < 1e-9, "{feet}");
        let metres = parse_length("1,75", LengthUnit::Metres, (0.5, 3.0)).expect("a metre seventy-five");
        assert!((metres - 1.75).abs() < 1e-12, "{metres}");
    }

    #[test]
    fn what_is_wrong_is_told_until_the_field_shows_something_else() {
        Owner::new().with(|| {
            let text = RwSignal::new("1.66".to_owned());
            let shown = shown_once(text.into());
            let refused = RwSignal::new(String::new());
            let told = until_rewritten(refused, shown);
            assert_eq!(told.get_untracked(), "");
            refused.set("no height".to_owned());
            // The same is shown once more while something else changes.
            text.set("1.66".to_owned());
            assert_eq!(told.get_untracked(), "no height");
            for shows in ["1.22", "1.66"] {
                text.set(shows.to_owned());
                assert_eq!(told.get_untracked(), "", "{shows}");
            }
        });
    }

    fn refused(text: &str) -> String {
        parse_length(text, LengthUnit::Metres, (0.4, 2.8)).expect_err("nobody is so tall")
    }

    #[test]
    fn what_cannot_be_used_is_told_as_it_was_typed_with_what_is_allowed() {
        for text in ["17", "-5", "99999999", "1e9", "17 m", "9999999 m"] {
            assert_eq!(refused(text), format!("“{text}” is not allowed: 0.40 m to 2.80 m"));
        }
        assert_eq!(refused("  "), "needed: 0.40 m to 2.80 m");
        for text in ["tall", "inf", "1 yard"] {
            assert!(refused(text).contains(text.trim_start_matches("1 ")), "{}", refused(text));
        }
    }

    #[test]
    fn who_may_mean_centimetres_is_told_how_to_say_so() {
        assert!(refused("172").ends_with("2.80 m; for centimetres write 172 cm"), "{}", refused("172"));
        assert!(!refused("17").contains("centimetres") && !refused("172 m").contains("centimetres"));
        let feet = parse_length("172", LengthUnit::Feet, (0.4, 2.8)).expect_err("no giant");
        assert!(feet.ends_with("; for centimetres write 172 cm"), "{feet}");
    }
}
