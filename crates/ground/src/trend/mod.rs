//! Looking again: what changes over the years, what is only scatter, and what no longer compares.

pub mod breaks;
pub mod credible;
pub mod detectable;
pub mod paired;
pub mod rank;
pub mod regression;
pub mod slope;
pub mod strands;
pub mod tail;
pub mod yearly;

crate::kit::method::methods![
    yearly::YearlyTrend,
    tail::RankTestTail,
    credible::CredibleDifference,
    paired::PairedYears,
    detectable::DetectableChange,
    regression::RegressionToTheMean,
    breaks::ComparableSeries,
];
