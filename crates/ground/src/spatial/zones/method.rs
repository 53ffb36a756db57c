//! Zones as a registered method.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cluster::{USUAL_COMPACTNESS, suggest};
use super::worth::{ZoneWorth, worth};
use crate::kit::{Answer, Bounded, Card, Cite, Method, Note, NoteKind, Refusal, Topic, Working};
use crate::spatial::raster::Raster;
use crate::spatial::sites::{EastM, MappedValue, NorthM, ReadingAt};

crate::quantity! {
    /// Number of zones.
    pub struct ZoneCount: "number of zones", "", 2.0 ..= 4.0, example 2.0;
    /// What place counts beside the value.
    pub struct Compactness: "compactness", "", 0.0 ..= 10.0, example 0.5;
    /// Side of a cell.
    pub struct CellSide: "side of a cell", "m", 0.01 ..= 1e4, example 2.0;
    /// Cells from west to east.
    pub struct CellColumns: "cells from west to east", "", 1.0 ..= 1000.0, example 4.0;
}

/// Input of `map-zones`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ZonesInput {
    /// West edge of the map.
    pub west_m: EastM,
    /// South edge of the map.
    pub south_m: NorthM,
    /// Side of a cell.
    pub cell_m: CellSide,
    /// Cells from west to east.
    pub columns: CellColumns,
    /// Values row by row from the south-west; nothing off the ground.
    pub values: Vec<Option<MappedValue>>,
    /// How many zones.
    pub zones: ZoneCount,
    /// What place counts beside the value; 0.5 where it is not given, 0 for value alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub compactness: Option<Compactness>,
    /// The readings that the map was made from, to ask whether zones are better than one mean.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<ReadingAt>,
}

/// A zone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ZoneOutput {
    /// Its mean.
    pub mean: f64,
    /// Its area.
    pub area_m2: f64,
}

/// Output of `map-zones`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ZonesOutput {
    /// The zones, from the lowest mean.
    pub zones: Vec<ZoneOutput>,
    /// Zone of each cell, counted from 1.
    pub of_cell: Vec<Option<usize>>,
    /// Share of the map's variance between zones.
    pub explained: f64,
    /// How they fare against one mean, by the readings.
    pub worth: Option<ZoneWorth>,
}

/// Zones of a map.
pub struct MapZones;

impl Method for MapZones {
    type Input = ZonesInput;
    type Output = ZonesOutput;

    const CARD: Card = Card {
        name: "map-zones",
        title: "Zones of a map",
        topic: Topic::Maps,
        computes: "Two to four parts of a map that are alike in value and lie together, each in one piece; what they explain of the \
                   map; and, by the readings themselves, whether they are better than one mean.",
        validity: &[
            "Zones of a map always explain much of that map. Whether they are worth their trouble is asked of the readings, each left out in turn.",
            "The readings that made the map also judge its zones, so the answer is a little too kind; a tenth of the squared error is our bound.",
        ],
        sources: &[
            Cite::new("MacQueen1967", "k-means"),
            Cite::new("ArthurVassilvitskii2007", "where it starts"),
        ],
        cautions: &[],
    };

    fn example() -> Self::Input {
        ZonesInput {
            west_m: EastM::literal(0.0),
            south_m: NorthM::literal(0.0),
            cell_m: CellSide::literal(5.0),
            columns: CellColumns::literal(4.0),
            values: [6.1, 6.2, 6.8, 6.9, 6.0, 6.2, 6.7, 7.0, 6.1, 6.3, 6.8, 7.1]
                .map(|value| Some(MappedValue::literal(value)))
                .to_vec(),
            zones: ZoneCount::literal(2.0),
            compactness: None,
            readings: [
                (2.0, 2.0, 6.1),
                (3.0, 12.0, 6.0),
                (8.0, 7.0, 6.3),
                (13.0, 3.0, 6.7),
                (18.0, 12.0, 7.1),
            ]
            .map(|(east, north, value)| ReadingAt::literal(east, north, value))
            .to_vec(),
        }
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small counts")]
    fn compute(input: &Self::Input) -> Result<Answer<Self::Output>, Refusal> {
        let columns = input.columns.get().round() as usize;
        if input.values.is_empty() || input.values.len() % columns != 0 || input.values.len() > 250_000 {
            return Err(Refusal::new(
                "values",
                format!("{} values do not fill rows of {columns}", input.values.len()),
            )
            .given(input.values.len())
            .accepted("as many values as columns × rows, 250000 at most")
            .example(columns * 3));
        }
        let map = Raster {
            corner: [input.west_m.get(), input.south_m.get()],
            cell_m: input.cell_m.get(),
            columns,
            cells: input.values.iter().map(|value| value.map(Bounded::get)).collect(),
        };
        let compactness = input.compactness.map_or(USUAL_COMPACTNESS, Bounded::get);
        let Some(zones) = suggest(&map, input.zones.get().round() as usize, compactness, 1) else {
            return Err(Refusal::new("values", "the map has too few cells, or all are alike")
                .accepted("cells that differ, more of them than zones")
                .example("6.1, 6.8"));
        };
        let located: Vec<(f64, usize)> = input
            .readings
            .iter()
            .filter_map(|one| {
                let cell = zones.of_cell.cell_of([one.east_m.get(), one.north_m.get()])?;
                Some((one.value.get(), zones.of_cell.cells[cell]?))
            })
            .collect();
        let (values, of): (Vec<f64>, Vec<usize>) = located.into_iter().unzip();
        let worth = worth(&values, &of);
        let mut notes = Vec::new();
        if worth.as_ref().is_some_and(|worth| !worth.better_than_one) {
            notes.push(Note::new(
                NoteKind::Method,
                "By the readings these zones are no better than one: treat the plot as a whole.",
            ));
        }
        Ok(Answer::with_notes(
            ZonesOutput {
                zones: zones
                    .means
                    .iter()
                    .zip(&zones.areas_m2)
                    .map(|(mean, area_m2)| ZoneOutput { mean: *mean, area_m2: *area_m2 })
                    .collect(),
                of_cell: zones.of_cell.cells.iter().map(|zone| zone.map(|zone| zone + 1)).collect(),
                explained: zones.explained,
                worth,
            },
            notes,
        ))
    }

    fn working(input: &Self::Input, answer: &Answer<Self::Output>) -> Working {
        let found = &answer.value;
        Working::new()
            .step(
                "share of the map's variance between zones",
                "Σ cells × (mean of the zone − mean)² / Σ (cell − mean)²",
                format!("{} cells, {} zones", input.values.len(), found.zones.len()),
                format!("{:.3}", found.explained),
            )
            .cite(Self::CARD.sources[0])
    }
}
