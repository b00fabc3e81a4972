//! Builds what people get: the page into `dist/page`, the core as an ES module into `dist/core`.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::{precache, process, size, toolchain, workspace};

/// How to build.
#[derive(Debug, clap::Args)]
pub(crate) struct Options {
    /// How to build the page.
    #[arg(long, default_value = "page")]
    pub(crate) profile: Profile,
}

/// How to compile the page and its modules.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Profile {
    /// Small and fast, as people get it.
    Page,
    /// Compiled quickly, for trying a change.
    Dev,
}

impl Profile {
    fn name(self) -> &'static str {
        match self {
            Self::Page => "page",
            Self::Dev => "dev",
        }
    }

    /// The folder under cargo's target folder, which for `dev` has another name than the profile.
    fn folder(self) -> &'static str {
        match self {
            Self::Page => "page",
            Self::Dev => "debug",
        }
    }
}

/// A wasm module and where its bindings go.
struct Module {
    package: &'static str,
    /// The name of the file that cargo makes.
    file: &'static str,
    folder: PathBuf,
    /// Whether other people's programs call it, and so need its types.
    declarations: bool,
}

fn modules() -> [Module; 6] {
    let page = workspace::page_folder();
    [
        Module { package: "web", file: "web.wasm", folder: page.clone(), declarations: false },
        Module { package: "web", file: "later.wasm", folder: page.join("later"), declarations: false },
        Module {
            package: "files-reader",
            file: "files_reader.wasm",
            folder: page.join("files"),
            declarations: false,
        },
        Module {
            package: "picture-worker",
            file: "picture_worker.wasm",
            folder: page.join("picture"),
            declarations: false,
        },
        Module {
            package: "sun-almanac",
            file: "sun_almanac.wasm",
            folder: page.join("sun"),
            declarations: false,
        },
        Module {
            package: "tapemark-core",
            file: "tapemark_core.wasm",
            folder: workspace::core_folder(),
            declarations: true,
        },
    ]
}

/// Builds everything from scratch, as far as cargo finds it necessary.
pub(crate) fn run(profile: Profile) -> Result<()> {
    toolchain::ensure_wasm_target()?;
    let modules = modules();
    compile(&modules, profile)?;
    // What an earlier build left and this one does not make would be served and counted.
    for folder in [workspace::page_folder(), workspace::core_folder()] {
        if folder.exists() {
            fs::remove_dir_all(&folder)?;
        }
    }
    let compiled = workspace::target_folder()?.join(toolchain::WASM).join(profile.folder());
    for module in &modules {
        bind(module, &compiled)?;
    }
    copy_page_files()?;
    precache::write_list(&workspace::page_folder())
}

/// Compiles all modules in one go, so that they share what they have in common and both cores are busy.
fn compile(modules: &[Module], profile: Profile) -> Result<()> {
    let mut cargo = workspace::cargo();
    cargo.args(["build", "--target", toolchain::WASM, "--profile", profile.name()]);
    for module in modules {
        cargo.args(["--package", module.package]);
    }
    process::run(&mut cargo)
}

/// Writes the JavaScript that loads a module, and the module without what only a debugger reads.
fn bind(module: &Module, compiled: &Path) -> Result<()> {
    let input = compiled.join(module.file);
    if !input.is_file() {
        bail!(
            "package {} made no {}: it needs a main.rs, or a library of crate-type cdylib",
            module.package,
            module.file
        );
    }
    write_bindings(&input, &module.folder, module.declarations)
        .with_context(|| format!("the bindings of package {} cannot be made", module.package))?;
    let bindings = module.folder.join(module.file).with_extension("js");
    drop_snippets(&module.folder.join("snippets"), &fs::read_to_string(bindings)?)
}

/// Removes the snippets that a module does not import: bindings come with those of its whole library.
fn drop_snippets(folder: &Path, bindings: &str) -> Result<()> {
    if !folder.is_dir() {
        return Ok(());
    }
    for file in size::files_under(folder)? {
        let name = file.file_name().map(|name| name.to_string_lossy()).unwrap_or_default();
        if !bindings.contains(&format!("/{name}'")) {
            fs::remove_file(&file)?;
        }
    }
    Ok(())
}

