"""Prints sun.toml: positions of the sun, and every rise, set and noon on a day, by pvlib's solar position algorithm.

pvlib's own rise and set can answer for the wrong day far from Greenwich, so crossings are searched on its positions.

Needs Python 3.11 or later with pvlib==0.16.1 and scipy==1.17.1:
    python -m venv venv && venv/bin/pip install pvlib==0.16.1 scipy==1.17.1
    venv/bin/python sun.py > ../sun.toml
"""

import datetime
import math
import zoneinfo

import numpy as np
import pandas as pd
import pvlib
from scipy import optimize

DELTA_T_S = 69.2

# Place, latitude, longitude, height above the sea, zone.
PLACES = {
    "new_york": (40.7128, -74.006, 10, "America/New_York"),
    "tromso": (69.6492, 18.9553, 0, "Europe/Oslo"),
    "sydney": (-33.8688, 151.2093, 20, "Australia/Sydney"),
    "london": (51.5074, -0.1278, 25, "Europe/London"),
    "amsterdam": (52.37, 4.90, 0, "Europe/Amsterdam"),
    "longyearbyen": (78.2232, 15.6267, 5, "Arctic/Longyearbyen"),
    "reykjavik": (64.1466, -21.9426, 15, "Atlantic/Reykjavik"),
    "ushuaia": (-54.8019, -68.303, 20, "America/Argentina/Ushuaia"),
    "mcmurdo": (-77.846, 166.676, 10, "Antarctica/McMurdo"),
    "quito": (-0.1807, -78.4678, 2850, "America/Guayaquil"),
    "la_paz": (-16.4897, -68.1193, 3640, "America/La_Paz"),
    "kathmandu": (27.7172, 85.324, 1400, "Asia/Kathmandu"),
    "kiritimati": (1.8721, -157.4278, 3, "Pacific/Kiritimati"),
    "lord_howe": (-31.5553, 159.0821, 10, "Australia/Lord_Howe"),
    "honolulu": (21.3069, -157.8583, 5, "Pacific/Honolulu"),
    "auckland": (-36.8485, 174.7633, 20, "Pacific/Auckland"),
}

MOMENTS = [
    ("new_york", "2024-03-10 09:00"),
    ("new_york", "2025-12-21 12:00"),
    ("tromso", "2024-12-21 11:45"),
    ("sydney", "2024-12-21 12:30"),
    ("sydney", "2024-04-07 07:15"),
    ("london", "2024-03-31 06:30"),
    ("amsterdam", "2026-06-21 19:30"),
    ("amsterdam", "2026-06-21 22:00"),
    ("la_paz", "2026-09-01 17:50"),
    ("quito", "2027-03-20 12:10"),
    ("kathmandu", "2026-11-05 06:30"),
    ("auckland", "2026-07-01 16:45"),
    ("longyearbyen", "2026-06-21 00:30"),
]

DAYS = [
    ("new_york", "2024-03-10"),  # clocks go forward
    ("new_york", "2026-11-01"),  # and back
    ("tromso", "2024-12-21"),
    ("tromso", "2026-05-17"),  # the last sunset before the polar day
    ("sydney", "2024-12-21"),
    ("sydney", "2024-04-07"),  # clocks go back
    ("london", "2024-03-31"),
    ("amsterdam", "2026-06-21"),
    ("amsterdam", "2026-10-25"),
    ("longyearbyen", "2025-06-21"),
    ("longyearbyen", "2025-12-21"),
    ("reykjavik", "2026-06-21"),  # the sun sets after midnight
    ("ushuaia", "2026-06-21"),
    ("mcmurdo", "2026-12-21"),
    ("mcmurdo", "2026-06-21"),
    ("quito", "2027-03-20"),
    ("la_paz", "2026-09-01"),
    ("kathmandu", "2026-11-05"),
    ("kiritimati", "2026-01-15"),
    ("lord_howe", "2026-10-04"),  # clocks go forward by half an hour
    ("honolulu", "2026-08-01"),
    ("auckland", "2026-09-27"),
]


