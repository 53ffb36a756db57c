//! Valid laboratories, shelves, spreadings, harvests and jobs, from chance.

use book::model::*;
use ground::fertility::analysis::report::*;
use ground::kit::Bounded;
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use super::{date, name, quantity, text};

fn amount(analyte: Analyte, unit: ReportUnit) -> impl Strategy<Value = Amount> {
    let (least, most) = match (analyte, unit) {
        (Analyte::BufferPh, ReportUnit::Index) => (30.0, 80.0),
        (analyte, _) if analyte.is_ph() => (4.0, 8.0),
        _ => (0.0, 100.0),
    };
    (least..=most, 0..3_u8).prop_map(|(value, kind)| match kind {
        0 => Amount::Exactly(value),
        1 => Amount::Below(value),
        _ => Amount::Above(value),
    })
}

fn figure() -> impl Strategy<Value = LabFigure> {
    select(Analyte::ALL.to_vec()).prop_flat_map(|analyte| {
        let procedures: Vec<Procedure> = Procedure::of(analyte).collect();
        (select(procedures), select(analyte.units().to_vec())).prop_flat_map(move |(procedure, unit)| {
            amount(analyte, unit).prop_map(move |amount| LabFigure { analyte, procedure, unit, amount })
        })
    })
}

pub fn lab_report() -> impl Strategy<Value = LabReport> {
    let line =
        (select(RecommendedWhat::ALL.to_vec()), 0.0..1e6_f64, select(RateUnit::ALL.to_vec()), text(40))
            .prop_map(|(what, rate, unit, for_crop)| LabRecommended { what, rate, unit, for_crop });
    (
        (text(40), text(40)),
        quantity(),
        of(quantity()),
        of(select(FreeLime::ALL.to_vec())),
        vec(figure(), 1..12),
        vec(line, 0..4),
    )
        .prop_map(|((laboratory, number), depth, density_g_cm3, free_lime, mut figures, recommended)| {
            figures.sort_by_key(|figure| (figure.analyte, figure.procedure));
            figures.dedup_by_key(|figure| (figure.analyte, figure.procedure));
            let per_area = figures.iter().any(|figure| figure.unit.per_area());
            LabReport {
                laboratory,
                number,
                basis_depth_cm: per_area.then_some(depth),
                density_g_cm3,
                free_lime,
                figures,
                recommended,
            }
        })
}

fn headings() -> impl Strategy<Value = Vec<LabHeading>> {
    let means = prop_oneof![
        select(vec![
            HeadingMeans::PassedOver,
            HeadingMeans::BagLabel,
            HeadingMeans::Plot,
            HeadingMeans::Number,
            HeadingMeans::TakenOn,
            HeadingMeans::FromIn,
            HeadingMeans::FreeLime,
        ]),
        figure().prop_map(|figure| HeadingMeans::Figure {
            analyte: figure.analyte,
            procedure: figure.procedure,
            unit: figure.unit,
        }),
        (select(RecommendedWhat::ALL.to_vec()), select(RateUnit::ALL.to_vec()))
            .prop_map(|(what, unit)| HeadingMeans::Recommended { what, unit }),
    ];
    vec((text(40), means).prop_map(|(heading, means)| LabHeading { heading, means }), 0..5)
}

fn laboratory() -> impl Strategy<Value = Laboratory> {
    (name(), headings(), of(quantity()), text(60))
        .prop_map(|(name, columns, basis_depth_cm, note)| Laboratory { name, columns, basis_depth_cm, note })
}

fn import() -> impl Strategy<Value = Import> {
    (name(), "[0-9a-f]{64}", any::<u32>(), headings(), vec(text(60), 0..3), text(60)).prop_map(
        |(file_name, file_sha256, rows, columns, remarks, note)| Import {
            file_name,
            laboratory: None,
            file_sha256,
            rows,
            columns,
            remarks,
            note,
        },
    )
}

fn analysis() -> impl Strategy<Value = Analysis> {
    vec(of(quantity::<MaterialShare>()), 13).prop_map(|shares| Analysis {
        n_percent: shares[0],
        p2o5_percent: shares[1],
        k2o_percent: shares[2],
        ca_percent: shares[3],
        mg_percent: shares[4],
        s_percent: shares[5],
        b_percent: shares[6],
        zn_percent: shares[7],
        mn_percent: shares[8],
        cu_percent: shares[9],
        fe_percent: shares[10],
        cl_percent: shares[11],
        na_percent: shares[12],
    })
}

fn sieves() -> impl Strategy<Value = Vec<Sieve>> {
    vec((1_u16..=400, quantity::<SievePassing>()), 0..5).prop_map(|found| {
        let mut meshes: Vec<u16> = found.iter().map(|one| one.0).collect();
        meshes.sort_unstable();
        meshes.dedup();
        let mut passing: Vec<SievePassing> = found.iter().map(|one| one.1).collect();
        passing.sort_by(|a, b| b.get().total_cmp(&a.get()));
        meshes
            .into_iter()
            .zip(passing)
            .map(|(mesh, passing_percent)| Sieve { mesh, passing_percent })
            .collect()
    })
}

