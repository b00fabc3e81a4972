//! Serves a few folders over HTTP to this machine, with the headers that a careful host would send.
//!
//! The content security policy is part of what is tested: a page that needs more than this would fail on hosts that send it.

use std::fs;
use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use anyhow::{Result, anyhow};
use axum::Router;
use axum::http::{HeaderMap, Method, StatusCode, Uri, header};
use axum::response::{IntoResponse as _, Response};

/// Sent with every answer.
const HEADERS: [(&str, &str); 2] = [
    ("x-content-type-options", "nosniff"),
    // A rebuilt page must be seen at the next reload: a browser asks whether what it keeps is still the same.
    ("cache-control", "no-cache"),
];

/// What a page may do.
const POLICY: &str = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; img-src 'self' blob: data:; \
                      media-src blob:; style-src 'self'; base-uri 'none'; form-action 'none'";
/// The one page that is made to be shown inside those of other sites.
const FRAME: &str = "frame.html";

/// A folder and the part of the address that it answers to.
#[derive(Debug, Clone)]
pub(crate) struct Mount {
    /// Empty for the folder at the top, else a name with a slash behind it.
    pub(crate) prefix: &'static str,
    pub(crate) folder: PathBuf,
}

/// A server that listens, and answers once it is run.
pub(crate) struct Server {
    listener: TcpListener,
    mounts: Vec<Mount>,
}

impl Server {
    /// Listens on a port of this machine, or on the next free one after it; 0 takes any.
    pub(crate) fn listen(port: u16, mounts: Vec<Mount>) -> Result<Self> {
        let last = port.saturating_add(100);
        for candidate in port..=last {
            match TcpListener::bind((Ipv4Addr::LOCALHOST, candidate)) {
                Ok(listener) => return Ok(Self { listener, mounts }),
                Err(error) if candidate == last => {
                    return Err(anyhow!("no port from {port} to {last} can be had: {error}"));
                }
                Err(_) => {}
            }
        }
        Err(anyhow!("port {port} is not a port"))
    }

    /// The address to open in a browser.
    pub(crate) fn address(&self) -> Result<String> {
        Ok(format!("http://{}/", self.listener.local_addr()?))
    }

    /// Answers requests until the program is stopped.
    pub(crate) fn run(self) -> Result<()> {
        let Self { listener, mounts } = self;
        listener.set_nonblocking(true)?;
        let router = Router::new().fallback(move |method: Method, uri: Uri, headers: HeaderMap| {
            let said = |name| headers.get(name).and_then(|value| value.to_str().ok());
            let takes_brotli = said(header::ACCEPT_ENCODING).is_some_and(|list| list.contains("br"));
            let answer = answer(&mounts, &method, uri.path(), said(header::IF_NONE_MATCH), takes_brotli);
            std::future::ready(answer)
        });
        tokio::runtime::Runtime::new()?.block_on(async {
            let listener = tokio::net::TcpListener::from_std(listener)?;
            Ok(axum::serve(listener, router).await?)
        })
    }
}

/// Answers with a file, compressed if that was done before, or with nothing but that it is the one that the browser has `kept`
/// by its tag.
fn answer(mounts: &[Mount], method: &Method, path: &str, kept: Option<&str>, takes_brotli: bool) -> Response {
    let reads = matches!(*method, Method::GET | Method::HEAD);
    let file = if reads { find(mounts, path) } else { None };
    let Some((file, tag)) = file.and_then(|file| tag_of(&file).map(|tag| (file, tag))) else {
        return (StatusCode::NOT_FOUND, HEADERS, "not found").into_response();
    };
    let ancestors = if file.ends_with(FRAME) { "*" } else { "'self'" };
    let policy = format!("{POLICY}; frame-ancestors {ancestors}");
    let of_file = [
        (header::CONTENT_TYPE, media_type(&file)),
        (header::CONTENT_SECURITY_POLICY, &policy),
        (header::ETAG, &tag),
    ];
    if kept == Some(tag.as_str()) {
        return (StatusCode::NOT_MODIFIED, HEADERS, of_file).into_response();
    }
    let mut compressed = file.clone().into_os_string();
    compressed.push(".br");
    if let (true, Ok(bytes)) = (takes_brotli, fs::read(compressed)) {
        return (HEADERS, of_file, [(header::CONTENT_ENCODING, "br")], bytes).into_response();
    }
    match fs::read(&file) {
        Ok(bytes) => (HEADERS, of_file, bytes).into_response(),
        Err(_) => (StatusCode::NOT_FOUND, HEADERS, "not found").into_response(),
    }
}

/// What tells a file from an earlier one in its place: its length and when it was written, to the nanosecond.
fn tag_of(file: &Path) -> Option<String> {
    let about = fs::metadata(file).ok().filter(fs::Metadata::is_file)?;
    let written = about.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    Some(format!("W/\"{:x}-{:x}\"", about.len(), written.as_nanos()))
}

/// The file that an address names, if it lies in a mounted folder.
fn find(mounts: &[Mount], url: &str) -> Option<PathBuf> {
    let path = url.split(['?', '#']).next()?.strip_prefix('/')?;
    let mount = mounts
        .iter()
        .filter(|mount| path.starts_with(mount.prefix))
        .max_by_key(|mount| mount.prefix.len())?;
    let rest = path.strip_prefix(mount.prefix)?;
    let mut file = mount.folder.clone();
    for name in rest.split('/').filter(|name| !name.is_empty()) {
        if !is_plain(name) {
            return None;
        }
        file.push(name);
    }
    if rest.is_empty() || rest.ends_with('/') {
        file.push("index.html");
    }
    Some(file)
}

