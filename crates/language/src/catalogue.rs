//! The texts of a language.

/// A language's text for each English one; empty for English itself.
///
/// Its texts live as long as the process: a program speaks one language, and what it says is then as free as a literal.
#[derive(Debug, Default)]
pub struct Catalogue(Vec<(&'static str, &'static str)>);

impl Catalogue {
    /// A catalogue of pairs, the English text and the other language's, in the order of the English ones' bytes.
    pub fn new(pairs: impl IntoIterator<Item = (String, String)>) -> Self {
        let kept = |text: String| -> &'static str { Box::leak(text.into_boxed_str()) };
        Self(pairs.into_iter().map(|(english, said)| (kept(english), kept(said))).collect())
    }

    /// The text for an English one.
    pub(crate) fn get(&self, english: &str) -> Option<&&'static str> {
        let at = self.0.binary_search_by_key(&english, |(one, _)| one).ok()?;
        self.0.get(at).map(|(_, said)| said)
    }
}
