//! Choosing covers: what must follow from the facts of the sources, and how fast it must be.

use std::time::{Duration, Instant};

use ground::climate::quantities::DayOfYear;
use ground::covers::catalogue::{catalogue, find};
use ground::covers::choice::{Asked, Reason, Standing, WinterWish, all_needs, rank, standing};
use ground::covers::gap::Gap;
use ground::covers::ground::{CoverGround, Needs, Objection, ground_fit};
use ground::covers::kinds::{Animal, Animals, Band, Ending, Endings, Families, Family, Purpose, Purposes};
use ground::covers::place::{GapDays, PlaceYear, gap};
use ground::kit::Bounded;
use proptest::prelude::*;

fn gap_of(sow: f64, days: f64) -> Gap {
    let year = PlaceYear::example().year().expect("the example is a year");
    gap(&year, DayOfYear::new(sow).expect("a day"), GapDays::new(days).expect("days"))
}

fn asked(purposes: &[Purpose], sow: f64, days: f64) -> Asked {
    Asked {
        purposes: purposes.iter().copied().collect::<Purposes>(),
        gap: gap_of(sow, days),
        families: Families::default(),
        small_seed_next: false,
        endings: [Ending::Mow, Ending::Till].into_iter().collect::<Endings>(),
        animals: Animals::default(),
        winter: None,
        under_cover: false,
    }
}

const LOAM: CoverGround = CoverGround { band: Band::Loam, ph: 6.5, ec_ds_m: 0.8, wet: false, dry: false };

fn of(key: &str, asked: &Asked, ground: CoverGround) -> Standing {
    let at = catalogue().iter().position(|one| one.key == key).expect("a cover of the table");
    standing(at, asked, &Needs::of(&catalogue()[at]), &[ground], &[1.0])
}

#[test]
fn stock_rules_out_what_kills_it() {
    let mut asked = asked(&[Purpose::Smother], 170.0, 80.0);
    assert!(!of("sorghum-sudan", &asked, LOAM).reasons.rules_out());
    asked.animals = [Animal::Cattle].into_iter().collect();
    // Prussic acid in sorghums, the disease of hairy vetch; pearl millet has no prussic acid but builds up nitrate.
    assert!(of("sorghum-sudan", &asked, LOAM).reasons.has(Reason::Deadly));
    assert!(of("vetch-hairy", &asked, LOAM).reasons.has(Reason::Deadly));
    let millet = of("pearl-millet", &asked, LOAM);
    assert!(!millet.reasons.rules_out() && millet.reasons.has(Reason::Harms));
    asked.animals = [Animal::Horses].into_iter().collect();
    assert!(of("sunn-hemp", &asked, LOAM).reasons.has(Reason::Deadly));
    assert!(!of("buckwheat", &asked, LOAM).reasons.has(Reason::Harms));
}

#[test]
fn families_of_the_rotation_keep_their_distance() {
    let mut asked = asked(&[Purpose::BreakPan], 225.0, 60.0);
    asked.families = [Family::Brassicaceae].into_iter().collect();
    for key in ["radish-forage", "mustard", "turnip", "rapeseed"] {
        assert!(of(key, &asked, LOAM).reasons.has(Reason::Family), "{key}");
    }
    assert!(!of("oats", &asked, LOAM).reasons.has(Reason::Family));
}

#[test]
fn winter_and_hand_must_be_able_to_end_it() {
    let mut late = asked(&[Purpose::HoldNitrogen], 235.0, 240.0);
    late.winter = Some(WinterWish::Killed);
    late.endings = Endings::default();
    // Oats and radish die in a winter of −24 °C, rye does not; and nothing at hand ends rye.
    for key in ["oats", "radish-forage", "pea-spring"] {
        assert!(!of(key, &late, LOAM).reasons.rules_out(), "{key}");
    }
    let rye = of("rye-cereal", &late, LOAM).reasons;
    assert!(rye.has(Reason::Winter) && rye.has(Reason::CannotEnd));
    // Mowing ends rye at heading, and not annual ryegrass.
    late.endings = [Ending::Mow].into_iter().collect();
    assert!(!of("rye-cereal", &late, LOAM).reasons.has(Reason::CannotEnd));
    assert!(of("ryegrass-annual", &asked(&[Purpose::HoldNitrogen], 120.0, 90.0), LOAM).fit.comes_up);
    late.winter = Some(WinterWish::Lives);
    assert!(of("oats", &late, LOAM).reasons.has(Reason::Winter));
}

#[test]
fn the_ground_objects_where_the_sources_say_so() {
    let objects = |key: &str, ground: CoverGround, objection: Objection| {
        let needs = Needs::of(find("cover", key).expect("a cover"));
        let at = Objection::ALL.iter().position(|one| *one == objection).expect("a kind");
        ground_fit(&needs, &[ground], &[1.0]).objections[at] > 0.5
    };
    let wet = CoverGround { wet: true, ..LOAM };
    assert!(!objects("japanese-millet", wet, Objection::Wet) && objects("pearl-millet", wet, Objection::Wet));
    assert!(objects("sweetclover", CoverGround { ph: 5.5, ..LOAM }, Objection::Acid));
    assert!(!objects("rye-cereal", CoverGround { ph: 5.5, ..LOAM }, Objection::Acid));
    assert!(objects("radish-forage", CoverGround { band: Band::Clay, ..LOAM }, Objection::Texture));
    let salty = CoverGround { ec_ds_m: 6.0, ..LOAM };
    assert!(objects("clover-red", salty, Objection::Salty) && !objects("barley", salty, Objection::Salty));
    // What is unknown is no objection.
    let unknown = CoverGround { ph: f64::NAN, ec_ds_m: f64::NAN, ..LOAM };
    for one in catalogue() {
        assert_eq!(Needs::of(one).objections(&unknown) & 0b01_1100, 0, "{}", one.key);
    }
}

