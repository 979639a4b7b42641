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

/// So many values are kept for a median; of more the digits are counted.
const KEPT: usize = 1 << 18;

/// The median of values that can be gone through again, and how many there are. Memory does not grow
/// with their number.
pub(super) fn median_again<I: Iterator<Item = f64>>(again: impl Fn() -> I) -> Option<(f64, usize)> {
    median_within(KEPT, again)
}

fn median_within<I: Iterator<Item = f64>>(
    kept: usize,
    again: impl Fn() -> I,
) -> Option<(f64, usize)> {
    let mut some: Vec<f64> = again().take(kept + 1).collect();
    if some.len() <= kept {
        return median_of(&mut some).map(|m| (m, some.len()));
    }
    drop(some);
    let count = again().count();
    let upper = nth(&again, count / 2)?;
    let median = match count % 2 {
        1 => upper,
        _ => f64::midpoint(nth(&again, count / 2 - 1)?, upper),
    };
    Some((median, count))
}

/// Digits of a number in the order of numbers, sixteen bits each.
const DIGIT: u32 = 16;

/// The n-th of some values in order, counted from nought, digit by digit.
fn nth<I: Iterator<Item = f64>>(again: &impl Fn() -> I, n: usize) -> Option<f64> {
    const SIGN: u64 = 1 << 63;
    let (mut left, mut found) = (n, 0_u64);
    for digit in (0..u64::BITS / DIGIT).rev() {
        let mut counts = vec![0_usize; 1 << DIGIT];
        for value in again() {
            let bits = value.to_bits();
            // as `total_cmp` orders them
            let key = if bits & SIGN == 0 { bits | SIGN } else { !bits };
            if key.checked_shr((digit + 1) * DIGIT).unwrap_or(0) == found
                && let Some(count) = counts.get_mut((key >> (digit * DIGIT)) as usize & 0xffff)
            {
                *count += 1;
            }
        }
        let mut below = 0;
        let place = counts.iter().position(|c| {
            below += c;
            below > left
        })?;
        left -= below - counts.get(place)?;
        found = (found << DIGIT) | place as u64;
    }
    Some(f64::from_bits(if found & SIGN == 0 { !found } else { found ^ SIGN }))
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
        fn a_picked_median_is_the_sorted_one(values in proptest::collection::vec(-4..4i32, 0..40), size in 0..9i32) {
            let mut values: Vec<f64> = values.iter().map(|v| -(f64::from(*v) * 0.3 * 10.0_f64.powi(size))).collect();
            let mut sorted = values.clone();
            sorted.sort_unstable_by(f64::total_cmp);
            let bits = |m: Option<f64>| m.map(f64::to_bits);
            let counted = median_within(3, || values.iter().copied());
            prop_assert_eq!(bits(counted.map(|m| m.0)), bits(sorted_median(&sorted)));
            prop_assert_eq!(counted.map_or(0, |m| m.1), sorted.len());
            prop_assert_eq!(bits(median_of(&mut values)), bits(sorted_median(&sorted)));
        }
    }
}
