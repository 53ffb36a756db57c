//! What holds of every season, bed and reading.

use ground::belief::{Beside, Ensemble, Options, believe};
use ground::climate::crops::{CropDay, CropStage};
use ground::irrigation::balance::evaporation::Air;
use ground::irrigation::balance::{
    Amount, BedSoils, Coefficient, Day, FractionRule, LayerOfDraws, RootZone, Rules, Watering, Weather,
    Wetting, run_season,
};
use ground::irrigation::moisture::{
    FeelStep, Instrument, MoistureReading, Observation, Place, correct, observed_shares,
};
use ground::water::{Scatter, WaterEnsemble};
use proptest::prelude::*;
use std::sync::LazyLock;

/// Two layers of a plot of which nothing is known, a hundred draws.
static SOILS: LazyLock<BedSoils> = LazyLock::new(|| {
    let ensemble = Ensemble::of(&believe(&[], &Options::default()), &Beside::default());
    let water = WaterEnsemble::of(&ensemble, Scatter::OfRealSoils);
    let layer = |bottom_m| LayerOfDraws { bottom_m, soil: &ensemble, water: &water };
    BedSoils::from_layers(&[layer(0.3), layer(1.2)], 100, 0.08).expect("there is water in some ground")
});

#[derive(Debug, Clone)]
struct RandomDay {
    et0: f64,
    rain: f64,
    given: f64,
    kcb: f64,
    cover: f64,
    root_m: f64,
    wind: f64,
    humidity: f64,
}

fn day() -> impl Strategy<Value = RandomDay> {
    let dry_or = |most: f64| prop_oneof![2 => Just(0.0), 1 => 0.0..most];
    (0.0..9.0, dry_or(60.0), dry_or(50.0), 0.0..1.2, 0.0..1.0, 0.05..1.5, 0.0..8.0, 10.0..95.0).prop_map(
        |(et0, rain, given, kcb, cover, root_m, wind, humidity)| RandomDay {
            et0,
            rain,
            given,
            kcb,
            cover,
            root_m,
            wind,
            humidity,
        },
    )
}

fn rules() -> impl Strategy<Value = Rules> {
    let coefficient = prop_oneof![
        Just(Coefficient::Single),
        Just(Coefficient::Dual),
        (0.1..0.9).prop_map(|below_cover| Coefficient::DualWhileBare { below_cover })
    ];
    let wetting = prop_oneof![Just(Wetting::EarlyInDay), Just(Wetting::LateInDay)];
    let fraction = prop_oneof![Just(FractionRule::AsGiven), Just(FractionRule::MovedByDemand)];
    (coefficient, wetting, fraction, 0.2..=1.0, any::<bool>()).prop_map(
        |(coefficient, wetting, fraction, watered_share, under_canopy)| Rules {
            wetting,
            coefficient,
            fraction,
            watered_share,
            least_depth_m: 0.15,
            under_canopy,
        },
    )
}

fn turned(day: &RandomDay, extra: f64) -> Day<'static> {
    Day {
        crop: CropDay {
            stage: CropStage::Mid,
            kc: day.kcb + 0.1,
            kcb: day.kcb,
            cover_fraction: day.cover,
            height_m: 0.5 * day.cover,
            root_depth_m: day.root_m,
            depletion_fraction: 0.4,
        },
        weather: Weather {
            et0_mm: Amount::Same(day.et0),
            rain_mm: Amount::Same(day.rain),
            air: Air { wind_m_s: day.wind, rh_min_percent: day.humidity },
        },
        watering: (day.given + extra > 0.0).then_some(Watering {
            gross_mm: day.given + extra,
            efficiency: Amount::Same(0.9),
            wetted_fraction: 0.4,
        }),
    }
}

