//! The frame of a film's shot.

use film::{CutFinding, Film, NoRehearsal, OpenFilmError, Rehearsal, check_take, open_film};
use render::Picture;
use requests::{BadRequest, SetupAnswer};
use units::LengthUnit;

use crate::failure::Failure;
use crate::film_input::FilmFile;
use crate::input;
use crate::picture::{ToDraw, unframed};
use crate::shot_number::ShotNumber;

/// The frame of the film's shot of that number, `at_s` seconds into it as it plays.
pub(super) fn to_draw(file: &FilmFile<'_>, number: ShotNumber, at_s: f64) -> Result<ToDraw, Failure> {
    let film = film_from(file)?;
    let (scene, shot) = number.find(&film).ok_or_else(|| number.not_there(&film, "--shot"))?;
    if !(0.0..=shot.planned_s).contains(&at_s) {
        let message =
            format!("{at_s} s is not allowed: 0 to {} s, the shot's planned length", shot.planned_s);
        return Err(BadRequest::at("--at", message).into());
    }
    let rehearsal = Rehearsal::of(&film, scene, shot).map_err(|why| not_rehearsed(&film, why))?;
    let result = rehearsal.result();
    let (Ok(setup), Some(stage)) = (&result.outcome, rehearsal.stage(scene, &film.cast, at_s)) else {
        return Err(unframed(result));
    };
    let of_take = check_take(result, &rehearsal.taking(&film, shot));
    Ok(ToDraw {
        picture: Picture::of(&stage),
        aspect: setup.frame.aspect(),
        second: None,
        // What a setup request of it would be told.
        findings: SetupAnswer::of(result).with_take(&of_take).findings,
    })
}

/// Opens the film; where there is nothing of one, says how a request is drawn.
fn film_from(file: &FilmFile<'_>) -> Result<Film, Failure> {
    let opened = open_film(&input::read_film(file.name)?);
    if let Err(error @ OpenFilmError::NotAFilm) = &opened {
        let message = format!("{error}; leave --shot out if it is a setup request");
        return Err(Failure::NoFilm { file: file.name.to_owned(), message });
    }
    file.usable(opened)
}

/// What the film lacks for the shot, on one line.
fn not_rehearsed(film: &Film, why: NoRehearsal) -> Failure {
    let told = CutFinding::NotRehearsed(why).to_finding(film, LengthUnit::Metres);
    Failure::Unframed { message: format!("{}; {}", told.message, told.hint) }
}
