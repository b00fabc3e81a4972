//! Which shapes each square of the image can see, however far out of focus they are.

use std::ops::Range;

use glam::DVec3;
use staging::{Camera, Pupil};

use crate::buckets::Buckets;
use crate::lanes::narrow;
use crate::picture::{Picture, Shape};
use crate::tracer::Size;

/// Pixels to a tile's side: chosen because a smaller one spends its time on lists, a larger one on shapes it cannot see.
pub(crate) const TILE: u32 = 8;

/// A shape in a tile's list.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Entry {
    /// Its place among the picture's shapes.
    pub(crate) shape: u32,
    /// Nothing of it is nearer along the axis.
    pub(crate) nearest: f32,
}

/// For every tile the shapes in it, nearest first.
#[derive(Debug, Clone)]
pub(crate) struct Tiles {
    columns: u32,
    lists: Buckets<Entry>,
}

/// The columns and rows of tiles that a shape can be seen in, and its nearest depth.
#[derive(Debug, Clone)]
struct Extent {
    shape: u32,
    columns: Range<u32>,
    rows: Range<u32>,
    nearest: f64,
}

/// A box in tangents.
#[derive(Debug, Clone, Copy)]
struct TangentBox {
    across: (f64, f64),
    up: (f64, f64),
    nearest: f64,
}

impl Tiles {
    /// The lists of those of the picture's shapes that are `wanted`.
    pub(crate) fn new(picture: &Picture, size: Size, wanted: impl Fn(usize) -> bool) -> Self {
        let (columns, rows) = (size.width.div_ceil(TILE), size.height.div_ceil(TILE));
        let mut extents: Vec<Extent> = (0_u32..)
            .zip(&picture.shapes)
            .filter(|(index, _)| wanted(*index as usize))
            .filter_map(|(index, shape)| extent(picture, size, index, shape))
            .collect();
        extents.sort_unstable_by(|one, other| {
            one.nearest.total_cmp(&other.nearest).then(one.shape.cmp(&other.shape))
        });
        let filled = extents.iter().flat_map(|extent| {
            let entry = Entry { shape: extent.shape, nearest: narrow(extent.nearest) };
            let (across, down) = (extent.columns.clone(), extent.rows.clone());
            down.flat_map(move |row| {
                across.clone().map(move |column| ((row * columns + column) as usize, entry))
            })
        });
        let blank = Entry { shape: 0, nearest: 0.0 };
        Self { columns, lists: Buckets::new((columns * rows) as usize, blank, filled) }
    }

    /// How many tiles lie side by side.
    pub(crate) const fn columns(&self) -> u32 {
        self.columns
    }

    /// The shapes in a tile.
    pub(crate) fn list(&self, column: u32, row: u32) -> &[Entry] {
        self.lists.list((row * self.columns + column) as usize)
    }
}

/// Where a shape can be seen; none if nowhere.
fn extent(picture: &Picture, size: Size, index: u32, shape: &Shape) -> Option<Extent> {
    let opens = seen(&picture.opens, picture.pupil.as_ref(), shape, DVec3::ZERO);
    let still = picture.opens == picture.closes && shape.moved == DVec3::ZERO;
    let closes =
        if still { opens } else { seen(&picture.closes, picture.pupil.as_ref(), shape, shape.moved) };
    let TangentBox { across, up, nearest } = match (opens, closes) {
        (None, None) => return None,
        (Some(one), None) | (None, Some(one)) => one,
        (Some(one), Some(other)) => TangentBox {
            across: (one.across.0.min(other.across.0), one.across.1.max(other.across.1)),
            up: (one.up.0.min(other.up.0), one.up.1.max(other.up.1)),
            nearest: one.nearest.min(other.nearest),
        },
    };
    let view = &picture.view;
    let columns = tiles_between(
        (across.0 + view.left) / view.width(),
        (across.1 + view.left) / view.width(),
        size.width,
    )?;
    let rows =
        tiles_between((view.up - up.1) / view.height(), (view.up - up.0) / view.height(), size.height)?;
    Some(Extent { shape: index, columns, rows, nearest })
}

/// The tiles between two shares of a side of `pixels`, with a pixel to spare on each side for what is not quite a
/// straight line while things move.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the image")]
fn tiles_between(from: f64, to: f64, pixels: u32) -> Option<Range<u32>> {
    let side = f64::from(pixels);
    let (first, last) = (from * side - 1.0, to * side + 1.0);
    if last < 0.0 || first > side {
        return None;
    }
    // Not `clamp`: its panic would bring the writing of numbers as text into every worker.
    let tile = |pixel: f64| pixel.max(0.0).min(side - 1.0) as u32 / TILE;
    Some(tile(first)..tile(last) + 1)
}

/// The box of tangents in which a lens sees a shape.
///
/// A point at depth z and place X is seen at X / z and, out of focus, up to `half |1/z − 1/s|` beside that. Over the box
/// that the shape fills, the least of the one and the greatest of the other are at its nearest or farthest depth, because
/// in 1/z the least is concave and the greatest convex.
fn seen(camera: &Camera, pupil: Option<&Pupil>, shape: &Shape, moved: DVec3) -> Option<TangentBox> {
    let span = |direction: DVec3| {
        let (least, most) = shape.solid.interval(direction);
        let offset = (moved - camera.position()).dot(direction);
        (least + offset, most + offset)
    };
    let (nearest, farthest) = span(camera.forward());
    if farthest <= 0.0 {
        return None;
    }
    if nearest <= NEAREST_M {
        let everywhere = (f64::NEG_INFINITY, f64::INFINITY);
        return Some(TangentBox { across: everywhere, up: everywhere, nearest: 0.0 });
    }
    let ends = (1.0 / nearest, 1.0 / farthest);
    let spread = |(least, most): (f64, f64), lens: Option<(f64, f64)>| {
        let soft = |end: f64| lens.map_or(0.0, |(half, focus)| half * (end - 1.0 / focus).abs());
        let low = (least * ends.0 - soft(ends.0)).min(least * ends.1 - soft(ends.1));
        let high = (most * ends.0 + soft(ends.0)).max(most * ends.1 + soft(ends.1));
        (low, high)
    };
    let across = pupil.map(|pupil| (pupil.width.to_m() / 2.0, pupil.focus_across.to_m()));
    let up = pupil.map(|pupil| (pupil.height.to_m() / 2.0, pupil.focus_up.to_m()));
    Some(TangentBox {
        across: spread(span(camera.right()), across),
        up: spread(span(camera.up()), up),
        nearest,
    })
}

/// What is nearer than this may be anywhere in the image, metres: chosen because no phone focuses there.
const NEAREST_M: f64 = 0.005;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shape_beside_the_image_is_in_no_tile() {
        assert_eq!(tiles_between(-0.4, -0.1, 320), None);
        assert_eq!(tiles_between(1.1, 1.4, 320), None);
        assert_eq!(tiles_between(-0.4, 0.01, 320), Some(0..1));
        assert_eq!(tiles_between(0.5, 2.0, 320), Some(19..40));
    }
}
