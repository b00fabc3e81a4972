//! The recording modes of the camera app.

use film::{RecordError, RecordingRecord};
use language::{key, say, text};
use leptos::prelude::*;

use crate::kit::entry::{Entry, plain, shown};
use crate::kit::fold::Fold;
use crate::kit::form::{Form, PartForm, TextField};
use crate::kit::part::{Key, find};
use crate::kit::part_list::{AddFold, PartList};
use crate::session::Session;

/// Sizes that phones offer, in pixels.
const SIZES: [(&str, &str, &str); 4] = [
    ("HD", "1280", "720"),
    ("Full HD", "1920", "1080"),
    ("4K", "3840", "2160"),
    (key!("4K upright"), "2160", "3840"),
];

/// The section of recording modes.
#[component]
pub(super) fn Recordings(session: Session) -> impl IntoView {
    let count = Memo::new(move |_| Some(session.kit.with(|kit| kit.recordings.len())));
    view! {
        <Fold title=say!("Recording modes") count=count.into() wide_open=true>
            <p class="quiet">
                {say!("Video is cropped differently from photos. The stabiliser's crop here is a guess until you check \
                       a lens.")}
            </p>
            <PartList<RecordingRecord> session body=recording_body form=recording_form />
            <AddFold label=say!("Add a mode") content=move |done| recording_form(session, None, done) />
        </Fold>
    }
}

fn recording_body(_: Session, _: &Key, mode: &RecordingRecord) -> AnyView {
    let rates: Vec<_> = mode.frame_rates_fps.iter().map(|fps| shown(*fps)).collect();
    view! {
        <dl class="kit-figures">
            <div><dt>{say!("Size")}</dt><dd>{format!("{} × {} px", mode.width_px, mode.height_px)}</dd></div>
            {(!rates.is_empty()).then(|| view! {
                <div><dt>{say!("Frame rates")}</dt><dd>{format!("{} fps", rates.join(", "))}</dd></div>
            })}
            <div><dt>{say!("Stabiliser")}</dt><dd>{stabiliser_words(mode)}</dd></div>
            {mode.iso_floor.map(|floor| view! { <div><dt>{say!("Lowest ISO")}</dt><dd>{shown(floor)}</dd></div> })}
        </dl>
    }
    .into_any()
}

/// What the stabiliser takes, in words.
fn stabiliser_words(mode: &RecordingRecord) -> String {
    match mode.stabiliser_crop {
        Some(crop) if crop > 1.0 => {
            say!("crops {}x, so {:.0} % less width", shown(crop), (1.0 - 1.0 / crop) * 100.0)
        }
        _ => say!("crops nothing").to_owned(),
    }
}

fn recording_form(session: Session, key: Option<Key>, done: Callback<()>) -> AnyView {
    let before = session.kit.with_untracked(|kit| find::<RecordingRecord>(kit, key.as_ref()?));
    let is_new = before.is_none();
    let begun = entry(before.as_ref());
    view! {
        <PartForm
            session
            key=Signal::stored(key)
            entry=begun
            read=move |entry| read(entry, before.as_ref())
            fields=move |form| view! { <RecordingFields form is_new /> }.into_any()
            tell=stabiliser_line
            save=if is_new { say!("Add mode") } else { say!("Save mode") }
            done
        />
    }
    .into_any()
}

#[component]
fn RecordingFields(form: Form, is_new: bool) -> impl IntoView {
    // A size that is picked is put into fields that begin with it, so these are made anew with each.
    let picked = RwSignal::new(0);
    let sizes = SIZES.map(|(name, width, height)| {
        let name = text(name);
        let pick = move |_| {
            form.entry.update(|entry| {
                if entry.text("name").is_empty() {
                    entry.set("name", name.to_owned());
                }
                entry.set("width_px", width.to_owned());
                entry.set("height_px", height.to_owned());
            });
            picked.update(|times| *times += 1);
        };
        view! { <button type="button" on:click=pick>{name}</button> }
    });
    let size_fields = move || {
        picked.track();
        view! {
            <TextField form field="name" label=say!("Name") hint=say!("What you call it: 4K") />
            <TextField form field="width_px" label=say!("Width") unit="px" />
            <TextField
                form
                field="height_px"
                label=say!("Height")
                unit="px"
                hint=say!("more than the width if upright")
            />
        }
    };
    view! {
        {is_new.then(|| view! { <div class="kit-buttons" role="group" aria-label=say!("Usual sizes")>{sizes.collect_view()}</div> })}
        <div class="kit-fields">
            {size_fields}
            <TextField
                form
                field="frame_rates_fps"
                label=say!("Frame rates")
                unit="fps"
                hint=say!("blanks between several")
            />
            <TextField
                form
                field="stabiliser_crop"
                label=say!("Stabiliser crop")
                unit="x"
                hint=say!("1 takes nothing, 1.1 a tenth; leave it if you do not know")
            />
            <TextField
                form
                field="iso_floor"
                label=say!("Lowest ISO")
                hint=say!("only if the mode does not go as low as the lens")
            />
        </div>
    }
}

