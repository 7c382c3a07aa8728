//! Are all numbers finite?

/// Index of the first value that is not finite.
#[inline]
pub(super) fn first_not_finite<const N: usize>(values: &[f64; N]) -> Option<usize> {
    // zero times a value is zero exactly when the value is finite: one pass without branches
    let mut sum = 0.0;
    for value in values {
        sum += 0.0 * value;
    }
    if sum == 0.0 { None } else { values.iter().position(|value| !value.is_finite()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_that_are_not_finite_are_found() {
        assert_eq!(first_not_finite(&[1.0, f64::MAX, -f64::MAX]), None);
        assert_eq!(first_not_finite(&[1.0, f64::NAN, f64::INFINITY]), Some(1));
        assert_eq!(first_not_finite(&[f64::NEG_INFINITY, f64::INFINITY]), Some(0));
    }
}
