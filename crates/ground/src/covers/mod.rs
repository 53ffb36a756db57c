//! Cover crops, what they need and what they leave.

crate::kit::method::methods![];
