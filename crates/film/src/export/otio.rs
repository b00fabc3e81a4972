//! The film's cut as a timeline of the open format OpenTimelineIO.

use std::iter;

use serde_json::{Map, Value, json};
use units::LengthUnit;

use super::ExportError;
use super::frames::{Canvas, Delivered};
use super::media::{self, Media, media};
use super::record_order::{InCut, record_order};
use crate::cut_view::EntryView;
use crate::film::Film;
use crate::findings::{PlacedFinding, Severity, check_cut, sort_findings};
use crate::rehearsal::Rehearsals;
use crate::scene::{KeptAt, Scene};

/// The film's cut as an OpenTimelineIO timeline (`Timeline.1`), at the film's frame rate.
///
/// One track with a clip for each entry that is longer than nothing, named by its shot's number. A clip refers to the clip of
/// its shot's best take, by its name, and has the other takes beside it; while there is none it refers to media that is
/// missing, as long as the shot is planned. What it shows starts at 0 and is as planned. A clip has a marker
/// for what is found on the cut before it, on its shot where that is first seen, and on its scene where that begins, unless
/// it is kept anyway; and one for its shot's notes. What only Tapemark knows is metadata under `tapemark`.
///
/// A clip of a shot that is captured at another rate has its range in frames of that rate and a `LinearTimeWarp.1`, by which its
/// file, at the rate at which it was captured, plays in the time of the film; as the format has it, the range's start is of
/// the media and its length of the timeline. In the metadata `captured_fps` and `plays_fps` are those rates, `squeeze` is how many
/// times wider a pixel is shown than it is high, and `framing` is where the delivered frame lies in what is recorded, in pixels,
/// all as the framing decision list has them.
///
/// # Errors
/// Only where JSON cannot be written.
pub fn otio(film: &Film, rehearsals: &mut Rehearsals) -> Result<String, ExportError> {
    language::for_files(|| {
        let rate = film.facts.frame_rate.to_fps();
        let mut clips = clips(film, rate);
        for scene in &film.scenes {
            let views = EntryView::of_cut(film, scene, rehearsals);
            let open = sort_findings(scene, check_cut(film, scene, &views)).open;
            for placed in open {
                if let Some(clip) = clip_of(&mut clips, scene, placed.at) {
                    clip.markers.push(finding_marker(film, clip.range(1.0), &placed));
                }
            }
        }
        let children: Vec<Value> = clips.iter().map(|clip| clip.written(film, rehearsals)).collect();
        let track = json!({
            "OTIO_SCHEMA": "Track.1", "metadata": {}, "name": "Cut", "source_range": null, "effects": [], "markers": [],
            "enabled": true, "kind": "Video", "children": children,
        });
        let stack = json!({
            "OTIO_SCHEMA": "Stack.1", "metadata": {}, "name": "tracks", "source_range": null, "effects": [],
            "markers": [], "enabled": true, "children": [track],
        });
        let timeline = json!({
            "OTIO_SCHEMA": "Timeline.1",
            "metadata": {"tapemark": {"line": film.facts.line, "aspect": film.facts.aspect.to_f64()}},
            "name": film.facts.title,
            "global_start_time": time(0.0, rate),
            "tracks": stack,
        });
        Ok(serde_json::to_string_pretty(&timeline)? + "\n")
    })
}

/// An entry with the frames that it has in the timeline.
struct Clip<'film> {
    of: InCut<'film>,
    /// The first frame of its shot that it shows, and how many.
    from: f64,
    frames: f64,
    /// Frames a second at which it was captured, and at which it plays.
    captured_fps: f64,
    plays_fps: f64,
    markers: Vec<Value>,
}

/// The clips of a film's cut.
///
/// ```text
/// nᵢ = max(nᵢ₋₁ + 1, round(tᵢ r))
/// ```
/// `nᵢ` frame at which clip i ends; `tᵢ` second at which its entry ends in the film; `r` frames a second. Rounding the ends and
/// not the lengths keeps every cut within half a frame of its time, except where an entry is shorter than a frame.
///
/// # Source
/// Common practice.
fn clips(film: &Film, rate: f64) -> Vec<Clip<'_>> {
    let mut at = 0.0;
    let longer_than_nothing = record_order(film).into_iter().filter(|one| one.length_s() > 0.0);
    longer_than_nothing
        .map(|of| {
            let ends = libm::round((of.starts_s + of.length_s()) * rate).max(at + 1.0);
            let frames = ends - at;
            at = ends;
            let from = libm::round(of.stretch_s.0 * rate);
            let captured_fps = of.shot.frame_rate(film).to_fps();
            let mut clip = Clip { from, frames, captured_fps, plays_fps: rate, markers: Vec::new(), of };
            let notes = Some(clip.of.shot.notes.trim()).filter(|notes| !notes.is_empty());
            let notes = notes
                .map(|notes| marker(clip.range(frames), "Notes", notes, "CYAN", &json!({"rule": "notes"})));
            clip.markers.extend(notes);
            clip
        })
        .collect()
}

