//! Results of many bags typed on one screen, with the keyboard alone.

use advice::results::{
    Column, ResultRow, ResultsAbout, known_figures, may_be_second, plan_rows, probe_moisture, read_results,
    read_table, record_results, table_refusals, usual_columns,
};
use advice::words::counted;
use askama::Template;
use book::model::seen::{MoistureFeel, SalinityExtract};
use book::model::{EntryId, SampleDepth, SamplingPlan, SamplingPurpose, Spot};
use book::{BookError, Held, RowRefusal, Snapshot, Tag};
use ground::kit::units::{Dimension, UnitSystem};
use ground::kit::{Bounded, Refusal};
use ground::texture::feel::Hand;
use ground::texture::jar::Dispersant;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::columns::{self, COLUMNS, columns_of};
use super::grid::{self, Grid, Kept};
use super::plan_of;
use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader, Width};
use crate::problem::{Problem, capital};
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::typed::Typed;
use crate::when;

const SECOND_READING: &str = "second_reading";

/// What is the same for all rows. The cells are `bag_0`, `cell_0_0`, `note_0` and so on, under the headings named by
/// `column`, as often as there are columns.
pub(super) const FIELDS: &[Field] = &[
    Field::day("seen_on", "Day", "On which it was taken and read"),
    Field::text("seen_by", "Who", "").optional().width(Width::Middle),
    Field::measure("from", "Taken from which depth", "0 is the surface", Dimension::Depth),
    Field::measure("to", "Down to which depth", "", Dimension::Depth),
    Field::pick(
        "hand",
        "The hand that felt",
        "",
        &[
            Choice::new("new", "New to it"),
            Choice::new("practised", "Taught, and has done a few dozen"),
            Choice::new("professional", "Feels soil for a living"),
        ],
    )
    .optional(),
    Field::pick(
        "dispersant",
        "What was put into the jars",
        "",
        &[
            Choice::new("dishwasher_powder", "Dishwasher powder or water softener"),
            Choice::new("hexametaphosphate", "Sodium hexametaphosphate"),
            Choice::new("liquid_soap", "Liquid soap"),
            Choice::new("none", "Nothing"),
            Choice::new("unknown", "Not known"),
        ],
    )
    .width(Width::Full)
    .optional(),
    Field::pick(
        "moisture",
        "How moist the ground was under the probe",
        "",
        &[
            Choice::new("dry", "Dry: it falls apart"),
            Choice::new("slightly_moist", "Slightly moist: a weak ball"),
            Choice::new("moist", "Moist: a ball with finger marks"),
            Choice::new("wet", "Wet: it leaves the hand damp"),
            Choice::new("field_capacity", "At field capacity: water shows for a moment"),
        ],
    )
    .width(Width::Full)
    .optional(),
    Field::pick(
        "extract",
        "What conductivity was measured in",
        "",
        &[
            Choice::new("saturated_paste", "Extract of the saturated paste"),
            Choice::new("one_to_one", "One part soil, one part water"),
            Choice::new("one_to_two", "One part soil, two parts water"),
            Choice::new("one_to_five", "One part soil, five parts water"),
            Choice::new("not_stated", "Not said"),
        ],
    )
    .width(Width::Full)
    .optional(),
    Field::tick(
        SECOND_READING,
        "These are second readings",
        "Kept beside what the book has of the same bag and day",
    ),
    Field::text("laboratory", "Laboratory", "Left open for a meter of your own").optional().width(Width::Middle),
    Field::lines(
        "table",
        "Or the whole table",
        "A line of headings (bag, sand_top, silt_top, clay_top, feel, pH, hard_from, note ...), then a line for each bag",
    )
    .optional(),
];

#[derive(Template, Serialize)]
#[template(path = "field/enter.html")]
pub(super) struct EnterPage {
    #[serde(skip)]
    pub(super) shell: Shell,
    title: String,
    /// How deep the plan's bags are taken.
    layer: Option<String>,
    plot: EntryId,
    plot_name: String,
    plan: Option<EntryId>,
    grid: Grid,
    /// Fields that matter for the columns shown.
    #[serde(skip)]
    asked: Vec<&'static str>,
    #[serde(skip)]
    pub(super) form: Form,
    #[serde(skip)]
    pub(super) choose: Form,
}

