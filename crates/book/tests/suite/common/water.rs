//! Valid weather, crops, plantings and watering, from chance.

use book::model::seen::*;
use book::model::weather::*;
use book::model::*;
use ground::kit::Bounded;
use ground::texture::Class;
use jiff::Span;
use jiff::civil::Date;
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use super::{date, name, quantity, text};

/// Two of a kind, the lower first.
fn pair<Q: Bounded + std::fmt::Debug>() -> impl Strategy<Value = (Q, Q)> {
    (quantity::<Q>(), quantity::<Q>()).prop_map(|(a, b)| if a.get() <= b.get() { (a, b) } else { (b, a) })
}

fn weather_day() -> impl Strategy<Value = WeatherDay> {
    let humidity = vec(quantity::<RelativeHumidity>(), 3).prop_map(|mut three| {
        three.sort_by(|a, b| a.get().total_cmp(&b.get()));
        three
    });
    (
        of(pair::<AirTemperature>()),
        of(quantity()),
        of(humidity),
        of(quantity()),
        of(quantity()),
        of(quantity()),
        of(quantity()),
    )
        .prop_map(|(warmth, rain_mm, humidity, wind_m_s, radiation_mj_m2_d, sunshine_h, et0_mm)| WeatherDay {
            tmin_c: warmth.map(|pair| pair.0),
            tmax_c: warmth.map(|pair| pair.1),
            rain_mm,
            rh_min_percent: humidity.as_ref().map(|three| three[0]),
            rh_mean_percent: humidity.as_ref().map(|three| three[1]),
            rh_max_percent: humidity.as_ref().map(|three| three[2]),
            dew_point_c: warmth.and_then(|pair| DewPoint::new(pair.0.get() - 1.5).ok()),
            wind_m_s,
            radiation_mj_m2_d,
            sunshine_h,
            et0_mm,
            ..WeatherDay::empty(Date::ZERO)
        })
        .prop_filter("a day says something", |day| !day.is_empty())
}

fn column_read() -> impl Strategy<Value = ColumnRead> {
    (text(30), of(select(WeatherColumn::ALL.to_vec())), of(select(WeatherUnit::ALL.to_vec())))
        .prop_map(|(heading, column, unit)| ColumnRead { heading, column, unit })
}

pub fn any_weather_table() -> impl Strategy<Value = WeatherTable> {
    (
        name(),
        select(WeatherWhat::ALL.to_vec()),
        of(quantity()),
        (date(), vec((weather_day(), 1_i64..4), 1..8)),
        vec(column_read(), 0..5),
        select(DateOrder::ALL.to_vec()),
        text(60),
    )
        .prop_map(|(name, what, wind_height_m, (from, days), columns, date_order, note)| {
            let mut at = from;
            let days = days.into_iter().map(|(day, step)| {
                at = at.saturating_add(Span::new().days(step));
                WeatherDay { date: at, ..day }
            });
            WeatherTable { name, what, wind_height_m, days: days.collect(), columns, date_order, note }
        })
}

pub fn any_weather_normals() -> impl Strategy<Value = WeatherNormals> {
    let month = (
        pair::<AirTemperature>(),
        quantity(),
        of(quantity()),
        of(quantity()),
        of(quantity()),
        of(quantity()),
        of(quantity()),
    )
        .prop_map(
            |(
                (tmin_c, tmax_c),
                rain_mm,
                rain_days,
                rh_mean_percent,
                wind_m_s,
                radiation_mj_m2_d,
                sunshine_h,
            )| {
                MonthNormals {
                    tmax_c,
                    tmin_c,
                    rain_mm,
                    rain_days,
                    rh_mean_percent,
                    wind_m_s,
                    radiation_mj_m2_d,
                    sunshine_h,
                }
            },
        );
    (text(60), of(quantity()), vec(month, 12)).prop_map(|(source, wind_height_m, months)| WeatherNormals {
        source,
        wind_height_m,
        months: Box::new(months.try_into().unwrap()),
    })
}

