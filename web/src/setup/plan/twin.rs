//! The floor plan in words, for those who do not see it.

use language::say;
use leptos::prelude::With as _;
use optics::{FarLimit, SharpZone};
use units::Length;

use crate::dressing::{Item, Property};
use crate::scene::Scene;
use crate::session::Session;
use crate::setup::take::take_twin;
use crate::setup::words;

/// As many things are said one by one; more would not be listened to.
const MOST_TOLD: usize = 12;

/// The floor plan in words.
pub(super) fn twin(session: Session, scene: Option<&Scene>) -> String {
    let Some(scene) = scene else { return say!("Floor plan").to_owned() };
    let unit = session.unit();
    let distance = libm::hypot(scene.phone.x, scene.phone.y);
    let length = |length: Length| words::length(length.to_m(), unit);
    let sharp = match scene.sharp {
        Some(SharpZone { near, far: FarLimit::At(far) }) => {
            say!("; sharp from {} to {}", length(near), length(far))
        }
        Some(SharpZone { near, far: FarLimit::Infinity }) => say!("; sharp from {} on", length(near)),
        None => String::new(),
    };
    let placed = placed(session);
    say!(
        "Floor plan: the phone {} from the subject, the background {} behind them{sharp}.{placed}{} Drag the tape marks, \
         or use the steps below.",
        words::length(distance, unit),
        words::length(scene.background.length(), unit),
        take_twin(session)
    )
}

/// What stands where on the set, as the phone sees it.
fn placed(session: Session) -> String {
    let unit = session.unit();
    session.plan.with(|plan| {
        let is_placed = |item: &Item| matches!(item, Item::Person(_) | Item::Piece(_));
        let items: Vec<_> = plan.items().into_iter().filter(|(item, _)| is_placed(item)).collect();
        if items.is_empty() {
            return String::new();
        }
        let told = items.iter().take(MOST_TOLD).map(|(item, name)| {
            let told = |property: Property| property.words(plan.read(*item, property), unit);
            format!("{name} {}, {}", told(Property::Behind), told(Property::Right))
        });
        let told = told.collect::<Vec<_>>().join("; ");
        match items.len().saturating_sub(MOST_TOLD) {
            0 => say!(" On the floor: {told}."),
            more => say!(" On the floor: {told}; and {more} more."),
        }
    })
}
