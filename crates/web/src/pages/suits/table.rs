//! Crops against plots, as a table.

use std::sync::Arc;

use advice::suits::{SuitsTable, tell};
use askama::Template;
use book::model::EntryId;
use ground::kit::Refusal;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form};
use crate::parts::Firmness;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

/// What the table can be narrowed by.
const FILTER: &[Field] = &[
    Field::pick(
        "show",
        "Crops",
        "",
        &[
            Choice::new("grown", "What the farm grows"),
            Choice::new("fits", "What suits some plot as it is"),
            Choice::new("misfits", "What suits no plot as it is"),
        ],
    )
    .optional(),
    Field::pick("plot", "Plot", "", &[]).optional(),
];

#[derive(Template, Serialize)]
#[template(path = "suits/table.html")]
struct TablePage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    table: SuitsTable,
    #[serde(skip)]
    lead: String,
    #[serde(skip)]
    rows: Vec<RowView>,
    #[serde(skip)]
    narrowed: bool,
    #[serde(skip)]
    form: Form,
}

struct RowView {
    key: String,
    name: String,
    grown: bool,
    own: String,
    cells: Vec<CellView>,
}

struct CellView {
    plot: EntryId,
    plot_name: String,
    verdict: &'static str,
    in_the_way: String,
    firmness: Firmness,
    odds: String,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let (places, _told) = super::places_of(&desk, &snapshot);
    let whole: Arc<SuitsTable> =
        desk.derived(&snapshot, "crops against plots", |snapshot| advice::suits::table(snapshot, &places));
    let lead = tell::lead(&whole);
    let mut table = (*whole).clone();
    let mut form = ask
        .form_from_query(FILTER)
        .choices("plot", snapshot.plots.iter().map(|plot| (plot.id.to_string(), plot.body.name.clone())));
    let (show, plot) = (ask.query.text("show"), ask.query.text("plot"));
    if let Some(text) = show
        && !FILTER[0].choices().iter().any(|choice| choice.value == text)
    {
        form.refuse(
            Refusal::new("show", "Crops: that is not one of the answers")
                .given(text)
                .accepted("grown, fits or misfits")
                .example("grown"),
        );
    }
    if let Some(text) = plot {
        if let Some(at) = table.plots.iter().position(|head| head.id.to_string() == text) {
            table.plots = vec![table.plots.swap_remove(at)];
            for row in &mut table.rows {
                row.cells = vec![row.cells.swap_remove(at)];
            }
        } else {
            form.refuse(
                Refusal::new("plot", "Plot: this book has no such plot")
                    .given(text)
                    .accepted("a plot of the list")
                    .example("leave it out for all of them"),
            );
        }
    }
    table.rows.retain(|row| {
        let fits = row.cells.iter().any(|cell| cell.verdict == ground::siting::Verdict::Suits);
        match show {
            Some("grown") => row.crop.grown,
            Some("fits") => fits,
            Some("misfits") => !fits,
            _ => true,
        }
    });
    let rows = table
        .rows
        .iter()
        .map(|row| RowView {
            key: row.crop.key.clone(),
            name: advice::words::capital(&row.crop.name),
            grown: row.crop.grown,
            own: row.crop.own_names.join(", "),
            cells: row
                .cells
                .iter()
                .map(|cell| CellView {
                    plot: cell.plot,
                    plot_name: cell.plot_name.clone(),
                    verdict: cell.verdict_words,
                    in_the_way: if cell.verdict == ground::siting::Verdict::Suits {
                        String::new()
                    } else {
                        cell.in_the_way_words.iter().take(3).copied().collect::<Vec<_>>().join(", ")
                    },
                    firmness: cell.firmness.into(),
                    odds: advice::words::odds(cell.odds),
                })
                .collect(),
        })
        .collect();
    let shell = ask.shell(Section::Farm, "What suits where");
    Shown::page(TablePage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        table,
        lead,
        rows,
        narrowed: show.is_some() || plot.is_some(),
        form,
    })
}
