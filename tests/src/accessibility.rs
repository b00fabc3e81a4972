//! What the page consists of for those who do not see it: the browser's accessibility tree.

use anyhow::Result;
use serde_json::{Value, json};
use thirtyfour::{WebDriver, WebElement};

use crate::browser::as_read;

/// A thing on the page, as a screen reader knows it.
pub(crate) struct Thing {
    /// What a screen reader would say it is called.
    pub(crate) label: String,
    /// The browser's number for the element.
    id: Value,
}

/// Everything on the page of a role, in order, without what is hidden.
pub(crate) async fn things(driver: &WebDriver, role: &str) -> Result<Vec<Thing>> {
    let cdp = driver.cdp();
    let document = cdp.send_raw("Runtime.evaluate", json!({ "expression": "document" })).await?;
    let query = json!({ "objectId": document["result"]["objectId"], "role": role });
    let found = cdp.send_raw("Accessibility.queryAXTree", query).await?;
    let nodes = found["nodes"].as_array().map(Vec::as_slice).unwrap_or_default();
    let visible = nodes.iter().filter(|node| node["ignored"] != true);
    Ok(visible
        .map(|node| Thing {
            label: as_read(node["name"]["value"].as_str().unwrap_or_default()),
            id: node["backendDOMNodeId"].clone(),
        })
        .collect())
}

impl Thing {
    /// The element that it is in the page.
    ///
    /// The protocol of the tree and that of the driver number elements differently, so it passes through a variable of the
    /// page.
    pub(crate) async fn element(&self, driver: &WebDriver) -> Result<WebElement> {
        let cdp = driver.cdp();
        let resolved = cdp.send_raw("DOM.resolveNode", json!({ "backendNodeId": self.id })).await?;
        let keep = json!({
            "objectId": resolved["object"]["objectId"],
            "functionDeclaration": "function () { globalThis.journeyElement = this; }",
        });
        cdp.send_raw("Runtime.callFunctionOn", keep).await?;
        Ok(driver.execute("return globalThis.journeyElement", Vec::new()).await?.element()?)
    }
}
