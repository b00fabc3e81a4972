//! The floor plan that can be dragged and looked at closer.

mod hand;
mod steps;
mod twin;

pub(crate) use steps::Steps;

use std::sync::Arc;

use glam::DVec3;
use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use units::Angle;

use crate::canvas::{CanvasHost, Surface, WhileMoving};
use crate::draw::{Chosen, Looking, PlanOptions, draw_plan};
use crate::dressing::Item;
use crate::later::{LaterRoom, Room};
use crate::pointing::{self, LookedAt as _};
use crate::scene::Scene;
use crate::session::{Plan, Session};
use crate::setup::dress::{Cautions, DressPanel, DressTools, LightFold};
use crate::setup::last_of;
use crate::turns::said_in_turn;
use crate::widgets::when;
use hand::Drag;

/// The floor plan's canvas with what it shows and how it is looked at.
#[derive(Clone, Copy)]
pub(super) struct PlanDesk {
    pub(super) session: Session,
    node: NodeRef<html::Canvas>,
    /// The scene that is shown: the last one, where there is none now.
    scene: Memo<Option<Arc<Scene>>>,
    pub(super) looking: RwSignal<Looking>,
    drag: RwSignal<Option<Drag>>,
}

impl PlanDesk {
    /// The scene that is shown.
    pub(super) fn scene(self) -> Option<Arc<Scene>> {
        self.scene.get()
    }

    /// Looks so many times closer at the chosen one, or at the subject: it comes to the middle.
    pub(super) fn look_closer(self, times: f64) {
        let chosen = untrack(|| self.chosen()).map_or(DVec3::ZERO, |chosen| chosen.place);
        if let Some(view) = self.view() {
            self.look(times, chosen, view.middle_px());
        }
    }

    /// The chosen one as it is marked.
    fn chosen(self) -> Option<Chosen> {
        let item = self.session.selected()?;
        let scene = self.scene.get()?;
        let of_the_shot = |at: usize| scene.people().get(at).map(|person| person.place.extend(0.0));
        self.session.plan.with(|plan| {
            let place = match item {
                Item::Subject => of_the_shot(0),
                Item::Second => of_the_shot(1),
                Item::Person(_) | Item::Piece(_) => plan.place(item),
            };
            let half_depth_m = match item {
                Item::Piece(at) => {
                    scene.set_pieces().get(at).map_or(0.0, |piece| piece.size.depth.to_m() / 2.0)
                }
                Item::Subject | Item::Second | Item::Person(_) => 0.0,
            };
            let facing = plan.faces_deg(item).map(Angle::from_deg);
            Some(Chosen { item, place: place?, facing, half_depth_m })
        })
    }

    fn draw(self, surface: &Surface) {
        let view = self.view_on((surface.width, surface.height));
        let (Some(scene), Some(view)) = (self.scene.get(), view) else { return };
        let items = self.session.plan.with(Plan::items);
        let options = PlanOptions { unit: self.session.unit(), chosen: self.chosen(), items: &items };
        self.session.palette.with(|palette| draw_plan(surface, palette, &scene, view, &options));
    }
}

/// The floor plan, and everything that is done on it.
#[component]
pub(crate) fn PlanPanel(session: Session, scene: Memo<Option<Arc<Scene>>>) -> impl IntoView {
    let last = last_of(scene);
    let desk = PlanDesk {
        session,
        node: NodeRef::new(),
        scene: last,
        looking: RwSignal::new(Looking::FITTING),
        drag: RwSignal::new(None),
    };
    let shows_steps = RwSignal::new(false);
    let shows = Signal::derive(move || {
        last.track();
        desk.drag.track();
        desk.looking.track();
        session.selected();
        session.settings.track();
        session.palette.track();
    });
    let draw = move |surface: &Surface| desk.draw(surface);
    // A click on the bare floor lets go of what was chosen.
    let let_go = move |event: ev::MouseEvent| {
        if desk.handle_at(pointing::of_pointer(&event)).is_none() {
            session.select(None);
        }
    };
    let label = said_in_turn(move || twin::twin(session, last.get().as_deref()));
    view! {
        <div class="plan-panel">
            <div
                class="plan-box"
                on:pointerdown=move |event| desk.press(&event)
                on:pointermove=move |event| desk.follow(&event)
                on:pointerup=move |_| desk.release()
                on:pointercancel=move |_| desk.cancel()
                on:touchstart=move |event| desk.touch(&event)
                on:touchmove=move |event| desk.pinch(&event)
                on:wheel=move |event| desk.wheel(&event)
                on:click=let_go
            >
                <CanvasHost node=desk.node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="plan" />
            </div>
            <DressTools desk />
            <Cautions desk />
            <DressPanel session />
            <p class="quiet">{say!("Look before you step back: edges and traffic are not on this plan.")}</p>
            <LightFold session />
            <details class="fold" on:toggle:target=move |event| shows_steps.set(event.target().open())>
                <summary>{say!("Move by steps")}</summary>
                {when(move || shows_steps.get(), move || {
                    view! { <LaterRoom session room=Room::Steps left=|()| {} /> }.into_any()
                })}
            </details>
        </div>
    }
}
