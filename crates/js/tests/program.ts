// A program as other people write it: the TypeScript compiler reads it to see that the module's types serve them.
import init, { blur, compare, exposure, setup } from "../../../dist/core/tapemark_core.js";
import type {
  BlurAnswer, BlurRequest, CompareAnswer, ExposureAnswer, ExposureRequest, KitRecord, SetupAnswer, SetupRequest,
} from "../../../dist/core/tapemark_core.js";

const request: SetupRequest = {
  lens: { focal_length_mm: 6.86, f_number: 1.78, sensor_width_mm: 9.8, sensor_height_mm: 7.3 },
  recording: { width_px: 3840, height_px: 2160 },
  adapter: null,
  delivery: { aspect: "16:9" },
  subject: { stature_m: 1.7 },
  shot_size: "medium",
  background_behind_subject_m: 10,
};
const kit: KitRecord = { lenses: [{ name: "main", focal_length_35mm_equivalent_mm: 24 }] };

await init();
const answer: SetupAnswer = setup(request);
const distance: number | null = answer.distance_m;
const compared: CompareAnswer = compare(kit, request, "natural_face");
const names: string[] = compared.lenses.map((row) => row.lens);
console.log(distance?.toFixed(2), names.join(", "), answer.findings.map((finding) => finding.hint));

const out_of_focus: BlurRequest = {
  lens: kit.lenses[0],
  recording: { width_px: 3840, height_px: 2160 },
  focus_m: 1.5,
  background_m: 6,
};
const softness: BlurAnswer = blur(out_of_focus);
const disc: number | null = softness.background_blur_px;
const light: ExposureRequest = { f_number: 1.78, shutter_s: 1 / 48, iso: 50, scene_ev100: 15, filters_stops: [3, 6] };
const exposed: ExposureAnswer = exposure(light);
console.log(disc?.toFixed(1), softness.image_width_px, exposed.stops_over.toFixed(1), exposed.filter_stops.length);

// @ts-expect-error: a blur needs somewhere to be focused.
blur({ lens: kit.lenses[0], recording: { width_px: 3840, height_px: 2160 }, background_m: 6 });
// @ts-expect-error: light is a number.
exposure({ ...light, scene_ev100: "bright" });
// @ts-expect-error: a size that does not exist is seen before the program runs.
setup({ ...request, shot_size: "big" });
// @ts-expect-error: and so is a field that does not exist.
setup({ ...request, colour: "red" });
// @ts-expect-error: an answer's figure may be null.
const metres: number = answer.distance_m;
console.log(metres);
