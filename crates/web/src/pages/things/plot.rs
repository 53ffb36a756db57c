//! The form of a plot.

use book::Snapshot;
use book::model::{Place, Plot, PlotArea, PlotSide, Shape, Watering};
use ground::kit::Refusal;
use ground::kit::units::{Dimension, UnitSystem};

use super::Formed;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, shown};

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
    Field::text("use_note", "What grows there", "").optional(),
];

impl Formed for Plot {
    const FIELDS: &'static [Field] = FIELDS;
    const NEW: &'static str = "Add a plot";
    const LEAD: &'static str = "A plot is a piece of ground that is worked as one. Where the ground plainly changes, \
                                make two of it. A name and a rough size are enough; the rest can wait.";

    fn read(read: &mut Reader<'_>, before: Option<&Self>) -> Option<Self> {
        let name = read.text("name").map(str::to_owned);
        let place = place(read.choice("place"));
        let shape = shape(read, before.map(|plot| plot.shape));
        let slope_percent = read.measure_kept("slope_percent", before.and_then(|plot| plot.slope_percent));
        let root_depth_cm = read.measure_kept("root_depth_cm", before.and_then(|plot| plot.root_depth_cm));
        let watering = watering(read.choice("watering"));
        let use_note = read.lines("use_note");
        Some(Self {
            name: name?,
            place: place?,
            shape: shape?,
            slope_percent,
            root_depth_cm,
            use_note,
            watering,
            // A plot that lies under no cover any more has lost it.
            cover: before.and_then(|plot| plot.cover).filter(|_| place.is_some_and(Place::under_cover)),
        })
    }

    fn fill(&self, form: Form, units: UnitSystem) -> Form {
        let (length, width, area) = match self.shape {
            Shape::Rectangle { length_m, width_m } => {
                (shown(length_m, units), shown(width_m, units), String::new())
            }
            Shape::Area { area_m2 } => (String::new(), String::new(), shown(area_m2, units)),
        };
        form.with("name", &self.name)
            .with("place", key(&PLACES, self.place))
            .with("length_m", length)
            .with("width_m", width)
            .with("area_m2", area)
            .with("slope_percent", self.slope_percent.map(|slope| shown(slope, units)).unwrap_or_default())
            .with("root_depth_cm", self.root_depth_cm.map(|depth| shown(depth, units)).unwrap_or_default())
            .with("watering", self.watering.map_or("", |way| key(&WATERINGS, way)))
            .with("use_note", &self.use_note)
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
