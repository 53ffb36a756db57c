//! Whatever a person records of texture, a witness is either sound or refused by field.

use ground::belief::{Account, Witness};
use ground::kit::testing::any_of;
use ground::kit::{Bounded, Refusal};
use ground::texture::composition::{ClayPercent, SandPercent, SiltPercent};
use ground::texture::feel::{self, Answers, FeelReading, Hand, Next, Ribbon, RibbonLength, Rub};
use ground::texture::hydrometer::{
    self, DryMass, HydrometerReading, ReadingTime, ScaleAt, ScaleReading, SuspensionTemperature,
};
use ground::texture::kitchen_scale::{self, KitchenScaleReading, ScaleStep, SieveOpening, WeighedMass};
use ground::texture::lab::{self, LabProcedure, LabTexture, SiltLimit};
use ground::texture::{Composition, PercentError};
use proptest::prelude::*;

fn any_rub() -> impl Strategy<Value = Rub> {
    prop_oneof![Just(Rub::Gritty), Just(Rub::Smooth), Just(Rub::Neither)]
}

fn any_hand() -> impl Strategy<Value = Hand> {
    prop_oneof![Just(Hand::Professional), Just(Hand::Practised), Just(Hand::New)]
}

fn any_scale_at() -> impl Strategy<Value = ScaleAt> {
    (
        any_of::<ReadingTime>(),
        any_of::<ScaleReading>(),
        proptest::option::of(any_of::<SuspensionTemperature>()),
    )
        .prop_map(|(after_s, reading_g_l, temperature_c)| ScaleAt {
            after_s,
            reading_g_l,
            temperature_c,
        })
}

/// A make-up as a laboratory would print it, rounded to tenths.
fn any_printed() -> impl Strategy<Value = (f64, f64, f64)> {
    (0..=1000_u32, 0..=1000_u32).prop_map(|(a, b)| {
        let (low, high) = (a.min(b), a.max(b));
        (f64::from(low) / 10.0, f64::from(high - low) / 10.0, f64::from(1000 - high) / 10.0)
    })
}

