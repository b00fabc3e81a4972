//! A finding in a list: what is the matter, what to do about it, and what does it at once.

use film::{Finding, Severity};
use leptos::prelude::*;

use crate::story::words::sentence_of;
use crate::widgets::held;

/// The class of what is found, by how bad it is.
pub(crate) fn finding_class(severity: Severity) -> &'static str {
    match severity {
        Severity::Fails => "finding fails",
        Severity::Warns => "finding warns",
        Severity::Notes => "finding notes",
    }
}

/// The card of a finding, with its ways to mend it if it has some.
pub(crate) fn finding_card(finding: &Finding, mends: Option<AnyView>) -> AnyView {
    view! {
        <li class=finding_class(finding.severity)>
            <p>{held(&sentence_of(&finding.message))}</p>
            <p class="quiet">{held(&sentence_of(&finding.hint))}</p>
            {mends}
        </li>
    }
    .into_any()
}
