//! What the shot places, and what stands near the lens, moved by steps.

use language::say;
use leptos::prelude::*;
use requests::{ForegroundRequest, PieceWord};
use staging::PieceKind;

use crate::dressing::piece_name;
use crate::session::Session;
use crate::setup::words;
use crate::widgets::{StepField, Tick};

/// A plant at the right edge: chosen because most frames have room for it there.
const FIRST_FOREGROUND: ForegroundRequest =
    ForegroundRequest { kind: PieceWord::Plant, ahead_m: 0.5, right_m: 0.35 };

/// Everything that can be dragged and is not the set's, as steps.
#[component]
pub(crate) fn Steps(session: Session) -> impl IntoView {
    let plan = session.plan;
    let length = move |metres: f64| words::length(metres, session.unit());
    let distance = Signal::derive(move || session.setup().map_or(2.0, |setup| setup.distance.to_m()));
    view! {
        <div class="steps">
            <p class="quiet">
                {say!("Walking backwards with a phone needs a spotter. Local rules, and whoever is responsible for the place, \
                      decide what may be done there.")}
            </p>
            <StepField
                label=say!("Phone goes round them")
                range=(0.0, 360.0)
                step=5.0
                value=Signal::derive(move || plan.with(|plan| plan.phone_bearing_deg))
                words=words::degrees
                set=move |degrees| plan.update(|plan| plan.turn_phone(degrees))
            />
            <StepField
                label=say!("Phone's distance")
                range=(0.1, 30.0)
                step=0.1
                value=distance
                words=length
                set=move |metres| plan.update(|plan| plan.shot.stand_at_m = Some(metres))
            />
            <StepField
                label=say!("Background behind them")
                range=(0.2, 60.0)
                step=0.2
                value=Signal::derive(move || plan.with(|plan| plan.shot.background_behind_subject_m))
                words=length
                set=move |metres| plan.update(|plan| plan.shot.background_behind_subject_m = metres)
            />
            <StepField
                label=say!("They face")
                range=(-180.0, 180.0)
                step=5.0
                value=Signal::derive(move || plan.with(|plan| plan.facing_deg))
                words=words::facing
                set=move |degrees| plan.update(|plan| plan.facing_deg = degrees)
            />
            <NearTheLens session />
        </div>
    }
}

/// Whether something stands near the lens, what it is and where.
#[component]
fn NearTheLens(session: Session) -> impl IntoView {
    let length = move |metres: f64| words::length(metres, session.unit());
    let foreground = move || session.plan.with(|plan| plan.set()?.foreground);
    let change = move |what: &'static str, change: &dyn Fn(&mut ForegroundRequest)| {
        session.change_set(None, what, &|plan| {
            if let Some(piece) = &mut plan.set_mut().foreground {
                change(piece);
            }
        });
    };
    let kind_name = move || foreground().map_or("", |piece| piece_name(piece.kind.into()));
    let kinds = move || {
        let options = PieceKind::ALL.map(|kind| {
            let name = piece_name(kind);
            view! { <option value=name selected=move || kind_name() == name>{name}</option> }
        });
        options.collect_view()
    };
    let set_kind = move |name: String| {
        if let Some(kind) = PieceKind::ALL.into_iter().find(|kind| piece_name(*kind) == name) {
            change("kind", &|piece| piece.kind = kind.into());
        }
    };
    view! {
        <Tick
            words=say!("Something near the lens")
            is_on=Signal::derive(move || foreground().is_some())
            set=move |is_on: bool| session.change_set(None, "near the lens", &|plan| {
                plan.set_mut().foreground = is_on.then_some(FIRST_FOREGROUND);
            })
        />
        <Show when=move || foreground().is_some()>
            <label class="field">
                <span>{say!("What it is")}</span>
                <select on:change:target=move |event| set_kind(event.target().value())>{kinds}</select>
            </label>
            <StepField
                label=say!("Its distance")
                range=(0.1, 10.0)
                step=0.1
                value=Signal::derive(move || foreground().map_or(0.5, |piece| piece.ahead_m))
                words=length
                set=move |metres| change("ahead", &|piece| piece.ahead_m = metres)
            />
            <StepField
                label=say!("Its place to the right")
                range=(-5.0, 5.0)
                step=0.05
                value=Signal::derive(move || foreground().map_or(0.0, |piece| piece.right_m))
                words=length
                set=move |metres| change("right", &|piece| piece.right_m = metres)
            />
        </Show>
    }
}
