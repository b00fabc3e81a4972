//! A film's shot is set up in the place of the plan that is nobody's, which comes back when the shot is let go.

use leptos::prelude::*;

use super::{Plan, Session};
use crate::storage::{self, BrowserStorage};

/// The plan that was nobody's, while a shot of a film is set up.
const OWN_PLAN_KEY: &str = "tapemark.own_setup";

impl Session {
    /// Sets another plan up: nothing of it has been changed yet. One that is nobody's is kept while a film's is set up.
    pub(crate) fn open_plan(self, plan: Plan) {
        self.plan.with_untracked(|before| {
            if before.of.is_none()
                && plan.of.is_some()
                && !storage::save(&BrowserStorage, OWN_PLAN_KEY, before)
            {
                leptos::logging::warn!("the set-up could not be kept");
            }
        });
        self.dressing.forget();
        self.plan.set(plan);
    }

    /// Leaves a film's shot as the film has it: the plan that was nobody's comes back. Where none could be kept, the shot's
    /// stays, apart from the film.
    pub(crate) fn let_go(self) {
        match storage::load(&BrowserStorage, OWN_PLAN_KEY).map(Plan::brought_up_to_date) {
            Some(own) => self.open_plan(own),
            None => self.plan.update(|plan| plan.of = None),
        }
    }
}
