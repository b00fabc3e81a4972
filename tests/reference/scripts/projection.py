"""Prints projection.toml: fields of view and projected points from OpenCV's camera model.

Needs Python 3.11 or later with opencv-python-headless==5.0.0.93 and numpy==2.4.6:
    python -m venv venv && venv/bin/pip install opencv-python-headless==5.0.0.93 numpy==2.4.6
    venv/bin/python projection.py > ../projection.toml

World: x right, y forward, z up, metres. OpenCV's camera: x right, y down, z forward. Pixel (0, 0) is taken as the
upper left corner of the image, the principal point as its middle; focus is at infinity.
"""

import cv2
import numpy as np

FIELDS_OF_VIEW = [
    ("phone main, 4:3", 6.86, (9.8, 7.3), (4032, 3024)),
    ("phone long lens", 9.0, (5.6, 4.2), (4032, 3024)),
    ("35 mm on 24.89 x 18.66", 35.0, (24.89, 18.66), (4096, 3072)),
    ("18 mm on 23.5 x 15.6", 18.0, (23.5, 15.6), (6000, 4000)),
    ("8.8 mm on 13.2 x 8.8", 8.8, (13.2, 8.8), (5472, 3648)),
]

# Name, camera height (m), tilt (deg, up positive), pan (deg, clockwise from forward), focal length, area (mm), image (px).
CAMERAS = [
    ("eye level, phone main", 1.6, 0.0, 0.0, 6.86, (9.8, 5.5125), (3840, 2160)),
    ("high angle, tilted down 20 degrees", 2.5, -20.0, 0.0, 6.86, (9.8, 5.5125), (3840, 2160)),
    ("turned left 12 degrees, tilted up 5", 1.2, 5.0, -12.0, 9.0, (5.6, 3.15), (3840, 2160)),
    ("turned right 35 degrees, tilted down 8", 1.5, -8.0, 35.0, 6.86, (9.8, 5.5125), (3840, 2160)),
    ("long lens, tilted down 3 degrees", 1.7, -3.0, 0.0, 9.0, (5.6, 3.15), (3840, 2160)),
    ("ultra-wide near the ground, tilted up 30 degrees", 0.3, 30.0, 0.0, 2.22, (5.6, 3.15), (3840, 2160)),
]

POINTS = [(0.0, 3.0, 0.0), (0.0, 3.0, 1.6), (0.0, 3.0, 1.75), (0.8, 4.0, 1.0), (-1.2, 5.0, 0.0), (0.5, 10.0, 2.0)]


def camera_matrix(focal_mm, area_mm, image_px):
    """Focal lengths in pixels along both axes, principal point in the middle."""
    fx = focal_mm * image_px[0] / area_mm[0]
    fy = focal_mm * image_px[1] / area_mm[1]
    return np.array([[fx, 0.0, image_px[0] / 2], [0.0, fy, image_px[1] / 2], [0.0, 0.0, 1.0]])


def world_to_camera(tilt_deg, pan_deg):
    """Rows are the camera's own x (right), y (down) and z (forward) in the world's axes."""
    tilt, pan = np.radians(tilt_deg), np.radians(pan_deg)
    forward = np.array([np.sin(pan) * np.cos(tilt), np.cos(pan) * np.cos(tilt), np.sin(tilt)])
    right = np.array([np.cos(pan), -np.sin(pan), 0.0])
    return np.array([right, np.cross(forward, right), forward])


def row(values):
    return "[" + ", ".join(repr(float(value)) for value in values) + "]"


def main():
    print("# Made by scripts/projection.py; do not edit.")
    print(f'source = "OpenCv2025: OpenCV {cv2.__version__}, calibrationMatrixValues and projectPoints"')
    print("tolerance_deg = 1e-9")
    print("tolerance_px = 0.01")
    for name, focal_mm, area_mm, image_px in FIELDS_OF_VIEW:
        matrix = camera_matrix(focal_mm, area_mm, image_px)
        across, down, *_ = cv2.calibrationMatrixValues(matrix, image_px, *area_mm)
        print(f"\n[[field_of_view]]\ncase = \"{name}\"\nfocal_length_mm = {focal_mm!r}")
        print(f"area_mm = {row(area_mm)}\nimage_px = {row(image_px)}")
        print(f"horizontal_deg = {float(across)!r}\nvertical_deg = {float(down)!r}")
    for name, height_m, tilt_deg, pan_deg, focal_mm, area_mm, image_px in CAMERAS:
        rotation = world_to_camera(tilt_deg, pan_deg)
        shift = -rotation @ np.array([0.0, 0.0, height_m])
        points = np.array(POINTS)
        matrix = camera_matrix(focal_mm, area_mm, image_px)
        seen, _ = cv2.projectPoints(points, cv2.Rodrigues(rotation)[0], shift, matrix, None)
        depths = (rotation @ points.T + shift[:, None])[2]
        print(f"\n[[projection]]\ncase = \"{name}\"\ncamera_height_m = {height_m!r}")
        print(f"tilt_deg = {tilt_deg!r}\npan_deg = {pan_deg!r}\nfocal_length_mm = {focal_mm!r}")
        print(f"area_mm = {row(area_mm)}\nimage_px = {row(image_px)}\npoints = [")
        for point, depth, pixel in zip(points, depths, seen.reshape(-1, 2)):
            print(f"  {{ world_m = {row(point)}, depth_m = {float(depth)!r}, seen_px = {row(pixel)} }},")
        print("]")


main()
