//! Files that a command makes: one that is there already is overwritten only if that is asked for, and of several all are
//! written or none.

use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write as _};
use std::path::Path;

use film::HandedFile;
use requests::BadRequest;

use crate::failure::Failure;

/// Writes files into a folder, which is made if it is not there; the text names each with its size.
pub(crate) fn write_all(folder: &str, files: &[HandedFile], force: bool) -> Result<String, Failure> {
    let path_of = |file: &HandedFile| Path::new(folder).join(&file.name);
    if !force {
        // Looked for before anything is written, so that there is never half of it.
        if let Some(there) = files.iter().map(path_of).find(|path| path.symlink_metadata().is_ok()) {
            return Err(is_there(&there));
        }
    }
    fs::create_dir_all(folder).map_err(|source| unwritable(Path::new(folder), source))?;
    let mut told = Vec::new();
    for file in files {
        let path = path_of(file);
        write(&path, &file.bytes, force)?;
        told.push(format!("{}: {} bytes\n", path.display(), file.bytes.len()));
    }
    Ok(told.concat())
}

/// Writes one file.
pub(crate) fn write(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    let mut options = OpenOptions::new();
    options.write(true);
    if force {
        options.create(true).truncate(true)
    } else {
        options.create_new(true)
    };
    options.open(path).and_then(|mut file| file.write_all(bytes)).map_err(|source| {
        if source.kind() == ErrorKind::AlreadyExists { is_there(path) } else { unwritable(path, source) }
    })
}

fn is_there(path: &Path) -> Failure {
    BadRequest::at(&path.display().to_string(), "is there already; --force overwrites it").into()
}

fn unwritable(path: &Path, source: io::Error) -> Failure {
    Failure::UnwritableFile { file: path.display().to_string(), source }
}
