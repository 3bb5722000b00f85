//! What a value is in one size of a pattern, with what is declared: numbers, needles, machines, yarns, gauges and charts.
//! No step of the work is known here.

pub(super) mod amount;
pub(super) mod chart;
pub(super) mod context;
pub(super) mod expression;
pub(super) mod gauge;
pub(super) mod machine;
pub(super) mod needles;
pub(super) mod quantity;
pub(super) mod report;
pub(super) mod selection;
pub(super) mod sides;
pub(super) mod targets;
pub(super) mod value;
pub(super) mod yarn;
