//! What is found in a film, in lines that several commands tell alike.

use requests::{FindingAnswer, SeverityAnswer};

/// What is found, for people.
#[derive(Debug)]
pub(crate) struct FoundLines<'told> {
    pub(crate) severity: SeverityAnswer,
    /// Where it is; nothing if that is plain.
    pub(crate) place: &'told str,
    pub(crate) rule: &'told str,
    pub(crate) message: &'told str,
    /// What the rule rests on, if it is to be told.
    pub(crate) reason: Option<&'told str>,
    pub(crate) hint: &'told str,
}

impl<'told> FoundLines<'told> {
    /// A finding at a place.
    pub(crate) fn of(place: &'told str, found: &'told FindingAnswer) -> Self {
        let FindingAnswer { rule, severity, message, hint } = found;
        Self { severity: *severity, place, rule, message, reason: None, hint }
    }

    /// How bad it is, where and what; the reason; what would mend it.
    pub(crate) fn lines(&self) -> Vec<String> {
        let Self { severity, place, rule, message, reason, hint } = self;
        let place = if place.is_empty() { String::new() } else { format!("{place}: ") };
        let mut lines = vec![format!("  {}: {place}{message} [{rule}]", severity.name())];
        lines.extend(reason.map(|reason| format!("         {reason}")));
        lines.push(format!("         To mend it: {hint}."));
        lines
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_finding_says_where_why_and_what_would_mend_it() {
        let found = FindingAnswer {
            rule: "too_dark".to_owned(),
            severity: SeverityAnswer::Fails,
            message: "2 stops too dark".to_owned(),
            hint: "bring light".to_owned(),
        };
        let bare = FoundLines::of("", &found);
        assert_eq!(
            bare.lines(),
            ["  fails: 2 stops too dark [too_dark]", "         To mend it: bring light."]
        );
        let explained = FoundLines { place: "1.2", reason: Some("It is physics."), ..bare };
        assert_eq!(
            explained.lines(),
            [
                "  fails: 1.2: 2 stops too dark [too_dark]",
                "         It is physics.",
                "         To mend it: bring light."
            ]
        );
    }
}
