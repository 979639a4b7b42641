//! Jacks that differ and what holds a bearing that cannot lift are in the sketch, read back from its SVG:
//! each jack at its place across with its force to scale, column and beam at the bearing they hold. Expected
//! places are those of the document; forces by statics, written beside each.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use proofspan::report::{ShapeKind, html, shapes};
use proofspan::units::*;
use proofspan::{TestDesign, TestSpec, design};
use serde_json::{Value, json};

fn made(name: &str, change: impl FnOnce(&mut Value)) -> TestDesign {
    let path = format!("{}/examples/scenarios/{name}.test.json", env!("CARGO_MANIFEST_DIR"));
    let mut doc: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut doc);
    design(TestSpec::from_json(&doc.to_string()).unwrap()).unwrap()
}

/// The pictures of a report whose elements have this class.
fn pictures(page: &str, class: &str) -> Vec<String> {
    let all = page.split("<svg").skip(1).map(|p| p.split_once("</svg>").unwrap().0.to_owned());
    all.filter(|p| p.contains(&format!("class=\"{class}\""))).collect()
}

/// The tags of one class.
fn tags<'a>(svg: &'a str, class: &str) -> Vec<&'a str> {
    let class = format!("class=\"{class}\"");
    svg.split('<').filter(|t| t.contains(&class)).map(|t| t.split_once('>').unwrap().0).collect()
}

#[track_caller]
fn get(tag: &str, name: &str) -> f64 {
    let after =
        tag.split_once(&format!(" {name}=\"")).unwrap_or_else(|| panic!("{name} of {tag}")).1;
    after.split_once('"').unwrap().0.parse().unwrap()
}

fn marked<'a>(tags: &[&'a str], mark: &str) -> &'a str {
    let own = format!("data-mark=\"{mark}\"");
    tags.iter().find(|t| t.contains(&own)).unwrap_or_else(|| panic!("{mark}"))
}

fn middle(tag: &str) -> f64 {
    get(tag, "x") + get(tag, "width") / 2.0
}

#[track_caller]
fn near(value: f64, exact: f64, by: f64) {
    assert!((value - exact).abs() <= by, "{value} for {exact}");
}

/// The rows of the table of marks that begin with this mark.
fn row(page: &str, mark: &str) -> String {
    let after = page.split_once(&format!("<td>{mark}</td>")).unwrap_or_else(|| panic!("{mark}")).1;
    after.split_once("</tr>").unwrap().0.to_owned()
}

/// Frictions of 5, 1 and 2 % give shares of 95, 99 and 98 of 292; the first stands over the third joist.
#[test]
fn jacks_that_differ_stand_where_they_are_across() {
    let d = made("terrace_strip", |doc| {
        doc["rig"]["jacks"]["rams"] = json!([
            { "friction": 0.05, "across": "32 in" },
            { "friction": 0.01, "across": "-32 in" },
            { "friction": 0.02, "across": "0 in" }
        ]);
    });
    let page = html(&d, None).unwrap();
    let [section] = &pictures(&page, "rib")[..] else { panic!("one section") };
    let (ribs, jacks, forces) =
        (tags(section, "rib"), tags(section, "jack"), tags(section, "force"));
    assert_eq!(jacks.len(), 3);
    for (mark, rib, share) in [("J1.1", 2, 95.0), ("J1.2", 0, 99.0), ("J1.3", 1, 98.0)] {
        near(middle(marked(&jacks, mark)), middle(ribs[rib]), 0.02);
        let arrow = marked(&forces, mark);
        // the largest force is the longest arrow
        let long = |t: &str| get(t, "y2") - get(t, "y1");
        near(long(arrow) / long(marked(&forces, "J1.2")), share / 99.0, 0.001);
        assert!(long(arrow) > 0.0, "down on the member");
        assert!(section.contains(&format!(">{mark}</text>")), "{mark}");
        let pounds = 2_098_760.0 / 117.0 * share / 292.0;
        let said = row(&page, mark);
        assert!(said.contains(&format!("{pounds:.2} lbf")), "{said}");
        assert!(said.contains(if rib == 1 { "from the middle" } else { "32.0" }), "{said}");
    }
    assert!(row(&page, "J1.1").contains("right") && row(&page, "J1.2").contains("left"));
    // the elevation says of how many jacks the press is
    let jack = shapes(&d, &d.page()).into_iter().find(|s| s.kind == ShapeKind::Jack).unwrap();
    assert!(jack.says.contains("3 jacks"), "{}", jack.says);
    // equal jacks need no marks of their own
    let plain = html(&made("terrace_strip", |_| {}), None).unwrap();
    assert!(!plain.contains("J1.1"));
}

