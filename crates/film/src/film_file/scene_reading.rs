//! From a scene's records to the scene.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use language::{Number, key, say};
use optics::ExposureValue;
use units::Length;

use crate::film_file::blocking_reading::read_beat_ids;
use crate::film_file::film_reading::{MOST_IN_A_NAME, MOST_IN_A_TEXT};
use crate::film_file::known::{Ids, Known};
use crate::film_file::problem::{At, Done, Range};
use crate::film_file::scene_record::{EntryRecord, KeptAtRecord, KeptRecord, SceneFactsRecord, SceneRecord};
use crate::id::{EntryId, SceneId, ShotId};
use crate::scene::{
    Entry, Kept, KeptAt, LONGEST_SHOT_S, Lamps, Scene, SceneFacts, SceneLight, Setting, Stretch, TimeOfDay,
    Want, WhiteBalance,
};
use crate::shot::Shot;
use crate::unknown::Unknown;

/// The most of each in a scene, and of shots in a film: chosen generous, so that only a hostile file has more.
pub(super) const MOST_WANTS: usize = 200;
pub(super) const MOST_ENTRIES: usize = 5000;
pub(super) const MOST_SHOTS: usize = 10_000;

const LIGHT: Range = Range { field: "light_ev100", min: -10.0, max: 25.0, unit: key!("(EV at ISO 100)") };
const WHITE: Range = Range { field: "white_balance_k", min: 1500.0, max: 15_000.0, unit: "K" };
const ROOM: Range = Range { field: "room_m", min: 0.1, max: 100_000.0, unit: "m" };

/// The ids of what is known across all of a film's scenes.
#[derive(Debug)]
pub(super) struct SceneIds {
    scenes: Ids,
    shots: Ids,
    shots_left: usize,
}

impl SceneIds {
    /// For these scenes.
    pub(super) fn of(scenes: &[SceneRecord]) -> Self {
        Self {
            scenes: Ids::of(scenes.iter().map(|scene| scene.id)),
            shots: Ids::of(scenes.iter().flat_map(|scene| &scene.shots).map(|shot| shot.id)),
            shots_left: MOST_SHOTS,
        }
    }
}

/// The ids in the file of what a scene kept, and what each is known by; the first of an id is meant by it.
type Places<Id> = BTreeMap<u64, Id>;

impl SceneRecord {
    pub(super) fn read(&self, at: &At<'_>, known: &Known<'_>, ids: &mut SceneIds) -> Scene {
        let blocking_at = at.field("blocking");
        let beats = read_beat_ids(&blocking_at, &self.blocking);
        let mut shots: Vec<Arc<Shot>> = Vec::new();
        let mut shot_ids: Places<ShotId> = Places::new();
        let mut dropped = BTreeSet::new();
        for (index, record) in at.few("shots", &self.shots, ids.shots_left).iter().enumerate() {
            let at = at.item("shots", index);
            if let Some(shot) = record.read(&at, known, Some(&beats), &mut ids.shots) {
                shot_ids.entry(record.id).or_insert(shot.id);
                if shot.is_dropped {
                    dropped.insert(shot.id);
                }
                shots.push(Arc::new(shot));
            }
        }
        ids.shots_left -= shots.len();
        let (cut, entry_ids) = self.read_cut(at, &shot_ids, &dropped);
        Scene {
            id: scene_id(ids.scenes.claim(at, self.id)),
            facts: Arc::new(self.facts.read(at, known)),
            blocking: Arc::new(self.blocking.read(&blocking_at, known, &beats)),
            kept: self.read_kept(at, &shot_ids, &entry_ids),
            shots,
            cut,
        }
    }

    fn read_cut(
        &self,
        at: &At<'_>,
        shots: &Places<ShotId>,
        dropped: &BTreeSet<ShotId>,
    ) -> (Vec<Entry>, Places<EntryId>) {
        let records = at.few("cut", &self.cut, MOST_ENTRIES);
        let mut ids = Ids::of(records.iter().map(|record| record.id));
        let mut known: Places<EntryId> = Places::new();
        let mut cut = Vec::new();
        for (index, record) in records.iter().enumerate() {
            let at = at.item("cut", index);
            let Some(shot) = shots.get(&record.shot) else {
                let message = say!("{} is no shot of this scene", record.shot);
                at.field("shot").report(message, Done::LeftOut(key!("the entry was")));
                continue;
            };
            if dropped.contains(shot) {
                at.field("shot").report(say!("the shot was given up"), Done::LeftOut(key!("the entry was")));
                continue;
            }
            let Some(id) = EntryId::new(ids.claim(&at, record.id)) else { continue };
            known.entry(record.id).or_insert(id);
            cut.push(Entry { id, shot: *shot, stretch: record.stretch(&at) });
        }
        (cut, known)
    }

