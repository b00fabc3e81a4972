"""Prints measure.toml: fields of view that OpenCV's camera calibration finds, with the points that it found them from.

Needs Python 3.11 or later with opencv-python-headless==5.0.0.93 and numpy==2.4.6:
    python -m venv venv && venv/bin/pip install opencv-python-headless==5.0.0.93 numpy==2.4.6
    venv/bin/python measure.py > ../measure.toml

A board of known size is seen square-on, and tilted several ways: square-on alone a calibration cannot tell a longer lens
from a greater distance, which is what the taped distance is for. `calibrateCamera` is given all views without distortion,
`calibrationMatrixValues` tells the field of view, and the calibration's own place for the square-on board its distance.
The two ends are points of the square-on view, taken through `undistortPoints`, which without distortion must leave them.
Pixel (0, 0) is taken as the upper left corner of the image, the principal point as its middle.
"""

import cv2
import numpy as np

# Name, focal length (px), image (px), board (m), its corner from the axis (m), distance (m), noise of points (px).
CASES = [
    ("phone main, a door in the middle", 2688.0, (3840, 2160), (0.90, 0.60), (-0.45, -0.30), 1.6, 0.0),
    ("phone main, off the middle", 2688.0, (3840, 2160), (0.90, 0.60), (0.10, -0.55), 2.4, 0.0),
    ("ultra-wide, a sheet near the left edge", 1530.0, (3840, 2160), (0.297, 0.210), (-0.52, -0.10), 0.45, 0.0),
    ("long lens, upright frame", 6200.0, (2160, 3840), (0.297, 0.420), (-0.17, -0.25), 1.3, 0.0),
    ("phone main, points half a pixel off", 2688.0, (3840, 2160), (0.90, 0.60), (-0.30, -0.35), 1.6, 0.5),
    ("ultra-wide, points half a pixel off", 1530.0, (3840, 2160), (0.90, 0.60), (-0.20, -0.35), 0.9, 0.5),
]

# Turns of the board about its middle (degrees about x, y), and how many times farther it is then.
VIEWS = [(0, 0, 1.0), (35, 0, 1.1), (-30, 20, 1.3), (10, 40, 1.2), (-15, -35, 1.4), (25, -25, 1.2), (40, 30, 1.5), (-40, -10, 1.3)]

COLUMNS, ROWS = 13, 9


def board(size_m):
    across, down = np.meshgrid(np.linspace(0, size_m[0], COLUMNS), np.linspace(0, size_m[1], ROWS))
    return np.stack([across.ravel(), down.ravel(), np.zeros(across.size)], 1)


def main():
    print("# Made by scripts/measure.py; do not edit.")
    print(f'source = "OpenCv2025: OpenCV {cv2.__version__}, calibrateCamera, calibrationMatrixValues and undistortPoints"')
    print("# Of exact points; those with noise are held to the uncertainties of both.")
    print("tolerance_deg = 1e-4")
    random = np.random.default_rng(20)
    for name, focal_px, image_px, size_m, corner_m, distance_m, noise_px in CASES:
        matrix = np.array([[focal_px, 0, image_px[0] / 2], [0, focal_px, image_px[1] / 2], [0, 0, 1.0]])
        points = board(size_m)
        middle = np.array([size_m[0] / 2, size_m[1] / 2, 0.0])
        objects, images = [], []
        for about_x, about_y, farther in VIEWS:
            turn = cv2.Rodrigues(np.radians([about_x, 0.0, 0.0]))[0] @ cv2.Rodrigues(np.radians([0.0, about_y, 0.0]))[0]
            place = np.array([corner_m[0], corner_m[1], distance_m]) + middle
            if (about_x, about_y) != (0, 0):
                place = place * farther
            seen, _ = cv2.projectPoints(points, cv2.Rodrigues(turn)[0], place - turn @ middle, matrix, None)
            seen = seen.reshape(-1, 2) + random.normal(0.0, noise_px, (len(points), 2)) if noise_px else seen.reshape(-1, 2)
            objects.append(points.astype(np.float32).reshape(-1, 1, 3))
            images.append(seen.astype(np.float32).reshape(-1, 1, 2))
        guess = matrix.copy()
        guess[0, 0] = guess[1, 1] = 0.8 * focal_px
        flags = (
            cv2.CALIB_USE_INTRINSIC_GUESS | cv2.CALIB_FIX_PRINCIPAL_POINT | cv2.CALIB_FIX_ASPECT_RATIO
            | cv2.CALIB_ZERO_TANGENT_DIST | cv2.CALIB_FIX_K1 | cv2.CALIB_FIX_K2 | cv2.CALIB_FIX_K3
        )
        stop = (cv2.TERM_CRITERIA_COUNT | cv2.TERM_CRITERIA_EPS, 1000, 1e-15)
        _, found, distortion, turns, places, sd, _, _ = cv2.calibrateCameraExtended(
            objects, images, image_px, guess, None, flags=flags, criteria=stop
        )
        across, *_ = cv2.calibrationMatrixValues(found, image_px, 1.0, 1.0)
        # Of the square-on view: the distance along the look, and the middle row's two ends.
        square_on = cv2.Rodrigues(turns[0])[0] @ middle + places[0].ravel()
        row = images[0].reshape(ROWS, COLUMNS, 2)[ROWS // 2]
        straight = cv2.undistortPoints(row.reshape(-1, 1, 2), found, distortion, P=found).reshape(-1, 2)
        ends = [float(straight[0][0]), float(straight[-1][0])]
        # With a fixed aspect ratio the uncertainty stands beside the second focal length.
        focal_sd_px = float(np.ravel(sd)[:2].max())
        half = np.radians(across) / 2
        fov_sd = np.degrees(2 * np.sin(half) * np.cos(half) * focal_sd_px / found[0, 0])
        print(f'\n[[calibration]]\ncase = "{name}"\nimage_width_px = {image_px[0]}')
        print(f"known_width_m = {size_m[0]!r}\ndistance_m = {float(square_on[2])!r}")
        print(f"ends_px = [{ends[0]!r}, {ends[1]!r}]\nend_sd_px = {noise_px!r}")
        print(f"horizontal_deg = {float(across)!r}\nhorizontal_sd_deg = {float(fov_sd)!r}")


main()
