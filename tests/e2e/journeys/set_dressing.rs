//! A set is dressed: pieces and people come, are moved, turned, taken back and kept; ready-made places; the light.

use anyhow::{Context as _, Result, ensure};
use checks::Browser;
use serde_json::json;
use thirtyfour::prelude::*;

/// Presses the button whose label contains `words`.
async fn tap(browser: &Browser, words: &str) -> Result<()> {
    let button = browser.find_containing("button", words).await?;
    button.scroll_into_view().await?;
    button.click().await?;
    Ok(())
}

/// The floor plan in words.
async fn floor(browser: &Browser) -> Result<String> {
    let plan = browser.find_containing("image", "Floor plan").await?;
    Ok(plan.attr("aria-label").await?.unwrap_or_default())
}

/// What is said of one thing on the floor, such as "2.10 m behind them, 0.30 m right".
async fn place_of(browser: &Browser, name: &str) -> Result<String> {
    let told = floor(browser).await?;
    let found = told.split_once(&format!("{name} ")).map(|(_, rest)| rest);
    let place = found
        .and_then(|rest| rest.split([';', '.']).collect::<Vec<_>>().get(..3).map(|parts| parts.join(".")));
    place.with_context(|| format!("no {name} on the floor: {told}"))
}

/// Unfolds what is folded under a heading.
async fn unfold(browser: &Browser, words: &str) -> Result<()> {
    for heading in browser.driver().find_all(By::Css(".fold summary")).await? {
        if heading.text().await?.contains(words) {
            heading.scroll_into_view().await?;
            heading.click().await?;
            return Ok(());
        }
    }
    anyhow::bail!("nothing is folded under {words}")
}

/// A bench appears behind them and is chosen; a hand moves it; what was done is taken back step by step.
pub(crate) async fn a_piece_comes_and_is_dragged(browser: &mut Browser) -> Result<()> {
    tap(browser, "Dress the set").await?;
    browser.screenshot("set-dressing-sheet").await?;
    tap(browser, "bench").await?;
    let first = place_of(browser, "bench").await?;
    ensure!(first.contains("behind them"), "the bench stands {first}");
    browser.find("button", "Remove bench").await?;
    // What is looked at closer comes to the middle.
    tap(browser, "Zoom in").await?;
    let plan = browser.find_containing("image", "Floor plan").await?;
    browser.drag(&plan, 40, -30).await?;
    let dragged = place_of(browser, "bench").await?;
    ensure!(dragged != first, "the bench still stands {dragged}");
    browser.screenshot("set-dressing-bench").await?;
    tap(browser, "Undo").await?;
    let back = place_of(browser, "bench").await?;
    ensure!(back == first, "the bench was {first} and is {back}");
    tap(browser, "Undo").await?;
    let told = floor(browser).await?;
    ensure!(!told.contains("bench"), "the bench is still there: {told}");
    Ok(())
}

/// Two fingers that part look closer, and what is seen fits again at a tap.
pub(crate) async fn two_fingers_look_closer(browser: &mut Browser) -> Result<()> {
    if browser.script("return navigator.maxTouchPoints > 0").await? == false {
        return Ok(());
    }
    let plan = browser.find_containing("image", "Floor plan").await?;
    plan.scroll_into_view().await?;
    let middle = "const { x, y, width, height } = arguments[0].getBoundingClientRect();
        return [x + width / 2, y + height / 2];";
    let (x, y): (f64, f64) = browser.driver().execute(middle, vec![plan.to_json()?]).await?.convert()?;
    ensure!(!browser.labels("button").await?.contains(&"Fit".to_owned()), "it does not fit at first");
    for (kind, apart) in [("touchStart", 40.0), ("touchMove", 50.0), ("touchMove", 80.0), ("touchEnd", 0.0)] {
        let fingers =
            [json!({ "x": x - apart, "y": y, "id": 1 }), json!({ "x": x + apart, "y": y, "id": 2 })];
        let points = if kind == "touchEnd" { json!([]) } else { json!(fingers) };
        let event = json!({ "type": kind, "touchPoints": points });
        browser.driver().cdp().send_raw("Input.dispatchTouchEvent", event).await?;
    }
    tap(browser, "Fit").await?;
    Ok(())
}

/// One tap fills the set; a reload keeps it; clearing it can be taken back.
pub(crate) async fn a_place_is_ready_made(browser: &mut Browser) -> Result<()> {
    for place in ["Kitchen by a window", "Park path", "Street corner at dusk"] {
        tap(browser, "Dress the set").await?;
        tap(browser, place).await?;
        browser.wait_for_text("Light: ").await?;
    }
    browser.wait_for_text("Light: dusk").await?;
    let told = floor(browser).await?;
    for name in ["doorway", "window", "car", "lamp post 2", "string of lights", "somebody"] {
        ensure!(told.contains(&format!("{name} ")), "no {name} in {told}");
    }
    browser.screenshot("set-dressing-street").await?;
    browser.reload().await?;
    let kept = floor(browser).await?;
    ensure!(kept == told, "{told} became {kept}");
    tap(browser, "Dress the set").await?;
    tap(browser, "Clear the set").await?;
    let cleared = floor(browser).await?;
    ensure!(!cleared.contains("On the floor"), "still there: {cleared}");
    tap(browser, "Undo").await?;
    let again = floor(browser).await?;
    ensure!(again == told, "{told} came back as {again}");
    Ok(())
}

