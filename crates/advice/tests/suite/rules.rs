//! Every rule, on ground whose make-up is known exactly, against what the trade's own tables say.

use advice::facts::{Draw, Ground, Measured, SeenSign, Site, StructureSeen, WaterSeen};
use advice::rules::RULES;
use advice::{Basis, Finding, Firmness, Kind};
use book::model::seen::{Amount, CrackWidth, DaysOfWater, Sign, SignDepth};
use book::model::{Place, UnitSystem, Watering};
use ground::kit::Bounded;
use ground::texture::{Class, Composition};
use ground::water::{SoilWaterInput, soil_water};
use jiff::civil::date;
use proptest::prelude::*;

/// A draw with the water that goes with its make-up.
fn draw(sand: f64, silt: f64, clay: f64, organic_matter: f64, gravel_volume: f64) -> Draw {
    let soil = Composition::from_parts(sand, silt, clay);
    let water = soil_water(&SoilWaterInput {
        sand_percent: soil.sand,
        clay_percent: soil.clay,
        organic_matter_percent: organic_matter,
        gravel_mass_percent: 0.0,
        density_factor: 1.0,
        ec_ds_m: 0.0,
    });
    let or_none = |value: Option<f64>| value.unwrap_or(f64::NAN);
    Draw {
        soil,
        class: Class::of(soil),
        organic_matter_percent: organic_matter,
        // Stones of 2.65 g/cm³ in earth of the density that goes with the make-up.
        gravel_mass_percent: {
            let stones = 2.65 * gravel_volume;
            100.0 * stones / (stones + (100.0 - gravel_volume) * water.matric_density.unwrap_or(1.4))
        },
        gravel_volume_percent: gravel_volume,
        bulk_density_g_cm3: or_none(water.matric_density),
        wilting_point: or_none(water.wilting_point),
        field_capacity: or_none(water.field_capacity),
        saturation: or_none(water.saturation),
        available_water: or_none(water.available) * (1.0 - gravel_volume / 100.0),
        conductivity_mm_h: or_none(water.saturated_conductivity),
    }
}

fn on(draws: Vec<Draw>) -> Ground {
    let each = 1.0 / draws.len() as f64;
    Ground {
        weights: vec![each; draws.len()],
        draws,
        site: Site {
            place: Place::OpenField,
            slope_percent: Some(2.0),
            root_depth_cm: 45.0,
            root_depth_given: true,
            watering: Some(Watering::Sprinkler),
        },
        signs: Vec::new(),
        water: WaterSeen::default(),
        structure: StructureSeen::default(),
        measured: Measured { organic_matter: true, gravel: true, packing: true, salinity: true },
        make_up_known: true,
        units: UnitSystem::UsCustomary,
    }
}

fn exactly(sand: f64, silt: f64, clay: f64) -> Ground {
    on(vec![draw(sand, silt, clay, 2.5, 0.0)])
}

fn sand() -> Ground {
    exactly(90.0, 6.0, 4.0)
}

fn silt_loam() -> Ground {
    exactly(20.0, 65.0, 15.0)
}

fn clay() -> Ground {
    exactly(20.0, 25.0, 55.0)
}

fn rule(id: &str, ground: &Ground) -> Option<Finding> {
    RULES.iter().find(|rule| rule.id == id).unwrap_or_else(|| panic!("no rule {id}")).find(ground)
}

fn verdict(id: &str, ground: &Ground) -> &'static str {
    rule(id, ground).unwrap_or_else(|| panic!("{id} found nothing")).verdict
}

fn seen(mut ground: Ground, sign: Sign) -> Ground {
    ground.signs.insert(0, SeenSign { on: date(2025, 4, 19), sign });
    ground
}

/// NRCS, Estimating Soil Moisture by Feel and Appearance (1998): available water of the coarse
/// group 0.6 to 1.2 in/ft, of the medium group (silt loam) 1.5 to 2.1.
#[test]
fn water_holding_follows_the_groups_of_the_moisture_by_feel_guide() {
    assert_eq!(verdict("water-holding", &sand()), "little");
    assert_eq!(verdict("water-holding", &silt_loam()), "plenty");
    assert_eq!(verdict("water-holding", &exactly(60.0, 28.0, 12.0)), "middling");
}

/// FAO basic infiltration rates, second hand: sand above 30 mm/h, clay 1 to 5 mm/h.
#[test]
fn intake_parts_sand_from_clay() {
    assert_eq!(verdict("intake", &sand()), "fast");
    assert_eq!(verdict("intake", &clay()), "ponds");
}

