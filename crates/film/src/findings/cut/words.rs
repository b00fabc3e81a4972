//! Findings on a cut in words: the rule, how bad it is, what is the matter, why it is a rule, and what would mend it.

mod message;
mod reason;

use language::{key, say, text};
use units::LengthUnit;

use super::{CutFinding, ShoulderPlace};
use crate::film::Film;
use crate::findings::{Finding, Severity};
use crate::rehearsal::NoRehearsal;

impl CutFinding {
    /// The rule's name, for programs.
    pub const fn rule(&self) -> &'static str {
        match self {
            Self::JumpCut { .. } => "jump_cut",
            Self::LineCrossed { .. } => "line_crossed",
            Self::DirectionTurns { .. } => "direction_turns",
            Self::ReversesDiffer { .. } => "reverses_differ",
            Self::LooksAlike { .. } => "looks_alike",
            Self::VoiceFar { .. } => "voice_far",
            Self::ShoulderAmiss { .. } => "shoulder_amiss",
            Self::OneUnseen { .. } => "one_unseen",
            Self::SubjectHidden { .. } => "subject_hidden",
            Self::PhoneStandsIn { .. } => "phone_stands_in",
            Self::LeavesFrame { .. } => "leaves_frame",
            Self::WalksThrough { .. } => "walks_through",
            Self::PhoneGoesThrough { .. } => "phone_goes_through",
            Self::NotRehearsed(_) => "not_rehearsed",
            Self::NotToBeHad(finding) => finding.rule(),
            Self::OfTake(finding) => finding.rule(),
            Self::RateTakesLight { .. } => "rate_takes_light",
            Self::PlannedShort { .. } => "planned_short",
            Self::ShownBriefly { .. } => "shown_briefly",
            Self::FewShots { .. } => "few_shots",
            Self::ManyShots { .. } => "many_shots",
            Self::OneSize { .. } => "one_size",
            Self::OneDirection { .. } => "one_direction",
            Self::NoForeground { .. } => "no_foreground",
            Self::ActionUnsaid { .. } => "action_unsaid",
        }
    }

    /// How bad it is. Only what cannot be shot fails: the rest advises, and most of it is common practice.
    pub const fn severity(&self) -> Severity {
        match self {
            Self::NotRehearsed(_) => Severity::Fails,
            Self::NotToBeHad(finding) => finding.severity(),
            Self::OfTake(finding) => finding.severity(),
            Self::JumpCut { .. }
            | Self::LineCrossed { .. }
            | Self::DirectionTurns { .. }
            | Self::LooksAlike { .. }
            | Self::VoiceFar { .. }
            | Self::ShoulderAmiss { place: ShoulderPlace::BeforeTheFace, .. }
            | Self::OneUnseen { .. }
            | Self::SubjectHidden { .. }
            | Self::PhoneStandsIn { .. }
            | Self::LeavesFrame { is_missed: true, .. }
            | Self::WalksThrough { .. }
            | Self::PhoneGoesThrough { .. }
            | Self::PlannedShort { .. }
            | Self::OneSize { .. }
            | Self::OneDirection { .. } => Severity::Warns,
            Self::ReversesDiffer { .. }
            | Self::ShoulderAmiss {
                place: ShoulderPlace::Outside | ShoulderPlace::Above | ShoulderPlace::Below,
                ..
            }
            | Self::LeavesFrame { is_missed: false, .. }
            | Self::RateTakesLight { .. }
            | Self::ShownBriefly { .. }
            | Self::FewShots { .. }
            | Self::ManyShots { .. }
            | Self::NoForeground { .. }
            | Self::ActionUnsaid { .. } => Severity::Notes,
        }
    }

    /// The reason in two to four words, for a small picture's mark.
    pub fn brief(&self) -> &'static str {
        match self {
            Self::JumpCut { .. } => say!("jump cut"),
            Self::LineCrossed { .. } => say!("crosses the line"),
            Self::DirectionTurns { .. } => say!("walks the other way"),
            Self::ReversesDiffer { .. } => say!("reverses differ"),
            Self::LooksAlike { .. } => say!("looks do not meet"),
            Self::VoiceFar { .. } => say!("voice too far"),
            Self::ShoulderAmiss {
                place: ShoulderPlace::Outside | ShoulderPlace::Above | ShoulderPlace::Below,
                ..
            } => say!("shoulder not seen"),
            Self::ShoulderAmiss { place: ShoulderPlace::BeforeTheFace, .. } => {
                say!("shoulder hides the face")
            }
            Self::OneUnseen { hidden: true, .. } => say!("one hides the other"),
            Self::OneUnseen { hidden: false, .. } => say!("one is outside the frame"),
            Self::SubjectHidden { .. } => say!("hidden from the phone"),
            Self::PhoneStandsIn { .. } => say!("phone stands in something"),
            Self::LeavesFrame { walks: true, .. } => say!("leaves the frame"),
            Self::LeavesFrame { walks: false, .. } => say!("phone turns away"),
            Self::WalksThrough { .. } => say!("walks through something"),
            Self::PhoneGoesThrough { .. } => say!("phone goes through something"),
            Self::NotRehearsed(NoRehearsal::EmptyKit) => say!("kit is empty"),
            Self::NotRehearsed(NoRehearsal::LensGone) => say!("lens not in kit"),
            Self::NotRehearsed(NoRehearsal::AdapterGone) => say!("adapter not in kit"),
            Self::NotRehearsed(NoRehearsal::NotInScene(_)) => say!("somebody is missing"),
            Self::NotToBeHad(finding) => finding.brief(),
            Self::OfTake(finding) => finding.brief(),
            Self::RateTakesLight { .. } => say!("takes light"),
            Self::PlannedShort { .. } => say!("planned too short"),
            Self::ShownBriefly { .. } => say!("too short to read"),
            Self::FewShots { .. } => say!("few shots"),
            Self::ManyShots { .. } => say!("many shots"),
            Self::OneSize { .. } => say!("all of one size"),
            Self::OneDirection { .. } => say!("all from one side"),
            Self::NoForeground { .. } => say!("nothing near the lens"),
            Self::ActionUnsaid { .. } => say!("action not said"),
        }
    }

    /// The finding on a scene of `film` in words, lengths in `unit`.
    pub fn to_finding(&self, film: &Film, unit: LengthUnit) -> Finding {
        match self {
            Self::NotToBeHad(finding) => finding.to_finding(unit),
            Self::OfTake(finding) => finding.to_finding(unit),
            Self::JumpCut { .. }
            | Self::LineCrossed { .. }
            | Self::DirectionTurns { .. }
            | Self::ReversesDiffer { .. }
            | Self::LooksAlike { .. }
            | Self::VoiceFar { .. }
            | Self::ShoulderAmiss { .. }
            | Self::OneUnseen { .. }
            | Self::SubjectHidden { .. }
            | Self::PhoneStandsIn { .. }
            | Self::LeavesFrame { .. }
            | Self::WalksThrough { .. }
            | Self::PhoneGoesThrough { .. }
            | Self::NotRehearsed(_)
            | Self::RateTakesLight { .. }
            | Self::PlannedShort { .. }
            | Self::ShownBriefly { .. }
            | Self::FewShots { .. }
            | Self::ManyShots { .. }
            | Self::OneSize { .. }
            | Self::OneDirection { .. }
            | Self::NoForeground { .. }
            | Self::ActionUnsaid { .. } => Finding {
                rule: self.rule(),
                severity: self.severity(),
                message: self.message(film, unit),
                hint: self.hint().to_owned(),
            },
        }
    }

    fn hint(&self) -> &'static str {
        match self {
            Self::JumpCut { .. } => {
                say!(
                    "make one of the two tighter or wider, take it from 30° further round, or cut to \
                 something else between"
                )
            }
            Self::LineCrossed { .. } => {
                say!("take it from the other side, or show a shot from the line between, or a move across it")
            }
            Self::DirectionTurns { .. } => {
                say!(
                    "take it from the other side of their way, let them come straight on between, or show \
                 them turn"
                )
            }
            Self::ReversesDiffer { .. } => say!("give both the same size, lens and height above the eyes"),
            Self::LooksAlike { .. } => say!("keep the phone on one side of both, so that their looks meet"),
            Self::VoiceFar { .. } => text(SOUND_HINT),
            Self::ShoulderAmiss { place: ShoulderPlace::Outside, .. } => {
                say!("take the phone nearer to behind them, until the shoulder comes into the frame")
            }
            Self::ShoulderAmiss { place: ShoulderPlace::Above, .. } => {
                say!("hold the phone higher, until the shoulder comes into the frame")
            }
            Self::ShoulderAmiss { place: ShoulderPlace::Below, .. } => {
                say!("hold the phone lower, until the shoulder comes into the frame")
            }
            Self::ShoulderAmiss { place: ShoulderPlace::BeforeTheFace, .. } => {
                say!("take the phone out from behind them, until the face is free")
            }
            Self::OneUnseen { hidden: true, .. } => {
                say!("take it from farther round, so that they stand beside each other in the frame")
            }
            Self::OneUnseen { hidden: false, .. } => {
                say!("step back, make it wider, or take it across the two and not along them")
            }
            Self::SubjectHidden { .. } => {
                say!("take it from farther round or from nearer than what is between, or put that elsewhere")
            }
            Self::PhoneStandsIn { .. } => {
                say!("take it from farther round or nearer, or put what stands there elsewhere")
            }
            Self::LeavesFrame { walks: false, .. } => {
                say!(
                    "if they are to be seen to the end, turn more slowly, end it sooner, or let the phone stay"
                )
            }
            Self::LeavesFrame { walks: true, .. } => {
                say!(
                    "go along or pan with them, make it wider, give them more room ahead in the frame, or end it sooner"
                )
            }
            Self::WalksThrough { .. } => say!("lead the way round it or through a gap, or put it elsewhere"),
            Self::PhoneGoesThrough { .. } => {
                say!("let the phone start elsewhere or stop before it, or put the piece elsewhere")
            }
            Self::NotRehearsed(NoRehearsal::EmptyKit) => say!("add a lens and a recording mode to the kit"),
            Self::NotRehearsed(NoRehearsal::LensGone) => say!("let the lens be chosen, or add it to the kit"),
            Self::NotRehearsed(NoRehearsal::AdapterGone) => {
                say!("take the adapter off, or add it to the kit")
            }
            Self::NotRehearsed(NoRehearsal::NotInScene(_)) => say!("give them a mark in the scene"),
            Self::NotToBeHad(_) | Self::OfTake(_) => say!("see the shot's set-up"),
            Self::RateTakesLight { .. } => {
                say!("shoot it in more light or with less ND, or at the film's own frame rate")
            }
            Self::PlannedShort { .. } => say!("plan it longer, or let the cut end it sooner"),
            Self::ShownBriefly { .. } => {
                say!("let the cut show it longer, leave it out, or make it one of three or more in a row")
            }
            Self::FewShots { .. } => say!("add a shot to cut to: tighter, from elsewhere, or of a thing"),
            Self::ManyShots { .. } => {
                say!("let one shot do the work of two, or leave out what is only nice to have")
            }
            Self::OneSize { .. } => say!("make one of them clearly tighter or wider"),
            Self::OneDirection { .. } => say!("take one of them from elsewhere"),
            Self::NoForeground { .. } => {
                say!("put a plant, a doorway or a shoulder near the lens in one of them")
            }
            Self::ActionUnsaid { .. } => say!("say what happens in each, or leave it out"),
        }
    }
}

