//! The program itself, case by case: what was asked, and what it answered on both outputs.
//!
//! A case is a folder of `tests/cases` with a `case.toml` and its files; `stdout.txt` and `stderr.txt` are what is
//! expected, absent where nothing is. Where an argument is `OUT`, that is an empty folder, and `written` holds the files that
//! are expected in it. `BLESS=1` writes them anew, to be read before they are kept.
#![expect(clippy::expect_used, reason = "a test that cannot build its case must fail")]

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::{env, io};

/// What a case's manifest says.
struct Case {
    arguments: Vec<String>,
    exit: i64,
    stdin: Option<String>,
}

fn case_of(folder: &Path) -> Case {
    let text = fs::read_to_string(folder.join("case.toml")).expect("a manifest");
    let manifest: toml::Table = text.parse().expect("a table");
    for name in manifest.keys() {
        assert!(["arguments", "exit", "stdin"].contains(&name.as_str()), "{}: {name}", folder.display());
    }
    let arguments = manifest.get("arguments").and_then(toml::Value::as_array).expect("arguments");
    Case {
        arguments: arguments.iter().map(|text| text.as_str().expect("text").to_owned()).collect(),
        exit: manifest.get("exit").and_then(toml::Value::as_integer).unwrap_or(0),
        stdin: manifest.get("stdin").and_then(toml::Value::as_str).map(str::to_owned),
    }
}

/// The argument that stands for a folder to write into.
const OUT: &str = "OUT";

/// The folder that a case writes into, which is not there yet.
fn out_folder(folder: &Path) -> PathBuf {
    let name = folder.file_name().expect("a name");
    let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cases").join(name);
    if out.exists() {
        fs::remove_dir_all(&out).expect("an earlier run's folder goes");
    }
    out
}

/// What the program answered: its exit, standard output and standard error.
fn answered(folder: &Path, case: &Case, out: &str) -> (Option<i32>, String, String) {
    let stdin = match &case.stdin {
        Some(file) => Stdio::from(File::open(folder.join(file)).expect("the case's input")),
        None => Stdio::null(),
    };
    let output = Command::new(env!("CARGO_BIN_EXE_tapemark"))
        .current_dir(folder)
        .args(case.arguments.iter().map(|argument| if argument == OUT { out } else { argument }))
        .stdin(stdin)
        .output()
        .expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8").replace(out, OUT);
    (output.status.code(), text(output.stdout), text(output.stderr))
}

/// The first line in which two texts differ.
fn difference(expected: &str, actual: &str) -> String {
    let mut lines = expected.lines().zip(actual.lines()).enumerate();
    match lines.find(|(_, (expected, actual))| expected != actual) {
        Some((index, (expected, actual))) => {
            format!("line {}:\n  expected {expected}\n  actual   {actual}", index + 1)
        }
        None => format!("{} lines expected, {} found", expected.lines().count(), actual.lines().count()),
    }
}

fn check(folder: &Path, bless: bool) -> Result<(), String> {
    let case = case_of(folder);
    let out = out_folder(folder);
    let (exit, stdout, stderr) = answered(folder, &case, out.to_str().expect("UTF-8"));
    if exit.map(i64::from) != Some(case.exit) {
        return Err(format!("exit {exit:?} instead of {}: {stderr}", case.exit));
    }
    if case.exit == 2 && (!stdout.is_empty() || stderr.lines().count() != 1 || !stderr.ends_with('\n')) {
        return Err(format!("a refusal is one line on standard error and no more: {stdout}{stderr}"));
    }
    for (name, actual) in [("stdout.txt", stdout), ("stderr.txt", stderr)] {
        let file = folder.join(name);
        if bless {
            write_or_remove(&file, &actual).map_err(|error| error.to_string())?;
            continue;
        }
        // A text that is not there is one of nothing.
        let expected = fs::read_to_string(&file).unwrap_or_default();
        if expected != actual {
            return Err(format!("{name}, {}", difference(&expected, &actual)));
        }
    }
    check_written(&folder.join("written"), &out, bless)
}

/// The files of a folder by name; none if it is not there.
fn files_of(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let Ok(entries) = fs::read_dir(folder) else { return BTreeMap::new() };
    let paths = entries.map(|entry| entry.expect("a file").path());
    let file = |path: PathBuf| {
        let name = path.file_name().and_then(|name| name.to_str()).expect("UTF-8").to_owned();
        (name, fs::read(path).expect("a file"))
    };
    paths.map(file).collect()
}

/// Compares what a case wrote with what it should have written.
fn check_written(folder: &Path, out: &Path, bless: bool) -> Result<(), String> {
    let (expected, actual) = (files_of(folder), files_of(out));
    if bless {
        for name in expected.keys().filter(|name| !actual.contains_key(*name)) {
            fs::remove_file(folder.join(name)).map_err(|error| error.to_string())?;
        }
        for (name, bytes) in &actual {
            fs::create_dir_all(folder).map_err(|error| error.to_string())?;
            fs::write(folder.join(name), bytes).map_err(|error| error.to_string())?;
        }
        return Ok(());
    }
    if !expected.keys().eq(actual.keys()) {
        return Err(format!("wrote {:?} instead of {:?}", actual.keys(), expected.keys()));
    }
    for (name, bytes) in &expected {
        let [expected, actual] = [bytes, &actual[name]].map(|bytes| String::from_utf8_lossy(bytes));
        if expected != actual {
            return Err(format!("{name}, {}", difference(&expected, &actual)));
        }
    }
    Ok(())
}

fn write_or_remove(file: &Path, text: &str) -> io::Result<()> {
    match (text.is_empty(), file.exists()) {
        (true, true) => fs::remove_file(file),
        (true, false) => Ok(()),
        (false, _) => fs::write(file, text),
    }
}

#[test]
fn every_case_is_answered_as_expected() {
    let cases = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let bless = env::var_os("BLESS").is_some();
    let folders: Vec<PathBuf> =
        fs::read_dir(cases).expect("cases").map(|entry| entry.expect("a folder").path()).collect();
    let failures: BTreeMap<_, _> =
        folders.iter().filter_map(|folder| Some((folder, check(folder, bless).err()?))).collect();
    assert!(folders.len() >= 50, "only {} cases were found", folders.len());
    let told: Vec<_> =
        failures.iter().map(|(folder, failure)| format!("{}: {failure}", folder.display())).collect();
    assert!(told.is_empty(), "{} of {} cases:\n{}", told.len(), folders.len(), told.join("\n"));
}
