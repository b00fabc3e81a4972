//! Nothing that was done is lost: not when the program stops, nor when the browser's storage is full, refused, cleared or
//! held by another tab, nor by a clock that is set or a device that is put to sleep in the middle of saving.
//!
//! The page has nothing in it that fails on purpose. What a browser offers is broken from outside instead, as broken
//! browsers do it: an element that cannot be made ends whatever module asks for it.

use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use checks::Browser;
use serde_json::{Value, json};

use crate::set::wait_until;

const PATIENCE: Duration = Duration::from_secs(15);
const SAVED: &str = "Saved on this device";

/// The next element that the named module makes cannot be made: every way to make one throws, once, when it is its turn.
fn break_elements(module: &str) -> String {
    format!(
        "const ways = [[Document.prototype, 'createElement'], [Document.prototype, 'createElementNS'],
             [Document.prototype, 'createTextNode'], [Document.prototype, 'createComment'], [Node.prototype, 'cloneNode'],
             [Document.prototype, 'importNode']];
         const were = ways.map(([of, name]) => of[name]);
         const mend = () => ways.forEach(([of, name], at) => {{ of[name] = were[at]; }});
         ways.forEach(([of, name], at) => {{
             of[name] = function (...given) {{
                 if (!new Error().stack.includes('{module}')) return were[at].apply(this, given);
                 mend();
                 throw new Error('broken from outside');
             }};
         }});"
    )
}

/// What is refused to the page before it runs.
const DENIED: &str = "
    for (const name of ['indexedDB', 'localStorage']) {
        Object.defineProperty(window, name, {
            configurable: true,
            get() { throw new DOMException('refused here', 'SecurityError'); },
        });
    }";

/// Somebody holds the database and does not let go: it neither writes nor refuses. Meanwhile nobody waits as long as they
/// would.
const SILENT: &str = "
    const later = setTimeout;
    window.setTimeout = (act, ms, ...given) => later(act, ms / 20, ...given);
    return new Promise((done) => {
        const request = indexedDB.open('tapemark');
        request.onsuccess = () => {
            const database = request.result;
            const films = database.transaction([...database.objectStoreNames], 'readwrite').objectStore('films');
            films.transaction.oncomplete = () => database.close();
            const hold = () => { if (!window.isFree) films.get(0).onsuccess = hold; };
            hold();
            done();
        };
    })";

/// Keeps the last file that is offered.
const LISTEN: &str = "
    const make = URL.createObjectURL;
    URL.createObjectURL = (file) => { window.offered = file; return make.call(URL, file); }";

async fn title(browser: &Browser) -> Result<String> {
    Ok(browser.find("textbox", "Title").await?.prop("value").await?.unwrap_or_default())
}

