//! The farm from above: its plots, beds, tunnels, ditch, orchard, wet spot and what nobody samples. All invented, in
//! metres of a plan whose origin lies in open water.

use book::model::plan::{Form, Frame, KeepOutWhy, Outline, PartKind, PlanPart, Point};
use book::model::{EntryId, Latitude, Longitude, PlanOrigin};
use book::{Book, Result, Snapshot, Stamp};
use ground::kit::{Bounded, Refusal};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// Days before the day of the book on which it was drawn.
const BACK: i64 = 62;
/// From the middle of one bed of the creek field to the next, m.
const CREEK_PITCH_M: f64 = 1.524;
/// The same in a tunnel, and on the sand knoll.
const TUNNEL_PITCH_M: f64 = 1.7;
const KNOLL_PITCH_M: f64 = 1.2192;
/// Beds of this farm are 30 in wide.
const BED_M: f64 = 0.762;

/// West and south side, then how far it reaches east and north.
type Box4 = [f64; 4];

const CREEK: Box4 = [10.0, 12.0, 60.96, 18.288];
const LOWER: Box4 = [36.0, 46.0, 50.292, 30.48];
const KNOLL: Box4 = [8.0, 106.0, 39.624, 24.384];
const HILL: Box4 = [40.0, 146.0, 45.72, 24.384];
const WEST_TUNNEL: Box4 = [58.0, 104.0, 29.2608, 9.144];
const EAST_TUNNEL: Box4 = [97.0, 104.0, 29.2608, 9.144];
const ORCHARD: Box4 = [150.0, 110.0, 45.0, 40.0];

/// Plots drawn by their sides; the long pasture is drawn where it is sampled.
const PLOTS: [(&str, Box4); 7] = [
    ("Creek field", CREEK),
    ("Lower clay", LOWER),
    ("Sand knoll", KNOLL),
    ("Hill field", HILL),
    ("West tunnel", WEST_TUNNEL),
    ("East tunnel", EAST_TUNNEL),
    ("Young orchard", ORCHARD),
];
/// The one plot that is no rectangle: 900 m².
const NEW_GROUND: [Point; 4] = [[104.0, 126.0], [134.0, 126.0], [134.0, 150.0], [104.0, 162.0]];

/// Where the plan counts from: open water in a northern lake, or the ocean where the farm lies in the south.
pub(super) fn origin(latitude: Latitude) -> PlanOrigin {
    PlanOrigin { latitude_degrees: latitude, longitude_degrees: Longitude::literal(-87.0) }
}

/// Draws it.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    let snapshot = book.snapshot()?;
    let day = today.saturating_sub(BACK.days());
    let at = TimeZone::UTC.to_timestamp(day.at(19, 0, 0, 0)).map_err(|error| {
        Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
    })?;
    let drawn = parts(&snapshot)?;
    book.write(|writing| {
        for (minute, part) in (0_i64..).zip(drawn) {
            writing.record(part, &Stamp::new(at + minute.minutes(), "Corin"))?;
        }
        Ok(())
    })
}

/// Everything of the plan, the ground it lies on first.
fn parts(snapshot: &Snapshot) -> Result<Vec<PlanPart>> {
    let named = Named { snapshot };
    let mut drawn = about();
    for (name, sides) in PLOTS {
        let plot = named.plot(name)?;
        drawn.push(PlanPart { plot: Some(plot), ..area(PartKind::Plot, "", rectangle(sides)) });
    }
    let new = named.plot("New ground")?;
    drawn.push(PlanPart { plot: Some(new), ..area(PartKind::Plot, "", NEW_GROUND.to_vec()) });
    drawn.extend(beds(&named)?);
    drawn.extend(built(&named)?);
    drawn.extend(orchard(&named)?);
    drawn.extend(keep_outs(&named)?);
    Ok(drawn)
}

