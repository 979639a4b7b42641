//! What will the member do, and how will it fail first?

pub mod shear;
