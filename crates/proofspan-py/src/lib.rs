//! Python glue.
