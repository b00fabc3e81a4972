//! How a shot is taken: what moves, what is near the lens, how fast it is captured, what is heard.

use film::Sound;
use language::{Number, key, say};
use leptos::prelude::*;
use staging::{Foreground, PieceKind, fastest_turn};
use units::{FrameRate, Length};

use super::Editing;
use crate::story::moving::{Turned, take_way, way_of};
use crate::widgets::{Choice, Choices, LengthField, Way, live, own_option, when};

/// How fast a phone turns that cannot be set up yet, degrees a second: what a usual lens allows.
const USUAL_PAN_DEG: f64 = 8.0;

/// Pieces that stand near a lens, with how far ahead and to the right: chosen so that a frame's edge shows them.
const NEAR: [(PieceKind, &str); 4] = [
    (PieceKind::Plant, key!("a plant")),
    (PieceKind::LampPost, key!("a post")),
    (PieceKind::Doorway, key!("a doorway")),
    (PieceKind::Hedge, key!("a hedge")),
];

/// Move, foreground, capture rate, sound and recorder.
#[component]
pub(super) fn Taking(editing: Editing) -> impl IntoView {
    let near = Signal::derive(move || editing.read(|shot| shot.foreground.map(|piece| piece.kind), None));
    let near_choices = std::iter::once(Choice::new(None, say!("nothing")))
        .chain(NEAR.map(|(kind, name)| Choice::new(Some(kind), language::text(name))))
        .collect::<Vec<_>>();
    let choose_near = move |kind: Option<PieceKind>| {
        editing.change(say!("Change what is near the lens"), &|shot| {
            shot.foreground = kind.map(|kind| Foreground {
                kind,
                ahead: Length::from_m(0.8),
                right: Length::from_m(if shot.across > 0.5 { -0.35 } else { 0.35 }),
            });
        });
    };
    let sound = Signal::derive(move || editing.read(|shot| shot.sound, Sound::None));
    let recorder_m = Signal::derive(move || editing.read(|shot| shot.recorder_away.map(Length::to_m), None));
    view! {
        <Moving editing />
        <Choices
            legend=say!("Near the lens")
            choices=near_choices
            chosen=near
            choose=choose_near
        />
        <Capture editing />
        <Choices
            legend=say!("Sound")
            choices=Sound::ALL.map(|sound| Choice::new(sound, sound.name()))
            chosen=sound
            choose=move |sound: Sound| editing.change(say!("Change the sound"), &|shot| shot.sound = sound)
        />
        {when(move || sound.get() == Sound::Dialogue, move || view! {
            <Choices
                legend=say!("What records it")
                choices=[Choice::new(false, say!("the phone")), Choice::new(true, say!("a recorder near them"))]
                chosen=Signal::derive(move || recorder_m.get().is_some())
                choose=move |near: bool| editing.change(say!("Change what records"), &|shot| {
                    shot.recorder_away = near.then_some(Length::from_m(0.5));
                })
            />
            {when(move || recorder_m.get().is_some(), move || view! {
                <LengthField
                    label=say!("How far the recorder is from whoever speaks")
                    range=(0.02, 50.0)
                    unit=editing.unit
                    value=Signal::derive(move || recorder_m.get().unwrap_or(0.5))
                    set=move |metres: f64| editing.change(say!("Move the recorder"), &|shot| shot.recorder_away = Some(Length::from_m(metres)))
                />
            }.into_any())}
        }.into_any())}
    }
}

