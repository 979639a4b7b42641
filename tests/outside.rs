//! Outside is refused in the core: places off the member, stretches that run backwards, cases of different
//! beams, patterns that do not fit; and what grows without end has a limit that is said.

use std::time::Instant;

use proofspan::beam::*;
use proofspan::editions::EditionChoice;
use proofspan::equivalent::*;
use proofspan::loads::{Loads, MOST_PIECES, ponding};
use proofspan::scope::Doubt;
use proofspan::source::read_json;
use proofspan::target::{Asked, Target, reference};
use proofspan::units::*;
use proofspan::verdict::MemberUnit;

fn simple(l: f64) -> Beam {
    Beam::simple(l * M, 2e4 * KN_M2).unwrap()
}

fn loaded(l: f64) -> Response {
    let beam = simple(l);
    beam.response(&[Load::uniform(0.0 * M, beam.length(), 3.0 * KN_PER_M)]).unwrap()
}

fn line(n: usize) -> Beam {
    let supports = (0..=n).map(|i| Support::bearing(4.0 * i as f64 * M)).collect();
    Beam::new(4.0 * n as f64 * M, supports, vec![(0.0 * M, 2e4 * KN_M2)]).unwrap()
}

fn target_on(beam: &Beam) -> Result<Target, proofspan::Error> {
    let loads: Loads = read_json(
        r#"{"width":"1 m","actions":[{"action":"self_weight","area":"5 kPa","in_place":1},{"action":"live","area":"3 kPa"}]}"#,
    )
    .unwrap();
    let doubt: Doubt = read_json(r#"{"mode":"flexure","from":"1 m","to":"3 m"}"#).unwrap();
    let choice = EditionChoice::of("ACI 437.2-13");
    reference(beam, &loads, &choice, std::slice::from_ref(&doubt), MemberUnit::Strip, None)
        .map(|r| r.1)
}

fn code<T>(found: Result<T, proofspan::Error>) -> Vec<&'static str> {
    found.err().map_or_else(Vec::new, |e| e.codes())
}

const OFF: [&str; 1] = ["beam.place-outside"];

#[test]
fn places_off_the_member() {
    let (a, l) = (loaded(8.0), Side::Left);
    let envelope = Envelope::of(vec![loaded(8.0), loaded(8.0)]).unwrap();
    let influence = simple(8.0).influence(InfluenceOf::Moment(3.0 * M)).unwrap();
    let target = target_on(&simple(8.0)).unwrap();
    for x in [-0.001, 8.001, 1e9, f64::NAN, f64::INFINITY] {
        let x = x * M;
        assert_eq!(code(a.shear(x, l)), OFF, "{x}");
        assert_eq!(code(a.moment(x, l)), OFF);
        assert_eq!(code(a.line_load(x, l)), OFF);
        assert_eq!(code(a.rotation(x)), OFF);
        assert_eq!(code(a.deflection(x)), OFF);
        assert_eq!(code(a.sample(&[1.0 * M, x], l, Segment::moment)), OFF);
        assert_eq!(code(a.extremes_of(0.0 * M, x, Segment::moment)), OFF);
        assert_eq!(code(a.shear_extremes(x, 8.0 * M)).first(), Some(&OFF[0]));
        assert_eq!(code(a.moment_extremes(0.0 * M, x)), OFF);
        assert_eq!(code(a.deflection_extremes(0.0 * M, x)), OFF);
        for by in [By::Shear, By::Moment, By::Deflection] {
            assert_eq!(code(envelope.at(by, x, l)), OFF);
            assert_eq!(code(envelope.pairs(by, x, l)), OFF);
            assert_eq!(code(envelope.extremes(by, 0.0 * M, x)), OFF);
        }
        assert_eq!(code(influence.at(x, l)), OFF);
        assert_eq!(code(target.governing(Asked::Moment, LoadBasis::Net, x, l)), OFF);
        assert_eq!(code(target.shear(x, l)), OFF);
        assert_eq!(code(target.total_shear(x, l)), OFF);
        assert_eq!(code(target.moment(x)), OFF);
        assert_eq!(code(target.total_moment(x)), OFF);
        assert_eq!(code(target.hogging(x)), OFF);
        assert_eq!(code(target.intensity(x, l)), OFF);
        assert_eq!(code(target.total_intensity(x, l)), OFF);
        assert_eq!(code(target.total_pressure(x, l, 1.0 * M)), OFF);
        assert_eq!(code(target.deflection(x)), OFF);
        assert_eq!(code(target.resultant(LoadBasis::Net, 0.0 * M, x)), OFF);
        assert_eq!(code(target.largest(Asked::Shear, LoadBasis::Net, 0.0 * M, x)), OFF);
    }
    // both ends belong to the member, but for rounding
    for x in [0.0, 8.0, 8.0 + 1e-10] {
        assert!(a.moment(x * M, l).unwrap().si().abs() < 1e-3);
    }
}

