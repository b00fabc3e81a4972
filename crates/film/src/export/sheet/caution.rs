//! What to beware of, where it applies. All of it is common practice, and ends with who is to be asked there.

use language::{key, say, text};
use maud::{Markup, html};

use super::paper::Paper;
use super::words::tick;
use crate::setup_card::WHO_DECIDES;
use crate::wording::grouped;

/// What to look for at a place, as no plan knows it.
const AT_PLACE: [&str; 6] = [
    key!("roads and traffic"),
    key!("water"),
    key!("edges and heights"),
    key!("cables and lamps"),
    key!("ways out"),
    key!("the way back in the dark"),
];

/// The day's cautions, each once with its shots, what to look for at its places, and who decides.
pub(super) fn of_day(paper: &Paper<'_>) -> Markup {
    let cautions = grouped(paper.shots.iter().flat_map(|one| {
        let cautions = one.card(paper).cautions();
        cautions.into_iter().map(|caution| (caution, one.listed.number()))
    }));
    html! {
        article class="paper-cautions" {
            h2 { (say!("Cautions")) }
            @if !cautions.is_empty() {
                ul {
                    @for (caution, shots) in &cautions {
                        li { (caution) " " span class="paper-of" { "(" (shots.join(", ")) ")" } }
                    }
                }
            }
            p { (say!("Looked for at each place before anything is put up:")) }
            ul class="paper-ticks paper-across" {
                @for what in AT_PLACE { li { (tick(false)) " " (text(what)) } }
            }
            p class="paper-rules" { (text(WHO_DECIDES)) }
        }
    }
}
