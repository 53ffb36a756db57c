//! Why covered ground gathers salt, and the arithmetic of a year where the book allows it.

use book::Snapshot;
use book::model::{Bed, EntryId, WateringAmount};
use ground::kit::{Bounded, Spread};
use ground::water::salts::{TunnelYear, why_salts_gather};
use jiff::civil::Date;
use serde::Serialize;

use super::profile::over_mm;
use super::salts::SupplySalts;
use super::soils::{Soils, earth};

/// Water given in a year where too few waterings were written down, mm (judgement).
const USUAL_IRRIGATION_MM: f64 = 500.0;
/// Waterings of a bed in a year from which they are taken to be all of them (judgement).
const ENOUGH_WATERINGS: usize = 10;
/// Days from the first of them to the last from which they are taken to be those of a year (judgement).
const LONG_ENOUGH_D: i32 = 120;
/// Share of the water given that crops and air take (judgement).
const USED: f64 = 0.9;
/// Salts of covered ground where they were not measured, dS/m (judgement).
const START_DS_M: f64 = 0.8;
/// Years ahead.
pub(super) const YEARS: u32 = 5;

/// A year of covered ground.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tunnel {
    /// Water given in a year, mm.
    pub irrigation_mm: f64,
    /// Is that what was written down, or the usual amount?
    pub from_the_book: bool,
    /// Water that drains below the roots, mm.
    pub drainage_mm: f64,
    /// Salts of the water, kg/ha a year.
    pub water_salts_kg_ha: f64,
    /// EC of the saturation extract after each year to come, dS/m.
    pub ec_after_years_ds_m: Vec<f64>,
    /// EC in the long run, dS/m.
    pub steady_ds_m: Option<f64>,
    /// Why salts gather.
    pub reasons: Vec<String>,
    /// What had to be assumed.
    pub assumed: Vec<String>,
}

fn depth_mm(bed: &Bed, amount: WateringAmount, rate_mm_h: Option<f64>) -> Option<f64> {
    match amount {
        WateringAmount::DepthMm(depth) => Some(depth.get()),
        WateringAmount::VolumeL(volume) => Some(volume.get() / bed.area_m2()),
        WateringAmount::Minutes(minutes) => Some(minutes.get() / 60.0 * rate_mm_h?),
    }
}

/// Water given to the beds of a plot in the last year, mm over the beds; `None` where too little was written
/// down.
fn given_mm(snapshot: &Snapshot, plot: EntryId, today: Date) -> Option<f64> {
    let from = today.saturating_sub(jiff::Span::new().days(365));
    let (mut litres, mut area) = (0.0, 0.0);
    for bed in snapshot.beds.iter().filter(|bed| bed.body.plot == plot) {
        let rate = snapshot.system_of(bed.id).and_then(|system| {
            system.body.delivery.rate_mm_h(bed.body.length_m.get(), bed.body.width_m.get())
        });
        let lately: Vec<_> = snapshot
            .waterings_of(bed.id)
            .into_iter()
            .filter(|watering| (from..=today).contains(&watering.body.on))
            .collect();
        let span_d = match (lately.first(), lately.last()) {
            (Some(first), Some(last)) => (last.body.on - first.body.on).get_days(),
            _ => 0,
        };
        let depths: Vec<f64> =
            lately.iter().filter_map(|watering| depth_mm(&bed.body, watering.body.amount, rate)).collect();
        if depths.len() >= ENOUGH_WATERINGS && span_d >= LONG_ENOUGH_D {
            litres += depths.iter().sum::<f64>() * bed.body.area_m2();
            area += bed.body.area_m2();
        }
    }
    (area > 0.0).then(|| litres / area)
}

/// The arithmetic; `None` where the salts of the water are not known.
pub(super) fn tunnel(
    snapshot: &Snapshot,
    plot: EntryId,
    soils: &Soils,
    supplies: &[SupplySalts],
    now: Option<Spread>,
    root_depth_cm: f64,
    today: Date,
) -> Option<Tunnel> {
    let water_ec_ds_m = supplies.iter().filter_map(|supply| supply.ec_ds_m).max_by(f64::total_cmp)?;
    let given = given_mm(snapshot, plot, today);
    let irrigation_mm = given.unwrap_or(USUAL_IRRIGATION_MM);
    let median = |of: fn(&ground::water::SoilWater) -> Option<f64>| {
        let mut mm = over_mm(soils, root_depth_cm, |water| Some(of(water)? * earth(water)));
        mm.retain(|value| value.is_finite());
        Spread::of_equal(&mut mm).map(|spread| spread.median)
    };
    let year = TunnelYear {
        irrigation_mm,
        water_ec_ds_m,
        fresh_water_mm: 0.0,
        use_mm: USED * irrigation_mm,
        compost_salts_kg_ha: 0.0,
        fertilizer_salts_kg_ha: 0.0,
        carried_off_kg_ha: 0.0,
        held_mm: median(|water| water.field_capacity)?,
        full_mm: median(|water| water.saturation)?,
    };
    let start = year.salts_at_kg_ha(now.map_or(START_DS_M, |now| now.median));
    let mut assumed = vec![
        "A tenth of the water drains below the roots, and no rain or flooding reaches the ground.".to_owned(),
        "Salts of compost and fertilizers come on top, and are not in these numbers.".to_owned(),
    ];
    if given.is_none() {
        assumed.insert(
            0,
            format!("{USUAL_IRRIGATION_MM:.0} mm of water a year: the waterings of a whole season are not written down."),
        );
    }
    if now.is_none() {
        assumed.push(format!("Salts now of {START_DS_M} dS/m: they were not measured."));
    }
    Some(Tunnel {
        irrigation_mm,
        from_the_book: given.is_some(),
        drainage_mm: year.drainage_mm(),
        water_salts_kg_ha: year.water_salts_kg_ha(),
        ec_after_years_ds_m: (1..=YEARS)
            .map(|years| year.extract_ds_m(year.salts_after_kg_ha(start, f64::from(years))))
            .collect(),
        steady_ds_m: year.steady_extract_ds_m(),
        reasons: why_salts_gather(&year).into_iter().map(|reason| reason.text).collect(),
        assumed,
    })
}