#[test]
fn stretches_that_run_backwards() {
    let a = loaded(8.0);
    let (from, to) = (5.0 * M, 3.0 * M);
    assert_eq!(code(a.moment_extremes(from, to)), OFF);
    assert_eq!(code(a.extremes_of(from, to, Segment::shear)), OFF);
    let envelope = Envelope::of(vec![loaded(8.0)]).unwrap();
    assert_eq!(code(envelope.extremes(By::Moment, from, to)), OFF);
    let target = target_on(&simple(8.0)).unwrap();
    assert_eq!(code(target.largest(Asked::Shear, LoadBasis::Net, from, to)), OFF);
    assert_eq!(code(target.resultant(LoadBasis::Net, from, to)), OFF);
    // one place is a stretch
    assert!(a.moment_extremes(4.0 * M, 4.0 * M).unwrap().max.value > 23.9 * KN_M);
    let reference = reference_on(&simple(8.0));
    let test = loaded(8.0);
    let ratio = |test: &Response, a: f64, b: f64| {
        largest_ratio(&reference, test, Effect::Moment, BasisWord::Net, (a * M, b * M))
    };
    assert_eq!(code(ratio(&test, 5.0, 3.0)), OFF);
    assert_eq!(code(ratio(&test, 3.0, 8.5)), OFF);
    assert_eq!(code(ratio(&loaded(9.0), 3.0, 5.0)), ["beam.cases"]);
    // 3 against 10 kN/m of one shape
    let found = ratio(&test, 3.0, 5.0).unwrap().unwrap();
    assert!((found.ratio.value() - 0.3).abs() < 1e-9);
}

#[test]
fn cases_of_different_beams() {
    let other = |code: Vec<&str>| assert_eq!(code, ["beam.cases"]);
    other(code(Response::combined(&[])));
    other(code(Response::combined(&[(1.0, &loaded(8.0)), (1.0, &loaded(9.0))])));
    let on_three = line(2).response(&[Load::point(1.0 * M, 1.0 * KN)]).unwrap();
    other(code(Response::combined(&[(1.0, &loaded(8.0)), (1.0, &on_three)])));
    assert_eq!(code(Response::combined(&[(f64::NAN, &loaded(8.0))])), ["units.nonfinite"]);
    other(code(Envelope::of(Vec::new())));
    other(code(Envelope::of(vec![loaded(8.0), loaded(9.0)])));
    assert!(Envelope::of(vec![loaded(8.0), on_three]).is_ok(), "the same length, held otherwise");
    let twice = Response::combined(&[(1.0, &loaded(8.0)), (1.0, &loaded(8.0))]).unwrap();
    // 2 × 3 × 8²/8
    assert!((twice.moment(4.0 * M, Side::Left).unwrap().to(KN_M) - 48.0).abs() < 1e-9);
}

#[test]
fn patterns_and_loads_that_do_not_fit() {
    let beam = line(2);
    let q = Load::uniform(0.0 * M, 8.0 * M, 3.0 * KN_PER_M);
    for marks in [vec![], vec![true], vec![true, false, true]] {
        assert_eq!(code(beam.patterned(&Pattern { loaded: marks }, &[q])), ["beam.pattern"]);
    }
    let both = Pattern { loaded: vec![true, true] };
    let beyond = Load::uniform(0.0 * M, 9.0 * M, 3.0 * KN_PER_M);
    assert_eq!(code(beam.patterned(&both, &[beyond])), ["beam.load-outside"]);
    // a curvature is cut like a line load, never lost
    let warm = Load::Curvature {
        from: 2.0 * M,
        to: 6.0 * M,
        kappa_from: Curvature::from_si(0.0),
        kappa_to: Curvature::from_si(0.004),
    };
    let second = beam.patterned(&Pattern { loaded: vec![false, true] }, &[warm]).unwrap();
    let [Load::Curvature { from, to, kappa_from, kappa_to }] = second[..] else {
        panic!("{second:?}")
    };
    assert!((from.si() - 4.0).abs() < 1e-12 && (to.si() - 6.0).abs() < 1e-12);
    assert!((kappa_from.si() - 0.002).abs() < 1e-15 && (kappa_to.si() - 0.004).abs() < 1e-15);
    let influence = beam.influence(InfluenceOf::Moment(2.0 * M)).unwrap();
    assert_eq!(code(influence.response(&[beyond])), ["beam.load-outside"]);
    assert_eq!(code(influence.response(&[warm])), ["beam.influence-load"]);
    let nan = Load::point(1.0 * M, f64::NAN * KN);
    assert_eq!(code(influence.response(&[nan])), ["units.nonfinite"]);
}

