// The same scene with a general-purpose 3D library and its own depth-of-field pass.
import {
    BackSide, BoxGeometry, Color, CylinderGeometry, DirectionalLight,
    HalfFloatType, HemisphereLight, LatheGeometry, LinearSRGBColorSpace, Matrix4, Mesh, MeshBasicMaterial, MeshLambertMaterial,
    PCFSoftShadowMap, PerspectiveCamera, PlaneGeometry, Quaternion, Scene, SphereGeometry, Vector2, Vector3, WebGLRenderer,
    WebGLRenderTarget,
} from "three";
import { BokehPass } from "three/examples/jsm/postprocessing/BokehPass.js";
import { EffectComposer } from "three/examples/jsm/postprocessing/EffectComposer.js";
import { OutputPass } from "three/examples/jsm/postprocessing/OutputPass.js";
import { RenderPass } from "three/examples/jsm/postprocessing/RenderPass.js";

// Fine enough to stay within a tenth of a pixel of a round outline.
const AROUND = 64, ALONG = 32;
// Farther than every corner of a scene.
const FAR_M = 700;

const linear = (rgb) => new Color().setRGB(...rgb, LinearSRGBColorSpace);

/** Right, forward and up of what looks along an azimuth (clockwise from north) and a tilt (up positive). */
const directions = (azimuth_deg, tilt_deg) => {
    const a = azimuth_deg * Math.PI / 180, t = tilt_deg * Math.PI / 180;
    return [
        new Vector3(Math.cos(a), -Math.sin(a), 0),
        new Vector3(Math.sin(a) * Math.cos(t), Math.cos(a) * Math.cos(t), Math.sin(t)),
        new Vector3(-Math.sin(a) * Math.sin(t), -Math.cos(a) * Math.sin(t), Math.cos(t)),
    ];
};

const roundCone = ({ from_m, from_radius_m: r1, to_m, to_radius_m: r2 }) => {
    const from = new Vector3(...from_m), axis = new Vector3(...to_m).sub(from);
    const length = axis.length(), meet = Math.acos((r1 - r2) / length);
    const profile = [];
    for (let at = 0; at <= ALONG; at += 1) {
        const t = Math.PI + (meet - Math.PI) * at / ALONG;
        profile.push(new Vector2(Math.max(r1 * Math.sin(t), 0), r1 * Math.cos(t)));
    }
    for (let at = 0; at <= ALONG; at += 1) {
        const t = meet * (1 - at / ALONG);
        profile.push(new Vector2(r2 * Math.sin(t), length + r2 * Math.cos(t)));
    }
    const turn = new Quaternion().setFromUnitVectors(new Vector3(0, 1, 0), axis.divideScalar(length));
    const matrix = new Matrix4().compose(from, turn, new Vector3(1, 1, 1));
    return [new LatheGeometry(profile, AROUND), matrix];
};

const FORMS = {
    ellipsoid: () => new SphereGeometry(1, AROUND, ALONG),
    block: () => new BoxGeometry(2, 2, 2),
    cylinder: () => new CylinderGeometry(1, 1, 2, AROUND).rotateX(Math.PI / 2),
};

const solid = (shape) => {
    if (shape.round_cone) return roundCone(shape.round_cone);
    const name = Object.keys(FORMS).find((form) => shape[form]);
    const { centre_m, half_m, turn_deg = 0, lean_deg = 0 } = shape[name];
    const axes = directions(turn_deg, lean_deg).map((axis, at) => axis.multiplyScalar(half_m[at]));
    return [FORMS[name](), new Matrix4().makeBasis(...axes).setPosition(...centre_m)];
};

const places = ({ copies = [] }) => copies.reduce((before, { count, step_m }) => before.flatMap((place) =>
    Array.from({ length: count }, (_, index) => place.clone().addScaledVector(new Vector3(...step_m), index))),
[new Vector3()]);

const add = (world, shape) => {
    const [geometry, matrix] = solid(shape);
    const material = shape.glowing
        ? new MeshBasicMaterial({ color: linear(shape.glowing) })
        : new MeshLambertMaterial({ color: linear(shape.matt) });
    for (const place of places(shape)) {
        const mesh = new Mesh(geometry, material);
        mesh.matrixAutoUpdate = false;
        mesh.matrix.copy(matrix).premultiply(new Matrix4().makeTranslation(place));
        mesh.castShadow = mesh.receiveShadow = !shape.glowing;
        world.add(mesh);
    }
};

