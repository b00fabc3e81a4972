"""Prints the metadata_reader rows of depth_of_field.toml: what ExifTool works out from a photo's tags.

Needs Python 3.11 or later and ExifTool 12.57 (Debian 12: libimage-exiftool-perl 12.57+dfsg-1) as `exiftool`.
"""

import json
import pathlib
import subprocess
import tempfile

# Focal length (mm), 35 mm-equivalent (mm), f-number, subject distance (m).
PHOTOS = [
    (6.86, 24, 1.78, 0.5),
    (6.86, 24, 1.78, 2.0),
    (9.0, 77, 2.8, 1.0),
    (2.22, 13, 2.2, 0.3),
    (50.0, 50, 1.8, 3.0),
    (35.0, 53, 2.8, 2.0),
]

# The smallest JPEG that carries tags: its beginning and its end.
BLANK = b"\xff\xd8\xff\xd9"


def worked_out(photo, folder):
    """Writes the tags into a photo and reads back what follows from them, as numbers."""
    focal_mm, equivalent_mm, f_number, subject_m = photo
    file = pathlib.Path(folder) / "photo.jpg"
    file.write_bytes(BLANK)
    tags = [
        f"-FocalLength={focal_mm}",
        f"-FocalLengthIn35mmFormat={equivalent_mm}",
        f"-FNumber={f_number}",
        f"-SubjectDistance={subject_m}",
    ]
    subprocess.run(["exiftool", "-q", "-overwrite_original", *tags, file], check=True)
    asked = ["-CircleOfConfusion", "-HyperfocalDistance", "-DOF", "-FOV"]
    read = subprocess.run(["exiftool", "-j", "-n", *asked, file], check=True, capture_output=True)
    return json.loads(read.stdout)[0]


def main():
    with tempfile.TemporaryDirectory() as folder:
        for photo in PHOTOS:
            focal_mm, equivalent_mm, f_number, subject_m = photo
            read = worked_out(photo, folder)
            near_m, far_m = str(read["DOF"]).split()[:2]
            print("\n[[metadata_reader]]")
            print(f"focal_length_mm = {focal_mm!r}\nequivalent_mm = {float(equivalent_mm)!r}")
            print(f"f_number = {f_number!r}\nfocus_m = {subject_m!r}")
            print(f"circle_mm = {float(read['CircleOfConfusion'])!r}")
            print(f"hyperfocal_m = {float(read['HyperfocalDistance'])!r}")
            print(f"near_m = {float(near_m)!r}\nfar_m = {float(far_m)!r}")
            print(f"long_side_deg = {float(str(read['FOV']).split()[0])!r}")


main()
