//! The light of the scene: sun with its direction and height, overcast, dusk.

use language::{key, say};
use leptos::prelude::*;
use staging::Light;
use units::Angle;

use crate::light::wind;
use crate::story::floor::FloorDesk;
use crate::story::floor::blocking_edit::full_turn;
use crate::widgets::{Choice, Choices, StepField, live, when};

/// What the sky can be like, in the order of the choices.
const SKIES: [(&str, Light); 3] =
    [(key!("sun"), Light::USUAL), (key!("overcast"), Light::Overcast), (key!("dusk"), Light::Dusk)];

/// The light, folded: its summary says what it is.
#[component]
pub(super) fn LightFold(floor: FloorDesk) -> impl IntoView {
    let is_open = RwSignal::new(false);
    view! {
        <details class="fold" on:toggle:target=move |event| is_open.set(event.target().open())>
            <summary>{live(move || said(light(floor), floor.north()))}</summary>
            {when(move || is_open.get(), move || view! { <LightSteps floor /> }.into_any())}
        </details>
    }
}

/// The light of the scene.
fn light(floor: FloorDesk) -> Light {
    floor.of_shown(|shown| shown.scene.blocking.light).unwrap_or(Light::USUAL)
}

/// The light in words, its direction by the earth's north.
fn said(light: Light, north: Angle) -> String {
    match light {
        Light::Sun { azimuth, elevation } => {
            say!("Light: sun in the {}, {:.0}° high", wind(azimuth - north), elevation.to_deg())
        }
        Light::Overcast => say!("Light: overcast").to_owned(),
        Light::Dusk => say!("Light: dusk").to_owned(),
    }
}

/// The light by choices and steps.
#[component]
fn LightSteps(floor: FloorDesk) -> impl IntoView {
    let sky = Signal::derive(move || {
        Some(match light(floor) {
            Light::Sun { .. } => 0,
            Light::Overcast => 1,
            Light::Dusk => 2,
        })
    });
    let sun = move || match light(floor) {
        Light::Sun { azimuth, elevation } => (azimuth.to_deg().rem_euclid(360.0), elevation.to_deg()),
        Light::Overcast | Light::Dusk => (0.0, 0.0),
    };
    let choices = SKIES.iter().enumerate().map(|(at, (name, _))| Choice::new(Some(at), language::text(name)));
    let choose = move |at: Option<usize>| {
        // A sun that is where somebody put it stays there.
        if let Some((_, light)) = at.filter(|_| at != sky.get_untracked()).and_then(|at| SKIES.get(at)) {
            floor.change_light(&|_| *light);
        }
    };
    let move_sun = move |moved: &dyn Fn(Angle, Angle) -> Light| {
        floor.change_light(&|light| match light {
            Light::Sun { azimuth, elevation } => moved(azimuth, elevation),
            Light::Overcast | Light::Dusk => light,
        });
    };
    view! {
        <div class="steps">
            <Choices legend=say!("Light") choices=choices chosen=sky choose=choose />
            {when(move || sky.get() == Some(0), move || {
                view! {
                    <StepField
                        label=say!("The sun stands in the")
                        range=(0.0, 355.0)
                        step=5.0
                        value=Signal::derive(move || sun().0)
                        words=move |degrees| {
                            let way = Angle::from_deg(degrees) - floor.north();
                            format!("{}, {:.0}°", wind(way), full_turn(way).to_deg())
                        }
                        set=move |degrees| {
                            move_sun(&|_, elevation| Light::Sun { azimuth: Angle::from_deg(degrees), elevation });
                        }
                    />
                    <StepField
                        label=say!("The sun's height")
                        range=(0.0, 90.0)
                        step=2.0
                        value=Signal::derive(move || sun().1)
                        words=|degrees| format!("{degrees:.0}°")
                        set=move |degrees| {
                            move_sun(&|azimuth, _| Light::Sun { azimuth, elevation: Angle::from_deg(degrees) });
                        }
                    />
                }
                .into_any()
            })}
        </div>
    }
}
