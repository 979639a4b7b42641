use proofspan::units::*;

fn main() {
    let _ = 1.0 * KN_PER_M + 1.0 * KN_M;
}
