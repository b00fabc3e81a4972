"""Prints hours.toml: when a calendar day is night, dawn, day, dusk, by PyEphem's sun, in minutes of the local clock.

The sun's centre crosses -6° (civil twilight), -0.8333° (a level horizon) and 6° (golden hour), without air, seen from the
place at sea level. Its crossings are walked through in order from two days before, and each stretch between two is told by
how it was entered and left: a glow that comes after day is dusk, one that leads to day is dawn, and one about noon is both.
A calendar day is then asked minute by minute of its clock. Of minutes that come twice the first counts; in those that are
left out the sun stands still.

Needs Python 3.11 or later with ephem==4.2.1 and tzdata:
    python -m venv venv && venv/bin/pip install ephem==4.2.1 tzdata
    venv/bin/python hours.py > ../hours.toml
"""

import bisect
import datetime
import math
import zoneinfo

import ephem

# Place, latitude, longitude, zone.
PLACES = {
    "oslo": (59.91, 10.75, "Europe/Oslo"),
    "bergen": (60.39, 5.32, "Europe/Oslo"),
    "helsinki": (60.17, 24.94, "Europe/Helsinki"),
    "tallinn": (59.44, 24.75, "Europe/Tallinn"),
    "lerwick": (60.15, -1.15, "Europe/London"),
    "st_petersburg": (59.94, 30.31, "Europe/Moscow"),
    "anchorage": (61.22, -149.9, "America/Anchorage"),
    "reykjavik": (64.15, -21.94, "Atlantic/Reykjavik"),
    "oulu": (65.01, 25.47, "Europe/Helsinki"),
    "fairbanks": (64.84, -147.72, "America/Anchorage"),
    "trondheim": (63.43, 10.4, "Europe/Oslo"),
    "tromso": (69.65, 18.96, "Europe/Oslo"),
    "longyearbyen": (78.22, 15.63, "Arctic/Longyearbyen"),
    "mcmurdo": (-77.85, 166.67, "Antarctica/McMurdo"),
    "amsterdam": (52.37, 4.9, "Europe/Amsterdam"),
    "lord_howe": (-31.56, 159.08, "Australia/Lord_Howe"),
    "santiago": (-33.45, -70.67, "America/Santiago"),
    "kiritimati": (1.87, -157.43, "Pacific/Kiritimati"),
    "adak": (51.88, -176.66, "America/Adak"),
    "quito": (-0.18, -78.47, "America/Guayaquil"),
    "nome": (64.5, -165.41, "America/Nome"),
}

DAYS = [
    ("oslo", "2026-06-21"),  # civil dusk is after midnight
    ("bergen", "2026-06-21"),
    ("helsinki", "2026-06-21"),
    ("tallinn", "2026-06-21"),
    ("lerwick", "2026-06-21"),
    ("st_petersburg", "2026-06-21"),
    ("anchorage", "2026-05-25"),
    ("anchorage", "2026-06-21"),  # no civil night
    ("reykjavik", "2026-06-21"),  # no civil night, and the sun sets after midnight
    ("reykjavik", "2026-12-21"),
    ("oulu", "2026-06-21"),
    ("fairbanks", "2026-06-21"),
    ("nome", "2026-06-21"),  # the clock is two hours ahead of the sun
    ("trondheim", "2026-06-21"),
    ("tromso", "2026-12-21"),  # twilight about noon
    ("tromso", "2026-05-17"),  # the last sunset before the polar day
    ("tromso", "2026-06-21"),  # the sun is low at midnight
    ("longyearbyen", "2026-06-21"),
    ("longyearbyen", "2026-12-21"),
    ("mcmurdo", "2026-08-10"),  # twilight about noon in the south
    ("mcmurdo", "2026-03-15"),
    ("amsterdam", "2026-09-10"),
    ("amsterdam", "2026-03-29"),  # clocks go forward
    ("amsterdam", "2026-10-25"),  # and back
    ("lord_howe", "2026-04-05"),  # by half an hour
    ("lord_howe", "2026-10-04"),
    ("santiago", "2026-04-04"),  # back at its very end
    ("santiago", "2026-09-06"),  # forward at its very start
    ("kiritimati", "2026-01-15"),  # 14 hours ahead, beyond the date line
    ("adak", "2026-07-01"),
    ("quito", "2027-03-20"),
]

CIVIL, LEVEL, GOLDEN = -6.0, -0.8333, 6.0
HOURS = ["night", "dawn", "morning", "day", "afternoon", "golden_hour", "dusk"]


