//! Minutes cut into pieces in which something stays the same.

use super::DaySpan;

/// A stretch of minutes in which something stays the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Piece<T> {
    /// From its first minute to its last.
    pub(crate) span: DaySpan,
    /// What it is in them.
    pub(crate) is: T,
}

/// The pieces from the first of some minutes to the last, in order, each as long as it can be.
///
/// `points` are minutes, ascending, with what it is there; `of` says what it is in between. Each piece ends within
/// `within_min` of where the next begins, and at both ends it is what is said of it. What begins and is over again between
/// two neighbouring points may be passed over.
pub(crate) fn pieces<T: Copy + PartialEq>(
    points: impl IntoIterator<Item = (f64, T)>,
    of: &impl Fn(f64) -> T,
    within_min: f64,
) -> Vec<Piece<T>> {
    let mut pieces = Vec::new();
    for (minute, is) in points {
        extend(&mut pieces, minute, is, of, within_min);
    }
    pieces
}

/// Goes on to a minute, halving what lies before it as long as something changes in it.
fn extend<T: Copy + PartialEq>(
    pieces: &mut Vec<Piece<T>>,
    minute: f64,
    is: T,
    of: &impl Fn(f64) -> T,
    within_min: f64,
) {
    match pieces.last_mut() {
        Some(last) if last.is == is => last.span.to_min = minute,
        Some(last) if minute - last.span.to_min > within_min => {
            let middle = f64::midpoint(last.span.to_min, minute);
            extend(pieces, middle, of(middle), of, within_min);
            extend(pieces, minute, is, of, within_min);
        }
        Some(_) | None => pieces.push(Piece { span: DaySpan { from_min: minute, to_min: minute }, is }),
    }
}

/// The stretches in which something holds of what it is; pieces that follow each other are one.
pub(crate) fn stretches<T>(pieces: &[Piece<T>], holds: impl Fn(&T) -> bool) -> Vec<DaySpan> {
    let span = |run: &[Piece<T>]| {
        let (first, last) = (run.first()?, run.last()?);
        let span = DaySpan { from_min: first.span.from_min, to_min: last.span.to_min };
        (holds(&first.is) && span.from_min < span.to_min).then_some(span)
    };
    pieces.chunk_by(|one, other| holds(&one.is) == holds(&other.is)).filter_map(span).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What it is in each third of an hour, looked at every fifty minutes.
    fn thirds(within_min: f64) -> Vec<Piece<i32>> {
        #[expect(clippy::cast_possible_truncation, reason = "no more than seven")]
        let of = |minute: f64| (minute / 20.0).floor() as i32;
        pieces([0.0, 50.0, 100.0, 139.0].map(|minute| (minute, of(minute))), &of, within_min)
    }

    #[test]
    fn every_change_between_two_points_is_found() {
        let pieces = thirds(0.001);
        assert_eq!(pieces.iter().map(|piece| piece.is).collect::<Vec<_>>(), [0, 1, 2, 3, 4, 5, 6]);
        for (piece, starts) in pieces.iter().zip([0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0]) {
            let DaySpan { from_min, to_min } = piece.span;
            assert!((0.0..=0.001).contains(&(from_min - starts)), "{piece:?}");
            assert!((starts..starts + 20.0).contains(&to_min), "{piece:?}");
        }
    }

    #[test]
    fn neighbours_of_which_the_same_holds_are_one_stretch() {
        let found = stretches(&thirds(0.001), |third| (1..=3).contains(third) || *third == 6);
        let ends: Vec<_> = found.iter().map(|span| (span.from_min.round(), span.to_min.round())).collect();
        assert_eq!(ends, [(20.0, 80.0), (120.0, 139.0)]);
        assert_eq!(stretches(&thirds(0.001), |third| *third > 6), []);
    }
}
