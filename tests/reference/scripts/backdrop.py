"""Prints backdrop.toml and makes the pictures beside it: a photo seen again from where it was taken and from elsewhere.

Needs Python 3.11 or later with opencv-python-headless==5.0.0.93 and numpy==2.4.6:
    python -m venv venv && venv/bin/pip install opencv-python-headless==5.0.0.93 numpy==2.4.6
    venv/bin/python backdrop.py > ../backdrop.toml

World: x right, y forward, z up, metres. OpenCV's camera: x right, y down, z forward; its pixels are counted from the
middle of the upper left one. From the photo's own place a frame is the photo through the homography of a turn; where a
frame sees the floor alone, through the homography of that plane, from anywhere. Each pixel is the mean of 8 by 8 places
of it, in linear light, between the photo's pixels as warpPerspective has it.
"""

from pathlib import Path

import cv2
import numpy as np

FOLDER = Path(__file__).parent.parent / "backdrop"
PHOTO_PX, FRAME_PX, FINER = (96, 72), (64, 48), 8
PHOTO_HALF, FAR_M = (1.3, 0.975), 20.0

# Position (m), pan (deg, clockwise from forward), tilt (deg, up positive), roll (deg, clockwise for whoever holds it).
PHOTO = ((0.2, -0.4, 1.45), 12.0, -14.0, 5.0)
FRAMES = [
    ("turned right and up, level", ((0.2, -0.4, 1.45), 30.0, -4.0, 0.0), (0.5, 0.375)),
    ("turned left and down, rolled", ((0.2, -0.4, 1.45), -2.0, -27.0, -11.0), (0.42, 0.315)),
    ("the floor from a metre aside", ((-0.7, 0.1, 1.7), 20.0, -42.0, 0.0), (0.4, 0.3)),
]


def rotation(pan_deg, tilt_deg, roll_deg):
    """Rows are the camera's own x (right), y (down) and z (forward) in the world's axes."""
    pan, tilt, roll = np.radians([pan_deg, tilt_deg, roll_deg])
    forward = np.array([np.sin(pan) * np.cos(tilt), np.cos(pan) * np.cos(tilt), np.sin(tilt)])
    right = np.array([np.cos(pan), -np.sin(pan), 0.0])
    down = np.cross(forward, right)
    return np.array([right * np.cos(roll) + down * np.sin(roll), down * np.cos(roll) - right * np.sin(roll), forward])


def camera_matrix(half, size_px):
    fx, fy = size_px[0] / (2 * half[0]), size_px[1] / (2 * half[1])
    return np.array([[fx, 0.0, size_px[0] / 2 - 0.5], [0.0, fy, size_px[1] / 2 - 0.5], [0.0, 0.0, 1.0]])


def plane(matrix, pose):
    """From a place of the floor to a pixel."""
    position, *angles = pose
    turn = rotation(*angles)
    return matrix @ np.column_stack([turn[:, 0], turn[:, 1], -turn @ np.array(position)])


def decoded(signal):
    return np.where(signal <= 0.04045, signal / 12.92, ((signal + 0.055) / 1.055) ** 2.4)


def encoded(light):
    return np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)


def save(name, signal):
    rgb = np.clip(np.rint(signal * 255), 0, 255).astype(np.uint8)
    cv2.imwrite(str(FOLDER / f"{name}.png"), rgb[:, :, ::-1], [cv2.IMWRITE_PNG_COMPRESSION, 9])
    return rgb / 255


def photo():
    """Soft colours with some finer waves, different everywhere."""
    y, x = np.mgrid[0:PHOTO_PX[1], 0:PHOTO_PX[0]]
    x, y = (x + 0.5) / PHOTO_PX[0], (y + 0.5) / PHOTO_PX[1]
    red = 0.15 + 0.6 * x + 0.12 * np.sin(40 * x + 9 * y)
    green = 0.2 + 0.55 * y + 0.1 * np.sin(31 * y - 14 * x)
    blue = 0.5 + 0.2 * np.cos(11 * x * y + 3 * x) + 0.1 * np.sin(25 * (x + y))
    return np.stack([red, green, blue], axis=-1)


def row(values):
    return "[" + ", ".join(repr(float(value)) for value in values) + "]"


def pose_lines(pose, half):
    position, pan, tilt, roll = pose
    return (
        f"position_m = {row(position)}\npan_deg = {pan!r}\ntilt_deg = {tilt!r}\nroll_deg = {roll!r}\n"
        f"half_tangents = {row(half)}"
    )


def main():
    FOLDER.mkdir(exist_ok=True)
    light = decoded(save("photo", photo())).astype(np.float32)
    photo_matrix = camera_matrix(PHOTO_HALF, PHOTO_PX)
    print("# Made by scripts/backdrop.py; do not edit.")
    print(f'source = "OpenCv2025: OpenCV {cv2.__version__}, warpPerspective"')
    print("tolerance_levels = 1")
    print("mean_tolerance_levels = 0.05")
    print(f"far_m = {FAR_M!r}\n\n[photo]\n{pose_lines(PHOTO, PHOTO_HALF)}")
    for number, (name, pose, half) in enumerate(FRAMES):
        fine_px = tuple(side * FINER for side in FRAME_PX)
        matrix = camera_matrix(half, fine_px)
        if pose[0] == PHOTO[0]:
            turn = rotation(*PHOTO[1:]) @ rotation(*pose[1:]).T
            homography = photo_matrix @ turn @ np.linalg.inv(matrix)
        else:
            homography = plane(photo_matrix, PHOTO) @ np.linalg.inv(plane(matrix, pose))
        fine = cv2.warpPerspective(light, homography, fine_px, flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP)
        mean = fine.reshape(FRAME_PX[1], FINER, FRAME_PX[0], FINER, 3).mean(axis=(1, 3))
        save(f"frame_{number}", encoded(mean))
        print(f'\n[[frame]]\ncase = "{name}"\npicture = "frame_{number}"\n{pose_lines(pose, half)}')


main()
