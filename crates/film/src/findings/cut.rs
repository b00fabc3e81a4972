//! Findings on a scene's cut: will its entries cut together, can its shots be had, does the scene vary?
//!
//! Everything is told from what the entries show ([`EntryView`]), never from what a shot is called.

mod hidden;
mod lasting;
mod leaving;
mod line;
mod neighbours;
mod second_of_two;
mod shot;
mod shoulder;
mod through;
mod two;
mod words;

#[cfg(test)]
pub(crate) mod example;
#[cfg(test)]
mod properties;

use std::collections::{BTreeMap, BTreeSet};

use staging::PieceKind;
use units::{Angle, Length, Stops};

use super::scene::check_variety;
use super::setup::SetupFinding;
use super::take::TakeFinding;
use crate::cut_view::{EntryView, ScreenDirection};
use crate::film::Film;
use crate::id::PersonId;
use crate::rehearsal::NoRehearsal;
use crate::scene::{Kept, KeptAt, Scene};
use crate::scene_blocking::LineSide;

use lasting::{planned_short, shown_briefly};
use leaving::leaves_frame;
use line::{EstablishedSide, WaysAcross};
use neighbours::reverses;
use through::walks_through;

pub(crate) use hidden::subject_unseen;
pub(crate) use line::direction_turns;
pub(crate) use neighbours::{jump_cut, seen_as_reverses};
pub use shot::check_shot;
pub(crate) use shot::phone_from_voices;
pub(crate) use shoulder::{heights_past_shoulder, shoulder_amiss};
pub(crate) use two::one_unseen;

