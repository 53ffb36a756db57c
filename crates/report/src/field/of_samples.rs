//! Labels for bags that are in the book, whether a plan asked for them or not.

use book::model::{EntryId, Sample};
use book::{Held, Snapshot, Tag};
use ground::kit::Bounded;
use ground::kit::Refusal;
use ground::kit::units::UnitSystem;
use jiff::civil::Date;

use super::labels::BagLabel;
use super::of_plan::{layer, plan_labels};

/// The samples of a plot that want labels: those named, or those of a day, or of the last day on which any was taken.
///
/// # Errors
/// A plot without samples, none on that day, or one named that is not of the plot.
pub fn samples_to_label<'a>(
    snapshot: &'a Snapshot,
    plot: EntryId,
    named: &[EntryId],
    day: Option<Date>,
) -> Result<Vec<&'a Held<Sample>>, Refusal> {
    let all: Vec<&Held<Sample>> = snapshot.samples_of(plot).collect();
    let name = snapshot.plot(plot).map(|plot| plot.body.name.clone()).unwrap_or_default();
    let Some(last) = all.iter().map(|sample| sample.body.taken_on).max() else {
        return Err(Refusal::new(
            "plot",
            format!("No sample of {name} is in the book, so there is no bag to label"),
        )
        .given(&name)
        .accepted("a plot with samples, or a sampling plan")
        .example("write the sample down first, or make a sampling plan"));
    };
    if let Some(unknown) = named.iter().find(|id| !all.iter().any(|sample| sample.id == **id)) {
        return Err(Refusal::new("sample", format!("{name} has no sample of the id {unknown}"))
            .given(unknown)
            .accepted("a sample of this plot")
            .example(all.first().map_or_else(String::new, |sample| sample.id.to_string())));
    }
    let wanted = |sample: &&&Held<Sample>| match named {
        [] => sample.body.taken_on == day.unwrap_or(last),
        _ => named.contains(&sample.id),
    };
    let found: Vec<&Held<Sample>> = all.iter().filter(wanted).copied().collect();
    if found.is_empty() {
        let day = day.unwrap_or(last);
        return Err(Refusal::new(
            "day",
            format!("No sample of {name} was taken on {}", advice::words::day(day)),
        )
        .given(day)
        .accepted(format!("a day on which one was taken; the last is {}", advice::words::day(last)))
        .example(last));
    }
    Ok(found)
}

/// The labels of samples. A bag that a plan asked for keeps the label of its plan, with the day it was taken.
#[must_use]
pub fn sample_labels(snapshot: &Snapshot, samples: &[&Held<Sample>], units: UnitSystem) -> Vec<BagLabel> {
    samples
        .iter()
        .map(|sample| planned(snapshot, sample, units).unwrap_or_else(|| of_sample(snapshot, sample, units)))
        .collect()
}

/// The label its plan has for it.
fn planned(snapshot: &Snapshot, sample: &Held<Sample>, units: UnitSystem) -> Option<BagLabel> {
    let body = &sample.body;
    let plans = snapshot.sampling_plans.iter().filter(|plan| plan.body.plot == body.plot);
    plans
        .flat_map(|plan| plan_labels(snapshot, plan, units, Some(body.taken_on)))
        .find(|label| label.tag.short().to_string().eq_ignore_ascii_case(body.bag_label.trim()))
        .map(|label| BagLabel { depth: layer(body.from_cm.get(), body.to_cm.get(), units), ..label })
}

fn of_sample(snapshot: &Snapshot, sample: &Held<Sample>, units: UnitSystem) -> BagLabel {
    let body = &sample.body;
    let bag = match body.bag_label.trim() {
        "" => "Sample".to_owned(),
        label => format!("Bag {label}"),
    };
    let points = match (body.spot.and_then(|spot| spot.number), body.cores) {
        (Some(number), _) => format!("Point {number}"),
        (None, Some(1)) => "1 core".to_owned(),
        (None, Some(cores)) => format!("{cores} cores"),
        (None, None) => String::new(),
    };
    BagLabel {
        tag: Tag::Sample(sample.id),
        bag,
        depth: layer(body.from_cm.get(), body.to_cm.get(), units),
        plot: snapshot.plot(body.plot).map(|plot| plot.body.name.clone()).unwrap_or_default(),
        points,
        day: advice::words::day(body.taken_on),
    }
}
