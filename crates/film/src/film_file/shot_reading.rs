//! From a shot's record to the shot.

use std::collections::BTreeSet;

use language::{key, say};
use optics::CropShift;
use staging::{FocusOn, Look, PhoneHeight, ShotSize, Stand, Support};
use units::{Angle, FrameRate, Length};

use crate::film_file::blocking_reading::{BeatIds, MOST_MARKS, USUAL_DIRECTION_DEG, read_point};
use crate::film_file::film_reading::{MOST_IN_A_NAME, MOST_IN_A_TEXT};
use crate::film_file::known::{Ids, Known};
use crate::film_file::problem::{At, Done, Range};
use crate::film_file::shot_record::{ShotOfRecord, ShotRecord, USUAL_BEHIND_M};
use crate::id::{BeatId, PersonId, ShotId};
use crate::shot::{ActionKind, LensChoice, Priority, Shot, ShotOf, Sound, SunWish, USUAL_PLANNED_S};
use crate::unknown::Unknown;

const fn range(field: &'static str, min: f64, max: f64, unit: &'static str) -> Range {
    Range { field, min, max, unit }
}

const HEADROOM: Range = range("headroom_share", -2.0, 0.8, key!("(share)"));
const SIDE: Range = range("side_deg", -360.0, 360.0, key!("deg"));
const HEIGHT: Range = range("height_m", 0.0, 50.0, "m");
const TILT: Range = range("tilt_deg", -89.0, 89.0, key!("deg"));
const ACROSS: Range = range("across_share", 0.05, 0.95, key!("(share)"));
const CROP_UP: Range = range("crop_up_share", -1.0, 1.0, key!("(share)"));
const CROP_RIGHT: Range = range("crop_right_share", -1.0, 1.0, key!("(share)"));
const STAND_AT: Range = range("stand_at_m", 0.02, 10_000.0, "m");
const BEHIND: Range = range("background_behind_m", 0.0, 100_000.0, "m");
const ZOOM: Range = range("in_sensor_zoom", 1.0, 20.0, key!("(factor)"));
const FOCUS_AT: Range = range("focus_at_m", 0.02, 100_000.0, "m");
const RECORDER_AWAY: Range = range("recorder_away_m", 0.01, 1000.0, "m");
const CAPTURE_RATE: Range = range("capture_rate_fps", 1.0, 1000.0, "fps");
const PLANNED: Range = range("planned_s", 0.1, 600.0, "s");
const ON_SET: Range = range("on_set_min", 0.1, 600.0, "min");
const OBJECT_SIZE: Range = range("size_m", 0.005, 20.0, "m");
const ABOVE_FLOOR: Range = range("above_floor_m", 0.0, 50.0, "m");

