//! Where the labels of a plan go, so that none lies on another or on what is drawn.

use glam::DVec2;

/// The size of letters on a plan, millimetres: 9.6 points, as look asks for 9 at least.
pub(super) const LETTERS_MM: f64 = 3.4;
/// How wide a letter is at most on average, over its size: chosen a little wide, as system fonts differ.
const WIDE: f64 = 0.58;
/// How far from what it names a label may go, millimetres. One that goes farther than the second has a line to it.
const AWAY_MM: [f64; 5] = [3.5, 5.5, 9.0, 13.0, 18.0];
/// The ways in which it may go, best first: to the right, to the left, and up and down.
const WAYS: [(f64, f64); 8] =
    [(1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0), (0.7, -0.7), (0.7, 0.7), (-0.7, -0.7), (-0.7, 0.7)];

/// Strokes are kept free of labels at points so far apart, millimetres.
const STROKE_STEP_MM: f64 = 1.2;

/// An upright rectangle on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub(super) least: DVec2,
    pub(super) most: DVec2,
}

/// A label in its place: its middle.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Label {
    pub(super) text: String,
    pub(super) middle: DVec2,
    /// Where a line to it starts and ends, if it is far from what it names.
    pub(super) line: Option<(DVec2, DVec2)>,
}

/// The labels of a plan, placed one after the other.
#[derive(Debug, Default)]
pub(super) struct Labels {
    size_mm: DVec2,
    taken: Vec<Area>,
    pub(super) placed: Vec<Label>,
}

impl Area {
    pub(super) fn about(middle: DVec2, half: DVec2) -> Self {
        Self { least: middle - half, most: middle + half }
    }

    /// How much of it two share, square millimetres.
    fn shared(&self, other: &Self) -> f64 {
        let sides = (self.most.min(other.most) - self.least.max(other.least)).max(DVec2::ZERO);
        sides.x * sides.y
    }

    fn mm2(&self) -> f64 {
        let sides = self.most - self.least;
        sides.x * sides.y
    }
}

impl Labels {
    pub(super) fn on(size_mm: DVec2) -> Self {
        Self { size_mm, ..Self::default() }
    }

    /// Keeps labels from an area.
    pub(super) fn take(&mut self, area: Area) {
        self.taken.push(area);
    }

    /// Keeps labels from a stroke.
    pub(super) fn take_line(&mut self, from: DVec2, to: DVec2) {
        let count = libm::ceil(from.distance(to) / STROKE_STEP_MM).clamp(1.0, 400.0);
        let mut at = 0.0;
        while at <= count {
            self.take(Area::about(from.lerp(to, at / count), DVec2::splat(0.6)));
            at += 1.0;
        }
    }

    /// Puts a label beside a point: in the first of its places that is free, else in the one that covers least.
    pub(super) fn put(&mut self, text: String, beside: DVec2) {
        self.put_at(text, beside, &AWAY_MM);
    }

    /// Puts a label on a point, or beside it if there is no room.
    pub(super) fn put_on(&mut self, text: String, point: DVec2) {
        self.put_at(text, point, &[&[f64::NEG_INFINITY], AWAY_MM.as_slice()].concat());
    }

    fn put_at(&mut self, text: String, beside: DVec2, away_mm: &[f64]) {
        let letters = text.chars().fold(0.0, |count, _| count + 1.0);
        let half = DVec2::new(letters * LETTERS_MM * WIDE, LETTERS_MM * 1.2) / 2.0;
        let tries = away_mm.iter().flat_map(|away| WAYS.iter().map(move |way| (*away, DVec2::from(*way))));
        let tries = tries.map(|(away, way)| {
            // Not away at all is on it.
            let off = if away.is_finite() { way * (half + DVec2::splat(away)) } else { DVec2::ZERO };
            let middle = beside + off;
            (middle, away, self.covers(&Area::about(middle, half)))
        });
        let mut best: Option<(DVec2, f64, f64)> = None;
        for (middle, away, covers) in tries {
            if best.is_none_or(|(_, _, least)| covers < least) {
                best = Some((middle, away, covers));
            }
            if covers <= 0.0 {
                break;
            }
        }
        let Some((middle, away, _)) = best else { return };
        let area = Area::about(middle, half);
        let line = (away > AWAY_MM[1]).then(|| (beside, beside.clamp(area.least, area.most)));
        self.taken.push(area);
        self.placed.push(Label { text, middle, line });
    }

    /// How much it would cover of what is there, and of what is beyond the paper.
    fn covers(&self, area: &Area) -> f64 {
        let paper = Area { least: DVec2::ZERO, most: self.size_mm };
        let beyond = area.mm2() - area.shared(&paper);
        self.taken.iter().map(|taken| taken.shared(area)).sum::<f64>() + beyond.max(0.0) * 4.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_labels_of_one_point_do_not_lie_on_each_other() {
        let mut labels = Labels::on(DVec2::new(180.0, 150.0));
        let beside = DVec2::new(90.0, 75.0);
        for number in 0..10 {
            labels.put(format!("2.{number}, 3.{number}"), beside);
        }
        for (at, one) in labels.taken.iter().enumerate() {
            for other in &labels.taken[..at] {
                assert!(one.shared(other) <= 0.0, "{one:?} and {other:?}");
            }
        }
        assert_eq!(labels.placed.len(), 10);
    }

    #[test]
    fn a_label_at_the_papers_edge_stays_on_it() {
        let mut labels = Labels::on(DVec2::new(180.0, 150.0));
        labels.put("Grandpa Ole".to_owned(), DVec2::new(178.0, 75.0));
        let area = labels.taken[0];
        assert!(area.most.x <= 180.0 && area.least.x >= 0.0, "{area:?}");
    }
}
