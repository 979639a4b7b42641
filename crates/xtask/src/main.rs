//! The commands of this workspace.
fn main() {}