/// What the screen is for.
pub(super) struct For<'a> {
    plot: EntryId,
    plot_name: String,
    plan: Option<&'a Held<SamplingPlan>>,
}

impl<'a> For<'a> {
    fn plan(ask: &Ask, snapshot: &'a Snapshot) -> Result<Self, Problem> {
        let plan = plan_of(ask, snapshot)?;
        let plot = snapshot
            .plot(plan.body.plot)
            .ok_or_else(|| Problem::not_found("The plot of this sampling plan was withdrawn."))?;
        Ok(Self { plot: plot.id, plot_name: plot.body.name.clone(), plan: Some(plan) })
    }

    fn plot(ask: &Ask, snapshot: &Snapshot) -> Result<Self, Problem> {
        let plot = ask.plot(snapshot)?;
        Ok(Self { plot: plot.id, plot_name: plot.body.name.clone(), plan: None })
    }

    pub(super) fn purpose(&self) -> Option<SamplingPurpose> {
        self.plan.map(|plan| plan.body.purpose)
    }

    /// What stands before each row, beside it, on its bag, and what the book has of it.
    fn rows(&self, snapshot: &Snapshot, count: usize, units: UnitSystem) -> Vec<grid::RowHead> {
        let Some(plan) = self.plan else { return vec![grid::RowHead::default(); count] };
        let in_place = self.purpose() == Some(SamplingPurpose::Structure);
        let what = if in_place { "Point" } else { "Bag" };
        plan_rows(&plan.body)
            .into_iter()
            .map(|row| {
                let label = Tag::Bag { plan: plan.id, number: row.number }.short().to_string();
                let sample = snapshot.sample_coded(&label).map(|sample| sample.id);
                // A push of the probe is kept by its point, and in no bag.
                let spot = in_place.then(|| Spot::numbered(plan.id, row.number));
                let known = known_figures(snapshot, sample, spot, units);
                grid::RowHead {
                    words: format!("{what} {}", row.number),
                    beside: label,
                    bag: row.number.to_string(),
                    kept: known.into_iter().map(Kept::from).collect(),
                }
            })
            .collect()
    }

    /// The form as it is first drawn.
    pub(super) fn usual(&self, form: Form, ask: &Ask) -> Form {
        let to = if ask.units() == UnitSystem::Metric { "15" } else { "6" };
        form.with("seen_on", when::day_of(ask.stamp().at).to_string())
            .with("seen_by", ask.who.as_deref().unwrap_or_default())
            .with("from", "0")
            .with("to", to)
            .with("hand", "new")
            .with("dispersant", "dishwasher_powder")
            .with("extract", "not_stated")
    }
}

fn of_key<T: DeserializeOwned>(key: &str) -> Option<T> {
    serde_json::from_value(Value::String(key.to_owned())).ok()
}

/// The screen with these columns, and what was typed into its cells.
pub(super) fn page(
    ask: &Ask,
    snapshot: &Snapshot,
    of: &For<'_>,
    columns: &[Column],
    rows: usize,
    typed: &Typed,
) -> EnterPage {
    let title = of.plan.map_or_else(
        || format!("Type results in: {}", of.plot_name),
        |plan| format!("Type results in: {}", plan.body.name),
    );
    let grid = Grid::new(columns, of.rows(snapshot, rows, ask.units()));
    let mut form = grid.form(typed);
    for row in grid.rows.iter().filter(|row| !row.bag.is_empty()) {
        form = form.set(&row.bag_field, &row.bag);
    }
    let has = |any: &[Column]| columns.iter().any(|column| any.contains(column));
    let mut asked = vec!["seen_on", "seen_by"];
    // A plan says how deep.
    if of.plan.is_none() && columns.iter().any(|column| *column != Column::HardFrom) {
        asked.extend(["from", "to"]);
    }
    if has(&[Column::Feel]) {
        asked.push("hand");
    }
    if has(&[Column::SandTop, Column::SiltTop, Column::ClayTop]) {
        asked.push("dispersant");
    }
    if has(&[Column::HardFrom]) {
        asked.push("moisture");
    }
    if has(&[Column::Conductivity]) {
        asked.push("extract");
    }
    if columns.iter().any(|column| matches!(column, Column::Figure(_))) {
        asked.push("laboratory");
    }
    // It is asked where the book says otherwise of a bag.
    if typed.text(SECOND_READING).is_some() {
        asked.push(SECOND_READING);
    }
    let figures: Vec<&str> =
        columns.iter().filter(|column| matches!(column, Column::Figure(_))).map(Column::key).collect();
    let plain = columns.iter().filter(|column| !matches!(column, Column::Figure(_))).map(Column::key);
    let choose = ask
        .form(COLUMNS)
        .set_all("columns", plain)
        .set("figures", figures.join("; "))
        .set("rows", grid.rows.len().to_string());
    EnterPage {
        shell: ask.shell(Section::Record, title.clone()),
        title,
        layer: of
            .plan
            .filter(|plan| plan.body.purpose != SamplingPurpose::Structure)
            .map(|plan| report::field::layer(plan.body.from_cm.get(), plan.body.to_cm.get(), ask.units())),
        plot: of.plot,
        plot_name: of.plot_name.clone(),
        plan: of.plan.map(|plan| plan.id),
        grid,
        asked,
        form,
        choose,
    }
}

