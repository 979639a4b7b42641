//! Certified layouts against general linear and cone solvers (microlp, clarabel), and where a grid
//! of places goes wrong between them.

mod terrace_parts;

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, NonnegativeConeT};
use microlp::{ComparisonOp, OptimizationDirection, Problem as Lp, SolveOutcome};
use proofspan::beam::{Beam, Load, Response, Side, Support};
use proofspan::equivalent::*;
use proofspan::units::*;
use terrace_parts::strip;

fn near(value: f64, exact: f64, tolerance: f64) -> bool {
    (value - exact).abs() <= tolerance * exact.abs()
}

/// Two spans (invented), sagging in doubt in the first; see `certified.rs`.
fn two_spans() -> (Beam, Reference) {
    let supports = [0.0, 8.0, 14.0].map(|x| Support::bearing(x * M)).to_vec();
    let beam = Beam::new(14.0 * M, supports, vec![(0.0 * M, 162_000.0 * KN_M2)]).unwrap();
    let load = vec![
        Load::uniform(0.0 * M, 8.0 * M, 34.6 * KN_PER_M),
        Load::uniform(8.0 * M, 14.0 * M, 2.6 * KN_PER_M),
    ];
    let terms = vec![("live on A-B".to_owned(), load)];
    let reference = Reference::of_loads(&beam, terms, vec![], Some((2.5 * M, 4.5 * M))).unwrap();
    (beam, reference)
}

const PLACES: [f64; 6] = [1.5, 2.5, 3.5, 4.5, 5.5, 6.5];

/// Rows `M(x) >= M_ref(x)` at so many places of the region, kN and m.
fn rows(beam: &Beam, reference: &Reference, points: u32) -> Vec<(Vec<f64>, f64)> {
    let units: Vec<Response> =
        PLACES.iter().map(|x| beam.response(&[Load::point(*x * M, 1.0 * KN)]).unwrap()).collect();
    (0..=points)
        .map(|i| {
            let x = (2.5 + 2.0 * f64::from(i) / f64::from(points)) * M;
            let a = units.iter().map(|u| u.moment(x, Side::Left).unwrap().to(KN_M)).collect();
            (a, reference.terms()[0].1.moment(x, Side::Left).unwrap().to(KN_M))
        })
        .collect()
}

/// Least total force by microlp.
fn by_simplex(rows: &[(Vec<f64>, f64)]) -> (f64, Vec<f64>) {
    let mut lp = Lp::new(OptimizationDirection::Minimize);
    let p: Vec<_> = PLACES.iter().map(|_| lp.add_var(1.0, (0.0, f64::INFINITY))).collect();
    for (a, b) in rows {
        let row: Vec<_> = p.iter().copied().zip(a.iter().copied()).collect();
        lp.add_constraint(&row, ComparisonOp::Ge, *b);
    }
    let SolveOutcome::Solution(solved) = lp.solve().unwrap() else { panic!("interrupted") };
    (solved.objective(), p.iter().map(|v| solved[*v]).collect())
}

/// Least total force by an interior-point method.
fn by_interior_point(rows: &[(Vec<f64>, f64)]) -> f64 {
    let n = PLACES.len();
    let m = n + rows.len();
    let (mut starts, mut indices, mut values) = (vec![0], Vec::new(), Vec::new());
    for j in 0..n {
        indices.push(j);
        values.push(-1.0);
        for (i, (a, _)) in rows.iter().enumerate() {
            indices.push(n + i);
            values.push(-a[j]);
        }
        starts.push(indices.len());
    }
    let right: Vec<f64> = vec![0.0; n].into_iter().chain(rows.iter().map(|r| -r.1)).collect();
    let a = CscMatrix::new(m, n, starts, indices, values);
    let settings = DefaultSettings { verbose: false, ..DefaultSettings::default() };
    let none = CscMatrix::zeros((n, n));
    let cones = [NonnegativeConeT(m)];
    let mut solver =
        DefaultSolver::new(&none, &vec![1.0; n], &a, &right, &cones, settings).unwrap();
    solver.solve();
    solver.solution.obj_val
}

