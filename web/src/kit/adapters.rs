//! Clip-on adapters.

use film::{AdapterRecord, AxisRecord, ClearViewRecord, DesqueezeRecord, LensRecord, RecordError};
use language::{Number, say};
use leptos::prelude::*;
use optics::Origin;

use crate::kit::entry::{Entry, shown};
use crate::kit::explanations::{CLEAR, SQUEEZE, TAKES_LIGHT};
use crate::kit::fold::Fold;
use crate::kit::form::{CheckField, Form, NamesField, PartForm, SelectField, TextField};
use crate::kit::part::{Key, find, free_name, names, put};
use crate::kit::part_list::{AddFold, PartList};
use crate::session::Session;
use crate::widgets::explained;

/// The section of adapters.
#[component]
pub(super) fn Adapters(session: Session) -> impl IntoView {
    let count = Memo::new(move |_| Some(session.kit.with(|kit| kit.adapters.len())));
    view! {
        <Fold title=say!("Adapters") count=count.into()>
            <PartList<AdapterRecord> session body=adapter_body form=adapter_form />
            <AddFold label=say!("Add an adapter") content=move |done| view! { <AddAdapter session done /> }.into_any() />
        </Fold>
    }
}

/// The usual adapters, one tap each, and a form for another.
#[component]
fn AddAdapter(session: Session, done: Callback<()>) -> impl IntoView {
    let usual = film::adapters().into_iter().map(|adapter| {
        let label = adapter.name.clone().unwrap_or_default();
        let add = move |_| {
            let added = session.kit.with_untracked(|kit| {
                let name = free_name::<AdapterRecord>(kit, adapter.name.as_deref().unwrap_or("adapter"));
                put(kit, None, AdapterRecord { name: Some(name), ..adapter.clone() })
            });
            // A preset is in range and its name is free, so there is nothing to refuse.
            if let Ok(kit) = added {
                session.kit.set(kit);
                done.run(());
            }
        };
        view! { <button type="button" on:click=add>{label}</button> }
    });
    view! {
        <p class="quiet">{say!("Typical ones:")}</p>
        <div class="kit-buttons">{usual.collect_view()}</div>
        <p class="quiet">{say!("Or your own:")}</p>
        {adapter_form(session, None, done)}
    }
}

fn adapter_body(_: Session, _: &Key, adapter: &AdapterRecord) -> AnyView {
    let fits = adapter.fits.as_ref().map_or_else(|| say!("every lens").to_owned(), |fits| listed(fits));
    view! {
        <dl class="kit-figures">
            <div><dt>{explained(say!("Squeeze"), &SQUEEZE)}</dt><dd>{squeeze_words(adapter)}</dd></div>
            <div><dt>{say!("Focus")}</dt><dd>{focus_words(adapter)}</dd></div>
            <div>
                <dt>{explained(say!("Takes light"), &TAKES_LIGHT)}</dt>
                <dd>{say!("{} stops", shown(adapter.light_loss_stops.unwrap_or(0.0)))}</dd>
            </div>
            <div><dt>{say!("Fits")}</dt><dd>{fits}</dd></div>
            {(!adapter.vignettes.is_empty()).then(|| view! {
                <div><dt>{say!("Darkens the corners of")}</dt><dd>{listed(&adapter.vignettes)}</dd></div>
            })}
            {(!adapter.clear_views.is_empty()).then(|| view! {
                <div><dt>{explained(say!("Clear, as measured"), &CLEAR)}</dt><dd>{clear_words(&adapter.clear_views)}</dd></div>
            })}
            <div><dt>{say!("Phone upright, squeezes")}</dt><dd>{upright_words(adapter.axis_when_upright)}</dd></div>
        </dl>
    }
    .into_any()
}

/// The squeeze that counts, and the one that it is sold with where another was measured.
fn squeeze_words(adapter: &AdapterRecord) -> String {
    let sold = shown(adapter.squeeze);
    let Some(measured) = adapter.measured_squeeze else { return format!("{sold}x") };
    // As the core assumes where nothing is said.
    let usual = Origin::Measured.suggested_relative_sd() * measured;
    let measured = measured_words(measured, adapter.measured_squeeze_sd.unwrap_or(usual));
    say!("{measured}, measured; sold as {sold}x")
}

/// A measured squeeze with its uncertainty: to the third digit after the point, because the second is what it is sold by.
pub(super) fn measured_words(squeeze: f64, sd: f64) -> String {
    format!("{} ± {}", Number(format_args!("{squeeze:.3}")), Number(format_args!("{sd:.3}")))
}

/// How far out lenses are clear through it.
fn clear_words(views: &[ClearViewRecord]) -> String {
    let one = |view: &ClearViewRecord| {
        let reach = if view.clear_share >= 1.0 {
            say!("to the corners").to_owned()
        } else {
            say!("to {:.0} % of the way to a corner", view.clear_share * 100.0)
        };
        say!("{} in {}: {reach}", view.lens, view.recording)
    };
    views.iter().map(one).collect::<Vec<_>>().join("; ")
}

