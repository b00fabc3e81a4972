"""Makes ../pictures/*.png and renderer.toml from ../pictures/*.toml, with a physically based renderer.

Needs Python 3.11 or later with mitsuba==3.9.1, numpy==2.4.6 and pillow==13.0.0, and LLVM 15 or later (Debian's libllvm19):
    python -m venv venv && venv/bin/pip install mitsuba==3.9.1 numpy==2.4.6 pillow==13.0.0
    venv/bin/python picture.py                     every picture, about ten minutes on two cores
    venv/bin/python picture.py full_frame sunlit   these alone
    venv/bin/python picture.py --check             compares the ways of drawing below with each other; writes nothing
Where LLVM is not found by itself, DRJIT_LIBLLVM_PATH names its library.

Every shape becomes triangles, fine enough to stay within a hundredth of a pixel of its true outline. Axes of blocks,
ellipsoids and cylinders: right, forward, up of a camera turned by `turn_deg` and tilted by `lean_deg`.

Three ways through a lens, by adapter:
- None: the renderer's `thinlens` sensor. Its `fov` is that of a pinhole and does not follow focus: it is given
  2 atan(W / 2v) with v = f s / (s - f), and an `aperture_radius` of f / 2N.
- One that focuses: the pupil is D/S wide and D high, and the frame sees S times more sideways. The renderer has no oval
  pupil; stretching the world by S along the camera's x stretches the pupil to a round one, and the picture by S, which is
  shrunk again.
- One that does not: the pupil is D/S wide and focused at s/S^2 sideways, at s in height, which no lens of the renderer has.
  It is the mean of pinhole pictures from all over the pupil, each with its principal point moved so that what is in focus
  stays where it is: from (l, m) on the pupil, the picture's tangents (x, y) look along (x - l S^2/s, y - m/s, 1).
"""

import math
import pathlib
import sys
import tempfile
import tomllib

import mitsuba
import numpy as np
from PIL import Image

mitsuba.set_variant("llvm_ad_rgb")

PICTURES = pathlib.Path(__file__).parent.parent / "pictures"

# A pass is what fits into memory at once.
PASS_SAMPLES = 256
PASSES = {"point_lights": 1024, "sunlit": 64}
PASSES_ELSE = 64

# Pinholes of the adapter that cannot focus: rings and points around them, so that each stands for an equal area.
PINHOLES = 4096
PINHOLE_SAMPLES = 9

# Around a round shape, and from pole to pole.
AROUND, ALONG = 160, 80


# Shapes as triangles: points (n, 3) and faces (m, 3), counter-clockwise seen from outside.


def revolved(profile):
    """The surface of a profile of (radius, height) from bottom to top, turned around the z axis."""
    turn = np.arange(AROUND) / AROUND * 2 * np.pi
    rings = np.array([[r * np.cos(turn), r * np.sin(turn), np.full(AROUND, h)] for r, h in profile])
    points = rings.transpose(0, 2, 1).reshape(-1, 3)
    here = np.arange(AROUND)
    after = (here + 1) % AROUND
    faces = []
    for ring in range(len(profile) - 1):
        low, high = ring * AROUND, (ring + 1) * AROUND
        faces += [np.stack([low + here, low + after, high + after], 1), np.stack([low + here, high + after, high + here], 1)]
    return points, np.concatenate(faces)


def ball():
    down_to_up = np.linspace(np.pi, 0, ALONG + 1)
    return revolved([(math.sin(t), math.cos(t)) for t in down_to_up])


def can():
    return revolved([(0.0, -1.0), (1.0, -1.0), (1.0, 1.0), (0.0, 1.0)])


def box():
    points = np.array([[x, y, z] for z in (-1, 1) for y in (-1, 1) for x in (-1, 1)], float)
    squares = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)]
    return points, np.array([t for a, b, c, d in squares for t in ((a, b, c), (a, c, d))])