pub(super) fn of_plan(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    columns::show(ask, &snapshot, &For::plan(ask, &snapshot)?)
}

pub(super) fn of_plot(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    columns::show(ask, &snapshot, &For::plot(ask, &snapshot)?)
}

pub(super) fn save_plan(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    save(ask, &snapshot, &For::plan(ask, &snapshot)?)
}

pub(super) fn save_plot(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    save(ask, &snapshot, &For::plot(ask, &snapshot)?)
}

fn save(ask: &Ask, snapshot: &Snapshot, of: &For<'_>) -> Outcome {
    if ask.body.text(columns::REDRAW).is_some() {
        return columns::redraw(ask, snapshot, of);
    }
    let names: Vec<&str> = ask.body.all("column").collect();
    let mut read = ask.reader(FIELDS);
    let columns = columns_of(&names, of.purpose());
    // The columns that stand above what was typed come back with it.
    let above = columns.as_ref().ok().cloned().unwrap_or_else(|| usual_columns(of.purpose()));
    let typed = grid::typed_rows(&ask.body, above.len());
    let in_rows = typed.iter().filter(|row| !row.is_empty()).count();
    let (columns, rows, lines) = match (read.text("table"), columns) {
        (Some(table), _) if in_rows > 0 => {
            let rows = counted(in_rows, "row", "rows");
            read.refuse(
                Refusal::new(
                    "table",
                    format!("A whole table was given and {rows} typed: only one of them can be kept"),
                )
                .given(table.chars().take(60).collect::<String>())
                .accepted("the table with the rows left open, or the rows with the table left open")
                .example("keep the rows first, then paste the table"),
            );
            (above.clone(), Vec::new(), Some(Vec::new()))
        }
        (Some(table), _) => match read_table(table) {
            Ok((columns, rows, lines)) => (columns, rows, Some(lines)),
            Err(refused) => {
                refused.into_iter().for_each(|row| read.refuse(of_line(row)));
                (usual_columns(of.purpose()), Vec::new(), Some(Vec::new()))
            }
        },
        (None, Ok(columns)) => (columns, typed, None),
        (None, Err(refusal)) => {
            read.refuse(Refusal { field: String::new(), ..refusal });
            (usual_columns(of.purpose()), Vec::new(), None)
        }
    };
    let can_be_read = !read.is_refused();
    let about = about(ask, &mut read, of, &columns, &rows);
    let mut in_cells = Vec::new();
    // Whatever else is refused, the cells are read too: every refusal is told at once.
    let results = Some(about).filter(|_| can_be_read).and_then(|about| {
        match read_results(snapshot, about, &columns, &rows) {
            Ok(results) => Some(results),
            Err(refused) => {
                let in_units = |refusal: Refusal| refusal.in_units(ask.units());
                match &lines {
                    Some(lines) => {
                        table_refusals(refused, lines)
                            .into_iter()
                            .for_each(|row| read.refuse(in_units(of_line(row))));
                    }
                    None => in_cells = refused.into_iter().map(grid::at_field).map(in_units).collect(),
                }
                None
            }
        }
    });
    // Everything typed comes back, each reason at its cell.
    let shown_columns = if lines.is_some() { above } else { columns };
    let count = rows.len().max(in_rows).clamp(grid::USUAL_ROWS, grid::MOST_ROWS);
    let again = |of_fields: &[Refusal], of_cells: &[Refusal]| {
        let mut again = page(ask, snapshot, of, &shown_columns, count, &ask.body);
        if of_fields.iter().chain(of_cells).any(may_be_second) && !again.asked.contains(&SECOND_READING) {
            again.asked.push(SECOND_READING);
        }
        let mut form = Form::filled(FIELDS, ask.units(), &ask.body).and(again.form.clone());
        for refusal in of_fields.iter().chain(of_cells) {
            form.refuse(refusal.clone());
        }
        let all = of_fields.iter().chain(of_cells).cloned().collect();
        Problem::form(all, EnterPage { shell: again.shell.refused(), form, ..again })
    };
    let Some(results) = results.filter(|_| !read.is_refused()) else {
        return Err(again(read.refusals(), &in_cells));
    };
    let kept = match ask.write(|book, stamp| record_results(book, &results, stamp))? {
        Ok(kept) => kept,
        Err(BookError::Refused(mut refusal)) => {
            for (of_book, of_form) in
                [("from_cm", "from"), ("to_cm", "to"), ("seen_by", "seen_by"), ("taken_by", "seen_by")]
            {
                if refusal.field == of_book {
                    refusal.field = of_form.to_owned();
                }
            }
            return Err(again(&[refusal.in_units(ask.units())], &[]));
        }
        Err(other) => return Err(again(&[Refusal::new("", capital(&other.to_string()))], &[])),
    };
    Shown::kept(format!("/plots/{}?done=kept", of.plot), kept)
}

