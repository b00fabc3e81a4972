//! Where an adapter darkens the frame: an evenly lit wall through it, with the edge of what is clear drawn over it.

use film::{AdapterRecord, ClearViewRecord, KitRecord, LensRecord, RecordError, RecordingRecord};
use glam::DVec2;
use language::say;
use leptos::prelude::*;
use optics::{CornerLight, GreyFrame, STOP_DOWN};

use super::intake::{Intake, PictureIntake};
use super::shape::check_shape;
use super::{change_adapter, outcome};
use crate::draw::Chalk;
use crate::kit::check::named;
use crate::kit::entry::Entry;
use crate::kit::form::{Form, FormBox, SelectField};
use crate::kit::view_entry::of_lens_and_mode;
use crate::kit::view_words::mode;
use crate::marks::{MarkedPicture, Placing};
use crate::session::Session;
use crate::story::words::sentence_of;
use crate::taking_in::TakenIn;
use crate::widgets::when;

/// The longer side that a wall is looked at with, pixels: chosen, as blocks of it are all that counts.
const WALL_PX: f64 = 1024.0;

fn entry(kit: &KitRecord) -> Entry {
    let adapter = kit.adapters.iter().find_map(|adapter| adapter.name.clone());
    of_lens_and_mode(kit).with("adapter", adapter.unwrap_or_default())
}

/// The greys of a picture.
///
/// A wall is as good as grey, so the bytes' own mean by what the eye makes of the colours (`Iec1999`, from memory) stands for
/// that of the light.
fn greys(rgba: &[u8]) -> Vec<u8> {
    let grey = |pixel: &[u8]| match pixel {
        [red, green, blue, ..] => {
            let sum = u32::from(*red) * 54 + u32::from(*green) * 183 + u32::from(*blue) * 19;
            u8::try_from(sum / 256).unwrap_or(u8::MAX)
        }
        _ => 0,
    };
    rgba.chunks_exact(4).map(grey).collect()
}

/// Where the picture is clear.
fn light_of(picture: &TakenIn) -> Result<CornerLight, String> {
    let unreadable = || say!("the browser does not give the picture's pixels").to_owned();
    let grey = greys(&picture.rgba().ok_or_else(unreadable)?);
    let (width, height) = picture.size_px();
    let side = |px: u32| usize::try_from(px).unwrap_or_default();
    let frame = GreyFrame::new(side(width), side(height), &grey).map_err(|error| error.to_string())?;
    frame.corner_light(STOP_DOWN).map_err(|error| error.to_string())
}

/// What was seen, in a sentence or two.
fn words(light: &CornerLight) -> String {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    if light.clear_share >= 1.0 {
        return say!("Clear to all four corners.").to_owned();
    }
    let corners = [
        (say!("upper left"), light.corners.top_left),
        (say!("upper right"), light.corners.top_right),
        (say!("lower left"), light.corners.bottom_left),
        (say!("lower right"), light.corners.bottom_right),
    ];
    let corners = corners.map(|(name, share)| format!("{name} {}", percent(share)));
    say!(
        "Clear up to {} of the way from the middle to a corner; farther out there is less than half the light somewhere. \
         Corner by corner: {}.",
        percent(light.clear_share),
        corners.join(", ")
    )
}

/// The adapter with what was seen of that lens in that mode, in the place of what was seen before.
fn seen(adapter: &AdapterRecord, view: ClearViewRecord) -> AdapterRecord {
    let mut changed = adapter.clone();
    changed.clear_views.retain(|other| (&other.lens, &other.recording) != (&view.lens, &view.recording));
    changed.clear_views.push(view);
    changed
}

