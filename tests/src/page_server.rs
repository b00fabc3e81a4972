//! The server of the built page, as a process of its own, so that a journey can cut the page off from it.

use std::fs;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};

use anyhow::{Context as _, Result, ensure};

/// `cargo xtask serve` on a port of its own, hence with storage and service workers of its own.
#[derive(Debug)]
pub(crate) struct PageServer {
    process: Child,
    /// Kept so that the server never writes to a closed pipe.
    output: BufReader<ChildStdout>,
    address: String,
    folder: Option<PathBuf>,
}

impl PageServer {
    /// Serves what was built last, on a port that the system picks.
    pub(crate) fn start() -> Result<Self> {
        Self::start_on(0, None)
    }

    /// Serves a folder in place of the page.
    pub(crate) fn start_with(folder: &Path) -> Result<Self> {
        Self::start_on(0, Some(folder.to_owned()))
    }

    /// Serves a folder at the same address from here on.
    pub(crate) fn serve(&mut self, folder: &Path) -> Result<()> {
        self.stop()?;
        self.folder = Some(folder.to_owned());
        self.restart()
    }

    /// Serves again after [`PageServer::stop`], at the same address.
    pub(crate) fn restart(&mut self) -> Result<()> {
        let port = self.address.trim_end_matches('/').rsplit(':').next().unwrap_or_default();
        let port = port.parse().with_context(|| format!("{} has no port", self.address))?;
        let again = Self::start_on(port, self.folder.clone())?;
        ensure!(again.address == self.address, "the server's port was taken while it was stopped");
        *self = again;
        Ok(())
    }

    /// Stops serving: the page is offline.
    pub(crate) fn stop(&mut self) -> Result<()> {
        self.process.kill()?;
        self.process.wait()?;
        Ok(())
    }

    /// Where the page is, with a slash at the end.
    pub(crate) fn address(&self) -> &str {
        &self.address
    }

    fn start_on(port: u16, folder: Option<PathBuf>) -> Result<Self> {
        let mut command = xtask();
        command.args(["serve", "--no-build", "--no-open", "--port", &port.to_string()]);
        if let Some(folder) = &folder {
            command.arg("--folder").arg(folder);
        }
        let mut process = command.stdout(Stdio::piped()).spawn().context("the server cannot be started")?;
        let output = process.stdout.take().context("the server has no output")?;
        let mut server = Self { process, output: BufReader::new(output), address: String::new(), folder };
        let mut line = String::new();
        server.output.read_line(&mut line)?;
        let address = line.split_whitespace().last();
        server.address = address.context("the server did not start: run cargo xtask build first")?.to_owned();
        Ok(server)
    }
}

impl Drop for PageServer {
    fn drop(&mut self) {
        // Nothing is left to do about a process that has ended by itself.
        drop(self.stop());
    }
}

/// Lists what lies in a folder in the service worker of the page there, as a build does.
///
/// # Errors
/// When the folder holds no page.
pub fn list_files(folder: &Path) -> Result<()> {
    let status = xtask().arg("precache").arg(folder).status().context("cargo cannot be started")?;
    ensure!(status.success(), "the files of {} cannot be listed", folder.display());
    Ok(())
}

/// Puts beside each file of a folder what a host would send of it; from then on the server sends that.
///
/// # Errors
/// When the folder cannot be read or written.
pub fn compress_files(folder: &Path) -> Result<()> {
    let status = xtask().arg("compress").arg(folder).status().context("cargo cannot be started")?;
    ensure!(status.success(), "the files of {} cannot be compressed", folder.display());
    Ok(())
}

/// Copies the page as it was built.
///
/// # Errors
/// When it was not built, or the folder cannot be written.
pub fn copy_page(to: &Path) -> Result<()> {
    copy_folder(&repository().join("dist/page"), to)
}

fn copy_folder(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from).with_context(|| format!("{} was not built", from.display()))? {
        let entry = entry?;
        let to = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            copy_folder(&entry.path(), &to)?;
        } else {
            fs::copy(entry.path(), to)?;
        }
    }
    Ok(())
}

/// The repository's tasks: the program that names itself, as `cargo xtask test` does, or what cargo makes of them now.
fn xtask() -> Command {
    let mut command = if let Some(program) = std::env::var_os("TAPEMARK_XTASK") {
        Command::new(program)
    } else {
        let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
        cargo.args(["run", "--quiet", "--package", "xtask", "--"]);
        cargo
    };
    command.current_dir(repository());
    command
}

/// The top of the repository.
pub(crate) fn repository() -> &'static Path {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here)
}