/// The clip on which a finding is shown: behind its cut, first of its shot, or first of its scene.
fn clip_of<'clips, 'film>(
    clips: &'clips mut [Clip<'film>],
    scene: &Scene,
    at: KeptAt,
) -> Option<&'clips mut Clip<'film>> {
    let is_there = |clip: &Clip<'_>| {
        clip.of.scene.id == scene.id
            && match at {
                KeptAt::Scene => true,
                KeptAt::Shot(shot) => clip.of.shot.id == shot,
                KeptAt::Cut(_, entry) => clip.of.entry.id == entry,
            }
    };
    clips.iter_mut().find(|clip| is_there(clip))
}

impl Clip<'_> {
    /// So many frames of the timeline, from its first one on, at the rate of its media.
    fn range(&self, frames: f64) -> Value {
        range(self.from, self.at_its_rate(frames), self.captured_fps)
    }

    /// As many frames of its media as go by, unslowed, during so many of the timeline.
    fn at_its_rate(&self, frames: f64) -> f64 {
        frames * (self.captured_fps / self.plays_fps)
    }

    fn written(&self, film: &Film, rehearsals: &mut Rehearsals) -> Value {
        let Self { of, from, frames, captured_fps, plays_fps, markers } = self;
        // As long as it plays, since readers that know no effects hold the source range against it.
        let planned = self.at_its_rate(libm::round(of.shot.planned_s * plays_fps));
        let whole = range(0.0, planned.max(from + self.at_its_rate(*frames)), *captured_fps);
        let Media { references, active } = media(film, of.shot.id, &of.number, &whole);
        let warp = of.shot.capture_rate.filter(|captured| *captured != film.facts.frame_rate).map(|_| {
            json!({
                "OTIO_SCHEMA": "LinearTimeWarp.1", "metadata": {}, "name": "", "effect_name": "LinearTimeWarp",
                "enabled": true, "time_scalar": plays_fps / captured_fps,
            })
        });
        json!({
            "OTIO_SCHEMA": "Clip.2",
            "metadata": {"tapemark": self.facts(film, rehearsals)},
            "name": of.number,
            "source_range": self.range(*frames),
            "effects": warp.into_iter().collect::<Vec<_>>(),
            "markers": markers,
            "enabled": true,
            "media_references": references,
            "active_media_reference_key": active,
        })
    }

    /// What only Tapemark knows of it; what is not known is left out.
    fn facts(&self, film: &Film, rehearsals: &mut Rehearsals) -> Map<String, Value> {
        let InCut { scene_number, scene, entry, shot, .. } = &self.of;
        let rehearsal = rehearsals.of(film, scene, shot);
        let made = rehearsal.as_ref().as_ref().ok();
        let lens = made.and_then(|made| made.lens(film));
        let adapter = shot.adapter.as_ref();
        let canvas = Canvas::of_shot(film, shot);
        let delivered = canvas.and(made).and_then(Delivered::of_shot);
        let framing = delivered.map(|frame| {
            json!({
                "dimensions": {"width": frame.width_px, "height": frame.height_px},
                "anchor_point": {"x": frame.left_px, "y": frame.top_px},
            })
        });
        let facts = [
            ("entry_id", Some(json!(entry.id.number()))),
            ("shot_id", Some(json!(shot.id.number()))),
            ("scene", Some(json!(scene_number))),
            ("scene_title", Some(json!(scene.facts.title))),
            ("size", Some(json!(shot.size.name()))),
            ("what", Some(json!(shot.of.told(film)))),
            ("action", Some(json!(shot.action))),
            ("sound", Some(json!(shot.sound.word()))),
            ("must_have", Some(json!(shot.is_must_have()))),
            ("lens", lens.map(|lens| json!(lens.name))),
            ("adapter", adapter.map(|adapter| json!(adapter))),
            ("recording", canvas.map(|canvas| json!(canvas.recording.name))),
            ("squeeze", canvas.filter(|_| adapter.is_some()).map(|canvas| json!(canvas.squeeze))),
            ("framing", framing),
            ("best_take", film.best_take(shot.id).map(media::facts)),
            ("captured_fps", shot.capture_rate.map(|rate| json!(rate.to_fps()))),
            ("plays_fps", shot.capture_rate.map(|_| json!(film.facts.frame_rate.to_fps()))),
        ];
        facts.into_iter().filter_map(|(name, value)| Some((name.to_owned(), value?))).collect()
    }
}

