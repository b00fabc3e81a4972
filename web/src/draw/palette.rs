//! The theme's colours, read from the page's custom properties so that each is written once.

use wasm_bindgen::JsCast as _;

/// The theme's colours as CSS colour texts.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Palette {
    pub(crate) ground: String,
    pub(crate) ink: String,
    pub(crate) quiet: String,
    pub(crate) line: String,
    pub(crate) accent: String,
    pub(crate) bad: String,
    /// The sky above the horizon of a frame.
    pub(crate) sky: String,
    /// Things in the background.
    pub(crate) far: String,
    /// The ground below the horizon of a frame.
    pub(crate) floor: String,
    /// The metre grid on it.
    pub(crate) floor_line: String,
    /// The studio floor of a floor plan.
    pub(crate) studio: String,
    /// Chalk on it.
    pub(crate) chalk: String,
    /// Fainter chalk.
    pub(crate) chalk_quiet: String,
    pub(crate) skin: String,
    pub(crate) hair: String,
    /// Each person's own tape, which is also the colour of their clothes.
    pub(crate) tape: [String; 2],
    /// How much wider lines are drawn: more in sunlight.
    pub(crate) heavier: bool,
}

impl Palette {
    /// The colours that the page shows now; nothing outside a browser.
    pub(crate) fn current() -> Option<Self> {
        let window = web_sys::window()?;
        let root = window.document()?.document_element()?;
        let style = window.get_computed_style(&root).ok()??;
        let style: web_sys::CssStyleDeclaration = style.unchecked_into();
        let colour = |name: &str| {
            style.get_property_value(name).map(|text| text.trim().to_owned()).unwrap_or_default()
        };
        Some(Self {
            ground: colour("--ground"),
            ink: colour("--ink"),
            quiet: colour("--quiet"),
            line: colour("--line"),
            accent: colour("--accent"),
            bad: colour("--bad"),
            sky: colour("--sky"),
            far: colour("--far"),
            floor: colour("--floor"),
            floor_line: colour("--floor-line"),
            studio: colour("--studio"),
            chalk: colour("--chalk"),
            chalk_quiet: colour("--chalk-quiet"),
            skin: colour("--skin"),
            hair: colour("--hair"),
            tape: [colour("--tape-1"), colour("--tape-2")],
            heavier: root.get_attribute("data-theme").is_some_and(|theme| theme == "sun"),
        })
    }
}
