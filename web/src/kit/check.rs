//! Check a lens in a minute: something of known width across the frame gives the mode's true field of view.

use film::{Kit, LensRecord, RecordError, RecordingRecord, ViewRecord};
use language::{say, text};
use leptos::prelude::*;

use crate::kit::entry::Entry;
use crate::kit::explanations::MEASURED_VIEW;
use crate::kit::fold::Fold;
use crate::kit::form::{Form, FormBox, SelectField, TextField};
use crate::kit::part::{Key, Part, keys, names, put};
use crate::kit::part_list::PartList;
use crate::kit::view_entry::{OWN_THING, THINGS, entry, is_stepped, read};
use crate::kit::view_words::{angle, check_words, kept, replaced_words};
use crate::session::Session;
use crate::story::words::sentence_of;
use crate::widgets::{Choice, Choices, explained};

/// The section: how to, the form, and the views that were kept.
#[component]
pub(super) fn CheckLens(session: Session) -> impl IntoView {
    view! {
        <Fold title=say!("Check a lens in a minute") wide_open=true>
            <p>
                {say!("Video shows less than photos do. In your camera app choose the mode you will shoot and one \
                       lens, look straight at something of known width, and walk until it just fills the frame from \
                       side to side. Then measure from the lens to it.")}
            </p>
            <CheckForm session />
            <PartList<ViewRecord> session body=view_body />
        </Fold>
    }
}

/// A view that was kept.
fn view_body(session: Session, _: &Key, view: &ViewRecord) -> AnyView {
    let at = view.at_m;
    let seen = angle(&kept(view));
    let measured = move || match at.map(|metres| units::Length::from_m(metres).told(session.unit(), 2)) {
        Some(at) => say!("{seen} across, measured from {at}."),
        None => say!("{seen} across, measured."),
    };
    let (lens, recording) = (view.lens.clone(), view.recording.clone());
    let replaces =
        move || session.owned.with(|kit: &std::sync::Arc<Kit>| replaced_words(kit, &lens, &recording, at));
    view! {
        <p>{measured}</p>
        <p class="quiet">{replaces}</p>
    }
    .into_any()
}

#[component]
fn CheckForm(session: Session) -> impl IntoView {
    let begun = session.kit.with_untracked(entry);
    let typed = RwSignal::new(begun);
    let looked = Memo::new(move |_| typed.with(|entry| read(entry, session.unit(), session.step())));
    let problem: Signal<Option<RecordError>> =
        Signal::derive(move || looked.with(|looked| looked.as_ref().err().cloned()));
    let form = Form::new(typed, problem);
    let lines = move || {
        let line = |line: String| view! { <li>{line}</li> };
        looked.with(|looked| {
            let looked = looked.as_ref().ok()?;
            Some(session.owned.with(|kit| check_words(kit, looked)).into_iter().map(line).collect_view())
        })
    };
    let refused = RwSignal::new(None::<RecordError>);
    let keep = move || {
        form.ask();
        let Ok(looked) = looked.get_untracked() else { return };
        match session.kit.with_untracked(|kit| keep_view(kit, looked.to_record())) {
            Ok(kit) => {
                session.kit.set(kit);
                refused.set(None);
            }
            Err(error) => refused.set(Some(error)),
        }
    };
    view! {
        <FormBox send=move |()| keep()>
            <div class="kit-fields">
                <SelectField form field="lens" label=say!("Lens") options={named::<LensRecord>(session)} />
                <SelectField form field="recording" label=say!("Mode") options={named::<RecordingRecord>(session)} />
            </div>
            <ThingFields session form />
            <DistanceFields session form />
            <ul class="kit-line" aria-live="polite">{lines}</ul>
            <div class="quiet">{explained(say!("How it is measured"), &MEASURED_VIEW)}</div>
            {move || refused.get().map(|error| view! { <p class="problem" role="alert">{sentence_of(&error.to_string())}</p> })}
            <div class="kit-buttons">
                <button type="submit" class="kit-do">{say!("Keep as this mode's view")}</button>
            </div>
        </FormBox>
    }
}