def round_cone(solid):
    """The hull of two balls: two caps, which meet the straight side where the normal leans by asin((r1 - r2) / length)."""
    start, end = np.array(solid["from_m"]), np.array(solid["to_m"])
    r1, r2 = solid["from_radius_m"], solid["to_radius_m"]
    length = np.linalg.norm(end - start)
    meet = math.acos((r1 - r2) / length)
    low = [(r1 * math.sin(t), r1 * math.cos(t)) for t in np.linspace(np.pi, meet, ALONG)]
    high = [(r2 * math.sin(t), length + r2 * math.cos(t)) for t in np.linspace(meet, 0, ALONG)]
    points, faces = revolved(low + high)
    along = (end - start) / length
    side = np.cross(along, [1.0, 0.0, 0.0] if abs(along[0]) < 0.9 else [0.0, 1.0, 0.0])
    side /= np.linalg.norm(side)
    return points @ np.array([side, np.cross(along, side), along]) + start, faces


def directions(azimuth_deg, tilt_deg):
    """Right, forward and up of what looks along an azimuth (clockwise from north) and a tilt (up positive)."""
    a, t = math.radians(azimuth_deg), math.radians(tilt_deg)
    return np.array([
        [math.cos(a), -math.sin(a), 0.0],
        [math.sin(a) * math.cos(t), math.cos(a) * math.cos(t), math.sin(t)],
        [-math.sin(a) * math.sin(t), -math.cos(a) * math.sin(t), math.cos(t)],
    ])


def solid_of(shape):
    if "round_cone" in shape:
        return round_cone(shape["round_cone"])
    for name, form in (("ellipsoid", ball), ("block", box), ("cylinder", can)):
        if name in shape:
            solid = shape[name]
            points, faces = form()
            axes = directions(solid.get("turn_deg", 0.0), solid.get("lean_deg", 0.0))
            return (points * solid["half_m"]) @ axes + solid["centre_m"], faces
    raise ValueError(f"a shape without a solid: {shape}")


def with_copies(shape):
    """The shape and its copies, as one body of triangles."""
    points, faces = solid_of(shape)
    for again in shape.get("copies", []):
        steps = [i * np.array(again["step_m"]) for i in range(again["count"])]
        faces = np.concatenate([faces + i * len(points) for i in range(again["count"])])
        points = np.concatenate([points + step for step in steps])
    return points, faces


def ply(points, faces, path):
    with open(path, "wb") as file:
        file.write(
            "ply\nformat binary_little_endian 1.0\n"
            f"element vertex {len(points)}\nproperty float x\nproperty float y\nproperty float z\n"
            f"element face {len(faces)}\nproperty list uchar int vertex_index\nend_header\n".encode()
        )
        file.write(points.astype("<f4").tobytes())
        record = np.zeros(len(faces), dtype=[("n", "u1"), ("v", "<i4", 3)])
        record["n"], record["v"] = 3, faces
        file.write(record.tobytes())


# The scene for the renderer.


def rgb(value):
    return {"type": "rgb", "value": value}


def world(scene, place, folder):
    """Shapes and lights. `place` is a linear map of points in the camera's own directions (right, up, forward)."""
    camera = scene["camera"]
    right, forward, up = directions(camera["azimuth_deg"], camera["tilt_deg"])
    own = np.array([right, up, forward])
    linear = own.T @ np.array(place) @ own
    origin = np.array(camera["position_m"])
    parts = {}
    for index, shape in enumerate(scene.get("shape", [])):
        points, faces = with_copies(shape)
        path = f"{folder}/{index}.ply"
        ply((points - origin) @ linear.T + origin, faces, path)
        part = {"type": "ply", "filename": path, "face_normals": True}
        if "glowing" in shape:
            part["emitter"] = {"type": "area", "radiance": rgb(shape["glowing"])}
        else:
            part["bsdf"] = {"type": "diffuse", "reflectance": rgb(shape["matt"])}
        parts[f"shape_{index}"] = part
    if "floor" in scene:
        parts["floor"] = {
            "type": "rectangle",
            "to_world": mitsuba.ScalarTransform4f().scale(1e4),
            "bsdf": {"type": "diffuse", "reflectance": rgb(scene["floor"]["matt"])},
        }
    lighting = scene["lighting"]
    parts["sky"] = {"type": "constant", "radiance": rgb(lighting["sky"])}
    if "sun" in lighting:
        # A disc far away, as bright as makes a white matt surface square to it give back `light`:
        # pi light = L pi sin^2(half angle).
        sun = lighting["sun"]
        towards = directions(sun["azimuth_deg"], sun["elevation_deg"])[1] * 1e4
        half = math.radians(sun["half_angle_deg"])
        parts["sun"] = {
            "type": "disk",
            "to_world": mitsuba.ScalarTransform4f().look_at(towards.tolist(), [0, 0, 0], [0, 0, 1])
            @ mitsuba.ScalarTransform4f().scale(1e4 * math.tan(half)),
            "emitter": {"type": "area", "radiance": rgb([x / math.sin(half) ** 2 for x in lighting["sun"]["light"]])},
        }
    return parts


