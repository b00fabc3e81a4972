//! The frame, large.

use std::sync::Arc;

use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use staging::Stage;

use crate::canvas::{CanvasHost, Surface, WhileMoving, box_size};
use crate::draw::{FrameOptions, draw_over_frame};
use crate::pictures::{Look, Picker, PictureCanvas, Pictures, Rank, Standing};
use crate::pointing;
use crate::scene::Scene;
use crate::session::{Plan, Session};
use crate::setup::last_of;
use crate::setup::still::SaveStill;
use crate::setup::take::{PlayBar, Player, focus_at_depth, take_twin};
use crate::setup::words;
use crate::turns::said_in_turn;
use crate::widgets::{live, when};

/// The frame as the chosen setup sees it, with its lines and what the crop gives up.
#[component]
pub(crate) fn FramePanel(session: Session, scene: Memo<Option<Arc<Scene>>>) -> impl IntoView {
    let node = NodeRef::<html::Canvas>::new();
    let picture = NodeRef::<html::Canvas>::new();
    let standing = RwSignal::new(Standing::Waiting);
    let player = Player::new(session, standing);
    let last = last_of(scene);
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
        player.rests_at();
        player.is_on();
    });
    let draw_over = move |surface: &Surface, lines: bool| {
        let settings = session.settings.get();
        let protect = protect.get();
        // Words on people and the floor hold for the beginning of a take.
        let words = player.rests_at().is_none() && !player.is_on();
        let options = FrameOptions { lines, whole: settings.whole, protect, words };
        if let Some(scene) = last.get() {
            session.palette.with(|palette| draw_over_frame(surface, palette, &scene, &options));
        }
    };
    let draw = move |surface: &Surface| {
        draw_over(surface, session.settings.with(|settings| settings.lines));
    };
    let draw_lines = move |surface: &Surface| untrack(|| draw_over(surface, true));
    let label = said_in_turn(move || {
        say!("The frame{}. {}{}", player.words(), session.sentence(), take_twin(session))
    });
    let looks = Signal::derive(move || {
        last.track();
        player.rests_at();
        session.settings.track();
    });
    let look = Signal::derive(move || {
        let scene = last.get()?;
        let later = player.rests_at().and_then(|at_s| session.stage_at(at_s));
        let stage = later.as_ref().unwrap_or(&scene.stage);
        if !whole() {
            return Some(Look::of(stage, scene.aspect));
        }
        Some(Look::of(&Stage { view: scene.whole_view_of(stage), ..stage.clone() }, scene.whole_aspect))
    });
    let picker = Picker::new();
    let focus_there = move |event: ev::MouseEvent| {
        let Some(canvas) = node.get_untracked() else { return };
        let (width, height) = box_size(&canvas);
        let (x, y) = pointing::of_pointer(&event);
        picker.ask(x / width, y / height, move |seen| {
            if let Some(seen) = seen {
                focus_at_depth(session, seen.depth_m);
            }
        });
    };
    view! {
        <div class="frame-panel" class:dimmed=move || scene.with(Option::is_none)>
            <div class="frame-box" style:--aspect=live(move || aspect().to_string())>
                <div class="frame" class:late=move || standing.get() == Standing::Waiting on:click=focus_there>
                    <PictureCanvas rank=Rank::Large shows=looks look standing picker node=picture class="picture" />
                    <canvas node_ref=player.screen() class="played" class:on=move || player.is_on() aria-hidden="true"></canvas>
                    <CanvasHost node shows draw=Box::new(draw) while_moving=WhileMoving::Follows label class="over" />
                </div>
                <Trouble standing />
            </div>
            <PlayBar player />
            <MarkHint session />
            <FrameBar session picture standing draw_lines=Box::new(draw_lines) />
        </div>
    }
}

