//! Files that are handed over: mattes pixel by pixel, and what is there already.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;

/// The demo film, delivered in 2.39.
const FILM: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../presets/films/demo.json");

/// A folder that is not there yet.
fn new_folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("export").join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("an earlier run's folder goes");
    }
    folder
}

fn export(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tapemark"));
    command.args(["export", FILM]).arg(folder).args(arguments).output().expect("the program starts")
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let name = |entry: std::io::Result<fs::DirEntry>| entry.expect("a file").file_name().into_string();
    let mut names: Vec<String> = entries.map(|entry| name(entry).expect("UTF-8")).collect();
    names.sort();
    names
}

#[test]
fn a_matte_is_as_large_as_what_is_recorded_and_clear_where_it_is_delivered() {
    let folder = new_folder("mattes");
    let output = export(&folder, &["--to", "png"]);
    assert!(output.status.success(), "{output:?}");
    let modes = film::demo_film().kit.recordings.len();
    assert_eq!(names(&folder).len(), modes);
    let file = fs::File::open(folder.join("the-biscuit-thief-4k.png")).expect("the mode that is shot in");
    let mut reader = png::Decoder::new(std::io::BufReader::new(file)).read_info().expect("a PNG");
    let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
    let info = reader.next_frame(&mut bytes).expect("an image");
    assert_eq!((info.width, info.height, info.color_type), (3840, 2160, png::ColorType::Rgba));
    let at = |x: usize, y: usize| &bytes[(y * 3840 + x) * 4..][..4];
    // 3840 / 2.39 is 1606.7 rows: from 276.65 to 1883.35.
    for x in [0, 1920, 3839] {
        assert_eq!(at(x, 0), [0, 0, 0, 128]);
        assert_eq!(at(x, 272), [0, 0, 0, 128]);
        assert_eq!([at(x, 273), at(x, 276)], [[255; 4], [255; 4]]);
        assert_eq!([at(x, 277), at(x, 1080), at(x, 1882)], [[0; 4], [0; 4], [0; 4]]);
        assert_eq!([at(x, 1883), at(x, 1886)], [[255; 4], [255; 4]]);
        assert_eq!(at(x, 2159), [0, 0, 0, 128]);
    }
}

#[test]
fn what_is_there_is_not_overwritten_unless_that_is_wanted() {
    let folder = new_folder("there");
    fs::create_dir_all(&folder).expect("a folder");
    let file = folder.join("the-biscuit-thief-cut.csv");
    fs::write(&file, "mine").expect("written");
    let output = export(&folder, &["--to", "csv"]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(told.ends_with("the-biscuit-thief-cut.csv: is there already; --force overwrites it\n"), "{told}");
    assert_eq!(names(&folder), ["the-biscuit-thief-cut.csv"], "half of it was written");
    assert_eq!(fs::read(&file).expect("a file"), b"mine");
    let output = export(&folder, &["--to", "csv", "--force"]);
    assert!(output.status.success(), "{output:?}");
    assert!(fs::read(&file).expect("a file").starts_with(b"entry,shot,"));
    assert_eq!(names(&folder).len(), 2);
}

#[test]
fn a_folder_that_cannot_be_made_is_told() {
    let folder = new_folder("file");
    fs::create_dir_all(folder.parent().expect("a folder")).expect("a folder");
    fs::write(&folder, "a file").expect("written");
    let output = export(&folder.join("within"), &["--to", "otio"]);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(String::from_utf8_lossy(&output.stderr).contains("cannot be written"), "{output:?}");
    fs::remove_file(folder).expect("it goes");
}

#[test]
fn a_calendar_is_stamped_now_unless_that_is_said() {
    let folder = new_folder("stamped");
    let output = export(&folder, &["--to", "ics"]);
    assert!(output.status.success(), "{output:?}");
    let told = fs::read_to_string(folder.join("the-biscuit-thief-day-1.ics")).expect("a calendar");
    let stamp = told.lines().find_map(|line| line.strip_prefix("DTSTAMP:")).expect("a stamp");
    assert!(stamp > "20260101T000000Z" && stamp.ends_with('Z'), "{stamp}");
}

#[test]
fn sheets_hold_a_picture_of_each_shot_wherever_it_is_told() {
    let folder = new_folder("sheets");
    let film = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/export_html/film.json");
    let mut command = Command::new(env!("CARGO_BIN_EXE_tapemark"));
    command.args(["export", film]).arg(&folder).args(["--to", "html"]);
    let output = command.output().expect("the program starts");
    assert!(output.status.success(), "{output:?}");
    let file = fs::read_to_string(folder.join("two-shots-a-tin.html")).expect("the sheets");
    let pictures: Vec<&str> = file
        .split("src=\"data:image/png;base64,")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .collect();
    // Two shots, each in the list and on its card.
    assert_eq!(pictures.len(), 4);
    assert_eq!((pictures[0], pictures[1]), (pictures[2], pictures[3]));
    assert_ne!(pictures[0], pictures[1]);
    let png = BASE64_STANDARD.decode(pictures[0]).expect("base64");
    let info = png::Decoder::new(Cursor::new(png)).read_info().expect("a PNG").info().size();
    assert_eq!(info, (480, 201), "the frame's shape is 2.39");
}
