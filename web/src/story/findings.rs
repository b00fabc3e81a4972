//! What will not cut in a scene: each finding beside its numbers, its reason and what would mend it.

use std::collections::BTreeSet;

use film::{
    Command, EntryId, Film, Finding, Kept, KeptAt, Mend, PlacedFinding, Scene, SceneId, Severity, ShotId,
};
use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::session::Session;
use crate::story::explanations::CUTS;
use crate::story::tell;
use crate::widgets::{label_and_text, live, when};

/// Findings of a scene: those to look at, and those that are kept anyway with their reasons.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Found {
    pub(super) open: Vec<PlacedFinding>,
    kept: Vec<(PlacedFinding, Kept)>,
}

/// What is found in a scene as it is now.
pub(super) fn found(desk: Desk, id: SceneId) -> Memo<Found> {
    Memo::new(move |_| {
        desk.film
            .with(|film| {
                let film = film.as_ref()?;
                let scene = film.scene(id)?;
                let views = desk.views(film, scene);
                let sorted = film::sort_findings(scene, film::check_cut(film, scene, &views));
                let kept = sorted.kept.into_iter().map(|(placed, kept)| (placed, kept.clone())).collect();
                Some(Found { open: sorted.open, kept })
            })
            .unwrap_or_default()
    })
}

impl Found {
    /// Entries that do not cut with the one before them.
    pub(super) fn cuts(&self) -> BTreeSet<EntryId> {
        let asks = self.open.iter().filter(|placed| placed.finding.severity() != Severity::Notes);
        let cuts = asks.filter_map(|placed| match placed.at {
            KeptAt::Cut(_, entry) => Some(entry),
            KeptAt::Scene | KeptAt::Shot(_) => None,
        });
        cuts.collect()
    }
}

/// The list, the worst first.
#[component]
pub(super) fn SceneFindings(
    session: Session,
    desk: Desk,
    id: SceneId,
    found: Memo<Found>,
    chosen: RwSignal<Option<ShotId>>,
) -> impl IntoView {
    let of = move |is_note: bool| {
        Memo::new(move |_| {
            let mut open: Vec<PlacedFinding> = found.with(|found| found.open.clone());
            open.retain(|placed| (placed.finding.severity() == Severity::Notes) == is_note);
            open.sort_by_key(|placed| std::cmp::Reverse(placed.finding.severity()));
            open
        })
    };
    let (warnings, notes) = (of(false), of(true));
    let cards = move |list: Memo<Vec<PlacedFinding>>| {
        move || {
            let unit = session.unit();
            let card = |placed: PlacedFinding| {
                let told = |film: &Option<Film>| Some(placed.finding.to_finding(film.as_ref()?, unit));
                let said = desk.film.with_untracked(told)?;
                Some(view! { <FindingCard desk id placed said chosen /> })
            };
            list.get().into_iter().filter_map(card).collect_view()
        }
    };
    let headline = live(move || match warnings.with(Vec::len) {
        0 => say!("Everything here cuts together.").to_owned(),
        1 => say!("One thing to look at.").to_owned(),
        count => say!("{count} things to look at."),
    });
    let (label, explanation) = label_and_text(headline, &CUTS);
    view! {
        <div class="cut-findings">
            <p role="status">{label}</p>
            {explanation}
            {cards(warnings)}
            {when(move || !notes.with(Vec::is_empty), move || view! {
                <details class="fold">
                    <summary>{live(move || say!("Worth knowing ({})", notes.with(Vec::len)))}</summary>
                    <div class="cut-findings">{cards(notes)}</div>
                </details>
            }.into_any())}
            {when(move || found.with(|found| !found.kept.is_empty()), move || view! { <KeptList session desk id found /> }.into_any())}
        </div>
    }
}

/// Where in the scene a finding is, in words.
fn place(scene: &Scene, at: KeptAt) -> String {
    let number = |shot: ShotId| scene.shots.iter().position(|one| one.id == shot).map_or(0, |at| at + 1);
    let entry =
        |id: EntryId| scene.cut.iter().find(|entry| entry.id == id).map_or(0, |entry| number(entry.shot));
    match at {
        KeptAt::Scene => say!("The scene").to_owned(),
        KeptAt::Shot(shot) => say!("Shot {}", number(shot)),
        KeptAt::Cut(before, after) => say!("From {} to {}", entry(before), entry(after)),
    }
}

/// What mends a finding in the scene as it is now.
fn mends_now(desk: Desk, id: SceneId, placed: &PlacedFinding) -> Vec<Mend> {
    let mends = desk.film.with_untracked(|film| {
        let film = film.as_ref()?;
        let scene = film.scene(id)?;
        Some(film::mends(film, scene, &desk.views(film, scene), placed, &mut desk.fresh_ids()))
    });
    mends.unwrap_or_default()
}