/// What can be done with the frame, and its facts.
#[component]
fn FrameBar(
    session: Session,
    picture: NodeRef<html::Canvas>,
    standing: RwSignal<Standing>,
    draw_lines: Box<dyn Fn(&Surface)>,
) -> impl IntoView {
    let has_own_focus = Memo::new(move |_| session.plan.with(Plan::has_own_focus));
    let settings = session.settings;
    view! {
        <div class="frame-bar">
            <button
                type="button"
                class="toggle"
                aria-pressed=live(move || settings.with(|settings| settings.lines).to_string())
                on:click=move |_| settings.update(|settings| settings.lines = !settings.lines)
            >
                {say!("Lines")}
            </button>
            <button
                type="button"
                class="toggle"
                aria-pressed=live(move || settings.with(|settings| settings.whole).to_string())
                on:click=move |_| settings.update(|settings| settings.whole = !settings.whole)
            >
                {say!("What the crop loses")}
            </button>
            {when(
                move || session.plan.with(|plan| plan.behind.is_some()),
                move || view! {
                    <button
                        type="button"
                        class="toggle"
                        title=live(move || session.plan.with(|plan| {
                            plan.behind.as_ref().map_or_else(String::new, |behind| behind.words.clone())
                        }))
                        aria-pressed=live(move || session.plan.with(|plan| !plan.hides_behind).to_string())
                        on:click=move |_| session.plan.update(|plan| plan.hides_behind = !plan.hides_behind)
                    >
                        {say!("The real place")}
                    </button>
                }.into_any(),
            )}
            <Show when=move || has_own_focus.get()>
                <button
                    type="button"
                    class="toggle"
                    on:click=move |_| session.plan.update(|plan| plan.shot.focus_at_m = None)
                >
                    {say!("Usual focus")}
                </button>
            </Show>
            <SaveStill session picture standing draw_lines />
            <span class="quiet frame-facts">{said_in_turn(move || facts(session))}</span>
        </div>
    }
}

/// What the next click is for, if it is for something else than usual.
#[component]
fn MarkHint(session: Session) -> impl IntoView {
    view! {
        <Show when=move || session.marks_second.get()>
            <div class="mark-hint" role="status">
                <p>{say!("Click what focus is pulled to, in the frame or on the floor plan.")}</p>
                <button type="button" on:click=move |_| session.marks_second.set(false)>{say!("Never mind")}</button>
            </div>
        </Show>
    }
}

/// What is the matter if there is no picture, and what to do about it.
#[component]
fn Trouble(standing: RwSignal<Standing>) -> impl IntoView {
    let pictures = Pictures::here();
    let why = Memo::new(move |_| match standing.get() {
        Standing::Failed(why) => Some(why),
        Standing::Waiting | Standing::Refining | Standing::Finished => None,
    });
    view! {
        <Show when=move || why.with(Option::is_some)>
            <div class="trouble" role="alert">
                <p>
                    {live(move || say!(
                        "There is no picture of this: {}. The figures and the floor plan hold.",
                        why.get().unwrap_or_default()
                    ))}
                </p>
                <button type="button" on:click=move |_| pictures.retry()>
                    {say!("Try again")}
                </button>
            </div>
        </Show>
    }
}

/// The delivered frame in one line: its size, whether its pixels were captured, what the crop gives up.
fn facts(session: Session) -> String {
    let Some(row) = session.chosen.get() else { return String::new() };
    let frame = row.result.outcome.map_or_else(|_| row.result.shot.frame(), |setup| setup.frame);
    let (width, height) = frame.whole_px();
    let pixels = if frame.stretched.is_some() {
        say!("{width} × {height} px stretched")
    } else {
        say!("{width} × {height} px captured")
    };
    let lost = match frame.lost_share() * 100.0 {
        lost if lost < 0.5 => say!("nothing cropped").to_owned(),
        lost => say!("{lost:.0} % cropped"),
    };
    format!("{} · {pixels} · {lost}", words::shape(frame.aspect()))
}
