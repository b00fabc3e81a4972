//! One shot in the list: its picture, what it is, what is the matter with it.

use std::sync::Arc;

use film::{Priority, Scene, SceneId, Severity, Shot, ShotId, Sound};
use language::say;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;

use crate::films::Desk;
use crate::part::Part;
use crate::pictures::{PictureCanvas, Rank, Standing};
use crate::session::Session;
use crate::story::link::open_in_setup;
use crate::story::near::WhenNear;
use crate::story::shots::{move_shot, take_up};
use crate::story::strip::{depends, look};
use crate::story::words;
use crate::widgets::{live, when};

/// What a row says, made from the film at once.
#[derive(Debug, Clone, PartialEq, Default)]
struct RowWords {
    number: String,
    what: String,
    from: String,
    on: String,
    seconds: String,
    more: String,
    action: String,
    trouble: String,
}

/// One shot of a scene.
#[component]
pub(super) fn ShotRow(
    session: Session,
    desk: Desk,
    scene_id: SceneId,
    scene: Memo<Option<Part<Scene>>>,
    one: ShotId,
    chosen: RwSignal<Option<ShotId>>,
    edit: Callback<ShotId>,
) -> impl IntoView {
    let shot = Memo::new(move |_| scene.with(|scene| scene.as_ref()?.shot(one).cloned().map(Part)));
    let said = Memo::new(move |_| row_words(session, desk, scene_id, one).unwrap_or_default());
    let part = move |read: fn(&RowWords) -> &String| live(move || said.with(|said| read(said).clone()));
    let picture = ViewFn::from(move || {
        let shows = depends(desk, scene, Signal::derive(move || shot.get()));
        let look = Signal::derive(move || look(desk, scene_id, one, 0.0));
        let standing = RwSignal::new(Standing::Waiting);
        view! { <PictureCanvas rank=Rank::Small shows look standing class="shot-picture" /> }.into_any()
    });
    let handle = NodeRef::<html::Button>::new();
    let name = live(move || said.with(|said| say!("Shot {}: {}", said.number, said.what)));
    let is_chosen = move || chosen.get() == Some(one);
    let is_dropped = Memo::new(move |_| shot.with(|shot| shot.as_ref().is_some_and(|shot| shot.is_dropped)));
    view! {
        <li class="shot" class:chosen=is_chosen aria-label=name>
            <button
                type="button"
                class="shot-main"
                aria-haspopup="dialog"
                aria-label=live(move || say!("Edit shot {}", said.with(|said| said.number.clone())))
                on:click=move |_| edit.run(one)
            >
                <WhenNear class="shot-frame" content=picture />
                <span class="shot-words">
                    <strong><span class="shot-number">{part(|said| &said.number)}</span>{part(|said| &said.what)}</strong>
                    <span class="quiet">{part(|said| &said.from)}</span>
                    <span class="quiet">{part(|said| &said.on)}</span>
                    <span>{part(|said| &said.action)}</span>
                    <span class="quiet">{part(|said| &said.more)}</span>
                    <span class="problem">{part(|said| &said.trouble)}</span>
                </span>
                <span class="shot-seconds">{part(|said| &said.seconds)}</span>
            </button>
            <div class="shot-buttons">
                {when(move || is_dropped.get(), move || view! {
                    <button type="button" on:click=move |_| take_up(desk, one)>{say!("Take it up again")}</button>
                }.into_any())}
                <button type="button" on:click=move |_| open_in_setup(session, desk, one)>{say!("Set it up")}</button>
                <DragHandle desk scene_id one handle name />
            </div>
        </li>
    }
}