/// The same for a module wherever it lies.
pub(crate) fn write_bindings(input: &Path, folder: &Path, declarations: bool) -> Result<()> {
    let mut arguments: Vec<OsString> = vec!["wasm-bindgen".into(), input.into()];
    arguments
        .extend(["--target", "web", "--remove-name-section", "--remove-producers-section"].map(Into::into));
    if !declarations {
        arguments.push("--no-typescript".into());
    }
    arguments.push("--out-dir".into());
    arguments.push(folder.into());
    wasm_bindgen_cli::wasm_bindgen::run_cli_with_args(arguments)
}

/// Puts the hand-written files beside the modules: those that lie in `web/` and `web/files/`, and whole folders of style
/// sheets and icons.
fn copy_page_files() -> Result<()> {
    let source = workspace::root().join("web");
    let page = workspace::page_folder();
    copy_folder(&source, &page, is_page_file)?;
    copy_folder(&source.join("files"), &page.join("files"), is_page_file)?;
    for folder in ["style", "icons", "kit", "story", "light", "day", "print", "recce", "marks", "learn"] {
        copy_folder(&source.join(folder), &page.join(folder), |_| true)?;
        thin_styles(&page.join(folder))?;
    }
    // The page's policy allows no script inside its HTML, so the one line that starts the module is a file.
    fs::write(page.join("boot.js"), "import init from './web.js';\ninit();\n")?;
    // A lesson in a frame of somebody's own page is of the later module alone.
    let frame = "import init, { open_frame } from './later/later.js';\ninit().then(open_frame);\n";
    fs::write(page.join("frame.js"), frame)?;
    // What shows the core as an ES module lies beside it, as it would in somebody's own page.
    copy_folder(&source.join("core"), &workspace::core_folder(), |_| true)?;
    // A worker begins with a script too; what it sends if its module cannot be had is no answer to anything.
    fs::write(
        page.join("picture/worker.js"),
        "import init, { start } from './picture_worker.js';\ninit().then(start).catch(() => postMessage(null));\n",
    )?;
    Ok(())
}

/// Takes out of style sheets what only their writers read.
fn thin_styles(folder: &Path) -> Result<()> {
    if !folder.is_dir() {
        return Ok(());
    }
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|extension| extension == "css") {
            fs::write(&path, without_comments(&fs::read_to_string(&path)?))?;
        }
    }
    Ok(())
}

/// A style sheet without comments, indentation and empty lines. Our style sheets hold no text that looks like a comment.
fn without_comments(sheet: &str) -> String {
    let mut kept = String::with_capacity(sheet.len());
    let mut rest = sheet;
    while let Some((before, after)) = rest.split_once("/*") {
        kept.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, after)| after);
    }
    kept.push_str(rest);
    kept.lines().map(str::trim).filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

/// Whether a file beside `Cargo.toml` belongs to the page rather than to cargo or to a reader.
fn is_page_file(file: &Path) -> bool {
    file.extension()
        .is_some_and(|extension| ["html", "js", "webmanifest"].iter().any(|known| extension == *known))
}

/// Copies the files of one folder, leaving out its subfolders; a folder that is not there has no files.
pub(crate) fn copy_folder(from: &Path, to: &Path, wanted: impl Fn(&Path) -> bool) -> Result<()> {
    if !from.is_dir() {
        return Ok(());
    }
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        if entry.file_type()?.is_file() && wanted(&entry.path()) {
            fs::copy(entry.path(), to.join(entry.file_name()))?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn page_files_are_what_a_browser_loads() {
        assert!(is_page_file(Path::new("index.html")));
        assert!(is_page_file(Path::new("service_worker.js")));
        assert!(!is_page_file(Path::new("Cargo.toml")));
        assert!(!is_page_file(Path::new("CHANGELOG.md")));
    }

    #[test]
    fn a_style_sheet_keeps_its_rules_and_loses_its_comments() {
        let sheet = "/* why */\na {\n  color: red; /* here */\n}\n\nb {\n}\n/* cut off";
        assert_eq!(without_comments(sheet), "a {\ncolor: red;\n}\nb {\n}");
    }
}
