//! A change of a film as it is written into a journal of edits.

use std::collections::BTreeSet;
use std::sync::Arc;

use language::say;
use serde::{Deserialize, Serialize};

use crate::edit::Command;
use crate::film_file::blocking_reading::read_beat_ids;
use crate::film_file::blocking_record::SceneBlockingRecord;
use crate::film_file::day_reading::read_days;
use crate::film_file::day_record::DayRecord;
use crate::film_file::film_reading::{read_cast, read_kit, read_places};
use crate::film_file::film_record::{CastRecord, FilmFactsRecord, PlaceRecord};
use crate::film_file::known::{Ids, Known};
use crate::film_file::problem::{At, Mending};
use crate::film_file::scene_reading::SceneIds;
use crate::film_file::scene_record::{EntryRecord, KeptRecord, SceneFactsRecord, SceneRecord};
use crate::film_file::shot_record::ShotRecord;
use crate::film_file::take_record::TakeRecord;
use crate::id::{SceneId, ShotId, TakeId};
use crate::kit_file::{KitRecord, RecordError};
use crate::take_log::LoggedTake;

/// A change of a film. People, places, scenes, beats and shots are known by their ids.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum CommandRecord {
    /// What holds for all of the film.
    SetFacts(FilmFactsRecord),
    /// What the crew owns.
    SetKit(KitRecord),
    /// Who is in it.
    SetCast(Vec<CastRecord>),
    /// Where it is shot.
    SetPlaces(Vec<PlaceRecord>),
    /// When it is shot.
    SetDays(Vec<DayRecord>),
    /// A new scene, at that place in the film.
    InsertScene {
        /// Before which scene, counted from 0; last if there are not as many.
        at: u32,
        /// The scene.
        scene: Box<SceneRecord>,
    },
    /// A scene goes, with its shots.
    RemoveScene(u64),
    /// A scene comes elsewhere in the film.
    MoveScene {
        /// The scene.
        scene: u64,
        /// Where it is then, counted from 0.
        to: u32,
    },
    /// What a scene is.
    SetSceneFacts {
        /// The scene.
        scene: u64,
        /// What it is.
        facts: Box<SceneFactsRecord>,
    },
    /// Where everybody of a scene is.
    SetBlocking {
        /// The scene.
        scene: u64,
        /// Where they are.
        blocking: SceneBlockingRecord,
    },
    /// A new shot.
    InsertShot {
        /// The scene.
        scene: u64,
        /// Before which shot, counted from 0; last if there are not as many.
        at: u32,
        /// The shot.
        shot: Box<ShotRecord>,
    },
    /// A shot goes.
    RemoveShot(u64),
    /// A shot as it is from now on, in the place of the one of its id.
    SetShot(Box<ShotRecord>),
    /// A shot comes elsewhere in its scene.
    MoveShot {
        /// The shot.
        shot: u64,
        /// Where it is then, counted from 0.
        to: u32,
    },
    /// The cut of a scene.
    SetCut {
        /// The scene.
        scene: u64,
        /// Its entries in order.
        cut: Vec<EntryRecord>,
    },
    /// Which findings are kept anyway.
    SetKept {
        /// The scene.
        scene: u64,
        /// They, with their reasons.
        kept: Vec<KeptRecord>,
    },
    /// A take is logged.
    AddTake {
        /// Before which take, counted from 0; last if there are not as many.
        at: u32,
        /// The take.
        take: Box<TakeRecord>,
    },
    /// A take goes.
    RemoveTake(u64),
    /// A take as it is from now on, in the place of the one of its id.
    SetTake(Box<TakeRecord>),
    /// Several changes that are one.
    All(Vec<Self>),
}

/// A place in a list; beyond what the record holds it is the list's end in any case.
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// A place in a list as the program counts.
fn index(at: u32) -> usize {
    usize::try_from(at).unwrap_or(usize::MAX)
}

impl From<&Command> for CommandRecord {
    fn from(command: &Command) -> Self {
        match command {
            Command::SetFacts(facts) => Self::SetFacts((&**facts).into()),
            Command::SetKit(kit) => Self::SetKit((&**kit).into()),
            Command::SetCast(cast) => Self::SetCast(cast.iter().map(CastRecord::from).collect()),
            Command::SetPlaces(places) => Self::SetPlaces(places.iter().map(PlaceRecord::from).collect()),
            Command::SetDays(days) => Self::SetDays(days.iter().map(DayRecord::from).collect()),
            Command::InsertScene { at, scene } => {
                Self::InsertScene { at: place(*at), scene: Box::new((&**scene).into()) }
            }
            Command::RemoveScene(id) => Self::RemoveScene(id.number()),
            Command::MoveScene { scene, to } => Self::MoveScene { scene: scene.number(), to: place(*to) },
            Command::SetSceneFacts { scene, facts } => {
                Self::SetSceneFacts { scene: scene.number(), facts: Box::new((&**facts).into()) }
            }
            Command::SetBlocking { scene, blocking } => {
                Self::SetBlocking { scene: scene.number(), blocking: (&**blocking).into() }
            }
            Command::InsertShot { scene, at, shot } => {
                Self::InsertShot { scene: scene.number(), at: place(*at), shot: Box::new((&**shot).into()) }
            }
            Command::RemoveShot(id) => Self::RemoveShot(id.number()),
            Command::SetShot(shot) => Self::SetShot(Box::new((&**shot).into())),
            Command::MoveShot { shot, to } => Self::MoveShot { shot: shot.number(), to: place(*to) },
            Command::SetCut { scene, cut } => {
                Self::SetCut { scene: scene.number(), cut: cut.iter().map(EntryRecord::from).collect() }
            }
            Command::SetKept { scene, kept } => {
                Self::SetKept { scene: scene.number(), kept: kept.iter().map(KeptRecord::from).collect() }
            }
            Command::AddTake { at, take } => {
                Self::AddTake { at: place(*at), take: Box::new((&**take).into()) }
            }
            Command::RemoveTake(id) => Self::RemoveTake(id.number()),
            Command::SetTake(take) => Self::SetTake(Box::new((&**take).into())),
            Command::All(commands) => Self::All(commands.iter().map(Self::from).collect()),
        }
    }
}

