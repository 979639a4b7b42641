//! How it is solved: rows, exchange, simplex; the closed form of one carrier.

pub(super) mod exchange;
pub(super) mod rows;
pub(super) mod scale;
pub(super) mod simplex;
