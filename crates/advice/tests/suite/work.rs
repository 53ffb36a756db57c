//! The work plan: what follows from the book, and that a person's word always wins.

#![allow(clippy::unwrap_used, reason = "a failed step is a failed test")]

use std::collections::BTreeSet;

use crate::yard::{Yard, stamp};
use advice::work::{
    Job, JobState, Source, Spread, Topic, Window, WorkPlan, answer, done, group, keep_done, proposals,
    spoken, state_line,
};
use advice::{Options, demo, plot_reports};
use book::BookError;
use book::model::{
    Application, EntryId, JobChoice, JobDone, JobMaterial, JobWord, Material, Placed, PlannedJob, Record,
    SpreadMass, SpreadMaterial,
};
use ground::kit::Bounded;
use jiff::civil::{Date, date};

/// What these tests do with the demonstration.
trait Worked {
    fn plan(&self, today: Date) -> WorkPlan;
    fn spread(&mut self, plot: EntryId, key: &str, on: Date);
}

impl Worked for Yard {
    fn plan(&self, today: Date) -> WorkPlan {
        let snapshot = self.book.snapshot().unwrap();
        let reports = plot_reports(&snapshot, &Options { weigh_measurements: false, ..Options::default() });
        WorkPlan::of(&snapshot, proposals(&snapshot, &reports, today), today)
    }

    fn spread(&mut self, plot: EntryId, key: &str, on: Date) {
        let application = Application {
            plot,
            bed: None,
            spread: SpreadMaterial::Catalogue(key.to_owned()),
            on,
            kg: SpreadMass::literal(50.0),
            placed: Placed::Incorporated,
            job: None,
            note: String::new(),
        };
        self.book.record(application, &stamp()).unwrap();
    }
}

#[test]
fn every_job_is_whole_and_known_by_one_key() {
    let yard = Yard::demo();
    let plan = yard.plan(demo::DAY);
    let keys: BTreeSet<&str> = plan.jobs.iter().map(|job| job.key.as_str()).collect();
    assert_eq!(keys.len(), plan.jobs.len(), "a key stands twice");
    let topics: BTreeSet<Topic> = plan.jobs.iter().map(|job| job.topic).collect();
    for topic in [Topic::Ground, Topic::Test, Topic::Acidity, Topic::Own] {
        assert!(topics.contains(&topic), "nothing of {topic:?}");
    }
    for job in &plan.jobs {
        assert!(!job.what.is_empty() && !group(job, plan.today).is_empty() && !state_line(job).is_empty());
        assert!(job.window.from.is_none() || job.window.to.is_none() || job.window.from <= job.window.to);
        // Whatever is planned can be kept beside a person's word.
        let word = spoken(&yard.book.snapshot().unwrap(), job);
        assert_eq!(word.check(), Ok(()), "{}", job.key);
    }
    let again: Vec<String> = yard.plan(demo::DAY).jobs.into_iter().map(|job| job.key).collect();
    assert_eq!(again, plan.jobs.iter().map(|job| job.key.clone()).collect::<Vec<_>>());
    assert!(plan.headline.contains("jobs"), "{}", plan.headline);
}

#[test]
fn regenerating_never_overwrites_a_decision() {
    let mut yard = Yard::demo();
    let meal = yard.book.record(Material::named("Test meal"), &stamp()).unwrap().id;
    let plot = yard.plot("Creek field");
    let material = SpreadMaterial::Shelf(meal);
    let mut job = Job::new("spread.test.2026", Topic::Feeding, "Feed the rows", Source::SpreadPlan)
        .on_plot(plot, "Creek field")
        .within(Window::between(date(2026, 6, 1), date(2026, 6, 20), "Before planting."));
    job.spread = vec![Spread {
        material: material.clone(),
        name: "Test meal".to_owned(),
        kg: 8.0,
        placed: Placed::SideDressed,
        carried: "8 kg of Test meal".to_owned(),
        buckets: String::new(),
    }];
    // Accepted when the plan said half as much and other days.
    let planned = PlannedJob {
        materials: vec![JobMaterial { material, kg: SpreadMass::literal(4.0) }],
        from: Some(date(2026, 9, 1)),
        to: Some(date(2026, 9, 20)),
        ..job.as_planned()
    };
    let word = JobWord { as_planned: planned, ..spoken(&yard.book.snapshot().unwrap(), &job) };
    yard.book.record(word, &stamp()).unwrap();
    let again = WorkPlan::of(&yard.book.snapshot().unwrap(), vec![job.clone()], demo::DAY);
    let kept = again.job(&job.key).unwrap();
    assert_eq!((kept.state, kept.spread[0].kg), (JobState::Accepted, 4.0));
    assert_eq!(kept.spread[0].placed, Placed::SideDressed);
    assert_eq!((kept.window.from, kept.window.to), (Some(date(2026, 9, 1)), Some(date(2026, 9, 20))));
    assert!(kept.differs.iter().any(|line| line.contains("now says")), "{:?}", kept.differs);
    assert!(kept.differs.iter().any(|line| line.contains("now puts it")), "{:?}", kept.differs);
    assert_eq!(state_line(kept), "Accepted by a test");

    // A job that is proposed no longer stays too, and says so.
    let gone = JobWord {
        key: "ground.mulch.somewhere.2020".to_owned(),
        ..spoken(&yard.book.snapshot().unwrap(), &job)
    };
    yard.book.record(JobWord { done: None, ..gone }, &stamp()).unwrap();
    let plan = yard.plan(demo::DAY);
    let lone = plan.job("ground.mulch.somewhere.2020").unwrap();
    assert!(lone.differs[0].contains("no longer asks"), "{:?}", lone.differs);
}

