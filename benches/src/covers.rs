//! Covers for fifty plots of 500 draws, the same for ours and for the reference.

use ground::covers::catalogue::catalogue;
use ground::covers::choice::{Asked, Standing, all_needs, rank};
use ground::covers::gap::{Gap, HOT_C};
use ground::covers::ground::{CoverGround, Needs};
use ground::covers::kinds::{Animals, Band, Ending, Endings, Families, GrowsIn, Purpose};
use ground::covers::place::PlaceYear;
use ground::covers::species::HazardKind;

/// Plots.
pub const PLOTS: usize = 50;
/// Draws of a plot.
pub const DRAWS: usize = 500;
/// What they are sown for.
const PURPOSES: [Purpose; 2] = [Purpose::CoverQuickly, Purpose::Smother];

/// Everything that is ranked.
pub struct Farm {
    gaps: Vec<Gap>,
    draws: Vec<Vec<CoverGround>>,
    weights: Vec<f64>,
    needs: Vec<Needs>,
}

/// What comes out, in the order of the reference's output.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Answer {
    /// Share of the ground that suits, added over plots and covers.
    pub suits: f64,
    /// Chance of serving in time, added likewise.
    pub serves: f64,
    /// Covers that are ruled out, added over the plots.
    pub out: f64,
    /// Place in the table times its rank, added over the plots: two covers that change places show, unless others make up for it.
    pub order: f64,
}

fn endings() -> Endings {
    [Ending::Mow, Ending::Till].into_iter().collect()
}

#[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
fn draw(plot: usize, at: usize) -> CoverGround {
    let place = (plot * DRAWS + at) as f64;
    let even = |step: f64| (place * step).fract();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "one of five")]
    let band = Band::ALL[(5.0 * even(0.618_033_988_749_894_9)) as usize];
    CoverGround {
        band,
        ph: 4.8 + 3.2 * even(0.754_877_666_246_692_7),
        ec_ds_m: 6.0 * even(0.569_840_290_998_053_2),
        wet: even(0.819_172_513_396_164_4) < 0.3,
        dry: even(0.671_043_606_703_789_3) < 0.2,
    }
}

impl Farm {
    /// The farm; `None` where the example of a year is none.
    #[must_use]
    pub fn new() -> Option<Self> {
        let year = PlaceYear::example().year().ok()?;
        #[expect(clippy::cast_possible_truncation, reason = "fifty plots")]
        let gaps = (0..PLOTS).map(|plot| Gap::new(&year, 120 + 2 * plot as u16, 40 + plot as u16)).collect();
        #[expect(clippy::cast_precision_loss, reason = "draws by the hundred")]
        let weights = vec![1.0 / DRAWS as f64; DRAWS];
        Some(Self {
            gaps,
            draws: (0..PLOTS).map(|plot| (0..DRAWS).map(|at| draw(plot, at)).collect()).collect(),
            weights,
            needs: all_needs(),
        })
    }

    /// Ranks every cover for every plot.
    #[must_use]
    pub fn rank(&self) -> Answer {
        let mut answer = Answer::default();
        let mut order: Vec<Standing> = Vec::with_capacity(self.needs.len());
        for (gap, draws) in self.gaps.iter().zip(&self.draws) {
            let asked = Asked {
                purposes: PURPOSES.into_iter().collect(),
                gap: *gap,
                families: Families::default(),
                small_seed_next: false,
                endings: endings(),
                animals: Animals::default(),
                winter: None,
                under_cover: false,
            };
            rank(&asked, &self.needs, draws, &self.weights, &mut order);
            for (place, standing) in (0_u32..).zip(&order) {
                answer.suits += standing.ground.suits;
                answer.serves += standing.fit.serves_chance;
                answer.out += f64::from(u8::from(standing.reasons.rules_out()));
                #[expect(clippy::cast_precision_loss, reason = "a table of a few dozen")]
                let species = standing.species as f64;
                answer.order += species * f64::from(place);
            }
        }
        answer
    }

    /// The table and the gaps as the reference reads them: JSON.
    #[must_use]
    pub fn facts(&self) -> String {
        let covers: Vec<String> = catalogue()
            .iter()
            .map(|one| {
                let bands = |of: fn(&ground::covers::species::Species, Band) -> bool| {
                    let listed: Vec<String> =
                        Band::ALL.iter().map(|band| u8::from(of(one, *band)).to_string()).collect();
                    listed.join(",")
                };
                let ec = one.salts.map_or(1e9, |salts| salts.ec_at_yield(75.0));
                let rated: Vec<u8> = PURPOSES.iter().map(|purpose| one.serves(*purpose)).collect();
                let mown = one.ended_by.has(Ending::MowAtBloom);
                let weed = one.hazards.iter().any(|hazard| hazard.kind == HazardKind::Weed);
                format!(
                    "[{},{},{},{},{ec},{},{},{},{},{},{},{},{},{},{},[{}]]",
                    u8::from(one.ratings.stands_wet <= 1),
                    u8::from(one.ratings.stands_dry <= 1),
                    one.ph.low,
                    one.ph.high,
                    u8::from(one.grows_in == GrowsIn::Warm),
                    one.germination_c,
                    one.winterkill_c,
                    one.useful_d.low,
                    one.useful_d.high,
                    u8::from(mown || one.ended_by.meets(endings())),
                    u8::from(one.ratings.stands_heat < 2),
                    u8::from(weed),
                    rated.iter().min().copied().unwrap_or_default(),
                    rated.iter().sum::<u8>(),
                    bands(|one, band| one.poor_in.has(band)),
                )
            })
            .collect();
        let gaps: Vec<String> = self
            .gaps
            .iter()
            .map(|gap| {
                let two = |date: Option<ground::covers::gap::Uncertain>| {
                    date.map_or("null".to_owned(), |date| format!("[{},{}]", date.mean, date.spread))
                };
                format!(
                    "[{},{},{},{},{},{},{},{},{}]",
                    gap.days,
                    gap.sowing_c,
                    gap.mean_c,
                    gap.cool_growing_d,
                    gap.warm_growing_d,
                    u8::from(gap.over_winter),
                    two(gap.to_frost),
                    two(gap.before_spring_frost),
                    two(gap.lowest_c)
                )
            })
            .collect();
        format!("{{\"hot_c\":{HOT_C},\"covers\":[{}],\"gaps\":[{}]}}", covers.join(","), gaps.join(","))
    }
}
