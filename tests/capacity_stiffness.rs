//! Stiffness between uncracked and cracked, deflection over load, and the step on its own.

#[macro_use]
mod digits;

use proofspan::capacity::*;
use proofspan::formula::NoRecord;
use proofspan::source::{Write, read_json, write_json};
use proofspan::units::*;
use proofspan::verdict::State;

fn beam(modulus: f64) -> Section {
    let concrete = Concrete::of(ConcreteStrength::specified(30.0 * MPA)).modulus(modulus * GPA);
    let bars = Bars::of(1473.0 * MM2, 540.0 * MM, SteelStrength::specified(420.0 * MPA));
    Section::of(Shape::rectangle(300.0 * MM, 600.0 * MM), concrete).bars(bars)
}

/// 300 × 600, d 540, 1473 mm², n = 200/(4.7 √30): c 168.380169 mm, I_cr 2.0578076e9 mm⁴; then both
/// formulas at five moments, worked twice with a pencil.
#[test]
fn effective_second_moments_are_the_tabled_ones() {
    let section = beam(4.7 * 30.0_f64.sqrt());
    let cut = section.cut(1.0 * M, 2.0 * M).unwrap();
    let (c, icr) = cut.cracked(Face::Bottom).unwrap();
    agree!(c.to(MM), 168.380_169, max_relative = 1e-8);
    agree!(icr.si() * 1e12, 2.057_807_6e9, max_relative = 1e-7);
    let ig = cut.gross().unwrap().second_moment;
    let question = CrackingQuestion::of(CrackingRule::AciMpa, StrengthSet::Design);
    let mcr = cut.cracking(&mut NoRecord, Face::Bottom, question).unwrap().moment;
    let rows = [
        (40.0, 5.4e9, 5.4e9),
        (60.0, 2.880_056_6e9, 5.4e9),
        (80.0, 2.451_499_7e9, 3.548_664_5e9),
        (120.0, 2.215_971_2e9, 2.499_543_0e9),
        (180.0, 2.125_223_9e9, 2.188_692_2e9),
    ];
    let of = |by: Interaction, ma: f64, load| {
        by.effective(&mut NoRecord, (mcr, ma * KN_M), (ig, icr), load).unwrap().si() * 1e12
    };
    for (ma, new, old) in rows {
        agree!(of(Interaction::TwoThirds, ma, None), new, max_relative = 2e-8);
        agree!(of(Interaction::Cube, ma, None), old, max_relative = 2e-8);
    }
    // I_e/I_g just above two thirds of the cracking moment
    for (ma, share) in [(41.0, 0.98068), (42.0, 0.91308), (45.0, 0.77384), (50.0, 0.64712)] {
        assert!((of(Interaction::TwoThirds, ma, None) / 5.4e9 - share).abs() < 5e-6);
    }
    // tension stiffening with factor 1: 1/I_e = (1 − r²)/I_cr + r²/I_g
    let r = mcr.to(KN_M) / 120.0;
    let want = 1.0 / ((1.0 - r * r) / (icr.si() * 1e12) + r * r / 5.4e9);
    agree!(of(Interaction::Stiffening, 120.0, Some(1.0)), want, max_relative = 1e-10);
    let missing =
        Interaction::Stiffening.effective(&mut NoRecord, (mcr, 120.0 * KN_M), (ig, icr), None);
    assert_eq!(missing.unwrap_err().codes(), ["source.field-missing"]);
    // without steel nothing holds a crack
    let mut plain = section;
    plain.bars = proofspan::source::Several::none();
    let cut = plain.cut(1.0 * M, 2.0 * M).unwrap();
    assert_eq!(cut.cracked(Face::Bottom).unwrap_err().codes(), ["capacity.equilibrium"]);
}

fn deflecting(force: f64, in_place: f64, more: &str) -> Deflecting {
    let section = write_json(&beam(25.0).write());
    read_json(&format!(
        r#"{{"span": "6 m", "section": {section}, "cracking": "ACI 318-19, MPa",
            "in_place": "{in_place} kN/m", "forces": {{"at": "3 m", "force": "{force} kN"}}{more}}}"#
    ))
    .unwrap()
}

