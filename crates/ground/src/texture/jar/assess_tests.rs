//! Properties of a jar's answer.

use proptest::prelude::*;

use super::assess::{JarFinding, assess, assess_seeded};
use super::packing::{ByLayer, Packing};
use super::reading::{
    Boundary, Clarity, Dispersant, Fill, JarHeight, JarReading, JarShape, JarTemperature, JarWidth, Marks,
    PouredVolume, RulerStep, SettledFor, TimedMark, Width,
};
use super::tops::{Top, layer_tops};
use super::words::NOTHING_SEEN;
use crate::belief::{Account, Options, Witness, believe};
use crate::kit::{Bounded, NoteKind, Spread};

fn at(mm: f64) -> Boundary {
    Boundary::At { mm: JarHeight::literal(mm) }
}

fn between(low: f64, high: f64) -> Boundary {
    Boundary::Between { low_mm: JarHeight::literal(low), high_mm: JarHeight::literal(high) }
}

fn reading(marks: Marks) -> JarReading {
    JarReading {
        marks,
        ruler_step_mm: None,
        shape: JarShape::Straight,
        water_height_mm: Some(JarHeight::literal(180.0)),
        water_temperature_c: Some(JarTemperature::literal(20.0)),
        dispersant: Dispersant::Hexametaphosphate,
        water_after_a_day: Clarity::Cloudy,
        floating_organic_mm: None,
    }
}

fn timed(marks: &[(f64, Boundary)]) -> JarReading {
    let marks = marks.iter().map(|&(s, top)| TimedMark { after_s: SettledFor::literal(s), top }).collect();
    reading(Marks::Timed { marks })
}

fn usual() -> JarReading {
    timed(&[(60.0, at(34.0)), (7200.0, at(58.0)), (86400.0, at(72.0))])
}

fn heights(sand: Boundary, silt: Boundary, clay: Boundary) -> JarReading {
    reading(Marks::Heights { sand_top: sand, silt_top: silt, clay_top: clay })
}

fn thicknesses(sand: Boundary, silt: Boundary, clay: Boundary) -> JarReading {
    reading(Marks::Thicknesses { sand, silt, clay })
}

fn told(reading: &JarReading) -> JarFinding {
    assess(reading, &Packing::published()).unwrap()
}

/// The same draws for two readings, so that they can be compared without chance.
fn same_draws(reading: &JarReading) -> JarFinding {
    assess_seeded(reading, &Packing::published(), 1).unwrap()
}

fn medians(shares: &ByLayer<Spread>) -> [f64; 3] {
    shares.array().map(|spread| spread.median)
}

fn total_variance(finding: &JarFinding) -> f64 {
    finding.ilr_covariance[0][0]
        + finding.ilr_covariance[1][1]
        + finding.shared_ilr_covariance[0][0]
        + finding.shared_ilr_covariance[1][1]
}

#[test]
fn a_plain_jar_reads_as_expected() {
    let finding = told(&usual());
    let [sand, silt, clay] = medians(&finding.mass_percent);
    // Packing alone makes 61.7, 31.5 and 6.8 of these layers; the 2 h mark parts at about 4.7 µm and
    // half the clay is still up, so clay must come out above its layer and sand below.
    assert!(sand < 61.7 && clay > 6.8 && silt > 20.0, "{sand} {silt} {clay}");
    assert_eq!(finding.marks.len(), 3);
    assert!((4.0..5.5).contains(&finding.marks[1].cut_um.median));
    assert!(finding.notes.iter().any(|note| note.text.contains("2 h parts at about")));
    assert!(finding.notes.iter().any(|note| note.text.contains("weak point")));
    let odds: f64 = finding.class_odds.iter().map(|odds| odds.odds_percent).sum();
    assert!((odds - 100.0).abs() < 1e-6);
    let centre = finding.centre_percent;
    assert!((centre.sand + centre.silt + centre.clay - 100.0).abs() < 1e-9);
    assert_eq!(finding, told(&usual()), "the same reading gives the same answer");
}