/// What is looked at and how much of the frame it fills.
#[component]
fn ThingFields(session: Session, form: Form) -> impl IntoView {
    view! {
        <div class="kit-fields">
            <ThingField session form label=say!("Across the frame") />
            <TextField
                form
                field="share"
                label=say!("It fills")
                unit="%"
                hint=say!("of the frame's width; 100 is edge to edge")
            />
        </div>
    }
}

/// A thing of known width, or one whose width is typed.
#[component]
pub(super) fn ThingField(session: Session, form: Form, label: &'static str) -> impl IntoView {
    let known = THINGS.map(|(value, name, _)| (value.to_owned(), text(name).to_owned()));
    let own = (OWN_THING.to_owned(), say!("something else").to_owned());
    let things = Signal::stored(known.into_iter().chain([own]).collect::<Vec<_>>());
    let is_own = Memo::new(move |_| form.entry.with(|entry| entry.text("thing") == OWN_THING));
    let sign = move || session.unit().sign();
    view! {
        <SelectField form field="thing" label=label options=things />
        {move || is_own.get().then(|| view! {
            <TextField form field="width_m" label=say!("Its width") unit=sign() hint=say!("or with its unit: 120 cm") />
        })}
    }
}

/// How far away it is, and how that was found.
#[component]
fn DistanceFields(session: Session, form: Form) -> impl IntoView {
    let stepped = Memo::new(move |_| form.entry.with(is_stepped));
    let ways = [Choice::new(false, say!("taped")), Choice::new(true, say!("stepped"))];
    let choose = move |stepped: bool| {
        let how = if stepped { "stepped" } else { "taped" };
        form.entry.update(|entry: &mut Entry| entry.set("how", how.to_owned()));
    };
    let steps_hint = move || {
        say!(
            "of {}; each is off by about a tenth of itself, so n steps by a tenth of a step times √n",
            session.step().told(session.unit(), 2)
        )
    };
    let field = move || {
        if stepped.get() {
            view! {
                <TextField
                    form
                    field="steps"
                    label=say!("From the lens to it")
                    unit=say!("steps")
                    hint=Signal::derive(steps_hint)
                />
            }
            .into_any()
        } else {
            let sign = session.unit().sign();
            view! {
                <TextField
                    form
                    field="distance_m"
                    label=say!("From the lens to it")
                    unit=sign
                    hint=say!("taken as good to 0.01 m (half an inch)")
                />
            }
            .into_any()
        }
    };
    view! {
        <Choices legend=say!("Distance") choices=ways chosen=Signal::from(stepped) choose />
        {field}
    }
}

/// The names of a kind's parts, each as what the form holds and what it shows.
pub(super) fn named<T: Part>(session: Session) -> Signal<Vec<(String, String)>> {
    let pairs = move |_: Option<&Vec<(String, String)>>| {
        session.kit.with(names::<T>).into_iter().map(|name| (name.clone(), name)).collect()
    };
    Memo::new(pairs).into()
}

/// The kit with the view, in the place of an earlier one of the same lens and mode.
pub(super) fn keep_view(kit: &film::KitRecord, record: ViewRecord) -> Result<film::KitRecord, RecordError> {
    let name = record.shown_name(0);
    let key = keys::<ViewRecord>(kit).into_iter().find(|key| key.name == name);
    put(kit, key.as_ref(), record)
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::{Length, LengthUnit};

    #[test]
    fn a_second_check_takes_the_place_of_the_first() {
        let kit = crate::session::first_kit();
        let looked = |distance: &str| {
            let typed = entry(&kit).with("distance_m", distance);
            read(&typed, LengthUnit::Metres, Length::from_m(0.75)).expect("a view").to_record()
        };
        let once = keep_view(&kit, looked("0.7")).expect("a kit");
        let twice = keep_view(&once, looked("0.8")).expect("a kit");
        assert_eq!((once.views.len(), twice.views.len()), (1, 1));
        assert!(twice.views[0].horizontal_fov_deg < once.views[0].horizontal_fov_deg, "{twice:?}");
    }
}
