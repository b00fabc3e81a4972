//! Two copies of a film side by side: what comes, what differs, and what is taken over.

use std::collections::BTreeSet;

use film::{Difference, Merge, MergeAdd, MergeChoices, MergePart, OpenedFilm, open_film};
use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::films::Desk;
use crate::story::start::{FILM_FILES, refusal, refused_told};
use crate::story::tell;
use crate::story::words::capital;
use crate::widgets::{FileButton, Sheet, SheetLeft, Tick, bytes_of, close, live, open, when};

/// Another copy of the film from a file.
#[component]
pub(in crate::story) fn FromCopy(desk: Desk) -> impl IntoView {
    let theirs = RwSignal::new(None::<OpenedFilm>);
    let refused = RwSignal::new(None::<String>);
    let bring = move |file: web_sys::File| {
        refused.set(None);
        leptos::task::spawn_local(async move {
            let read = match bytes_of(&file).await {
                Ok(bytes) => open_film(&bytes).map_err(|error| error.to_string()),
                Err(why) => Err(why.to_owned()),
            };
            match read {
                Ok(opened) => {
                    theirs.try_set(Some(opened));
                }
                Err(why) => {
                    refused.try_set(Some(refusal(&file, &why)));
                }
            }
        });
    };
    view! {
        <FileButton words=say!("Put it together with another copy") accept=FILM_FILES bring />
        {refused_told(refused)}
        {when(move || theirs.with(Option::is_some), move || view! {
            {theirs.get_untracked().map(|opened| view! {
                <MergeSheet desk theirs=StoredValue::new(opened) done=move |_| theirs.set(None) />
            })}
        }.into_any())}
    }
}

/// The two copies, to choose from; `done` is told whether they were put together.
#[component]
pub(super) fn MergeSheet(
    desk: Desk,
    theirs: StoredValue<OpenedFilm>,
    #[prop(into)] done: Callback<bool>,
) -> impl IntoView {
    let node = NodeRef::<html::Dialog>::new();
    let is_done = StoredValue::new(false);
    let left = move || {
        is_done.try_get_value().and_then(|is_done| done.try_run(is_done));
    };
    provide_context(SheetLeft(StoredValue::new_local(Box::new(left))));
    Effect::new(move |_| {
        if node.get().is_some() {
            open(node);
        }
    });
    let mine = desk.film.get_untracked();
    let merge = mine.map(|mine| theirs.with_value(|theirs| Merge::of(&mine, &theirs.film)));
    let merge = StoredValue::new(merge);
    let choices = RwSignal::new(MergeChoices::default());
    let put_together = move |_| {
        let command = merge.with_value(|merge| Some(merge.as_ref()?.command(&choices.get_untracked())));
        if let Some(command) = command {
            let outcome = desk.change(say!("Put two copies together"), None, command);
            desk.end_gesture();
            is_done.set_value(outcome.is_ok());
            tell(desk, outcome);
        }
        close(node);
    };
    let lists = merge.with_value(|merge| {
        let merge = merge.as_ref()?;
        let adds: Vec<MergeAdd> = merge.adds().to_vec();
        let differences: Vec<Difference> = merge.differences().to_vec();
        Some((adds, differences, merge.is_of_one_film(), merge.only_mine()))
    });
    let (adds, differences, is_of_one_film, only_mine) = lists.unwrap_or_default();
    let is_nothing = adds.is_empty() && differences.is_empty();
    let all: BTreeSet<MergePart> = differences.iter().map(|difference| difference.part).collect();
    let all = StoredValue::new(all);
    let stranger = (!is_of_one_film).then(|| {
        view! {
            <p class="problem">
                {say!(
                    "The two share no scene and no shot: they are two films, and this would put all of the other one \
                     into yours. To have them apart, open it as a file instead."
                )}
            </p>
        }
    });
    let problems = theirs.with_value(|theirs| {
        let problems = theirs.problems.iter().map(|problem| view! { <li>{problem.to_string()}</li> });
        problems.collect_view()
    });
    let damage = (!problems.is_empty()).then(|| {
        view! {
            <div class="story-problems">
                <p>{say!("What is wrong with the other copy:")}</p>
                <ul>{problems}</ul>
            </div>
        }
    });
    let has_differences = !differences.is_empty();
    let stays = (only_mine > 0).then(|| {
        let words = say!("{only_mine} things that only yours has stay as they are.");
        view! { <p class="quiet">{words}</p> }
    });
    view! {
        <Sheet node title=say!("Two copies of a film")>
            {stranger}
            {damage}
            {is_nothing.then(|| view! { <p>{say!("The other copy brings nothing that yours does not have.")}</p> })}
            <Adds adds choices />
            {has_differences.then(|| view! {
                <section class="story-differences" aria-labelledby="story-differences">
                    <h3 id="story-differences">{say!("Not alike")}</h3>
                    <p class="quiet">{say!("Yours stays unless you take theirs.")}</p>
                    <p class="difference-buttons">
                        <button type="button" on:click=move |_| choices.update(|choices| choices.theirs = all.get_value())>
                            {say!("Theirs for all")}
                        </button>
                        <button type="button" on:click=move |_| choices.update(|choices| choices.theirs.clear())>
                            {say!("Yours for all")}
                        </button>
                    </p>
                    {differences.into_iter().map(|one| view! { <OneDifference one choices /> }).collect_view()}
                </section>
            })}
            {stays}
            <p>
                <button type="button" class="next" disabled=is_nothing on:click=put_together>
                    {say!("Put them together")}
                </button>
            </p>
            <p class="quiet">{say!("It is one step, which Undo takes back.")}</p>
        </Sheet>
    }
}