#[test]
fn the_order_is_the_one_that_is_told() {
    let asked = asked(&[Purpose::CoverQuickly, Purpose::Smother], 190.0, 45.0);
    let mut order = Vec::new();
    rank(&asked, &all_needs(), &[LOAM], &[1.0], &mut order);
    assert_eq!(order.len(), catalogue().len());
    for pair in order.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        let rank = |s: &Standing| (s.reasons.rules_out(), !s.serves(), s.firmness);
        assert!(rank(a) <= rank(b), "{} before {}", a.species().key, b.species().key);
        if rank(a) == rank(b) {
            assert!(a.least_rating >= b.least_rating, "{} before {}", a.species().key, b.species().key);
        }
    }
}

proptest! {
    /// A longer gap never makes it less likely that a cover serves in time; a later sowing of a tender one never more.
    #[test]
    fn time_helps_and_frost_hurts(sow in 150.0..260.0_f64, days in 20.0..120.0_f64, more in 1.0..60.0_f64) {
        let (short, long) = (gap_of(sow, days), gap_of(sow, days + more));
        for (at, one) in catalogue().iter().enumerate() {
            let of = |gap| {
                let asked = Asked { gap, ..asked(&[Purpose::Protect], sow, days) };
                standing(at, &asked, &Needs::of(one), &[LOAM], &[1.0]).fit
            };
            let (short, long) = (of(short), of(long));
            prop_assert!(long.serves_chance >= short.serves_chance - 1e-12, "{}", one.key);
            prop_assert!((0.0..=1.0 + 1e-12).contains(&short.serves_chance));
            prop_assert!(short.lives_chance.is_none_or(|lives| (0.0..=1.0).contains(&lives)));
            prop_assert!(short.degree_days >= 0.0 && short.growing_d <= days.floor() + 1.0);
        }
    }

    /// Shares over draws are shares: objections lie in 0 to 1, and what suits is what none objects to.
    #[test]
    fn shares_are_shares(draws in proptest::collection::vec((0_usize..5, 4.0..9.0_f64, 0.0..12.0_f64, any::<bool>(), any::<bool>(), 0.01..1.0_f64), 1..60)) {
        let grounds: Vec<CoverGround> = draws.iter().map(|(band, ph, ec, wet, dry, _)| CoverGround { band: Band::ALL[*band], ph: *ph, ec_ds_m: *ec, wet: *wet, dry: *dry }).collect();
        let weights: Vec<f64> = draws.iter().map(|draw| draw.5).collect();
        let total: f64 = weights.iter().sum();
        for one in catalogue() {
            let needs = Needs::of(one);
            let fit = ground_fit(&needs, &grounds, &weights);
            let suits: f64 = grounds.iter().zip(&weights).filter(|(ground, _)| needs.objections(ground) == 0).map(|pair| pair.1).sum();
            prop_assert!((fit.suits - suits / total).abs() < 1e-9);
            for (at, share) in fit.objections.iter().enumerate() {
                let counted: f64 = grounds.iter().zip(&weights).filter(|(ground, _)| needs.objections(ground) >> at & 1 == 1).map(|pair| pair.1).sum();
                prop_assert!((share - counted / total).abs() < 1e-9);
            }
        }
    }
}

/// Every cover × 50 plots × 500 draws under 200 ms. The best of three, since the machine may be busy.
#[test]
fn fifty_plots_are_ranked_before_one_can_blink() {
    let needs = all_needs();
    let draws: Vec<CoverGround> = (0..500_u32)
        .map(|at| CoverGround {
            band: Band::ALL[(at % 5) as usize],
            ph: 5.0 + f64::from(at % 31) / 10.0,
            ec_ds_m: f64::from(at % 13) / 2.0,
            wet: at % 3 == 0,
            dry: at % 7 == 0,
        })
        .collect();
    let weights = vec![1.0 / 500.0; 500];
    let year = PlaceYear::example().year().expect("the example is a year");
    let mut order = Vec::with_capacity(catalogue().len());
    let best = (0..3)
        .map(|_| {
            let start = Instant::now();
            for plot in 0..50_u16 {
                let gap = Gap::new(&year, 150 + plot, 60);
                let asked = Asked { gap, ..asked_once() };
                rank(&asked, &needs, &draws, &weights, &mut order);
                assert_eq!(order.len(), catalogue().len());
            }
            start.elapsed()
        })
        .min()
        .expect("three runs");
    println!("{} covers × 50 plots × 500 draws: {best:?}", catalogue().len());
    assert!(catalogue().len() >= 30 && best < Duration::from_millis(200), "{best:?}");
}

fn asked_once() -> Asked {
    asked(&[Purpose::CoverQuickly, Purpose::Smother], 190.0, 45.0)
}