fn reference_on(beam: &Beam) -> Reference {
    let q = Load::uniform(0.0 * M, beam.length(), 10.0 * KN_PER_M);
    Reference::of_loads(beam, vec![("q".to_owned(), vec![q])], Vec::new(), None).unwrap()
}

/// Nothing here may take long or much memory: a limit answers before anything is made.
#[test]
fn what_grows_has_a_limit() {
    let start = Instant::now();
    // patterns: about twice as many as spans, up to a stated number of spans
    for n in [MOST_SPANS + 1, 1_000_000, usize::MAX] {
        let error = usual_patterns(n).unwrap_err();
        assert_eq!(error.codes(), ["beam.pattern"]);
        assert_eq!(error.issues[0].limit.as_deref(), Some("up to 64"));
    }
    let most = usual_patterns(MOST_SPANS).unwrap();
    assert_eq!(most.len(), 2 * MOST_SPANS + 2);
    assert_eq!(code(line(MOST_SPANS + 1).patterns()), ["beam.pattern"]);
    assert_eq!(code(target_on(&line(2000))), ["beam.pattern"]);
    // cases of one beam: each has the breakpoints of all
    let many: Vec<Vec<Load>> =
        (0..2000).map(|i| vec![Load::point(8.0 * f64::from(i) / 2000.0 * M, 1.0 * KN)]).collect();
    let cases: Vec<&[Load]> = many.iter().map(Vec::as_slice).collect();
    let error = simple(8.0).cases(&cases).unwrap_err();
    assert_eq!(error.codes(), ["beam.too-many"]);
    assert_eq!(error.issues[0].limit.as_deref(), Some("up to 2000000 stretches in all"));
    // places of a grid
    let jack = Candidate::jack(1.0 * M);
    for step in [1e-3, 1e-9, 1e-300, 0.0, f64::NAN] {
        assert_eq!(
            code(grid(&jack, 0.0 * M, 20.0 * M, step * M)),
            ["equivalent.stretch"],
            "{step}"
        );
    }
    // carriers: looked at, chosen, moved
    let beam = simple(8.0);
    let reference = reference_on(&beam);
    let asked = [Requirement::Reach(Reach {
        effect: Effect::Moment,
        from: Some(3.0 * M),
        to: Some(5.0 * M),
        at: Vec::new(),
        case: None,
        sense: None,
    })];
    let all = grid(&jack, 0.001 * M, 7.999 * M, 0.001 * M).unwrap();
    let stage = [Stage { name: "test", reference: &reference, requirements: &asked }];
    let goals = [Objective::total()];
    let code_of = |all: &[Candidate], most| code(search(&beam, &stage, all, most, None, &goals));
    assert_eq!(code_of(&all, 2), ["equivalent.candidate"]);
    assert_eq!(code(optimise(&beam, &reference, &all, &asked, &goals)), ["equivalent.candidate"]);
    let few = grid(&jack, 0.25 * M, 7.75 * M, 0.25 * M).unwrap();
    for most in [MOST_CARRIERS + 1, usize::MAX] {
        assert_eq!(code_of(&few, most), ["equivalent.candidate"]);
    }
    let rooms: Vec<Room> = few.iter().map(|_| Room::between(0.5 * M, 7.5 * M)).collect();
    assert_eq!(code(refine(&beam, &stage, &few, &rooms, &goals)), ["equivalent.candidate"]);
    // more than there are is no more than all of them
    assert!(search(&beam, &stage, &few[10..13], usize::MAX, None, &goals).is_ok());
    // pieces of water
    let bed = [(0.0 * M, 0.1 * M), (8.0 * M, 0.1 * M)];
    let gamma = UnitWeight::from_si(9810.0);
    for pieces in [0, 1, MOST_PIECES + 1, usize::MAX] {
        assert_eq!(code(ponding(&beam, &bed, 1.0 * M, gamma, pieces)), ["loads.ponding-pieces"]);
    }
    assert!(start.elapsed().as_secs() < 20, "{:?}", start.elapsed());
}

/// The longest line that is looked at in patterns: terms, envelopes and crossings in seconds.
#[test]
fn the_longest_line_of_spans_ends() {
    let start = Instant::now();
    let target = target_on(&line(MOST_SPANS)).unwrap();
    // one row without live load, two with all patterns
    assert_eq!(target.terms.len(), 1 + 2 * (2 * MOST_SPANS + 2));
    assert!(!target.crossings(Asked::Shear, LoadBasis::Net).is_empty());
    assert!(!target.crossings(Asked::Moment, LoadBasis::Total).is_empty());
    assert!(start.elapsed().as_secs() < 30, "{:?}", start.elapsed());
}
