//! The one door: the list of commands, typed, with coded faults.
