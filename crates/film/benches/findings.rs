//! How long it takes to walk through all shots of a film and to check its cut: to see that a change can be answered at once.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

#[path = "findings/conversations.rs"]
mod conversations;

use conversations::{check_all, film};
use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use film::{EntryView, Rehearsals, check_cut, mends};

fn main() {
    divan::main();
}

const FILMS: [(u64, u64); 3] = [(50, 20), (500, 20), (1, 1000)];

/// Nothing is known of any shot yet. The film is as many scenes of as many shots as its argument says.
#[divan::bench(args = FILMS)]
fn from_nothing(bencher: Bencher<'_, '_>, (scenes, shots): (u64, u64)) {
    let film = film(scenes, shots);
    bencher
        .counter(ItemsCount::new(scenes * shots))
        .bench(|| check_all(black_box(&film), &mut Rehearsals::default()));
}

/// Every shot was walked through before: what a change elsewhere costs.
#[divan::bench(args = FILMS)]
fn known_shots(bencher: Bencher<'_, '_>, (scenes, shots): (u64, u64)) {
    let film = film(scenes, shots);
    let mut rehearsals = Rehearsals::default();
    check_all(&film, &mut rehearsals);
    bencher
        .counter(ItemsCount::new(scenes * shots))
        .bench_local(|| check_all(black_box(&film), &mut rehearsals));
}

/// What mends the first jump cut of a scene of that many shots.
#[divan::bench(args = [20, 1000])]
fn mends_of_a_jump(bencher: Bencher<'_, '_>, shots: u64) {
    let film = film(1, shots);
    let scene = film.scenes.first().expect("a scene");
    let views = EntryView::of_cut(&film, scene, &mut Rehearsals::default());
    let found = check_cut(&film, scene, &views);
    let jump = found.iter().find(|placed| placed.finding.rule() == "jump_cut").expect("a jump cut");
    bencher.bench(|| {
        let mut fresh = film::FreshIds::starting_at(1 << 40);
        mends(black_box(&film), scene, &views, jump, &mut fresh)
    });
}
