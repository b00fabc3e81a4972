//! Photos in HEIC: where the Exif block lies, and what the container says itself.
//!
//! # Source
//! ISO/IEC 14496-12:2022, 8.11 (items and where they are); ISO/IEC 23008-12:2022, 6.5.3 (size), 6.5.10 (rotation),
//! annex A.2.1 (the Exif item).

use mp4_atom::{Atom as _, FourCC, Iloc, Ipma, Irot, Ispe, ItemInfoEntry, ItemLocation, Pitm};

use super::boxes::{boxes, find, inside_meta, versioned};
use super::exif_tags;
use super::partial_file::{PartialFile, Stop};
use super::{FileKind, PhotoFacts, Turn};

/// The most bytes of an Exif item that are read; cameras put a thumbnail there and stay below a tenth of it.
const MOST_EXIF_BYTES: usize = 1 << 20;

/// How far into its item a block without a proper offset is looked for.
const MOST_BEFORE_BLOCK: usize = 64;

/// Reads the facts of a photo whose `meta` box holds `meta`.
pub(super) fn read_heif(file: &PartialFile<'_>, meta: &[u8]) -> Result<PhotoFacts, Stop> {
    let mut facts = PhotoFacts::unknown(FileKind::Heic);
    let meta = inside_meta(meta);
    if let Some(block) = exif_item(file, meta)?.as_deref().and_then(tiff_block) {
        exif_tags::read_exif_block(block, &mut facts);
    }
    let primary = primary_image(meta);
    // Exif first: where someone has cropped the photo since, its tags speak of what the camera took.
    if facts.width_px.is_none() || facts.height_px.is_none() {
        facts.width_px = primary.size.map(|(width, _)| width);
        facts.height_px = primary.size.map(|(_, height)| height);
    }
    // Viewers of this container follow its own rotation and not the tag in Exif.
    facts.turn = Some(primary.turn);
    Ok(facts)
}

/// The bytes of the first Exif item that has any.
fn exif_item(file: &PartialFile<'_>, meta: &[u8]) -> Result<Option<Vec<u8>>, Stop> {
    let Some(locations) = find(meta, *b"iloc").and_then(item_locations) else { return Ok(None) };
    for id in exif_item_ids(meta) {
        if let Some(location) = locations.iter().find(|location| location.item_id == id) {
            let bytes = item_bytes(file, meta, location)?;
            if !bytes.is_empty() {
                return Ok(Some(bytes));
            }
        }
    }
    Ok(None)
}

fn exif_item_ids(meta: &[u8]) -> impl Iterator<Item = u32> {
    let entries = find(meta, *b"iinf").and_then(versioned).and_then(|(version, body)| {
        // A count stands before the entries, in two bytes or in four.
        body.get(if version == 0 { 2 } else { 4 }..)
    });
    let entries = boxes(entries.unwrap_or_default()).filter(|(kind, _)| kind == b"infe");
    // One entry that cannot be read says nothing about the others.
    let entries = entries.filter_map(|(_, mut body)| ItemInfoEntry::decode_body(&mut body).ok());
    entries.filter(|entry| entry.item_type == Some(FourCC::new(b"Exif"))).map(|entry| entry.item_id)
}

fn item_locations(mut iloc: &[u8]) -> Option<Vec<ItemLocation>> {
    let [version, _, _, _, offset_and_length, base_and_index] = *iloc.first_chunk()?;
    // Version 0 has no index, whatever stands in its place.
    let index = if version == 0 { 0 } else { base_and_index % 16 };
    // Where none of them takes a byte, extents take none at all, and a few bytes could claim millions.
    if offset_and_length == 0 && index == 0 {
        return None;
    }
    Iloc::decode_body(&mut iloc).ok().map(|iloc| iloc.item_locations)
}

/// The extents of an item one after the other, from the file or from the `meta` box itself.
fn item_bytes(file: &PartialFile<'_>, meta: &[u8], location: &ItemLocation) -> Result<Vec<u8>, Stop> {
    let mut bytes = Vec::new();
    let most = u64::try_from(MOST_EXIF_BYTES).unwrap_or(u64::MAX);
    for extent in &location.extents {
        let start = location.base_offset.saturating_add(extent.offset);
        // A length of zero means "to the end".
        let length = if extent.length == 0 { most } else { extent.length.min(most) };
        let range = start..start.saturating_add(length);
        let extent = match location.construction_method {
            0 => file.get(range)?,
            1 => within_idat(meta, range.start, range.end).unwrap_or_default(),
            // Items cut from other items: no camera writes its Exif so.
            _ => &[],
        };
        bytes.extend_from_slice(extent);
        if extent.is_empty() || bytes.len() >= MOST_EXIF_BYTES {
            break;
        }
    }
    bytes.truncate(MOST_EXIF_BYTES);
    Ok(bytes)
}