/// A finding on a scene's cut, with its numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CutFinding {
    /// The same person is seen from nearly the same direction in nearly the same size, so that they seem to jump.
    JumpCut {
        /// Who.
        who: PersonId,
        /// How far the direction turns at them.
        turn: Angle,
        /// How many times as large the larger one is in the frame as the smaller one.
        times: f64,
    },
    /// The phone is on the other side of the line than before.
    LineCrossed {
        /// The side that the scene has been seen from, of the line as it runs now.
        before: LineSide,
        /// How far beyond the line the phone is.
        beyond: Length,
    },
    /// Somebody walks across the frame the other way than before, and was not seen to turn.
    DirectionTurns {
        /// Who.
        who: PersonId,
        /// Which way they went.
        before: ScreenDirection,
        /// Which way they go.
        now: ScreenDirection,
    },
    /// Two who face each other are not seen alike; at least one of these differs.
    ReversesDiffer {
        /// How many times as large the larger figure is in the frame as the smaller one.
        times: Option<f64>,
        /// How high above each one's own eyes the phone is, first and then; negative below.
        heights: Option<[Length; 2]>,
        /// How wide the two lenses see, first and then.
        views: Option<[Angle; 2]>,
    },
    /// Two who face each other look the same way across the frame.
    LooksAlike {
        /// Which way.
        looks: ScreenDirection,
    },
    /// Whoever speaks is too far from what records them.
    VoiceFar {
        /// How far the phone is from them.
        phone: Length,
        /// How far the recorder is, if there is one.
        recorder: Option<Length>,
    },
    /// A shot past somebody's shoulder does not show the shoulder, or shows nothing but it.
    ShoulderAmiss {
        /// Whose shoulder it is.
        near: PersonId,
        /// Where it is instead of at an edge.
        place: ShoulderPlace,
    },
    /// One of the two whom a shot is of is not seen.
    OneUnseen {
        /// Who.
        who: PersonId,
        /// Whether the other one stands before them; else they are outside the frame.
        hidden: bool,
    },
    /// What stands between hides whom or what a shot is of.
    SubjectHidden {
        /// Who is hidden; none for a thing.
        who: Option<PersonId>,
        /// What hides them.
        by: Obstacle,
        /// How far before them it stands.
        before: Length,
    },
    /// The phone stands in something.
    PhoneStandsIn {
        /// In what: of a doorway the wall beside it.
        what: Obstacle,
    },
    /// Whoever is in focus is out of the frame for some of the shot: they walk out of it, or the phone turns away from them.
    LeavesFrame {
        /// Whether they walk while the shot is taken.
        walks: bool,
        /// When, seconds into the shot.
        leaves_s: f64,
        /// For how long they are out of it, seconds.
        out_s: f64,
        /// How long the shot is planned, seconds.
        of_s: f64,
        /// Whether they turn out there while the cut shows the shot.
        turns: bool,
        /// Whether they are missed: for most of the time, or because they turn.
        is_missed: bool,
    },
    /// Somebody's walk leads through a piece of the set.
    WalksThrough {
        /// Who.
        who: PersonId,
        /// What they walk through: of a doorway the wall beside it.
        what: PieceKind,
        /// When they come to it, seconds into the scene.
        at_s: f64,
    },
    /// The phone moves through a piece of the set.
    PhoneGoesThrough {
        /// What it goes through: of a doorway the wall beside it.
        what: PieceKind,
        /// When it comes to it, seconds into the shot.
        at_s: f64,
    },
    /// The shot cannot be walked through.
    NotRehearsed(NoRehearsal),
    /// The shot's setup cannot be had.
    NotToBeHad(SetupFinding),
    /// The shot cannot be taken like this, or is to be looked at first.
    OfTake(TakeFinding),
    /// More frames a second than the film's take light.
    RateTakesLight {
        /// How much.
        stops: Stops,
        /// How many times as slow it plays.
        times: f64,
    },
    /// The cut shows more of a shot than is planned.
    PlannedShort {
        /// When the cut ends showing it, seconds into the shot.
        needs_s: f64,
        /// How long the shot is planned, seconds.
        planned_s: f64,
    },
    /// The cut shows too little of a shot at once to be read.
    ShownBriefly {
        /// How much, seconds.
        shown_s: f64,
    },
    /// The cut has few shots.
    FewShots {
        /// How many.
        shots: usize,
    },
    /// The cut has many shots.
    ManyShots {
        /// How many.
        shots: usize,
    },
    /// All shots hold about as much of whom they are of.
    OneSize {
        /// How many times as large the largest figure is in its frame as the smallest one.
        times: f64,
        /// How many shots.
        shots: usize,
    },
    /// All shots look about the same way.
    OneDirection {
        /// Within which angle.
        within: Angle,
        /// How many shots.
        shots: usize,
    },
    /// No shot has anything near the lens.
    NoForeground {
        /// How many shots.
        shots: usize,
    },
    /// Of some shots it is not said what happens in them.
    ActionUnsaid {
        /// Of how many.
        shots: usize,
        /// How many shots the cut has.
        of: usize,
    },
}

/// Where the near one's shoulder is, if it is not at an edge of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ShoulderPlace {
    /// Beside the frame, or behind the phone.
    Outside,
    /// Above the frame: what is seen of them is a back or an arm.
    Above,
    /// Below the frame: what is seen of them is the crown of a head, or nothing.
    Below,
    /// Before the face of the one in focus.
    BeforeTheFace,
}

/// What is in the way of a phone or of its look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Obstacle {
    /// Somebody.
    Person(PersonId),
    /// A piece of the set.
    Piece(PieceKind),
}

/// A finding, and where in its scene it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlacedFinding {
    /// Where.
    pub at: KeptAt,
    /// What.
    pub finding: CutFinding,
}

/// Findings, those that are kept anyway apart.
#[derive(Debug, Clone, PartialEq)]
pub struct SortedFindings<'scene> {
    /// Those to look at.
    pub open: Vec<PlacedFinding>,
    /// Those that are kept anyway, each with the reason.
    pub kept: Vec<(PlacedFinding, &'scene Kept)>,
}

