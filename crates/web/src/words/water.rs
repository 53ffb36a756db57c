//! Weather, crops and watering line by line.

use advice::words::day;
use book::Snapshot;
use book::model::{
    Delivery, EntryId, FarmCrop, PlantedCrop, Planting, WaterSupply, WateringAmount, WateringDone,
    WateringSystem, WeatherNormals, WeatherTable, month_name,
};
use ground::kit::Bounded;
use ground::kit::units::UnitSystem;

use super::Line;
use super::record::name_of;
use crate::form::shown;

fn maybe<Q: Bounded>(label: &str, value: Option<Q>, units: UnitSystem) -> Line {
    Line::new(label, value.map(|value| shown(value, units)).unwrap_or_default())
}

/// Usual weather: a line a month.
pub(super) fn normals(normals: &WeatherNormals, units: UnitSystem) -> Vec<Line> {
    let WeatherNormals { source, wind_height_m, months } = normals;
    let mut lines =
        vec![Line::new("Source", source), maybe("Height of the wind gauge", *wind_height_m, units)];
    for (month, usual) in (1_i8..).zip(months.iter()) {
        let mut parts = vec![
            format!("{} to {}", shown(usual.tmin_c, units), shown(usual.tmax_c, units)),
            format!("rain {}", shown(usual.rain_mm, units)),
        ];
        parts.extend(usual.rain_days.map(|days| format!("on {} days", days.get())));
        parts.extend(usual.rh_mean_percent.map(|humidity| format!("humidity {}", shown(humidity, units))));
        parts.extend(usual.wind_m_s.map(|wind| format!("wind {}", shown(wind, units))));
        parts.extend(usual.radiation_mj_m2_d.map(|sun| format!("sun {}", shown(sun, units))));
        parts.extend(usual.sunshine_h.map(|hours| format!("sunshine {} h a day", hours.get())));
        lines.push(Line::new(month_name(month), parts.join(", ")));
    }
    lines
}

/// A weather table: what it is and from when to when, not each day.
pub(super) fn table(table: &WeatherTable, units: UnitSystem) -> Vec<Line> {
    let WeatherTable { name, what, wind_height_m, days, columns, date_order: _, note } = table;
    let span = match (days.first(), days.last()) {
        (Some(first), Some(last)) if first.date < last.date => {
            format!("{} to {}", day(first.date), day(last.date))
        }
        (Some(only), _) => day(only.date),
        _ => String::new(),
    };
    let read: Vec<String> = columns
        .iter()
        .map(|read| match (read.column, read.unit) {
            (Some(column), Some(unit)) => {
                format!("{} as {} in {}", read.heading, column.words(), unit.symbol())
            }
            (Some(column), None) => format!("{} as {}", read.heading, column.words()),
            (None, _) => format!("{} passed over", read.heading),
        })
        .collect();
    vec![
        Line::new("Station", name),
        Line::new("What", what.words()),
        Line::new("Days", format!("{} ({span})", days.len())),
        maybe("Height of the wind gauge", *wind_height_m, units),
        Line::new("Columns", read.join("; ")),
        Line::new("Note", note),
    ]
}

/// A crop of the farm's own.
pub(super) fn crop(crop: &FarmCrop, units: UnitSystem) -> Vec<Line> {
    let FarmCrop {
        key,
        name,
        kc_initial,
        kc_mid,
        kc_end,
        initial_days,
        development_days,
        mid_days,
        late_days,
        root_depth_m,
        depletion_fraction,
        height_m,
        note,
    } = crop;
    let days = |label: &str, days: &Option<u16>| {
        Line::new(label, days.map(|days| format!("{days} days")).unwrap_or_default())
    };
    vec![
        Line::new("Name", name),
        Line::new("Based on", key.as_deref().unwrap_or_default().replace('-', " ")),
        maybe("Crop coefficient while small", *kc_initial, units),
        maybe("Crop coefficient when grown", *kc_mid, units),
        maybe("Crop coefficient at the end", *kc_end, units),
        days("Initial stage", initial_days),
        days("Development stage", development_days),
        days("Mid stage", mid_days),
        days("Late stage", late_days),
        maybe("Root depth", *root_depth_m, units),
        maybe("Depletion before it suffers", *depletion_fraction, units),
        maybe("Height", *height_m, units),
        Line::new("Note", note),
    ]
}

