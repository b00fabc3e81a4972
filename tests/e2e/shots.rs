//! Saves pictures of the built page at three widths, for people to look at: run it as `cargo xtask shots`.

#![expect(clippy::print_stdout, reason = "it says where the pictures are")]

use std::fs;
use std::path::PathBuf;
use std::time::Duration;

use anyhow::{Context as _, Result};
use checks::{Screen, journey};
use clap::Parser;

/// What to show before the picture is taken.
#[derive(Debug, Parser)]
struct Options {
    /// What the pictures' names begin with.
    #[arg(long)]
    name: String,
    /// A fragment to open, such as '#story'.
    #[arg(long, default_value = "", allow_hyphen_values = true)]
    hash: String,
    /// JavaScript to run in the page before the picture is taken.
    #[arg(long)]
    script: Option<PathBuf>,
    /// Save what would be printed, too.
    #[arg(long)]
    print: bool,
}

/// How long the page may take to draw itself after the last step, pictures of all lenses included.
const SETTLING: Duration = Duration::from_secs(5);

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<()> {
    let options = Options::parse();
    let script = match &options.script {
        Some(path) => {
            Some(fs::read_to_string(path).with_context(|| format!("cannot read {}", path.display()))?)
        }
        None => None,
    };
    for screen in [Screen::PHONE, Screen::TABLET, Screen::LAPTOP] {
        journey(screen, &options.name, async |browser| {
            if !options.hash.is_empty() {
                browser.open(&options.hash).await?;
            }
            if let Some(script) = &script {
                browser.script(script).await?;
            }
            tokio::time::sleep(SETTLING).await;
            println!("{}", browser.screenshot(&options.name).await?.display());
            if options.print {
                println!("{}", browser.print(&options.name).await?.display());
            }
            Ok(())
        })
        .await?;
    }
    Ok(())
}
