// Draws one part of a scene's picture.
import init, { Part } from "./drawer/scene_drawer.js";

let part = null;
onmessage = ({ data }) => {
    if (data.begin) {
        part?.free();
        part = new Part(data.begin.scene, data.begin.scale, data.begin.part, data.begin.parts);
    }
    const rgba = part.draw(data.samples);
    postMessage(rgba.buffer, [rgba.buffer]);
};
init().then(() => postMessage(null));
