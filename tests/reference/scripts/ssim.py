"""Prints ssim.toml: how alike pairs of the pictures in ../pictures/renderer are, by another implementation.

Needs Python 3.11 or later with scikit-image==0.26.0, numpy==2.4.6 and pillow==13.0.0:
    python -m venv venv && venv/bin/pip install scikit-image==0.26.0 numpy==2.4.6 pillow==13.0.0
    venv/bin/python ssim.py > ../ssim.toml
Run it again whenever the pictures are made anew.
"""

import pathlib

import numpy as np
import skimage
from PIL import Image
from skimage.metrics import structural_similarity

PICTURES = pathlib.Path(__file__).parent.parent / "pictures" / "renderer"
PAIRS = [
    ("adapter_focusing", "adapter_without_focus"),
    ("full_frame", "phone_main"),
    ("near_soft_edges", "far_soft_edges"),
    ("phone_tele", "sunlit"),
    ("point_lights", "point_lights"),
]


def luma(name):
    """8-bit luma with the weights of ITU-R BT.709."""
    red, green, blue = np.moveaxis(np.array(Image.open(PICTURES / f"{name}.png"), dtype=float), 2, 0)
    return np.round(0.2126 * red + 0.7152 * green + 0.0722 * blue)


print("# Made by scripts/ssim.py; do not edit.")
print(f'source = "scikit-image {skimage.__version__}, structural_similarity with a Gaussian window of sigma 1.5 on 8-bit luma"')
print("tolerance = 1e-6")
for one, other in PAIRS:
    value = structural_similarity(
        luma(one), luma(other), gaussian_weights=True, sigma=1.5, use_sample_covariance=False, data_range=255
    )
    print(f'\n[[pair]]\npictures = ["{one}", "{other}"]\nssim = {float(value)!r}')
