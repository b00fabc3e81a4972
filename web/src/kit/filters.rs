//! Neutral density filters.

use film::{AdapterRecord, FilterRecord, KitRecord, LensRecord, RecordError};
use language::say;
use leptos::prelude::*;

use crate::kit::entry::{Entry, plain, shown};
use crate::kit::fold::Fold;
use crate::kit::form::{CheckField, Form, NamesField, PartForm, SelectField, TextField};
use crate::kit::part::{Key, find, names};
use crate::kit::part_list::{AddFold, PartList};
use crate::session::Session;

/// The section of filters.
#[component]
pub(super) fn Filters(session: Session) -> impl IntoView {
    let count = Memo::new(move |_| Some(session.kit.with(|kit| kit.filters.len())));
    view! {
        <Fold title=say!("Filters") count=count.into()>
            <PartList<FilterRecord> session body=filter_body form=filter_form />
            <AddFold label=say!("Add a filter") content=move |done| filter_form(session, None, done) />
        </Fold>
    }
}

fn filter_body(_: Session, _: &Key, filter: &FilterRecord) -> AnyView {
    let fits = match &filter.fits {
        None => say!("every lens and adapter").to_owned(),
        Some(fits) if fits.is_empty() => say!("nothing").to_owned(),
        Some(fits) => fits.join(", "),
    };
    view! {
        <p>{tell(filter)}</p>
        <dl class="kit-figures">
            <div><dt>{say!("In front of")}</dt><dd>{fits}</dd></div>
            <div>
                <dt>{say!("On top of others")}</dt>
                <dd>{if goes_on_others(filter) { say!("yes") } else { say!("no") }}</dd>
            </div>
        </dl>
    }
    .into_any()
}

/// Whether a filter goes on top of others: as it says, or as is usual.
fn goes_on_others(filter: &FilterRecord) -> bool {
    filter.stacks.unwrap_or(filter.stops_most.is_none_or(|most| most <= filter.stops))
}

/// What a filter can go in front of: the kit's lenses and adapters, and those that only the filter knows by name, which keep
/// their ticks within reach.
fn foremost(kit: &KitRecord, filter: Option<&FilterRecord>) -> Vec<String> {
    let own = filter.into_iter().flat_map(|filter| filter.fits.iter().flatten().cloned());
    let all = names::<LensRecord>(kit).into_iter().chain(names::<AdapterRecord>(kit)).chain(own);
    all.fold(Vec::new(), |mut known, name| {
        if !known.contains(&name) {
            known.push(name);
        }
        known
    })
}

fn filter_form(session: Session, key: Option<Key>, done: Callback<()>) -> AnyView {
    let before = session.kit.with_untracked(|kit| find::<FilterRecord>(kit, key.as_ref()?));
    let save = if before.is_some() { say!("Save filter") } else { say!("Add filter") };
    let foremost = session.kit.with_untracked(|kit| foremost(kit, before.as_ref()));
    view! {
        <PartForm
            session
            key=Signal::stored(key)
            entry=entry(before.as_ref())
            read=read
            fields=move |form| view! { <FilterFields form foremost /> }.into_any()
            tell=tell
            save
            done
        />
    }
    .into_any()
}

#[component]
fn FilterFields(form: Form, foremost: Vec<String>) -> impl IntoView {
    let fits_some = Memo::new(move |_| !form.entry.with(|entry| entry.flag(FITS_ALL)));
    let usual = Memo::new(move |_| {
        // A filter that is half typed cannot be turned yet.
        form.entry.with(|entry| matches!(entry.number("stops_most"), Ok(None) | Err(_)))
    });
    let on_others = Signal::derive(move || {
        let usual =
            if usual.get() { say!("as usual: yes") } else { say!("as usual: no, because it can be turned") };
        [(AS_USUAL, usual), (YES, say!("yes")), (NO, say!("no"))]
            .map(|(value, name)| (value.to_owned(), name.to_owned()))
            .to_vec()
    });
    view! {
        <div class="kit-fields">
            <TextField form field="name" label=say!("Name") hint=say!("such as ND8") />
            <TextField
                form
                field="stops"
                label=say!(in "light", "Takes")
                unit=say!("stops")
                hint=say!("the least, if it can be turned")
            />
            <TextField
                form
                field="stops_most"
                label=say!("Turned up, takes")
                unit=say!("stops")
                hint=say!("only for one that can be turned")
            />
        </div>
        <CheckField form field=FITS_ALL label=say!("It goes in front of every lens and adapter") />
        {move || fits_some.get().then(|| view! {
            <NamesField form field="fits" legend=say!("It goes in front of") names=foremost.clone() />
        })}
        <div class="kit-fields">
            <SelectField form field="stacks" label=say!("It goes on top of others") options=on_others />
        </div>
    }
}

