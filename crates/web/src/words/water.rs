//! Weather, crops and watering line by line.

use advice::words::day;
use book::Snapshot;
use book::model::weather::{DateOrder, WeatherDay};
use book::model::{
    CropRate, Delivery, EntryId, FarmCrop, PlantedCrop, Planting, WaterSupply, WateringAmount, WateringDone,
    WateringSystem, WeatherNormals, WeatherTable, month_name,
};
use ground::kit::Bounded;
use ground::kit::units::{Unit, UnitSystem};

use super::Line;
use super::record::name_of;
use crate::form::{shown, shown_depth};

pub(super) fn maybe<Q: Bounded>(label: &str, value: Option<Q>, units: UnitSystem) -> Line {
    Line::new(label, value.map(|value| shown(value, units)).unwrap_or_default())
}

/// Usual weather: a line a month.
pub(super) fn normals(normals: &WeatherNormals, units: UnitSystem) -> Vec<Line> {
    let WeatherNormals { source, wind_height_m, months } = normals;
    let mut lines =
        vec![Line::new("Source", source), maybe("Height of the wind gauge", *wind_height_m, units)];
    for (month, usual) in (1_i8..).zip(months.iter()) {
        let mut parts = vec![
            format!("low {}, high {}", shown(usual.tmin_c, units), shown(usual.tmax_c, units)),
            format!("rain {}", shown_depth(usual.rain_mm, units)),
        ];
        parts.extend(usual.rain_days.map(|days| format!("on {} days", days.get())));
        parts.extend(usual.rh_mean_percent.map(|humidity| format!("humidity {}", shown(humidity, units))));
        parts.extend(usual.wind_m_s.map(|wind| format!("wind {}", wind_in_words(wind.get(), units))));
        parts.extend(usual.radiation_mj_m2_d.map(|sun| format!("sunlight {}", shown(sun, units))));
        parts.extend(usual.sunshine_h.map(|hours| format!("sunshine {} h a day", hours.get())));
        lines.push(Line::new(month_name(month), parts.join(", ")));
    }
    lines
}

/// A weather table: what it is and from when to when, not each day.
pub(super) fn table(table: &WeatherTable, units: UnitSystem) -> Vec<Line> {
    let WeatherTable { name, what, wind_height_m, days, columns, date_order, note } = table;
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
    let mut lines = vec![
        Line::new("Station", name),
        Line::new("What", what.words()),
        Line::new("Days", format!("{} ({span})", days.len())),
        maybe("Height of the wind gauge", *wind_height_m, units),
        Line::new("Columns", read.join("; ")),
        Line::new("Dates read as", if columns.is_empty() { "" } else { order(*date_order) }),
        Line::new("Note", note),
    ];
    // One typed in is told day by day, so that the history shows what was changed.
    if columns.is_empty() && days.len() <= TOLD_DAYS {
        lines.extend(days.iter().map(|one| Line::new(day(one.date), day_words(one, units))));
    }
    lines
}

/// Tables of at most so many days are told day by day.
const TOLD_DAYS: usize = 10;

fn order(order: DateOrder) -> &'static str {
    match order {
        DateOrder::YearMonthDay => "year, month, day",
        DateOrder::DayMonthYear => "day, month, year",
        DateOrder::MonthDayYear => "month, day, year",
    }
}

/// The wind to a tenth, as gauges give it: "5.4 mph".
pub(crate) fn wind_in_words(wind_m_s: f64, units: UnitSystem) -> String {
    let unit = if units == UnitSystem::Metric { Unit::MetrePerSecond } else { Unit::MilePerHour };
    let tenths = (Unit::MetrePerSecond.convert(wind_m_s, unit) * 10.0).round() / 10.0;
    format!("{tenths} {}", unit.symbol())
}

