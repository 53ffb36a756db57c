//! The mixed-integer program of a plan, and its run in slices between which it can be stopped.

use std::ops::ControlFlow;

use good_lp::solvers::microlp::{MicroLpProblem, microlp};
use good_lp::{Expression, ProblemVariables, SolverModel, Variable, variable};
use microlp::{Error, ResumeOptions, SolveOptions, SolveOutcome, TerminationReason};

use super::prepared::{Group, Prepared};

/// What a run is held to beyond the needs.
pub(super) struct View<'a> {
    /// By group and place: materials that may be used. `None`: all.
    pub allowed: Option<&'a [Vec<bool>]>,
    /// Groups whose number of materials is limited in the program itself.
    pub limited: &'a [bool],
}

/// A program with the places of its variables.
pub(super) struct Program {
    model: MicroLpProblem,
    /// By group and place.
    amounts: Vec<Vec<Option<usize>>>,
}

pub(super) struct Builder {
    variables: ProblemVariables,
    count: usize,
    cost: Expression,
    rows: Vec<(Expression, bool, f64)>,
}

impl Builder {
    pub(super) fn new() -> Self {
        Self { variables: ProblemVariables::new(), count: 0, cost: Expression::default(), rows: Vec::new() }
    }

    /// A variable and its place in the solution.
    pub(super) fn add(&mut self, least: f64, most: f64, whole: bool, cost: f64) -> (Variable, usize) {
        let mut definition = variable().min(least).max(most);
        if whole {
            definition = definition.integer();
        }
        let added = self.variables.add(definition);
        self.cost.add_mul(cost, added);
        self.count += 1;
        (added, self.count - 1)
    }

    pub(super) fn at_most(&mut self, row: Expression, most: f64) {
        self.rows.push((row, false, most));
    }

    fn exactly(&mut self, row: Expression, value: f64) {
        self.rows.push((row, true, value));
    }

    fn finish(self) -> MicroLpProblem {
        let mut model = self.variables.minimise(self.cost).using(microlp);
        for (row, equal, value) in self.rows {
            model.add_constraint(if equal { row.eq(value) } else { row.leq(value) });
        }
        model
    }

    /// Amounts of a group's materials, with its needs as rows.
    fn group(
        &mut self,
        group: &Group,
        allowed: Option<&[bool]>,
        price: impl Fn(usize) -> f64,
    ) -> Vec<Option<(Variable, usize)>> {
        let amounts: Vec<_> = (0..group.usable.len())
            .map(|place| {
                let cap = group.cap(place);
                let may = allowed.is_none_or(|allowed| allowed[place]) && cap > 0.0;
                may.then(|| self.add(0.0, cap, false, price(place)))
            })
            .collect();
        for row in &group.rows {
            let scale = row.scale();
            let mut left = Expression::default();
            for (amount, content) in amounts.iter().zip(&row.content) {
                if let (Some((amount, _)), true) = (amount, *content > 0.0) {
                    left.add_mul(content * scale, *amount);
                }
            }
            let may_miss = (row.target - row.low) * scale;
            if may_miss > 0.0 {
                let (short, _) = self.add(0.0, may_miss, false, row.under / scale);
                left.add_mul(1.0, short);
            }
            let may_exceed = row.high.map_or(f64::INFINITY, |high| (high - row.target) * scale);
            if may_exceed > 0.0 {
                let (over, _) = self.add(0.0, may_exceed, false, row.over / scale);
                left.add_mul(-1.0, over);
            }
            self.exactly(left, row.target * scale);
        }
        amounts
    }

    /// At most so many of the amounts above zero.
    fn few(&mut self, group: &Group, amounts: &[Option<(Variable, usize)>], most: usize) {
        let mut chosen = Expression::default();
        for (place, amount) in amounts.iter().enumerate() {
            if let Some((amount, _)) = amount {
                let (choice, _) = self.add(0.0, 1.0, true, 0.0);
                let mut row = Expression::default();
                row.add_mul(1.0 / group.cap(place), *amount);
                row.add_mul(-1.0, choice);
                self.at_most(row, 0.0);
                chosen.add_mul(1.0, choice);
            }
        }
        self.at_most(chosen, most as f64);
    }
}

impl Program {
    /// The program of all groups, buying whole packs.
    pub(super) fn whole_packs(prepared: &Prepared, view: &View<'_>) -> Self {
        let mut build = Builder::new();
        let packs: Vec<_> = prepared
            .supplies
            .iter()
            .map(|supply| build.add(0.0, f64::from(supply.most_packs), true, supply.price).0)
            .collect();
        let mut uses: Vec<Expression> = vec![Expression::default(); packs.len()];
        let mut amounts = Vec::new();
        for (at, group) in prepared.groups.iter().enumerate() {
            let allowed = view.allowed.map(|allowed| allowed[at].as_slice());
            let here =
                build.group(group, allowed, |place| prepared.supplies[group.usable[place]].spreading_price);
            for (place, amount) in here.iter().enumerate() {
                if let Some((amount, _)) = amount {
                    let material = group.usable[place];
                    uses[material].add_mul(1.0 / prepared.supplies[material].pack_kg, *amount);
                }
            }
            if let (true, Some(most)) = (view.limited[at], group.most_materials) {
                build.few(group, &here, most);
            }
            amounts.push(here.iter().map(|amount| amount.map(|pair| pair.1)).collect());
        }
        for ((mut uses, pack), supply) in uses.into_iter().zip(packs).zip(&prepared.supplies) {
            uses.add_mul(-1.0, pack);
            build.at_most(uses, supply.in_hand_kg / supply.pack_kg);
        }
        Self { model: build.finish(), amounts }
    }

