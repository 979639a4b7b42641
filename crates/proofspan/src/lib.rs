//! proofspan
