//! Two copies of one film that were worked on apart, made one again.
//!
//! What both grew from is not kept, so nothing can tell an older word from a newer one. Therefore what only the other copy
//! has is added, what only this one has stays, and where both have something and it differs, both are shown and a person
//! chooses. Things are known by their ids, which two copies never give to two things ([`FreshIds`](crate::FreshIds)), and
//! those of a kit by their names. Scenes and shots that are added come behind mine, so that mine keep their numbers; where
//! theirs has them elsewhere, the order is a difference.

mod adding;
mod differing;
mod field_words;
mod fields;
mod file_words;
mod leading;
mod naming;
mod sides;
mod target;
mod uniting;
mod weaving;

use std::collections::BTreeSet;

use crate::edit::Command;
use crate::film::Film;
use crate::id::{DayId, PersonId, PlaceId, SceneId, ShotId, TakeId};
use crate::merge::sides::Sides;

/// What comes of putting another copy of a film beside this one.
///
/// People, places and days carry ticks, such as whether somebody has agreed to be filmed or which shots are in the can: one
/// that either copy has counts, and is never a difference. The same goes for a name or a spot on earth that only one says.
#[derive(Debug, Clone, PartialEq)]
pub struct Merge {
    mine: Film,
    theirs: Film,
    adds: Vec<MergeAdd>,
    differences: Vec<Difference>,
    only_mine: usize,
}

/// A part of a film that is added or taken over as one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MergePart {
    /// What holds for all of it.
    Facts,
    /// What the crew owns.
    Kit,
    /// Somebody of the cast.
    Person(PersonId),
    /// A place.
    Place(PlaceId),
    /// A day of shooting.
    Day(DayId),
    /// The order of the scenes.
    SceneOrder,
    /// A scene with all that is in it.
    Scene(SceneId),
    /// What a scene is.
    SceneFacts(SceneId),
    /// Where everybody of a scene is.
    Blocking(SceneId),
    /// The order in which a scene lists its shots.
    ShotOrder(SceneId),
    /// A shot, and which scene it is of.
    Shot(ShotId),
    /// The cut of a scene, as far as it shows shots that both copies can show there.
    Cut(SceneId),
    /// Which findings a scene keeps anyway.
    Kept(SceneId),
    /// A take.
    Take(TakeId),
}

/// Something that only the other copy has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MergeAdd {
    /// What it adds to, or what it adds.
    pub part: MergePart,
    /// In plain words, with the numbers that it gets if everything is added.
    pub what: String,
}

/// Something that both copies have, and not alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// What it is.
    pub part: MergePart,
    /// In plain words.
    pub what: String,
    /// In what it differs.
    pub fields: Vec<FieldDifference>,
}

/// One thing that two copies say of a part, and not alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldDifference {
    /// What it is, in plain words.
    pub name: String,
    /// What mine says.
    pub mine: String,
    /// What theirs says.
    pub theirs: String,
}

/// What a person chose of a merge: everything is added and nothing taken over unless said otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MergeChoices {
    /// Parts of whose adds nothing is wanted. Whom, where and what of the kit that which is wanted needs comes all the same.
    pub without: BTreeSet<MergePart>,
    /// Parts that are taken as theirs has them.
    pub theirs: BTreeSet<MergePart>,
}

impl Merge {
    /// What of theirs comes to mine.
    pub fn of(mine: &Film, theirs: &Film) -> Self {
        let sides = Sides::of(mine, theirs);
        let united = target::target(&sides, &MergeChoices::default());
        Self {
            adds: adding::adds(&sides, &united),
            differences: differing::differences(&sides, &united),
            only_mine: sides.only_mine(),
            mine: mine.clone(),
            theirs: theirs.clone(),
        }
    }

    /// What only theirs has.
    pub fn adds(&self) -> &[MergeAdd] {
        &self.adds
    }

    /// What both have, and not alike.
    pub fn differences(&self) -> &[Difference] {
        &self.differences
    }

    /// How many people, places, days, scenes, shots and takes only mine has; nothing happens to them.
    pub const fn only_mine(&self) -> usize {
        self.only_mine
    }

    /// Whether the two are copies of one film, as far as their ids tell: they share a scene or a shot.
    ///
    /// Ids that were counted by hand from 1 make two films look like one.
    pub fn is_of_one_film(&self) -> bool {
        Sides::of(&self.mine, &self.theirs).are_of_one_film()
    }

    /// Whether theirs brings nothing: it adds nothing and differs in nothing.
    pub fn is_empty(&self) -> bool {
        self.adds.is_empty() && self.differences.is_empty()
    }

    /// Theirs in everything that differs.
    pub fn all_theirs(&self) -> MergeChoices {
        let theirs = self.differences.iter().map(|difference| difference.part).collect();
        MergeChoices { theirs, ..MergeChoices::default() }
    }

    /// The one change that makes of mine what was chosen. It applies to the film that [`Merge::of`] was given as mine.
    pub fn command(&self, choices: &MergeChoices) -> Command {
        let sides = Sides::of(&self.mine, &self.theirs);
        Command::All(leading::commands(&self.mine, &target::target(&sides, choices)))
    }
}

impl MergeChoices {
    fn takes_theirs(&self, part: MergePart) -> bool {
        self.theirs.contains(&part)
    }

    fn wants(&self, part: MergePart) -> bool {
        !self.without.contains(&part)
    }
}