fn stabiliser_line(mode: &RecordingRecord) -> String {
    say!("{} × {} px; the stabiliser {}.", mode.width_px, mode.height_px, stabiliser_words(mode))
}

fn entry(mode: Option<&RecordingRecord>) -> Entry {
    let rates = mode.map_or(&[][..], |mode| &mode.frame_rates_fps).iter().map(|fps| plain(*fps));
    let pixels = |side: Option<u32>| side.map_or_else(String::new, |side| side.to_string());
    Entry::default()
        .with("name", mode.and_then(|mode| mode.name.clone()).unwrap_or_default())
        .with("width_px", pixels(mode.map(|mode| mode.width_px)))
        .with("height_px", pixels(mode.map(|mode| mode.height_px)))
        .with("frame_rates_fps", rates.collect::<Vec<_>>().join(" "))
        .with_number("stabiliser_crop", mode.and_then(|mode| mode.stabiliser_crop))
        .with_number("iso_floor", mode.and_then(|mode| mode.iso_floor))
}

/// The mode that an entry says, with what `before` has beyond the form's fields.
fn read(entry: &Entry, before: Option<&RecordingRecord>) -> Result<RecordingRecord, RecordError> {
    let mode = RecordingRecord {
        name: Some(entry.name()?),
        width_px: entry.needed_whole("width_px", say!("pixels along the rows"))?,
        height_px: entry.needed_whole("height_px", say!("pixels along the columns"))?,
        frame_rates_fps: entry.numbers("frame_rates_fps")?,
        stabiliser_crop: entry.number("stabiliser_crop")?,
        in_sensor_zoom: before.and_then(|mode| mode.in_sensor_zoom),
        measured_horizontal_fov_deg: before.and_then(|mode| mode.measured_horizontal_fov_deg),
        measured_horizontal_fov_sd_deg: before.and_then(|mode| mode.measured_horizontal_fov_sd_deg),
        measured_at_m: before.and_then(|mode| mode.measured_at_m),
        iso_floor: entry.number("iso_floor")?,
    };
    mode.to_recording()?;
    Ok(mode)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_untouched_mode_is_the_same() {
        for mode in crate::session::first_kit().recordings {
            assert_eq!(read(&entry(Some(&mode)), Some(&mode)), Ok(mode));
        }
    }

    #[test]
    fn the_lowest_iso_of_a_mode_is_kept_and_out_of_range_refused() {
        let mut kit = crate::session::first_kit();
        let before = RecordingRecord { iso_floor: Some(64.0), ..kit.recordings.swap_remove(0) };
        assert_eq!(read(&entry(Some(&before)), Some(&before)), Ok(before.clone()));
        let typed = entry(Some(&before)).with("name", "another").with("iso_floor", "0");
        let mode = read(&typed, Some(&before)).expect("a mode");
        let error = crate::kit::part::put(&kit, None, mode).expect_err("no sensitivity");
        assert_eq!(crate::kit::entry::leaf(&error), "iso_floor");
    }

    #[test]
    fn a_mode_needs_whole_pixels() {
        let typed = entry(None).with("name", "4K").with("width_px", "3840.5");
        assert_eq!(read(&typed, None).expect_err("half a pixel").path, "width_px");
        let small = typed.with("width_px", "8").with("height_px", "2160");
        assert_eq!(
            read(&small, None).expect_err("too small").to_string(),
            "width_px: 8 px is not allowed: 16 to 20000 px"
        );
    }

    #[test]
    fn a_crop_is_told_as_what_it_takes() {
        let mode = crate::session::first_kit().recordings.swap_remove(1);
        assert_eq!(stabiliser_words(&mode), "crops 1.1x, so 9 % less width");
    }
}