/// One finding: what, why, and what can be done.
#[component]
fn FindingCard(
    desk: Desk,
    id: SceneId,
    placed: PlacedFinding,
    said: Finding,
    chosen: RwSignal<Option<ShotId>>,
) -> impl IntoView {
    let class = match said.severity {
        Severity::Fails => "cut-finding fails",
        Severity::Warns => "cut-finding warns",
        Severity::Notes => "cut-finding",
    };
    let keeps = RwSignal::new(false);
    let reason = RwSignal::new(String::new());
    let mends = mends_now(desk, id, &placed);
    let (place, shot) = desk.film.with_untracked(|film| {
        let parts = film.as_ref().and_then(|film| {
            let scene = film.scene(id)?;
            let shot = match placed.at {
                KeptAt::Scene => None,
                KeptAt::Shot(shot) => Some(shot),
                KeptAt::Cut(_, entry) => scene.cut.iter().find(|one| one.id == entry).map(|entry| entry.shot),
            };
            Some((place(scene, placed.at), shot))
        });
        parts.unwrap_or_default()
    });
    let mends = mends.into_iter().take(MOST_MENDS).map(|mend| {
        let words = StoredValue::new(mend.words.clone());
        let apply = move |_| {
            // A mend holds whole shots, and somebody may have changed them since it was offered: so it is found anew.
            let found = mends_now(desk, id, &placed);
            let same = words.with_value(|words| found.into_iter().find(|mend| mend.words == *words));
            if let Some(mend) = same {
                tell(desk, desk.change(say!("Mend"), Some(id.number()), mend.command));
            }
        };
        view! {
            <button type="button" on:click=apply>
                {mend.words}
            </button>
        }
    });
    let keep = move |_| {
        let kept = desk.film.with_untracked(|film| Some(film.as_ref()?.scene(id)?.kept.clone()));
        let Some(mut kept) = kept else { return };
        let why = reason.get_untracked();
        kept.push(Kept {
            rule: placed.finding.rule().to_owned(),
            at: placed.at,
            reason: why.trim().to_owned(),
        });
        tell(desk, desk.change(say!("Keep anyway"), Some(id.number()), Command::SetKept { scene: id, kept }));
    };
    view! {
        <article class=class>
            <p><strong>{format!("{place}: {}", said.message)}</strong></p>
            <p class="quiet">{placed.finding.reason()}</p>
            <p>{say!("To mend it: {}.", said.hint)}</p>
            <div class="cut-finding-doing">
                {mends.collect_view()}
                {shot.map(|shot| view! {
                    <button type="button" on:click=move |_| chosen.set(Some(shot))>{say!("Show the shot")}</button>
                })}
                <button type="button" aria-expanded=live(move || keeps.get().to_string()) on:click=move |_| keeps.update(|keeps| *keeps = !*keeps)>
                    {say!("Keep anyway")}
                </button>
            </div>
            {when(move || keeps.get(), move || view! {
                <div class="cut-finding-doing">
                    <label class="field">
                        <span>{say!("Why it stays")}</span>
                        <input type="text" maxlength="500" prop:value=reason on:input:target=move |event| reason.set(event.target().value()) />
                    </label>
                    <button type="button" disabled=move || reason.with(|reason| reason.trim().is_empty()) on:click=keep>{say!("Keep it")}</button>
                </div>
            }.into_any())}
        </article>
    }
}

/// Mends that are offered for one finding: chosen because more is a list to read.
const MOST_MENDS: usize = 2;

/// What is kept anyway, with why.
#[component]
fn KeptList(session: Session, desk: Desk, id: SceneId, found: Memo<Found>) -> impl IntoView {
    let unit = session.unit();
    let rows = move || {
        let kept = found.with(|found| found.kept.clone());
        let row = |(placed, kept): (PlacedFinding, Kept)| {
            let told = |film: &Option<Film>| Some(placed.finding.to_finding(film.as_ref()?, unit).message);
            let words = desk.film.with_untracked(told);
            let why = say!("Kept: {}", kept.reason);
            let again = move |_| {
                let all = desk.film.with_untracked(|film| Some(film.as_ref()?.scene(id)?.kept.clone()));
                let Some(mut all) = all else { return };
                all.retain(|one| *one != kept);
                tell(
                    desk,
                    desk.change(
                        say!("Look at it again"),
                        Some(id.number()),
                        Command::SetKept { scene: id, kept: all },
                    ),
                );
            };
            view! {
                <li>
                    <p>{words}</p>
                    <p class="quiet">{why}</p>
                    <button type="button" on:click=again>{say!("Look at it again")}</button>
                </li>
            }
        };
        kept.into_iter().map(row).collect_view()
    };
    view! {
        <details class="fold">
            <summary>{live(move || say!("Kept anyway ({})", found.with(|found| found.kept.len())))}</summary>
            <ul class="cut-findings">{rows}</ul>
        </details>
    }
}

/// What the story still lacks, gently.
#[component]
pub(super) fn StoryLacks(desk: Desk) -> impl IntoView {
    let lacks = Memo::new(move |_| {
        desk.film
            .with(|film| {
                film.as_ref().map(|film| {
                    film::story_lacks(film).iter().map(|lack| lack.words(film)).collect::<Vec<String>>()
                })
            })
            .unwrap_or_default()
    });
    view! {
        <Show when=move || !lacks.with(Vec::is_empty)>
            <section class="story-lacks" aria-label=say!("What the story still lacks")>
                <h2>{say!("What the story may still want")}</h2>
                <ul>{move || lacks.get().into_iter().map(|words| view! { <li>{words}</li> }).collect_view()}</ul>
            </section>
        </Show>
    }
}
