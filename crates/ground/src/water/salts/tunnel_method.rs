//! `tunnel-salt-balance`: the salts of covered ground as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::leaching::WaterEc;
use super::tunnel::{SaltReason, TunnelYear, why_salts_gather};
use crate::kit::quantity::number;
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};

crate::quantity! {
    /// Water of a year.
    pub struct YearlyWater: "water of a year", "mm", 0.0 ..= 5000.0, example 600.0;
    /// Compost spread in a year.
    pub struct CompostDepth: "compost of a year", "mm", 0.0 ..= 300.0, example 25.0;
    /// Dry matter in a volume of compost.
    pub struct CompostDensity: "dry density of the compost", "g/cm³", 0.05 ..= 1.5, example 0.3;
    /// Soluble salts of compost, share of dry matter.
    pub struct CompostSalts: "soluble salts of the compost", "%", 0.0 ..= 20.0, example 2.0;
    /// Soluble salts brought to or carried off a square metre in a year, g.
    pub struct AreaSalts: "salts on a square metre", "g", 0.0 ..= 2000.0, example 60.0;
    /// Depth of the root zone.
    pub struct SaltDepth: "depth of the root zone", "cm", 5.0 ..= 200.0, example 30.0;
    /// All pores.
    pub struct FullContent: "all pores", "m³/m³", 0.2 ..= 0.8, example 0.46;
    /// Water at field capacity.
    pub struct HeldContent: "water at field capacity", "m³/m³", 0.02 ..= 0.7, example 0.28;
    /// EC of the saturation extract at the start.
    pub struct StartEc: "conductivity at the start", "dS/m", 0.0 ..= 50.0, example 0.8;
    /// Years to look ahead.
    pub struct YearsAhead: "years to look ahead", "", 1.0 ..= 30.0, example 5.0;
}

/// Input of `tunnel-salt-balance`. Everything is for a year.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TunnelSaltInput {
    /// Irrigation.
    pub irrigation_mm: YearlyWater,
    /// EC of the irrigation water.
    pub water_ec_ds_m: WaterEc,
    /// Rain, snow or flooding that reach the ground while it is uncovered; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fresh_water_mm: Option<YearlyWater>,
    /// Water that crops and the ground give off.
    pub use_mm: YearlyWater,
    /// Compost spread; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub compost_mm: Option<CompostDepth>,
    /// Its dry density; 0.3 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub compost_density_g_cm3: Option<CompostDensity>,
    /// Its soluble salts, share of dry matter; 2 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub compost_salts_percent: Option<CompostSalts>,
    /// Soluble salts of fertilizers on a square metre; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fertilizer_salts_per_m2_g: Option<AreaSalts>,
    /// Salts that the harvest carries off a square metre; none where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub carried_off_per_m2_g: Option<AreaSalts>,
    /// Depth of the root zone.
    pub root_depth_cm: SaltDepth,
    /// All pores of the ground.
    pub saturation_m3_m3: FullContent,
    /// Water it holds at field capacity.
    pub field_capacity_m3_m3: HeldContent,
    /// EC of the saturation extract now.
    pub ec_now_ds_m: StartEc,
    /// Years to look ahead; 5 where nothing is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub years: Option<YearsAhead>,
}

impl TunnelSaltInput {
    fn year(&self) -> Result<TunnelYear, Refusal> {
        let (full, held) = (self.saturation_m3_m3.get(), self.field_capacity_m3_m3.get());
        if held >= full {
            return Err(Refusal::new(
                "field_capacity_m3_m3",
                "ground that has drained holds less water than when it is full",
            )
            .given(number(held))
            .accepted(format!("less than {}", number(full)))
            .example("0.28"));
        }
        let depth_mm = 10.0 * self.root_depth_cm.get();
        let density = self.compost_density_g_cm3.map_or(0.3, Bounded::get);
        let salts = self.compost_salts_percent.map_or(2.0, Bounded::get) / 100.0;
        Ok(TunnelYear {
            irrigation_mm: self.irrigation_mm.get(),
            water_ec_ds_m: self.water_ec_ds_m.get(),
            fresh_water_mm: self.fresh_water_mm.map_or(0.0, Bounded::get),
            use_mm: self.use_mm.get(),
            // 1 mm on a hectare is 10 m³, 10 000 kg at 1 g/cm³.
            compost_salts_kg_ha: self.compost_mm.map_or(0.0, Bounded::get) * density * salts * 10_000.0,
            fertilizer_salts_kg_ha: self.fertilizer_salts_per_m2_g.map_or(0.0, Bounded::get) * 10.0,
            carried_off_kg_ha: self.carried_off_per_m2_g.map_or(0.0, Bounded::get) * 10.0,
            held_mm: depth_mm * held,
            full_mm: depth_mm * full,
        })
    }

    fn last_year(&self) -> u32 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 30")]
        self.years.map_or(5, |years| years.get() as u32)
    }
}

/// Output of `tunnel-salt-balance`.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
pub struct TunnelSaltOutput {
    /// Salts that the irrigation water brings in a year.
    pub water_salts_kg_ha: f64,
    /// Salts of compost.
    pub compost_salts_kg_ha: f64,
    /// Salts of fertilizers.
    pub fertilizer_salts_kg_ha: f64,
    /// Water that drains below the roots.
    pub drainage_mm: f64,
    /// EC of the saturation extract after each year to come.
    pub ec_after_years_ds_m: Vec<f64>,
    /// EC in the long run; nothing where salts gather for ever.
    pub steady_ec_ds_m: Option<f64>,
    /// Why salts gather, the greatest source first.
    pub reasons: Vec<SaltReason>,
}

