//! Pictures that journeys draw for themselves, to bring in as photos and frames.

use anyhow::Result;

/// A PNG file of a picture, from the colour (red, green, blue) at each column and row.
pub(crate) fn png(width: u32, height: u32, colour: impl Fn(u32, u32) -> [u8; 3]) -> Result<Vec<u8>> {
    let pixels: Vec<u8> = (0..height)
        .flat_map(|row| (0..width).map(move |column| (column, row)))
        .flat_map(|(column, row)| colour(column, row))
        .collect();
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, width, height);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.write_header()?.write_image_data(&pixels)?;
    Ok(file)
}
