//! Monthly means to daily values that keep each month's mean.
//!
//! After Rymes and Myers (2001, recalled): start from steps, then again and again take the mean of three
//! neighbouring days and mend each month to its mean. Mended by adding for temperatures; by multiplying, our
//! own choice, for what cannot be less than nothing.

use super::calendar::MONTH_DAYS;

/// How a month is mended to its mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mend {
    /// The same is added to every day.
    Add,
    /// Every day is multiplied by the same; nothing falls below zero.
    Multiply,
}

const ROUNDS: usize = 365;

/// 365 daily values whose mean over each month is that month's.
pub(crate) fn daily_keeping_means(monthly: &[f64; 12], mend: Mend) -> Vec<f64> {
    let mut days: Vec<f64> = monthly
        .iter()
        .zip(MONTH_DAYS)
        .flat_map(|(mean, days)| std::iter::repeat_n(*mean, usize::from(days)))
        .collect();
    let mut next = days.clone();
    for _ in 0..ROUNDS {
        let last = days.len() - 1;
        for at in 0..days.len() {
            let before = days[if at == 0 { last } else { at - 1 }];
            let after = days[if at == last { 0 } else { at + 1 }];
            next[at] = (before + days[at] + after) / 3.0;
        }
        std::mem::swap(&mut days, &mut next);
        mended(&mut days, monthly, mend);
    }
    days
}

fn mended(days: &mut [f64], monthly: &[f64; 12], mend: Mend) {
    let mut rest = days;
    for (mean, length) in monthly.iter().zip(MONTH_DAYS) {
        let (month, after) = rest.split_at_mut(usize::from(length));
        let now = month.iter().sum::<f64>() / f64::from(length);
        match mend {
            Mend::Add => month.iter_mut().for_each(|day| *day += mean - now),
            Mend::Multiply if now > 0.0 => month.iter_mut().for_each(|day| *day *= mean / now),
            Mend::Multiply => month.fill(*mean),
        }
        rest = after;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn monthly_means(days: &[f64]) -> Vec<f64> {
        let mut from = 0;
        MONTH_DAYS
            .iter()
            .map(|length| {
                let month = &days[from..from + usize::from(*length)];
                from += usize::from(*length);
                month.iter().sum::<f64>() / f64::from(*length)
            })
            .collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]
        #[test]
        fn every_month_keeps_its_mean(monthly in proptest::array::uniform12(0.0..12.0_f64)) {
            for mend in [Mend::Add, Mend::Multiply] {
                let days = daily_keeping_means(&monthly, mend);
                prop_assert_eq!(days.len(), 365);
                for (got, wanted) in monthly_means(&days).iter().zip(monthly) {
                    prop_assert!((got - wanted).abs() < 1e-9);
                }
                if mend == Mend::Multiply {
                    prop_assert!(days.iter().all(|day| *day >= 0.0));
                }
            }
        }
    }

    #[test]
    fn an_even_year_stays_even_and_a_wave_becomes_smooth() {
        assert!(daily_keeping_means(&[3.0; 12], Mend::Add).iter().all(|day| (day - 3.0).abs() < 1e-12));
        let wave: [f64; 12] = std::array::from_fn(|month| {
            let turn = std::f64::consts::TAU * (month as f64 + 0.5) / 12.0;
            4.0 - 3.0 * libm::cos(turn)
        });
        let days = daily_keeping_means(&wave, Mend::Multiply);
        let steepest = (0..365).map(|at| (days[(at + 1) % 365] - days[at]).abs()).fold(0.0, f64::max);
        // The wave itself climbs by 3 · 2π/365 = 0.052 a day at most; steps of months would leap by 1.5.
        assert!(steepest < 0.12, "{steepest}");
    }
}
