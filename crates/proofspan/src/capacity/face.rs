//! A face of a section.

crate::choice! {
    /// A face of the section.
    pub enum Face ("face", source::SOURCE_CHOICE) {
        /// The upper one, in tension under a hogging moment.
        Top = "top",
        /// The lower one, in tension under a sagging moment.
        Bottom = "bottom",
    }
}
