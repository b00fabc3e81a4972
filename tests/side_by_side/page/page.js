// What the measuring program calls in the page.
import * as ours from "./ours.js";
import { Stage } from "./theirs.js";

/** Light and its byte in sRGB (IEC 61966-2-1). */
const decoded = Float32Array.from({ length: 256 }, (_, byte) => {
    const signal = byte / 255;
    return signal <= 0.04045 ? signal / 12.92 : ((signal + 0.055) / 1.055) ** 2.4;
});
const encoded = (light) => Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));

/** Red, green and blue as text, one letter a byte, of a picture whose `scale` by `scale` pixels are made one. */
const told = (pixels, [width, height], scale) => {
    const bytes = new Uint8Array(width * height * 3);
    for (let at = 0; at < width * height; at += 1) {
        const left = (at % width) * scale, top = Math.floor(at / width) * scale;
        for (let channel = 0; channel < 3; channel += 1) {
            let sum = 0;
            for (let y = 0; y < scale; y += 1) {
                for (let x = 0; x < scale; x += 1) {
                    sum += decoded[pixels[((top + y) * width * scale + left + x) * 4 + channel]];
                }
            }
            bytes[at * 3 + channel] = encoded(sum / scale ** 2);
        }
    }
    let text = "";
    for (let at = 0; at < bytes.length; at += 4096) text += String.fromCharCode(...bytes.subarray(at, at + 4096));
    return text;
};

const since = async (work) => {
    const start = performance.now();
    const made = await work();
    return [made, performance.now() - start];
};

window.sideBySide = {
    /** Milliseconds until our workers are there. */
    start: async () => (await since(ours.start))[1],

    /** Our pictures after each number of samples: [samples, milliseconds, pixels]. */
    ours: async (scene, scale, ladder) => {
        const steps = await ours.draw(scene, scale, ladder);
        return steps.map(({ samples, at_ms, pixels }) => [samples, at_ms, told(pixels, scene.size_px, scale)]);
    },

    /** Their pictures with each set of parameters; [milliseconds from nothing to the first, [milliseconds, pixels] for each]. */
    theirs: async (scene, view, scale, all) => {
        const [stage, building_ms] = await since(() => new Stage(scene, view, scale));
        const pictures = [];
        for (const parameters of all) pictures.push(await since(() => stage.draw(parameters)));
        const first_ms = building_ms + pictures[0][1];
        stage.dispose();
        return [first_ms, pictures.map(([pixels, ms]) => [ms, told(pixels, scene.size_px, scale)])];
    },
};
