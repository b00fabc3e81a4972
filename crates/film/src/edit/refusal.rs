//! Why a change cannot be made, in words.

use std::fmt;

use language::say;

use crate::id::{PersonId, PlaceId, SceneId, ShotId, TakeId};

/// Why a change cannot be made. The film is as it was.
#[non_exhaustive]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EditError {
    /// There is no such scene.
    NoScene(SceneId),
    /// There is no such shot.
    NoShot(ShotId),
    /// There is a scene of that id already.
    SceneThere(SceneId),
    /// There is a shot of that id already.
    ShotThere(ShotId),
    /// There is no such take.
    NoTake(TakeId),
    /// There is a take of that id already.
    TakeThere(TakeId),
    /// The cut still shows the shot.
    ShotInCut(ShotId),
    /// A cut's entry is of a shot that was given up.
    ShotDropped(ShotId),
    /// A cut's entry is of a shot that is not of the scene, or two entries have one id.
    CutNotOfScene(SceneId),
    /// Somebody who is still needed would go.
    PersonNeeded(PersonId),
    /// A place where a scene plays would go.
    PlaceNeeded(PlaceId),
    /// A part has two things of one id.
    TwoOfOneId,
    /// The film would be larger than one that can be opened.
    TooLarge,
}

impl fmt::Display for EditError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoScene(id) => f.write_str(&say!("there is no scene {id}")),
            Self::NoShot(id) => f.write_str(&say!("there is no shot {id}")),
            Self::SceneThere(id) => f.write_str(&say!("there is a scene {id} already")),
            Self::ShotThere(id) => f.write_str(&say!("there is a shot {id} already")),
            Self::NoTake(id) => f.write_str(&say!("there is no take {id}")),
            Self::TakeThere(id) => f.write_str(&say!("there is a take {id} already")),
            Self::ShotInCut(id) => f.write_str(&say!("the cut still shows shot {id}")),
            Self::ShotDropped(id) => {
                f.write_str(&say!("shot {id} was given up, and is in no cut until it is taken up again"))
            }
            Self::CutNotOfScene(id) => {
                f.write_str(&say!("the cut of scene {id} shows what is not one of its shots"))
            }
            Self::PersonNeeded(id) => f.write_str(&say!("person {id} is in a scene or a shot")),
            Self::PlaceNeeded(id) => f.write_str(&say!("a scene plays at place {id}")),
            Self::TwoOfOneId => f.write_str(say!("two things have one id")),
            Self::TooLarge => f.write_str(say!("the film would be larger than one that can be opened again")),
        }
    }
}

impl std::error::Error for EditError {}