pub fn any_crop() -> impl Strategy<Value = FarmCrop> {
    (
        (of(name()), name(), text(60)),
        (quantity(), quantity(), quantity()),
        vec(0_u16..=1000, 4),
        (quantity(), of(quantity()), of(quantity())),
        (of(quantity()), of(quantity()), of(quantity())),
        any::<bool>(),
    )
        .prop_map(
            |((key, name, note), kc, days, (root_depth_m, depletion_fraction, height_m), rates, bare)| {
                // Only what is based on the catalogue may leave its figures out.
                let bare = bare && key.is_some();
                let stage = |at: usize| (!bare).then_some(days[at]);
                FarmCrop {
                    key,
                    name,
                    kc_initial: (!bare).then_some(kc.0),
                    kc_mid: (!bare).then_some(kc.1),
                    kc_end: (!bare).then_some(kc.2),
                    initial_days: stage(0),
                    development_days: stage(1),
                    mid_days: stage(2),
                    late_days: stage(3),
                    root_depth_m: (!bare).then_some(root_depth_m),
                    depletion_fraction,
                    height_m,
                    n_kg_ha: rates.0,
                    p2o5_kg_ha: rates.1,
                    k2o_kg_ha: rates.2,
                    note,
                }
            },
        )
}

/// A planting of the catalogue's crop, or of the farm's own crop `crop` where one is given.
pub fn any_planting(bed: EntryId, crop: Option<EntryId>) -> impl Strategy<Value = Planting> {
    let mulch = (select(MulchKind::ALL.to_vec()), quantity())
        .prop_map(|(of, covered_percent)| Mulch { of, covered_percent });
    let ends = (of(0_i64..400), of(0_i64..400));
    (name(), date(), select(PlantedHow::ALL.to_vec()), ends, (of(mulch), of(quantity())), text(60)).prop_map(
        move |(key, planted_on, how, (harvest, ended), (mulch, yield_goal_kg), note)| {
            let after = |days: i64| planted_on.saturating_add(Span::new().days(days));
            Planting {
                bed,
                crop: crop.map_or(PlantedCrop::Catalogue(key), PlantedCrop::FarmCrop),
                planted_on,
                how,
                harvest_on: harvest.map(after),
                ended_on: ended.map(after),
                mulch,
                yield_goal_kg,
                note,
            }
        },
    )
}

pub fn any_water_supply() -> impl Strategy<Value = WaterSupply> {
    (
        name(),
        of(quantity()),
        of(quantity()),
        (of(quantity()), of(quantity()), of(quantity()), of(quantity()), of(quantity())),
        text(60),
    )
        .prop_map(|(name, flow_l_min, ec_ds_m, ions, note)| WaterSupply {
            name,
            flow_l_min,
            ec_ds_m,
            sodium_mg_l: ions.0,
            calcium_mg_l: ions.1,
            magnesium_mg_l: ions.2,
            bicarbonate_mg_l: ions.3,
            nitrate_n_mg_l: ions.4,
            note,
        })
}

pub fn any_watering_system(bed: EntryId, supply: Option<EntryId>) -> impl Strategy<Value = WateringSystem> {
    let delivery =
        prop_oneof![
            (quantity(), 1_u16..=200)
                .prop_map(|(flow_l_h_per_m, lines)| Delivery::DripTape { flow_l_h_per_m, lines }),
            (quantity(), quantity(), 1_u16..=200)
                .prop_map(|(flow_l_h, spacing_m, lines)| Delivery::Emitters { flow_l_h, spacing_m, lines }),
            quantity().prop_map(|rate_mm_h| Delivery::Sprinkler { rate_mm_h }),
            Just(Delivery::Hand),
        ];
    (delivery, of(quantity()), of(quantity()), text(60)).prop_map(
        move |(delivery, efficiency_percent, wetted_percent, note)| WateringSystem {
            bed,
            supply,
            delivery,
            efficiency_percent,
            wetted_percent,
            note,
        },
    )
}

pub fn any_watering(bed: EntryId) -> impl Strategy<Value = WateringDone> {
    let amount = prop_oneof![
        quantity().prop_map(WateringAmount::Minutes),
        quantity().prop_map(WateringAmount::DepthMm),
        quantity().prop_map(WateringAmount::VolumeL),
    ];
    (date(), amount, text(60)).prop_map(move |(on, amount, note)| WateringDone { bed, on, amount, note })
}

