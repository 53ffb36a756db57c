//! Whether salts must be washed down.

use ground::kit::{Cite, Provenance, Working};

use crate::facts::Ground;
use crate::finding::{Finding, Kind};
use crate::rule::Rule;
use crate::words;

/// From here on the tenderest vegetables yield less (bean and carrot 1.0, onion 1.2, lettuce 1.3 dS/m).
const TENDER_FROM_DS_M: f64 = 1.2;
/// From here on most do (tomato, cucumber 2.5; broccoli 2.8).
const MOST_FROM_DS_M: f64 = 2.5;

/// The rule.
pub(super) static RULE: Rule = Rule {
    id: "salts",
    title: "Salts",
    question: "Are there more salts in this ground than vegetables bear?",
    kind: Kind::Do,
    sources: &[
        Cite::new("Maas1990", "thresholds of vegetables"),
        Cite::new("Ec2018", "conversion to the saturation extract"),
        Cite::new("TunnelSalts", "salts in high tunnels"),
    ],
    provenance: Provenance::Read,
    stake: 1.0,
    look: "Ask the laboratory for the conductivity of the saturated paste itself: other extracts are converted, and the conversions differ twofold.",
    cautions: &[
        "Water that carries salts down carries nitrate too: leach when little nitrate is left, away from wells, and by local nutrient rules.",
        "Drainage must exist first: water that cannot leave brings the salts back.",
    ],
    judge,
};

const ANSWERS: [(&str, &str); 3] = [
    ("fine", "salts cost nothing yet"),
    ("watch", "salts cost tender crops some yield"),
    ("leach", "salts cost most crops yield"),
];

fn judge(rule: &Rule, ground: &Ground) -> Option<Finding> {
    let each = ground.water.salts_ds_m.as_ref()?;
    let spread = ground.spread_each(each)?;
    let cover = ground.site.place.under_cover();
    let finding = rule.weighed_each(
        ground,
        ANSWERS,
        each.iter().map(|ec| match *ec {
            ec if ec < TENDER_FROM_DS_M => 0,
            ec if ec < MOST_FROM_DS_M => 1,
            _ => 2,
        }),
        |at| says(at, cover).to_owned(),
    );
    Some(
        finding
            .because(format!(
                "The reading stands for {} dS/m in the saturation extract, over all published conversions that fit this ground.",
                words::range(spread, 1.0)
            ))
            .because(cover.then(|| {
                "A cover keeps off the rain and snow that rinse open ground, drip pushes salts to the edges of the beds, and compost and fertilizers bring more.".to_owned()
            }))
            .because(ground.water.supply_ds_m.map(|ec| {
                format!("The water it is given brings salts of its own: {} dS/m.", words::short(ec))
            }))
            .worked(
                Working::new()
                    .step(
                        "conductivity of the saturation extract",
                        "published straight lines by extract and texture, lowest to highest",
                        format!("over {} possible make-ups", ground.draws.len()),
                        format!("{} dS/m", words::range(spread, 1.0)),
                    )
                    .cite(rule.sources[1])
                    .step(
                        "what crops bear",
                        "yield falls from a threshold on: bean and carrot 1.0, onion 1.2, lettuce 1.3, tomato and cucumber 2.5 dS/m",
                        format!("parted at {TENDER_FROM_DS_M} and {MOST_FROM_DS_M} dS/m"),
                        finding_odds(ground, each),
                    )
                    .cite(rule.sources[0]),
            ),
    )
}

fn finding_odds(ground: &Ground, each: &[f64]) -> String {
    let share = |from: f64, to: f64| {
        each.iter()
            .zip(&ground.weights)
            .filter(|(ec, _)| (from..to).contains(*ec))
            .fold(0.0, |sum, (_, weight)| sum + weight)
    };
    format!(
        "below {}, between {}, above {}",
        words::odds(share(0.0, TENDER_FROM_DS_M)),
        words::odds(share(TENDER_FROM_DS_M, MOST_FROM_DS_M)),
        words::odds(share(MOST_FROM_DS_M, f64::INFINITY))
    )
}

fn says(answer: usize, cover: bool) -> &'static str {
    match (answer, cover) {
        (0, false) => "Salts are no trouble here.",
        (0, true) => {
            "Salts are no trouble yet. Under cover they only ever gather: have them measured every spring."
        }
        (1, false) => {
            "Tender crops (bean, carrot, onion, lettuce) lose some yield. Water well before sowing them, and go easy on salty fertilizers."
        }
        (1, true) => {
            "Tender crops lose some yield. Uncover the ground for a winter, or put a good rinse of water on before planting, once it can drain."
        }
        (_, false) => {
            "Most crops lose yield. Find where the salts come from, and rinse them down before planting, once the ground can drain."
        }
        (_, true) => {
            "Most crops lose yield. Rinse the salts down before the next crop (uncover it for a winter, or water in long pulses), once the ground can drain; then see what brings them."
        }
    }
}