fn within_idat(meta: &[u8], start: u64, end: u64) -> Option<&[u8]> {
    let idat = find(meta, *b"idat")?;
    let start = usize::try_from(start).ok()?;
    let end = usize::try_from(end).ok()?.min(idat.len());
    idat.get(start..end)
}

/// The block from its TIFF header on.
///
/// The item begins with the offset of that header. Some phones count it wrongly because they store the header of a JPEG
/// segment before the block, so the first few bytes are searched as well.
fn tiff_block(item: &[u8]) -> Option<&[u8]> {
    let (offset, payload) = item.split_first_chunk()?;
    let told = usize::try_from(u32::from_be_bytes(*offset)).ok().and_then(|offset| payload.get(offset..));
    let searched = (0..MOST_BEFORE_BLOCK).map_while(|offset| payload.get(offset..));
    told.into_iter().chain(searched).find(|block| block.starts_with(b"II*\0") || block.starts_with(b"MM\0*"))
}

/// What the container says about the picture that it shows.
struct PrimaryImage {
    size: Option<(u32, u32)>,
    turn: Turn,
}

fn primary_image(meta: &[u8]) -> PrimaryImage {
    let mut image = PrimaryImage { size: None, turn: Turn::None };
    for (kind, mut body) in primary_properties(meta).unwrap_or_default() {
        match &kind {
            b"ispe" => {
                let size = Ispe::decode_body(&mut body).ok().map(|ispe| (ispe.width, ispe.height));
                image.size = size.filter(|(width, height)| *width > 0 && *height > 0);
            }
            b"irot" => {
                // The rotation is given in quarters counterclockwise.
                image.turn = match Irot::decode_body(&mut body).map(|irot| irot.angle) {
                    Ok(1) => Turn::CounterClockwise,
                    Ok(2) => Turn::Half,
                    Ok(3) => Turn::Clockwise,
                    Ok(_) | Err(_) => Turn::None,
                };
            }
            _ => {}
        }
    }
    image
}

/// The properties of the primary item, as boxes.
fn primary_properties(meta: &[u8]) -> Option<Vec<([u8; 4], &[u8])>> {
    let mut pitm = find(meta, *b"pitm")?;
    let primary = Pitm::decode_body(&mut pitm).ok()?.item_id;
    let iprp = find(meta, *b"iprp")?;
    let properties: Vec<_> = boxes(find(iprp, *b"ipco")?).collect();
    let tables = boxes(iprp).filter(|(kind, _)| kind == b"ipma");
    let tables = tables.filter_map(|(_, mut body)| Ipma::decode_body(&mut body).ok());
    let items = tables.flat_map(|table| table.item_properties).filter(|item| item.item_id == primary);
    let indices = items.flat_map(|item| item.associations).map(|association| association.property_index);
    // Counted from one; zero stands for none.
    Some(indices.filter_map(|index| properties.get(usize::from(index.checked_sub(1)?)).copied()).collect())
}

#[cfg(test)]
mod tests {
    use super::super::read_photo;
    use super::super::samples::{self, Exif};
    use super::*;

    fn facts(exif_item: &[u8], quarters: u8) -> PhotoFacts {
        read_photo(&samples::heic(exif_item, quarters)).expect("a photo")
    }

    #[test]
    fn exif_is_found_behind_a_proper_offset_and_behind_a_segment_header() {
        let proper = facts(&samples::exif_item(b"Exif\0\0", 6), 0);
        let sloppy = facts(&samples::exif_item(b"\xff\xe1\x12\x34Exif\0\0", 0), 0);
        assert_eq!(proper.focal_length_mm, Some(Exif::FOCAL_LENGTH_MM));
        assert_eq!(proper, sloppy);
    }

    #[test]
    fn the_container_turns_the_picture() {
        for (quarters, turn) in [(0, Turn::None), (1, Turn::CounterClockwise), (3, Turn::Clockwise)] {
            let photo = facts(&samples::exif_item(b"", 0), quarters);
            assert_eq!(photo.turn, Some(turn), "{quarters} quarters");
        }
    }

    #[test]
    fn without_exif_the_container_still_knows_the_size() {
        let photo = facts(b"", 3);
        assert_eq!((photo.width_px, photo.height_px), (Some(4000), Some(3000)));
        assert_eq!(photo.is_upright(), Some(true));
        assert_eq!(photo.focal_length_mm, None);
    }

    #[test]
    fn extents_that_take_no_bytes_are_not_counted_out() {
        // Version 2, sizes of nothing, one item of 65535 extents.
        let iloc = b"\x02\0\0\0\0\0\0\0\0\x01\0\0\0\x01\0\0\0\0\xff\xff";
        assert!(item_locations(iloc).is_none());
        // Version 0, which has no index, with the size of one.
        let iloc = b"\0\0\0\0\0\x04\0\x01\0\x01\0\0\xff\xff";
        assert!(item_locations(iloc).is_none());
    }
}
