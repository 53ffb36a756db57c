//! One file a command.

mod acidity;
mod again;
mod backup;
mod calc;
mod check;
mod completions;
mod correct;
mod cover_choice;
mod covers;
mod demo;
mod et0;
mod export;
mod farm;
mod farm_args;
mod feeding;
mod feel;
mod history;
mod import;
mod input;
mod jar;
mod jar_args;
mod lab;
mod list;
mod man;
mod map;
mod new;
mod plan;
mod plot;
mod posts;
mod print;
mod profile_run;
mod record;
mod sampling;
mod serve;
mod settings;
mod shelf_list;
mod spread;
mod structure;
mod suits;
mod texture;
mod verify;
mod water;
mod water_today;
mod when;
mod withdraw;
mod work;

use clap::Subcommand;

use crate::args::Global;
use crate::report::Report;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Every command.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Make the invented farm, print its ground and decisions, and serve it
    Demo(demo::Demo),
    /// Serve the app, on this computer only
    Serve(serve::Serve),
    /// Make a new farm book
    New(new::New),
    /// Record what was seen, built or decided
    Record(record::Record),
    /// The farm at a glance: every plot, what needs attention, what to measure next
    Farm(farm::Farm),
    /// One plot: what its ground is, how surely, and what follows
    Plot(plot::Plot),
    /// The plan of the farm: show it, add to it, lay out beds, take files in and out
    Plan(plan::Plan),
    /// The water of one plot: what it holds, how it takes water, salts
    Water(water::Water),
    /// What the laboratory's report says of a plot: classes under the farm's scheme, bases, cautions
    Lab(lab::Lab),
    /// The acidity of one plot: its pH, how much lime by which method, sulfur, sodium
    Acidity(acidity::Acidity),
    /// Over the years: what changed on a plot and what is only scatter; without a plot, when to look at what next
    Again(again::Again),
    /// How many cores to pull on a plot, where and how deep; a kept plan, and its points for a phone
    Sampling(Box<sampling::Sampling>),
    /// The structure of one plot: where a hard layer lies, density, when it may be worked, loosen or not
    Structure(structure::Structure),
    /// What each bed of a plot needs, what was given and taken over the years, and where phosphorus goes
    Feeding(feeding::Feeding),
    /// What suits where: crops against plots, the best place for a crop, what suits a plot
    Suits(suits::Suits),
    /// Water today: what each bed needs, why, and which can run together
    Watering(water_today::Watering),
    /// What varies: readings of a property at their places, and a surface where there are enough of them
    Map(map::Map),
    /// Zones of a plot by what varies on it, to take as plots or leave
    Zones(map::Zones),
    /// Covers between crops: the gaps of the beds, seed to have, and what ended covers leave
    Covers(covers::Covers),
    /// Which cover for a gap of a bed, with what speaks for and against each
    CoverChoice(Box<cover_choice::CoverChoice>),
    /// The work plan: what to do, where, how much, when, and what was said of it
    Work(work::Work),
    /// Posts: how deep, what pulls them out, and the wind at which they let go
    Posts(Box<posts::Posts>),
    /// Moving earth on a plot: gravel on a track, a trench, a pond
    Earthworks(Box<posts::Earthworks>),
    /// What to spread on each bed, by the materials of the shelf, at least cost
    Spread(spread::Spread),
    /// What to buy for it, in whole bags
    Buying(spread::Buying),
    /// The shelf: materials, how they are sold, what is in hand
    Shelf(shelf_list::Shelf),
    /// List the records of a book with their ids
    List(list::List),
    /// Show who wrote what, when and why, and what was changed
    History(history::History),
    /// Correct a record; the version before stays in the history
    Correct(Box<correct::Correct>),
    /// Withdraw a record, so that it no longer counts
    Withdraw(withdraw::Withdraw),
    /// Restore a record that was withdrawn
    Restore(withdraw::Restore),
    /// Show or change the farm's name, units, frost dates and worth of an hour
    Settings(Box<settings::Settings>),
    /// Read a jar of settled soil, without a book
    Jar(jar::Jar),
    /// Say when to mark a jar
    When(when::When),
    /// Name the texture class of a make-up, without a book
    Texture(texture::Texture),
    /// Find the texture by feel: ball, ribbon and rub, without a book
    Feel(feel::Feel),
    /// Reference evapotranspiration of a day, without a book
    Et0(Box<et0::ReferenceEt>),
    /// Compute with one published method, JSON in and JSON out
    Calc(calc::Calc),
    /// Follow water down a profile from a file, without a book
    ProfileRun(profile_run::ProfileRun),
    /// Hold the methods against published cases
    Verify(verify::Verify),
    /// Look a whole farm book over
    Check(check::Check),
    /// Copy a farm book and check the copy
    Backup(backup::Backup),
    /// Write a farm book out as one JSON archive or as CSV tables
    Export(export::Export),
    /// Make a book from an archive, or record laboratory results or weather from a table
    Import(import::Import),
    /// Print a sheet as PDF: the work plan, what to spread, the buying list, posts, covers
    Print(print::Print),
    /// Write the completions of a shell
    Completions(completions::Completions),
    /// Write the man page
    Man(man::Man),
}

