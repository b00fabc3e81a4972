//! From a film's records to the film: what is wrong is left out or set to what is usual, and told.

use std::collections::BTreeSet;
use std::sync::Arc;

use language::{key, say};
use optics::{Aspect, MainsFrequency, ShutterAngle};
use staging::Age;
use units::{FrameRate, Length, Stops};

use crate::film::{CastMember, Film, FilmFacts, Hours, Place, USUAL_BIAS};
use crate::film_file::day_reading::read_days;
use crate::film_file::film_record::{CastRecord, FilmFactsRecord, FilmRecord, HoursRecord, PlaceRecord};
use crate::film_file::known::{Ids, Known};
use crate::film_file::photo_record::read_photos;
use crate::film_file::problem::{At, Done, Mending, Problem, Range};
use crate::film_file::scene_reading::SceneIds;
use crate::film_file::take_record::read_takes;
use crate::id::{PersonId, PlaceId};
use crate::kit::Kit;
use crate::kit_file::{KIT_FORMAT_VERSION, KitRecord, MOST_ENTRIES};
use crate::record::ColourRecord;
use crate::unknown::Unknown;

/// A name's most letters, and a text's: chosen generous, so that only what is no name and no text is cut.
pub(super) const MOST_IN_A_NAME: usize = 300;
pub(super) const MOST_IN_A_TEXT: usize = 20_000;
/// The most of each in a film: chosen generous, as a feature film has some hundred scenes and a few thousand shots.
pub(super) const MOST_CAST: usize = 200;
pub(super) const MOST_PLACES: usize = 500;
pub(super) const MOST_SCENES: usize = 500;

/// 16:9, which every phone records: chosen because it crops nothing.
const USUAL_ASPECT: f64 = 16.0 / 9.0;
/// The stature of whom nothing is said: about the average of grown people.
const USUAL_STATURE_M: f64 = 1.7;
/// A grey brown: chosen because nobody looks at it.
const USUAL_CLOTHES: ColourRecord = ColourRecord([0x6f, 0x6a, 0x60]);

const FRAME_RATE: Range = Range { field: "frame_rate_fps", min: 1.0, max: 1000.0, unit: "fps" };
const SHUTTER: Range = Range { field: "shutter_angle_deg", min: 1.0, max: 360.0, unit: key!("deg") };
const BIAS: Range = Range { field: "bias_stops", min: -5.0, max: 5.0, unit: key!("stops") };
const MAINS: Range = Range { field: "mains_hz", min: 15.0, max: 500.0, unit: "Hz" };
const STATURE: Range = Range { field: "stature_m", min: 0.4, max: 2.8, unit: "m" };

impl FilmRecord {
    /// The film that the record describes, and what in it could not be used.
    pub fn to_film(&self) -> (Film, Vec<Problem>) {
        let mending = Mending::default();
        let film = self.read(&At::root(&mending));
        (film, mending.into_problems())
    }

    pub(super) fn read(&self, at: &At<'_>) -> Film {
        let cast = read_cast(at, &self.cast);
        let places = read_places(at, &self.places);
        let people_ids: BTreeSet<u64> = cast.iter().map(|member| member.id.number()).collect();
        let place_ids: BTreeSet<u64> = places.iter().map(|place| place.id.number()).collect();
        let known = Known::of(&people_ids, &place_ids);
        // What is wrong is told in the order of the file.
        let facts = Arc::new(self.facts.read(at));
        let kit = Arc::new(read_kit(&at.field("kit"), &self.kit));
        let scenes = at.few("scenes", &self.scenes, MOST_SCENES);
        let mut ids = SceneIds::of(scenes);
        let scenes = scenes.iter().enumerate();
        let scenes: Vec<_> = scenes
            .map(|(index, scene)| Arc::new(scene.read(&at.item("scenes", index), &known, &mut ids)))
            .collect();
        let shots = scenes.iter().flat_map(|scene| scene.shots.iter().map(|shot| shot.id)).collect();
        let days = read_days(at, &self.days, Some(&shots));
        Film { facts, kit, cast, places, days, scenes, takes: read_takes(at, &self.takes) }
    }
}

impl FilmFactsRecord {
    pub(super) fn read(&self, at: &At<'_>) -> FilmFacts {
        let fps = at.or_usual(&FRAME_RATE, self.frame_rate_fps, FrameRate::FILM.to_fps());
        let bias = at.or_usual(&BIAS, self.bias_stops, USUAL_BIAS.to_f64());
        let mains =
            self.mains_hz.map(|hertz| at.or_usual(&MAINS, Some(hertz), MainsFrequency::FIFTY.to_hz()));
        let shutter = at.or_usual(&SHUTTER, self.shutter_angle_deg, ShutterAngle::HALF.to_deg());
        FilmFacts {
            title: at.text("title", &self.title, MOST_IN_A_NAME),
            line: at.text("line", &self.line, MOST_IN_A_TEXT),
            aspect: self.aspect.map_or_else(usual_aspect, |aspect| aspect.0),
            frame_rate: FrameRate::checked_from_fps(fps).unwrap_or(FrameRate::FILM),
            shutter: ShutterAngle::from_deg(shutter).unwrap_or(ShutterAngle::HALF),
            recording: at.text("recording", &self.recording, MOST_IN_A_NAME),
            bias: Stops::new(bias),
            mains: mains.and_then(|hertz| MainsFrequency::from_hz(hertz).ok()),
            unknown: Unknown::of(self.unknown.clone()),
        }
    }
}

/// The shape of a film that says none.
#[expect(clippy::expect_used, reason = "16:9 is within 0.2 to 5")]
pub(crate) fn usual_aspect() -> Aspect {
    Aspect::new(USUAL_ASPECT).expect("a frame shape")
}

