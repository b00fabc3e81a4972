//! A film from a file.

use film::{
    EntryView, Film, OpenFilmError, OpenedFilm, PlacedFinding, Rehearsals, Scene, Severity, open_film,
};

use crate::failure::Failure;
use crate::{input, output};

/// Which film to look at, and how.
#[derive(Debug, clap::Args)]
#[group(skip)]
pub(crate) struct Options {
    /// A film's JSON file, or - for standard input
    #[arg(value_name = "FILM.json")]
    film: String,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    pub(crate) json: bool,
    /// Go on with what can be saved of a damaged file, and tell the rest on standard error
    #[arg(long)]
    anyway: bool,
}

/// A film's file.
#[derive(Debug)]
pub(crate) struct FilmFile<'given> {
    /// Its name as given.
    pub(crate) name: &'given str,
    /// Whether to go on if it is damaged.
    pub(crate) anyway: bool,
}

impl Options {
    /// Opens the film.
    pub(crate) fn open(&self) -> Result<Film, Failure> {
        FilmFile { name: &self.film, anyway: self.anyway }.open()
    }
}

impl FilmFile<'_> {
    /// Opens the film in it.
    pub(crate) fn open(&self) -> Result<Film, Failure> {
        self.usable(open_film(&input::read_film(self.name)?))
    }

    /// The film that was opened from it; one that is damaged only anyway, and then what is wrong with it is told.
    pub(crate) fn usable(&self, opened: Result<OpenedFilm, OpenFilmError>) -> Result<Film, Failure> {
        let no_film = |message| Failure::NoFilm { file: self.name.to_owned(), message };
        let OpenedFilm { film, problems } = opened.map_err(|error| no_film(error.to_string()))?;
        let Some(first) = problems.first() else { return Ok(film) };
        if self.anyway {
            for problem in &problems {
                output::tell(&format!("{}: {problem}", self.name));
            }
            return Ok(film);
        }
        let more =
            if problems.len() == 1 { String::new() } else { format!(" (and {} more)", problems.len() - 1) };
        Err(no_film(format!("{first}{more}; --anyway goes on with what can be saved")))
    }
}

/// A scene's findings that are not kept anyway.
pub(crate) fn open_findings(film: &Film, scene: &Scene, rehearsals: &mut Rehearsals) -> Vec<PlacedFinding> {
    let views = EntryView::of_cut(film, scene, rehearsals);
    film::sort_findings(scene, film::check_cut(film, scene, &views)).open
}

/// Whether a finding is more than worth knowing: such a one asks for something.
pub(crate) fn asks(placed: &PlacedFinding) -> bool {
    placed.finding.severity() != Severity::Notes
}