/// What was seen outweighs what was worked out, and asks for the cause where they differ.
#[test]
fn water_seen_standing_on_sand_asks_for_the_cause() {
    let wet = seen(sand(), Sign::StandingWater { days: DaysOfWater::literal(3.0) });
    let finding = rule("intake", &wet).unwrap();
    assert_eq!((finding.basis, finding.firmness, finding.odds), (Basis::Seen, Firmness::Firm, None));
    assert!(finding.statement.contains("Look for the cause"), "{}", finding.statement);
    assert_eq!(verdict("drainage-first", &wet), "main");
    assert_eq!(verdict("drainage-first", &sand()), "little");
    let puddle = seen(sand(), Sign::StandingWater { days: DaysOfWater::literal(0.5) });
    assert_eq!(verdict("drainage-first", &puddle), "little", "half a day is no drainage trouble");
}

/// Rawls, Brakensiek and Miller 1983: the mean front of sand takes 118 mm/h, that of clay 0.3.
#[test]
fn an_inch_in_an_hour_goes_into_sand_and_stands_on_clay() {
    assert_eq!(verdict("ponding", &sand()), "goes-in");
    assert_eq!(verdict("ponding", &clay()), "stands");
    let mut covered = clay();
    covered.site.place = Place::HighTunnel;
    assert!(rule("ponding", &covered).is_none(), "no rain falls under a cover");
}

/// Soil Survey Manual 2017, classes as commonly used: wetness from 25 to 50 cm is somewhat poorly drained.
#[test]
fn water_in_the_ground_is_judged_by_its_signs() {
    assert!(rule("water-table", &clay()).is_none() && rule("raised-beds", &clay()).is_none());
    let spots = seen(clay(), Sign::Mottles { from_cm: SignDepth::literal(30.0) });
    assert_eq!(verdict("water-table", &spots), "possible");
    let wet = seen(spots, Sign::WaterTable { at_cm: SignDepth::literal(35.0) });
    let finding = rule("water-table", &wet).unwrap();
    assert_eq!((finding.verdict, finding.firmness), ("seen", Firmness::Firm));
    assert!(finding.statement.contains("somewhat poorly drained"), "{}", finding.statement);
    // Rawls 1982: clay stays full for 37 cm above water, so no bed of four inches helps.
    assert_ne!(verdict("raised-beds", &wet), "as-usual");
}

/// National Engineering Handbook 630, Table 7-1: sand over 36 mm/h is A, clay below 1.4 mm/h D.
#[test]
fn hydrologic_groups_follow_the_handbook() {
    assert_eq!(verdict("hydrologic-group", &sand()), "A");
    assert_eq!(verdict("hydrologic-group", &clay()), "D");
    let rock = seen(sand(), Sign::Rock { at_cm: SignDepth::literal(40.0) });
    assert_eq!(verdict("hydrologic-group", &rock), "D", "rock within 50 cm");
}

/// Maas 1990: tomato bears 2.5 dS/m, lettuce 1.3.
#[test]
fn salts_are_judged_by_what_vegetables_bear() {
    let at = |ec: f64| {
        let mut ground = silt_loam();
        ground.water.salts_ds_m = Some(vec![ec; ground.draws.len()]);
        verdict("salts", &ground)
    };
    assert_eq!([at(0.6), at(1.8), at(3.2)], ["fine", "watch", "leach"]);
    assert!(rule("salts", &silt_loam()).is_none(), "nothing was measured");
}

/// Sprinkler handbook 1983: light sandy loam 1.0 in/h, heavy clay 0.15 in/h on gentle slopes.
#[test]
fn sprinklers_are_held_against_the_ground() {
    let with = |mut ground: Ground, mm_h: f64| {
        ground.water.sprinklers_mm_h = vec![mm_h];
        verdict("sprinklers", &ground)
    };
    assert_eq!(with(exactly(65.0, 25.0, 10.0), 20.0), "keeps-up");
    assert_eq!(with(clay(), 8.0), "too-fast");
    assert!(rule("sprinklers", &clay()).is_none(), "no sprinklers");
}