def sensor(scene, extra, half_width_tangent, size_px, from_own=(0.0, 0.0)):
    camera = scene["camera"]
    right, forward, up = directions(camera["azimuth_deg"], camera["tilt_deg"])
    origin = np.array(camera["position_m"]) + right * from_own[0] + up * from_own[1]
    return {
        "fov": math.degrees(2 * math.atan(half_width_tangent)),
        "fov_axis": "x",
        "near_clip": 0.01,
        "far_clip": 1e5,
        "to_world": mitsuba.ScalarTransform4f().look_at(origin.tolist(), (origin + forward).tolist(), up.tolist()),
        "film": {
            "type": "hdrfilm",
            "width": size_px[0],
            "height": size_px[1],
            "rfilter": {"type": "box"},
            "pixel_format": "rgb",
            "component_format": "float32",
        },
        **extra,
    }


def lens_of(scene):
    """Pupil diameter, focus distance (m) and the tangent to the side of the frame without an adapter."""
    lens = scene["lens"]
    image_m = 1 / (1e3 / lens["focal_length_mm"] - 1 / lens["focus_m"])
    half = lens["sensor_width_mm"] / 1e3 / 2 / image_m
    return lens["focal_length_mm"] / 1e3 / lens["f_number"], lens["focus_m"], half


def integrator(scene):
    # Glowing things alone need no light from each other.
    matt = any("matt" in shape for shape in scene.get("shape", []))
    return {"type": "path", "max_depth": 12 if matt else 1}


def drawn(parts, scene, sensor_parts, passes, samples):
    loaded = mitsuba.load_dict({
        "type": "scene",
        "integrator": integrator(scene),
        "sensor": {**sensor_parts, "sampler": {"type": "multijitter", "sample_count": samples}},
        **parts,
    })
    total = 0.0
    for number in range(passes):
        total = total + np.array(mitsuba.render(loaded, None, 0, None, number, 0, samples), dtype=np.float64)
    return total / passes


def thin_lens(scene, folder, passes):
    pupil_m, focus_m, half = lens_of(scene)
    extra = {"type": "thinlens", "aperture_radius": pupil_m / 2, "focus_distance": focus_m}
    return drawn(world(scene, np.eye(3), folder), scene, sensor(scene, extra, half, scene["size_px"]), passes, PASS_SAMPLES)


def columns_shrunk(picture, factor, count):
    """The middle of a picture with its columns made `factor` times wider; exact if a column is even across its width."""
    columns = picture.shape[1]
    sums = np.concatenate([np.zeros_like(picture[:, :1]), np.cumsum(picture, axis=1)], axis=1)
    edges = columns / 2 + (np.arange(count + 1) - count / 2) * factor
    low = np.clip(edges.astype(int), 0, columns - 1)
    part = (edges - low)[None, :, None]
    at = sums[:, low] * (1 - part) + sums[:, low + 1] * part
    return np.diff(at, axis=1) / factor


def stretched(scene, folder, passes):
    pupil_m, focus_m, half = lens_of(scene)
    squeeze = scene["adapter"]["squeeze"]
    fine = 4
    width, height = scene["size_px"]
    # Stretched once because the frame sees more, once more because its world is stretched.
    columns = math.ceil(squeeze * width * fine / 2) * 2
    half_wide = half * squeeze * columns / (width * fine)
    extra = {"type": "thinlens", "aperture_radius": pupil_m / 2, "focus_distance": focus_m}
    parts = world(scene, np.diag([squeeze, 1.0, 1.0]), folder)
    large = drawn(
        parts, scene, sensor(scene, extra, half_wide, (columns, height * fine)), passes, PASS_SAMPLES // fine**2
    )
    rows = large.reshape(height, fine, columns, 3).mean(axis=1)
    return columns_shrunk(rows, squeeze * fine, width)