/// Without a pointer: somebody comes, is turned, moved, dressed and removed.
pub(crate) async fn a_set_is_dressed_by_keys(browser: &mut Browser) -> Result<()> {
    press(browser, "Dress the set").await?;
    press(browser, "child, walking").await?;
    let first = place_of(browser, "child").await?;
    let turned = browser.find("slider", "Faces").await?;
    let before = turned.attr("aria-valuetext").await?;
    turned.focus().await?;
    turned.send_keys(Key::Left + "").await?;
    ensure!(turned.attr("aria-valuetext").await? != before, "the child still faces {before:?}");
    press(browser, "Sideways: more").await?;
    let moved = place_of(browser, "child").await?;
    ensure!(moved != first, "the child still stands {moved}");
    press(browser, "plum").await?;
    let plum = browser.find("button", "plum").await?;
    ensure!(plum.attr("aria-pressed").await?.as_deref() == Some("true"), "the child does not wear plum");
    press(browser, "Undo").await?;
    press(browser, "Undo").await?;
    let back = place_of(browser, "child").await?;
    ensure!(back == first, "the child was {first} and is {back}");
    press(browser, "Remove child").await?;
    press(browser, "Undo").await?;
    // Who is not chosen is found by name.
    let child = browser.find("button", "child").await?;
    ensure!(child.attr("aria-pressed").await?.as_deref() == Some("false"), "the child is chosen already");
    press(browser, "child").await?;
    browser.find("button", "Remove child").await?;
    Ok(())
}

/// Presses the one button with that label by a key.
async fn press(browser: &Browser, label: &str) -> Result<()> {
    let button = browser.find("button", label).await?;
    button.focus().await?;
    button.send_keys(Key::Enter + "").await?;
    Ok(())
}

/// The phone goes round: a tree that was behind them is then before them, and they face as they did.
pub(crate) async fn a_phone_goes_round_a_set(browser: &mut Browser) -> Result<()> {
    tap(browser, "Dress the set").await?;
    browser.click("button", "tree").await?;
    let behind = place_of(browser, "tree").await?;
    ensure!(behind.contains("behind them"), "the tree stands {behind}");
    unfold(browser, "Move by steps").await?;
    let faces = browser.find("slider", "They face").await?;
    let before = faces.attr("aria-valuetext").await?.unwrap_or_default();
    let round = browser.find("slider", "Phone goes round them").await?;
    round.focus().await?;
    round.send_keys(Key::Home + "").await?;
    let now = place_of(browser, "tree").await?;
    ensure!(now.contains("before them"), "the tree stands {now}");
    let after = faces.attr("aria-valuetext").await?.unwrap_or_default();
    ensure!(before.starts_with("20°") && after.starts_with("away"), "they faced {before} and face {after}");
    Ok(())
}

/// A low sun behind them is in the frame, and the page says what to mind.
pub(crate) async fn a_sun_behind_them_is_cautioned(browser: &mut Browser) -> Result<()> {
    unfold(browser, "Light: ").await?;
    let from = browser.find("slider", "The sun comes").await?;
    let height = browser.find("slider", "The sun's height").await?;
    height.focus().await?;
    height.send_keys(Key::Home + "").await?;
    ensure!(!browser.text().await?.contains("The sun is in the frame"), "cautioned too early");
    from.focus().await?;
    for _ in 0..40 {
        if from.attr("aria-valuetext").await?.as_deref() == Some("from behind them") {
            break;
        }
        from.send_keys(Key::Right + "").await?;
    }
    browser.wait_for_text("The sun is in the frame").await?;
    browser.wait_for_text("burn eyes and sensors").await?;
    tap(browser, "overcast").await?;
    browser.wait_for_text("Light: overcast").await?;
    browser.wait_until_gone("The sun is").await?;
    tap(browser, "Undo").await?;
    browser.wait_for_text("The sun is in the frame").await?;
    Ok(())
}

/// No barrier in a dressed set with something chosen, nor on the sheet.
pub(crate) async fn no_barriers(browser: &mut Browser) -> Result<()> {
    tap(browser, "Dress the set").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "on the sheet: {barriers:?}");
    tap(browser, "Kitchen by a window").await?;
    unfold(browser, "Light: ").await?;
    for colours in ["paper", "studio", "sun"] {
        tap(browser, "Menu").await?;
        browser.click("button", colours).await?;
        tap(browser, "Done").await?;
        browser.click("button", "somebody").await?;
        let barriers = browser.barriers().await?;
        ensure!(barriers.is_empty(), "in {colours}: {barriers:?}");
        browser.screenshot(&format!("set-dressing-{colours}")).await?;
        browser.click("button", "somebody").await?;
    }
    let overflow = browser.script("return document.documentElement.scrollWidth - innerWidth").await?;
    ensure!(overflow.as_i64() <= Some(0), "the page is {overflow} px too wide");
    Ok(())
}
