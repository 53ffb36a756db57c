//! Ranks that spread a doubt evenly over draws.

/// Rank of a draw, 0 to 1: steps of the golden ratio fill the range evenly however many draws there are, and
/// pair it with the draws, which are in no order, as if by chance. The same draw always has the same rank.
#[must_use]
pub(crate) fn rank(draw: usize) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_895;
    #[expect(clippy::cast_precision_loss, reason = "draws by the thousand")]
    let step = (draw as f64 + 0.5) * GOLDEN;
    step.fract()
}

#[cfg(test)]
mod tests {
    use super::rank;

    /// By the three-distance theorem no gap is wider than 1.618² / n: none is left empty.
    #[test]
    fn ranks_fill_the_range() {
        let mut ranks: Vec<f64> = (0..400).map(rank).collect();
        ranks.sort_by(f64::total_cmp);
        let widest = ranks.windows(2).map(|pair| pair[1] - pair[0]).fold(0.0, f64::max);
        assert!(widest < 2.619 / 400.0, "{widest}");
        let mean = ranks.iter().sum::<f64>() / 400.0;
        assert!((mean - 0.5).abs() < 0.005, "{mean}");
    }
}
