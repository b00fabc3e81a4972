//! Findings on a cut in words: the rule, how bad it is, what is the matter, why it is a rule, and what would mend it.

use language::{key, say, text};
use units::{Angle, Length, LengthUnit};

use super::{CutFinding, ShoulderPlace};
use crate::film::Film;
use crate::findings::{Finding, Severity};
use crate::rehearsal::NoRehearsal;
use crate::scene_blocking::LineSide;
use crate::wording::piece_name;

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
            Self::LeavesFrame { .. } => "leaves_frame",
            Self::WalksThrough { .. } => "walks_through",
            Self::PhoneGoesThrough { .. } => "phone_goes_through",
            Self::NotRehearsed(_) => "not_rehearsed",
            Self::NotToBeHad(finding) => finding.rule(),
            Self::OfTake(finding) => finding.rule(),
            Self::RateTakesLight { .. } => "rate_takes_light",
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
            | Self::LeavesFrame { is_missed: true, .. }
            | Self::WalksThrough { .. }
            | Self::PhoneGoesThrough { .. }
            | Self::OneSize { .. }
            | Self::OneDirection { .. } => Severity::Warns,
            Self::ReversesDiffer { .. }
            | Self::ShoulderAmiss {
                place: ShoulderPlace::Outside | ShoulderPlace::Above | ShoulderPlace::Below,
                ..
            }
            | Self::LeavesFrame { is_missed: false, .. }
            | Self::RateTakesLight { .. }
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
            Self::LeavesFrame { .. } => say!("leaves the frame"),
            Self::WalksThrough { .. } => say!("walks through something"),
            Self::PhoneGoesThrough { .. } => say!("phone goes through something"),
            Self::NotRehearsed(NoRehearsal::EmptyKit) => say!("kit is empty"),
            Self::NotRehearsed(NoRehearsal::LensGone) => say!("lens not in kit"),
            Self::NotRehearsed(NoRehearsal::AdapterGone) => say!("adapter not in kit"),
            Self::NotRehearsed(NoRehearsal::NotInScene(_)) => say!("somebody is missing"),
            Self::NotToBeHad(finding) => finding.brief(),
            Self::OfTake(finding) => finding.brief(),
            Self::RateTakesLight { .. } => say!("takes light"),
            Self::FewShots { .. } => say!("few shots"),
            Self::ManyShots { .. } => say!("many shots"),
            Self::OneSize { .. } => say!("all of one size"),
            Self::OneDirection { .. } => say!("all from one side"),
            Self::NoForeground { .. } => say!("nothing near the lens"),
            Self::ActionUnsaid { .. } => say!("action not said"),
        }
    }

    /// Why it is a rule.
    pub fn reason(&self) -> &'static str {
        match self {
            Self::JumpCut { .. } => {
                say!(
                    "Common practice: a cut to the same person turns by 30° or changes their size 1.8 times. \
                 With less, they seem to jump, and it reads as a mistake and not as another view."
                )
            }
            Self::LineCrossed { .. } => {
                say!(
                    "Common practice: the phone keeps to one side of the line, so that whoever looks right \
                 goes on looking right. Across it, left and right change places and people lose track of \
                 who is where."
                )
            }
            Self::DirectionTurns { .. } => {
                say!(
                    "Common practice: who walks to the right goes on to the right until seen to turn. Else \
                 it reads as going back, or as somebody coming the other way."
                )
            }
            Self::ReversesDiffer { .. } => {
                say!(
                    "Common practice: two who face each other are seen alike, in size within 1.25 times, \
                 from the same height to their eyes within 0.15 m, on the same lens. A difference says \
                 that one of them matters more; so it should be meant."
                )
            }
            Self::LooksAlike { .. } => {
                say!(
                    "Common practice: of two who look at each other one looks left and the other right. If \
                 both look the same way, they seem to look at a third."
                )
            }
            Self::VoiceFar { .. } => {
                say!(
                    "Common practice: a phone hears a voice well from no farther than 1.5 m, a recorder from \
                 1 m. Farther off the place is louder than the voice, and nothing mends that later."
                )
            }
            Self::ShoulderAmiss { .. } => {
                say!(
                    "Common practice: the shoulder takes up an edge of the frame, so that both are there, and \
                 leaves the face free."
                )
            }
            Self::OneUnseen { .. } => {
                say!(
                    "Common practice: a shot of two shows both faces: without one it is a shot of the other."
                )
            }
            Self::LeavesFrame { .. } => {
                say!(
                    "Common practice: somebody leaves the frame to end a shot. Longer than that an empty frame \
                 tells nothing, and a turn outside it was never seen."
                )
            }
            Self::WalksThrough { .. } | Self::PhoneGoesThrough { .. } => {
                say!(
                    "Physics: nobody gets through what stands there. On the day the way would be another, and with \
                 it what is seen."
                )
            }
            Self::NotRehearsed(_) | Self::NotToBeHad(_) => {
                say!("Physics, or something that is not there: it cannot be shot like this.")
            }
            Self::OfTake(finding) => finding.reason(),
            Self::RateTakesLight { .. } => {
                say!("Physics: more frames a second leave each one less time, and so less light.")
            }
            Self::FewShots { .. } | Self::ManyShots { .. } => {
                say!(
                    "Common practice: a scene of a short film is cut from three to eight shots. Fewer leave \
                 nothing to cut to, and more seldom fit into the hours that there are."
                )
            }
            Self::OneSize { .. } => {
                say!(
                    "Common practice: sizes vary, so that a tight shot means something when it comes. Within \
                 1.3 times of each other they count as one."
                )
            }
            Self::OneDirection { .. } => {
                say!(
                    "Common practice: a place is seen from more than one direction, else it looks like a \
                 stage. Within 30° of each other they count as one."
                )
            }
            Self::NoForeground { .. } => {
                say!(
                    "Common practice: something near the lens gives depth, and a phone seldom gets depth \
                 from blur."
                )
            }
            Self::ActionUnsaid { .. } => {
                say!(
                    "Common practice: something happens in every shot. A shot of which nobody can say what, \
                 is often one that the cut can do without."
                )
            }
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
            | Self::LeavesFrame { .. }
            | Self::WalksThrough { .. }
            | Self::PhoneGoesThrough { .. }
            | Self::NotRehearsed(_)
            | Self::RateTakesLight { .. }
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

    fn message(&self, film: &Film, unit: LengthUnit) -> String {
        let told = |length: Length| length.told(unit, 2);
        match self {
            Self::JumpCut { turn, times, .. } => say!(
                "the view of the same person turns by {:.0}° and their size in the frame changes \
                 {times:.2} times: they seem to jump",
                turn.to_deg()
            ),
            Self::LineCrossed { before, beyond } => {
                let beyond = told(*beyond);
                match before {
                    LineSide::Left => say!(
                        "the phone stands {beyond} beyond the line: the scene has been seen from the left of it"
                    ),
                    LineSide::On => say!(
                        "the phone stands {beyond} beyond the line: the scene has been seen from the end of it"
                    ),
                    LineSide::Right => say!(
                        "the phone stands {beyond} beyond the line: the scene has been seen from the right of it"
                    ),
                }
            }
            Self::DirectionTurns { before, now, .. } => {
                say!("the walker goes {} after going {}, and was not seen to turn", now.name(), before.name())
            }
            Self::ReversesDiffer { times, heights, views } => differ_told(*times, *heights, *views, unit),
            Self::LooksAlike { looks } => {
                say!("the two who face each other both look {} in the frame", looks.name())
            }
            Self::VoiceFar { phone, recorder: None } => {
                say!("the phone is {} from whoever speaks, and no recorder is near", told(*phone))
            }
            Self::VoiceFar { phone, recorder: Some(recorder) } => {
                say!(
                    "the phone is {} from whoever speaks, and the recorder {}",
                    told(*phone),
                    told(*recorder)
                )
            }
            Self::ShoulderAmiss { place: ShoulderPlace::Outside, .. } => {
                say!("the shoulder that it looks past is outside the frame").to_owned()
            }
            Self::ShoulderAmiss { place: ShoulderPlace::Above, .. } => {
                say!("the shoulder that it looks past is above the frame").to_owned()
            }
            Self::ShoulderAmiss { place: ShoulderPlace::Below, .. } => {
                say!("the shoulder that it looks past is below the frame").to_owned()
            }
            Self::ShoulderAmiss { place: ShoulderPlace::BeforeTheFace, .. } => {
                say!("the near one stands before the face of the one in focus").to_owned()
            }
            Self::OneUnseen { who, hidden } => {
                let who = film.name_of(*who);
                if *hidden {
                    say!("the other one stands before {who}’s face")
                } else {
                    say!("{who} is outside the frame")
                }
            }
            Self::LeavesFrame { leaves_s, out_s, of_s, turns, .. } => {
                leaves_told(*leaves_s, *out_s, *of_s, *turns)
            }
            Self::WalksThrough { who, what, at_s } => {
                let who = film.name_of(*who);
                say!("{who} walks through {} {at_s:.1} s into the scene", piece_name(*what))
            }
            Self::PhoneGoesThrough { what, at_s } => {
                say!("the phone goes through {} {at_s:.1} s into the shot", piece_name(*what))
            }
            Self::NotRehearsed(why) => match why {
                NoRehearsal::EmptyKit => say!("the kit has no lens or no recording mode"),
                NoRehearsal::LensGone => say!("the lens that the shot is made on is not in the kit"),
                NoRehearsal::AdapterGone => say!("the adapter that the shot is made with is not in the kit"),
                NoRehearsal::NotInScene(_) => say!("somebody whom the shot needs has no mark in the scene"),
            }
            .to_owned(),
            Self::NotToBeHad(finding) => finding.to_finding(unit).message,
            Self::OfTake(finding) => finding.to_finding(unit).message,
            Self::RateTakesLight { stops, times } => say!(
                "it plays {times:.1} times as slow, and each frame gets {:.1} stops less light",
                stops.to_f64()
            ),
            Self::FewShots { shots: 1 } => say!("the scene is cut from one shot").to_owned(),
            Self::FewShots { shots } | Self::ManyShots { shots } => {
                say!("the scene is cut from {shots} shots")
            }
            Self::OneSize { times, shots } => say!(
                "all {shots} shots hold about as much of whom they are of: within {times:.2} times of \
                 each other"
            ),
            Self::OneDirection { within, shots } => {
                say!("all {shots} shots look the same way, within {:.0}°", within.to_deg())
            }
            Self::NoForeground { shots } => say!("none of the {shots} shots has anything near the lens"),
            Self::ActionUnsaid { shots: 1, of } => {
                say!("of 1 of {of} shots it is not said what happens in it")
            }
            Self::ActionUnsaid { shots, of } => {
                say!("of {shots} of {of} shots it is not said what happens in them")
            }
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
            Self::LeavesFrame { .. } => {
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

/// When a walker leaves the frame and for how long, seconds, and whether they turn outside it.
fn leaves_told(leaves_s: f64, out_s: f64, of_s: f64, turns: bool) -> String {
    if turns {
        say!(
            "the walker leaves the frame after {leaves_s:.1} s, is gone for {out_s:.1} s of {of_s:.1} s, and \
             turns there unseen"
        )
    } else {
        say!("the walker leaves the frame after {leaves_s:.1} s, and is gone for {out_s:.1} s of {of_s:.1} s")
    }
}

/// What differs between two who face each other: figures' sizes, heights above the eyes, and what lenses see.
fn differ_told(
    times: Option<f64>,
    heights: Option<[Length; 2]>,
    views: Option<[Angle; 2]>,
    unit: LengthUnit,
) -> String {
    let above = |height: Length| {
        let away = height.abs().told(unit, 2);
        if height < Length::ZERO { say!("{away} below") } else { say!("{away} above") }
    };
    let times = times.map(|times| say!("one figure is {times:.2} times as large as the other"));
    let heights = heights
        .map(|[one, other]| say!("the phone is {} one's eyes and {} the other's", above(one), above(other)));
    let views = views.map(|[one, other]| {
        say!("one lens sees {:.0}° across and the other {:.0}°", one.to_deg(), other.to_deg())
    });
    let parts: Vec<String> = [times, heights, views].into_iter().flatten().collect();
    say!("the two who face each other are not seen alike: {}", parts.join("; "))
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

    #[test]
    fn the_hint_on_sound_says_the_distances_that_the_check_uses() {
        for length in [PHONE_HEARS, RECORDER_HEARS] {
            assert!(SOUND_HINT.contains(&format!("{length}")), "{length}");
        }
    }

    #[test]
    fn leaving_is_said_with_its_seconds_and_is_worse_where_somebody_is_missed() {
        let leaves = |turns: bool, is_missed: bool| CutFinding::LeavesFrame {
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
