//! A stretch of time, or of a way.

/// From one second to another, or from one share of a way to another.
pub(crate) type Span = (f64, f64);

/// The part of a span in which a + b t ≥ 0; none if that is nothing.
pub(crate) fn limited((from, to): Span, a: f64, b: f64) -> Option<Span> {
    let part = if b > 0.0 {
        (from.max(-a / b), to)
    } else if b < 0.0 {
        (from, to.min(-a / b))
    } else if a >= 0.0 {
        (from, to)
    } else {
        return None;
    };
    (part.0 <= part.1).then_some(part)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_takes_what_is_before_it_or_behind_it() {
        let of = |a: f64, b: f64| limited((0.0, 10.0), a, b);
        assert_eq!(of(-2.0, 1.0), Some((2.0, 10.0)));
        assert_eq!(of(2.0, -1.0), Some((0.0, 2.0)));
        assert_eq!((of(1.0, 0.0), of(-1.0, 0.0)), (Some((0.0, 10.0)), None));
        assert_eq!((of(-11.0, 1.0), of(-1.0, -1.0)), (None, None));
    }
}
