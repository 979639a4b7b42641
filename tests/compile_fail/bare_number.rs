use proofspan::beam::Load;
use proofspan::units::*;

fn main() {
    let _ = Load::point(6.0, 1.0 * KN);
}