/// Runs a command.
pub(crate) fn run(command: Command, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
    match command {
        Command::Demo(command) => command.run(global, terminal),
        Command::Serve(command) => command.run(terminal, global.json),
        Command::New(command) => command.run(global),
        Command::Record(command) => command.run(global, terminal),
        Command::Farm(command) => command.run(global, terminal),
        Command::Plot(command) => command.run(global, terminal),
        Command::Suits(command) => command.run(global, terminal),
        Command::Watering(command) => command.run(global, terminal),
        Command::Feeding(command) => command.run(global, terminal),
        Command::Water(command) => command.run(global, terminal),
        Command::Acidity(command) => command.run(global, terminal),
        Command::Again(command) => command.run(global, terminal),
        Command::Sampling(command) => command.run(global, terminal),
        Command::Structure(command) => command.run(global, terminal),
        Command::Lab(command) => command.run(global, terminal),
        Command::Plan(command) => command.run(global, terminal),
        Command::Map(command) => command.run(global, terminal),
        Command::Zones(command) => command.run(global, terminal),
        Command::Covers(command) => command.run(global, terminal),
        Command::CoverChoice(command) => command.run(global, terminal),
        Command::Work(command) => command.run(global, terminal),
        Command::Posts(command) => command.run(global, terminal),
        Command::Earthworks(command) => command.run(global, terminal),
        Command::Spread(command) => command.run(global, terminal),
        Command::Buying(command) => command.run(global, terminal),
        Command::Shelf(command) => command.run(global, terminal),
        Command::List(command) => command.run(terminal),
        Command::History(command) => command.run(global, terminal),
        Command::Correct(command) => command.run(global, terminal),
        Command::Withdraw(command) => command.run(terminal),
        Command::Restore(command) => command.run(terminal),
        Command::Settings(command) => command.run(terminal),
        Command::Jar(command) => command.run(global, terminal),
        Command::When(command) => command.run(global, terminal),
        Command::Texture(command) => command.run(terminal),
        Command::Feel(command) => command.run(global, terminal),
        Command::Et0(command) => command.run(global, terminal),
        Command::Calc(command) => command.run(global),
        Command::ProfileRun(command) => command.run(terminal),
        Command::Verify(command) => command.run(),
        Command::Check(command) => command.run(),
        Command::Backup(command) => command.run(),
        Command::Export(command) => command.run(),
        Command::Import(command) => command.run(global, terminal),
        Command::Print(command) => command.run(global),
        Command::Completions(command) => command.run(),
        Command::Man(command) => command.run(),
    }
}

/// The steps of a computation, for a person.
fn steps(working: &ground::kit::Working) -> String {
    let mut text = "\n\nWorking".to_owned();
    for (number, step) in working.steps.iter().enumerate() {
        text.push_str(&format!(
            "\n{}. {}: {}\n   {}\n   = {}",
            number + 1,
            step.finds,
            step.rule,
            step.with_numbers,
            step.result
        ));
        if let Some(cite) = step.source {
            text.push_str(&format!("\n   [{}, {}]", cite.key, cite.at));
        }
    }
    text
}
