//! Tries every way in from outside with inputs that learn from what they reach.
//!
//! The fuzzer is libFuzzer, compiled from its crate into the program `fuzz` of the package `doors`. What it is led by,
//! counters in every branch, is in the compiler that the product is built with, so nothing has to be installed beside Rust
//! and a C++ compiler. There is no address sanitizer: our code is without `unsafe`, and with one the memory that is measured
//! would be the sanitizer's.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

use anyhow::{Context as _, Result, bail};

use crate::{install, process, workspace};

/// Where inputs to begin with lie, a folder for each door.
const CORPORA: &str = "crates/doors/corpus";

/// The file of words that inputs are made of, among what is compiled.
const WORDS: &str = "words";

/// What has the compiler count in every branch, and what it compares.
const COUNTERS: [&str; 7] = [
    "-Cpasses=sancov-module",
    "-Cllvm-args=-sanitizer-coverage-level=4",
    "-Cllvm-args=-sanitizer-coverage-inline-8bit-counters",
    "-Cllvm-args=-sanitizer-coverage-pc-table",
    "-Cllvm-args=-sanitizer-coverage-trace-compares",
    "--cfg",
    "fuzzing",
];

/// As fast as the product, but with every check of sums and assertions, and compiled in a minute or two.
const PROFILE: [(&str, &str); 4] = [
    ("CARGO_PROFILE_RELEASE_LTO", "false"),
    ("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "16"),
    ("CARGO_PROFILE_RELEASE_DEBUG_ASSERTIONS", "true"),
    ("CARGO_PROFILE_RELEASE_OVERFLOW_CHECKS", "true"),
];

/// What no input may take: 256 MiB, and without an end; and how large one may be, 10 MiB. The fuzzer itself looks how long the
/// processor works for one, as what waits for a busy machine is not slow.
const LIMITS: [&str; 3] = ["-timeout=60", "-rss_limit_mb=256", "-max_len=10485760"];

/// The longest input that is kept in the repository, bytes.
const LONGEST_KEPT: &str = "-max_len=4096";

/// Which doors, and for how long.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// How long to try each door
    // No time at all would be without end to the fuzzer.
    #[arg(long, default_value_t = 20, value_parser = clap::value_parser!(u64).range(1..))]
    minutes: u64,
    /// Put the inputs that reached something new into the repository's corpora, instead of looking for more
    #[arg(long)]
    keep: bool,
    /// The doors by name, as the folders of crates/doors/corpus are called; all if none is given
    #[arg(value_name = "DOOR")]
    doors: Vec<String>,
}

/// Tries one door after the other, and fails if any does not stand up to something.
pub(crate) fn run(options: &Options) -> Result<()> {
    let doors = chosen(&options.doors)?;
    let fuzzer = build()?;
    let folder = workspace::target_folder()?.join("fuzz");
    fs::write(folder.join(WORDS), dictionary()?)?;
    let mut found = Vec::new();
    for door in &doors {
        let trial = Trial::of(door, &fuzzer, &folder)?;
        if options.keep {
            trial.keep()?;
            continue;
        }
        println!("\n== {door}");
        if !trial.stands(Duration::from_mins(options.minutes)) {
            found.push(format!("{door}: see {}", trial.found.display()));
        }
    }
    if found.is_empty() {
        return Ok(());
    }
    bail!(
        "a door does not keep what it promises:\n{}\n\
         Mend it, put the input into {CORPORA}/DOOR under a name that says what it is, and name a unit test for it",
        found.join("\n")
    );
}

/// A door that is tried, and the folders of what it is tried with.
struct Trial<'run> {
    door: &'run str,
    fuzzer: &'run Path,
    folder: &'run Path,
    own: PathBuf,
    grown: PathBuf,
    found: PathBuf,
}

impl<'run> Trial<'run> {
    fn of(door: &'run str, fuzzer: &'run Path, folder: &'run Path) -> Result<Self> {
        let (grown, found) = (folder.join("grown").join(door), folder.join("found").join(door));
        fs::create_dir_all(&grown)?;
        fs::create_dir_all(&found)?;
        Ok(Self { door, fuzzer, folder, own: workspace::root().join(CORPORA).join(door), grown, found })
    }

