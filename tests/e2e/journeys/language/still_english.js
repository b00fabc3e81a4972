// What is still said in English: every text that is shown or read aloud and that is an English one of the catalogue, whole
// or with values in its places. What people wrote is as they wrote it.
const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
const dutch = new Set(Object.values(CATALOGUE));
const english = new Set();
const patterns = [];
for (const [key, said] of Object.entries(CATALOGUE)) {
  const text = key.split("\u0004").at(-1).trim();
  if (text === said.trim() || !/[a-z]{3}/i.test(text)) continue;
  if (!/\{\w+\}/.test(text)) {
    english.add(text);
    continue;
  }
  const parts = text.split(/\{\w+\}/);
  // Without a few words of its own a text would be found in any other.
  if (parts.join("").match(/[a-z]+/gi)?.some((word) => word.length > 4)) {
    patterns.push(new RegExp(`^${parts.map(escaped).join(".+")}$`));
  }
}
const found = new Set();
const look = (text) => {
  const plain = text.replaceAll("\u00a0", " ").trim();
  const words = WRITTEN.reduce((words, written) => words.replaceAll(written, "…"), plain);
  if (dutch.has(words)) return;
  if (english.has(words) || patterns.some((pattern) => pattern.test(words))) found.add(words);
};
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
while (walker.nextNode()) {
  if (!walker.currentNode.parentElement.closest("script, textarea")) look(walker.currentNode.data);
}
for (const one of document.querySelectorAll("body *")) {
  for (const name of ["aria-label", "title", "placeholder", "alt"]) look(one.getAttribute(name) ?? "");
}
return [...found];