/// What a row says.
fn row_words(session: Session, desk: Desk, scene_id: SceneId, one: ShotId) -> Option<RowWords> {
    let unit = session.unit();
    desk.film.with(|film| {
        let film = film.as_ref()?;
        let scene = film.scene(scene_id)?;
        let shot: &Arc<Shot> = scene.shot(one)?;
        let at = scene.shots.iter().position(|other| other.id == one)?;
        let rehearsal = desk.rehearsal(film, scene, shot);
        let subject = rehearsal.as_ref().as_ref().ok().and_then(|rehearsal| rehearsal.subject);
        let side = subject.map(|one| words::side(shot.side, one.person.facing));
        let height = Some(words::height(shot.height, unit)).filter(|words| !words.is_empty());
        let from = [side.map(str::to_owned), height];
        let trouble = rehearsal.as_ref().as_ref().ok().and_then(|rehearsal| {
            let worst = rehearsal.result().worst().filter(|finding| finding.severity() != Severity::Notes)?;
            Some(words::capital(worst.brief()))
        });
        let more = [
            (shot.sound != Sound::None).then(|| shot.sound.name()),
            shot.movement.map(|_| say!("the phone moves")),
            shot.foreground.map(|_| say!("something near the lens")),
            shot.capture_rate.map(|_| say!("slow motion")),
            (shot.priority == Priority::NiceToHave).then_some(say!("nice to have")),
            shot.is_dropped.then_some(say!("given up")),
        ];
        Some(RowWords {
            number: (at + 1).to_string(),
            what: words::shot(film, shot),
            from: words::capital(&from.into_iter().flatten().collect::<Vec<_>>().join(", ")),
            on: words::capital(&words::on_lens(film, shot, rehearsal.as_ref(), unit)),
            seconds: words::seconds(shot.planned_s),
            more: words::capital(&more.into_iter().flatten().collect::<Vec<_>>().join(", ")),
            action: shot.action.clone(),
            trouble: trouble.unwrap_or_default(),
        })
    })
}

/// A handle that moves a shot in the list: dragged up and down, or by the arrow keys.
#[component]
fn DragHandle(
    desk: Desk,
    scene_id: SceneId,
    one: ShotId,
    handle: NodeRef<html::Button>,
    name: Signal<String>,
) -> impl IntoView {
    // Where the pointer was when the row came to where it is.
    let from_y = StoredValue::new(None::<f64>);
    let press = move |event: ev::PointerEvent| {
        if event.button() != 0 {
            return;
        }
        if let Some(button) = handle.get_untracked() {
            event.prevent_default();
            // Without the capture a drag ends where the row's edge does.
            drop(button.set_pointer_capture(event.pointer_id()));
            drop(button.focus());
            // However slowly it is dragged, it is taken back as one.
            desk.end_gesture();
            desk.begin_gesture();
            from_y.set_value(Some(f64::from(event.client_y())));
        }
    };
    let end = move || {
        from_y.set_value(None);
        desk.end_gesture();
    };
    let drag = move |event: ev::PointerEvent| {
        let (Some(from), Some(button)) = (from_y.get_value(), handle.get_untracked()) else { return };
        // It may have been let go where nobody heard of it.
        if event.buttons() == 0 {
            return end();
        }
        let Ok(Some(row)) = button.closest("li") else { return };
        let height = row.get_bounding_client_rect().height().max(1.0);
        let by = (f64::from(event.client_y()) - from) / height;
        if by.abs() >= 0.6 {
            let step: isize = if by > 0.0 { 1 } else { -1 };
            move_shot(desk, scene_id, one, step);
            from_y.set_value(Some(from + if by > 0.0 { height } else { -height }));
            // A row that is moved in the page loses the pointer.
            request_animation_frame(move || drop(button.set_pointer_capture(event.pointer_id())));
        }
    };
    view! {
        <button
            type="button"
            class="shot-handle"
            node_ref=handle
            aria-label=live(move || say!("Drag to move: {}. Arrow keys do too.", name.get()))
            on:pointerdown=press
            on:pointermove=drag
            on:pointerup=move |_| end()
            on:pointercancel=move |_| end()
            on:keydown=move |event| {
                let by = match event.key().as_str() {
                    "ArrowUp" => -1,
                    "ArrowDown" => 1,
                    _ => return,
                };
                event.prevent_default();
                move_shot(desk, scene_id, one, by);
            }
        >
            {say!("Drag")}
        </button>
    }
}
