//! Valid cover crops, from chance.

use book::model::*;
use ground::covers::catalogue::catalogue;
use ground::covers::kinds::{Animal, Ending};
use ground::covers::mix::Sowing;
use ground::covers::nitrogen::Stage;
use jiff::Span;
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

use super::{date, quantity, text};

/// What a farm says for its covers.
pub fn farm_says() -> impl Strategy<Value = (Option<WinterLow>, Vec<Ending>, Vec<Animal>)> {
    let endings = subsequence(Ending::ALL.to_vec(), 0..=Ending::ALL.len());
    (of(quantity()), endings, subsequence(Animal::ALL.to_vec(), 0..=Animal::ALL.len()))
}

fn seeds() -> impl Strategy<Value = Vec<CoverSeed>> {
    let keys: Vec<String> = catalogue().iter().map(|species| species.key.clone()).collect();
    (subsequence(keys, 1..=4), vec(of(quantity()), 4)).prop_map(|(covers, rates)| {
        covers.into_iter().zip(rates).map(|(cover, rate_kg_ha)| CoverSeed { cover, rate_kg_ha }).collect()
    })
}

fn stand() -> impl Strategy<Value = CoverStand> {
    let biomass = prop_oneof![
        (quantity(), quantity(), any::<bool>()).prop_map(|(kg, area_m2, dried)| CoverBiomass::Cut {
            kg,
            area_m2,
            dried
        }),
        (quantity(), quantity())
            .prop_map(|(height_cm, cover_percent)| CoverBiomass::Height { height_cm, cover_percent }),
    ];
    (select(vec![Stage::BeforeBloom, Stage::InBloom]), of(biomass), of(quantity()))
        .prop_map(|(stage, biomass, nitrogen_percent)| CoverStand { stage, biomass, nitrogen_percent })
}

pub fn any_cover_crop(bed: EntryId) -> impl Strategy<Value = CoverCrop> {
    let end = of((0_i64..400, select(CoverEnding::ALL.to_vec())));
    (seeds(), date(), any::<bool>(), of(0_i64..400), end, of(stand()), text(60)).prop_map(
        move |(seeds, sown_on, drilled, end_by, end, stand, note)| {
            let after = |days: i64| sown_on.saturating_add(Span::new().days(days));
            CoverCrop {
                bed,
                seeds,
                sown_on,
                sown: if drilled { Sowing::Drilled } else { Sowing::Broadcast },
                end_by: end_by.map(after),
                ended: end.map(|(days, how)| CoverEnd { on: after(days), how }),
                stand,
                note,
            }
        },
    )
}

/// The covers of a book, links left to be made.
#[derive(Debug, Clone)]
pub struct Covers {
    pub cover: CoverCrop,
    pub cover_again: CoverCrop,
}

pub fn any_covers(nowhere: EntryId) -> impl Strategy<Value = Covers> {
    (any_cover_crop(nowhere), any_cover_crop(nowhere))
        .prop_map(|(cover, cover_again)| Covers { cover, cover_again })
}