/// Common practice, no source: silt crusts, sand and clay hardly.
#[test]
fn silt_crusts() {
    assert_eq!(verdict("crusting", &silt_loam()), "readily");
    assert_eq!(verdict("crusting", &clay()), "hardly");
    let mut tunnel = silt_loam();
    tunnel.site.place = Place::HighTunnel;
    assert!(rule("crusting", &tunnel).is_some(), "sprinklers beat it as rain does");
    tunnel.site.watering = Some(Watering::Drip);
    assert!(rule("crusting", &tunnel).is_none());
}

/// USDA-NRCS bulk-density table: a silt loam hinders roots from 1.60 g/cm³.
#[test]
fn dense_ground_hinders_roots() {
    let mut ground = silt_loam();
    ground.draws[0].bulk_density_g_cm3 = 1.65;
    assert_eq!(verdict("density", &ground), "hinders");
    ground.draws[0].bulk_density_g_cm3 = 1.20;
    assert_eq!(verdict("density", &ground), "good");
    ground.measured.packing = false;
    assert!(rule("density", &ground).is_none(), "nothing was measured or seen");
    let pan = seen(ground, Sign::PanFelt { at_cm: SignDepth::literal(28.0) });
    assert_eq!(verdict("density", &pan), "look-first", "one sign is no reason for iron");
    let turn = seen(pan, Sign::RootsTurn { at_cm: SignDepth::literal(27.0) });
    assert_eq!(verdict("density", &turn), "covers-instead");
}

/// Common practice, no source.
#[test]
fn sand_is_ready_in_a_day_and_clay_in_a_week() {
    assert_eq!(verdict("workable-after-rain", &sand()), "a-day");
    assert_eq!(verdict("workable-after-rain", &clay()), "a-week");
    assert_eq!(verdict("working-wet", &clay()), "years");
    assert_eq!(verdict("working-wet", &sand()), "little");
}

/// Wischmeier and Smith 1978: silt loam erodes most; a slope of 9 % has a steepness factor of one.
#[test]
fn silt_on_a_slope_washes_and_under_cover_nothing_does() {
    let mut ground = silt_loam();
    ground.site.slope_percent = Some(1.0);
    assert_eq!(verdict("erosion", &ground), "little");
    ground.site.slope_percent = Some(9.0);
    assert_eq!(verdict("erosion", &ground), "much");
    ground.site.place = Place::HighTunnel;
    assert!(rule("erosion", &ground).is_none());
    assert_eq!(verdict("erosion", &seen(sand(), Sign::Washing)), "much");
}

/// Common practice, no source: below 18 % clay little, above 35 % it moves.
#[test]
fn clay_cracks() {
    assert_eq!(verdict("cracking", &sand()), "little");
    assert_eq!(verdict("cracking", &clay()), "moves");
    assert_eq!(verdict("cracking", &exactly(35.0, 38.0, 27.0)), "some");
    let cracked = seen(sand(), Sign::Cracks { width_mm: Some(CrackWidth::literal(10.0)) });
    assert_eq!(verdict("cracking", &cracked), "moves");
}

/// Common practice, no source: sand loses nitrogen, clay holds it.
#[test]
fn sand_loses_nitrogen() {
    assert_eq!(verdict("leaching", &sand()), "loses");
    assert_eq!(verdict("leaching", &clay()), "holds");
}

#[test]
fn what_not_to_do_is_said_where_somebody_might() {
    assert!(rule("sand-into-clay", &sand()).is_none());
    assert!(rule("gypsum", &sand()).is_none());
    assert_eq!(verdict("sand-into-clay", &clay()), "no");
    let gypsum = rule("gypsum", &clay()).unwrap();
    assert!(gypsum.statement.contains("15 %") && gypsum.statement.contains("13"), "{}", gypsum.statement);
}

/// Common practice, no source: ranks of the table of practices by texture group.
#[test]
fn what_helps_follows_the_table_of_practices() {
    assert_eq!(verdict("drainage-first", &clay()), "main");
    assert_eq!(verdict("permanent-beds", &clay()), "raised");
    assert_eq!(verdict("permanent-beds", &sand()), "flat");
    assert_eq!(verdict("cover-roots", &sand()), "fibrous-only");
    assert_eq!(verdict("mulch", &sand()), "main");
    assert_eq!(verdict("organic-matter", &sand()), "main");
    assert_eq!(verdict("organic-matter", &on(vec![draw(40.0, 40.0, 20.0, 7.0, 0.0)])), "plenty");
}

