//! What is not ours: whether its licences are among those that are allowed, and what is known against it.
//!
//! The usual programs for this take as long to compile as the page does, so their rules are here in small: licences are
//! read by the crate that those read them with, advisories from the same database.

mod advisories;
mod database;
mod licences;

use std::fs;

use anyhow::{Context as _, Result, bail};
use serde::Deserialize;

use crate::{install, process, workspace};
use advisories::Verdict;

/// A package that somebody else has made.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Package {
    name: String,
    version: String,
    licence: Option<String>,
}

/// Looks at every package from a registry, and prints everything that is wrong so that all can be mended at once.
pub(crate) fn run() -> Result<()> {
    let crates = crates()?;
    let npm = npm()?;
    let mut breaches: Vec<_> = crates.iter().chain(&npm).filter_map(licences::breach).collect();
    println!("licences: {} crates and {} packages from npm", crates.len(), npm.len());
    match database::fetched(&workspace::target_folder()?.join("advisories"), database::ADDRESS)? {
        None => println!("advisories: skipped, the database could not be reached"),
        Some(database) => {
            println!("advisories: {} crates looked up in the database, {}", crates.len(), database.age);
            for (said, verdict) in advisories::said(&crates, &database.folder)? {
                match verdict {
                    Verdict::Breach => breaches.push(said),
                    Verdict::Note => println!("advisories: {said}"),
                }
            }
        }
    }
    for breach in &breaches {
        eprintln!("third party: {breach}");
    }
    match breaches.len() {
        0 => Ok(()),
        count => bail!("third-party packages: {count} to be replaced, updated or allowed"),
    }
}

/// Every crate that cargo has locked, for whatever machine.
fn crates() -> Result<Vec<Package>> {
    /// The part of `cargo metadata` that is read here.
    #[derive(Deserialize)]
    struct Metadata {
        packages: Vec<Crate>,
    }
    #[derive(Deserialize)]
    struct Crate {
        name: String,
        version: String,
        license: Option<String>,
        /// Absent for what lies in this repository.
        source: Option<String>,
    }
    let json = process::capture(workspace::cargo().args(["metadata", "--locked", "--format-version", "1"]))?;
    let metadata: Metadata = serde_json::from_str(&json)
        .context("cargo metadata answered in a form that this task does not know")?;
    let outside = metadata.packages.into_iter().filter(|package| package.source.is_some());
    Ok(outside
        .map(|package| Package { name: package.name, version: package.version, licence: package.license })
        .collect())
}

/// What npm has installed for the checks.
fn npm() -> Result<Vec<Package>> {
    let list = install::node_packages()?.join("node_modules/.package-lock.json");
    let json = fs::read_to_string(&list).with_context(|| format!("cannot read {}", list.display()))?;
    packages_of_npm(&json).with_context(|| format!("{} is not a list of npm's", list.display()))
}

fn packages_of_npm(json: &str) -> Result<Vec<Package>> {
    #[derive(Deserialize)]
    struct Installed {
        packages: std::collections::BTreeMap<String, Entry>,
    }
    #[derive(Deserialize)]
    struct Entry {
        version: String,
        license: Option<String>,
    }
    let installed: Installed = serde_json::from_str(json)?;
    let package = |(place, entry): (String, Entry)| {
        let name = place.rsplit("node_modules/").next().unwrap_or(&place).to_owned();
        Package { name, version: entry.version, licence: entry.license }
    };
    Ok(installed.packages.into_iter().map(package).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_that_is_locked_has_a_licence_that_is_allowed() {
        let crates = crates().unwrap();
        assert!(crates.iter().any(|package| package.name == "serde"), "{} crates", crates.len());
        assert!(crates.iter().all(|package| package.name != "xtask"), "ours is not from a registry");
        let breaches: Vec<_> = crates.iter().filter_map(licences::breach).collect();
        assert!(breaches.is_empty(), "\n{}", breaches.join("\n"));
    }

    #[test]
    fn packages_of_npm_are_named_without_their_folders() {
        let json = r#"{"lockfileVersion": 3, "packages": {
            "node_modules/a": {"version": "1.0.0", "license": "MIT"},
            "node_modules/a/node_modules/@b/c": {"version": "2.0.0"}}}"#;
        let package = |name: &str, version: &str, licence: Option<&str>| Package {
            name: name.to_owned(),
            version: version.to_owned(),
            licence: licence.map(str::to_owned),
        };
        assert_eq!(
            packages_of_npm(json).unwrap(),
            [package("a", "1.0.0", Some("MIT")), package("@b/c", "2.0.0", None)]
        );
    }
}
