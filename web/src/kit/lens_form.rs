//! The form of a lens: how it is known, and the values that this needs.

use film::{KitRecord, LensRecord};
use language::{say, text};
use leptos::prelude::*;
use units::LengthUnit;

use crate::kit::displaced::Displaced;
use crate::kit::form::{Form, PartForm, TextField};
use crate::kit::lens_entry::{KNOWN_BY, KnownBy, entry, left_empty, read, what_works};
use crate::kit::part::{Key, find, stand_in};
use crate::session::Session;
use crate::widgets::{Choice, Choices};

/// The form that changes a lens, adds one, or confirms what a file tells of one.
#[component]
pub(super) fn LensForm(
    session: Session,
    /// The lens whose place it takes; a new one if none.
    #[prop(into)]
    target: Signal<Option<Key>>,
    /// What the fields begin with, and what untouched ones keep to the last digit.
    before: LensRecord,
    /// Whether the values are folded away, because they are all there.
    is_folded: bool,
    /// What the button says.
    save: &'static str,
    /// Called when it is done.
    done: Callback<()>,
    /// Where the lens is kept that it takes the place of, unless that is the lens itself.
    #[prop(optional)]
    displaced: Option<RwSignal<Option<Displaced>>>,
) -> impl IntoView {
    // A bare number keeps the unit that it was shown with, whatever the menu says meanwhile.
    let unit = untrack(move || session.unit().near());
    let begun = entry(&before, unit);
    let saved = Callback::new(move |before: KitRecord| {
        if let Some(displaced) = displaced {
            displaced.set(session.kit.with_untracked(|now| Displaced::of(&before, now)));
        }
    });
    view! {
        <PartForm
            session
            key=target
            entry=begun
            read=move |entry| read(entry, &before, unit)
            fields=move |form| {
                view! {
                    <LensFields form distance_unit=unit.sign() is_folded />
                    {displaced.map(|_| view! { <TakesPlace session form target unit /> })}
                }
                .into_any()
            }
            tell=what_works
            save
            done
            saved
        />
    }
}

/// Which lens of the kit has to make way, and what is known of that one and is still empty here.
#[component]
fn TakesPlace(session: Session, form: Form, target: Signal<Option<Key>>, unit: LengthUnit) -> impl IntoView {
    let other = Memo::new(move |_| {
        let name = form.entry.with(|entry| entry.text("name").to_owned());
        session.kit.with(|kit| {
            let key = target.get().or_else(|| stand_in::<LensRecord>(kit, &name))?;
            let lens: LensRecord = find(kit, &key)?;
            Some((key.name, lens))
        })
    });
    let empty = Memo::new(move |_| {
        let Some((_, lens)) = other.get() else { return Vec::new() };
        form.entry.with(|entry| left_empty(entry, &lens, unit))
    });
    let take_over = move |_| {
        let fields = empty.get_untracked();
        form.entry.update(|entry| fields.into_iter().for_each(|(field, _, text)| entry.set(field, text)));
    };
    let offer = move || {
        let names: Vec<&str> = empty.with(|empty| empty.iter().map(|(_, name, _)| text(name)).collect());
        (!names.is_empty()).then(|| {
            view! {
                <span class="quiet">{say!("Still empty here, and known of that one: {}.", names.join("; "))}</span>
                <button type="button" on:click=take_over>{say!("Take these over")}</button>
            }
        })
    };
    let line = move || {
        other.get().map(|(name, _)| {
            view! {
                <div class="kit-removed">
                    <span>{say!("This takes the place of the {name} that the kit has.")}</span>
                    {offer}
                </div>
            }
        })
    };
    view! { <div role="status">{line}</div> }
}

#[component]
fn LensFields(form: Form, distance_unit: &'static str, is_folded: bool) -> impl IntoView {
    let by = Memo::new(move |_| form.entry.with(KnownBy::of));
    let ways = [
        Choice::new(KnownBy::Equivalent, say!("focal length and 35 mm-equivalent")),
        Choice::new(KnownBy::Sensor, say!("focal length and sensor size")),
        Choice::new(KnownBy::EquivalentAlone, say!("35 mm-equivalent alone")),
    ];
    let known = move || {
        let focal = (by.get() != KnownBy::EquivalentAlone).then(|| {
            view! {
                <TextField
                    form
                    field="focal_length_mm"
                    label=say!("Focal length")
                    unit="mm"
                    hint=say!("the real one, a few millimetres: in a photo's details")
                />
            }
        });
        let size = if by.get() == KnownBy::Sensor {
            view! {
                <TextField form field="sensor_width_mm" label=say!("Sensor, longer side") unit="mm" />
                <TextField form field="sensor_height_mm" label=say!("Sensor, shorter side") unit="mm" />
            }
            .into_any()
        } else {
            view! {
                <TextField
                    form
                    field="focal_length_35mm_equivalent_mm"
                    label=say!("35 mm-equivalent")
                    unit="mm"
                    hint=say!("of a whole photo, without zoom: 24 or so for the main lens")
                />
            }
            .into_any()
        };
        (focal, size)
    };
    let values = view! {
        <Choices
            legend=say!("Known by")
            choices=ways
            chosen=Signal::from(by)
            choose=move |by: KnownBy| form.entry.update(|entry| entry.set(KNOWN_BY, by.text().to_owned()))
        />
        <div class="kit-fields">
            {known}
            <TextField form field="f_number" label=say!("f-number") hint=say!("such as 1.8") />
            <TextField
                form
                field="closes_to_f_number"
                label=say!("Closes to f/")
                hint=say!("leave it if it cannot close; nearly no phone's can")
            />
            <TextField
                form
                field="iso_floor"
                label=say!("Lowest ISO")
                hint=say!("where the app's slider ends; leave it if you do not know")
            />
            <TextField
                form
                field="closest_focus_m"
                label=say!("Focuses from")
                unit=distance_unit
                hint=say!("the nearest that gets sharp; may be left empty")
            />
            <TextField
                form
                field="in_sensor_zooms"
                label=say!("Zooms from the sensor's middle")
                hint=say!("such as 2; blanks between several")
            />
        </div>
    };
    let values = if is_folded {
        view! {
            <details class="fold kit-values">
                <summary>{say!("All values")}</summary>
                {values}
            </details>
        }
        .into_any()
    } else {
        values.into_any()
    };
    view! {
        <TextField form field="name" label=say!("Name") hint=say!("What you call it: main, long") />
        {values}
    }
}
