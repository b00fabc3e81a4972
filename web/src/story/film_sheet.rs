//! What holds for the whole film: its frame, its rate, its brightness, its files.

mod exposing;
mod hand_over;

pub(crate) use exposing::brightness;

use film::{FilmFacts, HandedFile};
use language::{Number, say};
use leptos::html;
use leptos::prelude::*;
use optics::ShutterAngle;
use units::FrameRate;

use crate::films::Desk;
use crate::handing::{Handing, HandingTold};
use crate::session::Session;
use crate::setup::words;
use crate::story::head::change_facts;
use crate::story::number_choices::NumberChoices;
use crate::story::passing::{FromCopy, LinkOut};
use crate::story::start::{FromFile, KeptFilms};
use crate::story::tell;
use crate::story::words::not_in_kit;
use crate::widgets::{Sheet, close, live, own_option};

/// Frame rates that films play at.
const RATES_FPS: [f64; 6] = [23.976, 24.0, 25.0, 29.97, 30.0, 60.0];
/// Shutter angles to choose among, degrees.
const SHUTTERS_DEG: [f64; 4] = [90.0, 144.0, 180.0, 270.0];

/// The sheet.
#[component]
pub(super) fn FilmSheet(session: Session, desk: Desk, node: NodeRef<html::Dialog>) -> impl IntoView {
    let facts = move |read: fn(&FilmFacts) -> f64| {
        desk.film.with(|film| film.as_ref().map_or(0.0, |film| read(&film.facts)))
    };
    let modes =
        move || session.owned.get().recordings.iter().map(|mode| mode.name.clone()).collect::<Vec<_>>();
    let recording = Signal::derive(move || {
        desk.film.with(|film| film.as_ref().map_or_else(String::new, |film| film.facts.recording.clone()))
    });
    // Without a name it is the kit's first, which the list shows.
    let gone = move || {
        let name = recording.get();
        (!name.is_empty() && !modes().contains(&name)).then(|| not_in_kit(&name))
    };
    let saving = Handing::new();
    let save = move |_| saving.hand(move || film_file(desk));
    let put_away = move |_| {
        close(node);
        desk.close();
    };
    view! {
        <Sheet node title=say!("Film and files")>
            <FrameShape desk />
            <label class="field">
                <span>{say!("Recording mode")}</span>
                <select on:change:target=move |event| {
                    let name = event.target().value();
                    tell(desk, change_facts(desk, say!("Change the recording mode"), |facts| facts.recording = name));
                }>
                    {move || modes().into_iter().map(|name| {
                        let value = name.clone();
                        view! { <option value=value.clone() prop:selected=move || recording.get() == value>{name}</option> }
                    }).collect_view()}
                    {own_option(gone)}
                </select>
            </label>
            <NumberChoices
                legend=say!("Frames a second")
                offered=&RATES_FPS
                name=rate_name
                chosen=Signal::derive(move || facts(|facts| facts.frame_rate.to_fps()))
                choose=move |fps: f64| {
                    if let Ok(rate) = FrameRate::checked_from_fps(fps) {
                        tell(desk, change_facts(desk, say!("Change the frame rate"), |facts| facts.frame_rate = rate));
                    }
                }
            />
            <NumberChoices
                legend=say!("Shutter")
                offered=&SHUTTERS_DEG
                name=shutter_name
                chosen=Signal::derive(move || facts(|facts| facts.shutter.to_deg()))
                choose=move |degrees: f64| {
                    if let Ok(shutter) = ShutterAngle::from_deg(degrees) {
                        tell(desk, change_facts(desk, say!("Change the shutter"), |facts| facts.shutter = shutter));
                    }
                }
            />
            <exposing::Exposing desk />
            <div class="story-files">
                <p class="quiet">
                    {say!(
                        "The file is yours: one text that any editor reads. Films are kept in this browser too, as you \
                         change them."
                    )}
                </p>
                <button type="button" on:click=save>{say!("Save as a file")}</button>
                <FromFile desk opened=move |()| close(node) />
                <FromCopy desk />
                <button type="button" on:click=move |_| leptos::task::spawn_local(async move { desk.create_copy().await })>
                    {say!("Go on with a copy")}
                </button>
                <button type="button" on:click=put_away>{say!("Put this film away")}</button>
                <HandingTold handing=saving />
            </div>
            <hand_over::HandOver desk />
            <LinkOut desk />
            <KeptFilms desk />
        </Sheet>
    }
}