def pinhole(scene, number, count):
    """The sensor of one of `count` pinholes all over the pupil."""
    pupil_m, focus_m, half = lens_of(scene)
    adapter = scene.get("adapter", {"squeeze": 1.0, "focusing": True})
    squeeze = adapter["squeeze"]
    focus_across_m = focus_m if adapter["focusing"] else focus_m / squeeze**2
    width, height = scene["size_px"]
    half_wide = half * squeeze
    half_high = half_wide * height / width
    # Points spread evenly over a disc: Vogel1979, equation 1 (a step of the golden angle, the square root outward).
    radius, turn = math.sqrt((number + 0.5) / count), number * math.pi * (3 - math.sqrt(5))
    across = radius * math.cos(turn) * pupil_m / squeeze / 2
    up = radius * math.sin(turn) * pupil_m / 2
    extra = {
        "type": "perspective",
        # The share of the picture by which the axis moves left and up.
        "principal_point_offset_x": -across / focus_across_m / (2 * half_wide),
        "principal_point_offset_y": up / focus_m / (2 * half_high),
    }
    return sensor(scene, extra, half_wide, (width, height), (across, up))


def pinholes(scene, folder, count):
    parts = world(scene, np.eye(3), folder)
    loaded = mitsuba.load_dict({"type": "scene", "integrator": integrator(scene), **parts})
    total = 0.0
    for number in range(count):
        view = mitsuba.load_dict({
            **pinhole(scene, number, count),
            "sampler": {"type": "multijitter", "sample_count": PINHOLE_SAMPLES},
        })
        total = total + np.array(mitsuba.render(loaded, None, view, None, number, 0, PINHOLE_SAMPLES), dtype=np.float64)
    return total / count


def picture(name, scene, folder):
    """The picture in linear light, how it was drawn and with how many samples a pixel."""
    adapter = scene.get("adapter")
    passes = PASSES.get(name, PASSES_ELSE)
    if adapter is None:
        return thin_lens(scene, folder, passes), "thinlens sensor", passes * PASS_SAMPLES
    if adapter["focusing"]:
        return stretched(scene, folder, passes), "thinlens sensor, world stretched", passes * PASS_SAMPLES
    return pinholes(scene, folder, PINHOLES), "mean of perspective sensors", PINHOLES * PINHOLE_SAMPLES


def to_bytes(linear):
    """sRGB's encoding (IEC 61966-2-1), 8 bits."""
    light = np.clip(linear, 0.0, 1.0)
    encoded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.round(encoded * 255).astype(np.uint8)


def scene_of(name):
    return tomllib.loads((PICTURES / f"{name}.toml").read_text())


def check():
    for name, other in (("full_frame", thin_lens), ("adapter_focusing", stretched)):
        scene = scene_of(name)
        with tempfile.TemporaryDirectory() as folder:
            difference = np.abs(
                to_bytes(pinholes(scene, folder, 1024)).astype(int) - to_bytes(other(scene, folder, 4)).astype(int)
            )
        print(f"{name}: pinholes and {other.__name__} differ by {difference.mean():.3f} of 255 on average,",
              f"{np.percentile(difference, 99):.0f} in the worst hundredth")


def main():
    if sys.argv[1:] == ["--check"]:
        check()
        return
    manifest_path = PICTURES / "renderer" / "manifest.toml"
    manifest_path.parent.mkdir(exist_ok=True)
    scenes = sorted(path.stem for path in PICTURES.glob("*.toml"))
    manifest = tomllib.loads(manifest_path.read_text()) if manifest_path.exists() else {"picture": {}}
    for name in sys.argv[1:] or scenes:
        with tempfile.TemporaryDirectory() as folder:
            linear, way, samples = picture(name, scene_of(name), folder)
        path = manifest_path.parent / f"{name}.png"
        Image.fromarray(to_bytes(linear)).save(path, optimize=True)
        manifest["picture"][name] = {"way": way, "samples": samples}
        print(f"{name}: {path.stat().st_size} bytes, brightest {linear.max():.3f}", flush=True)
    with open(manifest_path, "w") as file:
        file.write("# Made by scripts/picture.py; do not edit.\n")
        file.write(f'source = "Mitsuba {mitsuba.__version__}, llvm_ad_rgb; 8-bit sRGB, box filter, samples a pixel below"\n')
        for name, record in sorted(manifest["picture"].items()):
            file.write(f'\n[picture.{name}]\nway = "{record["way"]}"\nsamples = {record["samples"]}\n')


if __name__ == "__main__":
    main()