    fn read_kept(&self, at: &At<'_>, shots: &Places<ShotId>, entries: &Places<EntryId>) -> Vec<Kept> {
        let records = at.few("kept", &self.kept, MOST_ENTRIES).iter().enumerate();
        let kept = records.filter_map(|(index, record)| {
            let at = at.item("kept", index);
            let place = record.place(shots, entries);
            if place.is_none() {
                let message = say!("stands where the scene has no such shot or entry");
                at.field("at").report(message, Done::LeftOut(key!("the finding was")));
            }
            Some(Kept {
                rule: at.text("rule", &record.rule, MOST_IN_A_NAME),
                at: place?,
                reason: at.text("reason", &record.reason, MOST_IN_A_TEXT),
            })
        });
        kept.collect()
    }
}

#[expect(clippy::expect_used, reason = "what is claimed is an id")]
fn scene_id(claimed: u64) -> SceneId {
    SceneId::new(claimed).expect("an id")
}

impl SceneFactsRecord {
    pub(super) fn read(&self, at: &At<'_>, known: &Known<'_>) -> SceneFacts {
        let wants = at.few("wants", &self.wants, MOST_WANTS).iter().enumerate();
        let wants = wants.filter_map(|(index, want)| {
            let at = at.item("wants", index);
            Some(Want {
                who: known.person_at(&at.field("who"), want.who, key!("the want was"))?,
                what: at.text("what", &want.what, MOST_IN_A_TEXT),
            })
        });
        let text = |field: &'static str, text: &str| at.text(field, text, MOST_IN_A_TEXT);
        let read = at.within(&LIGHT, self.light_ev100).and_then(|value| ExposureValue::of_scene(value).ok());
        let white = at.within(&WHITE, self.white_balance_k);
        SceneFacts {
            title: at.text("title", &self.title, MOST_IN_A_NAME),
            place: self.place.and_then(|place| known.place_at(&at.field("place"), place)),
            setting: self.setting.map(Setting::from).unwrap_or_default(),
            time: self.time.map(TimeOfDay::from).unwrap_or_default(),
            mood: text("mood", &self.mood),
            wants: wants.collect(),
            obstacle: text("obstacle", &self.obstacle),
            happens: text("happens", &self.happens),
            changes: text("changes", &self.changes),
            room: at.within(&ROOM, self.room_m).map(Length::from_m),
            light: read.map_or(SceneLight::ByHour, SceneLight::Read),
            lamps: match self.lamps {
                None => Lamps::BySetting,
                Some(true) => Lamps::On,
                Some(false) => Lamps::Off,
            },
            white_balance: white.and_then(|kelvin| WhiteBalance::from_kelvin(kelvin).ok()),
            unknown: Unknown::of(self.unknown.clone()),
        }
    }
}

impl EntryRecord {
    /// The stretch that is said, if one is.
    fn stretch(&self, at: &At<'_>) -> Option<Stretch> {
        let (from_s, to_s) = match (self.from_s, self.to_s) {
            (None, None) => return None,
            (from_s, to_s) => (from_s.unwrap_or(0.0), to_s),
        };
        let stretch = to_s.and_then(|to_s| Stretch::new(from_s, to_s));
        if stretch.is_none() {
            let to = to_s.map_or_else(|| say!("nothing").to_owned(), |to_s| format!("{} s", Number(to_s)));
            let from_s = Number(from_s);
            let message = say!(
                "from {from_s} s to {to} is not allowed: 0 to {LONGEST_SHOT_S} s, the end after the start"
            );
            at.field("to_s").report(message, Done::SetTo(say!("the whole shot").to_owned()));
        }
        stretch
    }

    /// The entry alone, of whatever shot that is.
    pub(super) fn read(&self, at: &At<'_>, ids: &mut Ids) -> Option<Entry> {
        let shot = ShotId::new(self.shot);
        if shot.is_none() {
            at.field("shot").report(say!("{} is no id", self.shot), Done::LeftOut(key!("the entry was")));
        }
        Some(Entry { id: EntryId::new(ids.claim(at, self.id))?, shot: shot?, stretch: self.stretch(at) })
    }
}

impl KeptRecord {
    /// Where it is kept, in terms of what the scene kept.
    fn place(&self, shots: &Places<ShotId>, entries: &Places<EntryId>) -> Option<KeptAt> {
        match self.at {
            None => Some(KeptAt::Scene),
            Some(KeptAtRecord::Shot(id)) => shots.get(&id).copied().map(KeptAt::Shot),
            Some(KeptAtRecord::Cut { from, to }) => {
                Some(KeptAt::Cut(*entries.get(&from)?, *entries.get(&to)?))
            }
        }
    }

    /// The finding alone, wherever that is.
    pub(super) fn read(&self, at: &At<'_>) -> Option<Kept> {
        let place = match self.at {
            None => Some(KeptAt::Scene),
            Some(KeptAtRecord::Shot(id)) => ShotId::new(id).map(KeptAt::Shot),
            Some(KeptAtRecord::Cut { from, to }) => {
                EntryId::new(from).zip(EntryId::new(to)).map(|(from, to)| KeptAt::Cut(from, to))
            }
        };
        if place.is_none() {
            at.field("at").report(say!("stands at what is no id"), Done::LeftOut(key!("the finding was")));
        }
        Some(Kept {
            rule: at.text("rule", &self.rule, MOST_IN_A_NAME),
            at: place?,
            reason: at.text("reason", &self.reason, MOST_IN_A_TEXT),
        })
    }
}
