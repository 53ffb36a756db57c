//! Reading the tables that are compiled in.

pub(in crate::water) use crate::kit::table::rows;