/// Whether a name can only be that of a file or folder right here.
///
/// The page's own files have such names, so an address that needs decoding, climbs or hides is refused rather than
/// understood.
fn is_plain(name: &str) -> bool {
    !name.starts_with('.') && name.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"._-".contains(&byte))
}

/// The media type by which a browser decides what to do with a file; wasm is compiled while it streams in only under its own.
fn media_type(path: &Path) -> &'static str {
    match path.extension().and_then(|extension| extension.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("jpg" | "jpeg") => "image/jpeg",
        Some("ico") => "image/vnd.microsoft.icon",
        Some("woff2") => "font/woff2",
        Some("json" | "map") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("txt" | "ts" | "md") => "text/plain; charset=utf-8",
        Some(_) | None => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace;

    fn found(url: &str) -> Option<PathBuf> {
        let page = Mount { prefix: "", folder: PathBuf::from("page") };
        let core = Mount { prefix: "core/", folder: PathBuf::from("core") };
        find(&[page, core], url)
    }

    #[test]
    fn addresses_name_files_of_the_mounted_folders() {
        assert_eq!(found("/"), Some(PathBuf::from("page/index.html")));
        assert_eq!(found("/style/page.css?v=2"), Some(PathBuf::from("page/style/page.css")));
        assert_eq!(found("/core/tapemark_core.js"), Some(PathBuf::from("core/tapemark_core.js")));
    }

    #[test]
    fn addresses_that_climb_or_hide_are_refused() {
        for url in
            ["/../secret", "/core/../../secret", "/%2e%2e/secret", "/a\\..\\b", "/.git/config", "//../x", "x"]
        {
            assert_eq!(found(url), None, "{url}");
        }
    }

    #[test]
    fn what_a_browser_has_kept_is_not_sent_again_until_it_is_another() {
        let folder = std::env::temp_dir().join(format!("tapemark-served-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder");
        fs::write(folder.join("page.css"), "a { }").expect("a file");
        let mounts = [Mount { prefix: "", folder: folder.clone() }];
        let asked = |kept: Option<&str>| answer(&mounts, &Method::GET, "/page.css", kept, false);
        let first = asked(None);
        let tag = first.headers()[header::ETAG].to_str().expect("text").to_owned();
        assert_eq!(asked(Some(&tag)).status(), StatusCode::NOT_MODIFIED);
        fs::write(folder.join("page.css"), "a, b { }").expect("a file");
        assert_eq!(asked(Some(&tag)).status(), StatusCode::OK);
        fs::remove_dir_all(folder).expect("it was there");
    }

    #[test]
    fn what_was_compressed_is_sent_so_to_those_who_take_it() {
        let folder = std::env::temp_dir().join(format!("tapemark-compressed-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder");
        for name in ["page.css", "page.css.br", "plain.css"] {
            fs::write(folder.join(name), name).expect("a file");
        }
        let mounts = [Mount { prefix: "", folder: folder.clone() }];
        let is_compressed = |path: &str, takes: bool| {
            answer(&mounts, &Method::GET, path, None, takes).headers().contains_key(header::CONTENT_ENCODING)
        };
        assert!(is_compressed("/page.css", true));
        assert!(!is_compressed("/page.css", false) && !is_compressed("/plain.css", true));
        fs::remove_dir_all(folder).expect("it was there");
    }

    /// The policy that is sent with a file of the page.
    fn policy_of(path: &str) -> String {
        let mount = Mount { prefix: "", folder: workspace::root().join("web") };
        let answer = answer(&[mount], &Method::GET, path, None, false);
        answer.headers()[header::CONTENT_SECURITY_POLICY].to_str().expect("text").to_owned()
    }

    #[test]
    fn only_a_lesson_in_a_frame_may_be_shown_inside_other_sites() {
        let (frame, page) = (policy_of("/frame.html"), policy_of("/index.html"));
        assert!(frame.ends_with("frame-ancestors *"), "{frame}");
        assert!(page.ends_with("frame-ancestors 'self'"), "{page}");
    }

    #[test]
    fn a_page_says_nothing_of_itself_that_is_not_sent_with_it() {
        for page in ["/index.html", "/frame.html"] {
            let html = fs::read_to_string(workspace::root().join("web").join(&page[1..])).expect("a page");
            let (_, own) = html.split_once("\"Content-Security-Policy\" content=\"").expect("a policy");
            let (own, _) = own.split_once('"').expect("its end");
            let sent = policy_of(page);
            let is_sent = |one: &str| sent.split("; ").any(|other| other == one);
            assert!(own.split("; ").all(is_sent), "{page} says {own:?}, and {sent:?} is sent");
            // What no other directive stands in for is said of every page.
            for alone in ["base-uri 'none'", "form-action 'none'"] {
                assert!(own.split("; ").any(|one| one == alone), "{page} says {own:?}");
            }
        }
    }

    #[test]
    fn what_browsers_are_strict_about_is_served_as_what_it_is() {
        assert_eq!(media_type(Path::new("web_bg.wasm")), "application/wasm");
        assert_eq!(media_type(Path::new("service_worker.js")), "text/javascript; charset=utf-8");
        assert_eq!(media_type(Path::new("manifest.webmanifest")), "application/manifest+json");
    }
}
