//! What a column of results may hold.

use ground::kit::Refusal;

/// What a column holds.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Column {
    /// Height of the top of the sand in a settled jar.
    SandTop,
    /// Height of the top of the silt.
    SiltTop,
    /// Height of the top of the clay.
    ClayTop,
    /// The feel test: ball, ribbon, rub.
    Feel,
    /// A laboratory's sand.
    SandPercent,
    /// A laboratory's silt.
    SiltPercent,
    /// A laboratory's clay.
    ClayPercent,
    /// Organic matter.
    OrganicMatter,
    /// Electrical conductivity.
    Conductivity,
    /// Depth at which the probe met the first hard layer.
    HardFrom,
    /// Any figure of a laboratory or a meter, by its heading: "pH", "P (Mehlich-3) ppm".
    Figure(String),
}

impl Column {
    /// All but the figures, jar layers bottom to top first.
    pub const PLAIN: [Self; 10] = [
        Self::SandTop,
        Self::SiltTop,
        Self::ClayTop,
        Self::Feel,
        Self::SandPercent,
        Self::SiltPercent,
        Self::ClayPercent,
        Self::OrganicMatter,
        Self::Conductivity,
        Self::HardFrom,
    ];

    /// Its name in addresses and tables.
    #[must_use]
    pub fn key(&self) -> &str {
        match self {
            Self::SandTop => "sand_top",
            Self::SiltTop => "silt_top",
            Self::ClayTop => "clay_top",
            Self::Feel => "feel",
            Self::SandPercent => "sand_percent",
            Self::SiltPercent => "silt_percent",
            Self::ClayPercent => "clay_percent",
            Self::OrganicMatter => "organic_matter",
            Self::Conductivity => "ec",
            Self::HardFrom => "hard_from",
            Self::Figure(heading) => heading,
        }
    }

    /// Its heading.
    #[must_use]
    pub fn words(&self) -> &str {
        match self {
            Self::SandTop => "Top of sand",
            Self::SiltTop => "Top of silt",
            Self::ClayTop => "Top of clay",
            Self::Feel => "Feel",
            Self::SandPercent => "Sand %",
            Self::SiltPercent => "Silt %",
            Self::ClayPercent => "Clay %",
            Self::OrganicMatter => "Organic matter %",
            Self::Conductivity => "Conductivity",
            Self::HardFrom => "Hard from",
            Self::Figure(heading) => heading,
        }
    }

    /// How a cell is typed.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::SandTop | Self::SiltTop | Self::ClayTop => {
                "height over the inner floor when all has settled: 1 3/8 in, 34 mm, a range, or not seen"
            }
            Self::Feel => {
                "no ball, no ribbon, or length of the ribbon and the rub: 35 mm gritty (g), smooth (s), neither (n)"
            }
            Self::SandPercent | Self::SiltPercent | Self::ClayPercent => "as the laboratory prints it",
            Self::OrganicMatter => "percent of the dry soil",
            Self::Conductivity => "dS/m, mmhos/cm",
            Self::HardFrom => "depth at which a plain rod stopped; none 18 in where it slid down to there",
            Self::Figure(_) => "as the laboratory prints it, < 2 too",
        }
    }

    /// The column of a name: a key of ours, or the heading of a laboratory's figure.
    ///
    /// # Errors
    /// A heading that is not understood, or lacks its unit.
    pub fn of(name: &str) -> Result<Self, Refusal> {
        let name = name.trim();
        let key = name.to_lowercase().replace([' ', '-'], "_");
        if let Some(plain) = Self::PLAIN
            .into_iter()
            .find(|plain| plain.key() == key || plain.words().eq_ignore_ascii_case(name))
        {
            return Ok(plain);
        }
        book::check_lab_heading(name)?;
        Ok(Self::Figure(name.to_owned()))
    }
}