#[test]
fn what_is_put_off_comes_back_on_its_day() {
    let yard = Yard::demo();
    let until = yard.plan(demo::DAY).job("own.demo-3").unwrap().until.unwrap();
    let before = yard.plan(demo::DAY);
    let job = before.job("own.demo-3").unwrap();
    assert!(job.differs.is_empty() && !job.suits(demo::DAY, demo::DAY) && job.suits(until, until));
    let after = yard.plan(until);
    assert!(after.job("own.demo-3").unwrap().differs[0].contains("has come"));
    let late = yard.plan(date(2027, 1, 10));
    assert_eq!(group(late.job("own.demo-1").unwrap(), late.today), "Late");
    assert_eq!(group(late.job("own.demo-2").unwrap(), late.today), "Done");
}

#[test]
fn done_is_written_once_with_what_was_spread() {
    let mut yard = Yard::demo();
    let meal = yard.book.record(Material::named("Test meal"), &stamp()).unwrap().id;
    let plot = yard.plot("Creek field");
    let word = JobWord {
        key: "own.meal".to_owned(),
        plot: Some(plot),
        bed: None,
        choice: JobChoice::Accepted,
        until: None,
        changed: None,
        reason: String::new(),
        done: None,
        as_planned: PlannedJob {
            what: "Spread meal".to_owned(),
            place: "Creek field".to_owned(),
            from: None,
            to: None,
            materials: vec![JobMaterial {
                material: SpreadMaterial::Shelf(meal),
                kg: SpreadMass::literal(8.0),
            }],
        },
    };
    yard.book.record(word, &stamp()).unwrap();
    let on = JobDone { on: demo::DAY, note: String::new() };
    let mark = |yard: &mut Yard, number: u32| {
        let snapshot = yard.book.snapshot().unwrap();
        let plan = yard.plan(demo::DAY);
        let job = plan.job("own.meal").unwrap();
        let word = done(&snapshot, job, on.clone(), &[(0, SpreadMass::literal(6.5))], None);
        yard.book.write(|writing| keep_done(writing, snapshot.job("own.meal"), number, word, &stamp()))
    };
    mark(&mut yard, 1).unwrap();
    assert!(
        matches!(mark(&mut yard, 2), Err(BookError::Refused(refusal)) if refusal.message.contains("already"))
    );
    let snapshot = yard.book.snapshot().unwrap();
    assert_eq!(snapshot.applications_of_job("own.meal").count(), 1);
    assert_eq!(snapshot.in_hand(meal).kg, -6.5);
    // A word from a page that was opened before it was done.
    let held = snapshot.job("own.meal").unwrap();
    let late = JobWord { done: None, ..held.body.clone() };
    let result = yard.book.write(|writing| answer(writing, Some(held), 1, late, &stamp()));
    assert!(matches!(result, Err(BookError::Clash { .. })));
    let plan = yard.plan(demo::DAY);
    let job = plan.job("own.meal").unwrap();
    assert_eq!(job.state, JobState::Done);
    assert!(job.done.as_ref().unwrap().spread[0].contains("Test meal"));
}

/// Retest 6 to 12 months after liming, not before: Cornell and Missouri extension, as listed with lime.
#[test]
fn lime_is_looked_at_when_it_has_worked() {
    let mut yard = Yard::demo();
    let plot = yard.plot("Sand knoll");
    yard.spread(plot, "calcitic-lime", date(2026, 5, 1));
    let key = format!("test.after-lime.{plot}.2026-05-01");
    let plan = yard.plan(demo::DAY);
    let job = plan.job(&key).unwrap();
    assert_eq!((job.window.from, job.window.to), (Some(date(2026, 11, 1)), Some(date(2027, 5, 1))));
}

/// 7 CFR 205.203(c): 120 and 90 days; 1 March and 120 days is 29 June, and 90 days 30 May.
#[test]
fn raw_manure_keeps_the_harvest_waiting() {
    let mut yard = Yard::demo();
    let plot = yard.plot("Creek field");
    yard.spread(plot, "dairy-manure", date(2026, 3, 1));
    yard.spread(plot, "composted-manure", date(2026, 3, 1));
    let waits = |today: Date| {
        let plan = yard.plan(today);
        plan.jobs.into_iter().filter(|job| job.topic == Topic::Harvest).collect::<Vec<_>>()
    };
    let jobs = waits(demo::DAY);
    assert_eq!(jobs.len(), 1);
    assert!(jobs[0].what.contains("29 June 2026"), "{}", jobs[0].what);
    assert!(jobs[0].reasons[0].contains("30 May 2026"), "{}", jobs[0].reasons[0]);
    assert!(waits(date(2026, 6, 29)).is_empty());
}
