//! `record feel`.

use book::model::Seen;
use clap::Args;

use super::About;
use crate::args::Global;
use crate::commands::feel::FeelAnswers;
use crate::report::Report;
use crate::shelf;
use crate::terminal::Terminal;
use crate::trouble::Trouble;

/// Options of `record feel`.
#[derive(Debug, Args)]
pub(crate) struct RecordFeel {
    #[command(flatten)]
    about: About,
    #[command(flatten)]
    answers: FeelAnswers,
}

impl RecordFeel {
    pub(crate) fn run(self, global: &Global, terminal: &Terminal) -> Result<Report, Trouble> {
        let farm = shelf::read(&self.about.book)?.snapshot()?.farm.body.units;
        let reading = self.answers.reading(global.system_or(farm), terminal)?;
        self.about.store(Seen::Feel(reading), global, terminal)
    }
}
