//! Why a sheet could not be made.

use ground::kit::Refusal;

/// Why a sheet could not be made.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// What was asked for cannot be: which measure, and what is accepted. All others are faults of the program.
    #[error("{0}")]
    Refused(#[from] Refusal),
    /// What the sheet says could not be written as JSON.
    #[error("the sheet could not be put into words: {0}")]
    Data(#[from] serde_json::Error),
    /// The template could not be laid out.
    #[error("the sheet could not be laid out: {0}")]
    Layout(String),
    /// The pages could not be written as PDF.
    #[error("the pages could not be written as PDF: {0}")]
    Pdf(String),
}
