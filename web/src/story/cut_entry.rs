//! What can be changed of one entry of a cut: where it is, which stretch of its shot it shows.

use film::{Command, Entry, EntryId, Scene, SceneId, Stretch};
use language::say;
use leptos::prelude::*;

use crate::films::Desk;
use crate::part::Part;
use crate::story::strip::{entry_of, shift_entry};
use crate::story::{tell, words};
use crate::widgets::{StepField, live};

/// The least that an entry lasts, seconds: a few frames.
const SHORTEST_S: f64 = 0.2;

/// Changes the cut of a scene.
fn change_cut(desk: Desk, id: SceneId, what: &str, change: impl FnOnce(&mut Vec<Entry>)) {
    let cut = desk.film.with_untracked(|film| Some(film.as_ref()?.scene(id)?.cut.clone()));
    let Some(mut cut) = cut else { return };
    change(&mut cut);
    tell(desk, desk.change(what, Some(id.number()), Command::SetCut { scene: id, cut }));
}

/// The entry that is chosen.
#[component]
pub(super) fn EntryPanel(
    desk: Desk,
    id: SceneId,
    scene: Memo<Option<Part<Scene>>>,
    entry: RwSignal<Option<EntryId>>,
) -> impl IntoView {
    move || {
        let one = entry.get()?;
        let shown = entry_of(scene, one);
        let stretch = Signal::derive(move || {
            shown.with(|shown| {
                shown.as_ref().map_or((0.0, 0.0, 0.0), |(entry, shot, _)| {
                    let (from_s, to_s) = entry.stretch_of(shot);
                    (from_s, to_s, shot.planned_s)
                })
            })
        });
        // The fields take their ranges once, so they are made anew for a shot that has become longer or shorter.
        let planned_s = Memo::new(move |_| stretch.get().2).get();
        let set = move |from_s: f64, to_s: f64| {
            let whole_s = stretch.get_untracked().2;
            let stretch = if from_s <= 0.0 && to_s >= whole_s { None } else { Stretch::new(from_s, to_s) };
            change_cut(desk, id, say!("Trim in the cut"), |cut| {
                cut.iter_mut().filter(|entry| entry.id == one).for_each(|entry| entry.stretch = stretch);
            });
        };
        let again = move |_| {
            let fresh: EntryId = desk.fresh();
            change_cut(desk, id, say!("Show a shot again"), |cut| {
                if let Some(at) = cut.iter().position(|entry| entry.id == one) {
                    let copy = Entry { id: fresh, ..cut[at] };
                    // After the one that follows: right after itself it would be one and the same.
                    cut.insert((at + 2).min(cut.len()), copy);
                }
            });
        };
        let split = move |_| {
            let fresh: EntryId = desk.fresh();
            let (from_s, to_s, _) = stretch.get_untracked();
            let middle_s = libm::round((from_s + to_s) * 5.0) / 10.0;
            let (Some(first), Some(second)) = (Stretch::new(from_s, middle_s), Stretch::new(middle_s, to_s))
            else {
                return;
            };
            change_cut(desk, id, say!("Split in the cut"), |cut| {
                if let Some(at) = cut.iter().position(|entry| entry.id == one) {
                    cut[at].stretch = Some(first);
                    let rest = Entry { id: fresh, shot: cut[at].shot, stretch: Some(second) };
                    cut.insert(at + 1, rest);
                }
            });
        };
        let leave_out = move |_| {
            entry.set(None);
            change_cut(desk, id, say!("Leave out of the cut"), |cut| cut.retain(|entry| entry.id != one));
        };
        let title = live(move || {
            shown.with(|shown| {
                shown.as_ref().map_or_else(String::new, |(_, _, number)| say!("Shot {number} in the cut"))
            })
        });
        Some(view! {
            <div class="entry-panel" role="group" aria-label=title>
                <StepField
                    label=say!("From")
                    range=(0.0, (planned_s - SHORTEST_S).max(0.0))
                    step=0.5
                    value=Signal::derive(move || stretch.get().0)
                    words=words::seconds
                    set=move |from_s: f64| set(from_s, stretch.get_untracked().1.max(from_s + SHORTEST_S))
                />
                <StepField
                    label=say!("To")
                    range=(SHORTEST_S, planned_s)
                    step=0.5
                    value=Signal::derive(move || stretch.get().1)
                    words=words::seconds
                    set=move |to_s: f64| set(stretch.get_untracked().0.min(to_s - SHORTEST_S), to_s)
                />
                <div class="entry-buttons">
                    <button type="button" on:click=move |_| shift_entry(desk, id, Some(one), -1)>{say!("Earlier")}</button>
                    <button type="button" on:click=move |_| shift_entry(desk, id, Some(one), 1)>{say!("Later")}</button>
                    <button type="button" on:click=split>{say!("Split")}</button>
                    <button type="button" on:click=again>{say!("Show it again")}</button>
                    <button type="button" on:click=leave_out>{say!("Leave it out")}</button>
                </div>
            </div>
        })
    }
}
