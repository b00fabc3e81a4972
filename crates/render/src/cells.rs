//! A grid of square cells on a plane, or a pile of such grids, and which things touch each of them.

use glam::DVec2;

use crate::buckets::Buckets;
use crate::lanes::{Lanes, Vector, Vectors, WIDTH, all, choose, narrow, numbers};

/// For every cell the things whose rectangles touch it.
#[derive(Debug, Clone)]
pub(crate) struct Cells {
    /// Two directions along the plane, in the tracer's own directions.
    across: Vector,
    up: Vector,
    /// Where the tracer's origin lies in the grid, in cells.
    origin: (f32, f32),
    per_m: f32,
    /// How many cells lie side by side, and above each other.
    columns: f32,
    rows: f32,
    things: Buckets<u32>,
}

/// A rectangle on the plane, metres along both directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rectangle {
    pub(crate) low: DVec2,
    pub(crate) high: DVec2,
    /// The first and the last layer that it is in, from 0.
    pub(crate) layers: (u8, u8),
}

/// How fine a grid is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fineness {
    /// A cell's side at least, metres.
    pub(crate) cell_m: f64,
    /// Cells along a side at most; the rest of the plane is left out if cells may not grow.
    pub(crate) most_cells: f64,
}

/// The cell of each of four places.
pub(crate) type Places = [usize; WIDTH];

impl Cells {
    /// A grid over everything in `touched`, which are rectangles counted from the tracer's origin along `directions`.
    pub(crate) fn new(directions: (Vector, Vector), touched: &[Rectangle], fineness: Fineness) -> Self {
        let whole = touched.iter().copied().reduce(|all, one| Rectangle {
            low: all.low.min(one.low),
            high: all.high.max(one.high),
            layers: (0, all.layers.1.max(one.layers.1)),
        });
        let Rectangle { low, high, layers } =
            whole.unwrap_or(Rectangle { low: DVec2::ZERO, high: DVec2::ZERO, layers: (0, 0) });
        let size = high - low;
        let cell = fineness.cell_m.max(size.max_element() / fineness.most_cells);
        let (columns, rows) =
            if touched.is_empty() { (0, 0) } else { (count(size.x / cell), count(size.y / cell)) };
        // A little more on each side, because rays calculate in fewer digits.
        let step =
            |place: f64, from: f64, most: i32| ((place - from) / cell).max(0.0).min(f64::from(most - 1));
        let filled = (0_u32..).zip(touched).flat_map(|(thing, one)| {
            let first = (step(one.low.x - LITTLE_M, low.x, columns), step(one.low.y - LITTLE_M, low.y, rows));
            let last =
                (step(one.high.x + LITTLE_M, low.x, columns), step(one.high.y + LITTLE_M, low.y, rows));
            let (across, up) = (floor(first.0)..=floor(last.0), floor(first.1)..=floor(last.1));
            (one.layers.0..=one.layers.1).flat_map(move |layer| {
                let (across, first_row) = (across.clone(), i32::from(layer) * rows);
                up.clone().flat_map(move |row| {
                    across.clone().map(move |column| (index(column, first_row + row, columns), thing))
                })
            })
        });
        let layers = i32::from(layers.1) + 1;
        Self {
            across: directions.0,
            up: directions.1,
            origin: (narrow(-low.x / cell), narrow(-low.y / cell)),
            per_m: narrow(1.0 / cell),
            columns: narrow(f64::from(columns)),
            rows: narrow(f64::from(rows)),
            things: Buckets::new(index(0, rows * layers, columns), 0, filled),
        }
    }

