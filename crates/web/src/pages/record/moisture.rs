//! How moist the ground is: by feel, by tension, or by volume.

use book::Snapshot;
use book::model::seen::{Moisture, MoistureFeel, MoistureReading, SignDepth};
use book::model::{EntryId, Seen};
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use ground::texture::Class;

use super::about::ABOUT;
use super::flow::{Flow, Group, Had, Wordings, chosen, word};
use super::kinds::{self, Kind};
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, join};

/// A moisture reading.
pub(super) struct Moist;

const OWN: &[Field] = &[
    Field::one_of(
        "told",
        "How it was read",
        "",
        &[
            Choice::new("feel", "By feel and look of a handful"),
            Choice::new("tension", "A tensiometer, or a sensor that reads tension"),
            Choice::new("volumetric", "A sensor that reads percent, or a dried core"),
        ],
    ),
    // Worded for the ground of the plot when it is drawn.
    Field::one_of(
        "feel",
        "Squeeze a handful hard, open the hand and look",
        "",
        &[
            Choice::new("dry", "Dry"),
            Choice::new("slightly_moist", "Slightly moist"),
            Choice::new("moist", "Moist"),
            Choice::new("wet", "Wet"),
            Choice::new("field_capacity", "At field capacity or over"),
        ],
    )
    .optional(),
    Field::measure("tension", "Tension", "In kPa, which a gauge may call centibar", Dimension::Pressure)
        .optional(),
    Field::measure("volumetric", "Water by volume", "In percent of the whole volume", Dimension::Percent)
        .optional(),
    Field::pick("bed", "In which bed", "Leave open for the plot as a whole", &[]).optional(),
    Field::measure(
        "from_depth",
        "At which depth",
        "Where the roots are, for example 6 in or 15 cm; for a layer, its top",
        Dimension::Depth,
    ),
    Field::measure("to_depth", "Down to which depth", "For a layer only", Dimension::Depth).optional(),
];

const FIELDS: &[Field] = &join::<{ OWN.len() + ABOUT.len() }>(OWN, ABOUT);

/// Ground for which the feel of moisture is worded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Worded {
    Sand,
    SandyLoam,
    Loam,
    Clay,
}

impl Worded {
    /// After the texture groups of USDA-NRCS, Program Aid 1619 (1998).
    fn of(class: Class) -> Self {
        match class {
            Class::Sand | Class::LoamySand => Self::Sand,
            Class::SandyLoam => Self::SandyLoam,
            Class::Loam | Class::SiltLoam | Class::Silt | Class::SandyClayLoam => Self::Loam,
            _ => Self::Clay,
        }
    }

    fn of_name(name: &str) -> Option<Self> {
        Some(match name {
            "sand" => Self::Sand,
            "sandy-loam" => Self::SandyLoam,
            "loam" => Self::Loam,
            "clay" => Self::Clay,
            _ => return None,
        })
    }

    fn words(self) -> &'static str {
        match self {
            Self::Sand => "sand and loamy sand",
            Self::SandyLoam => "sandy loam",
            Self::Loam => "loam and silt loam",
            Self::Clay => "clay loam and clay",
        }
    }

    /// What a handful does at each step, dry to wet; the signs are those of Program Aid 1619, the words ours.
    fn steps(self) -> [&'static str; 5] {
        match self {
            Self::Sand => [
                "loose; grains run off the hand, a shape stays only while nobody touches it",
                "a very weak ball with finger marks; a thin coat of grains on the fingers",
                "a weak ball, darker; the hand is plainly damp; no ribbon",
                "a weak ball; grains stay on the fingers and the hand is wet",
                "a weak ball that leaves its wet outline on the hand",
            ],
            Self::SandyLoam => [
                "a very weak ball; grains break off at a touch",
                "a weak ball with finger marks, darker; the hand stays dry",
                "a ball with finger marks; the faintest damp on the hand; it will not slick",
                "a ball that leaves a wet outline; a short weak ribbon",
                "a soft ball; water shows for a moment when it is squeezed or shaken",
            ],
            Self::Loam => [
                "crumbs fall apart; clods crumble under the thumb; the hand stays dry",
                "a weak, rough ball; a few grains fall off; the hand stays dry",
                "a pliable ball, darker; the faintest damp on the hand; a weak ribbon",
                "a ball with clear finger marks; soil coats the fingers; it makes a ribbon",
                "a soft ball; water shows for a moment when it is squeezed or shaken",
            ],
            Self::Clay => [
                "crumbs fall apart; clods are hard to crush",
                "a weak ball that hardly sheds a crumb; clods flatten instead of breaking",
                "a smooth ball with finger marks; a little damp on the hand; it makes a ribbon",
                "a ball; soil coats the fingers in patches; it ribbons easily",
                "a soft ball, slick and sticky; water stands on it when it is squeezed",
            ],
        }
    }
}

static WORDINGS: Wordings = Wordings {
    field: "feel",
    ways: &[
        ("sand", "ground=sand"),
        ("sandy loam", "ground=sandy-loam"),
        ("loam", "ground=loam"),
        ("clay", "ground=clay"),
    ],
};