impl CommandRecord {
    /// The change that the record describes. Whether it can be made is asked when it is.
    ///
    /// # Errors
    /// Names the first field that cannot be used: a journal is not mended, because what follows stands on it.
    pub fn to_command(&self) -> Result<Command, RecordError> {
        let mending = Mending::default();
        let command = self.read(&At::root(&mending))?;
        match mending.into_problems().into_iter().next() {
            Some(problem) => Err(problem.into()),
            None => Ok(command),
        }
    }

    fn read(&self, at: &At<'_>) -> Result<Command, RecordError> {
        let known = Known::ANYTHING;
        Ok(match self {
            Self::SetFacts(facts) => Command::SetFacts(Arc::new(facts.read(&at.field("set_facts")))),
            Self::SetKit(kit) => Command::SetKit(Arc::new(read_kit(&at.field("set_kit"), kit))),
            Self::SetCast(cast) => Command::SetCast(read_cast(at, cast)),
            Self::SetPlaces(places) => Command::SetPlaces(read_places(at, places)),
            Self::SetDays(days) => Command::SetDays(read_days(at, days, None)),
            Self::InsertScene { at: before, scene } => {
                let mut ids = SceneIds::of(std::slice::from_ref(scene));
                let scene = scene.read(&at.field("scene"), &known, &mut ids);
                Command::InsertScene { at: index(*before), scene: Arc::new(scene) }
            }
            Self::RemoveScene(id) => Command::RemoveScene(scene_id(*id)?),
            Self::MoveScene { scene, to } => Command::MoveScene { scene: scene_id(*scene)?, to: index(*to) },
            Self::SetSceneFacts { scene, facts } => {
                let facts = facts.read(&at.field("facts"), &known);
                Command::SetSceneFacts { scene: scene_id(*scene)?, facts: Arc::new(facts) }
            }
            Self::SetBlocking { scene, blocking } => {
                let at = at.field("blocking");
                let beats = read_beat_ids(&at, blocking);
                let blocking = blocking.read(&at, &known, &beats);
                Command::SetBlocking { scene: scene_id(*scene)?, blocking: Arc::new(blocking) }
            }
            Self::InsertShot { scene, at: before, shot } => {
                let shot = read_shot(at, shot)?;
                Command::InsertShot { scene: scene_id(*scene)?, at: index(*before), shot }
            }
            Self::RemoveShot(id) => Command::RemoveShot(shot_id(*id)?),
            Self::SetShot(shot) => Command::SetShot(read_shot(at, shot)?),
            Self::MoveShot { shot, to } => Command::MoveShot { shot: shot_id(*shot)?, to: index(*to) },
            Self::SetCut { scene, cut } => {
                let mut ids = Ids::of(cut.iter().map(|entry| entry.id));
                let entries = cut.iter().enumerate();
                let entries =
                    entries.filter_map(|(index, entry)| entry.read(&at.item("cut", index), &mut ids));
                Command::SetCut { cut: entries.collect(), scene: scene_id(*scene)? }
            }
            Self::SetKept { scene, kept } => {
                let kept = kept.iter().enumerate();
                let kept = kept.filter_map(|(index, kept)| kept.read(&at.item("kept", index)));
                Command::SetKept { kept: kept.collect(), scene: scene_id(*scene)? }
            }
            Self::AddTake { at: before, take } => {
                Command::AddTake { at: index(*before), take: read_take(at, take)? }
            }
            Self::RemoveTake(id) => Command::RemoveTake(take_id(*id)?),
            Self::SetTake(take) => Command::SetTake(read_take(at, take)?),
            Self::All(commands) => {
                let commands = commands.iter().enumerate();
                let commands = commands.map(|(index, command)| command.read(&at.item("all", index)));
                Command::All(commands.collect::<Result<_, _>>()?)
            }
        })
    }
}

fn scene_id(number: u64) -> Result<SceneId, RecordError> {
    SceneId::new(number).ok_or_else(|| RecordError::at("scene", say!("{number} is no id")))
}

fn shot_id(number: u64) -> Result<ShotId, RecordError> {
    ShotId::new(number).ok_or_else(|| RecordError::at("shot", say!("{number} is no id")))
}

fn take_id(number: u64) -> Result<TakeId, RecordError> {
    TakeId::new(number).ok_or_else(|| RecordError::at("take", say!("{number} is no id")))
}

/// A take alone.
fn read_take(at: &At<'_>, record: &TakeRecord) -> Result<Arc<LoggedTake>, RecordError> {
    let id = take_id(record.id)?;
    let shot = shot_id(record.shot)?;
    Ok(Arc::new(record.read(&at.field("take"), id, shot)))
}

/// A shot alone, of whatever scene. One that is of nobody has told so.
fn read_shot(at: &At<'_>, record: &ShotRecord) -> Result<Arc<crate::shot::Shot>, RecordError> {
    let mut ids = Ids::of(BTreeSet::from([record.id]).into_iter());
    let shot = record.read(&at.field("shot"), &Known::ANYTHING, None, &mut ids);
    shot.map(Arc::new)
        .ok_or_else(|| RecordError::at("shot.of", say!("is no shot of anything that can be used")))
}
