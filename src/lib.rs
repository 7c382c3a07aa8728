//! quietseat
pub mod dual;
pub mod indicator;
pub mod output;
pub mod physics;
pub mod scenario;
pub mod simulate;
pub mod solver;
pub mod study;
pub mod trace;
pub mod units;
pub mod verdict;
