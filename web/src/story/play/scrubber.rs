//! Any moment of what plays by hand, with a mark at each cut.

use language::say;
use leptos::prelude::*;

use crate::story::play::player::Player;
use crate::story::play::words;
use crate::widgets::live;

/// The step of the scrubber's arrow keys, seconds.
const STEP_S: f64 = 0.1;
/// More cuts than this are a grey bar on a phone: then only changes of scene have marks.
const MOST_CUTS: usize = 100;

/// The scrubber, its marks and the time.
#[component]
pub(super) fn Scrubber(player: Player) -> impl IntoView {
    let lasts_s = player.order().lasts_s();
    let time = live(move || words::moment(player.at_s(), lasts_s));
    // Said only to whoever is on it, and no oftener than each second.
    let second = Memo::new(move |_| libm::floor(player.at_s()));
    let told = live(move || {
        let order = player.order();
        let at_s = untrack(|| player.at_s());
        let entry = order.turn_at(at_s).map(|turn| words::entry(&order, turn));
        format!("{}: {}", words::moment(second.get(), lasts_s), entry.unwrap_or_default())
    });
    view! {
        <div class="play-scrubber">
            <div class="play-track">
                <div class="play-marks" aria-hidden="true">{marks(player)}</div>
                <input
                    type="range"
                    min="0"
                    max=lasts_s.to_string()
                    step=STEP_S
                    aria-label=say!("Moment")
                    aria-valuetext=told
                    prop:value=live(move || player.at_s().to_string())
                    on:input:target=move |event| {
                        if let Ok(seconds) = event.target().value().parse::<f64>() {
                            player.rest_at(seconds.min(lasts_s));
                        }
                    }
                />
            </div>
            <output class="play-time" aria-hidden="true">{time}</output>
        </div>
    }
}

/// A mark at each cut, a longer one where the scene changes.
fn marks(player: Player) -> Vec<impl IntoView + use<>> {
    let order = player.order();
    let is_crowded = order.turns().len() > MOST_CUTS;
    let marks = order.turns().iter().skip(1).filter(|turn| turn.opens_scene || !is_crowded).map(|turn| {
        let class = if turn.opens_scene { "play-mark scene" } else { "play-mark" };
        let left = format!("{:.3}%", turn.starts_s / order.lasts_s() * 100.0);
        view! { <span class=class style:left=left></span> }
    });
    marks.collect()
}
