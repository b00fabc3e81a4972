//! What will not work about the chosen setup, with a button for each way to mend it.

use film::Finding;
use language::say;
use leptos::prelude::*;

use crate::session::{Session, result};
use crate::setup::mend::{Mend, mends};
use crate::setup::take::take_mends;
use crate::setup::words;
use crate::turns::in_turn;
use crate::widgets::{finding_card, live};

/// The findings on the chosen setup.
#[component]
pub(crate) fn FindingList(session: Session) -> impl IntoView {
    let found = in_turn(move || found(session));
    let cards = move || {
        found.with(|found| {
            found.iter().map(|(finding, ways)| card(session, finding, ways)).collect::<Vec<AnyView>>()
        })
    };
    let standing = move || session.plan.with(|plan| plan.shot.stand_at_m.is_some());
    view! {
        <ul class="findings" aria-label=say!("What to look at")>
            <Show when=standing>
                <li class="finding notes">
                    <p>{live(move || say!("The phone stays where you put it, so the frame is not quite {}.", size_name(session)))}</p>
                    <div class="mends">
                        <button
                            type="button"
                            class="mend"
                            on:click=move |_| session.plan.update(|plan| plan.shot.stand_at_m = None)
                        >
                            {live(move || say!("Back to {}", size_name(session)))}
                        </button>
                    </div>
                </li>
            </Show>
            {cards}
        </ul>
    }
}

/// What is found on the chosen setup and its take, in words, each with its ways to mend it.
fn found(session: Session) -> Vec<(Finding, Vec<Mend>)> {
    let (unit, kit) = (session.unit(), session.owned.get());
    let (row, rows, plan) = (session.chosen.get(), session.rows.get(), session.plan.get());
    let Some(result) = result(row.as_ref()) else { return Vec::new() };
    let of_setup =
        result.findings.iter().map(|found| (found.to_finding(unit), mends(found, &plan, &kit, &rows)));
    let of_take = plan.take_findings(result);
    let of_take =
        of_take.iter().map(|found| (found.to_finding(unit), take_mends(found, &plan, &kit, result)));
    of_setup.chain(of_take).collect()
}

/// One finding with its ways to mend it.
fn card(session: Session, finding: &Finding, ways: &[Mend]) -> AnyView {
    let buttons = ways.iter().cloned().map(|mend| {
        let name = mend_name(session, &mend);
        view! {
            <button type="button" class="mend" on:click=move |_| session.plan.update(|plan| mend.apply(plan))>
                {name}
            </button>
        }
    });
    let mends = view! { <div class="mends">{buttons.collect_view()}</div> };
    finding_card(finding, Some(mends.into_any()))
}

fn size_name(session: Session) -> &'static str {
    words::size(session.plan.with(|plan| plan.shot.shot_size))
}

fn mend_name(session: Session, mend: &Mend) -> String {
    match mend {
        Mend::Height(metres) => say!("Phone {} high", words::length(*metres, session.unit())),
        Mend::Aim => say!("Aim for the framing").to_owned(),
        Mend::AdapterOff => say!("Take the adapter off").to_owned(),
        Mend::Stand(metres) => say!("Stand at {}", words::length(*metres, session.unit())),
        Mend::FocusOnSubject => say!("Focus on the subject").to_owned(),
        Mend::Centre => say!("Place them in the middle").to_owned(),
        Mend::Go(way) => way.title().to_owned(),
        Mend::Turn(degrees) => say!("As fast as it may: {degrees:.1}° a second"),
        Mend::PullTo(metres) => say!("Pull to {}", words::length(*metres, session.unit())),
        Mend::Lasts(seconds) => say!("End it after {seconds:.1} s"),
        Mend::Record(mode) => say!("Record in {mode}"),
        Mend::Adapter(called) | Mend::Lens { called, .. } => say!("Use {called}"),
    }
}
