//! The sheets of a film as a browser prints them: on how many pages, and that nothing of them is cut in two.

#![expect(clippy::expect_used, reason = "a check that cannot print has failed")]

use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result, ensure};
use checks::visit;
use film::{DayPlan, Daylights, Rehearsals, SheetDay, SheetOrder, SheetPart, Sheets, USUAL_STEP, demo_film};
use serde_json::{Value, json};
use thirtyfour::WebDriver;
use thirtyfour::common::print::{PrintMargins, PrintPage, PrintParameters};
use units::LengthUnit;

/// The looks of the sheets.
const STYLE: &str = include_str!("../web/print/print.css");

/// The margin that the style sheet asks for, millimetres.
const MARGIN_MM: f64 = 13.0;
/// Pixels of a style sheet in a millimetre.
const PX_PER_MM: f64 = 96.0 / 25.4;

/// Papers with their sides, millimetres.
const PAPERS: [(&str, f64, f64); 2] = [("A4", 210.0, 297.0), ("Letter", 215.9, 279.4)];

/// The demo film's sheets as a page, and how many cards they have. Where a picture would be, a frame is as high.
///
/// The page is served as the program's own is, whose policy allows neither script nor style within it.
fn page() -> (String, usize) {
    let film = demo_film();
    let day = film.days.first().expect("a day");
    let (daylights, mut rehearsals) = (Daylights::new(), Rehearsals::default());
    let plan = DayPlan::of(&film, day, &daylights, &mut rehearsals);
    let sheets = Sheets {
        film: &film,
        day: Some(SheetDay { number: Some(1), day, plan: &plan, daylights: &daylights }),
        parts: &SheetPart::ALL,
        order: SheetOrder::Story,
        step: USUAL_STEP,
        unit: LengthUnit::Metres,
    };
    let body = sheets.markup(&mut rehearsals, &|_| None);
    let head = "<meta charset=\"utf-8\"><link rel=\"stylesheet\" href=\"print.css\">";
    (
        format!("<!doctype html><html lang=\"en\"><head>{head}</head><body>{body}</body></html>"),
        sheets.shots().len(),
    )
}

/// What must not be cut in two, with its height and what the style says of it.
const WHOLE: &str = "
    const whole = [...document.querySelectorAll('tr, .paper-card, .paper-plan-page, .paper-call-sheet article, svg')];
    return whole.map(one => ({
        what: one.tagName + '.' + one.getAttribute('class') + ': ' + one.textContent.slice(0, 40),
        px: one.getBoundingClientRect().height,
        kept: one.tagName === 'svg' || getComputedStyle(one).breakInside === 'avoid',
        wide: one.getBoundingClientRect().right - document.documentElement.clientWidth,
    }));";

/// Lays the page out as on paper and looks at all that must stay whole.
async fn stays_whole(driver: &WebDriver, (name, wide_mm, high_mm): (&str, f64, f64)) -> Result<()> {
    let inside_px = |side_mm: f64| (side_mm - 2.0 * MARGIN_MM) * PX_PER_MM;
    let width = inside_px(wide_mm).floor();
    let metrics = json!({ "width": width, "height": 900, "deviceScaleFactor": 1, "mobile": false });
    driver.cdp().send_raw("Emulation.setDeviceMetricsOverride", metrics).await?;
    driver.cdp().send_raw("Emulation.setEmulatedMedia", json!({ "media": "print" })).await?;
    // What a browser gives the body beyond its page box is not on paper.
    driver
        .execute("document.body.style.margin = 0; document.body.style.overflow = 'hidden';", vec![])
        .await?;
    let measured = driver.execute(WHOLE, vec![]).await?;
    let all = measured.json().as_array().context("a list")?;
    ensure!(all.len() > 60, "only {} things were measured", all.len());
    for one in all {
        let number = |field: &str| one.get(field).and_then(Value::as_f64).context("a number");
        let (px, wide) = (number("px")?, number("wide")?);
        ensure!(px > 0.0 && px <= inside_px(high_mm), "{name}: {} is {px} px high", one["what"]);
        ensure!(wide <= 0.5, "{name}: {} is {wide} px wider than the paper", one["what"]);
        ensure!(one["kept"] == true, "{name}: {} may be cut in two", one["what"]);
    }
    Ok(())
}

/// How many pages a PDF has: Chromium writes each as an object of its own, not packed.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    text.matches("/Type /Page").count() - text.matches("/Type /Pages").count()
}

async fn print(driver: &WebDriver, (_, width_mm, height_mm): (&str, f64, f64)) -> Result<Vec<u8>> {
    let (width, height) = (width_mm / 10.0, height_mm / 10.0);
    let parameters = PrintParameters {
        page: PrintPage { width, height },
        margin: PrintMargins { top: 1.3, bottom: 1.3, left: 1.3, right: 1.3 },
        ..PrintParameters::default()
    };
    Ok(driver.print_page(parameters).await?)
}

#[tokio::test]
async fn sheets_are_printed_on_few_pages_with_nothing_cut_in_two() -> Result<()> {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("sheets");
    let (page, cards) = page();
    fs::create_dir_all(&folder)?;
    fs::write(folder.join("index.html"), page)?;
    fs::write(folder.join("print.css"), STYLE)?;
    visit(&folder, async |driver| {
        for paper in PAPERS {
            stays_whole(driver, paper).await?;
            let pdf = print(driver, paper).await?;
            fs::write(folder.join(format!("{}.pdf", paper.0)), &pdf)?;
            let pages = pages(&pdf);
            // At least a page a part and a scene, and two cards on a page at best; no card takes more than one.
            let (least, most) = (2 + cards.div_ceil(2) + 3, 4 + cards + 3);
            ensure!((least..=most).contains(&pages), "{}: {pages} pages, not {least} to {most}", paper.0);
        }
        Ok(())
    })
    .await
}
