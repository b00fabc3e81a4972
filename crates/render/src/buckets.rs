//! Lists by number, all in one piece of memory.

/// A list of values for each of a row of buckets.
#[derive(Debug, Clone)]
pub(crate) struct Buckets<T> {
    /// Where each bucket's list begins; one more at the end.
    starts: Vec<u32>,
    values: Vec<T>,
}

impl<T: Copy> Buckets<T> {
    /// Puts each value into its bucket, in the order in which they come; `blank` is any value. What names a bucket past
    /// the last is left out.
    pub(crate) fn new(count: usize, blank: T, filled: impl Iterator<Item = (usize, T)> + Clone) -> Self {
        let mut starts = vec![0_u32; count + 1];
        for (bucket, _) in filled.clone().filter(|(bucket, _)| *bucket < count) {
            starts[bucket + 1] += 1;
        }
        let mut all = 0;
        for start in &mut starts {
            all += *start;
            *start = all;
        }
        let mut next = starts.clone();
        let mut values = vec![blank; all as usize];
        for (bucket, value) in filled.filter(|(bucket, _)| *bucket < count) {
            let at = &mut next[bucket];
            values[*at as usize] = value;
            *at += 1;
        }
        Self { starts, values }
    }

    /// What is in a bucket; nothing if there is none of that number.
    pub(crate) fn list(&self, bucket: usize) -> &[T] {
        match (self.starts.get(bucket), bucket.checked_add(1).and_then(|next| self.starts.get(next))) {
            (Some(&from), Some(&to)) => self.values.get(from as usize..to as usize).unwrap_or_default(),
            _ => &[],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_keep_their_order_within_their_buckets() {
        let values = [(2, 'a'), (0, 'b'), (2, 'c'), (9, 'd')];
        let buckets = Buckets::new(3, ' ', values.into_iter());
        assert_eq!(buckets.list(0), ['b']);
        assert_eq!(buckets.list(1), [' '; 0]);
        assert_eq!(buckets.list(2), ['a', 'c']);
        assert_eq!(buckets.list(9), [' '; 0]);
        assert_eq!(buckets.list(usize::MAX), [' '; 0]);
    }
}
