//! `tapemark check`: will the film's shots cut together, and can they be had?

use std::collections::BTreeSet;

use film::{Film, KeptAt, PlacedFinding, Rehearsals, Scene, ShotId, counted, story_lacks, titled};
use requests::SeverityAnswer;
use serde::Serialize;
use units::LengthUnit;

use crate::failure::Failure;
use crate::film_input::{Options, asks, open_findings};
use crate::film_lines::FoundLines;
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

/// What `check` reads and prints.
pub(crate) const HELP: &str = "\
The film's JSON Schema is printed by `tapemark schema film`. Findings come from what the entries of each scene's cut show, \
and of each shot from its setup, where `tapemark setup` would fail, and from its take, where that would fail or warn; a \
shot in no cut is not checked. Each says whether it is physics or common practice; one that is to stay is kept in the film \
with its reason (kept), and is not told here.

With --json: {title, scenes: [{scene, title, findings: [{rule, severity, place, message, reason, hint}]}], story_lacks}.
Exit 0 if nothing fails or warns, 1 if something does; notes and what the story lacks do not count. A file that is no \
film, from a newer version, or damaged exits 2 with one line on standard error; --anyway goes on with what can be saved, \
and tells the rest on standard error, a line each.";

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
            findings: open.iter().map(|placed| Found::of(&film, scene, placed)).collect(),
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
    fn of(film: &Film, scene: &Scene, placed: &PlacedFinding) -> Self {
        let said = placed.finding.to_finding(film, LengthUnit::Metres);
        Self {
            rule: said.rule,
            severity: said.severity.into(),
            place: place(scene, placed.at),
            message: said.message,
            reason: placed.finding.reason(),
            hint: said.hint,
        }
    }

    fn lines(&self, reason: Option<&str>) -> Vec<String> {
        let Self { rule, severity, place, message, reason: _, hint } = self;
        FoundLines { severity: *severity, place, rule, message, reason, hint }.lines()
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

/// The findings for people. The reason of a rule is told where it first comes.
fn told(film: &Film, checked: &Checked) -> String {
    let mut lines = vec![counts(film)];
    let mut explained = BTreeSet::new();
    for scene in &checked.scenes {
        lines.extend([String::new(), titled("Scene", scene.scene, &scene.title)]);
        if scene.findings.is_empty() {
            lines.push("  nothing to look at".to_owned());
        }
        for found in &scene.findings {
            let reason = explained.insert(found.reason).then_some(found.reason);
            lines.extend(found.lines(reason));
        }
    }
    if !checked.story_lacks.is_empty() {
        lines.extend([String::new(), "What the story may still want".to_owned()]);
        lines.extend(checked.story_lacks.iter().map(|words| format!("  {words}")));
    }
    lines.join("\n") + "\n"
}

/// What there is of the film, on one line.
fn counts(film: &Film) -> String {
    let title = film.facts.called();
    let scenes = counted(film.scenes.len(), "scene", "scenes");
    let shots = counted(film.scenes.iter().map(|scene| scene.shots.len()).sum(), "shot", "shots");
    if film.scenes.iter().all(|scene| scene.cut.is_empty()) {
        return format!("{title}: {scenes}, {shots}, nothing in the cut yet");
    }
    format!("{title}: {scenes}, {shots}, {:.1} s in the cut", film.cut_s())
}