/// Grains of a known soil, started anywhere in the water and let fall by Stokes' law: an account of
/// settling that shares nothing with the closed forms but the law itself.
fn settled_height_mm(soil: [f64; 3], time_s: f64, water_mm: f64, soil_mm: f64) -> f64 {
    use crate::texture::settling::stokes::{Fall, MINERAL_DENSITY_KG_M3};
    let fall = Fall::new(20.0, MINERAL_DENSITY_KG_M3, 0.0);
    let kinds = [(50.0, 2000.0), (2.0, 50.0), (0.155, 2.0)];
    let steps = 400;
    let mut down = [0.0; 3];
    for (kind, (low, high)) in kinds.into_iter().enumerate() {
        for i in 0..steps {
            let part = (f64::from(i) + 0.5) / f64::from(steps);
            let size = low * libm::pow(high / low, part);
            let fallen = 1000.0 * fall.velocity_m_s(size) * time_s / water_mm;
            down[kind] += soil[kind] * fallen.min(1.0) / f64::from(steps);
        }
    }
    // Sand carries its fines in its pores; what comes later packs as its own kind.
    let scale = soil_mm / (soil[0] / 1550.0 + soil[1] / 1120.0 + soil[2] / 416.0);
    scale * (down[0] / 1550.0 + down[1] / 1120.0 + down[2] / 416.0)
}

#[test]
fn a_simulated_jar_gives_back_its_soil() {
    for soil in [[40.0, 40.0, 20.0], [65.0, 25.0, 10.0], [20.0, 45.0, 35.0], [85.0, 9.0, 6.0]] {
        // Little soil in much water: the grains do not crowd. Overnight and 2 h silt marks.
        for silt_mark in [7200.0, 60_000.0] {
            let marks: Vec<_> = [90.0, silt_mark, 172_800.0]
                .iter()
                .map(|time| (*time, at(settled_height_mm(soil, *time, 200.0, 24.0))))
                .collect();
            let jar = JarReading {
                water_height_mm: Some(JarHeight::literal(200.0)),
                ruler_step_mm: Some(RulerStep::literal(0.2)),
                ..timed(&marks)
            };
            let finding = told(&jar);
            for (spread, truth) in finding.mass_percent.array().into_iter().zip(soil) {
                assert!(
                    spread.low <= truth && truth <= spread.high,
                    "{soil:?} at {silt_mark} s: {:?}",
                    finding.mass_percent
                );
                assert!(
                    (spread.median - truth).abs() < 9.0,
                    "{soil:?} at {silt_mark} s: {:?}",
                    finding.mass_percent
                );
            }
        }
    }
}

#[test]
fn any_unit_of_length_gives_the_same_answer() {
    let scaled = |factor: f64| JarReading {
        ruler_step_mm: Some(RulerStep::literal(factor)),
        water_height_mm: Some(JarHeight::literal(180.0 * factor)),
        ..heights(at(34.0 * factor), between(56.0 * factor, 60.0 * factor), at(72.0 * factor))
    };
    let (one, other) = (same_draws(&scaled(1.0)), same_draws(&scaled(2.54)));
    for (a, b) in medians(&one.mass_percent).into_iter().zip(medians(&other.mass_percent)) {
        assert!((a - b).abs() < 1e-9, "{a} {b}");
    }
    // 1 3/8 in typed as a fraction or as 34.925 mm is one and the same reading.
    assert_eq!(
        told(&heights(at(1.375 * 25.4), at(58.0), at(72.0))),
        told(&heights(at(34.925), at(58.0), at(72.0)))
    );
}

#[test]
fn equal_widths_and_even_pouring_are_a_straight_jar() {
    let width =
        |h: f64, d: f64| Width { height_mm: JarHeight::literal(h), diameter_mm: JarWidth::literal(d) };
    let fill =
        |h: f64, v: f64| Fill { height_mm: JarHeight::literal(h), volume_ml: PouredVolume::literal(v) };
    let straight = same_draws(&usual());
    for shape in [
        JarShape::Widths { at: vec![width(0.0, 80.0), width(90.0, 80.0), width(200.0, 80.0)] },
        JarShape::Poured { fills: vec![fill(50.0, 250.0), fill(100.0, 500.0), fill(200.0, 1000.0)] },
    ] {
        let other = same_draws(&JarReading { shape, ..usual() });
        for (a, b) in medians(&straight.mass_percent).into_iter().zip(medians(&other.mass_percent)) {
            assert!((a - b).abs() < 1e-6, "{a} {b}");
        }
    }
    // A jar that widens upwards holds more clay than a straight one with the same heights.
    let shape = JarShape::Widths { at: vec![width(0.0, 60.0), width(100.0, 100.0)] };
    let wide = same_draws(&JarReading { shape, ..usual() });
    assert!(wide.volume_percent.clay.median > straight.volume_percent.clay.median + 3.0);
}

