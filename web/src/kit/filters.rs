//! Neutral density filters.

use film::{FilterRecord, RecordError};
use leptos::prelude::*;

use crate::kit::entry::{Entry, plain};
use crate::kit::fold::Fold;
use crate::kit::form::{PartForm, TextField};
use crate::kit::part::{Key, find};
use crate::kit::part_list::{AddFold, PartList};
use crate::session::Session;

/// The section of filters.
#[component]
pub(super) fn Filters(session: Session) -> impl IntoView {
    let count = Memo::new(move |_| Some(session.kit.with(|kit| kit.filters.len())));
    view! {
        <Fold title="Filters" count=count.into()>
            <PartList<FilterRecord> session body=filter_body form=filter_form />
            <AddFold label="Add a filter" content=move |done| filter_form(session, None, done) />
        </Fold>
    }
}

fn filter_body(_: Session, _: &Key, filter: &FilterRecord) -> AnyView {
    view! { <p>{tell(filter)}</p> }.into_any()
}

fn filter_form(session: Session, key: Option<Key>, done: Callback<()>) -> AnyView {
    let before = session.kit.with_untracked(|kit| find::<FilterRecord>(kit, key.as_ref()?));
    let save = if before.is_some() { "Save filter" } else { "Add filter" };
    view! {
        <PartForm
            session
            key=Signal::stored(key)
            entry=entry(before.as_ref())
            read=read
            fields=|form| {
                view! {
                    <div class="kit-fields">
                        <TextField form field="name" label="Name" hint="such as ND8" />
                        <TextField form field="stops" label="Takes" unit="stops" hint="the least, if it can be turned" />
                        <TextField
                            form
                            field="stops_most"
                            label="Turned up, takes"
                            unit="stops"
                            hint="only for one that can be turned"
                        />
                    </div>
                }
                .into_any()
            }
            tell=tell
            save
            done
        />
    }
    .into_any()
}

/// What a filter does: a stop halves the light.
fn tell(filter: &FilterRecord) -> String {
    let factor = |stops: f64| plain(libm::round(libm::exp2(stops)));
    match filter.stops_most {
        Some(most) if most > filter.stops => format!(
            "Takes {} to {} stops: 1/{} to 1/{} of the light gets through.",
            plain(filter.stops),
            plain(most),
            factor(filter.stops),
            factor(most)
        ),
        _ => format!(
            "Takes {} stops: 1/{} of the light gets through.",
            plain(filter.stops),
            factor(filter.stops)
        ),
    }
}

fn entry(filter: Option<&FilterRecord>) -> Entry {
    Entry::default()
        .with("name", filter.and_then(|filter| filter.name.clone()).unwrap_or_default())
        .with_number("stops", filter.map(|filter| filter.stops))
        .with_number("stops_most", filter.and_then(|filter| filter.stops_most))
}

/// The filter that an entry says; its range is checked with the kit.
fn read(entry: &Entry) -> Result<FilterRecord, RecordError> {
    Ok(FilterRecord {
        name: Some(entry.name()?),
        stops: entry.needed("stops", "3 for a filter that lets an eighth of the light through")?,
        stops_most: entry.number("stops_most")?,
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
        let filter = FilterRecord { name: Some("x".to_owned()), stops: 5.0, stops_most: Some(2.0) };
        let error = put(&crate::session::first_kit(), None, filter).expect_err("less than the least");
        assert_eq!(error.path, "filters[0].stops_most");
    }
}
