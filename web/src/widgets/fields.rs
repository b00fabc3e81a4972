//! Fields for lengths and for values that are stepped.

use language::say;
use leptos::prelude::*;
use units::{Length, LengthUnit};

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
    let problem = RwSignal::new(String::new());
    let shown = move || say!("{:.2}", Length::from_m(value.get()).to(unit.get()));
    let read = move |text: String| match parse_length(&text, unit.get_untracked(), range) {
        Ok(metres) => {
            problem.set(String::new());
            set.run(metres);
        }
        Err(message) => problem.set(message),
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <span class="entry">
                <input
                    type="text"
                    inputmode="decimal"
                    autocomplete="off"
                    prop:value=live(shown)
                    aria-invalid=move || (!problem.with(String::is_empty)).then_some("true")
                    on:change:target=move |event| read(event.target().value())
                />
                <span class="unit">{live(move || unit.get().sign().to_owned())}</span>
            </span>
            {(!hint.is_empty()).then(|| view! { <span class="quiet">{hint}</span> })}
            <Show when=move || !problem.with(String::is_empty)>
                <span class="problem" role="alert">{problem}</span>
            </Show>
        </label>
    }
}

/// The metres that a text says, or what is wrong with it.
fn parse_length(text: &str, unit: LengthUnit, (min, max): (f64, f64)) -> Result<f64, String> {
    let bare = text.trim().replace(',', ".").parse::<f64>().is_ok();
    let text = if bare { format!("{} {}", text.trim(), unit.sign()) } else { text.to_owned() };
    let length: Length = text.parse().map_err(|error: units::QuantityError| error.to_string())?;
    if (min..=max).contains(&length.to_m()) {
        return Ok(length.to_m());
    }
    let told = |metres: f64| say!("{:.2} {}", Length::from_m(metres).to(unit), unit.sign());
    Err(say!("{} is not allowed: {} to {}", told(length.to_m()), told(min), told(max)))
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
    fn a_length_out_of_range_says_what_is_allowed() {
        let error = parse_length("17", LengthUnit::Metres, (0.4, 2.8)).expect_err("too tall");
        assert_eq!(error, "17.00 m is not allowed: 0.40 m to 2.80 m");
    }
}
