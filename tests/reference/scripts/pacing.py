"""Prints pacing.toml: outlines closed by SciPy's least squares, and two traverses worked by a teacher of surveying.

Needs Python 3.11 or later with numpy==2.4.6 and scipy==1.17.1:
    python -m venv venv && venv/bin/pip install numpy==2.4.6 scipy==1.17.1
    venv/bin/python pacing.py > ../pacing.toml

SciPy's unknowns are the corners themselves and the step, so that every outline it tries is closed: another way to the same
minimum than conditions on what was measured. Covariance is the inverse of the normal matrix there. Directions and turns are
clockwise, the first corner is the origin, x east and y north.
"""

import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.stats import chi2, norm

STEP_SHARE = 0.10  # How far one step is off, as a share of it.

# Latitude and departure of each side as published, and after the compass rule; lengths in feet, taken as metres.
MAHUN = [
    (
        "Mahun2026, problem 1",
        [(144.0, 379.25), (255 + 23 / 60 + 18 / 3600, 408.90), (360 - (14 + 43 / 60 + 29 / 3600), 298.65), (63 + 59 / 60 + 20 / 3600, 276.55)],
        [(-306.820, 222.918), (-103.152, -395.675), (288.842, -75.909), (121.280, 248.538)],
        [(-306.862, 222.954), (-103.197, -395.637), (288.809, -75.881), (121.250, 248.564)],
    ),
    (
        "Mahun2026, problem 2",
        [(226 + 54 / 60 + 23 / 3600, 639.15), (0.0, 523.69), (235 + 2 / 60 + 29 / 3600, 409.54), (79 + 35 / 60 + 2 / 3600, 815.93)],
        [(-436.662, -466.732), (523.690, 0.0), (-234.660, -335.645), (147.517, 802.484)],
        [(-436.631, -466.761), (523.715, -0.023), (-234.640, -335.663), (147.556, 802.447)],
    ),
]

# Name, step (m) and its sd, first direction (deg) and its sd, sides: steps or (metres, sd), turn (deg) and its sd.
PACED = [
    ("a room of four sides", (0.75, 0.015), (20.0, 3.0), [(12, 90, 3), (8, 90, 3), (12.5, 90, 3), (8.5, 90, 3)]),
    ("an L of six sides, two taped", (0.80, 0.02), (-35.0, 5.0), [(18.5, 90, 3), ((6.0, 0.02), 90, 3), (9, -90, 2), (11, 90, 3), ((7.4, 0.02), 90, 3), (18, 90, 3)]),
    ("three sides, to the left", (0.70, 0.02), (100.0, 4.0), [(30, -120, 4), (28, -115, 4), (31, -120, 4)]),
    ("a yard that closes badly", (0.75, 0.015), (0.0, 3.0), [(40, 90, 3), (20, 90, 3), (34, 90, 3), (20, 90, 3)]),
]


def wrapped(angle):
    return (angle + np.pi) % (2 * np.pi) - np.pi


def walked(step, first, sides):
    """The corners as walked, the first at the origin."""
    at, direction, corners = np.zeros(2), np.radians(first), [np.zeros(2)]
    for distance, turn, _ in sides:
        length = distance[0] if isinstance(distance, tuple) else distance * step
        at = at + length * np.array([np.sin(direction), np.cos(direction)])
        direction += np.radians(turn)
        corners.append(at)
    return np.array(corners)


def close(step, step_sd, first, first_sd, sides):
    """Corners of the closed outline, their standard uncertainties, their covariance east by north, and the sum of squares."""
    count = len(sides)

    def misses(unknowns):
        corners = np.vstack([[0.0, 0.0], unknowns[:-1].reshape(-1, 2)])
        ways = np.roll(corners, -1, axis=0) - corners
        lengths, azimuths = np.hypot(*ways.T), np.arctan2(ways[:, 0], ways[:, 1])
        out = []
        for index, (distance, turn, turn_sd) in enumerate(sides):
            if isinstance(distance, tuple):
                out.append((lengths[index] - distance[0]) / distance[1])
            else:
                out.append((lengths[index] - distance * unknowns[-1]) / (STEP_SHARE * step * np.sqrt(distance)))
            turned = azimuths[(index + 1) % count] - azimuths[index]
            out.append(wrapped(turned - np.radians(turn)) / np.radians(turn_sd))
        out.append((unknowns[-1] - step) / step_sd)
        out.append(wrapped(azimuths[0] - np.radians(first)) / np.radians(first_sd))
        return np.array(out)

    begin = np.append(walked(step, first, sides)[1:count].ravel(), step)
    best = least_squares(misses, begin, jac="3-point", x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-13)
    covariance = np.linalg.inv(best.jac.T @ best.jac)[:-1, :-1]
    corners = np.vstack([[0.0, 0.0], best.x[:-1].reshape(-1, 2)])
    blocks = [np.zeros((2, 2))] + [covariance[k : k + 2, k : k + 2] for k in range(0, 2 * (count - 1), 2)]
    return corners, [(b[0, 0], b[0, 1], b[1, 1]) for b in blocks], 2 * float(best.cost)


def row(values):
    return "[" + ", ".join(repr(float(value)) for value in values) + "]"


def rows(values):
    return "[" + ", ".join(row(value) for value in values) + "]"


def print_case(name, step, first, sides):
    print(f'\n[[case]]\ncase = "{name}"\nstep_m = {row(step)}\nfirst_deg = {row(first)}\nsides = [')
    for distance, turn, turn_sd in sides:
        how = f"taped_m = {row(distance)}" if isinstance(distance, tuple) else f"steps = {float(distance)!r}"
        print(f"  {{ {how}, turn_deg = {row((turn, turn_sd))} }},")
    print("]")
    print(f"walked_m = {rows(walked(step[0], first[0], sides))}")
    if abs(abs(sum(turn for _, turn, _ in sides)) - 360) > 90:
        return  # It crosses itself, as no floor does.
    corners, covariance, squares = close(*step, *first, sides)
    print(f"closed_m = {rows(corners)}")
    print(f"covariance_m2 = {rows(covariance)}\nsquares = {squares!r}")


def main():
    print("# Made by scripts/pacing.py; do not edit.")
    print(f'source = "SciPy {scipy.__version__}, least_squares; Mahun2026"')
    print("tolerance_m = 1e-6\ntolerance_relative = 1e-5\n# Published to 0.001, and summed up to four times.\npublished_tolerance_m = 0.003")
    print(f"chi_squared_95 = {float(chi2.ppf(0.95, 3))!r}\nnormal_95 = {float(norm.ppf(0.975))!r}")
    for name, step, first, sides in PACED:
        print_case(name, step, first, sides)
    for name, courses, published, adjusted in MAHUN:
        azimuths = [course[0] for course in courses]
        turns = [(b - a + 180) % 360 - 180 for a, b in zip(azimuths, azimuths[1:] + azimuths[:1])]
        sides = [((length, 0.02), turn, 0.01) for (_, length), turn in zip(courses, turns)]
        print_case(name, (0.75, 0.01), (azimuths[0], 0.01), sides)
        for field, values in [("published_m", published), ("compass_rule_m", adjusted)]:
            corners = np.cumsum([(departure, latitude) for latitude, departure in values], axis=0)
            print(f"{field} = {rows(corners)}")


main()
