//! Solvers that know no balloon: packing, schedule, loading; each with a checker.
