//! The worth of a measurement against cases worked by other means.

use super::*;
use crate::belief::{Account, Options, Witness, believe, ilr};
use crate::texture::Composition;

fn normal(draws: usize) -> Options {
    Options { draws, tail_degrees_of_freedom: None, ..Options::default() }
}

fn diagonal(a: f64) -> [[f64; 2]; 2] {
    [[a, 0.0], [0.0, a]]
}

fn measured(name: &str, variance: f64) -> Candidate {
    let gives = Gives::Measured { covariance: diagonal(variance), shared: None };
    Candidate { name: name.into(), cost_money: 10.0, minutes: 30.0, gives }
}

/// Two states and two results: prior .35, right results .90 and .92, losses 340 and 60. The value of
/// the sample information is 23.98 and of perfect information 39, by hand.
#[test]
fn a_named_result_gives_the_value_of_sample_information() {
    let mut belief = believe(&[], &normal(200));
    belief.weights = vec![1.0 / 200.0; 200];
    belief.classes = (0..200).map(|draw| if draw < 70 { Class::Sand } else { Class::Clay }).collect();
    let truth: Vec<bool> = (0..200).map(|draw| draw < 70).collect();
    let question =
        Question { name: "acid".into(), truth, loss_if_wrongly_yes: 60.0, loss_if_wrongly_no: 340.0 };
    let candidate = |name: &str, right_if_yes: f64, right_if_no: f64| {
        let mut chances = Box::new([[0.0; 12]; 12]);
        chances[Class::Sand as usize][0] = right_if_yes;
        chances[Class::Sand as usize][1] = 1.0 - right_if_yes;
        chances[Class::Clay as usize][0] = 1.0 - right_if_no;
        chances[Class::Clay as usize][1] = right_if_no;
        Candidate { name: name.into(), cost_money: 25.0, minutes: 0.0, gives: Gives::Named { chances } }
    };
    let list = worth(
        &belief,
        &[question],
        &[candidate("laboratory", 0.90, 0.92), candidate("oracle", 1.0, 1.0), candidate("coin", 0.5, 0.5)],
        20.0,
    );
    let gain = |name: &str| list.iter().find(|worth| worth.name == name).unwrap().gain;
    assert!((gain("laboratory") - 23.98).abs() < 1e-9, "{}", gain("laboratory"));
    assert!((gain("oracle") - 39.0).abs() < 1e-9);
    assert!(gain("coin").abs() < 1e-9);
    assert_eq!(list[0].name, "oracle");
}

/// Standard normal cumulative distribution by quadrature of its density.
fn cumulative(x: f64) -> f64 {
    let steps = 20_000;
    let width = (x + 8.0) / f64::from(steps);
    let density = |t: f64| libm::exp(-0.5 * t * t) / (2.0 * std::f64::consts::PI).sqrt();
    (0..steps).map(|step| density(-8.0 + (f64::from(step) + 0.5) * width) * width).sum()
}

/// Is the first coordinate above `cut`? With a normal belief and a normal reading the odds after a
/// result are Φ of a linear function of it, so the doubt left is a one-dimensional integral.
#[test]
fn a_measured_result_agrees_with_quadrature() {
    let at = ilr::to_ilr(Composition { sand: 45.0, silt: 35.0, clay: 20.0 });
    let account = Account::Measured { centre: [at.x, at.y], covariance: diagonal(0.09), shared: None };
    let belief = believe(&[Witness { id: "jar".into(), label: "the jar".into(), account }], &normal(4000));
    let variance = 1.0 / (1.0 / 1.0 + 1.0 / 0.09);
    let mean = (at.x / 0.09) * variance;
    for (cut_at, reading) in [(0.3, 0.02), (0.0, 0.05), (0.5, 0.2)] {
        let cut = mean + cut_at * f64::sqrt(variance);
        let truth: Vec<bool> = belief.points.iter().map(|point| point[0] > cut).collect();
        let list =
            worth(&belief, &[Question::new("above", truth.clone(), 1.0)], &[measured("lab", reading)], 0.0);
        // Posterior mean m* is normal with variance v²/(v + r); posterior variance v r/(v + r).
        let spread = variance / (variance + reading).sqrt();
        let left = (variance * reading / (variance + reading)).sqrt();
        let steps = 400;
        let expected: f64 = (0..steps)
            .map(|step| {
                let z = -6.0 + 12.0 * (f64::from(step) + 0.5) / f64::from(steps);
                let density = libm::exp(-0.5 * z * z) / (2.0 * std::f64::consts::PI).sqrt();
                let p = cumulative((mean + spread * z - cut) / left);
                density * p.min(1.0 - p) * 12.0 / f64::from(steps)
            })
            .sum();
        assert!((list[0].questions[0].after - expected).abs() < 0.03, "cut {cut_at}, error {reading}");
        // Over many simulations only the error of the ensemble itself is left: its own odds of yes are up to
        // 0.03 off the exact ones.
        let question = [Question::new("above", truth, 1.0)];
        let after = |seed| {
            let again = Belief { seed, ..belief.clone() };
            worth(&again, &question, &[measured("lab", reading)], 0.0)[0].questions[0].after
        };
        let got = (0..20).map(after).sum::<f64>() / 20.0;
        assert!((got - expected).abs() < 0.02, "cut {cut_at}, error {reading}: {got} {expected}");
    }
}

