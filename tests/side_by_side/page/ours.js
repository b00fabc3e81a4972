// Our tracer in as many workers as the page would have, each with every so manyth strip.
const STRIP_ROWS = 16;
const PARTS = Math.min(navigator.hardwareConcurrency, 8);

let workers = [];

const answer = (worker) => new Promise((heard, failed) => {
    worker.onmessage = ({ data }) => heard(data);
    worker.onerror = ({ message }) => failed(new Error(message));
});

/** Starts the workers. */
export const start = async () => {
    workers = Array.from({ length: PARTS }, () => new Worker("worker.js", { type: "module" }));
    await Promise.all(workers.map(answer));
};

/** Draws a scene up to each number of samples in turn; every picture with the milliseconds since the change. */
export const draw = async (scene, scale, ladder) => {
    const [width, height] = scene.size_px.map((side) => side * scale);
    const canvas = document.querySelector("#ours");
    Object.assign(canvas, { width, height });
    const context = canvas.getContext("2d");
    const steps = [];
    const changed = performance.now();
    for (const samples of ladder) {
        await Promise.all(workers.map(async (worker, part) => {
            const begin = steps.length === 0 ? { scene, scale, part, parts: PARTS } : null;
            worker.postMessage({ begin, samples });
            const rgba = new Uint8ClampedArray(await answer(worker));
            for (let row = part * STRIP_ROWS, from = 0; row < height; row += PARTS * STRIP_ROWS) {
                const rows = Math.min(STRIP_ROWS, height - row), bytes = rows * width * 4;
                context.putImageData(new ImageData(rgba.subarray(from, from + bytes), width, rows), 0, row);
                from += bytes;
            }
        }));
        steps.push({ samples, at_ms: performance.now() - changed, pixels: null });
        const paused = performance.now();
        steps.at(-1).pixels = context.getImageData(0, 0, width, height).data;
        // Reading it back is not part of showing it.
        steps.at(-1).read_ms = performance.now() - paused;
    }
    let read_ms = 0;
    for (const step of steps) {
        step.at_ms -= read_ms;
        read_ms += step.read_ms;
    }
    return steps;
};
