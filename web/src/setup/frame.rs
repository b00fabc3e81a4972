//! The frame, large.

use std::sync::Arc;

use leptos::html;
use leptos::prelude::*;

use crate::canvas::{CanvasHost, WhileMoving};
use crate::draw::{FrameOptions, draw_frame};
use crate::scene::Scene;
use crate::session::Session;
use crate::setup::words;
use crate::widgets::live;

/// The frame as the chosen setup sees it, with its lines and what the crop gives up.
#[component]
pub(crate) fn FramePanel(session: Session, scene: Memo<Option<Arc<Scene>>>) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    // Where there is no setup the last picture stays, dimmed: it is what the user was looking at.
    let last = Memo::new(move |before: Option<&Option<Arc<Scene>>>| {
        scene.get().or_else(|| before.cloned().flatten())
    });
    let whole = move || session.settings.with(|settings| settings.whole);
    let aspect = move || {
        last.get().map_or(16.0 / 9.0, |scene| if whole() { scene.whole_aspect } else { scene.aspect })
    };
    let protect = Memo::new(move |_| {
        session.plan.with(|plan| plan.shot.delivery.protect_aspect.map(|shape| shape.0.to_f64()))
    });
    let shows = Signal::derive(move || {
        last.track();
        protect.track();
        session.settings.track();
        session.palette.track();
    });
    let draw = move |surface: &crate::canvas::Surface| {
        let settings = session.settings.get();
        let protect = protect.get();
        let options = FrameOptions { lines: settings.lines, whole: settings.whole, protect, small: false };
        if let Some(scene) = last.get() {
            session.palette.with(|palette| draw_frame(surface, palette, &scene, &options));
        }
    };
    let label = Signal::derive(move || format!("The frame. {}", session.sentence()));
    view! {
        <div class="frame-panel" class:dimmed=move || scene.with(Option::is_none)>
            <div class="frame-box" style:--aspect=live(move || aspect().to_string())>
                <CanvasHost node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="frame" />
            </div>
            <div class="frame-bar">
                <button
                    type="button"
                    class="toggle"
                    aria-pressed=live(move || session.settings.with(|settings| settings.lines).to_string())
                    on:click=move |_| session.settings.update(|settings| settings.lines = !settings.lines)
                >
                    "Lines"
                </button>
                <button
                    type="button"
                    class="toggle"
                    aria-pressed=live(move || whole().to_string())
                    on:click=move |_| session.settings.update(|settings| settings.whole = !settings.whole)
                >
                    "What the crop loses"
                </button>
                <span class="quiet frame-facts">{live(move || facts(session))}</span>
            </div>
        </div>
    }
}

/// The delivered frame in one line: its size, whether its pixels were captured, what the crop gives up.
fn facts(session: Session) -> String {
    let Some(row) = session.chosen.get() else { return String::new() };
    let frame = row.result.outcome.map_or_else(|_| row.result.shot.frame(), |setup| setup.frame);
    let (width, height) = frame.whole_px();
    let pixels = if frame.stretched.is_some() { "stretched" } else { "captured" };
    let lost = match frame.lost_share() * 100.0 {
        lost if lost < 0.5 => "nothing cropped".to_owned(),
        lost => format!("{lost:.0} % cropped"),
    };
    format!("{} · {width} × {height} px {pixels} · {lost}", words::shape(frame.aspect()))
}
