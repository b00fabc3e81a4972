"""Prints thin_lens.toml: blur discs and positions of points, measured in pictures of a physically based renderer.

Needs Python 3.11 or later with mitsuba==3.9.1 and numpy==2.4.6:
    python -m venv venv && venv/bin/pip install mitsuba==3.9.1 numpy==2.4.6
    venv/bin/python thin_lens.py > ../thin_lens.toml

The renderer's `fov` is that of a pinhole and does not follow focus: it is given 2 atan(W / 2v) with v = f s / (s - f), and
an `aperture_radius` of f / 2N. Looking along +z with +y up, the world's +x is at the picture's left.
Only a window around each point is drawn, so that a pixel of the picture is small against what is measured.
"""

import math
import sys

import mitsuba
import numpy as np

mitsuba.set_variant("scalar_rgb")

WIDTH_PX = 3840
SAMPLES = int(sys.argv[1]) if len(sys.argv) > 1 else 2048

# Focal length (mm), f-number, area (mm), and which points are measured: focus and distance (mm).
DISCS = [
    (6.86, 1.78, 9.8, [(500, 250), (500, 350), (500, 2000), (500, 1e5), (2000, 1000), (2000, 6000)]),
    (9.0, 2.8, 5.6, [(500, 250), (500, 350), (500, 2000), (500, 1e5), (2000, 1000), (2000, 6000)]),
    (50.0, 1.8, 36.0, [(1000, 700), (1000, 900), (1000, 3000), (1000, 1e5), (3000, 2500), (3000, 4000)]),
]

CAMERAS = [(6.86, 9.8, 2860), (9.0, 5.6, 2880), (50.0, 36.0, 2560)]
FOCUS_MM = [600.0, 3000.0]
POINTS = [(0, 0, 2000), (300, 0, 2000), (-300, 200, 2000), (100, -150, 800), (900, 400, 4000), (20, -30, 450)]


def picture(focal_mm, radius_mm, area_mm, focus_mm, height_px, point_mm, light_mm, window):
    """The light of a small bright disc around `point_mm`, as a window (x, y, width, height) of the whole picture."""
    image_mm = focal_mm * focus_mm / (focus_mm - focal_mm)
    right, up, forward = point_mm
    scene = mitsuba.load_dict({
        "type": "scene",
        "integrator": {"type": "path", "max_depth": 2, "hide_emitters": False},
        "sensor": {
            "type": "thinlens",
            "fov": math.degrees(2 * math.atan(area_mm / 2 / image_mm)),
            "fov_axis": "x",
            "aperture_radius": radius_mm,
            "focus_distance": focus_mm,
            "near_clip": 1.0,
            "far_clip": 1e6,
            "to_world": mitsuba.ScalarTransform4f().look_at([0, 0, 0], [0, 0, 1], [0, 1, 0]),
            "film": {
                "type": "hdrfilm",
                "width": WIDTH_PX,
                "height": height_px,
                "crop_offset_x": window[0],
                "crop_offset_y": window[1],
                "crop_width": window[2],
                "crop_height": window[3],
                "rfilter": {"type": "box"},
                "pixel_format": "luminance",
            },
            "sampler": {"type": "independent", "sample_count": SAMPLES},
        },
        "light": {
            "type": "disk",
            # Left is +x here, and the disc faces the lens.
            "to_world": mitsuba.ScalarTransform4f().translate([-right, up, forward])
            @ mitsuba.ScalarTransform4f().rotate([0, 1, 0], 180)
            @ mitsuba.ScalarTransform4f().scale(light_mm),
            "emitter": {"type": "area", "radiance": {"type": "rgb", "value": 1.0}},
        },
    })
    return np.array(mitsuba.render(scene))[:, :, 0]


def moments(light, window):
    """The middle of the light, and the mean square distance from it along a row, in pixels of the whole picture."""
    columns = window[0] + np.arange(light.shape[1]) + 0.5
    rows = window[1] + np.arange(light.shape[0]) + 0.5
    total = light.sum()
    column = (light.sum(axis=0) * columns).sum() / total
    row = (light.sum(axis=1) * rows).sum() / total
    spread = (light.sum(axis=0) * (columns - column) ** 2).sum() / total
    # A pixel spreads what falls on it over its own width.
    return float(column), float(row), float(spread) - 1 / 12


def window_around(column, row, reach_px, height_px):
    left, top = int(column - reach_px), int(row - reach_px)
    side = 2 * int(reach_px) + 2
    return left, top, min(side, WIDTH_PX - left), min(side, height_px - top)


def disc_px(focal_mm, f_number, area_mm, focus_mm, distance_mm):
    """The diameter of a uniform disc with the measured spread, which along a row is a sixteenth of its square."""
    image_mm = focal_mm * focus_mm / (focus_mm - focal_mm)
    px_per_mm = WIDTH_PX / area_mm
    expected = focal_mm / f_number * image_mm * abs(distance_mm - focus_mm) / (distance_mm * focus_mm) * px_per_mm
    # Rays meet a light as large as half the disc often enough for little noise; its own spread is taken off.
    light_px = expected / 2 + 2
    light_mm = light_px / 2 * distance_mm / image_mm / px_per_mm
    window = window_around(WIDTH_PX / 2, WIDTH_PX / 2, expected + 6, WIDTH_PX)
    light = picture(
        focal_mm, focal_mm / f_number / 2, area_mm, focus_mm, WIDTH_PX, (0, 0, distance_mm), light_mm, window
    )
    _, _, spread = moments(light, window)
    return math.sqrt(16 * spread - light_px**2)


def main():
    print("# Made by scripts/thin_lens.py; do not edit.")
    print(f'source = "Mitsuba {mitsuba.__version__}, thinlens sensor, {SAMPLES} samples a pixel; diameter from the second '
          'moment of a small bright disc\'s image"')
    print("tolerance_relative = 0.02\ntolerance_px = 0.5\ntolerance_position_px = 0.25\nwidth_px = 3840")
    for focal_mm, f_number, area_mm, measured in DISCS:
        for focus_mm, distance_mm in measured:
            size = disc_px(focal_mm, f_number, area_mm, focus_mm, distance_mm)
            print(f"\n[[disc]]\nfocal_length_mm = {focal_mm!r}\nf_number = {f_number!r}\narea_width_mm = {area_mm!r}")
            print(f"focus_mm = {float(focus_mm)!r}\ndistance_mm = {float(distance_mm)!r}\nmeasured_px = {float(size)!r}")
    for focal_mm, area_mm, height_px in CAMERAS:
        for focus_mm in FOCUS_MM:
            print(f"\n[[points]]\nfocal_length_mm = {focal_mm!r}\narea_width_mm = {area_mm!r}\nfocus_mm = {focus_mm!r}")
            print(f"image_px = [{float(WIDTH_PX)!r}, {float(height_px)!r}]\npoints = [")
            for right, up, forward in POINTS:
                image_mm = focal_mm * focus_mm / (focus_mm - focal_mm)
                scale = image_mm / forward * WIDTH_PX / area_mm
                window = window_around(WIDTH_PX / 2 + right * scale, height_px / 2 - up * scale, 8, height_px)
                light = picture(
                    focal_mm, 1e-4, area_mm, focus_mm, height_px, (right, up, forward), 2 / scale, window
                )
                column, row, _ = moments(light, window)
                place = [float(value) for value in (right, up, forward)]
                print(f"  {{ right_up_forward_mm = {place!r}, measured_px = [{column!r}, {row!r}] }},")
            print("]")


main()