fn focus_words(adapter: &AdapterRecord) -> &'static str {
    if matches!(adapter.focusing, Some(true)) { say!("has its own ring") } else { say!("cannot be focused") }
}

fn upright_words(axis: Option<AxisRecord>) -> &'static str {
    match axis {
        None | Some(AxisRecord::Width) => say!("the width"),
        Some(AxisRecord::Height) => say!("the height"),
    }
}

fn listed(names: &[String]) -> String {
    if names.is_empty() { say!("no lens").to_owned() } else { names.join(", ") }
}

fn adapter_form(session: Session, key: Option<Key>, done: Callback<()>) -> AnyView {
    let before = session.kit.with_untracked(|kit| find::<AdapterRecord>(kit, key.as_ref()?));
    let is_new = before.is_none();
    let begun = entry(before.as_ref());
    let mut lenses = session.kit.with_untracked(names::<LensRecord>);
    // Lenses that the adapter knows by name and the kit has no more keep their ticks within reach.
    let known = before.iter().flat_map(|adapter| adapter.fits.iter().flatten().chain(&adapter.vignettes));
    for name in known {
        if !lenses.contains(name) {
            lenses.push(name.clone());
        }
    }
    view! {
        <PartForm
            session
            key=Signal::stored(key)
            entry=begun
            read=move |entry| read(entry, before.as_ref())
            fields=move |form| view! { <AdapterFields form lenses /> }.into_any()
            tell=tell
            save=if is_new { say!("Add adapter") } else { say!("Save adapter") }
            done
        />
    }
    .into_any()
}

#[component]
fn AdapterFields(form: Form, lenses: Vec<String>) -> impl IntoView {
    let pairs = |pairs: [(&str, &str); 2]| {
        Signal::stored(pairs.map(|(value, name)| (value.to_owned(), name.to_owned())).to_vec())
    };
    let axes = pairs([
        ("width", say!("the width: it is turned with the picture")),
        ("height", say!("the height: it stays as clipped on")),
    ]);
    let ways = pairs([("stretch", say!("stretch the width")), ("shrink", say!("shrink the height"))]);
    let fits_some = Memo::new(move |_| !form.entry.with(|entry| entry.flag(FITS_ALL)));
    let fit_names = lenses.clone();
    view! {
        <div class="kit-fields">
            <TextField form field="name" label=say!("Name") />
            <TextField form field="squeeze" label=say!("Squeeze") unit="x" hint=say!("such as 1.33") />
            <TextField
                form
                field="light_loss_stops"
                label=say!("Takes light")
                unit=say!("stops")
                hint=say!("0.3 for most clip-ons")
            />
            <TextField
                form
                field="measured_squeeze"
                label=say!("Measured squeeze")
                unit="x"
                hint=say!("counts if there is one; empty forgets it")
            />
        </div>
        <CheckField form field="focusing" label=say!("It has a focus ring of its own") />
        <CheckField form field=FITS_ALL label=say!("It fits every lens") />
        {move || fits_some.get().then(|| view! {
            <NamesField form field="fits" legend=say!("It fits") names=fit_names.clone() />
        })}
        <NamesField form field="vignettes" legend=say!("It darkens the corners of") names=lenses />
        <div class="kit-fields">
            <SelectField form field="axis_when_upright" label=say!("Phone upright, it squeezes") options=axes />
            <SelectField form field="desqueeze" label=say!("To bring the picture back to shape") options=ways />
        </div>
    }
}

/// The form's own field for an adapter that names no lenses.
const FITS_ALL: &str = "fits_all";

fn tell(adapter: &AdapterRecord) -> String {
    let seen = (adapter.measured_squeeze.unwrap_or(adapter.squeeze) - 1.0) * 100.0;
    let focus = match adapter.focusing {
        Some(true) => "",
        None | Some(false) => say!(", and near subjects go soft sideways, because it cannot be focused"),
    };
    say!("Sees {seen:.0} % more width{focus}.")
}

fn entry(adapter: Option<&AdapterRecord>) -> Entry {
    let tick = |ticked: bool| if ticked { "yes" } else { "" };
    let axis = match adapter.and_then(|adapter| adapter.axis_when_upright) {
        None | Some(AxisRecord::Width) => "width",
        Some(AxisRecord::Height) => "height",
    };
    let desqueeze = match adapter.and_then(|adapter| adapter.desqueeze) {
        None | Some(DesqueezeRecord::Stretch) => "stretch",
        Some(DesqueezeRecord::Shrink) => "shrink",
    };
    let fits = adapter.and_then(|adapter| adapter.fits.as_ref());
    Entry::default()
        .with("name", adapter.and_then(|adapter| adapter.name.clone()).unwrap_or_default())
        .with_number("squeeze", adapter.map(|adapter| adapter.squeeze))
        .with_number("measured_squeeze", adapter.and_then(|adapter| adapter.measured_squeeze))
        .with_number("light_loss_stops", adapter.and_then(|adapter| adapter.light_loss_stops))
        .with("focusing", tick(adapter.and_then(|adapter| adapter.focusing).unwrap_or(false)))
        .with(FITS_ALL, tick(fits.is_none()))
        .with("fits", fits.map(|fits| fits.join("\n")).unwrap_or_default())
        .with("vignettes", adapter.map(|adapter| adapter.vignettes.join("\n")).unwrap_or_default())
        .with("axis_when_upright", axis)
        .with("desqueeze", desqueeze)
}

