//! How long is the check of a rig and its catch, a stack of levels, the choice of whole blocks?

use divan::Bencher;
use divan::counter::ItemsCount;
use proofspan::beam::{Beam, Load};
use proofspan::rig::{Blocks, Press, RigSpec, check, place_blocks};
use proofspan::scope::Mode;
use proofspan::shoring::{self, Resting, ShoringSpec, Stacked, Surroundings, stack};
use proofspan::source::read_json;
use proofspan::units::*;
use proofspan::verdict::MemberUnit;

fn main() {
    divan::main();
}

/// The rig of the terrace strip and two catches under it, statically determinate.
#[divan::bench]
fn rig_and_shoring(bencher: Bencher<'_, '_>) {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/scenarios/terrace_strip.test.json");
    let text = std::fs::read_to_string(path).unwrap();
    let document: serde_json::Value = serde_json::from_str(&text).unwrap();
    let rig: RigSpec = read_json(&document["rig"].to_string()).unwrap();
    let catches: ShoringSpec = read_json(&document["shoring"].to_string()).unwrap();
    let press = [Press::jack(6.0 * FT, Net(17_938.12 * LBF))];
    let beam = Beam::simple(45.0 * FT, FlexuralRigidity::from_si(1e8)).unwrap();
    let in_place = [Load::uniform(0.0 * FT, 45.0 * FT, 704.0 * PLF)];
    bencher.counter(ItemsCount::new(1_usize)).bench(|| {
        let around = Surroundings {
            unit: MemberUnit::Strip,
            beam: &beam,
            regions: &[(Mode::Shear, 0.0 * FT, 6.0 * FT)],
            depth: 22.0 * IN,
            in_place: &in_place,
            on_it: &[Resting::jack(6.0 * FT, 17_938.12 * LBF)],
            rig_weight: &[],
            spring_back: 0.29 * IN,
            fractions: &[Ratio::from_si(0.5), Ratio::from_si(1.0)],
            reading: &|_| 0.2 * IN,
        };
        let rig = check(&rig, "T4", MemberUnit::Strip, &press, 0.2 * IN).unwrap();
        (rig, shoring::check(&catches, &around).unwrap())
    });
}

/// Ten levels, each with posts and a gap of its own.
#[divan::bench]
fn ten_levels(bencher: Bencher<'_, '_>) {
    let one = |i: i32| {
        let k = |k: f64| SpringStiffness::per(k * KN, 1.0 * MM);
        let posts = (k(40.0 - f64::from(i)), 0.1 * f64::from(i) * MM);
        Stacked { level: k(10.0 + f64::from(i)), posts: (i < 9).then_some(posts) }
    };
    let levels: Vec<Stacked> = (0..10).map(one).collect();
    bencher.bench(|| stack(&levels, 500.0 * KN));
}

/// Forty units of three kinds in two places, the fewest lifts.
#[divan::bench]
fn forty_units(bencher: Bencher<'_, '_>) {
    let blocks: Blocks = read_json(
        r#"{ "kinds": [
            { "id": "a", "weight": "10 kN", "length": "1 m", "width": "1 m", "layers": 4, "number": 15 },
            { "id": "b", "weight": "7 kN", "length": "0.75 m", "width": "1 m", "layers": 4, "number": 15 },
            { "id": "c", "weight": "5 kN", "length": "0.5 m", "width": "1 m", "layers": 4, "number": 10 } ],
          "places": [ { "from": "0.5 m", "to": "3.5 m", "carries": "1000 kPa" },
            { "from": "4.5 m", "to": "8 m", "carries": "1000 kPa" } ] }"#,
    )
    .unwrap();
    let lines = [(4.0 * M, 180.0 * KN)];
    bencher.bench(|| {
        place_blocks(&blocks, (10.0 * M, 8.0 * KN_PER_M), &lines, 20.0 * KN_M, 5.0 / 3.0).unwrap()
    });
}