class Sky:
    """The sun over a place from two days before a moment to two days after the next."""

    def __init__(self, latitude, longitude, start):
        self.observer = ephem.Observer()
        self.observer.lat, self.observer.lon = math.radians(latitude), math.radians(longitude)
        self.observer.elevation = self.observer.pressure = 0
        self.sun = ephem.Sun()
        grid = [start + step * 60.0 for step in range(-2 * 1440, 3 * 1440)]
        heights = [self.height(second) for second in grid]
        # (when, "up" or "down", which elevation), in order; each stretch lies between two.
        self.crossings = []
        for left, right, before, after in zip(grid, grid[1:], heights, heights[1:]):
            for edge in (CIVIL, LEVEL, GOLDEN):
                if (before < edge) != (after < edge):
                    self.crossings.append((self.root(left, right, edge), "up" if after > before else "down", edge))
        self.crossings.sort()
        self.times = [when for when, _, _ in self.crossings]

    def place(self, second):
        self.observer.date = ephem.Date(25567.5 + second / 86400.0)
        self.sun.compute(self.observer)
        return math.degrees(self.sun.alt), math.degrees(self.sun.az)

    def height(self, second):
        return self.place(second)[0]

    def root(self, left, right, edge):
        low = self.height(left) < edge
        while right - left > 0.01:
            middle = (left + right) / 2.0
            if (self.height(middle) < edge) == low:
                left = middle
            else:
                right = middle
        return (left + right) / 2.0

    def hours(self, second):
        """The hours that a moment is of."""
        height, azimuth = self.place(second)
        if height < CIVIL:
            return {"night"}
        if height >= LEVEL:
            half = "morning" if azimuth < 180.0 else "afternoon"
            return {"day", half} | ({"golden_hour"} if height <= GOLDEN else set())
        at = bisect.bisect(self.times, second)
        entered = self.crossings[at - 1][1:] if at > 0 else None
        left = self.crossings[at][1:] if at < len(self.crossings) else None
        found = set()
        if entered == ("down", LEVEL):
            found.add("dusk")
        if left == ("up", LEVEL):
            found.add("dawn")
        if entered == ("up", CIVIL) and left == ("down", CIVIL):
            found |= {"dawn", "dusk"}
        return found


def moment(date, minute, zone):
    """The moment at which a clock first shows a minute of a date; of a minute that is left out that of the change."""
    shown = datetime.datetime.combine(date, datetime.time()) + datetime.timedelta(minutes=minute)
    second = shown.replace(tzinfo=zone, fold=0).timestamp()
    if datetime.datetime.fromtimestamp(second, zone).replace(tzinfo=None) == shown:
        return second
    offset = lambda at: datetime.datetime.fromtimestamp(at, zone).utcoffset()
    before, after = second - 10800.0, second + 10800.0
    first = offset(before)
    while after - before > 0.001:
        middle = (before + after) / 2.0
        if offset(middle) == first:
            before = middle
        else:
            after = middle
    return before


def windows(sky, date, zone):
    at = lambda minute: sky.hours(moment(date, minute, zone))
    found = {hour: [] for hour in HOURS}
    now = at(0)
    since = {hour: 0.0 for hour in now}
    for minute in range(1440):
        # The day's last minute ends before the clock shows midnight.
        end = minute + (1 if minute < 1439 else 0.999999)
        then = at(end)
        for hour in now ^ then:
            left, right = float(minute), float(end)
            while right - left > 0.0005:
                middle = (left + right) / 2.0
                if (hour in at(middle)) == (hour in now):
                    left = middle
                else:
                    right = middle
            edge = (left + right) / 2.0
            if hour in now:
                found[hour].append((since.pop(hour), edge))
            else:
                since[hour] = edge
        now = then
    for hour, start in since.items():
        found[hour].append((start, 1440.0))
    return found


def main():
    print("# Made by scripts/hours.py; do not edit.")
    print(f'source = "PyEphem {ephem.__version__}, Observer.pressure 0 and elevation 0, the sun\'s centre; crossings of -6, -0.8333 and 6 degrees by halving"')
    print("# Minutes; the two suns are 0.0003° apart, which is some seconds where it crosses at a shallow angle.")
    print("tolerance_min = 0.1")
    for place, day in DAYS:
        latitude, longitude, name = PLACES[place]
        zone, date = zoneinfo.ZoneInfo(name), datetime.date.fromisoformat(day)
        sky = Sky(latitude, longitude, moment(date, 0, zone))
        print(f'\n[[day]]\nplace = "{place}"\nlatitude_deg = {latitude}\nlongitude_deg = {longitude}\nzone = "{name}"\ndate = "{day}"')
        for hour, spans in windows(sky, date, zone).items():
            print(f"{hour} = [{', '.join(f'[{start:.3f}, {end:.3f}]' for start, end in spans)}]")


main()
