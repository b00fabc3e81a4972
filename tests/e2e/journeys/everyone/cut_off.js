// The body of a function that lists what of the page (or of the sheet that lies over it) is cut off, lies beyond the window, or
// has another text over it. What scrolls sideways by itself, as rows of lenses do, is whole.
const found = [];
const root = [...document.querySelectorAll('dialog[open]')].pop() ?? document.body;
const width = document.documentElement.clientWidth;
const style = (one) => getComputedStyle(one);
const name = (one) => [one.tagName.toLowerCase(), ...one.classList].join('.');
const told = (one) => `${name(one.parentElement)} > ${name(one)}: ${one.textContent.trim().slice(0, 60)}`;
// Canvases draw their own, papers have the size of paper, and what nobody sees is not cut off.
const isSeen = (one) => one.checkVisibility({ visibilityProperty: true, opacityProperty: true })
    && !one.closest('.unseen, .day-drawing, .day-sheets, .drawing, option, script, noscript');
const upwards = function* (one) {
    for (let at = one; at && at !== document.documentElement; at = at.parentElement) yield at;
};
const scroller = (one) => [...upwards(one)].find((at) => at.tagName !== 'DIALOG'
    && ['auto', 'scroll'].includes(style(at).overflowX) && at.scrollWidth > at.clientWidth);

if (root === document.body && document.scrollingElement.scrollWidth > innerWidth) {
    found.push(`the page is ${document.scrollingElement.scrollWidth} px wide`);
}
if (root !== document.body && root.scrollWidth > root.clientWidth + 1) {
    found.push(`the sheet is ${root.scrollWidth} px wide in ${root.clientWidth}`);
}

const texts = [];
const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
while (walker.nextNode()) {
    const node = walker.currentNode;
    if (!node.data.trim() || !isSeen(node.parentElement)) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
        if (box.width > 0 && box.height > 0) texts.push([box, node.parentElement]);
    }
}
for (const [box, one] of texts) {
    if (scroller(one)) continue;
    if (box.right > width + 1 || box.left < -1) found.push(`beyond the window: ${told(one)}`);
    // What is above or below where something scrolls is only farther on, and a sheet lies over all that it stands in.
    let isScrolled = false;
    for (const around of upwards(one)) {
        const edge = around.getBoundingClientRect();
        isScrolled ||= ['auto', 'scroll'].includes(style(around).overflowY);
        const isHidden = (way) => ['hidden', 'clip'].includes(way);
        const isCut = (isHidden(style(around).overflowX) && (box.right > edge.right + 1.5 || box.left < edge.left - 1.5))
            || (!isScrolled && isHidden(style(around).overflowY) && around.clientHeight > 0
                && (box.bottom > edge.bottom + 3 || box.top < edge.top - 3))
            || (!isScrolled && style(around).clipPath !== 'none' && (box.right > edge.right + 1 || box.bottom > edge.bottom + 1));
        if (isCut) {
            found.push(`cut off by ${name(around)}: ${told(one)}`);
        }
        if (isCut || around === root) break;
    }
}
for (const one of root.querySelectorAll('button, summary, label, legend, dt, dd, th, td, h1, h2, h3, p, li, figcaption')) {
    if (!isSeen(one) || scroller(one) || style(one).display === 'inline' || one.clientWidth === 0) continue;
    if (one.scrollWidth > one.clientWidth + 1) found.push(`${one.scrollWidth} px in ${one.clientWidth}: ${told(one)}`);
}

// What stays in its place while the rest scrolls lies over it on purpose.
const stays = (one) => [...upwards(one)].some((at) => at !== root && ['fixed', 'sticky'].includes(style(at).position));
const loose = texts.filter(([, one]) => !stays(one)).sort(([a], [b]) => a.top - b.top);
for (const [at, [box, one]] of loose.entries()) {
    for (const [other, two] of loose.slice(at + 1)) {
        if (other.top >= box.bottom) break;
        const wide = Math.min(box.right, other.right) - Math.max(box.left, other.left);
        const high = Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top);
        const lies = one !== two && wide > 2 && high > Math.min(box.height, other.height) * 0.45;
        if (lies && scroller(one) === scroller(two)) found.push(`${told(one)} lies over ${told(two)}`);
    }
}
return [...new Set(found)].slice(0, 12);
