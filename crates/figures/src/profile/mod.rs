//! The ground as a tank with layers: what roots cannot pull off, what crops can use, what drains
//! away, depth by depth.

mod draw;

use ground::kit::Spread;
use ground::kit::units::UnitSystem;

use crate::canvas::{Canvas, LETTER, Side, WIDTH};
use crate::figure::{Figure, Table};
use crate::measures::{Shown, by_volume, is_content, is_depth, is_water_spread};

/// Layers that one picture holds.
pub const MOST_LAYERS: usize = 6;

/// One layer of the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer<'a> {
    /// Its top below the surface.
    pub top_cm: f64,
    /// Its bottom below the surface.
    pub bottom_cm: f64,
    /// What it is: "silt loam".
    pub name: &'a str,
    /// Water content when crops wilt, of the whole soil.
    pub wilting_point_m3_m3: Spread,
    /// Water content when drained, of the whole soil.
    pub field_capacity_m3_m3: Spread,
    /// Water content when every pore is full, of the whole soil.
    pub saturation_m3_m3: Spread,
}

/// Water in one area of the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// As a depth of water.
    pub water_mm: Spread,
    /// The same over one bed, where its area is known.
    pub bed_l: Option<Spread>,
}

/// What the profile holds from the surface down to a depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sums {
    /// How far down they count.
    pub to_depth_cm: f64,
    /// What roots cannot pull off.
    pub unusable: Amount,
    /// What crops can use.
    pub usable: Amount,
    /// What drains away after soaking.
    pub draining: Amount,
}

/// Water content at a depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterAt {
    /// Below the surface.
    pub depth_cm: f64,
    /// By volume of the whole soil.
    pub water_m3_m3: f64,
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundProfile<'a> {
    /// The picture's own id on its page.
    pub id: &'a str,
    /// Layers from the top down, at most [`MOST_LAYERS`].
    pub layers: &'a [Layer<'a>],
    /// The sums, where they are worked out.
    pub sums: Option<Sums>,
    /// How deep roots draw.
    pub root_depth_cm: Option<f64>,
    /// Depth of the water table.
    pub water_table_cm: Option<f64>,
    /// Water in the ground now, from the top down; empty where it is not known.
    pub now: &'a [WaterAt],
    /// Units.
    pub system: UnitSystem,
}

impl Layer<'_> {
    fn is_drawable(&self) -> bool {
        is_depth(self.top_cm)
            && is_depth(self.bottom_cm)
            && self.bottom_cm > self.top_cm
            && [self.wilting_point_m3_m3, self.field_capacity_m3_m3, self.saturation_m3_m3]
                .iter()
                .all(is_content)
    }
}

/// The profile with depth downwards and water content across.
///
/// Median contents are the edges of the areas, and a whisker at each edge is its 90 % range. With
/// `now` given, what the ground lacks of full is faded: there is air in it. A layer whose depths or
/// contents are not in order, or lie outside 0 to 1 m³/m³, is left out, and so is a line that is
/// not a depth; the description says how many layers were left out.
#[must_use]
pub fn ground_profile(profile: &GroundProfile<'_>) -> Figure {
    let shown: Vec<&Layer<'_>> =
        profile.layers.iter().filter(|layer| layer.is_drawable()).take(MOST_LAYERS).collect();
    let title = "Water in the ground, layer by layer".to_owned();
    let description = describe(profile, &shown);
    let table = table(profile, &shown);
    if shown.is_empty() {
        let mut canvas = Canvas::new(profile.id, "profile", WIDTH, 24.0);
        canvas.text((0.0, 16.0), Side::Start, LETTER, "Nothing is known yet");
        return canvas.finish(title, description, table);
    }
    draw::draw(profile, &shown).finish(title, description, table)
}

/// The areas of the picture by name.
pub(crate) const UNUSABLE: &str = "Roots cannot pull it off";
pub(crate) const USABLE: &str = "Crops can use";
pub(crate) const DRAINING: &str = "Drains away, then air";

