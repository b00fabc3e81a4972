//! Whether the window has two columns.

use leptos::prelude::*;

/// From this width on there are two columns, as in the styles.
const WIDE: &str = "(min-width: 64em)";

/// Whether there is room for two columns now.
pub(crate) fn is_wide() -> bool {
    window().match_media(WIDE).ok().flatten().is_some_and(|wide| wide.matches())
}

/// The same, told anew when it is another.
pub(crate) fn follow_width() -> Signal<bool> {
    let told = RwSignal::new(is_wide());
    let heard = window_event_listener_untyped("resize", move |_| {
        let now = is_wide();
        if told.try_get_untracked().is_some_and(|before| before != now) {
            told.set(now);
        }
    });
    on_cleanup(move || heard.remove());
    told.into()
}
