//! How long it takes to put two copies of a film side by side and to make one of them: to see that what comes back can be
//! shown at once.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

use std::sync::Arc;

use divan::{Bencher, black_box};
use film::{Command, Entry, EntryId, Film, LinkContents, Merge, Shot, ShotId, film_link, open_link};

fn main() {
    divan::main();
}

/// The demo film with so many shots more in its first scene and its cut, each with a note that says `said`.
fn film(shots: u64, said: &str) -> Film {
    let mut film = film::demo_film();
    let scene = film.scenes[0].id;
    let like = Arc::clone(&film.scenes[0].shots[0]);
    for number in 0..shots {
        let id = ShotId::new(1 << 40 | number).expect("an id");
        let notes = format!("{said} {number}");
        let shot = Arc::new(Shot { notes, planned_s: 2.0, ..like.known_by(id) });
        film.apply(Command::InsertShot { scene, at: usize::MAX, shot }).expect("it is new");
    }
    let entries = film.scenes[0].shots.iter().zip(0_u64..);
    let entries = entries.map(|(shot, at)| Entry::whole(EntryId::new(at).expect("small"), shot.id));
    film.apply(Command::SetCut { scene, cut: entries.collect() }).expect("its own shots");
    film
}

/// Two copies in which every shot that was added differs.
#[divan::bench(args = [500, 3000])]
fn every_shot_differs(bencher: Bencher<'_, '_>, shots: u64) {
    let (mine, theirs) = (film(shots, "mine"), film(shots, "theirs"));
    assert_eq!(Merge::of(&mine, &theirs).differences().len() as u64, shots);
    bencher.bench(|| Merge::of(black_box(&mine), black_box(&theirs)));
}

/// The command that takes theirs for all of it, made and applied.
#[divan::bench(args = [500])]
fn theirs_for_all(bencher: Bencher<'_, '_>, shots: u64) {
    let (mine, theirs) = (film(shots, "mine"), film(shots, "theirs"));
    let merge = Merge::of(&mine, &theirs);
    bencher.bench(|| {
        let mut film = mine.clone();
        film.apply(merge.command(&merge.all_theirs())).map(|_| film)
    });
}

/// Two copies of which only theirs has the shots that were added.
#[divan::bench(args = [500])]
fn every_shot_is_new(bencher: Bencher<'_, '_>, shots: u64) {
    let (mine, theirs) = (film(0, ""), film(shots, "theirs"));
    bencher.bench(|| Merge::of(black_box(&mine), black_box(&theirs)));
}

/// The demo film into a link and out of it.
#[divan::bench]
fn a_link_there_and_back(bencher: Bencher<'_, '_>) {
    let film = film::demo_film();
    let contents = LinkContents { names: true, coordinates: true };
    bencher.bench(|| open_link(&film_link(black_box(&film), contents).expect("it is short")));
}
