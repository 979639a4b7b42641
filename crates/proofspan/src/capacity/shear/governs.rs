//! What decides a shear strength.

crate::choice! {
    /// Which part of a formula decides a shear strength.
    pub enum Governs ("part of a formula", source::SOURCE_CHOICE) {
        /// ACI 318-19 (a), at least minimum stirrups.
        ExpressionA = "expression (a)",
        /// ACI 318-19 (b), at least minimum stirrups.
        ExpressionB = "expression (b)",
        /// ACI 318-19 (c), size effect, less than minimum stirrups.
        ExpressionC = "expression (c)",
        /// The approximate expression of prestressed members.
        Prestressed = "prestressed, approximate",
        /// Flexure-shear cracking.
        FlexureShear = "flexure-shear cracking",
        /// Web-shear cracking.
        WebShear = "web-shear cracking",
        /// EN 1992-1-1, concrete without stirrups.
        Concrete = "concrete without stirrups",
        /// Its least value.
        Least = "least value of the concrete",
        /// An end region without bending cracks.
        Uncracked = "principal tension, uncracked",
        /// Stirrups that yield.
        Stirrups = "stirrups yield",
        /// Struts that crush.
        Struts = "struts crush",
    }
}
