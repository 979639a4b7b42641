//! Strength in flexure: hand calculations, an independent sum over fibres, laws.

#![allow(clippy::float_cmp, reason = "compared as written")]

#[macro_use]
mod digits;

use proofspan::capacity::*;
use proofspan::error::Error;
use proofspan::formula::{NoRecord, Working};
use proofspan::source::{Given, read_json};
use proofspan::units::*;
use proptest::prelude::*;

fn concrete(fc: f64) -> Concrete {
    Concrete::of(ConcreteStrength::specified(fc * MPA))
}

fn bars(area: f64, depth: f64) -> Bars {
    Bars::of(area * MM2, depth * MM, SteelStrength::specified(420.0 * MPA))
}

fn rectangle(fc: f64) -> Section {
    Section::of(Shape::rectangle(300.0 * MM, 600.0 * MM), concrete(fc))
}

fn at(section: &Section, face: Face, asked: &FlexureQuestion<'_>) -> Result<Flexure, Error> {
    let cut = section.cut(5.0 * M, 10.0 * M)?;
    cut.flexure(&mut NoRecord, face, StrengthSet::Design, asked)
}

fn sagging(section: &Section, code: FlexureCode) -> Flexure {
    at(section, Face::Bottom, &FlexureQuestion::of(code)).unwrap()
}

/// β₁ of the rectangular block, f'c in MPa.
fn beta(fc: f64) -> f64 {
    (0.85 - 0.05 * (fc / 6.894_757_293_168_361e-3 - 4000.0) / 1000.0).clamp(0.65, 0.85)
}

#[test]
fn a_beam_with_bars_that_yield_is_its_hand_calculation() {
    // a = A_s f_y/(0.85 f'c b), M = A_s f_y (d − a/2)
    let found = sagging(&rectangle(30.0).bars(bars(1473.0, 540.0)), FlexureCode::Aci);
    let t: f64 = 1473.0 * 420.0;
    let a = t / (0.85 * 30.0 * 300.0);
    agree!(found.moment.si(), t * (540.0 - a / 2.0) * 1e-3, max_relative = 1e-10);
    agree!(found.neutral_axis.to(MM), a / beta(30.0), max_relative = 1e-10);
    assert_eq!((found.mode, found.ductile), (FlexureMode::Yielding, true));
    agree!(found.steel[0].force.si(), t, max_relative = 1e-12);
    // parabola and rectangle of exponent 2, peak 2 ‰ of 3.5 ‰: mean 17/21, centroid 99/238 of c
    let found = sagging(&rectangle(30.0).bars(bars(1473.0, 540.0)), FlexureCode::En);
    let c = t / (17.0 / 21.0 * 30.0 * 300.0);
    agree!(found.neutral_axis.to(MM), c, max_relative = 1e-10);
    agree!(found.moment.si(), t * (540.0 - 99.0 / 238.0 * c) * 1e-3, max_relative = 1e-10);
}

#[test]
fn too_much_steel_does_not_yield() {
    // 0.85 f'c b β₁ c = A_s E 0.003 (d − c)/c
    let found = sagging(&rectangle(30.0).bars(bars(6000.0, 540.0)), FlexureCode::Aci);
    let (k, s) = (0.85 * 30.0 * 300.0 * beta(30.0), 6000.0 * 200e3 * 0.003);
    let c = (-s + (s * s + 4.0 * k * s * 540.0_f64).sqrt()) / (2.0 * k);
    agree!(found.neutral_axis.to(MM), c, max_relative = 1e-10);
    let m = k * c * (540.0 - beta(30.0) * c / 2.0);
    agree!(found.moment.si(), m * 1e-3, max_relative = 1e-10);
    assert_eq!((found.mode, found.ductile), (FlexureMode::Crushing, false));
}

