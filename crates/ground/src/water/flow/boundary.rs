//! What comes from above and what happens below.

/// Rates that hold until a time. After the last period all rates are 0.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Period {
    /// Hours from the start at which it ends.
    pub until_h: f64,
    /// Rain and irrigation, cm/h.
    pub water_cm_h: f64,
    /// What the air could take from the surface, cm/h.
    pub evaporation_cm_h: f64,
    /// What the crop could take, cm/h.
    pub transpiration_cm_h: f64,
}

/// The upper end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Top {
    /// Open to the weather. Water that cannot enter stands up to a limit and then runs off;
    /// evaporation is limited once the surface is as dry as a head.
    Open {
        /// Depth of water that can stand on the surface, cm.
        pond_limit_cm: f64,
        /// Head of the driest surface, cm.
        driest_head_cm: f64,
    },
    /// The surface is held at a head, cm.
    Head(f64),
}

/// The surface over time.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Its kind.
    pub top: Top,
    /// Rates over time, in order.
    pub periods: Vec<Period>,
}

impl Surface {
    /// The period that holds from a time on, and when it ends (infinite after the last).
    pub(super) fn period_at(&self, time_h: f64) -> Period {
        self.periods
            .iter()
            .find(|period| period.until_h > time_h)
            .copied()
            .unwrap_or(Period { until_h: f64::INFINITY, ..Period::default() })
    }
}

/// The lower end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bottom {
    /// Water drains under its own weight alone.
    FreeDrainage,
    /// The lower end is held at a head, cm: 0 is a water table there.
    Head(f64),
    /// Nothing passes: tight rock or pan below.
    Closed,
}
