//! `tapemark schema`: JSON Schemas, for editors and for whoever writes these files with a program.

use film::{FilmRecord, KitRecord};
use requests::{CompareAnswer, SetupAnswer, SetupRequest};
use schemars::schema_for;

use crate::failure::Failure;
use crate::output;

/// Whose schema.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// Of what
    #[arg(value_enum, default_value = "kit")]
    of: Described,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Described {
    /// A kit file
    Kit,
    /// A film file
    Film,
    /// What `setup` reads
    SetupRequest,
    /// What `setup --json` prints
    SetupAnswer,
    /// What `compare --json` prints
    CompareAnswer,
}

/// The schema, as text to print.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    output::json(&match options.of {
        Described::Kit => schema_for!(KitRecord),
        Described::Film => schema_for!(FilmRecord),
        Described::SetupRequest => schema_for!(SetupRequest),
        Described::SetupAnswer => schema_for!(SetupAnswer),
        Described::CompareAnswer => schema_for!(CompareAnswer),
    })
}
