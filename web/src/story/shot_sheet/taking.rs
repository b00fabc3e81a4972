//! How a shot is taken: what moves, what is near the lens, how fast it is captured, what is heard.

use film::Sound;
use language::{Number, key, say};
use leptos::prelude::*;
use staging::{Foreground, Movement, PieceKind};
use units::{Angle, FrameRate, Length};

use super::Editing;
use crate::widgets::{Choice, Choices, LengthField, live, when};

/// A way to move, as a choice; its figures are set in Set-up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Still,
    Nearer,
    Away,
    Along,
    PanRight,
    PanLeft,
    Tilt,
}

impl Way {
    fn of(movement: Option<Movement>) -> Self {
        match movement {
            None => Self::Still,
            Some(Movement::Push { per_second }) if per_second < Length::ZERO => Self::Away,
            Some(Movement::Push { .. }) => Self::Nearer,
            Some(Movement::Follow { .. }) => Self::Along,
            Some(Movement::Pan { per_second }) if per_second < Angle::ZERO => Self::PanLeft,
            Some(Movement::Pan { .. }) => Self::PanRight,
            Some(Movement::Tilt { .. }) => Self::Tilt,
        }
    }

    /// The move at a pace that can be looked at: a slow push of 0.15 m/s, walking at 1.4 m/s, turns of 6° a second; chosen.
    const fn movement(self) -> Option<Movement> {
        Some(match self {
            Self::Still => return None,
            Self::Nearer => Movement::Push { per_second: Length::from_m(0.15) },
            Self::Away => Movement::Push { per_second: Length::from_m(-0.15) },
            Self::Along => Movement::Follow { per_second: staging::USUAL_PACE },
            Self::PanRight => Movement::Pan { per_second: Angle::from_deg(6.0) },
            Self::PanLeft => Movement::Pan { per_second: Angle::from_deg(-6.0) },
            Self::Tilt => Movement::Tilt { per_second: Angle::from_deg(6.0) },
        })
    }
}

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
    let way = Signal::derive(move || editing.read(|shot| Way::of(shot.movement), Way::Still));
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
        <Choices
            legend=say!("The phone")
            choices=[
                Choice::new(Way::Still, say!("stays")),
                Choice::new(Way::Nearer, say!("comes nearer")),
                Choice::new(Way::Away, say!("goes away")),
                Choice::new(Way::Along, say!("goes along")),
                Choice::new(Way::PanLeft, say!("turns left")),
                Choice::new(Way::PanRight, say!("turns right")),
                Choice::new(Way::Tilt, say!("tilts up")),
            ]
            chosen=way
            choose=move |way: Way| editing.change(say!("Change the move"), &|shot| shot.movement = way.movement())
        />
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
    let options = move || {
        let option = |rate: FrameRate| {
            let selected = captured().is_some_and(|one| (one.to_fps() - rate.to_fps()).abs() < 1e-9);
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
            </select>
            <span class="quiet">{cost}</span>
        </label>
    }
}
