//! How long is a strength in flexure, and what does a member of many sections cost?

use divan::Bencher;
use proofspan::beam::{Beam, Load};
use proofspan::capacity::*;
use proofspan::formula::NoRecord;
use proofspan::source::read_json;
use proofspan::units::*;

fn main() {
    divan::main();
}

fn tee() -> Section {
    let concrete = Concrete::of(ConcreteStrength::specified(35.0 * MPA)).modulus(30.0 * GPA);
    let shape = Shape::tee(900.0 * MM, 80.0 * MM, 250.0 * MM, 650.0 * MM);
    let yields = SteelStrength::specified(420.0 * MPA);
    let strand = (SteelStrength::specified(1676.0 * MPA), SteelStrength::specified(1862.0 * MPA));
    let tendon = Tendon::grouted(
        600.0 * MM2,
        Profile::parabolic(300.0 * MM, 550.0 * MM),
        strand,
        196.5 * GPA,
        1100.0 * MPA,
    );
    Section::of(shape, concrete)
        .bars(Bars::of(1000.0 * MM2, 600.0 * MM, yields.clone()))
        .bars(Bars::of(400.0 * MM2, 45.0 * MM, yields))
        .tendon(tendon)
}

#[divan::bench(args = [FlexureCode::Aci, FlexureCode::En])]
fn flexure_of_a_prestressed_tee(bencher: Bencher<'_, '_>, code: FlexureCode) {
    let cut = tee().cut(5.0 * M, 10.0 * M).unwrap();
    let asked = FlexureQuestion::of(code);
    bencher.bench_local(|| {
        cut.flexure(&mut NoRecord, Face::Bottom, StrengthSet::Expected, &asked).unwrap()
    });
}

/// Some forty places along a member, each cracked and bent to failure in two sets.
#[divan::bench]
fn predictions_along_a_member(bencher: Bencher<'_, '_>) {
    let section = proofspan::source::write_json(&proofspan::source::Write::write(&tee()));
    let json = format!(
        r#"{{"sections": {{"section": {section}}}, "code": "ACI 318-19", "cracking": "ACI 318-19, MPa",
            "reductions": {{"flexure": 0.9}}}}"#
    );
    let spec: CapacitySpec = read_json(&json).unwrap();
    let beam = Beam::simple(10.0 * M, 1e5 * KN_M2).unwrap();
    let dead = beam.response(&[Load::uniform(0.0 * M, 10.0 * M, 10.0 * KN_PER_M)]).unwrap();
    let test = beam.response(&[Load::point(5.0 * M, 100.0 * KN)]).unwrap();
    bencher.bench_local(|| spec.along(&dead, &test).unwrap());
}

/// One reinforced section in shear: concrete, stirrups and what decides.
#[divan::bench]
fn shear_of_one_section(bencher: Bencher<'_, '_>) {
    use proofspan::capacity::shear::{AciForm, AciWeb, reinforced};
    let web = AciWeb {
        fc: 30.0 * MPA,
        lambda: 1.0,
        b: 300.0 * MM,
        d: 550.0 * MM,
        rho: 0.008,
        axial: Force::ZERO,
        gross: 180_000.0 * MM2,
        av: 157.0 * MM2,
        spacing: 200.0 * MM,
        fyt: 420.0 * MPA,
        minimum: true,
    };
    bencher.bench_local(|| {
        reinforced(&mut NoRecord, &AciForm::METRIC, divan::black_box(&web)).nominal
    });
}

/// A million of them as columns.
#[divan::bench(sample_count = 10)]
fn a_million_shear_strengths(bencher: Bencher<'_, '_>) {
    use proofspan::capacity::shear::{ShearColumns, ShearEdition};
    let strength = (0..1_000_000).map(|i| (20.0 + f64::from(i % 40)) * MPA).collect();
    let many = ShearColumns {
        code: ShearEdition::AciMetric,
        strength,
        width: vec![300.0 * MM],
        depth: vec![550.0 * MM],
        tension_steel: vec![1320.0 * MM2],
        stirrups: None,
    };
    bencher.bench_local(|| many.strengths().unwrap());
}
