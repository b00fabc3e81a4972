//! `tapemark kit`: kits that come with the program, and lenses read from photos and clips.

use std::fs::File;
use std::io::{self, Read as _, Seek as _, SeekFrom};
use std::path::{Path, PathBuf};

use film::{
    KIT_FORMAT_VERSION, KitRecord, LensRecord, PartialFile, PhotoFacts, Progress, lens_from_photo,
    lens_record, read_photo_in_parts,
};

use crate::failure::Failure;
use crate::output;

/// What a kit is made of.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    /// Read lenses from photos (JPEG, HEIC) and clips (MOV, MP4), one taken with each lens
    FromPhoto(FromPhoto),
    /// Print the kits that come with the program: typical values, to start from
    Presets(Presets),
}

/// Which files.
#[derive(Debug, clap::Args)]
pub(crate) struct FromPhoto {
    /// Photos and clips as the phone wrote them
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// Print a kit file
    #[arg(long)]
    json: bool,
}

/// Which form.
#[derive(Debug, clap::Args)]
pub(crate) struct Presets {
    /// Print a list of kit files' contents
    #[arg(long)]
    json: bool,
}

/// The answer, as text to print.
pub(crate) fn run(command: &Command) -> Result<String, Failure> {
    match command {
        Command::FromPhoto(options) => from_photo(options),
        Command::Presets(Presets { json: true }) => output::json(&film::kits()),
        Command::Presets(Presets { json: false }) => {
            Ok(film::kits().iter().map(told).collect::<Vec<_>>().join("\n"))
        }
    }
}

/// A kit of the lenses that the files tell of. A file that tells of none is told on standard error.
fn from_photo(options: &FromPhoto) -> Result<String, Failure> {
    let mut lenses: Vec<LensRecord> = Vec::new();
    let mut sources = Vec::new();
    let mut refusals = Vec::new();
    for path in &options.files {
        match read_lens(path) {
            Ok(mut lens) => {
                let name = short_name(path);
                // Two lenses of one name could not be told apart by adapters and measured views.
                if lenses.iter().any(|other| other.name == lens.name) {
                    lens.name = lens.name.map(|usual| format!("{usual} ({name})"));
                }
                sources.push(name);
                lenses.push(lens);
            }
            Err(message) => refusals.push(format!("{}: {message}", path.display())),
        }
    }
    if lenses.is_empty() {
        return Err(Failure::NoLens { message: refusals.join("; ") });
    }
    for refusal in &refusals {
        output::tell(refusal);
    }
    let kit = KitRecord {
        format_version: KIT_FORMAT_VERSION,
        name: None,
        source: Some(format!("read from {}", sources.join(", "))),
        camera_app: None,
        lenses,
        recordings: Vec::new(),
        adapters: Vec::new(),
        filters: Vec::new(),
        views: Vec::new(),
        exposure_times_s: Vec::new(),
    };
    if options.json { output::json(&kit) } else { Ok(told(&kit)) }
}

/// The lens that a file tells of, or why it tells of none.
fn read_lens(path: &Path) -> Result<LensRecord, String> {
    let facts = read_facts(path)?;
    let lens = lens_record(&facts);
    if let Err(error) = lens_from_photo(&facts) {
        // The equivalent alone still gives the field of view, if it is a whole photo's.
        let by_equivalent =
            facts.focal_length_mm.is_none() && !facts.kind.is_clip() && lens.to_lens().is_ok();
        if !by_equivalent {
            return Err(facts.missing_notice().unwrap_or_else(|| error.to_string()));
        }
    }
    let name = lens.focal_length_35mm_equivalent_mm.map(equivalent_name);
    Ok(LensRecord { name, ..lens })
}

/// Reads what describes the file and no more: a clip may be larger than memory.
fn read_facts(path: &Path) -> Result<PhotoFacts, String> {
    let cannot = |error: io::Error| format!("cannot be read: {error}");
    let mut file = File::open(path).map_err(cannot)?;
    let mut known = PartialFile::new(file.metadata().map_err(cannot)?.len());
    loop {
        match read_photo_in_parts(&known) {
            Ok(Progress::Done(facts)) => return Ok(facts),
            Ok(Progress::Wants(range)) => {
                let mut bytes = Vec::new();
                file.seek(SeekFrom::Start(range.start)).map_err(cannot)?;
                file.by_ref().take(range.end - range.start).read_to_end(&mut bytes).map_err(cannot)?;
                known.fill(range, bytes);
            }
            Err(error) => return Err(error.to_string()),
        }
    }
}

/// What to call a lens of which nothing but its optics is known.
fn equivalent_name(equivalent_mm: f64) -> String {
    format!("{equivalent_mm:.0} mm")
}

fn short_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// A kit for people: its lenses and modes, one a line.
fn told(kit: &KitRecord) -> String {
    let name = kit.name.as_deref().unwrap_or("Lenses").to_owned();
    let modes = kit.recordings.iter().map(|mode| {
        format!("  {}: {} x {} px", mode.name.as_deref().unwrap_or("mode"), mode.width_px, mode.height_px)
    });
    let source = kit.source.iter().map(|source| format!("  ({source})"));
    let lines = std::iter::once(name).chain(kit.lenses.iter().map(told_lens)).chain(modes).chain(source);
    lines.map(|line| line + "\n").collect()
}

/// A lens for people: what is known of it.
fn told_lens(lens: &LensRecord) -> String {
    let sides = lens.sensor_width_mm.zip(lens.sensor_height_mm);
    let parts = [
        lens.focal_length_mm.map(|mm| format!("{mm} mm")),
        lens.f_number.map(|number| format!("f/{number}")),
        lens.focal_length_35mm_equivalent_mm.map(|mm| format!("equivalent {mm:.1} mm")),
        sides.map(|(width, height)| format!("sensor {width:.2} x {height:.2} mm")),
        lens.closest_focus_m.map(|metres| format!("focuses from {metres} m")),
    ];
    let parts: Vec<_> = parts.into_iter().flatten().collect();
    format!("  {}: {}", lens.name.as_deref().unwrap_or("lens"), parts.join(", "))
}
