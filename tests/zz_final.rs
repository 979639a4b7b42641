use proofspan::beam::{Beam, Load, Restraint, Side, Support};
use proofspan::equivalent::*;
use proofspan::units::*;
fn beam(end: f64, at: &[f64]) -> Beam {
    Beam::new(
        end * M,
        at.iter().map(|x| Support::bearing(*x * M)).collect(),
        vec![(0.0 * M, 2e4 * KN_M2)],
    )
    .unwrap()
}
fn udl(a: f64, b: f64) -> Vec<Load> {
    vec![Load::uniform(a * M, b * M, 10.0 * KN_PER_M)]
}
fn refer(b: &Beam, l: Vec<Load>, r: (f64, f64)) -> Reference {
    Reference::of_loads(b, vec![("q".to_owned(), l)], vec![], Some((r.0 * M, r.1 * M))).unwrap()
}
fn reach(e: Effect, s: Option<Sense>, a: f64, b: f64) -> Requirement {
    let q = Requirement::reach(e, a * M, b * M);
    s.map_or(q.clone(), |s| q.in_sense(s))
}
const NEG: Option<Sense> = Some(Sense::Negative);
const POS: Option<Sense> = Some(Sense::Positive);

#[test]
fn f01_found_and_confirmed_with_7e19_newton() {
    let b = beam(14.0, &[2.0, 8.0, 14.0]);
    let r = refer(&b, udl(0.0, 14.0), (0.0, 2.0));
    let a = optimise(
        &b,
        &r,
        &[Candidate::jack(5.75 * M)],
        &[reach(Effect::Moment, NEG, 0.0, 2.0)],
        &[Objective::total()],
    )
    .unwrap();
    assert!(
        a.optimum().is_none(),
        "{:?} violation {:?}",
        a.optimum().unwrap().forces,
        a.optimum().unwrap().confirmation.violation
    );
}
#[test]
fn f01b_error_instead_of_conflict() {
    let b = beam(16.25, &[1.0, 10.25, 16.25]);
    let r = refer(&b, udl(0.0, 1.0), (0.5, 1.0));
    let o = Objective { effect: None, ..Objective::overshoot(Effect::Moment, BasisWord::Net) };
    assert!(
        optimise(
            &b,
            &r,
            &[Candidate::jack(14.0 * M)],
            &[reach(Effect::Moment, NEG, 0.5, 1.0)],
            &[o]
        )
        .is_ok()
    );
}
#[test]
fn f01c_empty_contradiction() {
    let b = beam(16.75, &[1.0, 10.75, 16.75]);
    let r = refer(&b, udl(0.0, 1.0), (0.5, 1.0));
    let Answer::Conflict(c) = optimise(
        &b,
        &r,
        &[Candidate::jack(15.25 * M)],
        &[reach(Effect::Moment, NEG, 0.5, 1.0)],
        &[Objective::peak()],
    )
    .unwrap() else {
        panic!("found")
    };
    assert!(!c.requirements.is_empty() && c.certificate.bound > 0.0, "{}", c.words());
}
#[test]
fn f01d_false_conflict_cap_on_unloaded_overhang() {
    let b = beam(17.0, &[0.0, 8.0, 14.0]);
    let r = refer(&b, udl(0.0, 5.0), (2.0, 3.0));
    let mut bad = 0;
    for k in 1..16 {
        let q = [
            reach(Effect::Moment, POS, 2.0, 3.0),
            Requirement::within(Effect::Moment, BasisWord::Net, 2.0, 14.5 * M, 17.0 * M),
        ];
        if !optimise(&b, &r, &[Candidate::jack(f64::from(k) * 0.5 * M)], &q, &[Objective::total()])
            .unwrap()
            .optimum()
            .is_some_and(|f| f.confirmation.violation <= 0.0)
        {
            bad += 1;
        }
    }
    assert_eq!(bad, 0);
}
#[test]
fn f01e_reach_at_a_bearing() {
    let b = beam(14.0, &[0.0, 8.0, 14.0]);
    let r = refer(&b, udl(0.0, 14.0), (2.0, 5.0));
    let q = [
        reach(Effect::Moment, POS, 2.0, 5.0),
        Requirement::reach_at(Effect::Moment, vec![14.0 * M]),
    ];
    match optimise(&b, &r, &[Candidate::jack(3.0 * M)], &q, &[Objective::total()]) {
        Err(e) => assert!(format!("{:?}", e.issues[0].slug).contains("nothing")),
        Ok(a) => {
            if let Answer::Conflict(c) = &a {
                panic!("{}", c.words())
            }
        }
    }
}
#[test]
fn f02_settled_support() {
    let mut s: Vec<Support> = [0.0, 8.0, 16.0].map(|x| Support::bearing(x * M)).to_vec();
    s[1].settlement = 0.005 * M;
    let b = Beam::new(16.0 * M, s, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap();
    let r = refer(&beam(16.0, &[0.0, 8.0, 16.0]), udl(0.0, 16.0), (2.0, 5.0));
    let a = optimise(
        &b,
        &r,
        &[Candidate::jack(3.0 * M), Candidate::jack(5.0 * M)],
        &[reach(Effect::Moment, POS, 2.0, 5.0)],
        &[Objective::total()],
    )
    .unwrap();
    let f = a.optimum().unwrap();
    assert!(
        (f.objectives[0] - 36_735.426).abs() < 1.0,
        "{:?} violation {}",
        f.forces,
        f.confirmation.violation
    );
}
#[test]
fn f03_second_objective_makes_a_conflict() {
    let mut s: Vec<Support> = [0.0, 6.5, 15.0, 19.0].map(|x| Support::bearing(x * M)).to_vec();
    s[0].rotation = Restraint::Spring(RotationalStiffness::from_si(2774733.064993982));
    s[1].vertical = Restraint::Spring(SpringStiffness::from_si(81934695.91904253));
    let b = Beam::new(26.75 * M, s, vec![(0.0 * M, FlexuralRigidity::from_si(29942651.889839377))])
        .unwrap();
    let l = vec![
        Load::point(2.0 * M, 68217.52065405238 * N),
        Load::uniform(6.5 * M, 15.0 * M, LineLoad::from_si(18899.32774320446)),
    ];
    let r = refer(&b, l, (2.5, 4.0));
    let q = [reach(Effect::Moment, NEG, 2.5, 4.0)];
    let c = [
        Candidate::patch(2.25 * M, 8.25 * M),
        Candidate::jack(10.5 * M),
        Candidate::jack(20.75 * M),
    ];
    let o = [Objective::overshoot(Effect::Moment, BasisWord::Total), Objective::peak()];
    assert!(optimise(&b, &r, &c, &q, &o[..1]).unwrap().optimum().is_some());
    let a = optimise(&b, &r, &c, &q, &o).unwrap();
    if let Answer::Conflict(c) = a {
        panic!("{}", c.words())
    }
}
#[test]
fn f04_sagging_is_positive() {
    let b = beam(14.0, &[0.0, 8.0, 14.0]);
    let r = refer(&b, udl(0.0, 14.0), (1.0, 8.0));
    let c = [Candidate::jack(4.0 * M), Candidate::jack(11.0 * M)];
    for s in [Sense::Sagging, Sense::Hogging] {
        let a = optimise(
            &b,
            &r,
            &c,
            &[reach(Effect::Moment, Some(s), 1.0, 8.0)],
            &[Objective::total()],
        )
        .unwrap();
        let v = a.optimum().unwrap().confirmation.violation;
        assert!(v <= 0.0, "{s:?} {v}");
    }
}
#[test]
fn f04b_confirm_misses_below_two_percent() {
    let b = beam(14.0, &[0.0, 8.0, 14.0]);
    let r = refer(&b, udl(0.0, 14.0), (1.0, 8.0));
    let c = [Candidate::jack(4.0 * M), Candidate::jack(11.0 * M)];
    let v = |s, f: f64, g: f64| {
        confirm(
            &b,
            &r,
            &[reach(Effect::Moment, Some(s), 1.0, 8.0)],
            &c,
            &[Net(f * KN), Net(g * KN)],
        )
        .unwrap()
        .violation
    };
    println!("f04b {} {}", v(Sense::Positive, 68.0, 0.0), v(Sense::Sagging, 68.0, 0.0));
}
#[test]
fn f05_refine_ends() {
    let x = [0.0, 8.0, 16.75, 20.75, 29.75];
    let w = [18.0, 16.0, 13.0, 28.0];
    let mut s: Vec<Support> = x.map(|x| Support::bearing(x * M)).to_vec();
    s[0].rotation = Restraint::Rigid;
    s[4].rotation = Restraint::Rigid;
    let b = Beam::new(29.75 * M, s, vec![(0.0 * M, 7e4 * KN_M2)]).unwrap();
    let r = refer(
        &b,
        (0..4).map(|i| Load::uniform(x[i] * M, x[i + 1] * M, w[i] * KN_PER_M)).collect(),
        (2.25, 5.5),
    );
    let q = [
        reach(Effect::Moment, POS, 2.25, 5.5),
        Requirement::within(Effect::Moment, BasisWord::Total, 3.4, 21.0 * M, 28.25 * M),
    ];
    let c =
        [Candidate::patch(8.5 * M, 12.5 * M), Candidate::jack(9.0 * M), Candidate::jack(4.5 * M)];
    let rooms = [(7.8, 8.8), (8.6, 9.2), (3.8, 5.0)].map(|(a, b)| Room::between(a * M, b * M));
    let o = [Objective::overshoot(Effect::Moment, BasisWord::Total), Objective::total()];
    let (tx, rx) = std::sync::mpsc::channel();
    std::thread::spawn(move || {
        let s = [Stage { name: "a", reference: &r, requirements: &q }];
        let _ = tx.send(refine(&b, &s, &c, &rooms, &o).map(|p| p.tried));
    });
    assert!(rx.recv_timeout(std::time::Duration::from_secs(20)).is_ok(), "still running");
}
#[test]
fn f06_touching() {
    let b = beam(8.0, &[0.0, 8.0]);
    let r = refer(&b, udl(0.0, 8.0), (2.0, 6.0));
    let q = [reach(Effect::Moment, None, 2.0, 6.0)];
    let (p, g) = (Candidate::patch(2.0 * M, 4.0 * M), Candidate::patch(4.0 * M, 6.0 * M));
    let best = |c: &[Candidate]| {
        search(
            &b,
            &[Stage { name: "a", reference: &r, requirements: &q }],
            c,
            2,
            None,
            &[Objective::peak()],
        )
        .unwrap()
        .best
        .unwrap()
        .objectives[0]
    };
    assert_eq!(best(&[p.clone(), g.clone()]), best(&[g, p]));
}
#[test]
fn f07_ties() {
    let b = beam(8.0, &[0.0, 8.0]);
    let r = refer(&b, udl(0.0, 8.0), (5.0, 7.0));
    let q = [reach(Effect::Moment, None, 5.0, 7.0)];
    let c = grid(&Candidate::jack(0.5 * M), 0.5 * M, 7.5 * M, 0.5 * M).unwrap();
    let o = [Objective::uplift(), Objective::peak()];
    let best = search(&b, &[Stage { name: "a", reference: &r, requirements: &q }], &c, 2, None, &o)
        .unwrap()
        .best
        .unwrap();
    let known = optimise(&b, &r, &[c[9].clone(), c[11].clone()], &q, &o).unwrap();
    let known = known.optimum().unwrap().objectives[1];
    assert!(
        !best.exact || best.objectives[1] <= known * (1.0 + 1e-9),
        "{:?} {:?} but 5 m and 6 m: {known}",
        best.candidates,
        best.objectives
    );
}
#[test]
fn f08_group() {
    let b = beam(8.0, &[0.0, 8.0]);
    let r = refer(&b, udl(0.0, 8.0), (2.0, 6.0));
    let q = [reach(Effect::Moment, None, 2.0, 6.0)];
    let c = [3.0, 5.0].map(|x| Candidate::jack(x * M).on_source("pump", 0.002 * M2));
    let s = search(
        &b,
        &[Stage { name: "a", reference: &r, requirements: &q }],
        &c,
        2,
        None,
        &[Objective::total()],
    )
    .unwrap();
    assert!(s.best.is_some(), "{}", s.about);
}
#[test]
fn f09_always() {
    let b = beam(8.0, &[0.0, 8.0]);
    let r = refer(&b, udl(0.0, 8.0), (2.0, 6.0));
    let q = [reach(Effect::Moment, None, 2.0, 6.0)];
    let mut c = [3.0, 5.0].map(|x| Candidate::jack(x * M));
    c.iter_mut().for_each(|c| c.always = true);
    let s = search(
        &b,
        &[Stage { name: "a", reference: &r, requirements: &q }],
        &c,
        2,
        None,
        &[Objective::total()],
    )
    .unwrap();
    assert!(s.best.is_some(), "{}", s.about);
}
#[test]
fn f10_as_built_sense() {
    let b = beam(14.0, &[0.0, 8.0, 14.0]);
    let r = refer(&b, udl(0.0, 14.0), (0.0, 14.0));
    let q = [reach(Effect::Moment, NEG, 0.0, 14.0)];
    let c = [Candidate::jack(2.0 * M)];
    let a = optimise(&b, &r, &c, &q, &[Objective::total()]).unwrap();
    let f = a.optimum().unwrap();
    let d = as_built(&b, &r, &q, &c, &f.forces, &Deviations::none()).unwrap();
    assert!(f.confirmation.violation <= 0.0);
    assert!(d.each[0].fidelity.value() >= 1.0 - 1e-8, "{}", d.each[0].fidelity.value());
}
#[test]
fn f11_as_built_two_percent() {
    let b = beam(8.0, &[0.0, 8.0]);
    let r = refer(&b, udl(0.0, 8.0), (2.0, 6.0));
    let q = [reach(Effect::Shear, None, 2.0, 6.0)];
    let c = [Candidate::jack(4.02 * M)];
    let a = optimise(&b, &r, &c, &q, &[Objective::total()]).unwrap();
    let f = a.optimum().unwrap();
    let d = as_built(&b, &r, &q, &c, &f.forces, &Deviations::none()).unwrap();
    assert!(f.confirmation.violation <= 0.0);
    assert!(d.each[0].fidelity.value() >= 1.0 - 1e-8, "{}", d.each[0].fidelity.value());
}
#[test]
fn f12_as_built_settlement_of_a_determinate_beam() {
    let b = beam(14.0, &[0.0, 8.0, 14.0]).with_hinges(vec![10.0 * M]).unwrap();
    let r = refer(&b, udl(0.0, 14.0), (2.0, 6.0));
    let q = [reach(Effect::Moment, POS, 2.0, 6.0)];
    let c = [Candidate::jack(3.0 * M), Candidate::jack(5.0 * M)];
    let a = optimise(&b, &r, &c, &q, &[Objective::total()]).unwrap();
    let d = as_built(
        &b,
        &r,
        &q,
        &c,
        &a.optimum().unwrap().forces,
        &Deviations { settlement: 0.005 * M, ..Deviations::none() },
    );
    if let Err(e) = d {
        panic!("{}", e.issues[0].message)
    }
}
#[test]
fn f13_sliver_after_zero_crossing() {
    let b = beam(3.5, &[0.0, 3.5]);
    let r = refer(&b, udl(0.0, 3.5), (0.5, 2.5));
    let a = optimise(
        &b,
        &r,
        &[Candidate::jack(1.7500000016 * M)],
        &[reach(Effect::Shear, NEG, 0.5, 2.5)],
        &[Objective::total()],
    )
    .unwrap();
    if let Answer::Found(f) = a {
        assert!(f.confirmation.violation <= 0.0, "{}", f.confirmation.violation)
    }
}
#[test]
fn f14_shear_span_term_without_shear() {
    let b = Beam::cantilever(3.0 * M, 2e4 * KN_M2).unwrap();
    let r = Reference::of_loads(
        &b,
        vec![
            ("q".to_owned(), udl(0.0, 3.0)),
            ("m".to_owned(), vec![Load::moment(1.0 * M, -40.0 * KN_M)]),
        ],
        vec![],
        Some((1.25 * M, 1.5 * M)),
    )
    .unwrap();
    let q = [
        reach(Effect::Moment, NEG, 1.25, 1.5),
        Requirement::ShearSpan(ShearSpan {
            least: Some(1.0 * M),
            most: Some(2.0 * M),
            basis: BasisWord::Net,
            from: None,
            to: None,
        }),
    ];
    println!("f14 moment of m {}", r.terms()[1].1.moment(1.3 * M, Side::Right).si());
    if let Answer::Found(f) =
        optimise(&b, &r, &[Candidate::jack(1.75 * M)], &q, &[Objective::total()]).unwrap()
    {
        assert!(f.confirmation.violation <= 0.0, "{}", f.confirmation.violation)
    }
}
#[test]
fn f15_cap_at_a_place_of_a_jump() {
    let b = beam(8.0, &[0.0, 8.0]);
    let r = refer(&b, vec![Load::point(1.0 * M, 80.0 * KN)], (0.0, 1.0));
    let c = [Candidate::jack(4.0 * M)];
    let q = [
        reach(Effect::Shear, POS, 0.0, 1.0),
        Requirement::Within(Within {
            effect: Effect::Shear,
            basis: BasisWord::Net,
            at_most: 2.0,
            from: None,
            to: None,
            at: vec![1.0 * M],
            case: None,
            floor: 1.0,
        }),
    ];
    let ok = confirm(&b, &r, &q, &c, &[Net(140.0 * KN)]).unwrap().violation <= 0.0;
    let found = optimise(&b, &r, &c, &q, &[Objective::total()]).unwrap().optimum().is_some();
    assert_eq!(ok, found);
}
#[test]
fn f16_raise() {
    let b = beam(8.0, &[0.0, 8.0]);
    let r = refer(&b, udl(0.0, 8.0), (2.0, 6.0));
    let q = [reach(Effect::Moment, None, 2.0, 6.0)];
    let c = [
        Candidate::given(0.0 * M, 8.0 * M, 5.0 * KN_PER_M),
        Candidate::jack(3.0 * M),
        Candidate::jack(5.0 * M),
    ];
    let dev = Deviations { force: 0.02, ..Deviations::none() };
    let a = optimise(&b, &r, &c, &q, &[Objective::total()]).unwrap();
    let f = a.optimum().unwrap();
    let k = as_built(&b, &r, &q, &c, &f.forces, &dev).unwrap().raise.unwrap();
    let up: Vec<Net<Force>> =
        f.forces.iter().zip(&c).map(|(f, c)| if c.always { *f } else { Net(f.0 * k) }).collect();
    let d = as_built(&b, &r, &q, &c, &up, &dev).unwrap();
    assert!(
        d.worst().unwrap().fidelity.value() >= 1.0 - 1e-8,
        "{k} {}",
        d.worst().unwrap().fidelity.value()
    );
}