fn amounts(sums: &Sums) -> [(&'static str, Amount); 3] {
    [(DRAINING, sums.draining), (USABLE, sums.usable), (UNUSABLE, sums.unusable)]
}

/// "3.40 in, 212 gal a bed" and "90 %: 2.90 to 3.90 in, 180 to 244 gal".
fn said(amount: &Amount, system: UnitSystem) -> Option<(String, String)> {
    let (water, volume) = (Shown::water(system), Shown::volume(system));
    if !is_water_spread(&amount.water_mm) {
        return None;
    }
    let mut middle = water.say(amount.water_mm.median);
    let mut range = format!("90 %: {}", water.range(amount.water_mm));
    if let Some(bed) =
        amount.bed_l.filter(|bed| [bed.low, bed.median, bed.high].iter().all(|v| v.abs() < 1e9))
    {
        middle.push_str(&format!(", {} a bed", volume.say(bed.median)));
        range.push_str(&format!(", {}", volume.range(bed)));
    }
    Some((middle, range))
}

fn describe(profile: &GroundProfile<'_>, shown: &[&Layer<'_>]) -> String {
    let depth = Shown::depth(profile.system);
    if shown.is_empty() {
        return "How much water the layers of this ground hold is not known.".to_owned();
    }
    let mut text = String::from("From the top down:");
    for (at, layer) in shown.iter().enumerate() {
        let percent = |spread: Spread| by_volume(spread.median);
        text.push_str(&format!(
            "{} {} from {} to {}, wilting point {} %, field capacity {} %, full {} %",
            if at == 0 { "" } else { ";" },
            layer.name,
            depth.number(layer.top_cm),
            depth.say(layer.bottom_cm),
            percent(layer.wilting_point_m3_m3),
            percent(layer.field_capacity_m3_m3),
            percent(layer.saturation_m3_m3)
        ));
    }
    text.push('.');
    if let Some(sums) = &profile.sums {
        text.push_str(&format!(" Down to {}:", depth.say(sums.to_depth_cm)));
        let told: Vec<String> = amounts(sums)
            .iter()
            .filter_map(|(name, amount)| said(amount, profile.system).map(|words| (name, words)))
            .map(|(name, (middle, range))| format!(" {}: {middle} ({range})", name.to_lowercase()))
            .collect();
        text.push_str(&told.join(";"));
        text.push('.');
    }
    for (what, at) in
        [("Roots draw down to", profile.root_depth_cm), ("The water table stands at", profile.water_table_cm)]
    {
        if let Some(at) = at.filter(|at| is_depth(*at)) {
            text.push_str(&format!(" {what} {}.", depth.say(at)));
        }
    }
    if !profile.now.is_empty() {
        text.push_str(" The heavy line is the water in it now; right of it is air.");
    }
    match profile.layers.len() - shown.len() {
        0 => {}
        1 => text.push_str(" One layer could not be drawn."),
        left => text.push_str(&format!(" {left} layers could not be drawn.")),
    }
    text
}

fn table(profile: &GroundProfile<'_>, shown: &[&Layer<'_>]) -> Table {
    let depth = Shown::depth(profile.system);
    let mut table = Table::new(["", "Median", "90 % from", "90 % to"]);
    for layer in shown {
        let place =
            format!("{}, {} to {}", layer.name, depth.number(layer.top_cm), depth.say(layer.bottom_cm));
        for (what, spread) in [
            ("wilting point", layer.wilting_point_m3_m3),
            ("field capacity", layer.field_capacity_m3_m3),
            ("full", layer.saturation_m3_m3),
        ] {
            table.row([
                format!("{place}: {what} (% by volume)"),
                by_volume(spread.median),
                by_volume(spread.low),
                by_volume(spread.high),
            ]);
        }
    }
    let (water, volume) = (Shown::water(profile.system), Shown::volume(profile.system));
    for (name, amount) in profile.sums.iter().flat_map(amounts) {
        let to = profile.sums.map_or(f64::NAN, |sums| sums.to_depth_cm);
        let mut row = |shown: Shown, spread: Spread, per: &str| {
            table.row([
                format!("{name}, down to {} ({}{per})", depth.say(to), shown.unit),
                shown.number(spread.median),
                shown.number(spread.low),
                shown.number(spread.high),
            ]);
        };
        if is_water_spread(&amount.water_mm) {
            row(water, amount.water_mm, "");
            if let Some(bed) = amount.bed_l {
                row(volume, bed, " a bed");
            }
        }
    }
    table
}
