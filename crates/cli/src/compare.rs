//! `tapemark compare`: one shot on every lens of a kit.

use film::KitRecord;
use requests::{CareRequest, CompareAnswer, ComparedLens, SetupRequest};

use crate::failure::Failure;
use crate::figures::columns;
use crate::{input, output};

/// What to compare.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A JSON file of lenses, recording modes, adapters and filters, or - for standard input
    #[arg(value_name = "KIT.json")]
    kit: String,
    /// A JSON file that says the shot, or - for standard input; its lens is not used
    #[arg(value_name = "REQUEST.json")]
    request: String,
    /// Print the answer as JSON, for programs
    #[arg(long)]
    json: bool,
    /// Put what will do first, and among that what serves this best
    #[arg(long, value_enum)]
    sort: Option<Care>,
}

/// What people care about most when choosing a lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
#[value(rename_all = "snake_case")]
enum Care {
    /// A face that nearness does not stretch
    NaturalFace,
    /// A background as soft as can be
    SoftBackground,
    /// As much of the place as can be
    MostPlace,
    /// As little room as can be
    LeastDistance,
}

impl From<Care> for CareRequest {
    fn from(care: Care) -> Self {
        match care {
            Care::NaturalFace => Self::NaturalFace,
            Care::SoftBackground => Self::SoftBackground,
            Care::MostPlace => Self::MostPlace,
            Care::LeastDistance => Self::LeastDistance,
        }
    }
}

/// What `compare` reads and prints.
pub(crate) const HELP: &str = "\
The kit's JSON Schema is printed by `tapemark schema kit`; kits to start from by `tapemark kit presets --json`.
The request is that of `tapemark setup`. Its lens is not used; without a recording the kit's first is; its adapter
stands in where the kit has none.

With --json: {recording, lenses: [{lens, in_sensor_zoom, adapter, will_do, reason, setup}]}, where setup is what
`tapemark setup --json` prints. Bad input is told as there; a field of the kit is named kit.FIELD.";

/// The answer, as text to print.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    let kit: KitRecord = input::read_json(&options.kit).map_err(in_kit)?;
    let request: SetupRequest = input::read_json(&options.request)?;
    let answer = requests::compare(&kit, &request, options.sort.map(CareRequest::from))?;
    if options.json { output::json(&answer) } else { Ok(table(&answer)) }
}

/// A field of the kit is told as one, because two files are read.
fn in_kit(failure: Failure) -> Failure {
    if let Failure::Request(bad) = failure { bad.within("kit").into() } else { failure }
}

/// One line a lens, under headings.
fn table(answer: &CompareAnswer) -> String {
    const HEADINGS: [&str; 6] = ["lens", "distance", "sharp", "background blur", "face", "will it do"];
    let rows: Vec<[String; 6]> =
        std::iter::once(HEADINGS.map(str::to_owned)).chain(answer.lenses.iter().map(cells)).collect();
    let lines = columns(&rows).into_iter().map(|line| format!("  {line}").trim_end().to_owned() + "\n");
    format!("Recorded in {}:\n\n", answer.recording) + &lines.collect::<String>()
}

/// What there is to say about one lens.
fn cells(row: &ComparedLens) -> [String; 6] {
    let setup = &row.setup;
    let unknown = || "-".to_owned();
    let mut lens = row.lens.clone();
    if row.in_sensor_zoom > 1.0 {
        lens = format!("{lens} at {}x", row.in_sensor_zoom);
    }
    if let Some(adapter) = &row.adapter {
        lens = format!("{lens} with {adapter}");
    }
    let sharp = setup.near_m.map(|near| match setup.far_m {
        Some(far) => format!("{near:.2} to {far:.2} m"),
        None => format!("from {near:.2} m"),
    });
    [
        lens,
        setup.distance_m.map_or_else(unknown, |metres| format!("{metres:.2} m")),
        sharp.unwrap_or_else(unknown),
        setup.background_blur_share.map_or_else(unknown, |share| format!("{:.2} %", share * 100.0)),
        setup.face_stretch_share.map_or_else(unknown, |share| format!("+{:.0} %", share * 100.0)),
        row.reason.as_ref().map_or_else(|| "yes".to_owned(), |reason| format!("no: {reason}")),
    ]
}