/// The edge, the creek, the tracks, the ditch, the pond and where water is drawn.
fn about() -> Vec<PlanPart> {
    let edge = vec![[-8.0, -6.0], [214.0, -6.0], [214.0, 112.0], [204.0, 176.0], [-8.0, 176.0]];
    let pond = vec![
        [98.0, 12.0],
        [107.0, 9.0],
        [115.0, 13.0],
        [116.0, 21.0],
        [109.0, 26.0],
        [100.0, 24.0],
        [96.0, 18.0],
    ];
    let creek = vec![[-8.0, 3.0], [30.0, 0.0], [80.0, 4.0], [140.0, -1.0], [214.0, 2.0]];
    let lane = vec![[214.0, 98.0], [150.0, 97.0], [92.0, 97.0], [92.0, 122.0], [84.0, 143.0]];
    let low_way = vec![[92.0, 97.0], [90.0, 80.0], [89.5, 49.0], [74.0, 36.0], [74.0, 21.0]];
    let ditch = vec![[92.0, 80.0], [31.0, 79.0], [30.0, 40.0], [5.0, 34.0], [4.0, 1.5]];
    let noted = |part: PlanPart, note: &str| PlanPart { note: note.to_owned(), ..part };
    vec![
        area(PartKind::FarmEdge, "Edge of the farm", edge),
        noted(
            line(PartKind::Other, "Creek", creek),
            "Floods the lowest corner of the creek field every few years",
        ),
        noted(area(PartKind::Other, "Pond", pond), "Steep clay sides: children and sheep are kept out"),
        line(PartKind::Track, "Lane", lane),
        line(PartKind::Track, "Low way", low_way),
        noted(line(PartKind::Drain, "Shed ditch", ditch), "Takes the roof water of the shed to the creek"),
        point(PartKind::WaterPoint, "Well", [92.5, 101.0]),
        point(PartKind::WaterPoint, "Pond pump", [98.0, 25.0]),
        point(PartKind::WaterPoint, "Old bore", [52.0, 128.0]),
    ]
}

/// Beds, numbered from the gate of their plot.
fn beds(named: &Named<'_>) -> Result<Vec<PlanPart>> {
    let mut drawn = Vec::new();
    let mut row = |plot: &str, bed: &str, sides: Vec<Box4>| -> Result<()> {
        let (plot, bed) = (named.plot(plot)?, named.bed(bed)?);
        let several = sides.len() > 1;
        for (number, sides) in (1_u16..).zip(sides) {
            drawn.push(PlanPart {
                plot: Some(plot),
                bed: Some(bed),
                number: several.then_some(number),
                ..area(PartKind::Bed, "", rectangle(sides))
            });
        }
        Ok(())
    };
    let [west, south, long, wide] = CREEK;
    // Four metres to turn at the gate in the east.
    let from_gate = |number: i32| west + long - 4.0 - BED_M - CREEK_PITCH_M * f64::from(number);
    row(
        "Creek field",
        "Beds 1 to 12",
        (0..12).map(|number| [from_gate(number), south, BED_M, wide]).collect(),
    )?;
    row("Creek field", "Trial bed", vec![[from_gate(12), south, BED_M, wide]])?;
    row("Creek field", "Herb bed", vec![[from_gate(13), south, BED_M, wide / 2.0]])?;
    for (plot, bed, [west, south, long, wide]) in
        [("East tunnel", "Beds A to E", EAST_TUNNEL), ("West tunnel", "Beds F to K", WEST_TUNNEL)]
    {
        let length = 27.432;
        let lowest = south + (wide - 4.0 * TUNNEL_PITCH_M - BED_M) / 2.0;
        let beds = (0..5).map(|number| {
            [west + (long - length) / 2.0, lowest + TUNNEL_PITCH_M * f64::from(number), length, BED_M]
        });
        row(plot, bed, beds.collect())?;
    }
    let [west, south, _, wide] = KNOLL;
    let length = 22.86;
    let carrots = (0..9).map(|number| {
        [west + 3.0 + KNOLL_PITCH_M * f64::from(number), south + (wide - length) / 2.0, BED_M, length]
    });
    row("Sand knoll", "Carrot beds", carrots.collect())?;
    Ok(drawn)
}

/// Tunnels, the shed and the house.
fn built(named: &Named<'_>) -> Result<Vec<PlanPart>> {
    let mut drawn = vec![area(PartKind::Building, "House", rectangle([14.0, 88.0, 11.0, 8.0]))];
    for (kind, name, plot, sides) in [
        (PartKind::Building, "Packing shed", None, [66.0, 84.0, 9.144, 6.096]),
        (PartKind::Tunnel, "East tunnel frame", Some("East tunnel"), EAST_TUNNEL),
        (PartKind::Tunnel, "West tunnel frame", Some("West tunnel"), WEST_TUNNEL),
        // Planned, so it stands in nobody's way yet.
        (PartKind::Other, "New tunnel", Some("Creek field"), [14.0, 16.5, 21.9456, 9.144]),
    ] {
        drawn.push(PlanPart {
            structure: Some(named.structure(name)?),
            plot: plot.map(|plot| named.plot(plot)).transpose()?,
            ..area(kind, "", rectangle(sides))
        });
    }
    Ok(drawn)
}

