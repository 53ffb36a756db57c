//! Printed sheets as PDF: the work plan, the buying list.
