//! How much water the ground holds for the crop, and so how to water it.

use book::model::UnitSystem;
use ground::kit::{Cite, Provenance, Working};

use crate::facts::{Draw, Ground};
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// Upper end of the coarse group (1.2 in/ft) and lower end of the next (1.3): the limit stands between.
const LITTLE_BELOW: f64 = 1.25 / 12.0;
/// Upper end of the moderately coarse group, 1.7 in/ft.
const PLENTY_FROM: f64 = 1.7 / 12.0;
/// Share of the available water a vegetable draws before it feels the lack.
const DRAWN_BEFORE_STRESS: f64 = 0.4;
/// Water a full crop takes on a fine summer day, mm.
const SUMMER_DAY_MM: f64 = 5.0;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "water-holding",
    title: "Water it holds",
    question: "How much water does this ground hold for the crop, and how should it be watered?",
    kind: Kind::Behaviour,
    sources: &[
        Cite::new("NrcsMoistureByFeel1998", "available water by texture group"),
        Cite::new("SaxtonRawls2006", "eqs. 1-5"),
    ],
    provenance: Provenance::Judgement,
    stake: 2.0,
    look: "Dig a day after a full watering and again as the crop first flags: how deep was it wet, and for how many days did it last?",
    cautions: &["Any connection to a drinking-water supply needs backflow prevention by the local code."],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("little", "it holds little water"),
    ("middling", "it holds a middling amount of water"),
    ("plenty", "it holds plenty of water"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let held = ground.spread(available)?;
    let root_mm = 10.0 * ground.site.root_depth_cm;
    let ready_mm = DRAWN_BEFORE_STRESS * held.median * root_mm;
    let units = ground.units;
    let finding = rule.weighed(ground, ANSWERS, |draw| answer(available(draw)), |at| says(at, units));
    let working = Working::new()
        .step(
            "water the crop can use, median",
            "field capacity (33 kPa) less wilting point (1500 kPa), stones taken off",
            format!("over {} possible make-ups", ground.draws.len()),
            format!("{:.3} m³/m³, or {}", held.median, words::water_held_spread(held, units)),
        )
        .cite(rule.sources[1])
        .step(
            "water drawn before the crop feels the lack",
            "0.4 × available water × root depth",
            format!("0.4 × {:.3} × {}", held.median, words::depth(ground.site.root_depth_cm, units)),
            words::water(ready_mm, units),
        )
        .step(
            "days on a full crop in fine summer weather",
            format!("that water over {} a day", words::water(SUMMER_DAY_MM, units)),
            format!("{} / {}", words::water(ready_mm, units), words::water(SUMMER_DAY_MM, units)),
            words::days(ready_mm / SUMMER_DAY_MM),
        );
    Some(
        finding
            .because(format!(
                "It holds {} that a crop can use. Under {} counts as little, {} and more as plenty.",
                words::water_held_spread(held, units),
                words::water_held(LITTLE_BELOW, units),
                words::water_held(PLENTY_FROM, units)
            ))
            .because(format!(
                "In {} of roots{} a vegetable draws about {} before it feels the lack: {} of fine summer weather at {} a day.",
                words::depth(ground.site.root_depth_cm, units),
                if ground.site.root_depth_given { "" } else { " (a usual depth; none is given for this plot)" },
                words::water(ready_mm, units),
                words::days(ready_mm / SUMMER_DAY_MM),
                words::water(SUMMER_DAY_MM, units)
            ))
            .because((!ground.measured.organic_matter).then(|| {
                "Organic matter was not measured here; a wide range stands in for it.".to_owned()
            }))
            .worked(working),
    )
}

fn available(draw: &Draw) -> f64 {
    draw.available_water
}

fn answer(held: f64) -> usize {
    match held {
        h if h >= PLENTY_FROM => 2,
        h if h >= LITTLE_BELOW => 1,
        _ => 0,
    }
}

fn says(answer: usize, units: UnitSystem) -> String {
    match answer {
        0 => format!(
            "Water little and often: short drip runs every day or two, emitters {} apart. A long run goes below the roots and takes nitrogen with it.",
            words::inches(8.0, 12.0, units)
        ),
        1 => format!(
            "Water every two or three days in middling runs, emitters {} apart. Dig after a run to see how deep it went.",
            words::inches(12.0, 18.0, units)
        ),
        _ => format!(
            "Water seldom and deep: long slow runs that fill the root depth, then wait. Emitters {} apart. Daily watering keeps it cold and short of air.",
            words::inches(18.0, 24.0, units)
        ),
    }
}