fn missing(zone: &RootZone, draw: usize) -> f64 {
    zone.depletion_mm[draw] + zone.below_mm[draw]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Rain + watering − loss − drainage − change of what is held = 0, whatever the season.
    #[test]
    fn no_water_is_made_or_lost(
        season in proptest::collection::vec(day(), 1..120), rules in rules(), used in 0.0..1.0f64,
    ) {
        let mut zone = RootZone::depleted(&SOILS, &rules, 0.3, |_| used);
        let before: Vec<f64> = (0..zone.draws()).map(|draw| missing(&zone, draw)).collect();
        let totals = run_season(&mut zone, &SOILS, &rules, season.iter().map(|day| turned(day, 0.0)), |_, zone, fluxes| {
            for draw in 0..zone.draws() {
                let (used, all) = (zone.depletion_mm[draw], zone.total_available_mm[draw]);
                assert!((-1e-9..=all + 1e-9).contains(&used), "{used} of {all}");
                assert!((0.0..=SOILS.evaporable_mm[draw] + 1e-9).contains(&zone.surface_mm[draw]));
                assert!((0.0..=1.0).contains(&fluxes.stress[draw]));
                assert!(fluxes.et_mm[draw] <= fluxes.demand_mm[draw] + 1e-9 && fluxes.et_mm[draw] >= 0.0);
                assert!(fluxes.lost_below_mm[draw] >= 0.0);
            }
        });
        for (draw, before) in before.iter().enumerate() {
            let gained = before - missing(&zone, draw);
            let left = totals.rain_mm[draw] + totals.irrigation_mm[draw] - totals.et_mm[draw] - totals.lost_below_mm[draw];
            prop_assert!((left - gained).abs() < 1e-9, "{left} {gained}");
        }
    }

    /// More water on any day never leaves the root zone drier on that or any later day. (With the
    /// surface layer reckoned apart a wetted surface may cost more than a small gift brings.)
    #[test]
    fn more_water_never_dries(
        season in proptest::collection::vec(day(), 1..60), mut rules in rules(), extra in 0.1..40.0f64, at in 0..60usize,
    ) {
        rules.coefficient = Coefficient::Single;
        // Depth of roots kept: roots that retreat and come back meet the subsoil of another history.
        let season: Vec<RandomDay> = season.into_iter().map(|day| RandomDay { root_m: 0.4, ..day }).collect();
        let at = at % season.len();
        let run = |extra: f64| {
            let mut ends = Vec::new();
            let mut zone = RootZone::depleted(&SOILS, &rules, 0.4, |_| 0.3);
            let days = season.iter().enumerate().map(|(place, day)| turned(day, if place == at { extra } else { 0.0 }));
            run_season(&mut zone, &SOILS, &rules, days, |_, zone, _| ends.push(zone.depletion_mm.clone()));
            ends
        };
        for (plain, wetter) in run(0.0).iter().zip(run(extra)) {
            for (plain, wetter) in plain.iter().zip(wetter) {
                prop_assert!(wetter <= plain + 1e-9, "{wetter} {plain}");
            }
        }
    }

    /// A reading moves the mean toward itself and no further, and leaves what can be.
    #[test]
    fn a_reading_draws_the_reckoning_toward_it(
        low in 0.0..1.0f64, width in 0.0..0.5f64, kind in 0..4usize, value in 0.0..1.0f64, spots in 1..20u32,
        depth in 0.05..0.4f64, deep in any::<bool>(),
    ) {
        let rules = Rules::default();
        #[expect(clippy::cast_precision_loss, reason = "a hundred")]
        let mut zone = RootZone::depleted(&SOILS, &rules, 0.4, |draw| low + width * (draw as f64 / 99.0));
        let reading = match kind {
            0 => MoistureReading::Feel(FeelStep::ALL[(value * 4.999) as usize]),
            1 => MoistureReading::Tension { tension_kpa: 5.0 + 2000.0 * value, error_percent: 10.0, instrument: Instrument::Sensor },
            2 => MoistureReading::WaterContent { water_percent: 60.0 * value, error_points: 3.0 },
            _ => MoistureReading::Available { available_percent: 100.0 * value, error_points: 8.0 },
        };
        let place = if deep { Place::Depth(depth) } else { Place::RootZone };
        let observed = observed_shares(&Observation { reading, place, spots }, &SOILS, &zone).expect("in the roots");
        let found = correct(&mut zone, &observed).expect("the same draws");
        let (least, most) = (found.before_share.min(found.observed_share), found.before_share.max(found.observed_share));
        prop_assert!((least - 1e-6..=most + 1e-6).contains(&found.after_share), "{found:?}");
        if most - least > 0.01 {
            prop_assert!((found.after_share - found.observed_share).abs() < most - least, "{found:?}");
        }
        for (used, all) in zone.depletion_mm.iter().zip(&zone.total_available_mm) {
            prop_assert!((0.0..=*all + 1e-9).contains(used));
        }
    }
}

/// The ensemble of a bed agrees with one soil reckoned by itself, draw by draw.
#[test]
fn a_draw_among_many_is_that_draw_alone() {
    let rules = Rules { coefficient: Coefficient::Dual, ..Rules::default() };
    let days: Vec<Day<'_>> = (0..40)
        .map(|place| {
            let wet = place % 9 == 4;
            turned(
                &RandomDay {
                    et0: 4.0 + f64::from(place % 3),
                    rain: if wet { 14.0 } else { 0.0 },
                    given: if place % 11 == 7 { 12.0 } else { 0.0 },
                    kcb: 0.3 + 0.02 * f64::from(place),
                    cover: 0.02 * f64::from(place),
                    root_m: 0.2 + 0.01 * f64::from(place),
                    wind: 2.0,
                    humidity: 45.0,
                },
                0.0,
            )
        })
        .collect();
    let mut zone = RootZone::depleted(&SOILS, &rules, 0.2, |_| 0.4);
    run_season(&mut zone, &SOILS, &rules, days.iter().copied(), |_, _, _| {});
    for draw in [0, 17, 99] {
        let mut one = (*SOILS).clone();
        for layer in &mut one.layers {
            layer.available_m3_m3 = vec![layer.available_m3_m3[draw]];
            layer.curve = vec![layer.curve[draw]];
            layer.class = vec![layer.class[draw]];
        }
        one.evaporable_mm = vec![one.evaporable_mm[draw]];
        one.readily_evaporable_mm = vec![one.readily_evaporable_mm[draw]];
        one.demand_factor = vec![one.demand_factor[draw]];
        let mut alone = RootZone::depleted(&one, &rules, 0.2, |_| 0.4);
        run_season(&mut alone, &one, &rules, days.iter().copied(), |_, _, _| {});
        assert_eq!(alone.depletion_mm[0].to_bits(), zone.depletion_mm[draw].to_bits(), "{draw}");
    }
}