    /// One group by itself with a price for each kg, at most so many materials where that is said.
    pub(super) fn alone(
        group: &Group,
        allowed: Option<&[bool]>,
        price: impl Fn(usize) -> f64,
        most: Option<usize>,
    ) -> Self {
        let mut build = Builder::new();
        let here = build.group(group, allowed, price);
        if let Some(most) = most {
            build.few(group, &here, most);
        }
        let amounts = vec![here.iter().map(|amount| amount.map(|pair| pair.1)).collect()];
        Self { model: build.finish(), amounts }
    }

    /// A finished program, the answer to be read at `amounts`.
    pub(super) fn of(build: Builder, amounts: Vec<Vec<Option<usize>>>) -> Self {
        Self { model: build.finish(), amounts }
    }

    /// Runs it. `watch` is asked between slices, with the best cost and the bound so far, whether to go on.
    pub(super) fn run(&self, rule: Rule, watch: &mut Watch<'_>) -> Run {
        let mut options = SolveOptions::default();
        options.node_limit = Some(SLICE);
        let mut outcome = match self.model.as_inner().solve_with(options) {
            Ok(outcome) => outcome,
            Err(error) => return Run::failed(&error),
        };
        let mut nodes = SLICE;
        loop {
            let stats = outcome.stats();
            let bound = stats.best_bound;
            let best = outcome.solution().map(microlp::Solution::objective);
            let ended = !matches!(
                outcome.termination_reason(),
                TerminationReason::NodeLimit | TerminationReason::TimeLimit
            );
            let near = best.zip(bound).is_some_and(|(best, bound)| near(best, bound, rule.gap));
            let patient = nodes >= rule.patience;
            watch.nodes += SLICE;
            let go_on = watch.ask(best, bound);
            if ended || (near && patient) || go_on.is_break() || nodes >= rule.most {
                return self.read(&outcome, ended);
            }
            let mut resume = ResumeOptions::default();
            resume.node_limit = Some(SLICE);
            outcome = match outcome.resume_with(resume) {
                Ok(outcome) => outcome,
                Err(error) => return Run::failed(&error),
            };
            nodes += SLICE;
        }
    }

    fn read(&self, outcome: &SolveOutcome, ended: bool) -> Run {
        let stats = outcome.stats();
        let Some(solution) = outcome.solution() else {
            return Run { amounts: None, bound: stats.best_bound, infeasible: false };
        };
        let values: Vec<f64> = solution.iter().map(|(_, value)| value).collect();
        let amounts = self
            .amounts
            .iter()
            .map(|group| group.iter().map(|at| at.map_or(0.0, |at| tidy(values[at]))).collect())
            .collect();
        let bound = if ended { Some(solution.objective()) } else { stats.best_bound };
        Run { amounts: Some(amounts), bound, infeasible: false }
    }
}

/// Amounts below a tenth of a milligram are the solver's dust.
fn tidy(kg: f64) -> f64 {
    if kg < 1e-7 { 0.0 } else { kg }
}

/// Whether a cost is within `gap` (a share) of a lower bound.
pub(super) fn near(cost: f64, bound: f64, gap: f64) -> bool {
    cost - bound <= gap * cost.abs().max(1e-9)
}

/// Nodes of the search tree between two looks at the clock.
const SLICE: u64 = 100;

/// When a run is good enough.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rule {
    /// Share of the cost.
    pub gap: f64,
    /// Nodes for which it goes on to find the very best.
    pub patience: u64,
    /// Nodes after which it ends.
    pub most: u64,
}

impl Rule {
    /// For one bed by itself: to the end.
    pub(super) const ONCE: Self = Self { gap: 0.0, patience: 20_000, most: 20_000 };
}

/// What a run gave.
pub(super) struct Run {
    /// kg by group and place.
    pub amounts: Option<Vec<Vec<f64>>>,
    /// No plan of this program costs less.
    pub bound: Option<f64>,
    /// There is no plan at all.
    pub infeasible: bool,
}

impl Run {
    fn failed(error: &Error) -> Self {
        Self { amounts: None, bound: None, infeasible: matches!(error, Error::Infeasible) }
    }
}

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Nodes of the search tree looked at.
    pub nodes: u64,
    /// Cost of the best plan so far.
    pub best_cost: Option<f64>,
    /// No plan costs less.
    pub lower_bound: Option<f64>,
}

/// The caller's ear: told how far it is, it says whether to go on.
pub(super) struct Watch<'a> {
    pub nodes: u64,
    pub best: Option<f64>,
    pub bound: Option<f64>,
    pub stopped: bool,
    pub ask: &'a mut dyn FnMut(&Progress) -> ControlFlow<()>,
}

impl<'a> Watch<'a> {
    pub(super) fn new(ask: &'a mut dyn FnMut(&Progress) -> ControlFlow<()>) -> Self {
        Self { nodes: 0, best: None, bound: None, stopped: false, ask }
    }

    fn ask(&mut self, best: Option<f64>, bound: Option<f64>) -> ControlFlow<()> {
        let progress =
            Progress { nodes: self.nodes, best_cost: self.best.or(best), lower_bound: self.bound.or(bound) };
        let answer = (self.ask)(&progress);
        self.stopped |= answer.is_break();
        answer
    }
}
