//! How long the sheets of a film take: to see that printing waits for the browser and not for them.
#![expect(clippy::expect_used, reason = "a bench that cannot build its case must stop")]

use std::sync::Arc;

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use film::{
    DayPlan, Daylights, Film, FreshIds, Rehearsals, SceneId, SheetDay, SheetOrder, SheetPart, Sheets, ShotId,
    USUAL_STEP, demo_film,
};
use units::LengthUnit;

fn main() {
    divan::main();
}

/// The demo film's scenes again and again, until it has at least so many shots.
fn film_of(shots: usize) -> Film {
    let mut film = demo_film();
    let scenes = film.scenes.clone();
    let mut fresh = FreshIds::starting_at(10_000);
    let count = |film: &Film| film.scenes.iter().map(|scene| scene.shots.len()).sum::<usize>();
    for scene in scenes.iter().cycle() {
        if count(&film) >= shots {
            break;
        }
        let mut copy = scene.as_ref().clone();
        copy.id = fresh.fresh::<SceneId>();
        copy.cut.clear();
        for shot in &mut copy.shots {
            *shot = Arc::new(shot.known_by(fresh.fresh::<ShotId>()));
        }
        film.scenes.push(Arc::new(copy));
    }
    film
}

/// All sheets of a day, its order of work and its shots walked through already, as in a page that shows them.
#[divan::bench(args = [14, 60])]
fn all_sheets_of_a_day(bencher: Bencher<'_, '_>, shots: usize) {
    let film = film_of(shots);
    let day = film.days.first().expect("a day");
    let daylights = Daylights::new();
    let mut rehearsals = Rehearsals::default();
    let plan = DayPlan::of(&film, day, &daylights, &mut rehearsals);
    let sheets = Sheets {
        film: &film,
        day: Some(SheetDay { number: Some(1), day, plan: &plan, daylights: &daylights }),
        parts: &SheetPart::ALL,
        order: SheetOrder::Work,
        step: USUAL_STEP,
        unit: LengthUnit::Metres,
    };
    let picture = |shot: ShotId| Some(format!("blob:https://example.org/{}", shot.number()));
    bencher
        .counter(ItemsCount::new(sheets.shots().len()))
        .bench_local(|| black_box(&sheets).markup(&mut rehearsals, &picture).len());
}