#[test]
fn a_repeat_that_shares_its_error_is_worth_less_than_a_fresh_one() {
    let at = ilr::to_ilr(Composition { sand: 45.0, silt: 35.0, clay: 20.0 });
    let packing = SharedError { name: "jar packing".into(), covariance: diagonal(0.09) };
    let jar = Witness {
        id: "jar".into(),
        label: "the jar".into(),
        account: Account::Measured {
            centre: [at.x, at.y],
            covariance: diagonal(0.01),
            shared: Some(packing.clone()),
        },
    };
    let belief = believe(&[jar], &Options::default());
    let truth: Vec<bool> = belief.draws.iter().map(|soil| soil.clay > belief.clay.median).collect();
    let candidate = |name: &str, shared: Option<SharedError>, own: f64| Candidate {
        name: name.into(),
        cost_money: 0.0,
        minutes: 30.0,
        gives: Gives::Measured { covariance: diagonal(own), shared },
    };
    let list = worth(
        &belief,
        &[Question::new("clay above its median", truth, 1.0)],
        &[
            candidate("same jar again", Some(packing), 0.01),
            candidate("lab", None, 0.01),
            candidate("guess", None, 4.0),
        ],
        20.0,
    );
    assert_eq!(list[0].name, "lab");
    let gain = |name: &str| list.iter().find(|worth| worth.name == name).unwrap().gain;
    assert!(gain("same jar again") < 0.5 * gain("lab"), "{} {}", gain("same jar again"), gain("lab"));
    assert!(gain("guess") < 0.3 * gain("lab"));
    assert!(list.iter().all(|worth| worth.gain <= worth.doubt_before));
}

#[test]
fn a_settled_question_is_worth_nothing_and_odd_lengths_are_left_out() {
    let belief = believe(&[], &Options::default());
    let settled = Question::new("certain", vec![true; belief.draws.len()], 5.0);
    let short = Question::new("short", vec![true; 3], 5.0);
    let feel =
        Candidate { name: "feel".into(), cost_money: 0.0, minutes: 5.0, gives: Gives::named_by(Hand::New) };
    let list = worth(&belief, &[settled, short], &[measured("lab", 0.01), feel], 20.0);
    assert!(list.iter().all(|worth| worth.gain < 1e-12 && worth.questions.len() == 1));
    assert!(list[0].questions[0].chance_settled > 0.999);
}

/// The same belief simulated with other random numbers: gains that hardly move.
#[test]
fn little_of_a_gain_is_the_chance_of_the_simulation() {
    let at = ilr::to_ilr(Composition { sand: 45.0, silt: 35.0, clay: 20.0 });
    let account = Account::Measured { centre: [at.x, at.y], covariance: diagonal(0.09), shared: None };
    let mut belief =
        believe(&[Witness { id: "jar".into(), label: "the jar".into(), account }], &Options::default());
    let clay: Vec<bool> = belief.draws.iter().map(|soil| soil.clay > belief.clay.median).collect();
    let sandy: Vec<bool> = belief.draws.iter().map(|soil| soil.sand > 60.0).collect();
    let questions = [Question::new("clay", clay, 1.0), Question::new("sandy", sandy, 1.0)];
    let candidates = [measured("lab", 0.01), measured("scale", 0.03), measured("jar", 0.08)];
    let mut gains = vec![Vec::new(); candidates.len()];
    for seed in 0..40 {
        belief.seed = seed;
        for one in worth(&belief, &questions, &candidates, 0.0) {
            let place = candidates.iter().position(|candidate| candidate.name == one.name).unwrap();
            gains[place].push(one.gain);
        }
    }
    for (gains, candidate) in gains.iter().zip(&candidates) {
        let count = gains.len() as f64;
        let mean = gains.iter().sum::<f64>() / count;
        let sd = (gains.iter().map(|gain| (gain - mean) * (gain - mean)).sum::<f64>() / count).sqrt();
        println!("{}: {mean:.4} {:.1} %", candidate.name, 100.0 * sd / mean);
        assert!(sd < 0.05 * mean, "{}: {mean} {sd}", candidate.name);
    }
}