impl ShotRecord {
    /// The shot; none if nothing is left that it is of. Where `beats` are known, its beat is one of them.
    pub(super) fn read(
        &self,
        at: &At<'_>,
        known: &Known<'_>,
        beats: Option<&BeatIds>,
        ids: &mut Ids,
    ) -> Option<Shot> {
        let of = self.of.read(&at.field("of"), known)?;
        let id = ShotId::new(ids.claim(at, self.id))?;
        let name = |field: &'static str, text: &Option<String>| {
            text.as_ref().map(|text| at.text(field, text, MOST_IN_A_NAME))
        };
        let metres = |range: &Range, given: Option<f64>| at.within(range, given).map(Length::from_m);
        let movement = self.movement.and_then(|record| {
            at.or_left_out(record.to_movement("movement"), key!("the movement was")).flatten()
        });
        let pull =
            self.pull.and_then(|pull| at.field("pull").or_left_out(pull.to_pull(), key!("the pull was")));
        let foreground = self
            .foreground
            .and_then(|near| at.field("foreground").or_left_out(near.to_foreground(), key!("the piece was")));
        let rate = at.within(&CAPTURE_RATE, self.capture_rate_fps);
        Some(Shot {
            id,
            size: self.size(&of),
            of,
            beat: self.beat.and_then(|beat| read_beat(at, beat, beats)),
            headroom: at.within(&HEADROOM, self.headroom_share),
            side: Angle::from_deg(at.or_usual(&SIDE, self.side_deg, USUAL_DIRECTION_DEG)),
            height: self.height(at),
            look: at
                .within(&TILT, self.tilt_deg)
                .map_or(Look::Aimed, |tilt| Look::Tilt(Angle::from_deg(tilt))),
            across: at.or_usual(&ACROSS, self.across_share, 0.5),
            crop_shift: self.crop_shift(at),
            stand: metres(&STAND_AT, self.stand_at_m).map_or(Stand::ForSize, Stand::At),
            background_behind: Length::from_m(at.or_usual(&BEHIND, self.background_behind_m, USUAL_BEHIND_M)),
            lens: self.lens(at),
            adapter: name("adapter", &self.adapter),
            movement,
            pull,
            focus: metres(&FOCUS_AT, self.focus_at_m).map_or(FocusOn::Subject, FocusOn::At),
            foreground,
            action: at.text("action", &self.action, MOST_IN_A_TEXT),
            sound: self.sound.map(Sound::from).unwrap_or_default(),
            recorder_away: metres(&RECORDER_AWAY, self.recorder_away_m),
            capture_rate: rate.and_then(|fps| FrameRate::checked_from_fps(fps).ok()),
            planned_s: at.or_usual(&PLANNED, self.planned_s, USUAL_PLANNED_S),
            priority: self.priority.map(Priority::from).unwrap_or_default(),
            sun: self.sun.map(SunWish::from).unwrap_or_default(),
            action_kind: match self.one_chance {
                Some(true) => ActionKind::OneChance,
                Some(false) | None => ActionKind::Repeatable,
            },
            on_set_min: at.within(&ON_SET, self.on_set_min),
            notes: at.text("notes", &self.notes, MOST_IN_A_TEXT),
            continuity: at.text("continuity", &self.continuity, MOST_IN_A_TEXT),
            is_dropped: self.dropped.unwrap_or(false),
            unknown: Unknown::of(self.unknown.clone()),
        })
    }

    /// Its size, or the usual one of what it is of.
    fn size(&self, of: &ShotOf) -> ShotSize {
        let usual = if matches!(of, ShotOf::Object { .. }) { ShotSize::Insert } else { ShotSize::Medium };
        self.size.map_or(usual, ShotSize::from)
    }

    fn height(&self, at: &At<'_>) -> PhoneHeight {
        let words = self.height.map(PhoneHeight::from);
        let landmark = self.height_landmark.map(|landmark| PhoneHeight::At(landmark.into()));
        let metres =
            at.within(&HEIGHT, self.height_m).map(|metres| PhoneHeight::Fixed(Length::from_m(metres)));
        if let (Some(_), Some(_)) = (words.or(landmark), metres) {
            at.field("height_m").report(say!("stands beside height"), Done::LeftOut(key!("it was")));
        }
        words.or(landmark).or(metres).unwrap_or(PhoneHeight::BySize)
    }

    fn crop_shift(&self, at: &At<'_>) -> Option<CropShift> {
        let up = at.within(&CROP_UP, self.crop_up_share);
        let right = at.within(&CROP_RIGHT, self.crop_right_share);
        let shift = CropShift { up: up.unwrap_or(0.0), right: right.unwrap_or(0.0) };
        (up.is_some() || right.is_some()).then_some(shift)
    }

    fn lens(&self, at: &At<'_>) -> LensChoice {
        if let Some(name) = &self.lens {
            return LensChoice::Fixed {
                name: at.text("lens", name, MOST_IN_A_NAME),
                in_sensor_zoom: at.or_usual(&ZOOM, self.in_sensor_zoom, 1.0),
            };
        }
        if self.in_sensor_zoom.is_some() {
            at.field("in_sensor_zoom").report(say!("stands without a lens"), Done::LeftOut(key!("it was")));
        }
        LensChoice::Auto
    }
}

/// The beat of that number in the file.
fn read_beat(at: &At<'_>, beat: u64, beats: Option<&BeatIds>) -> Option<BeatId> {
    let read = match beats {
        None => BeatId::new(beat),
        Some(beats) => beats.get(&beat).and_then(|ids| ids.first()).copied(),
    };
    if read.is_none() {
        at.field("beat").report(say!("{beat} is no beat of this scene"), Done::LeftOut(key!("it was")));
    }
    read
}

