//! Choosing covers: every species for fifty plots of 500 draws.

use divan::{Bencher, black_box};
use ground::covers::choice::{Asked, all_needs, rank};
use ground::covers::gap::Gap;
use ground::covers::ground::CoverGround;
use ground::covers::kinds::{Animals, Band, Ending, Families, Purpose};
use ground::covers::place::PlaceYear;

fn main() {
    divan::main();
}

#[divan::bench]
fn fifty_plots(bencher: Bencher<'_, '_>) {
    let Ok(year) = PlaceYear::example().year() else { return };
    let gaps: Vec<Gap> = (0..50).map(|plot| Gap::new(&year, 150 + plot, 60)).collect();
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
    let needs = all_needs();
    let mut order = Vec::with_capacity(needs.len());
    bencher.bench_local(|| {
        for gap in &gaps {
            let asked = Asked {
                purposes: [Purpose::CoverQuickly, Purpose::Smother].into_iter().collect(),
                gap: *gap,
                families: Families::default(),
                small_seed_next: false,
                endings: [Ending::Mow, Ending::Till].into_iter().collect(),
                animals: Animals::default(),
                winter: None,
                under_cover: false,
            };
            rank(&asked, &needs, black_box(&draws), &weights, &mut order);
        }
        black_box(order.len())
    });
}
