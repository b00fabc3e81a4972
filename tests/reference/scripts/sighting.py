"""Prints sighting.toml: where photos of doors were taken from, by OpenCV's solvePnP and SciPy's least squares.

Needs Python 3.11 or later with opencv-python-headless==5.0.0.93, numpy==2.4.6 and scipy==1.17.1:
    python -m venv venv && venv/bin/pip install opencv-python-headless==5.0.0.93 numpy==2.4.6 scipy==1.17.1
    venv/bin/python sighting.py > ../sighting.toml

World: x right, y forward, z up, metres, the floor z = 0. OpenCV's camera: x right, y down, z forward. Pixel (0, 0) is taken as
the upper left corner of the photo, the principal point as its middle.

solvePnP knows all points exactly in the world and minimises what they are off by in the photo alone. A door's four corners are
one rectangle, whose place in the world is free: so the world is the door's, and height, tilt and roll follow from the rotation
and the place that are found. Of two doors the second's place relative to the first would be known to solvePnP, which it is not to
us: with noise they are left to SciPy's least_squares over OpenCV's projection, every door free to stand anywhere on the floor.
"""

import cv2
import numpy as np
import scipy
from scipy.optimize import least_squares

SIZE_PX = (4032.0, 3024.0)
FOCAL_PX = 2900.0
MATRIX = np.array([[FOCAL_PX, 0.0, SIZE_PX[0] / 2], [0.0, FOCAL_PX, SIZE_PX[1] / 2], [0.0, 0.0, 1.0]])

# Name, phone's height (m), tilt, roll (deg), doors as (right, ahead, turn in deg, width, height), noise (px).
CASES = [
    ("a door, without noise", 1.5, -8.0, 0.0, [(0.4, 3.0, 25.0, 0.9, 2.0)], 0.0),
    ("a door from the chest, leaning", 1.2, 4.0, 3.5, [(-0.6, 3.5, -30.0, 0.8, 2.1)], 0.0),
    ("a board from above", 2.6, -30.0, -2.0, [(0.2, 3.2, 40.0, 1.5, 1.0)], 0.0),
    ("two doors, without noise", 1.6, -5.0, 1.0, [(-1.2, 3.5, 20.0, 0.9, 2.0), (1.5, 5.0, -35.0, 0.8, 2.0)], 0.0),
    ("a door, marked to 3 px", 1.5, -8.0, 0.0, [(0.4, 3.0, 25.0, 0.9, 2.0)], 3.0),
    ("a door, marked to 6 px", 1.7, -12.0, 2.0, [(-0.5, 2.8, 35.0, 0.9, 2.0)], 6.0),
    ("two doors, marked to 3 px", 1.6, -5.0, 1.0, [(-1.2, 3.5, 20.0, 0.9, 2.0), (1.5, 5.0, -35.0, 0.8, 2.0)], 3.0),
    ("a board, marked to 3 px", 1.4, -3.0, -1.5, [(0.3, 3.0, -30.0, 1.5, 1.2)], 3.0),
]


def world_to_camera(tilt_deg, roll_deg):
    """Rows are the camera's own x (right), y (down) and z (forward) in the world's axes; roll is clockwise positive."""
    tilt, roll = np.radians(tilt_deg), np.radians(roll_deg)
    forward = np.array([0.0, np.cos(tilt), np.sin(tilt)])
    right, down = np.array([1.0, 0.0, 0.0]), np.cross(forward, [1.0, 0.0, 0.0])
    return np.array([right * np.cos(roll) + down * np.sin(roll), down * np.cos(roll) - right * np.sin(roll), forward])


def corners(door):
    """Bottom left, bottom right, top left, top right."""
    right, ahead, turn_deg, width, height = door
    turn = np.radians(turn_deg)
    half = np.array([np.cos(turn), np.sin(turn), 0.0]) * width / 2
    middle, up = np.array([right, ahead, 0.0]), np.array([0.0, 0.0, height])
    return np.array([middle - half, middle + half, middle - half + up, middle + half + up])


