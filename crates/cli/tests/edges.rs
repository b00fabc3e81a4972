//! What no case folder can hold: outputs that close, inputs too large, photos made on the spot.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

use std::io::{Read as _, Write as _};
use std::path::PathBuf;
use std::process::{Child, Command, Output, Stdio};
use std::{env, fs, thread};

use film::{Rehearsal, open_film};
use render::{Picture, Size};
use requests::StageRecord;

fn start(arguments: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_tapemark"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

/// Runs with that text on standard input.
fn run(arguments: &[&str], input: Vec<u8>) -> Output {
    let mut child = start(arguments);
    let mut stdin = child.stdin.take().expect("piped");
    // From aside, because the program may stop reading before the end.
    let writer = thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().expect("an exit");
    writer.join().expect("no panic");
    output
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// A file in cargo's folder for what tests write.
fn written(name: &str, bytes: &[u8]) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, bytes).expect("written");
    path
}

/// A JPEG that is nothing but its tags: focal length 4.25 mm, f/1.8, 26 mm equivalent, 4032 x 3024 pixels.
fn tagged_photo() -> Vec<u8> {
    // One directory in big-endian TIFF, holding the pointer to the directory of photo tags.
    let mut tiff = b"MM\0\x2a\0\0\0\x08".to_vec();
    let entry = |tag: u16, kind: u16, value: u32| {
        let mut bytes = [tag.to_be_bytes(), kind.to_be_bytes()].concat();
        bytes.extend(1_u32.to_be_bytes());
        // A short stands in the first two of the four bytes.
        bytes.extend(if kind == 3 { value << 16 } else { value }.to_be_bytes());
        bytes
    };
    tiff.extend([0, 1]);
    tiff.extend(entry(0x8769, 4, 26));
    tiff.extend([0; 4]);
    // Photo tags from byte 26 on; their fractions after them, from byte 26 + 2 + 5 · 12 + 4 = 92 on.
    tiff.extend([0, 5]);
    tiff.extend(entry(0x829D, 5, 92));
    tiff.extend(entry(0x920A, 5, 100));
    tiff.extend(entry(0xA002, 4, 4032));
    tiff.extend(entry(0xA003, 4, 3024));
    tiff.extend(entry(0xA405, 3, 26));
    tiff.extend([0; 4]);
    for number in [18_u32, 10, 425, 100] {
        tiff.extend(number.to_be_bytes());
    }
    let mut jpeg = b"\xff\xd8\xff\xe1".to_vec();
    let length = u16::try_from(tiff.len() + 8).expect("short");
    jpeg.extend(length.to_be_bytes());
    jpeg.extend(b"Exif\0\0");
    jpeg.extend(tiff);
    jpeg.extend(b"\xff\xd9");
    jpeg
}

#[test]
fn a_reader_that_leaves_early_is_no_failure() {
    let mut child = start(&["schema", "setup-answer"]);
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("an exit");
    assert!(output.status.success(), "{output:?}");
    assert_eq!(text(&output.stderr), "");
}

#[test]
fn a_request_of_more_than_four_mebibytes_is_refused() {
    let output = run(&["setup", "-"], vec![b' '; 5 << 20]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(text(&output.stderr), "tapemark: -: is larger than any such file is\n");
    assert!(output.stdout.is_empty());
}

#[test]
fn a_request_without_end_is_not_waited_for() {
    let mut child = start(&["setup", "-"]);
    let mut stdin = child.stdin.take().expect("piped");
    let writer = thread::spawn(move || while stdin.write_all(&[b' '; 8192]).is_ok() {});
    let status = child.wait().expect("an exit");
    writer.join().expect("the pipe was closed");
    assert_eq!(status.code(), Some(2));
}

#[test]
fn bytes_that_are_no_text_are_refused() {
    let output = run(&["setup", "-"], b"{\"lens\": \"\xff\"}".to_vec());
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).starts_with("tapemark: -: is not JSON: invalid utf-8"), "{output:?}");
}

