//! What is timed alike natively and in wasm, and how: the very cases of the core's own benches.

#[path = "../../../requests/benches/setup/asked.rs"]
mod asked;
#[path = "../../../film/benches/findings/conversations.rs"]
mod conversations;
#[path = "../../../film/benches/order/full_day.rs"]
mod full_day;
#[path = "../../../render/benches/picture/two_people.rs"]
mod two_people;

use std::hint::black_box;
use std::sync::Arc;

use film::{Merge, Rehearsals, ShotResult, open_film, write_film};
use render::{Size, Tracer};

/// Something timed.
pub(crate) struct Case {
    pub(crate) row: &'static str,
    /// How many shots, setups or things it is about, where its growth is asked for.
    pub(crate) size: Option<u32>,
    make: Make,
}

/// Makes ready, at a size, what does it once.
type Make = fn(u32) -> Box<dyn FnMut()>;

const FULL: Size = Size { width: 960, height: 540 };
/// Samples that are taken together; times are told of one.
const TOGETHER: u32 = 4;

/// Every case: those of one size, then those that are asked how they grow.
pub(crate) fn cases() -> Vec<Case> {
    let one = |row, make: Make| Case { row, size: None, make };
    let mut cases = vec![
        one("one setup, its figures and findings", |_| setup()),
        one("a kit of sixteen compared", |_| comparison()),
        one("findings of 10,000 shots", |_| findings(10_000, 20)),
        one("the order of 10 setups", |_| order(10)),
        one("the order of 40 setups", |_| order(40)),
        one("a picture, four samples at 960 x 540", |_| picture(1)),
    ];
    let grows: [(&str, &[u32], Make); 7] = [
        ("findings, scenes of ten shots", &[10, 100, 1000, 10_000], |shots| findings(shots, 10)),
        ("findings, one scene", &[10, 100, 1000, 10_000], |shots| findings(shots, shots)),
        ("findings after a change elsewhere", &[10, 100, 1000, 10_000], known),
        ("a film written and read", &[10, 100, 1000, 10_000], file),
        ("two copies put side by side", &[10, 100, 1000, 10_000], merge),
        ("the order of a day", &[10, 100], order),
        ("a picture of so many things", &[10, 100, 1000], |things| picture(things / 10)),
    ];
    for (row, sizes, make) in grows {
        cases.extend(sizes.iter().map(|size| Case { row, size: Some(*size), make }));
    }
    cases
}

impl Case {
    /// How long it takes, milliseconds: the median of several goes, each long enough for the clock.
    pub(crate) fn time(&self, now_ms: impl Fn() -> f64) -> f64 {
        const GO_MS: f64 = 20.0;
        const GOES: usize = 9;
        /// However long one takes, it is not all done again after this.
        const MOST_MS: f64 = 2000.0;
        let mut run = (self.make)(self.size.unwrap_or(1));
        run();
        let begun = now_ms();
        let mut times = Vec::new();
        let mut count = 1_u32;
        while times.len() < GOES && (times.is_empty() || now_ms() - begun < MOST_MS) {
            let start = now_ms();
            (0..count).for_each(|_| run());
            let took = now_ms() - start;
            if took < GO_MS && count < 1 << 20 {
                count *= 2;
            } else {
                times.push(took / f64::from(count));
            }
        }
        times.sort_by(f64::total_cmp);
        times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
    }

    /// The table that it stands in, and the column.
    pub(crate) fn place(&self, target: &str) -> (String, String) {
        match self.size {
            None => ("The core".to_owned(), target.to_owned()),
            Some(size) => (format!("Growth, {target}"), size.to_string()),
        }
    }
}

fn setup() -> Box<dyn FnMut()> {
    let (shot, around) = asked::shot(|_| {});
    Box::new(move || {
        black_box(ShotResult::of(black_box(shot), black_box(&around)));
    })
}

fn comparison() -> Box<dyn FnMut()> {
    let kit = asked::kit_of_eight();
    let (shot, around) = asked::shot(|_| {});
    Box::new(move || {
        let recording = kit.recordings.first().expect("the kit has a mode");
        black_box(film::compare(black_box(&kit), recording, black_box(&shot), &around));
    })
}

/// Every shot walked through and every cut checked, from nothing.
fn findings(shots: u32, a_scene: u32) -> Box<dyn FnMut()> {
    let film = conversations::film(u64::from(shots / a_scene), u64::from(a_scene));
    Box::new(move || {
        black_box(conversations::check_all(black_box(&film), &mut Rehearsals::default()));
    })
}

/// The same when every shot was walked through before.
fn known(shots: u32) -> Box<dyn FnMut()> {
    let film = conversations::film(u64::from(shots / 10), 10);
    let mut rehearsals = Rehearsals::default();
    Box::new(move || {
        black_box(conversations::check_all(black_box(&film), &mut rehearsals));
    })
}

fn file(shots: u32) -> Box<dyn FnMut()> {
    let film = conversations::film(u64::from(shots / 10), 10);
    Box::new(move || {
        let written = write_film(black_box(&film));
        black_box(open_film(written.as_bytes()).expect("it was just written"));
    })
}

/// Two copies that differ in their title alone: what every look at a copy that came back costs.
fn merge(shots: u32) -> Box<dyn FnMut()> {
    let mine = conversations::film(u64::from(shots / 10), 10);
    let mut theirs = mine.clone();
    "Theirs".clone_into(&mut Arc::make_mut(&mut theirs.facts).title);
    Box::new(move || {
        black_box(Merge::of(black_box(&mine), black_box(&theirs)));
    })
}

/// A day that has about room for its setups.
fn order(setups: u32) -> Box<dyn FnMut()> {
    let day = full_day::day(setups, 400.0 / f64::from(setups));
    Box::new(move || {
        black_box(black_box(&day).order());
    })
}

/// One sample of every pixel, four together.
fn picture(times: u32) -> Box<dyn FnMut()> {
    let tracer = Tracer::new(&two_people::picture(times), FULL);
    let mut strips: Vec<_> = (0..tracer.strips()).map(|index| tracer.strip(index)).collect();
    Box::new(move || {
        for strip in &mut strips {
            tracer.trace(black_box(strip), TOGETHER);
        }
    })
}