def solve(points, pixels):
    """Height (m), tilt and roll (deg) from points of the world and where they are seen."""
    # A rectangle's two poses begin the search; the better is refined until nothing is gained.
    found = []
    methods = [cv2.SOLVEPNP_ITERATIVE, cv2.SOLVEPNP_SQPNP]
    for method in methods:
        _, rotation, shift, _ = cv2.solvePnPGeneric(points, pixels, MATRIX, None, flags=method)
        found += list(zip(rotation, shift))
    criteria = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_COUNT, 1000, 1e-15)
    best = None
    for rotation, shift in found:
        rotation, shift = cv2.solvePnPRefineLM(points, pixels, MATRIX, None, rotation, shift, criteria)
        seen, _ = cv2.projectPoints(points, rotation, shift, MATRIX, None)
        squares = float(((seen.reshape(-1, 2) - pixels) ** 2).sum())
        if best is None or squares < best[0]:
            best = (squares, rotation, shift)
    squares, rotation, shift = best
    turn = cv2.Rodrigues(rotation)[0]
    height = float((-turn.T @ shift)[2, 0])
    tilt = np.degrees(np.arcsin(turn[2, 2]))
    # How far the camera's right sinks, in the plane across its axis.
    roll = np.degrees(np.arctan2(-turn[0, 2], -turn[1, 2]))
    return height, float(tilt), float(roll), squares


def solve_free(doors, pixels, truth):
    """As `solve`, for doors that may each stand anywhere; the search begins at the truth."""
    def misses(unknowns):
        height, tilt_deg, roll_deg = unknowns[:3]
        places = unknowns[3:].reshape(-1, 3)
        points = np.concatenate([corners((*place, *door[3:])) for place, door in zip(places, doors)])
        rotation = world_to_camera(tilt_deg, roll_deg)
        shift = -rotation @ np.array([0.0, 0.0, height])
        seen, _ = cv2.projectPoints(points, cv2.Rodrigues(rotation)[0], shift, MATRIX, None)
        return (seen.reshape(-1, 2) - pixels).ravel()

    begin = np.array([*truth, *(number for door in doors for number in door[:3])])
    best = least_squares(misses, begin, jac="3-point", x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-12)
    return (*(float(number) for number in best.x[:3]), 2 * float(best.cost))


def row(values):
    return "[" + ", ".join(repr(float(value)) for value in values) + "]"


def main():
    noise = np.random.Generator(np.random.PCG64(20260101))
    print("# Made by scripts/sighting.py; do not edit.")
    print(f'source = "OpenCv2025: OpenCV {cv2.__version__}, solvePnP (SOLVEPNP_ITERATIVE) and solvePnPRefineLM; SciPy {scipy.__version__}"')
    print("# Both minimise what points are off by in the photo, but a door's size is known to a tenth of a millimetre to us at best.")
    print(f"tolerance_m = 2e-5\ntolerance_deg = 3e-4\nsize_px = {row(SIZE_PX)}\nfocal_px = {FOCAL_PX!r}")
    for name, height_m, tilt_deg, roll_deg, doors, noise_px in CASES:
        points = np.concatenate([corners(door) for door in doors])
        rotation = world_to_camera(tilt_deg, roll_deg)
        shift = -rotation @ np.array([0.0, 0.0, height_m])
        pixels, _ = cv2.projectPoints(points, cv2.Rodrigues(rotation)[0], shift, MATRIX, None)
        pixels = pixels.reshape(-1, 2) + noise.normal(0.0, 1.0, (len(points), 2)) * noise_px
        if len(doors) > 1 and noise_px > 0:
            height, tilt, roll, squares = solve_free(doors, pixels, (height_m, tilt_deg, roll_deg))
        else:
            height, tilt, roll, squares = solve(points, pixels)
        print(f'\n[[case]]\ncase = "{name}"\nnoise_px = {noise_px!r}')
        print(f"true_height_m = {height_m!r}\ntrue_tilt_deg = {tilt_deg!r}\ntrue_roll_deg = {roll_deg!r}")
        print(f"height_m = {height!r}\ntilt_deg = {tilt!r}\nroll_deg = {roll!r}\nsquares_px = {squares!r}\ndoors = [")
        for index, door in enumerate(doors):
            seen = ", ".join(row(pixel) for pixel in pixels[4 * index : 4 * index + 4])
            print(f"  {{ width_m = {door[3]!r}, height_m = {door[4]!r}, corners_px = [{seen}] }},")
        print("]")


main()
