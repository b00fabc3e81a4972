//! Shot sizes: three large buttons and the rest behind a fourth.

use language::{key, say};
use leptos::html;
use leptos::prelude::*;
use requests::ShotSizeRequest;

use crate::dressing::THING_M;
use crate::session::{Plan, Session};
use crate::setup::words;
use crate::widgets::{Sheet, live, open};

const LARGE: [ShotSizeRequest; 3] = [ShotSizeRequest::Wide, ShotSizeRequest::Medium, ShotSizeRequest::Tight];

/// Every size with what its frame holds, from far to near.
const ALL: [(ShotSizeRequest, &str); 8] = [
    (ShotSizeRequest::ExtremeWide, key!("the figure is a fifth of the frame")),
    (ShotSizeRequest::Wide, key!("the whole figure, air above and below")),
    (ShotSizeRequest::MidThigh, key!("down to the middle of the thigh")),
    (ShotSizeRequest::Medium, key!("from the waist up")),
    (ShotSizeRequest::ChestUp, key!("from the chest up")),
    (ShotSizeRequest::Tight, key!("from the collar up, hair may be cropped")),
    (ShotSizeRequest::ExtremeTight, key!("from brow to chin")),
    (ShotSizeRequest::Insert, key!("a thing")),
];

/// Sets the size, and lets the distance follow from it again.
pub(super) fn set_size(plan: &mut Plan, size: ShotSizeRequest) {
    plan.shot.shot_size = size;
    plan.shot.stand_at_m = None;
    if size == ShotSizeRequest::Insert {
        plan.shot.insert_size_m.get_or_insert(THING_M);
    }
}

/// The size, if none of the large buttons is its own.
fn other(size: ShotSizeRequest) -> Option<ShotSizeRequest> {
    Some(size).filter(|size| !LARGE.contains(size))
}

/// The size buttons.
#[component]
pub(crate) fn SizeRow(session: Session) -> impl IntoView {
    let sheet = NodeRef::<html::Dialog>::new();
    let size = Memo::new(move |_| session.plan.with(|plan| plan.shot.shot_size));
    let pressed = move |one: ShotSizeRequest| live(move || (size.get() == one).to_string());
    let large = LARGE.map(|one| {
        view! {
            <button
                type="button"
                class="size"
                aria-pressed=pressed(one)
                on:click=move |_| session.plan.update(|plan| set_size(plan, one))
            >
                {words::size(one)}
            </button>
        }
    });
    let all = ALL.map(|(one, holds)| {
        view! {
            <button
                type="button"
                class="size-choice"
                aria-pressed=pressed(one)
                on:click=move |_| session.plan.update(|plan| set_size(plan, one))
            >
                <strong>{words::size(one)}</strong>
                <span class="quiet">{language::text(holds)}</span>
            </button>
        }
    });
    view! {
        <div class="sizes" role="group" aria-label=say!("Shot size")>
            {large.collect_view()}
            <button
                type="button"
                class="size"
                aria-pressed=live(move || other(size.get()).is_some().to_string())
                aria-haspopup="dialog"
                on:click=move |_| open(sheet)
            >
                {live(move || other(size.get()).map_or("", words::size).to_owned())}
                <span class="more">{say!("more")}</span>
            </button>
        </div>
        <Sheet node=sheet title=say!("Shot size")>
            <div class="size-choices">{all.collect_view()}</div>
        </Sheet>
    }
}
