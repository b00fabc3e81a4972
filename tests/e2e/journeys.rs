//! Journeys through the built page, each as one person would make it, on a phone and on a laptop.
//!
//! To add one, write a file in `journeys/` and name it below. A journey is a function of a `Browser` that finds things by
//! role and label (`browser.click("button", "Tight")`), and says with `ensure!` what a person would then see; no `assert!`,
//! since a panic would leave Chromium behind. The macro `on_every_screen!` makes two tests of it. Every journey starts
//! with an empty profile on the page's first screen, and fails for any error on the console and any request to another host,
//! without asking. `browser.screenshot(name)` saves what the screen shows in `target/screenshots`.
//!
//! `cargo xtask test` builds the page first; while writing one, `cargo xtask build` and then
//! `cargo test -p checks --features browser --test journeys NAME` is quicker.

#[path = "journeys/first_load.rs"]
mod first_load;

/// Makes a test of a journey for each screen.
macro_rules! on_every_screen {
    ($($journey:path => $phone:ident, $laptop:ident;)*) => {
        $(
            #[tokio::test]
            async fn $phone() -> anyhow::Result<()> {
                checks::journey(checks::Screen::PHONE, stringify!($phone), $journey).await
            }

            #[tokio::test]
            async fn $laptop() -> anyhow::Result<()> {
                checks::journey(checks::Screen::LAPTOP, stringify!($laptop), $journey).await
            }
        )*
    };
}

on_every_screen! {
    first_load::page_opens => page_opens_on_a_phone, page_opens_on_a_laptop;
}