fn sound(result: Result<Witness, Refusal>) -> Result<(), TestCaseError> {
    let witness = match result {
        Ok(witness) => witness,
        Err(refusal) => {
            prop_assert!(!refusal.field.is_empty() && !refusal.message.is_empty());
            prop_assert!(
                !refusal.given.is_empty() && !refusal.accepted.is_empty() && !refusal.example.is_empty()
            );
            return Ok(());
        }
    };
    match witness.account {
        Account::Measured { centre, covariance, .. } => {
            prop_assert!(centre.iter().all(|z| z.is_finite()), "{centre:?}");
            let [[a, b], [c, d]] = covariance;
            prop_assert!(b == c && a > 0.0 && d > 0.0 && a * d - b * c > 0.0, "{covariance:?}");
            prop_assert!(a + d < 20.0, "{covariance:?}");
        }
        Account::Named { likelihood, .. } => {
            prop_assert!(likelihood.iter().all(|chance| *chance > 0.0 && *chance <= 1.0), "{likelihood:?}");
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn laboratory(
        (sand, silt, clay) in any_printed(),
        limit in proptest::sample::select(SiltLimit::ALL.to_vec()),
        procedure in prop_oneof![
            Just(LabProcedure::Pipette), Just(LabProcedure::Hydrometer),
            Just(LabProcedure::LaserDiffraction), Just(LabProcedure::NotStated)
        ],
    ) {
        let reading = LabTexture {
            sand_percent: SandPercent::new(sand).unwrap(),
            silt_percent: SiltPercent::new(silt).unwrap(),
            clay_percent: ClayPercent::new(clay).unwrap(),
            silt_limit: limit,
            procedure,
        };
        let finding = lab::assess(&reading).unwrap();
        prop_assert!((finding.soil.sand + finding.soil.silt + finding.soil.clay - 100.0).abs() < 1e-6);
        prop_assert!(finding.soil.sand >= 0.0 && finding.soil.silt >= 0.0 && (finding.soil.clay - clay).abs() < 1e-6);
        sound(lab::witness(&reading, "1", "the lab report"))?;
    }

    #[test]
    fn any_two_hydrometer_readings(
        dry_mass_g in any_of::<DryMass>(),
        early in any_scale_at(),
        late in any_scale_at(),
        blank_g_l in proptest::option::of(any_of::<ScaleReading>()),
    ) {
        sound(hydrometer::witness(&HydrometerReading { dry_mass_g, early, late, blank_g_l }, "1", "the hydrometer"))?;
    }

    #[test]
    fn likely_hydrometer_readings_are_answered(
        sand in 0.0..99.0f64, of_rest in 0.0..1.0f64, blank in 0.0..6.0f64,
    ) {
        let (early, late) = ((100.0 - sand) / 2.0 + blank, (100.0 - sand) * of_rest / 2.0 + blank);
        let at = |after_s, reading: f64| ScaleAt {
            after_s: ReadingTime::literal(after_s),
            reading_g_l: ScaleReading::new(reading).unwrap(),
            temperature_c: None,
        };
        let reading = HydrometerReading {
            dry_mass_g: DryMass::literal(50.0),
            early: at(40.0, early),
            late: at(7200.0, late),
            blank_g_l: Some(ScaleReading::new(blank).unwrap()),
        };
        let finding = hydrometer::assess(&reading).unwrap();
        prop_assert!((finding.as_read.sand - sand).abs() < 1e-6);
        let soil = finding.soil;
        prop_assert!(soil.sand >= 0.0 && soil.silt >= -1e-9 && soil.clay >= 0.0 && (soil.sand + soil.silt + soil.clay - 100.0).abs() < 1e-6);
        prop_assert!(soil.clay <= finding.as_read.clay + 1e-9, "a two-hour reading overstates clay");
        sound(hydrometer::witness(&reading, "1", "the hydrometer"))?;
    }

    #[test]
    fn kitchen_scale(
        total_g in any_of::<WeighedMass>(),
        sand_g in any_of::<WeighedMass>(),
        silt_g in any_of::<WeighedMass>(),
        scale_step_g in proptest::option::of(any_of::<ScaleStep>()),
        sieve_um in proptest::option::of(any_of::<SieveOpening>()),
        dispersed: bool,
    ) {
        let reading = KitchenScaleReading { total_g, sand_g, silt_g, scale_step_g, sieve_um, dispersed };
        sound(kitchen_scale::witness(&reading, "1", "the kitchen scale"))?;
    }

    #[test]
    fn feel(
        ball_holds: bool,
        ribbon_mm in proptest::option::of(any_of::<RibbonLength>()),
        rub in proptest::option::of(any_rub()),
        hand in any_hand(),
    ) {
        sound(feel::witness(&FeelReading { ball_holds, ribbon_mm, rub, hand }, "1", "the feel test"))?;
    }

    #[test]
    fn any_answers_so_far_lead_on_or_are_refused(
        ball_holds: Option<bool>,
        ribbon in proptest::option::of(prop_oneof![Just(Ribbon::None), any_of::<RibbonLength>().prop_map(Ribbon::BrokeAtMm)]),
        rub in proptest::option::of(any_rub()),
    ) {
        let answers = Answers { ball_holds, ribbon, rub };
        match feel::next(&answers) {
            Ok(Next::Question(_)) => prop_assert!(feel::possible(&answers).len() > 1),
            Ok(Next::Outcome(class)) => prop_assert_eq!(feel::possible(&answers), [class]),
            Err(refusal) => prop_assert_eq!(refusal.field, "ribbon_mm"),
        }
    }

    #[test]
    fn any_error_about_any_soil_is_finite(
        (sand, silt, clay) in any_printed(),
        a in 0.0..30.0f64, b in 0.0..30.0f64, c in 0.0..30.0f64,
    ) {
        let error = PercentError::none().and_sand_for_silt(a).and_silt_for_clay(b).and_sand_for_clay(c);
        let soil = Composition { sand, silt, clay };
        let (centre, covariance) = error.in_ilr(soil);
        prop_assert!(centre.iter().chain(covariance.iter()).all(|z| z.is_finite()));
        let odds: f64 = error.class_odds(soil).iter().map(|odds| odds.odds_percent).sum();
        prop_assert!(odds > 98.0 && odds <= 100.0 + 1e-6, "{odds}");
    }
}
