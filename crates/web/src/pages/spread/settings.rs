//! What a person may set about the plan: fields of a form that is sent with the address.

use advice::feeding::plan::{
    Aim, BucketLitres, OverPercent, PlanSettings, ShortPercent, ShovelLitres, most_materials,
};
use ground::kit::Bounded;
use ground::kit::units::Dimension;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader};
use crate::problem::Problem;

const FIELDS: &[Field] = &[
    Field::one_of(
        "aim",
        "How surely the needs are to be met",
        "",
        &[
            Choice::new("median", "The middle of what may be needed"),
            Choice::new("p80", "Enough with odds of 80 %"),
        ],
    )
    .optional(),
    Field::measure("short", "A need may fall short by", "", Dimension::Percent).optional(),
    Field::measure("over", "A need may be passed by", "Potassium by twice as much", Dimension::Percent)
        .optional(),
    Field::measure("materials", "Most materials on one bed", "1 to 12", Dimension::Number).optional(),
    Field::measure("bucket", "What your bucket holds", "For example 5 gal or 20 L", Dimension::BulkVolume)
        .optional(),
    Field::measure(
        "shovel",
        "What a heaped shovel holds",
        "5 L where nothing is said: common practice, no source; fill a bucket and count",
        Dimension::BulkVolume,
    )
    .optional(),
];

/// The settings of the address, the usual ones where it says nothing.
pub(super) fn read(ask: &Ask) -> Result<(Form, PlanSettings), Problem> {
    let usual = PlanSettings::default();
    let mut read = Reader::new(FIELDS, ask.units(), &ask.query);
    let aim = match read.choice("aim") {
        Some("p80") => Aim::P80,
        _ => Aim::Median,
    };
    let short = read.measure::<ShortPercent>("short");
    let over = read.measure::<OverPercent>("over");
    let count = read.count("materials");
    let most = count.and_then(|count| {
        read.take(most_materials(u32::from(count)).map_err(|mut refusal| {
            refusal.field = "materials".to_owned();
            refusal
        }))
    });
    let bucket = read.measure::<BucketLitres>("bucket");
    let shovel = read.measure::<ShovelLitres>("shovel");
    if let Some(refusal) = read.refusals().first() {
        return Err(refusal.clone().into());
    }
    let settings = PlanSettings {
        aim,
        short_percent: short.map_or(usual.short_percent, Bounded::get),
        over_percent: over.map_or(usual.over_percent, Bounded::get),
        most_materials: most.unwrap_or(usual.most_materials),
        bucket_l: bucket.map(Bounded::get).or(usual.bucket_l),
        shovel_l: shovel.map(Bounded::get).or(usual.shovel_l),
    };
    let form = ask
        .form_from_query(FIELDS)
        .set("aim", if aim == Aim::P80 { "p80" } else { "median" })
        .set("short", ground::kit::quantity::number(settings.short_percent))
        .set("over", ground::kit::quantity::number(settings.over_percent))
        .set("materials", settings.most_materials.to_string())
        .measure("bucket", settings.bucket_l.and_then(|litres| BucketLitres::new(litres).ok()), ask.units())
        .measure("shovel", settings.shovel_l.and_then(|litres| ShovelLitres::new(litres).ok()), ask.units());
    Ok((form, settings))
}

/// The settings as they were sent, to be taken along to the other page.
pub(super) fn query(ask: &Ask) -> String {
    let mut pairs = form_urlencoded::Serializer::new(String::new());
    let mut some = false;
    for field in FIELDS {
        if let Some(text) = ask.query.text(field.name) {
            pairs.append_pair(field.name, text);
            some = true;
        }
    }
    if some { format!("?{}", pairs.finish()) } else { String::new() }
}
