//! Signals that outlive the rooms that use them.

use leptos::prelude::Owner;

/// Makes signals that belong to nobody but the owner beside them: the room that asks first is gone long before they are.
pub(crate) fn lasting<Signals>(make: impl FnOnce() -> Signals) -> (Signals, Owner) {
    let around = Owner::current();
    if let Some(around) = around.clone() {
        around.unset();
    }
    let owner = Owner::new();
    let signals = owner.with(make);
    if let Some(around) = around {
        around.set();
    }
    (signals, owner)
}