/// Salt balance of covered ground.
pub struct TunnelSaltBalance;

impl Method for TunnelSaltBalance {
    type Input = TunnelSaltInput;
    type Output = TunnelSaltOutput;

    const CARD: Card = Card {
        name: "tunnel-salt-balance",
        title: "Salt under a cover",
        topic: Topic::Water,
        computes: "What salts a year's water, compost and fertilizer bring to covered ground, what draining water carries \
                   away, and where that leads in the years to come. The reasons are given in words.",
        validity: &[
            "Salts mix through the whole root zone; under drip they gather at the edges, where it is worse, and the middle is \
             better.",
            "Lime and gypsum that settle in the ground are left out, so the answer is on the high side, most of all with hard water.",
        ],
        sources: &[
            Cite::new("Fao29", "salt balance, EC of drainage water"),
            Cite::new("TunnelSalts", "salts in high tunnels"),
            Cite::new("Handbook60", "dissolved salts from EC"),
        ],
        cautions: &[super::DRAINAGE_FIRST, super::LEACHING, super::SODIC_FIRST, super::BACKFLOW],
    };

    fn example() -> Self::Input {
        TunnelSaltInput {
            irrigation_mm: YearlyWater::literal(600.0),
            water_ec_ds_m: WaterEc::literal(0.4),
            fresh_water_mm: None,
            use_mm: YearlyWater::literal(560.0),
            compost_mm: Some(CompostDepth::literal(25.0)),
            compost_density_g_cm3: None,
            compost_salts_percent: None,
            fertilizer_salts_per_m2_g: Some(AreaSalts::literal(60.0)),
            carried_off_per_m2_g: Some(AreaSalts::literal(40.0)),
            root_depth_cm: SaltDepth::literal(30.0),
            saturation_m3_m3: FullContent::literal(0.46),
            field_capacity_m3_m3: HeldContent::literal(0.28),
            ec_now_ds_m: StartEc::literal(0.8),
            years: None,
        }
    }

    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let year = input.year()?;
        let start = year.salts_at_kg_ha(input.ec_now_ds_m.get());
        let mut notes = Vec::new();
        if year.drainage_mm() <= 0.0 {
            notes.push(Note::new(
                NoteKind::Method,
                "Nothing drains: salts gather without end. Uncover for a season, or leach before a crop.",
            ));
        }
        if year.irrigation_mm + year.fresh_water_mm < year.use_mm {
            notes.push(Note::new(
                NoteKind::Method,
                "Less water comes than is used: the rest must come from stored rain or from a water table, which brings salts too.",
            ));
        }
        if input.compost_mm.is_some()
            && (input.compost_density_g_cm3.is_none() || input.compost_salts_percent.is_none())
        {
            notes.push(Note::new(
                NoteKind::Provenance,
                "Compost without an analysis is taken at 0.3 g/cm³ and 2 % soluble salts: our judgement, and composts differ tenfold.",
            ));
        }
        notes.push(Note::new(
            NoteKind::Provenance,
            "That salts mix evenly is our judgement; the long-run rule and the factor 640 are recalled.",
        ));
        let value = TunnelSaltOutput {
            water_salts_kg_ha: year.water_salts_kg_ha(),
            compost_salts_kg_ha: year.compost_salts_kg_ha,
            fertilizer_salts_kg_ha: year.fertilizer_salts_kg_ha,
            drainage_mm: year.drainage_mm(),
            ec_after_years_ds_m: (1..=input.last_year())
                .map(|years| year.extract_ds_m(year.salts_after_kg_ha(start, f64::from(years))))
                .collect(),
            steady_ec_ds_m: year.steady_extract_ds_m(),
            reasons: why_salts_gather(&year),
        };
        Ok(Answer::with_notes(value, notes))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let value = &answer.value;
        let Ok(year) = input.year() else { return Working::new() };
        let working = Working::new()
            .step(
                "salts that come in a year and stay",
                "water: mm × 640 EC / 100; compost: mm × density × share × 10 000; fertilizers: g/m² × 10; less what the harvest carries off",
                format!(
                    "{:.0} + {:.0} + {:.0} − {:.0} kg/ha",
                    value.water_salts_kg_ha,
                    value.compost_salts_kg_ha,
                    value.fertilizer_salts_kg_ha,
                    year.carried_off_kg_ha
                ),
                format!("{:.0} kg/ha", year.salts_in_kg_ha()),
            )
            .step(
                "water that drains",
                "irrigation + fresh water − use, not below 0",
                format!("{} + {} − {}", number(year.irrigation_mm), number(year.fresh_water_mm), number(year.use_mm)),
                format!("{:.0} mm", value.drainage_mm),
            )
            .step(
                "EC of the saturation extract after a year",
                "S = S₀ e^(−D/W) + in W/D (1 − e^(−D/W)), without drainage S₀ + in; EC = S / (6.4 × water when full)",
                format!("W = {:.0} mm, water when full {:.0} mm", year.held_mm, year.full_mm),
                format!("{:.2} dS/m", value.ec_after_years_ds_m.first().copied().unwrap_or(f64::NAN)),
            );
        match value.steady_ec_ds_m {
            Some(steady) => working
                .step(
                    "EC in the long run",
                    "in / D in the drainage, times water held / water when full in the extract",
                    format!("{:.0} kg/ha over {:.0} mm", year.salts_in_kg_ha(), value.drainage_mm),
                    format!("{steady:.2} dS/m"),
                )
                .cite(Self::CARD.sources[0]),
            None => working,
        }
    }
}