#[test]
fn a_higher_boundary_moves_the_answer_its_way() {
    let mut last = 0.0;
    for sand_top in [20.0, 26.0, 32.0, 38.0, 44.0] {
        let sand = same_draws(&heights(at(sand_top), at(58.0), at(72.0))).mass_percent.sand.median;
        assert!(sand > last + 1.0, "{sand_top} mm: {sand} after {last}");
        last = sand;
    }
    let mut last = 0.0;
    for clay_top in [64.0, 72.0, 80.0, 95.0] {
        let clay = same_draws(&heights(at(34.0), at(58.0), at(clay_top))).mass_percent.clay.median;
        assert!(clay > last + 1.0, "{clay_top} mm: {clay} after {last}");
        last = clay;
    }
}

#[test]
fn less_seen_is_a_wider_answer_and_never_a_refusal() {
    let seen = total_variance(&told(&heights(at(34.0), at(58.0), at(72.0))));
    let range = total_variance(&told(&heights(at(34.0), between(48.0, 68.0), at(72.0))));
    let unseen = total_variance(&told(&heights(at(34.0), Boundary::No, at(72.0))));
    let nothing = told(&heights(Boundary::No, Boundary::No, Boundary::No));
    assert!(seen < range && range < unseen && unseen < total_variance(&nothing), "{seen} {range} {unseen}");
    assert_eq!((nothing.notes[0].text.as_str(), nothing.class), (NOTHING_SEEN, None));
    for spread in nothing.mass_percent.array() {
        assert!(spread.width() > 55.0, "{spread:?}");
    }
    let first_mark_only = told(&timed(&[(60.0, at(34.0))]));
    assert!(first_mark_only.mass_percent.clay.width() > 40.0, "{:?}", first_mark_only.mass_percent);
}

#[test]
fn clear_water_and_no_dispersant_are_said_and_widen() {
    let overnight = || timed(&[(60.0, at(34.0)), (50_000.0, at(58.0)), (172_800.0, at(72.0))]);
    for jar in [overnight(), usual()] {
        let cloudy = told(&jar);
        let clear = told(&JarReading { water_after_a_day: Clarity::Clear, ..jar });
        assert!(total_variance(&clear) > total_variance(&cloudy));
        assert!(clear.mass_percent.sand.width() > cloudy.mass_percent.sand.width());
    }
    let parted = told(&overnight());
    let clear = told(&JarReading { water_after_a_day: Clarity::Clear, ..overnight() });
    assert!(clear.notes[0].text.contains("clear after a day"), "{:?}", clear.notes[0]);
    assert!(clear.still_up_percent.high < 1e-9, "all is down: {:?}", clear.still_up_percent);
    let bare = told(&JarReading { dispersant: Dispersant::None, ..overnight() });
    assert!(bare.mass_percent.clay.width() > parted.mass_percent.clay.width());
    assert!(bare.mass_percent.clay.median > parted.mass_percent.clay.median, "crumbs hide clay");
    assert!(bare.notes.iter().any(|note| note.text.contains("too little clay")));
}

#[test]
fn contradictions_are_refused_at_their_field() {
    let field = |reading: &JarReading| assess(reading, &Packing::published()).unwrap_err().field;
    assert_eq!(field(&heights(at(34.0), at(20.0), at(72.0))), "marks.silt_top");
    assert_eq!(field(&heights(between(36.0, 34.0), at(58.0), at(72.0))), "marks.sand_top");
    assert_eq!(field(&heights(at(0.0), at(0.0), at(0.0))), "marks");
    assert_eq!(field(&timed(&[])), "marks.marks");
    assert_eq!(field(&timed(&[(7200.0, at(30.0)), (60.0, at(50.0))])), "marks.marks[0].top");
    let drowned = JarReading { water_height_mm: Some(JarHeight::literal(70.0)), ..usual() };
    assert_eq!(field(&drowned), "water_height_mm");
    let packing = Packing { between_jars: f64::NAN, ..Packing::published() };
    assert_eq!(assess(&usual(), &packing).unwrap_err().field, "packing.between_jars");
}