/// "55 °F to 78 °F, rain 0.25 in, wind 5 mph".
pub(crate) fn day_words(one: &WeatherDay, units: UnitSystem) -> String {
    let mut parts: Vec<String> = Vec::new();
    parts.extend(match (one.tmin_c, one.tmax_c) {
        (Some(low), Some(high)) => Some(format!("{} to {}", shown(low, units), shown(high, units))),
        (Some(low), None) => Some(format!("low {}", shown(low, units))),
        (None, Some(high)) => Some(format!("high {}", shown(high, units))),
        (None, None) => None,
    });
    parts.extend(one.rain_mm.map(|rain| {
        if rain.get() == 0.0 { "no rain".to_owned() } else { format!("rain {}", shown_depth(rain, units)) }
    }));
    parts.extend(match (one.rh_min_percent, one.rh_max_percent) {
        (Some(low), Some(high)) => Some(format!("humidity {} to {}", shown(low, units), shown(high, units))),
        (Some(low), None) => Some(format!("humidity down to {}", shown(low, units))),
        (None, Some(high)) => Some(format!("humidity up to {}", shown(high, units))),
        (None, None) => one.rh_mean_percent.map(|mean| format!("humidity {}", shown(mean, units))),
    });
    parts.extend(one.dew_point_c.map(|dew| format!("dew point {}", shown(dew, units))));
    parts.extend(one.wind_m_s.map(|wind| format!("wind {}", wind_in_words(wind.get(), units))));
    parts.extend(one.radiation_mj_m2_d.map(|sun| format!("sunlight {}", shown(sun, units))));
    parts.extend(one.sunshine_h.map(|sun| format!("{} h of sunshine", sun.get())));
    parts.extend(one.et0_mm.map(|et0| format!("evapotranspiration {}", shown_depth(et0, units))));
    parts.join(", ")
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
        n_kg_ha,
        p2o5_kg_ha,
        k2o_kg_ha,
        note,
    } = crop;
    let days = |label: &str, days: &Option<u16>| {
        Line::new(label, days.map(|days| format!("{days} days")).unwrap_or_default())
    };
    let rate = |label: &str, rate: &Option<CropRate>| {
        Line::new(label, rate.map(|rate| rate.shown(units)).unwrap_or_default())
    };
    vec![
        Line::new("Name", name),
        Line::new("Based on", key.as_deref().map(crate::crops::words).unwrap_or_default()),
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
        rate("Nitrogen in a season", n_kg_ha),
        rate("Phosphate in a season", p2o5_kg_ha),
        rate("Potash in a season", k2o_kg_ha),
        Line::new("Note", note),
    ]
}

/// What a planted crop is called.
pub(crate) fn crop_name(crop: &PlantedCrop, snapshot: &Snapshot) -> String {
    match crop {
        PlantedCrop::Catalogue(key) => crate::crops::words(key),
        PlantedCrop::FarmCrop(id) => {
            snapshot.crop(*id).map_or_else(|| name_of(snapshot, *id), |crop| crop.body.name.clone())
        }
    }
}

/// A planting.
pub(super) fn planting(planting: &Planting, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let Planting { bed, crop, planted_on, how, harvest_on, ended_on, mulch, yield_goal_kg, note } = planting;
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
        maybe("Yield hoped for", *yield_goal_kg, units),
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
        nitrate_n_mg_l,
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
        maybe("Nitrate nitrogen", *nitrate_n_mg_l, units),
        Line::new("Note", note),
    ]
}

/// A watering system.
pub(super) fn system(system: &WateringSystem, snapshot: &Snapshot, units: UnitSystem) -> Vec<Line> {
    let WateringSystem { bed, supply, delivery, efficiency_percent, wetted_percent, note } = system;
    let gives = gives(*delivery, units);
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

/// "2 lines of 0.45 gpm/100 ft"; nothing by hand.
fn gives(delivery: Delivery, units: UnitSystem) -> String {
    let lines = |count: u16| if count == 1 { "1 line".to_owned() } else { format!("{count} lines") };
    match delivery {
        Delivery::DripTape { flow_l_h_per_m, lines: count } => {
            format!("{} of {}", lines(count), shown(flow_l_h_per_m, units))
        }
        Delivery::Emitters { flow_l_h, spacing_m, lines: count } => {
            format!("{}, {} every {}", lines(count), shown(flow_l_h, units), shown(spacing_m, units))
        }
        Delivery::Sprinkler { rate_mm_h } => shown(rate_mm_h, units),
        Delivery::Hand => String::new(),
    }
}

/// "drip tape, 2 lines of 0.45 gpm/100 ft".
pub(crate) fn watered(system: &WateringSystem, units: UnitSystem) -> String {
    let gives = gives(system.delivery, units);
    let way = match system.delivery {
        Delivery::Hand => "hose or can",
        delivery => delivery.words(),
    };
    if gives.is_empty() { way.to_owned() } else { format!("{way}, {gives}") }
}

/// How much was given.
pub(crate) fn amount(amount: WateringAmount, units: UnitSystem) -> String {
    match amount {
        WateringAmount::Minutes(minutes) => format!("ran {}", shown(minutes, units)),
        WateringAmount::DepthMm(depth) => format!("{} over the bed", shown_depth(depth, units)),
        WateringAmount::VolumeL(volume) => format!("{} in all", shown(volume, units)),
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
