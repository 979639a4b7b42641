use proofspan::units::*;
use proofspan::*;
use std::sync::Arc;
use std::time::Instant;
fn t(name: &str, mut f: impl FnMut()) {
    for _ in 0..2000 {
        f();
    }
    let s = Instant::now();
    for _ in 0..20000 {
        f();
    }
    println!("{name}: {:.2} us", s.elapsed().as_secs_f64() / 20000.0 * 1e6);
}
fn main() {
    let json = std::fs::read_to_string("examples/scenarios/terrace_strip.test.json")
        .unwrap()
        .replace("cast_in_place", "seated");
    let spec = Arc::new(TestSpec::from_json(&json).unwrap());
    let d = design(spec.clone()).unwrap();
    let b = &d.target.beam;
    let nom = d.target.nominal.clone();
    t("design", || {
        std::hint::black_box(design(spec.clone()).unwrap());
    });
    t("load_set", || {
        let e = spec.edition.edition().unwrap();
        std::hint::black_box(
            e.load_set(&spec.edition, &spec.loads.present(), &Default::default()).unwrap(),
        );
    });
    t("target", || {
        std::hint::black_box(
            target::target(b, nom.clone(), &d.set, &spec.scope.doubt, d.target.unit).unwrap(),
        );
    });
    t("layout", || {
        std::hint::black_box(
            equivalent::layout(&d.target, &spec.layout, spec.scope.doubt.mode, Some(17.6 * IN))
                .unwrap(),
        );
    });
    let lines = d.layout.forces();
    t("verify", || {
        std::hint::black_box(
            equivalent::verify(
                b,
                &d.target,
                &lines,
                &[equivalent::Effect::Shear, equivalent::Effect::Moment],
            )
            .unwrap(),
        );
    });
    t("rig", || {
        std::hint::black_box(rig::check(&spec.rig, "T4", d.target.unit, &lines, 5.0 * MM).unwrap());
    });
    t("advice", || {
        std::hint::black_box(rig::least_counterweight(
            45.0 * FT,
            608.0 * PLF,
            &[(6.0 * FT, lines[0].1.0)],
            1.0 * KN_M,
            1.4,
        ));
    });
    t("clone design", || {
        std::hint::black_box(d.clone());
    });
}
