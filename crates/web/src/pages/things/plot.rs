//! The form of a plot.

use book::Snapshot;
use book::model::{Cover, CoverEt0, CoverFactor, Place, Plot, PlotArea, PlotSide, Shape, Watering};
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};

use super::Formed;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Group, Reader, shown};

pub(super) const FIELDS: &[Field] = &[
    Field::text("name", "Name", "As people on the farm call it, for example Lower field"),
    Field::pick(
        "place",
        "What does it lie under",
        "",
        &[
            Choice::new("open_field", "Open field"),
            Choice::new("high_tunnel", "High tunnel"),
            Choice::new("greenhouse", "Greenhouse"),
            Choice::new("orchard", "Orchard"),
            Choice::new("pasture", "Pasture"),
            Choice::new("other", "Something else"),
        ],
    ),
    Field::measure("length_m", "Length", "Rough is fine: 150 ft, 45 m, 50 paces of 1 m", Dimension::Length)
        .optional(),
    Field::measure("width_m", "Width", "", Dimension::Length).optional(),
    Field::measure(
        "area_m2",
        "Or its area, if it is no rectangle",
        "For example 0.5 ac, 2000 sq ft or 1800 m2",
        Dimension::Area,
    )
    .optional(),
    Field::pick(
        "watering",
        "How it is watered",
        "",
        &[
            Choice::new("drip", "Drip lines"),
            Choice::new("sprinkler", "Sprinklers"),
            Choice::new("furrow", "Furrows or flooding"),
            Choice::new("by_hand", "Hose or can"),
            Choice::new("rain_only", "Rain only"),
        ],
    )
    .optional(),
    Field::measure("slope_percent", "Slope", "Fall over distance: 1 ft in 20 ft is 5 %", Dimension::Percent)
        .optional(),
    Field::measure(
        "root_depth_cm",
        "How deep the crops root",
        "For example 18 in or 45 cm",
        Dimension::Depth,
    )
    .optional(),
    Field::pick(
        "organic",
        "Under organic rules",
        "Where nothing is chosen, as the farm's settings say",
        &[Choice::new("yes", "Yes"), Choice::new("no", "No")],
    )
    .optional(),
    Field::text("use_note", "What grows there", "").optional(),
    Field::tick("shaded", "It is whitewashed or hung with shade cloth", ""),
    Field::measure("cover_low", "At least", "For example 0.6", Dimension::Number).optional(),
    Field::measure("cover_likely", "Most likely", "For example 0.7", Dimension::Number).optional(),
    Field::measure("cover_high", "At most", "For example 0.85", Dimension::Number).optional(),
];

impl Formed for Plot {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Add a plot";
    const LEAD: &'static str = "A plot is a piece of ground that is worked as one. Where the ground plainly changes, \
                                make two of it. A name and a rough size are enough; the rest can wait.";

    const GROUPS: &'static [Group] = &[
        Group::of("", "", &["name", "place", "length_m", "width_m", "area_m2"]),
        Group::of("How it is used", "", &["watering", "slope_percent", "root_depth_cm", "organic", "use_note"]),
        Group::of(
            "Under a tunnel or greenhouse",
            "What the cover does to the thirst of the air: the evaporation under it over that outside. Left open, \
             the usual figures for a cover are taken. It counts only under a high tunnel or greenhouse.",
            &["shaded", "cover_low", "cover_likely", "cover_high"],
        )
        .folded(),
    ];

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let name = read.text("name").map(str::to_owned);
        let place = place(read.choice("place"));
        let shape = shape(read, before.map(|plot| plot.shape));
        let slope_percent = read.measure_kept("slope_percent", before.and_then(|plot| plot.slope_percent));
        let root_depth_cm = read.measure_kept("root_depth_cm", before.and_then(|plot| plot.root_depth_cm));
        let watering = watering(read.choice("watering"));
        let use_note = read.lines("use_note");
        let cover = cover(read, place);
        let organic = read.choice("organic").map(|said| said == "yes");
        Some(Self {
            name: name?,
            place: place?,
            shape: shape?,
            slope_percent,
            root_depth_cm,
            use_note,
            watering,
            cover,
            organic,
            zone_of: before.and_then(|plot| plot.zone_of),
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let (length, width, area) = match self.shape {
            Shape::Rectangle { length_m, width_m } => {
                (shown(length_m, units), shown(width_m, units), String::new())
            }
            Shape::Area { area_m2 } => (String::new(), String::new(), shown(area_m2, units)),
        };
        let factor = self.cover.and_then(|cover| cover.et0_factor);
        form.with("name", &self.name)
            .with("place", key(&PLACES, self.place))
            .with("length_m", length)
            .with("width_m", width)
            .with("area_m2", area)
            .with("slope_percent", self.slope_percent.map(|slope| shown(slope, units)).unwrap_or_default())
            .with("root_depth_cm", self.root_depth_cm.map(|depth| shown(depth, units)).unwrap_or_default())
            .with("watering", self.watering.map_or("", |way| key(&WATERINGS, way)))
            .with("organic", self.organic.map_or("", |said| if said { "yes" } else { "no" }))
            .with("use_note", &self.use_note)
            .with("shaded", if self.cover.is_some_and(|cover| cover.shaded) { "true" } else { "" })
            .measure("cover_low", factor.map(|factor| factor.low), units)
            .measure("cover_likely", factor.map(|factor| factor.likely), units)
            .measure("cover_high", factor.map(|factor| factor.high), units)
    }

    fn prepare(form: Form, snapshot: &Snapshot, _ask: &Ask) -> Form {
        let example = match snapshot.farm.body.units {
            UnitSystem::UsCustomary => {
                "Give length and width, or the area below. Rough is fine; a bare number is in feet, and 45 m is understood too"
            }
            UnitSystem::Metric => {
                "Give length and width, or the area below. Rough is fine; a bare number is in metres, and 150 ft is understood too"
            }
        };
        form.hint("length_m", example).with("place", "open_field")
    }
}

