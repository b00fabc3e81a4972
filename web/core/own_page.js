// What somebody else's page does with the module: no build, no library, plain objects.
import init, { blur, exposure } from "./tapemark_core.js";

// A form's numbers by the names of its fields; an empty field is left out, and the core says if it is needed.
const numbers = (form) =>
  Object.fromEntries([...new FormData(form)].filter(([, text]) => text !== "").map(([name, text]) => [name, Number(text)]));

const softness = (form) => {
  const { focus_m, background_m, ...lens } = numbers(form);
  const answer = blur({ lens, recording: { width_px: 3840, height_px: 2160 }, focus_m, background_m });
  const disc = answer.background_blur_px;
  if (disc === null) return "Without an f-number and the sensor's size that cannot be told.";
  const share = (100 * answer.background_blur_width_share).toFixed(2);
  return `A point there becomes a disc of ${disc.toFixed(1)} px, ${share} % of the picture's width.`;
};

const filters = (form) => {
  const { filter_stops, stops_over, residual_stops } = exposure({ ...numbers(form), filters_stops: [1, 2, 3, 6] });
  const over = `${Math.abs(stops_over).toFixed(1)} stops too ${stops_over < 0 ? "little" : "much"} light`;
  const taken = filter_stops.length === 0 ? "no filter" : `filters of ${filter_stops.join(" and ")} stops`;
  const left = `${Math.abs(residual_stops).toFixed(1)} stops too ${residual_stops < 0 ? "dark" : "bright"}`;
  return `${over}. Take ${taken}: ${left} then, which the ISO makes up for.`;
};

await init();
for (const [name, say] of Object.entries({ blur: softness, exposure: filters })) {
  const form = document.getElementById(name);
  const show = () => {
    const output = form.querySelector("output");
    try {
      output.value = say(form);
      output.className = "";
    } catch (error) {
      // It begins with the path of the field that is wrong.
      output.value = error.message;
      output.className = "refused";
    }
  };
  form.addEventListener("input", show);
  form.addEventListener("submit", (event) => event.preventDefault());
  show();
}