fn of_line(row: RowRefusal) -> Refusal {
    let RowRefusal { line, refusal } = row;
    let message = match refusal.field.as_str() {
        "" => format!("Line {line}: {}", refusal.message),
        column => format!("Line {line}, {column}: {}", refusal.message),
    };
    Refusal { field: "table".to_owned(), message, ..refusal }
}

/// What is the same for all rows. What is refused stands in as the form first has it, so that the cells can be read.
fn about(
    ask: &Ask,
    read: &mut Reader<'_>,
    of: &For<'_>,
    columns: &[Column],
    rows: &[ResultRow],
) -> ResultsAbout {
    let on = read.day_gone("seen_on");
    let by = read.text("seen_by").unwrap_or_default().to_owned();
    let in_place = columns.iter().all(|column| *column == Column::HardFrom);
    let untold = ask.body.text("from").is_none() && ask.body.text("to").is_none();
    let (from, to): (Option<SampleDepth>, Option<SampleDepth>) = match of.plan {
        Some(plan) if untold => (Some(plan.body.from_cm), Some(plan.body.to_cm)),
        // Nothing goes into a bag: its depth is of no matter.
        None if untold && in_place => (None, None),
        _ => (read.measure("from"), read.measure("to")),
    };
    let hand = read.choice("hand").and_then(of_key::<Hand>).unwrap_or(Hand::New);
    let dispersant = read.choice("dispersant").and_then(of_key::<Dispersant>).unwrap_or_default();
    let extract =
        read.choice("extract").and_then(of_key::<SalinityExtract>).unwrap_or(SalinityExtract::NotStated);
    let laboratory = read.text("laboratory").unwrap_or_default().to_owned();
    let moisture = read.choice("moisture").and_then(of_key::<MoistureFeel>);
    let moisture = match probe_moisture(columns, rows, moisture) {
        Err(_) if read.is_refused_at("moisture") => None,
        said => read.take(said),
    };
    // Which bag it is and what the book has of it hangs on what was refused.
    let second_reading = read.tick(SECOND_READING) || read.is_refused();
    ResultsAbout {
        plot: of.plot,
        plan: of.plan.map(|plan| plan.id),
        on: on.unwrap_or_else(|| when::day_of(ask.stamp().at)),
        by,
        from_cm: from.unwrap_or(SampleDepth::literal(0.0)),
        to_cm: to.unwrap_or(SampleDepth::literal(15.0)),
        hand,
        dispersant,
        moisture: moisture.unwrap_or(MoistureFeel::Moist),
        extract,
        laboratory,
        second_reading,
        units: ask.units(),
    }
}
