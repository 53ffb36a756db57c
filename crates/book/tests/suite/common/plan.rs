//! Valid parts of the plan, pictures under it and sampling plans, from chance.

use book::model::*;
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use super::{date, name, quantity, text};

fn frame() -> impl Strategy<Value = Frame> {
    select(vec![Frame::Wgs84, Frame::Metres])
}

fn point() -> impl Strategy<Value = Point> {
    (-180.0..=180.0_f64, -90.0..=90.0_f64).prop_map(|(x, y)| [x, y])
}

fn outline() -> impl Strategy<Value = Outline> {
    let form = prop_oneof![
        point().prop_map(|at| Form::Point { at }),
        vec(point(), 2..9).prop_map(|through| Form::Line { through }),
        (vec(point(), 3..9), vec(vec(point(), 3..5), 0..3))
            .prop_map(|(outer, holes)| Form::Area { outer, holes }),
    ];
    (frame(), form).prop_map(|(frame, form)| Outline { frame, form })
}

pub fn any_spot() -> impl Strategy<Value = Spot> {
    (frame(), point(), of(quantity())).prop_map(|(frame, at, within_m)| Spot {
        plan: None,
        number: None,
        at: Some(Located { frame, at, within_m }),
    })
}

pub fn any_origin() -> impl Strategy<Value = PlanOrigin> {
    (quantity(), quantity())
        .prop_map(|(latitude_degrees, longitude_degrees)| PlanOrigin { latitude_degrees, longitude_degrees })
}

/// The plan of a book, links left to be made.
#[derive(Debug, Clone)]
pub struct Plan {
    pub part: PlanPart,
    pub part_again: PlanPart,
    pub underlay: Underlay,
    pub sampling: SamplingPlan,
    pub sampling_again: SamplingPlan,
}

fn part() -> impl Strategy<Value = PlanPart> {
    let why = of(select(KeepOutWhy::ALL.to_vec()));
    (select(PartKind::ALL.to_vec()), text(40), outline(), of(1_u16..=10_000), why, text(60)).prop_map(
        |(kind, name, outline, number, why, note)| PlanPart {
            kind,
            name,
            outline,
            plot: None,
            bed: None,
            structure: None,
            number,
            why,
            import: None,
            note,
        },
    )
}

fn underlay() -> impl Strategy<Value = Underlay> {
    let sides = (1_u32..=4000, 1_u32..=4000);
    let fixed = prop_oneof![Just(0_usize), Just(2), Just(3)]
        .prop_flat_map(|many| vec((0.0..=1.0_f64, 0.0..=1.0_f64, frame(), point()), many));
    (name(), sides, fixed, of(quantity()), text(60)).prop_map(
        |(name, (width_px, height_px), fixed, opacity_percent, note)| Underlay {
            name,
            sha256: "0".repeat(64),
            media_type: "image/png".into(),
            width_px,
            height_px,
            fixed: fixed
                .into_iter()
                .map(|(x, y, frame, at)| FixedPoint {
                    x_px: x * f64::from(width_px),
                    y_px: y * f64::from(height_px),
                    frame,
                    at,
                })
                .collect(),
            opacity_percent,
            note,
        },
    )
}

fn sampling(plot: EntryId) -> impl Strategy<Value = SamplingPlan> {
    let layer = (quantity::<SampleDepth>(), quantity::<SampleDepth>())
        .prop_filter("a layer has a thickness", |(top, bottom)| top < bottom);
    let points = vec((point(), of(1_u16..20), any::<bool>()), 0..12);
    let kinds = (select(SamplingPurpose::ALL.to_vec()), select(Design::ALL.to_vec()));
    (name(), date(), kinds, any::<u64>(), frame(), points, layer, (1_u16..=500, 1_u16..=500), text(60))
        .prop_map(
            move |(name, made_on, (purpose, design), seed, frame, points, layer, (cores, bags), note)| {
                let points = (1_u16..).zip(points);
                SamplingPlan {
                    plot,
                    name,
                    made_on,
                    purpose,
                    design,
                    seed,
                    frame,
                    points: points
                        .map(|(number, (at, stratum, bag))| SamplingPoint {
                            number,
                            at,
                            stratum,
                            bag: bag.then_some(bags),
                        })
                        .collect(),
                    from_cm: layer.0,
                    to_cm: layer.1,
                    cores_per_bag: cores,
                    bags,
                    repeats: None,
                    note,
                }
            },
        )
}

pub fn any_plan(nowhere: EntryId) -> impl Strategy<Value = Plan> {
    (part(), part(), underlay(), sampling(nowhere), sampling(nowhere)).prop_map(
        |(part, part_again, underlay, sampling, sampling_again)| Plan {
            part,
            part_again,
            underlay,
            sampling,
            sampling_again,
        },
    )
}
