//! `tapemark export`: a film handed over to the edit, to calendars and to tables, as files.

mod sheets;

use std::io;
use std::num::NonZero;
use std::time::{SystemTime, UNIX_EPOCH};

use clap::ValueEnum;
use film::{
    DayCalendar, DayPlan, ExportError, Film, HandedFile, Rehearsals, calendar_file, day_table_file,
    framing_file, matte_files, plain_name, table_files, timeline_file,
};
use jiff::Timestamp;
use requests::BadRequest;

use crate::failure::Failure;
use crate::files::write_all;
use crate::film_input::FilmFile;
use crate::shooting_day::ChosenDay;

/// What to hand over, and where.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// A film's JSON file, or - for standard input
    #[arg(value_name = "FILM.json")]
    film: String,
    /// The folder to write into; made if it is not there
    #[arg(value_name = "DIR")]
    folder: String,
    /// As what
    #[arg(long, value_enum, value_name = "FORM")]
    to: Form,
    /// Which of the film's days, counted from 1: for ics and html, the first if absent; for csv, adds its setups in the order of
    /// work
    #[arg(long, value_name = "N")]
    day: Option<NonZero<usize>>,
    /// For ics: when the plan was last changed, such as 2026-09-01T12:00:00Z; now if absent
    #[arg(long, value_name = "TIME", value_parser = stamp)]
    stamp: Option<Timestamp>,
    /// For html: how shots follow each other
    #[arg(long, value_enum, value_name = "ORDER", default_value_t)]
    order: Order,
    /// For html: leave the pictures out, so that the file is small and made at once
    #[arg(long)]
    without_pictures: bool,
    /// Overwrite files that are there already
    #[arg(long)]
    force: bool,
    /// Go on with what can be saved of a damaged file, and tell the rest on standard error
    #[arg(long)]
    anyway: bool,
}

/// As what a film is handed over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// Tables of the shots and of the cut
    Csv,
    /// An OpenTimelineIO timeline of the cut
    Otio,
    /// An ASC Framing Decision List
    Fdl,
    /// A calendar of a day
    Ics,
    /// Mattes of the frame lines
    Png,
    /// The crew's sheets, to be printed from a browser
    Html,
}

/// How shots follow each other on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum Order {
    /// As the story tells them
    #[default]
    Story,
    /// As they are shot on the day
    Work,
}

/// What `export` writes.
pub(crate) const HELP: &str = "\
The film's JSON Schema is printed by `tapemark schema film`. Files are named by the film's title, in small letters with \
hyphens. What each holds:

  csv   TITLE-shots.csv and TITLE-cut.csv, TITLE-takes.csv if takes were logged, with --day also
        TITLE-day-N.csv: UTF-8, RFC 4180, under a row of names. A text that a spreadsheet would take
        for a formula, because it begins with = + - @, tab or a line break, has an apostrophe before
        it. In the day's table date is that on which a setup starts.
  otio  TITLE.otio: the cut on one track at the film's frame rate, a clip an entry, named by its
        shot's number. It refers to the best take by its clip's name, beside the timeline, with the
        other takes to choose from; while that has no name, its media is missing until it is
        linked. Markers are notes, and findings that are not kept anyway. A clip captured at another
        rate has its range in frames of that rate, and a LinearTimeWarp that slows its file from
        that rate to the film's; take it off where the phone wrote a file that is slowed already.
        Its metadata under tapemark has both rates, the squeeze, and where its frame lies.
  fdl   TITLE.fdl: a context for each recording mode, a canvas for each adapter that a shot is
        made with, and where the delivered frame lies on it: in the middle, and wherever else shots
        have it, as a decision that is named by them. The same film has the same uuid.
  ics   TITLE-day-N.ics: call to wrap, breaks, each setup in the order of work, low sun and civil
        dusk at each place and the dawn that ends a night, in UTC; by the reader's own clock where
        no time zone is known. An event keeps its UID as long as the film keeps its title, so that
        a calendar takes a newer file for the same events; under a new title they are new ones.
  png   TITLE-MODE.png for each recording mode, TITLE-MODE-ADAPTER.png for each adapter that a
        shot is made with, TITLE-MODE-for-SHOTS.png for shots whose frame is off the middle: as
        large as what is recorded, clear where it is delivered, dimmed where it is not, a line
        between; squeezed as the clip is before it is brought back to shape.
  html  TITLE.html: the sheets that a crew carries, to be printed or saved as PDF by a browser, on
        A4 or Letter: the call sheet of the day, the shot list with pictures, a card for each setup
        with boxes for its takes, a floor plan for each scene. One file, with its pictures in it.
        With a day, the shots of that day; of a film that plans none, all shots and no call sheet.

