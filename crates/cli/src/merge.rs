//! `tapemark merge`: two copies of a film that were worked on apart become one.

mod answer;

use std::io;
use std::path::Path;

use film::{Film, Merge, MergeChoices, write_film};
use requests::BadRequest;

use crate::failure::Failure;
use crate::files::write;
use crate::film_input::FilmFile;
use crate::merge::answer::Merging;
use crate::output::{self, Answer};

/// Which films, and what becomes of them.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// The film that is added to: a JSON file, or - for standard input
    #[arg(value_name = "MINE.json")]
    mine: String,
    /// The other copy of it: a JSON file, or - for standard input
    #[arg(value_name = "THEIRS.json")]
    theirs: String,
    #[command(flatten)]
    write: Writing,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    json: bool,
    /// Go on with what can be saved of a damaged file, and tell the rest on standard error
    #[arg(long)]
    anyway: bool,
}

/// Where the merged film goes, and how.
#[derive(Debug, clap::Args)]
struct Writing {
    /// Write the merged film to this file; what differs is as in MINE.json
    #[arg(long, value_name = "FILE.json")]
    out: Option<String>,
    /// What differs is as in THEIRS.json in the film that is written
    #[arg(long = "theirs", id = "take_theirs", requires = "out")]
    take_theirs: bool,
    /// Overwrite the file if it is there already
    #[arg(long, requires = "out")]
    force: bool,
}

/// What `merge` reads, prints and writes.
pub(crate) const HELP: &str = "\
Things are known by their ids, those of the kit by their names. What only THEIRS.json has is added: takes, shots with their \
entries of the cut, people, places, days, scenes, things of the kit, and what is ticked off, such as shots in the can. Scenes \
and shots are added behind those of MINE.json, which keep their numbers. What only MINE.json has stays. What both have and \
not alike is told, field by field, and stays as in MINE.json unless --theirs is given. Names and coordinates that were left \
out of a link count as not said, and replace nothing.

With --json: {title, adds: [{part, what}], differences: [{part, what, fields: [{name, mine, theirs}]}], only_mine, written}; \
part is {kind, id}, where id is null for what a film has once; only_mine counts the people, places, days, scenes, shots and \
takes that THEIRS.json lacks; written is the file, or null.

Exit 0 if nothing differs or --theirs is given, 1 if something differs. Files that share neither a scene nor a shot are two \
films: that exits 2 with one line on standard error, as do a file that is no film, which is refused as by `tapemark check`, \
and a file to write that is there already, unless --force is given; nothing is written then.";

/// The answer; the merged film is written if that is asked for.
pub(crate) fn run(options: &Options) -> Result<Answer, Failure> {
    if options.mine == "-" && options.theirs == "-" {
        let message = "standard input holds one film, and MINE.json is read from it";
        return Err(BadRequest::at("THEIRS.json", message).into());
    }
    let opened = |name: &str| FilmFile { name, anyway: options.anyway }.open();
    let (mine, theirs) = (opened(&options.mine)?, opened(&options.theirs)?);
    let merge = Merge::of(&mine, &theirs);
    if !merge.is_of_one_film() {
        let message = format!("is no copy of {}: they share neither a scene nor a shot", options.mine);
        return Err(Failure::NoFilm { file: options.theirs.clone(), message });
    }
    let Writing { out, take_theirs, force } = &options.write;
    let choices = if *take_theirs { merge.all_theirs() } else { MergeChoices::default() };
    let title = mine.facts.called().to_owned();
    if let Some(file) = out {
        let merged = merged(mine, &merge, &choices)?;
        write(Path::new(file), write_film(&merged).as_bytes(), *force)?;
    }
    let merging = Merging::of(&title, &merge, out.as_deref());
    let text = if options.json { output::json(&merging)? } else { merging.told(*take_theirs) };
    Ok(Answer { text, has_findings: !take_theirs && !merge.differences().is_empty() })
}

fn merged(mut mine: Film, merge: &Merge, choices: &MergeChoices) -> Result<Film, Failure> {
    mine.apply(merge.command(choices)).map_err(|error| Failure::Unwritable(io::Error::other(error)))?;
    Ok(mine)
}
