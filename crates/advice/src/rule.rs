//! What every rule of advice is made of, and the weighing of its possible answers.
//!
//! # To add a rule
//! Write `rules/your_rule.rs` with a `RULE` (id, question, sources, provenance, what to look for,
//! cautions) and its `judge`, and add one line to `rules/mod.rs`. A rule names two or more answers and
//! says which one each possible state of the ground gives; [`Rule::weighed`] turns that into odds,
//! firmness and a statement. A sign seen on the plot outweighs what is worked out. Limits are
//! constants at the top of the file, each with its source, or said to be common practice or judgement.

use ground::kit::{Cite, Provenance, Working};

use crate::facts::{Draw, Ground};
use crate::finding::{Alternative, Basis, Finding, Firmness, Kind};
use crate::words;

/// A rule of advice.
pub struct Rule {
    /// Identity, kebab-case.
    pub id: &'static str,
    /// Title of its findings.
    pub title: &'static str,
    /// The question it answers.
    pub question: &'static str,
    /// What kind of statement it makes.
    pub kind: Kind,
    /// Where its limits are published. Empty for common practice and judgement.
    pub sources: &'static [Cite],
    /// How the weakest of its limits reached this project.
    pub provenance: Provenance,
    /// How much hangs on it when deciding what to measure next: 1 for an ordinary decision.
    pub stake: f64,
    /// What to look for on the plot, which settles the question without any test. May be empty.
    pub look: &'static str,
    /// What could hurt someone or do damage.
    pub cautions: &'static [&'static str],
    /// The rule itself; `None` where the question does not arise on this plot.
    pub judge: fn(&Rule, &Ground) -> Option<Finding>,
}

impl Rule {
    /// The finding on this ground.
    #[must_use]
    pub fn find(&self, ground: &Ground) -> Option<Finding> {
        (self.judge)(self, ground)
    }

    /// A finding whose answer was seen on the plot, or holds on any ground.
    pub(crate) fn finding(&self, basis: Basis, verdict: &'static str, statement: String) -> Finding {
        Finding {
            id: self.id,
            title: self.title,
            question: self.question,
            kind: self.kind,
            verdict,
            statement,
            alternatives: Vec::new(),
            odds: None,
            firmness: Firmness::Firm,
            basis,
            reasons: Vec::new(),
            cautions: self.cautions.to_vec(),
            provenance: self.provenance,
            provenance_words: self.provenance.words(),
            sources: self.sources.to_vec(),
            working: Working::new(),
            settles: None,
            look: "",
            holds: Vec::new(),
            stake: self.stake,
        }
    }

    /// A finding weighed over the ensemble: the answer most draws give, with its odds. `says` writes
    /// out an answer in full.
    pub(crate) fn weighed<const N: usize>(
        &self,
        ground: &Ground,
        answers: [(&'static str, &'static str); N],
        of: impl Fn(&Draw) -> usize,
        says: impl Fn(usize) -> String,
    ) -> Finding {
        let mut share = [0.0; N];
        let chosen: Vec<usize> = ground.draws.iter().map(|draw| of(draw).min(N - 1)).collect();
        for (answer, weight) in chosen.iter().zip(&ground.weights) {
            share[*answer] += weight;
        }
        let mut order: Vec<usize> = (0..N).collect();
        // Equal odds fall to the answer listed first.
        order.sort_by(|a, b| share[*b].total_cmp(&share[*a]).then(a.cmp(b)));
        let (lead, second) = (order[0], order[1.min(N - 1)]);
        let odds = share[lead].clamp(0.0, 1.0);
        let firmness = Firmness::of(odds);
        let statement = match firmness {
            Firmness::Open => format!(
                "Not settled: either {} ({}) or {} ({}). If the first: {}",
                answers[lead].1,
                words::odds(share[lead]),
                answers[second].1,
                words::odds(share[second]),
                says(lead)
            ),
            Firmness::Likely | Firmness::Firm => says(lead),
        };
        let mut finding = self.finding(Basis::MakeUp, answers[lead].0, statement);
        finding.odds = Some(odds);
        finding.firmness = firmness;
        if firmness != Firmness::Firm {
            finding.look = self.look;
        }
        finding.holds = chosen.iter().map(|answer| *answer == lead).collect();
        finding.alternatives = order
            .iter()
            .map(|at| Alternative {
                verdict: answers[*at].0,
                words: answers[*at].1,
                odds: share[*at].clamp(0.0, 1.0),
            })
            .collect();
        finding
    }
}

impl Finding {
    /// Adds a reason, where there is one.
    pub(crate) fn because(mut self, reason: impl Into<Option<String>>) -> Self {
        self.reasons.extend(reason.into());
        self
    }

    /// Gives the working.
    pub(crate) fn worked(mut self, working: Working) -> Self {
        self.working = working;
        self
    }
}