impl ShotOfRecord {
    /// The name of its kind in the file.
    const fn kind(&self) -> &'static str {
        match self {
            Self::One(_) => "one",
            Self::Two { .. } => "two",
            Self::OverShoulder { .. } => "over_shoulder",
            Self::PointOfView { .. } => "point_of_view",
            Self::Object { .. } => "object",
        }
    }

    /// Who or what it is of. If only one of two is in the cast, it is of that one.
    fn read(&self, at: &At<'_>, known: &Known<'_>) -> Option<ShotOf> {
        let at = at.field(self.kind());
        let either = |one: (&'static str, u64), other: (&'static str, u64)| {
            let (first, second) = (known.person(one.1), known.person(other.1));
            let left = first.or(second);
            for (found, (field, id)) in [(first, one), (second, other)] {
                if found.is_none() {
                    let done =
                        Done::LeftOut(if left.is_some() { key!("it was") } else { key!("the shot was") });
                    at.field(field).report(say!("{id} is nobody of the cast"), done);
                }
            }
            (first.zip(second), left.map(ShotOf::One))
        };
        match self {
            Self::One(who) => known.person_at(&at, *who, key!("the shot was")).map(ShotOf::One),
            Self::Two { first, second } => {
                let (both, left) = either(("first", *first), ("second", *second));
                both.map(|(first, second)| ShotOf::Two(first, second)).or(left)
            }
            Self::OverShoulder { facing, near } => {
                let (both, left) = either(("facing", *facing), ("near", *near));
                both.map(|(facing, near)| ShotOf::OverShoulder { facing, near }).or(left)
            }
            Self::PointOfView { of, seen } => {
                let (both, left) = either(("of", *of), ("seen", *seen));
                both.map(|(of, seen)| ShotOf::PointOfView { of, seen }).or(left)
            }
            Self::Object { name, size_m, x_m, y_m, above_floor_m, hands } => Some(ShotOf::Object {
                name: at.text("name", name, MOST_IN_A_NAME),
                size: Length::from_m(at.or_left_out(OBJECT_SIZE.check(*size_m), key!("the shot was"))?),
                place: read_point(&at, *x_m, *y_m, key!("the shot was"))?,
                support: Support::from_height(at.within(&ABOVE_FLOOR, *above_floor_m).map(Length::from_m)),
                hands: read_hands(&at, hands, known),
            }),
        }
    }
}

/// Those of the cast whose hands are seen, each once: as many as may have a mark in a scene.
fn read_hands(at: &At<'_>, hands: &[u64], known: &Known<'_>) -> Vec<PersonId> {
    let mut seen = BTreeSet::new();
    let hands = at.few("hands", hands, MOST_MARKS).iter().enumerate();
    hands
        .filter_map(|(index, who)| known.person_at(&at.item("hands", index), *who, key!("it was")))
        .filter(|who| seen.insert(*who))
        .collect()
}

#[cfg(test)]
mod tests {
    use crate::film_file::{open_film, write_film};

    /// A film of Ada, Ben and an insert with those hands.
    fn with_hands(hands: &str) -> String {
        format!(
            r#"{{"format_version": 1, "kit": {{"lenses": []}},
                "cast": [{{"id": 1, "name": "Ada"}}, {{"id": 2, "name": "Ben"}}],
                "scenes": [{{"id": 1, "shots": [{{"id": 1,
                "of": {{"object": {{"name": "tin", "size_m": 0.2, "x_m": 0, "y_m": 0{hands}}}}}}}]}}]}}"#
        )
    }

    #[test]
    fn whose_hands_are_seen_is_kept_and_needs_no_mark() {
        let told = [("", vec![]), (r#", "hands": [2]"#, vec![1]), (r#", "hands": [2, 1]"#, vec![1, 0])];
        for (hands, cast) in told {
            let opened = open_film(with_hands(hands).as_bytes()).expect("a film");
            assert!(opened.problems.is_empty(), "{hands}: {:?}", opened.problems);
            let expected: Vec<_> = cast.into_iter().map(|at: usize| opened.film.cast[at].id).collect();
            assert_eq!(opened.film.scenes[0].shots[0].of.hands(), expected);
            let written = write_film(&opened.film);
            assert_eq!(written.contains("hands"), !hands.is_empty(), "{written}");
            assert_eq!(open_film(written.as_bytes()).expect("a film"), opened);
        }
    }

    #[test]
    fn hands_of_nobody_are_left_out_and_the_same_ones_twice_are_one_persons() {
        let opened = open_film(with_hands(r#", "hands": [1, 7, 1]"#).as_bytes()).expect("a film");
        assert_eq!(opened.film.scenes[0].shots[0].of.hands(), [opened.film.cast[0].id]);
        let told: Vec<String> = opened.problems.iter().map(ToString::to_string).collect();
        let path = "scenes[0].shots[0].of.object.hands[1]";
        assert_eq!(told, [format!("{path}: 7 is nobody of the cast; it was left out")]);
    }

    #[test]
    fn somebody_whose_hands_are_seen_stays_in_the_cast() {
        let mut film = open_film(with_hands(r#", "hands": [2]"#).as_bytes()).expect("a film").film;
        let left = |gone: usize| {
            let cast = film.cast.iter().enumerate().filter(|(at, _)| *at != gone);
            crate::Command::SetCast(cast.map(|(_, member)| member.clone()).collect())
        };
        let [ada, ben] = [0, 1].map(left);
        assert_eq!(film.apply(ben), Err(crate::EditError::PersonNeeded(film.cast[1].id)));
        assert!(film.apply(ada).is_ok(), "nothing is of her");
    }
}