/// Checks the cut of a scene, seen as `views`: the cuts and the shots in the order in which they come, then the scene.
///
/// One pass over the entries.
pub fn check_cut(film: &Film, scene: &Scene, views: &[EntryView]) -> Vec<PlacedFinding> {
    let mut found = Vec::new();
    let mut side = EstablishedSide::default();
    let mut ways = WaysAcross::default();
    let mut checked = BTreeSet::new();
    let brief = shown_briefly(views);
    let mut before: Option<&EntryView> = None;
    for (number, view) in views.iter().enumerate() {
        let crossed = side.sees(view);
        let turned = ways.sees(film, scene, view);
        if let Some(before) = before {
            let at = KeptAt::Cut(before.entry, view.entry);
            let cut = jump_cut(film, scene, before, view).into_iter().chain(crossed).chain(turned);
            let cut = cut.chain(reverses(film, scene, views, number).into_iter().flatten());
            found.extend(cut.map(|finding| PlacedFinding { at, finding }));
        }
        if checked.insert(view.shot.id) {
            let at = KeptAt::Shot(view.shot.id);
            let of_shot = check_shot(film, scene, &view.shot, &view.rehearsal).into_iter();
            let of_shot = of_shot.chain(leaves_frame(view, views)).chain(planned_short(scene, &view.shot));
            let shown_s = brief.get(&view.shot.id).copied();
            let of_shot = of_shot.chain(shown_s.map(|shown_s| CutFinding::ShownBriefly { shown_s }));
            found.extend(of_shot.map(|finding| PlacedFinding { at, finding }));
        }
        before = Some(view);
    }
    let at = KeptAt::Scene;
    let of_scene = check_variety(views).into_iter().chain(walks_through(scene));
    found.extend(of_scene.map(|finding| PlacedFinding { at, finding }));
    found
}

/// Sets those findings apart that the scene keeps anyway.
pub fn sort_findings(scene: &Scene, findings: Vec<PlacedFinding>) -> SortedFindings<'_> {
    let kept_by: BTreeMap<(&str, KeptAt), &Kept> =
        scene.kept.iter().map(|kept| ((kept.rule.as_str(), kept.at), kept)).collect();
    let mut sorted = SortedFindings { open: Vec::new(), kept: Vec::new() };
    for placed in findings {
        match kept_by.get(&(placed.finding.rule(), placed.at)) {
            Some(kept) => sorted.kept.push((placed, kept)),
            None => sorted.open.push(placed),
        }
    }
    sorted
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::findings::cut::example::{entry, film, found, level, two};
    use units::LengthUnit;

    #[test]
    fn what_is_kept_anyway_is_set_apart_with_its_reason() {
        let mut film = film(two(), vec![level(1, 180.0, 2.0), level(2, 190.0, 2.0), level(3, 200.0, 2.0)]);
        let at = KeptAt::Cut(entry(1), entry(2));
        let kept = Kept { rule: "jump_cut".to_owned(), at, reason: "she loses time".to_owned() };
        std::sync::Arc::make_mut(&mut film.scenes[0]).kept.push(kept);
        let all = found(&film);
        let sorted = sort_findings(&film.scenes[0], all.clone());
        assert_eq!(sorted.kept.len(), 1, "{sorted:?}");
        assert_eq!((sorted.kept[0].0.at, sorted.kept[0].1.reason.as_str()), (at, "she loses time"));
        assert_eq!(sorted.open.len() + 1, all.len());
        assert!(
            sorted.open.iter().any(|placed| placed.finding.rule() == "jump_cut"),
            "the other jump stays open"
        );
    }

    #[test]
    fn every_finding_says_itself_in_words() {
        let film = film(two(), vec![level(1, 180.0, 2.0), level(2, 190.0, 2.0), level(3, 200.0, 0.1)]);
        for placed in found(&film) {
            let said = placed.finding.to_finding(&film, LengthUnit::Metres);
            assert!(!said.message.ends_with('.') && said.hint.contains(' '), "{said:?}");
            assert!(placed.finding.reason().ends_with('.'), "{said:?}");
            let words = placed.finding.brief().split(' ').count();
            assert!((2..=5).contains(&words), "{}", placed.finding.brief());
        }
    }
}
