//! Where water stands and how to lead it away.