#[test]
fn an_uncracked_span_is_p_l_cubed_over_48_e_i() {
    // 20 kN at mid-span of 6 m: 30 kN·m, below two thirds of 61.1
    let found = deflecting(20.0, 0.0, "").predict().unwrap();
    let full = 20e3 * 216.0 / (48.0 * 25e9 * 5.4e-3);
    for step in &found.steps {
        agree!(step.stiff.si(), full * step.share, max_relative = 1e-9);
        agree!(step.soft.si(), full * step.share, max_relative = 1e-9);
    }
    // cracked already: nothing is left of the cracking moment, and every formula says cracked
    let more = r#", "cracked": "cracks mapped along the soffit""#;
    let found = deflecting(20.0, 0.0, more).predict().unwrap();
    let ei = found.cracked.unwrap().si();
    let full = 20e3 * 216.0 / (48.0 * ei);
    for step in &found.steps {
        agree!(step.stiff.si(), full * step.share, max_relative = 1e-9);
        agree!(step.soft.si(), full * step.share, max_relative = 1e-9);
    }
}

/// A span that cracks in its middle, by the integral of m(x) M(x)/(E I_e(x)) in fine steps.
#[test]
fn a_span_that_cracks_is_the_integral_of_its_curvature() {
    let section = beam(25.0);
    let cut = section.cut(3.0 * M, 6.0 * M).unwrap();
    let icr = cut.cracked(Face::Bottom).unwrap().1.si();
    let ig = 5.4e-3;
    let mcr = 0.62 * 30.0_f64.sqrt() * 1e6 * 0.018;
    let effective = |m: f64| {
        let r = (mcr / m).min(1.0);
        let old = icr + (ig - icr) * r.powi(3);
        let s = (2.0 / 3.0 * mcr / m).min(1.0);
        old.min(icr / (1.0 - s * s * (1.0 - icr / ig)))
    };
    let deflection = |share: f64| {
        let n = 60_000;
        (0..n)
            .map(|i| {
                let x = (f64::from(i) + 0.5) * 6.0 / f64::from(n);
                let m = 10e3 * x * (6.0 - x) / 2.0 + share * 60e3 * x.min(6.0 - x);
                x.min(6.0 - x) / 2.0 * m / (25e9 * effective(m)) * 6.0 / f64::from(n)
            })
            .sum::<f64>()
    };
    let found = deflecting(120.0, 10.0, "").predict().unwrap();
    for step in &found.steps {
        let want = deflection(step.share) - deflection(0.0);
        agree!(step.soft.si(), want, max_relative = 3e-3);
        let stiff = step.share * 120e3 * 216.0 / (48.0 * 25e9 * ig);
        agree!(step.stiff.si(), stiff, max_relative = 1e-9);
        assert!(step.soft >= step.stiff);
    }
    let more = r#", "at": "7 m", "steps": [0.5, 1.5]"#;
    let section = write_json(&beam(25.0).write());
    let wrong = format!(
        r#"{{"span": "6 m", "section": {section}, "cracking": "EN 1992-1-1:2004", "in_place": "0 kN/m",
            "forces": {{"at": "8 m", "force": "1 kN"}}{more}}}"#
    );
    let codes = read_json::<Deflecting>(&wrong).unwrap_err().codes();
    assert_eq!(codes.iter().filter(|c| **c == "capacity.place").count(), 2, "{codes:?}");
    assert!(codes.contains(&"source.share"), "{codes:?}");
}