Prints a line for each file that it wrote. A file that is there already exits 2 unless --force is given, and so does ics of \
a day without a date, each with one line on standard error, and nothing is written. A file that is no film is refused as by \
`tapemark check`. Exit 1 if a file cannot be written.";

/// A moment such as `2026-09-01T12:00:00Z`.
fn stamp(text: &str) -> Result<Timestamp, String> {
    text.parse()
        .map_err(|_error: jiff::Error| "a time with its offset, such as 2026-09-01T12:00:00Z".to_owned())
}

/// Writes the files; the text to print names them.
pub(crate) fn run(options: &Options) -> Result<String, Failure> {
    if options.day.is_some() && !matches!(options.to, Form::Csv | Form::Ics | Form::Html) {
        return Err(BadRequest::at("--day", "only csv, ics and html are of a day").into());
    }
    let film = FilmFile { name: &options.film, anyway: options.anyway }.open()?;
    let files = match options.to {
        Form::Csv => tables(film, options.day)?,
        Form::Otio => vec![timeline_file(&film, &mut Rehearsals::default()).map_err(failed)?],
        Form::Fdl => vec![framing_file(&film).map_err(failed)?],
        Form::Ics => vec![calendar(film, options)?],
        Form::Png => matte_files(&film).map_err(failed)?,
        Form::Html => vec![sheets::file(film, options)?],
    };
    write_all(&options.folder, &files, options.force)
}

fn failed(error: ExportError) -> Failure {
    if matches!(error, ExportError::NoDate) {
        return BadRequest::at("--to", error.to_string()).into();
    }
    Failure::Unwritable(io::Error::other(error))
}

fn tables(film: Film, day: Option<NonZero<usize>>) -> Result<Vec<HandedFile>, Failure> {
    let mut rehearsals = Rehearsals::default();
    let mut files = table_files(&film, &mut rehearsals).map_err(failed)?;
    if let Some(number) = day {
        let ChosenDay { film, day, daylights, .. } = ChosenDay::of(film, Some(number), None)?;
        let plan = DayPlan::of(&film, &day, &daylights, &mut rehearsals);
        files.push(day_table_file(&film, &day, &plan, &daylights).map_err(failed)?);
    }
    Ok(files)
}

fn calendar(film: Film, options: &Options) -> Result<HandedFile, Failure> {
    let ChosenDay { film, day, daylights, .. } = ChosenDay::of(film, options.day, None)?;
    let plan = DayPlan::of(&film, &day, &daylights, &mut Rehearsals::default());
    calendar_file(&DayCalendar {
        film: &film,
        day: &day,
        plan: Some(&plan),
        daylights: &daylights,
        film_key: &plain_name(&film.facts.title),
        stamp: options.stamp.unwrap_or_else(now),
    })
    .map_err(failed)
}

/// Now, to the second; a clock that is beyond any calendar is as good as none.
fn now() -> Timestamp {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    let seconds = i64::try_from(since.as_secs()).unwrap_or_default();
    Timestamp::from_second(seconds).unwrap_or_default()
}
