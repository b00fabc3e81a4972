//! Tapemark in a terminal: which lens, where to stand, what the frame holds.
//!
//! # Conventions
//! - Answers go to standard output, for people or, with `--json`, for programs.
//! - What was given wrongly is told on one line of standard error, and the exit is 2; nothing is on standard output then.
//! - A framing that cannot be had is an answer: the exit is 0.
//! - A film with findings that warn or fail is an answer too: the exit is 1.

mod check;
mod compare;
mod day;
mod export;
mod exposure;
mod failure;
mod figures;
mod files;
mod film_input;
mod film_lines;
mod frame_lines;
mod help;
mod input;
mod kit;
mod light;
mod link;
mod measure;
mod merge;
mod output;
mod picture;
mod schema;
mod setup;
mod shooting_day;
mod shot_number;
mod shots;
mod sun;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::output::Answer;

/// Which lens, where to stand, what the frame holds: for films made on a phone.
#[derive(Debug, Parser)]
#[command(name = "tapemark", version)]
struct Commands {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Resolve one shot on one lens: where the phone stands, how it aims, what is sharp.
    #[command(after_long_help = setup::help())]
    Setup(setup::Options),
    /// Try one shot on every lens of a kit, with and without its adapters.
    #[command(after_long_help = compare::HELP)]
    Compare(compare::Options),
    /// Draw what the frame will look like, through the lens as it is, and write it as a PNG.
    #[command(after_long_help = picture::HELP)]
    Picture(picture::Options),
    /// Whether the shots in a film's cuts can be had and will cut together. Exit 1 if something asks for a look.
    #[command(after_long_help = check::HELP)]
    Check(film_input::Options),
    /// A film's shots, each with its lens and where the phone stands. Exit 1 as for check.
    #[command(after_long_help = shots::HELP)]
    Shots(film_input::Options),
    /// A day of shooting: the sun, and what each setup is set to, scene by scene. Exit 1 if something asks for a look.
    #[command(after_long_help = light::help())]
    Light(light::Options),
    /// The order of work of a day of shooting, or of what is left of it. Exit 1 if a must-have is missed.
    #[command(after_long_help = day::help())]
    Day(day::Options),
    /// Hand a film over: tables, a timeline of its cut, its framing, a calendar of a day, mattes of its frame lines.
    #[command(after_long_help = export::HELP)]
    Export(export::Options),
    /// A film as the text of a link, which no server sees.
    #[command(after_long_help = link::HELP)]
    Link(link::Options),
    /// What comes of two copies of a film that were worked on apart. Exit 1 if something differs.
    #[command(after_long_help = merge::HELP)]
    Merge(merge::Options),
    /// How much light is too much, which filters take it, and whether lamps will flicker.
    #[command(after_long_help = exposure::help())]
    Exposure(exposure::Options),
    /// What a lens really sees in the mode it will shoot, from frames of something of known width.
    #[command(after_long_help = measure::help())]
    Measure(measure::Options),
    /// Where the sun is at a moment, or when it rises and sets on a day.
    #[command(after_long_help = sun::help())]
    Sun(sun::Options),
    /// What a kit is made of.
    #[command(subcommand)]
    Kit(kit::Command),
    /// Print the JSON Schema of a file or an answer.
    Schema(schema::Options),
}

fn main() -> ExitCode {
    let outcome = match Commands::parse().command {
        Command::Setup(options) => setup::run(&options).map(Answer::from),
        Command::Compare(options) => compare::run(&options).map(Answer::from),
        Command::Picture(options) => picture::run(&options).map(Answer::from),
        Command::Check(options) => check::run(&options),
        Command::Shots(options) => shots::run(&options),
        Command::Light(options) => light::run(&options),
        Command::Day(options) => day::run(&options),
        Command::Export(options) => export::run(&options).map(Answer::from),
        Command::Link(options) => link::run(&options).map(Answer::from),
        Command::Merge(options) => merge::run(&options),
        Command::Exposure(options) => exposure::run(&options).map(Answer::from),
        Command::Measure(options) => measure::run(&options).map(Answer::from),
        Command::Sun(options) => sun::run(&options).map(Answer::from),
        Command::Kit(command) => kit::run(&command).map(Answer::from),
        Command::Schema(options) => schema::run(&options).map(Answer::from),
    };
    let failure = match outcome.and_then(|answer| output::print(&answer.text).map(|()| answer.has_findings)) {
        Ok(false) => return ExitCode::SUCCESS,
        Ok(true) => return ExitCode::FAILURE,
        Err(failure) => failure,
    };
    output::tell(&failure.to_string());
    failure.exit_code()
}
