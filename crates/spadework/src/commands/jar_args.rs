//! A jar reading by flags, for `jar` and `record jar`.

use clap::{Args, ValueEnum};
use ground::kit::units::{Unit, UnitSystem, field_unit, typed, typed_reading};
use ground::kit::{Bounded, Refusal};
use ground::texture::jar::reading::{
    JarHeight, JarTemperature, JarWidth, PouredVolume, RulerStep, SettledFor,
};
use ground::texture::jar::{
    Boundary, Clarity, Dispersant, Fill, JarReading, JarShape, Marks, TimedMark, Width,
};

/// A jar as it was read. Every height may be a range ("1 1/8 to 1 1/4 in"), or "?" (quoted, for
/// the shell) where nothing could be seen.
#[derive(Debug, Args)]
pub(crate) struct JarArgs {
    /// Thickness of the sand layer
    #[arg(long, value_name = "HEIGHT", help_heading = "Thickness of each layer")]
    sand: Option<String>,
    /// Thickness of the silt layer
    #[arg(long, value_name = "HEIGHT", help_heading = "Thickness of each layer")]
    silt: Option<String>,
    /// Thickness of the clay layer
    #[arg(long, value_name = "HEIGHT", help_heading = "Thickness of each layer")]
    clay: Option<String>,
    /// Top of the sand above the jar floor
    #[arg(long, value_name = "HEIGHT", help_heading = "Or the top of each layer above the floor")]
    sand_top: Option<String>,
    /// Top of the silt above the jar floor
    #[arg(long, value_name = "HEIGHT", help_heading = "Or the top of each layer above the floor")]
    silt_top: Option<String>,
    /// Top of the clay above the jar floor
    #[arg(long, value_name = "HEIGHT", help_heading = "Or the top of each layer above the floor")]
    clay_top: Option<String>,
    /// Top of the settled soil after a time, such as 1min=7/8in; once for each mark
    #[arg(long = "mark", value_name = "TIME=HEIGHT", help_heading = "Or marks made at known times")]
    marks: Vec<String>,
    /// Distance between two marks of the ruler; 1 mm where nothing is said
    #[arg(long, value_name = "STEP", help_heading = "The jar and the water")]
    ruler: Option<String>,
    /// Height of the water above the jar floor
    #[arg(long, value_name = "HEIGHT", help_heading = "The jar and the water")]
    water_height: Option<String>,
    /// Temperature of the water
    #[arg(long, value_name = "TEMPERATURE", help_heading = "The jar and the water")]
    water_temperature: Option<String>,
    /// What was added to part the clay
    #[arg(long, value_enum, help_heading = "The jar and the water")]
    dispersant: Option<DispersantWord>,
    /// How the water looked after a day or more
    #[arg(long, value_enum, help_heading = "The jar and the water")]
    after_a_day: Option<ClarityWord>,
    /// Thickness of the organic matter that floats or caps the clay
    #[arg(long, value_name = "HEIGHT", help_heading = "The jar and the water")]
    float: Option<String>,
    /// Inside width of a tapered jar at a height, bottom up, such as 0in=2.5in
    #[arg(
        long = "width",
        value_name = "HEIGHT=WIDTH",
        conflicts_with = "fills",
        help_heading = "The jar and the water"
    )]
    widths: Vec<String>,
    /// Height that a volume of water fills the jar to, bottom up, such as 2in=8floz
    #[arg(long = "fill", value_name = "HEIGHT=VOLUME", help_heading = "The jar and the water")]
    fills: Vec<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum DispersantWord {
    /// Nothing
    None,
    /// A drop of liquid dish soap
    LiquidSoap,
    /// Powdered automatic-dishwasher detergent or water softener
    DishwasherPowder,
    /// Sodium hexametaphosphate
    Hexametaphosphate,
    /// Not known
    Unknown,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum ClarityWord {
    /// Clear: the clay clumped and fell
    Clear,
    /// Still cloudy
    Cloudy,
    /// Nobody looked
    NotLooked,
}

impl JarArgs {
    /// The reading; a bare number is in the unit of `system`.
    pub(crate) fn reading(&self, system: UnitSystem) -> Result<JarReading, Refusal> {
        let read = Typed { system };
        Ok(JarReading {
            marks: self.layers(&read)?,
            ruler_step_mm: read.maybe::<RulerStep>("ruler", self.ruler.as_ref())?,
            shape: self.shape(&read)?,
            water_height_mm: read.maybe::<JarHeight>("water-height", self.water_height.as_ref())?,
            water_temperature_c: read
                .maybe::<JarTemperature>("water-temperature", self.water_temperature.as_ref())?,
            dispersant: self.dispersant.map(Dispersant::from).unwrap_or_default(),
            water_after_a_day: self.after_a_day.map(Clarity::from).unwrap_or_default(),
            floating_organic_mm: read.maybe::<JarHeight>("float", self.float.as_ref())?,
        })
    }

    /// What a method refused of this reading, at the option and in the units in which it was typed.
    pub(crate) fn told(&self, refusal: Refusal, system: UnitSystem) -> Refusal {
        let mut refusal = refusal.in_units(system);
        if refusal.field == "marks" {
            let first = match (&self.sand, &self.sand_top) {
                (Some(_), _) => "sand",
                (_, Some(_)) => "sand-top",
                _ => "mark",
            };
            first.clone_into(&mut refusal.field);
        }
        refusal
    }

    fn layers(&self, read: &Typed) -> Result<Marks, Refusal> {
        let thick = [&self.sand, &self.silt, &self.clay];
        let tops = [&self.sand_top, &self.silt_top, &self.clay_top];
        let given = |three: &[&Option<String>; 3]| three.iter().any(|one| one.is_some());
        let several = || {
            Refusal::new("sand", "the layers were given in more than one way")
                .given("thicknesses, tops or marks together")
                .accepted("one way: --sand --silt --clay, or --sand-top --silt-top --clay-top, or --mark")
                .example("--sand 7/8in --silt 13/16in --clay 1/2in")
        };
        match (given(&thick), given(&tops), !self.marks.is_empty()) {
            (true, false, false) => {
                let [sand, silt, clay] = read.three(["sand", "silt", "clay"], thick)?;
                Ok(Marks::Thicknesses { sand, silt, clay })
            }
            (false, true, false) => {
                let [sand_top, silt_top, clay_top] =
                    read.three(["sand-top", "silt-top", "clay-top"], tops)?;
                Ok(Marks::Heights { sand_top, silt_top, clay_top })
            }
            (false, false, true) => {
                let marks = self.marks.iter().map(|pair| read.mark(pair)).collect::<Result<_, _>>()?;
                Ok(Marks::Timed { marks })
            }
            (false, false, false) => Err(Refusal::new("sand", "no layer was given")
                .given("nothing")
                .accepted(
                    "--sand --silt --clay, or --sand-top --silt-top --clay-top, or --mark for each mark",
                )
                .example("--sand 7/8in --silt 13/16in --clay 1/2in")),
            _ => Err(several()),
        }
    }

    fn shape(&self, read: &Typed) -> Result<JarShape, Refusal> {
        let height = |field: &str, text: &str| read.one::<JarHeight>(field, text);
        if !self.fills.is_empty() {
            let fill = |pair: &String| {
                let (at, volume) = halves("fill", pair, "2in=8floz")?;
                Ok(Fill {
                    height_mm: height("fill", at)?,
                    volume_ml: read.one::<PouredVolume>("fill", volume)?,
                })
            };
            return Ok(JarShape::Poured {
                fills: self.fills.iter().map(fill).collect::<Result<_, Refusal>>()?,
            });
        }
        if !self.widths.is_empty() {
            let width = |pair: &String| {
                let (at, across) = halves("width", pair, "0in=2.5in")?;
                Ok(Width {
                    height_mm: height("width", at)?,
                    diameter_mm: read.one::<JarWidth>("width", across)?,
                })
            };
            return Ok(JarShape::Widths {
                at: self.widths.iter().map(width).collect::<Result<_, Refusal>>()?,
            });
        }
        Ok(JarShape::Straight)
    }
}

struct Typed {
    system: UnitSystem,
}

impl Typed {
    fn one<Q: Bounded>(&self, field: &str, text: &str) -> Result<Q, Refusal> {
        typed(field, text, field_unit(Q::UNIT, self.system))
    }

    fn maybe<Q: Bounded>(&self, field: &str, text: Option<&String>) -> Result<Option<Q>, Refusal> {
        text.map(|text| self.one(field, text)).transpose()
    }

    fn boundary(&self, field: &str, text: &str) -> Result<Boundary, Refusal> {
        typed_reading::<JarHeight>(field, text, field_unit(JarHeight::UNIT, self.system)).map(Boundary::from)
    }

    fn three(&self, fields: [&str; 3], texts: [&Option<String>; 3]) -> Result<[Boundary; 3], Refusal> {
        let read = |place: usize| match texts[place] {
            Some(text) => self.boundary(fields[place], text),
            None => Err(Refusal::new(fields[place], format!("--{} is missing", fields[place]))
                .given("nothing")
                .accepted("a height, a range, or ? where it could not be seen")
                .example(format!("--{} '?'", fields[place]))),
        };
        Ok([read(0)?, read(1)?, read(2)?])
    }

    fn mark(&self, pair: &str) -> Result<TimedMark, Refusal> {
        let (time, top) = halves("mark", pair, "1min=7/8in")?;
        Ok(TimedMark {
            after_s: typed::<SettledFor>("mark", time, Unit::Minute)?,
            top: self.boundary("mark", top)?,
        })
    }
}

fn halves<'a>(field: &str, pair: &'a str, example: &str) -> Result<(&'a str, &'a str), Refusal> {
    pair.split_once('=').ok_or_else(|| {
        Refusal::new(field, format!("{pair:?} has no equals sign"))
            .given(pair)
            .accepted("two measures with = between them")
            .example(example)
    })
}

impl From<DispersantWord> for Dispersant {
    fn from(word: DispersantWord) -> Self {
        match word {
            DispersantWord::None => Self::None,
            DispersantWord::LiquidSoap => Self::LiquidSoap,
            DispersantWord::DishwasherPowder => Self::DishwasherPowder,
            DispersantWord::Hexametaphosphate => Self::Hexametaphosphate,
            DispersantWord::Unknown => Self::Unknown,
        }
    }
}

impl From<ClarityWord> for Clarity {
    fn from(word: ClarityWord) -> Self {
        match word {
            ClarityWord::Clear => Self::Clear,
            ClarityWord::Cloudy => Self::Cloudy,
            ClarityWord::NotLooked => Self::NotLooked,
        }
    }
}
