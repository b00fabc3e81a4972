"""Prints exposure.toml: rows of the APEX system, densities, and steady exposures, in decimal arithmetic of 40 digits.

Needs Python 3.11 or later and nothing else:
    python exposure.py > ../exposure.toml
"""

from decimal import Decimal, getcontext
from fractions import Fraction

getcontext().prec = 40

# f-number, exposure (s, as a fraction), ISO.
CAMERAS = [
    ("16", "1/100", "100"),
    ("1.78", "1/48", "50"),
    ("1.78", "1/48", "100"),
    ("2.8", "1/50", "50"),
    ("2.8", "1/48", "25"),
    ("1.0", "1", "100"),
    ("8", "1/250", "200"),
    ("1.5", "1/121", "125"),
    ("2.2", "1/500", "40"),
    ("1.78", "1/60", "32"),
]
FRAME_RATES = ["23.976", "24", "25", "29.97", "30", "48", "50", "60"]
MAINS_HZ = [50, 60]


def log2(value):
    return value.ln() / Decimal(2).ln()


def number(value):
    # What rounding leaves of nothing is nothing.
    value = float(value)
    return repr(0.0 if abs(value) < 1e-30 else value)


def apex(f_number, time, iso):
    """Ev = Av + Tv = Bv + Sv, with Av = 2 log2 N, Tv = -log2 t and Sv = log2(S / 3.125)."""
    n, s, ratio = Decimal(f_number), Decimal(iso), Fraction(time)
    t = Decimal(ratio.numerator) / Decimal(ratio.denominator)
    av, tv, sv = 2 * log2(n), -log2(t), log2(s / Decimal("3.125"))
    ev, bv = av + tv, av + tv - sv
    # The meter's equation N² / t = L S / K with K = 12.5 cd s / m².
    luminance = Decimal("12.5") * n * n / (t * s)
    print(f"\n[[camera]]\nf_number = {number(n)}\nexposure_s = {number(t)}\niso = {number(s)}")
    print(f"exposure_value = {number(ev)}\nev100 = {number(bv + 5)}\nluminance_cd_m2 = {number(luminance)}")


def steady(mains_hz, frame_rate):
    """Every whole number of half periods that a frame has room for, and whether a frame is a whole number of them."""
    fps, half = Fraction(frame_rate), Fraction(1, 2 * mains_hz)
    angles = []
    count = 1
    while count * half * fps <= 1:
        angles.append(number(360 * count * half * fps))
        count += 1
    locked = (1 / fps / half).denominator == 1
    print(f"\n[[lamps]]\nmains_hz = {mains_hz}\nframe_rate_fps = {number(fps)}")
    print(f"steady_angles_deg = [{', '.join(angles)}]\nlocked = {str(locked).lower()}")


def main():
    print("# Made by scripts/exposure.py; do not edit.")
    print('# Bright sun is f/16 and one over the ISO, which tables round up to a whole step.')
    print('bright_sun_source = "common practice: f/16 at one over the ISO in bright sun; tables print 15"')
    print(f"bright_sun_rule_ev100 = {number(2 * log2(Decimal(16)) + log2(Decimal(100)))}\nbright_sun_table_ev100 = 15.0")
    print("# A phone at f/1.78, 1/48 s and ISO 50.")
    phone = 2 * log2(Decimal("1.78")) + log2(Decimal(48)) + 1
    print(f"phone_over_rule_stops = {number(2 * log2(Decimal(16)) + log2(Decimal(100)) - phone)}")
    print(f"phone_over_table_stops = {number(15 - phone)}")
    print('\n# Filters are marked in tenths of density, three to a stop.')
    print('density_source = "the definition of optical density, log10 of the light ratio; markings as filters are sold"')
    print("marked_densities = [" + ", ".join(number(Decimal(tenths) / 10) for tenths in range(3, 31, 3)) + "]")
    stops = (Decimal(tenths) / 10 / Decimal(2).log10() for tenths in range(3, 31, 3))
    print("exact_stops = [" + ", ".join(number(value) for value in stops) + "]")
    print("marked_stops = [" + ", ".join(number(Decimal(stop)) for stop in range(1, 11)) + "]")
    print('\n# Rows of the APEX system.')
    print('camera_source = "CIPA DC-008-2019 (Exif 2.32), annex on APEX units; luminance by ISO 2720 with K = 12.5"')
    print('\n# Lamps swell twice in a period of the mains.')
    print('lamps_source = "the definition: a whole number of half periods gathers the same light in every frame"')
    for camera in CAMERAS:
        apex(*camera)
    for mains_hz in MAINS_HZ:
        for frame_rate in FRAME_RATES:
            steady(mains_hz, frame_rate)


main()