/// Says the distances of the check, to which a test holds it.
const SOUND_HINT: &str = key!(
    "put a recorder within 1 m of whoever speaks, bring the phone within 1.5 m, or record the words apart as a wild \
     track"
);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::TakeFinding;
    use crate::findings::cut::shot::{PHONE_HEARS, RECORDER_HEARS};
    use crate::preset::demo_film;
    use units::{Angle, Length};

    #[test]
    fn the_hint_on_sound_says_the_distances_that_the_check_uses() {
        for length in [PHONE_HEARS, RECORDER_HEARS] {
            assert!(SOUND_HINT.contains(&format!("{length}")), "{length}");
        }
    }

    #[test]
    fn leaving_is_said_with_its_seconds_and_is_worse_where_somebody_is_missed() {
        let leaves = |turns: bool, is_missed: bool| CutFinding::LeavesFrame {
            walks: true,
            leaves_s: 1.39,
            out_s: 1.28,
            of_s: 5.0,
            turns,
            is_missed,
        };
        let said = |finding: CutFinding| {
            let said = finding.to_finding(&demo_film(), LengthUnit::Metres);
            (said.severity, said.message)
        };
        let (severity, message) = said(leaves(false, false));
        assert_eq!(severity, Severity::Notes);
        assert_eq!(message, "the walker leaves the frame after 1.4 s, and is gone for 1.3 s of 5.0 s");
        let (severity, message) = said(leaves(true, true));
        assert_eq!(severity, Severity::Warns);
        assert!(message.ends_with("is gone for 1.3 s of 5.0 s, and turns there unseen"), "{message}");
    }

    #[test]
    fn what_is_passed_on_of_a_take_is_told_as_its_setup_tells_it() {
        let backwards = TakeFinding::WalksBackwards { per_second: Length::from_m(1.1) };
        let (told, passed_on) = (
            backwards.to_finding(LengthUnit::Metres),
            CutFinding::OfTake(backwards).to_finding(&demo_film(), LengthUnit::Metres),
        );
        assert_eq!(told, passed_on);
        assert!(CutFinding::OfTake(backwards).reason().contains("Local rules"), "who decides is said");
    }

    #[test]
    fn what_differs_between_reverses_is_said_with_its_numbers() {
        let finding = CutFinding::ReversesDiffer {
            times: Some(1.5),
            heights: Some([Length::ZERO, Length::from_m(-0.3)]),
            views: Some([Angle::from_deg(70.0), Angle::from_deg(26.0)]),
        };
        let said = finding.to_finding(&demo_film(), LengthUnit::Metres).message;
        assert_eq!(
            said,
            "the two who face each other are not seen alike: one figure is 1.50 times as large as the \
             other; the phone is 0.00 m above one's eyes and 0.30 m below the other's; one lens sees 70° \
             across and the other 26°"
        );
    }
}
