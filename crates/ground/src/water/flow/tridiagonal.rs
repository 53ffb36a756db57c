//! A tridiagonal system, solved by elimination from the top down.

/// Rows of `lower x[i-1] + diagonal x[i] + upper x[i+1] = right`; the answer replaces `right`.
/// False where a pivot vanishes. `scratch` holds one number a row.
pub(super) fn solve(
    lower: &[f64],
    diagonal: &[f64],
    upper: &[f64],
    right: &mut [f64],
    scratch: &mut [f64],
) -> bool {
    let rows = diagonal.len();
    if rows == 0 || diagonal[0] == 0.0 {
        return false;
    }
    let mut pivot = 1.0 / diagonal[0];
    right[0] *= pivot;
    for row in 1..rows {
        scratch[row] = upper[row - 1] * pivot;
        let rest = diagonal[row] - lower[row] * scratch[row];
        if rest == 0.0 || !rest.is_finite() {
            return false;
        }
        pivot = 1.0 / rest;
        right[row] = (right[row] - lower[row] * right[row - 1]) * pivot;
    }
    for row in (0..rows - 1).rev() {
        right[row] -= scratch[row + 1] * right[row + 1];
    }
    true
}

#[cfg(test)]
mod tests {
    use super::solve;
    use nalgebra::{Matrix4, Vector4};

    #[test]
    fn agrees_with_a_dense_solver() {
        let (lower, diagonal, upper) = ([0.0, -1.0, 0.5, 2.0], [4.0, 5.0, -3.0, 6.0], [1.0, 2.0, -0.5, 0.0]);
        let mut right = [1.0, -2.0, 3.0, 0.5];
        let wanted = Vector4::from(right);
        assert!(solve(&lower, &diagonal, &upper, &mut right, &mut [0.0; 4]));
        let mut dense = Matrix4::zeros();
        for row in 0..4 {
            dense[(row, row)] = diagonal[row];
            if row > 0 {
                dense[(row, row - 1)] = lower[row];
                dense[(row - 1, row)] = upper[row - 1];
            }
        }
        let answer = dense.lu().solve(&wanted).unwrap();
        for row in 0..4 {
            assert!((answer[row] - right[row]).abs() < 1e-12);
        }
        assert!(!solve(&[0.0], &[0.0], &[0.0], &mut [1.0], &mut [0.0]));
    }
}