pub fn moisture() -> impl Strategy<Value = Moisture> {
    let reading = prop_oneof![
        select(MoistureFeel::ALL.to_vec()).prop_map(MoistureReading::Feel),
        quantity().prop_map(MoistureReading::TensionKpa),
        quantity().prop_map(MoistureReading::VolumetricPercent),
    ];
    (pair::<SignDepth>(), any::<bool>(), reading).prop_map(|((from_cm, to_cm), layer, reading)| Moisture {
        bed: None,
        from_cm,
        to_cm: (layer && from_cm < to_cm).then_some(to_cm),
        reading,
    })
}

pub fn rings() -> impl Strategy<Value = RingInfiltration> {
    let water =
        prop_oneof![quantity().prop_map(RingWater::DepthMm), quantity().prop_map(RingWater::VolumeMl)];
    let ring = (water, quantity(), of(quantity()), any::<bool>()).prop_map(
        |(water, first_min, second_min, still_stood)| Ring { water, first_min, second_min, still_stood },
    );
    (quantity(), vec(ring, 1..6))
        .prop_map(|(inside_diameter_mm, rings)| RingInfiltration { inside_diameter_mm, rings })
}

pub fn percolation() -> impl Strategy<Value = Percolation> {
    (quantity(), quantity(), any::<bool>(), of(quantity()), of(quantity())).prop_map(
        |(fall_mm, minutes, soaked, hole_depth_cm, hole_diameter_mm)| Percolation {
            fall_mm,
            minutes,
            soaked,
            hole_depth_cm,
            hole_diameter_mm,
        },
    )
}

pub fn layers() -> impl Strategy<Value = Layers> {
    let packing = prop_oneof![
        quantity().prop_map(Packing::DensityFactor),
        quantity().prop_map(Packing::BulkDensity),
        select(PackingWords::ALL.to_vec()).prop_map(Packing::Words),
    ];
    let make_up = prop_oneof![
        Just((None, None)),
        select(Class::ALL.to_vec()).prop_map(|class| (Some(class), None)),
        (0.0_f64..=1.0, 0.0_f64..=1.0)
            .prop_map(|(sand, rest)| { (None, Some((100.0 * sand, (100.0 - 100.0 * sand) * rest))) }),
    ];
    vec((1.0_f64..80.0, make_up, of(quantity()), of(packing), of(quantity()), text(40)), 1..=MOST_LAYERS)
        .prop_map(|found| {
            let mut top = 0.0;
            let layers = found.into_iter().map(|(thick, make_up, organic, packing, stones, note)| {
                let from_cm = SignDepth::literal(top);
                top += thick;
                let (class, shares): (_, Option<(f64, f64)>) = make_up;
                Layer {
                    class,
                    sand_percent: shares.map(|shares| Bounded::literal(shares.0)),
                    clay_percent: shares.map(|shares| Bounded::literal(shares.1)),
                    organic_matter_percent: organic,
                    packing,
                    stones_volume_percent: stones,
                    note,
                    ..Layer::between(from_cm, SignDepth::literal(top))
                }
            });
            Layers { layers: layers.collect() }
        })
}

/// The water of a book, links left to be made.
#[derive(Debug, Clone)]
pub struct Water {
    pub normals: WeatherNormals,
    pub table: WeatherTable,
    pub crop: FarmCrop,
    pub plantings: Vec<Planting>,
    pub supply: WaterSupply,
    pub system: WateringSystem,
    pub watering: WateringDone,
    pub watering_again: WateringDone,
    pub moisture: Moisture,
}

pub fn any_water(nowhere: EntryId) -> impl Strategy<Value = Water> {
    (
        (any_weather_normals(), any_weather_table(), any_crop()),
        vec(prop_oneof![any_planting(nowhere, None), any_planting(nowhere, Some(nowhere))], 1..3),
        (any_water_supply(), any_watering_system(nowhere, None)),
        (any_watering(nowhere), any_watering(nowhere), moisture()),
    )
        .prop_map(
            |((normals, table, crop), plantings, (supply, system), (watering, watering_again, moisture))| {
                Water { normals, table, crop, plantings, supply, system, watering, watering_again, moisture }
            },
        )
}
