//! The files as which a film is handed over, each with its name: the same from a terminal and from the page.

use std::iter;

use super::csv::{cut_csv, day_csv, shots_csv};
use super::fdl::{fdl, framing_id};
use super::ics::{DayCalendar, ics};
use super::name::plain_name;
use super::otio::otio;
use super::png::mattes;
use super::sheet::{PictureAddress, Sheets};
use super::takes::takes_csv;
use super::{ExportError, title};
use crate::day::ShootingDay;
use crate::day_plan::{DayPlan, Daylights};
use crate::film::Film;
use crate::rehearsal::Rehearsals;

/// A file to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HandedFile {
    /// Its name within its folder.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// Tables of the shots and of the cut, and of the takes where there are any.
///
/// # Errors
/// Only where a table cannot be written.
pub fn table_files(film: &Film, rehearsals: &mut Rehearsals) -> Result<Vec<HandedFile>, ExportError> {
    let mut tables = vec![("shots", shots_csv(film, rehearsals)?), ("cut", cut_csv(film)?)];
    if !film.takes.is_empty() {
        tables.push(("takes", takes_csv(film)?));
    }
    let title = title(film);
    let named = |(what, bytes)| HandedFile { name: format!("{title}-{what}.csv"), bytes };
    Ok(tables.into_iter().map(named).collect())
}

/// The cut as a timeline.
///
/// # Errors
/// Only where JSON cannot be written.
pub fn timeline_file(film: &Film, rehearsals: &mut Rehearsals) -> Result<HandedFile, ExportError> {
    Ok(HandedFile { name: format!("{}.otio", title(film)), bytes: otio(film, rehearsals)?.into_bytes() })
}

/// The framing as an ASC Framing Decision List.
///
/// # Errors
/// Only where JSON cannot be written.
pub fn framing_file(film: &Film) -> Result<HandedFile, ExportError> {
    let bytes = fdl(film, framing_id(film))?.into_bytes();
    Ok(HandedFile { name: format!("{}.fdl", title(film)), bytes })
}

/// A day's calendar; a day that is not the film's is called the first.
///
/// # Errors
/// Says so of a day without a date, and of times beyond any calendar.
pub fn calendar_file(of: &DayCalendar<'_>) -> Result<HandedFile, ExportError> {
    Ok(HandedFile { name: name_of_day(of.film, of.day, "ics"), bytes: ics(of)?.into_bytes() })
}

/// The table of a day's setups in the order of work; a day that is not the film's is called the first.
///
/// # Errors
/// Only where a table cannot be written.
pub fn day_table_file(
    film: &Film,
    day: &ShootingDay,
    plan: &DayPlan,
    daylights: &Daylights,
) -> Result<HandedFile, ExportError> {
    Ok(HandedFile { name: name_of_day(film, day, "csv"), bytes: day_csv(film, day, plan, daylights)? })
}

fn name_of_day(film: &Film, day: &ShootingDay, ending: &str) -> String {
    let at = film.days.iter().position(|one| one.id == day.id).unwrap_or(0);
    format!("{}-day-{}.{ending}", title(film), at + 1)
}

/// The crew's sheets as one file that opens in any browser: see [`Sheets::file`].
pub fn sheets_file(
    sheets: &Sheets<'_>,
    rehearsals: &mut Rehearsals,
    picture: &PictureAddress<'_>,
    style: &str,
) -> HandedFile {
    let bytes = sheets.file(rehearsals, picture, style).into_bytes();
    HandedFile { name: format!("{}.html", title(sheets.film)), bytes }
}

/// Mattes of the frame lines.
///
/// # Errors
/// Only where an image cannot be written.
pub fn matte_files(film: &Film) -> Result<Vec<HandedFile>, ExportError> {
    let title = title(film);
    let mut files: Vec<HandedFile> = Vec::new();
    for matte in mattes(film)? {
        let stem = format!("{title}-{}", plain_name(&matte.name));
        // Two modes may be called alike, and one as another with a number.
        let is_free = |name: &String| files.iter().all(|file| file.name != *name);
        let numbered = (2_usize..).map(|at| format!("{stem}-{at}.png"));
        let name = iter::once(format!("{stem}.png")).chain(numbered).find(is_free);
        files.extend(name.map(|name| HandedFile { name, bytes: matte.png }));
    }
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::TakeId;
    use crate::kit::KitRecording;
    use crate::preset::demo_film;
    use crate::take_log::LoggedTake;
    use std::sync::Arc;

    fn names(files: Vec<HandedFile>) -> Vec<String> {
        files.into_iter().map(|file| file.name).collect()
    }

    /// What the images of a film whose kit has modes of these names are called.
    fn images_of(modes: &[&str]) -> Vec<String> {
        let mut film = demo_film();
        "Film".clone_into(&mut Arc::make_mut(&mut film.facts).title);
        let mut kit = film.kit.as_ref().clone();
        let mode = kit.recordings[0].clone();
        let named = |name: &&str| KitRecording { name: (*name).to_owned(), ..mode.clone() };
        kit.recordings = modes.iter().map(named).collect();
        film.kit = Arc::new(kit);
        names(matte_files(&film).expect("drawn"))
    }

    #[test]
    fn images_of_modes_that_are_called_alike_have_names_of_their_own() {
        assert_eq!(images_of(&["4K", "4k", "4K"]), ["film-4k.png", "film-4k-2.png", "film-4k-3.png"]);
        assert_eq!(images_of(&["4K 2", "4K", "4K"]), ["film-4k-2.png", "film-4k.png", "film-4k-3.png"]);
    }

    #[test]
    fn a_mode_whose_name_begins_as_anothers_is_not_called_alike() {
        assert_eq!(images_of(&["4K 60", "4K"]), ["film-4k-60.png", "film-4k.png"]);
    }

    #[test]
    fn takes_have_a_table_once_there_are_any() {
        let mut film = demo_film();
        let tables = |film: &Film| names(table_files(film, &mut Rehearsals::default()).expect("written"));
        let without = ["the-biscuit-thief-shots.csv", "the-biscuit-thief-cut.csv"];
        assert_eq!(tables(&film), without);
        let take = LoggedTake::new(TakeId::new(1).expect("an id"), film.scenes[0].shots[0].id, 1);
        film.takes = [Arc::new(take)].into();
        assert_eq!(tables(&film)[2..], ["the-biscuit-thief-takes.csv"]);
    }
}
