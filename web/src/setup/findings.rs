//! What will not work about the chosen setup, with a button for each way to mend it.

use film::Finding;
use leptos::prelude::*;

use crate::session::{Session, lens_name, result};
use crate::setup::mend::{Mend, mends};
use crate::setup::take::take_mends;
use crate::setup::words;
use crate::widgets::{finding_card, live};

/// The findings on the chosen setup.
#[component]
pub(crate) fn FindingList(session: Session) -> impl IntoView {
    let findings = Memo::new(move |_| {
        session
            .chosen
            .with(|row| result(row.as_ref()).map(|result| result.findings.clone()).unwrap_or_default())
    });
    let cards = move || {
        let found = findings.get().into_iter().map(|found| {
            let ways =
                session.plan.with(|plan| mends(&found, plan, &session.owned.get(), &session.rows.get()));
            card(session, &found.to_finding(session.unit()), ways)
        });
        found.collect::<Vec<AnyView>>()
    };
    let take_cards = move || {
        let row = session.chosen.get();
        let Some(result) = result(row.as_ref()) else { return Vec::new() };
        let plan = session.plan.get();
        let found = plan.take_findings(result).into_iter().map(|found| {
            let ways = take_mends(&found, &plan, &session.owned.get(), result);
            card(session, &found.to_finding(session.unit()), ways)
        });
        found.collect()
    };
    let standing = move || session.plan.with(|plan| plan.shot.stand_at_m.is_some());
    view! {
        <ul class="findings" aria-label="What to look at">
            <Show when=standing>
                <li class="finding notes">
                    <p>{live(move || format!("The phone stays where you put it, so the frame is not quite {}.", size_name(session)))}</p>
                    <div class="mends">
                        <button
                            type="button"
                            class="mend"
                            on:click=move |_| session.plan.update(|plan| plan.shot.stand_at_m = None)
                        >
                            {live(move || format!("Back to {}", size_name(session)))}
                        </button>
                    </div>
                </li>
            </Show>
            {cards}
            {take_cards}
        </ul>
    }
}

/// One finding with its ways to mend it.
fn card(session: Session, finding: &Finding, ways: Vec<Mend>) -> AnyView {
    let buttons = ways.into_iter().map(|mend| {
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
        Mend::Height(metres) => format!("Phone {} high", words::length(*metres, session.unit())),
        Mend::Aim => "Aim for the framing".to_owned(),
        Mend::AdapterOff => "Take the adapter off".to_owned(),
        Mend::FocusOnSubject => "Focus on the subject".to_owned(),
        Mend::Centre => "Place them in the middle".to_owned(),
        Mend::Go(way) => way.title().to_owned(),
        Mend::Turn(degrees) => format!("As fast as it may: {degrees:.1}° a second"),
        Mend::PullTo(metres) => format!("Pull to {}", words::length(*metres, session.unit())),
        Mend::Lasts(seconds) => format!("End it after {seconds:.1} s"),
        Mend::Record(mode) => format!("Record in {mode}"),
        Mend::Row(row, _) => format!("Use {}", lens_name(&session.owned.get(), row)),
    }
}
