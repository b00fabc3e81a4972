//! Runs other programs, and says in one line which one failed.

use std::io::{BufRead as _, BufReader, ErrorKind};
use std::process::{Command, Stdio};

use anyhow::{Context as _, Result, anyhow, bail};

/// Runs a program with its output going where ours goes.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let status = command.status().map_err(|error| not_started(command, error))?;
    if !status.success() {
        bail!("{} failed ({status})", line(command));
    }
    Ok(())
}

/// Runs a program and hands back what it wrote to standard output.
pub(crate) fn capture(command: &mut Command) -> Result<String> {
    let output = command.stderr(Stdio::inherit()).output().map_err(|error| not_started(command, error))?;
    if !output.status.success() {
        bail!("{} failed ({})", line(command), output.status);
    }
    String::from_utf8(output.stdout).with_context(|| format!("{} did not answer in UTF-8", line(command)))
}

/// Runs a program, printing each line it writes to standard output as it comes, after `watch` has seen it.
pub(crate) fn watch(command: &mut Command, mut watch: impl FnMut(&str)) -> Result<()> {
    each_line(command, |line| {
        watch(line);
        println!("{line}");
    })
}

/// Runs a program, handing on each line it writes to standard output as it comes.
pub(crate) fn each_line(command: &mut Command, mut take: impl FnMut(&str)) -> Result<()> {
    let mut child = command.stdout(Stdio::piped()).spawn().map_err(|error| not_started(command, error))?;
    if let Some(output) = child.stdout.take() {
        // By bytes: a test may print what is not UTF-8, and that must not end the run.
        for bytes in BufReader::new(output).split(b'\n') {
            take(&String::from_utf8_lossy(&bytes?));
        }
    }
    let status = child.wait()?;
    if !status.success() {
        bail!("{} failed ({status})", line(command));
    }
    Ok(())
}

/// Whether a program of that name can be started; what it makes of the question is its own business.
pub(crate) fn exists(program: &str) -> bool {
    let mut command = Command::new(program);
    command.arg("--version").stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok()
}

/// A command as a person would type it, near enough to be recognised and repeated.
fn line(command: &Command) -> String {
    let program =
        std::path::Path::new(command.get_program()).file_name().unwrap_or_else(|| command.get_program());
    let mut words = vec![program.to_string_lossy().into_owned()];
    words.extend(command.get_args().map(|word| word.to_string_lossy().into_owned()));
    words.join(" ")
}

fn not_started(command: &Command, error: std::io::Error) -> anyhow::Error {
    let program = command.get_program().to_string_lossy();
    if error.kind() == ErrorKind::NotFound {
        return anyhow!("{program} is not installed");
    }
    anyhow!(error).context(format!("{program} could not be started"))
}
