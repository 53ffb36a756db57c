//! Why a sheet could not be made.

/// Why a sheet could not be made. What a grower typed never leads here: it is a fault of the program.
#[derive(Debug, thiserror::Error)]
pub enum SheetError {
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