/// What only theirs has; each comes unless it is not wanted.
#[component]
fn Adds(adds: Vec<MergeAdd>, choices: RwSignal<MergeChoices>) -> impl IntoView {
    if adds.is_empty() {
        return ().into_any();
    }
    let rows = adds.into_iter().map(|MergeAdd { part, what }| {
        let set = move |is_on: bool| {
            choices.update(|choices| {
                if is_on {
                    choices.without.remove(&part);
                } else {
                    choices.without.insert(part);
                }
            });
        };
        let is_on = Signal::derive(move || choices.with(|choices| !choices.without.contains(&part)));
        view! { <li><Tick words=capital(&what) is_on set /></li> }
    });
    let rows = rows.collect_view();
    view! {
        <section aria-labelledby="story-adds">
            <h3 id="story-adds">{say!("What comes")}</h3>
            <ul>{rows}</ul>
        </section>
    }
    .into_any()
}

/// One part that both have, and what each says of it.
#[component]
fn OneDifference(one: Difference, choices: RwSignal<MergeChoices>) -> impl IntoView {
    let Difference { part, what, fields } = one;
    let is_theirs = Signal::derive(move || choices.with(|choices| choices.theirs.contains(&part)));
    let take = move |theirs: bool| {
        choices.update(|choices| {
            if theirs {
                choices.theirs.insert(part);
            } else {
                choices.theirs.remove(&part);
            }
        });
    };
    let rows = fields.into_iter().map(|field| {
        view! {
            <tr>
                <th scope="row">{capital(&field.name)}</th>
                <td>{field.mine}</td>
                <td>{field.theirs}</td>
            </tr>
        }
    });
    let rows = rows.collect_view();
    let named = capital(&what);
    let (yours, theirs) = (say!("Yours: {what}"), say!("Theirs: {what}"));
    view! {
        <div class="story-difference">
            <table>
                <caption>{named}</caption>
                <thead><tr><td></td><th scope="col">{say!("Yours")}</th><th scope="col">{say!("Theirs")}</th></tr></thead>
                <tbody>{rows}</tbody>
            </table>
            <div class="story-start-ways" role="group">
                <button type="button" aria-label=yours aria-pressed=live(move || (!is_theirs.get()).to_string()) on:click=move |_| take(false)>
                    {say!("Yours")}
                </button>
                <button type="button" aria-label=theirs aria-pressed=live(move || is_theirs.get().to_string()) on:click=move |_| take(true)>
                    {say!("Theirs")}
                </button>
            </div>
        </div>
    }
}
