//! `tapemark check`: will the film's shots cut together, and can they be had?

use std::fmt::Write as _;

use film::{Film, KeptAt, PlacedFinding, Rehearsals, Scene, ShotId, story_lacks};
use requests::SeverityAnswer;
use serde::Serialize;
use units::LengthUnit;

use crate::failure::Failure;
use crate::film_input::{Options, asks, open_findings};
use crate::output::{self, Answer};

/// What is found in a film.
#[derive(Debug, Serialize)]
struct Checked {
    title: String,
    scenes: Vec<CheckedScene>,
    story_lacks: Vec<String>,
}

/// What is found in a scene.
#[derive(Debug, Serialize)]
struct CheckedScene {
    scene: usize,
    title: String,
    findings: Vec<Found>,
}

/// One finding.
#[derive(Debug, Serialize)]
struct Found {
    rule: &'static str,
    severity: SeverityAnswer,
    place: String,
    message: String,
    reason: &'static str,
    hint: String,
}

/// The answer.
pub(crate) fn run(options: &Options) -> Result<Answer, Failure> {
    let film = options.open()?;
    let mut rehearsals = Rehearsals::default();
    let mut has_findings = false;
    let scenes = film.scenes.iter().enumerate().map(|(at, scene)| {
        let open = open_findings(&film, scene, &mut rehearsals);
        has_findings |= open.iter().any(asks);
        CheckedScene {
            scene: at + 1,
            title: scene.facts.title.clone(),
            findings: open.iter().map(|placed| Found::of(scene, placed)).collect(),
        }
    });
    let scenes = scenes.collect();
    let checked = Checked {
        title: film.facts.title.clone(),
        scenes,
        story_lacks: story_lacks(&film).iter().map(|lack| lack.words(&film)).collect(),
    };
    let text = if options.json { output::json(&checked)? } else { told(&film, &checked) };
    Ok(Answer { text, has_findings })
}

impl Found {
    fn of(scene: &Scene, placed: &PlacedFinding) -> Self {
        let said = placed.finding.to_finding(LengthUnit::Metres);
        Self {
            rule: said.rule,
            severity: said.severity.into(),
            place: place(scene, placed.at),
            message: said.message,
            reason: placed.finding.reason(),
            hint: said.hint,
        }
    }
}

/// Where a finding is, by the shots' numbers in their scene.
fn place(scene: &Scene, at: KeptAt) -> String {
    let number = |id: ShotId| scene.shots.iter().position(|shot| shot.id == id).map_or(0, |at| at + 1);
    let entry = |id| scene.cut.iter().position(|entry| entry.id == id);
    let told = |at: Option<usize>| {
        at.and_then(|at| Some((at + 1, number(scene.cut.get(at)?.shot))))
            .map_or_else(String::new, |(entry, shot)| format!("{entry} (shot {shot})"))
    };
    match at {
        KeptAt::Scene => "the scene".to_owned(),
        KeptAt::Shot(shot) => format!("shot {}", number(shot)),
        KeptAt::Cut(before, after) => format!("entry {} to {}", told(entry(before)), told(entry(after))),
    }
}

/// The findings for people.
fn told(film: &Film, checked: &Checked) -> String {
    let mut text = String::new();
    let title = if checked.title.is_empty() { "A film without a title" } else { checked.title.as_str() };
    let shots: usize = film.scenes.iter().map(|scene| scene.shots.len()).sum();
    // Writing to a string does not fail.
    let _ = writeln!(text, "{title}: {} scenes, {shots} shots, {:.0} s in the cut", film.scenes.len(), film.cut_s());
    for scene in &checked.scenes {
        let _ = writeln!(text, "\nScene {}{}", scene.scene, titled(&scene.title));
        if scene.findings.is_empty() {
            text.push_str("  nothing to look at\n");
        }
        for found in &scene.findings {
            let severity = match found.severity {
                SeverityAnswer::Fails => "fails",
                SeverityAnswer::Warns => "warns",
                SeverityAnswer::Notes => "notes",
            };
            let _ = writeln!(text, "  {severity}: {}: {} [{}]", found.place, found.message, found.rule);
            let _ = writeln!(text, "         {} To mend it: {}.", found.reason, found.hint);
        }
    }
    if !checked.story_lacks.is_empty() {
        text.push_str("\nWhat the story may still want\n");
        for words in &checked.story_lacks {
            let _ = writeln!(text, "  {words}");
        }
    }
    text
}

fn titled(title: &str) -> String {
    if title.is_empty() { String::new() } else { format!(": {title}") }
}
