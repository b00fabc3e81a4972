//! Every film in `tests/films/valid` from one end to the other: its scenes are drafted, checked, written and read again.
#![expect(clippy::expect_used, reason = "a test that cannot read its films must fail")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use film::{
    CommandRecord, CoverageWish, CutFinding, EntryView, Film, FreshIds, Pace, PlacedFinding, Rehearsals,
    Scene, Severity, check_cut, draft, open_film, sort_findings, write_film,
};

/// Ids above any that the films have.
const FRESH_FROM: u64 = 1 << 40;
/// As many shots as a scene is usually cut from.
const USUAL_SHOTS: usize = 6;

/// The films of the folder by their names, in order.
fn films() -> Vec<(PathBuf, Film)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/films/valid");
    let mut paths: Vec<PathBuf> =
        fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("a file").path()).collect();
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    paths.sort();
    assert!(paths.len() >= 6, "only {} films were found", paths.len());
    let opened = |path: PathBuf| {
        let opened = open_film(&fs::read(&path).expect("bytes")).expect("a film");
        (path, opened.film)
    };
    paths.into_iter().map(opened).collect()
}

fn found(film: &Film, scene: &Scene) -> Vec<PlacedFinding> {
    let views = EntryView::of_cut(film, scene, &mut Rehearsals::default());
    assert_eq!(views.len(), scene.cut.len(), "every entry of the cut is of a shot of its scene");
    check_cut(film, scene, &views)
}

#[test]
fn every_scene_of_every_film_is_drafted_checked_written_and_read_again() {
    for (path, original) in films() {
        for pace in Pace::ALL {
            let mut film = original.clone();
            let mut fresh = FreshIds::starting_at(FRESH_FROM);
            let mut undos = Vec::new();
            for at in 0..film.scenes.len() {
                let told = format!("{}, scene {}, {}", path.display(), at + 1, pace.name());
                let scene = Arc::clone(&film.scenes[at]);
                let wish = CoverageWish { shots: USUAL_SHOTS, pace, variant: 0 };
                let draft = draft(&film, &scene, &wish, &mut fresh);
                assert!(draft.shots.len() >= CoverageWish::FEWEST_SHOTS, "{told}: {:?}", draft.shots);
                let command = draft.replaces(&scene);
                let kept = CommandRecord::from(&command).to_command();
                assert_eq!(kept.expect("as written"), command, "{told}");
                undos.push(film.apply(command).unwrap_or_else(|error| panic!("{told}: {error}")));
                // A walk backwards is a caution that belongs to its shot, and a walk through something is no shot's.
                let asking: Vec<_> = found(&film, &film.scenes[at])
                    .into_iter()
                    .filter(|placed| placed.finding.severity() != Severity::Notes)
                    .filter(|placed| !["walks_backwards", "walks_through"].contains(&placed.finding.rule()))
                    .collect();
                assert_eq!(asking, [], "{told}");
            }
            let opened = open_film(write_film(&film).as_bytes()).expect("as written");
            assert_eq!(opened.problems, [], "{}", path.display());
            assert_eq!(opened.film, film, "{}", path.display());
            for undo in undos.into_iter().rev() {
                film.apply(undo).expect("as it was");
            }
            assert_eq!(film, original, "{}", path.display());
        }
    }
}

/// The place of a finding's rule among all rules of a cut: a new one has to be named here, and broken in the film.
const fn number(finding: &CutFinding) -> usize {
    match finding {
        CutFinding::JumpCut { .. } => 0,
        CutFinding::LineCrossed { .. } => 1,
        CutFinding::DirectionTurns { .. } => 2,
        CutFinding::ReversesDiffer { .. } => 3,
        CutFinding::LooksAlike { .. } => 4,
        CutFinding::VoiceFar { .. } => 5,
        CutFinding::NotRehearsed(_) => 6,
        CutFinding::NotToBeHad(_) => 7,
        CutFinding::RateTakesLight { .. } => 8,
        CutFinding::FewShots { .. } => 9,
        CutFinding::ManyShots { .. } => 10,
        CutFinding::OneSize { .. } => 11,
        CutFinding::OneDirection { .. } => 12,
        CutFinding::NoForeground { .. } => 13,
        CutFinding::ActionUnsaid { .. } => 14,
        CutFinding::ShoulderAmiss { .. } => 15,
        CutFinding::LeavesFrame { .. } => 16,
        CutFinding::OfTake(_) => 17,
        CutFinding::WalksThrough { .. } => 18,
        CutFinding::PhoneGoesThrough { .. } => 19,
        CutFinding::OneUnseen { .. } => 20,
        CutFinding::PlannedShort { .. } => 21,
        CutFinding::ShownBriefly { .. } => 22,
        CutFinding::SubjectHidden { .. } => 23,
        CutFinding::PhoneStandsIn { .. } => 24,
    }
}

#[test]
fn the_film_that_breaks_every_rule_breaks_every_one() {
    let (_, film) = films()
        .into_iter()
        .find(|(path, _)| path.ends_with("every_rule_broken.json"))
        .expect("the film that breaks every rule");
    let all: Vec<PlacedFinding> = film.scenes.iter().flat_map(|scene| found(&film, scene)).collect();
    let broken: BTreeSet<usize> = all.iter().map(|placed| number(&placed.finding)).collect();
    assert_eq!(broken, (0..25).collect());
    // Whatever keeps a shot from being had has its own rule.
    let not_had: BTreeSet<&str> = all
        .iter()
        .filter(|placed| matches!(placed.finding, CutFinding::NotToBeHad(_)))
        .map(|placed| placed.finding.rule())
        .collect();
    assert_eq!(not_had.len(), 6, "{not_had:?}");
}

#[test]
fn what_a_film_keeps_anyway_is_found_in_it() {
    for (name, film) in films().into_iter().chain([(PathBuf::from("the demo"), film::demo_film())]) {
        for scene in &film.scenes {
            let sorted = sort_findings(scene, found(&film, scene));
            assert_eq!(sorted.kept.len(), scene.kept.len(), "{}: {:?}", name.display(), scene.kept);
        }
    }
}

#[test]
fn the_demo_has_nothing_open_that_asks_for_a_look_and_keeps_something() {
    let film = film::demo_film();
    let sorted = film.scenes.iter().map(|scene| sort_findings(scene, found(&film, scene)));
    let (open, kept): (Vec<_>, Vec<_>) = sorted.map(|sorted| (sorted.open, sorted.kept)).unzip();
    let asks = |placed: &&PlacedFinding| placed.finding.severity() != Severity::Notes;
    assert_eq!(open.iter().flatten().find(asks), None);
    let reasons: Vec<&str> = kept.iter().flatten().map(|(_, kept)| kept.reason.as_str()).collect();
    assert!(!reasons.is_empty() && !reasons.contains(&""), "{reasons:?}");
}
