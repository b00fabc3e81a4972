//! Measures how fast the core and the page are on this machine, and ends in tables; nothing here can fail for being slow.
//!
//! The programs that measure tell their figures line by line (`figure`); what is made of them is here: ratios, growth,
//! tables.

mod core;
mod figure;
mod growth;
mod page;
mod table;

use std::fs;
use std::process::Command;

use anyhow::{Result, bail};

use crate::build::{self, Profile};
use crate::{install, process, workspace};
use figure::Figure;
use table::Table;

/// What to measure.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// Only the core's fine benches, and of them those whose name contains this.
    filter: Option<String>,
    /// Only this part.
    #[arg(long, conflicts_with = "filter")]
    only: Option<Part>,
    /// How long the page is used to see whether its memory grows, minutes.
    #[arg(long, default_value_t = 30.0)]
    minutes: f64,
    /// Measure the page that was built last.
    #[arg(long)]
    no_build: bool,
}

/// A part of what is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Part {
    /// Times of the core, natively and in wasm, and how they grow with ten times as much.
    Core,
    /// A first visit on a slow phone over a slow link, beside the link's own limit and a bare page.
    FirstLoad,
    /// From a tap, a drag or a key to the next painted frame, on every screen.
    Interactions,
    /// How long a drag keeps the main thread busy, beside a bare page.
    Drag,
    /// A long film opened and edited, and days put in order, at ten times the shots.
    Film,
    /// A lesson in a frame of somebody's own page.
    Frame,
    /// How soon the picture follows a change, and how soon it is good.
    Picture,
    /// Whether the page grows while it is used.
    Memory,
    /// The core's fine benches, which print tables of their own.
    Benches,
}

impl Part {
    const ALL: [Self; 9] = [
        Self::Benches,
        Self::Core,
        Self::FirstLoad,
        Self::Interactions,
        Self::Drag,
        Self::Film,
        Self::Frame,
        Self::Picture,
        Self::Memory,
    ];
}

/// Measures what is asked for, and prints its tables.
pub(crate) fn run(options: &Options) -> Result<()> {
    if options.filter.is_some() {
        return benches(options.filter.as_deref());
    }
    let parts: Vec<Part> =
        Part::ALL.into_iter().filter(|part| options.only.is_none_or(|only| only == *part)).collect();
    if parts.iter().any(|part| *part != Part::Benches) {
        install::browser()?;
        if !options.no_build {
            build::run(Profile::Page)?;
        }
    }
    let mut figures = Vec::new();
    let measured = parts.into_iter().try_for_each(|part| {
        println!("{}", load());
        figures.extend(of_part(part, options.minutes)?);
        Ok(())
    });
    // Half an hour's figures are not lost because the next part cannot be measured.
    for table in Table::all_of(figures) {
        println!("\n{table}");
    }
    println!("{}", load());
    measured
}

/// Measures one part; the page's memory for so many minutes.
fn of_part(part: Part, minutes: f64) -> Result<Vec<Figure>> {
    match part {
        Part::Benches => benches(None).map(|()| Vec::new()),
        Part::Core => core::measure(),
        Part::FirstLoad => page::first_load(),
        Part::Interactions => page::measure("interaction_speed", &[]),
        Part::Drag => page::measure("drag_speed", &[]),
        Part::Film => page::film(),
        Part::Frame => page::measure("frame_speed", &[]),
        Part::Picture => page::measure("picture_speed", &[]),
        Part::Memory => page::measure("memory", &["--minutes", &minutes.to_string()]),
    }
}

/// Runs the benches that print tables of their own.
fn benches(filter: Option<&str>) -> Result<()> {
    let metadata = workspace::metadata()?;
    let mut command = workspace::cargo();
    command.arg("bench");
    let mut found = false;
    // Those of the checks compare with programs that have to be installed, and the module's tell figures: others start them.
    let own = metadata
        .packages
        .iter()
        .filter(|package| !["checks", "tapemark-core"].contains(&package.name.as_str()));
    for package in own {
        // By name, because plain `cargo bench` would also start the unit tests of every library in bench mode.
        for target in package.targets.iter().filter(|target| target.kind.iter().any(|kind| kind == "bench")) {
            command.args(["--package", &package.name, "--bench", &target.name]);
            for feature in &target.required_features {
                command.args(["--features", &format!("{}/{feature}", package.name)]);
            }
            found = true;
        }
    }
    if !found {
        bail!("no package has a benchmark");
    }
    if let Some(filter) = filter {
        command.args(["--", filter]);
    }
    process::run(&mut command)
}

/// Starts a program that measures, and gathers the figures that it tells; whatever else it says is passed on.
fn figures_of(command: &mut Command) -> Result<Vec<Figure>> {
    let mut figures = Vec::new();
    process::each_line(command, |line| match Figure::read(line) {
        Some(figure) => {
            println!("  {}, {}, {}: {}", figure.table, figure.row, figure.column, figure.told());
            figures.push(figure);
        }
        None => println!("{line}"),
    })?;
    Ok(figures)
}

/// How busy the machine is, where it says so: times of a busy one are too long.
pub(crate) fn load() -> String {
    let means = fs::read_to_string("/proc/loadavg").unwrap_or_default();
    let means: Vec<&str> = means.split(' ').take(3).collect();
    if means.len() < 3 {
        String::new()
    } else {
        format!("Load of the machine over 1, 5 and 15 minutes: {}", means.join(" "))
    }
}
