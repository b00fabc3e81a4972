"""Prints airy.toml: diameters of the Airy disc to its first dark ring, from the first zero of the Bessel function J1.

Needs Python 3.11 or later with scipy==1.17.1 and numpy==2.4.6:
    python -m venv venv && venv/bin/pip install scipy==1.17.1 numpy==2.4.6
    venv/bin/python airy.py > ../airy.toml
"""

import math

import scipy
from scipy import integrate, special

F_NUMBERS = [1.78, 2.2, 2.8, 4.0, 5.6, 8.0, 16.0]
WAVELENGTH_UM = 0.55


def energy_within(zero):
    """The share of a point's light inside the ring, by integrating the pattern rather than by its closed form."""
    inside, _ = integrate.quad(lambda x: special.j1(x) ** 2 / x, 0.0, zero)
    return 2.0 * inside


def main():
    zero = float(special.jn_zeros(1, 1)[0])
    factor = 2.0 * zero / math.pi
    print("# Made by scripts/airy.py; do not edit.")
    print(f'source = "scipy {scipy.__version__}, special.jn_zeros: the first zero of J1, times 2 / pi, times wavelength and f-number"')
    print("# Handbooks round the factor to 2.44, which is 0.027 % more.")
    print("tolerance_relative = 3e-4")
    print(f"wavelength_um = {WAVELENGTH_UM}")
    print(f"first_zero = {zero!r}\ndiameter_factor = {factor!r}\nenergy_within = {float(energy_within(zero))!r}")
    for f_number in F_NUMBERS:
        print(f"\n[[row]]\nf_number = {f_number!r}\ndiameter_um = {factor * WAVELENGTH_UM * f_number!r}")


main()
