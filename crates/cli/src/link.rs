//! `tapemark link`: a film as the text of a link, which no server sees.

use film::{LinkContents, film_link};

use crate::failure::Failure;
use crate::film_input::FilmFile;

/// Which film, and what of it.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A film's JSON file, or - for standard input
    #[arg(value_name = "FILM.json")]
    film: String,
    /// With what the cast is called; everybody is Person 1, Person 2 and so on without
    #[arg(long)]
    names: bool,
    /// With where on earth places are, their time zones and horizons
    #[arg(long)]
    coordinates: bool,
    /// Go on with what can be saved of a damaged file, and tell the rest on standard error
    #[arg(long)]
    anyway: bool,
}

/// What `link` prints.
pub(crate) const HELP: &str = "\
Prints what stands after the # of a link that holds the film: browsers send it to no server. Put it behind the page's \
address and a #. The film is its JSON, compressed; notes, actions, titles and what places are called go as they are \
written, whatever names they hold.

A link has at most 30000 characters, as longer ones may be cut off on their way: a film that needs more exits 2 with one \
line on standard error, and is passed on as its file. A file that is no film is refused as by `tapemark check`.";

/// The text.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let file = FilmFile { name: &options.film, anyway: options.anyway };
    let film = file.open()?;
    let contents = LinkContents { names: options.names, coordinates: options.coordinates };
    let link = film_link(&film, contents);
    let link =
        link.map_err(|long| Failure::NoFilm { file: file.name.to_owned(), message: long.to_string() })?;
    Ok(link + "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_help_tells_the_limit() {
        assert!(HELP.contains(&format!("at most {} characters", film::LONGEST_LINK)));
    }
}
