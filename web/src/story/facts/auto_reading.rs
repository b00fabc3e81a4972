//! The light as the camera app shows it on auto: its exposure time and its ISO through a lens of the kit.

use film::Kit;
use language::{Number, say};
use leptos::prelude::*;
use optics::{ExposureTime, ExposureValue, FNumber, Iso};

use super::Facts;
use super::lit::LIGHT_EV;
use crate::exposure_text::{parse_time, told_time};
use crate::story::explanations::READING;
use crate::widgets::{TypedField, label_and_text, live, parse_number, plain, when};

/// What an app shows as ISO, as the core takes it.
const ISO: (f64, f64) = (1.0, 1e6);

/// A fold with the three, and what they come to.
#[component]
pub(super) fn AutoReading(facts: Facts, set_ev: Callback<Option<f64>>) -> impl IntoView {
    let is_open = RwSignal::new(false);
    view! {
        <details class="fold" on:toggle:target=move |event| is_open.set(event.target().open())>
            <summary>{say!("Or as the app shows it on auto")}</summary>
            {when(move || is_open.get(), move || view! { <Reading facts set_ev /> }.into_any())}
        </details>
    }
}

#[component]
fn Reading(facts: Facts, set_ev: Callback<Option<f64>>) -> impl IntoView {
    let lenses = Memo::new(move |_| {
        facts.desk.film.with(|film| film.as_ref().map(|film| open_lenses(&film.kit)).unwrap_or_default())
    });
    let lens = RwSignal::new(0_usize);
    let time = RwSignal::new(None::<ExposureTime>);
    let iso = RwSignal::new(None::<f64>);
    // What cannot be read leaves no reading, whatever was typed before.
    let (time_is_wrong, iso_is_wrong) = (RwSignal::new(false), RwSignal::new(false));
    let ev = Memo::new(move |_| {
        if time_is_wrong.get() || iso_is_wrong.get() {
            return None;
        }
        let f_number = lenses.with(|lenses| lenses.get(lens.get()).map(|(_, f_number)| *f_number))?;
        Some(light_read(f_number, time.get()?, iso.get()?))
    });
    let line = live(move || match ev.get() {
        None => say!("Type the time and the ISO that it shows.").to_owned(),
        Some(Ok(ev)) => say!("That is EV {} at ISO 100.", Number(plain(ev))),
        Some(Err(why)) => why,
    });
    let options = move || {
        let lenses = lenses.get().into_iter().enumerate();
        let option = |(at, (name, f_number)): (usize, (String, FNumber))| {
            let name = format!("{name}, f/{}", Number(plain(f_number.to_f64())));
            view! { <option value=at.to_string() prop:selected=move || lens.get() == at>{name}</option> }
        };
        lenses.map(option).collect_view()
    };
    let take_time = move |text: String| {
        let read = if text.trim().is_empty() { Ok(None) } else { parse_time(&text).map(Some) };
        time_is_wrong.set(read.is_err());
        time.set(read?);
        Ok(())
    };
    let take_iso = move |text: String| {
        let read = parse_number(&text, "", ISO);
        iso_is_wrong.set(read.is_err());
        iso.set(read?);
        Ok(())
    };
    let take = move |_| {
        if let Some(Ok(ev)) = ev.get_untracked() {
            set_ev.run(Some(ev));
        }
    };
    let nothing = move || {
        let words = say!("No lens of the kit has an f-number: give it one on the Kit screen.");
        lenses.with(Vec::is_empty).then(|| view! { <p class="quiet">{words}</p> })
    };
    let fields = when(
        move || lenses.with(|lenses| !lenses.is_empty()),
        move || {
            let (label, explanation) = label_and_text(line, &READING);
            view! {
                <div class="steps">
                    <p class="quiet">
                        {say!("Point it at what matters, without filter or adapter, and read what it shows.")}
                    </p>
                    <label class="field">
                        <span>{say!("Lens that it is read through")}</span>
                        <select on:change:target=move |event| lens.set(event.target().value().parse().unwrap_or(0))>
                            {options}
                        </select>
                    </label>
                    <TypedField
                        label=say!("Exposure time that it shows")
                        hint=say!("such as 1/120")
                        shown=live(move || time.get().map_or_else(String::new, told_time))
                        take=take_time
                    />
                    <TypedField
                        label=say!("ISO that it shows")
                        keys="decimal"
                        shown=live(move || iso.get().map_or_else(String::new, plain))
                        take=take_iso
                    />
                    <p role="status">{label}</p>
                    {explanation}
                    // Always there: whoever leaves the last field by a key comes to it.
                    <p>
                        <button
                            type="button"
                            class="next"
                            aria-disabled=move || (!matches!(ev.get(), Some(Ok(_)))).then_some("true")
                            on:click=take
                        >
                            {say!("Use this reading")}
                        </button>
                    </p>
                </div>
            }
            .into_any()
        },
    );
    (nothing, fields)
}

/// The kit's lenses of which the f-number is known, by name.
fn open_lenses(kit: &Kit) -> Vec<(String, FNumber)> {
    kit.lenses
        .iter()
        .filter_map(|lens| Some((lens.name.clone(), lens.lens.f_number.as_ref()?.value)))
        .collect()
}

/// How much light a camera on auto has found, in EV at ISO 100.
///
/// ```text
/// EV100 = log2(N² / t) − log2(S / 100)
/// ```
/// `N` f-number, `t` exposure time in seconds, `S` ISO, as the app shows them; within what films hold as light.
///
/// # Source
/// `Cipa2019`, annex C; [`ExposureValue`] computes it.
fn light_read(f_number: FNumber, time: ExposureTime, iso: f64) -> Result<f64, String> {
    let iso = Iso::new(iso).map_err(|error| error.to_string())?;
    let ev = ExposureValue::of_camera(f_number, time).at_iso_100(iso).to_f64();
    let (least, most) = LIGHT_EV;
    if (least..=most).contains(&ev) {
        Ok(ev)
    } else {
        Err(say!("That is EV {} at ISO 100, which no place has: {least} to {most}.", Number(plain(ev))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(f_number: f64, time: &str, iso: f64) -> Result<f64, String> {
        let f_number = FNumber::new(f_number).map_err(|error| error.to_string())?;
        light_read(f_number, parse_time(time)?, iso)
    }

    #[test]
    fn what_an_app_shows_becomes_light_at_iso_100() {
        // By hand: log2(2² · 64) = 8, and ISO 400 is two stops above 100.
        assert!((read(2.0, "1/64", 400.0).expect("light") - 6.0).abs() < 1e-12);
        // By hand: log2(1.78² · 1000) = 11.630 and ISO 50 is one stop below 100.
        assert!((read(1.78, "1/1000", 50.0).expect("light") - 12.630).abs() < 2e-3);
    }

    #[test]
    fn light_that_no_place_has_is_refused() {
        let refused = read(1.8, "60 s", 1e6).expect_err("darker than any night");
        assert!(refused.contains("-10 to 25"), "{refused}");
        assert!(read(1.8, "1/60", 0.0).is_err());
    }

    #[test]
    fn only_lenses_with_an_f_number_can_be_read_through() {
        let mut record = crate::session::first_kit();
        let all = record.lenses.len();
        record.lenses[0].f_number = None;
        let kit = record.to_kit().expect("a kit");
        assert_eq!(open_lenses(&kit).len(), all - 1);
    }
}