/** Sun with its shadow, sky, and what the floor gives back: a matt surface gives back its share of `light`. */
const light = (world, { lighting: { sky, sun }, floor }, middle) => {
    if (floor) {
        const mesh = new Mesh(new PlaneGeometry(800, 800), new MeshLambertMaterial({ color: linear(floor.matt) }));
        mesh.receiveShadow = true;
        world.add(mesh);
    }
    const [, towards] = sun ? directions(sun.azimuth_deg, sun.elevation_deg) : [null, null];
    const below = floor ? floor.matt.map((share, at) => share * (sky[at] + (sun ? sun.light[at] * towards.z : 0))) : sky;
    const around = new HemisphereLight(linear(sky), linear(below), Math.PI);
    around.position.set(0, 0, 1);
    world.add(around);
    if (!sun) return;
    const lamp = new DirectionalLight(linear(sun.light), Math.PI);
    lamp.position.copy(middle).addScaledVector(towards, 30);
    lamp.target.position.copy(middle);
    lamp.castShadow = true;
    lamp.shadow.mapSize.set(2048, 2048);
    Object.assign(lamp.shadow.camera, { left: -10, right: 10, top: 10, bottom: -10, near: 1, far: 60 });
    lamp.shadow.normalBias = 0.01;
    world.add(lamp, lamp.target);
};

const viewOf = (scene, { half_width, half_height }) => {
    const { position_m, azimuth_deg, tilt_deg } = scene.camera;
    const camera = new PerspectiveCamera(Math.atan(half_height) * 360 / Math.PI, half_width / half_height, 0.05, FAR_M);
    const [right, forward, up] = directions(azimuth_deg, tilt_deg);
    camera.matrixAutoUpdate = false;
    camera.matrix.makeBasis(right, up, forward.clone().negate()).setPosition(...position_m);
    camera.updateMatrixWorld(true);
    return [camera, new Vector3(...position_m).addScaledVector(forward.setZ(0).normalize(), 5).setZ(0)];
};

/** A scene ready to be drawn; `view` has the tangents to the frame's sides. */
export class Stage {
    constructor(scene, view, scale) {
        const [width, height] = scene.size_px.map((side) => side * scale);
        this.renderer = new WebGLRenderer({ antialias: false });
        this.renderer.setPixelRatio(1);
        this.renderer.setSize(width, height, false);
        this.renderer.shadowMap.enabled = scene.lighting.sun !== undefined;
        this.renderer.shadowMap.type = PCFSoftShadowMap;
        const [camera, middle] = viewOf(scene, view);
        this.world = new Scene();
        // A background colour would be taken for a depth by the pass, so the sky is a shape that is farther than all others.
        const sky = new MeshBasicMaterial({ color: linear(scene.lighting.sky), side: BackSide });
        const dome = new Mesh(new SphereGeometry(FAR_M * 0.9, 32, 16), sky);
        dome.position.set(...scene.camera.position_m);
        this.world.add(dome);
        scene.shape.forEach((shape) => add(this.world, shape));
        if (scene.shape.some(({ matt }) => matt)) light(this.world, scene, middle);
        this.world.updateMatrixWorld(true);
        this.target = new WebGLRenderTarget(width, height, { type: HalfFloatType, samples: 4 });
        this.composer = new EffectComposer(this.renderer, this.target);
        this.composer.addPass(new RenderPass(this.world, camera));
        this.bokeh = new BokehPass(this.world, camera, { focus: scene.lens.focus_m });
        this.composer.addPass(this.bokeh);
        this.composer.addPass(new OutputPass());
        this.size = [width, height];
    }

    /** Draws with the pass's own parameters; `oval` makes its discs higher than wide. */
    draw({ aperture, maxblur, oval }) {
        const [width, height] = this.size;
        Object.assign(this.bokeh.uniforms.aperture, { value: aperture });
        Object.assign(this.bokeh.uniforms.maxblur, { value: maxblur });
        Object.assign(this.bokeh.uniforms.aspect, { value: width / height * oval });
        this.composer.render();
        const gl = this.renderer.getContext(), upsideDown = new Uint8Array(width * height * 4);
        gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, upsideDown);
        const pixels = new Uint8ClampedArray(upsideDown.length);
        for (let row = 0; row < height; row += 1) {
            pixels.set(upsideDown.subarray((height - 1 - row) * width * 4, (height - row) * width * 4), row * width * 4);
        }
        return pixels;
    }

    dispose() {
        this.composer.dispose();
        this.bokeh.dispose();
        this.world.traverse(({ geometry, material }) => {
            geometry?.dispose();
            material?.dispose();
        });
        this.renderer.dispose();
        this.renderer.forceContextLoss();
    }
}