/// What a planted crop is called.
pub(super) fn crop_name(crop: &PlantedCrop, snapshot: &Snapshot) -> String {
    match crop {
        PlantedCrop::Catalogue(key) => key.replace(['-', '_'], " "),
        PlantedCrop::FarmCrop(id) => {
            snapshot.crop(*id).map_or_else(|| name_of(snapshot, *id), |crop| crop.body.name.clone())
        }
    }
}

/// A planting.
pub(super) fn planting(planting: &Planting, snapshot: &Snapshot) -> Vec<Line> {
    let Planting { bed, crop, planted_on, how, harvest_on, ended_on, mulch, note } = planting;
    vec![
        bed_line(snapshot, *bed),
        Line::new("Crop", crop_name(crop, snapshot)),
        Line::new("Planted on", day(*planted_on)),
        Line::new("How", how.words()),
        Line::new("Harvest expected", harvest_on.map(day).unwrap_or_default()),
        Line::new("Ended on", ended_on.map(day).unwrap_or_default()),
        Line::new(
            "Mulch",
            mulch
                .map(|mulch| format!("{}, {} % of the ground", mulch.of.words(), mulch.covered_percent.get()))
                .unwrap_or_default(),
        ),
        Line::new("Note", note),
    ]
}

/// A water supply.
pub(super) fn supply(supply: &WaterSupply, units: UnitSystem) -> Vec<Line> {
    let WaterSupply {
        name,
        flow_l_min,
        ec_ds_m,
        sodium_mg_l,
        calcium_mg_l,
        magnesium_mg_l,
        bicarbonate_mg_l,
        note,
    } = supply;
    vec![
        Line::new("Name", name),
        maybe("Flow", *flow_l_min, units),
        maybe("Conductivity", *ec_ds_m, units),
        maybe("Sodium", *sodium_mg_l, units),
        maybe("Calcium", *calcium_mg_l, units),
        maybe("Magnesium", *magnesium_mg_l, units),
        maybe("Bicarbonate", *bicarbonate_mg_l, units),
        Line::new("Note", note),
    ]
}

/// A watering system.
pub(super) fn system(system: &WateringSystem, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let WateringSystem { bed, supply, delivery, efficiency_percent, wetted_percent, note } = system;
    let gives = match delivery {
        Delivery::DripTape { flow_l_h_per_m, lines } => {
            format!("{lines} lines, {}", shown(*flow_l_h_per_m, units))
        }
        Delivery::Emitters { flow_l_h, spacing_m, lines } => {
            format!("{lines} lines, {} every {}", shown(*flow_l_h, units), shown(*spacing_m, units))
        }
        Delivery::Sprinkler { rate_mm_h } => shown(*rate_mm_h, units),
        Delivery::Hand => String::new(),
    };
    vec![
        bed_line(snapshot, *bed),
        Line::new("Water from", supply.map(|id| name_of(snapshot, id)).unwrap_or_default()),
        Line::new("How", delivery.words()),
        Line::new("Gives", gives),
        maybe("Efficiency", *efficiency_percent, units),
        maybe("Share wetted", *wetted_percent, units),
        Line::new("Note", note),
    ]
}

/// How much was given.
pub(super) fn amount(amount: WateringAmount, units: UnitSystem) -> String {
    match amount {
        WateringAmount::Minutes(minutes) => shown(minutes, units),
        WateringAmount::DepthMm(depth) => shown(depth, units),
        WateringAmount::VolumeL(volume) => shown(volume, units),
    }
}

/// A watering.
pub(super) fn watering(watering: &WateringDone, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let WateringDone { bed, on, amount: given, note } = watering;
    vec![
        bed_line(snapshot, *bed),
        Line::new("On", day(*on)),
        Line::new("How much", amount(*given, units)),
        Line::new("Note", note),
    ]
}

/// "Rows 1 to 8, Lower field".
pub(super) fn bed_line(snapshot: &Snapshot, id: EntryId) -> Line {
    let text = match snapshot.bed(id) {
        Some(bed) => format!("{}, {}", bed.body.name, name_of(snapshot, bed.body.plot)),
        None => name_of(snapshot, id),
    };
    Line::new("Bed", text)
}
