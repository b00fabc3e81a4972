//! Set-up: one shot, answered before anything is asked.

mod beside;
mod chips;
mod dress;
mod figure_list;
mod figures;
mod findings;
mod frame;
mod lenses;
mod mend;
mod of_shot;
mod plan;
mod sizes;
mod still;
mod take;
pub(crate) mod words;

/// What the later module shows of this screen.
pub(crate) mod rooms {
    pub(crate) use super::beside::LargerCameras;
    pub(crate) use super::chips::{AdapterSheet, HeightSheet, PlaceSheet, ShapeSheet, SideSheet, WhoSheet};
    pub(crate) use super::dress::{ChosenItem, DressSheet, LightSteps};
    pub(crate) use super::plan::Steps;
    pub(crate) use super::take::MoveSheet;
}

use std::sync::Arc;

use language::say;
use leptos::prelude::*;

use crate::scene::Scene;
use crate::session::Session;
use crate::turns::said_in_turn;

/// The scene, or the last one where there is none now: it is what the user was looking at.
fn last_of(scene: Memo<Option<Arc<Scene>>>) -> Memo<Option<Arc<Scene>>> {
    Memo::new(move |before: Option<&Option<Arc<Scene>>>| scene.get().or_else(|| before.cloned().flatten()))
}

/// The screen: sentence, frame, sizes, chips, lenses, floor plan, figures.
#[component]
pub(crate) fn SetupScreen(session: Session) -> impl IntoView {
    let scene = Memo::new(move |_| Scene::chosen(session).map(Arc::new));
    view! {
        <div class="setup">
            <section class="setup-shot" aria-label=say!("The shot")>
                <of_shot::OfShotPlace session />
                <h1 class="sentence" aria-live="polite">{said_in_turn(move || session.sentence())}</h1>
                <chips::Chips session />
                <frame::FramePanel session scene />
                <div class="sizes-and-sort">
                    <sizes::SizeRow session />
                    <lenses::LensSort session />
                </div>
                <findings::FindingList session />
                <lenses::LensRow session />
                <beside::BesideLarger session />
            </section>
            <section class="setup-place" aria-label=say!("The place")>
                <plan::PlanPanel session scene />
                <figures::FigurePanel session />
            </section>
        </div>
    }
}
