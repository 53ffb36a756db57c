//! Paper for the field: the sheet of a sampling plan, labels for bags, the jar strip, the feel card, the probe form.

mod boxes;
mod feel_card;
mod field_sheet;
mod jar_strip;
mod label_stock;
mod labels;
mod of_plan;
mod of_samples;
mod plan_picture;
mod probe_form;
mod qr;
mod ruler;

pub use feel_card::{FeelCard, FeelRow, feel_card, feel_card_pdf};
pub use field_sheet::{FieldPoint, FieldSheet};
pub use jar_strip::{JarStrip, JarStripAsk, StripMark, jar_strip, jar_strip_pdf};
pub use label_stock::{LabelStock, Place};
pub use labels::{BagLabel, LabelAsk, LabelSheet, PlacedLabel, label_sheet, labels_pdf};
pub use of_plan::{layer, plan_labels, plan_sheet, plan_sheet_pdf};
pub use of_samples::{sample_labels, samples_to_label};
pub use plan_picture::{PointsPicture, points_picture, sides_m};
pub use probe_form::{ProbeForm, ProbeFormAsk, probe_form, probe_form_pdf};
pub use qr::{qr_modules, qr_svg};
pub use ruler::{Tick, inches, millimetres};
