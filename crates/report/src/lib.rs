//! Printed sheets as PDF: the work plan, what to spread on each bed, the buying list.
//!
//! A sheet is a plain struct of words that are ready to read ([`WorkSheet`], [`SpreadSheet`], [`BuyingSheet`]) and a
//! template that lays it out. [`render`] sets any [`Sheet`] with the fonts that are built in: it reads no file, asks
//! no clock and no network, and gives the same bytes for the same sheet and day.
//!
//! To add a sheet: one struct that implements [`Sheet`], one template beside the others, one line in `templates.rs`.

mod buying;
mod covers;
mod error;
mod farm_plan;
pub mod field;
mod fonts;
mod maps;
mod options;
mod plain;
mod plan_shape;
mod posts;
mod render;
mod sheet;
mod spread;
mod templates;
mod work;
mod work_plan;
mod world;

pub use buying::{BuyingLine, BuyingSheet};
pub use covers::{
    CoverBar, CoverMark, CoverMonth, CoverPlot, CoverRow, CoverSeedLine, CoverSheet, covers_pdf, covers_sheet,
};
pub use error::SheetError;
pub use farm_plan::{buying_list_pdf, buying_sheet, spread_pdf, spread_sheet};
pub use maps::{MapPart, MapPictures, MapSheet, map_pdf, map_pictures, map_sheet, zones_picture};
pub use options::{Paper, SheetOptions};
pub use plan_shape::{plan_shape, plan_shape_among_beds};
pub use posts::{PostPart, PostSheet, post_sheet, posts_pdf};
pub use render::render;
pub use sheet::{Caution, Picture, Sheet};
pub use spread::{SpreadBed, SpreadLine, SpreadSheet};
pub use templates::Template;
pub use work::{WorkGroup, WorkLine, WorkSheet};
pub use work_plan::{work_plan_pdf, work_sheet};