fn finding_marker(film: &Film, range: Value, placed: &PlacedFinding) -> Value {
    let finding = placed.finding.to_finding(film, LengthUnit::Metres);
    let colour = match finding.severity {
        Severity::Fails => "RED",
        Severity::Warns => "ORANGE",
        Severity::Notes => "YELLOW",
    };
    let facts = json!({
        "rule": finding.rule, "severity": finding.severity.name(), "hint": finding.hint,
        "reason": placed.finding.reason(),
    });
    marker(range, placed.finding.brief(), &finding.message, colour, &facts)
}

fn marker(range: Value, name: &str, comment: &str, colour: &str, facts: &Value) -> Value {
    let fields = [
        ("OTIO_SCHEMA", json!("Marker.2")),
        ("metadata", json!({"tapemark": facts})),
        ("name", json!(name)),
        ("color", json!(colour)),
        ("comment", json!(comment)),
    ];
    let fields = fields.into_iter().chain(iter::once(("marked_range", range)));
    Value::Object(fields.map(|(name, value)| (name.to_owned(), value)).collect())
}

/// So many frames from one on.
fn range(from: f64, frames: f64, rate: f64) -> Value {
    json!({"OTIO_SCHEMA": "TimeRange.1", "start_time": time(from, rate), "duration": time(frames, rate)})
}