/// The adapter that an entry says. What the form shows as it was stays as the file had it, said or left to the default.
fn read(entry: &Entry, before: Option<&AdapterRecord>) -> Result<AdapterRecord, RecordError> {
    let shown = self::entry(before);
    let kept = |field: &str| before.is_some() && shown.text(field) == entry.text(field);
    let axis = match entry.text("axis_when_upright") {
        "height" => AxisRecord::Height,
        _ => AxisRecord::Width,
    };
    let desqueeze = match entry.text("desqueeze") {
        "shrink" => DesqueezeRecord::Shrink,
        _ => DesqueezeRecord::Stretch,
    };
    let was = |field: &str| before.filter(|_| kept(field));
    let adapter = AdapterRecord {
        name: Some(entry.name()?),
        source: before.and_then(|adapter| adapter.source.clone()).filter(|_| kept("squeeze")),
        squeeze: entry.needed("squeeze", say!("how many times more it sees, such as 1.33"))?,
        measured_squeeze: was("measured_squeeze")
            .map_or_else(|| entry.number("measured_squeeze"), |adapter| Ok(adapter.measured_squeeze))?,
        // Of another squeeze it is not known.
        measured_squeeze_sd: was("measured_squeeze").and_then(|adapter| adapter.measured_squeeze_sd),
        focusing: was("focusing").map_or_else(|| Some(entry.flag("focusing")), |adapter| adapter.focusing),
        light_loss_stops: entry.number("light_loss_stops")?,
        axis_when_upright: was("axis_when_upright").map_or(Some(axis), |adapter| adapter.axis_when_upright),
        desqueeze: was("desqueeze").map_or(Some(desqueeze), |adapter| adapter.desqueeze),
        fits: (!entry.flag(FITS_ALL)).then(|| entry.ticked("fits")),
        vignettes: entry.ticked("vignettes"),
        // What was measured on it stays, whatever is typed.
        clear_views: before.map_or_else(Vec::new, |adapter| adapter.clear_views.clone()),
    };
    adapter.to_kit_adapter(String::new())?;
    Ok(adapter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_untouched_adapter_is_the_same() {
        for adapter in film::adapters() {
            assert_eq!(read(&entry(Some(&adapter)), Some(&adapter)), Ok(adapter));
        }
    }

    #[test]
    fn what_was_measured_stays_until_it_is_taken_out() {
        let measured = AdapterRecord {
            measured_squeeze: Some(1.297_31),
            measured_squeeze_sd: Some(0.004),
            clear_views: vec![ClearViewRecord {
                lens: "main".to_owned(),
                recording: "4K".to_owned(),
                clear_share: 0.834,
            }],
            ..film::adapters()[0].clone()
        };
        let typed = entry(Some(&measured)).with("light_loss_stops", "0.4");
        let changed = read(&typed, Some(&measured)).expect("an adapter");
        assert_eq!(changed, AdapterRecord { light_loss_stops: Some(0.4), ..measured.clone() });
        assert!(squeeze_words(&changed).starts_with("1.297 ± 0.004, measured; sold as "));
        assert_eq!(clear_words(&changed.clear_views), "main in 4K: to 83 % of the way to a corner");
        let forgotten = read(&typed.with("measured_squeeze", ""), Some(&measured)).expect("an adapter");
        assert_eq!((forgotten.measured_squeeze, forgotten.measured_squeeze_sd), (None, None));
    }

    #[test]
    fn a_new_adapter_needs_its_squeeze() {
        let typed = entry(None).with("name", "mine");
        assert_eq!(read(&typed, None).expect_err("no squeeze").path, "squeeze");
        let adapter = read(&typed.with("squeeze", "1,5").with(FITS_ALL, ""), None).expect("an adapter");
        assert_eq!((adapter.squeeze.to_bits(), adapter.fits), (1.5_f64.to_bits(), Some(Vec::new())));
    }

    #[test]
    fn light_beyond_reason_is_refused_at_its_field() {
        let typed = entry(None).with("name", "mine").with("squeeze", "1.5").with("light_loss_stops", "9");
        assert_eq!(
            read(&typed, None).expect_err("too dark").to_string(),
            "light_loss_stops: 9 stops is not allowed: 0 to 5 stops"
        );
    }
}