/// The cast, each with an id of their own.
pub(super) fn read_cast(at: &At<'_>, records: &[CastRecord]) -> Arc<[CastMember]> {
    let records = at.few("cast", records, MOST_CAST);
    let mut ids = Ids::of(records.iter().map(|record| record.id));
    let members = records.iter().enumerate().filter_map(|(index, record)| {
        let at = at.item("cast", index);
        Some(CastMember {
            id: PersonId::new(ids.claim(&at, record.id))?,
            name: at.text("name", &record.name, MOST_IN_A_NAME),
            stature: Length::from_m(at.or_usual(&STATURE, record.stature_m, USUAL_STATURE_M)),
            age: record.age.map(Age::from).unwrap_or_default(),
            clothes: record.clothes.unwrap_or(USUAL_CLOTHES).to_colour(),
            hours: record.hours.and_then(|hours| read_hours(&at.field("hours"), hours)),
            consent: record.consent.unwrap_or(false),
            unknown: Unknown::of(record.unknown.clone()),
        })
    });
    members.collect()
}

/// A stretch of a day, or none with what is wrong told.
pub(super) fn read_hours(at: &At<'_>, hours: HoursRecord) -> Option<Hours> {
    let minutes = |minutes: u32| u16::try_from(minutes).ok();
    let read = minutes(hours.from_min).zip(minutes(hours.to_min));
    let read = read.and_then(|(from, to)| Hours::new(from, to));
    if read.is_none() {
        let message = say!(
            "{} to {} min is not allowed: 0 to {} min, the end after the start, by a day at the most",
            hours.from_min,
            hours.to_min,
            Hours::LATEST_MIN
        );
        at.report(message, Done::LeftOut(key!("they were")));
    }
    read
}

/// The places, each with an id of its own.
pub(super) fn read_places(at: &At<'_>, records: &[PlaceRecord]) -> Arc<[Place]> {
    let records = at.few("places", records, MOST_PLACES);
    let mut ids = Ids::of(records.iter().map(|record| record.id));
    let places = records.iter().enumerate().filter_map(|(index, record)| {
        let at = at.item("places", index);
        Some(Place {
            id: PlaceId::new(ids.claim(&at, record.id))?,
            name: at.text("name", &record.name, MOST_IN_A_NAME),
            notes: at.text("notes", &record.notes, MOST_IN_A_TEXT),
            spot: record.spot.as_ref().and_then(|spot| spot.read(&at.field("spot"))),
            permission: record.permission.unwrap_or(false),
            room_tone: record.room_tone.unwrap_or(false),
            wild_track: record.wild_track.unwrap_or(false),
            photos: read_photos(&at, &record.photos),
            paced: record.paced.as_ref().and_then(|paced| paced.read(&at.field("paced"))).map(Arc::new),
            unknown: Unknown::of(record.unknown.clone()),
        })
    });
    places.collect()
}

/// The kit without what is wrong in it, which may leave an empty one: a film without lenses is still a film.
pub(super) fn read_kit(at: &At<'_>, record: &KitRecord) -> Kit {
    if record.format_version != KIT_FORMAT_VERSION {
        let message =
            say!("{} is not a version that this program reads: {KIT_FORMAT_VERSION}", record.format_version);
        at.field("format_version").report(message, Done::KeptTheRest);
    }
    let mut record = record.clone();
    loop {
        let error = match record.to_parts() {
            Ok(kit) => return kit,
            Err(error) => error,
        };
        let list = error.path.split(['[', '.']).next().unwrap_or_default().to_owned();
        let index = error.path.strip_prefix(&list).and_then(|rest| rest.strip_prefix('['));
        let index = index.and_then(|rest| rest.split(']').next()?.parse::<usize>().ok());
        let left = match list.as_str() {
            "lenses" => leaves(at, "lenses", &mut record.lenses, index),
            "recordings" => leaves(at, "recordings", &mut record.recordings, index),
            "adapters" => leaves(at, "adapters", &mut record.adapters, index),
            "filters" => leaves(at, "filters", &mut record.filters, index),
            "views" => leaves(at, "views", &mut record.views, index),
            "exposure_times_s" => leaves(at, "exposure_times_s", &mut record.exposure_times_s, index),
            _ => None,
        };
        let Some(place) = left else {
            at.refuse(error, Done::LeftOut(key!("the kit was")));
            return empty_kit();
        };
        let inner = error.path.split_once("].").map_or("", |(_, inner)| inner);
        let path = if inner.is_empty() { place } else { format!("{place}.{inner}") };
        let done =
            if index.is_some() { Done::LeftOut(key!("the whole of it was")) } else { Done::KeptTheRest };
        at.mending().report(Problem { path, message: error.message, done });
    }
}

/// Takes one item out of a kit's list, or all beyond as many as are allowed, and says where that was in the file.
fn leaves<Record>(
    at: &At<'_>,
    name: &'static str,
    list: &mut Vec<Record>,
    index: Option<usize>,
) -> Option<String> {
    match index {
        Some(index) if index < list.len() => {
            let place = at.item(name, index).path();
            at.mending().leaves(&at.field(name).path(), index);
            list.remove(index);
            Some(place)
        }
        None if list.len() > MOST_ENTRIES => {
            list.truncate(MOST_ENTRIES);
            Some(at.field(name).path())
        }
        Some(_) | None => None,
    }
}

/// A kit in which nothing is.
pub(crate) fn empty_kit() -> Kit {
    Kit {
        name: "kit".to_owned(),
        camera_app: crate::kit::CameraApp::default(),
        lenses: Vec::new(),
        recordings: Vec::new(),
        adapters: Vec::new(),
        filters: Vec::new(),
        views: Vec::new(),
        exposure_times: Vec::new(),
    }
}