/// How the phone moves; how fast, and for how long, is set in Set-up.
#[component]
fn Moving(editing: Editing) -> impl IntoView {
    let faces = editing.faces();
    let way = Signal::derive(move || editing.read(|shot| way_of(shot, faces.get()), Way::Still));
    let turned = StoredValue::new(None::<Turned>);
    let choose = move |way: Way| {
        let pan_deg_per_s = fastest_turn_deg(editing);
        editing.change(say!("Change the move"), &|shot| {
            let faces = faces.get_untracked();
            turned.set_value(take_way(way, shot, faces, pan_deg_per_s, turned.get_value()));
        });
    };
    // A thing does not walk.
    let is_thing = Memo::new(move |_| editing.read(|shot| shot.of.subject().is_none(), false));
    move || {
        let ways = Way::ALL.into_iter().filter(|way| !(way.follows() && is_thing.get()));
        let choices: Vec<_> = ways.map(|way| Choice::new(way, way.name())).collect();
        view! { <Choices legend=say!("The phone") choices chosen=way choose=choose /> }
    }
}

/// The fastest pan of the shot that can be looked at, degrees a second, rounded down to half a degree; a usual lens's where
/// it cannot be had.
fn fastest_turn_deg(editing: Editing) -> f64 {
    let Editing { desk, scene_id, id, .. } = editing;
    let fastest = desk.film.with_untracked(|film| {
        let film = film.as_ref()?;
        let scene = film.scene(scene_id)?;
        let shot = scene.shot(id)?;
        let rehearsal = desk.rehearsal(film, scene, shot);
        let setup = rehearsal.as_ref().as_ref().ok()?.result().outcome.as_ref().ok()?;
        Some(fastest_turn(&setup.view, shot.frame_rate(film)).to_deg())
    });
    fastest.map_or(USUAL_PAN_DEG, |degrees| (libm::floor(degrees * 2.0) / 2.0).max(0.5))
}

/// Slow motion, and what it costs in light.
#[component]
fn Capture(editing: Editing) -> impl IntoView {
    let film_fps = Memo::new(move |_| {
        editing
            .desk
            .film
            .with(|film| film.as_ref().map_or(FrameRate::FILM, |film| film.facts.frame_rate))
            .to_fps()
    });
    let rates = move || {
        let kit = editing.kit.get();
        let mode = editing.desk.film.with(|film| film.as_ref().map(|film| film.facts.recording.clone()));
        let mode =
            kit.recordings.iter().find(|one| Some(&one.name) == mode.as_ref()).or(kit.recordings.first());
        let mut rates: Vec<FrameRate> = mode.map(|mode| mode.frame_rates.clone()).unwrap_or_default();
        rates.retain(|rate| rate.to_fps() > film_fps.get() + 0.01);
        rates
    };
    let captured = move || editing.read(|shot| shot.capture_rate, None);
    let cost = live(move || {
        captured().filter(|rate| rate.to_fps() > film_fps.get()).map_or_else(String::new, |rate| {
            let times = rate.to_fps() / film_fps.get();
            say!(
                "It plays {times:.1} times as slowly, and every frame gets {:.1} stops less light.",
                libm::log2(times)
            )
        })
    });
    let is_at = |rate: FrameRate, fps: f64| (rate.to_fps() - fps).abs() < 1e-9;
    let own = move || {
        let own = captured().filter(|own| !is_at(*own, film_fps.get()))?;
        let is_offered = rates().into_iter().any(|rate| is_at(rate, own.to_fps()));
        (!is_offered).then(|| Number(own).to_string())
    };
    let options = move || {
        let option = |rate: FrameRate| {
            let selected = captured().is_some_and(|one| is_at(rate, one.to_fps()));
            let words = say!("{}, slow motion", Number(rate));
            view! { <option value=rate.to_fps().to_string() prop:selected=selected>{words}</option> }
        };
        rates().into_iter().map(option).collect_view()
    };
    view! {
        <label class="field">
            <span>{say!("Captured at")}</span>
            <select on:change:target=move |event| {
                let rate = event.target().value().parse().ok().and_then(|fps| FrameRate::checked_from_fps(fps).ok());
                editing.change(say!("Change the capture rate"), &|shot| shot.capture_rate = rate);
            }>
                <option value="">{say!("the film's rate")}</option>
                {options}
                {own_option(own)}
            </select>
            <span class="quiet">{cost}</span>
        </label>
    }
}
