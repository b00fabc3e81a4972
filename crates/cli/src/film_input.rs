//! A film from a file.

use film::{EntryView, Film, OpenedFilm, PlacedFinding, Rehearsals, Scene, Severity, open_film};

use crate::failure::Failure;
use crate::{input, output};

/// Which film to look at, and how.
#[derive(Debug, clap::Args)]
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

impl Options {
    /// Opens the film.
    pub(crate) fn open(&self) -> Result<Film, Failure> {
        let bytes = input::read_film(&self.film)?;
        let opened = open_film(&bytes)
            .map_err(|error| Failure::NoFilm { file: self.film.clone(), message: error.to_string() })?;
        let OpenedFilm { film, problems } = opened;
        let Some(first) = problems.first() else { return Ok(film) };
        if self.anyway {
            for problem in &problems {
                output::tell(&format!("{}: {problem}", self.film));
            }
            return Ok(film);
        }
        let more =
            if problems.len() == 1 { String::new() } else { format!(" (and {} more)", problems.len() - 1) };
        let message = format!("{first}{more}; --anyway goes on with what can be saved");
        Err(Failure::NoFilm { file: self.film.clone(), message })
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