#[test]
fn marks_are_taken_by_the_size_they_part() {
    let finding = told(&timed(&[
        (5.0, at(20.0)),
        (60.0, at(34.0)),
        (7200.0, at(56.0)),
        (43_200.0, at(60.0)),
        (86_400.0, at(70.0)),
        (172_800.0, at(72.0)),
    ]));
    let roles: Vec<_> = finding.marks.iter().map(|mark| format!("{:?}", mark.role)).collect();
    assert_eq!(roles, ["NotUsed", "Sand", "NotUsed", "Silt", "NotUsed", "All"]);
    let sizes: Vec<f64> = finding.marks.iter().map(|mark| mark.cut_um.median).collect();
    assert!(sizes.windows(2).all(|pair| pair[0] > pair[1]), "{sizes:?}");
}

#[test]
fn tops_can_be_drawn() {
    let tops = layer_tops(&heights(at(34.0), Boundary::No, between(70.0, 74.0))).unwrap().tops;
    assert_eq!(tops.sand, Top::At { mm: 34.0 });
    assert_eq!(tops.silt, Top::Unseen { low_mm: 34.0, high_mm: 74.0 });
    assert_eq!(tops.clay, Top::Between { low_mm: 70.0, high_mm: 74.0 });
    let layers = reading(Marks::Thicknesses { sand: at(30.0), silt: between(10.0, 12.0), clay: at(5.0) });
    let tops = layer_tops(&layers).unwrap().tops;
    assert_eq!(tops.silt, Top::Between { low_mm: 40.0, high_mm: 42.0 });
    assert_eq!(tops.clay, Top::Between { low_mm: 45.0, high_mm: 47.0 });
}

#[test]
fn thicknesses_and_heights_of_one_jar_agree() {
    let thick = told(&reading(Marks::Thicknesses { sand: at(34.0), silt: at(24.0), clay: at(14.0) }));
    let high = told(&heights(at(34.0), at(58.0), at(72.0)));
    for (a, b) in medians(&thick.mass_percent).into_iter().zip(medians(&high.mass_percent)) {
        // Separate rulers for each thickness: same centre within the draws' own error.
        assert!((a - b).abs() < 2.0, "{a} {b}");
    }
}

#[test]
fn belief_takes_the_witness_and_ten_jars_share_the_packing() {
    let finding = told(&usual());
    let one = finding.witness("a", "the first jar");
    let Account::Measured { shared: Some(shared), .. } = &one.account else {
        panic!("a jar is a measurement")
    };
    assert_eq!(shared.name, "jar packing");
    let unshared = |witness: &Witness| {
        let mut witness = witness.clone();
        if let Account::Measured { covariance, shared, .. } = &mut witness.account {
            for (row, more) in covariance.iter_mut().zip(finding.shared_ilr_covariance) {
                row.iter_mut().zip(more).for_each(|(value, more)| *value += more);
            }
            *shared = None;
        }
        witness
    };
    let ten: Vec<Witness> = (0..10).map(|i| finding.witness(i.to_string(), "a jar")).collect();
    let ten_apart: Vec<Witness> = ten.iter().map(unshared).collect();
    let width = |witnesses: &[Witness]| believe(witnesses, &Options::default()).clay.width();
    assert!(width(&ten) < width(&[one]), "ten jars know more than one");
    assert!(width(&ten) > 1.1 * width(&ten_apart), "but repeating does not average the packing away");
}

#[test]
fn organic_float_is_left_out() {
    let float = JarReading { floating_organic_mm: Some(JarHeight::literal(20.0)), ..usual() };
    let finding = told(&float);
    assert_eq!(
        medians(&finding.volume_percent).map(f64::round),
        medians(&told(&usual()).volume_percent).map(f64::round)
    );
    assert!(finding.notes.iter().any(|note| note.kind == NoteKind::Method && note.text.contains("organic")));
}

fn any_boundary() -> impl Strategy<Value = Boundary> {
    prop_oneof![
        (0.0..1000.0).prop_map(at),
        (0.0..900.0, 0.0..100.0).prop_map(|(low, more)| between(low, low + more)),
        Just(Boundary::No),
    ]
}

