//! From the records of a scene's blocking to the blocking.

use std::collections::{BTreeMap, BTreeSet};

use glam::DVec2;
use language::{key, say};
use staging::{Light, Posture, USUAL_PACE};
use units::{Angle, Length};

use crate::film_file::blocking_record::{
    BeatRecord, LineRecord, MarkRecord, PointRecord, SceneBlockingRecord, WayRecord,
};
use crate::film_file::film_reading::MOST_IN_A_TEXT;
use crate::film_file::known::{Ids, Known};
use crate::film_file::problem::{At, Done, Range};
use crate::id::BeatId;
use crate::record::FARTHEST_PLACE_M;
use crate::scene_blocking::{Beat, Faces, LineWish, Mark, SceneBlocking, Way};

/// The most of each in a scene, as in a request: each is many shapes to draw.
pub(super) const MOST_MARKS: usize = 20;
const MOST_PIECES: usize = 60;
/// Chosen generous: more is another scene, or another walk.
const MOST_BEATS: usize = 200;
const MOST_CORNERS: usize = 100;
/// South: where the phone is if nobody says.
pub(super) const USUAL_DIRECTION_DEG: f64 = 180.0;

const X: Range = Range { field: "x_m", min: -FARTHEST_PLACE_M, max: FARTHEST_PLACE_M, unit: "m" };
const Y: Range = Range { field: "y_m", min: -FARTHEST_PLACE_M, max: FARTHEST_PLACE_M, unit: "m" };
const FACES: Range = Range { field: "faces_deg", min: -360.0, max: 360.0, unit: key!("deg") };
const NORTH: Range = Range { field: "north_deg", min: -360.0, max: 360.0, unit: key!("deg") };
const PACE: Range = Range { field: "pace_m_per_s", min: 0.05, max: 10.0, unit: "m/s" };
/// Ten hours: chosen because no scene plays as long.
const STARTS: Range = Range { field: "starts_s", min: 0.0, max: 36_000.0, unit: "s" };

/// What each beat is known by, by the number that it has in the file.
pub(super) type BeatIds = BTreeMap<u64, Vec<BeatId>>;

/// The ids of a scene's beats; of two that have one, the second is given another, and the first is meant by it.
pub(super) fn read_beat_ids(at: &At<'_>, record: &SceneBlockingRecord) -> BeatIds {
    let records = at.few("beats", &record.beats, MOST_BEATS);
    let mut ids = Ids::of(records.iter().map(|beat| beat.id));
    let mut known = BeatIds::new();
    for (index, beat) in records.iter().enumerate() {
        known.entry(beat.id).or_default().extend(BeatId::new(ids.claim(&at.item("beats", index), beat.id)));
    }
    known
}

impl SceneBlockingRecord {
    /// The blocking, its beats known by `beat_ids`.
    pub(super) fn read(&self, at: &At<'_>, known: &Known<'_>, beat_ids: &BeatIds) -> SceneBlocking {
        let south = Angle::from_deg(USUAL_DIRECTION_DEG);
        let mut on_a_mark = BTreeSet::new();
        let marks = at.few("marks", &self.marks, MOST_MARKS).iter().enumerate();
        let marks = marks.filter_map(|(index, mark)| {
            let at = at.item("marks", index);
            let read = mark.read(&at, known)?;
            if !on_a_mark.insert(read.who) {
                let message = say!("{} is on a mark before it", mark.who);
                at.field("who").report(message, Done::LeftOut(key!("the mark was")));
                return None;
            }
            Some(read)
        });
        let pieces = at.few("pieces", &self.pieces, MOST_PIECES).iter().enumerate();
        let pieces = pieces.filter_map(|(index, piece)| {
            at.item("pieces", index).or_left_out(piece.to_piece(south), key!("the piece was"))
        });
        let light = self.light.and_then(|light| {
            let told = at.field("light");
            light
                .to_light()
                .map_err(|error| told.refuse(error, Done::SetTo(say!("the usual sun").to_owned())))
                .ok()
        });
        let mut left = beat_ids.clone();
        let beats = self.beats.iter().take(MOST_BEATS).enumerate().filter_map(|(index, beat)| {
            let ids = left.get_mut(&beat.id).filter(|ids| !ids.is_empty())?;
            Some(beat.read(&at.item("beats", index), known, ids.remove(0)))
        });
        SceneBlocking {
            marks: marks.collect(),
            pieces: pieces.collect(),
            light: light.unwrap_or(Light::USUAL),
            north: Angle::from_deg(at.or_usual(&NORTH, self.north_deg, 0.0)),
            beats: beats.collect(),
        }
    }
}

