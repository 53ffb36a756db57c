//! Each limit against places on either side of its lines.

use super::super::needs::needs_of;
use super::*;

const GOOD: Spot = Spot {
    band: Some(Band::SandyLoam),
    stones_percent: 3.0,
    wet_from_cm: f64::INFINITY,
    fringe_cm: 15.0,
    rock_cm: f64::INFINITY,
    pan_cm: f64::INFINITY,
    closeness: 0.8,
    ph: 6.5,
    free_lime: false,
    ec_ds_m: 0.7,
    salt_line: 0.5,
    available: 0.15,
    et0_mm_d: 5.0,
    water: Some(WaterWay::Piped),
    gives_mm_d: 20.0,
};

fn grade(crop: &str, spot: Spot, limit: Limit) -> Grade {
    judge(needs_of(crop).unwrap(), &spot, 200.0)[limit as usize]
}

#[test]
fn good_ground_holds_nothing_against_a_carrot() {
    assert_eq!(judge(needs_of("carrot").unwrap(), &GOOD, 200.0), [Grade::Fits; LIMITS]);
}

#[test]
fn what_is_unknown_holds_nothing_against_any_crop() {
    for needs in super::super::needs::all_needs() {
        assert_eq!(judge(needs, &Spot::UNKNOWN, f64::NAN), [Grade::Fits; LIMITS], "{}", needs.key);
    }
}

#[test]
fn each_limit_speaks_from_its_own_line_on() {
    use Grade::{Drawback, Fails, Fits, Work};
    let band = |band| Spot { band: Some(band), ..GOOD };
    assert_eq!(grade("carrot", band(Band::Clay), Limit::Texture), Fails);
    assert_eq!(grade("carrot", band(Band::ClayLoam), Limit::Texture), Work);
    assert_eq!(grade("carrot", band(Band::Sand), Limit::Texture), Drawback);
    let stony = |stones_percent| Spot { stones_percent, ..GOOD };
    assert_eq!(grade("carrot", stony(20.0), Limit::Stones), Work);
    assert_eq!(grade("carrot", stony(40.0), Limit::Stones), Fails);
    assert_eq!(grade("lettuce", stony(40.0), Limit::Stones), Drawback);
    let wet = |wet_from_cm| Spot { wet_from_cm, ..GOOD };
    // Celery wants 20 cm of air and has 30 cm of roots; 15 cm above standing water are wet too.
    for (wet_from_cm, stands) in [(25.0, Work), (40.0, Fits)] {
        assert_eq!(grade("celery", wet(wet_from_cm), Limit::Wetness), stands);
        let bed = bed_cm(needs_of("celery").unwrap(), &wet(wet_from_cm));
        assert_eq!(bed > 0.0, stands >= Work, "a bed is told where it is wanted: {bed}");
    }
    let firm = |wet_from_cm| Spot { fringe_cm: 0.0, ..wet(wet_from_cm) };
    assert_eq!(grade("celery", firm(25.0), Limit::Wetness), Drawback);
    assert_eq!(grade("tomato", wet(25.0), Limit::Wetness), Work);
    assert_eq!(grade("asparagus", wet(10.0), Limit::Wetness), Fails);
    let rock = |rock_cm| Spot { rock_cm, ..GOOD };
    // Asparagus: 1.2 to 1.8 m of roots, half their mean is 75 cm.
    assert_eq!(grade("asparagus", rock(50.0), Limit::Rock), Fails);
    assert_eq!(grade("asparagus", rock(60.0), Limit::Rock), Work);
    assert_eq!(grade("asparagus", rock(90.0), Limit::Rock), Drawback);
    assert_eq!(grade("lettuce", rock(35.0), Limit::Rock), Fits);
    let pan = |pan_cm| Spot { pan_cm, ..GOOD };
    assert_eq!(grade("tomato", pan(30.0), Limit::Pan), Work);
    assert_eq!(grade("lettuce", pan(25.0), Limit::Pan), Drawback);
    assert_eq!(grade("lettuce", Spot { closeness: 1.05, ..GOOD }, Limit::Pan), Work);
    let ph = |ph| Spot { ph, ..GOOD };
    assert_eq!(grade("beet", ph(6.0), Limit::Acidity), Work);
    assert_eq!(grade("beet", ph(6.4), Limit::Acidity), Drawback);
    assert_eq!(grade("potato", ph(5.2), Limit::Acidity), Fits);
    assert_eq!(grade("tomato", ph(7.3), Limit::Acidity), Drawback);
    assert_eq!(grade("tomato", ph(7.8), Limit::Acidity), Work);
    assert_eq!(grade("tomato", Spot { free_lime: true, ..ph(7.8) }, Limit::Acidity), Drawback);
    assert_eq!(grade("tomato", ph(8.4), Limit::Acidity), Fails);
}