const PLACES: [(&str, Place); 6] = [
    ("open_field", Place::OpenField),
    ("high_tunnel", Place::HighTunnel),
    ("greenhouse", Place::Greenhouse),
    ("orchard", Place::Orchard),
    ("pasture", Place::Pasture),
    ("other", Place::Other),
];

const WATERINGS: [(&str, Watering); 5] = [
    ("drip", Watering::Drip),
    ("sprinkler", Watering::Sprinkler),
    ("furrow", Watering::Furrow),
    ("by_hand", Watering::ByHand),
    ("rain_only", Watering::RainOnly),
];

fn key<T: Copy + PartialEq>(table: &[(&'static str, T)], value: T) -> &'static str {
    table.iter().find(|(_, known)| *known == value).map_or("", |(key, _)| key)
}

fn place(key: Option<&str>) -> Option<Place> {
    PLACES.iter().find(|(known, _)| Some(*known) == key).map(|(_, place)| *place)
}

fn watering(key: Option<&str>) -> Option<Watering> {
    WATERINGS.iter().find(|(known, _)| Some(*known) == key).map(|(_, way)| *way)
}

/// What the cover does, where the plot lies under one. Three factors that rise, or none.
fn cover(read: &mut Reader<'_>, place: Option<Place>) -> Option<Cover> {
    let shaded = read.tick("shaded");
    let names = ["cover_low", "cover_likely", "cover_high"];
    let given = names.map(|name| read.text(name).is_some());
    let factors: [Option<CoverFactor>; 3] = names.map(|name| read.measure(name));
    let at =
        |wanted: bool| names.iter().zip(given).find(|(_, given)| *given == wanted).map(|(name, _)| *name);
    let some = given.contains(&true);
    if place.is_some_and(|place| !place.under_cover()) {
        if some || shaded {
            let field = at(true).unwrap_or("shaded");
            read.refuse(
                Refusal::new(field, "Cover: this plot lies under none, so leave this open")
                    .given("a cover")
                    .accepted("nothing, or a plot under a high tunnel or greenhouse"),
            );
        }
        return None;
    }
    if let (true, Some(open)) = (some, at(false)) {
        read.refuse(
            Refusal::new(open, "Cover: give all three factors, or leave all three open")
                .given("nothing")
                .accepted("three factors from low to high")
                .example("0.6, 0.7, 0.85"),
        );
    }
    let et0_factor = match factors {
        [Some(low), Some(likely), Some(high)] if low > likely || likely > high => {
            read.refuse(
                Refusal::new(
                    if low > likely { "cover_likely" } else { "cover_high" },
                    "Cover: the three factors must rise from at least to at most",
                )
                .given(format!("{}, {}, {}", low.get(), likely.get(), high.get()))
                .accepted("three factors from low to high")
                .example("0.6, 0.7, 0.85"),
            );
            None
        }
        [Some(low), Some(likely), Some(high)] => Some(CoverEt0 { low, likely, high }),
        _ => None,
    };
    (shaded || et0_factor.is_some()).then_some(Cover { et0_factor, shaded })
}

/// Length and width, or an area, and never both.
fn shape(read: &mut Reader<'_>, before: Option<Shape>) -> Option<Shape> {
    let (old_length, old_width, old_area) = match before {
        Some(Shape::Rectangle { length_m, width_m }) => (Some(length_m), Some(width_m), None),
        Some(Shape::Area { area_m2 }) => (None, None, Some(area_m2)),
        None => (None, None, None),
    };
    let typed = ["length_m", "width_m", "area_m2"].map(|name| read.text(name).is_some());
    let length: Option<PlotSide> = read.measure_kept("length_m", old_length);
    let width: Option<PlotSide> = read.measure_kept("width_m", old_width);
    let area: Option<PlotArea> = read.measure_kept("area_m2", old_area);
    let refusal = match typed {
        [true, true, false] => return Some(Shape::Rectangle { length_m: length?, width_m: width? }),
        [false, false, true] => return Some(Shape::Area { area_m2: area? }),
        [false, false, false] => Refusal::new("length_m", "Size: give the length and the width, or the area"),
        [true, false, false] => Refusal::new("width_m", "Width: give it too, or give the area alone"),
        [false, true, false] => Refusal::new("length_m", "Length: give it too, or give the area alone"),
        [_, _, true] => {
            Refusal::new("area_m2", "Size: give the length and the width, or the area, but not both")
        }
    };
    read.refuse(refusal.accepted("a length and a width, or an area").example("length 150 ft, width 60 ft"));
    None
}
