//! What is found on a cut, with its numbers.

use language::say;
use units::{Angle, Length, LengthUnit};

use crate::film::Film;
use crate::findings::cut::{CutFinding, Obstacle, ShoulderPlace};
use crate::rehearsal::NoRehearsal;
use crate::scene_blocking::LineSide;
use crate::wording::piece_name;

impl CutFinding {
    /// What is the matter, with its numbers.
    pub(super) fn message(&self, film: &Film, unit: LengthUnit) -> String {
        let told = |length: Length| length.told(unit, 2);
        match self {
            Self::JumpCut { turn, times, .. } => say!(
                "the view of the same person turns by {:.0}° and their size in the frame changes \
                 {times:.2} times: they seem to jump",
                turn.to_deg()
            ),
            Self::LineCrossed { before, beyond } => line_told(*before, &told(*beyond)),
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
            Self::ShoulderAmiss { place, .. } => shoulder_told(*place).to_owned(),
            Self::OneUnseen { who, hidden } => {
                let who = film.name_of(*who);
                if *hidden {
                    say!("the other one stands before {who}’s face")
                } else {
                    say!("{who} is outside the frame")
                }
            }
            Self::SubjectHidden { who, by, before } => {
                let (by, before) = (obstacle_name(film, *by), told(*before));
                match who.map(|who| film.name_of(who)) {
                    Some(who) => say!("{by} stands {before} before {who} and hides them"),
                    None => say!("{by} stands {before} before what it shows and hides that"),
                }
            }
            Self::PhoneStandsIn { what: Obstacle::Person(who) } => {
                let who = film.name_of(*who);
                say!("the phone stands where {who} is")
            }
            Self::PhoneStandsIn { what: Obstacle::Piece(kind) } => {
                say!("the phone stands in {}", piece_name(*kind))
            }
            Self::LeavesFrame { walks: true, leaves_s, out_s, of_s, turns, .. } => {
                leaves_told(*leaves_s, *out_s, *of_s, *turns)
            }
            Self::LeavesFrame { walks: false, leaves_s, out_s, of_s, .. } => say!(
                "the phone turns away, so that they are out of the frame after {leaves_s:.1} s, for {out_s:.1} s \
                 of {of_s:.1} s"
            ),
            Self::WalksThrough { who, what, at_s } => {
                let who = film.name_of(*who);
                say!("{who} walks through {} {at_s:.1} s into the scene", piece_name(*what))
            }
            Self::PhoneGoesThrough { what, at_s } => {
                say!("the phone goes through {} {at_s:.1} s into the shot", piece_name(*what))
            }
            Self::NotRehearsed(why) => lacking_told(*why).to_owned(),
            Self::NotToBeHad(finding) => finding.to_finding(unit).message,
            Self::OfTake(finding) => finding.to_finding(unit).message,
            Self::RateTakesLight { stops, times } => say!(
                "it plays {times:.1} times as slow, and each frame gets {:.1} stops less light",
                stops.to_f64()
            ),
            Self::PlannedShort { needs_s, planned_s } => {
                say!("the cut needs {needs_s:.1} s of it, and {planned_s:.1} s are planned")
            }
            Self::ShownBriefly { shown_s } => say!("the cut shows it for {shown_s:.2} s at once"),
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
}

/// Where the phone stands, and where it stood before.
fn line_told(before: LineSide, beyond: &str) -> String {
    match before {
        LineSide::Left => {
            say!("the phone stands {beyond} beyond the line: the scene has been seen from the left of it")
        }
        LineSide::On => {
            say!("the phone stands {beyond} beyond the line: the scene has been seen from the end of it")
        }
        LineSide::Right => {
            say!("the phone stands {beyond} beyond the line: the scene has been seen from the right of it")
        }
    }
}

/// Where a shoulder is.
fn shoulder_told(place: ShoulderPlace) -> &'static str {
    match place {
        ShoulderPlace::Outside => say!("the shoulder that it looks past is outside the frame"),
        ShoulderPlace::Above => say!("the shoulder that it looks past is above the frame"),
        ShoulderPlace::Below => say!("the shoulder that it looks past is below the frame"),
        ShoulderPlace::BeforeTheFace => say!("the near one stands before the face of the one in focus"),
    }
}

/// What a shot lacks.
fn lacking_told(why: NoRehearsal) -> &'static str {
    match why {
        NoRehearsal::EmptyKit => say!("the kit has no lens or no recording mode"),
        NoRehearsal::LensGone => say!("the lens that the shot is made on is not in the kit"),
        NoRehearsal::AdapterGone => say!("the adapter that the shot is made with is not in the kit"),
        NoRehearsal::NotInScene(_) => say!("somebody whom the shot needs has no mark in the scene"),
    }
}

/// What an obstacle is called.
fn obstacle_name(film: &Film, obstacle: Obstacle) -> &str {
    match obstacle {
        Obstacle::Person(who) => film.name_of(who),
        Obstacle::Piece(kind) => piece_name(kind),
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