/// Waits until the film on the screen has that title.
async fn wait_for_title(browser: &Browser, wanted: &str) -> Result<()> {
    let start = Instant::now();
    loop {
        let found = title(browser).await?;
        if found == wanted {
            return Ok(());
        }
        ensure!(start.elapsed() < PATIENCE, "the film is called {found:?} and not {wanted:?}");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

/// Whether a script says yes.
fn is_so(answer: &Value) -> bool {
    *answer == true
}

/// The file that was offered last holds those words.
async fn ensure_offered(browser: &Browser, words: &str) -> Result<()> {
    let text = browser.script("return window.offered.text()").await?;
    ensure!(text.as_str().is_some_and(|text| text.contains(words)), "the file is another: {text}");
    Ok(())
}

/// What the sheet of a shot of the second scene holds, once it is open.
async fn shot_sheet(browser: &Browser) -> Result<String> {
    let held = "
        const sheet = document.querySelectorAll('main section.scene')[1]?.querySelector('dialog[open]');
        const parts = [...sheet?.querySelectorAll('textarea, [aria-pressed=true]') ?? []];
        return parts.map((one) => one.value || one.textContent).join()";
    let told = wait_until(browser, "no sheet is open", held, |told| *told != "").await?;
    Ok(told.to_string())
}

/// Writes a title and goes on at once.
async fn call_it(browser: &Browser, title: &str) -> Result<()> {
    browser.fill("textbox", "Title", title).await
}

async fn start_a_film(browser: &Browser, title: &str) -> Result<()> {
    browser.click("button", "Story").await?;
    browser.click("button", "Start a film").await?;
    call_it(browser, title).await?;
    browser.wait_for_text(SAVED).await
}

async fn cdp(browser: &Browser, command: &str, parameters: Value) -> Result<()> {
    browser.driver().cdp().send_raw(command, parameters).await?;
    Ok(())
}

/// The panel, and the line of it for whoever mends it.
async fn wait_for_panel(browser: &Browser) -> Result<String> {
    browser.find("alertdialog", "The page has stopped").await?;
    let line = browser.find("textbox", "For whoever mends it").await?.prop("value").await?;
    Ok(line.unwrap_or_default())
}

/// Presses what reloads, and waits for a page without the panel.
async fn reload_from_panel(browser: &Browser) -> Result<()> {
    browser.click("button", "Reload").await?;
    let start = Instant::now();
    let is_back = "return document.querySelector('main') && !document.querySelector('#failed').open";
    while browser.script(is_back).await.ok().and_then(|is| is.as_bool()) != Some(true) {
        ensure!(start.elapsed() < PATIENCE, "the page does not come back");
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    Ok(())
}

/// A panic in either module shows what happened, and one tap leads back to the same place with everything that was done.
pub(crate) async fn a_panic_costs_nothing(browser: &mut Browser) -> Result<()> {
    // The later module, on a film, far down on it, in the middle of a word.
    browser.click("button", "Story").await?;
    browser.click("button", "Look at an invented one").await?;
    browser.find("textbox", "Title").await?;
    browser.wait_for_text(SAVED).await?;
    let far = browser.find("textbox", "Name of scene 2").await?;
    far.scroll_into_view().await?;
    let seen = "const scene = document.querySelectorAll('main section.scene')[1].getBoundingClientRect();
        return scene.top < innerHeight && scene.bottom > 0";
    far.send_keys("x").await?;
    browser.script(&break_elements("later_bg.wasm")).await?;
    far.send_keys("y").await?;
    browser.script("[...document.querySelectorAll('button')].find(({ textContent }) => textContent === 'Add a scene').click()").await?;
    let line = wait_for_panel(browser).await?;
    ensure!(line.contains(".rs:"), "the line says no place: {line}");
    browser.screenshot("panic").await?;
    let barriers = browser.barriers().await?;
    ensure!(barriers.is_empty(), "{barriers:?}");
    reload_from_panel(browser).await?;
    let kept = browser.find("button", "Undo: Add a scene").await;
    ensure!(kept.is_ok(), "what was done last is gone: {:?}", browser.labels("button").await?);
    wait_until(browser, "it is not where it was", seen, is_so).await?;
    browser.screenshot("panic-after").await?;

    // The first module, with something that was chosen a moment before.
    browser.click("button", "Set-up").await?;
    browser.find("button", "tight").await?;
    browser.script(&break_elements("web_bg.wasm")).await?;
    browser.script("[...document.querySelectorAll('button')].find(({ textContent }) => textContent === 'tight').click()").await?;
    browser.script("[...document.querySelectorAll('.door')].find(({ textContent }) => textContent === 'Kit').click()").await?;
    let line = wait_for_panel(browser).await?;
    ensure!(line.contains(".rs:"), "the line says no place: {line}");
    browser.screenshot("panic-first").await?;
    reload_from_panel(browser).await?;
    let kept = "return JSON.parse(localStorage['tapemark.setup']).shot.shot_size";
    let kept = browser.script(kept).await?;
    ensure!(kept == "tight", "the size that was chosen is {kept}");

    // A trap that no program sees coming, over a shot's sheet, once the page has forgotten the failure before.
    wait_until(browser, "it still comes back", "return history.state === null", is_so).await?;
    browser.click("button", "Story").await?;
    browser.find("textbox", "Name of scene 2").await?.scroll_into_view().await?;
    let open =
        "const shot = document.querySelectorAll('main section.scene')[1]?.querySelectorAll('.shot-main')[1];
        shot?.click();
        return Boolean(shot)";
    wait_until(browser, "the second scene shows no second shot", open, is_so).await?;
    let sheet = shot_sheet(browser).await?;
    let trap = "const error = new WebAssembly.RuntimeError('memory access out of bounds');
        dispatchEvent(new ErrorEvent('error', { error, cancelable: true }))";
    browser.script(trap).await?;
    let line = wait_for_panel(browser).await?;
    ensure!(line.contains("memory access"), "{line}");
    ensure!(browser.text().await?.contains("last second"), "it promises too much");
    reload_from_panel(browser).await?;
    let again = shot_sheet(browser).await?;
    ensure!(again == sheet, "the sheet was {sheet} and is {again}");
    browser.screenshot("panic-sheet").await.map(drop)
}

/// Full, refused and cleared storage: the page goes on, says what to do, and keeps what it can as soon as it can.
pub(crate) async fn storage_fails(browser: &mut Browser) -> Result<()> {
    start_a_film(browser, "Before").await?;
    let origin = browser.script("return location.origin").await?;

    // Full: both kinds, as a browser that has no room says it.
    let full = "
        window.real = [IDBObjectStore.prototype.put, Storage.prototype.setItem];
        const full = function () { throw new DOMException('no room', 'QuotaExceededError'); };
        IDBObjectStore.prototype.put = full;
        Storage.prototype.setItem = full;";
    browser.script(full).await?;
    call_it(browser, "While it was full").await?;
    browser.wait_for_text("no more room").await?;
    browser.wait_for_text("save the film as a file").await?;
    browser.screenshot("storage-full").await?;
    // A panic now: what is not kept is handed over.
    browser.script("panicked('of a journey')").await?;
    let saved = browser.script("return document.querySelector('#failed a')?.download").await?;
    ensure!(saved == "tapemark-while-it-was-full.json", "the panel offers {saved}");
    browser.script("document.querySelector('#failed a').remove()").await?;
    browser.script("[IDBObjectStore.prototype.put, Storage.prototype.setItem] = window.real").await?;
    browser.wait_for_text(SAVED).await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    wait_for_title(browser, "While it was full").await?;

    // Silent: the film can be had as a file at once, and is kept as soon as anything is.
    browser.script(SILENT).await?;
    call_it(browser, "While it was silent").await?;
    browser.wait_for_text("storage does not answer").await?;
    browser.screenshot("storage-silent").await?;
    browser.script(LISTEN).await?;
    browser.click("button", "Save the film as a file").await?;
    browser.wait_for_text("went to the browser").await?;
    ensure_offered(browser, "While it was silent").await?;
    browser.script("window.isFree = true").await?;
    browser.wait_for_text(SAVED).await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    wait_for_title(browser, "While it was silent").await?;

    // Cleared in the middle of work.
    cdp(
        browser,
        "Storage.clearDataForOrigin",
        json!({ "origin": origin, "storageTypes": "indexeddb,local_storage" }),
    )
    .await?;
    call_it(browser, "After it was cleared").await?;
    browser.wait_for_text(SAVED).await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    wait_for_title(browser, "After it was cleared").await?;
    browser.find("button", "Undo: Change the title").await?;

    // Another page wants another form of the database: this one lets go, with everything written, and says so.
    call_it(browser, "Before the newer one").await?;
    let newer = "return new Promise((done) => {
        const request = indexedDB.open('tapemark', 2);
        request.onblocked = () => done('blocked');
        request.onsuccess = () => { request.result.close(); done('open'); };
    })";
    let newer = browser.script(newer).await?;
    ensure!(newer == "open", "the other page is {newer}");
    browser.wait_for_text("has the films now").await?;
    browser.screenshot("storage-newer").await?;
    let kept = "return new Promise((done) => {
        const request = indexedDB.open('tapemark');
        request.onsuccess = () => {
            const database = request.result;
            const all = database.transaction('films').objectStore('films').getAll();
            all.onsuccess = () => { database.close(); done(all.result.map(({ title }) => title).join()); };
        };
    })";
    let kept = browser.script(kept).await?;
    ensure!(kept == "Before the newer one", "the newer page finds {kept}");
    browser.reload().await?;
    browser.click("button", "Story").await?;
    browser.wait_for_text("newer version of this page").await?;

    // Refused, as in some private windows.
    cdp(browser, "Page.addScriptToEvaluateOnNewDocument", json!({ "source": DENIED })).await?;
    browser.reload().await?;
    browser.wait_for_text("This browser keeps nothing for this page").await?;
    browser.click("button", "Story").await?;
    browser.click("button", "Start a film").await?;
    call_it(browser, "In memory only").await?;
    browser.wait_for_text("save the film as a file to keep it").await?;
    browser.screenshot("storage-denied").await?;
    browser.script(LISTEN).await?;
    browser.script("panicked('of a journey')").await?;
    let saved = browser.script("return document.querySelector('#failed a')?.download").await?;
    ensure!(saved == "tapemark-in-memory-only.json", "the panel offers {saved}");
    ensure_offered(browser, "In memory only").await
}

