//! PNG files: the outside renderer's pictures, and what is left behind to look at when a check fails.

use std::fs::{self, File};
use std::io::{BufReader, BufWriter};
use std::path::{Path, PathBuf};

use render::Image;

use crate::ssim::Bytes;

/// Reads a PNG of 8-bit red, green and blue, or of a palette of such.
pub(crate) fn read(path: &Path) -> Bytes {
    let file = File::open(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let mut decoder = png::Decoder::new(BufReader::new(file));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a PNG");
    let mut data = vec![0; reader.output_buffer_size().expect("a small PNG")];
    let info = reader.next_frame(&mut data).expect("a whole PNG");
    assert_eq!((info.color_type, info.bit_depth), (png::ColorType::Rgb, png::BitDepth::Eight));
    let rgb = data.chunks_exact(3).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    Bytes { width: info.width as usize, height: info.height as usize, rgb }
}

pub(crate) fn developed(image: &Image) -> Bytes {
    let rgba = image.to_rgba8();
    let rgb = rgba.chunks_exact(4).map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    Bytes { width: image.size.width as usize, height: image.size.height as usize, rgb }
}

/// Writes expected | difference | actual beside each other; the difference is 8 times as large as it is, about grey.
pub(crate) fn write_failure(name: &str, expected: &Bytes, actual: &Bytes) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/picture-failures");
    fs::create_dir_all(&folder).expect("a folder for failures");
    let path = folder.join(format!("{name}.png"));
    let width = expected.width;
    let mut data = Vec::new();
    for (theirs, ours) in expected.rgb.chunks_exact(width).zip(actual.rgb.chunks_exact(width)) {
        data.extend(theirs.iter().flatten());
        data.extend(theirs.iter().flatten().zip(ours.iter().flatten()).map(|(theirs, ours)| {
            let eightfold = 128 + 8 * (i32::from(*ours) - i32::from(*theirs));
            u8::try_from(eightfold.clamp(0, 255)).expect("clamped")
        }));
        data.extend(ours.iter().flatten());
    }
    let file = BufWriter::new(File::create(&path).expect("a file for a failure"));
    let side = |pixels: usize| u32::try_from(pixels).expect("a small image");
    let mut encoder = png::Encoder::new(file, side(3 * width), side(expected.height));
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    let mut writer = encoder.write_header().expect("a PNG");
    writer.write_image_data(&data).expect("a PNG");
    path
}
