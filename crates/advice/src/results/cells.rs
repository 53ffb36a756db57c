//! From the cells of a row to what was seen.

use book::LabCell;
use book::model::Seen;
use book::model::seen::{
    ElectricalConductivity, JarSeen, OrganicMatter, OrganicMatterPercent, ProbePoint, ProbeSeen, Salinity,
};
use ground::fertility::analysis::report::LabReport;
use ground::kit::units::{Dimension, Unit, field_unit, typed, typed_reading};
use ground::kit::{Bounded, Refusal};
use ground::structure::probe::push::{ProbeDepth, ProbeReading, RodFeel};
use ground::texture::composition::{ClayPercent, SandPercent, SiltPercent};
use ground::texture::feel::{Answers, FeelReading, Ribbon, RibbonLength, Rub};
use ground::texture::jar::{Boundary, Clarity, JarHeight, JarReading, JarShape, Marks};
use ground::texture::lab::LabTexture;

use super::{Column, ResultRow, ResultsAbout, is_blank};

type Refused = (usize, Refusal);

/// A row's cells: where each column stands, and what was typed there.
struct Cells<'a> {
    about: &'a ResultsAbout,
    columns: &'a [Column],
    row: &'a ResultRow,
    refused: Vec<Refused>,
}

/// What a row says was seen.
pub(super) fn read_row(
    about: &ResultsAbout,
    columns: &[Column],
    row: &ResultRow,
) -> Result<Vec<Seen>, Vec<Refused>> {
    let mut cells = Cells { about, columns, row, refused: Vec::new() };
    let mut seen: Vec<Seen> = Vec::new();
    seen.extend(cells.jar());
    seen.extend(cells.feel());
    seen.extend(cells.lab_texture());
    seen.extend(cells.organic_matter());
    seen.extend(cells.conductivity());
    seen.extend(cells.probe());
    seen.extend(cells.figures());
    if cells.refused.is_empty() && seen.is_empty() {
        // A note alone is nothing that was seen.
        cells.refused.push((
            0,
            Refusal::new("note", "A note was typed in this row, but no result")
                .given(row.note.trim())
                .accepted("a result beside it")
                .example("6.4"),
        ));
    }
    if cells.refused.is_empty() { Ok(seen) } else { Err(cells.refused) }
}