fn time(frames: f64, rate: f64) -> Value {
    json!({"OTIO_SCHEMA": "RationalTime.1", "value": frames, "rate": rate})
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::film_file::open_film;
    use crate::preset::demo_film;
    use crate::scene::Stretch;
    use std::sync::Arc;
    use units::FrameRate;

    fn clips_of(film: &Film) -> Vec<Value> {
        let text = otio(film, &mut Rehearsals::default()).expect("written");
        let timeline: Value = serde_json::from_str(&text).expect("JSON");
        timeline["tracks"]["children"][0]["children"].as_array().expect("clips").clone()
    }

    fn frames(clip: &Value) -> f64 {
        clip["source_range"]["duration"]["value"].as_f64().expect("frames")
    }

    fn at_rate(film: &mut Film, fps: f64) {
        Arc::make_mut(&mut film.facts).frame_rate = FrameRate::checked_from_fps(fps).expect("a rate");
    }

    #[test]
    fn frames_add_up_to_the_films_length_at_any_rate() {
        let mut film = demo_film();
        for scene in &mut film.scenes {
            for shot in &mut Arc::make_mut(scene).shots {
                // A third of a frame more each, so that rounding each length alone would drift.
                Arc::make_mut(shot).planned_s += 1.0 / 72.0;
            }
        }
        for fps in [23.976, 24.0, 25.0, 30.0, 60.0] {
            at_rate(&mut film, fps);
            let clips = clips_of(&film);
            let sum: f64 = clips.iter().map(frames).sum();
            assert!((sum - film.cut_s() * fps).abs() <= 0.5, "{fps}: {sum} and {}", film.cut_s() * fps);
            assert!(clips.iter().all(|clip| frames(clip) >= 1.0 && frames(clip).fract() == 0.0));
        }
    }

    #[test]
    fn an_entry_shorter_than_a_frame_has_one_and_what_follows_makes_up_for_it() {
        let mut film = demo_film();
        let scene = Arc::make_mut(&mut film.scenes[0]);
        scene.cut[0].stretch = Stretch::new(0.0, 0.01);
        let clips = clips_of(&film);
        assert!((frames(&clips[0]) - 1.0).abs() < 1e-9);
        let sum: f64 = clips.iter().map(frames).sum();
        assert!((sum - film.cut_s() * 24.0).abs() <= 0.5, "{sum}");
    }

    #[test]
    fn a_clip_is_named_by_its_shot_and_lies_within_its_media() {
        let film = demo_film();
        let clips = clips_of(&film);
        assert_eq!(clips.len(), film.scenes.iter().map(|scene| scene.cut.len()).sum::<usize>());
        assert_eq!(clips[0]["name"], "1.1");
        for clip in &clips {
            let media = &clip["media_references"]["DEFAULT_MEDIA"];
            assert_eq!(media["OTIO_SCHEMA"], "MissingReference.1");
            let from = clip["source_range"]["start_time"]["value"].as_f64().expect("frames");
            let whole = media["available_range"]["duration"]["value"].as_f64().expect("frames");
            assert!(from + frames(clip) <= whole, "{clip}");
            assert!(clip["metadata"]["tapemark"]["lens"].is_string(), "{clip}");
        }
    }

    #[test]
    fn every_open_finding_and_no_kept_one_has_a_marker() {
        let file = include_bytes!("../../../../tests/films/valid/every_rule_broken.json");
        for film in [demo_film(), open_film(file).expect("a film").film] {
            let mut rehearsals = Rehearsals::default();
            let mut wanted: Vec<&str> = Vec::new();
            for scene in film.scenes.iter().filter(|scene| !scene.cut.is_empty()) {
                let views = EntryView::of_cut(&film, scene, &mut rehearsals);
                let open = sort_findings(scene, check_cut(&film, scene, &views)).open;
                wanted.extend(open.iter().map(|placed| placed.finding.rule()));
            }
            let clips = clips_of(&film);
            let markers = clips.iter().flat_map(|clip| clip["markers"].as_array().expect("markers"));
            let rules = markers.filter_map(|marker| marker["metadata"]["tapemark"]["rule"].as_str());
            let mut found: Vec<&str> = rules.filter(|rule| *rule != "notes").collect();
            wanted.sort_unstable();
            found.sort_unstable();
            assert_eq!(found, wanted, "{}", film.facts.title);
        }
    }

    #[test]
    fn a_clip_in_slow_motion_is_slowed_and_takes_its_place_in_the_timeline() {
        let mut film = demo_film();
        let usual = clips_of(&film)[0].clone();
        let scene = Arc::make_mut(&mut film.scenes[0]);
        scene.cut[0].stretch = Stretch::new(0.5, 2.5);
        let first = scene.cut[0].shot;
        for shot in scene.shots.iter_mut().filter(|shot| shot.id == first) {
            Arc::make_mut(shot).capture_rate = FrameRate::checked_from_fps(120.0).ok();
        }
        let clip = &clips_of(&film)[0];
        // From the 12th frame of the file on; two seconds of the film, for which it has 48 frames.
        assert_eq!(clip["source_range"], range(12.0, 240.0, 120.0));
        assert_eq!(clip["effects"][0]["time_scalar"], 0.2);
        let facts = &clip["metadata"]["tapemark"];
        assert_eq!((&facts["captured_fps"], &facts["plays_fps"]), (&json!(120.0), &json!(24.0)));
        assert_eq!(usual["effects"], json!([]));
    }

    #[test]
    fn a_clip_has_the_squeeze_and_the_place_of_its_frame_that_the_framing_has() {
        let mut film = super::super::frames::with_adapter();
        let upright = film.kit.recordings.iter().find(|mode| mode.recording.is_upright()).expect("a mode");
        let name = upright.name.clone();
        Arc::make_mut(&mut film.facts).recording.clone_from(&name);
        let scene = Arc::make_mut(&mut film.scenes[0]);
        let shot = Arc::make_mut(&mut scene.shots[0]);
        shot.crop_shift = Some(optics::CropShift { up: 0.5, right: 0.0 });
        let id = shot.id.number();
        let list = super::super::fdl(&film, 0).expect("written");
        let list: Value = serde_json::from_str(&list).expect("JSON");
        let canvases = list["contexts"].as_array().expect("contexts").iter();
        let mut canvases = canvases.flat_map(|context| context["canvases"].as_array().expect("canvases"));
        let canvas = canvases.find(|one| one["label"] == format!("{name}, clip-on")).expect("a canvas");
        let decision = &canvas["framing_decisions"][1];
        let clips = clips_of(&film);
        let facts = clips.iter().map(|clip| &clip["metadata"]["tapemark"]);
        let facts = facts.into_iter().find(|facts| facts["shot_id"] == id).expect("a clip");
        assert_eq!((&facts["recording"], &facts["squeeze"]), (&json!(name), &canvas["anamorphic_squeeze"]));
        assert_eq!(facts["framing"]["anchor_point"], decision["anchor_point"]);
        assert_eq!(facts["framing"]["dimensions"], decision["dimensions"]);
    }

    #[test]
    fn a_shots_notes_are_a_marker_over_its_clip() {
        let mut film = demo_film();
        let scene = Arc::make_mut(&mut film.scenes[0]);
        let first = scene.cut[0].shot;
        for shot in scene.shots.iter_mut().filter(|shot| shot.id == first) {
            Arc::make_mut(shot).notes = "wait for the bus".to_owned();
        }
        let clip = &clips_of(&film)[0];
        let marker = &clip["markers"][0];
        assert_eq!(marker["comment"], "wait for the bus");
        assert_eq!(marker["marked_range"], clip["source_range"]);
    }
}
