//! The crew's sheets as one file for a browser, with the pictures drawn here.

use std::collections::BTreeMap;

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD;
use film::{
    DayPlan, Film, HandedFile, Rehearsals, SheetDay, SheetOrder, SheetPart, Sheets, ShotId, USUAL_STEP,
    sheets_file,
};
use render::{Picture, Size, Tracer};
use units::LengthUnit;

use super::{Options, Order};
use crate::failure::Failure;
use crate::picture;
use crate::shooting_day::ChosenDay;

/// The looks of the sheets, which the page shares.
const STYLE: &str = include_str!("../../../../web/print/print.css");

/// How wide a picture is, pixels: chosen, as it is printed 66 mm wide at most, and as many of them go into one file.
const WIDTH_PX: u32 = 480;
/// Samples a pixel: chosen, as what grain is left is finer than what a printer shows.
const SAMPLES: u32 = 64;

/// The file of a film's sheets, for a day where the film plans one.
pub(super) fn file(film: Film, options: &Options) -> Result<HandedFile, Failure> {
    let mut rehearsals = Rehearsals::default();
    let has_day = options.day.is_some() || !film.days.is_empty();
    let (film, chosen) = if has_day {
        let chosen = ChosenDay::of(film, options.day, None)?;
        (chosen.film.clone(), Some(chosen))
    } else {
        (film, None)
    };
    let plan =
        chosen.as_ref().map(|chosen| DayPlan::of(&film, &chosen.day, &chosen.daylights, &mut rehearsals));
    let day = chosen.as_ref().zip(plan.as_ref()).map(|(chosen, plan)| SheetDay {
        number: chosen.number,
        day: &chosen.day,
        plan,
        daylights: &chosen.daylights,
    });
    let sheets = Sheets {
        film: &film,
        day,
        parts: &SheetPart::ALL,
        order: match options.order {
            Order::Story => SheetOrder::Story,
            Order::Work => SheetOrder::Work,
        },
        step: USUAL_STEP,
        unit: LengthUnit::Metres,
    };
    let pictures = if options.without_pictures {
        BTreeMap::new()
    } else {
        pictures(&film, &sheets.shots(), &mut rehearsals)?
    };
    Ok(sheets_file(&sheets, &mut rehearsals, &|shot| pictures.get(&shot).cloned(), STYLE))
}

/// The pictures of shots that can be made, as they start, each as an address that holds it.
fn pictures(
    film: &Film,
    shots: &[ShotId],
    rehearsals: &mut Rehearsals,
) -> Result<BTreeMap<ShotId, String>, Failure> {
    let mut drawn = BTreeMap::new();
    for (scene, shot) in shots.iter().filter_map(|shot| film.shot(*shot)) {
        let rehearsal = rehearsals.of(film, scene, shot);
        let Ok(made) = rehearsal.as_ref() else { continue };
        let (Ok(setup), Some(stage)) = (&made.result().outcome, made.stage(scene, &film.cast, 0.0)) else {
            continue;
        };
        let height = picture::rounded(f64::from(WIDTH_PX) / setup.frame.aspect());
        let size = Size { width: WIDTH_PX, height };
        let tracer = Tracer::new(&Picture::of(&stage), size);
        let (rgba, _) = picture::draw(&tracer, SAMPLES, picture::cores());
        let mut png = Vec::new();
        picture::encode(&mut png, size, &rgba).map_err(Failure::Unwritable)?;
        drawn.insert(shot.id, format!("data:image/png;base64,{}", BASE64_STANDARD.encode(&png)));
    }
    Ok(drawn)
}