#[test]
fn bars_in_compression_take_the_place_of_concrete() {
    // bottom yields: T = 0.85 f'c (b β₁ c − A') + A' E 0.003 (c − d')/c
    let section = rectangle(30.0).bars(bars(3000.0, 540.0)).bars(bars(1000.0, 60.0));
    let found = sagging(&section, FlexureCode::Aci);
    let (t, f) = (3000.0 * 420.0, 0.85 * 30.0);
    let (k, s) = (f * 300.0 * beta(30.0), 1000.0 * 200e3 * 0.003);
    // k c² + (s − f A' − T) c − s d' = 0
    let b: f64 = s - f * 1000.0 - t;
    let c = (-b + (b * b + 4.0 * k * s * 60.0).sqrt()) / (2.0 * k);
    agree!(found.neutral_axis.to(MM), c, max_relative = 1e-9);
    let steel = s * (c - 60.0) / c;
    assert!(steel < 420.0 * 1000.0, "{steel}");
    let m = k * c * (540.0 - beta(30.0) * c / 2.0) + (steel - f * 1000.0) * 480.0;
    agree!(found.moment.si(), m * 1e-3, max_relative = 1e-9);
}

#[test]
fn a_block_reaches_into_the_web_and_an_axial_force_is_held() {
    let shape = Shape::tee(800.0 * MM, 80.0 * MM, 250.0 * MM, 600.0 * MM);
    let section = Section::of(shape, concrete(25.0)).bars(bars(5000.0, 540.0));
    let found = sagging(&section, FlexureCode::Aci);
    let (t, f) = (5000.0 * 420.0, 0.85 * 25.0);
    let a: f64 = (t / f - 550.0 * 80.0) / 250.0;
    assert!(a > 80.0);
    let m = f * (550.0 * 80.0 * (540.0 - 40.0) + 250.0 * a * (540.0 - a / 2.0));
    agree!(found.moment.si(), m * 1e-3, max_relative = 1e-9);
    // N about the middle of a rectangle: a = (T + N)/(0.85 f'c b)
    let section = rectangle(30.0).bars(bars(1473.0, 540.0));
    for n in [500.0, -200.0] {
        let asked = FlexureQuestion { axial: n * KN, ..FlexureQuestion::of(FlexureCode::Aci) };
        let found = at(&section, Face::Bottom, &asked).unwrap();
        let t: f64 = 1473.0 * 420.0;
        let a = (t + n * 1e3) / (0.85 * 30.0 * 300.0);
        let m = (t + n * 1e3) * (300.0 - a / 2.0) + t * 240.0;
        agree!(found.moment.si(), m * 1e-3, max_relative = 1e-9);
    }
    for n in [9000.0, -9000.0] {
        let asked = FlexureQuestion { axial: n * KN, ..FlexureQuestion::of(FlexureCode::Aci) };
        let refused = at(&section, Face::Bottom, &asked).unwrap_err();
        assert_eq!(refused.codes(), ["capacity.equilibrium"]);
    }
    let plain = at(&rectangle(30.0), Face::Bottom, &FlexureQuestion::of(FlexureCode::Aci));
    assert_eq!(plain.unwrap_err().codes(), ["capacity.equilibrium"]);
}

fn strand(bond: Bond, effective: f64) -> Tendon {
    let strengths =
        (SteelStrength::specified(1676.0 * MPA), SteelStrength::specified(1862.0 * MPA));
    let profile = Profile::straight(500.0 * MM);
    let mut tendon = Tendon::grouted(800.0 * MM2, profile, strengths, 196.5 * GPA, effective * MPA);
    tendon.bond = bond;
    tendon
}