#[test]
fn a_section_alone_says_what_it_assumes() {
    let json = r#"{
        "section": {
            "shape": {"kind": "tee", "height": "22 in", "web": "15 in", "flange": "96 in", "flange_depth": "3 in"},
            "concrete": "5000 psi",
            "bars": {"area": "1 in^2", "depth": "20 in", "yields": "60 ksi", "from": "1 ft", "development": "4 ft"},
            "tendons": {"area": "1.3 in^2", "bond": "unbonded", "breaks": "270 ksi", "yields": "243 ksi",
                "modulus": "28500 ksi", "effective": "170 ksi",
                "profile": {"kind": "parabolic", "left": "9 in", "middle": "19 in"}}
        },
        "code": "ACI 318-19", "cracking": "ACI 318-19, psi", "at": "3 ft", "length": "45 ft",
        "scatter": {"tension": 0.15, "prestress": 0.05}, "moment": "200 kip*ft"
    }"#;
    let json = json.replace("kip*ft", "kip ft");
    let asked: SectionStrength = read_json(&json).unwrap();
    let found = asked.predict().unwrap();
    let codes: Vec<&str> = found.notes.iter().map(|n| n.slug.code()).collect();
    for code in [
        "capacity.assumed",
        "capacity.mean-unstated",
        "capacity.design-missing",
        "capacity.anchored-in-part",
        "editions.value-unconfirmed",
    ] {
        assert!(codes.contains(&code), "{code}: {codes:?}");
    }
    assert!(found.notes[0].message.to_string().contains("not an approval"));
    assert!(found.transformed.is_none() && found.stiffness.is_empty());
    assert!(found.flexure.iter().all(|f| f.set == StrengthSet::Expected));
    assert!(found.working().recheck().is_empty());
    assert!(found.left_out.iter().any(|l| l.contains("shear")));
    // by the middle the tendon lies far below the core
    let middle = json.replace(r#""at": "3 ft""#, r#""at": "22.5 ft""#);
    let found = read_json::<SectionStrength>(&middle).unwrap().predict().unwrap();
    let codes: Vec<&str> = found.notes.iter().map(|n| n.slug.code()).collect();
    assert!(codes.contains(&"capacity.beyond-core"), "{codes:?}");
    let nowhere = json.replace(r#""at": "3 ft", "length": "45 ft","#, "");
    let refused = read_json::<SectionStrength>(&nowhere).unwrap_err();
    assert_eq!(refused.codes(), ["capacity.place"]);
    // short forms are the long ones
    let long = json.replace(
        r#""concrete": "5000 psi""#,
        r#""concrete": {"strength": {"specified": "5000 psi"}}"#,
    );
    assert_eq!(read_json::<SectionStrength>(&long).unwrap(), asked);
    let small = json.replace("5000 psi", "5 psi");
    let refused = read_json::<SectionStrength>(&small).unwrap_err();
    assert_eq!(refused.codes(), ["capacity.magnitude-fc"]);
}

#[test]
fn uncracked_is_said_only_beyond_the_scatter() {
    // M_cr 61.1258 kN·m, 15 % of it: 9.169; pass to 42.78, fail beyond 79.47
    let ask = |moment: f64, scatter: &str| {
        let section = write_json(&beam(25.0).write());
        let json = format!(
            r#"{{"section": {section}, "code": "EN 1992-1-1:2004", "cracking": "ACI 318-19, MPa",
                "moment": "{moment} kN·m"{scatter}, "reductions": {{"concrete": 1.5, "steel": 1.15}}, "load_factor": 0.5}}"#
        );
        read_json::<SectionStrength>(&json).unwrap().predict().unwrap()
    };
    let scatter = r#", "scatter": {"tension": 0.15}"#;
    let state = |m: f64| ask(m, scatter).stays_uncracked.unwrap();
    assert_eq!(state(42.0), State::Pass);
    assert_eq!(state(44.0), State::Inconclusive);
    assert_eq!(state(79.0), State::Inconclusive);
    assert_eq!(state(80.0), State::Fail);
    assert_eq!(ask(42.0, "").stays_uncracked, Some(State::Inconclusive));
    let found = ask(80.0, scatter);
    assert_eq!(found.stiffness.len(), 1);
    assert_eq!(found.stiffness[0].effective.len(), 3);
    assert_eq!(found.flexure.len(), 2);
}
