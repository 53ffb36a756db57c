//! Materials that meet the needs of many beds at least cost, in whole bags.
//!
//! [`problem`] is the question, [`search`] finds the plan, [`plan`] is the answer, and where there is none
//! [`give_way`] says which needs clash.

mod carried;
mod elastic;
pub mod give_way;
pub mod plan;
mod prepared;
pub mod problem;
mod program;
mod search;

pub use carried::Carried;
pub use program::Progress;
pub use search::whole_bag_plan;

crate::kit::method::methods![];