/// The moment by a sum over thin fibres: written from the statics alone.
fn by_fibres(section: &Section, code: FlexureCode, power: Option<(f64, f64, f64)>) -> f64 {
    let (fc, ec) = (40.0e6, 30e9);
    let outline = section.shape.outline();
    let h = outline.height().si();
    let n = 40_000;
    let dz = h / f64::from(n);
    let width: Vec<f64> =
        (0..n).map(|i| outline.width((f64::from(i) + 0.5) * dz * M).si()).collect();
    let z = |i: usize| (i as f64 + 0.5) * dz;
    let area: f64 = width.iter().sum::<f64>() * dz;
    let centroid = width.iter().enumerate().map(|(i, b)| b * z(i)).sum::<f64>() * dz / area;
    let inertia =
        width.iter().enumerate().map(|(i, b)| b * (z(i) - centroid).powi(2)).sum::<f64>() * dz;
    let (ap, ep, fpe, dp) = (800e-6, 196.5e9, 1100e6, 0.5);
    let force = ap * fpe;
    let e = dp - centroid;
    let squeeze = (force / area + force * e * e / inertia) / ec;
    let crushing = if code == FlexureCode::Aci { 0.003 } else { 0.0035 };
    let sums = |c: f64| {
        let (mut n_, mut m) = (0.0, 0.0);
        for (i, b) in width.iter().enumerate() {
            let strain = crushing * (c - z(i)) / c;
            let stress = match code {
                FlexureCode::Aci if z(i) < beta(40.0) * c => 0.85 * fc,
                FlexureCode::En if strain >= 0.002 => fc,
                FlexureCode::En if strain > 0.0 => fc * (1.0 - (1.0 - strain / 0.002).powi(2)),
                _ => 0.0,
            };
            n_ += stress * b * dz;
            m += stress * b * dz * (centroid - z(i));
        }
        let strain = fpe / ep + squeeze + crushing * (dp - c) / c;
        let stress = match power {
            Some((q, k, r)) => {
                let x: f64 = ep * strain / (k * 1676e6);
                (ep * strain * (q + (1.0 - q) / (1.0 + x.powf(r)).powf(1.0 / r))).min(1862e6)
            }
            None => (ep * strain).min(1676e6),
        };
        (n_ - stress * ap, m + stress * ap * e)
    };
    let (mut low, mut high) = (1e-4, h);
    for _ in 0..60 {
        let c = f64::midpoint(low, high);
        if sums(c).0 < 0.0 { low = c } else { high = c }
    }
    sums(f64::midpoint(low, high)).1
}