/// Two tabs on one film, a clock that is set, and a device that sleeps in the middle of saving.
pub(crate) async fn tabs_clocks_and_sleep(browser: &mut Browser) -> Result<()> {
    start_a_film(browser, "In the first tab").await?;
    let first = browser.driver().window().await?;
    let second = browser.driver().new_tab().await?;
    browser.driver().switch_to_window(second).await?;
    browser.open("").await?;
    browser.click("button", "Story").await?;
    wait_for_title(browser, "In the first tab").await?;
    browser.wait_for_text("open in another tab").await?;
    browser.screenshot("second-tab").await?;
    // The second follows the first when it is looked at.
    browser.driver().switch_to_window(first.clone()).await?;
    call_it(browser, "Changed in the first tab").await?;
    browser.wait_for_text(SAVED).await?;
    let windows = browser.driver().windows().await?;
    let Some(second) = windows.into_iter().find(|window| *window != first) else {
        anyhow::bail!("one window")
    };
    browser.driver().switch_to_window(second.clone()).await?;
    browser.script("dispatchEvent(new Event('focus'))").await?;
    wait_for_title(browser, "Changed in the first tab").await?;
    // It goes on with it when the first has gone.
    browser.driver().switch_to_window(first).await?;
    browser.driver().close_window().await?;
    browser.driver().switch_to_window(second.clone()).await?;
    browser.wait_for_text(SAVED).await?;
    call_it(browser, "Gone on in the second tab").await?;
    browser.wait_for_text(SAVED).await?;

    // The clock is put back by a year, and another film is begun: that one is there after a reload, not the other.
    browser.script("const real = Date.now; Date.now = () => real() - 31536000000").await?;
    browser.click("button", "Film and files").await?;
    browser.click("button", "Put this film away").await?;
    browser.click("button", "Start a film").await?;
    call_it(browser, "Of last year").await?;
    browser.wait_for_text(SAVED).await?;
    browser.script("const real = Date.now; Date.now = () => real() + 63072000000").await?;
    call_it(browser, "Of next year").await?;
    browser.wait_for_text(SAVED).await?;
    browser.reload().await?;
    browser.click("button", "Story").await?;
    wait_for_title(browser, "Of next year").await?;

    // Asleep at once after a change, and ended without another word.
    let quiet = browser.driver().new_tab().await?;
    browser.driver().switch_to_window(second).await?;
    call_it(browser, "Asleep in the middle of sav").await?;
    browser.find("textbox", "Title").await?.send_keys("ing").await?;
    cdp(browser, "Page.setWebLifecycleState", json!({ "state": "frozen" })).await?;
    drop(browser.driver().cdp().send_raw("Page.crash", json!({})).await);
    browser.driver().switch_to_window(quiet).await?;
    browser.open("").await?;
    browser.click("button", "Story").await?;
    wait_for_title(browser, "Asleep in the middle of saving").await
}