    /// The cell of each of four places in those layers, numbers from 0; one that is empty for those outside the grid.
    pub(crate) fn places(&self, at: Vectors, layer: Lanes) -> Places {
        let scale = all(self.per_m);
        let column = self.across.lanes().dot(at) * scale + all(self.origin.0);
        let row = self.up.lanes().dot(at) * scale + all(self.origin.1);
        let (columns, rows) = (all(self.columns), all(self.rows));
        let inside = column.simd_ge(Lanes::ZERO)
            & row.simd_ge(Lanes::ZERO)
            & column.simd_lt(columns)
            & row.simd_lt(rows);
        let place = (layer * rows + whole(row)) * columns + whole(column);
        numbers(choose(inside, place, all(NOWHERE)))
    }

    /// The things that touch a cell.
    pub(crate) fn list(&self, cell: usize) -> &[u32] {
        self.things.list(cell)
    }
}

/// What rounding may move a place by, metres.
pub(crate) const LITTLE_M: f64 = 1.0e-3;

/// How many whole cells hold a length of that many.
#[expect(clippy::cast_possible_truncation, reason = "at most a few hundred")]
fn count(cells: f64) -> i32 {
    (libm::ceil(cells) as i32).max(1)
}

#[expect(clippy::cast_possible_truncation, reason = "clamped to a few hundred")]
const fn floor(step: f64) -> i32 {
    step as i32
}

/// The number of no cell: below 0, and so past the last.
const NOWHERE: f32 = -1.0;

/// Numbers from 0 on without their fractions.
pub(crate) fn whole(value: Lanes) -> Lanes {
    Lanes::from_i32x4(value.fast_trunc_int())
}

#[expect(clippy::cast_sign_loss, reason = "cells are counted from 0")]
const fn index(column: i32, row: i32, columns: i32) -> usize {
    (row * columns + column) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(x: f64, y: f64, half: f64) -> Rectangle {
        let (middle, half) = (DVec2::new(x, y), DVec2::splat(half));
        Rectangle { low: middle - half, high: middle + half, layers: (0, 0) }
    }

    fn grid(touched: &[Rectangle]) -> Cells {
        let directions = (Vector { x: 1.0, y: 0.0, z: 0.0 }, Vector { x: 0.0, y: 1.0, z: 0.0 });
        Cells::new(directions, touched, Fineness { cell_m: 0.25, most_cells: 256.0 })
    }

    fn at(cells: &Cells, x: f32, y: f32) -> Vec<u32> {
        cells.list(cells.places(Vector { x, y, z: -5.0 }.lanes(), Lanes::ZERO)[0]).to_vec()
    }

    #[test]
    fn a_place_finds_what_touches_its_cell_and_nothing_else() {
        let cells = grid(&[rectangle(0.0, 0.0, 0.2), rectangle(3.0, 1.0, 0.2)]);
        assert_eq!(at(&cells, 0.1, -0.1), [0]);
        assert_eq!(at(&cells, 3.1, 1.1), [1]);
        assert_eq!(at(&cells, 1.5, 0.5), [0_u32; 0]);
    }

    #[test]
    fn a_place_finds_only_what_is_in_its_layer() {
        let low = Rectangle { layers: (0, 1), ..rectangle(0.0, 0.0, 0.2) };
        let high = Rectangle { layers: (2, 2), ..low };
        let cells = grid(&[low, high]);
        let layers = Lanes::new([0.0, 1.0, 2.0, 3.0]);
        let found = cells.places(Vector { x: 0.1, y: 0.1, z: 0.0 }.lanes(), layers);
        assert_eq!(found.map(|place| cells.list(place).to_vec()), [vec![0], vec![0], vec![1], vec![]]);
    }

    #[test]
    fn outside_the_grid_is_nothing() {
        let cells = grid(&[rectangle(0.0, 0.0, 0.2), rectangle(3.0, 1.0, 0.2)]);
        for (x, y) in [(-50.0, 0.5), (50.0, 0.5), (0.0, -9.0), (0.0, 9.0), (1.0e12, 0.0)] {
            assert_eq!(at(&cells, x, y), [0_u32; 0], "{x} {y}");
        }
        assert_eq!(at(&grid(&[]), 0.0, 0.0), [0_u32; 0]);
    }
}
