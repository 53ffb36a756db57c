//! `posts` and `earthworks`: what the ground of a plot bears.

use std::path::PathBuf;

use advice::earthworks::{EarthworksAsk, EarthworksReport, earthworks};
use advice::posts::{PostAsk, PostReport, posts, tell, usual_post};
use advice::{Options, PlotReport, earthworks as earth, plot_report};
use book::model::{EntryId, Structure};
use book::{Held, Snapshot};
use clap::Args;
use ground::earthworks::excavation::{BottomSide, DigDepth, SideSlope};
use ground::earthworks::pond_lining::PondDepth;
use ground::earthworks::track_gravel::{HeavyVehicles, TrackLength, TrackWidth};
use ground::kit::units::{UnitSystem, in_units};
use ground::kit::{Bounded, Refusal};
use ground::posts::frost_foot::FrostDepth;
use ground::posts::wind_pressure::GustSpeed;

use crate::args::Global;
use crate::commands::farm_args::exposure;
use crate::near::nearest;
use crate::post_args::{PostArgs, given};
use crate::records;
use crate::report::{Report, columns, part, wrapped};
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `posts`.
#[derive(Debug, Args)]
#[command(
    after_help = "A planning aid, not a design. Locate buried services before digging or driving; local code, the maker's
anchoring instructions and a licensed engineer come first; a concrete collar may change what permit a tunnel needs.

Examples:
  spadework posts a.farmbook \"New tunnel\"
  spadework posts a.farmbook \"New tunnel\" --set collar --collar 12in --depth 48in
  spadework posts a.farmbook --plot \"Lower field\" --load 200lb --above 4ft --depth 3ft --json"
)]
pub(crate) struct Posts {
    /// The farm book
    book: PathBuf,
    /// Name of the structure, or its id
    #[arg(required_unless_present = "plot", conflicts_with = "plot")]
    structure: Option<String>,
    /// Name of a plot, for a post that is of no structure
    #[arg(long, value_name = "NAME")]
    plot: Option<String>,
    #[command(flatten)]
    post: PostArgs,
    /// Gust speed of your local code, instead of that of the farm
    #[arg(long, value_name = "SPEED")]
    wind: Option<String>,
    /// What stands upwind: b woods or buildings, c open fields, d flat open ground or water
    #[arg(long, value_name = "LETTER")]
    exposure: Option<String>,
    /// Frost depth of your local code, instead of that of the farm
    #[arg(long, value_name = "DEPTH")]
    frost: Option<String>,
}

impl Posts {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let mut ask = match (&self.structure, &self.plot) {
            (Some(name), _) => of_structure(&snapshot, name)?,
            (None, Some(name)) => {
                let plot = shelf::plot(&snapshot, name)?.id;
                PostAsk { post_given: false, ..PostAsk::of_plot(&snapshot, plot, usual_post(None)) }
            }
            (None, None) => return Err(Trouble::other("a structure or a plot is needed")),
        };
        if self.post.said() {
            ask.post = self.post.put(ask.post, system)?;
            ask.post_given |= self.post.sized();
        }
        if let Some(wind) = given::<GustSpeed>("wind", &self.wind, system)? {
            ask.wind_m_s = Some(wind.get());
        }
        if let Some(frost) = given::<FrostDepth>("frost", &self.frost, system)? {
            ask.frost_m = Some(frost.get());
        }
        if let Some(letter) = &self.exposure {
            ask.exposure = exposure("exposure", letter)?;
            ask.exposure_given = true;
        }
        let told = report_of(&snapshot, &ask)?;
        let text = text(&told, system, terminal);
        Report::new(&told, text)
    }
}

/// The posts of a structure of that name.
pub(super) fn of_structure(snapshot: &Snapshot, name: &str) -> Result<PostAsk, Trouble> {
    let held = structure(snapshot, name)?;
    PostAsk::of_structure(snapshot, held).ok_or_else(|| {
        Refusal::new(
            "structure",
            format!("{} stands on no plot, so that its ground is not known", held.body.name),
        )
        .given(name)
        .accepted("a structure that stands on a plot; spadework correct BOOK ID --set plot=... says which")
        .into()
    })
}