    fn fuzzer(&self) -> Command {
        let mut command = Command::new(self.fuzzer);
        command.current_dir(self.folder).env("TAPEMARK_DOOR", self.door);
        command
    }

    /// Puts what reached something new into the repository.
    fn keep(&self) -> Result<()> {
        process::run(self.fuzzer().args(["-merge=1", LONGEST_KEPT]).args([&self.own, &self.grown]))
    }

    /// Whether the door stands up to everything for so long.
    fn stands(&self, time: Duration) -> bool {
        let mut command = self.fuzzer();
        command.args(LIMITS).arg(format!("-max_total_time={}", time.as_secs()));
        command.arg(format!("-dict={}", self.folder.join(WORDS).display()));
        command.arg(format!("-artifact_prefix={}/", self.found.display()));
        process::run(command.arg("-print_final_stats=1").args([&self.grown, &self.own])).is_ok()
    }
}

/// The doors of those names, or all that there are.
fn chosen(names: &[String]) -> Result<Vec<String>> {
    let mut known = Vec::new();
    for entry in fs::read_dir(workspace::root().join(CORPORA))? {
        known.extend(entry?.file_name().into_string());
    }
    known.sort();
    if let Some(strange) = names.iter().find(|name| !known.contains(name)) {
        bail!("there is no door {strange}: {}", known.join(", "));
    }
    Ok(if names.is_empty() { known } else { names.to_vec() })
}

/// Compiles the fuzzer, into a folder of its own as everything is compiled another way.
fn build() -> Result<PathBuf> {
    install::ensure_programs(&[("c++", &["g++"])])?;
    let host = process::capture(Command::new("rustc").current_dir(workspace::root()).arg("-vV"))?;
    let host = host.lines().find_map(|line| line.strip_prefix("host: ")).context("rustc names no host")?;
    let target = workspace::target_folder()?.join("fuzz/build");
    let mut cargo = workspace::cargo();
    // With a target named, build scripts and macros are compiled without the counters.
    cargo.args([
        "build",
        "--release",
        "--package",
        "doors",
        "--features",
        "fuzzing",
        "--bin",
        "fuzz",
        "--target",
        host,
    ]);
    cargo.arg("--target-dir").arg(&target).env("RUSTFLAGS", COUNTERS.join(" ")).envs(PROFILE);
    process::run(&mut cargo)?;
    Ok(target.join(host).join("release/fuzz"))
}

/// The words between quotes in the corpora, each once, in the fuzzer's own form: no counter leads to a field's name.
fn dictionary() -> Result<String> {
    let mut words = BTreeSet::new();
    for door in chosen(&[])? {
        for entry in fs::read_dir(workspace::root().join(CORPORA).join(door))? {
            let bytes = fs::read(entry?.path())?;
            words.extend(words_in(&String::from_utf8_lossy(&bytes)));
        }
    }
    let lines: Vec<_> = words.iter().map(|word| format!("\"\\\"{word}\\\"\"")).collect();
    Ok(lines.join("\n") + "\n")
}

/// The words of a text that stand between quotes.
fn words_in(text: &str) -> Vec<String> {
    let is_word = |word: &&str| {
        let is_letter = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'_';
        (2..40).contains(&word.len()) && word.bytes().all(is_letter)
    };
    text.split('"').filter(is_word).map(str::to_owned).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_door_of_the_corpora_is_known_and_no_other() {
        let all = chosen(&[]).unwrap();
        assert!(all.len() > 10, "{all:?}");
        assert_eq!(chosen(&["film".to_owned()]).unwrap(), ["film"]);
        assert!(
            chosen(&["window".to_owned()]).unwrap_err().to_string().starts_with("there is no door window: ")
        );
    }

    #[test]
    fn words_between_quotes_are_told_to_the_fuzzer() {
        assert_eq!(words_in(r#"{"title": "It is", "planned_s": 4}"#), ["title", "planned_s"]);
        assert!(dictionary().unwrap().contains("\"\\\"planned_s\\\"\"\n"));
    }
}