#[test]
fn salts_take_the_published_yield() {
    // Bean: threshold 1.0, slope 19: half the yield is left at 3.63 dS/m.
    let salty = |ec_ds_m| Spot { ec_ds_m, ..GOOD };
    assert_eq!(grade("green-bean", salty(3.6), Limit::Salts), Grade::Work);
    assert_eq!(grade("green-bean", salty(3.7), Limit::Salts), Grade::Fails);
    assert_eq!(grade("beet", salty(3.7), Limit::Salts), Grade::Fits);
}

#[test]
fn days_and_water_are_held_against_the_crop() {
    let warm = |days| judge(needs_of("watermelon").unwrap(), &GOOD, days)[Limit::Warmth as usize];
    let needs = needs_of("watermelon").unwrap();
    let (season, picking) = (needs.season_d.unwrap(), needs.picking_d.unwrap());
    assert_eq!(warm(season), Grade::Fits);
    assert_eq!(warm(picking), Grade::Drawback);
    assert_eq!(warm(picking - 1.0), Grade::Work);
    assert_eq!(warm(picking - 30.0), Grade::Fails);
    // Perennials need not ripen in a season.
    assert_eq!(judge(needs_of("asparagus").unwrap(), &GOOD, 30.0)[Limit::Warmth as usize], Grade::Fits);

    // Lettuce on 0.15: Kc 1.0, 5 mm a day, p 0.3, 0.3 m: 0.3 × 45 / 5 = 2.7 d.
    assert!((lasts_d(needs_of("lettuce").unwrap(), &GOOD) - 2.7).abs() < 1e-9);
    let way = |water| Spot { water: Some(water), ..GOOD };
    assert_eq!(grade("lettuce", way(WaterWay::Piped), Limit::Water), Grade::Fits);
    assert_eq!(grade("lettuce", way(WaterWay::ByHand), Limit::Water), Grade::Drawback);
    assert_eq!(grade("lettuce", way(WaterWay::RainOnly), Limit::Water), Grade::Work);
    assert_eq!(grade("lettuce", Spot { gives_mm_d: 3.0, ..GOOD }, Limit::Water), Grade::Work);
}

#[test]
fn the_worst_limit_is_the_verdict_and_odds_add_up() {
    let mut tally = Tally::default();
    assert!(tally.leading().is_none());
    let needs = needs_of("carrot").unwrap();
    tally.count(&judge(needs, &GOOD, 200.0), 3.0);
    tally.count(&judge(needs, &Spot { band: Some(Band::Clay), ph: 4.0, ..GOOD }, 200.0), 1.0);
    assert_eq!(tally.leading(), Some((Verdict::Suits, 0.75)));
    assert_eq!(tally.odds(Verdict::DoesNot), 0.25);
    assert_eq!(tally.at_least(Limit::Acidity, Grade::Work), 0.25);
    assert_eq!(tally.at_least(Limit::Acidity, Grade::Fails), 0.0);
}
