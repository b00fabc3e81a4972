//! Every way in from outside, as one function each: what the fuzzer knocks at, and what the tests replay.
//!
//! # Conventions
//! - A door takes any bytes. Text that is not UTF-8 is read as the terminal and the page read it.
//! - What is let in comes out again: where there is a writer, what it writes is read as the same thing, and writing that
//!   gives the same text.
//! - What is refused is told in words on one line.
//! - A door panics where one of these does not hold; nothing else about it matters.
#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a door that does not keep what it promises must say so"
)]

mod film_file;
mod journal;
mod json;
mod kit_file;
mod lesson;
mod link;
mod photo;
mod preset;
mod quantity;
mod request;

/// A way in.
#[derive(Debug, Clone, Copy)]
pub struct Door {
    /// What it is called: the folder of its corpus, and the word for the command line.
    pub name: &'static str,
    /// The most bytes that are tried.
    pub largest: usize,
    /// Takes any bytes, and panics where the door does not keep what it promises.
    pub knock: fn(&[u8]),
}

/// The most bytes of what strangers send: ten MiB, and what is larger is of the same kind.
const ANY: usize = 10 << 20;
/// The most bytes of what comes from the repository, from the device itself, or from a keyboard.
const OWN: usize = 1 << 20;

/// All of them.
pub const DOORS: [Door; 17] = [
    Door { name: "film", largest: ANY, knock: film_file::film },
    Door { name: "place_photo", largest: OWN, knock: film_file::place_photo },
    Door { name: "journal", largest: OWN, knock: journal::journal },
    Door { name: "kit", largest: ANY, knock: kit_file::kit },
    Door { name: "adapter", largest: ANY, knock: kit_file::adapter },
    Door { name: "preset", largest: OWN, knock: preset::preset },
    Door { name: "photo", largest: ANY, knock: photo::photo },
    Door { name: "link", largest: ANY, knock: link::link },
    Door { name: "lesson", largest: ANY, knock: lesson::lesson },
    Door { name: "setup", largest: ANY, knock: request::setup },
    Door { name: "compare", largest: ANY, knock: request::compare },
    Door { name: "blur", largest: ANY, knock: request::blur },
    Door { name: "exposure", largest: ANY, knock: request::exposure },
    Door { name: "sun", largest: ANY, knock: request::sun },
    Door { name: "daylight", largest: ANY, knock: request::daylight },
    Door { name: "measure", largest: ANY, knock: request::measure },
    Door { name: "quantity", largest: OWN, knock: quantity::quantity },
];

/// A refusal has words, and they fit on one line.
fn has_words(told: impl std::fmt::Display) {
    let told = told.to_string();
    assert!(told.len() > 8, "a refusal without words: {told:?}");
    assert!(!told.contains(char::is_control), "a refusal of several lines: {told:?}");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_doors_have_one_name() {
        let mut names: Vec<&str> = DOORS.iter().map(|door| door.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), DOORS.len());
    }

    #[test]
    #[expect(clippy::should_panic_without_expect, reason = "which words it says is not the point")]
    #[should_panic]
    fn a_refusal_of_two_lines_is_caught() {
        has_words("this is one line\nand this another");
    }
}
