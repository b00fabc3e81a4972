//! How long each door takes over the largest that is asked of it, ten MiB made to be slow or to swell: a second and 256 MiB
//! are the most.
//!
//! A case alone, with its memory: `/usr/bin/time -v cargo bench -p doors --bench largest -- "film: bad scenes"`.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use divan::Bencher;
use doors::DOORS;
use miniz_oxide::deflate::compress_to_vec_zlib;

fn main() {
    divan::main();
}

/// One input, and which door it knocks at.
struct Case {
    door: &'static str,
    what: &'static str,
    make: fn(usize) -> Vec<u8>,
}

impl std::fmt::Display for Case {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.door, self.what)
    }
}

/// As often as it takes to fill what is left between start and end.
fn filled(size: usize, start: &str, piece: &str, end: &str) -> Vec<u8> {
    let times = (size - start.len() - end.len()) / piece.len();
    [start, &piece.repeat(times), end].concat().into_bytes()
}

/// The same with a comma between, and a last piece without one.
fn listed(size: usize, start: &str, piece: &str, end: &str) -> Vec<u8> {
    filled(size, start, &format!("{piece},"), &format!("{piece}{end}"))
}

/// A text that unfolds from a link of a few kilobytes.
fn folded(start: &str, text: &[u8]) -> Vec<u8> {
    format!("{start}{}", URL_SAFE_NO_PAD.encode(compress_to_vec_zlib(text, 9))).into_bytes()
}

/// Something that does not repeat, so that nothing is known already.
fn numbered(size: usize, start: &str, piece: impl Fn(usize) -> String, end: &str) -> Vec<u8> {
    let mut text = start.to_owned();
    let mut number = 0;
    while text.len() + 64 < size {
        text += &piece(number);
        number += 1;
    }
    (text.trim_end_matches(',').to_owned() + end).into_bytes()
}

const FILM: &str = r#"{"format_version":1,"title":"It","#;
const SETUP: &str = r#"{"lens":{"focal_length_mm":6.86,"f_number":1.78,"sensor_width_mm":9.8,"sensor_height_mm":7.3},
 "recording":{"width_px":3840,"height_px":2160},"delivery":{"aspect":2.39},"subject":{"stature_m":1.7},
 "shot_size":"medium","background_behind_subject_m":10,"#;
const SUN: &str =
    r#"{"latitude_deg":52,"longitude_deg":4,"date":"2026-06-21","time_zone":"Europe/Amsterdam","#;

/// As many pieces as a film may hold, each so heavy.
fn full(start: &str, piece: &str, weight: usize, end: &str) -> Vec<u8> {
    let times = 990_000 / weight;
    [start, &format!("{piece},").repeat(times - 1), piece, end].concat().into_bytes()
}

/// The same of numbered pieces, so that each is a thing of its own.
fn full_of_different(start: &str, piece: impl Fn(usize) -> String, weight: usize, end: &str) -> Vec<u8> {
    let pieces: Vec<String> = (1..=990_000 / weight).map(piece).collect();
    [start, &pieces.join(","), end].concat().into_bytes()
}

/// A shot of which twice as much is said as of most.
fn shot(id: usize) -> String {
    format!(
        r#"{{"id":{id},"of":{{"object":{{"name":"cup","size_m":0.1,"x_m":1,"y_m":2}}}},"size":"insert","side_deg":30,
         "height_m":1.2,"tilt_deg":2,"across_share":0.4,"lens":"main","action":"It falls.","sound":"dialogue","planned_s":4,
         "capture_rate_fps":48,"priority":"must_have","notes":"A note.","continuity":"It is full."}}"#
    )
}

/// A take with all that can be said of it.
fn take(id: usize) -> String {
    format!(
        r#"{{"id":{id},"shot":1,"number":{},"verdict":"good","why":"calm","clip":"A_{id}.mov","at":"2026-09-12T13:05:00Z","focus":"0.42"}}"#,
        id % 9999 + 1
    )
}