/// The form's own field for a filter that names neither lenses nor adapters.
const FITS_ALL: &str = "fits_all";
/// What is said of a filter on top of others.
const AS_USUAL: &str = "";
const YES: &str = "yes";
const NO: &str = "no";

/// What a filter does: a stop halves the light.
fn tell(filter: &FilterRecord) -> String {
    let factor = |stops: f64| plain(libm::round(libm::exp2(stops)));
    match filter.stops_most {
        Some(most) if most > filter.stops => say!(
            "Takes {} to {} stops: 1/{} to 1/{} of the light gets through.",
            shown(filter.stops),
            shown(most),
            factor(filter.stops),
            factor(most)
        ),
        _ => {
            say!("Takes {} stops: 1/{} of the light gets through.", shown(filter.stops), factor(filter.stops))
        }
    }
}

fn entry(filter: Option<&FilterRecord>) -> Entry {
    let fits = filter.and_then(|filter| filter.fits.as_ref());
    let stacks = match filter.and_then(|filter| filter.stacks) {
        None => AS_USUAL,
        Some(true) => YES,
        Some(false) => NO,
    };
    Entry::default()
        .with("name", filter.and_then(|filter| filter.name.clone()).unwrap_or_default())
        .with_number("stops", filter.map(|filter| filter.stops))
        .with_number("stops_most", filter.and_then(|filter| filter.stops_most))
        .with(FITS_ALL, if fits.is_none() { YES } else { "" })
        .with("fits", fits.map(|fits| fits.join("\n")).unwrap_or_default())
        .with("stacks", stacks)
}

/// The filter that an entry says; its range is checked with the kit.
fn read(entry: &Entry) -> Result<FilterRecord, RecordError> {
    Ok(FilterRecord {
        name: Some(entry.name()?),
        stops: entry.needed("stops", say!("3 for a filter that lets an eighth of the light through"))?,
        stops_most: entry.number("stops_most")?,
        fits: (!entry.flag(FITS_ALL)).then(|| entry.ticked("fits")),
        stacks: match entry.text("stacks") {
            YES => Some(true),
            NO => Some(false),
            _ => None,
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::part::put;

    #[test]
    fn a_filter_says_how_much_light_gets_through() {
        let typed = entry(None).with("name", "ND8").with("stops", "3");
        let filter = read(&typed).expect("a filter");
        assert_eq!(tell(&filter), "Takes 3 stops: 1/8 of the light gets through.");
        let turned = read(&typed.with("stops_most", "6")).expect("a filter");
        assert_eq!(tell(&turned), "Takes 3 to 6 stops: 1/8 to 1/64 of the light gets through.");
    }

    #[test]
    fn a_range_that_goes_down_is_refused() {
        let filter = FilterRecord {
            name: Some("x".to_owned()),
            stops: 5.0,
            stops_most: Some(2.0),
            fits: None,
            stacks: None,
        };
        let error = put(&crate::session::first_kit(), None, filter).expect_err("less than the least");
        assert_eq!(error.path, "filters[0].stops_most");
    }

    #[test]
    fn an_untouched_filter_is_the_same() {
        let fits = [None, Some(Vec::new()), Some(vec!["main".to_owned(), "gone long ago".to_owned()])];
        for (fits, stacks) in fits.into_iter().zip([None, Some(true), Some(false)]) {
            let filter =
                FilterRecord { name: Some("ND8".to_owned()), stops: 3.0, stops_most: None, fits, stacks };
            assert_eq!(read(&entry(Some(&filter))), Ok(filter));
        }
    }

    #[test]
    fn a_new_filter_goes_everywhere_and_on_others_unless_it_can_be_turned() {
        let typed = entry(None).with("name", "ND").with("stops", "2");
        let filter = read(&typed).expect("a filter");
        assert_eq!((&filter.fits, filter.stacks), (&None, None));
        assert!(goes_on_others(&filter), "{filter:?}");
        let turned = read(&typed.with("stops_most", "5")).expect("a filter");
        assert!(!goes_on_others(&turned), "{turned:?}");
        // What the card says is what the core makes of it.
        for filter in [filter, turned] {
            let kit = put(&crate::session::first_kit(), None, filter.clone()).expect("a kit");
            let made = kit.to_kit().expect("a kit").filters.swap_remove(0);
            assert_eq!(made.stacking == optics::Stacking::Any, goes_on_others(&filter), "{filter:?}");
        }
    }

    #[test]
    fn what_the_filter_knows_and_the_kit_has_no_more_can_still_be_ticked_away() {
        let kit = crate::session::first_kit();
        let fits = Some(vec!["main".to_owned(), "gone".to_owned()]);
        let filter = FilterRecord { name: None, stops: 1.0, stops_most: None, fits, stacks: None };
        let named = foremost(&kit, Some(&filter));
        assert_eq!(named.len(), kit.lenses.len() + kit.adapters.len() + 1, "{named:?}");
        assert_eq!(named.last().map(String::as_str), Some("gone"));
    }
}
