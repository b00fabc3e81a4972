//! The theme's colours, read from the page's custom properties so that each is written once.

use crate::canvas::root_style;

/// The theme's colours as CSS colour texts.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Palette {
    pub(crate) ground: String,
    pub(crate) ink: String,
    pub(crate) accent: String,
    /// Words on the accent.
    pub(crate) accent_ink: String,
    /// The studio floor of a floor plan.
    pub(crate) studio: String,
    /// Chalk on it.
    pub(crate) chalk: String,
    /// Fainter chalk.
    pub(crate) chalk_quiet: String,
    /// The tapes, in the order of `dressing::TAPES`: each person's own, which is also the colour of their clothes.
    pub(crate) tape: [String; 6],
    /// How much wider lines are drawn: more in sunlight.
    pub(crate) heavier: bool,
}

impl Palette {
    /// The colours that the page shows now; nothing outside a browser.
    pub(crate) fn current() -> Option<Self> {
        let style = root_style()?;
        let root = web_sys::window()?.document()?.document_element()?;
        let colour = |name: &str| {
            style.get_property_value(name).map(|text| text.trim().to_owned()).unwrap_or_default()
        };
        Some(Self {
            ground: colour("--ground"),
            ink: colour("--ink"),
            accent: colour("--accent"),
            accent_ink: colour("--accent-ink"),
            studio: colour("--studio"),
            chalk: colour("--chalk"),
            chalk_quiet: colour("--chalk-quiet"),
            tape: ["--tape-1", "--tape-2", "--tape-3", "--tape-4", "--tape-5", "--tape-6"].map(colour),
            heavier: root.get_attribute("data-theme").is_some_and(|theme| theme == "sun"),
        })
    }
}