/// Everything about the posts asked for.
pub(super) fn report_of(snapshot: &Snapshot, ask: &PostAsk) -> Result<PostReport, Trouble> {
    let report = plot_of(snapshot, ask.plot)?;
    posts(snapshot, &report, ask)
        .ok_or_else(|| Trouble::other("nothing can be believed of the ground of this plot"))
}

fn plot_of(snapshot: &Snapshot, plot: EntryId) -> Result<PlotReport, Trouble> {
    plot_report(snapshot, plot, &Options { weigh_measurements: false, ..Options::default() })
        .ok_or_else(|| Trouble::other("the plot was withdrawn"))
}

fn structure<'a>(snapshot: &'a Snapshot, name: &str) -> Result<&'a Held<Structure>, Trouble> {
    let named = |one: &&Held<Structure>| one.body.name.trim().eq_ignore_ascii_case(name.trim());
    let mut found: Vec<&Held<Structure>> = snapshot.structures.iter().filter(named).collect();
    if found.is_empty() {
        found = snapshot.structures.iter().filter(|one| records::names(one.id, name)).collect();
    }
    match found[..] {
        [one] => return Ok(one),
        [] => {}
        _ => {
            let refusal =
                Refusal::new("structure", format!("{} structures are called {name:?}", found.len()));
            return Err(Trouble::from(refusal.given(name).accepted("the id of one of them"))
                .hint("spadework list BOOK structure, which shows the ids"));
        }
    }
    let names: Vec<&str> = snapshot.structures.iter().map(|one| one.body.name.as_str()).collect();
    let refusal = Refusal::new("structure", format!("no structure is called {name:?}")).given(name);
    Err(match names.first() {
        None => Trouble::from(refusal.accepted("the name of a structure; this book has none yet"))
            .hint("spadework record structure BOOK NAME --kind high-tunnel --plot PLOT, which adds one"),
        Some(first) => {
            let near = nearest(name, names.iter().copied()).unwrap_or(first);
            refusal.accepted(names.join(", ")).example(near).into()
        }
    })
}

fn text(report: &PostReport, system: UnitSystem, terminal: &Terminal) -> String {
    let said = tell::sentences(report, system);
    let mut text = format!(
        "{}, {}\n{}\n{}",
        report.name,
        report.plot_name,
        wrapped(&said.lead, terminal.width, ""),
        wrapped(&said.post, terminal.width, "")
    );
    let cautions: Vec<String> = report.cautions.iter().map(|caution| in_units(caution, system)).collect();
    part(&mut text, terminal.width, "Take care", &cautions);
    part(&mut text, terminal.width, "Its ground", &said.ground);
    part(&mut text, terminal.width, "How deep", &said.depth);
    part(&mut text, terminal.width, "The wind at which it lets go", &said.wind);
    if !report.feet.is_empty() {
        let mut rows =
            vec![["Way", "May be counted on", "Lets go in", "Concrete"].map(str::to_owned).to_vec()];
        rows.extend(report.feet.iter().map(|foot| {
            vec![
                format!("{}{}", tell::foot_size(foot, system), if foot.chosen { " (chosen)" } else { "" }),
                tell::force_spread(foot.counted_kn, system),
                foot.lets_go_m_s.map(|speed| tell::speed_spread(speed, system)).unwrap_or_default(),
                tell::bags(&foot.bags, system),
            ]
        }));
        text.push_str(&format!("\n\nWays to set it, at the same depth\n{}", columns(&rows, "  ")));
    }
    part(&mut text, terminal.width, "Concrete", &said.concrete);
    part(&mut text, terminal.width, "The ends of the line", &said.ends);
    part(&mut text, terminal.width, "Over the years", &said.years);
    let mut more = said.looks;
    more.extend(report.needs.iter().map(|need| in_units(need, system)));
    part(&mut text, terminal.width, "What would tell more", &more);
    let notes: Vec<String> = report.notes.iter().map(|note| in_units(note, system)).collect();
    part(&mut text, terminal.width, "Notes", &notes);
    let rests: Vec<String> = report.rests_on.iter().map(|line| in_units(line, system)).collect();
    part(&mut text, terminal.width, "What this rests on", &rests);
    text
}

/// Options of `earthworks`.
#[derive(Debug, Args)]
#[command(
    after_help = "A planning aid, not a design. Locate buried services before digging. Never enter an unsupported trench.