impl Cells<'_> {
    /// What was typed under a column, and where that is.
    fn typed(&self, column: &Column) -> Option<(usize, &str)> {
        let at = self.columns.iter().position(|one| one == column)?;
        let text = self.row.cells.get(at)?.trim();
        (!is_blank(text)).then_some((at, text))
    }

    fn take<T>(&mut self, at: usize, read: Result<T, Refusal>) -> Option<T> {
        read.map_err(|refusal| self.refused.push((at, refusal))).ok()
    }

    fn value<Q: Bounded>(&mut self, column: &Column, default: Unit) -> Option<Q> {
        let (at, text) = self.typed(column)?;
        let read = typed::<Q>(column.key(), text, default);
        self.take(at, read)
    }

    /// What makes no sense to its method is refused at the column that its field names, else at the first.
    fn accepted(&mut self, seen: Seen, fields: &[(&str, Column)]) -> Option<Seen> {
        let Err(refusal) = seen.accept() else { return Some(seen) };
        let named = fields.iter().find(|(name, _)| refusal.field.contains(name)).map(|(_, column)| column);
        let at = named
            .into_iter()
            .chain(fields.iter().map(|(_, column)| column))
            .find_map(|column| self.columns.iter().position(|one| one == column));
        self.refused.push((at.unwrap_or(0), refusal));
        None
    }

    fn jar(&mut self) -> Option<Seen> {
        let tops = [Column::SandTop, Column::SiltTop, Column::ClayTop];
        if tops.iter().all(|top| self.typed(top).is_none()) {
            return None;
        }
        let before = self.refused.len();
        let unit = Dimension::SmallLength.unit(self.about.units);
        let [sand_top, silt_top, clay_top] = tops.clone().map(|top| {
            let Some((at, text)) = self.typed(&top) else { return Boundary::No };
            let read = typed_reading::<JarHeight>(top.key(), text, unit);
            self.take(at, read).map_or(Boundary::No, Boundary::from)
        });
        if self.refused.len() > before {
            return None;
        }
        let reading = JarReading {
            marks: Marks::Heights { sand_top, silt_top, clay_top },
            ruler_step_mm: None,
            shape: JarShape::default(),
            water_height_mm: None,
            water_temperature_c: None,
            dispersant: self.about.dispersant,
            water_after_a_day: Clarity::default(),
            floating_organic_mm: None,
        };
        let seen = Seen::Jar(JarSeen { started_at: None, soil_height_mm: None, finished: true, reading });
        let [sand, silt, clay] = tops;
        self.accepted(seen, &[("sand_top", sand), ("silt_top", silt), ("clay_top", clay)])
    }

    fn feel(&mut self) -> Option<Seen> {
        let (at, text) = self.typed(&Column::Feel)?;
        let read = feel(text, self.about);
        let reading = self.take(at, read)?;
        self.accepted(Seen::Feel(reading), &[("", Column::Feel)])
    }

    fn lab_texture(&mut self) -> Option<Seen> {
        let parts = [Column::SandPercent, Column::SiltPercent, Column::ClayPercent];
        let typed_parts = parts.iter().filter(|part| self.typed(part).is_some()).count();
        if typed_parts == 0 {
            return None;
        }
        let before = self.refused.len();
        let [sand, silt, clay] = &parts;
        let unit = Dimension::Percent.base();
        let sand_percent: Option<SandPercent> = self.value(sand, unit);
        let silt_percent: Option<SiltPercent> = self.value(silt, unit);
        let clay_percent: Option<ClayPercent> = self.value(clay, unit);
        if self.refused.len() == before && typed_parts < parts.len() {
            let at = parts.iter().find(|part| self.typed(part).is_some()).and_then(|part| self.typed(part));
            self.refused.push((
                at.map_or(0, |(at, _)| at),
                Refusal::new("texture", "Sand, silt and clay belong together, and one of them is missing")
                    .given(format!("{typed_parts} of 3"))
                    .accepted("all three, as the laboratory prints them")
                    .example("40, 40 and 20"),
            ));
        }
        let seen = Seen::LabTexture(LabTexture {
            sand_percent: sand_percent?,
            silt_percent: silt_percent?,
            clay_percent: clay_percent?,
            silt_limit: ground::texture::lab::SiltLimit::default(),
            procedure: ground::texture::lab::LabProcedure::default(),
        });
        let [sand, silt, clay] = parts;
        self.accepted(seen, &[("sand", sand), ("silt", silt), ("clay", clay)])
    }

    fn organic_matter(&mut self) -> Option<Seen> {
        let percent: OrganicMatterPercent = self.value(&Column::OrganicMatter, Dimension::Percent.base())?;
        Some(Seen::OrganicMatter(OrganicMatter { percent, method: None }))
    }

    fn conductivity(&mut self) -> Option<Seen> {
        let unit = field_unit(ElectricalConductivity::UNIT, self.about.units);
        let ec_ds_m: ElectricalConductivity = self.value(&Column::Conductivity, unit)?;
        Some(Seen::Salinity(Salinity { ec_ds_m, extract: self.about.extract }))
    }

    /// A push with a plain rod: where it stopped, or how deep it slid.
    fn probe(&mut self) -> Option<Seen> {
        let (at, text) = self.typed(&Column::HardFrom)?;
        let lower = text.to_lowercase();
        let (rod, depth) = match lower.strip_prefix("none") {
            Some(rest) => (RodFeel::Slides, rest.trim().trim_start_matches("to ").trim().to_owned()),
            None => (RodFeel::Stops, text.to_owned()),
        };
        let read = if depth.is_empty() {
            Err(Refusal::new("hard_from", "How deep the rod slid without meeting anything hard is missing")
                .given(text)
                .accepted("none and the depth the rod reached")
                .example("none 18 in"))
        } else {
            typed::<ProbeDepth>("hard_from", &depth, Dimension::Depth.unit(self.about.units))
        };
        let depth_cm = self.take(at, read)?;
        let point = ProbePoint {
            place: self.row.bag.trim().to_owned(),
            readings: vec![ProbeReading { depth_cm, resistance_mpa: None, rod: Some(rod) }],
            stuck_at_cm: None,
        };
        let seen =
            Seen::Probe(ProbeSeen { moisture: self.about.moisture, tracks: false, points: vec![point] });
        self.accepted(seen, &[("", Column::HardFrom)])
    }

    /// Figures of one bag make one printout.
    fn figures(&mut self) -> Option<Seen> {
        let mut report = LabReport::new(self.about.laboratory.trim());
        for (at, column) in self.columns.iter().enumerate() {
            let (Column::Figure(heading), Some((_, text))) = (column, self.typed(column)) else { continue };
            let read = book::read_lab_cell(heading, text);
            match self.take(at, read) {
                Some(LabCell::Figure(figure)) => report.figures.push(figure),
                Some(LabCell::Recommended(rate)) => report.recommended.push(rate),
                None => {}
            }
        }
        if report.figures.is_empty() && report.recommended.is_empty() {
            return None;
        }
        if let Err(refusal) = report.check() {
            let at = self.columns.iter().position(|one| matches!(one, Column::Figure(_)));
            self.refused.push((at.unwrap_or(0), refusal));
            return None;
        }
        Some(Seen::LabReport(report))
    }
}

/// "no ball", "no ribbon", "35 mm gritty", "1 1/4 in s", "2 in".
fn feel(text: &str, about: &ResultsAbout) -> Result<FeelReading, Refusal> {
    let lower = text.to_lowercase();
    let unlike = |what: &str| {
        Refusal::new("feel", format!("{text:?} {what}"))
            .given(text)
            .accepted(
                "no ball, no ribbon, or the length of the ribbon and how it rubs: gritty (g), smooth (s), neither (n)",
            )
            .example(Dimension::SmallLength.example(about.units).to_owned() + " gritty")
    };
    let answers = match lower.as_str() {
        "no ball" => Answers { ball_holds: Some(false), ..Answers::default() },
        "no ribbon" => Answers { ball_holds: Some(true), ribbon: Some(Ribbon::None), rub: None },
        lower => {
            let (length, rub) = match lower.rsplit_once(' ').map(|(length, rub)| (length, rub_of(rub))) {
                Some((length, Some(rub))) => (length, Some(rub)),
                _ => (lower, None),
            };
            let length: RibbonLength =
                typed("feel", length.trim().trim_end_matches(','), Dimension::SmallLength.unit(about.units))
                    .map_err(|refusal| Refusal { message: refusal.message, ..unlike("is no feel test") })?;
            Answers { ball_holds: Some(true), ribbon: Some(Ribbon::BrokeAtMm(length)), rub }
        }
    };
    answers.reading(about.hand).ok_or_else(|| unlike("leaves the ball or the ribbon open"))
}

fn rub_of(word: &str) -> Option<Rub> {
    match word {
        "g" | "gritty" => Some(Rub::Gritty),
        "s" | "smooth" => Some(Rub::Smooth),
        "n" | "neither" => Some(Rub::Neither),
        _ => None,
    }
}
