//! Files, whole: regular ones only are read, and to a limit; what is written is there as a whole or not at all. Knows nothing of
//! what is in them.

pub mod read;
pub mod write;
