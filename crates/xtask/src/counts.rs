//! Counts tests from what the test runners print.

use std::fmt;

/// A kind of test, by what runs it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Compiled for this machine.
    Native,
    /// Compiled for the browser, and run there.
    Wasm,
    /// An example in the documentation.
    Doc,
    /// A person's way through the page, in a browser.
    Journey,
}

/// How many tests of each kind passed, and how many failed in all.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Counts {
    native: u32,
    wasm: u32,
    doc: u32,
    journeys: u32,
    failed: u32,
}

impl Counts {
    /// Adds what one line of a runner's output reports, if it is a line of results.
    pub(crate) fn read(&mut self, kind: Kind, line: &str) {
        let Some((_, results)) = line.split_once("test result:") else { return };
        let passed = number_before(results, "passed");
        match kind {
            Kind::Native => self.native += passed,
            Kind::Wasm => self.wasm += passed,
            Kind::Doc => self.doc += passed,
            Kind::Journey => self.journeys += passed,
        }
        self.failed += number_before(results, "failed");
    }

    fn passed(&self) -> u32 {
        self.native + self.wasm + self.doc + self.journeys
    }
}

impl fmt::Display for Counts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { native, wasm, doc, journeys, failed } = self;
        let passed = self.passed();
        write!(
            f,
            "{passed} tests passed: {native} native, {wasm} wasm, {doc} doc, {journeys} journeys; {failed} failed"
        )
    }
}

/// The number in front of a word, as in "12 passed; 0 failed", or zero.
fn number_before(results: &str, word: &str) -> u32 {
    let fields = results.split([';', '.']).map(str::trim);
    fields.filter_map(|field| field.strip_suffix(word)?.trim().parse::<u32>().ok()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_add_up_by_kind() {
        let mut counts = Counts::default();
        let line =
            "test result: ok. 12 passed; 0 failed; 1 ignored; 0 measured; 3 filtered out; finished in 0.01s";
        counts.read(Kind::Native, line);
        counts.read(Kind::Native, line);
        counts.read(Kind::Wasm, "test result: FAILED. 2 passed; 3 failed; 0 ignored; 0 filtered out");
        counts.read(Kind::Doc, "test result: ok. 5 passed; 0 failed; 0 ignored");
        assert_eq!(counts.to_string(), "31 tests passed: 24 native, 2 wasm, 5 doc, 0 journeys; 3 failed");
    }

    #[test]
    fn other_lines_count_nothing() {
        let mut counts = Counts::default();
        counts.read(Kind::Journey, "test the_page_loads ... ok");
        counts.read(Kind::Journey, "12 passed; 3 failed");
        assert_eq!(counts, Counts::default());
    }
}