#[test]
fn general_solvers_agree_and_a_grid_falls_short_between_its_places() {
    let (beam, reference) = two_spans();
    let asked = [Requirement::reach(Effect::Moment, 2.5 * M, 4.5 * M)];
    let jacks: Vec<Candidate> = PLACES.iter().map(|x| Candidate::jack(*x * M)).collect();
    let answer = optimise(&beam, &reference, &jacks, &asked, &[Objective::total()]).unwrap();
    let found = answer.optimum().unwrap();
    let own = found.objectives[0] / 1e3;
    let mut last = f64::INFINITY;
    for points in [5, 50, 500] {
        let rows = rows(&beam, &reference, points);
        let (simplex, p) = by_simplex(&rows);
        let interior = by_interior_point(&rows);
        assert!(near(simplex, interior, 1e-6), "{simplex} {interior}");
        // fewer rows ask less: the grid's answer is a little too small
        assert!(simplex <= own * (1.0 + 1e-9), "{simplex} {own}");
        let forces: Vec<Net<Force>> = p.iter().map(|p| Net((*p * KN).max(Force::ZERO))).collect();
        let none = Deviations::none();
        let checked = as_built(&beam, &reference, &asked, &jacks, &forces, &none).unwrap();
        let short = 1.0 - checked.worst().unwrap().fidelity.value();
        assert!(short < last, "{short} {last}");
        last = short;
        if points == 5 {
            assert!(short > 1e-4, "a coarse grid is short between its places: {short}");
        }
        if points == 500 {
            assert!(near(simplex, own, 1e-5), "{simplex} {own}");
        }
    }
    assert!(found.confirmation.violation <= 0.0);
}

#[test]
fn uncertain_forces_by_cones() {
    // one line, u = 1 %, k = 2: P = (2098760/117)/0.98 lbf
    let target = strip("a");
    let reference = Reference::from(&target);
    let asked =
        [Effect::Shear, Effect::Moment].map(|e| Requirement::reach(e, 0.0 * FT, 6.0 * FT)).to_vec();
    let one = [Candidate::jack(6.0 * FT)];
    let solve = |jacks: &[Candidate], u: &[f64], k: f64| {
        assured(&target.beam, &reference, jacks, &asked, &Objective::total(), (u, k))
            .unwrap()
            .unwrap()
    };
    let found = solve(&one, &[0.01], 2.0);
    let exact = 2_098_760.0 / 117.0 / 0.98;
    assert!(near(found.forces[0].0.to(LBF), exact, 1e-6), "{:?} {exact}", found.forces);
    assert!(near(exact, 18_304.204, 1e-7));
    // no uncertainty: the linear answer
    let lines = [3.0, 6.0].map(|x| Candidate::jack(x * FT));
    let plain = solve(&lines, &[0.0, 0.0], 2.0);
    let linear = optimise(&target.beam, &reference, &lines, &asked, &[Objective::total()]).unwrap();
    assert!(near(plain.objective, linear.optimum().unwrap().objectives[0], 1e-6));
    // independent jacks need less than jacks that err together
    let apart = solve(&lines, &[0.01, 0.01], 2.0);
    let area = 0.002 * M2;
    let together: Vec<Candidate> =
        lines.iter().map(|c| c.clone().on_source("pump", area)).collect();
    let shared = solve(&together, &[0.01, 0.01], 2.0);
    let alone =
        optimise(&target.beam, &reference, &together, &asked, &[Objective::total()]).unwrap();
    assert!(near(shared.objective, alone.optimum().unwrap().objectives[0] / 0.98, 1e-6));
    assert!(apart.objective < plain.objective / 0.98 && apart.objective > plain.objective);
    for f in [&found, &apart, &shared] {
        assert!(f.violation < 1e-7, "{}", f.violation);
    }
    // the peak as objective; refused: what a cone program here does not make small
    let peak = assured(&target.beam, &reference, &one, &asked, &Objective::peak(), (&[0.01], 2.0));
    assert!(near(peak.unwrap().unwrap().objective, (exact * LBF).si(), 1e-6));
    let bad = Objective::overshoot(Effect::Moment, BasisWord::Net);
    let error =
        assured(&target.beam, &reference, &one, &asked, &bad, (&[-1.0, 0.0], 2.0)).unwrap_err();
    let codes: Vec<&str> = error.issues.iter().map(|i| i.slug.code()).collect();
    assert_eq!(codes, ["equivalent.deviation", "equivalent.objective"]);
    // a cap that uncertainty makes impossible
    let mut capped = asked.clone();
    capped.push(Requirement::within(Effect::Moment, BasisWord::Net, 1.24, 5.9 * FT, 6.0 * FT));
    let none =
        assured(&target.beam, &reference, &one, &capped, &Objective::total(), (&[0.01], 2.0));
    assert!(none.unwrap().is_none());
}
