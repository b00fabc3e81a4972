//! The rules of the repository that no compiler checks. The test below has plain `cargo test` catch them too.

mod dependencies;
mod files;
mod presets;
mod references;

use anyhow::{Result, bail};

use crate::words;

/// Checks every rule and prints every breach, so that all can be mended at once.
pub(crate) fn run() -> Result<()> {
    let breaches = breaches()?;
    for breach in &breaches {
        eprintln!("tidy: {breach}");
    }
    match breaches.len() {
        0 => Ok(()),
        1 => bail!("1 rule of the repository is broken"),
        count => bail!("{count} rules of the repository are broken"),
    }
}

fn breaches() -> Result<Vec<String>> {
    let mut breaches = dependencies::breaches()?;
    breaches.extend(references::breaches()?);
    breaches.extend(presets::breaches()?);
    breaches.extend(files::breaches()?);
    breaches.extend(words::breaches()?);
    Ok(breaches)
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_repository_is_tidy() {
        let breaches = super::breaches().unwrap();
        assert!(breaches.is_empty(), "\n{}", breaches.join("\n"));
    }
}