pub fn material() -> impl Strategy<Value = Material> {
    let sold = prop_oneof![
        quantity().prop_map(Pack::BagKg),
        quantity().prop_map(Pack::LoadM3),
        quantity().prop_map(Pack::LoadT),
        quantity().prop_map(Pack::JugL),
    ];
    let price = "[0-9]{1,5}(\\.[0-9]{1,4})?".prop_map(|text| text.parse().unwrap());
    (
        (of("[a-z_]{1,20}"), name(), analysis()),
        (of(quantity()), of(quantity()), sieves(), of(quantity())),
        (of(sold), of(price), of(select(OrganicUse::ALL.to_vec()))),
        (of(quantity()), of(quantity()), of(quantity()), text(60)),
    )
        .prop_map(
            |(
                (key, name, analysis),
                (moisture_percent, neutralizing_percent, sieves, density_kg_m3),
                (sold, price, organic),
                (available_n_percent, carbon_nitrogen, ec_ds_m, note),
            )| Material {
                key,
                name,
                analysis,
                moisture_percent,
                neutralizing_percent,
                sieves,
                density_kg_m3,
                sold,
                price,
                organic,
                available_n_percent,
                carbon_nitrogen,
                ec_ds_m,
                note,
            },
        )
}

fn stock(material: EntryId) -> impl Strategy<Value = Stock> {
    (date(), quantity(), select(StockChange::ALL.to_vec()), text(60))
        .prop_map(move |(on, kg, what, note)| Stock { material, on, kg, what, note })
}

fn key() -> impl Strategy<Value = String> {
    "[a-zA-Z0-9._-]{1,60}"
}

fn application(plot: EntryId) -> impl Strategy<Value = Application> {
    let spread = prop_oneof![name().prop_map(SpreadMaterial::Catalogue), Just(SpreadMaterial::Shelf(plot))];
    (spread, date(), quantity(), select(Placed::ALL.to_vec()), of(key()), (any::<bool>(), text(60))).prop_map(
        move |(spread, on, kg, placed, job, (in_bed, note))| Application {
            plot,
            bed: in_bed.then_some(plot),
            spread,
            on,
            kg,
            placed,
            job,
            note,
        },
    )
}

fn harvest(planting: EntryId) -> impl Strategy<Value = Harvest> {
    (date(), quantity(), text(60)).prop_map(move |(on, kg, note)| Harvest { planting, on, kg, note })
}

fn materials() -> impl Strategy<Value = Vec<JobMaterial>> {
    vec(
        (name(), quantity())
            .prop_map(|(key, kg)| JobMaterial { material: SpreadMaterial::Catalogue(key), kg }),
        0..3,
    )
}

pub fn job() -> impl Strategy<Value = JobWord> {
    let planned = (name(), text(40), date(), of(0_i64..90), materials()).prop_map(
        |(what, place, from, days, materials)| PlannedJob {
            what,
            place,
            from: Some(from),
            to: days.map(|days| from.saturating_add(jiff::Span::new().days(days))),
            materials,
        },
    );
    let change =
        (of(date()), materials(), name()).prop_map(|(on, materials, note)| JobChange { on, materials, note });
    let done = (date(), text(60)).prop_map(|(on, note)| JobDone { on, note });
    (key(), select(JobChoice::ALL.to_vec()), date(), change, name(), of(done), planned).prop_map(
        |(key, choice, until, change, reason, done, as_planned)| JobWord {
            key,
            plot: None,
            bed: None,
            choice,
            until: (choice == JobChoice::Postponed).then_some(until),
            changed: (choice == JobChoice::Changed).then_some(change),
            reason,
            done: done.filter(|_| choice != JobChoice::Refused),
            as_planned,
        },
    )
}

/// What a book says of feeding, links left to be made.
#[derive(Debug, Clone)]
pub struct Feeding {
    pub report: LabReport,
    pub laboratory: Laboratory,
    pub import: Import,
    pub material: Material,
    pub stocks: Vec<Stock>,
    pub applications: Vec<Application>,
    pub harvest: Harvest,
    pub job: JobWord,
    pub job_again: JobWord,
}

pub fn any_feeding(nowhere: EntryId) -> impl Strategy<Value = Feeding> {
    (
        (lab_report(), laboratory(), import()),
        (material(), vec(stock(nowhere), 1..4), vec(application(nowhere), 1..4)),
        (harvest(nowhere), job(), job()),
    )
        .prop_map(
            |((report, laboratory, import), (material, stocks, applications), (harvest, job, job_again))| {
                Feeding {
                    report,
                    laboratory,
                    import,
                    material,
                    stocks,
                    applications,
                    harvest,
                    job,
                    job_again,
                }
            },
        )
}