/// The line between sandy and fine ground is half passing the 75 µm sieve (Unified system, ASTM
/// D2487): sandy loam 62/25/13 stands at about 45 % and loam 40/40/20 well above.
#[test]
fn posts_follow_the_fines() {
    assert_eq!(verdict("post-holding", &exactly(62.0, 25.0, 13.0)), "sandy");
    assert_eq!(verdict("post-holding", &exactly(40.0, 40.0, 20.0)), "fine");
    assert_eq!(verdict("post-driving", &clay()), "hard-dry");
    assert_eq!(verdict("post-driving", &silt_loam()), "soft");
    assert_eq!(verdict("post-driving", &on(vec![draw(40.0, 40.0, 20.0, 2.5, 45.0)])), "stones");
    for id in ["post-driving", "post-holding"] {
        let cautions = rule(id, &clay()).unwrap().cautions.join(" ");
        for word in ["buried services", "Local code", "maker's anchoring instructions", "engineer", "permit"]
        {
            assert!(cautions.contains(word), "{id} does not mention {word}");
        }
    }
}

#[test]
fn worms_are_mentioned_where_they_count() {
    let ground = seen(clay(), Sign::Wormcasts { amount: Amount::Many });
    assert!(rule("intake", &ground).unwrap().reasons.iter().any(|reason| reason.contains("orm")));
}

#[test]
fn half_and_half_is_open_and_says_both() {
    let ground = on(vec![draw(90.0, 6.0, 4.0, 2.5, 0.0), draw(20.0, 65.0, 15.0, 2.5, 0.0)]);
    let finding = rule("water-holding", &ground).unwrap();
    assert_eq!(finding.firmness, Firmness::Open);
    assert!(
        finding.statement.contains("little") && finding.statement.contains("plenty"),
        "{}",
        finding.statement
    );
    assert!(!finding.look.is_empty());
}

#[test]
fn every_rule_is_named_once_and_its_sources_are_known() {
    let mut ids: Vec<_> = RULES.iter().map(|rule| rule.id).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), RULES.len());
    for rule in RULES {
        assert!(rule.id.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}", rule.id);
        assert!(rule.question.ends_with('?'), "{}", rule.id);
        assert!(rule.stake > 0.0);
        for cite in rule.sources {
            assert!(cite.source().is_some(), "{} cites unknown {}", rule.id, cite.key);
        }
        assert!(rule.kind != Kind::Build || !rule.cautions.is_empty(), "{} has no caution", rule.id);
    }
}

fn any_draw() -> impl Strategy<Value = Draw> {
    (0.0..1.0_f64, 0.0..1.0_f64, 0.0..12.0_f64, 0.0..60.0_f64).prop_map(|(a, b, organic, gravel)| {
        let (low, high) = (a.min(b), a.max(b));
        draw(100.0 * low, 100.0 * (high - low), 100.0 * (1.0 - high), organic, gravel)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    /// No ground makes a rule fail, and what it says can be printed as it stands.
    #[test]
    fn every_finding_is_sound(
        draws in prop::collection::vec(any_draw(), 1..20),
        slope in prop::option::of(0.0..60.0_f64),
        place in prop::sample::select(Place::ALL.to_vec()),
        metric in any::<bool>(),
    ) {
        let mut ground = on(draws);
        ground.site.slope_percent = slope;
        ground.site.place = place;
        ground.units = if metric { UnitSystem::Metric } else { UnitSystem::UsCustomary };
        for rule in RULES {
            let Some(finding) = rule.find(&ground) else { continue };
            prop_assert!(finding.statement.ends_with('.') || finding.statement.ends_with('?'), "{}", finding.statement);
            for text in std::iter::once(&finding.statement).chain(&finding.reasons) {
                prop_assert!(!text.contains("NaN") && !text.contains("inf") && !text.contains('!'), "{text}");
                prop_assert!(!metric || !text.contains(" in per") , "{text}");
            }
            prop_assert!(!finding.working.steps.is_empty(), "{} shows no working", rule.id);
            if let Some(odds) = finding.odds {
                prop_assert!((0.0..=1.0).contains(&odds));
                prop_assert_eq!(finding.firmness, Firmness::of(odds));
                let sum: f64 = finding.alternatives.iter().map(|other| other.odds).sum();
                prop_assert!((sum - 1.0).abs() < 1e-9, "{} odds add to {sum}", rule.id);
                prop_assert!(finding.alternatives.windows(2).all(|pair| pair[0].odds >= pair[1].odds));
            }
        }
    }
}
