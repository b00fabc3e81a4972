//! What is handed over is read back by the libraries of those formats, and says what the film says.
//!
//! `cargo xtask test` installs the libraries and names their Python in `TAPEMARK_READERS_PYTHON`; then they must be there.
//! Without it, the checks run if an earlier run left them in `target/tools/readers`, and else say that they were skipped.

#![expect(clippy::expect_used, reason = "a check that cannot read what it needs has failed")]

use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::{env, fs, io, iter};

use film::{
    DayCalendar, DayPlan, Daylight, Daylights, Film, Kit, KitAdapter, LoggedTake, Rehearsals, ShootingDay,
    ShotId, TakeId, Verdict, cut_csv, day_csv, demo_film, fdl, ics, otio, shots_csv, takes_csv,
};
use jiff::Timestamp;
use jiff::tz::{TimeZone, TimeZoneDatabase};
use optics::{Adapter, CropShift, FrameAxis, Squeeze};
use serde_json::Value;
use units::FrameRate;

/// The Python that has the libraries, or nothing where nobody installed them and nobody asked for them.
fn python() -> Option<PathBuf> {
    if let Some(python) = env::var_os("TAPEMARK_READERS_PYTHON") {
        return Some(python.into());
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/tools/readers");
    if folder.join("installed.txt").exists() {
        return Some(folder.join("bin/python"));
    }
    // Not by the macro, whose output a passing test keeps to itself.
    let said = writeln!(io::stderr(), "SKIPPED, nothing to read with: `cargo xtask test` installs it");
    assert!(said.is_ok(), "standard error is closed");
    None
}

/// A film that asks for trouble: letters of other scripts, quotes, commas, line breaks, what looks like a formula, a rate
/// that divides badly, an adapter, frames that are moved, and takes.
fn awkward() -> Film {
    let mut film = demo_film();
    let facts = Arc::make_mut(&mut film.facts);
    "=Дом; \"две\" строки, \\ 家 und\nKüche".clone_into(&mut facts.title);
    facts.frame_rate = FrameRate::checked_from_fps(24_000.0 / 1001.0).expect("a rate");
    let adapter = KitAdapter {
        name: "clip-on".to_owned(),
        adapter: Adapter::new(Squeeze::new(1.33).expect("in range")),
        axis_when_upright: FrameAxis::Height,
        fits: None,
        vignettes: Vec::new(),
        measured_squeeze: None,
        clear_views: Vec::new(),
    };
    film.kit = Arc::new(Kit { adapters: vec![adapter], ..film.kit.as_ref().clone() });
    for (at, scene) in film.scenes.iter_mut().enumerate() {
        for (number, shot) in Arc::make_mut(scene).shots.iter_mut().enumerate() {
            let shot = Arc::make_mut(shot);
            shot.planned_s += 1.0 / 7.0;
            let actions = ["+1", "-\"quoted\", twice", "@家", "=1+1\r\nand more"];
            actions[(at + number) % actions.len()].clone_into(&mut shot.action);
            if number == 0 {
                shot.adapter = Some("clip-on".to_owned());
                shot.crop_shift = Some(CropShift { up: 1.0, right: 0.0 });
                shot.notes = "\ttab, then;\nа потом \\n ".repeat(9);
            }
        }
    }
    film.takes = takes(&film).into_iter().map(Arc::new).collect();
    film
}

/// Three takes of every third shot, the second of which is the best, and of the next a good one whose clip has no name; and
/// one of a shot that has gone.
fn takes(film: &Film) -> Vec<LoggedTake> {
    let shots: Vec<ShotId> = film.scenes.iter().flat_map(|scene| &scene.shots).map(|shot| shot.id).collect();
    let clip = |number: u32, shot: ShotId| format!("day 1/50% #{number}?ä家_{shot}.mov");
    let mut takes = Vec::new();
    for (at, shot) in shots.iter().enumerate() {
        let verdicts = match at % 3 {
            0 => &[Verdict::Good, Verdict::Good, Verdict::NotGood][..],
            1 => &[Verdict::Good][..],
            _ => continue,
        };
        for (verdict, number) in verdicts.iter().zip(1..) {
            takes.push((
                *shot,
                number,
                *verdict,
                if at % 3 == 0 { clip(number, *shot) } else { String::new() },
            ));
        }
    }
    takes.push((ShotId::new(987_654_321).expect("an id"), 1, Verdict::Unsaid, "gone.mov".to_owned()));
    let whys = ["=SUM(A1)", "calm, \"really\"\r\nyes", "+ a bus", ""];
    let logged = takes.into_iter().zip(1_u64..).map(|((shot, number, verdict, clip), id)| {
        let take = LoggedTake::new(TakeId::new(id).expect("an id"), shot, number);
        let why = whys[usize::from(u8::try_from(id % 4).expect("small"))].to_owned();
        let at = Some(stamp()).filter(|_| id % 2 == 0);
        LoggedTake { verdict, why, clip, at, focus: "-0.3".to_owned(), ..take }
    });
    logged.collect()
}

/// When the plans were last changed.
fn stamp() -> Timestamp {
    "2026-09-01T12:00:00Z".parse().expect("a time")
}

/// The sun at a day's places.
fn light(film: &Film, day: &ShootingDay) -> Daylights {
    let date = day.date.expect("a date");
    let mut light = Daylights::new();
    for place in film.places.iter() {
        let Some(spot) = &place.spot else { continue };
        let zone: TimeZone = TimeZoneDatabase::bundled().get(&spot.time_zone).expect("a zone");
        let daylight = Daylight::of(&spot.coordinates, &spot.horizon, date, &zone).expect("a day");
        light.insert(place.id, daylight);
    }
    light
}

/// What the libraries make of a film's files.
fn read_back(python: &Path, film: &Film, name: &str) -> Value {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("exports").join(name);
    fs::create_dir_all(&folder).expect("a folder");
    let day = &film.days[0];
    let daylights = light(film, day);
    let mut rehearsals = Rehearsals::default();
    let plan = DayPlan::of(film, day, &daylights, &mut rehearsals);
    let calendar = DayCalendar {
        film,
        day,
        plan: Some(&plan),
        daylights: &daylights,
        film_key: "a-film",
        stamp: stamp(),
    };
    let files = [
        ("cut.otio", otio(film, &mut rehearsals).expect("written").into_bytes()),
        ("day.ics", ics(&calendar).expect("written").into_bytes()),
        ("framing.fdl", fdl(film, 7).expect("written").into_bytes()),
        ("shots.csv", shots_csv(film, &mut rehearsals).expect("written")),
        ("cut.csv", cut_csv(film).expect("written")),
        ("takes.csv", takes_csv(film).expect("written")),
        ("day.csv", day_csv(film, day, &plan, &daylights).expect("written")),
    ];
    for (file, bytes) in files {
        fs::write(folder.join(file), bytes).expect("written");
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/scripts/exports.py");
    let output = Command::new(python).arg(script).arg(&folder).output().expect("Python starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// Both films, as they are and as they are read back.
fn films(test: &str) -> Vec<(Film, Value)> {
    let Some(python) = python() else { return Vec::new() };
    let films = [(demo_film(), "demo"), (awkward(), "awkward")];
    let read = films.map(|(film, name)| {
        let read = read_back(&python, &film, &format!("{test}_{name}"));
        (film, read)
    });
    read.into()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn word(value: &Value) -> &str {
    value.as_str().expect("a text")
}

#[test]
fn the_timeline_is_the_films_cut() {
    for (film, read) in films("otio") {
        let timeline = &read["otio"];
        let fps = film.facts.frame_rate.to_fps();
        assert_eq!(word(&timeline["name"]), film.facts.title);
        assert!((number(&timeline["rate"]) - fps).abs() < 1e-9);
        assert!((number(&timeline["frames"]) - film.cut_s() * fps).abs() <= 0.5, "{timeline}");
        let entries: Vec<_> =
            film.scenes.iter().flat_map(|scene| scene.cut.iter().map(move |entry| (scene, entry))).collect();
        let clips = list(&timeline["clips"]);
        assert_eq!(clips.len(), entries.len());
        assert!(clips.len() > 10, "too few to tell");
        let mut at_s = 0.0;
        for (clip, (scene, entry)) in clips.iter().zip(entries) {
            let shot = scene.shot(entry.shot).expect("a shot");
            let (from_s, to_s) = entry.stretch_of(shot);
            let (scene_number, shot_number) = film.number_of(shot.id).expect("a number");
            assert_eq!(word(&clip["name"]), format!("{scene_number}.{shot_number}"));
            assert!((number(&clip["starts"]) - at_s * fps).abs() <= 0.5 + 1e-6, "{clip}");
            assert!((number(&clip["from"]) - from_s * fps).abs() <= 0.5 + 1e-6, "{clip}");
            if clip["shown"]["is_missing"] == true {
                assert!(
                    number(&clip["from"]) + number(&clip["frames"]) <= number(&clip["available"]),
                    "{clip}"
                );
            } else {
                assert!(clip["available"].is_null(), "nobody said how long it is: {clip}");
            }
            assert_eq!(clip["facts"]["shot_id"].as_u64(), Some(shot.id.number()));
            assert_eq!(word(&clip["facts"]["action"]), shot.action);
            let notes = list(&clip["markers"]).iter().find(|marker| marker["rule"] == "notes");
            assert_eq!(notes.map_or("", |marker| word(&marker["comment"])), shot.notes.trim());
            at_s += to_s - from_s;
        }
    }
}

#[test]
fn clips_of_the_timeline_refer_to_the_best_takes_by_their_names() {
    for (film, read) in films("media") {
        let mut counts = [0; 3];
        for clip in list(&read["otio"]["clips"]) {
            let shot = ShotId::new(clip["facts"]["shot_id"].as_u64().expect("an id")).expect("an id");
            let best = film.best_take(shot);
            let named = best.filter(|best| !best.clip.is_empty());
            let shown = &clip["shown"];
            counts[usize::from(best.is_some()) + usize::from(named.is_some())] += 1;
            assert_eq!(shown["is_missing"], named.is_none(), "{clip}");
            let taken: Vec<&LoggedTake> = film.takes_of(shot).filter(|take| !take.clip.is_empty()).collect();
            let media = clip["media"].as_object().expect("media");
            assert_eq!(media.len(), taken.len() + usize::from(named.is_none()), "{clip}");
            for take in taken {
                let reference = &media[&format!("take {}", take.number)];
                assert_eq!(word(&reference["path"]), take.clip);
                assert!(word(&reference["address"]).is_ascii(), "{reference}");
                assert_eq!(reference["facts"]["take"].as_u64(), Some(take.number.into()));
                assert_eq!(word(&reference["facts"]["verdict"]), take.verdict.name());
            }
            if let Some(best) = named {
                assert_eq!(word(&clip["active"]), format!("take {}", best.number));
                assert_eq!(word(&shown["name"]), format!("{} take {}", word(&clip["name"]), best.number));
            }
        }
        // Without takes all media is missing; with them, there are clips of every kind.
        assert_eq!(counts.map(|count| count > 0), [true, !film.takes.is_empty(), !film.takes.is_empty()]);
    }
}

#[test]
fn the_table_of_takes_is_what_was_logged() {
    for (film, read) in films("takes") {
        let tables = &read["csv"];
        let names = ["take_id", "shot", "take", "verdict", "why", "clip", "at", "focus"];
        let [ids, shots, numbers, verdicts, whys, clips, moments, focuses] =
            names.map(|name| column(tables, "takes", name));
        assert_eq!(ids.len(), film.takes.len());
        for take in film.takes.iter() {
            let at = ids.iter().position(|id| *id == take.id.to_string()).expect("a row");
            assert_eq!(shots[at], film.numbered(take.shot).unwrap_or_default());
            assert_eq!((numbers[at], verdicts[at]), (take.number.to_string().as_str(), take.verdict.name()));
            assert_holds(whys[at], &take.why);
            assert_holds(clips[at], &take.clip);
            assert_holds(focuses[at], &take.focus);
            assert_eq!(moments[at], if take.at.is_some() { "2026-09-01T12:00:00Z" } else { "" });
        }
    }
}

#[test]
fn the_framing_is_valid_and_what_its_own_library_works_out() {
    for (film, read) in films("fdl") {
        let framing = &read["fdl"];
        assert_eq!(framing["uuid"], "00000000-0000-0000-0000-000000000007");
        // Another intent for the shots whose frame is off the middle.
        let moved = list(&framing["intents"]).len() - 1;
        assert_eq!(
            (&framing["intents"][0], moved),
            (&framing["default_intent"], usize::from(!film.takes.is_empty()))
        );
        let contexts = list(&framing["contexts"]);
        assert_eq!(contexts.len(), film.kit.recordings.len());
        assert_ne!(contexts, [] as [Value; 0]);
        let mut found = 0;
        for (context, mode) in contexts.iter().zip(&film.kit.recordings) {
            assert_eq!(word(&context["label"]), mode.name);
            let canvases = list(&context["canvases"]);
            // A clip-on squeezes the width, and in a mode for the phone upright the height.
            let is_upright = mode.recording.is_upright();
            let squeezes = film.kit.adapters.iter().map(|one| one.adapter.squeeze.to_f64());
            let squeezes = squeezes.map(|squeeze| if is_upright { 1.0 / squeeze } else { squeeze });
            let squeezes: Vec<f64> = iter::once(1.0).chain(squeezes).collect();
            assert_eq!(canvases.iter().map(|one| number(&one["squeeze"])).collect::<Vec<_>>(), squeezes);
            for canvas in canvases {
                let size = [mode.recording.width_px(), mode.recording.height_px()].map(f64::from);
                assert_eq!(list(&canvas["size"]).iter().map(number).collect::<Vec<_>>(), size);
                let (decision, off_centre) = list(&canvas["decisions"]).split_first().expect("a decision");
                for other in off_centre {
                    // At the upper edge, and as large as the one in the middle.
                    assert_eq!((number(&other["anchor"][1]), &other["size"]), (0.0, &decision["size"]));
                    found += 1;
                }
                for (ours, theirs) in [("size", "worked_out"), ("anchor", "worked_out_anchor")] {
                    let (ours, theirs) = (list(&decision[ours]), list(&decision[theirs]));
                    assert_eq!((ours.len(), theirs.len()), (2, 2), "{decision}");
                    for (one, other) in ours.iter().zip(theirs) {
                        // Theirs are whole pixels.
                        assert!((number(one) - number(other)).abs() <= 0.5 + 1e-3, "{decision}");
                    }
                }
            }
        }
        assert_eq!(found, moved);
    }
}

#[test]
fn the_calendar_is_the_day() {
    for (film, read) in films("ics") {
        let calendar = &read["ics"];
        assert_eq!(list(&calendar["errors"]), [] as [Value; 0]);
        let events: BTreeMap<&str, &Value> =
            list(&calendar["events"]).iter().map(|event| (word(&event["uid"]), event)).collect();
        assert_eq!(events.len(), list(&calendar["events"]).len(), "two events have one id");
        let event = |id: &str| events[format!("a-film-day-1-{id}@tapemark").as_str()];
        // The day is in Denmark in summer: two hours ahead.
        let call = event("call");
        assert_eq!(call["starts"], "2026-09-12T07:00:00+00:00");
        assert_eq!(call["ends"], "2026-09-12T17:00:00+00:00");
        assert_eq!(call["stamp"], "2026-09-01T12:00:00+00:00");
        assert!(word(&call["summary"]).starts_with(&film.facts.title), "{call}");
        assert_eq!(event("break-1")["starts"], "2026-09-12T10:30:00+00:00");
        let day = &film.days[0];
        let daylights = light(&film, day);
        let plan = DayPlan::of(&film, day, &daylights, &mut Rehearsals::default());
        assert!(plan.order.placed.len() > 10, "too few to tell");
        for placed in &plan.order.placed {
            let setup = plan.setup(placed.job).expect("a setup");
            let told = event(&format!("shot-{}", setup.shot.id));
            let utc = placed.starts_min.round() - 120.0;
            let clock = film::clock(utc);
            assert!(word(&told["starts"]).starts_with(&format!("2026-09-12T{clock}:00")), "{told}");
            assert_eq!(word(&told["description"]), setup.shot.action.trim().replace("\r\n", "\n"));
        }
        // By its clock the sun sets there at 19:38 and civil dusk is at 20:15, its true elevation then -0.83° and -6° by a low
        // precision formula that is no part of the program. In UTC that is two hours less.
        let dusk = word(&event("place-2-civil-dusk")["starts"]);
        assert!(dusk.starts_with("2026-09-12T18:"), "{dusk}");
    }
}

#[test]
fn the_tables_are_the_film_and_hold_no_formula() {
    for (film, read) in films("csv") {
        let tables = &read["csv"];
        let shots: Vec<_> = film.scenes.iter().flat_map(|scene| &scene.shots).collect();
        let rows = [column(tables, "shots", "action"), column(tables, "shots", "notes")];
        assert!(shots.len() > 10, "too few to tell");
        assert_eq!(rows.each_ref().map(Vec::len), [shots.len(); 2]);
        for (at, shot) in shots.iter().enumerate() {
            assert_holds(rows[0][at], &shot.action);
            assert_holds(rows[1][at], &shot.notes);
        }
        let planned: Vec<String> = shots.iter().map(|shot| format!("{:.3}", shot.planned_s)).collect();
        assert_eq!(column(tables, "shots", "planned_s"), planned);
        let in_cut: Vec<ShotId> =
            film.scenes.iter().flat_map(|scene| scene.cut.iter().map(|entry| entry.shot)).collect();
        let (numbers, actions) = (column(tables, "cut", "shot"), column(tables, "cut", "action"));
        assert_eq!((numbers.len(), actions.len()), (in_cut.len(), in_cut.len()));
        for (at, id) in in_cut.into_iter().enumerate() {
            assert_eq!(Some(numbers[at].to_owned()), film.numbered(id));
            assert_holds(actions[at], &film.shot(id).expect("a shot").1.action);
        }
        let (numbers, actions) = (column(tables, "day", "shot"), column(tables, "day", "action"));
        let of_day = film.days[0].shots_of(&film);
        assert_eq!((numbers.len(), actions.len()), (of_day.len(), of_day.len()));
        for (_, shot) in of_day {
            let number = film.numbered(shot.id).expect("a number");
            let at = numbers.iter().position(|one| *one == number).expect("a row");
            assert_holds(actions[at], &shot.action);
        }
    }
}

/// A table's column, without its name; every row is as long as the row of names.
fn column<'read>(tables: &'read Value, table: &str, name: &str) -> Vec<&'read str> {
    let (head, rows) = list(&tables[table]).split_first().expect("a row of names");
    let at = list(head).iter().position(|one| word(one) == name).expect("a column");
    let cell = |row: &'read Value| {
        assert_eq!(list(row).len(), list(head).len(), "{row}");
        word(&row[at])
    };
    rows.iter().map(cell).collect()
}

/// A cell holds a text, with an apostrophe before it where a spreadsheet would take it for a formula.
fn assert_holds(cell: &str, text: &str) {
    assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{cell}");
    assert!(cell == text || cell.strip_prefix('\'') == Some(text), "{cell:?} and {text:?}");
}
