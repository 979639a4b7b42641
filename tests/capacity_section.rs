//! Geometry of sections, tendons along the member, refusals: closed forms and statics.

#![allow(clippy::float_cmp, reason = "places are compared as written")]

#[macro_use]
mod digits;

use proofspan::capacity::*;
use proofspan::source::{Given, read_json, validate};
use proofspan::units::*;

fn concrete() -> Concrete {
    Concrete::of(ConcreteStrength::specified(30.0 * MPA)).modulus(25.0 * GPA)
}

fn gross(shape: &Shape) -> Properties {
    shape.outline().properties()
}

fn shape(json: &str) -> Shape {
    read_json(json).unwrap()
}

fn close(p: &Properties, area: f64, centroid: f64, inertia: f64) {
    agree!(p.area.si(), area, max_relative = 1e-12);
    agree!(p.centroid.si(), centroid, max_relative = 1e-12);
    agree!(p.second_moment.si(), inertia, max_relative = 1e-11);
}

#[test]
fn rectangle_and_tee_are_their_closed_forms() {
    let p = gross(&Shape::rectangle(0.3 * M, 0.6 * M));
    close(&p, 0.18, 0.3, 0.3 * 0.6_f64.powi(3) / 12.0);
    agree!(p.bottom.si(), 0.3 * 0.36 / 6.0, max_relative = 1e-12);
    // flange 1.2 × 0.15 over a web 0.3 × 0.45, parallel axes
    let p = gross(&Shape::tee(1.2 * M, 0.15 * M, 0.3 * M, 0.6 * M));
    let (a, b) = (1.2 * 0.15, 0.3 * 0.45);
    let c: f64 = (a * 0.075 + b * 0.375) / (a + b);
    let i = 1.2 * 0.15_f64.powi(3) / 12.0
        + a * (c - 0.075).powi(2)
        + 0.3 * 0.45_f64.powi(3) / 12.0
        + b * (0.375 - c).powi(2);
    close(&p, a + b, c, i);
    agree!(p.top.si() * c, i, max_relative = 1e-11);
}

#[test]
fn ribs_and_voids_are_their_closed_forms() {
    // three joists: slab 96 × 3, ribs 19 deep, 6.2 to 4.2 wide: 288 + 3 × 5.2 × 19 = 584.4 in²
    let ribbed = shape(
        r#"{"kind": "ribbed", "height": "22 in", "width": "96 in", "slab": "3 in", "ribs": 3,
            "rib_top": "6.2 in", "rib_bottom": "4.2 in"}"#,
    );
    let p = gross(&ribbed);
    let (slab, rib) = (288.0_f64, 3.0 * 5.2 * 19.0);
    // a trapezoid: centroid h (a + 2 b)/(3 (a + b)), second moment h³ (a² + 4 a b + b²)/(36 (a + b))
    let (a, b, h) = (3.0 * 6.2_f64, 3.0 * 4.2_f64, 19.0_f64);
    let z = 3.0 + h * (a + 2.0 * b) / (3.0 * (a + b));
    let own = h.powi(3) * (a * a + 4.0 * a * b + b * b) / (36.0 * (a + b));
    let c = (slab * 1.5 + rib * z) / (slab + rib);
    let i = 96.0 * 27.0 / 12.0 + slab * (c - 1.5).powi(2) + own + rib * (z - c).powi(2);
    let inch = 0.0254_f64;
    close(&p, (slab + rib) * inch.powi(2), c * inch, i * inch.powi(4));
    assert_eq!(ribbed.web(), Some(3.0 * (4.2 * IN)));
    // even ribs of that mean width: nearly I 26 800 in⁴ and y_t 7.1 in, as a strip of this weight has
    let even = shape(
        r#"{"kind": "ribbed", "height": "22 in", "width": "96 in", "slab": "3 in", "ribs": 3, "rib_top": "5.2 in"}"#,
    );
    let p = gross(&even);
    let (i, c) = (p.second_moment.si() / inch.powi(4), p.centroid.to(IN));
    assert!((i - 26_800.0).abs() < 50.0 && (c - 7.1).abs() < 0.05, "{i} {c}");

    let hollow = shape(
        r#"{"kind": "hollow", "width": "1.2 m", "height": "0.3 m", "voids": {"number": 6, "diameter": "0.15 m"}}"#,
    );
    let p = gross(&hollow);
    let circle = core::f64::consts::PI * 0.15_f64.powi(2) / 4.0;
    agree!(p.area.si(), 0.36 - 6.0 * circle, max_relative = 1e-12);
    let void = core::f64::consts::PI * 0.15_f64.powi(4) / 64.0;
    let i = 1.2 * 0.027 / 12.0 - 6.0 * void;
    agree!(p.second_moment.si(), i, max_relative = 1e-6);
}

