//! Valid readings of structure, from chance.

use book::model::Seen;
use book::model::seen::*;
use ground::kit::Bounded;
use ground::structure::density::core::{CoreDryMass, CoreInput, CoreMoistMass, CoreVolume as RingVolumeMl};
use ground::structure::probe::push::{ProbeDepth, ProbeReading, RodFeel};
use ground::structure::probe::strength::ConeResistance;
use ground::structure::spade::look::SpadeSign;
use ground::structure::spade::score::ScoredLayer;
use ground::structure::spade::slake::{Crumb, SlakeInput};
use ground::structure::spade::worms::WormInput;
use ground::structure::working::ball::Handful;
use ground::structure::working::limits::{LimitsInput, LiquidLimit, PlasticLimit};
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

use super::{quantity, text};

fn point() -> impl Strategy<Value = ProbePoint> {
    let rod = select(vec![RodFeel::Slides, RodFeel::Leans, RodFeel::Stops]);
    let said = prop_oneof![
        quantity::<ConeResistance>().prop_map(|gauge| (Some(gauge), None)),
        rod.prop_map(|rod| (None, Some(rod)))
    ];
    (text(20), vec(said, 1..8), any::<bool>()).prop_map(|(place, said, stuck)| {
        let depth = |at: usize| ProbeDepth::literal(7.5 * (at + 1) as f64);
        let end = said.len();
        let readings = said
            .into_iter()
            .enumerate()
            .map(|(at, (resistance_mpa, rod))| ProbeReading { depth_cm: depth(at), resistance_mpa, rod })
            .collect();
        ProbePoint { place, readings, stuck_at_cm: stuck.then(|| depth(end)) }
    })
}

pub fn probe() -> impl Strategy<Value = ProbeSeen> {
    (select(MoistureFeel::ALL.to_vec()), any::<bool>(), vec(point(), 1..6))
        .prop_map(|(moisture, tracks, points)| ProbeSeen { moisture, tracks, points })
}

pub fn cores() -> impl Strategy<Value = DensityCores> {
    let core =
        (100.0..900.0_f64, 0.8..1.7_f64, of(0.0..0.4_f64)).prop_map(|(volume, density, water)| CoreInput {
            volume_ml: RingVolumeMl::literal(volume),
            dry_mass_g: CoreDryMass::literal(volume * density),
            moist_mass_g: water.map(|water| CoreMoistMass::literal(volume * (density + water))),
            rock_mass_g: None,
            rock_density_g_cm3: None,
            grain_density_g_cm3: None,
        });
    (0.0..60.0_f64, 1.0..30.0_f64, vec(core, 1..5)).prop_map(|(from, thick, cores)| DensityCores {
        from_cm: SignDepth::literal(from),
        to_cm: SignDepth::literal(from + thick),
        cores,
    })
}

pub fn block() -> impl Strategy<Value = SpadeBlock> {
    let layer =
        (quantity(), quantity()).prop_map(|(thickness_cm, score)| ScoredLayer { thickness_cm, score });
    let worms = (quantity(), quantity(), quantity(), quantity()).prop_map(
        |(worms, length_cm, width_cm, depth_cm)| WormInput { worms, length_cm, width_cm, depth_cm },
    );
    (vec(layer, 0..4), vec(select(SpadeSign::ALL.to_vec()), 1..4), of(worms))
        .prop_map(|(layers, signs, worms)| SpadeBlock { layers, signs, worms })
}

pub fn slake() -> impl Strategy<Value = SlakeInput> {
    let crumb = prop_oneof![
        Just(Crumb::TooWeak),
        quantity().prop_map(|half_gone_s| Crumb::FellApart { half_gone_s }),
        quantity().prop_map(|kept_percent| Crumb::Dipped { kept_percent }),
    ];
    vec(crumb, 1..18).prop_map(|crumbs| SlakeInput { crumbs })
}

pub fn working() -> impl Strategy<Value = WorkingTest> {
    let limits =
        (5.0..60.0_f64, of(0.0..60.0_f64), of(quantity())).prop_map(|(plastic, index, water_percent)| {
            LimitsInput {
                liquid_limit_percent: index.map(|index| LiquidLimit::literal((plastic + index).max(10.0))),
                plastic_limit_percent: PlasticLimit::literal(plastic),
                water_percent,
            }
        });
    (
        quantity(),
        select(Handful::ALL.to_vec()),
        of(quantity()),
        of(select(WhenWorked::ALL.to_vec())),
        of(limits),
    )
        .prop_map(|(depth_cm, handful, days_since_rain, worked, limits)| WorkingTest {
            depth_cm,
            handful,
            days_since_rain,
            worked,
            limits,
        })
        .prop_filter("a test that its method can read", |test| Seen::Working(test.clone()).accept().is_ok())
}
