//! Two neighbours beside each other: the last moment of one entry and the first of the next, and what is found on the cut.

use language::say;
use leptos::prelude::*;

use crate::pictures::{Look, PictureCanvas, Rank, Standing};
use crate::session::Session;
use crate::story::play::player::Player;
use crate::story::play::running_order::{RunningOrder, Turn};
use crate::story::play::words::{self, Said};
use crate::widgets::live;

/// One side of a cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    /// The entry that ends.
    Before,
    /// The entry that begins.
    After,
}

impl Side {
    /// The entry on this side of a cut.
    fn turn(self, order: &RunningOrder, cut: usize) -> Option<&Turn> {
        order.turns().get(match self {
            Self::Before => cut,
            Self::After => cut + 1,
        })
    }

    /// The second of its shot that is seen at the cut.
    fn second(self, turn: &Turn) -> f64 {
        match self {
            Self::Before => turn.last_second(),
            Self::After => turn.from_s,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Before => say!("Before the cut"),
            Self::After => say!("After the cut"),
        }
    }
}

/// The two, and below them what is said of the cut.
#[component]
pub(super) fn Beside(session: Session, player: Player) -> impl IntoView {
    let cut = Memo::new(move |_| player.order().cut_at(player.at_s()));
    let said = Memo::new(move |_| {
        let (order, unit) = (player.order(), session.unit());
        cut.get().map(|cut| words::cut(&order, cut, unit)).unwrap_or_default()
    });
    let one = |said: Said| {
        view! {
            <li class:open=said.is_open>
                <p>{said.what}</p>
                {(!said.why.is_empty()).then(|| view! { <p class="quiet">{said.why}</p> })}
            </li>
        }
    };
    view! {
        <div class="play-beside">
            <div class="play-pair">
                <OneSide player cut side=Side::Before />
                <OneSide player cut side=Side::After />
            </div>
            <ul class="play-says" role="status" aria-label=say!("This cut")>
                {move || said.get().into_iter().map(one).collect_view()}
            </ul>
        </div>
    }
}

/// One of the two with its words.
#[component]
fn OneSide(player: Player, cut: Memo<Option<usize>>, side: Side) -> impl IntoView {
    let aspect = player.order().film().facts.aspect.to_f64();
    let standing = RwSignal::new(Standing::Waiting);
    // Read and not only tracked: a memo that nobody reads never changes.
    let shows = Signal::derive(move || {
        cut.get();
    });
    let look = Signal::derive(move || {
        let order = player.order();
        let turn = side.turn(&order, cut.get()?)?;
        Some(Look::of(&order.stage_of(turn, side.second(turn))?, aspect))
    });
    let card = Memo::new(move |_| {
        let order = player.order();
        let turn = side.turn(&order, cut.get()?)?;
        order.stage_of(turn, side.second(turn)).is_none().then(|| words::no_picture(&order, turn))
    });
    let caption = live(move || {
        let order = player.order();
        let turn = cut.get().and_then(|cut| side.turn(&order, cut));
        turn.map_or_else(String::new, |turn| words::entry(&order, turn))
    });
    view! {
        <figure class="play-side" aria-label=side.name()>
            <div class="play-frame" class:late=move || standing.get() == Standing::Waiting>
                <PictureCanvas rank=Rank::Large shows look standing class="play-picture" />
                {move || card.get().map(|words| view! { <p class="play-card">{words}</p> })}
            </div>
            <figcaption>{caption}</figcaption>
        </figure>
    }
}
