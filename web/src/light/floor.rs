//! The floor of the chosen setup's scene: the phone, everybody, and the shadows that the sun throws at the minute looked at.

use language::say;
use leptos::html;
use leptos::prelude::*;

use super::light_desk::LightDesk;
use crate::canvas::{CanvasHost, Surface, WhileMoving};
use crate::part::Part;
use crate::story::FloorInSun;
use crate::widgets::live;

/// The plan.
#[component]
pub(super) fn FloorPlan(light: LightDesk) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    let sun = Memo::new(move |_| light.lit().with(|lit| lit.as_ref()?.sun));
    let floor = Memo::new(move |_| {
        let (shot, sun) = (light.chosen().get()?, sun.get());
        light.desk().film.with(|film| {
            let film = film.as_ref()?;
            let (scene, _) = film.shot(shot)?;
            Some(Part(std::sync::Arc::new(FloorInSun::of(light.desk(), film, scene, shot, sun))))
        })
    });
    let shows = Signal::derive(move || {
        floor.track();
        light.session().palette.track();
    });
    let draw = move |surface: &Surface| {
        if let Some(floor) = floor.get() {
            light.session().palette.with(|palette| floor.draw(surface, palette));
        }
    };
    let label =
        live(move || floor.with(|floor| floor.as_ref().map_or_else(String::new, |floor| floor.words())));
    let shadow = live(move || match sun.get().and_then(|sun| sun.shadow_times) {
        Some(times) => say!("Shadows are {times:.1} times as long as people are tall."),
        None => say!("No shadows at this minute.").to_owned(),
    });
    view! {
        <div class="light-floor">
            <h3>{say!("Sun on the floor")}</h3>
            <div class="plan-box">
                <CanvasHost
                    node
                    shows
                    draw=Box::new(draw)
                    while_moving=WhileMoving::Follows
                    label
                    class="light-floor-canvas"
                />
            </div>
            <p class="quiet">{shadow}</p>
        </div>
    }
}