Examples:
  spadework earthworks a.farmbook \"Lower field\"
  spadework earthworks a.farmbook \"Lower field\" --track-length 300ft --heavy-per-day 4 --pond-depth 8ft"
)]
pub(crate) struct Earthworks {
    /// The farm book
    book: PathBuf,
    /// Name of the plot
    plot: String,
    /// Length of the access track
    #[arg(long, value_name = "LENGTH")]
    track_length: Option<String>,
    /// Its width
    #[arg(long, value_name = "WIDTH")]
    track_width: Option<String>,
    /// Loaded trucks and tractors a day in the busy season
    #[arg(long, value_name = "COUNT")]
    heavy_per_day: Option<String>,
    /// Length of the trench
    #[arg(long, value_name = "LENGTH")]
    trench_length: Option<String>,
    /// Width of its bottom
    #[arg(long, value_name = "WIDTH")]
    trench_width: Option<String>,
    /// Its depth
    #[arg(long, value_name = "DEPTH")]
    trench_depth: Option<String>,
    /// Length of the bottom of the pond
    #[arg(long, value_name = "LENGTH")]
    pond_length: Option<String>,
    /// Width of its bottom
    #[arg(long, value_name = "WIDTH")]
    pond_width: Option<String>,
    /// Depth of water when full
    #[arg(long, value_name = "DEPTH")]
    pond_depth: Option<String>,
    /// Slope of its sides, horizontal for one vertical
    #[arg(long, value_name = "SLOPE")]
    pond_slope: Option<String>,
}

impl Earthworks {
    /// Tells.
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let snapshot = shelf::read(&self.book)?.snapshot()?;
        let system = global.system_or(snapshot.farm.body.units);
        let usual = EarthworksAsk::default();
        let ask = EarthworksAsk {
            track_length_m: given("track_length", &self.track_length, system)?
                .map_or(usual.track_length_m, TrackLength::get),
            track_width_m: given("track_width", &self.track_width, system)?
                .map_or(usual.track_width_m, TrackWidth::get),
            heavy_per_day: given("heavy_per_day", &self.heavy_per_day, system)?
                .map_or(usual.heavy_per_day, HeavyVehicles::get),
            trench_length_m: given("trench_length", &self.trench_length, system)?
                .map_or(usual.trench_length_m, BottomSide::get),
            trench_width_m: given("trench_width", &self.trench_width, system)?
                .map_or(usual.trench_width_m, BottomSide::get),
            trench_depth_m: given("trench_depth", &self.trench_depth, system)?
                .map_or(usual.trench_depth_m, DigDepth::get),
            pond_length_m: given("pond_length", &self.pond_length, system)?
                .map_or(usual.pond_length_m, BottomSide::get),
            pond_width_m: given("pond_width", &self.pond_width, system)?
                .map_or(usual.pond_width_m, BottomSide::get),
            pond_depth_m: given("pond_depth", &self.pond_depth, system)?
                .map_or(usual.pond_depth_m, PondDepth::get),
            pond_slope: given("pond_slope", &self.pond_slope, system)?
                .map_or(usual.pond_slope, SideSlope::get),
        };
        let id = shelf::plot(&snapshot, &self.plot)?.id;
        let told = earthworks(&snapshot, &plot_of(&snapshot, id)?, &ask)
            .ok_or_else(|| Trouble::other("nothing can be believed of the ground of this plot"))?;
        let text = earth_text(&told, &ask, system, terminal);
        Report::new(&told, text)
    }
}

fn earth_text(
    report: &EarthworksReport,
    ask: &EarthworksAsk,
    system: UnitSystem,
    terminal: &Terminal,
) -> String {
    let said = earth::tell::sentences(report, ask, system);
    let mut text = format!("Earthworks, {}\n{}", report.name, wrapped(&said.lead, terminal.width, ""));
    let cautions: Vec<String> =
        report.cautions.iter().map(|caution| earth::tell::caution(caution, system)).collect();
    part(&mut text, terminal.width, "Take care", &cautions);
    part(&mut text, terminal.width, "An access track", &said.track);
    part(&mut text, terminal.width, "A trench", &said.trench);
    part(&mut text, terminal.width, "A pond", &said.pond);
    part(&mut text, terminal.width, "Notes", &report.notes);
    let rests: Vec<String> = report.rests_on.iter().map(|line| (*line).to_owned()).collect();
    part(&mut text, terminal.width, "What this rests on", &rests);
    text
}