/// Its fence with the corner posts, and five rows of trees.
fn orchard(named: &Named<'_>) -> Result<Vec<PlanPart>> {
    let plot = Some(named.plot("Young orchard")?);
    let corners = rectangle(ORCHARD);
    let around: Vec<Point> = corners.iter().chain(corners.first()).copied().collect();
    let fence = Some(named.structure("Deer fence")?);
    let mut drawn = vec![PlanPart { plot, structure: fence, ..line(PartKind::Post, "", around) }];
    for (number, at) in (1_u16..).zip(corners) {
        let note = if number < 3 { "Leans" } else { "" };
        drawn.push(PlanPart {
            plot,
            number: Some(number),
            note: note.to_owned(),
            ..point(PartKind::Post, "", at)
        });
    }
    let [west, south, long, wide] = ORCHARD;
    for (place, name) in (0_i32..).zip(["Apples 1", "Apples 2", "Apples 3", "Plums 1", "Plums 2"]) {
        let east = west + 6.0 + f64::from(place) * (long - 12.0) / 4.0;
        let row = vec![[east, south + 4.0], [east, south + wide - 4.0]];
        drawn.push(PlanPart { plot, ..line(PartKind::Tree, name, row) });
    }
    drawn.push(point(PartKind::Tree, "Walnut", [30.0, 101.0]));
    Ok(drawn)
}

/// Where water stands, and what would mislead whoever samples.
fn keep_outs(named: &Named<'_>) -> Result<Vec<PlanPart>> {
    let lower = Some(named.plot("Lower clay")?);
    // Below the shed roof, where it stood for four days.
    let wet = vec![
        [61.0, 74.0],
        [64.0, 76.0],
        [72.0, 76.0],
        [76.0, 73.5],
        [75.0, 69.0],
        [70.0, 66.5],
        [64.0, 67.5],
        [60.5, 70.5],
    ];
    let turning = rectangle([80.5, 46.0, 5.792, 6.5]);
    let heap = rectangle([37.5, 24.0, 6.0, 6.288]);
    let brush =
        vec![[108.0, 130.0], [112.0, 129.0], [115.0, 131.5], [114.5, 135.0], [110.5, 136.0], [107.5, 133.5]];
    let out = |part: PlanPart, why: KeepOutWhy, plot: &str, note: &str| -> Result<PlanPart> {
        Ok(PlanPart { plot: Some(named.plot(plot)?), why: Some(why), note: note.to_owned(), ..part })
    };
    let keep = PartKind::KeepOut;
    Ok(vec![
        PlanPart { plot: lower, ..area(PartKind::StandingWater, "Wet spot", wet) },
        out(
            area(keep, "By the gate", turning),
            KeepOutWhy::WheelTrack,
            "Lower clay",
            "The tractor turns here",
        )?,
        out(
            area(keep, "Manure heap", heap),
            KeepOutWhy::ManurePile,
            "Creek field",
            "There all winter, until it is spread",
        )?,
        out(
            area(keep, "Burnt brush", brush),
            KeepOutWhy::BurnSpot,
            "New ground",
            "The old hedge was burnt here",
        )?,
        out(
            line(keep, "Old fence", vec![[40.0, 158.5], [85.72, 157.0]]),
            KeepOutWhy::OldFence,
            "Hill field",
            "Taken out before our time; wire still comes up",
        )?,
        out(
            point(keep, "Sheep trough", [196.0, 85.0]),
            KeepOutWhy::Feeding,
            "Long pasture",
            "Trodden bare and dunged about it",
        )?,
    ])
}

/// Finds what the earlier steps wrote down.
struct Named<'a> {
    snapshot: &'a Snapshot,
}

impl Named<'_> {
    fn plot(&self, name: &str) -> Result<EntryId> {
        Ok(self.snapshot.plot_named(name).map(|held| held.id).ok_or_else(|| missing(name))?)
    }

    fn bed(&self, name: &str) -> Result<EntryId> {
        let found = self.snapshot.beds.iter().find(|held| held.body.name == name);
        Ok(found.map(|held| held.id).ok_or_else(|| missing(name))?)
    }

    fn structure(&self, name: &str) -> Result<EntryId> {
        let found = self.snapshot.structures.iter().find(|held| held.body.name == name);
        Ok(found.map(|held| held.id).ok_or_else(|| missing(name))?)
    }
}

fn missing(name: &str) -> Refusal {
    Refusal::new("name", format!("the demonstration has nothing called {name}"))
}

/// Its corners from the south-west against the clock.
fn rectangle([west, south, long, wide]: Box4) -> Vec<Point> {
    let (east, north) = (west + long, south + wide);
    vec![[west, south], [east, south], [east, north], [west, north]]
}

fn drawn(kind: PartKind, name: &str, form: Form) -> PlanPart {
    PlanPart { name: name.to_owned(), ..PlanPart::drawn(kind, Outline { frame: Frame::Metres, form }) }
}

fn area(kind: PartKind, name: &str, outer: Vec<Point>) -> PlanPart {
    drawn(kind, name, Form::Area { outer, holes: Vec::new() })
}

fn line(kind: PartKind, name: &str, through: Vec<Point>) -> PlanPart {
    drawn(kind, name, Form::Line { through })
}

fn point(kind: PartKind, name: &str, at: Point) -> PlanPart {
    drawn(kind, name, Form::Point { at })
}
