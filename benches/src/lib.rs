//! Shared set-up of the benchmarks.

pub mod covers;
pub mod fifty;
pub mod season;

use ground::belief::worth::{Candidate, Gives, Question, Worth, worth};
use ground::belief::{
    Account, Belief, Beside, Ensemble, Known, Odds, Options, Packing, SharedError, Witness, believe, ilr,
};
use ground::texture::feel::{self, Hand};
use ground::texture::{Class, Composition};
use ground::water::{Scatter, WaterEnsemble};

/// One plot with five pieces of evidence: two jars that share their packing, a hydrometer, a
/// laboratory report and a feel test.
#[must_use]
pub fn five_witnesses() -> Vec<Witness> {
    let packing = SharedError { name: "jar packing".into(), covariance: [[0.09, 0.0], [0.0, 0.09]] };
    let measured = |id: &str, soil: (f64, f64, f64), covariance, shared| {
        let at = ilr::to_ilr(Composition { sand: soil.0, silt: soil.1, clay: soil.2 });
        let account = Account::Measured { centre: [at.x, at.y], covariance, shared };
        Witness { id: id.into(), label: format!("the {id}"), account }
    };
    let named = feel::likelihood(&[Class::Loam], Hand::Practised);
    vec![
        measured("first jar", (42.0, 37.0, 21.0), [[0.012, -0.004], [-0.004, 0.02]], Some(packing.clone())),
        measured("second jar", (45.0, 33.0, 22.0), [[0.012, -0.004], [-0.004, 0.02]], Some(packing)),
        measured("hydrometer", (47.0, 33.0, 20.0), [[0.02, -0.006], [-0.006, 0.03]], None),
        measured("lab report", (50.0, 30.0, 20.0), [[0.01, 0.0], [0.0, 0.02]], None),
        Witness {
            id: "feel".into(),
            label: "the feel test".into(),
            account: Account::Named { class: Class::Loam, likelihood: named },
        },
    ]
}

/// What is known of that plot beside its make-up.
#[must_use]
pub fn beside() -> Beside {
    Beside {
        organic_matter_percent: Some(Known { low: 2.0, likely: 2.8, high: 3.6 }),
        stones: None,
        packing: Some(Packing::Factor(Known { low: 0.95, likely: 1.03, high: 1.12 })),
        ec_ds_m: None,
    }
}

/// What comes out of one plot, in the order of the reference's output.
#[derive(Debug, Clone)]
pub struct PlotAnswer {
    /// The belief.
    pub belief: Belief,
    /// Its soil water.
    pub water: WaterEnsemble,
    /// Odds that it holds more than 1.6 in of water a foot.
    pub holds_well: f64,
    /// Odds that it takes in more than 10 mm/h.
    pub takes_in: f64,
}

/// Evidence to odds, for one plot.
#[must_use]
pub fn plot(witnesses: &[Witness], options: &Options) -> PlotAnswer {
    let belief = believe(witnesses, options);
    let ensemble = Ensemble::of(&belief, &beside());
    let water = WaterEnsemble::of(&ensemble, Scatter::None);
    let odds = |values: &[f64], limit: f64| {
        Odds::of_values(&water.weights, values, |value| value > limit).unwrap_or(0.0)
    };
    let holds_well = odds(&water.available, 1.6 / 12.0);
    let takes_in = odds(&water.saturated_conductivity_mm_h, 10.0);
    PlotAnswer { belief, water, holds_well, takes_in }
}

/// Ten open questions and six next measurements for that plot.
#[must_use]
pub fn what_would_settle(belief: &Belief) -> Vec<Worth> {
    let questions: Vec<Question> = (0..10)
        .map(|place| {
            let limit = 14.0 + f64::from(place);
            let truth = belief.draws.iter().map(|soil| soil.clay > limit).collect();
            Question::new(format!("clay above {limit}"), truth, 1.0)
        })
        .collect();
    let packing = SharedError { name: "jar packing".into(), covariance: [[0.09, 0.0], [0.0, 0.09]] };
    let measured = |name: &str, variance: f64, shared| Candidate {
        name: name.into(),
        cost_money: 10.0,
        minutes: 30.0,
        gives: Gives::Measured { covariance: [[variance, 0.0], [0.0, variance]], shared },
    };
    let candidates = [
        measured("jar", 0.015, Some(packing.clone())),
        measured("jar with marks", 0.01, Some(packing)),
        measured("hydrometer", 0.02, None),
        measured("laboratory", 0.01, None),
        measured("kitchen scale", 0.03, None),
        Candidate {
            name: "feel".into(),
            cost_money: 0.0,
            minutes: 5.0,
            gives: Gives::named_by(Hand::Practised),
        },
    ];
    worth(belief, &questions, &candidates, 20.0)
}