/// Scenes with as many entries as each may have.
fn full_of_entries() -> Vec<u8> {
    let entry = |id: usize| format!(r#"{{"id":{id},"shot":1,"from_s":0.5,"to_s":2.5}}"#);
    let cut = (1..=5000).map(entry).collect::<Vec<_>>().join(",");
    let scene = |id: usize| {
        format!(r#"{{"id":{id},"shots":[{}],"cut":[{cut}]}}"#, shot(id))
            .replace("\"shot\":1,", &format!("\"shot\":{id},"))
    };
    full_of_different(&format!("{FILM}\"scenes\":["), scene, 5000 * 23 + 200, "]}")
}

const FILMS: [Case; 29] = [
    Case {
        door: "film",
        what: "full of takes",
        make: |_| full_of_different(&format!("{FILM}\"takes\":["), take, 44, "]}"),
    },
    Case {
        door: "film",
        what: "full of shots",
        make: |_| full_of_different(&format!("{FILM}\"scenes\":[{{\"id\":1,\"shots\":["), shot, 107, "]}]}"),
    },
    Case { door: "film", what: "full of entries", make: |_| full_of_entries() },
    Case {
        door: "film",
        what: "full of unknown objects",
        make: |_| full(&format!("{FILM}\"new\":["), "{\"\":0}", 11, "]}"),
    },
    Case {
        door: "film",
        what: "full of unknown lists",
        make: |_| full(&format!("{FILM}\"new\":["), "[0]", 5, "]}"),
    },
    Case {
        door: "film",
        what: "full of unknown numbers",
        make: |_| full(&format!("{FILM}\"new\":["), "0", 1, "]}"),
    },
    Case {
        door: "film",
        what: "full of unknown words",
        make: |_| full(&format!("{FILM}\"new\":["), "\"abc\"", 2, "]}"),
    },
    Case {
        door: "film",
        what: "full of bad scenes",
        make: |_| full(&format!("{FILM}\"scenes\":["), "0", 1, "]}"),
    },
    Case {
        door: "film",
        what: "full of shots of one id",
        make: |_| full(&format!("{FILM}\"scenes\":[{{\"shots\":["), "{\"id\":1}", 11, "]}]}"),
    },
    Case {
        door: "film",
        what: "full of empty lenses",
        make: |_| full(&format!("{FILM}\"kit\":{{\"lenses\":["), "{}", 7, "]}}"),
    },
    Case {
        door: "film",
        what: "full, with bad facts beside",
        make: |_| {
            full(
                &format!(
                    "{FILM}\"bias_stops\":[],\"line\":0,\"mains_hz\":[],\"aspect\":[],\"frame_rate_fps\":[],\"recording\":0,\"new\":["
                ),
                "[]",
                4,
                "]}",
            )
        },
    },
    Case { door: "film", what: "blanks", make: |size| filled(size, "", " ", "{}") },
    Case {
        door: "film",
        what: "a long title",
        make: |size| filled(size, "{\"format_version\":1,\"title\":\"", "x", "\"}"),
    },
    Case {
        door: "film",
        what: "a text without its end",
        make: |size| filled(size, "{\"format_version\":1,\"title\":\"", "\\", ""),
    },
    Case {
        door: "film",
        what: "a number of many digits",
        make: |size| filled(size, "{\"format_version\":1,\"title\":", "7", "}"),
    },
    Case { door: "film", what: "deep", make: |size| filled(size, "", "[", "") },
    Case {
        door: "film",
        what: "bad scenes",
        make: |size| listed(size, &format!("{FILM}\"scenes\":["), "0", "]}"),
    },
    Case {
        door: "film",
        what: "empty scenes",
        make: |size| listed(size, &format!("{FILM}\"scenes\":["), "{}", "]}"),
    },
    Case {
        door: "film",
        what: "shots of one id",
        make: |size| listed(size, &format!("{FILM}\"scenes\":[{{\"shots\":["), "{\"id\":1}", "]}]}"),
    },
    Case {
        door: "film",
        what: "bad shots",
        make: |size| listed(size, &format!("{FILM}\"scenes\":[{{\"shots\":["), "0", "]}]}"),
    },
    Case {
        door: "film",
        what: "bad marks",
        make: |size| {
            listed(
                size,
                &format!("{FILM}\"scenes\":[{{\"blocking\":{{\"marks\":["),
                "{\"person\":1}",
                "]}}]}",
            )
        },
    },
    Case {
        door: "film",
        what: "bad lenses",
        make: |size| listed(size, &format!("{FILM}\"kit\":{{\"lenses\":["), "0", "]}}"),
    },
    Case {
        door: "film",
        what: "empty lenses",
        make: |size| listed(size, &format!("{FILM}\"kit\":{{\"lenses\":["), "{}", "]}}"),
    },
    Case {
        door: "film",
        what: "unknown objects",
        make: |size| listed(size, &format!("{FILM}\"new\":["), "{\"\":0}", "]}"),
    },
    Case {
        door: "film",
        what: "unknown lists",
        make: |size| listed(size, &format!("{FILM}\"new\":["), "[0]", "]}"),
    },
    Case {
        door: "film",
        what: "unknown numbers",
        make: |size| listed(size, &format!("{FILM}\"new\":["), "0", "]}"),
    },
    Case {
        door: "film",
        what: "unknown fields",
        make: |size| numbered(size, FILM, |number| format!("\"{number}\":0,"), "}"),
    },
    Case {
        door: "film",
        what: "unknown objects without their end",
        make: |size| listed(size, &format!("{FILM}\"new\":["), "{\"\":0}", ""),
    },
    Case {
        door: "film",
        what: "bad facts beside much that is unknown",
        make: |size| {
            listed(
                size,
                &format!(
                    "{FILM}\"bias_stops\":[],\"line\":0,\"mains_hz\":[],\"aspect\":[],\"frame_rate_fps\":[],\"recording\":0,\"new\":["
                ),
                "[]",
                "]}",
            )
        },
    },
];

const OTHERS: [Case; 27] = [
    Case {
        door: "journal",
        what: "scenes",
        make: |size| listed(size, "{\"all\":[", "{\"remove_shot\":1}", "]}"),
    },
    Case {
        door: "journal",
        what: "bad days",
        make: |size| listed(size, "{\"set_days\":[", "{\"id\":1}", "]}"),
    },
    Case {
        door: "place_photo",
        what: "unknown objects",
        make: |size| listed(size, "{\"new\":[", "{\"\":0}", "]}"),
    },
    Case { door: "kit", what: "empty lenses", make: |size| listed(size, "{\"lenses\":[", "{}", "]}") },
    Case {
        door: "kit",
        what: "numbers",
        make: |size| listed(size, "{\"lenses\":[],\"exposure_times_s\":[", "1", "]}"),
    },
    Case {
        door: "kit",
        what: "unknown objects",
        make: |size| listed(size, "{\"lenses\":[", "{\"\":0}", "]}"),
    },
    Case { door: "kit", what: "deep", make: |size| filled(size, "{\"lenses\":", "[", "") },
    Case {
        door: "adapter",
        what: "names",
        make: |size| listed(size, "{\"squeeze\":1.33,\"fits\":[", "\"\"", "]}"),
    },
    Case { door: "preset", what: "empty lenses", make: |size| filled(size, "", "[[lenses]]\n", "") },
    Case { door: "preset", what: "deep", make: |size| filled(size, "a = ", "[", "") },
    Case { door: "preset", what: "a deep name", make: |size| filled(size, "a", ".a", " = 1") },
    Case {
        door: "preset",
        what: "numbers",
        make: |size| listed(size, "lenses = []\nexposure_times_s = [", "1", "]"),
    },
    Case { door: "link", what: "blanks", make: |size| filled(size, "", " ", "") },
    Case { door: "link", what: "no data", make: |size| filled(size, "film=1nc.", "A", "") },
    Case {
        door: "link",
        what: "64 MB of blanks",
        make: |_| folded("film=1nc.", &vec![b' '; film::LARGEST_FILE]),
    },
    Case {
        door: "link",
        what: "64 MB of objects",
        make: |_| {
            folded("film=1nc.", format!("{FILM}\"new\":[{}0]}}", "{\"\":0},".repeat(8_000_000)).as_bytes())
        },
    },
    Case { door: "lesson", what: "blanks", make: |size| filled(size, "", " ", "") },
    Case { door: "lesson", what: "answers", make: |size| filled(size, "", "answer=1.soft.who=a ", "") },
    Case { door: "lesson", what: "starts of answers", make: |size| filled(size, "", "answer=", "") },
    Case {
        door: "lesson",
        what: "a kit of empty lenses",
        make: |_| {
            folded(
                "learn=1.soft.kit=",
                format!("{{\"lenses\":[{}{{}}]}}", "{},".repeat(5_000_000)).as_bytes(),
            )
        },
    },
    Case {
        door: "setup",
        what: "unknown objects",
        make: |size| listed(size, "{\"new\":[", "{\"\":0}", "]}"),
    },
    Case {
        door: "setup",
        what: "people",
        make: |size| {
            listed(size, &format!("{SETUP}\"blocking\":{{\"people\":["), "{\"x_m\":1,\"y_m\":2}", "]}}")
        },
    },
    Case {
        door: "exposure",
        what: "filters",
        make: |size| {
            listed(
                size,
                "{\"f_number\":1.78,\"exposure_s\":0.02,\"iso\":50,\"scene_ev100\":15,\"filters_stops\":[",
                "1",
                "]}",
            )
        },
    },
    Case {
        door: "measure",
        what: "frames",
        make: |size| {
            listed(
                size,
                "{\"frames\":[",
                "{\"width_px\":100,\"from_px\":0,\"to_px\":9,\"width_m\":1,\"distance_m\":2}",
                "]}",
            )
        },
    },
    Case {
        door: "daylight",
        what: "a horizon of many points",
        make: |size| {
            listed(size, &format!("{SUN}\"horizon\":["), "{\"azimuth_deg\":1,\"elevation_deg\":2}", "]}")
        },
    },
    Case { door: "quantity", what: "digits", make: |size| filled(size, "", "7", "") },
    Case { door: "quantity", what: "commas", make: |size| filled(size, "", "1, ", "") },
];

const PHOTOS: [Case; 6] = [
    Case {
        door: "photo",
        what: "a JPEG of empty segments",
        make: |size| bytes(size, b"\xff\xd8", b"\xff\xe1\0\x02", b""),
    },
    Case { door: "photo", what: "a JPEG of marks", make: |size| bytes(size, b"\xff\xd8\xff", b"\xff", b"") },
    Case {
        door: "photo",
        what: "empty boxes",
        make: |size| bytes(size, b"\0\0\0\x08ftypheic", b"\0\0\0\x08free", b""),
    },
    Case {
        door: "photo",
        what: "an index of empty boxes",
        make: |size| bytes(size, b"\0\0\0\x08wide\0\xa0\0\0moov", b"\0\0\0\x08trak", b""),
    },
    Case { door: "photo", what: "an index of frames that last differently", make: clip_of_many_runs },
    Case {
        door: "photo",
        what: "a photo of empty items",
        make: |size| {
            bytes(
                size,
                b"\0\0\0\x10ftypheic\0\0\0\0\0\xa0\0\0meta\0\0\0\0\0\x90\0\0iinf\0\0\0\0\xff\xff",
                b"\0\0\0\x08infe",
                b"",
            )
        },
    },
];

fn bytes(size: usize, start: &[u8], piece: &[u8], end: &[u8]) -> Vec<u8> {
    let times = (size - start.len() - end.len()) / piece.len();
    [start, &piece.repeat(times), end].concat()
}

fn boxed(kind: [u8; 4], body: &[u8]) -> Vec<u8> {
    let length = u32::try_from(body.len() + 8).expect("short");
    [&length.to_be_bytes(), kind.as_slice(), body].concat()
}

/// A clip whose every frame lasts another time, ten MiB of them.
fn clip_of_many_runs(size: usize) -> Vec<u8> {
    let count = u32::try_from(size / 8 - 200).expect("short");
    let runs: Vec<u8> = (0..count).flat_map(|at| [1_u32.to_be_bytes(), at.to_be_bytes()].concat()).collect();
    let stts = boxed(*b"stts", &[[0; 4].as_slice(), &count.to_be_bytes(), &runs].concat());
    let hdlr = boxed(*b"hdlr", &[&[0; 8], b"vide".as_slice(), &[0; 13]].concat());
    let mdhd =
        boxed(*b"mdhd", &[0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 93, 192, 0, 0, 4, 0, 85, 196, 0, 0]);
    let minf = boxed(*b"minf", &boxed(*b"stbl", &stts));
    let trak = boxed(*b"trak", &boxed(*b"mdia", &[mdhd, hdlr, minf].concat()));
    [boxed(*b"wide", b""), boxed(*b"moov", &trak)].concat()
}

#[divan::bench(args = FILMS, sample_count = 3)]
fn films(bencher: Bencher<'_, '_>, case: &Case) {
    knock(bencher, case);
}

#[divan::bench(args = OTHERS, sample_count = 3)]
fn others(bencher: Bencher<'_, '_>, case: &Case) {
    knock(bencher, case);
}

#[divan::bench(args = PHOTOS, sample_count = 3)]
fn photos(bencher: Bencher<'_, '_>, case: &Case) {
    knock(bencher, case);
}

fn knock(bencher: Bencher<'_, '_>, case: &Case) {
    let door = DOORS.iter().find(|door| door.name == case.door).expect("a door");
    let input = (case.make)(door.largest);
    bencher.bench_local(|| (door.knock)(&input));
}