/// The form: adapter, lens and mode, the wall, and what follows.
#[component]
pub(super) fn MeasureCorners(session: Session) -> impl IntoView {
    let typed = RwSignal::new(session.kit.with_untracked(entry));
    let intake = Intake::new(WALL_PX, Callback::new(|_| ()));
    // Looked at once for every picture, whatever else is chosen afterwards.
    let seen_light = Memo::new(move |_| intake.picture.with(|picture| picture.as_ref().map(light_of)));
    let shape = Memo::new(move |_| {
        let true_px = intake.true_px()?;
        session.owned.with(|kit| {
            let mode = mode(kit, &typed.with(|entry| entry.text("recording").to_owned()))?;
            check_shape(true_px, &mode.recording).err()
        })
    });
    let form = Form::new(typed, Signal::derive(move || shape.get()));
    let kept = RwSignal::new(None::<Result<String, RecordError>>);
    let is_there = Memo::new(move |_| intake.picture.with(Option::is_some));
    let line = move || {
        seen_light.with(|light| match light {
            Some(Ok(light)) => view! { <p class="kit-line" aria-live="polite">{words(light)}</p> }.into_any(),
            Some(Err(error)) => view! { <p class="problem" role="alert">{sentence_of(error)}</p> }.into_any(),
            None => view! { <p class="kit-line" aria-live="polite"></p> }.into_any(),
        })
    };
    let can_keep = Memo::new(move |_| {
        shape.with(Option::is_none) && seen_light.with(|light| matches!(light, Some(Ok(_))))
    });
    let keep = move || {
        let share = seen_light.with_untracked(|light| match light {
            Some(Ok(light)) => Some(light.clear_share),
            Some(Err(_)) | None => None,
        });
        let Some(clear_share) = share.filter(|_| can_keep.get_untracked()) else { return };
        let (name, view) = typed.with_untracked(|entry| {
            let [name, lens, recording] =
                ["adapter", "lens", "recording"].map(|field| entry.text(field).to_owned());
            (name, ClearViewRecord { lens, recording, clear_share })
        });
        let changed = change_adapter(session, &name, |before| seen(before, view.clone()));
        kept.set(Some(changed.map(|()| say!("Kept for {name} on {} in {}.", view.lens, view.recording))));
    };
    view! {
        <FormBox send=move |()| keep()>
            <p class="quiet">
                {say!("With the adapter on, film a wall that is lit evenly, neither black nor white, from so near that \
                       nothing else is seen. What is darkened by a stop or more is outside the line.")}
            </p>
            <div class="kit-fields">
                <SelectField form field="adapter" label=say!("Adapter") options={named::<AdapterRecord>(session)} />
                <SelectField form field="lens" label=say!("Lens") options={named::<LensRecord>(session)} />
                <SelectField form field="recording" label=say!("Mode") options={named::<RecordingRecord>(session)} />
            </div>
            <PictureIntake intake words=say!("Choose a clip or a picture of the wall") />
            {when(move || is_there.get(), move || view! { <WallPicture session intake light=seen_light.into() /> }.into_any())}
            {line}
            {move || shape.get().map(|error| view! { <p class="problem" role="alert">{sentence_of(&error.message)}</p> })}
            <div class="kit-buttons">
                <button type="submit" class="kit-do" disabled=move || !can_keep.get()>{say!("Keep as its corners")}</button>
            </div>
            {move || kept.get().map(outcome)}
        </FormBox>
    }
}

/// The wall, and the line around what is clear.
#[component]
fn WallPicture(
    session: Session,
    intake: Intake,
    light: Signal<Option<Result<CornerLight, String>>>,
) -> impl IntoView {
    let over = move |chalk: &Chalk<'_>, placing: &Placing| {
        light.with(|light| {
            let Some(Ok(light)) = light else { return };
            let places = light.outline.iter().chain(light.outline.first());
            chalk.pen(&chalk.palette.accent, 2.0);
            chalk.stroke(places.map(|(x, y)| placing.to_canvas(DVec2::new(*x, *y) * placing.true_px).into()));
        });
    };
    let label = move || {
        light.with(|light| match light {
            Some(Ok(light)) => say!("The wall. {}", words(light)),
            Some(Err(_)) | None => say!("The wall.").to_owned(),
        })
    };
    view! {
        <MarkedPicture
            picture=intake.picture.into()
            marks=RwSignal::new(Vec::new())
            over_shows=Signal::derive(move || light.track())
            over=Box::new(over)
            palette=session.palette
            label=Signal::derive(label)
        />
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use optics::Corners;

    #[test]
    fn a_grey_pixel_is_its_own_grey() {
        assert_eq!(greys(&[0, 0, 0, 255, 128, 128, 128, 255, 255, 255, 255, 255]), [0, 128, 255]);
    }

    #[test]
    fn corners_are_told_in_percent() {
        let corners = Corners { top_left: 0.82, top_right: 0.9, bottom_left: 1.0, bottom_right: 0.88 };
        let light = CornerLight { clear_share: 0.82, corners, outline: Vec::new(), uneven_share: 0.1 };
        assert!(words(&light).starts_with("Clear up to 82 % of the way"), "{}", words(&light));
        assert!(words(&light).ends_with(
            "Corner by corner: upper left 82 %, upper right 90 %, lower left 100 %, lower right 88 %."
        ));
        assert_eq!(words(&CornerLight { clear_share: 1.0, ..light }), "Clear to all four corners.");
    }

    #[test]
    fn what_is_seen_again_takes_the_place_of_what_was() {
        let view = |clear_share| ClearViewRecord {
            lens: "main".to_owned(),
            recording: "4K".to_owned(),
            clear_share,
        };
        let once = seen(&film::adapters()[0], view(0.8));
        let other = seen(&once, ClearViewRecord { lens: "long".to_owned(), ..view(1.0) });
        let twice = seen(&other, view(0.85));
        let shares: Vec<_> =
            twice.clear_views.iter().map(|view| (view.lens.as_str(), view.clear_share)).collect();
        assert_eq!(shares, [("long", 1.0), ("main", 0.85)]);
    }
}