#[test]
fn nesting_without_end_is_refused() {
    let output = run(&["setup", "-"], [b"[".repeat(20_000), b"]".repeat(20_000)].concat());
    assert_eq!(output.status.code(), Some(2));
    let told = text(&output.stderr);
    assert!(told.contains("more than 32 deep") && told.len() < 250, "{told}");
}

#[test]
fn control_characters_in_a_name_stay_on_one_line() {
    let output = run(&["setup", "-"], b"{\"a\\n\\u001b[31mb\": 1}".to_vec());
    assert_eq!(output.status.code(), Some(2));
    let told = text(&output.stderr);
    assert!(
        told.starts_with("tapemark: a  [31mb: is not a field here: ") && told.lines().count() == 1,
        "{told}"
    );
}

#[test]
fn a_lens_is_read_from_a_photo_and_shot_with() {
    let photo = written("tagged.jpg", &tagged_photo());
    let output = run(&["kit", "from-photo", photo.to_str().expect("UTF-8"), "--json"], Vec::new());
    assert!(output.status.success(), "{output:?}");
    let kit: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let lens = &kit["lenses"][0];
    assert_eq!((lens["focal_length_mm"].as_f64(), lens["f_number"].as_f64()), (Some(4.25), Some(1.8)));
    assert_eq!((lens["name"].as_str(), lens["origin"].as_str()), (Some("26 mm"), Some("file")));
    // 43.2666 mm · 4.25 / 26 in 4:3.
    let width = lens["sensor_width_mm"].as_f64().expect("a width");
    assert!((width - 43.266_615 * 4.25 / 26.0 * 0.8).abs() < 1e-5, "{width}");
    // What is printed is a kit file.
    let kit = written("kit.json", &output.stdout);
    let request = r#"{"recording": {"width_px": 3840, "height_px": 2160}, "delivery": {"aspect": "16:9"},
        "subject": {"stature_m": 1.7}, "shot_size": "wide", "background_behind_subject_m": 5}"#;
    let output = run(&["compare", kit.to_str().expect("UTF-8"), "-", "--json"], request.as_bytes().to_vec());
    assert!(output.status.success(), "{output:?}");
}

#[test]
fn a_photo_without_tags_is_told_beside_one_with() {
    let bare = written("bare.jpg", b"\xff\xd8\xff\xd9");
    let bare = bare.to_str().expect("UTF-8");
    let alone = run(&["kit", "from-photo", bare], Vec::new());
    assert_eq!(alone.status.code(), Some(2));
    let told = text(&alone.stderr);
    assert!(told.contains("does not say its focal length") && told.lines().count() == 1, "{told}");
    assert!(alone.stdout.is_empty());
    let tagged = written("beside.jpg", &tagged_photo());
    let both = run(&["kit", "from-photo", bare, tagged.to_str().expect("UTF-8")], Vec::new());
    assert!(both.status.success(), "{both:?}");
    assert!(text(&both.stderr).contains("does not say its focal length"), "{both:?}");
    assert!(text(&both.stdout).contains("26 mm: 4.25 mm, f/1.8"), "{both:?}");
}

#[test]
fn one_program_can_feed_another() {
    let mut child = start(&["kit", "presets", "--json"]);
    let mut json = String::new();
    child.stdout.take().expect("piped").read_to_string(&mut json).expect("UTF-8");
    assert!(child.wait().expect("an exit").success());
    let kits: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert!(kits.as_array().is_some_and(|kits| kits.len() >= 4), "{kits}");
}

/// Every name of a JSON value's fields, however deep.
fn field_names(value: &serde_json::Value) -> Vec<&str> {
    match value {
        serde_json::Value::Array(items) => items.iter().flat_map(field_names).collect(),
        serde_json::Value::Object(fields) => fields
            .iter()
            .flat_map(|(name, value)| [vec![name.as_str()], field_names(value)].concat())
            .collect(),
        serde_json::Value::Null
        | serde_json::Value::Bool(_)
        | serde_json::Value::Number(_)
        | serde_json::Value::String(_) => Vec::new(),
    }
}