/// A point of the floor, or none with what is wrong told.
pub(super) fn read_point(at: &At<'_>, x_m: f64, y_m: f64, what: &'static str) -> Option<DVec2> {
    let metres = |range: &Range, value: f64| at.or_left_out(range.check(value), what);
    Some(DVec2::new(metres(&X, x_m)?, metres(&Y, y_m)?))
}

impl PointRecord {
    fn read(self, at: &At<'_>, what: &'static str) -> Option<DVec2> {
        read_point(at, self.x_m, self.y_m, what)
    }
}

impl MarkRecord {
    fn read(&self, at: &At<'_>, known: &Known<'_>) -> Option<Mark> {
        let who = known.person_at(&at.field("who"), self.who, key!("the mark was"))?;
        let at_whom = self
            .faces_person
            .and_then(|other| known.person_at(&at.field("faces_person"), other, key!("it was")));
        let towards = || Angle::from_deg(at.or_usual(&FACES, self.faces_deg, USUAL_DIRECTION_DEG));
        Some(Mark {
            who,
            place: read_point(at, self.x_m, self.y_m, key!("the mark was"))?,
            faces: at_whom.map_or_else(|| Faces::Towards(towards()), Faces::At),
            posture: self.posture.map(Posture::from).unwrap_or_default(),
            way: self.way.as_ref().and_then(|way| way.read(&at.field("way"))),
        })
    }
}

impl WayRecord {
    fn read(&self, at: &At<'_>) -> Option<Way> {
        let corners = at.few("corners", &self.corners, MOST_CORNERS).iter().enumerate();
        let corners: Vec<DVec2> = corners
            .filter_map(|(index, corner)| corner.read(&at.item("corners", index), key!("the corner was")))
            .collect();
        if corners.is_empty() {
            at.field("corners").report(
                say!("is empty: a way needs at least one corner"),
                Done::LeftOut(key!("the way was")),
            );
            return None;
        }
        Some(Way {
            corners,
            pace: Length::from_m(at.or_usual(&PACE, self.pace_m_per_s, USUAL_PACE.to_m())),
            starts_s: at.or_usual(&STARTS, self.starts_s, 0.0),
        })
    }
}

impl BeatRecord {
    fn read(&self, at: &At<'_>, known: &Known<'_>, id: BeatId) -> Beat {
        Beat {
            id,
            what: at.text("what", &self.what, MOST_IN_A_TEXT),
            starts_s: at.or_usual(&STARTS, self.starts_s, 0.0),
            line: self
                .line
                .map_or(LineWish::Auto, |line| line.read(&at.field("line"), known).unwrap_or_default()),
        }
    }
}

impl LineRecord {
    fn read(self, at: &At<'_>, known: &Known<'_>) -> Option<LineWish> {
        let person = |at: &At<'_>, who: u64| known.person_at(at, who, key!("the line was"));
        Some(match self {
            Self::None => LineWish::None,
            Self::Between { one, other } => {
                let at = at.field("between");
                LineWish::Between(person(&at.field("one"), one)?, person(&at.field("other"), other)?)
            }
            Self::Along(who) => LineWish::Along(person(&at.field("along"), who)?),
            Self::ByHand { from, to } => {
                let (at, what) = (at.field("by_hand"), key!("the line was"));
                LineWish::ByHand(from.read(&at.field("from"), what)?, to.read(&at.field("to"), what)?)
            }
        })
    }
}
