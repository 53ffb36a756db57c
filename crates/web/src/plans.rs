//! Plans under way and plans that are ready. A plan may take seconds: it is made on a thread of its own, the
//! page that asked waits a second for it and then shows how far it is.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use advice::feeding::plan::{FarmPlan, PlanSettings, farm_plan, farm_wants};
use book::{ChangeMark, Snapshot};
use ground::fertility::blend::Progress;
use jiff::civil::Date;
use serde::Serialize;

use crate::reports::Told;

/// After this the best plan so far is taken, with its gap.
const LONGEST: Duration = Duration::from_secs(20);
/// How long a page waits before it shows how far the plan is.
const PATIENCE: Duration = Duration::from_secs(1);
/// Plans kept for one state of the book.
const MOST_KEPT: usize = 8;

/// What a plan was asked for.
#[derive(Clone, PartialEq)]
struct Key {
    mark: ChangeMark,
    settings: PlanSettings,
    today: Date,
}

/// A plan that is being made.
pub(crate) struct Running {
    key: Key,
    began: Instant,
    stop: AtomicBool,
    state: Mutex<State>,
    ready: Condvar,
}

#[derive(Default)]
struct State {
    progress: Option<Progress>,
    plan: Option<Arc<FarmPlan>>,
    /// The thread ended without a plan.
    broken: bool,
}

/// How far a plan is, for the page.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct HowFar {
    /// Seconds since it was begun.
    pub(crate) seconds: u64,
    /// Cases looked at.
    pub(crate) nodes: u64,
    /// Cost of the best plan so far.
    pub(crate) best_cost: Option<f64>,
    /// No plan costs less.
    pub(crate) lower_bound: Option<f64>,
    /// Seconds after which the best plan is taken.
    pub(crate) at_most_seconds: u64,
}

/// A plan, or how far it is.
pub(crate) enum Asked {
    /// It is ready.
    Ready(Arc<FarmPlan>),
    /// It is being made.
    UnderWay(HowFar),
}

/// The plans of a desk.
#[derive(Default)]
pub(crate) struct Plans {
    kept: Mutex<Vec<Arc<Running>>>,
}

impl Plans {
    /// The plan of the farm. The first who asks sets it going; whoever asks waits a second for it.
    pub(crate) fn of(
        &self,
        snapshot: &Arc<Snapshot>,
        reports: impl FnOnce() -> Vec<Arc<Told>>,
        settings: PlanSettings,
        today: Date,
    ) -> Asked {
        let key = Key { mark: snapshot.mark, settings, today };
        let known = self.kept().iter().find(|running| running.key == key).cloned();
        let running = known.unwrap_or_else(|| self.begin(key, snapshot, reports()));
        running.wait()
    }

    /// Stops what is being made for this state of the book: the best plan so far is taken.
    pub(crate) fn stop(&self, snapshot: &Snapshot) {
        for running in self.kept().iter().filter(|running| running.key.mark == snapshot.mark) {
            running.stop.store(true, Ordering::Relaxed);
        }
    }

    fn begin(&self, key: Key, snapshot: &Arc<Snapshot>, reports: Vec<Arc<Told>>) -> Arc<Running> {
        let running = Arc::new(Running {
            key: key.clone(),
            began: Instant::now(),
            stop: AtomicBool::new(false),
            state: Mutex::new(State::default()),
            ready: Condvar::new(),
        });
        {
            let mut kept = self.kept();
            // What was made of an earlier state of the book is of no use any more.
            for old in kept.iter().filter(|old| old.key.mark != key.mark) {
                old.stop.store(true, Ordering::Relaxed);
            }
            kept.retain(|old| old.key.mark == key.mark);
            if kept.len() >= MOST_KEPT {
                kept.remove(0);
            }
            kept.push(Arc::clone(&running));
        }
        let (mine, snapshot) = (Arc::clone(&running), Arc::clone(snapshot));
        std::thread::spawn(move || {
            let ending = Ending(&mine);
            let (needs, lime) =
                farm_wants(&snapshot, reports.iter().map(|told| &told.report), mine.key.today);
            let plan =
                farm_plan(&snapshot, &needs, &lime, mine.key.settings, mine.key.today, &mut |progress| {
                    mine.state().progress = Some(*progress);
                    if mine.stop.load(Ordering::Relaxed) || mine.began.elapsed() > LONGEST {
                        ControlFlow::Break(())
                    } else {
                        ControlFlow::Continue(())
                    }
                });
            mine.state().plan = Some(Arc::new(plan));
            drop(ending);
        });
        running
    }

    fn kept(&self) -> MutexGuard<'_, Vec<Arc<Running>>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Wakes those who wait, however the thread ends.
struct Ending<'a>(&'a Running);

impl Drop for Ending<'_> {
    fn drop(&mut self) {
        let mut state = self.0.state();
        state.broken = state.plan.is_none();
        drop(state);
        self.0.ready.notify_all();
    }
}

impl Running {
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn wait(&self) -> Asked {
        let state = self.state();
        let (state, _) = self
            .ready
            .wait_timeout_while(state, PATIENCE, |state| state.plan.is_none() && !state.broken)
            .unwrap_or_else(PoisonError::into_inner);
        if let Some(plan) = &state.plan {
            return Asked::Ready(Arc::clone(plan));
        }
        let progress = state.progress;
        Asked::UnderWay(HowFar {
            seconds: self.began.elapsed().as_secs(),
            nodes: progress.map_or(0, |progress| progress.nodes),
            best_cost: progress.and_then(|progress| progress.best_cost),
            lower_bound: progress.and_then(|progress| progress.lower_bound),
            at_most_seconds: LONGEST.as_secs(),
        })
    }
}
