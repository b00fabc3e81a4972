//! Files that are written all or, where one is there already, none.

use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write as _};
use std::path::Path;

use film::HandedFile;
use requests::BadRequest;

use crate::failure::Failure;

/// Writes files into a folder, which is made if it is not there; the text names each with its size.
pub(super) fn write_all(folder: &str, files: &[HandedFile], force: bool) -> Result<String, Failure> {
    let path_of = |file: &HandedFile| Path::new(folder).join(&file.name);
    let shown = |path: &Path| path.display().to_string();
    if !force {
        // Looked for before anything is written, so that there is never half of it.
        if let Some(there) = files.iter().map(path_of).find(|path| path.symlink_metadata().is_ok()) {
            return Err(is_there(&shown(&there)));
        }
    }
    let unwritable = |file: String, source: io::Error| Failure::UnwritableFile { file, source };
    fs::create_dir_all(folder).map_err(|source| unwritable(folder.to_owned(), source))?;
    let mut told = Vec::new();
    for file in files {
        let path = path_of(file);
        match write(&path, &file.bytes, force) {
            Err(error) if !force && error.kind() == ErrorKind::AlreadyExists => {
                return Err(is_there(&shown(&path)));
            }
            Err(source) => return Err(unwritable(shown(&path), source)),
            Ok(()) => told.push(format!("{}: {} bytes\n", shown(&path), file.bytes.len())),
        }
    }
    Ok(told.concat())
}

fn is_there(file: &str) -> Failure {
    let message = "is there already; --force overwrites it".to_owned();
    BadRequest { path: file.to_owned(), message }.into()
}

fn write(path: &Path, bytes: &[u8], force: bool) -> io::Result<()> {
    let mut options = OpenOptions::new();
    options.write(true);
    if force {
        options.create(true).truncate(true)
    } else {
        options.create_new(true)
    };
    options.open(path)?.write_all(bytes)
}