fn any_marks() -> impl Strategy<Value = Marks> {
    let three = || (any_boundary(), any_boundary(), any_boundary());
    prop_oneof![
        three().prop_map(|(sand, silt, clay)| Marks::Thicknesses { sand, silt, clay }),
        three().prop_map(|(sand_top, silt_top, clay_top)| Marks::Heights { sand_top, silt_top, clay_top }),
        prop::collection::vec((1.0..3e7, any_boundary()), 0..5).prop_map(|marks| Marks::Timed {
            marks: marks
                .into_iter()
                .map(|(s, top)| TimedMark { after_s: SettledFor::literal(s), top })
                .collect()
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Whatever was read, the answer is a sound one or a refusal that names a field.
    #[test]
    fn any_reading_is_answered_or_refused(
        marks in any_marks(),
        water in prop::option::of(1.0..1000.0),
        temperature in prop::option::of(1.0..40.0),
        step in prop::option::of(0.1..20.0),
        dispersant in prop::sample::select(vec![
            Dispersant::None, Dispersant::LiquidSoap, Dispersant::DishwasherPowder,
            Dispersant::Hexametaphosphate, Dispersant::Unknown,
        ]),
        clarity in prop::sample::select(vec![Clarity::Clear, Clarity::Cloudy, Clarity::NotLooked]),
    ) {
        let reading = JarReading {
            marks,
            ruler_step_mm: step.map(RulerStep::literal),
            shape: JarShape::Straight,
            water_height_mm: water.map(JarHeight::literal),
            water_temperature_c: temperature.map(JarTemperature::literal),
            dispersant,
            water_after_a_day: clarity,
            floating_organic_mm: None,
        };
        match assess(&reading, &Packing::published()) {
            Ok(finding) => {
                for spread in finding.mass_percent.array().into_iter().chain(finding.volume_percent.array()) {
                    prop_assert!(spread.low >= 0.0 && spread.low <= spread.median, "{spread:?}");
                    prop_assert!(spread.median <= spread.high && spread.high <= 100.0 + 1e-9, "{spread:?}");
                }
                let [[a, b], [c, d]] = finding.ilr_covariance;
                prop_assert!((b - c).abs() < 1e-9 && a >= 0.0 && a * d - b * c > -1e-9);
                prop_assert!(finding.still_up_percent.high.is_finite());
                prop_assert!(finding.marks.iter().all(|mark| mark.cut_um.low > 0.0 && mark.cut_um.high.is_finite()));
                prop_assert!(layer_tops(&reading).is_ok());
            }
            Err(refusal) => prop_assert!(!refusal.field.is_empty() && !refusal.accepted.is_empty(), "{refusal:?}"),
        }
    }
}

/// Clumped clay falls among the silt and draws no line between them, so one layer over the sand is no
/// proof of a soil without clay: from common practice, a clay shaken in plain water stands as one
/// layer under clear water.
#[test]
fn one_layer_under_clear_water_is_not_taken_for_pure_silt() {
    let one_layer = |dispersant, clarity| {
        let mut jar = heights(at(0.0), at(40.0), at(40.0));
        jar.dispersant = dispersant;
        jar.water_after_a_day = clarity;
        told(&jar)
    };
    let clumped = one_layer(Dispersant::None, Clarity::Clear);
    assert!(clumped.class_odds[0].odds_percent < 80.0, "{:?}", clumped.class_odds);
    assert!(clumped.mass_percent.clay.high > 40.0, "{:?}", clumped.mass_percent);
    assert!(clumped.notes.iter().any(|note| note.text.starts_with("Silt and clay show as one layer")));
    let parted = one_layer(Dispersant::Hexametaphosphate, Clarity::Cloudy);
    assert!(parted.mass_percent.clay.width() < clumped.mass_percent.clay.width());
    assert!(!parted.notes.iter().any(|note| note.text.starts_with("Silt and clay show as one layer")));
}

/// A share is a ratio of two things that were seen, so one boundary alone, or none, names no class.
#[test]
fn fewer_than_two_boundaries_tell_nothing() {
    let no = Boundary::No;
    for reading in [
        heights(no, no, no),
        heights(no, no, at(72.0)),
        heights(at(34.0), no, no),
        thicknesses(no, no, no),
        thicknesses(at(20.0), no, no),
        timed(&[(60.0, no), (7200.0, at(40.0)), (86400.0, no)]),
    ] {
        let finding = told(&reading);
        assert!(finding.tells_nothing && finding.class.is_none(), "{reading:?}");
        assert_eq!(finding.notes[0].text, NOTHING_SEEN);
        assert!(!finding.notes.iter().any(|note| note.text.contains("hard to explain")), "{reading:?}");
    }
    for reading in [
        heights(at(34.0), no, at(72.0)),
        thicknesses(at(20.0), at(21.0), no),
        thicknesses(at(0.0), no, no),
        timed(&[(60.0, at(20.0)), (7200.0, at(40.0)), (86400.0, no)]),
    ] {
        let finding = told(&reading);
        assert!(!finding.tells_nothing && finding.class.is_some(), "{reading:?}");
    }
}
