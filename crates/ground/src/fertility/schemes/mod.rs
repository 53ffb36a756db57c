//! Published schemes that turn a laboratory's figure into a class and a class into a rate.

crate::kit::method::methods![];
