"""Draws scenes with the outside renderer and says how long that took: the other side of `native.rs` and `browser.rs`.

Reads a request a line as JSON from standard input and answers each with a line of JSON:
    {"scene": {...}, "sampler": "multijitter", "samples": 64, "goes": 5, "picture": "a.png"}
        -> {"samples": 64, "seconds": 0.17, "seconds_of_first": 0.34}
`scene` is what a file in ../reference/pictures holds. `samples` comes back as the sampler rounded it. `seconds` is the least
of up to `goes`, from the loaded scene to the pixels, without compiling; the first, which is not one of them, also compiles
what it runs. Loading the scene (and making triangles of its shapes) is in neither.

The scenes, and the ways through a lens that the renderer does not have, are those of ../reference/scripts/picture.py, which
says what has to be installed.
"""

import json
import math
import pathlib
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).parent.parent / "reference" / "scripts"))

import mitsuba
import numpy as np
import picture
from PIL import Image

mitsuba.set_log_level(mitsuba.LogLevel.Error)

# Rays at once, chosen because two gigabytes are enough for them.
RAYS = 1 << 24

# The orthogonal sampler takes the square of a prime.
PRIME_SQUARES = [9, 25, 49, 121, 289, 529, 961, 1849]

# Seconds after which no further go is begun.
LONG_S = 1.0


class Sensor:
    """A loaded scene that is drawn in one go, or in several that differ in what they begin with."""

    def __init__(self, parts, scene, sensor, sampler, samples):
        columns, rows = sensor["film"]["width"], sensor["film"]["height"]
        most = max(1, RAYS // (columns * rows))
        if sampler == "orthogonal":
            fitting = [square for square in PRIME_SQUARES if square <= max(most, PRIME_SQUARES[0])]
            self.at_once = min(fitting, key=lambda square: abs(square - samples))
        else:
            self.at_once = 1 << (min(samples, most).bit_length() - 1)
        self.goes = max(1, round(samples / self.at_once))
        self.samples = self.at_once * self.goes
        self.loaded = mitsuba.load_dict({
            "type": "scene",
            "integrator": picture.integrator(scene),
            "sensor": {**sensor, "sampler": {"type": sampler, "sample_count": self.at_once}},
            **parts,
        })

    def draw(self):
        total = 0.0
        for number in range(self.goes):
            total = total + np.array(mitsuba.render(self.loaded, None, 0, None, number, 0, self.at_once))
        return total / self.goes


class Stretched:
    """An adapter that focuses: a stretched world, with as many samples in all as the shrunk picture is to have."""

    FINE = 4

    def __init__(self, scene, sampler, samples, folder):
        pupil_m, focus_m, half = picture.lens_of(scene)
        self.squeeze = scene["adapter"]["squeeze"]
        self.size = scene["size_px"]
        width, height = self.size
        self.columns = math.ceil(self.squeeze * width * self.FINE / 2) * 2
        half_wide = half * self.squeeze * self.columns / (width * self.FINE)
        extra = {"type": "thinlens", "aperture_radius": pupil_m / 2, "focus_distance": focus_m}
        sensor = picture.sensor(scene, extra, half_wide, (self.columns, height * self.FINE))
        parts = picture.world(scene, np.diag([self.squeeze, 1.0, 1.0]), folder)
        self.large = Sensor(parts, scene, sensor, sampler, max(1, samples // self.FINE**2))
        self.samples = self.large.samples * self.FINE**2

    def draw(self):
        width, height = self.size
        rows = self.large.draw().reshape(height, self.FINE, self.columns, 3).mean(axis=1)
        return picture.columns_shrunk(rows, self.squeeze * self.FINE, width)


class Pinholes:
    """An adapter that cannot focus: pinholes all over the pupil."""

    EACH = 4

    def __init__(self, scene, samples, folder):
        self.count = max(1, samples // self.EACH)
        self.samples = self.count * self.EACH
        parts = picture.world(scene, np.eye(3), folder)
        self.loaded = mitsuba.load_dict({"type": "scene", "integrator": picture.integrator(scene), **parts})
        self.views = [
            mitsuba.load_dict({
                **picture.pinhole(scene, number, self.count),
                "sampler": {"type": "multijitter", "sample_count": self.EACH},
            })
            for number in range(self.count)
        ]

    def draw(self):
        total = 0.0
        for number, view in enumerate(self.views):
            total = total + np.array(mitsuba.render(self.loaded, None, view, None, number, 0, self.EACH))
        return total / self.count


def prepared(scene, sampler, samples, folder):
    adapter = scene.get("adapter")
    if adapter is None:
        pupil_m, focus_m, half = picture.lens_of(scene)
        extra = {"type": "thinlens", "aperture_radius": pupil_m / 2, "focus_distance": focus_m}
        sensor = picture.sensor(scene, extra, half, scene["size_px"])
        return Sensor(picture.world(scene, np.eye(3), folder), scene, sensor, sampler, samples)
    if adapter["focusing"]:
        return Stretched(scene, sampler, samples, folder)
    return Pinholes(scene, samples, folder)


def timed(drawing, goes):
    """The picture, the seconds of the first go and the least of those after it, if there are any."""
    seconds = []
    for _ in range(1 + goes):
        start = time.perf_counter()
        linear = drawing.draw()
        seconds.append(time.perf_counter() - start)
        if sum(seconds[1:]) > LONG_S:
            break
    return linear, seconds[0], min(seconds[1:] or seconds)


def answer(request):
    with tempfile.TemporaryDirectory() as folder:
        drawing = prepared(request["scene"], request["sampler"], request["samples"], folder)
        linear, first, least = timed(drawing, request["goes"])
    Image.fromarray(picture.to_bytes(linear)).save(request["picture"])
    return {"samples": drawing.samples, "seconds": least, "seconds_of_first": first}


def main():
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line))), flush=True)


main()
