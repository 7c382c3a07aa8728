//! Many runs.
pub mod map;
