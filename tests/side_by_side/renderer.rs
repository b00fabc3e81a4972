//! The outside renderer, as a process that is asked for pictures; see `renderer.py`.

use std::fs;
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde::Deserialize;
use serde_json::json;

use crate::png_file;
use crate::ssim::Bytes;

/// How the renderer spreads its samples.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sampler {
    Jittered,
    Orthogonal,
    LowDiscrepancy,
}

impl Sampler {
    /// By the renderer's name for it.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Jittered => "multijitter",
            Self::Orthogonal => "orthogonal",
            Self::LowDiscrepancy => "ldsampler",
        }
    }
}

/// What it drew, and how long that took.
pub(crate) struct Drawn {
    pub(crate) image: Bytes,
    pub(crate) samples: f64,
    pub(crate) seconds: f64,
    /// Of the first go, which compiles.
    pub(crate) seconds_of_first: f64,
}

/// The renderer's process.
pub(crate) struct Renderer {
    process: Child,
    requests: ChildStdin,
    answers: BufReader<ChildStdout>,
    folder: PathBuf,
}

#[derive(Deserialize)]
struct Answer {
    samples: f64,
    seconds: f64,
    seconds_of_first: f64,
}

impl Renderer {
    /// Starts it with the Python that the variable `TAPEMARK_RENDERER_PYTHON` names, as `cargo xtask side-by-side` does.
    pub(crate) fn start() -> Self {
        let here = Path::new(env!("CARGO_MANIFEST_DIR"));
        let folder = here.join("../target/side-by-side/renderer");
        // It keeps what it compiled below its home, so with a new one the time for compiling is always told.
        if folder.exists() {
            fs::remove_dir_all(&folder).expect("a folder of last time");
        }
        fs::create_dir_all(&folder).expect("a folder for pictures");
        let python = std::env::var_os("TAPEMARK_RENDERER_PYTHON").expect("run cargo xtask side-by-side");
        let mut command = Command::new(python);
        command.arg(here.join("side_by_side/renderer.py")).env("HOME", &folder);
        let mut process = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("python");
        let requests = process.stdin.take().expect("piped");
        let answers = BufReader::new(process.stdout.take().expect("piped"));
        Self { process, requests, answers, folder }
    }

    /// Draws a scene with about so many samples for each pixel, and `goes` times more to time it.
    pub(crate) fn draw(
        &mut self,
        scene: &serde_json::Value,
        sampler: Sampler,
        samples: u32,
        goes: u32,
    ) -> Drawn {
        let picture = self.folder.join("picture.png");
        let request = json!({
            "scene": scene, "sampler": sampler.name(), "samples": samples, "goes": goes, "picture": picture,
        });
        writeln!(self.requests, "{request}").expect("the renderer listens");
        let mut line = String::new();
        self.answers.read_line(&mut line).expect("the renderer answers");
        let answer: Answer = serde_json::from_str(&line).expect("the renderer answers");
        Drawn {
            image: png_file::read(&picture),
            samples: answer.samples,
            seconds: answer.seconds,
            seconds_of_first: answer.seconds_of_first,
        }
    }
}

impl Drop for Renderer {
    fn drop(&mut self) {
        // Nothing is left to do about a process that has ended by itself.
        drop(self.process.kill().and_then(|()| self.process.wait()));
    }
}
