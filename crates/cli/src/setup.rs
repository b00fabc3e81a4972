//! `tapemark setup`: one shot on one lens.

use film::{Telling, USUAL_STEP, sentence};
use requests::{SetupRequest, resolve};
use units::LengthUnit;

use crate::failure::Failure;
use crate::{figures, input, output};

/// What to resolve.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A JSON file that says the shot, or - for standard input
    #[arg(value_name = "REQUEST.json")]
    request: String,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    json: bool,
}

/// The answer, as text to print.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let request: SetupRequest = input::read_json(&options.request)?;
    let (result, answer) = (resolve(&request)?, requests::setup(&request)?);
    if options.json {
        return output::json(&answer);
    }
    let adapter = request
        .adapter
        .as_ref()
        .map(|adapter| adapter.name.clone().unwrap_or_else(|| format!("{}x", adapter.squeeze)));
    let telling = Telling {
        lens: request.lens.as_ref().and_then(|lens| lens.name.as_deref()).unwrap_or("this"),
        adapter: adapter.as_deref(),
        step: USUAL_STEP,
        unit: LengthUnit::Metres,
    };
    let mut text = sentence(&telling, &result);
    text.push_str("\n\n");
    text.push_str(&figures::block(&answer));
    text.push_str(&figures::findings(&answer.findings));
    Ok(text)
}
