//! A take as a film's file writes it, and back.

use std::sync::Arc;

use jiff::Timestamp;
use language::{key, say};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::film_file::film_reading::{MOST_IN_A_NAME, MOST_IN_A_TEXT};
use crate::film_file::known::Ids;
use crate::film_file::problem::{At, Done};
use crate::id::{ShotId, TakeId};
use crate::record::VerdictWord;
use crate::take_log::{LoggedTake, Verdict};
use crate::unknown::Unknown;

/// A take that was made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TakeRecord {
    /// Known by this.
    pub id: u64,
    /// The id of its shot.
    pub shot: u64,
    /// Which take of the shot, counted from 1, as it was slated; 1 to 9999.
    pub number: u32,
    /// Whether it is any good; nobody has said if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub verdict: Option<VerdictWord>,
    /// Why it is or is not.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub why: String,
    /// What the camera app called its clip.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub clip: String,
    /// When it was logged, such as `2026-09-12T13:05:00Z`; not known if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// Where the camera app's focus slider stood, as the app writes it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub focus: String,
    /// What a newer program wrote beside these.
    #[serde(flatten, skip_serializing_if = "Map::is_empty")]
    pub unknown: Map<String, Value>,
}

/// The most takes of a film: chosen generous, as a feature film has some thousands, and so that a film of which all is said of
/// each is not too heavy to open.
const MOST_TAKES: usize = 20_000;
/// The highest number of a take: chosen, as a slate has four places.
const HIGHEST_NUMBER: u32 = 9999;

impl From<&LoggedTake> for TakeRecord {
    fn from(take: &LoggedTake) -> Self {
        let LoggedTake { id, shot, number, verdict, why, clip, at, focus, unknown } = take;
        Self {
            id: id.number(),
            shot: shot.number(),
            number: *number,
            verdict: (*verdict != Verdict::Unsaid).then(|| (*verdict).into()),
            why: why.clone(),
            clip: clip.clone(),
            at: at.map(|at| at.to_string()),
            focus: focus.clone(),
            unknown: unknown.fields(),
        }
    }
}

/// The takes, each with an id of its own.
pub(super) fn read_takes(at: &At<'_>, records: &[TakeRecord]) -> Arc<[Arc<LoggedTake>]> {
    let records = at.few("takes", records, MOST_TAKES);
    let mut ids = Ids::of(records.iter().map(|record| record.id));
    let takes = records.iter().enumerate().filter_map(|(index, record)| {
        let at = at.item("takes", index);
        let Some(shot) = ShotId::new(record.shot) else {
            at.field("shot").report(say!("{} is no id", record.shot), Done::LeftOut(key!("the take was")));
            return None;
        };
        let id = TakeId::new(ids.claim(&at, record.id))?;
        Some(Arc::new(record.read(&at, id, shot)))
    });
    takes.collect()
}

impl TakeRecord {
    pub(super) fn read(&self, at: &At<'_>, id: TakeId, shot: ShotId) -> LoggedTake {
        LoggedTake {
            id,
            shot,
            number: read_number(at, self.number),
            verdict: self.verdict.map_or(Verdict::Unsaid, Verdict::from),
            why: at.text("why", &self.why, MOST_IN_A_TEXT),
            clip: at.text("clip", &self.clip, MOST_IN_A_NAME),
            at: self.at.as_deref().and_then(|moment| read_moment(at, moment)),
            focus: at.text("focus", &self.focus, MOST_IN_A_NAME),
            unknown: Unknown::of(self.unknown.clone()),
        }
    }
}

fn read_number(at: &At<'_>, number: u32) -> u32 {
    let read = number.clamp(1, HIGHEST_NUMBER);
    if read != number {
        let message = say!("{number} is not allowed: 1 to {HIGHEST_NUMBER}");
        at.field("number").report(message, Done::SetTo(read.to_string()));
    }
    read
}

fn read_moment(at: &At<'_>, text: &str) -> Option<Timestamp> {
    let moment = text.parse().ok();
    if moment.is_none() {
        let shown: String = text.chars().take(40).collect();
        let message = say!("{shown:?} is not allowed: a moment such as 2026-09-12T13:05:00Z");
        at.field("at").report(message, Done::LeftOut(key!("it was")));
    }
    moment
}