/// The frame shape that is delivered, by its usual name.
#[component]
fn FrameShape(desk: Desk) -> impl IntoView {
    let shapes = film::frame_shapes();
    let shape = live(move || {
        desk.film.with(|film| {
            film.as_ref().map_or_else(String::new, |film| words::shape(film.facts.aspect.to_f64()))
        })
    });
    let names: Vec<String> = shapes.iter().map(|(name, _)| Number(name).to_string()).collect();
    let own = move || Some(shape.get()).filter(|shape| !shape.is_empty() && !names.contains(shape));
    let options = shapes.clone().into_iter().map(move |(value, _)| {
        let name = Number(&value).to_string();
        let told = name.clone();
        view! { <option value=value prop:selected=move || shape.get() == told>{name}</option> }
    });
    let choose = move |name: String| {
        if let Some((_, aspect)) = shapes.iter().find(|(one, _)| *one == name) {
            tell(desk, change_facts(desk, say!("Change the frame shape"), |facts| facts.aspect = *aspect));
        }
    };
    view! {
        <label class="field">
            <span>{say!("Frame shape")}</span>
            <select on:change:target=move |event| choose(event.target().value())>
                {options.collect_view()}
                {own_option(own)}
            </select>
        </label>
    }
}

/// A frame rate to the thousandth, which tells 23.976 from 24.
fn rate_name(fps: f64) -> String {
    let text = format!("{fps:.3}");
    Number(text.trim_end_matches('0').trim_end_matches('.')).to_string()
}

/// A shutter angle to a tenth, with what it does if it is one that films are known by.
fn shutter_name(degrees: f64) -> String {
    let text = format!("{degrees:.1}");
    match text.trim_end_matches('0').trim_end_matches('.') {
        "90" => say!("90°, crisp").to_owned(),
        "180" => say!("180°, as films have it").to_owned(),
        "270" => say!("270°, smeared").to_owned(),
        other => format!("{}°", Number(other)),
    }
}

/// The film that is open, as its own file.
pub(super) fn film_file(desk: Desk) -> Result<Vec<HandedFile>, String> {
    let text = desk.export().ok_or(say!("no film is open"))?;
    let title = desk.film.with_untracked(|film| film.as_ref().map(|film| film.facts.title.clone()));
    let name = format!("{}.film.json", film::plain_name(&title.unwrap_or_default()));
    Ok(vec![HandedFile { name, bytes: text.into_bytes() }])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_rate_that_is_offered_is_a_rate_with_a_name_of_its_own() {
        let names = RATES_FPS.map(rate_name);
        assert_eq!(names, ["23.976", "24", "25", "29.97", "30", "60"]);
        for fps in RATES_FPS {
            assert!(FrameRate::checked_from_fps(fps).is_ok(), "{fps}");
        }
        assert_eq!(rate_name(24_000.0 / 1001.0), "23.976");
    }

    #[test]
    fn a_shutter_of_ones_own_is_told_to_a_tenth() {
        let names = SHUTTERS_DEG.map(shutter_name);
        assert_eq!(names, ["90°, crisp", "144°", "180°, as films have it", "270°, smeared"]);
        // 1/50 s at 24 fps, as it is where lamps flicker, and at 23.976 fps.
        assert_eq!([172.8, 172.627].map(shutter_name), ["172.8°", "172.6°"]);
    }
}