#[test]
fn prestressed_sections_agree_with_a_sum_over_fibres() {
    let shapes = [
        Shape::rectangle(300.0 * MM, 600.0 * MM),
        Shape::tee(900.0 * MM, 70.0 * MM, 200.0 * MM, 650.0 * MM),
        read_json(r#"{"kind": "hollow", "width": "0.6 m", "height": "0.6 m", "voids": {"number": 2, "diameter": "0.2 m", "depth": "0.2 m"}}"#).unwrap(),
    ];
    // constants of a made-up strand
    let power = (0.03, 1.05, 8.0);
    for shape in shapes {
        for code in [FlexureCode::Aci, FlexureCode::En] {
            for curve in [None, Some(power)] {
                let mut tendon = strand(Bond::Grouted, 1100.0);
                tendon.curve = curve.map(|(q, k, r)| StrandCurve { q, k, r });
                let section =
                    Section::of(shape.clone(), concrete(40.0).modulus(30.0 * GPA)).tendon(tendon);
                let found = sagging(&section, code);
                let want = by_fibres(&section, code, curve);
                // the fibres are a 40 000th of the depth; the concrete in the place of steel is nil:
                // the tendon lies in tension
                agree!(found.moment.si(), want, max_relative = 2e-4);
            }
        }
    }
}

#[test]
fn hogging_is_sagging_upside_down_and_a_topping_of_one_concrete_is_one_section() {
    let up =
        Section::of(Shape::tee(800.0 * MM, 100.0 * MM, 250.0 * MM, 600.0 * MM), concrete(30.0))
            .bars(bars(2000.0, 50.0))
            .bars(bars(900.0, 560.0));
    let inverted = r#"{"kind": "tee", "height": "600 mm", "web": "250 mm", "bottom_flange": "800 mm", "bottom_flange_depth": "100 mm"}"#;
    let down = Section::of(read_json(inverted).unwrap(), concrete(30.0))
        .bars(bars(2000.0, 550.0))
        .bars(bars(900.0, 40.0));
    for code in [FlexureCode::Aci, FlexureCode::En] {
        let asked = FlexureQuestion::of(code);
        let hogging = at(&up, Face::Top, &asked).unwrap();
        agree!(hogging.moment.si(), -sagging(&down, code).moment.si(), max_relative = 1e-10);
    }
    let mut staged =
        Section::of(Shape::rectangle(300.0 * MM, 480.0 * MM), concrete(30.0).modulus(25.0 * GPA))
            .bars(bars(1473.0, 420.0));
    staged.topping = Some(Topping {
        width: Given::new(300.0 * MM).unwrap(),
        depth: Given::new(120.0 * MM).unwrap(),
        concrete: concrete(30.0).modulus(25.0 * GPA),
    });
    let whole = rectangle(30.0).bars(bars(1473.0, 540.0));
    agree!(
        sagging(&staged, FlexureCode::Aci).moment.si(),
        sagging(&whole, FlexureCode::Aci).moment.si(),
        max_relative = 1e-10
    );
}

#[test]
fn modes_are_told_apart() {
    // a quarter of yield is anchored at 0.25 m of 1 m
    let mut short = bars(1473.0, 540.0);
    short.development = Some(Given::new(1.0 * M).unwrap());
    let section = rectangle(30.0).bars(short);
    let cut = section.cut(0.25 * M, 10.0 * M).unwrap();
    let asked = FlexureQuestion::of(FlexureCode::Aci);
    let near = cut.flexure(&mut NoRecord, Face::Bottom, StrengthSet::Design, &asked).unwrap();
    assert_eq!((near.mode, near.ductile), (FlexureMode::Anchorage, false));
    let t: f64 = 1473.0 * 420.0 / 4.0;
    let a = t / (0.85 * 30.0 * 300.0);
    agree!(near.moment.si(), t * (540.0 - a / 2.0) * 1e-3, max_relative = 1e-9);
    // a bar that breaks at 1 %: little steel, so it does before the concrete crushes
    let mut brittle = bars(300.0, 540.0);
    brittle.breaking_strain = Some(Given::new(Strain::from_si(0.01)).unwrap());
    let found = sagging(&rectangle(30.0).bars(brittle), FlexureCode::En);
    assert_eq!(found.mode, FlexureMode::Breaking);
    agree!(found.steel[0].strain.si(), 0.01, max_relative = 1e-9);
    assert!(found.compressed_strain.si() < 0.0035);
    // without bond a tendon keeps 1100 N/mm²
    let found = sagging(&rectangle(30.0).tendon(strand(Bond::Unbonded, 1100.0)), FlexureCode::Aci);
    let t: f64 = 800.0 * 1100.0;
    let a = t / (0.85 * 30.0 * 300.0);
    let m = t * (500.0 - a / 2.0);
    agree!(found.moment.si(), m * 1e-3, max_relative = 1e-9);
    // a bar that hardens to 500 at 5 %: on the line between
    let mut hard = bars(1473.0, 540.0);
    hard.breaks = Some(SteelStrength::specified(500.0 * MPA));
    hard.breaking_strain = Some(Given::new(Strain::from_si(0.05)).unwrap());
    let found = sagging(&rectangle(30.0).bars(hard), FlexureCode::Aci);
    let (strain, stress) = (found.steel[0].strain.si(), found.steel[0].stress.to(MPA));
    let line = 420.0 + 80.0 * (strain - 0.0021) / (0.05 - 0.0021);
    agree!(stress, line, max_relative = 1e-9);
}

#[test]
fn sets_and_reductions_are_kept_apart() {
    let mut section = Section::of(
        Shape::rectangle(300.0 * MM, 600.0 * MM),
        Concrete::of(ConcreteStrength::specified(30.0 * MPA).expecting(38.0 * MPA)),
    );
    let yields = SteelStrength::specified(420.0 * MPA).expecting(460.0 * MPA);
    section = section.bars(Bars::of(1473.0 * MM2, 540.0 * MM, yields));
    let cut = section.cut(0.0 * M, 1.0 * M).unwrap();
    let reductions: Reductions = read_json(r#"{"flexure": 0.9}"#).unwrap();
    let partial: Reductions = read_json(r#"{"concrete": 1.5, "steel": 1.15}"#).unwrap();
    let hand = |fc: f64, fy: f64| {
        let t: f64 = 1473.0 * fy;
        t * (540.0 - t / (0.85 * fc * 300.0) / 2.0) * 1e-3
    };
    let of = |set, reductions: Option<&Reductions>| {
        let asked = FlexureQuestion { reductions, ..FlexureQuestion::of(FlexureCode::Aci) };
        cut.flexure(&mut NoRecord, Face::Bottom, set, &asked).unwrap().moment.si()
    };
    let (expected, design) = (StrengthSet::Expected, StrengthSet::Design);
    agree!(of(expected, Some(&reductions)), hand(38.0, 460.0), max_relative = 1e-9);
    agree!(of(design, Some(&reductions)), 0.9 * hand(30.0, 420.0), max_relative = 1e-9);
    agree!(of(design, Some(&partial)), hand(30.0 / 1.5, 420.0 / 1.15), max_relative = 1e-9);
    let none = read_json::<Reductions>("{}").unwrap_err();
    assert_eq!(none.codes(), ["capacity.reduction"]);
}

#[test]
fn what_the_law_does_not_cover_is_refused() {
    let section = rectangle(60.0).bars(bars(1473.0, 540.0));
    let codes =
        |asked: &FlexureQuestion<'_>| at(&section, Face::Bottom, asked).unwrap_err().codes();
    assert_eq!(codes(&FlexureQuestion::of(FlexureCode::En)), ["capacity.out-of-range"]);
    assert_eq!(codes(&FlexureQuestion::of(FlexureCode::Own)), ["capacity.block"]);
    let block: Block = read_json(
        r#"{"kind": "rectangular", "stress": 0.85, "depth": 0.75, "strain": "3 mm/m", "source": "own copy"}"#,
    )
    .unwrap();
    let both = FlexureQuestion { block: Some(&block), ..FlexureQuestion::of(FlexureCode::Aci) };
    assert_eq!(codes(&both), ["capacity.block"]);
    let own = FlexureQuestion { block: Some(&block), ..FlexureQuestion::of(FlexureCode::Own) };
    let found = at(&section, Face::Bottom, &own).unwrap();
    assert_eq!(found.by, "own copy");
    let t: f64 = 1473.0 * 420.0;
    let a = t / (0.85 * 60.0 * 300.0);
    agree!(found.neutral_axis.to(MM), a / 0.75, max_relative = 1e-9);
    let late = r#"{"kind": "parabola_rectangle", "stress": 1, "peak": "4 mm/m", "strain": "3 mm/m", "source": "own"}"#;
    assert_eq!(read_json::<Block>(late).unwrap_err().codes(), ["capacity.block"]);
}

#[test]
fn the_working_redoes_the_moment() {
    let section = rectangle(30.0).bars(bars(1473.0, 540.0)).bars(bars(600.0, 60.0));
    let cut = section.cut(0.0 * M, 1.0 * M).unwrap();
    let mut working = Working::default();
    let asked = FlexureQuestion::of(FlexureCode::Aci);
    cut.flexure(&mut working, Face::Bottom, StrengthSet::Design, &asked).unwrap();
    assert!(working.recheck().is_empty());
    let text = working.text(System::Si);
    assert!(text.contains("beta_1") && text.contains("T - C + N"), "{text}");
}

proptest! {
    /// More steel that yields, a stronger concrete, a deeper steel: no less strength.
    #[test]
    fn strength_grows_with_what_makes_it(
        fc in 20.0_f64..50.0, area in 300.0_f64..2500.0, depth in 350.0_f64..560.0, more in 1.0_f64..1.2,
    ) {
        for code in [FlexureCode::Aci, FlexureCode::En] {
            let of = |fc: f64, area: f64, depth: f64| {
                sagging(&rectangle(fc).bars(bars(area, depth)), code).moment.si()
            };
            let base = of(fc, area, depth);
            let least = base * (1.0 - 1e-9);
            prop_assert!(of((fc * more).min(50.0), area, depth) >= least);
            prop_assert!(of(fc, area * more, depth) >= least);
            prop_assert!(of(fc, area, depth * more.min(1.05)) >= least);
        }
    }

    /// A tendon without prestress that is as strong as a bar is that bar.
    #[test]
    fn no_prestress_is_a_bar(area in 300.0..2000.0, fc in 20.0..50.0) {
        let bar = Bars::of(area * MM2, 500.0 * MM, SteelStrength::specified(1676.0 * MPA));
        let mut tendon = strand(Bond::Grouted, 1e-3);
        tendon.area = Given::new(area * MM2).unwrap();
        tendon.modulus = Given::new(200.0 * GPA).unwrap();
        let a = sagging(&rectangle(fc).bars(bar), FlexureCode::En).moment.si();
        let b = sagging(&rectangle(fc).tendon(tendon), FlexureCode::En).moment.si();
        prop_assert!((a - b).abs() < 1e-6 * a, "{a} {b}");
    }
}

#[test]
fn cracking_of_both_faces_and_a_reasoned_crack() {
    // 300 × 600, 800 mm² at 1000 N/mm² at 500 mm: P 800 kN, e 200 mm, S 0.018 m³, A 0.18 m²
    let mut tendon = strand(Bond::Grouted, 1000.0);
    tendon.effective = Some(Given::new(1000.0 * MPA).unwrap());
    let section = rectangle(30.0).tendon(tendon);
    let cut = section.cut(0.0 * M, 1.0 * M).unwrap();
    let fr = 0.62 * 30.0_f64.sqrt();
    let scatter: Scatter = read_json(r#"{"tension": 0.15, "prestress": 0.05}"#).unwrap();
    let asked = CrackingQuestion {
        scatter: Some(&scatter),
        ..CrackingQuestion::of(CrackingRule::AciMpa, StrengthSet::Design)
    };
    let bottom = cut.cracking(&mut NoRecord, Face::Bottom, asked).unwrap();
    let dec = 18.0 * (800e3 / 180e3) + 160.0;
    agree!(bottom.decompression.to(KN_M), dec, max_relative = 1e-10);
    agree!(bottom.moment.to(KN_M), dec + 18.0 * fr, max_relative = 1e-10);
    agree!(
        bottom.uncertainty.unwrap().to(KN_M),
        (0.15 * 18.0 * fr).hypot(0.05 * dec),
        max_relative = 1e-10
    );
    let top = cut.cracking(&mut NoRecord, Face::Top, asked).unwrap();
    // hogging: −(S (f_r + P/A) − P e)
    agree!(top.moment.to(KN_M), -(18.0 * (fr + 800e3 / 180e3) - 160.0), max_relative = 1e-10);
    let seen = CrackingQuestion { cracked: Some("cracks mapped at mid-span"), ..asked };
    let open = cut.cracking(&mut NoRecord, Face::Bottom, seen).unwrap();
    agree!(open.moment.to(KN_M), dec, max_relative = 1e-10);
    assert!(open.by.contains("mapped"));
    let silent = CrackingQuestion { cracked: Some(" "), ..asked };
    let refused = cut.cracking(&mut NoRecord, Face::Bottom, silent).unwrap_err();
    assert_eq!(refused.codes(), ["capacity.cracked-reason"]);
    // of a staged section: the bottom has seen M₁ on the section alone
    let mut staged =
        Section::of(Shape::rectangle(300.0 * MM, 480.0 * MM), concrete(30.0).modulus(25.0 * GPA));
    staged.topping = Some(Topping {
        width: Given::new(300.0 * MM).unwrap(),
        depth: Given::new(120.0 * MM).unwrap(),
        concrete: concrete(30.0).modulus(25.0 * GPA),
    });
    let cut = staged.cut(0.0 * M, 1.0 * M).unwrap();
    let staged = CrackingQuestion {
        before: 10.0 * KN_M,
        ..CrackingQuestion::of(CrackingRule::AciMpa, StrengthSet::Design)
    };
    let found = cut.cracking(&mut NoRecord, Face::Bottom, staged).unwrap();
    let first = 10e6 / (300.0 * 480.0 * 480.0 / 6.0);
    agree!(found.moment.to(KN_M), 10.0 + 18.0 * (fr - first), max_relative = 1e-10);
}