#[test]
fn the_help_names_every_field_of_what_is_said_of_a_film() {
    let film = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/films/valid/every_rule_broken.json");
    for command in ["check", "shots"] {
        let answer = run(&[command, film, "--json"], Vec::new());
        assert_eq!(answer.status.code(), Some(1), "{answer:?}");
        let answer: serde_json::Value = serde_json::from_slice(&answer.stdout).expect("JSON");
        let help = text(&run(&[command, "--help"], Vec::new()).stdout);
        // Only the list of fields: prose uses some of their names as words.
        let (_, listed) = help.split_once('{').expect("a list of fields");
        let (listed, _) = listed.rsplit_once('}').expect("a list of fields");
        let named: Vec<&str> =
            listed.split(|letter: char| !letter.is_alphanumeric() && letter != '_').collect();
        for name in field_names(&answer) {
            assert!(named.contains(&name), "{command}: {name} is not described");
        }
    }
}

/// A two-shot with a walker, a set, a piece near the lens and a move: whatever a picture may hold.
const STAGED: &str = r##"{
    "lens": {"focal_length_mm": 6.86, "f_number": 1.78, "sensor_width_mm": 9.8, "sensor_height_mm": 7.3},
    "recording": {"width_px": 3840, "height_px": 2160}, "adapter": {"squeeze": 1.33}, "delivery": {"aspect": 2.39},
    "subject": {"stature_m": 1.7, "second_person": {"stature_m": 1.6}}, "shot_size": "mid_thigh",
    "background_behind_subject_m": 8, "take": {"follow_m_per_s": 1.2},
    "blocking": {
        "facing_deg": 90, "clothes": "#b5533c", "people": [{"x_m": 2, "y_m": 3, "walking": true}],
        "pieces": [{"kind": "wall", "x_m": 0, "y_m": 5}, {"kind": "lamp_post", "x_m": -2, "y_m": 4}],
        "foreground": {"kind": "plant", "ahead_m": 0.6, "right_m": -0.35}, "light": "dusk"
    }
}"##;

/// The demo film; of its shot 2.2 the phone goes along with a walker.
const FILM: &str = include_str!("../../../presets/films/demo.json");
/// A small picture of that shot.
const SMALL_SHOT: [&str; 6] = ["--shot", "2.2", "--size", "120x50", "--samples", "8"];

/// The picture of a request or a film, drawn with these arguments beside.
fn picture_of(given: &str, name: &str, arguments: &[&str]) -> (Output, Vec<u8>) {
    let out = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let mut all = vec!["picture", "-", "--out", out.to_str().expect("UTF-8")];
    all.extend(arguments);
    let output = run(&all, given.as_bytes().to_vec());
    (output, fs::read(&out).unwrap_or_default())
}

/// The pixels of a PNG: width, height, and red, green and blue of each.
fn pixels(png: &[u8]) -> (u32, u32, Vec<[u8; 3]>) {
    let mut reader = png::Decoder::new(std::io::Cursor::new(png)).read_info().expect("a PNG");
    let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut bytes).expect("an image");
    assert_eq!((info.color_type, info.bit_depth), (png::ColorType::Rgb, png::BitDepth::Eight));
    (info.width, info.height, bytes.chunks_exact(3).map(|rgb| [rgb[0], rgb[1], rgb[2]]).collect())
}

#[test]
fn a_picture_is_the_same_with_any_number_of_threads() {
    let small = |threads: &str| {
        let arguments = ["--width", "120", "--samples", "8", "--at", "1.5", "--threads", threads];
        let (output, png) = picture_of(STAGED, &format!("threads_{threads}.png"), &arguments);
        assert!(output.status.success(), "{output:?}");
        png
    };
    let one = small("1");
    let (width, height, rgb) = pixels(&one);
    assert_eq!((width, height), (120, 50));
    assert!(rgb.iter().any(|pixel| *pixel != rgb[0]), "an image of one colour shows nothing");
    assert!(one == small("3"), "one thread draws another image than three");
}

#[test]
fn a_picture_tells_what_it_wrote_and_what_is_the_matter() {
    let (output, png) = picture_of(STAGED, "told.png", &["--size", "240x100", "--samples", "4"]);
    assert!(output.status.success(), "{output:?}");
    let told = text(&output.stdout);
    assert!(told.contains("told.png: 240 x 100 px, 4 samples a pixel\n"), "{told}");
    assert!(told.contains("the adapter cannot focus") && told.contains("electronic stabilisation"), "{told}");
    assert_eq!(pixels(&png).0, 240);
}