def positions(place, seconds):
    """Azimuth, true and apparent elevation at Unix times, through the standard atmosphere at the place's height."""
    latitude, longitude, height, _ = PLACES[place]
    return pvlib.solarposition.spa_python(
        pd.DatetimeIndex(pd.to_datetime(np.atleast_1d(seconds), unit="s", utc=True)),
        latitude,
        longitude,
        altitude=height,
        pressure=pvlib.atmosphere.alt2pres(height),
        temperature=15.0 - 0.0065 * height,
        delta_t=DELTA_T_S,
        how="numpy",
    )


def crossings(place, start, end, level):
    """Every time in [start, end) at which the function `level` of a position changes its sign, and which way."""
    grid = np.arange(start, end, 120.0).tolist() + [end]
    values = level(positions(place, grid))
    found = []
    for (left, right, before, after) in zip(grid, grid[1:], values, values[1:]):
        if before * after < 0.0:
            root = optimize.brentq(lambda second: level(positions(place, second))[0], left, right, xtol=1e-3)
            found.append((root, "rise" if after > before else "set"))
    return found


def above(degrees):
    return lambda position: position["elevation"].to_numpy() - degrees


def east_of_meridian(position):
    return np.sin(np.radians(position["azimuth"].to_numpy()))


def noons(place, start, end):
    """Where the sun is due south or north, and higher than half a day away from it."""
    crossed = [second for second, _ in crossings(place, start, end, east_of_meridian)]
    height = lambda second: positions(place, second)["elevation"].iloc[0]
    return [second for second in crossed if height(second) > height(second + 43200.0)]


def told(seconds):
    texts = [datetime.datetime.fromtimestamp(round(s, 3), datetime.UTC).isoformat(timespec="milliseconds") for s in seconds]
    return "[" + ", ".join(f'"{text.replace("+00:00", "Z")}"' for text in texts) + "]"


def header(place):
    latitude, longitude, height, zone = PLACES[place]
    print(f'place = "{place}"\nlatitude_deg = {latitude}\nlongitude_deg = {longitude}\nelevation_m = {float(height)}')
    return zoneinfo.ZoneInfo(zone)


def main():
    print("# Made by scripts/sun.py; do not edit. The example of the paper is copied from it.")
    print(f'source = "pvlib {pvlib.__version__}, spa_python, delta T {DELTA_T_S} s, standard atmosphere at the height; crossings by root-finding on it"')
    print("tolerance_deg = 0.001\ntolerance_s = 2.0\n")
    print("[paper]")
    print('source = "Reda and Andreas, NREL/TP-560-34302, revised 2008, appendix A.4: worked example"')
    print('time = "2003-10-17T12:30:30-07:00"\nlatitude_deg = 39.742476\nlongitude_deg = -105.1786\nelevation_m = 1830.14')
    print("pressure_hpa = 820.0\ntemperature_c = 11.0\nzenith_deg = 50.11162\nazimuth_deg = 194.34024\ntolerance_deg = 0.0001")
    for place, local in MOMENTS:
        print("\n[[moment]]")
        zone = header(place)
        moment = datetime.datetime.fromisoformat(local).replace(tzinfo=zone)
        row = positions(place, moment.timestamp()).iloc[0]
        print(f'time = "{moment.isoformat()}"\nazimuth_deg = {row["azimuth"]:.6f}')
        print(f'true_elevation_deg = {row["elevation"]:.6f}\napparent_elevation_deg = {row["apparent_elevation"]:.6f}')
    for place, date in DAYS:
        print("\n[[day]]")
        zone = header(place)
        day = datetime.date.fromisoformat(date)
        start, end = (
            datetime.datetime.combine(day + datetime.timedelta(days=after), datetime.time(), zone).timestamp()
            for after in (0, 1)
        )
        print(f'zone = "{zone.key}"\ndate = "{date}"')
        for rise, set_, degrees in [("civil_dawn", "civil_dusk", -6.0), ("sunrise", "sunset", -0.8333)]:
            found = crossings(place, start, end, above(degrees))
            for name, way in ((rise, "rise"), (set_, "set")):
                print(f"{name} = {told([second for second, direction in found if direction == way])}")
        print(f"noon = {told(noons(place, start, end))}")


main()
