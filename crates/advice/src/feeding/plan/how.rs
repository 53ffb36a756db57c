//! How each material goes on a bed, and what must not go on together.

use ground::fertility::blend::Carried;
use ground::fertility::blend::catalogue::MaterialKind;
use jiff::civil::Date;

use crate::feeding::needs::BedNeed;
use crate::feeding::plan::PlanSettings;
use crate::feeding::shelf::ShelfLine;

/// Nitrogen that dissolves at once, kg/kg: that of mineral fertilizers.
fn soluble_n(line: &ShelfLine) -> f64 {
    if line.kind == MaterialKind::Mineral { line.content(Carried::N) } else { 0.0 }
}

/// When and how one material goes on: before a crop, or beside one that stands.
pub(super) fn placing(
    line: &ShelfLine,
    kg: f64,
    need: &BedNeed,
    one_pass_n_g_m2: Option<f64>,
    today: Date,
) -> String {
    let stands = need.planted_on.is_some_and(|day| day <= today);
    match line.kind {
        MaterialKind::Liming => {
            // 10 and 20 lb for 100 square feet, a rule for gardens of Pennsylvania's extension.
            let parts = match kg / need.area_m2 {
                rate if rate <= 0.49 => "",
                rate if rate <= 0.98 => " Give it in two halves six months apart.",
                _ => " Give it in three parts six months apart.",
            };
            let when = if stands {
                "work in once this crop is cleared"
            } else {
                "work in, best 2 to 6 months before planting"
            };
            format!("Spread on a still, dry day and {when}.{parts}")
        }
        MaterialKind::Compost if stands => "Lay it between the plants, off their stems.".to_owned(),
        MaterialKind::Compost => "Spread and work in lightly before planting.".to_owned(),
        MaterialKind::Manure if stands => format!(
            "Keep it off this crop: work it in once the bed is cleared, at least {} days before the next harvest if it is raw.",
            need.raw_manure_interval_d
        ),
        MaterialKind::Manure => format!(
            "Work in the same day. Raw manure: at least {} days before harvest.",
            need.raw_manure_interval_d
        ),
        MaterialKind::Micronutrient => {
            "Dissolve in water or mix with sand and broadcast evenly; never in a band.".to_owned()
        }
        MaterialKind::Organic if line.liquid => {
            "Dilute as the label says and water it in about the plants, or through a filter into the drip."
                .to_owned()
        }
        MaterialKind::Organic if stands => {
            "Scratch it in beside the plants and water; it takes weeks to work.".to_owned()
        }
        MaterialKind::Organic => "Work in 1 to 2 weeks before planting; keep away from seed.".to_owned(),
        MaterialKind::Mineral => mineral(line, kg, need, one_pass_n_g_m2, stands),
    }
}

/// Soluble nitrogen goes on in as many passes as the limit of one pass asks for.
fn mineral(line: &ShelfLine, kg: f64, need: &BedNeed, one_pass_n_g_m2: Option<f64>, stands: bool) -> String {
    let soluble = 1000.0 * kg * soluble_n(line) / need.area_m2;
    let passes = one_pass_n_g_m2.filter(|most| *most > 0.0).map_or(1.0, |most| (soluble / most).ceil());
    if line.liquid {
        let parts = if passes > 1.0 {
            format!(" in {passes:.0} equal parts, 3 to 4 weeks apart")
        } else {
            String::new()
        };
        return format!(
            "Dilute and give through the drip or beside the row{parts}, never on leaves; water it in."
        );
    }
    match (passes > 1.0, stands) {
        (true, true) => {
            format!("Split into {passes:.0} equal side-dressings 3 to 4 weeks apart, watered in.")
        }
        (true, false) => format!(
            "Split into {passes:.0} equal parts: one worked in before planting, the others as side-dressings 3 to 4 weeks apart."
        ),
        (false, true) => "Spread beside the plants, off their leaves, and water in.".to_owned(),
        (false, false) if soluble > 0.0 => {
            "Broadcast and work in before planting, or side-dress when growth is fast.".to_owned()
        }
        (false, false) => "Broadcast and work in before planting.".to_owned(),
    }
}

/// What must not go on a bed together, and what to watch with what is on it.
pub(super) fn warnings(lines: &[&ShelfLine]) -> Vec<String> {
    let any = |test: &dyn Fn(&ShelfLine) -> bool| {
        lines.iter().find(|line| test(line)).map(|line| line.name.clone())
    };
    let mut found = Vec::new();
    let lime = any(&|line| line.kind == MaterialKind::Liming);
    let gives_ammonia = any(&|line| {
        line.kind == MaterialKind::Manure
            || line
                .key
                .as_deref()
                .is_some_and(|key| key.contains("ammoni") || key == "urea" || key == "poultry-pellets")
    });
    if let (Some(lime), Some(ammonia)) = (&lime, gives_ammonia) {
        found.push(format!(
            "Never mix {lime} with {ammonia}, and keep them two weeks apart on the bed: ammonia escapes."
        ));
    }
    let phosphate = any(&|line| line.kind == MaterialKind::Mineral && line.content(Carried::P2o5) >= 0.2);
    if let (Some(lime), Some(phosphate)) = (&lime, phosphate) {
        found.push(format!("Do not mix {lime} with {phosphate}: the phosphorus is bound."));
    }
    if let Some(boron) = any(&|line| line.content(Carried::B) >= 0.01) {
        found.push(format!(
            "{boron}: weigh boron to the ounce and spread it evenly, never in a band; beans and cucurbits next on this bed suffer from it."
        ));
    }
    if let Some(salty) = any(&|line| line.content(Carried::Salt) >= 0.5) {
        found.push(format!("{salty} is a salt: keep it off seed and seedlings, and water it in."));
    }
    found
}