#[test]
fn lines_are_drawn_over_the_picture_and_nowhere_else() {
    let of_request = ["--size", "120x50", "--samples", "4"];
    for (given, arguments) in [(STAGED, &of_request[..]), (FILM, &SMALL_SHOT)] {
        let (_, bare) = picture_of(given, "bare.png", arguments);
        let (_, lined) = picture_of(given, "lined.png", &[arguments, &["--lines"]].concat());
        let ((width, height, bare), (_, _, lined)) = (pixels(&bare), pixels(&lined));
        for (index, (before, after)) in (0_u32..).zip(bare.iter().zip(&lined)) {
            let (x, y) = (index % width, index / width);
            let on_line =
                [width / 3, width * 2 / 3].contains(&x) || [height / 3, height * 2 / 3].contains(&y);
            assert_eq!(before != after, on_line, "at {x}, {y}: {before:?} {after:?}");
        }
    }
}

#[test]
fn a_films_shot_is_drawn_as_the_page_draws_it_with_any_number_of_threads() {
    let film = open_film(FILM.as_bytes()).expect("a film").film;
    let scene = &film.scenes[1];
    let rehearsal = Rehearsal::of(&film, scene, &scene.shots[1]).expect("rehearsed");
    // The page's workers are told the stage by its record.
    let drawn = |at_s: f64| {
        let stage = rehearsal.stage(scene, &film.cast, at_s).expect("framed");
        let stage = StageRecord::from(&stage).to_stage().expect("a stage");
        let rgba = render::draw(&Picture::of(&stage), Size { width: 120, height: 50 }, 8).to_rgba8();
        rgba.chunks_exact(4).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect::<Vec<_>>()
    };
    for (at, at_s) in [("0", 0.0), ("2.5", 2.5)] {
        let png = |threads: &str| {
            let arguments = [&SMALL_SHOT[..], &["--at", at, "--threads", threads]].concat();
            let (output, png) = picture_of(FILM, &format!("shot_{at}_{threads}.png"), &arguments);
            assert!(output.status.success(), "{output:?}");
            png
        };
        let one = png("1");
        assert!(one == png("4"), "one thread draws another image than four, {at} s into the shot");
        assert!(
            pixels(&one) == (120, 50, drawn(at_s)),
            "another image than the page's, {at} s into the shot"
        );
    }
    assert!(drawn(0.0) != drawn(2.5), "nothing moves");
}

#[test]
fn a_films_picture_tells_what_is_found_on_setup_and_take() {
    let (output, _) = picture_of(FILM, "found_on_take.png", &SMALL_SHOT);
    assert!(output.status.success(), "{output:?}");
    let told = text(&output.stdout);
    assert!(told.contains("found_on_take.png: 120 x 50 px, 8 samples a pixel\n"), "{told}");
    assert!(told.contains("note: electronic stabilisation takes"), "{told}");
    let broken = include_str!("../../../tests/films/valid/every_rule_broken.json");
    let (output, png) =
        picture_of(broken, "found_on_setup.png", &["--shot", "4.4", "--width", "48", "--samples", "4"]);
    assert!(output.status.success(), "{output:?}");
    let told = text(&output.stdout);
    assert!(told.contains("will not do: it would have to focus at 0.30 m"), "{told}");
    assert_eq!(pixels(&png).0, 48);
}

#[test]
fn what_is_saved_of_a_damaged_film_is_drawn_if_that_is_wanted() {
    let damaged = include_str!("../../../tests/films/broken/duplicate_ids.json");
    let arguments = ["--shot", "1.1", "--width", "48", "--samples", "4", "--anyway"];
    let (output, png) = picture_of(damaged, "saved.png", &arguments);
    assert!(output.status.success(), "{output:?}");
    let told = text(&output.stderr);
    assert!(told.contains("tapemark: -: cast[1].id: 1 is the id of another one before it"), "{told}");
    assert_eq!(pixels(&png).0, 48);
}