impl Flow for Moist {
    const KIND: &'static Kind = &kinds::MOISTURE;
    const FIELDS: &'static [Field] = FIELDS;
    const GROUPS: &'static [Group] = &[
        Group::of("The reading", "", &["told"]),
        Group::of("By feel", "", &["feel"]).only("told", "feel"),
        Group::of("Tension", "", &["tension"]).only("told", "tension"),
        Group::of("Percent by volume", "", &["volumetric"]).only("told", "volumetric"),
        Group::of("Where", "", &["bed", "from_depth", "to_depth"]),
    ];
    const ALIASES: &'static [(&'static str, &'static str)] =
        &[("from_cm", "from_depth"), ("to_cm", "to_depth"), ("bed", "bed")];

    fn usual(form: Form, _units: UnitSystem) -> Form {
        form.with("told", "feel")
    }

    fn wordings() -> Option<&'static Wordings> {
        Some(&WORDINGS)
    }

    fn prepare(form: Form, ask: &Ask, snapshot: &Snapshot, plot: EntryId) -> Form {
        let worded = ask.query.text("ground").and_then(Worded::of_name).unwrap_or_else(|| {
            let told = ask.desk().ok().and_then(|desk| desk.told(snapshot, plot));
            let likeliest = told
                .filter(|told| told.report.make_up_known)
                .and_then(|told| told.report.make_up.class_odds.first().map(|one| Worded::of(one.class)));
            likeliest.unwrap_or(Worded::Loam)
        });
        let steps = MoistureFeel::ALL
            .into_iter()
            .zip(worded.steps())
            .map(|(step, does)| (word(step), format!("{}: {does}", crate::problem::capital(step.words()))));
        let beds = snapshot.beds_of(plot).map(|bed| (bed.id.to_string(), bed.body.name.clone()));
        form.choices("feel", steps)
            .hint(
                "feel",
                format!(
                    "Worded for {}. A step is about a quarter of the water that roots can use",
                    worded.words()
                ),
            )
            .choices("bed", beds)
    }

    fn read(read: &mut Reader<'_>, _had: &Had<'_>) -> Option<Seen> {
        let told = read.choice("told");
        let bed = read.entry("bed");
        let from_cm: Option<SignDepth> = read.measure("from_depth");
        let to_cm: Option<SignDepth> = read.measure("to_depth");
        let reading = reading(read, told);
        if let (Some(from), Some(to)) = (from_cm, to_cm)
            && to.get() <= from.get()
        {
            let (top, bottom) = (read.text("from_depth"), read.text("to_depth").unwrap_or_default());
            let message = format!("The bottom, {bottom}, is not below the top, {}", top.unwrap_or_default());
            read.refuse(
                Refusal::new("to_depth", message)
                    .given(bottom)
                    .accepted("a depth below the first, or nothing"),
            );
        }
        Some(Seen::Moisture(Moisture { bed, from_cm: from_cm?, to_cm, reading: reading? }))
    }

    fn fill(seen: &Seen, form: Form, units: UnitSystem) -> Form {
        let Seen::Moisture(moisture) = seen else { return form };
        let form = match moisture.reading {
            MoistureReading::Feel(step) => form.set("told", "feel").set("feel", word(step)),
            MoistureReading::TensionKpa(tension) => {
                form.set("told", "tension").measure("tension", Some(tension), units)
            }
            MoistureReading::VolumetricPercent(water) => {
                form.set("told", "volumetric").measure("volumetric", Some(water), units)
            }
        };
        form.set("bed", moisture.bed.map(|bed| bed.to_string()).unwrap_or_default())
            .measure("from_depth", Some(moisture.from_cm), units)
            .measure("to_depth", moisture.to_cm, units)
    }
}

/// The reading in the way that was chosen, and in no other.
fn reading(read: &mut Reader<'_>, told: Option<&'static str>) -> Option<MoistureReading> {
    let feel = chosen(read, "feel").map(MoistureReading::Feel);
    let tension = read.measure("tension").map(MoistureReading::TensionKpa);
    let volumetric = read.measure("volumetric").map(MoistureReading::VolumetricPercent);
    let told = told?;
    let ways = ["feel", "tension", "volumetric"];
    if ways.iter().any(|way| *way != told && read.text(way).is_some()) {
        read.refuse(
            Refusal::new("told", "Another reading was filled in than the one that was chosen")
                .given(told)
                .accepted("one way of reading, with the others left empty"),
        );
        return None;
    }
    if read.text(told).is_none() {
        read.refuse(
            Refusal::new(told, "This is needed for the way of reading that was chosen")
                .given("nothing")
                .accepted("the reading, or another way above"),
        );
    }
    feel.or(tension).or(volumetric)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The groups of USDA-NRCS, Program Aid 1619 (1998); silt, sandy clay and silty clay are not named
    /// there and go with the nearest (judgement).
    #[test]
    fn every_class_has_its_wording() {
        for (class, worded) in [
            (Class::LoamySand, Worded::Sand),
            (Class::SandyLoam, Worded::SandyLoam),
            (Class::SiltLoam, Worded::Loam),
            (Class::SandyClayLoam, Worded::Loam),
            (Class::SiltyClayLoam, Worded::Clay),
            (Class::Clay, Worded::Clay),
        ] {
            assert_eq!(Worded::of(class), worded, "{class:?}");
        }
        for (_, query) in WORDINGS.ways {
            assert!(query.strip_prefix("ground=").and_then(Worded::of_name).is_some(), "{query}");
        }
    }
}
