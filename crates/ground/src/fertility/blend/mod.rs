//! Materials that meet the needs of many beds at least cost, in whole bags.
//!
//! [`problem`] is the question, [`search`] finds the plan, [`plan`] is the answer, and where there is none
//! [`give_way`] says which needs clash. [`catalogue`] lists generic materials.

mod carried;
pub mod catalogue;
mod elastic;
pub mod give_way;
pub mod least_cost;
pub mod plan;
mod prepared;
pub mod problem;
mod program;
mod search;
pub mod whole_bag;

pub use carried::Carried;
pub use program::Progress;
pub use search::whole_bag_plan;

#[cfg(test)]
mod tests;

crate::kit::method::methods![
    least_cost::LeastCostBlend,
    whole_bag::WholeBagPlan,
    catalogue::GenericMaterials,
];