/// Green's theorem around the corners: another way to the same integrals.
fn green(corners: &[(f64, f64)]) -> [f64; 3] {
    let mut sums = [0.0; 3];
    for (i, a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let cross = a.0 * b.1 - b.0 * a.1;
        sums[0] += cross / 2.0;
        sums[1] += cross * (a.1 + b.1) / 6.0;
        sums[2] += cross * (a.1 * a.1 + a.1 * b.1 + b.1 * b.1) / 12.0;
    }
    let sign = sums[0].signum();
    sums.map(|s| s * sign)
}

#[test]
fn a_polygon_with_holes_agrees_with_greens_theorem() {
    let outer = [(0.0, 0.0), (1.0, 0.1), (0.8, 0.5), (1.1, 0.9), (0.2, 1.0), (0.35, 0.45)];
    let hole = [(0.5, 0.3), (0.65, 0.35), (0.6, 0.6), (0.45, 0.7)];
    let list = |c: &[(f64, f64)]| {
        let corners: Vec<String> =
            c.iter().map(|(x, z)| format!(r#"{{"across": "{x} m", "depth": "{z} m"}}"#)).collect();
        format!("[{}]", corners.join(","))
    };
    let json = format!(
        r#"{{"kind": "polygon", "corners": {}, "holes": [{}]}}"#,
        list(&outer),
        list(&hole)
    );
    let p = gross(&shape(&json));
    let (a, b) = (green(&outer), green(&hole));
    let [area, first, second] = [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
    close(&p, area, first / area, second - first * first / area);
}

#[test]
fn what_is_no_section_is_refused_all_at_once() {
    let corner = |x: f64, z: f64| format!(r#"{{"across": "{x} m", "depth": "{z} m"}}"#);
    let bow = [corner(0.0, 0.0), corner(1.0, 1.0), corner(1.0, 0.0), corner(0.0, 1.0)].join(",");
    let refused = |json: &str| read_json::<Section>(json).unwrap_err();
    let tendon = r#"{"area": "500 mm^2", "profile": {"kind": "straight", "depth": "0.7 m"}, "bond": "pretensioned",
        "breaks": {"specified": "1860 MPa"}, "yields": {"specified": "1670 MPa"}, "modulus": "195 GPa"}"#;
    let found = refused(&format!(
        r#"{{"shape": {{"kind": "rectangle", "width": "0.3 m", "height": "0.6 m"}},
            "concrete": {{"strength": {{"specified": "6 psi"}}}},
            "bars": [{{"area": "1000 mm^2", "depth": "0.6 m", "yields": {{"specified": "420 MPa"}}}},
                     {{"area": "1000 mm^2", "depth": "0.59 m", "diameter": "25 mm", "yields": {{"specified": "420 MPa"}}}},
                     {{"area": "1000 mm^2", "depth": "-0.05 m", "yields": {{"specified": "420 MPa"}}, "breaks": {{"specified": "500 MPa"}},
                       "from": "3 m", "to": "2 m"}}],
            "tendons": {tendon}}}"#
    ));
    let codes = found.codes();
    for code in [
        "capacity.magnitude-fc",
        "capacity.steel-outside",
        "capacity.steel",
        "capacity.place",
        "capacity.prestress",
        "capacity.anchorage",
    ] {
        assert!(codes.contains(&code), "{code}: {codes:?}");
    }
    let polygon = |corners: &str, holes: &str| {
        let json = format!(r#"{{"kind": "polygon", "corners": [{corners}], "holes": [{holes}]}}"#);
        read_json::<Shape>(&json).unwrap_err().codes()
    };
    assert_eq!(polygon(&bow, ""), ["capacity.polygon"]);
    let square = [corner(0.0, 0.0), corner(1.0, 0.0), corner(1.0, 1.0), corner(0.0, 1.0)].join(",");
    let outside = [corner(0.5, 0.5), corner(1.5, 0.5), corner(0.5, 0.9)].join(",");
    let flat = [corner(0.1, 0.1), corner(0.2, 0.2), corner(0.3, 0.3)].join(",");
    let inner = [corner(0.1, 0.1), corner(0.4, 0.1), corner(0.4, 0.4)].join(",");
    let again = [corner(0.2, 0.15), corner(0.6, 0.15), corner(0.6, 0.6)].join(",");
    // hole outside, hole of no area, holes that overlap, two corners: four problems at once
    let holes = format!("[{outside}],[{flat}],[{inner}],[{again}],[{}]", corner(0.1, 0.1));
    assert_eq!(polygon(&square, &holes), ["capacity.polygon"; 4]);
    let cover = Section::of(Shape::rectangle(0.3 * M, 0.6 * M), concrete());
    let mut bars = Bars::of(1000.0 * MM2, 0.59 * M, SteelStrength::specified(420.0 * MPA));
    bars.diameter = Some(Given::new(25.0 * MM).unwrap());
    let error = validate(&cover.bars(bars)).unwrap_err();
    assert_eq!(error.codes(), ["capacity.cover"]);
    assert_eq!(error.issues[0].path, "bars.diameter");
    let wrong = [
        r#"{"kind": "tee", "height": "0.3 m", "web": "0.3 m", "flange": "0.2 m", "flange_depth": "0.3 m"}"#,
        r#"{"kind": "tee", "height": "0.3 m", "web": "0.3 m", "flange": "0.4 m"}"#,
        r#"{"kind": "tee", "height": "0.3 m", "web": "0.3 m"}"#,
        r#"{"kind": "ribbed", "height": "0.3 m", "width": "0.5 m", "slab": "0.3 m", "ribs": 3, "rib_top": "0.2 m"}"#,
        r#"{"kind": "hollow", "height": "0.3 m", "width": "0.5 m", "voids": {"number": 3, "diameter": "0.2 m"}}"#,
    ];
    for json in wrong {
        let codes = read_json::<Shape>(json).unwrap_err().codes();
        assert!(codes.iter().all(|c| *c == "capacity.shape"), "{json}: {codes:?}");
    }
}

fn strand(bond: Bond, profile: Profile) -> Tendon {
    let (yields, breaks) =
        (SteelStrength::specified(1670.0 * MPA), SteelStrength::specified(1860.0 * MPA));
    let mut tendon =
        Tendon::grouted(1000.0 * MM2, profile, (yields, breaks), 195.0 * GPA, 1100.0 * MPA);
    tendon.bond = bond;
    tendon
}

#[test]
fn a_tendon_lies_where_its_profile_says() {
    // e(x) = 2 + 32 x (45 − x)/2025 in, the centroid 7 in below the top: at 6 ft 1282/225 in,
    // slope 32 (45 − 12)/2025 in per ft
    let profile = Profile::parabolic(9.0 * IN, 17.0 * IN);
    let (depth, slope) = profile.at(6.0 * FT, 45.0 * FT);
    agree!(depth.to(IN), 7.0 + 1282.0 / 225.0, max_relative = 1e-12);
    agree!(slope, 32.0 * 33.0 / 2025.0 / 12.0, max_relative = 1e-12);
    let draped: Profile =
        read_json(r#"{"kind": "draped", "left": "0.2 m", "low": "0.5 m", "at": ["4 m", "6 m"]}"#)
            .unwrap();
    agree!(draped.at(2.0 * M, 10.0 * M).0.si(), 0.35, max_relative = 1e-12);
    agree!(draped.at(5.0 * M, 10.0 * M).0.si(), 0.5, max_relative = 1e-12);
    agree!(draped.at(8.0 * M, 10.0 * M).1, -0.075, max_relative = 1e-12);
    // the vertical part of 230 kip at 6 ft is 9.995 kip: it relieves a positive shear
    let mut tendon = strand(Bond::Grouted, profile);
    tendon.area = Given::new(1.0 * IN2).unwrap();
    tendon.effective = Some(Given::new(230.0 * KSI).unwrap());
    tendon.breaks = SteelStrength::specified(270.0 * KSI);
    let section = Section::of(Shape::rectangle(15.0 * IN, 22.0 * IN), concrete()).tendon(tendon);
    let cut = section.cut(6.0 * FT, 45.0 * FT).unwrap();
    agree!(cut.prestress_force().to(KIP), 230.0, max_relative = 1e-12);
    assert!((cut.prestress_shear().to(KIP) - 9.995).abs() < 5e-4);
    assert!(section.cut(46.0 * FT, 45.0 * FT).is_err());
}

#[test]
fn prestress_enters_over_the_transfer_length_and_bars_over_their_own() {
    let mut tendon = strand(Bond::Pretensioned, Profile::straight(0.5 * M));
    tendon.transfer = Some(Given::new(0.8 * M).unwrap());
    tendon.development = Some(Given::new(2.0 * M).unwrap());
    tendon.debonded =
        Some(Debonded { left: Given::new(0.5 * M).unwrap(), right: Given::new(0.0 * M).unwrap() });
    let mut bars = Bars::of(500.0 * MM2, 0.55 * M, SteelStrength::specified(420.0 * MPA));
    bars.from = Some(Given::new(1.0 * M).unwrap());
    bars.development = Some(Given::new(1.0 * M).unwrap());
    let section =
        Section::of(Shape::rectangle(0.3 * M, 0.6 * M), concrete()).tendon(tendon).bars(bars);
    let at = |x: f64| section.cut(x * M, 10.0 * M).unwrap();
    // kept from bonding to 0.5 m, then linear over 0.8 m; 1100 N/mm² × 1000 mm² when full
    assert_eq!(at(0.4).prestress_force().si(), 0.0);
    agree!(at(0.9).prestress_force().to(KN), 550.0, max_relative = 1e-9);
    agree!(at(9.8).prestress_force().to(KN), 275.0, max_relative = 1e-9);
    agree!(at(5.0).prestress_force().to(KN), 1100.0, max_relative = 1e-12);
    // halfway between transfer and development: half of what breaking has above the prestress
    let tendon = |cut: &Cut| cut.steel.iter().find(|s| s.tendon).unwrap().clone();
    let held = tendon(&at(0.5 + 1.4)).holds(StrengthSet::Design);
    agree!(held.to(MPA), 1100.0 + 760.0 / 2.0, max_relative = 1e-9);
    let held = tendon(&at(0.9)).holds(StrengthSet::Design);
    agree!(held.to(MPA), 550.0, max_relative = 1e-9);
    // bars begin at 1 m, and are anchored from 2 m on
    assert_eq!(at(0.5).steel.len(), 1);
    let bar = |cut: &Cut| cut.steel.iter().find(|s| !s.tendon).unwrap().anchored;
    agree!(bar(&at(1.25)), 0.25, max_relative = 1e-9);
    agree!(bar(&at(5.0)), 1.0, max_relative = 1e-12);
    assert_eq!(at(0.5).effective_depth(Face::Bottom), Some(0.5 * M));
    assert_eq!(at(5.0).effective_depth(Face::Top), None);
    // losses as a lump: 1400 less 20 %
    let mut lump = strand(Bond::Grouted, Profile::straight(0.5 * M));
    lump.effective = None;
    lump.jacking = Some(Given::new(1400.0 * MPA).unwrap());
    lump.losses = Some(Given::new(Ratio::from(0.2)).unwrap());
    agree!(lump.after_losses().to(MPA), 1120.0, max_relative = 1e-12);
}

#[test]
fn what_does_not_lie_on_the_member_is_refused_all_at_once() {
    let draped = r#"{"kind": "draped", "left": "0.2 m", "low": "0.5 m", "at": ["4 m", "12 m"]}"#;
    let mut tendon = strand(Bond::Pretensioned, read_json(draped).unwrap());
    tendon.transfer = Some(Given::new(0.8 * M).unwrap());
    tendon.development = Some(Given::new(2.0 * M).unwrap());
    let half = || Given::new(5.0 * M).unwrap();
    tendon.debonded = Some(Debonded { left: half(), right: half() });
    let mut bars = Bars::of(500.0 * MM2, 0.55 * M, SteelStrength::specified(420.0 * MPA));
    bars.from = Some(Given::new(11.0 * M).unwrap());
    let section =
        Section::of(Shape::rectangle(0.3 * M, 0.6 * M), concrete()).tendon(tendon).bars(bars);
    let error = section.cut(3.0 * M, 10.0 * M).unwrap_err();
    let paths: Vec<&str> = error.issues.iter().map(|i| i.path.as_str()).collect();
    assert_eq!(paths, ["bars.from", "tendons.profile.at[1]", "tendons.debonded"]);
    assert!(error.codes().iter().all(|c| *c == "capacity.place"));
    let back = draped.replace("12 m", "3 m");
    assert_eq!(read_json::<Profile>(&back).unwrap_err().codes(), ["capacity.place"]);
}

#[test]
fn steel_counts_by_its_modulus_in_a_transformed_section() {
    // n = 8: 1000 mm² at 550 mm of 300 × 600
    let bars = Bars::of(1000.0 * MM2, 550.0 * MM, SteelStrength::specified(420.0 * MPA));
    let section = Section::of(Shape::rectangle(300.0 * MM, 600.0 * MM), concrete()).bars(bars);
    let p = section.cut(0.0 * M, 1.0 * M).unwrap().transformed().unwrap();
    let (a, s) = (180_000.0 + 7000.0, 180_000.0 * 300.0 + 7000.0 * 550.0);
    let c: f64 = s / a;
    let i = 300.0 * 600.0_f64.powi(3) / 12.0
        + 180_000.0 * (c - 300.0).powi(2)
        + 7000.0 * (550.0 - c).powi(2);
    close(&p, a * 1e-6, c * 1e-3, i * 1e-12);
    let mut bare = section;
    bare.concrete.modulus = None;
    let error = bare.cut(0.0 * M, 1.0 * M).unwrap().transformed().unwrap_err();
    assert_eq!(error.codes(), ["capacity.modulus"]);
}

#[test]
fn stresses_of_a_topped_section_add_stage_by_stage() {
    // 400 × 500 with 100 mm² of tendon at 400 mm (1000 N/mm²: 100 kN), topping 600 × 100 of half
    // the modulus: it counts as 300 × 100
    let mut tendon = strand(Bond::Grouted, Profile::straight(400.0 * MM));
    tendon.area = Given::new(100.0 * MM2).unwrap();
    tendon.effective = Some(Given::new(1000.0 * MPA).unwrap());
    let mut section =
        Section::of(Shape::rectangle(400.0 * MM, 500.0 * MM), concrete()).tendon(tendon);
    section.topping = Some(Topping {
        width: Given::new(600.0 * MM).unwrap(),
        depth: Given::new(100.0 * MM).unwrap(),
        concrete: concrete().modulus(12.5 * GPA),
    });
    let cut = section.cut(1.0 * M, 2.0 * M).unwrap();
    let found = cut.stresses(50.0 * KN_M, 80.0 * KN_M).unwrap();
    let (a, i) = (200_000.0, 400.0 * 500.0_f64.powi(3) / 12.0);
    let first = |z: f64| -100e3 / a + (50e6 - 100e3 * 150.0) * (z - 250.0) / i;
    let (ta, all) = (30_000.0, 230_000.0);
    let c: f64 = (ta * 50.0 + a * 350.0) / all;
    let whole =
        i + a * (350.0 - c).powi(2) + 300.0 * 100.0_f64.powi(3) / 12.0 + ta * (c - 50.0).powi(2);
    let second = |z: f64| 80e6 * (z - c) / whole;
    agree!(found.bottom.to(MPA), first(500.0) + second(600.0), max_relative = 1e-10);
    agree!(found.top.to(MPA), first(0.0) + second(100.0), max_relative = 1e-10);
    agree!(found.topping_top.unwrap().to(MPA), second(0.0) / 2.0, max_relative = 1e-10);
    agree!(found.topping_bottom.unwrap().to(MPA), second(100.0) / 2.0, max_relative = 1e-9);
    let before = cut.before_topping();
    assert_eq!(before.height(), 500.0 * MM);
    agree!(before.steel[0].depth.to(MM), 400.0, max_relative = 1e-12);
}
