//! Running late: the rest of the day planned anew from later on, and what that costs.

use language::say;
use leptos::prelude::*;

use super::as_planned::lost;
use super::clock::{Clock, clock};
use super::doing::run_late;
use super::explanations::LATE;
use super::hand::Hand;
use crate::widgets::{label_and_text, live, when};

/// The buttons, and what comes of being late.
#[component]
pub(super) fn Late(hand: Hand) -> impl IntoView {
    let now = clock();
    let later = move |minutes: f64| {
        if let Some(plan) = hand.shooting().plan.get_untracked() {
            hand.change(&say!("Run {minutes} min late"), |day| run_late(day, &plan, minutes));
        }
    };
    let is_now = move |_| {
        let at = Clock::now();
        now.set(at.clone());
        hand.change(say!("Go on from now"), |day| day.resumes_min = Some(at.minute_of(day)));
    };
    let is_off = Memo::new(move |_| hand.of_day(|day| day.resumes_min.is_some()).unwrap_or(false));
    let is_over = Memo::new(move |_| hand.read(|_, _, plan| plan.jobs.is_empty()).unwrap_or(true));
    let told = move || {
        // Read even while there is no delay, so that the plan of now is the one that a delay is compared with.
        let on_time = hand.as_planned()?;
        let is_off = is_off.get();
        hand.read(|film, _, plan| is_off.then(|| lost(film, plan, &on_time.plan))).flatten()
    };
    when(
        move || !is_over.get() || is_off.get(),
        move || {
            let (label, explanation) = label_and_text(say!("Running late?").into(), &LATE);
            view! {
                <section class="day-part day-lateness" aria-label=say!("Running late?")>
                    <h3>{label}</h3>
                    {explanation}
                    <div class="day-buttons">
                        {[10.0, 30.0].map(|minutes| view! {
                            <button type="button" on:click=move |_| later(minutes)>{say!("+{minutes} min")}</button>
                        })}
                        <button type="button" on:click=is_now>
                            {live(move || say!("It is {} now", film::clock(now.with(|now| now.minute))))}
                        </button>
                        {when(move || is_off.get(), move || {
                            let name = say!("As planned again");
                            let on_time = move |_| hand.change(name, |day| day.resumes_min = None);
                            view! { <button type="button" on:click=on_time>{name}</button> }.into_any()
                        })}
                    </div>
                    <div role="status" class="day-lost">
                        {move || told().map(|told| told.into_iter().map(|line| view! { <p>{line}</p> }).collect_view())}
                    </div>
                </section>
            }
            .into_any()
        },
    )
}