/// A beam has no joists: its section shows the jacks all the same, 400 mm apart in the scale of its depth of
/// 700 mm; bores of 110 and 80 mm share as 121 to 64.
#[test]
fn the_section_of_a_beam_with_two_jacks() {
    let d = made("gallery_beam", |doc| {
        let jacks = &mut doc["rig"]["jacks"];
        jacks["number"] = json!(2);
        jacks["rams"] = json!([
            { "piston": { "bore": "80 mm" }, "friction": 0, "across": "-200 mm" },
            { "piston": { "bore": "110 mm" }, "friction": 0, "across": "200 mm" }
        ]);
    });
    let page = html(&d, None).unwrap();
    let [section] = &pictures(&page, "rib")[..] else { panic!("one section") };
    let (rib, jacks, forces) =
        (tags(section, "rib")[0], tags(section, "jack"), tags(section, "force"));
    let scale = get(rib, "height") / 0.7;
    let (one, other) = (middle(marked(&jacks, "J1.1")), middle(marked(&jacks, "J1.2")));
    near((other - one) / scale, 0.4, 0.002);
    near((one + other) / 2.0, middle(rib), 0.02);
    let long = |mark| get(marked(&forces, mark), "y2") - get(marked(&forces, mark), "y1");
    near(long("J1.1") / long("J1.2"), 64.0 / 121.0, 0.001);
}

/// A member below of 6 m and 4 kN/m, cast in place, under a jack in the middle: half of it less 12 kN lifts
/// either bearing. Its beam of 6 m, 2 m from one column, takes 4/6 of that less 0.9 · 1 · 3 kN, the column
/// 0.9 kN less.
#[test]
fn column_and_beam_that_hold_a_bearing() {
    let d = made("gallery_beam", |doc| {
        let reaction = &mut doc["rig"]["reaction"];
        reaction["self_weight"] = json!("4 kN/m");
        reaction["seat"] = json!("monolithic");
        reaction["hogging_capacity"] = json!("400 kN·m");
        reaction["holds"] = json!([
            { "beam": { "span": "6 m", "at": "2 m", "load": "1 kN/m", "shear": "90 kN", "top": "200 kN·m" },
              "column": { "tension": "120 kN", "load": "1 kN" } },
            { "column": { "tension": "120 kN" } }
        ]);
        doc["rig"]["counterweights"] = json!([]);
    });
    let p = d.force().0.to(KN);
    let lifted = p / 2.0 - 0.5 * 4.0 * 9.0;
    let beam = lifted * 4.0 / 6.0 - 0.9 * 3.0;
    let column = beam - 0.9;
    let page = html(&d, None).unwrap();
    let [elevation] = &pictures(&page, "test")[..] else { panic!("one elevation") };
    let test = tags(elevation, "test")[0];
    let reaction = tags(elevation, "reaction")[0];
    let (left, scale) = (get(test, "x"), get(test, "width") / 9.0);
    let columns = tags(elevation, "column");
    let forces = tags(elevation, "force");
    let long = |mark: &str| get(marked(&forces, mark), "y2") - get(marked(&forces, mark), "y1");
    for (mark, x, pulled) in [("U1", 0.0, column), ("U2", 9.0, lifted)] {
        let drawn = marked(&columns, mark);
        near((middle(drawn) - left) / scale, x, 0.01);
        // below the member it holds
        near(get(drawn, "y"), get(reaction, "y") + get(reaction, "height"), 0.02);
        // up, in the scale of the half of the jack that a contact brings down
        near(long(mark) / long("S1.1").abs(), -pulled / (p / 2.0), 0.002);
        assert!(
            row(&page, mark).contains(&format!("{:.0}", pulled.floor())),
            "{}",
            row(&page, mark)
        );
    }
    // the beam that only the first is cast into
    let beams = tags(elevation, "holding");
    assert_eq!(beams.len(), 1);
    near((middle(marked(&beams, "V1")) - left) / scale, 0.0, 0.01);
    let said = row(&page, "V1");
    assert!(said.contains("6.000 m") && said.contains("2.000 m"), "{said}");
}