/// Cautions of the work itself.
pub(super) fn cautions(lines: &[&ShelfLine]) -> Vec<String> {
    let mut found = Vec::new();
    let kinds = |kind| lines.iter().any(|line| line.kind == kind);
    if kinds(MaterialKind::Liming) {
        found.push(
            "Lime dust harms eyes and lungs: goggles, gloves, mask and long sleeves, on a still day. Burnt and hydrated lime burn wet skin and eyes: rinse for 15 minutes and see a doctor.".to_owned(),
        );
    }
    if lines.iter().any(|line| line.key.as_deref() == Some("elemental-sulfur")) {
        found.push("Sulfur dust stings the eyes and can catch fire: no sparks, goggles and mask.".to_owned());
    }
    if kinds(MaterialKind::Manure) {
        found.push(
            "Manure carries germs: gloves, clean boots, hands washed; keep it from wells, streams and standing crops.".to_owned(),
        );
    }
    if lines.iter().any(|line| line.key.as_deref().is_some_and(|key| key.contains("nitrate"))) {
        found.push(
            "Nitrates feed fire: store dry, away from fuel, straw and heat, as the law and the label say."
                .to_owned(),
        );
    }
    found.push(
        "Labels, local nutrient rules and your laboratory come before this plan; keep fertilizer away from wells and water.".to_owned(),
    );
    found
}

/// Buckets, and shovelfuls where they are few enough to count: "about 1 1/2 buckets, or 6 shovelfuls".
pub(super) fn carried(kg: f64, density_kg_m3: Option<f64>, settings: &PlanSettings) -> Option<String> {
    let buckets = buckets(kg, density_kg_m3, settings.bucket_l);
    let shovels = shovelfuls(kg, density_kg_m3, settings.shovel_l);
    match (buckets, shovels) {
        (Some(buckets), Some(shovels)) => Some(format!("{buckets}, or {shovels}")),
        (Some(one), None) => Some(one),
        (None, shovels) => shovels.map(|shovels| format!("about {shovels}")),
    }
}

/// More shovelfuls than this nobody counts.
const MOST_SHOVELFULS: f64 = 40.0;

/// Shovelfuls by bulk density: "6 shovelfuls".
fn shovelfuls(kg: f64, density_kg_m3: Option<f64>, shovel_l: Option<f64>) -> Option<String> {
    let count = kg / (density_kg_m3? / 1000.0 * shovel_l?);
    match count {
        count if !(0.5..=MOST_SHOVELFULS).contains(&count) => None,
        count if count < 1.5 => Some("1 shovelful".to_owned()),
        count => Some(format!("{count:.0} shovelfuls")),
    }
}

/// Buckets by bulk density: "1 1/2 buckets", "under 1/4 bucket".
pub(super) fn buckets(kg: f64, density_kg_m3: Option<f64>, bucket_l: Option<f64>) -> Option<String> {
    let count = kg / (density_kg_m3? / 1000.0 * bucket_l?);
    let quarters = (4.0 * count).round() as u64;
    let whole = quarters / 4;
    let part = ["", "1/4", "1/2", "3/4"][(quarters % 4) as usize];
    Some(match (whole, part) {
        (0, "") => return None,
        (0, part) => format!("about {part} bucket"),
        (1, "") => "about 1 bucket".to_owned(),
        (whole, "") => format!("about {whole} buckets"),
        (whole, part) => format!("about {whole} {part} buckets"),
    })
}

#[cfg(test)]
mod tests {
    use super::{PlanSettings, buckets, carried};

    #[test]
    fn buckets_are_told_in_quarters() {
        // 19 L of compost at 600 kg/m³ weigh 11.4 kg.
        assert_eq!(buckets(17.1, Some(600.0), Some(19.0)).as_deref(), Some("about 1 1/2 buckets"));
        assert_eq!(buckets(2.9, Some(600.0), Some(19.0)).as_deref(), Some("about 1/4 bucket"));
        assert_eq!(buckets(0.1, Some(600.0), Some(19.0)), None);
        assert_eq!(buckets(5.0, None, Some(19.0)), None);
    }

    #[test]
    fn shovelfuls_are_counted_while_they_are_few() {
        let settings = PlanSettings { bucket_l: Some(19.0), shovel_l: Some(5.0), ..PlanSettings::default() };
        let told = |kg| carried(kg, Some(600.0), &settings);
        // A shovel of 5 L at 600 kg/m³ holds 3 kg.
        assert_eq!(told(17.1).as_deref(), Some("about 1 1/2 buckets, or 6 shovelfuls"));
        assert_eq!(told(1.6).as_deref(), Some("about 1/4 bucket, or 1 shovelful"));
        assert_eq!(told(500.0).as_deref(), Some("about 43 3/4 buckets"));
        assert_eq!(told(0.1), None);
        let none = PlanSettings { bucket_l: None, ..settings };
        assert_eq!(carried(6.0, Some(600.0), &none).as_deref(), Some("about 2 shovelfuls"));
    }
}
