//! What will not work about a plan, why, and what would mend it.

mod cut;
mod exposure;
mod mend;
mod scene;
mod setup;
mod story;
mod take;

pub use cut::{
    CutFinding, Obstacle, PlacedFinding, ShoulderPlace, SortedFindings, check_cut, check_shot, sort_findings,
};
pub(crate) use cut::{
    direction_turns, heights_past_shoulder, jump_cut, one_unseen, phone_from_voices, seen_as_reverses,
    shoulder_amiss, subject_unseen,
};
pub use exposure::{ExposureFinding, FiltersOn, OtherTime, Stronger, check_exposure};
pub(crate) use exposure::{LOST_STOPS, angle_told, steady_time_told};
pub use mend::{Mend, mends};
pub use setup::{Circumstances, SetupFinding, check_setup};
pub use story::{StoryLack, story_lacks};
pub use take::{TakeFinding, Taking, check_take};

/// How bad a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing.
    Notes,
    /// It can be shot, but look first.
    Warns,
    /// It cannot be shot like this.
    Fails,
}

impl Severity {
    /// What it does, in a word: `notes`, `warns` or `fails`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Notes => "notes",
            Self::Warns => "warns",
            Self::Fails => "fails",
        }
    }
}

/// A finding in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The rule's name, for programs.
    pub rule: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// What is the matter, with its numbers.
    pub message: String,
    /// What would mend it.
    pub hint: String,
}

#[cfg(test)]
mod tests {
    use super::Severity;

    #[test]
    fn severities_go_from_notes_to_fails_and_say_so() {
        let all = [Severity::Notes, Severity::Warns, Severity::Fails];
        assert!(all.is_sorted());
        assert_eq!(all.map(Severity::name), ["notes", "warns", "fails"]);
    }
}
