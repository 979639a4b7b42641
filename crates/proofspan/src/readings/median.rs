//! Medians: of values that are sorted, and of those that are not.

/// The median of values in any order, which it leaves in another.
pub(super) fn median_of(values: &mut [f64]) -> Option<f64> {
    let n = values.len();
    if n == 0 {
        return None;
    }
    let (below, upper, _) = values.select_nth_unstable_by(n / 2, f64::total_cmp);
    let upper = *upper;
    if n % 2 == 1 {
        return Some(upper);
    }
    let lower = below.iter().copied().max_by(f64::total_cmp);
    lower.map(|lower| f64::midpoint(lower, upper))
}

/// The median of sorted values.
pub(super) fn sorted_median(sorted: &[f64]) -> Option<f64> {
    let n = sorted.len();
    let upper = sorted.get(n / 2).copied()?;
    if n % 2 == 1 {
        Some(upper)
    } else {
        sorted.get(n / 2 - 1).map(|lower| f64::midpoint(*lower, upper))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Picked or sorted: to the last bit the same, the sign of nought included.
        #[test]
        fn a_picked_median_is_the_sorted_one(values in proptest::collection::vec(-4..4i32, 0..40)) {
            let mut values: Vec<f64> = values.iter().map(|v| -(f64::from(*v) * 0.5)).collect();
            let mut sorted = values.clone();
            sorted.sort_unstable_by(f64::total_cmp);
            let bits = |m: Option<f64>| m.map(f64::to_bits);
            prop_assert_eq!(bits(median_of(&mut values)), bits(sorted_median(&sorted)));
        }
    }
}
